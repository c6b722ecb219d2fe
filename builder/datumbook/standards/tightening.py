"""What friction makes of a torque by the surface, and how far clamp strays by the method."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from datumbook.standards import row_called, table
from datumbook.standards.strength import iron_shear_ratio


@dataclass(frozen=True, slots=True)
class Friction:
    """A nut factor K for a surface: what is used, the range that sources give, where it comes from
    and who disagrees; `strays` is the surface by which its torque scatters.
    """

    name: str
    nut_factor: Fraction
    low: Fraction
    high: Fraction
    source: str
    conflict: str
    strays: str


@dataclass(frozen=True, slots=True)
class Scatter:
    """How far clamp strays by one method, as a share either way; `surface` is "" where the method
    does not ask for it; `by` is what the clamp is reckoned from: torque, angle, stretch, or aim.
    """

    name: str
    by: str
    surface: str
    share: Fraction
    source: str
    conflict: str

    @property
    def said(self) -> str:
        """The method in words, with its surface where it asks for one.

        >>> clamp_scatter("torque", "dry").said, clamp_scatter("torque").said
        ('torque, dry', 'torque, surface not named')
        """
        surface = "surface not named" if self.surface == "any" else self.surface
        return f"{self.name}, {surface}" if surface else self.name


def surfaces() -> list[Friction]:
    """Return the surfaces whose nut factor is known."""
    return [_friction(row) for row in table("tightening")["surface"]]


def friction(surface: str) -> Friction:
    """Return the nut factor of a surface; LookupError naming the surfaces that are known.

    >>> friction("dry").nut_factor
    Fraction(1, 5)
    """
    return row_called(
        surface.strip().lower(),
        surfaces(),
        "is no surface whose nut factor is known: give a figure of your own, or one of",
    )


def scatters() -> list[Scatter]:
    """Return how far clamp strays by every method, of a torque by every surface."""
    return [_scatter(row) for row in table("tightening")["method"]]


def clamp_scatter(method: str = "torque", surface: str | None = None) -> Scatter:
    """Return how far clamp strays by a method, of a torque by its surface where that is said;
    LookupError naming the methods or the surfaces that are known.

    >>> clamp_scatter("torque", "dry").share, clamp_scatter("angle").share
    (Fraction(7, 20), Fraction(3, 20))
    """
    known = {one.name: one for one in scatters()}
    found = row_called(method.strip().lower(), known.values(), "is no way of tightening: one of")
    if not found.surface:
        return found
    strays = friction(surface).strays if surface else "any"
    return next(one for one in scatters() if (one.name, one.surface) == (found.name, strays))


def incomplete_end() -> tuple[Fraction, str]:
    """Return how many pitches at a bolt's end are no full thread, and where that comes from."""
    row = table("tightening")["incomplete_end"]
    return Fraction(row["value"]), row["source"]


def disputed(parameter: str) -> list[str]:
    """Return where sources disagree on a figure that an equation asks for by this name; nothing for
    any other.

    >>> disputed("nut_factor")[1]
    'dry: a supplier has 0.20, another 0.18 to 0.27, Shigley (table 8-15) 0.30 for a black bolt'
    """
    if parameter in ("shear_strength", "shear_ratio"):
        return [f"grey iron: {iron_shear_ratio()[2]}"]
    if parameter == "nut_factor":
        return [f"{one.name}: {one.conflict}" for one in surfaces() if one.conflict]
    if parameter == "scatter":
        return [f"{one.said}: {one.conflict}" for one in scatters() if one.conflict]
    return []


def _friction(row: dict[str, Any]) -> Friction:
    return Friction(
        name=row["name"],
        nut_factor=Fraction(row["value"]),
        low=Fraction(row["low"]),
        high=Fraction(row["high"]),
        source=row["source"],
        conflict=row["conflict"],
        strays=row["strays"],
    )


def _scatter(row: dict[str, Any]) -> Scatter:
    return Scatter(
        name=row["name"],
        by=row["by"],
        surface=row.get("surface", ""),
        share=Fraction(row["value"]),
        source=row["source"],
        conflict=row.get("conflict", ""),
    )
