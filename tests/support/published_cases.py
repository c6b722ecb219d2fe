"""Published cases: numbers somebody else printed, with the place they stand, read from
tests/support/published/*.toml.

    [[spindle_speed]]
    source = "handbook, 1/2 in at 100 sfm"
    given = { cutting_speed = "100 ft/min", diameter = "1/2 in" }
    gives = "764 1/min"

The table's name is the equation's. Values stand as printed, each in its own unit; a group of cells
is a list. The printed digits are the tolerance: half of the last one, unless `within` (in the unit
of `gives`) says otherwise and `why` says why. A case without a source is refused.
"""

from __future__ import annotations

import inspect
import pkgutil
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from typing import Any

import datumbook.equations
from datumbook.formulas.kinds import kinds_of
from datumbook.formulas.tracing import called
from datumbook.numbers.quantities import Quantity, QuantityFault, read_quantity
from datumbook.numbers.units import from_coherent, to_coherent
from project import SUPPORT

FOLDER = SUPPORT / "published"
FIELDS = {"source", "given", "gives", "within", "why"}

Equation = Callable[..., float | None]
Given = Quantity | list[Quantity] | str


class CaseError(ValueError):
    """A published case that cannot be used; the message names the file and the case."""


@dataclass(frozen=True, slots=True)
class Case:
    """One published number: what was given, in the units it was given in, and what was printed."""

    name: str
    function: str
    given: Mapping[str, Given]
    gives: Quantity
    within: float
    source: str

    def worked(self) -> float | None:
        """Return what the equation gives for this case, in the unit of `gives`: the Python road."""
        value = called(equations()[self.function], self.arguments(coherent))
        return None if value is None else from_coherent(value, self.gives.unit)

    def arguments(self, made: Callable[[Given], Any]) -> dict[str, Any]:
        """Return parameter -> what `made` makes of the quantity given for it, a list of them for a
        group.

        The Python road makes floats of the coherent set; the road through a spreadsheet engine
        makes cells, each in its own unit, and hands them to `trace`.
        """
        return {
            word: [made(one) for one in given] if isinstance(given, list) else made(given)
            for word, given in self.given.items()
        }


def coherent(given: Given) -> Any:
    """Return a given quantity as a float of the coherent set (mm, N, s, degC, rad); words as they
    are.
    """
    return to_coherent(float(given.number), given.unit) if isinstance(given, Quantity) else given


@cache
def equations() -> Mapping[str, Equation]:
    """Return every public equation of builder/datumbook/equations by its name; CaseError where two
    share one name.
    """
    found: dict[str, Equation] = {}
    for module in equation_modules():
        for name, equation in inspect.getmembers(
            import_module(f"datumbook.equations.{module}"), inspect.isfunction
        ):
            if name.startswith("_") or equation.__module__ != f"datumbook.equations.{module}":
                continue
            if name in found:
                raise CaseError(
                    f"{name} is an equation of two modules, {module} and {found[name].__module__}."
                )
            found[name] = equation
    return found


def equation_modules() -> list[str]:
    """Return the names of the modules in builder/datumbook/equations."""
    return sorted(module.name for module in pkgutil.iter_modules(datumbook.equations.__path__))


def published_cases() -> Iterator[Case]:
    """Yield the cases of every file in tests/published; CaseError for one that cannot be used."""
    for path in sorted(FOLDER.glob("*.toml")):
        yield from read_cases(path.name, path.read_text("utf-8"))


def read_cases(file: str, text: str) -> Iterator[Case]:
    """Yield the cases of one file; CaseError for a case that lacks a source, an argument or a
    number.
    """
    for function, tables in tomllib.loads(text).items():
        if function not in equations():
            raise CaseError(
                f"{file}: {function} is not an equation in builder/datumbook/equations."
            )
        for number, table in enumerate(tables, start=1):
            yield _case(f"{file.removesuffix('.toml')}: {function} {number}", function, table)


def _case(name: str, function: str, table: Mapping[str, Any]) -> Case:
    if not table.get("source"):
        raise CaseError(
            f"{name}: no source. Say who printed the number and where, or test an identity instead."
        )
    if unknown := set(table) - FIELDS:
        raise CaseError(
            f"{name}: {', '.join(sorted(unknown))} is none of {', '.join(sorted(FIELDS))}."
        )
    kinds = kinds_of(equations()[function])
    if set(table["given"]) != set(kinds) - {"return"}:
        raise CaseError(
            f"{name}: given must name each of {', '.join(sorted(set(kinds) - {'return'}))}."
        )
    try:
        given = {word: _given(value, kinds[word]) for word, value in table["given"].items()}
        gives = _quantity(table["gives"], kinds["return"])
    except QuantityFault as fault:
        raise CaseError(f"{name}: {fault}") from fault
    return Case(name, function, given, gives, _within(name, table, gives), table["source"])


def _given(value: str | list[str], kind: str) -> Given:
    if kind == "words":
        return str(value)
    return (
        [_quantity(one, kind) for one in value]
        if isinstance(value, list)
        else _quantity(value, kind)
    )


def _quantity(text: str, kind: str) -> Quantity:
    """A quantity of the kind that the equation names; of any where it names none."""
    return read_quantity(text, None if kind == "any" else kind)


def _within(name: str, table: Mapping[str, Any], gives: Quantity) -> float:
    if "within" not in table:
        if gives.decimals == 0 and gives.number.denominator != 1:
            raise CaseError(
                f"{name}: a fraction prints no digits; give gives as a decimal, or within and why."
            )
        return 0.5 * 10.0**-gives.decimals
    if not table.get("why"):
        raise CaseError(f"{name}: within = {table['within']} needs a why.")
    return float(table["within"])
