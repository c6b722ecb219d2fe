"""What is typed for an equation at the bench: its quantities read as a spec's are, in the coherent
set; of one asked backwards, the result as well.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from datumbook.calculator.answers import SENSIBLE
from datumbook.calculator.backwards import ABSOLUTE_ZERO
from datumbook.calculator.equations import (
    BENCH_KINDS,
    BenchEquation,
    BenchError,
    kind_names,
    plain_name,
)
from datumbook.calculator.heat import SAMPLES
from datumbook.formulas import kinds as dimensions
from datumbook.formulas.tracing import parameters
from datumbook.messages.refusals import shown as shortened
from datumbook.numbers.printing import figures
from datumbook.numbers.quantities import Quantity, QuantityFault, read_quantity
from datumbook.numbers.units import coherent_word, exponents, from_coherent, unit

BLANK = "blank"
RESULT = "result"  # what an equation's own result may be called, asked backwards


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

    asked: "" where all arguments are there; else the one that is asked for, and `gives` is what
    the equation is to give with it.
    """

    equation: BenchEquation
    kinds: Mapping[str, str]
    given: Mapping[str, Sequence[TypedValue]]
    asked: str = ""
    gives: TypedValue | None = None

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

    def with_answer(self, value: float, word: str) -> Bench:
        """Return the same with the argument that was asked for, in its place."""
        answer = {self.asked: [TypedValue("", value, word)]}
        every = {
            name: {**self.given, **answer}[name]
            for name in kind_names(self.equation)
            if name != "return"
        }
        return replace(self, given=every)

    @property
    def units_typed(self) -> list[tuple[str, str]]:
        """Kind and unit of every quantity typed."""
        typed = [(self.kinds[name], each) for name, values in self.given.items() for each in values]
        typed += [(self.kinds["return"], self.gives)] if self.gives else []
        return [(kind, each.unit) for kind, each in typed if each.unit is not None]


def read(one: BenchEquation, arguments: Sequence[str]) -> Bench:
    """Return what was typed for an equation, read; BenchError saying which argument is wrong, what
    is wanted, and how.
    """
    typed = _texts(one, arguments)
    result = typed.pop(one.__name__, [])
    lacking = [name for name in kind_names(one) if name not in typed and name != "return"]
    if lacking and not result:
        lacks = f"{one.__name__} lacks {' and '.join(lacking)}. {_wants(one)}"
        raise BenchError(f"{lacks}{_the_other_way(one, lacking)}")
    if result:
        _hold_backwards(one, lacking)
    return _read(one, typed, result[0] if result else None, lacking)


def _texts(one: BenchEquation, arguments: Sequence[str]) -> dict[str, list[str]]:
    """Return parameter -> the texts typed for it, and under the equation's own name its result;
    BenchError for one unknown or typed twice.
    """
    group, wanted = parameters(one)[1], [*_parameter_names(one), one.__name__]
    typed: dict[str, list[str]] = {}
    for argument in arguments:
        word, mark, text = argument.partition("=")
        name = plain_name(word)
        if name == RESULT and RESULT not in wanted:
            name = one.__name__
        if not mark:
            raise BenchError(f'"{shortened(argument)}" is not argument=quantity. {_wants(one)}')
        if name not in wanted:
            raise BenchError(f'{one.__name__} has no argument "{shortened(word)}". {_wants(one)}')
        if name in typed and name != group:
            raise BenchError(f"{name} is given twice. {_wants(one)}")
        typed.setdefault(name, []).extend(text.split(",") if name == group else [text])
    return {name: typed[name] for name in wanted if name in typed}


def _parameter_names(one: BenchEquation) -> list[str]:
    before, group, after = parameters(one)
    return [*before, *([group] if group else []), *after]


