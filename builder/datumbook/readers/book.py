"""A workbook as it was found: cells, names, properties and problems, whatever program saved it.

Nothing here opens a file: `gate` does that, `xlsx` and `ods` fill these classes in.
"""

from __future__ import annotations

import re
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import cached_property
from pathlib import Path
from typing import Literal, NamedTuple

from datumbook.messages.findings import Finding, finding
from datumbook.readers.addresses import place_of
from datumbook.readers.dates import EPOCHS
from datumbook.readers.looks import PLAIN_LOOK, Look
from datumbook.readers.rules import MOST_AREAS, CellArea, ColourRule, EntryRule, weight_of

Kind = Literal["xlsx", "ods"]
_OF_PROGRAMS = re.compile(r"(?:_xlnm\.|print_).*|.*_filterdatabase", re.IGNORECASE | re.DOTALL)
"""Names that programs make for themselves: print areas, filters and the like."""


class Refused(Exception):  # noqa: N818 - the word of the trade: the gate refuses
    """A file the reader will not or cannot open: the finding that says so, and the part inside the
    file.
    """

    def __init__(self, finding: Finding, part: str = "") -> None:
        super().__init__(finding.message)
        self.finding = finding
        self.part = part


def refusal(code: str, file: str, found: str = "", part: str = "") -> Refused:
    """Return the refusal of this code with its sentence filled in; KeyError for a code that is not
    catalogued.
    """
    return Refused(finding(code, file=file, found=found), part)


def part_refusal(code: str, file: str, part: str, what: str) -> Refused:
    """Return the refusal of this code for what one part inside the file is or does."""
    return refusal(code, file, f"its part {part} {what}", part)


class PageWords(NamedTuple):
    """Words printed at the head (else at the foot) of pages, without fields and styles."""

    at_head: bool
    words: str


class FoundCell(NamedTuple):
    """One cell that holds something, as found; a blank cell is not stored.

    `value` is what was typed, or the result a formula last showed: None where no result was saved
    or it is an error. `formula` is spelled as in .xlsx, without the leading "=". `array` is the
    range over which the formula was entered as an array, "" where it was entered plainly. `pieces`
    are the looks of single words, where they differ from that of the cell.
    """

    value: float | str | bool | None
    formula: str | None = None
    error: str | None = None
    is_date: bool = False
    is_percent: bool = False
    look: Look = PLAIN_LOOK
    array: str = ""
    pieces: tuple[Look, ...] = ()

    @property
    def number_format(self) -> str:
        """The number format as .xlsx spells it."""
        return self.look.number_format

    @property
    def is_blank(self) -> bool:
        """Say whether nothing stands in the cell."""
        return self.value is None and self.formula is None and self.error is None


_NOTHING = FoundCell(None)


class _Array(NamedTuple):
    """A formula entered over a range: its first and last row and column, and both as written."""

    top: int
    left: int
    bottom: int
    right: int
    formula: str
    range: str

    def covers(self, at: tuple[int, int]) -> bool:
        """Say whether a cell lies in the range."""
        return self.top <= at[0] <= self.bottom and self.left <= at[1] <= self.right


_MOST_ARRAYS = 500


