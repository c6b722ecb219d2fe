"""Every number somebody else printed, through the plain functions; no equation without one or a
derived test.
"""

from __future__ import annotations

import ast
import re

import pytest

from project import PROJECT
from published_cases import (
    Case,
    CaseError,
    equation_modules,
    equations,
    published_cases,
    read_cases,
)
from witnesses import witnesses

CASES = list(published_cases())
TESTS = PROJECT / "tests" / "equations"

GOOD = """
[[spindle_speed]]
source = "handbook, 1/2 in at 100 sfm"
given = { cutting_speed = "100 ft/min", diameter = "1/2 in" }
gives = "764 1/min"
"""


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_an_equation_gives_the_number_somebody_else_printed(case: Case) -> None:
    worked = case.worked()
    assert worked is not None, case.source
    difference = abs(worked - float(case.gives.number))
    assert difference <= case.within * (1 + 1e-9), f"{worked} {case.gives.unit}, {case.source}"


@pytest.mark.parametrize("name", sorted(equations()))
def test_every_equation_has_a_published_case_or_a_witness_or_a_test_that_carries_its_name(
    name: str,
) -> None:
    tested = {case.function for case in CASES} | {one.equation for one in witnesses()}
    module = equations()[name].__module__.rpartition(".")[2]
    named = [test for test in names_of_tests(module) if re.search(rf"(?:^|_){name}(?:_|$)", test)]
    assert name in tested or named, (
        f"give {name} a published case, or a test in tests/equations/test_{module}.py"
    )


@pytest.mark.parametrize("module", equation_modules())
def test_every_module_of_equations_has_its_tests_beside_it_by_name(module: str) -> None:
    assert names_of_tests(module)


def names_of_tests(module: str) -> list[str]:
    path = TESTS / f"test_{module}.py"
    nodes = ast.walk(ast.parse(path.read_text("utf-8"))) if path.exists() else ()
    return [
        node.name
        for node in nodes
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_")
    ]


def test_printed_digits_are_the_tolerance() -> None:
    assert [case.within for case in read_cases("cutting.toml", GOOD)] == [0.5]


def test_a_wrong_printed_number_is_noticed() -> None:
    (case,) = read_cases("cutting.toml", GOOD.replace("764", "765"))
    assert abs(case.worked() - 765) > case.within


def test_a_tolerance_of_its_own_needs_a_reason() -> None:
    with pytest.raises(CaseError, match="needs a why"):
        list(read_cases("cutting.toml", GOOD + "within = 5\n"))
    assert [
        case.within
        for case in read_cases("cutting.toml", GOOD + 'within = 5\nwhy = "slide rule"\n')
    ] == [5.0]


@pytest.mark.parametrize(
    ("good", "bad", "message"),
    [
        ('source = "handbook, 1/2 in at 100 sfm"', "", "no source"),
        ('source = "handbook, 1/2 in at 100 sfm"', 'source = ""', "no source"),
        ("[[spindle_speed]]", "[[speed_of_spindle]]", "not an equation"),
        ("diameter =", "radius =", "given must name each of cutting_speed, diameter"),
        ("gives =", 'unit = "mm"\ngives =', "unit is none of"),
        ("764 1/min", "3/4 1/s", "a fraction prints no digits"),
        ("1/2 in", "1,5 in", "cutting: spindle_speed 1: "),
    ],
)
def test_a_case_that_cannot_be_trusted_is_refused(good: str, bad: str, message: str) -> None:
    with pytest.raises(CaseError, match=message):
        list(read_cases("cutting.toml", GOOD.replace(good, bad)))
