from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from datumbook.equations import bores, heights
from datumbook.equations.verdicts import OK
from datumbook.formulas.functions import at_least, at_most
from datumbook.plan import NoBook, plan
from datumbook.plan.words import Deck
from datumbook.validator import validate
from datumbook.workbook.evaluation import reckon
from datumbook.writer import write
from long_runs import examples
from planned_blocks import corners, layout, planned, readings

STACK = 3.740 / 2 + 7.010 + 1.810  # in, from the spec
CYLINDERS = ("1", "2", "3", "4")
CLEARANCE, OVERALL = (0.000, 0.020), 14.222  # in, from the spec


def needs_cleaning(tenths: list[int]) -> bool:
    """Whether a deck is out of its 0.002 in of tilt or twist, in whole tenths of a thousandth:
    exact.
    """
    front_left, front_right, rear_left, rear_right = tenths
    sides = (
        rear_left + rear_right - front_left - front_right,
        front_left + rear_left - front_right - rear_right,
        front_left + rear_right - front_right - rear_left,
    )
    return any(abs(side) > 2 * 20 for side in sides)


uneven = st.lists(st.integers(0, 12).map(lambda step: 5 * step), min_size=4, max_size=4)
case = st.tuples(
    uneven,
    st.sampled_from([-120, -70, -45, 0, 150]),
    st.sampled_from([0, 20, -10]),
    st.integers(0, 80),
)


def block_of(tenths: list[int], lift: int, shift: int, spare: int) -> dict[str, object]:
    """A block by its deck corners over 10.695 in, the axis' move and what overall height has to
    spare, all in tenths.
    """
    lowest = OVERALL + spare / 10000
    block = readings() | corners("deck", *[10.695 + (lift + each) / 10000 for each in tenths])
    block |= corners("overall", lowest, lowest + 0.002, lowest, lowest + 0.001)
    return block | {
        "plan.crown_metal": max(shift, 0) / 10000,
        "plan.tunnel_after": 2.404 + max(-shift, 0) * 2 / 10000,
    }


@settings(max_examples=examples(40), deadline=None)
@given(case)
def test_the_least_cut_is_the_closed_form_and_what_trying_every_cut_finds(
    case: tuple[list[int], int, int, int],
) -> None:
    tenths, lift, shift, spare = case
    found = planned(block_of(*case)).faces

    deck = [10.695 + (lift + each) / 10000 for each in tenths]
    before, lowest = min(deck) - shift / 10000 - STACK, OVERALL + spare / 10000
    closed = max(
        0.0, before - CLEARANCE[1]
    )  # geometry: the lowest corner, less cut and move, over the piston stack
    allowed = at_most(closed, before - CLEARANCE[0]) and at_most(closed, lowest - OVERALL)
    assert found.sizes == (
        pytest.approx({"deck": closed, "bottom": 0.0}, abs=1e-9) if allowed else None
    )

    step = 0.000125  # a quarter of what the readings are rounded to
    tried = [
        number * step
        for number in range(400)
        if keeps_all(number * step, deck, lowest, shift / 10000)
    ]
    assert (found.sizes is None) == (not tried)
    if found.sizes is not None:
        assert found.sizes["deck"] == pytest.approx(tried[0], abs=1e-9)


def keeps_all(cut: float, deck: list[float], lowest: float, shift: float) -> bool:
    """Every limit by the equations of the sheet."""
    after = heights.deck_height_after(heights.lowest_corner(*deck), cut, shift)
    clearance = heights.deck_clearance(after, STACK)
    overall = heights.overall_height_after(lowest, cut, 0.0)
    return (
        at_least(clearance, CLEARANCE[0])
        and at_most(clearance, CLEARANCE[1])
        and at_least(overall, OVERALL)
    )


@settings(max_examples=examples(30), deadline=None)
@given(case)
def test_the_cuts_typed_into_the_sheet_pass_its_own_checks(
    case: tuple[list[int], int, int, int],
) -> None:
    sizes = planned(block_of(*case)).faces.sizes
    if sizes is not None:
        found = reckon(
            layout(), block_of(*case) | {f"plan.{cut}_cut": size for cut, size in sizes.items()}
        )
        assert (
            found["plan.deck_clearance_after.verdict"],
            found["plan.overall_after.verdict"],
        ) == (OK, OK)
        deck = min(10.695 + (case[1] + each) / 10000 for each in case[0])
        assert found["plan.deck_after"] == pytest.approx(deck - sizes["deck"] - case[2] / 10000)


