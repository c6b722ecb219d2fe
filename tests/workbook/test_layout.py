"""The layout of the shipped spec: every key its cell, every formula within the rules, every wanted
reading wanted.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from datumbook.cells.columns import Reading
from datumbook.cells.handles import DeclarationError
from datumbook.formulas.tree import cells
from datumbook.job import Job
from datumbook.spec import Spec, load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place
from file_limits import DEFINED_NAME, reads_as_cell, repeated
from formula_limits import formula_faults

SPEC = shipped_specs()["orrindale_qp4"]


@cache
def spec() -> Spec:
    return load_spec(SPEC)


@cache
def layout() -> Layout:
    return lay_out(spec(), Job("SQ-17"))


@cache
def in_other_units() -> Layout:
    return lay_out(
        spec(), Job("SQ-17", {"bores": "in", "lands": "in", "heights": "mm", "holes": "mm"})
    )


def test_every_key_has_a_name_and_a_cell_of_its_own() -> None:
    places = layout().places.values()
    assert repeated([place.name for place in places]) == []
    assert len({place.at for place in places}) == len(places)
    printed = {text.at for plan in layout().plans.values() for text in plan.texts}
    assert not printed & {place.at for place in places}
    assert all(place.key == key for key, place in layout().places.items())


def test_no_name_reads_as_a_cell_in_any_notation() -> None:
    names = [place.name for place in layout().places.values()]
    assert [name for name in names if reads_as_cell(name)] == []
    assert all("_" in name and DEFINED_NAME.fullmatch(name) for name in names)


@pytest.mark.parametrize("made", [layout, in_other_units], ids=["as shipped", "in other units"])
def test_every_formula_keeps_within_the_rules(made: object) -> None:
    found: Layout = made()  # type: ignore[operator]
    faults = {
        key: formula_faults(f"={found.formula(key)}")
        for key in found.places
        if found.has_formula(key)
    }
    assert len(faults) > 1000
    assert {key: fault for key, fault in faults.items() if fault} == {}


def test_every_formula_reads_the_cells_its_equation_names_and_no_others() -> None:
    """Both roads are blank for the same readings only if no equation leaves a parameter out of its
    formula.
    """
    apart = {}
    for key, place in layout().places.items():
        if place.equation is not None:
            named = {
                one
                for given in place.inputs.values()
                for one in (given if isinstance(given, list) else [given])
            }
            read = {cell.key for cell in cells(layout().tree(key))}
            if read != {one for one in named if isinstance(one, str)}:
                apart[key] = (place.equation.__name__, named)
    assert not apart


# --- what is wanted


@cache
def upstream(key: str) -> frozenset[str]:
    """The readings that a key is worked out from, by the trees of its formulas."""
    if layout().place(key).role == "reading":
        return frozenset({key})
    below = cells(layout().tree(key)) if layout().has_formula(key) else []
    return frozenset[str]().union(*(upstream(cell.key) for cell in below))


def test_the_readings_wanted_are_those_that_a_check_hangs_on() -> None:
    hung_on = {reading for check in layout().checks for reading in upstream(check.verdict)}
    optional = {
        key
        for key in hung_on
        if key.startswith("instruments.") or key.endswith((".done", ".again"))
    }
    optional |= {
        key for key in hung_on if key.endswith((".typed_bore", ".typed_offset", ".typed_across"))
    }  # the suggestion stands in
    # blank where nothing is cut or bored; a straight-edge of which nothing is said counts a hollow
    optional |= {key for key in hung_on if key.startswith("line_bore.") or key.endswith("_cut.cut")}
    optional |= {key for key in hung_on if key.endswith(".edge_lies")}
    # blank: as drawn
    optional |= {key for key in hung_on if key.startswith(("opened.", "single_"))}
    optional |= {
        key for key in hung_on if key.endswith(".probed")
    }  # blank: as such a drill makes it
    optional.remove("line_bore.line_bored")
    holes = layout().stations.holes
    assert holes is not None
    spared = tuple(
        f"{table.key}.{hole}."
        for table in holes.holes.tables.values()
        for hole in table.row_keys - table.probed
    )  # the count of their group stands for them
    optional |= {key for key in hung_on if key.startswith(spared) or key.endswith(".gauge")}
    assert {place.key for place in layout().wanted()} == hung_on - optional
    assert optional


def test_every_check_has_a_verdict_a_line_of_the_release_and_a_place_for_its_concession() -> None:
    keys = [check.key for check in layout().checks]
    assert len(keys) == len(set(keys)) > 100
    for check in layout().checks:
        assert layout().place(check.verdict).role == ("result" if check.judged else "verdict")
        for column in ("verdict", "standing", "reason", "conceded_by", "conceded_on", "urgency"):
            layout().place(f"release.{check.key}.{column}")


# --- the walk round the block


def test_the_readings_come_sheet_by_sheet_and_row_by_row_as_tab_moves() -> None:
    sheets = list(layout().plans)
    walked = [
        (sheets.index(place.at.sheet), place.at.row, place.at.column)
        for place in layout().readings()
    ]
    assert walked == sorted(walked)
    assert sheets[0] == "Job"
    assert sheets[-2:] == ["Release", "Customer"]


def test_every_wanted_reading_says_what_where_and_in_which_unit() -> None:
    silent = [place.key for place in layout().wanted() if not place.label or not told(place)]
    assert silent == []


def told(place: Place) -> bool:
    column = place.column
    return isinstance(column, Reading) and bool(
        column.how(place.row) if callable(column.how) else column.how
    )


# --- identity and units


def test_the_identity_is_the_same_for_the_same_and_another_for_another_spec_block_or_unit() -> None:
    same = lay_out(spec(), Job("SQ-17")).identity
    remarked = spec().given_as(spec().text + "# measured twice\n", SPEC)
    others = {
        lay_out(spec(), Job("SQ-18")).identity,
        lay_out(spec(), Job("SQ-17", {"bores": "in"})).identity,
        lay_out(spec(), Job("SQ-17", {"lands": "in"})).identity,
        lay_out(remarked, Job("SQ-17")).identity,
    }
    assert same == layout().identity
    assert len(others | {same}) == 5


def test_a_group_read_in_another_unit_keeps_the_fineness_of_its_last_place() -> None:
    assert layout().unit_of("bores") == "mm"
    assert in_other_units().unit_of("bores") == "in"
    assert in_other_units().decimals_of("bores") == layout().decimals_of("bores") + 1
    assert in_other_units().decimals_of("heights") == layout().decimals_of("heights") - 1
    assert set(in_other_units().places) == set(layout().places)


def test_a_key_that_is_not_there_is_refused_with_the_nearest() -> None:
    with pytest.raises(
        DeclarationError,
        match=r"no cell is called bores\.1\.top\.thrus; there is bores\.1\.top\.thrust",
    ):
        layout().place("bores.1.top.thrus")


def test_a_cell_without_a_unit_counts_where_its_equation_or_its_column_does() -> None:
    made = layout()
    kinds = {key: made.cell(key).unit for key, place in made.places.items() if place.unit == ""}
    assert (
        kinds["decision.holding"] == kinds["decision.checks"] == kinds["route.deck.done"] == "count"
    )
    assert kinds["rule.guard_factor"] == ""
    assert {made.places[key].unit for key in kinds} == {""}


def test_a_ratio_where_a_count_is_wanted_is_refused_naming_cell_equation_and_argument() -> None:
    made = layout()
    place = made.places["decision.holding"]
    swapped = {**place.inputs, "checks": "rule.guard_factor"}
    made = replace(made, _formulas={}, _shapes={}, _trees={})
    made.places = made.places | {place.key: replace(place, asking=lambda: swapped)}
    with pytest.raises(
        DeclarationError,
        match=r"decision\.holding: holding wants checks as a count; rule\.guard_factor is in a",
    ):
        made.formula("decision.holding")


def test_a_blank_guard_stands_before_every_result_that_does_not_take_blanks() -> None:
    for key, place in layout().places.items():
        if (
            place.equation is not None
            and not getattr(place.equation, "takes_blanks", False)
            and place.inputs
        ):
            assert layout().formula(key).startswith("IF(COUNT("), key
