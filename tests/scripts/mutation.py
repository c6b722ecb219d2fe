"""Every single change of a cell of a workbook, made in memory: is it found, or does the verdict
change with it?

    python tests/scripts/mutation.py [FIRST [LAST [FILES]]]     from the project's folder: changes
    FIRST to LAST - 1, and FILES by file

The first sixth of the changes holds one of every cell, each further sixth another kind of each.
Prints every 500 changes how far it is, so that a run can be ended and taken up again.

A change matters where it can change a check's truth: any change of a formula or of a figure of the
spec, and a change of a reading or of words that some verdict then differs with. The score is the
share of those that is found: some finding more or less than before, or another verdict of a check
or of the book.

    python tests/scripts/mutation.py told [FIRST [LAST]]     the same changes of a smaller book,
    counted by how each is told: as damage, as a reading or check, as a note, or not at all
"""

from __future__ import annotations

import random
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any
from unittest.mock import patch

PROJECT = Path(__file__).resolve().parents[2]
sys.path[:0] = [
    str(PROJECT / "builder"),
    str(PROJECT / "tests" / "support"),
    str(PROJECT / "tests" / "scripts"),
]

from clean_readings import demo_book, told  # noqa: E402
from damaged_books import with_cell  # noqa: E402
from datumbook.readers import Book, FoundCell, address_of, open_book  # noqa: E402
from datumbook.readers.looks import WHITE  # noqa: E402
from datumbook.readers.rules import CellArea, ColourRule, EntryRule  # noqa: E402
from datumbook.validator import Validation, validate  # noqa: E402
from datumbook.validator.recognise.recognition import recognise  # noqa: E402
from datumbook.workbook.evaluation import reckon  # noqa: E402
from datumbook.workbook.layout import Layout  # noqa: E402
from datumbook.workbook.record import SHEET  # noqa: E402
from datumbook.writer import write  # noqa: E402
from foreign_saves import honest_readings, small_layout  # noqa: E402
from stored_books import StoredXlsx  # noqa: E402

KINDS = ("number", "text", "formula", "blank", "format", "ink")
OF_LOOKS = ("format", "ink")
LYING = '"0.001";"0.001";"0.001";"0.001"'
STEP = 500


@dataclass(frozen=True)
class Mutant:
    """One cell that holds something else."""

    sheet: str
    at: tuple[int, int]
    kind: str
    cell: FoundCell | None


def mutants(book: Book) -> Iterator[Mutant]:
    """Every change of every stored cell outside the hidden record, whose own checksums are tested
    elsewhere.
    """
    for name, sheet in book.sheets.items():
        for at, cell in sheet.cells.items() if name != SHEET else ():
            for kind in KINDS:
                yield Mutant(name, at, kind, changed(cell, kind))


def in_passes(everything: list[Mutant]) -> list[Mutant]:
    """The same changes, every cell once before any cell twice."""
    count = len(KINDS)
    cells = [everything[first : first + count] for first in range(0, len(everything), count)]
    return [
        cell[(place + turn) % count] for turn in range(count) for place, cell in enumerate(cells)
    ]


def changed(cell: FoundCell, kind: str) -> FoundCell | None:
    """A cell after one change of this kind: never what it was."""
    if kind == "blank":
        return None
    if kind == "format":
        return cell._replace(look=cell.look._replace(number_format=LYING))
    if kind == "ink":
        return cell._replace(look=cell.look._replace(ink=(cell.look.grounds or (WHITE,))[0]))
    if kind == "number":
        return cell._replace(
            value=cell.value + 1.0 if type(cell.value) is float else 0.125, formula=None
        )
    if kind == "text":
        return cell._replace(value=f"{cell.value or ''}x", formula=None)
    return cell._replace(formula=f"({cell.formula})+0.001" if cell.formula else "1+1")


