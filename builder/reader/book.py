"""A workbook as it was found: cells, names, properties and problems, whatever program saved it.

Nothing here opens a file: `gate` does that, `xlsx` and `ods` fill these classes in.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Literal

from builder.reader.dates import moment_of

Kind = Literal["xlsx", "ods"]

REFUSALS: dict[str, str] = {
    "no-file": "{file}: {found}; give the path of a workbook that can be read",
    "not-a-workbook": "{file} is {found}, not a workbook: open it in a spreadsheet program and save it as .xlsx",
    "file-truncated": "{file} is damaged or was cut off ({found}): copy it again, or take it from the last backup",
    "old-format": "{file} is {found}: open it in a spreadsheet program and save it as .xlsx without a password",
    "strict-format": "{file} is saved as Strict Open XML: save it again as an ordinary .xlsx workbook, not as Strict",
    "refused-size": "{file} was refused unread: {found}; save only the workbook's own sheets as .xlsx and try again",
    "refused-xml": "{file} was refused unread: {found}, which no spreadsheet program writes; save it again as .xlsx",
    "duplicate-part": "{file} was refused unread: {found}, and programs differ in which they take; save it again",
}
"""Code of a refusal -> its sentence: what was found and what to do."""

PROBLEMS: dict[str, str] = {
    "has-macros": "the workbook carries a program of its own ({found}): nothing of it was run; save it without macros",
    "external-link": "the workbook draws on something outside itself ({found}): put the value itself in the cell",
    "duplicate-cell": "this cell is stored twice ({found}): the first was read; save the workbook again",
    "duplicate-sheet": "two sheets have one name ({found}): the first was read; rename the other",
    "duplicate-name": "the name {found} is defined twice: the first was read; delete the other",
    "cell-unreadable": "this cell cannot be read ({found}): type its content again",
}
"""Code of a problem -> its sentence: what was found and what to do."""


class Refused(Exception):  # noqa: N818 - the word of the trade: the gate refuses
    """A file the reader will not or cannot open: a stable code, one sentence, and the part inside the file."""

    def __init__(self, code: str, message: str, part: str = "") -> None:
        super().__init__(message)
        self.code = code
        self.message = message
        self.part = part


def refusal(code: str, file: str, found: str = "", part: str = "") -> Refused:
    """Return the refusal of this code with its sentence filled in; KeyError for a code that is not catalogued."""
    return Refused(code, REFUSALS[code].format(file=file, found=found), part)


@dataclass(frozen=True)
class Problem:
    """Something odd that did not stop the reading: code, sentence, and the place it was found."""

    code: str
    message: str
    sheet: str = ""
    cell: str = ""
    part: str = ""


def problem(code: str, found: str, sheet: str = "", cell: str = "", part: str = "") -> Problem:
    """Return the problem of this code with its sentence filled in; KeyError for a code that is not catalogued."""
    return Problem(code, PROBLEMS[code].format(found=found), sheet, cell, part)


@dataclass(slots=True, frozen=True)
class Cell:
    """One cell that holds something, as found; a blank cell is not stored.

    `value` is what was typed, or the result a formula last showed: None where no result was saved or it is an error.
    `formula` is spelled as in .xlsx, without the leading "=". `number_format` is "" in .ods, which keeps no such text.
    """

    value: float | str | bool | None
    formula: str | None = None
    error: str | None = None
    is_date: bool = False
    is_percent: bool = False
    number_format: str = ""


@dataclass
class SheetFound:
    """One sheet: its stored cells by (row, column), both counted from 1, and what is merged or hidden."""

    name: str
    hidden: bool = False
    cells: dict[tuple[int, int], Cell] = field(default_factory=dict)
    merged: list[str] = field(default_factory=list)
    hidden_rows: set[int] = field(default_factory=set)
    hidden_columns: set[int] = field(default_factory=set)


@dataclass
class Book:
    """A whole workbook; `names` are those of the workbook with their target's own spelling (see `target`)."""

    path: Path
    kind: Kind
    sheets: dict[str, SheetFound] = field(default_factory=dict)
    names: dict[str, str] = field(default_factory=dict)
    properties: dict[str, str] = field(default_factory=dict)
    date_1904: bool = False
    full_precision: bool = True
    manual: bool = False
    problems: list[Problem] = field(default_factory=list)
    _taken: set[str] = field(default_factory=set, init=False, repr=False, compare=False)

    def moment(self, serial: float) -> datetime | None:
        """Return the day and time a date cell's number stands for in this book, None outside the calendar."""
        return moment_of(serial, self.date_1904)

    def add_sheet(self, sheet: SheetFound) -> None:
        """Keep a sheet; a second one of the same name is a problem and is left out."""
        if sheet.name.casefold() in self._taken:
            self.problems.append(problem("duplicate-sheet", sheet.name, sheet.name))
        else:
            self._taken.add(sheet.name.casefold())
            self.sheets[sheet.name] = sheet

    def add_name(self, name: str, target: str) -> None:
        """Keep a workbook-level name; programs' own names are dropped, a second one of the same name is a problem."""
        if is_built_in(name):
            return
        if name in self.names:
            self.problems.append(problem("duplicate-name", name))
        else:
            self.names[name] = target


def is_built_in(name: str) -> bool:
    """Tell whether a name is one that programs make for themselves: print areas, filters and the like."""
    bare = name.casefold()
    return bare.startswith(("_xlnm.", "print_")) or bare.endswith("_filterdatabase")
