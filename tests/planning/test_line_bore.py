"""The line bore: worked figures, and what trying every line in the book itself finds.

Figures are geometry by hand, in mm; stock 0.010 as the spec leaves it.
"""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from datumbook.job import Job
from datumbook.planning import plan_lines
from datumbook.planning.words import LineBorePlan
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.workbook.evaluation import AsTyped
from long_runs import examples
from planned_blocks import NEVER, TUNNELS, layout, line_bored, planned, readings, tunnels

STOCK = 0.010


def line_bore(block: dict[str, object]) -> LineBorePlan:
    found = planned(block).line_bore
    assert found is not None
    return found


def cleans(block: dict[str, object], size: float, caps: float, rise: tuple[float, float]) -> bool:
    """Whether the book itself finds the stock all round every tunnel."""
    found = AsTyped(layout(), block | line_bored(size, caps, rise), {})
    each = [found[f"line_bored.{number}.least_all_round"] for number in TUNNELS]
    return all(isinstance(one, float) and one >= STOCK - 1e-9 for one in each)


WORN = tunnels([61.090, 61.095, 61.085], [61.040] * 3, (0.0, 0.020, 0.0))


def test_the_least_rise_is_the_one_worked_by_hand() -> None:
    found = line_bore(readings() | WORN | line_bored(61.070, 0.150))
    # front and rear clean from 0.020 on, the middle from 0.0425: the same at both ends
    assert found.sizes == {
        "finish size": 61.070,
        "caps": 0.150,
        "front": pytest.approx(0.043),
        "rear": pytest.approx(0.043),
    }
    binding = found.binding
    assert binding is not None
    assert binding.number == "2"
    assert binding.metals["saddle"] == pytest.approx(0.0105)
    assert found.lifts[""] == pytest.approx((0.043 / 25.4, 0.043 / 25.4), abs=1e-9)


def test_caps_and_size_left_blank_are_the_least_that_let_a_line_go() -> None:
    found = line_bore(readings() | WORN | line_bored())
    assert found.sizes is not None
    # 61.040 across and stock on either side; the middle saddle asks for a rise of 0.010 + 0.020 +
    # 0.0175 there; front and rear cap for 0.025 and 0.0225 over their rise: 0.00125 askew is least
    size, caps = 61.060, 0.0475 - 0.00125 + 0.025
    assert found.sizes["finish size"] == pytest.approx(size)
    assert sum((found.sizes["front"], found.sizes["rear"])) / 2 == pytest.approx(0.0475)
    assert caps <= found.sizes["caps"] + 1e-9 <= caps + 1e-3
    rise = (found.sizes["front"], found.sizes["rear"])
    assert cleans(readings() | WORN, size, found.sizes["caps"], rise)
    assert not cleans(readings() | WORN, size, found.sizes["caps"] - 0.002, rise)


def test_a_line_may_rise_more_at_one_end() -> None:
    worn = tunnels([61.050, 61.065, 61.120], [61.040] * 3, (0.0, -0.045, 0.0))
    block = readings() | worn | line_bored(61.070, 0.075)
    room = AsTyped(layout(), block, {})["line_bore.lift_room"]
    assert isinstance(room, float)
    assert room < 0  # none that is the same all along
    found = line_bore(block)
    assert found.sizes is not None
    # the rear saddle asks for 0.010 + 0.025; the middle cap lets 0.0225 pass, half of both ends
    assert found.sizes["rear"] == pytest.approx(0.035)
    assert found.sizes["front"] <= 0.010 + 1e-9
    assert cleans(block, 61.070, 0.075, (found.sizes["front"], found.sizes["rear"]))


def test_metal_off_the_saddle_alone_at_equal_sizes_is_impossible_and_said() -> None:
    typed = line_bored(61.060, 0.0, (0.010, 0.010))
    plan = planned(readings() | tunnels([61.060] * 3) | typed)
    assert plan.line_bore is not None
    assert plan.line_bore.sizes is None
    names = {one.name.partition(", ")[2] for one in plan.line_bore.conflict}
    assert names & {"saddle", "cap", "sides"}
    (said,) = [one for one in plan.judged if one.intention.startswith("Your line bore")]
    assert said.sentences[0].startswith("tunnel 1, least metal found would be -0.010 mm")


def test_a_slant_without_metal_keeps_the_line_nearer() -> None:
    """A centre 0.010 aside and 0.020 low: upright a line 0.0125 - 0.010 over it would do, on the
    slant it must be as near as the root of 0.0125² - 0.010².
    """
    low = tunnels([61.030] * 3, [61.010] * 3, (0.0, 0.020, 0.0), (0.0, 0.010, 0.0))
    found = line_bore(readings() | low | line_bored(61.075, 0.02))
    assert found.sizes is not None
    least = 0.020 - (0.0125**2 - 0.010**2) ** 0.5
    assert found.sizes["front"] + found.sizes["rear"] == pytest.approx(2 * least, abs=2e-3)
    rise = (found.sizes["front"], found.sizes["rear"])
    assert cleans(readings() | low, 61.075, 0.02, rise)
    assert not cleans(readings() | low, 61.075, 0.02, (rise[0] - 0.001, rise[1] - 0.001))


