"""Journals: each in two directions at either end, how round and straight it is, and the shells it
runs in.
"""

from __future__ import annotations

from collections.abc import Sequence

from datumbook.cells.columns import Check
from datumbook.cells.tables import Row, Table
from datumbook.equations import bearings
from datumbook.numbers.quantities import Quantity
from datumbook.spec.parts import Journals
from datumbook.standards.fit_rules import fit_rule
from datumbook.stations.received.features import drawn, middle
from datumbook.workbook.layout import Layout

DIRECTIONS = {"vertical": "upright", "horizontal": "level"}
ENDS = ("front", "rear")


def mains_apart(layout: Layout) -> bool:
    """Whether main shells and tunnels are measured apart; else each tunnel with its shells in."""
    parts = layout.spec.parts
    return bool(layout.spec.tunnels and parts and parts.main_journals and parts.main_journals.shell)


def big_ends_apart(layout: Layout) -> bool:
    """Whether big ends and their shells are measured apart; else each big end with its shells
    in.
    """
    parts = layout.spec.parts
    return bool(parts and parts.rods and parts.crankpins and parts.crankpins.shell)


def journal_tables(
    layout: Layout, key: str, words: str, spec: Journals, numbers: Sequence[str]
) -> tuple[Table, Table]:
    """The readings of a row of journals, and what follows for each."""
    return _readings(layout, key, words, spec, numbers), _each(layout, key, words, spec, numbers)


def _readings(
    layout: Layout, key: str, words: str, spec: Journals, numbers: Sequence[str]
) -> Table:
    sizes, how = (
        layout.sizes("parts"),
        "Outside micrometer, a quarter turn apart, clear of oil holes and radii.",
    )
    return Table(
        key=f"{key}s",
        title=f"{words}s",
        heading="Where",
        note="The first journal is the one nearest to cylinder 1.",
        rows=[
            Row(f"{number}.{end}", f"{words} {number}, {end}") for number in numbers for end in ENDS
        ],
        columns=(
            *(
                sizes.reading(name, heading, drawn(spec.size), how)
                for name, heading in DIRECTIONS.items()
            ),
            sizes.result("journal_out_of_round", "out of round", bearings.journal_out_of_round),
            Check(of="journal_out_of_round", limits=spec.out_of_round),
        ),
    )


def _each(layout: Layout, key: str, words: str, spec: Journals, numbers: Sequence[str]) -> Table:
    sizes = layout.sizes("parts")
    everywhere = [f"{key}s.{{row}}.{end}.{name}" for end in ENDS for name in DIRECTIONS]
    tapers = [
        (
            sizes.result(
                f"taper_{name}",
                f"taper {heading}",
                bearings.journal_taper,
                **{end: f"{key}s.{{row}}.{end}.{name}" for end in ENDS},
            ),
            Check(of=f"taper_{name}", limits=spec.taper),
        )
        for name, heading in DIRECTIONS.items()
    ]
    return Table(
        key=key,
        title=f"Each {words.lower()}",
        heading="Journal",
        note="Taper is front less rear. Out of limits decides: grind the whole row to the next "
        "undersize.",
        rows=[Row(number, f"{words} {number}") for number in numbers],
        columns=(
            sizes.result(
                "largest_journal", "largest", bearings.largest_journal, diameters=everywhere
            ),
            Check(of="largest_journal", limits=spec.size),
            *(column for pair in tapers for column in pair),
        ),
    )


def shells(
    layout: Layout, key: str, title: str, spec: Journals, rows: Sequence[Row], *, apart: bool
) -> Table:
    """The shells of a row of housings: their thickness, or the hole that is left with them in."""
    sizes = layout.sizes("parts")
    if apart:
        how = "Ball-ended micrometer at the crown of the shell, never at its thinned ends."
        reading = sizes.reading("shell_thickness", "thickness at the crown", spec.shell, how)
        return Table(
            key=key,
            title=title,
            heading="Housing",
            note="Both halves of a pair are of one thickness.",
            rows=rows,
            columns=(reading,),
        )
    how = "Bore gauge square to the joint, shells in, cap torqued."
    reading = sizes.reading("in_shells", "hole in the shells", _hole(spec), how)
    return Table(
        key=key, title=f"{title}, in place", heading="Housing", rows=rows, columns=(reading,)
    )


def _hole(spec: Journals) -> Quantity:
    """About what the hole in the shells should be: the journal and some room."""
    journal = drawn(spec.size)
    assert journal is not None  # a Band has both ends
    return journal + (
        middle(spec.clearance)
        if spec.clearance is not None
        else journal * fit_rule("journal").middle
    )
