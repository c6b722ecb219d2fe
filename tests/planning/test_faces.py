"""The faces: every set-up beside the others, the least metal by trying every cut in the book
itself, and worked figures.

The witness is brute force over a grid of cuts typed into the book and reckoned there; worked
figures are geometry by hand, in millimetres as planned_blocks.worked says.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from datumbook.equations.verdicts import OK, OUT
from datumbook.formulas.functions import at_least, at_most
from datumbook.planning.words import FaceSet
from datumbook.stations.received.deck_heights import CORNERS
from datumbook.workbook.evaluation import AsTyped
from long_runs import examples
from planned_blocks import (
    AXIS,
    CYLINDERS,
    ITSELF,
    NEVER,
    NOT_CUT,
    OPPOSITE,
    STACK,
    cut,
    heights,
    hollows,
    layout,
    line_bored,
    parts,
    planned,
    readings,
    worked,
)

STEP, LOWER = 0.0005, 0.03  # in; the pistons stop lower, that the bottom face does not bind always
PLANNED = [
    *(f"crown.{one}.deck_clearance" for one in CYLINDERS),
    *(f"deck_after.{one}" for one in ("tilt_lengthwise", "tilt_crosswise", "twist")),
    *(f"block_corners.{corner}.{height}" for corner in CORNERS for height in ("overall", "bottom")),
    "bottom_after.bottom_twist",
    "combustion.after.squish",
]


def number(value: object) -> float:
    assert isinstance(value, float)
    return value


def set_ups(
    block: dict[str, object], cut: str = "deck", bar_off: str = NEVER
) -> dict[str, FaceSet]:
    sets = planned(block, bar_off).faces[""].sets
    return {one.way.parallel_to: one for one in sets if one.way.cut == cut}


def after(one: FaceSet, name: str) -> float:
    """A limited size after the cuts of a set-up."""
    assert one.tried.sizes is not None
    return next(held for held in one.tried.held if held.name.startswith(name)).after(
        one.tried.sizes
    )


uneven = st.lists(st.integers(-3, 3), min_size=4, max_size=4)
case = st.tuples(uneven, uneven, st.integers(-6, 40), st.integers(-1, 12), st.integers(0, 5))


def block_of(
    deck: list[int], bottom: list[int], high: int, spare: int, gap: int
) -> dict[str, object]:
    """A block by its corners, all in steps: the deck over the crowns and its highest place, the
    overall height over its limit, a hollow on a diagonal of the deck.
    """
    decks = [STACK - LOWER + (high + each) * STEP for each in deck]
    least = min(one + each * STEP for one, each in zip(decks, bottom, strict=True))
    overall = [
        one + each * STEP + 14.222 + spare * STEP - least
        for one, each in zip(decks, bottom, strict=True)
    ]
    return (
        readings()
        | parts(higher_pistons=-LOWER)
        | heights(decks, overall)
        | hollows("deck", right_diagonal=gap * STEP)
        | cut("bottom", NOT_CUT)
    )


def keeps_all(values: Mapping[str, object]) -> bool:
    """Whether the book itself calls the cuts typed into it clean, and within all limits."""
    cut, least = values["deck_counted.cut_taken"], values["deck_counted.least_cut"]
    assert isinstance(cut, float)
    assert isinstance(least, float)
    return at_least(cut, least) and all(within(values, check) for check in PLANNED)


def within(values: Mapping[str, object], check: str) -> bool:
    size, held = values[check], next(one for one in layout().checks if one.key == check)
    low, high = (values[end] if end else None for end in (held.low, held.high))
    assert isinstance(size, float)
    return (not isinstance(low, float) or at_least(size, low)) and (
        not isinstance(high, float) or at_most(size, high)
    )


def passes(block: dict[str, object], deck: str, size: float) -> bool:
    return keeps_all(AsTyped(layout(), block | cut("deck", deck, size), {}))


@settings(max_examples=examples(12), deadline=None)
@given(case, st.sampled_from([AXIS, OPPOSITE, ITSELF]))
def test_the_least_cut_is_what_trying_every_cut_in_the_book_finds(
    case: tuple[list[int], list[int], int, int, int], way: str
) -> None:
    block = block_of(*case)
    found = set_ups(block | cut("deck", way))[way].tried
    # everything stands on quarters of a step, but for what falls between the corners
    grid = [number * STEP / 4 for number in range(4 * 45)]
    tried = next((size for size in grid if passes(block, way, size)), None)
    if found.sizes is None:
        assert tried is None
    else:
        least = found.sizes["deck"]
        assert passes(block, way, least + 1e-10)
        assert least < 1e-9 or not passes(block, way, least - 1e-6)
        assert tried is None or least <= tried + 1e-9 <= least + STEP / 4 + 1e-9


@settings(max_examples=examples(6), deadline=None)
@given(case)
def test_no_other_cuts_on_both_faces_take_less_metal(
    case: tuple[list[int], list[int], int, int, int],
) -> None:
    block = block_of(*case) | {"bottom_cut.parallel_to": None}
    chosen = planned(block).faces[""].chosen
    if chosen is None:
        return
    for bottom, deck in product((NOT_CUT, AXIS, ITSELF), (AXIS, ITSELF)):
        for sizes in product([number * STEP * 2 for number in range(8)], repeat=2):
            typed = block | cut("bottom", bottom, sizes[0]) | cut("deck", deck, sizes[1])
            found = AsTyped(layout(), typed, {})
            if keeps_all(found):
                taken = [
                    found[f"{face}_corners.{corner}.taken"]
                    for face in ("deck", "bottom")
                    for corner in CORNERS
                ]
                assert chosen.metal <= sum(taken) / 4 + 1e-9  # type: ignore[arg-type]


@settings(max_examples=examples(12), deadline=None)
@given(case)
def test_the_cuts_proposed_pass_every_check_once_they_are_typed(
    case: tuple[list[int], list[int], int, int, int],
) -> None:
    block = block_of(*case)
    found = planned(block).faces[""]
    if found.chosen is None or found.sizes is None:
        return
    (bottom, deck) = found.chosen.ways
    typed = cut("bottom", bottom.parallel_to) | cut("deck", deck.parallel_to, found.sizes["deck"])
    values = AsTyped(layout(), block | typed, {})
    assert {values[f"{key}.verdict"] for key in PLANNED} == {OK}


# worked figures


def test_a_tilted_deck_cut_along_each_of_the_three() -> None:
    block = readings() | worked(
        [220.03, 220.03, 219.99, 219.99], [300.00, 300.00, 300.04, 300.04], higher=0.003
    )
    found = set_ups(block | hollows("deck", left_edge=0.002) | cut("bottom", NOT_CUT))
    along = found[AXIS]
    assert along.proposed
    assert along.size == pytest.approx(0.002)
    assert along.infeed == pytest.approx(0.006)
    assert after(along, "Overall height at the front left corner") == pytest.approx(
        14.253 - 0.006, abs=1e-9
    )
    assert along.tilts == (0.0, 0.0)
    for way, tilt in ((OPPOSITE, -0.008), (ITSELF, -0.004)):
        assert found[way].size is None
        answer = found[way].tried.answer
        assert answer is not None
        assert [one.name for one in answer.conflict] == ["Tilt lengthwise after"]
        assert answer.conflict[0].before == pytest.approx(tilt, abs=1e-9)
        assert found[way].tilts == pytest.approx((tilt, 0.0), abs=1e-9)


def test_a_twisted_deck_cut_along_itself_is_flat_whatever_the_twist_was() -> None:
    block = readings() | worked(
        [220.00, 219.97, 219.97, 220.00], [300.00, 299.97, 299.97, 300.00], higher=0.006
    )
    found = set_ups(block | hollows("deck", left_edge=0.002) | cut("bottom", NOT_CUT))[ITSELF]
    assert found.size == pytest.approx(0.002)
    assert found.infeed == pytest.approx(0.005)
    assert after(found, "Twist after") == pytest.approx(0, abs=1e-9)
    # 10.701 less 0.005 all over: 0.006 above the crowns
    assert after(found, "Crown of cylinder 2") == pytest.approx(0.006, abs=1e-9)


def test_a_deck_cut_standing_on_a_twisted_bottom_takes_its_tilt() -> None:
    block = readings() | worked([220.00] * 4, [300.00, 300.00, 300.00, 299.94], higher=0.003)
    found = set_ups(block | cut("bottom", NOT_CUT) | cut("deck", OPPOSITE))[OPPOSITE]
    answer = found.tried.answer
    assert found.size is None
    assert answer is not None
    # decks 219.92 219.95 219.95 219.98 with a cut of 0.02: rear 0.03 over the front
    assert found.tilts == pytest.approx((0.003, -0.003), abs=1e-9)


def test_a_line_that_rises_askew_is_cut_level_with_the_bore_and_not_with_the_deck() -> None:
    block = readings() | worked([220.00] * 4, [300.00] * 4, higher=0.015)
    # 0.05 over the front corners, 0.13 over the rear: at tunnels 1 and 3, in inches
    rises = [0.005 + 0.008 * place / 394 for place in (20, 374)]
    typed = line_bored(61.070, 0.5, (rises[0] * 25.4, rises[1] * 25.4))
    found = set_ups(
        block
        | typed
        | hollows("deck", left_edge=0.002)
        | cut("bottom", NOT_CUT)
        | cut("deck", AXIS),
        bar_off="0.01 mm",
    )[AXIS]
    # 0.02 off the rear for the hollow, with what either end of the bar may be off; 0.08 more at the
    # front
    margin = found.tried.margins["deck"]
    assert found.size is not None
    assert found.infeed == pytest.approx(found.size + 0.008, abs=1e-6)
    assert margin > 0, "the bar alone: the readings are sure here"
    assert 0 <= found.size - (0.002 + margin) < 1e-4
    assert found.touch_on.startswith("front")
    assert after(found, "Crown of cylinder 3") == pytest.approx(
        10.710 - 0.013 - (0.002 + margin) - STACK, abs=1e-6
    )


# what readings with every tilt and closure OK let pass before


def test_an_overall_height_that_breaks_at_another_corner_is_forbidden_or_limited() -> None:
    """The lowest overall corner less the cut said 14.2220; the front, cut deeper, is at 14.2215."""
    deck, overall = [10.6960, 10.6960, 10.6955, 10.6955], [14.2235, 14.2235, 14.2240, 14.2240]
    block = readings() | heights(deck, overall) | hollows("deck", left_edge=0.0015)
    typed = block | cut("bottom", NOT_CUT) | cut("deck", AXIS, 0.0015)
    assert AsTyped(layout(), block, {})["axis.height_closure.verdict"] == OK
    assert AsTyped(layout(), block, {})["deck.tilt_lengthwise.verdict"] == OK
    found = planned(typed)
    assert found.faces[""].chosen is None
    forbidden = set_ups(typed)[AXIS].tried.answer
    assert forbidden is not None
    clean, overall = forbidden.conflict
    assert clean.name == "Deck clean"
    assert overall.name.startswith("Overall height at the front")
    (said,) = [one for one in found.judged if "off the deck" in one.intention]
    assert said.sentences[0].startswith(
        "overall height at the front left corner would be 14.2215 in, not less than 14.2220 in"
    )
    assert "; at most 0.0010 in" in said.sentences[0]


@pytest.mark.parametrize("gap", [0.0058, 0.0090])
def test_a_hollow_on_a_diagonal_asks_for_metal(gap: float) -> None:
    block = readings() | heights([10.705] * 4, [14.260] * 4) | cut("bottom", NOT_CUT)
    block |= hollows("deck", left_diagonal=gap)
    found = set_ups(block | cut("deck", AXIS))[AXIS]
    assert found.size == pytest.approx(gap)
    assert found.clean is not None
    assert found.clean.source == "hollow, front left to rear right"
    untyped = planned(block).faces[""]
    assert untyped.sizes is not None
    asked = gap > 0.006  # the most that the spec lets lie
    assert untyped.sizes["deck"] == pytest.approx(gap if asked else 0.0)
    assert [one for one in untyped.refused if one[0] == "Deck not cut"] == (
        [("Deck not cut", "From front left to rear right, gap along not OK")] if asked else []
    )


def test_parts_that_measure_long_stand_proud_in_plan_and_on_the_sheet() -> None:
    block = readings() | parts(0.001, 0.003) | cut("bottom", NOT_CUT) | cut("deck", AXIS, 0.002)
    assert AsTyped(layout(), block, {})["crown.3.deck_clearance.verdict"] == OUT
    (said,) = [one for one in planned(block).judged if "off the deck" in one.intention]
    assert said.sentences[0].startswith("crown of cylinder 1 would stand 0.0010 in proud")
    assert "; at most 0.0010 in" in said.sentences[0]
    drawn = readings() | cut("bottom", NOT_CUT) | cut("deck", AXIS, 0.002)
    assert [one.sentences for one in planned(drawn).judged] == [(), ()]
    assert [one.sizes_from for one in planned(block).faces[""].crowns] == ["parts in hand"] * 4


# which set-up is proposed


def test_a_true_deck_wants_no_cut() -> None:
    faces = planned(readings()).faces[""]
    assert faces.sizes == {"bottom": 0.0, "deck": 0.0}
    assert faces.chosen is not None
    assert [way.parallel_to for way in faces.chosen.ways] == [NOT_CUT, NOT_CUT]
    assert faces.chosen.binding == ()


def test_a_tilted_deck_is_cut_to_its_lowest_corner_along_the_crank_line() -> None:
    faces = planned(readings() | heights([10.695, 10.695, 10.700, 10.6995], [14.25] * 4)).faces[""]
    deck = faces.set_up("deck")
    assert deck is not None
    assert (deck.way.parallel_to, deck.size, deck.infeed) == (AXIS, 0.0, pytest.approx(0.005))


def test_a_deck_too_near_its_limit_of_tilt_to_tell_is_not_left_as_it_is() -> None:
    block = readings(instruments__heights__uncertainty=0.0004) | heights(
        [10.695, 10.695, 10.6969, 10.6969], [14.25] * 4
    )
    assert AsTyped(layout(), block, {})["deck.tilt_lengthwise.verdict"] == "UNSURE"
    faces = planned(block).faces[""]
    assert ("Deck not cut", "Deck height, tilt lengthwise not OK") in faces.refused
    deck = faces.set_up("deck")
    assert deck is not None
    assert deck.way.parallel_to == AXIS


def test_the_margin_of_the_readings_is_added_and_told_apart() -> None:
    block = readings(instruments__flatness__uncertainty=0.0004) | hollows("deck", left_edge=0.002)
    deck = set_ups(block | cut("deck", AXIS) | cut("bottom", NOT_CUT))[AXIS]
    margin = deck.tried.margins["deck"]
    assert deck.clean is not None
    assert deck.clean.bound == pytest.approx(0.002)
    assert margin > 0
    assert deck.tried.sizes == {"deck": pytest.approx(0.002 + margin)}


def test_a_margin_for_which_there_is_no_room_forbids_and_says_so() -> None:
    block = readings(instruments__flatness__uncertainty=0.0004) | hollows("deck", left_edge=0.0048)
    answer = set_ups(block | cut("deck", AXIS) | cut("bottom", NOT_CUT))[AXIS].tried.answer
    assert answer is not None
    assert answer.sizes is None
    clean = next(one for one in answer.conflict if one.name == "Deck clean")
    assert clean.source == "hollow along the left edge, and what the readings may be off by"


def test_a_deck_too_high_is_cut_to_the_greatest_clearance() -> None:
    faces = planned(readings() | heights([10.7135] * 4, [14.25] * 4)).faces[""]
    assert faces.sizes == {"bottom": 0.0, "deck": 0.0035}
    assert faces.chosen is not None
    assert {(one.name, one.bound) for one in faces.chosen.binding} == {
        (f"Room at the middle of cylinder {one}", 0.020) for one in CYLINDERS
    }


def test_the_limits_that_forbid_a_plan_are_named_and_no_others() -> None:
    # 0.0050 asked over pistons that stop 0.0200 lower, 0.0020 there
    block = readings() | parts(higher_pistons=-0.020) | heights([10.695] * 4, [14.2240] * 4)
    answer = set_ups(block | cut("deck", AXIS) | cut("bottom", NOT_CUT))[AXIS].tried.answer
    assert answer is not None
    names = [(one.name.rstrip("1234"), one.end) for one in answer.conflict]
    assert names == [
        ("Room at the middle of cylinder ", "high"),
        ("Overall height at the rear right corner", "low"),
    ]


def test_heights_that_do_not_add_up_stop_the_forecast() -> None:
    faces = planned(readings(axis__front=3.565, axis__rear=3.565)).faces[""]
    assert faces.closure == pytest.approx(-0.010)
    assert (faces.sizes, faces.sets) == (None, ())


@pytest.mark.parametrize(("front", "rear"), [(0.006, -0.006), (0.0, 0.006), (-0.006, 0.0)])
def test_an_end_misread_stops_the_forecast_whatever_the_other_end_says(
    front: float, rear: float
) -> None:
    """The means of both ends add up to within 0.003, which the spec lets pass."""
    block = readings() | cut("deck", AXIS, 0.001) | cut("bottom", NOT_CUT)
    sound = AsTyped(layout(), block, {})
    assert isinstance(sound["crown.1.deck_clearance"], float)
    misread = block | {"axis.front": 3.555 + front, "axis.rear": 3.555 + rear}
    found = AsTyped(layout(), misread, {})
    assert found["axis.closure_front"] == pytest.approx(-front, abs=1e-9)
    assert found["axis.closure_rear"] == pytest.approx(-rear, abs=1e-9)
    assert abs(number(found["axis.height_closure"])) == pytest.approx(0.006, abs=1e-9)
    assert found["axis.height_closure.verdict"] == OUT
    assert found["crown.1.deck_clearance"] is None
    assert planned(misread).faces[""].sets == ()


def test_the_closure_is_as_unsure_as_what_is_read_at_one_end() -> None:
    """By hand, every reading ± 0.001 by itself: two corners' mean of overall less deck, and the
    bottom height: the root of 4 / 4 + 1 of them. What the setting of a gauge shares, overall once,
    deck and bottom twice, is the more.
    """
    block = readings(axis__rear=3.557, instruments__heights__uncertainty=0.001)
    for setting, said in ((0.0, 2**0.5), (None, 5**0.5)):
        block["instruments.heights.setting"] = setting
        found = AsTyped(layout(), block, {})["release.axis.height_closure.uncertainty"]
        assert found == pytest.approx(0.001 * said, rel=1e-9)


def test_the_set_up_typed_is_kept() -> None:
    faces = planned(readings() | cut("deck", ITSELF)).faces[""]
    assert faces.chosen is not None
    assert [way.parallel_to for way in faces.chosen.ways] == [NOT_CUT, ITSELF]
