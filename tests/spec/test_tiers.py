"""From the bores alone to the whole engine: each spec makes a book that is filled and judged, and
nothing is wanted before the work that needs it.

The engines are invented; the readings are those of a sound block.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from clean_readings import clean_readings
from datumbook.job import Job, scope_of
from datumbook.planning import plan
from datumbook.spec import Spec, SpecFaults, load_spec, read_spec
from datumbook.stations import lay_out
from datumbook.validator import validate
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from long_runs import mostly_long
from project import SUPPORT

ENGINES = SUPPORT / "engines"
SHORTEST, SIX, VEE = "bores_alone", "garrowby_six", "garrowby_vee"
LINES = {SHORTEST: 15, SIX: 140, VEE: 6}


@cache
def spec(name: str) -> Spec:
    return load_spec(ENGINES / f"{name}.toml")


def sound(layout: Layout) -> dict[str, object]:
    """The readings of a sound block, its bores left at their standard size."""
    standard, places = layout.spec.bores.standard.low, layout.places
    bored = [place for key, place in places.items() if key.endswith("typed_bore")]
    left = {place.key: standard.to(place.unit or "mm") for place in bored}
    return {key: one for key, one in clean_readings(layout).items() if key in places} | left


@pytest.mark.parametrize("name", LINES)
def test_a_spec_is_no_longer_than_promised(name: str) -> None:
    assert len((ENGINES / f"{name}.toml").read_text("utf-8").splitlines()) <= LINES[name]


def test_the_six_has_sixty_holes_in_nine_groups_and_liners_in_two_cylinders() -> None:
    six = spec(SIX)
    assert [len(one.names) for one in six.holes] == [14, 6, 16, 8, 4, 6, 2, 2, 2]
    assert {six.units["bores"], six.units["heights"]} == {"mm", "in"}
    layout = lay_out(six, Job("G-6", work=("bore", "dry_liners")))
    asked = {place.row for place in layout.readings() if place.key.startswith("liner.")}
    assert asked == {"2", "5"}
    told = {
        number: layout.place(f"bore_plan.{number}.liner").role for number in map(str, range(1, 7))
    }
    assert [number for number, role in told.items() if role == "reading"] == ["2", "5"]


WORKS = [(SHORTEST, "full"), (SHORTEST, "measure"), (SIX, "recondition"), (VEE, "recondition")]


@pytest.mark.parametrize(("name", "work"), mostly_long(WORKS, 2))
def test_a_spec_generates_fills_and_validates(name: str, work: str, tmp_path: Path) -> None:
    layout = lay_out(spec(name), Job("T-1", work=(work,)))
    write(layout, tmp_path / "book.xlsx", sound(layout))
    found = validate(tmp_path / "book.xlsx")
    assert not [one for one in found.findings if one.severity == "damage"]
    assert found.verdict == "release", [str(one) for one in found.findings]
    plan(found)


def test_the_shortest_spec_asks_for_nothing_but_bores() -> None:
    scope = scope_of(spec(SHORTEST), Job("T-1"))
    assert scope.groups == ["bores"]
    assert "deck" not in scope.operations
    assert {"bore", "hone"} <= set(scope.operations)


@pytest.mark.parametrize(
    ("work", "section"), [("deck", "heights"), ("line_bore", "heights"), ("hole_work", "holes")]
)
def test_work_without_its_figures_is_refused_with_their_form(work: str, section: str) -> None:
    with pytest.raises(SpecFaults) as told:
        scope_of(spec(SHORTEST), Job("T-1", work=(work,)))
    (fault,) = told.value.faults
    assert fault.code == "figures-wanting"
    assert f"[{section}]" in fault.said
    assert " = " in fault.remedy, "the form of what to add"


@pytest.mark.parametrize(
    ("section", "wanted"),
    [
        ('[parts.pistons]\ndiameter = "81.955 mm"\ngauged_at = "the skirt"\n', "[heights]"),
        ('[cam_drive]\nkind = "chain"\ncentre_distance = "9 in"\nangle = "0 deg"\n', "[heights]"),
    ],
)
def test_a_section_without_what_it_is_worked_out_from_is_refused(section: str, wanted: str) -> None:
    text = (ENGINES / f"{SHORTEST}.toml").read_text("utf-8")
    with pytest.raises(SpecFaults) as told:
        read_spec(f"{text}\n{section}", "x.toml")
    (fault,) = told.value.faults
    assert (fault.code, fault.line) == ("section-wanted", text.count("\n") + 2)
    assert wanted in fault.said
