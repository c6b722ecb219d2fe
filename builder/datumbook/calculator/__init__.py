"""One equation worked at the bench: `drill_chart_thread major=5/16in hole=17/64in pitch=1/24in`.

The quantities are read as a spec's are and turned exactly into the coherent set; the plain equation
is called; the formula is spelled as a workbook would spell it, with the numbers in the places of
the cells.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from datumbook.calculator.equations import (
    BENCH_KINDS,
    BenchEquation,
    BenchError,
    equation,
    explain,
    kind_names,
    meaning,
    plain_name,
    two_columns,
)
from datumbook.calculator.fits import fit_worked, is_fit
from datumbook.calculator.heat import reached_by, with_usual
from datumbook.calculator.threads import asked, thread_card
from datumbook.formulas import kinds as dimensions
from datumbook.formulas.spelling import Address, InPlace, in_words, spell
from datumbook.formulas.tracing import DimensionError, called, parameters, trace_open
from datumbook.formulas.tree import Cell
from datumbook.messages.refusals import shown as shortened
from datumbook.messages.sources import source_of
from datumbook.numbers.printing import PLAINEST, Printer, figures, with_unit
from datumbook.numbers.quantities import Quantity, QuantityFault, read_quantity
from datumbook.numbers.units import COUNT, coherent_word, exponents, from_coherent, shown, unit

__all__ = ["BenchError", "asked", "explain", "thread_card", "work"]

SENSIBLE: dict[
    str, tuple[tuple[str, int], ...]
] = {  # kind -> the units it is printed in, each with its decimals
    "Length": (("in", 4), ("mm", 3)),
    "Area": (("in**2", 4), ("mm**2", 2)),
    "Volume": (("cm**3", 2), ("in**3", 3)),
    "Ratio": (("", 4), ("%", 2)),
    "Count": ((COUNT, 0),),
    "Angle": (("deg", 2), ("rad", 4)),
    "Force": (("kN", 2), ("lbf", 0)),
    "Torque": (("N*m", 1), ("lbf*ft", 1)),
    "Stress": (("MPa", 1), ("ksi", 2)),
    "SpindleSpeed": (("1/min", 1),),
    "CuttingSpeed": (("m/min", 1), ("ft/min", 1)),
    "Temperature": (("degC", 1), ("degF", 1)),
    "Expansion": (("1/degC", 7), ("1/degF", 7)),
}
BLANK = "blank"
NO_NUMBER = "the root of a negative number, or a number too large"


@dataclass(frozen=True, slots=True)
class TypedValue:
    """One value as typed: its text, what the plain equation is called with, its unit (None for
    words and blanks).
    """

    text: str
    value: float | str
    unit: str | None = None

    @property
    def in_formula(self) -> str:
        """The value as it stands in the formula: its number in its own unit, or its words in
        quotes.
        """
        if isinstance(self.value, str):
            return f'"{self.value}"'
        if self.unit is None:
            return BLANK
        number = figures(from_coherent(self.value, self.unit), 6)
        return f"({number})" if number.startswith("-") else number


@dataclass(frozen=True, slots=True)
class Bench:
    """An equation with everything typed for it: the kinds settled (Measure turned into what was
    measured).
    """

    equation: BenchEquation
    kinds: Mapping[str, str]
    given: Mapping[str, Sequence[TypedValue]]

    def arguments(self, made: Callable[[str, TypedValue, int], Any]) -> dict[str, Any]:
        """Return parameter -> what `made` makes of its value, a list for a group; values are
        numbered from 1.
        """
        group, number, found = parameters(self.equation)[1], 0, {}
        for name, values in self.given.items():
            several = [made(name, each, number + place) for place, each in enumerate(values, 1)]
            number += len(values)
            found[name] = several if name == group else several[0]
        return found


def work(name: str, arguments: Sequence[str]) -> str:
    """Return an equation worked with quantities typed as argument=quantity: the result, its
    formula, its source.

    A group takes several, `corners=9.1in,9.2in` or `corners=` more than once; an equation that is
    asked even when cells are missing takes `value=` for a blank. BenchError says which argument is
    wrong, what is wanted, and how.

    >>> worked = work("spindle_speed", ["cutting_speed=100ft/min", "diameter=1/2in"])
    >>> print(worked.splitlines()[-2].strip())
    gives  763.9 rev/min
    """
    if is_fit(name):
        return fit_worked(name, arguments)
    one = equation(name)
    return "\n".join(_told(_read(one, _typed(one, with_usual(name, arguments)))))


def _typed(one: BenchEquation, arguments: Sequence[str]) -> dict[str, list[str]]:
    """Return parameter -> the texts typed for it; BenchError for one unknown, typed twice, or
    missing.
    """
    before, group, after = parameters(one)
    wanted = [*before, *([group] if group else []), *after]
    typed: dict[str, list[str]] = {}
    for argument in arguments:
        word, mark, text = argument.partition("=")
        name = plain_name(word)
        if not mark:
            raise BenchError(f'"{shortened(argument)}" is not argument=quantity. {_wants(one)}')
        if name not in wanted:
            raise BenchError(f'{one.__name__} has no argument "{shortened(word)}". {_wants(one)}')
        if name in typed and name != group:
            raise BenchError(f"{name} is given twice. {_wants(one)}")
        typed.setdefault(name, []).extend(text.split(",") if name == group else [text])
    if lacking := [name for name in wanted if name not in typed]:
        raise BenchError(f"{one.__name__} lacks {' and '.join(lacking)}. {_wants(one)}")
    return {name: typed[name] for name in wanted}


def _wants(one: BenchEquation) -> str:
    """All that an equation wants, in words and as one would type it."""
    wanted = {name: BENCH_KINDS[kind] for name, kind in kind_names(one).items() if name != "return"}
    words = ", ".join(f"{name} ({kind})" for name, (kind, _) in wanted.items())
    typed = " ".join(f"{name}={example}" for name, (_, example) in wanted.items())
    return f"It wants {words}. Write: datumbook work {one.__name__} {typed}"


def _read(one: BenchEquation, typed: Mapping[str, Sequence[str]]) -> Bench:
    """Return every value read and in the coherent set; the first measured value sets the kind of
    the others.
    """
    kinds, given = kind_names(one), {name: list[TypedValue]() for name in typed}
    for name, text in ((name, text) for name, texts in typed.items() for text in texts):
        if kinds[name] == "Words":
            given[name].append(TypedValue(" ".join(text.split()) or BLANK, text.strip()))
        elif not text.strip() and getattr(one, "takes_blanks", False):
            given[name].append(TypedValue(BLANK, math.nan))
        else:
            if kinds[name] == "Measure":
                measured = _kind_measured(_quantity(one, name, "Measure", text))
                kinds = {
                    each: measured if kind == "Measure" else kind for each, kind in kinds.items()
                }
            quantity = _quantity(one, name, kinds[name], text)
            given[name].append(
                TypedValue(quantity.text, quantity.to(_coherent(kinds[name])), quantity.unit)
            )
    return Bench(one, kinds, given)


def _quantity(one: BenchEquation, name: str, kind: str, text: str) -> Quantity:
    """Return the quantity typed for one parameter; BenchError naming the parameter and what it
    takes.
    """
    wanted = None if kind == "Measure" else dimensions.dimension(getattr(dimensions, kind))
    try:
        return read_quantity(text.strip(), wanted)
    except QuantityFault as fault:
        said = str(fault).rstrip(".")
        raise BenchError(
            f"{one.__name__} wants {name} as {BENCH_KINDS[kind][0]}. {said}."
        ) from fault


def _kind_measured(quantity: Quantity) -> str:
    """Return the kind a measured value is of; BenchError for a unit that nothing here is measured
    in.
    """
    found = unit(quantity.unit).exponents
    for kind in SENSIBLE:
        if exponents(dimensions.dimension(getattr(dimensions, kind))) == found:
            return kind
    raise BenchError(
        f'"{quantity.text}" is of no kind that an equation here measures; write a length such as '
        f"0.5in."
    )


def _coherent(kind: str) -> str:
    """Return the unit of the coherent set for a kind; a blank of no known kind is a bare number."""
    return (
        "" if kind == "Measure" else coherent_word(dimensions.dimension(getattr(dimensions, kind)))
    )


def _told(bench: Bench) -> Iterator[str]:
    one, found = bench.equation, _found(bench)
    shop = bench.arguments(lambda _, each, __: each.value).get("temperature")
    by_what, result = list(reached_by(one.__name__, found, shop)), _result(bench, found)
    yield f"{one.__name__}: {meaning(one)}"
    yield ""
    for name, values in bench.given.items():
        yield two_columns(
            name, ", ".join(_as_given(bench.kinds[name], each) for each in values), 24
        )
    yield ""
    yield f"  {one.__name__.replace('_', ' ')} = {in_words(one)}"
    yield from (f"  = {line}" for line in _with_numbers(bench))
    yield f"  gives  {result}"
    yield f"  source {source_of(one)}"
    yield from by_what


def _as_given(kind: str, given: TypedValue) -> str:
    """A value as typed and, where the trade has two units for its kind, as read in both."""
    if (
        given.unit is None
        or isinstance(given.value, str)
        or len(SENSIBLE[kind]) == 1
        or kind == "Ratio"
    ):
        return given.text
    return f"{given.text} ({_printed(kind, given.value)})"


def _found(bench: Bench) -> Any:
    """Work the plain equation and return its result in the coherent set; BenchError where it breaks
    down.
    """
    try:
        return called(bench.equation, bench.arguments(lambda _, each, __: each.value))
    except ZeroDivisionError as fault:
        raise BenchError(_breaks_down(bench, "it divides by nothing")) from fault
    except LookupError as fault:
        raise BenchError(
            _breaks_down(bench, "there are not so many values in the group")
        ) from fault
    except (
        ArithmeticError,
        TypeError,
        ValueError,
    ) as fault:  # a root of less than nothing, a number too large
        raise BenchError(_breaks_down(bench, NO_NUMBER)) from fault


def _result(bench: Bench, found: Any) -> str:
    """Return a result in the units of the trade; BenchError where it is no number one can use."""
    if found is None or found == "":
        return "nothing: the cell would stay blank"
    if isinstance(found, str):
        return found
    if isinstance(found, complex) or not math.isfinite(found):
        raise BenchError(_breaks_down(bench, NO_NUMBER))
    return _printed(bench.kinds["return"], found)


def _breaks_down(bench: Bench, why: str) -> str:
    values = ", ".join(
        f"{name} {each.text}" for name, values in bench.given.items() for each in values
    )
    return (
        f"{bench.equation.__name__} cannot be worked out with {shortened(values)} ({why}): "
        f"look at them again."
    )


def _printed(kind: str, value: float) -> str:
    """Return a value of the coherent set in the units a kind is printed in."""
    if kind == "Measure":
        return figures(value, 10)
    return " = ".join(
        _quantity_in(kind, from_coherent(value, word), word, places)
        for word, places in SENSIBLE[kind]
    )


def _quantity_in(kind: str, value: float, word: str, places: int) -> str:
    """Return a number with its unit and its usual places, and where it is below 1 with enough of
    them for three figures.
    """
    size = abs(value)
    if kind == "Count" or size >= PLAINEST or 0 < size < 1 / PLAINEST:
        return with_unit(figures(value, 10 if kind == "Count" else 6), word)
    if 0 < size < 1:
        places = max(places, 2 - math.floor(math.log10(size)))
    return Printer(word, places).quantity(value)


def _with_numbers(bench: Bench) -> list[str]:
    """The formula as a workbook would hold it, each cell in the unit typed, with the numbers in
    place of the cells.

    Of the units the result may be printed in, the one that needs the fewest factors. Equations that
    look along one unbroken row of cells have no such line.
    """
    places: dict[str, Address] = {}

    def leaf(name: str, each: TypedValue, number: int) -> Cell:
        places[f"{name} {number}"] = InPlace.of(number, each.in_formula)
        blank_unit = None if bench.kinds[name] == "Words" else _coherent(bench.kinds[name])
        return Cell(f"{name} {number}", blank_unit if each.unit is None else each.unit)

    leaves = bench.arguments(leaf)
    units: Sequence[tuple[str | None, int]] = SENSIBLE.get(bench.kinds["return"], [(None, 0)])
    try:
        lines = {
            word: spell(trace_open(bench.equation, leaves, word), places.__getitem__, "")
            for word, _ in units
        }
    except (DimensionError, ValueError):
        return []
    word, line = min(lines.items(), key=lambda item: len(item[1]))
    return [f"{line} {'' if word == '%' else shown(word or '')}".rstrip()]