worn = st.tuples(
    st.lists(st.integers(-4, 8), min_size=3, max_size=3),
    st.integers(-4, 4),
    st.integers(-3, 3),
    st.integers(0, 12),
)


@settings(max_examples=examples(8), deadline=None)
@given(worn)
def test_no_line_in_the_book_itself_rises_less(case: tuple[list[int], int, int, int]) -> None:
    """All in 0.005 mm, which is the grid of the lines tried."""
    sizes, centre, aside, caps = case
    block = readings() | tunnels(
        [61.060 + 0.005 * one for one in sizes],
        [61.035] * 3,
        (0.0, 0.005 * centre, 0.0),
        (0.0, 0.005 * aside, 0.0),
    )
    found = line_bore(block | line_bored(61.075, 0.005 * caps))
    grid = [0.005 * step for step in range(-8, 13)]
    lines = [
        (front, rear)
        for front, rear in product(grid, repeat=2)
        if abs(front - rear) < 0.03 and cleans(block, 61.075, 0.005 * caps, (front, rear))
    ]
    if found.sizes is None:
        assert not lines
    else:
        rise = (found.sizes["front"], found.sizes["rear"])
        assert cleans(block, 61.075, 0.005 * caps, rise)
        least = min((max(map(abs, line)) for line in lines), default=None)
        assert least is None or max(map(abs, rise)) <= least + 1e-3


def test_tunnels_within_their_limits_ask_for_no_line_bore() -> None:
    found = line_bore(readings(line_bore__line_bored=None))
    assert (found.asked_by, found.sizes, found.conflict) == ((), None, ())


def test_a_tunnel_out_of_size_asks_for_a_line_bore_by_name() -> None:
    block = readings(line_bore__line_bored=None) | tunnels([61.060, 61.155, 61.060], [61.040] * 3)
    found = line_bore(block)
    assert any(one.startswith("Tunnel 2, ") for one in found.asked_by)
    assert found.sizes is not None
    assert found.sizes["finish size"] == pytest.approx(61.060)
    # the middle saddle asks for 0.010 + 0.0475 of lift, its cap for 0.010 + 0.0475 more
    assert found.sizes["front"] == pytest.approx(0.0575, abs=6e-4)
    assert found.sizes["caps"] == pytest.approx(0.115, abs=1.1e-3)


def test_caps_too_low_already_forbid_what_the_tunnels_ask() -> None:
    block = readings(caps__3__height=47.65) | tunnels([61.060, 61.155, 61.060], [61.040] * 3)
    names = {one.name for one in line_bore(block | line_bored(61.060)).conflict}
    assert "Height of cap 3" in names
    assert names - {"Height of cap 3"} <= {"Tunnel 2, saddle", "Tunnel 2, cap"}


def test_a_cut_off_the_caps_called_possible_keeps_its_budget() -> None:
    block = readings(instruments__tunnels__uncertainty=None)
    block |= tunnels([61.060, 61.155, 61.060], [61.040] * 3)
    sizes = line_bore(block | line_bored()).sizes
    assert sizes is not None
    typed = line_bored(sizes["finish size"], sizes["caps"], (sizes["front"], sizes["rear"]))
    found = AsTyped(layout("0.01 mm"), block | typed, {})
    assert found["budget.cap_height.to_spare.verdict"] == "OK"
    # just the stock, and the bar may be off by a hundredth
    assert found["line_bored.2.least_metal"] == pytest.approx(0.010, abs=1e-9)
    assert found["line_bored.2.least_metal.verdict"] == "UNSURE"


def test_a_bar_off_sideways_makes_the_sides_unsure() -> None:
    """The sides, too wide to stay, find 0.015 on the radius; by hand, halfway between two
    ends that may each be off by 0.05 the bar may be off by 0.05 over the root of two.
    """
    block = readings(instruments__tunnels__uncertainty=None, instruments__tunnels__setting=None)
    block |= tunnels([61.090] * 3, [61.080] * 3) | line_bored(61.110, 0.15, (0.05, 0.05))
    for off, verdict, doubts in (
        (NEVER, "OK", (0.0, 0.0)),
        ("0.05 mm", "UNSURE", (0.05, 0.05 / 2**0.5)),
    ):
        found = AsTyped(layout(off), block, {})
        for number, doubt in zip(("1", "2"), doubts, strict=True):
            metal = f"line_bored.{number}.least_metal"
            assert found[metal] == pytest.approx(0.015, abs=1e-9)
            assert found[f"{metal}.verdict"] == verdict
            assert found[f"release.{metal}.uncertainty"] == pytest.approx(doubt, abs=1e-9)


