"""How stiff materials are and how they grow with heat where a spec says nothing: each figure with
its source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.standards import table

FIGURES = ("modulus", "poisson", "expansion", "cold expansion", "hot expansion")


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of a material: the value used, the range its sources give, where it comes from and
    who disagrees.

    `low` and `high` are the value itself where only one figure was found; `conflict` is "" where no
    source disagrees; `known` is how this project knows it: "opened", "reproduced" or "from memory".
    """

    material: str
    what: str
    value: Quantity
    low: Quantity
    high: Quantity
    source: str
    known: str
    conflict: str


def figure(material: str, what: str) -> Figure:
    """Return one of FIGURES for a material; LookupError naming what the table holds.

    >>> figure("grey iron", "expansion").value.text, figure("steel", "modulus").value.to("MPa")
    ('10.8e-6 1/degC', 207000.0)
    """
    if what not in FIGURES:
        raise LookupError(f'"{what}" is not a figure of a material; ask for {", ".join(FIGURES)}.')
    rows = [row for row in table("materials")["figure"] if row["what"] == what]
    for row in rows:
        if material in _names(row):
            return _figure(material, row)
    known = dict.fromkeys(name for row in rows for name in _names(row))
    raise LookupError(
        f'No {what} is known for "{material}": the table holds {", ".join(known)}; give a figure '
        f"of your own in the spec."
    )


def all_figures() -> list[Figure]:
    """Return every figure of the table, in its order."""
    return [_figure(name, row) for row in table("materials")["figure"] for name in _names(row)]


def _names(row: dict[str, Any]) -> list[str]:
    return [str(name) for name in row.get("materials", [row.get("material")])]


def _figure(material: str, row: dict[str, Any]) -> Figure:
    return Figure(
        material=material,
        what=row["what"],
        value=read_quantity(row["value"]),
        low=read_quantity(row.get("from", row["value"])),
        high=read_quantity(row.get("to", row["value"])),
        source=row["source"],
        known=row["known"],
        conflict=row.get("conflict", ""),
    )