class Judge:
    """Validates changed copies of one workbook without a file, laid out once."""

    def __init__(self, path: Path) -> None:
        self.path, self.book = path, open_book(path)
        self.recognised = recognise(self.book)
        self.readings: dict[str, object] | None = None
        self.values: dict[str, Any] = {}
        self.before = self.validated()
        assert self.before.layout is not None
        self.layout: Layout = self.before.layout
        self.places = {
            (place.at.sheet, place.at.row, place.at.column): place
            for place in self.layout.places.values()
        }

    def validated(self) -> Validation:
        """The book as it is in memory now, by the validator's own road."""
        with (
            patch("datumbook.validator.open_book", return_value=self.book),
            patch("datumbook.validator.recognise", return_value=self.recognised),
            patch("datumbook.validator.reckon", self.reckoned),
        ):
            return validate(self.path)

    def reckoned(self, layout: Layout, readings: Mapping[str, object]) -> dict[str, Any]:
        """What `reckon` gives: once for the readings as they were, as most changes leave them
        so.
        """
        if readings != self.readings:
            self.readings, self.values = dict(readings), reckon(layout, readings)
        return dict(self.values)

    def of(self, mutant: Mutant) -> tuple[bool, bool]:
        """Whether a change matters, and whether it is found."""
        cells = self.book.sheets[mutant.sheet].cells
        kept = cells[mutant.at]
        cells.pop(mutant.at) if mutant.cell is None else cells.update({mutant.at: mutant.cell})
        try:
            return self.judged(mutant, self.validated())
        finally:
            cells[mutant.at] = kept

    def way(self, mutant: Mutant) -> str:
        """How a change is told: by the gravest finding that is new, by other verdicts, or not."""
        cells = self.book.sheets[mutant.sheet].cells
        kept = cells[mutant.at]
        cells.pop(mutant.at) if mutant.cell is None else cells.update({mutant.at: mutant.cell})
        try:
            made = self.validated()
        finally:
            cells[mutant.at] = kept
        before = told(self.before.findings)
        new = {one.severity for one in made.findings if told([one]) - before}
        gone = told(made.findings) != before or made.verdict != self.before.verdict
        return next(
            (one for one in ("damage", "reading", "check", "note") if one in new),
            "otherwise" if gone else "silent",
        )

    def judged(self, mutant: Mutant, made: Validation) -> tuple[bool, bool]:
        """The same of a validation that was made."""
        before = self.before
        verdicts = [
            made.values[one.verdict] != before.values[one.verdict] for one in self.layout.checks
        ]
        place = self.places.get((mutant.sheet, *mutant.at))
        nothing_gone = (
            mutant.cell is None and place is not None and place.role == "given" and not place.value
        )
        locked = place is not None and place.role != "reading" and not nothing_gone
        found = made.verdict != before.verdict or told(made.findings) != told(before.findings)
        shown = mutant.kind in OF_LOOKS and (place is not None or self.is_printed(mutant))
        return locked or shown or any(verdicts), found

    def is_printed(self, mutant: Mutant) -> bool:
        """Whether words of the book are printed in the cell."""
        plan = self.layout.plans.get(mutant.sheet)
        return plan is not None and any(
            (text.at.row, text.at.column) == mutant.at and text.words for text in plan.texts
        )

    def of_rules(self, names: Sequence[str]) -> tuple[int, list[str]]:
        """Every rule of these sheets changed by itself: how many changes there were, and which of
        them nobody found.
        """
        tried, missed = 0, list[str]()
        for name in names:
            sheet = self.book.sheets[name]
            colours, entries = sheet.colours, sheet.entries
            changes = [
                *(
                    (f"{name} colour of {word} gone", without(colours, word), entries)
                    for word in coloured(colours)
                ),
                *(
                    (f"{name} colour of {word} other", recoloured(colours, word), entries)
                    for word in coloured(colours)
                ),
                *(
                    (f"{name} entry {n} other", colours, reworded(entries, n))
                    for n in index(entries)
                ),
            ]
            for said, sheet.colours, sheet.entries in changes:
                made = self.validated()
                tried += 1
                if told(made.findings) == told(self.before.findings) or made.exit_status != 3:
                    missed.append(said)
            sheet.colours, sheet.entries = colours, entries
        return tried, missed


Colours = list[ColourRule]
Entries = list[tuple[tuple[CellArea, ...], EntryRule]]
MOST_RULES = 12  # of one sheet, the first of each kind


def index(rules: Entries) -> range:
    """The rules that are tried."""
    return range(min(len(rules), MOST_RULES))


def coloured(rules: Colours) -> list[str]:
    """The words that have a colour, each by as many rules as programs need."""
    return list(dict.fromkeys(one.word for one in rules))[:MOST_RULES]


def without(rules: Colours, word: str) -> Colours:
    """All rules but those of a word."""
    return [one for one in rules if one.word != word]


def recoloured(rules: Colours, word: str) -> Colours:
    """Those of a word in the colours of another."""
    other = next(one.look for one in rules if one.word != word)
    return [one._replace(look=other) if one.word == word else one for one in rules]


