"""Choices, every case of them written out: what a shop would take where this or that is said.

Common practice, no source: a choice reckons nothing, so there is nothing to reckon otherwise.
"""

from __future__ import annotations

import math
from collections import Counter

import pytest

from datumbook.equations import (
    budget,
    clean_cuts,
    clearances,
    crowns,
    cutting,
    drilled_holes,
    faces,
    forbidden_cuts,
    hole_safety,
    line_bore,
    liners,
    openings,
    order,
    single_holes,
    standings,
    uncertainties,
)
from witnesses import witness

NAN = math.nan
ONE, TWO, THREE = 82.25, 83.5, 84.75  # figures told apart at a look


@witness(
    budget.as_planned,
    clearances.size_to_fit,
    crowns.in_hand,
    drilled_holes.hole_counted_on,
    standings.shown_again,
    by="every case",
)
def test_what_is_typed_or_measured_else_what_stands_beside() -> None:
    for chosen in (
        budget.as_planned,
        clearances.size_to_fit,
        crowns.in_hand,
        drilled_holes.hole_counted_on,
    ):
        assert chosen(ONE, TWO) == chosen(ONE, NAN) == ONE
        assert chosen(NAN, TWO) == TWO
        assert chosen(0.0, TWO) == 0, "a nought that is said is said"
    assert budget.as_planned(NAN, NAN) is clearances.size_to_fit(NAN, NAN) is None
    assert standings.shown_again(ONE) == ONE


SET_UPS = {  # what a cut is parallel to: which of three figures holds
    faces.ALONG_AXIS: ONE,
    faces.ALONG_ITSELF: TWO,
    faces.NOT_CUT: TWO,
    faces.ALONG_OPPOSITE: THREE,
    "": None,
    "crank": None,
}


@witness(
    clean_cuts.as_set_up,
    clean_cuts.as_set_up_by_itself,
    faces.cut_taken,
    faces.sound,
    by="every case",
)
def test_of_a_cut_the_figure_for_how_it_is_set_up() -> None:
    for words, figure in SET_UPS.items():
        assert clean_cuts.as_set_up(words, ONE, TWO, THREE) == figure
        alone = None if words == faces.ALONG_OPPOSITE else figure
        assert clean_cuts.as_set_up_by_itself(words, ONE, TWO) == alone
        assert faces.cut_taken(words, ONE) == (0 if words == faces.NOT_CUT else ONE)
    assert faces.cut_taken(faces.ALONG_AXIS, NAN) is None
    heights = {"OK": ONE, "UNSURE": ONE, "OUT": None, "OPEN": None, "STALE": None, "": None}
    assert {said: faces.sound(ONE, said) for said in heights} == heights


@witness(
    line_bore.cap_cut_taken,
    line_bore.rise_taken,
    line_bore.least_metal,
    line_bore.finish_size_judged,
    line_bore.mandrel_when_cut,
    by="every case",
)
def test_of_tunnels_bored_or_not_or_not_yet_said() -> None:
    bored, stays = line_bore.BORED, line_bore.AS_THEY_ARE
    for said, figure, cap_cut, rise, metal, size, seat in (
        (bored, ONE, ONE, ONE, ONE, ONE, 0),
        (bored, NAN, None, None, None, None, 0),
        (stays, ONE, 0, 0, TWO, TWO, ONE),
        (stays, NAN, 0, 0, TWO, TWO, None),
        ("", ONE, None, None, None, None, None),
    ):
        assert line_bore.cap_cut_taken(said, figure) == cap_cut
        assert line_bore.rise_taken(said, figure, 0.0) == rise
        assert line_bore.least_metal(said, TWO, figure) == metal
        assert line_bore.finish_size_judged(said, TWO, figure) == size
        assert line_bore.mandrel_when_cut(said, figure) == seat
    assert line_bore.rise_taken(bored, ONE, 0.25) == 82.5, "what the bar is off counts"


@witness(liners.size_among_others, liners.bore_in_block, by="every case")
def test_of_a_cylinder_with_a_liner_or_without() -> None:
    for said, standard, oversize, found in (
        ("yes", ONE, TWO, ONE),
        ("yes", ONE, NAN, ONE),
        ("yes", NAN, TWO, None),
        ("no", ONE, TWO, TWO),
        ("", ONE, TWO, TWO),
        ("", ONE, NAN, None),
    ):
        assert liners.bore_in_block(said, standard, oversize) == found
        if not math.isnan(standard):
            assert liners.size_among_others(said, oversize, standard) == found