@dataclass
class SheetFound:
    """One sheet: its stored cells by (row, column), both counted from 1; what is merged, hidden or
    protected; its rules; where its cells lead; what lies over them, with the words of it; what its
    pages bear at head and foot, and which ranges are printed, none where all is.
    """

    name: str
    hidden: bool = False
    protected: bool = False
    cells: dict[tuple[int, int], FoundCell] = field(default_factory=dict)
    merged: list[str] = field(default_factory=list)
    hidden_rows: set[int] = field(default_factory=set)
    hidden_columns: set[int] = field(default_factory=set)
    colours: list[ColourRule] = field(default_factory=list)
    entries: list[tuple[tuple[CellArea, ...], EntryRule]] = field(default_factory=list)
    links: dict[tuple[int, int], str] = field(default_factory=dict)
    laid_over: list[tuple[CellArea, str]] = field(default_factory=list)
    page_words: list[PageWords] = field(default_factory=list)
    printed: tuple[CellArea, ...] = ()

    def value(self, at: tuple[int, int]) -> float | str | bool | None:
        """Return what stands in a cell by row and column, None where nothing does."""
        return self.cells[at].value if at in self.cells else None

    def filled_by(self, at: tuple[int, int]) -> str:
        """Return the formula that fills a cell: its own, or that of an array entered over it, whose
        range is named; "" where what stands there was typed.

        A file keeps the formula of an array in its first cell alone: the others look typed.
        """
        cell = self.cells.get(at, _NOTHING)
        if cell.array:
            return f"={cell.formula or ''} entered over {cell.array}"
        over = next((one for one in self._arrays if one.covers(at)), None)
        if over is not None:
            return f"={over.formula} entered over {over.range}"
        return "" if cell.formula is None else f"={cell.formula}"

    @cached_property
    def _arrays(self) -> list[_Array]:
        """The arrays of the sheet over more than their own cell, as which some programs save every
        formula; of more than any person enters, the one range all lie in.
        """
        found = []
        for at, cell in self.cells.items():
            if cell.array:
                first, _, last = cell.array.partition(":")
                with suppress(ValueError):
                    ends = (*place_of(first), *place_of(last or first))
                    if ends != (*at, *at):
                        found.append(_Array(*ends, cell.formula or "", cell.array))
        if len(found) <= _MOST_ARRAYS:
            return found
        tops, lefts, bottoms, rights, formulas, _ = zip(*found, strict=True)
        ends = (min(tops), min(lefts), max(bottoms), max(rights))
        return [_Array(*ends, formulas[0], f"{len(found)} ranges")]


@dataclass
class Book:
    """A whole workbook; `names` are those of the workbook with their target's own spelling (see
    `target`), `digest` is the SHA-256 of the bytes it was read from.
    """

    path: Path
    kind: Kind
    sheets: dict[str, SheetFound] = field(default_factory=dict)
    names: dict[str, str] = field(default_factory=dict)
    properties: dict[str, str] = field(default_factory=dict)
    date_1904: bool = False
    full_precision: bool = True
    manual: bool = False
    problems: list[Finding] = field(default_factory=list)
    digest: str = ""
    _taken: set[str] = field(default_factory=set, init=False, repr=False, compare=False)

    def moment(self, serial: float) -> datetime | None:
        """Return the day and time a date cell's number stands for in this book, to the second; None
        outside the calendar.
        """
        try:
            return EPOCHS[self.date_1904] + timedelta(seconds=round(serial * 86400))
        except (OverflowError, ValueError):
            return None

    @cached_property
    def named(self) -> dict[str, str]:
        """What each name stands for, by the name in capitals."""
        return {name.upper(): target for name, target in self.names.items()}

    def add_sheet(self, sheet: SheetFound) -> None:
        """Keep a sheet; a second one of the same name is a problem and is left out. Refused where
        its rules hold for more ranges than anybody makes.
        """
        rules = [*(one.areas for one in sheet.colours), *(areas for areas, _ in sheet.entries)]
        if weight_of([*rules, [area for area, _ in sheet.laid_over]]) > MOST_AREAS:
            found = f"the rules of its sheet {sheet.name} hold for more than {MOST_AREAS} ranges"
            raise refusal("too-many-cells", self.path.name, found)
        if sheet.name.casefold() in self._taken:
            self.problems.append(finding("duplicate-sheet", found=sheet.name, sheet=sheet.name))
        else:
            self._taken.add(sheet.name.casefold())
            self.sheets[sheet.name] = sheet

    def add_name(self, name: str, target: str) -> None:
        """Keep a workbook-level name; programs' own names are dropped, a second one of the same
        name is a problem.
        """
        if name in self.names:
            self.problems.append(finding("duplicate-name", found=name))
        elif not _OF_PROGRAMS.fullmatch(name):
            self.names[name] = target
