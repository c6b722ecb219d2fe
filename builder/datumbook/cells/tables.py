"""What a sheet shows, said once for the writer, the validator and the manual.

A table is rows (a cylinder, a corner, a hole) by columns (a reading, a result, a check); a form is
a list of single values, each on a line of its own. Neither knows where it will stand: layout.py
gives every key its cell. An attribute marked Per is one value for all rows, or a function of the
row's key.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal, TypeAlias, TypeVar, Union

from datumbook.numbers.quantities import Quantity
from datumbook.spec import Limit

T = TypeVar("T")
Stage = Literal["received", "planned", "finished"]
ROW_PIXELS = 23.0  # how high a plain row is
PLOT_WIDE, PLOT_FRAME = 520.0, 80.0  # pixels: a picture across, and what its axes take besides
STAGES: tuple[Stage, ...] = ("received", "planned", "finished")
Per: TypeAlias = Union[T, Callable[[str], T]]  # noqa: UP007  # an alias of a variable needs the long form
Input: TypeAlias = str | Quantity | Sequence[str]
Equation = Callable[..., Any]


class DateTyped(float):
    """A reading that a spreadsheet program turned into a date: its day number, kept as found."""


def per(value: Any, row: str) -> Any:
    """Return a column's value for one row."""
    return value(row) if callable(value) else value


@dataclass(frozen=True, kw_only=True)
class Column:
    """What every column has: its name in the key, its words in the heading, its unit, and the rows
    it stands in.
    """

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
    day: bool = False  # words that say a day, year-month-day
    whole: bool = False  # a number without a fraction
    again: bool = False  # the second reading of a place, by another reader


@dataclass(frozen=True, kw_only=True)
class Given(Column):
    """A figure or words from the spec or a standard, printed and locked."""

    value: Per[Quantity | float | str | None]


@dataclass(frozen=True, kw_only=True)
class Result(Column):
    """A cell that an equation computes; parameters it does not name in `inputs` are columns of the
    same row.
    """

    equation: Equation
    inputs: Mapping[str, Per[Input]] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class Uncertainty(Column):
    """A cell with the expanded uncertainty of another value, propagated from the readings it comes
    from.
    """

    of: Per[str]


@dataclass(frozen=True, kw_only=True)
class Check:
    """A column held against limits: from the spec for all rows, or from two columns of the same
    row.
    """

    of: str
    limits: Per[Limit | None] = None
    low: str | None = None
    high: str | None = None
    source: Per[str] = ""
    says: str | None = None
    judged: bool = False  # the column is itself a verdict
    superseded_by: str = ""  # the key of the finished reading that, once taken, is judged instead
    # held against how the readings were taken: passes where nothing is stated, without a guard
    if_stated: bool = False
    rows: Sequence[str] | None = None

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
        self, name: str, words: str, near: Per[Quantity | None] = None, how: str = "", **more: Any
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


def words(name: str, heading: str, value: Per[str | None], **more: Any) -> Given:
    """A column of printed words."""
    return Given(name=name, words=heading, unit=None, value=value, **more)


def typed_words(name: str, heading: str, how: str, **more: Any) -> Reading:
    """A cell that takes words and may stay blank."""
    return Reading(name=name, words=heading, unit=None, wanted=False, how=how, **more)


@dataclass(frozen=True)
class Row:
    """One line: its part of the key and its words."""

    key: str
    words: str


def cylinder_rows(cylinders: Iterable[int | str]) -> list[Row]:
    """One line for each cylinder, by its number."""
    return [Row(str(number), f"Cylinder {number}") for number in cylinders]


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
    spoilers: Sequence[str] = ()  # the operations that make these readings stale
    fresh_in: str = (
        ""  # the table whose readings these values come from, and with which they go stale
    )
    repeated: bool = False  # its headings stand at the top of every printed page
    # its rows stand side by side and its columns below one another: for few rows of many columns
    turned: bool = False


@dataclass(frozen=True, kw_only=True)
class Line:
    """One line of a form: a single value, and what it is held against."""

    column: Column
    limits: Limit | None = None
    says: str | None = None
    note: str = ""
    superseded_by: str = ""


@dataclass(frozen=True, kw_only=True)
class Form:
    """Single values, one a line."""

    key: str
    title: str
    lines: Sequence[Line]
    note: str = ""
    own_page: bool = False
    fresh_in: str = ""


@dataclass(frozen=True, kw_only=True)
class Prose:
    """Lines of text: instructions, cautions, the method."""

    title: str
    lines: Sequence[Sequence[str]]
    widths: Sequence[int] = (12,)


@dataclass(frozen=True)
class Series:
    """One line or one colour of bars: its words and the cells of its values."""

    words: str
    values: Sequence[str]


@dataclass(frozen=True, kw_only=True)
class Picture:
    """A drawing of cells that stand in one unbroken column; bars and lines are named by the words
    of their rows.

    kind: "bars" stacked from the left, "lines" from row to row, "columns" up and down from nought.
    """

    title: str
    kind: Literal["bars", "lines", "columns"]
    series: Sequence[Series]
    value_words: str = ""
    lines: int = 11  # how many rows of the sheet it covers
    # which of several in one line it is, from 0; the next with a higher number stands beside it
    beside: int = 0
    own_page: bool = False


@dataclass(frozen=True, kw_only=True)
class Marks:
    """Points of a chart, from two columns of a table: their shape and colour are words of
    styles.py.
    """

    words: str
    table: str
    rows: Sequence[str]
    along: str
    across: str
    style: str
    labels: Sequence[str] = ()


@dataclass(frozen=True, kw_only=True)
class Outline:
    """A line of a chart through points that are known when the book is laid out."""

    name: str
    words: str
    points: Sequence[tuple[Quantity, Quantity]]
    smooth: bool = False


@dataclass(frozen=True, kw_only=True)
class FaceMap:
    """A picture of a face, true to scale: outlines, and marks at the places of its holes."""

    key: str
    title: str
    unit: str
    length: float
    width: float
    rows: int
    outlines: Sequence[Outline]
    marks: Sequence[Marks]
    beside: int  # the first of the columns in which the outlines' points stand
    note: str = ""
    own_page: bool = False

    def column_of(self, outline: Outline, axis: str) -> int:
        """The column in which one axis of an outline's points stands."""
        return self.beside + 2 * list(self.outlines).index(outline) + (axis == "across")


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """One station of the work."""

    name: str
    title: str
    parts: Sequence[Table | Form | Prose | Picture | FaceMap]
    how: str = ""
    widths: Mapping[int, float] = field(default_factory=dict)
    stage: Stage = "received"
    behind: Sequence[
        str
    ] = ()  # columns the sheet needs and paper does not: they come last and are not printed
    scale: float = 1.0  # how much larger than the other sheets it is written
    one_page: bool = False  # printed on one page, however small


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
