"""Placed: what stands on a sheet once it is laid out: cells, printed words, checks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any, Literal

from datumbook.cells.columns import Column
from datumbook.cells.face_maps import FaceMap
from datumbook.cells.handles import Key, Part, defined_name
from datumbook.cells.tables import Form, Picture, Sheet, SheetPart, Table
from datumbook.formulas.kinds import kinds_of
from datumbook.formulas.spelling import Address
from datumbook.numbers.quantities import Quantity
from datumbook.numbers.units import COUNT

Role = Literal["reading", "given", "result", "verdict"]
Resolved = str | Quantity | list[str | Quantity]


@dataclass
class Place:
    """One keyed cell."""

    key: Key
    at: Address
    role: Role
    label: str
    unit: str | None
    decimals: int
    column: Column | None = None
    row: str = ""
    equation: Callable[..., Any] | None = None
    asking: Callable[[], dict[str, Resolved]] | None = None  # for its inputs, once all is placed
    value: float | str | None = None
    figure_guessed: bool = False  # what is printed here is a guess of the engine file

    @cached_property
    def inputs(self) -> dict[str, Resolved]:
        """What its equation is called with."""
        return self.asking() if self.asking else {}

    def stands_in(self, *parts: Part) -> bool:
        """Say whether this is a cell of one of these tables or forms, not a limit or a verdict."""
        return self.column is not None and self.column.home in parts

    @property
    def section(self) -> Sheet | None:
        """The station it stands at; None of what belongs to none."""
        part = self.column.home if self.column else None
        return part.section if isinstance(part, Table | Form) else None

    @property
    def stage(self) -> str:
        """When it is read or worked out: received, planned or finished."""
        return self.section.stage if self.section else "received"

    @cached_property
    def traced_unit(self) -> str | None:
        """The unit its number is traced in: a cell without a unit holds a count where its column
        is of whole numbers or its equation counts, else a ratio.
        """
        if self.unit != "":
            return self.unit
        counts = self.equation and kinds_of(self.equation)["return"] == "[count]"
        return COUNT if counts or (self.column and self.column.whole) else ""

    @cached_property
    def asks(self) -> tuple[Key, ...]:
        """The cells its equation is called with, which for a verdict is known once it is judged."""
        several = [given if isinstance(given, list) else [given] for given in self.inputs.values()]
        return tuple([Key(one) for given in several for one in given if isinstance(one, str)])

    def judged(self, equation: Callable[..., Any], inputs: dict[str, Resolved]) -> None:
        """Work out this verdict so."""
        self.equation, self.inputs = equation, inputs
        self.__dict__.pop("asks", None)  # what was known of it before

    @property
    def guessed(self) -> bool:
        """Whether it shows, or is worked out with, a figure that the engine file guesses."""
        several = (one if isinstance(one, list) else [one] for one in self.inputs.values())
        return self.figure_guessed or any(
            isinstance(one, Quantity) and one.guessed for given in several for one in given
        )

    @property
    def name(self) -> str:
        """The workbook-level defined name of the cell."""
        return defined_name(self.key)


@dataclass(frozen=True)
class PrintedText:
    """Printed words that no formula reads; `style` is a word of styles.py, `across` how many
    columns they may run.
    """

    at: Address
    words: str
    style: str
    across: int = 1


@dataclass(frozen=True)
class CheckPlan:
    """A result held against limits, and the key of its verdict."""

    key: Key
    verdict: Key
    words: str
    sheet: str
    says: str | None = None
    low: Key | None = None
    high: Key | None = None
    source: str = ""
    judged: bool = False
    superseded_by: tuple[Key, ...] = ()  # the finished verdicts judged instead, once all are read
    fresh_in: Table | None = None  # the table whose readings can go stale
    if_stated: bool = False
    story: tuple[Key, ...] = ()  # the words that tell more of it
    spot: bool = False  # of what need not be read: blank where it is not
    asked: Key | None = None  # the cell that says "yes" where it is asked for at all
    section: Sheet | None = field(default=None, repr=False)  # the station it is checked at
    guessed: bool = False  # its limit, or what it judges, rests on a guess of the engine file

    @property
    def stage(self) -> str:
        """When it is judged: received, planned or finished."""
        return self.section.stage if self.section else "received"

    @property
    def freshness(self) -> dict[str, Key]:
        """The cell that says whether its readings count, by its name; none where they always do."""
        return self.fresh_in.freshness if self.fresh_in else {}

    @property
    def measured(self) -> bool:
        """Whether a number is held against limits, rather than words said."""
        return self.says is None and not self.judged

    @property
    def guarded(self) -> bool:
        """Whether the uncertainty of the number counts at its limits."""
        return self.measured and not self.if_stated


@dataclass(frozen=True, eq=False)
class Span:
    """The rows of a part, with the title of its section where it is the first of that."""

    first: int
    last: int
    part: SheetPart
    section: Sheet
    left: int  # how many columns of the sheet stand to its left

    @property
    def own_page(self) -> bool:
        """Whether it begins a page."""
        return bool(getattr(self.part, "own_page", False))

    @property
    def penned(self) -> bool:
        """Whether it is on the form that is printed for the pen."""
        return self.section.is_penned(self.part)


@dataclass
class SheetPlan:
    """One sheet as placed: its words, and the last row and column in use."""

    sheet: Sheet
    texts: list[PrintedText] = field(default_factory=list)
    pictures: list[tuple[int, Picture]] = field(default_factory=list)  # with the row it begins in
    spans: list[Span] = field(default_factory=list)
    charts: list[tuple[int, FaceMap]] = field(default_factory=list)  # with the row each begins in
    begins: dict[str, int] = field(default_factory=dict)  # each of its sections, by name: its row
    rows: int = 0
    columns: int = 1
    printed_rows: int = 0  # the last row and column that are printed; below stands what the screen
    printed_columns: int = 1  # alone shows
    seconds: int = 0  # the first column of the parts that stand beside the others, if any do

    def headed(self, heading: str) -> SheetPlan:
        """The same sheet with another job at its head."""
        texts = (replace(one, words=heading) if one.style == HEADING else one for one in self.texts)
        return replace(self, texts=list(texts))


HEADING = "identity"  # the style of the line that says which job a sheet is of
HEAD_ROWS = 3
WHOLE = 99  # a text that may run over the whole width of the sheet
