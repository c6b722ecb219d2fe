"""Parts of a sheet, said once for the writer, the validator and the manual.

A table is rows (a cylinder, a corner, a hole) by columns (a reading, a result, a check); a form is
a list of single values, each on a line of its own. Neither knows where it will stand: placing
gives every key its cell.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal, TypeAlias

from datumbook.cells.columns import Check, Column, Reading
from datumbook.cells.face_maps import FaceMap
from datumbook.cells.handles import Handle, Key, Part
from datumbook.cells.scales import ChartScale
from datumbook.spec import Limit

Stage = Literal["received", "planned", "finished"]
ROW_PIXELS = 23.0  # how high a plain row is
CLOSE_ROW_PIXELS = 18.0  # the same on a page that is to hold many
PLOT_WIDE, PLOT_FRAME = 520.0, 80.0  # pixels: a picture across, and what its axes take besides
STAGES: tuple[Stage, ...] = ("received", "planned", "finished")
# the cells over a table that say whether its readings count: not where an operation moved them
# since, nor where they were read in another state of assembly than their limits mean
MOVED_SINCE, UNFIT = "moved_since", "unfit"


def stages_reached(stage: Stage) -> tuple[Stage, ...]:
    """A stage of the work with those before it.

    >>> stages_reached("planned")
    ('received', 'planned')
    """
    return STAGES[: STAGES.index(stage) + 1]


@dataclass(frozen=True)
class Row:
    """One line: its part of the key and its words."""

    key: str
    words: str


def cylinder_rows(cylinders: Iterable[int | str]) -> list[Row]:
    """One line for each cylinder, by its number."""
    return [Row(str(number), f"Cylinder {number}") for number in cylinders]


@dataclass(frozen=True)
class Guest:
    """A column of one table that stands in another, as it is read in the same walk."""

    column: Column
    rows: Mapping[str, str]  # by the row of the host: the row of its own table


@dataclass(kw_only=True, eq=False)
class Table(Part):
    """Rows by columns, with the checks beside the columns they hold."""

    key: str
    title: str
    rows: Sequence[Row]
    columns: Iterable[Column | Check]
    heading: str = ""
    note: str = ""
    own_page: bool = False
    spoilers: Spoilers | None = None  # what these readings count only without
    # the table whose readings these values come from, and with which they go stale
    fresh_in: Table | None = None
    # the same table as received: each check here answers the check there of the same column
    earlier: Part | None = None
    section: Sheet | None = field(default=None, repr=False)  # the station it is a part of
    answers: dict[str, list[Handle | Key]] = field(default_factory=dict)
    # its rows stand side by side and its columns below one another: for few rows of many columns
    turned: bool = False
    guests: Sequence[Guest] = ()
    sketch: str = ""  # of where it is measured, on its form for the pen, under its words
    sketch_beside: str = ""  # the same, beside its boxes
    hosted: Sequence[str] = ()  # the columns of it that are guests elsewhere

    def __post_init__(self) -> None:
        columns, self.columns = self.columns, ()
        self.row_keys = {row.key for row in self.rows}
        self._rows_of: dict[str, list[Iterable[str] | None]] = {}
        self.extend(columns)

    def extend(self, columns: Iterable[Column | Check]) -> None:
        """Further columns, of what could not be declared before: what a plan leaves, say."""
        for column in columns:
            self.columns = (*self.columns, column)
            rows = None if column.rows is None else set(column.rows)
            self._rows_of.setdefault(column.slot, []).append(rows)
            if isinstance(column, Column):
                self.bind(column)

    def names(self) -> Iterator[str]:
        """The names of the columns, without the checks beside them."""
        return (item.name for item in self.columns if isinstance(item, Column))

    def has(self, name: str, row: str) -> bool:
        """Whether a cell of this name stands in this row."""
        if row not in self.row_keys:
            return name in self._over and not row
        return any(rows is None or row in rows for rows in self._rows_of.get(name, ()))

    @property
    def stale_with(self) -> Table | None:
        """This table, where its readings can come not to count."""
        return self if self.spoilers else None

    @property
    def _over(self) -> tuple[str, ...]:
        """The cells that say over its rows whether its readings count."""
        spoilers = self.spoilers
        moved = (MOVED_SINCE,) if spoilers and spoilers.series else ()
        return (*moved, UNFIT) if spoilers and spoilers.state else moved

    @property
    def freshness(self) -> dict[str, Key]:
        """The cell that says whether its readings count, by its name; none where they always do."""
        return {name: self.cell("", name) for name in self._over[-1:]}


@dataclass(kw_only=True, eq=False)
class Line:
    """One line of a form: a single value, and what it is held against."""

    column: Column
    limits: Limit | None = None
    says: str | None = None
    note: str = ""


def held(column: Column, limits: Limit | None, note: str = "") -> Line:
    """A line held against limits if there are any, noted with where these come from."""
    return Line(column=column, limits=limits, note=note or (limits.told if limits else ""))


@dataclass(kw_only=True, eq=False)
class Form(Part):
    """Single values, one a line."""

    key: str
    title: str
    lines: Iterable[Line | Column]  # a column by itself is a line without limits or note
    note: str = ""
    own_page: bool = False
    fresh_in: Table | None = None
    # the same form as received: each check here answers the check there of the same line
    earlier: Part | None = None
    section: Sheet | None = field(default=None, repr=False)  # the station it is a part of
    answers: dict[str, list[Handle | Key]] = field(default_factory=dict)
    each: list[Line] = field(init=False)

    def __post_init__(self) -> None:
        self.each = [one if isinstance(one, Line) else Line(column=one) for one in self.lines]
        for line in self.each:
            self.bind(line.column)

    def names(self) -> Iterator[str]:
        """The names of the lines."""
        return (line.column.name for line in self.each)

    def has(self, name: str, row: str) -> bool:
        """Whether a line of this name stands here; a form has no rows."""
        held = (line.column.verdict_name for line in self.each if line.limits or line.says)
        return not row and (name in self.names() or name in held)


class MeasuredAfter(Form):
    """After which step of the route a series was measured: what is read in one go, be it in several
    tables. It stands with the first of them.
    """

    step: Column
    line: Column
    number: Column
    verdict: Column


class StateRead(Table):
    """The state of assembly a series was read in, beside the one its limits mean. It stands before
    the first table of the series; the last of its rows says what follows.
    """

    read: Column
    unlike: Column
    verdict: Column
    remedy: Column

    @property
    def whole(self) -> str:
        """The row that says what follows from all conditions."""
        return self.rows[-1].key

    @property
    def unfit(self) -> Key:
        """The cell that says what every check on the series is for its state; blank where it is
        judged.
        """
        return self.unlike[self.whole]

    @property
    def what_to_do(self) -> Key:
        """The cell that says what to do about the first condition that was another than meant."""
        return self.remedy[self.whole]


@dataclass(frozen=True)
class Spoilers:
    """What readings count only without: an operation done since the step their series was taken
    after, or another state of assembly than their limits mean.
    """

    series: MeasuredAfter | None
    done: Sequence[Key]  # the done numbers of the operations that move the feature
    state: StateRead | None = None


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

    kind: "bars" stacked from the left, "lines" from row to row, "columns" up and down from zero.
    """

    title: str
    kind: Literal["bars", "lines", "columns"]
    series: Sequence[Series]
    scale: ChartScale
    value_words: str = ""
    lines: int = 11  # how many rows of the sheet it covers
    # which of several in one line it is, from 0; the next with a higher number stands beside it
    beside: int = 0
    own_page: bool = False


