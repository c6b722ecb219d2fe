"""Mandrels that do not fill their tunnels: heights over one, and faces clocked along it.

Source: geometry; the sizes are invented.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import faces, line_bore, mandrels

tunnels = st.floats(61.05, 61.12)
bars = st.floats(60.90, 61.05)
heights = st.floats(79.0, 221.0)


@given(tunnels, bars)
def test_mandrel_seat_touches_the_saddle_or_the_cap_and_goes_no_further(
    tunnel: float, bar: float
) -> None:
    up = mandrels.mandrel_seat(mandrels.IN_SADDLES, tunnel, bar)
    assert up + bar / 2 == pytest.approx(tunnel / 2, abs=1e-12), "crown of the bar, of the tunnel"
    assert mandrels.mandrel_seat(mandrels.IN_CAPS, tunnel, bar) == -up
    assert mandrels.mandrel_seat("", tunnel, bar) is None


@given(heights, heights, st.floats(-0.05, 0.05))
def test_deck_over_centre_and_bottom_over_centre_leave_the_overall_height(
    deck: float, bottom: float, seat: float
) -> None:
    # a bar that lies high stands nearer to the deck and farther from the bottom face
    over = (
        mandrels.deck_over_centre(deck - seat, seat),
        mandrels.bottom_over_centre(bottom + seat, seat),
    )
    assert over == pytest.approx((deck, bottom), abs=1e-9)


def test_mandrel_when_cut_is_as_read_and_not_at_all_in_tunnels_bored_in_line() -> None:
    assert mandrels.mandrel_when_cut(line_bore.AS_THEY_ARE, 0.03) == 0.03
    assert mandrels.mandrel_when_cut(line_bore.BORED, 0.03) == 0
    assert mandrels.mandrel_when_cut(line_bore.BORED, math.nan) == 0
    assert mandrels.mandrel_when_cut(line_bore.AS_THEY_ARE, math.nan) is None
    assert mandrels.mandrel_when_cut("", 0.03) is None


@given(st.floats(-0.05, 0.05))
def test_under_mandrel_is_the_same_counted_downwards(seat: float) -> None:
    assert mandrels.under_mandrel(seat) == -seat


@given(st.floats(0, 0.05), st.floats(0, 0.05), st.floats(0, 0.5))
def test_base_clocked_gives_a_deck_level_with_the_mandrel_and_not_with_the_crank_line(
    front: float, rear: float, cut: float
) -> None:
    seats, deck = [front, front, rear, rear], [220.0] * 4
    bases = [mandrels.base_clocked(faces.ALONG_AXIS, 0.0, seat) for seat in seats]
    above = list(map(faces.above_base, deck, bases))
    highest = faces.highest_corner(*above)
    down = faces.infeed(cut, highest, min(above))
    after = [faces.height_after(faces.ALONG_AXIS, highest, down, base, 0.0) for base in bases]
    over_mandrel = [one - seat for one, seat in zip(after, seats, strict=True)]
    assert max(over_mandrel) - min(over_mandrel) == pytest.approx(0, abs=1e-9)
    assert mandrels.base_clocked(faces.ALONG_OPPOSITE, 80.0, front) == 80.0, "stood on its bottom"
