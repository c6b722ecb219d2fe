"""Bores, lands, walls and the set-over of the bar, and the plan as a whole; faces, line bore and
intentions have a file each beside this one.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from as_asked import values_of
from datumbook.equations import bores
from datumbook.equations.verdicts import OK
from datumbook.optimise.least_set_over import across_of
from datumbook.planning import NoBook, plan, plan_lines
from datumbook.validator import validate
from datumbook.writer import write
from long_runs import examples
from planned_blocks import CYLINDERS, heights, layout, planned, readings


def test_the_size_for_all_bores_is_the_first_that_cleans_the_worst() -> None:
    block = readings(bore__2__unworn_lip=82.0, bores__2__top__thrust=82.17)
    found = planned(block).bores
    worst = bores.clean_up_size(unworn_lip=82.0, largest_size=82.17, clean_up_stock=0.06)
    assert found.bores[1].own_axis == pytest.approx(worst)
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
    (said,) = planned(block | {"bore_plan.2.typed_bore": 82.25, "route.bore.done": None}).forbidden
    assert said.startswith("DO NOT BORE cylinder 2: clean-up size of cylinder 2 would be 82.400 mm")


def test_no_set_over_suggested_asks_for_more_than_the_wear_does() -> None:
    """The least metal comes first: the bar goes as far over as the bore stays clean; typed farther,
    it takes a larger size, or is forbidden where that is typed as well.
    """
    block = readings(bore__2__unworn_lip=82.0, bores__2__top__thrust=82.17, lands__1_2__width=8.7)
    block |= {"lands.2_3.width": 14.3}
    held = planned(block).bores
    bore = held.bores[1]
    assert bore.offset
    assert bore.clean_up == pytest.approx(82.40 + 2 * abs(bore.offset))
    assert {one.size for one in held.bores} == {82.5}
    assert held.unclean == ()
    over = block | {"bore_plan.2.typed_offset": 0.1, "route.bore.done": None}
    assert {one.size for one in planned(over).bores.bores} == {82.75}
    assert planned(over).forbidden == ()
    (said,) = planned(over | {"bore_plan.2.typed_bore": 82.5}).forbidden
    assert "clean-up size of cylinder 2 would be 82.600 mm, not more than 82.500 mm" in said
    text = "\n".join(plan_lines(planned(over)))
    assert "82.600 mm with the bar set over 0.10 mm to the rear as typed" in text


def test_a_cylinder_not_bored_is_asked_for_nothing() -> None:
    block = readings(bore__2__unworn_lip=82.0, bores__2__top__thrust=82.17)
    smallest = min(
        float(str(size)) for key, size in block.items() if key.startswith("bores.2.") and size
    )
    as_it_is = planned(block | {"bore_plan.2.typed_bore": smallest}).bores
    assert as_it_is.unclean == ()


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
    wanted = {one.name: one.readings for one in found.unknown}
    unworn, overall = (
        layout().places[key].label for key in ("bore.3.unworn_lip", "corners.rear_left.overall")
    )
    assert wanted["Size that cleans cylinder 3"] == (unworn,)
    assert wanted["Bottom face parallel to the crank line"] == (overall,)
    assert {one for each in wanted.values() for one in each} == {unworn, overall}
    assert found.faces[""].sizes is None
    assert [one.clean_up is None for one in found.bores.bores] == [False, False, True, False]


def test_what_may_still_come_off_a_level_block_is_what_the_ledger_says() -> None:
    block = readings() | heights([10.6978] * 4, [14.2301] * 4)
    ledger, chosen = values_of(layout(), block), planned(block).faces[""].tried
    cut = next(one for one in chosen if [way.cuts for way in one.ways] == [False, True])
    room = {one.name: one.before - one.bound for one in cut.held if one.end == "low"}
    assert room["Crown of cylinder 2"] == pytest.approx(ledger["ledger.deck_removable"], abs=1e-9)
    assert room["Overall height at the rear left corner"] == pytest.approx(
        ledger["ledger.overall_removable"], abs=1e-9
    )


def test_a_plan_from_a_file_is_the_plan_from_its_readings(tmp_path: Path) -> None:
    block = readings() | heights([10.695, 10.695, 10.700, 10.6995], [14.250] * 4)
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
    sizes = row.rounded(2)
    keys = [
        f"wall.{cylinder}.left_{side}" for cylinder in CYLINDERS for side in ("thrust", "elsewhere")
    ]
    keys += [f"lands.{land}.clamping_land" for land in ("1_2", "2_3", "3_4")]
    if sizes is not None:
        typed = {f"bore_plan.{one}.typed_offset": sizes[one] for one in CYLINDERS}
        typed |= {f"bore_plan.{one}.typed_across": sizes[across_of(one)] for one in CYLINDERS}
        found = values_of(layout(), block | typed)
        assert {found[f"{key}.verdict"] for key in keys} == {OK}
        ends = [
            found[f"budget.{resource}.to_spare.verdict"]
            for resource in ("clamping_land", "wall_thrust", "wall_elsewhere")
        ]
        assert ends == [OK] * 3
    else:
        assert row.conflict
        suggested = values_of(layout(), block)
        assert "OUT" in {suggested[f"{key}.verdict"] for key in keys}


@settings(max_examples=examples(25), deadline=None)
@given(rows)
def test_where_the_sheets_suggestion_keeps_every_limit_it_is_the_answer(
    block: dict[str, object],
) -> None:
    found, row = values_of(layout(), block), planned(block).set_overs[""]
    suggested = {
        cylinder: found[f"bore_plan.{cylinder}.suggested_offset"] for cylinder in CYLINDERS
    }
    moves = suggested | dict.fromkeys(map(across_of, CYLINDERS), 0.0)
    if all(one.margin(moves) >= 0 for one in row.limits):  # type: ignore[arg-type]
        assert row.sizes == pytest.approx(moves, abs=1e-7)


def test_walls_that_are_too_thin_at_both_ends_forbid_and_are_named() -> None:
    row = planned(row_of([0] * 5, [0, 0, *[45] * 6], 2)).set_overs[""]
    assert row.sizes is None
    assert {one.name for one in row.conflict} <= {
        "Wall of cylinder 1, 12 o'clock, front",
        "Wall of cylinder 1, 6 o'clock, rear",
    }


def thin(**walls: float) -> dict[str, object]:
    """A row with walls of 4.5 mm all round cylinder 2, but for those named; bored to 82.50."""
    block = row_of([0] * 5, [45] * 8, 2)
    for place in ("front", "right", "rear", "left"):
        for height in ("upper", "lower"):
            block[f"walls.2.{height}.at_{place}"] = walls.get(place, 4.5)
    return block


def test_a_thin_thrust_wall_is_saved_by_moving_the_bar_across() -> None:
    """4.5 less 0.25 leaves room for 0.45 on the left, where 3.8 is the least; 3.95 on the right
    asks for 0.1.
    """
    block = thin(right=3.95)
    assert values_of(layout(), block)["wall.2.left_thrust.verdict"] == "OUT"
    row = planned(block).set_overs[""]
    assert row.sizes is not None
    moved = {word: size for word, size in row.sizes.items() if abs(size) > 1e-9}
    assert moved == {across_of("2"): pytest.approx(0.1)}
    assert "Wall of cylinder 2, 3 o'clock, right" in {one.name for one in row.binding}
    assert "2 0.10 mm to the left" in "\n".join(plan_lines(planned(block)))
    saved = values_of(layout(), block | {"bore_plan.2.typed_across": 0.1})
    assert saved["wall.2.left_thrust.verdict"] == OK


def test_walls_too_thin_on_both_thrust_sides_go_nowhere_and_are_named() -> None:
    row = planned(thin(right=3.95, left=4.025)).set_overs[""]
    assert row.sizes is None
    assert {one.name for one in row.conflict} == {
        "Wall of cylinder 2, 3 o'clock, right",
        "Wall of cylinder 2, 9 o'clock, left",
    }
    assert "nowhere, along the row or across it" in "\n".join(
        plan_lines(planned(thin(right=3.95, left=4.025)))
    )


def test_what_is_typed_across_is_counted_back_before_the_answer() -> None:
    typed = planned(thin(right=3.95) | {"bore_plan.2.typed_across": 0.25}).set_overs[""]
    blank = planned(thin(right=3.95)).set_overs[""]
    assert blank.sizes is not None
    assert typed.sizes == pytest.approx(blank.sizes, abs=1e-9)
