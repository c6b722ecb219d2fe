"""Handles: a cell is asked for by the column that declares it, and its key is made here alone.

A table or form hands out its columns as attributes; `column[row]` is the key of one cell of a
table, `column.key` that of a line of a form. Nothing else makes a key, so a misspelt cell is an
attribute that mypy or the declaration refuses.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from inspect import get_annotations
from typing import NewType, TypeVar

Key = NewType("Key", str)
"""The stable name of one declared cell, as a book's record and a CSV of readings hold it."""
Handed = TypeVar("Handed")


class DeclarationError(RuntimeError):
    """A station asks for a cell that this book does not have: a mistake of ours, or something that
    the spec leaves out; raised while the book is declared.
    """


def row_key(*parts: object) -> str:
    """The part of a key that names a row.

    >>> row_key(1, "top")
    '1.top'
    """
    return ".".join(map(str, parts))


def row_parts(row: str) -> tuple[str, ...]:
    """The parts that a row was named by: `row_key` backwards.

    >>> row_parts("1.top")
    ('1', 'top')
    """
    return tuple(row.split("."))


def defined_name(key: str) -> str:
    """The workbook-level name of a cell: its key without points, which not every program allows.

    >>> defined_name("bores.1.top.thrust")
    'bores__1__top__thrust'
    """
    return key.replace(".", "__")


@dataclass(kw_only=True, eq=False)
class Handle:
    """One name of a table or form, by which its cells are asked for."""

    name: str
    home: Part = field(init=False, repr=False)

    def __getitem__(self, row: str | int | tuple[object, ...]) -> Key:
        wanted = row_key(*row) if isinstance(row, tuple) else str(row)
        if not self.home.has(self.name, wanted):
            raise DeclarationError(f"{self.home.key}.{self.name} has no row {wanted} in this book")
        return self.home.cell(wanted, self.name)

    def find(self, row: str) -> Key | None:
        """The key of one cell, None where this row has none."""
        return self.home.cell(row, self.name) if self.home.has(self.name, row) else None

    def held_in(self, values: Mapping[str, Handed], row: str) -> Handed | None:
        """What the values of a book hold in one row, None where it has no such cell."""
        return values.get(self.find(row) or "")

    def at(self, place: str) -> Callable[[str], Key]:
        """One place of each row, as an input: `read.at("front")` is `read[row, "front"]`."""
        return lambda row: self[row, place]

    @property
    def key(self) -> Key:
        """The key of the one cell of a line of a form."""
        if not self.home.has(self.name, ""):
            raise DeclarationError(f"{self.home.key}.{self.name} is a column of rows: name the row")
        return self.home.cell("", self.name)

    @property
    def low_end(self) -> Key:
        """The key of the lower limit that stands over a column or beside a line."""
        return self.home.cell("", f"{self.name}.from")

    @property
    def high_end(self) -> Key:
        """The key of the upper limit that stands over a column or beside a line."""
        return self.home.cell("", f"{self.name}.to")

    @property
    def verdict_name(self) -> str:
        """The name of the verdicts on a column or line that is held against limits."""
        return f"{self.name}.verdict"

    @property
    def verdict(self) -> Handle:
        """The verdicts on a column or line that is held against limits."""
        found = Handle(name=self.verdict_name)
        found.home = self.home
        return found


class Part:
    """What has columns: a table or a form. Hands them out by name, each bound to its home.

    A subclass names the columns that others ask for, as annotations: `mean_size: Column`, or
    `wear: Column | None` for one that a book may lack.
    """

    key: str
    earlier: Part | None
    # by column or line, what its check stands for besides, once it is read
    answers: dict[str, list[Handle | Key]]

    def bind(self, column: Handle) -> None:
        """Make a column this part's own; of several with one name the first is its handle."""
        column.home = self
        own = self.__dict__.setdefault(column.name, column)
        if not isinstance(own, Handle) or hasattr(type(self), column.name):
            raise DeclarationError(f"{self.key} cannot call a column {column.name}")

    def column(self, name: str) -> Handle:
        """The column of a name that is worked out; DeclarationError with the nearest if none is."""
        found: Handle = getattr(self, name)
        return found

    def has(self, name: str, row: str) -> bool:
        """Whether a cell of this name stands in this row."""
        raise NotImplementedError

    def names(self) -> Iterator[str]:
        """The names of the columns, without the checks beside them."""
        raise NotImplementedError

    def takes_over(self, name: str, *earlier: Handle | Key) -> None:
        """The check of this column or line, once read, stands for these besides: single cells, or
        of a column the cell of the same row. One that several take over waits for all of them.
        """
        self.answers.setdefault(name, []).extend(earlier)

    def answered(self, name: str, row: str) -> Iterator[Key]:
        """The cells whose checks one here answers: those it takes over, and that of the same name
        in the part as received where that is held.
        """
        for one in self.answers.get(name, ()):
            yield one if isinstance(one, str) else one[row] if row else one.key
        if self.earlier is not None and self.earlier.has(f"{name}.verdict", row):
            yield self.earlier.cell(row, name)

    def cell(self, row: str, name: str) -> Key:
        """The key of a cell: the one place where keys are made."""
        return Key(f"{self.key}.{row}.{name}" if row else f"{self.key}.{name}")

    def __getattr__(self, name: str) -> None:
        if name.startswith("__") or "key" not in self.__dict__:
            raise AttributeError(name)
        named = (get_annotations(one).get(name, "") for one in type(self).__mro__)
        if any("None" in annotation for annotation in named):
            return
        near = ", ".join(get_close_matches(name, list(self.names()), n=3))
        raise DeclarationError(
            f"{self.key} has no {name} in this book" + (f"; there is {near}" if near else "")
        )
