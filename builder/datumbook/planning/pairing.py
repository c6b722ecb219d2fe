"""Selective fitting: which piston to which bore, which shells to which journal, so that the
clearances lie closest together.

A suggestion from what the book holds today, never written into it. The sum of the squares of what
each clearance is off the middle of its limits is made least; where no limits are known, off the
mean of all.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import fmean

from datumbook.cells.columns import Column
from datumbook.cells.handles import Handle
from datumbook.cells.tables import Table
from datumbook.equations.clearances import oil_clearance
from datumbook.equations.pistons import piston_clearance
from datumbook.formulas.functions import at_least, at_most
from datumbook.numbers.printing import Printer
from datumbook.optimise.best_pairs import best_pairs
from datumbook.stations.finished.bore_fits import BoreFits
from datumbook.stations.finished.fits import Fits
from datumbook.validator import Validation
from datumbook.workbook.layout import Layout

LARGEST_PART = 1e6  # mm: a size beyond it is a slip, which the validator tells


@dataclass(frozen=True)
class Pairing:
    """One kind of part and its places: the clearance of every part in every place, and who goes
    where.

    `clearances[place][part]`; `order` holds for each place the number of its part.
    """

    words: str
    part: str
    place: str
    clearances: Sequence[Sequence[float]]
    order: Sequence[int]
    low: float | None
    high: float | None

    def given(self) -> list[float]:
        """The clearances in the order given."""
        return [row[place] for place, row in enumerate(self.clearances)]

    def found(self) -> list[float]:
        """The clearances as suggested."""
        return [row[part] for row, part in zip(self.clearances, self.order, strict=True)]

    def within(self, clearance: float) -> bool:
        """Whether a clearance keeps both limits."""
        low, high = self.low, self.high
        return (low is None or at_least(clearance, low)) and (
            high is None or at_most(clearance, high)
        )


def pairings(validation: Validation) -> list[Pairing]:
    """Every kind of part that is measured with its places; those with a size missing, or one that
    cannot be, are left out.
    """
    layout = validation.layout
    if layout is None or layout.stations.fits is None:
        return []
    values = {
        key: value
        for key, value in validation.values.items()
        if isinstance(value, float) and abs(value) < LARGEST_PART
    }
    fits, parts = layout.stations.fits, layout.stations.parts
    bores, pistons = fits.bores.each, parts.pistons if parts else None
    paired = _pistons(layout, values, bores, pistons.piston) if bores and pistons else ()
    return [*paired, *_shells(layout, values, fits)]


def _pairing(
    layout: Layout,
    values: Mapping[str, float],
    words: tuple[str, str, str],
    check: Handle,
    clearances: Sequence[Sequence[float]],
) -> Pairing:
    """The best pairing of one kind, held to the limits of its check."""
    held = next(one for one in layout.checks if one.key == check["1"])
    low, high = (values.get(end) if end else None for end in (held.low, held.high))
    ends = [end for end in (low, high) if end is not None]
    aim = fmean(ends) if len(ends) == 2 else fmean(each for row in clearances for each in row)
    return Pairing(*words, clearances, best_pairs(clearances, aim), low, high)


def _pistons(
    layout: Layout, values: Mapping[str, float], fits: BoreFits, piston: Column
) -> Iterator[Pairing]:
    sizes = _sizes(values, fits, fits.bore, piston)
    if sizes and fits.piston_clearance is not None:
        clearances = [[piston_clearance(bore, one) for _, one in sizes] for bore, _ in sizes]
        words = ("Pistons to bores", "piston", "bore")
        yield _pairing(layout, values, words, fits.piston_clearance, clearances)


def _shells(layout: Layout, values: Mapping[str, float], every: Fits) -> Iterator[Pairing]:
    named = {
        "main": ("Main shells to housings", "pair of shells", "main"),
        "big_end": ("Big end shells to rods", "pair of shells", "rod"),
    }
    for key, fits in every.running.oil.items():
        sizes = _sizes(values, fits, fits.tunnel_size, fits.shell_thickness, fits.journal)
        if sizes:
            clearances = [
                [oil_clearance(hole, shell, journal) for _, shell, _ in sizes]
                for hole, _, journal in sizes
            ]
            yield _pairing(layout, values, named[key], fits.clearance, clearances)


def _sizes(values: Mapping[str, float], fits: Table, *columns: Handle | None) -> list[list[float]]:
    """The sizes in these columns, row by row; empty unless all are there and there is more than
    one row to choose from.
    """
    rows = [[values.get(one[row.key]) if one else None for one in columns] for row in fits.rows]
    sizes = [[size for size in row if size is not None] for row in rows]
    return sizes if len(rows) > 1 and sizes == rows else []


def pairing_lines(validation: Validation) -> list[str]:
    """The suggestions in plain text, line by line; none where nothing can be paired."""
    found = pairings(validation)
    if not found or validation.layout is None:
        return []
    measure = Printer(validation.layout.unit_of("parts"), validation.layout.decimals_of("parts"))
    return [
        "",
        "Which part goes where (a suggestion; nothing in the book changes)",
        *_told(found, measure),
    ]


def _told(found: Sequence[Pairing], measure: Printer) -> Iterator[str]:
    for one in found:
        given, best = one.given(), one.found()
        before, after = (measure.quantity(max(each) - min(each)) for each in (given, best))
        if list(one.order) == list(range(len(best))):
            yield (
                f"  {one.words}: as they are; clearances {_range(given, measure)}, spread {before}"
            )
        else:
            yield f"  {one.words}: spread {after}, in the order given {before}"
            for place, (part, clearance) in enumerate(zip(one.order, best, strict=True), 1):
                said = f"{measure.beside(clearance, one.low, one.high)}{_beyond(one, clearance)}"
                yield f"    {one.place} {place}: {one.part} {part + 1}, clearance {said}"
        if any(_beyond(one, each) for each in best):
            yield f"    No order keeps every clearance {measure.limits(one.low, one.high)}."


def _range(clearances: Sequence[float], measure: Printer) -> str:
    return f"{measure.quantity(min(clearances))} to {measure.quantity(max(clearances))}"


def _beyond(one: Pairing, clearance: float) -> str:
    return "" if one.within(clearance) else ", beyond its limits"
