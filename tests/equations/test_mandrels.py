"""Mandrels: where a round bar lies in a worn tunnel, and what is clocked along it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import faces, line_bore, mandrels
from engines import Results
from two_roads import Work, differences

bars = st.floats(60.90, 60.99)
widths = st.floats(61.00, 61.10)
wear = st.floats(0.0, 0.08)


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


@pytest.mark.parametrize(
    ("bored", "seat", "found"),
    [("no", 0.03, 0.03), ("yes", 0.03, 0.0), ("yes", float("nan"), 0.0), ("", 0.03, None)],
)
def test_mandrel_when_cut(bored: str, seat: float, found: float | None) -> None:
    assert line_bore.mandrel_when_cut(bored, seat) == found


@given(st.sampled_from([faces.ALONG_AXIS, faces.ALONG_ITSELF, faces.ALONG_OPPOSITE]))
def test_base_clocked_tilts_what_is_cut_along_the_crank_line_as_the_mandrel_lies(way: str) -> None:
    """A worn saddle in front: the mandrel is 0.04 up there, 0.01 behind, and the deck follows."""
    base = [-220.0, -220.0, -220.0, -220.0]
    seat = [0.04, 0.04, 0.01, 0.01]
    clocked = [faces.base_clocked(way, *one) for one in zip(base, seat, strict=True)]
    deck = [100.0 - one for one in clocked]
    along = seat if way == faces.ALONG_AXIS else [0.0] * 4
    assert np.ptp(np.array(deck) - along) == pytest.approx(0, abs=1e-12)
    assert mandrels.under_mandrel(0.04) == -0.04


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
    *(
        (line_bore.mandrel_when_cut, {"line_bored": said, "mandrel_seat": seat})
        for said in (line_bore.BORED, line_bore.AS_THEY_ARE, None)
        for seat in (0.03, None)
    ),
    (mandrels.under_mandrel, {"mandrel_seat": 0.03}),
    *(
        (faces.base_clocked, {"parallel_to": way, "base": -220.0, "mandrel_when_cut": 0.03})
        for way in (faces.ALONG_AXIS, faces.ALONG_ITSELF)
    ),
]


def test_both_roads_of_every_equation_agree_in_every_engine(
    engine: Callable[[Path], Results], tmp_path: Path
) -> None:
    assert not differences(engine, tmp_path / "mandrels.xlsx", WORKS)
