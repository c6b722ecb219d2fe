"""What is typed is answered first, with the most or the least that would keep the limit."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from datumbook.equations.verdicts import OK, OUT
from datumbook.planning import plan_lines
from datumbook.workbook.evaluation import AsTyped
from long_runs import examples
from planned_blocks import (
    AXIS,
    ITSELF,
    NOT_CUT,
    STACK,
    cut,
    heights,
    hollows,
    layout,
    parts,
    planned,
    readings,
)


def told(block: dict[str, object]) -> str:
    return "\n".join(plan_lines(planned(block)))


def test_a_cut_typed_is_answered_in_a_sentence() -> None:
    """Cylinder 3 has the highest crown: 0.0034 in of deck above it, less 0.0030 and 0.0018."""
    longer = {"rods.3.rod_length": 7.0118, "pistons.3.compression_height": 1.8116}
    block = readings() | longer | cut("bottom", NOT_CUT) | cut("deck", AXIS, 0.0030)
    assert (
        "  Your 0.0030 in off the deck, parallel to the crank line: crown of cylinder 3 would "
        "stand 0.0014 in proud, the room above it not less than 0.0000 in (Orrindale workshop "
        "sheet 2, invented); at most 0.0016 in.\n"
    ) in told(block)


def test_what_the_cut_proposed_leaves_is_not_told_as_what_the_typed_one_does() -> None:
    block = readings() | heights([10.700] * 4, [14.255] * 4)  # 0.0100 over the pistons
    said = told(block | cut("bottom", NOT_CUT) | cut("deck", AXIS, 0.0090))
    of_typed, _, of_proposed = said.partition("Proposed: ")
    assert "Your 0.0090 in off the deck" in of_typed
    assert of_proposed.splitlines()[0].endswith("0.0000 in. The least that serves; it leaves")


def test_a_cut_that_keeps_every_limit_is_said_to() -> None:
    block = readings() | cut("bottom", NOT_CUT) | cut("deck", AXIS, 0.0030)
    said = told(block)
    assert "Your 0.0030 in off the deck, parallel to the crank line: keeps every limit" in said
    assert "Your bottom face, not cut: keeps every limit" in said


def test_a_cut_that_does_not_clean_is_said_by_how_much() -> None:
    block = readings() | hollows("deck", rear_end=0.0028) | cut("bottom", NOT_CUT)
    assert (
        "Your 0.0010 in off the deck, parallel to the crank line: it does not clean the face, "
        "short by 0.0018 in (hollow across the rear end); at least 0.0028 in."
    ) in told(block | cut("deck", AXIS, 0.0010))


def test_a_tilt_that_no_size_of_the_cut_mends_is_said_to_be_one() -> None:
    block = readings() | heights([10.695, 10.695, 10.699, 10.699], [14.25, 14.25, 14.254, 14.254])
    said = told(block | cut("bottom", NOT_CUT) | cut("deck", ITSELF, 0.0010))
    assert (
        "parallel to the face itself: tilt lengthwise after would be 0.0040 in, from -0.0015 to "
        "0.0015 in (Orrindale workshop sheet 5, invented); no size of it keeps this." in said
    )


def test_what_is_not_all_typed_is_not_called_kept() -> None:
    said = told(readings() | cut("deck", AXIS))
    assert "Your deck, parallel to the crank line: not all is typed, the cut is wanting." in said
    assert "keeps every limit" not in said


def test_nothing_typed_is_nothing_judged() -> None:
    assert planned(readings()).judged == ()
    assert "What is typed" not in told(readings())


def test_nearer_than_the_gauge_can_tell_is_unsure_and_told_with_what_is_sure() -> None:
    block = readings(instruments__heights__uncertainty=0.0004) | cut("bottom", NOT_CUT)
    said = told(block | cut("deck", AXIS, 0.0049))
    assert re.search(r"crown of cylinder 1 would stay 0\.0001 in below the deck.*UNSURE", said)
    most = re.search(r"UNSURE within ± [\d.]+ in; at most ([\d.]+) in", said)
    assert most is not None
    found = AsTyped(layout(), block | cut("deck", AXIS, float(most[1])), {})
    assert found["crown.1.deck_clearance.verdict"] == OK


@settings(max_examples=examples(15), deadline=None)
@given(st.integers(1, 60), st.integers(-20, 20), st.integers(0, 30))
def test_the_most_that_is_said_to_keep_a_limit_just_keeps_it(
    tenths: int, longer: int, gap: int
) -> None:
    block = readings() | parts(longer / 10000) | cut("bottom", NOT_CUT)
    block |= hollows("deck", left_edge=gap / 10000)
    typed = block | cut("deck", AXIS, tenths / 10000)
    found = AsTyped(layout(), typed, {})
    said = told(typed)
    verdict = found["crown.1.deck_clearance.verdict"]
    assert ("crown of cylinder 1 would" in said) == (verdict == OUT)
    most = re.search(r"crown of cylinder 1 would [^;]*; at most ([\d.]+) in", said)
    if most is not None:
        at, over = float(most[1]), float(most[1]) + 0.0001
        kept = AsTyped(layout(), block | cut("deck", AXIS, at), {})
        assert kept["crown.1.deck_clearance.verdict"] == OK
        broken = AsTyped(layout(), block | cut("deck", AXIS, over), {})
        assert broken["crown.1.deck_clearance.verdict"] == OUT


def test_a_bore_and_a_set_over_typed_are_judged_by_their_wall() -> None:
    walls = {
        f"walls.2.{height}.at_{place}": 4.0
        for height in ("upper", "lower")
        for place in ("front", "right", "rear", "left")
    }
    block = readings(bore_plan__2__typed_bore=82.25, bore_plan__2__typed_across=0.30) | walls
    block |= {
        f"bores.2.{depth}.{axis}": 82.0
        for depth in ("top", "middle", "bottom")
        for axis in ("thrust", "axial")
    }
    (said,) = [one for one in planned(block).judged if "cylinder 2" in one.intention]
    assert said.intention == (
        "Your boring of cylinder 2, finish bore 82.250 mm, set-over across 0.30 mm"
    )
    # 4.0 less 0.125 and 0.30 at the left, which the bar is set over to
    assert any(
        one.startswith("cylinder 2, after boring, thrust side") and "3.5" in one
        for one in said.sentences
    )
    (stopped,) = planned(block | {"route.bore.done": None}).forbidden
    assert stopped.startswith("DO NOT BORE cylinder 2: clean-up size of cylinder 2 would ")
    assert "; cylinder 2, after boring, thrust side would " in stopped
    assert planned(block).forbidden == (), "it is bored already"
    assert any("set-over across at most 0.0" in one for one in said.sentences)


@pytest.mark.parametrize("words", ["crank line", "the face itself"])
def test_the_set_up_typed_is_in_the_sentence(words: str) -> None:
    the = "" if words.startswith("the ") else "the "
    said = told(readings() | cut("bottom", NOT_CUT) | cut("deck", words, 0.0030))
    assert f"Your 0.0030 in off the deck, parallel to {the}{words}: " in said


# a block as received, of which the overall height is short by 0.0006, 0.0003 at the rear corners;
# the sums are done by hand: 14.2220 - 14.2214, and 14.2214 - 0.0010 once the deck is cut
SHORT = heights([10.6935, 10.6937, 10.6927, 10.6929], [14.2231, 14.2234, 14.2214, 14.2217])


def typed_short(**changed: object) -> dict[str, object]:
    low = parts(higher_pistons=-0.010)
    block = readings() | low | SHORT | cut("bottom", NOT_CUT) | cut("deck", AXIS, 0.0010)
    return block | {key.replace("__", "."): value for key, value in changed.items()}


def test_a_cut_that_breaks_a_limit_and_is_not_done_is_not_to_be_made_before_all_else() -> None:
    said = told(typed_short(route__deck__done=None)).splitlines()
    assert said[1] == (
        "DO NOT CUT the deck: overall height at the rear left corner would be 14.2204 in, not "
        "less than 14.2220 in."
    )
    assert sum(line.startswith("DO NOT") for line in said) == 1, "one line a cut"


def test_a_cut_that_is_done_that_is_not_typed_or_keeps_its_limits_is_not_forbidden() -> None:
    assert planned(typed_short(route__deck__done=3.0)).forbidden == ()
    not_cut = {"deck_cut.parallel_to": NOT_CUT, "deck_cut.cut": None}
    assert planned(typed_short(route__deck__done=None) | not_cut).forbidden == ()
    sound = readings(route__deck__done=None) | cut("bottom", NOT_CUT) | cut("deck", AXIS, 0.0010)
    assert planned(sound).forbidden == ()


@settings(max_examples=examples(6), deadline=None)
@given(
    room=st.integers(20, 300),
    spare=st.integers(-10, 90),
    sunk=st.integers(0, 20),
    taken=st.integers(1, 90),
)
def test_what_a_deeper_cut_mends_forbids_none(room: int, spare: int, sunk: int, taken: int) -> None:
    """A level deck over a bottom face of which one corner is sunk, cut parallel to the crank line;
    lengths in 0.0001 in, the limits of the spec: 0 to 0.020 in over the crowns, 14.222 in over all.
    """
    high = [STACK + room / 1e4] * 4
    least = 14.222 + spare / 1e4
    over = [least, *[least + sunk / 1e4] * 3]
    block = readings(route__deck__done=None) | heights(high, over) | cut("bottom", NOT_CUT)
    said = planned(block | cut("deck", AXIS, taken / 1e4)).forbidden
    breaks = taken > spare or taken > room
    too_high = room - taken > 200
    deeper = room - 200  # brings the room to its limit
    mended = too_high and deeper <= spare and deeper <= room
    assert bool(said) == (breaks or (too_high and not mended)), said


def test_a_room_still_too_great_after_a_cut_is_the_reason_for_it_and_not_against_it() -> None:
    """0.025 over the crowns, at most 0.020: more of the cut mends it where the height allows."""
    deck, cut_of = [STACK + 0.025] * 4, cut("deck", AXIS, 0.0010)
    block = readings(route__deck__done=None) | cut("bottom", NOT_CUT) | cut_of
    assert planned(block | heights(deck, [14.250] * 4)).forbidden == ()
    (said,) = planned(block | heights(deck, [14.2250] * 4)).forbidden
    assert said.startswith("DO NOT CUT the deck: room at the middle of cylinder 1")


def test_what_breaks_most_is_first_in_the_line_of_a_cut_that_breaks_two_limits() -> None:
    """Crowns at 0.0007 of room on cylinder 4, so 0.0003 proud; the height short by 0.0016."""
    block = typed_short(route__deck__done=None) | parts(higher_pistons=0.0020)
    (said,) = planned(block).forbidden
    assert re.match(r"DO NOT CUT the deck: overall height .* 14\.2220 in; crown of cylinder", said)


def test_a_face_that_is_not_cut_is_short_already_in_one_truth_and_never_forbidden() -> None:
    text = told(typed_short(route__deck__done=None))
    assert (
        "  Your bottom face, not cut: overall height at the rear left corner is 14.2214 in, not "
        "less than 14.2220 in (Orrindale workshop sheet 2, invented), short already, whatever is "
        "cut. So with: Overall height at the rear right corner."
    ) in text
    assert "not cut: keeps every limit" not in text
    assert "not cut (as typed): nothing comes off\n" in text
    assert "not cut (as typed): forbidden" not in text


def test_before_a_cut_a_height_is_as_it_was_read_and_the_worst_corner_is_named() -> None:
    text = told(typed_short())
    assert (
        "Overall height at the rear left corner: 14.2214 in before, not less than 14.2220 in, "
        "short by 0.0006 in already"
    ) in text
    worse = [14.2231, 14.2234, 14.2219, 14.2217]  # the rear right, whose deck is 0.0002 higher
    text = told(typed_short() | heights([10.6935, 10.6937, 10.6927, 10.6929], worse))
    assert (
        "Overall height at the rear right corner: 14.2217 in before, not less than 14.2220 in, "
        "short by 0.0003 in already"
    ) in text