@settings(max_examples=examples(30), deadline=None)
@given(case)
def test_what_may_still_come_off_is_what_the_ledger_says(
    case: tuple[list[int], int, int, int],
) -> None:
    block, shift = block_of(*case), case[2] / 10000
    ledger = reckon(layout(), block)
    least = {
        one.name.partition(" with")[0]: one
        for one in planned(block).faces.limits
        if one.end == "low"
    }
    clearance, overall = least["Deck clearance"], least["Overall height, lowest corner"]
    assert clearance.before + shift - clearance.bound == pytest.approx(
        ledger["ledger.deck_removable"], abs=1e-9
    )
    assert overall.before - overall.bound == pytest.approx(
        ledger["ledger.overall_removable"], abs=1e-9
    )


@settings(max_examples=examples(30), deadline=None)
@given(case)
def test_a_deck_cleans_off_its_lowest_corner_and_wants_it_where_it_leans(
    case: tuple[list[int], int, int, int],
) -> None:
    deck, tenths = planned(block_of(*case)).decks["deck"], case[0]
    assert deck is not None
    assert deck.spread == pytest.approx((max(tenths) - min(tenths)) / 10000, abs=1e-9)
    assert deck.true == (not needs_cleaning(tenths))


def test_a_true_deck_wants_no_cut() -> None:
    faces = planned(readings()).faces
    assert faces.sizes == {"deck": 0.0, "bottom": 0.0}
    assert faces.binding == ()


def test_a_tilted_deck_is_cut_to_its_lowest_corner() -> None:
    found = planned(readings() | corners("deck", 10.695, 10.695, 10.700, 10.6995))
    assert found.faces.sizes == {"deck": 0.0, "bottom": 0.0}
    assert found.decks["deck"] == Deck(0.005, true=False)


def test_a_deck_too_near_its_limit_of_tilt_to_tell_wants_the_cut_as_well() -> None:
    block = readings(instruments__heights__uncertainty=0.0004) | corners(
        "deck", 10.695, 10.695, 10.6969, 10.6969
    )
    assert reckon(layout(), block)["deck.tilt_lengthwise.verdict"] == "UNSURE"
    assert planned(block).decks["deck"] == Deck(0.0019, true=False)


def test_a_deck_too_high_is_cut_to_the_greatest_clearance() -> None:
    faces = planned(readings() | corners("deck", *[10.7135] * 4)).faces
    assert faces.sizes == {"deck": 0.0035, "bottom": 0.0}
    assert [(one.name, one.bound) for one in faces.binding] == [("Deck clearance", 0.020)]


def test_the_limits_that_forbid_a_plan_are_named_and_no_others() -> None:
    block = (
        readings() | corners("deck", *[10.7135] * 4) | corners("overall", *[14.2240] * 4)
    )  # 0.0035 asked, 0.0020 there
    assert [(one.name, one.end) for one in planned(block).faces.conflict] == [
        ("Deck clearance", "high"),
        ("Overall height, lowest corner", "low"),
    ]


def test_an_axis_lifted_too_far_leaves_no_clearance_by_itself() -> None:
    faces = planned(readings(plan__crown_metal=0.006)).faces
    (alone,) = faces.conflict
    assert alone.name == "Deck clearance with the axis moved"
    assert alone.before == pytest.approx(-0.001, abs=1e-9)


def test_axis_to_bottom_is_restored_by_as_much_as_the_axis_moves() -> None:
    restored = planned(readings(plan__crown_metal=0.003)).restored
    assert restored is not None
    assert restored.sizes == {"deck": 0.0, "bottom": 0.003}


def test_restoring_axis_to_bottom_can_be_forbidden_by_overall_height() -> None:
    restored = planned(
        readings(plan__crown_metal=0.003) | corners("overall", *[14.2240] * 4)
    ).restored
    assert restored is not None
    assert {one.name for one in restored.conflict} == {
        "Overall height, lowest corner",
        "Off the bottom face",
    }


@pytest.mark.parametrize("after", [2.404, 2.406], ids=["stays", "moves away"])
def test_an_axis_that_does_not_come_nearer_has_nothing_to_restore(after: float) -> None:
    assert planned(readings(plan__tunnel_after=after)).restored is None


def test_without_the_line_bore_the_axis_stays() -> None:
    found = planned(readings(plan__crown_metal=None))
    assert found.axis_shift is None
    assert found.faces.sizes == planned(readings()).faces.sizes


