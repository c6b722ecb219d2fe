"""A station left as it is, at the bench: it asks for nothing and holds nothing up, nothing else in
the book changes, and a cut that rests on it says so.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest

from as_asked import values_of
from datumbook.equations.standings import HOLDS, LEFT
from datumbook.equations.station_lines import AS_IT_IS
from datumbook.job import Job, job_of, scope_of
from datumbook.spec import SpecFaults, load_spec, shipped_specs
from datumbook.standards.order import operations
from datumbook.standards.works import stations
from datumbook.stations import lay_out
from datumbook.validator import validate
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from long_runs import mostly_long
from readings_made import plausible

WORKS = ("measure", "recondition", "full")


@cache
def layout(name: str, work: str = "full") -> Layout:
    return lay_out(load_spec(shipped_specs()[name]), Job("7", work=work))


@cache
def filled(name: str, work: str) -> dict[str, Any]:
    return values_of(layout(name, work), plausible(layout(name, work)))


def left(of: Layout, station: str) -> dict[str, str]:
    way = of.stations.job.way
    row = way.first[station]
    return {
        way.column("left")[row]: AS_IT_IS,
        way.reason[row]: "owner's wish",
        way.by[row]: "J. K.",
    }


CASES = [
    (name, work, station)
    for name in shipped_specs()
    for work in WORKS
    for station in scope_of(load_spec(shipped_specs()[name]), Job("7", work=work)).stations
    if stations()[station].own_line and station != "map"  # which is left with its holes
]


@pytest.mark.parametrize(("name", "work", "station"), mostly_long(CASES, 6))
def test_leaving_a_station_out_changes_nothing_else_in_the_book(
    name: str, work: str, station: str
) -> None:
    of, before = layout(name, work), filled(name, work)
    typed = left(of, station)
    after = values_of(of, plausible(of) | typed)
    stations = of.stations
    about = {"stations", "touched", "not_touched", "forecasts", "job", "release", "decision"}
    about |= {"held_up", "handed_over", "customer", "work_done"}
    for key, place in of.places.items():
        home = place.column.home.key if place.column else ""
        if home not in about and key not in typed:
            assert before[key] == after[key] or before[key] != before[key], key
    standing = stations.release.checks.standing
    for check in of.checks:
        was, now = before[standing[check.key]], after[standing[check.key]]
        own = check.section is not None and check.section.station == station
        assert now == (LEFT if own else now)
        assert own or now in {was, LEFT}, "no other check comes to hold by it"


@pytest.mark.parametrize(("name", "work", "station"), mostly_long(CASES, 4))
def test_a_station_left_out_of_an_empty_book_asks_for_nothing(
    name: str, work: str, station: str
) -> None:
    of = layout(name, work)
    values = values_of(of, left(of, station))
    way, standing = of.stations.job.way, of.stations.release.checks.standing
    rows = [row for row, one in way.station.items() if one == station]
    assert {values[way.to_read[row]] for row in rows} == {0.0}
    assert not [
        check.key
        for check in of.checks
        if check.section and check.section.station == station
        if values[standing[check.key]] == HOLDS
    ]


@pytest.mark.parametrize("name", mostly_long(shipped_specs(), 2))
def test_a_cut_that_rests_on_what_is_left_says_that_it_has_no_forecast(name: str) -> None:
    of = layout(name, "full")
    values = values_of(of, left(of, "heights"))
    said = {
        place.row: values[key]
        for key, place in of.places.items()
        if place.column and place.column.home.key == "forecasts"
    }
    assert said
    for cut, words in said.items():
        rests = "heights" in operations()[cut].needs
        assert words == ("none: what it rests on is left as it is" if rests else "as worked out")


def test_without_a_reason_and_initials_a_station_is_not_left() -> None:
    of = layout("orrindale_qp4")
    way = of.stations.job.way
    said = {way.column("left")["Tunnels"]: AS_IT_IS, way.reason["Tunnels"]: "owner's wish"}
    values = values_of(of, said)
    assert values[way.state["Tunnels"]] == "say why, and who"
    assert values[way.to_read["Tunnels"]] == 24.0


def test_what_was_not_touched_is_said_to_the_customer_and_on_the_release(tmp_path: Path) -> None:
    of = layout("orrindale_qp4", "recondition")
    values = values_of(of, left(of, "faces"))
    for table in ("touched", "not_touched"):
        assert [values[f"{table}.faces.{column}"] for column in ("touched", "reason", "by")] == [
            AS_IT_IS,
            "owner's wish",
            "J. K.",
        ]
        assert values[f"{table}.tunnels.touched"] == "not part of this job"
    write(of, tmp_path / "book.xlsx", left(of, "faces"))
    found = validate(tmp_path / "book.xlsx")
    faces = {
        place.at.cell for place in of.wanted() if place.section and place.section.name == "Faces"
    }
    assert faces
    assert not [one for one in found.findings if one.sheet == "Heights" and one.cell in faces]


def test_a_job_file_says_beforehand_what_is_left() -> None:
    job = job_of(
        {"left": [{"station": "tunnels", "reason": "owner's wish", "by": "J. K."}], "owner": "Quay"}
    )
    of = lay_out(load_spec(shipped_specs()["orrindale_qp4"]), job)
    assert of.stations.said() == {
        "job.owner": "Quay",
        "stations.Tunnels.left": AS_IT_IS,
        "stations.Tunnels.reason": "owner's wish",
        "stations.Tunnels.by": "J. K.",
    }


def test_a_job_file_says_beforehand_what_is_opened() -> None:
    def said(**opened: str) -> dict[str, str]:
        job = job_of({"work": "hole_work", "opened": [opened]})
        of = lay_out(load_spec(shipped_specs()["orrindale_qp4"]), job)
        return {str(key): one for key, one in of.stations.said().items()}

    assert said(holes="front_cover", to="3/8-16 UNC", by="A. N.") == {
        "opened.front_cover.opened_to": "3/8-16 UNC",
        "opened.front_cover.decided_by": "A. N.",
    }
    assert said(holes="S7", to="M10x1.5", by="A. N.")["single_metric.1.hole"] == "S7"
    with pytest.raises(SpecFaults, match=r"M10x1\.5"):
        said(holes="S7", to="M10", by="A. N.")
    with pytest.raises(SpecFaults, match="front_cover"):
        said(holes="front_covers", to="M10", by="A. N.")


def test_a_job_opens_no_more_single_holes_than_there_are_lines() -> None:
    holes = [{"holes": f"S{number}", "to": "M10x1.5", "by": "A. N."} for number in range(1, 6)]
    of = lay_out(
        load_spec(shipped_specs()["orrindale_qp4"]), job_of({"work": "hole_work", "opened": holes})
    )
    with pytest.raises(SpecFaults) as raised:
        of.stations.said()
    (fault,) = raised.value.faults
    assert (fault.code, fault.found) == ("too-many-single", "S5")
