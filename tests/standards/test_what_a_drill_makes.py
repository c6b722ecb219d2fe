"""What a drill makes, and the drills taken here against those that charts name, row by row.

Source: the means of some 2800 holes in steel and cast iron by Machinery's Handbook, from memory;
the drills of the charts as standards/tap_charts.toml and metric.toml name them.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations.drilled_holes import probable_hole
from datumbook.standards.drill_choice import (
    SAME,
    chart_remarks,
    drill_refusal,
    drills_inside,
    hole_limits,
    oversize_in_words,
    place_in_words,
    ranked,
)
from datumbook.standards.drills import Choice, Drill, all_drills, choice, drills_for, parse_drill
from datumbook.standards.oversize import BEYOND_CHART, mean_oversize, most_oversize, share_wanted
from datumbook.standards.tap_charts import chart_drills
from datumbook.standards.threads import Thread, all_threads, parse_thread

INCH = 25.4
CHARTED = ("UNC", "UNF", "metric coarse", "metric fine")
DRILLS = st.sampled_from(all_drills())
SLACK = 1e-9  # mm
LIMITED = [one for one in all_threads() if one.limit_class]

OUT, NEARER, NOT_OWNED = "its hole is outside", "another is nearer", "the stand has none"
APART = {  # where the drill taken is not the one charts name, and why
    "7/16-20 UNF": OUT,
    "1/2-20 UNF": OUT,
    "9/16-18 UNF": OUT,
    "5/8-18 UNF": OUT,
    "M6x0.75": NOT_OWNED,
    "M10x1.25": OUT,
    "M12x1.25": OUT,
    "M14x1.25": OUT,
}


def own_systems(thread: Thread) -> tuple[str, ...]:
    return ("metric",) if thread.unit == "mm" else ("fraction", "number", "letter")


@pytest.mark.parametrize(
    ("inches", "mean"), [(1 / 16, 1.5), (1 / 8, 3), (1 / 4, 4), (1 / 2, 5), (3 / 4, 5), (1, 7)]
)
def test_the_mean_is_within_0_0003_in_of_the_handbooks(inches: float, mean: float) -> None:
    # thousandths, from memory
    assert mean_oversize(inches * INCH) / INCH == pytest.approx(mean / 1000, abs=0.00031)


@pytest.mark.parametrize(
    ("inches", "most"), [(1 / 16, 2), (1 / 8, 4.5), (1 / 4, 6.5), (1 / 2, 8), (3 / 4, 8), (1, 9)]
)
def test_single_holes_come_out_larger_by_the_handbook(inches: float, most: float) -> None:
    # thousandths, from memory
    assert most_oversize(inches * INCH) / INCH == pytest.approx(most / 1000)
    assert most_oversize(inches * INCH) >= mean_oversize(inches * INCH)


def test_a_hole_is_inside_only_on_average_where_a_large_one_is_not() -> None:
    # H makes 0.266 + 0.0066 = 0.2726 at most, I 0.272 + 0.0066 = 0.2786, of 0.277
    thread = parse_thread("5/16-24 UNF")
    limits = hole_limits(thread)
    said = {one: place_in_words(choice(thread, parse_drill(one)), limits) for one in "GHIJ"}
    assert said == {"G": "below", "H": "inside", "I": "inside on average", "J": "above"}
    reamed = choice(thread, parse_drill("I"), 0.0)
    assert place_in_words(reamed, limits) == "inside", "the shop's own figure is no mean of others"


@pytest.mark.parametrize(
    ("drill", "beyond"),
    [("3/64", False), ("1.1 mm", True), ("1 3/64", False), ("1 1/16", True), ("28 mm", True)],
)
def test_a_drill_beyond_the_chart_is_said_to_be(drill: str, beyond: bool) -> None:
    # the chart runs from 3/64 to 1 3/64 in, 0.047 and 1.047
    made = choice(parse_thread("1 1/8-7 UNC"), parse_drill(drill))
    assert made.oversize.beyond is beyond
    assert (BEYOND_CHART in oversize_in_words([made])) is beyond
    assert not choice(parse_thread("1 1/8-7 UNC"), parse_drill(drill), 0.1).oversize.beyond


@pytest.mark.parametrize(
    ("thread", "drill", "hole", "place"),
    [  # inches: the drill, and what charts say it cuts over its size
        ("5/16-24", "17/64", 0.2656 + 0.0040, "inside"),
        ("5/16-24", "I", 0.2720 + 0.0041, "inside"),
        ("5/16-24", "J", 0.2770 + 0.0041, "above"),
        ("7/16-20", "25/64", 0.3906 + 0.0046, "above"),
        ("1/2-20", "29/64", 0.4531 + 0.0047, "above"),
        ("1/4-20", "#7", 0.2010 + 0.0038, "inside"),
        ("M8", "6.8 mm", 0.2677 + 0.0040, "inside"),
        ("M8", "6.9 mm", 0.2717 + 0.0041, "above"),
    ],
)
def test_a_drill_is_placed_by_its_hole(thread: str, drill: str, hole: float, place: str) -> None:
    named = next(one for one in all_drills() if one.name == drill)
    found = choice(parse_thread(thread), named)
    assert found.hole_mm / INCH == pytest.approx(hole, abs=6e-5)
    assert found.place == place


@given(DRILLS, DRILLS)
def test_a_hole_is_never_under_its_drill_and_a_larger_drill_makes_a_larger_one(
    one: Drill, other: Drill
) -> None:
    small, large = sorted((one.diameter_mm, other.diameter_mm))
    holes = [probable_hole(size, mean_oversize(size)) for size in (small, large)]
    assert small < holes[0] < small + 0.0073 * INCH
    assert holes[0] <= holes[1]


@given(st.sampled_from(LIMITED), st.floats(0, 0.3), st.floats(0.5, 0.9))
def test_what_is_offered_is_inside_and_what_is_not_is_refused(
    thread: Thread, oversize: float, target: float
) -> None:
    limits = hole_limits(thread)
    assert limits is not None
    found = drills_inside(thread, target=target, oversize_mm=oversize)
    for each in found:
        assert each.hole_mm == pytest.approx(each.drill.diameter_mm + oversize)
        assert limits.smallest_mm - SLACK <= each.hole_mm <= limits.largest_mm + SLACK
        assert drill_refusal(thread, each.drill, oversize_mm=oversize) is None
    left_out = {one.drill.name for one in drills_for(thread, oversize_mm=oversize)}
    left_out -= {each.drill.name for each in found}
    assert all(
        drill_refusal(thread, one, oversize_mm=oversize)
        for one in all_drills()
        if one.name in left_out
    )


@given(st.sampled_from(LIMITED), st.floats(0.5, 0.9))
def test_no_drill_stands_behind_one_that_is_worse_in_nothing_but_name(
    thread: Thread, target: float
) -> None:
    """Of two drills the one that is better by everything a machinist asks comes first: nearer to
    the share, sure where the other is inside on average, of the thread's own system.
    """
    limits = hole_limits(thread)
    assert limits is not None

    def asked(one: Choice) -> tuple[bool, bool, bool, float]:
        near = one.largest_hole_mm <= limits.largest_mm + SLACK
        off = abs(one.drill_chart_thread - target)
        return one.inside, one.inside and near, one.drill.unit == thread.unit, -off

    every = [asked(one) for one in ranked(thread, limits, target=target)]
    for place, first in enumerate(every):
        for later in every[place + 1 :]:
            better = all(a >= b for a, b in zip(later, first, strict=True))
            assert not better or later == first
            assert first[0] >= later[0], "what is outside stands last"


@pytest.mark.parametrize(
    ("thread", "systems", "names"),
    [  # makes: 6.8 mm 6.902, 17/64 6.848, H 6.858, 6.7 mm 6.799 of 6.912 mm; cutting most, all of
        # them but 6.7 mm are over it
        ("M8", ("fraction", "number", "letter", "metric"), ["6.8 mm", "H", "17/64", "6.7 mm"]),
        ("5/16-24", ("fraction",), ["17/64"]),
        ("5/16-24", ("fraction", "number", "letter", "metric"), ["I", "6.9 mm", "6.8 mm", "H"]),
        # 10.3 mm leaves 69.6 %, 10.2 mm 74.0; what they cut at most is inside 10.441 mm with both
        ("3/8-16", ("fraction", "number", "letter", "metric"), ["5/16"]),
    ],
)
def test_the_threads_own_system_comes_first_among_drills_as_good(
    thread: str, systems: tuple[str, ...], names: list[str]
) -> None:
    found = drills_inside(parse_thread(thread), systems)
    assert [one.drill.name for one in found][: len(names)] == names


@given(st.sampled_from(LIMITED), DRILLS)
def test_a_reamer_leaves_what_its_own_size_does(thread: Thread, drill: Drill) -> None:
    found = choice(thread, drill, 0.0)
    assert found.hole_mm == drill.diameter_mm
    assert choice(thread, drill).drill_chart_thread < found.drill_chart_thread


def taken_and_charted() -> dict[str, tuple[str | None, str, str]]:
    """The drill taken for each thread of which a chart names one, the chart's, and the remark."""
    rows = {}
    for thread in all_threads(CHARTED):
        if not chart_drills(thread):
            continue
        systems = own_systems(thread)
        ours = next(iter(drills_inside(thread, systems)), None)
        remark = next(chart_remarks(thread, ours, systems))
        rows[thread.designation] = (ours and ours.drill.name, remark.drill.name, remark.remark)
    return rows


