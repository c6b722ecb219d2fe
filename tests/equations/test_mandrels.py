"""Mandrels: where a round bar lies in a worn tunnel, and what is clocked along it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import mandrels
from engines import Results
from two_roads import Work, differences
from witnesses import witness

bars = st.floats(60.90, 60.99)
widths = st.floats(61.00, 61.10)
wear = st.floats(0.0, 0.08)


@witness(mandrels.mandrel_seat, by="coordinates")
@given(bars, widths, wear)
def test_mandrel_seat_is_where_the_bar_touches_the_oval(
    bar: float, width: float, worn: float
) -> None:
    """Nearest of many points of the oval's wall to the bar's axis: a radius away, no nearer."""
    upright = width + worn
    saddles = mandrels.mandrel_seat(mandrels.IN_SADDLES, upright, width, bar)
    angle = np.linspace(0, np.pi, 200_001)
    wall = np.hypot(width / 2 * np.cos(angle), upright / 2 * np.sin(angle) - saddles)
    assert wall.min() == pytest.approx(bar / 2, abs=1e-6)
    caps = mandrels.mandrel_seat(mandrels.IN_CAPS, upright, width, bar)
    assert caps == -saddles
    assert mandrels.mandrel_seat("", upright, width, bar) is None


@given(bars, widths)
def test_in_a_round_tunnel_it_touches_the_top(bar: float, width: float) -> None:
    seat = mandrels.mandrel_seat(mandrels.IN_SADDLES, width, width, bar)
    assert seat + bar / 2 == pytest.approx(width / 2)


@given(st.floats(219, 221), st.floats(79, 81), st.floats(-0.05, 0.05))
def test_deck_over_centre_and_bottom_over_centre_leave_the_block_as_thick(
    deck: float, bottom: float, seat: float
) -> None:
    over, under = mandrels.deck_over_centre(deck, seat), mandrels.bottom_over_centre(bottom, seat)
    assert over - deck == pytest.approx(seat)
    assert over + under == pytest.approx(deck + bottom)


@given(st.floats(-0.05, 0.05), st.floats(79, 81))
def test_under_mandrel_counted_downwards_is_the_other_way(seat: float, bottom: float) -> None:
    # clocked along the mandrel, the bottom face runs as the heights under it do
    assert mandrels.bottom_over_centre(bottom, seat) == bottom + mandrels.under_mandrel(seat)


@given(bars, widths, wear)
def test_seat_as_found_and_seat_counted_are_the_seat_where_nothing_is_off(
    bar: float, width: float, worn: float
) -> None:
    seat = mandrels.mandrel_seat(mandrels.IN_SADDLES, width + worn, width, bar)
    found = mandrels.seat_as_found(seat)
    assert found == seat
    assert mandrels.seat_counted(found, 0.0) == seat
    assert mandrels.seat_counted(found, 0.002) == pytest.approx(seat + 0.002)


OVALS = [(61.09, 61.08), (61.09, 61.04)]
WORKS: list[Work] = [
    *(
        (
            mandrels.mandrel_seat,
            {"mandrel_lies": lies, "tunnel_size": upright, "width_across": width, "mandrel": 61.03},
        )
        for upright, width in OVALS
        for lies in (mandrels.IN_SADDLES, mandrels.IN_CAPS, "elsewhere", None)
    ),
    (mandrels.deck_over_centre, {"deck_height": 219.97, "mandrel_seat": 0.03}),
    (mandrels.bottom_over_centre, {"bottom_height": 80.03, "mandrel_seat": 0.03}),
    (mandrels.under_mandrel, {"mandrel_seat": 0.03}),
    (mandrels.seat_as_found, {"mandrel_seat": 0.03}),
    (mandrels.seat_counted, {"seat_as_found": 0.03, "seat_off": 0.002}),
]


def test_both_roads_of_every_equation_agree_in_every_engine(
    engine: Callable[[Path], Results], tmp_path: Path
) -> None:
    assert not differences(engine, tmp_path / "mandrels.xlsx", WORKS)