SheetPart: TypeAlias = Table | Form | Prose | Picture | FaceMap


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """One station of the work."""

    name: str
    title: str
    parts: Sequence[SheetPart]
    beside: Sequence[SheetPart] = ()  # further parts, in a column of their own to the right
    # what is worked out or looked up: below all else, and not printed
    below: Sequence[SheetPart] = ()
    read: bool = False  # printed whole, to be read; of the others only what one writes on
    how: str = ""
    widths: Mapping[int, float] = field(default_factory=dict)
    stage: Stage = "received"
    behind: Sequence[
        str
    ] = ()  # columns the sheet needs and paper does not: they come last and are not printed
    scale: float = 1.0  # how much larger than the other sheets it is written
    row_pixels: float = ROW_PIXELS
    one_page: bool = False  # printed on one page, however small
    station: str = ""  # the station of the work it is of, where that may be left as it is
    # printed for the pen are the wanted readings, and of these parts the others too; or all
    penned: Sequence[SheetPart] = ()
    penned_whole: bool = False
    uncut: bool = False  # no part of it is cut by the end of a page
    sections: Sequence[Sheet] = ()  # what is joined here, where several stations share the sheet

    @property
    def every_section(self) -> Sequence[Sheet]:
        """What stands on it, station by station; a sheet of one station is its only section."""
        return self.sections or (self,)

    @property
    def every_part(self) -> Sequence[SheetPart]:
        """All its parts, wherever they stand."""
        return (*self.parts, *self.beside, *self.below)

    @property
    def on_paper(self) -> Sequence[SheetPart]:
        """What is printed: all that is read at the machine; else what one writes on, and words."""
        return [one for one in self.parts if self.read or isinstance(one, Prose) or _is_wanted(one)]

    def is_penned(self, part: SheetPart) -> bool:
        """Whether a part is on the form of this section that is printed for the pen."""
        minded = isinstance(part, Prose) and not self.read
        return self.penned_whole or minded or self.is_all_penned(part) or _is_wanted(part)

    def is_all_penned(self, part: SheetPart) -> bool:
        """Whether readings are on it for which nothing waits, too."""
        return any(one is part for one in self.penned)

    @property
    def on_screen(self) -> Sequence[SheetPart]:
        """What the screen alone shows, in the order it stands there."""
        shown = {id(one) for one in self.on_paper}
        return [*(one for one in self.parts if id(one) not in shown), *self.below]


def _is_wanted(part: SheetPart) -> bool:
    """Whether a part has readings that something waits for."""
    if isinstance(part, Table):
        own = [one for one in part.columns if one.slot not in part.hosted]
        read = (*own, *(one.column for one in part.guests))
        return any(isinstance(one, Reading) and one.wanted for one in read)
    if isinstance(part, Form):
        return any(isinstance(one.column, Reading) and one.column.wanted for one in part.each)
    return False


def joined(name: str, title: str, *sections: Sheet) -> Sheet:
    """Several stations on one sheet, one below the other."""
    first = sections[0]
    if len(sections) == 1:
        return replace(first, name=name)
    return Sheet(
        name=name,
        title=title,
        parts=[part for one in sections for part in one.parts],
        below=[part for one in sections for part in one.below],
        read=any(one.read for one in sections),
        how=first.how,
        widths={column: width for one in sections for column, width in one.widths.items()},
        stage=first.stage,
        behind=first.behind,
        uncut=any(one.uncut for one in sections),
        sections=sections,
    )
