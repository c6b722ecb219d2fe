"""One equation worked at the bench: `drill_chart_thread major=5/16in hole=17/64in pitch=1/24in`.

The quantities are read as a spec's are and turned exactly into the coherent set; the plain equation
is called; the formula is spelled as a workbook would spell it, with the numbers in the places of
the cells. With the equation's own name among the quantities it is asked backwards: for the one
argument that is left out.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import takewhile
from typing import Any

from datumbook.calculator.answers import SENSIBLE, printed, printed_in
from datumbook.calculator.backwards import SPAN, NotOneError, missed, solved
from datumbook.calculator.equations import BenchError, equation, explain, meaning, two_columns
from datumbook.calculator.fits import fit_worked, is_fit
from datumbook.calculator.heat import hold_fit, hold_result, reached_by, with_usual
from datumbook.calculator.threads import asked, thread_card
from datumbook.calculator.typed import Bench, TypedValue, coherent, hold_temperature, read
from datumbook.formulas.spelling import Address, InPlace, in_words, spell
from datumbook.formulas.tracing import DimensionError, called, trace_open
from datumbook.formulas.tree import Cell
from datumbook.messages.refusals import shown as shortened
from datumbook.messages.sources import source_of
from datumbook.numbers.units import shown
from datumbook.standards.tightening import disputed

__all__ = ["BenchError", "asked", "explain", "thread_card", "work"]

NO_NUMBER = "the root of a negative number, or a number too large"


def work(name: str, arguments: Sequence[str]) -> str:
    """Return an equation worked with quantities typed as argument=quantity: the result first, then
    what was typed, the formula and its source; or a fit, whose words may come one by one.

    A group takes several, `corners=9.1in,9.2in` or `corners=` more than once; an equation that is
    asked even when cells are missing takes `value=` for a blank. The equation's own name takes its
    result, and one argument is left out, which is then the answer. BenchError says which argument
    is wrong, what is wanted, and how; or that there is no answer, or more than one.

    >>> worked = work("spindle_speed", ["cutting_speed=100ft/min", "diameter=1/2in"])
    >>> print(worked.splitlines()[2].strip())
    gives  763.9 rev/min
    >>> worked = work("spindle_speed", ["diameter=1/2in", "spindle_speed=764rpm"])
    >>> print(worked.splitlines()[2].strip())
    gives  cutting_speed 100.0 ft/min = 30.5 m/min
    """
    fit = " ".join([name, *takewhile(lambda one: "=" not in one, arguments)])
    if is_fit(fit):
        return fit_worked(fit, arguments[fit.count(" ") - name.count(" ") :])
    return "\n".join(_told(read(equation(name), with_usual(name, arguments))))


def argument_asked_for(bench: Bench) -> tuple[float, float | None]:
    """Return the argument with which an equation asked backwards gives what it is to give, in the
    coherent set, and one below zero that does as well; BenchError where there is none, or more
    than one.
    """
    kind, gives = bench.kinds[bench.asked], bench.gives
    if gives is None or not isinstance(gives.value, float):
        raise TypeError(f"{bench.equation.__name__} is not asked backwards")
    if kind not in SPAN:
        raise BenchError(f"{bench.asked} can be anything here: give another argument its unit.")
    known = bench.arguments(lambda _, each, __: each.value)
    try:
        return solved(missed(bench.equation, known, bench.asked, gives.value), kind)
    except NotOneError as fault:
        raise BenchError(_no_one_answer(bench, fault.found)) from fault


def _no_one_answer(bench: Bench, found: Sequence[float]) -> str:
    name, asked_for, kind = bench.equation.__name__, bench.asked, bench.kinds[bench.asked]
    unit = _units(bench, asked_for)[:1]
    if found:
        some = " and ".join(
            printed(kind, one, unit) for one in dict.fromkeys((found[0], found[-1]))
        )
        return (
            f"More than one {asked_for} gives this {name}, {some} among them: type {asked_for} "
            f"instead of {name}, to see which fits."
        )
    return (
        f"No {asked_for} up to {printed(kind, SPAN[kind][1], unit)} gives this {name} with "
        f"{shortened(_values(bench))}: look at the quantities again."
    )


def _told(bench: Bench) -> Iterator[str]:
    one, whole = bench.equation, bench
    if bench.asked:
        assert bench.gives is not None
        assert isinstance(bench.gives.value, float)  # what gives words is not asked backwards
        hold_result(one.__name__, bench.gives.value)
        kind, units = bench.kinds[bench.asked], _units(bench, bench.asked)
        answer, below = argument_asked_for(bench)
        whole = bench.with_answer(answer, units[0][0])
        results = [f"{bench.asked} {printed(kind, answer, units)}"]
        if below is not None:
            results.append(f"{printed(kind, below, units)}, were it below zero")
        given, found = _given(whole), bench.gives.value
        hold_fit(one.__name__, given)
    else:
        given = _given(bench)
        hold_fit(one.__name__, given)
        found = _found(bench)
        results = []
    degrees = printed_in("Temperature", bench.units_typed)
    by_what = list(
        reached_by(one.__name__, found, given, lambda it: printed("Temperature", it, degrees))
    )
    results = results or [_result(bench, found)]
    yield f"{one.__name__}: {meaning(one)}"
    yield ""
    yield f"  gives  {results[0]}"
    yield from (f"  or     {other}" for other in results[1:])
    yield from by_what
    yield ""
    for name, values in bench.given.items():
        said = ", ".join(_as_given(bench.kinds[name], each) for each in values)
        yield two_columns(name, said, 24)
    if bench.gives:
        yield two_columns(one.__name__, _as_given(bench.kinds["return"], bench.gives), 24)
    yield ""
    yield f"  {one.__name__.replace('_', ' ')} = {in_words(one)}"
    yield from (f"  = {line}" for line in _with_numbers(whole))
    yield f"  source {source_of(one)}"
    for name in bench.given:
        if lines := disputed(name):
            yield ""
            yield f"  {name.replace('_', ' ')}: sources disagree"
            yield from (f"    {line}" for line in lines)


def _given(bench: Bench) -> dict[str, Any]:
    """Parameter -> its value in the coherent set."""
    return bench.arguments(lambda _, each, __: each.value)


def _units(bench: Bench, name: str) -> tuple[tuple[str, int | None], ...]:
    """The units in which an argument, or what is returned, is printed."""
    kind = bench.kinds[name]
    return printed_in(kind, bench.units_typed) if kind in SENSIBLE else (("", None),)


def _as_given(kind: str, given: TypedValue) -> str:
    """A value as typed and, where the trade has two units for its kind, as read in both."""
    if (
        given.unit is None
        or isinstance(given.value, str)
        or len(SENSIBLE[kind]) == 1
        or kind == "Share"
    ):
        return given.text
    both = [unit for unit in printed_in(kind, [(kind, given.unit)]) if unit in SENSIBLE[kind]]
    return f"{given.text} ({printed(kind, given.value, both)})"


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
    kind = bench.kinds["return"]
    said = printed(kind, found, _units(bench, "return"))
    hold_temperature(kind, found, f"The answer, {said},")
    return said


def _breaks_down(bench: Bench, why: str) -> str:
    return (
        f"{bench.equation.__name__} cannot be worked out with {shortened(_values(bench))} ({why}): "
        f"look at them again."
    )


def _values(bench: Bench) -> str:
    """Everything typed, in one line."""
    return ", ".join(
        f"{name} {each.text}" for name, values in bench.given.items() for each in values
    )


def _with_numbers(bench: Bench) -> list[str]:
    """The formula as a workbook would hold it, each cell in the unit typed, with the numbers in
    place of the cells.

    Of the units the result may be printed in, the one that needs the fewest factors. Equations that
    look along one unbroken row of cells have no such line.
    """
    places: dict[str, Address] = {}

    def leaf(name: str, each: TypedValue, number: int) -> Cell:
        places[f"{name} {number}"] = InPlace.of(number, each.in_formula)
        blank_unit = None if bench.kinds[name] == "Words" else coherent(bench.kinds[name])
        return Cell(f"{name} {number}", blank_unit if each.unit is None else each.unit)

    leaves = bench.arguments(leaf)
    units = SENSIBLE.get(bench.kinds["return"], ((None, 0),))
    try:
        lines = {
            word: spell(trace_open(bench.equation, leaves, word), places.__getitem__, "")
            for word, _ in units
        }
    except (DimensionError, ValueError):
        return []
    word, line = min(lines.items(), key=lambda item: len(item[1]))
    return [f"{line} {'' if word == '%' else shown(word or '')}".rstrip()]
