"""Every equation written otherwise in one place: does its witness, or a figure that somebody
printed, notice?

    python tests/scripts/equation_mutants.py [MODULE ...]     from the project's folder

A sum is made a difference, a product a quotient, a figure one more, one argument another, the least
the greatest, and so on, each by itself. Prints those that nobody notices and their number; some of
them come to the same for every argument, which a reader sees and a program does not.
"""

from __future__ import annotations

import ast
import inspect
import sys
from collections.abc import Iterator
from copy import deepcopy
from pathlib import Path
from typing import Any

PROJECT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(PROJECT / "builder"), str(PROJECT / "tests" / "support")]

from datumbook.formulas import functions  # noqa: E402
from datumbook.formulas.tracing import called  # noqa: E402
from datumbook.numbers.units import from_coherent  # noqa: E402
from published_cases import Equation, coherent, published_cases  # noqa: E402
from witnesses import BY_HAND, notices, numeric, witnesses  # noqa: E402

OTHER = {
    "smallest": "largest",
    "largest": "smallest",
    "sine": "cosine",
    "cosine": "sine",
    "at_least": "more_than",
    "more_than": "at_least",
    "at_most": "less_than",
    "total": "largest",
    "mean": "largest",
    "any_of": "all_of",
    "all_of": "any_of",
    "abs": "float",
}
CASES = [case for case in published_cases() if BY_HAND not in case.source]
OPPOSITE = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult}


def mutants(equation: Equation) -> Iterator[tuple[str, Equation]]:
    """Yield the equation written otherwise in one place after the other, and what is other."""
    tree = ast.parse(inspect.getsource(inspect.unwrap(equation))).body[0]
    assert isinstance(tree, ast.FunctionDef)
    arguments = inspect.signature(equation).parameters
    inside = [id(node) for part in tree.body[1:] for node in ast.walk(part)]
    for place, node in enumerate(ast.walk(tree)):
        for field, value in _changes(node, list(arguments)) if id(node) in inside else ():
            other = deepcopy(tree)
            changed = list(ast.walk(other))[place]
            setattr(changed, field, value)
            names = vars(functions) | vars(inspect.getmodule(equation))
            exec(compile(ast.Module([other], []), "<other>", "exec"), names)
            yield f"{ast.unparse(node)} -> {ast.unparse(changed)}", names[tree.name]


def _changes(node: ast.AST, arguments: list[str]) -> Iterator[tuple[str, Any]]:
    """What a place may say instead: the field that changes, and its other value."""
    match node:
        case ast.BinOp(op=op) if type(op) in OPPOSITE:
            yield "op", OPPOSITE[type(op)]()
        case ast.Constant(value=int() | float() as value):
            yield "value", value + 1
        case ast.Name(id=name) if name in OTHER:
            yield "id", OTHER[name]
        case ast.Name(id=name) if name in arguments:
            yield from (("id", other) for other in arguments if other != name)


def noticed(name: str, other: Equation) -> bool:
    """Return whether a printed figure or a witness of the equation tells it from the other."""
    for case in CASES:
        if case.function == name:
            value = called(other, case.arguments(coherent))
            shown = None if value is None else from_coherent(value, case.gives.unit)
            if shown is None or abs(shown - float(case.gives.number)) > case.within * (1 + 1e-9):
                return True
    return any(notices(held, other) for held in witnesses() if held.equation == name)


def main(modules: list[str]) -> None:
    """Try every equation of these modules, or of all."""
    tried = found = 0
    for name, equation in numeric().items():
        module = equation.__module__.rpartition(".")[2]
        if modules and module not in modules:
            continue
        for what, other in mutants(equation):
            other.__module__ = equation.__module__
            tried += 1
            try:
                seen = noticed(name, other)
            except Exception:  # it breaks down: that is noticed
                seen = True
            found += seen
            if not seen:
                print(f"{module}.{name}: {what}", flush=True)
    print(f"{found} of {tried} noticed")


if __name__ == "__main__":
    main(sys.argv[1:])
