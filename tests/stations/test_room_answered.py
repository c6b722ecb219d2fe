"""The room above the pistons is held to one bound, as planned and as finished, with the parts in
hand; and each end of the limits against the piston that is nearest to it.

Sizes invented; source: geometry.
"""

from __future__ import annotations

from math import hypot

import pytest

from as_asked import values_of
from datumbook.equations.crowns import AS_DRAWN, IN_HAND
from datumbook.equations.standings import HOLDS, PASSES
from datumbook.equations.verdicts import OK, OPEN, OUT
from datumbook.job import Job
from datumbook.spec import read_spec
from datumbook.stations import lay_out
from datumbook.workbook.layout import Layout
from planned_blocks import CYLINDERS, NOT_CUT, STACK, corners, cut, heights, layout, parts, readings
from project import full_form

AS_IT_IS = cut("deck", NOT_CUT) | cut("bottom", NOT_CUT)
LONGER = 0.0006
TILTED = [10.6907 + rise for rise in (0.0016, 0.0004, 0.0002, -0.0006)]
BORE, LONG, WIDE = 82.0, 394.0, 190.0  # mm: the bores, and how far apart the corners are read


def left_as_it_is(deck: list[float]) -> dict[str, object]:
    """A block that is not cut, and read once more as it was."""
    again = corners("deck", *deck) | corners("overall", *[14.246] * 4)
    return {
        **(readings() | heights(deck, [14.246] * 4) | AS_IT_IS),
        **{f"finished_{key}": size for key, size in again.items()},
    }


def least_room_of_the_last() -> float:
    """By hand: the deck over cylinder 4 at 338 of 394 mm, less half a bore down the steeper of the
    edges each way.
    """
    left, right, rear_left, rear_right = TILTED
    along = max(abs(rear_left - left), abs(rear_right - right)) / LONG
    across = max(abs(left - right), abs(rear_left - rear_right)) / WIDE
    front, rear = (left + right) / 2, (rear_left + rear_right) / 2
    return front + (rear - front) * 338 / LONG - BORE / 2 * hypot(along, across) - STACK


def test_a_room_planned_too_small_is_not_let_go_by_reading_the_same_deck_again() -> None:
    found = values_of(layout(), left_as_it_is(TILTED) | parts(longer_rods=LONGER))
    planned, again = (found[f"{crown}.4.deck_clearance"] for crown in ("crown", "crowns"))
    assert again == pytest.approx(planned, abs=5e-6), "the bores differ by a hair"
    assert found["crowns.4.over_middle"] > 0.0  # type: ignore[operator]
    assert found["crown.4.deck_clearance.verdict"] == OUT
    assert found["crowns.4.deck_clearance.verdict"] == OUT
    assert found["release.crowns.4.deck_clearance.standing"] == HOLDS


def test_where_no_piston_is_measured_the_finished_room_is_held_to_the_same_bound() -> None:
    spec = layout().spec
    assert spec.parts is not None
    fewer = spec.parts.model_copy(update={"pistons": None, "rods": None, "gudgeon_pins": None})
    bare = lay_out(spec.model_copy(update={"parts": fewer}), Job("no pistons"))
    typed = left_as_it_is([deck - LONGER for deck in TILTED])
    found = values_of(bare, {key: value for key, value in typed.items() if key in bare.places})
    check = "finished_crown.4.deck_clearance"
    assert found[check] == pytest.approx(least_room_of_the_last() - LONGER, abs=5e-6)
    assert found["finished_crown.4.over_middle"] > 0.0  # type: ignore[operator]
    assert found[f"{check}.verdict"] == OUT
    assert found[f"release.{check}.standing"] == HOLDS
    assert found["release.crown.4.deck_clearance.standing"] == PASSES, "the finished one holds it"


def test_the_room_under_drawn_parts_yields_to_the_parts_in_hand() -> None:
    """Pistons 0.010 lower than drawn leave room under a deck 0.004 below where it should be."""
    low = left_as_it_is([10.686] * 4)
    found = values_of(layout(), low | parts(higher_pistons=-0.010))
    assert found["finished_stack.deck_clearance.verdict"] == OUT
    assert found["crowns.1.deck_clearance.verdict"] == OK
    assert found["release.finished_stack.deck_clearance.standing"] == PASSES
    unread = {key: None for key in low if key.startswith("finished_bores.2.")}
    found = values_of(layout(), low | parts(higher_pistons=-0.010) | unread)
    assert found["crowns.2.deck_clearance.verdict"] == OPEN, "its bore is not read again"
    assert found["release.finished_stack.deck_clearance.standing"] == HOLDS


# squish


def test_the_squish_planned_is_that_of_the_gasket_in_hand() -> None:
    """0.003 of room: 0.038 under the gasket as drawn, 0.028 under one of 0.025; 0.030 at least."""
    block = readings() | heights([10.693] * 4, [14.248] * 4) | AS_IT_IS
    hole = {"gasket.gasket_hole": 3.300}
    for thickness, squish, verdict in ((0.025, 0.028, OUT), (0.035, 0.038, OK)):
        found = values_of(layout(), block | hole | {"gasket.gasket_thickness": thickness})
        assert found["combustion.after.squish"] == pytest.approx(squish)
        assert found["combustion.after.squish.verdict"] == verdict
        assert found["head.gasket_from"] == IN_HAND
    none = {"gasket.gasket_thickness": None, "gasket.gasket_hole": None}
    found = values_of(layout(), block | none)
    assert found["combustion.after.squish"] == pytest.approx(0.003 + found["head.gasket_thickness"])  # type: ignore[operator]
    assert found["head.gasket_from"] == AS_DRAWN


def held_both_ways() -> Layout:
    text = full_form("orrindale_qp4")
    least, both = (
        'squish = { at_least = "0.030 in"',
        'squish = { from = "0.030 in", to = "0.042 in"',
    )
    assert least in text
    return lay_out(read_spec(text.replace(least, both, 1), "both.toml"), Job("both ends"))


def test_the_most_squish_is_held_above_the_piston_with_the_most_room() -> None:
    """Rod and piston of cylinder 1 are 0.008 short in all: 0.013 of room and 0.048 of squish there,
    0.005 and 0.040 elsewhere.
    """
    short = {"rods.1.rod_length": 7.006, "pistons.1.compression_height": 1.806}
    book, block = held_both_ways(), left_as_it_is([10.695] * 4)
    found = values_of(book, block | short)
    assert found["combustion.after.squish"] == pytest.approx(0.040)
    assert found["combustion.after.squish.verdict"] == OK
    assert found["combustion.after.most_squish"] == pytest.approx(0.048)
    assert found["combustion.after.most_squish.verdict"] == OUT
    out = [one for one in CYLINDERS if found[f"crowns.{one}.most_squish.verdict"] == OUT]
    assert out == ["1"]
    assert found["release.crowns.1.most_squish.standing"] == HOLDS
    found = values_of(book, block)
    assert found["combustion.after.most_squish.verdict"] == OK
    assert found["release.combustion.after.most_squish.standing"] == PASSES
