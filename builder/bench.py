"""One equation worked at the bench: `drill_chart_thread major=5/16in hole=17/64in pitch=1/24in`.

The quantities are read as a spec's are and turned exactly into the coherent set; the plain equation is called; the
formula is spelled as a workbook would spell it, with the numbers in the places of the cells.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from builder.bench_equations import KINDS, BenchError, Equation, equation, explain, kind_names, meaning, plain_name
from builder.bench_threads import thread_card
from builder.formula import Cell
from builder.functions import half_up
from builder.kinds import kinds_of
from builder.quantities import QuantityFault, read_quantity
from builder.refusals import shown as shortened
from builder.sources import source_of
from builder.spelling import Address, in_words, spell
from builder.tracing import DimensionError, called, parameters, trace_open
from builder.units import coherent_word, exponents, from_coherent, shown, to_coherent, unit

__all__ = ["BenchError", "explain", "thread_card", "work"]

SENSIBLE: dict[str, tuple[tuple[str, int], ...]] = {  # kind -> the units it is printed in, each with its decimals
    "Length": (("in", 4), ("mm", 3)),
    "Area": (("in**2", 4), ("mm**2", 2)),
    "Volume": (("cm**3", 2), ("in**3", 3)),
    "Ratio": (("", 4), ("%", 2)),
    "Count": (("", 0),),
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


@dataclass(frozen=True, slots=True)
class Given:
    """One value as typed: its text, its unit (None for words), and what the plain equation is called with."""

    text: str
    unit: str | None
    value: float | str

    @property
    def in_formula(self) -> str:
        """The value as it stands in the formula: its number in its own unit, or its words in quotes."""
        if self.unit is None:
            return f'"{self.value}"'
        if isinstance(self.value, str) or math.isnan(self.value):
            return BLANK
        number = f"{from_coherent(self.value, self.unit):.6g}"
        return f"({number})" if number.startswith("-") else number


Group = Mapping[str, Sequence[Given]]


def work(name: str, arguments: Sequence[str]) -> str:
    """Return an equation worked with quantities typed as argument=quantity: the result, its formula, its source.

    A group takes several, `corners=9.1in,9.2in` or `corners=` more than once; an equation that is asked even when
    cells are missing takes `value=` for a blank. BenchError says which argument is wrong, what is wanted, and how.
    """
    one = equation(name)
    given = _read(one, _typed(one, arguments))
    kind = _result_kind(one, given)
    result = _worked(one, given)
    return "\n".join(_told(one, given, kind, result))


def _typed(one: Equation, arguments: Sequence[str]) -> dict[str, list[str]]:
    """Return parameter -> the texts typed for it; BenchError for one unknown, typed twice, or missing."""
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
            raise BenchError(f"{name} is given twice: give it once. {_wants(one)}")
        typed.setdefault(name, []).extend(text.split(",") if name == group else [text])
    if lacking := [name for name in wanted if name not in typed]:
        raise BenchError(f"{one.__name__} lacks {' and '.join(lacking)}. {_wants(one)}")
    return {name: typed[name] for name in wanted}


def _wants(one: Equation) -> str:
    """All that an equation wants, in words and as one would type it."""
    kinds = kind_names(one)
    words = ", ".join(f"{name} ({KINDS[kind][0]})" for name, kind in kinds.items() if name != "return")
    typed = " ".join(f"{name}={KINDS[kind][1]}" for name, kind in kinds.items() if name != "return")
    return f"It wants {words}: datumbook work {one.__name__} {typed}"


def _read(one: Equation, typed: Mapping[str, Sequence[str]]) -> Group:
    """Return every value read and in the coherent set; a measured value sets the kind of those after it."""
    kinds, dimensions, measured = kind_names(one), dict(kinds_of(one)), None
    blanks = getattr(one, "takes_blanks", False)
    given: dict[str, list[Given]] = {}
    for name, texts in typed.items():
        kind = measured or kinds[name] if kinds[name] == "Measure" else kinds[name]
        given[name] = [_value(one, name, kind, dimensions[name], text, blanks) for text in texts]
        if kind == "Measure":
            measured = next((_kind_of(one, name, each) for each in given[name] if not _missing(each)), None)
            given[name] = [_value(one, name, measured or kind, "any", text, blanks) for text in texts]
    return given


def _value(one: Equation, name: str, kind: str, dimension: str, text: str, blanks: bool) -> Given:
    if kind == "Words":
        return Given(text, None, text.strip())
    if blanks and not text.strip():
        return Given(BLANK, "", math.nan)
    wanted = {"Angle": "angle", "Measure": None}.get(kind, _dimension(kind) if dimension == "any" else dimension)
    try:
        quantity = read_quantity(text.strip(), wanted)
        coherent = coherent_word(unit(quantity.unit).dimension) if wanted is None or wanted == "angle" else None
        value = quantity.to(coherent if coherent is not None else coherent_word(wanted or ""))
    except (QuantityFault, StopIteration, OverflowError) as fault:
        said = str(fault) or f'"{shortened(text)}" is nothing that a block is measured in'
        raise BenchError(f"{one.__name__} wants {name} as {KINDS[kind][0]}. {said.rstrip('.')}.") from fault
    return Given(" ".join(text.split()), quantity.unit, value)