def test_the_size_for_all_bores_is_the_first_that_cleans_the_worst() -> None:
    block = readings(bore__2__unworn_lip=82.0, bores__2__top__thrust=82.17)
    found = planned(block).bores
    worst = bores.clean_up_size(unworn_lip=82.0, largest_size=82.17, clean_up_stock=0.06)
    assert found.bores[1].clean_up == pytest.approx(worst)
    first = bores.next_oversize(worst, 82.0, 0.25, 0.5, 0.75, 1.0)
    assert {one.size for one in found.bores} == {first} == {82.5}
    assert (found.stock, found.forbidden, found.unclean) == (0.06, (), ())


def test_the_size_typed_is_the_one_planned_and_not_the_one_suggested() -> None:
    block = readings(bore__2__unworn_lip=82.0, bores__2__top__thrust=82.17)
    found = planned(block | {f"bore_plan.{one}.typed_bore": 83.0 for one in CYLINDERS}).bores
    suggested = planned(block).bores
    assert {one.size for one in found.bores} == {83.0} != {one.size for one in suggested.bores}
    for land, narrower in zip(suggested.lands, found.lands, strict=True):
        assert land.left is not None
        assert narrower.left == pytest.approx(land.left - 0.5)  # two halves of 83.0 - 82.5


def test_a_bore_typed_smaller_than_it_cleans_at_is_named() -> None:
    block = readings(bore__2__unworn_lip=82.0, bores__2__top__thrust=82.17)
    found = planned(block | {"bore_plan.2.typed_bore": 82.25}).bores
    assert [one.size for one in found.bores] == [82.5, 82.25, 82.5, 82.5]
    assert [one.name for one in found.unclean] == ["Cylinder 2"]


def test_the_land_left_at_that_size_is_held_against_its_limit() -> None:
    block = readings(
        bores__1__top__axial=82.0,
        bores__2__top__axial=82.0,
        lands__1_2__width=6.1,
        bore_plan__1__typed_offset=0.0,
        bore_plan__2__typed_offset=0.0,
    )
    land = planned(block).bores.lands[0]
    assert land.left == pytest.approx(6.1 - 0.25 - 2 * 0.5)  # geometry
    assert (land.least, land.verdict) == (5.0, "OUT")


def test_a_bore_worn_beyond_the_largest_oversize_is_named() -> None:
    found = planned(readings(bore__3__unworn_lip=82.0, bores__3__middle__axial=82.6)).bores
    assert {one.size for one in found.bores} == {None}
    assert found.lands == ()
    assert [one.name for one in found.forbidden] == ["Cylinder 3"]


def test_missing_readings_are_named_and_the_rest_is_reckoned() -> None:
    found = planned(readings(corners__rear_left__overall=None, bore__3__unworn_lip=None))
    assert {one.name: one.readings for one in found.unknown} == {
        "Overall height after the cuts": (layout().places["corners.rear_left.overall"].label,),
        "Size that cleans cylinder 3": (layout().places["bore.3.unworn_lip"].label,),
    }
    assert found.faces.sizes == {"deck": 0.0, "bottom": 0.0}
    assert [one.clean_up is None for one in found.bores.bores] == [False, False, True, False]


def test_a_plan_from_a_file_is_the_plan_from_its_readings(tmp_path: Path) -> None:
    block = readings() | corners("deck", 10.695, 10.695, 10.700, 10.6995)
    write(layout(), tmp_path / "block.xlsx", block)
    assert plan(validate(tmp_path / "block.xlsx")) == planned(block)


def test_a_file_that_is_no_book_is_refused_in_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "notes.xlsx").write_text("no workbook")
    with pytest.raises(NoBook, match=r"notes\.xlsx cannot be used here\. .+"):
        plan(validate(tmp_path / "notes.xlsx"))


# what the tunnels and the walls leave room for


def row_of(lands: list[int], walls: list[int], size: int) -> dict[str, object]:
    """A block whose lands are off by so many hundredths, its end-on walls so many above 3.4 mm;
    which oversize it takes.
    """
    block = readings(instruments__lands__uncertainty=None, instruments__walls__uncertainty=None)
    block["instruments.bores.uncertainty"] = None
    keys = [
        "lands.front_end.width",
        "lands.1_2.width",
        "lands.2_3.width",
        "lands.3_4.width",
        "lands.rear_end.width",
    ]
    drawn = [15.0, 10.0, 16.0, 10.0, 15.0]
    block |= {key: width + off / 100 for key, width, off in zip(keys, drawn, lands, strict=True)}
    for cylinder in CYLINDERS:
        for depth in ("top", "middle", "bottom"):
            block |= {f"bores.{cylinder}.{depth}.{axis}": 82.0 for axis in ("thrust", "axial")}
        block |= {f"bore_plan.{cylinder}.typed_bore": 82.0 + size / 4}
        for at, place in enumerate(("front", "rear")):
            thick = 3.4 + walls[2 * (int(cylinder) - 1) + at] / 100
            block |= {
                f"walls.{cylinder}.{height}.at_{place}": thick for height in ("upper", "lower")
            }
    return block


