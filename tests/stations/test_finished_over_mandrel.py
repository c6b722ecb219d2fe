"""Finished heights read over a mandrel smaller than its tunnels: judged over the crank line.

The bar is let down in walls made of many points, and read over as a height gauge does; the block it
stands for is known. Sizes invented; source: geometry.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import cos, hypot, pi

import numpy as np
import pytest

from as_asked import values_of
from datumbook.equations.mandrels import IN_CAPS, IN_SADDLES
from datumbook.equations.verdicts import OK, OPEN, OUT
from datumbook.job import Job
from datumbook.spec import read_spec
from datumbook.stations import lay_out
from datumbook.workbook.layout import Layout
from project import full_form
from readings_made import plausible

D3 = full_form("keldmire_d3")
V8 = full_form("hollowmere_v8")
BAR, LENGTH, FRONT, REAR = 78.94, 412.0, 20.0, 392.0
STACK = 127.0 / 2 + 220.0 + 64.3
CORNERS = [f"{end}_{side}" for end in ("front", "rear") for side in ("left", "right")]
ALIKE = ((79.01, 79.01), (79.01, 79.01))
TUNNELS = """[tunnels]
size = { from = "2.4995 in", to = "2.5005 in", source = "invented" }
out_of_round = { at_most = "0.0008 in", source = "invented" }
taper = { from = "-0.0006 in", to = "0.0006 in", source = "invented" }
spread = { at_most = "0.0008 in", source = "invented" }
mandrel = "2.4961 in"
"""
Tunnel = tuple[float, float]


def laid_out(text: str) -> Layout:
    return lay_out(read_spec(text, "changed.toml"), Job("over a mandrel"))


def lies_above(tunnel: Tunnel, lies: str) -> float:
    """How far the bar's axis stands above the tunnel's centre when it has been pushed until it
    touches the wall: upright and across are the tunnel's sizes.
    """
    upright, across = tunnel
    turn = np.linspace(0, pi, 100_001)
    wall = np.array([across / 2 * np.cos(turn), upright / 2 * np.sin(turn)])
    free, beyond = 0.0, 1.0
    for _ in range(50):
        axis = (free + beyond) / 2
        touches = np.hypot(wall[0], wall[1] - axis).min() < BAR / 2
        free, beyond = (free, axis) if touches else (axis, beyond)
    return free if lies == IN_SADDLES else -free


def tunnels_read(ends: tuple[Tunnel, Tunnel], state: str = "finished_") -> dict[str, object]:
    return {
        f"{state}tunnels.{number}.{end}.{way}": across if way != "vertical" else upright
        for number, (upright, across) in zip((1, 4), ends, strict=True)
        for end in ("front", "rear")
        for way in ("vertical", "left", "right")
    }


def read_over(
    ends: tuple[Tunnel, Tunnel], lies: str, deck: float, bottom: float
) -> dict[str, object]:
    """What is read of a block whose faces lie so far from its crank line all over."""
    front, rear = (lies_above(one, lies) for one in ends)

    def bar(place: float) -> float:
        return front + (rear - front) * (place - FRONT) / (REAR - FRONT)

    at = {"front": bar(0.0), "rear": bar(LENGTH)}
    read: dict[str, object] = {f"finished_axis.{end}": bottom + up for end, up in at.items()}
    for corner in CORNERS:
        read[f"finished_corners.{corner}.deck"] = deck - at[corner.split("_")[0]]
        read[f"finished_corners.{corner}.overall"] = deck + bottom
    return read


def values(layout: Layout, *read: Mapping[str, object]) -> dict[str, object]:
    typed = plausible(layout)
    for one in read:
        typed |= one
    return dict(values_of(layout, typed))


@pytest.mark.parametrize("lies", [IN_SADDLES, IN_CAPS])
@pytest.mark.parametrize(
    "ends", [ALIKE, ((79.03, 79.00), (79.00, 79.00)), ((79.10, 79.00), (79.01, 79.02))]
)
def test_what_is_judged_is_over_the_crank_line_wherever_the_mandrel_lies(
    ends: tuple[Tunnel, Tunnel], lies: str
) -> None:
    read = read_over(ends, lies, 348.0, 100.0)
    found = values(laid_out(D3), tunnels_read(ends), read, {"finished_mandrel.lies": lies})
    assert {key: found[key] for key in read} == read, "what is read stays as read"
    for corner in CORNERS:
        assert found[f"finished_corners.{corner}.deck_over_centre"] == pytest.approx(
            348.0, rel=0, abs=1e-6
        )
        assert found[f"finished_corners.{corner}.bottom"] == pytest.approx(100.0, rel=0, abs=1e-6)
    for key, true in {
        "finished_stack.deck_clearance": 348.0 - STACK,
        "finished_deck.mean_height": 348.0,
        "finished_deck.tilt_lengthwise": 0.0,
        "finished_deck.twist": 0.0,
        "finished_axis.bottom_height": 100.0,
        "finished_axis.height_closure": 0.0,
        "finished_whole_block.bottom_lowest": 100.0,
        **{f"crowns.{one}.finished": 348.0 for one in (1, 2, 3)},
    }.items():
        assert found[key] == pytest.approx(true, rel=0, abs=1e-6), key


def test_half_of_what_the_mandrel_is_smaller_is_what_the_deck_was_read_too_low() -> None:
    """By hand: (79.01 - 78.94) / 2 = 0.035; read 347.965, the deck stands at 348.000."""
    assert lies_above(ALIKE[0], IN_SADDLES) == pytest.approx(0.035)
    read = {f"finished_corners.{corner}.deck": 347.965 for corner in CORNERS}
    found = values(laid_out(D3), tunnels_read(ALIKE), read)
    assert found["finished_mandrel.seat_front"] == pytest.approx(0.035)
    assert found["finished_stack.deck_clearance"] == pytest.approx(0.200)


def test_a_crown_too_near_is_not_let_go_because_the_mandrel_lay_in_the_caps() -> None:
    """Read 347.870 from a bar 0.035 low: 0.035 is left where 0.070 was read, of 0.050 at least."""
    layout, true = laid_out(D3), 347.835
    read = read_over(ALIKE, IN_CAPS, true, 100.0)
    assert read["finished_corners.front_left.deck"] == pytest.approx(347.870)
    for lies, verdict in ((IN_CAPS, OUT), (IN_SADDLES, OK), (None, OPEN)):
        found = values(layout, tunnels_read(ALIKE), read, {"finished_mandrel.lies": lies})
        assert found["finished_stack.deck_clearance.verdict"] == verdict
    found = values(layout, tunnels_read(ALIKE), read, {"finished_mandrel.lies": IN_CAPS})
    stack, squish = found["crowns.2.piston_stack"], found["crowns.2.squish"]
    assert isinstance(stack, float)
    assert isinstance(squish, float)
    gasket = found["gasket.gasket_thickness"]
    assert squish == pytest.approx(true - stack + gasket)  # type: ignore[operator]


def test_a_mandrel_that_fills_the_bored_tunnels_leaves_the_heights_as_read() -> None:
    full = ((BAR, BAR), (BAR, BAR))
    read = {f"finished_corners.{corner}.deck": 347.99 for corner in CORNERS}
    found = values(laid_out(D3), tunnels_read(full), read)
    assert found["finished_mandrel.seat_front"] == 0.0
    assert found["finished_stack.deck_clearance"] == pytest.approx(347.99 - STACK)


def test_where_no_work_moves_the_tunnels_the_mandrel_lies_as_it_lay() -> None:
    layout = laid_out(
        D3.replace('left_out = ["dry_liners"', 'left_out = ["line_bore", "dry_liners"')
    )
    assert not [key for key in layout.places if key.startswith("finished_mandrel.")]
    worn = ((79.03, 79.00), (79.00, 79.00))
    read = read_over(worn, IN_CAPS, 348.0, 100.0)
    found = values(layout, tunnels_read(worn, ""), read, {"mandrel.lies": IN_CAPS})
    assert found["finished_stack.deck_clearance"] == pytest.approx(348.0 - STACK, abs=1e-6)
    assert found["finished_deck.tilt_lengthwise"] == pytest.approx(0.0, abs=1e-6)


def test_the_seat_is_one_doubt_of_all_heights_and_none_of_their_closure() -> None:
    """By hand, every gauge ± 0.003 and all of that common to a setting: the seat of either end
    tunnel is half of one diameter, ± 0.0015, and a front corner is 20 mm before the front one.
    """
    found = values(laid_out(D3), tunnels_read(ALIKE), read_over(ALIKE, IN_SADDLES, 348.0, 100.0))
    beyond = FRONT / (REAR - FRONT)
    seat = 0.0015 * hypot(1 + beyond, beyond)
    assert found["release.finished_stack.deck_clearance.uncertainty"] == pytest.approx(
        hypot(0.003, seat)
    )
    # overall by the height gauge; deck and bottom by one setting of the mandrel, the seat in both
    assert found["release.finished_axis.height_closure.uncertainty"] == pytest.approx(
        hypot(0.003, 2 * 0.003)
    )


def test_towards_the_decks_of_a_vee_the_seat_counts_by_its_share() -> None:
    """Banks at 90 degrees: a bar 0.00195 in low reads either deck 0.00195 cos 45 higher."""
    layout = laid_out(V8.replace("[finished]", f"{TUNNELS}\n[finished]"))
    read: dict[str, object] = {
        key: 2.5 for key in plausible(layout) if key.startswith("finished_tunnels.")
    }
    found = values(layout, read, {"finished_mandrel.lies": IN_CAPS})
    seat, decks = (2.5 - 2.4961) / 2 * cos(pi / 4), 0
    for key, place in layout.places.items():
        if key.endswith("deck_over_centre"):
            as_read = found[key.replace("deck_over_centre", "deck")]
            unit = 25.4 if place.unit == "mm" else 1.0
            assert found[key] == pytest.approx(as_read - seat * unit)  # type: ignore[operator]
            decks += 1
    assert decks == 8


def test_the_finished_deck_over_a_bore_lies_between_the_places_where_corners_are_read() -> None:
    """Corners read at 12 and 400 mm, the rear 0.0388 higher: 0.0001 for each millimetre."""
    layout = laid_out(D3.replace("corners = {", 'corners = { along = ["12 mm", "400 mm"],'))
    read = {
        f"finished_corners.{corner}.deck": 347.9 + 0.0388 * corner.startswith("rear")
        for corner in CORNERS
    }
    found = values(layout, tunnels_read(ALIKE), read)
    for cylinder, place in ((1, 82.0), (2, 206.0), (3, 330.0)):
        deck = 347.9 + 0.035 + 0.0001 * (place - 12.0)
        assert found[f"crowns.{cylinder}.finished"] == pytest.approx(deck)