def test_the_drills_taken_are_those_of_the_charts_but_for_reasons() -> None:
    rows = taken_and_charted()
    apart = {name: row for name, row in rows.items() if row[0] != row[1]}
    agreed = len(rows) - len(apart)
    assert agreed >= 42, "of 64; 40 by nearness alone"
    assert {name for name in apart if name in APART} == {name for name in APART if name in rows}
    for name, (ours, charted, remark) in apart.items():
        reason = (
            OUT
            if "the hole is" in remark
            else NOT_OWNED
            if "is not on the stand" in remark
            else NEARER
        )
        assert APART.get(name, reason) == reason, (name, ours, charted, remark)
        assert remark != SAME
    assert all(remark == SAME for ours, charted, remark in rows.values() if ours == charted)


@pytest.mark.parametrize("thread", [one for one in all_threads(CHARTED) if chart_drills(one)])
def test_each_reason_holds(thread: Thread) -> None:
    systems = own_systems(thread)
    ours = next(iter(drills_inside(thread, systems)), None)
    for named in chart_remarks(thread, ours, systems):
        found = choice(thread, named.drill)
        if "the hole is" in named.remark:
            assert found.place in ("above", "below")
        elif "nearest to" in named.remark:
            assert ours is not None
            far = [abs(one.drill_chart_thread - share_wanted()) for one in (ours, found)]
            assert far[0] <= far[1]
        elif "on average alone" in named.remark:
            assert ours is not None
            most = thread.largest_minor_mm
            assert most is not None
            assert ours.largest_hole_mm <= most + SLACK < found.largest_hole_mm


def test_the_share_wanted_is_what_the_charts_drills_leave() -> None:
    # the mean of the drills that Machinery's Handbook and ISO 2306 name, coarse threads
    left = [
        choice(thread, chart_drills(thread)[0].drill).drill_chart_thread
        for thread in all_threads(("UNC", "metric coarse"))
        if chart_drills(thread)
    ]
    assert sum(left) / len(left) == pytest.approx(share_wanted(), abs=0.02)
