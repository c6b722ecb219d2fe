"""How an answer is printed at the bench: in the units of the trade, those it was asked in first."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence

from datumbook.numbers.printing import PLAINEST, Printer, figures, with_unit
from datumbook.numbers.units import COUNT, from_coherent

# kind -> the units it is printed in, each with its decimals; of two, the usual one stands first
SENSIBLE: dict[str, tuple[tuple[str, int], ...]] = {
    "Length": (("in", 4), ("mm", 3)),
    "Area": (("in**2", 4), ("mm**2", 2)),
    "Volume": (("cm**3", 2), ("in**3", 3)),
    "Ratio": (("", 4),),
    "Share": (("%", 2), ("", 4)),
    "Count": ((COUNT, 0),),
    "Angle": (("deg", 2), ("rad", 4)),
    "Force": (("kN", 2), ("lbf", 0)),
    "Torque": (("N*m", 1), ("lbf*ft", 1)),
    "Stress": (("MPa", 1), ("ksi", 2)),
    "Stiffness": (("kN/mm", 1), ("lbf/in", 0)),
    "Mass": (("g", 1), ("oz", 3)),
    "Unbalance": (("g*mm", 1), ("oz*in", 3)),
    "SpindleSpeed": (("1/min", 1),),
    "CuttingSpeed": (("m/min", 1), ("ft/min", 1)),
    "Temperature": (("degC", 1), ("degF", 1)),
    "Expansion": (("1/degC", 7), ("1/degF", 7)),
}
INCH_WORDS = {"in", "ft", "thou", "lbf", "psi", "ksi", "degF", "oz", "lb"}
METRIC_WORDS = {"mm", "cm", "m", "um", "N", "kN", "MPa", "GPa", "degC", "g", "kg"}
ODD_UNIT_FIGURES = 6  # of a number in a unit that the trade's table does not have


def printed_in(kind: str, typed: Iterable[tuple[str, str]]) -> tuple[tuple[str, int | None], ...]:
    """Return the units that an answer of a kind is printed in, each with its decimals.

    typed: kind and unit of every quantity it was asked with. All in inches put the inch units
    first, all in metric units the metric ones; a unit in which every quantity of the answer's own
    kind was typed, and which the trade's table has not, stands before them (its decimals: None).

    >>> printed_in("Length", [("Length", "mm"), ("Angle", "deg")])
    (('mm', 3), ('in', 4))
    """
    words = list(typed)
    systems = {system for _, word in words if (system := _system(word))}
    ordered = sorted(SENSIBLE[kind], key=lambda each: {_system(each[0])} != systems)
    own = {word for of, word in words if of == kind}
    others = own - {word for word, _ in ordered} if len(own) == 1 else ()
    return (*((word, None) for word in others), *ordered)


def _system(word: str) -> str:
    """The system a unit is of, "" where both have it."""
    parts = set(re.findall("[A-Za-z]+", word))
    return "inch" if parts & INCH_WORDS else "metric" if parts & METRIC_WORDS else ""


def printed(kind: str, value: float, units: Sequence[tuple[str, int | None]]) -> str:
    """Return a value of the coherent set in each of these units.

    >>> printed("Length", 12.7, printed_in("Length", []))
    '0.5000 in = 12.700 mm'
    """
    if kind == "Measure":
        return figures(value, 10)
    return " = ".join(
        _quantity_in(kind, from_coherent(value, word), word, places) for word, places in units
    )


def _quantity_in(kind: str, value: float, word: str, places: int | None) -> str:
    """Return a number with its unit and its usual places, and where it is below 1 with enough of
    them for three figures.
    """
    size = abs(value)
    if kind == "Count" or places is None or size >= PLAINEST or 0 < size < 1 / PLAINEST:
        return with_unit(figures(value, 10 if kind == "Count" else ODD_UNIT_FIGURES), word)
    if 0 < size < 1:
        places = max(places, 2 - math.floor(math.log10(size)))
    return Printer(word, places).quantity(value)