@witness(liners.suggested_bore, by="every case")
def test_of_a_finish_bore_beside_liners() -> None:
    for others, said, oversize, suggested in (
        ((THREE, ONE, TWO), "yes", TWO, THREE),
        ((THREE, ONE, TWO), "no", TWO, TWO),
        ((THREE, ONE, TWO), "", NAN, None),
        ((TWO, THREE), "yes", NAN, THREE),
        ((TWO, NAN), "yes", TWO, None),
        ((ONE, ONE), "yes", ONE, ONE),
        ((NAN, NAN), "yes", NAN, None),
        ((NAN, NAN), "", NAN, None),
    ):
        assert liners.suggested_bore(*others, liner=said, next_oversize=oversize) == suggested


@witness(
    hole_safety.shown_where_done,
    hole_safety.shown_where_open,
    forbidden_cuts.unless_forbidden,
    cutting.held_back_on_scale,
    cutting.depth_under_face,
    cutting.tap_depth_unless_forbidden,
    single_holes.unless_own,
    by="every case",
)
def test_of_a_hole_done_or_not_and_of_its_own_line_or_none() -> None:
    for tick, done in (("done", True), ("DONE", True), ("", False), ("not done", False)):
        here, away = (ONE, TWO) if done else (TWO, ONE)
        assert hole_safety.shown_where_done(tick, ONE, TWO) == here
        assert hole_safety.shown_where_open(tick, ONE, TWO) == away
    for planned, deepest, sent in ((ONE, TWO, ONE), (TWO, ONE, ONE), (ONE, ONE, ONE)):
        assert cutting.held_back_on_scale(planned, deepest, ONE) == sent
    assert cutting.held_back_on_scale(1.5 * ONE, TWO, ONE) == ONE, "a line less deep"
    for said, value, shown in (("", ONE, ONE), ("DO NOT DRILL", ONE, None), ("", NAN, None)):
        assert forbidden_cuts.unless_forbidden(said, value) == shown
    for deep, reached in ((1.5 * ONE, ONE), (0.5 * ONE, None), (0.0, None), (-1.5 * ONE, None)):
        shown = cutting.depth_under_face(deep, ONE)
        assert shown == reached or (reached is None and shown != shown)
        assert cutting.tap_depth_unless_forbidden("", deep, ONE) == reached
        assert cutting.tap_depth_unless_forbidden("DO NOT DRILL", deep, ONE) is None
    assert cutting.tap_depth_unless_forbidden("", NAN, ONE) is None
    for line, value, shown in ((NAN, ONE, ONE), (2.0, ONE, None), (NAN, NAN, None)):
        assert single_holes.unless_own(line, value) == shown


CHOICES = ["as drawn", "3/8-16 UNC", "7/16-14 UNC"]
PAIRS = [("Studs", "as drawn"), ("Studs", "1/2-13 UNC"), ("Rail", "as drawn")]


@witness(
    openings.place_among,
    openings.value_at,
    openings.major_before,
    single_holes.line_among,
    single_holes.line_found,
    single_holes.own_or_shared,
    single_holes.new_hole,
    single_holes.major_there,
    by="every case",
)
def test_of_choices_their_place_in_the_list_and_what_stands_there() -> None:
    for typed in ("", "7/16-14 unc", "3/8-16 UNC", "1/4"):
        meant = [one.lower() for one in CHOICES]
        word = (typed or CHOICES[0]).lower()
        place = meant.index(word) + 1 if word in meant else None
        assert openings.place_among(typed, CHOICES[0], *CHOICES) == place
    figures = [ONE, TWO, THREE]
    assert [openings.value_at(float(place), *figures) for place in (1, 2, 3)] == figures
    befores = {1.0: ONE, 2.0: TWO, 3.0: TWO}
    assert {at: openings.major_before(at, ONE, TWO) for at in befores} == befores
    pairs = [word for pair in PAIRS for word in pair]
    for group, typed in (("Studs", ""), ("studs", "1/2-13 UNC"), ("Rail", ""), ("Rail", "1/2")):
        found = [
            at
            for at, pair in enumerate(PAIRS, 1)
            if (group.lower(), (typed or "as drawn").lower()) == tuple(map(str.lower, pair))
        ]
        line = single_holes.line_among(group, typed, "as drawn", *pairs)
        assert line == (found[0] if found else 0)
        assert single_holes.line_found(line) == (found[0] if found else None)
    for line, own in ((1.0, ONE), (2.0, TWO), (3.0, THREE), (NAN, 9.0)):
        assert single_holes.own_or_shared(line, 9.0, *figures) == own
    assert single_holes.own_or_shared(2.0, 9.0, ONE, NAN, THREE) is None
    assert single_holes.own_or_shared(2.0, NAN, *figures) == TWO
    assert single_holes.own_or_shared(NAN, NAN, *figures) is None
    names = {"D4": 0, "d1": 0, "X1": 1, "": None}
    assert {name: single_holes.new_hole(name, "D1", "D4") for name in names} == names
    majors = {7.0: 0, 8.0: 0, 10.0: 8.0}
    assert {major: single_holes.major_there(major, 8.0) for major in majors} == majors


