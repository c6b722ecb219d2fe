"""Numbers from outside: which test holds an equation against a figure got by another road, and
whether that test would notice if the equation were wrong.

    @witness(lands.first_centre, lands.next_centre, by="counting")
    def test_centres_of_a_painted_row() -> None: ...

A published case is such a number as well, where somebody printed it; one worked by hand from the
same expression is none.
"""

from __future__ import annotations

import ast
import inspect
import runpy
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from itertools import product
from pathlib import Path
from typing import Any
from unittest.mock import patch

from hypothesis import Phase, settings

from datumbook.formulas.kinds import kinds_of
from project import PROJECT
from published_cases import Equation, equations, published_cases

TESTS = PROJECT / "tests" / "equations"
BY_HAND = "worked by hand"
PRINTED = "printed by somebody else"
ROADS = {
    "coordinates": "points, circles and planes in space, turned and cut by matrices",
    "counting": "metal painted in cells of a micrometre and counted, or things told off one by one",
    "integration": "areas and volumes added up in thin slices",
    "solver": "a solver or a search that knows nothing of the subject",
    "simulation": "what happens, step by step or by chance, many times over",
    "library": "a library of somebody else",
    "printed": "a figure that somebody printed, to which several equations together come",
    "every case": "a choice, its every case written out",
}


@dataclass(frozen=True, slots=True)
class Witness:
    """One equation held by one test, and the road by which the test gets its number."""

    equation: str
    path: Path
    test: str
    by: str


def witness(*held: Callable[..., Any], by: str) -> Callable[[Any], Any]:
    """Say of a test which equations it holds against a number got by a road of ROADS."""
    if not held or by not in ROADS:
        raise ValueError(f"a witness names its equations and a road of {', '.join(ROADS)}")
    return lambda test: test


def numeric(among: Mapping[str, Equation] | None = None) -> dict[str, Equation]:
    """Return the equations that give a number, by name."""
    every = equations() if among is None else among
    return {name: one for name, one in every.items() if kinds_of(one)["return"] != "words"}


@cache
def printed() -> frozenset[str]:
    """Return the equations of which somebody else printed a number."""
    return frozenset(case.function for case in published_cases() if BY_HAND not in case.source)


@cache
def witnesses() -> tuple[Witness, ...]:
    """Return what the tests of the equations say that they witness."""
    return tuple(one for path in sorted(TESTS.glob("test_*.py")) for one in witnesses_in(path))


def witnesses_in(path: Path) -> Iterator[Witness]:
    """Yield the witnesses of one file."""
    for node in ast.parse(path.read_text("utf-8")).body:
        for call in node.decorator_list if isinstance(node, ast.FunctionDef) else ():
            match call:
                case ast.Call(
                    func=ast.Name(id="witness"),
                    args=held,
                    keywords=[ast.keyword(value=ast.Constant(value=str(by)))],
                ):
                    for one in held:
                        assert isinstance(one, ast.Attribute), f"{path.name}: module.equation"
                        yield Witness(one.attr, path, node.name, by)


def unwitnessed(
    among: Iterable[str], witnessed: Iterable[Witness], printed: Iterable[str]
) -> list[str]:
    """Return which of these equations meet no number from outside."""
    return sorted(set(among) - set(printed) - {one.equation for one in witnessed})


def notices(held: Witness, instead: Equation | None = None) -> bool:
    """Return whether the test fails once its equation is a little off, or another in its place."""
    equation = equations()[held.equation]
    wrong = instead or off(equation)
    profile = settings(
        settings.get_profile("default"),
        phases=[Phase.generate],
        max_examples=50,
        derandomize=True,
        database=None,
        deadline=None,
    )
    before = settings.get_current_profile_name()
    settings.register_profile("a little off", profile)
    settings.load_profile("a little off")
    try:
        with patch.object(import_module(equation.__module__), held.equation, wrong):
            test = runpy.run_path(str(held.path))[held.test]
            for arguments in _parameters(test):
                test(**arguments)
    except AssertionError:
        return True
    finally:
        settings.load_profile(before)
    return False


def off(equation: Equation) -> Equation:
    """Return the equation a little off: a ten-thousandth of its value and as much again."""

    def spoiled(*given: Any, **named: Any) -> float | None:
        value = equation(*given, **named)
        return None if value is None else value + 1e-4 * abs(value) + 1e-4

    return spoiled


def _parameters(test: Any) -> Iterator[dict[str, Any]]:
    """The arguments of a test that is run for each of several, as its marks have them."""
    marks = [one for one in getattr(test, "pytestmark", ()) if one.name == "parametrize"]
    for row in product(*(one.args[1] for one in marks)):
        found: dict[str, Any] = {}
        for mark, values in zip(marks, row, strict=True):
            names = mark.args[0]
            names = names.split(", ") if isinstance(names, str) else names
            found |= dict(zip(names, values if len(names) > 1 else [values], strict=True))
        assert found.keys() <= inspect.signature(test).parameters.keys()
        yield found
