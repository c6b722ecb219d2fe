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

from datumbook.equations.clearances import oil_clearance
from datumbook.equations.pistons import piston_clearance
from datumbook.formulas.functions import at_least, at_most
from datumbook.numbers.printing import Printer
from datumbook.optimise.best_pairs import best_pairs
from datumbook.stations.decided.journals import big_ends_apart, mains_apart
from datumbook.validator import Validation
from datumbook.workbook.layout import Layout

SIZES = ("tunnel_size", "shell_thickness", "journal")


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
    """Every kind of part that is measured with its places; those with a size missing are left
    out.
    """
    layout = validation.layout
    if layout is None or layout.spec.parts is None:
        return []
    values = {key: value for key, value in validation.values.items() if isinstance(value, float)}
    return [one for one in (_pistons(layout, values), *_shells(layout, values)) if one is not None]


def _pairing(
    layout: Layout,
    values: Mapping[str, float],
    words: tuple[str, str, str],
    check: str,
    clearances: Sequence[Sequence[float]],
) -> Pairing:
    """The best pairing of one kind, held to the limits of its check."""
    held = next(one for one in layout.checks if one.key == check)
    low, high = (values.get(end) if end else None for end in (held.low, held.high))
    ends = [end for end in (low, high) if end is not None]
    aim = fmean(ends) if len(ends) == 2 else fmean(each for row in clearances for each in row)
    return Pairing(*words, clearances, best_pairs(clearances, aim), low, high)


def _pistons(layout: Layout, values: Mapping[str, float]) -> Pairing | None:
    keys = [
        (f"bore_fits.{number}.bore", f"pistons.{number}.piston") for number in layout.cylinders()
    ]
    sizes = _all(values, keys)
    if not sizes:
        return None
    clearances = [[piston_clearance(bore, piston) for _, piston in sizes] for bore, _ in sizes]
    return _pairing(
        layout,
        values,
        ("Pistons to bores", "piston", "bore"),
        "bore_fits.1.piston_clearance",
        clearances,
    )


def _shells(layout: Layout, values: Mapping[str, float]) -> Iterator[Pairing | None]:
    mains, ends = range(1, layout.spec.engine.bearing_caps + 1), layout.cylinders()
    for key, words, place, numbers, apart in (
        ("main", "Main shells to housings", "main", mains, mains_apart(layout)),
        ("big_end", "Big end shells to rods", "rod", ends, big_ends_apart(layout)),
    ):
        table = f"{key}_clearances"
        keys = [
            tuple(
                f"{table}.{number}.{name}" for name in ("tunnel_size", "shell_thickness", "journal")
            )
            for number in numbers
        ]
        sizes = _all(values, keys) if apart else []
        if not sizes:
            continue
        clearances = [
            [oil_clearance(hole, shell, journal) for _, shell, _ in sizes]
            for hole, _, journal in sizes
        ]
        yield _pairing(
            layout, values, (words, "pair of shells", place), f"{table}.1.clearance", clearances
        )


def _all(values: Mapping[str, float], keys: Sequence[Sequence[str]]) -> list[list[float]]:
    """The numbers of these keys row by row; empty unless all are there and there is more than one
    row to choose from.
    """
    if len(keys) < 2 or not all(one in values for row in keys for one in row):
        return []
    return [[values[one] for one in row] for row in keys]


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
