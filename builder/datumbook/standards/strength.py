"""Strength grades of bolts and studs by size, and the shear strength of grey iron."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from datumbook.numbers.quantities import Quantity
from datumbook.standards import table
from datumbook.standards.thread_rows import in_words
from datumbook.standards.threads import METRIC, UNIFIED, Thread

STRENGTH_BY_SYSTEM = {"in": UNIFIED, "mm": METRIC}
WORDS_BEFORE = re.compile(
    r"^(sae|j429|astm|a193|class|grade|property class|iso|gr\.?)\s*", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class Strength:
    """What a grade promises of one size: proof, yield and tensile strength, no proof where its
    standard has none; `conflict` says where sources disagree.
    """

    grade: str
    proof: Quantity | None
    yielding: Quantity
    tensile: Quantity
    source: str
    conflict: str


def grades() -> list[str]:
    """Return the names of the grades, inch ones first."""
    return [row["name"] for row in table("strength")["grade"]]


def strength(grade: str, thread: Thread) -> Strength:
    """Return what a grade promises of this size; LookupError naming what the table holds.

    Written `SAE 5`, `grade 5`, `8.8` or `class 8.8`.
    """
    row = _grade(grade)
    if thread.family not in STRENGTH_BY_SYSTEM[row["sizes"]]:
        kind = "unified" if row["sizes"] == "in" else "metric"
        others = [
            name for name in grades() if thread.family in STRENGTH_BY_SYSTEM[_grade(name)["sizes"]]
        ]
        remedy = f"choose from {', '.join(others)}" if others else "give its proof strength itself"
        raise LookupError(
            f'"{grade}" grades {kind} threads, and {thread.designation} is none; {remedy}.'
        )
    for sizes in row["rows"]:
        if Fraction(sizes["from"]) <= thread.major <= Fraction(sizes["to"]):
            return _strength(row, sizes)
    known = ", ".join(
        f"{_size(one['from'], row)} to {_size(one['to'], row)} {row['sizes']}"
        for one in row["rows"]
    )
    raise LookupError(
        f'"{grade}" says nothing of {thread.designation}: its table holds {known}; give the proof '
        f"strength itself."
    )


def iron_shear_ratio() -> tuple[Fraction, str, str]:
    """Return the shear strength of grey iron over its tensile strength, where that comes from and
    who disagrees.
    """
    row = table("strength")["iron_shear_ratio"]
    return Fraction(row["value"]), row["source"], row["conflict"]


def _grade(written: str) -> dict[str, Any]:
    name = " ".join(written.split())
    while (shorter := WORDS_BEFORE.sub("", name)) != name:
        name = shorter
    for row in table("strength")["grade"]:
        if name.casefold() == row["name"].rpartition(" ")[2].casefold():
            return dict(row)
    raise LookupError(
        f'"{written}" is no strength grade known here; the table holds {", ".join(grades())}.'
    )


def _strength(row: dict[str, Any], sizes: dict[str, str]) -> Strength:
    return Strength(
        grade=row["name"],
        proof=_stress(sizes["proof"], row["unit"]) if "proof" in sizes else None,
        yielding=_stress(sizes["yield"], row["unit"]),
        tensile=_stress(sizes["tensile"], row["unit"]),
        source=row["source"],
        conflict=row.get("conflict", ""),
    )


def _size(written: str, row: dict[str, Any]) -> str:
    return in_words(Fraction(written)) if row["sizes"] == "in" else written


def _stress(number: str, unit: str) -> Quantity:
    return Quantity(Fraction(number), unit, 0, f"{number} {unit}")
