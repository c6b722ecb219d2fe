"""Figures of a spec by their path, as rules ask for them: in one unit, with their ends."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from datumbook.numbers.quantities import Quantity
from datumbook.numbers.units import UnitError
from datumbook.spec import Limit, Spec
from datumbook.spec.positions import Path

PATH_STEP = re.compile(r"(\w+)(\[\])?")
TERM = re.compile(r"(\()?(-)?([0-9.]+ )?([\w.]+)\)?")
LENGTH = "mm"


class Figured(NamedTuple):
    """One figure: where it stands, what it is, and its ends in one unit; one of a limit may be
    missing.
    """

    path: Path
    of: Limit | Quantity
    low: float | None
    high: float | None

    @property
    def ends(self) -> list[tuple[Quantity, float]]:
        """Its ends as written, each with its number; of a size the one it has."""
        if isinstance(self.of, Quantity):
            return [(self.of, self.low or 0.0)]
        both = zip((self.of.low, self.of.high), (self.low, self.high), strict=True)
        return [(end, size) for end, size in both if end is not None and size is not None]

    @property
    def words(self) -> str:
        """The figure as it is written."""
        return self.of.text if isinstance(self.of, Quantity) else self.of.in_words


def figures(spec: Spec, path: str, unit: str = LENGTH) -> Iterator[Figured]:
    """Yield the figures at a path, [] standing for every entry of a list; none where the spec says
    nothing there, or says it in a unit of another kind.
    """
    here: list[tuple[Path, object]] = [((), spec)]
    for step in path.split("."):
        name, many = PATH_STEP.fullmatch(step).groups()  # type: ignore[union-attr]
        there = [((*at, name), getattr(one, name, None)) for at, one in here if one is not None]
        if many:
            there = [
                ((*at, place), one)
                for at, each in there
                for place, one in enumerate(each if isinstance(each, tuple) else ())
            ]
        here = there
    for at, one in here:
        if isinstance(one, Limit | Quantity) and (found := figured(at, one, unit)):
            yield found


def figured(path: Path, of: Limit | Quantity, unit: str = LENGTH) -> Figured | None:
    """Return a figure with its ends in a unit; None where it is of another kind."""
    low, high = (of, of) if isinstance(of, Quantity) else (of.low, of.high)
    try:
        return Figured(path, of, *(None if end is None else end.to(unit) for end in (low, high)))
    except UnitError:
        return None


def figure_at(spec: Spec, path: str, unit: str = LENGTH) -> Figured | None:
    """Return the one figure at a path; None where there is none."""
    return next(figures(spec, path, unit), None)


def term(spec: Spec, text: str) -> tuple[float, float] | None:
    """Return the smallest and the largest a term of a sum may be, in mm; None where its figure is
    missing and the sum cannot do without.
    """
    optional, minus, times, path = TERM.fullmatch(text).groups()  # type: ignore[union-attr]
    found = figure_at(spec, path)
    if found is None or found.low is None or found.high is None:
        return (0.0, 0.0) if optional else None
    share = float(times or 1) * (-1 if minus else 1)
    low, high = sorted((found.low * share, found.high * share))
    return low, high