def test_a_slant_carries_the_bar_both_ways() -> None:
    """0.006 away upright and 0.008 aside: 0.010 on the slant, which the bar moves along itself as
    much whichever way the slant goes: by 0.05 over the root of two in the middle.
    """
    block = readings(instruments__tunnels__uncertainty=None, instruments__tunnels__setting=None)
    block |= tunnels([61.030] * 3, [61.000] * 3, (0.0, 0.016, 0.0), (0.0, 0.008, 0.0))
    block |= line_bored(61.070, 0.10, (0.010, 0.010))
    found = AsTyped(layout("0.05 mm"), block, {})
    assert found["line_bored.2.saddle_slant"] == pytest.approx(0.010, abs=1e-9)
    assert found["line_bored.2.least_metal"] == pytest.approx(0.010, abs=1e-9)
    assert found["release.line_bored.2.least_metal.uncertainty"] == pytest.approx(
        0.05 / 2**0.5, rel=1e-6
    )


def test_a_spec_without_a_line_of_the_tunnels_says_what_it_does_not_see() -> None:
    said = "nothing is known of a tunnel that lies off it"
    shipped = lay_out(load_spec(shipped_specs()["orrindale_qp4"]), Job("x"))
    for book, notes in ((shipped, 2), (layout(), 0)):
        boring = book.stations.cuts.line_boring
        assert boring.form
        assert boring.each
        assert [said in one.note for one in (boring.form, boring.each)].count(True) == notes


def test_a_line_bore_that_brings_crank_and_cam_too_near_is_forbidden_by_name() -> None:
    block = readings() | tunnels([61.060, 61.200, 61.060], [61.040] * 3, (0.0, 0.150, 0.0))
    conflict = line_bore(block | line_bored(61.060, 0.39)).conflict  # 0.230 of rise asked for
    assert {one.name for one in conflict} == {
        "Tunnel 2, saddle",
        "Crank to cam after the line bore",
    }


def test_what_follows_is_reckoned_after_the_rise_proposed() -> None:
    block = readings() | WORN
    still = planned(block).faces[""].crowns
    lifted = planned(block | line_bored(61.070, 0.150)).faces[""].crowns
    for one, other in zip(still, lifted, strict=True):
        assert one.room - other.room == pytest.approx(0.043 / 25.4, abs=1e-9)


GROWN = tunnels([61.086, 61.101, 61.088], [61.066, 61.062, 61.064])


def test_sides_in_size_that_the_cutter_misses_stay_as_they_are() -> None:
    """Caps cut and bored to 61.062 with sides up to 61.066: within 61.050 to 61.075 they stand back
    by 0.002 at most. Common practice, no source.
    """
    block = readings() | GROWN | line_bored(61.062, 0.100, (0.05, 0.05))
    found = line_bore(block)
    assert not found.conflict
    assert {one.number for one in found.untouched} == set(TUNNELS)
    assert "sides stay as they are in tunnel 1, 2, 3" in "\n".join(plan_lines(planned(block)))
    values = AsTyped(layout(), block, {})
    assert {values[f"line_bored.{one}.least_metal.verdict"] for one in TUNNELS} == {"OK"}


def test_sides_too_wide_forbid_and_no_cap_is_said_to_help() -> None:
    wide = tunnels([61.086, 61.101, 61.088], [61.078, 61.062, 61.064])
    block = readings() | wide | line_bored(61.062, 0.100, (0.05, 0.05))
    values = AsTyped(layout(), block, {})
    assert values["line_bored.1.least_metal.verdict"] == "OUT"
    said = "\n".join(plan_lines(planned(block)))
    assert "No line goes: the sides forbid it, and no cut off the caps moves a side." in said
    assert "more off the caps" not in said


def test_a_step_at_the_joint_deeper_than_out_of_round_allows_forbids() -> None:
    """Bored to 61.050 beside 61.072: 0.022, where a tunnel may be 0.020 out of round."""
    stepped = tunnels([61.086, 61.101, 61.088], [61.072, 61.062, 61.064])
    sure = dict.fromkeys(("instruments.tunnels.uncertainty", "instruments.tunnels.setting"))
    block = readings() | sure | stepped | line_bored(61.050, 0.150, (0.06, 0.06))
    values = AsTyped(layout(), block, {})
    assert values["line_bored.1.least_metal.verdict"] == "OUT"
    assert values["line_bored.2.least_metal.verdict"] == "OK"
    assert line_bore(block).forbidden_by_sides
