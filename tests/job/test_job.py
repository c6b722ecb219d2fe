"""The job: its file, its faults by line, what comes along with the work, and how much each work is
of the shipped engines.

Source: the order of work of the trade (builder/datumbook/standards/order.toml), common practice.
"""

from __future__ import annotations

from contextlib import suppress
from functools import cache
from itertools import product
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from datumbook.job import Job, Scope, job_of, job_schema, read_job, scope_of
from datumbook.job.new import JobBegun, write_new_job
from datumbook.job.scope import described
from datumbook.spec import Spec, SpecFaults, load_spec, shipped_specs
from datumbook.standards.order import operations, rules
from datumbook.standards.works import works
from datumbook.stations import lay_out
from long_runs import mostly_long
from refusals_of_jobs import CASES


@cache
def engine(name: str = "orrindale_qp4") -> Spec:
    return load_spec(shipped_specs()[name])


def scope(**given: Any) -> Scope:
    return scope_of(engine(), job_of(given))


# --- the file


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_each_refusal_of_a_job_says_its_sentence_at_its_line(case: dict[str, Any]) -> None:
    with pytest.raises(SpecFaults) as raised:
        scope_of(engine(), read_job(case["text"], "job.toml"))
    (fault,) = raised.value.faults
    assert (fault.code, fault.key, fault.line) == (case["code"], case["key"], case["line"])
    assert fault.said == case["said"]
    assert str(fault).startswith(f"job.toml line {case['line']} · ")


def test_options_are_named_as_they_are_typed() -> None:
    with pytest.raises(SpecFaults, match=r'^--work: "recondtion" is not one of .*"recondition"'):
        job_of({"work": "recondtion"})
    with pytest.raises(SpecFaults, match=r'^--with: the engine file says nothing of "cam"'):
        scope(**{"with": ["cam"]})


@pytest.mark.parametrize("name", shipped_specs())
def test_a_new_job_file_is_read_back_as_it_was_answered(name: str) -> None:
    spec = engine(name)
    text = write_new_job(spec, JobBegun('7 "Quay"', "Ærø & Co.", "measure", ["holes"]))
    read = read_job(text, "new.toml")
    assert (read.block, read.owner, read.work, read.also) == (
        '7 "Quay"',
        "Ærø & Co.",
        ("measure",),
        ("holes",),
    )
    scope_of(spec, read)
    assert all(key in text for key in Job.model_json_schema(by_alias=True)["properties"])


def test_the_schema_holds_what_the_reader_takes_and_refuses_what_it_refuses() -> None:
    held = Draft202012Validator(job_schema())
    Draft202012Validator.check_schema(job_schema())
    assert held.is_valid({"block": "7", "work": "recondition", "with": ["walls"]})
    assert held.is_valid({"work": ["deck", "hole_work"], "units": {"bores": "in"}})
    for wrong in ({"work": "recondtion"}, {"with": ["wals"]}, {"blok": "7"}, {"gauging": "some"}):
        assert not held.is_valid(wrong), wrong


# --- the scope


def test_what_an_operation_needs_comes_along_and_is_told() -> None:
    found = scope(work="deck")
    assert {"heights", "faces", "proofs"} <= set(found.stations)
    assert not {"bores", "tunnels", "holes"} & set(found.stations)
    told = {one.name: one.by for one in found.brought}
    assert (told["heights"], told["consent"], told["crack_test"]) == ("deck", "deck", "consent")


def named(one: Scope) -> str:
    return f"{one.given.path.stem}, {one.job.work[0]}"


def scopes() -> list[Scope]:
    """Every work and every operation by itself on every engine that has it."""
    found = []
    for name, work in product(shipped_specs(), [*works(), *operations()]):
        with suppress(SpecFaults):
            found.append(scope_of(engine(name), Job(work=work)))
    return found


def test_every_work_is_for_every_engine_and_most_operations_are_for_some() -> None:
    asked = {(one.given.path.stem, one.job.work[0]) for one in scopes()}
    assert {*product(shipped_specs(), works())} <= asked
    assert {work for _, work in asked} >= {"deck", "bore", "line_bore", "hole_work", "dry_liners"}


@pytest.mark.parametrize("found", scopes(), ids=named)
def test_no_work_lacks_what_its_operations_need(found: Scope) -> None:
    spec = found.given
    for rule in rules():
        if rule.needed and rule.after in found.operations:
            assert rule.before in (*found.operations, *spec.order.left_out), rule
    for operation in found.operations:
        for station in operations()[operation].needs:
            assert (station in found.stations) == (station in described(spec))


def test_the_spec_is_looked_at_through_the_job_and_stays_whole() -> None:
    found = scope(work="recondition")
    assert (found.spec.walls, found.spec.tunnels, found.spec.parts) == (None, None, None)
    assert found.spec.flatness is engine().flatness
    assert (found.given.walls, found.spec.text) == (engine().walls, engine().text)
    assert scope(work="measure").spec.finished is None


def test_full_is_every_station_but_those_that_come_by_name() -> None:
    assert "method" not in scope(work="full").stations
    assert "method" in scope(work="full", **{"with": ["method"]}).stations


def test_what_is_needed_cannot_be_left_out_and_what_is_not_can() -> None:
    with pytest.raises(SpecFaults, match="needed by deck faced"):
        scope(work="recondition", without=["heights"])
    assert "hole_work" not in scope(work="recondition", without=["hole_work"]).operations
    assert "holes" not in scope(work="recondition", without=["hole_work"]).stations


def test_readings_are_taken_twice_where_the_job_says_so() -> None:
    assert scope(work="measure", twice=["bores"]).spec.repeat.groups == ("bores",)
    assert scope(work="deck", twice=["cam"]).spec.repeat.groups == ()


@pytest.mark.parametrize(
    "found", mostly_long((pytest.param(one, id=named(one)) for one in scopes()), 15)
)
def test_every_work_is_laid_out_with_a_formula_for_every_result(found: Scope) -> None:
    layout = lay_out(found.given, found.job)
    assert all(layout.formula(key) for key in layout.places if layout.has_formula(key))
    assert {place.at.sheet for place in layout.wanted()}
