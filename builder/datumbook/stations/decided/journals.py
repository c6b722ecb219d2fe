"""Journals: each in two directions at either end, how round and straight it is, and the shells it
runs in.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, limited
from datumbook.cells.handles import row_key
from datumbook.cells.tables import Row, Table
from datumbook.equations import bearings
from datumbook.numbers.quantities import Quantity
from datumbook.spec.parts import Journals
from datumbook.standards.fit_rules import fit_rule
from datumbook.stations.received.features import TwoPointSizes, drawn, middle, two_point_held
from datumbook.stations.received.tunnels import ENDS

JOURNAL_DIRECTIONS = {"vertical": "upright", "horizontal": "level"}


def mains_apart(basis: Basis) -> bool:
    """Whether main shells and tunnels are measured apart; else each tunnel with its shells in."""
    parts = basis.spec.parts
    return bool(basis.spec.tunnels and parts and parts.main_journals and parts.main_journals.shell)


def big_ends_apart(basis: Basis) -> bool:
    """Whether big ends and their shells are measured apart; else each big end with its shells
    in.
    """
    parts = basis.spec.parts
    return bool(parts and parts.rods and parts.crankpins and parts.crankpins.shell)


class Shells(Table):
    """The shells of a row of housings: their thickness, or the hole that is left with them in."""

    shell_thickness: Column | None
    in_shells: Column | None


class JournalRow:
    """The readings of a row of journals, what follows for each, and the shells they run in."""

    def __init__(
        self,
        basis: Basis,
        key: str,
        words: str,
        spec: Journals,
        numbers: Sequence[int],
        shells: Shells,
    ) -> None:
        self.sizes, self.spec, self.shells = basis.sizes("parts"), spec, shells
        self.readings = self._readings(key, words, numbers)
        self.each = TwoPointSizes(
            key=key,
            title=f"Each {words.lower()}",
            heading="Journal",
            note="Taper is front less rear. Out of limits decides: grind the whole row to the next "
            "undersize.",
            rows=[Row(str(number), f"{words} {number}") for number in numbers],
            columns=tuple(self._each_columns()),
        )

    def parts(self) -> tuple[Table, ...]:
        """The tables of this row of journals."""
        return self.readings, self.each, self.shells

    def _readings(self, key: str, words: str, numbers: Sequence[int]) -> Table:
        sizes, near = self.sizes, drawn(self.spec.size)
        how = "Outside micrometer, a quarter turn apart, clear of oil holes and radii."
        return Table(
            key=f"{key}s",
            title=f"{words}s",
            heading="Where",
            note="The first journal is the one nearest to cylinder 1.",
            rows=[
                Row(row_key(number, end), f"{words} {number}, {end}")
                for number in numbers
                for end in ENDS
            ],
            columns=(
                *(
                    sizes.reading(name, said, near, how)
                    for name, said in JOURNAL_DIRECTIONS.items()
                ),
                *limited(
                    sizes.result(
                        "journal_out_of_round", "out of round", bearings.journal_out_of_round
                    ),
                    self.spec.out_of_round,
                ),
            ),
        )

    def _each_columns(self) -> Iterator[Column | Check]:
        read = {name: self.readings.column(name) for name in JOURNAL_DIRECTIONS}
        yield from two_point_held(
            self.sizes,
            lambda row: [one[row, end] for end in ENDS for one in read.values()],
            self.spec.size,
        )
        for name, words in JOURNAL_DIRECTIONS.items():
            yield from limited(
                self.sizes.result(
                    f"taper_{name}",
                    f"taper {words}",
                    bearings.journal_taper,
                    front=read[name].at("front"),
                    rear=read[name].at("rear"),
                ),
                self.spec.taper,
            )


def shells(
    basis: Basis, key: str, title: str, spec: Journals, rows: Sequence[Row], *, apart: bool
) -> Shells:
    """The shells of a row of housings, measured apart from them or in place."""
    sizes, note = basis.sizes("parts"), ""
    if apart:
        how = "Ball-ended micrometer at the crown of the shell, never at its thinned ends."
        reading = sizes.reading("shell_thickness", "thickness at the crown", spec.shell, how)
        note = "Both halves of a pair are of one thickness."
    else:
        how = "Bore gauge square to the joint, shells in, cap torqued."
        reading = sizes.reading("in_shells", "hole in the shells", _hole(spec), how)
        title = f"{title}, in place"
    return Shells(key=key, title=title, heading="Housing", note=note, rows=rows, columns=(reading,))


def _hole(spec: Journals) -> Quantity:
    """About what the hole in the shells should be: the journal and some room."""
    journal = drawn(spec.size)
    return journal + (
        middle(spec.clearance)
        if spec.clearance is not None
        else journal * fit_rule("journal").middle
    )