def reworded(rules: Entries, number: int) -> Entries:
    """One rule that says something else before anything is typed."""
    areas, rule = rules[number]
    changed = rule._replace(prompt=(rule.prompt[0], "Type what it should be."))
    return [*rules[:number], (areas, changed), *rules[number + 1 :]]


@cache
def judge_of(path: Path) -> Judge:
    """The judge of one workbook."""
    return Judge(path)


def score(path: Path, chosen: list[Mutant]) -> tuple[int, list[Mutant]]:
    """How many of these changes matter, and which of those nobody found."""
    judge, matter, missed = judge_of(path), 0, []
    for mutant in chosen:
        matters, found = judge.of(mutant)
        matter += matters
        missed += [mutant] if matters and not found else []
    return matter, missed


def score_of_files(path: Path, chosen: list[Mutant], folder: Path) -> tuple[int, list[Mutant]]:
    """The same, each change written into a file of its own and read again."""
    judge, matter, missed = judge_of(path), 0, []
    for mutant in chosen:
        made = validate(written(path, mutant, folder / "book.xlsx"))
        matters, found = judge.judged(mutant, made)
        matter += matters
        missed += [mutant] if matters and not found else []
    return matter, missed


Told = Counter[tuple[str, str, str]]
"""How many changes of a kind, of cells of a role, were told in which way."""


def ways_told(path: Path, chosen: list[Mutant]) -> tuple[Told, list[Mutant]]:
    """How each of these changes is told, and those that nothing is said of."""
    judge, counts, silent = judge_of(path), Told(), []
    for mutant in chosen:
        way, place = judge.way(mutant), judge.places.get((mutant.sheet, *mutant.at))
        role = place.role if place else "printed" if judge.is_printed(mutant) else "beside"
        counts[way, mutant.kind, role] += 1
        silent += [mutant] if way == "silent" else []
    return counts, silent


def written(path: Path, mutant: Mutant, out: Path) -> Path:
    """A book with one change in its file."""
    cell, at = mutant.cell or FoundCell(None), address_of(*mutant.at)
    if mutant.kind not in OF_LOOKS:
        return with_cell(path, out, (mutant.sheet, at), holds=cell.value, formula=cell.formula)
    book, look = StoredXlsx(path), cell.look
    if mutant.kind == "format":
        book.look(mutant.sheet, at, format=look.number_format)
    else:
        inside = f"<color rgb='FF{look.ink}'/><sz val='{look.size}'/><name val='{look.face}'/>"
        book.look(mutant.sheet, at, font=f"<font>{inside}</font>")
    return book.save(out)


def count_ways(first: int, last: int) -> None:
    """Print how changes of a book of a third of the size are told, and what is silent."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "small.xlsx"
        write(small_layout(), path, honest_readings(small_layout(), 1))
        everything = in_passes(list(mutants(open_book(path))))
        random.Random(3).shuffle(everything)
        counts = Told()
        for start in range(first, min(last, len(everything)), STEP):
            more, silent = ways_told(path, everything[start : min(start + STEP, last)])
            counts += more
            print(f"to {min(start + STEP, last)} of {len(everything)}:", *silent, sep="\n  ")
            print(*sorted(counts.items()), sep="\n", flush=True)


def main() -> None:
    """Count and print."""
    if sys.argv[1:2] == ["told"]:
        count_ways(*(int(one) for one in (*sys.argv[2:], "0", str(10**9))[:2]))
        return
    path = demo_book()
    everything = in_passes(list(mutants(open_book(path))))
    first, last, files = (
        int(one)
        for one in (*sys.argv[1:], *("0", str(len(everything)), "200")[len(sys.argv) - 1 :])
    )
    matter, missed = 0, list[Mutant]()
    for start in range(first, min(last, len(everything)), STEP):
        counted, unfound = score(path, everything[start : min(start + STEP, last)])
        matter, missed = matter + counted, missed + unfound
        found = f"{matter} matter, {matter - len(missed)} found"
        print(
            f"to {min(start + STEP, last)} of {len(everything)} changes in memory: {found}",
            *unfound,
            sep="\n  ",
            flush=True,
        )
    tried, unfound = judge_of(path).of_rules(list(judge_of(path).book.sheets))
    print(f"{tried} changes of rules: {tried - len(unfound)} found", *unfound, sep="\n  ")
    with tempfile.TemporaryDirectory() as folder:
        matter, missed = score_of_files(
            path, random.Random(2).sample(everything, files), Path(folder)
        )
    print(
        f"{files} changes through files: {matter} matter, {matter - len(missed)} found",
        *missed,
        sep="\n  ",
    )


if __name__ == "__main__":
    main()
