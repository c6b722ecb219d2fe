"""Columns: what is read, given, worked out or checked, said once for writer, validator, manual.

An attribute marked Per is one value for all rows, or a function of the row's key.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, TypeAlias, TypeVar, Union

from datumbook.cells.handles import Handle, Key
from datumbook.numbers.quantities import Quantity
from datumbook.spec import Limit

T = TypeVar("T")
Per: TypeAlias = Union[T, Callable[[str], T]]  # noqa: UP007  # an alias of a variable needs it
Input: TypeAlias = Union[Handle, str, Quantity, "Sequence[Input]"]
"""What an equation is called with: a column (of the same row; of a form its line), the key of one
cell, a quantity, or several of these.
"""
ByRow: TypeAlias = Callable[[str], Input]
"""What each row of a table has: the cells of a column elsewhere, or figures of the spec."""
Equation = Callable[..., Any]


class DateTyped(float):
    """A reading that a spreadsheet program turned into a date: its day number, kept as found."""


def per(value: Any, row: str) -> Any:
    """Return a column's value for one row."""
    return value(row) if callable(value) else value


@dataclass(kw_only=True, eq=False)
class Column(Handle):
    """What every column has: its name in the key, its words in the heading, its unit, and the rows
    it stands in.
    """

    words: str
    unit: Per[str | None] = None
    decimals: Per[int] = 0
    rows: Sequence[str] | None = None
    width: float = 0.0
    whole: bool = False  # a number without a fraction: a count, where it has no unit
    runs_on: bool = False  # words that run on over the cells beside them
    by_pen: bool = False  # printed as a box to write in, though nobody types there
    type_size: Per[float] = 1.0  # how large it is printed, of the size of its sheet

    @property
    def slot(self) -> str:
        """What names its place in a table: columns of one name share it, in rows of their own."""
        return self.name

    def stands_in(self, row: str) -> bool:
        """Say whether this row has a cell of this column."""
        return self.rows is None or row in self.rows


@dataclass(kw_only=True, eq=False)
class Reading(Column):
    """A cell that a person fills. A unit of None takes words."""

    group: str | None = None
    setting: str | None = None  # of the gauges of its group the one that was set: "mandrel"
    near: Per[Quantity | None] = None
    possible: Per[tuple[float, float] | None] = None
    choices: Per[tuple[str, ...]] = ()
    how: Per[str] = ""
    wanted: Per[bool] = True
    day: bool = False  # words that say a day, year-month-day
    ahead: bool = False  # a day by which something is due, not one on which something was done
    repeats: Reading | None = None  # of a second reading, by another reader: the first


@dataclass(kw_only=True, eq=False)
class Given(Column):
    """A figure or words from the spec or a standard, printed and locked."""

    value: Per[Quantity | float | str | None]


@dataclass(kw_only=True, eq=False)
class Influence(Given):
    """What is taken as nothing and may be off all the same, such as the touch of a cutter: its
    value is zero, its expanded uncertainty stands in another cell.

    Source: [JCGM 100] 4.3.1, an input quantity whose best estimate is zero.
    """

    may_be_off: Handle


@dataclass(kw_only=True, eq=False)
class Result(Column):
    """A cell that an equation computes; parameters it does not name in `inputs` are columns of the
    same row.
    """

    equation: Equation
    inputs: Mapping[str, Per[Input]] = field(default_factory=dict)
    day: bool = False  # words that say a day, of which some programs make a number


@dataclass(kw_only=True, eq=False)
class Uncertainty(Column):
    """A cell with the expanded uncertainty of another value, propagated from the readings it comes
    from.
    """

    of: Per[Handle | Key]


@dataclass(kw_only=True, eq=False)
class Sensitivity(Column):
    """A cell with how much another value moves for each unit of one reading under it. What follows
    from that value takes its uncertainty from these cells, and its formula stays short.

    Source: [JCGM 100] 5.1.3, the sensitivity coefficient.
    """

    of: Per[Handle | Key]
    to: Per[Handle | Key]


@dataclass(kw_only=True, eq=False)
class Check:
    """A column held against limits: from the spec for all rows, or from two columns of the same
    row; an end that the spec's limit lacks may be a column.
    """

    of: Column
    limits: Per[Limit | None] = None
    low: Per[Input] | None = None
    high: Per[Input] | None = None
    source: Per[str] = ""
    says: str | None = None
    judged: bool = False  # the column is itself a verdict
    spot: Per[bool] = False  # of what need not be read: nothing is asked where it is not
    asked: Column | None = None  # "yes" where it is asked for at all; nothing else is judged
    story: Sequence[Column] = ()  # words that tell more of it, in the same row
    # held against how the readings were taken: passes where nothing is stated, without a guard
    if_stated: bool = False
    rows: Sequence[str] | None = None

    @property
    def slot(self) -> str:
        """What names the place of its verdict in a table."""
        return self.of.verdict_name

    def stands_in(self, row: str) -> bool:
        """Say whether this row has this check."""
        return self.rows is None or row in self.rows


@dataclass(frozen=True)
class Sizes:
    """Makes the columns that share one unit, one number of decimals and one group of readings."""

    unit: Per[str | None]
    decimals: Per[int]
    group: str | None = None
    width: float = 0.0

    def reading(
        self,
        name: str,
        words: str,
        near: Per[Quantity | None] = None,
        how: Per[str] = "",
        **more: Any,
    ) -> Reading:
        """A size that a person reads off a gauge."""
        return Reading(
            name=name, words=words, group=self.group, near=near, how=how, **self._shared(more)
        )

    def given(
        self, name: str, words: str, value: Per[Quantity | float | None], **more: Any
    ) -> Given:
        """A size from the spec or a standard."""
        return Given(name=name, words=words, value=value, **self._shared(more))

    def result(
        self,
        name: str,
        words: str,
        equation: Equation,
        rows: Sequence[str] | None = None,
        /,
        **inputs: Per[Input],
    ) -> Result:
        """A size that an equation computes; `inputs` names the parameters that are not columns of
        the same row.
        """
        return Result(
            name=name, words=words, equation=equation, inputs=inputs, rows=rows, **self._shared({})
        )

    def _shared(self, more: dict[str, Any]) -> dict[str, Any]:
        return {"unit": self.unit, "decimals": self.decimals, "width": self.width} | more


def limited(column: Column, limits: Per[Limit | None]) -> tuple[Column, Check]:
    """A column, and the check that holds it against limits wherever it stands."""
    return column, Check(of=column, limits=limits, rows=column.rows)


def words(name: str, heading: str, value: Per[str | None], **more: Any) -> Given:
    """A column of printed words."""
    return Given(name=name, words=heading, unit=None, value=value, **more)


def typed_words(name: str, heading: str, how: str, **more: Any) -> Reading:
    """A cell that takes words and may stay blank."""
    return Reading(name=name, words=heading, unit=None, wanted=False, how=how, **more)


def possible(column: Reading, row: str) -> tuple[float, float] | None:
    """The range a reading must lie in to be possible at all: stated, or a fifth either way of what
    is expected.

    None for words and where nothing is known; in the unit of the column.
    """
    unit, stated, near = per(column.unit, row), per(column.possible, row), per(column.near, row)
    if unit is None or stated is not None:
        return stated if unit is not None else None
    if near is None:
        return None
    size = near.to(unit)
    return min(size * 0.8, size * 1.2), max(size * 0.8, size * 1.2)