def _hold_backwards(one: BenchEquation, lacking: Sequence[str]) -> None:
    """Refuse what cannot be asked backwards: a result in words, not one argument left out, or one
    that is no single number.
    """
    kinds, group = kind_names(one), parameters(one)[1]
    if kinds["return"] == "Words":
        raise BenchError(f"{one.__name__} gives words, which lead back to no one number.")
    if len(lacking) != 1:
        left = f"{' and '.join(lacking)} are left out" if lacking else "none is left out"
        raise BenchError(
            f"{one.__name__} is given, so that one argument is asked for, but {left}: leave "
            f"exactly one out, the one that is asked for. {_wants(one)}"
        )
    if lacking[0] == group or kinds[lacking[0]] == "Words":
        what = "any number of values" if lacking[0] == group else "words"
        raise BenchError(f"{lacking[0]} of {one.__name__} is {what}; ask for another argument.")


def _the_other_way(one: BenchEquation, lacking: Sequence[str]) -> str:
    """That the one argument that lacks can be asked for, where it can."""
    kinds, group = kind_names(one), parameters(one)[1]
    if len(lacking) > 1 or lacking[0] == group or "Words" in {kinds[lacking[0]], kinds["return"]}:
        return ""
    return (
        f"; or leave exactly {lacking[0]} out and give {RESULT}=…, what {one.__name__} is to come "
        f"to, and {lacking[0]} is worked out"
    )


def _wants(one: BenchEquation) -> str:
    """All that an equation wants, in words and as one would type it."""
    wanted = {name: BENCH_KINDS[kind] for name, kind in kind_names(one).items() if name != "return"}
    words = ", ".join(f"{name} ({kind})" for name, (kind, _) in wanted.items())
    examples = SAMPLES.get(one.__name__) or {name: example for name, (_, example) in wanted.items()}
    typed = " ".join(f"{name}={example}" for name, example in examples.items())
    return f"It wants {words}. Write: datumbook work {one.__name__} {typed}"


def _read(
    one: BenchEquation,
    typed: Mapping[str, Sequence[str]],
    result: str | None,
    lacking: Sequence[str],
) -> Bench:
    """Return every value read and in the coherent set; the first measured value sets the kind of
    the others.
    """
    kinds, given = kind_names(one), {name: list[TypedValue]() for name in typed}
    texts = [(name, text) for name, texts in typed.items() for text in texts]
    if result is not None:
        texts.append(("return", result))
        given["return"] = []
    for name, text in texts:
        if kinds[name] == "Words":
            given[name].append(TypedValue(" ".join(text.split()) or BLANK, text.strip()))
        elif name != "return" and not text.strip() and getattr(one, "takes_blanks", False):
            given[name].append(TypedValue(BLANK, math.nan))
        else:
            if kinds[name] == "Measure":
                measured = _kind_measured(_quantity(one, name, "Measure", text))
                kinds = {
                    each: measured if kind == "Measure" else kind for each, kind in kinds.items()
                }
            quantity = _quantity(one, name, kinds[name], text)
            value = quantity.to(coherent(kinds[name]))
            hold_temperature(kinds[name], value, quantity.text)
            given[name].append(TypedValue(quantity.text, value, quantity.unit))
    (gives,) = given.pop("return", [None])
    return Bench(one, kinds, given, lacking[0] if lacking else "", gives)


def hold_temperature(kind: str, value: float, text: str) -> None:
    """Refuse a temperature below absolute zero; BenchError."""
    if kind == "Temperature" and value < ABSOLUTE_ZERO:
        raise BenchError(
            f"{text} is colder than anything can be: absolute zero is {ABSOLUTE_ZERO} °C "
            f"(-459.67 °F). Look at the quantities again."
        )


def _quantity(one: BenchEquation, name: str, kind: str, text: str) -> Quantity:
    """Return the quantity typed for one parameter, or for the result; BenchError naming it and
    what it takes.
    """
    wanted = None if kind == "Measure" else dimensions.dimension(getattr(dimensions, kind))
    try:
        return read_quantity(text.strip(), wanted)
    except QuantityFault as fault:
        said, what = str(fault).rstrip("."), BENCH_KINDS[kind][0]
        wants = f"gives {what}" if name == "return" else f"wants {name} as {what}"
        raise BenchError(f"{one.__name__} {wants}. {said}.") from fault


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


def coherent(kind: str) -> str:
    """Return the unit of the coherent set for a kind; a blank of no known kind is a bare number."""
    return (
        "" if kind == "Measure" else coherent_word(dimensions.dimension(getattr(dimensions, kind)))
    )
