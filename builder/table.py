"""What a sheet shows, said once for the writer, the validator and the manual.

A table is rows (a cylinder, a corner, a hole) by columns (a reading, a result, a check); a form is a list of single
values, each on a line of its own. Neither knows where it will stand: layout.py gives every key its cell.
An attribute marked Per is one value for all rows, or a function of the row's key.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, TypeVar

from builder.quantities import Quantity
from builder.spec import Limit

T = TypeVar("T")
Per = T | Callable[[str], T]
Input = str | Quantity | Sequence[str]
Equation = Callable[..., Any]


class DateTyped(float):
    """A reading that a spreadsheet program turned into a date: its day number, kept as found."""


def per(value: Any, row: str) -> Any:
    """Return a column's value for one row."""
    return value(row) if callable(value) else value


@dataclass(frozen=True, kw_only=True)
class Column:
    """What every column has: its name in the key, its words in the heading, its unit, and the rows it stands in."""

    name: str
    words: str
    unit: Per[str | None] = None
    decimals: Per[int] = 0
    rows: Sequence[str] | None = None
    width: float = 0.0

    def stands_in(self, row: str) -> bool:
        """Say whether this row has a cell of this column."""
        return self.rows is None or row in self.rows


@dataclass(frozen=True, kw_only=True)
class Reading(Column):
    """A cell that a person fills. A unit of None takes words."""

    group: str | None = None
    near: Per[Quantity | None] = None
    possible: Per[tuple[float, float] | None] = None
    choices: Per[tuple[str, ...]] = ()
    how: Per[str] = ""
    wanted: bool = True
    fraction: Per[bool] = False


@dataclass(frozen=True, kw_only=True)
class Given(Column):
    """A figure or words from the spec or a standard, printed and locked."""

    value: Per[Quantity | float | str | None]


@dataclass(frozen=True, kw_only=True)
class Result(Column):
    """A cell that an equation computes; parameters it does not name in `inputs` are columns of the same row."""

    equation: Equation
    inputs: Mapping[str, Per[Input]] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class Uncertainty(Column):
    """A cell with the expanded uncertainty of another value, propagated from the readings it comes from."""

    of: Per[str]


@dataclass(frozen=True, kw_only=True)
class Check:
    """A column held against limits: from the spec for all rows, or from two columns of the same row."""

    of: str
    limits: Per[Limit | None] = None
    low: str | None = None
    high: str | None = None
    source: Per[str] = ""
    says: str | None = None
    rows: Sequence[str] | None = None

    def stands_in(self, row: str) -> bool:
        """Say whether this row has this check."""
        return self.rows is None or row in self.rows


@dataclass(frozen=True)
class Row:
    """One line: its part of the key and its words."""

    key: str
    words: str


@dataclass(frozen=True, kw_only=True)
class Table:
    """Rows by columns, with the checks beside the columns they hold."""

    key: str
    title: str
    rows: Sequence[Row]
    columns: Sequence[Column | Check]
    heading: str = ""
    note: str = ""
    own_page: bool = False


@dataclass(frozen=True, kw_only=True)
class Line:
    """One line of a form: a single value, and what it is held against."""

    column: Column
    limits: Limit | None = None
    says: str | None = None
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Form:
    """Single values, one a line."""

    key: str
    title: str
    lines: Sequence[Line]
    note: str = ""
    own_page: bool = False


@dataclass(frozen=True, kw_only=True)
class Prose:
    """Lines of text: instructions, cautions, the method."""

    title: str
    lines: Sequence[Sequence[str]]
    widths: Sequence[int] = (12,)


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """One station of the work."""

    name: str
    title: str
    parts: Sequence[Table | Form | Prose]
    how: str = ""
    widths: Mapping[int, float] = field(default_factory=dict)


def possible(column: Reading, row: str) -> tuple[float, float] | None:
    """The range a reading must lie in to be possible at all: stated, or a fifth either way of what is expected.

    None for words and where nothing is known; in the unit of the column.
    """
    unit, stated, near = per(column.unit, row), per(column.possible, row), per(column.near, row)
    if unit is None or stated is not None:
        return stated if unit is not None else None
    if near is None:
        return None
    size = near.to(unit)
    return min(size * 0.8, size * 1.2), max(size * 0.8, size * 1.2)