rows = st.builds(
    row_of,
    st.lists(st.integers(-12, 12), min_size=5, max_size=5),
    st.lists(st.integers(0, 45), min_size=8, max_size=8),
    st.integers(1, 2),
)


@settings(max_examples=examples(25), deadline=None)
@given(rows)
def test_no_set_over_called_possible_breaks_a_limit_once_it_is_typed(
    block: dict[str, object],
) -> None:
    row = planned(block).set_overs[""]
    offsets = row.rounded(2)
    keys = [
        f"wall.{cylinder}.left_{side}" for cylinder in CYLINDERS for side in ("thrust", "elsewhere")
    ]
    keys += [f"lands.{land}.clamping_land" for land in ("1_2", "2_3", "3_4")]
    if offsets is not None:
        found = reckon(
            layout(),
            block
            | {f"bore_plan.{cylinder}.typed_offset": size for cylinder, size in offsets.items()},
        )
        assert {found[f"{key}.verdict"] for key in keys} == {OK}
        ends = [
            found[f"budget.{resource}.to_spare.verdict"]
            for resource in ("clamping_land", "wall_thrust", "wall_elsewhere")
        ]
        assert ends == [OK] * 3
    else:
        assert row.conflict
        suggested = reckon(layout(), block)
        assert "OUT" in {suggested[f"{key}.verdict"] for key in keys}


@settings(max_examples=examples(25), deadline=None)
@given(rows)
def test_where_the_sheets_suggestion_keeps_every_limit_it_is_the_answer(
    block: dict[str, object],
) -> None:
    found, row = reckon(layout(), block), planned(block).set_overs[""]
    suggested = {
        cylinder: found[f"bore_plan.{cylinder}.suggested_offset"] for cylinder in CYLINDERS
    }
    if all(one.margin(suggested) >= 0 for one in row.limits):  # type: ignore[arg-type]
        assert row.sizes == pytest.approx(suggested, abs=1e-7)


def test_walls_that_are_too_thin_at_both_ends_forbid_and_are_named() -> None:
    row = planned(row_of([0] * 5, [0, 0, *[45] * 6], 2)).set_overs[""]
    assert row.sizes is None
    assert {one.name for one in row.conflict} <= {
        "Wall of cylinder 1, 12 o'clock, front",
        "Wall of cylinder 1, 6 o'clock, rear",
    }


def test_a_tunnel_upright_too_large_asks_for_as_much_off_the_caps() -> None:
    tunnels = planned(readings(tunnels__2__front__vertical=61.155)).tunnels
    assert tunnels is not None
    assert tunnels.sizes == pytest.approx({"caps": 61.155 - 61.075}, abs=1e-9)
    assert [one.name for one in tunnels.binding] == ["Tunnel 2, upright"]


def test_caps_too_low_already_forbid_what_the_tunnels_ask() -> None:
    tunnels = planned(readings(tunnels__2__front__vertical=61.155, caps__3__height=47.65)).tunnels
    assert tunnels is not None
    assert {one.name for one in tunnels.conflict} == {"Tunnel 2, upright", "Height of cap 3"}


def test_a_cut_off_the_caps_called_possible_keeps_its_budget() -> None:
    block = readings(tunnels__2__front__vertical=61.155) | {"instruments.tunnels.uncertainty": None}
    tunnels = planned(block).tunnels
    assert tunnels is not None
    assert tunnels.sizes is not None
    cut = tunnels.sizes["caps"] / 25.4
    assert (
        reckon(layout(), block | {"plan.cap_cut": cut})["budget.cap_height.to_spare.verdict"] == OK
    )


def test_a_line_bore_that_brings_crank_and_cam_too_near_is_forbidden_by_name() -> None:
    tunnels = planned(readings(plan__crown_metal=0.012)).tunnels
    assert tunnels is not None
    assert [one.name for one in tunnels.conflict] == [
        "Crank to cam after the line bore of the plan sheet"
    ]