@witness(single_holes.single_wall, single_holes.single_wall_after, by="every case")
def test_a_wall_beside_one_hole_is_blank_where_none_is_stated() -> None:
    # two rims about centres 50 apart, 6.35 and 40 from them
    assert single_holes.single_wall(50.0, 12.7, 80.0) == pytest.approx(3.65, abs=1e-9)
    assert single_holes.single_wall(0.75, 0.5, 0.25) == pytest.approx(0.375, abs=1e-9)
    assert single_holes.single_wall(0.0, 12.7, 80.0) is None
    # a rim that comes 2.25 nearer
    assert single_holes.single_wall_after(6.4, 6.0, 10.5) == pytest.approx(4.15, abs=1e-9)
    assert single_holes.single_wall_after(0.75, 0.5, 0.75) == pytest.approx(0.625, abs=1e-9)
    assert single_holes.single_wall_after(0.0, 6.0, 10.5) is None


@witness(
    order.latest_done,
    order.line_of_step,
    order.done_number_on_line,
    order.moved_since,
    order.times_used,
    by="every case",
)
def test_of_a_route_and_its_done_numbers() -> None:
    route, done = ["deck", "bore", "hone", "wash"], [2.0, NAN, 5.0, 5.0]
    assert order.latest_done(*done) == 5
    assert order.latest_done(NAN, NAN) == 0
    for step, line in (("deck", 1), ("Hone", 3), ("", 0), ("plate", 0)):
        assert order.line_of_step(step, *route) == line
    for line, number in ((1.0, 2), (2.0, None), (3.0, 5), (0.0, None)):
        assert order.done_number_on_line(line, *done) == number
    for measured, moved in ((1.0, 5), (2.0, 5), (5.0, None), (6.0, None), (0.0, 5), (NAN, None)):
        assert order.moved_since(measured, *done) == moved
    uses = Counter(done)
    assert [order.times_used(one, *done) for one in (2.0, 5.0, 3.0)] == [
        uses[one] for one in (2.0, 5.0, 3.0)
    ]
    assert order.times_used(NAN, *done) == 0


@witness(
    standings.passing,
    standings.holding_here,
    standings.under_concession,
    standings.left,
    standings.ticks_made,
    standings.words_given,
    by="every case",
)
def test_words_are_counted_alike() -> None:
    said = ["passes", "holds", "conceded", "", "Passes", "left", "left", "holds", "passes", "left"]
    counted = Counter(map(str.lower, said))
    assert standings.passing(*said) == counted["passes"] == 3
    assert standings.holding_here(*said) == counted["holds"] == 2
    assert standings.under_concession(*said) == counted["conceded"] == 1
    assert standings.left(*said) == counted["left"] == 3
    ticks = ["done", "", "Done", "not done", "hone"]
    assert standings.ticks_made(*ticks) == 2
    assert standings.words_given(*ticks) == sum(map(bool, ticks))


@witness(uncertainties.guard_applied, by="every case")
def test_a_gauge_too_coarse_is_judged_with_the_whole_tolerance() -> None:
    for gauge, guard, width, applied in (
        (uncertainties.TOO_COARSE, 0.003, 0.010, 0.010),
        (uncertainties.TOO_COARSE, 0.012, 0.010, 0.012),
        (uncertainties.FINE_ENOUGH, 0.003, 0.010, 0.003),
        ("", 0.003, 0.010, 0.003),
    ):
        assert uncertainties.guard_applied(guard, gauge, width) == applied


@witness(liners.wall_needed, liners.wall_counted, by="every case")
def test_walls_with_limits_of_their_own() -> None:
    for said, needed in (("yes", 2.3), ("no", 3.8), ("", 3.8)):
        assert liners.wall_needed(said, 2.3, 3.8) == needed
    # three walls above their own limits; as the worst would stand over this one's
    stands = [3.8 + spare for spare in (0.9, 0.4, 1.2)]
    assert liners.wall_counted(3.8, 0.9, 0.4, 1.2) == pytest.approx(min(stands), abs=1e-9)
