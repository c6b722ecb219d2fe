"""Spec and sheets together: every key gets its cell. The one contract between writer and validator.

No file format lives here. A Layout knows, for every key, where it stands, what it shows, in which unit, and (traced on
demand) with which formula.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, Literal

from builder import VERSION
from builder.equations import verdicts
from builder.formula import Cell, Formula, Number, OfUnit
from builder.quantities import Quantity
from builder.spec import Limit, Spec
from builder.spelling import Address, spell
from builder.table import Check, Column, Form, Given, Line, Prose, Reading, Result, Row, Sheet, Sizes, Table, Uncertainty, per
from builder.tracing import parameters, trace
from builder.uncertainty import expanded_uncertainty
from builder.units import convert, shown

Role = Literal["reading", "given", "result", "verdict"]
Resolved = str | Quantity | list[str | Quantity]


class LayoutError(RuntimeError):
    """A sheet module asks for something that is not there: a mistake of ours, raised when the book is laid out."""


@dataclass(frozen=True)
class Job:
    """One block: what it is called, and the units its groups are read in where they differ from the spec's."""

    block: str = "unnamed"
    units: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Place:
    """One keyed cell."""

    key: str
    at: Address
    role: Role
    label: str
    unit: str | None
    decimals: int
    column: Column | None = None
    row: str = ""
    equation: Callable[..., Any] | None = None
    inputs: Mapping[str, Resolved] = field(default_factory=dict)
    value: float | str | None = None

    @property
    def name(self) -> str:
        """The workbook-level defined name of the cell."""
        return self.key.replace(".", "_")


@dataclass(frozen=True)
class Text:
    """Printed words that no formula reads; `style` is a word of styles.py, `across` how many columns they may run."""

    at: Address
    words: str
    style: str
    across: int = 1


@dataclass(frozen=True)
class CheckPlan:
    """A result held against limits."""

    key: str
    words: str
    sheet: str
    says: str | None = None
    low: str | None = None
    high: str | None = None
    source: str = ""

    @property
    def verdict(self) -> str:
        """The key of its verdict."""
        return f"{self.key}.verdict"


@dataclass
class SheetPlan:
    """One sheet as placed: its words, and the last row and column in use."""

    sheet: Sheet
    texts: list[Text] = field(default_factory=list)
    spans: list[tuple[int, int, bool]] = field(default_factory=list)  # first and last row of a part, own page wanted
    repeated: tuple[int, int] | None = None
    rows: int = 0
    columns: int = 1


HEAD_ROWS = 3
WHOLE = 99  # a text that may run over the whole width of the sheet


@dataclass
class Layout:
    """Every key and its cell, for one spec and one job."""

    spec: Spec
    job: Job
    plans: dict[str, SheetPlan] = field(default_factory=dict)
    places: dict[str, Place] = field(default_factory=dict)
    checks: list[CheckPlan] = field(default_factory=list)
    _formulas: dict[str, str] = field(default_factory=dict)

    @cached_property
    def identity(self) -> str:
        """The book's identity: the same spec, job and version give the same."""
        return self.identity_by(VERSION)

    def identity_by(self, version: str) -> str:
        """The identity that another version of the tool gives the same spec and job."""
        parts = (self.spec.text, self.job.block, repr(sorted(self.job.units.items())), version)
        digest = hashlib.sha256("\n".join(parts).encode()).hexdigest().upper()
        return f"{digest[:4]}-{digest[4:8]}-{digest[8:12]}"

    def unit_of(self, group: str) -> str:
        """The unit a group of readings is read in: the job's, else the spec's."""
        return self.job.units.get(group) or self.spec.units[group]

    def decimals_of(self, group: str) -> int:
        """How many places a group is shown with; a group read in another unit keeps its last step about as fine."""
        places, step = self.spec.decimals[group], convert(1.0, self.unit_of(group), self.spec.units[group])
        return max(0, places + round(math.log10(step)))

    def sizes(self, group: str) -> Sizes:
        """What makes the columns of a group's sizes."""
        return Sizes(self.unit_of(group), self.decimals_of(group), group)

    def cylinders(self) -> range:
        """The numbers of the cylinders."""
        return range(1, self.spec.engine.cylinders + 1)

    def address(self, key: str) -> Address:
        """Where a key stands; LayoutError naming the nearest keys if it does not."""
        return self.place(key).at

    def place(self, key: str) -> Place:
        """The place of a key; LayoutError naming the nearest keys if there is none."""
        try:
            return self.places[key]
        except KeyError:
            from difflib import get_close_matches  # only when a sheet module is wrong

            near = ", ".join(get_close_matches(key, self.places, n=3)) or "nothing like it"
            raise LayoutError(f"no cell is called {key}; there is {near}") from None

    def cell(self, key: str) -> Cell:
        """A key as a leaf of a formula."""
        return Cell(key, self.place(key).unit)

    def has_formula(self, key: str) -> bool:
        """Say whether a key is computed."""
        return self.places[key].role in {"result", "verdict"}

    def tree(self, key: str) -> Formula:
        """The settled and guarded tree of a computed key."""
        place = self.place(key)
        if isinstance(place.column, Uncertainty):
            return expanded_uncertainty(self, per(place.column.of, place.row).format(row=place.row))
        if place.equation is None:
            raise LayoutError(f"{key} is not computed")
        try:
            return trace(place.equation, self.arguments(key), place.unit)
        except TypeError as refusal:
            raise LayoutError(f"{key}: {refusal}") from refusal

    def arguments(self, key: str) -> dict[str, Formula | list[Formula]]:
        """What the equation of a key is called with, as leaves."""
        return {name: self._leaf(given) for name, given in self.place(key).inputs.items()}

    def _leaf(self, given: Resolved) -> Any:
        if isinstance(given, list):
            return [self._leaf(one) for one in given]
        if isinstance(given, Quantity):
            return OfUnit(Number(given.to(given.unit)), given.unit)
        return self.cell(given)

    def formula(self, key: str) -> str:
        """The formula text of a computed key, without the leading =."""
        if key not in self._formulas:
            self._formulas[key] = spell(self.tree(key), self.address, self.place(key).at.sheet)
        return self._formulas[key]

    def readings(self) -> list[Place]:
        """Every cell that a person fills, in the order one walks round the block."""
        return [place for place in self.places.values() if place.role == "reading"]

    def wanted(self) -> list[Place]:
        """The readings without which the job cannot be released."""
        return [place for place in self.readings() if isinstance(place.column, Reading) and place.column.wanted]


class Placing:
    """Gives the parts of a sheet their rows and columns, from the top down."""

    def __init__(self, layout: Layout, sheet: Sheet) -> None:
        self.layout = layout
        self.plan = SheetPlan(sheet)
        self.row = HEAD_ROWS + 1
        layout.plans[sheet.name] = self.plan

    def place_all(self) -> None:
        """Place the head and every part."""
        self._head()
        for part in self.plan.sheet.parts:
            first = self.row
            if isinstance(part, Table):
                self._table(part)
            elif isinstance(part, Form):
                self._form(part)
            else:
                self._prose(part)
            self.plan.spans.append((first, self.row - 1, getattr(part, "own_page", False)))
            self.row += 1
        self.plan.rows = self.row - 1

    def _head(self) -> None:
        sheet, layout = self.plan.sheet, self.layout
        engine = layout.spec.engine
        self._text(1, 1, sheet.title, "title", 6)
        self._text(2, 1, f"Job {layout.job.block} · {engine.name} · book {layout.identity}", "identity", 8)
        self._text(3, 1, sheet.how or conventions(layout.spec), "how", WHOLE)

    def _text(self, row: int, column: int, words: str, style: str, across: int = 1) -> None:
        self.plan.texts.append(Text(Address(self.plan.sheet.name, row, column), words, style, across))
        self.plan.columns = max(self.plan.columns, column)

    def _part_title(self, part: Table | Form | Prose, note: str) -> None:
        self._text(self.row, 1, part.title, "part", WHOLE)
        self.row += 1
        if note:
            self._text(self.row, 1, note, "note", WHOLE)
            self.row += 1

    def _table(self, table: Table) -> None:
        self._part_title(table, table.note)
        columns = _columns(table)
        checks = [item for item in table.columns if isinstance(item, Check)]
        self._headings(table, columns)
        limited = {check.of: check.limits for check in checks if isinstance(check.limits, Limit)}
        if limited:
            self._limit_rows(table, columns, limited)
        for row in table.rows:
            self._table_row(table, row, columns)
            self.row += 1

    def _headings(self, table: Table, columns: Mapping[str, int]) -> None:
        self._text(self.row, 1, table.heading, "heading")
        for item in table.columns:
            if isinstance(item, Check):
                self._text(self.row, columns[f"{item.of}.verdict"], "verdict", "heading")
            else:
                unit = "" if callable(item.unit) or not item.unit else f"\n{shown(item.unit)}"
                self._text(self.row, columns[item.name], item.words + unit, "heading")
        if table.repeated:
            self.plan.repeated = (self.row, self.row)
        self.row += 1

    def _limit_rows(self, table: Table, columns: Mapping[str, int], limited: Mapping[str, Limit]) -> None:
        by_name = {item.name: item for item in table.columns if isinstance(item, Column)}
        for end, words in (("from", "not less than"), ("to", "not more than")):
            bounds = {name: limit.low if end == "from" else limit.high for name, limit in limited.items()}
            if not any(bounds.values()):
                continue
            self._text(self.row, 1, words, "limit_words")
            for name, bound in bounds.items():
                if bound is not None:
                    column = by_name[name]
                    unit = per(column.unit, "")
                    label = f"{table.title} · {column.words} · {words}"
                    self._given(f"{table.key}.{name}.{end}", columns[name], bound, unit, per(column.decimals, ""), label)
            self.row += 1

    def _table_row(self, table: Table, row: Row, columns: Mapping[str, int]) -> None:
        self._text(self.row, 1, row.words, "row")
        for item in table.columns:
            if not item.stands_in(row.key):
                continue
            if isinstance(item, Check):
                self._table_check(table, row, item, columns)
            else:
                key = f"{table.key}.{row.key}.{item.name}"
                self._column_cell(key, item, row, columns[item.name], f"{row.words} · {item.words}", table)

    def _table_check(self, table: Table, row: Row, check: Check, columns: Mapping[str, int]) -> None:
        key = f"{table.key}.{row.key}.{check.of}"
        limits = per(check.limits, row.key)
        stem = f"{table.key}.{check.of}"
        if limits is not None:
            low, high = (f"{stem}.from" if limits.low else None), (f"{stem}.to" if limits.high else None)
        else:
            low, high = (_in_row(table, row, end) for end in (check.low, check.high))
        source = limits.source if limits is not None else per(check.source, row.key)
        self._check(key, columns[f"{check.of}.verdict"], low, high, check.says, source)

    def _form(self, form: Form) -> None:
        self._part_title(form, form.note)
        limited = any(line.limits or line.says for line in form.lines)
        for column, words in enumerate(("", "value", "unit", "from", "to", "verdict") if limited else (), start=1):
            self._text(self.row, column, words, "heading")
        self.row += 1 if limited else 0
        for line in form.lines:
            self._line(form, line, limited)
            self.row += 1

    def _line(self, form: Form, line: Line, limited: bool) -> None:
        column = line.column
        key = f"{form.key}.{column.name}"
        self._text(self.row, 1, column.words, "row")
        self._column_cell(key, column, Row("", column.words), 2, column.words, form)
        unit = per(column.unit, "")
        if unit:
            self._text(self.row, 3, shown(unit), "unit")
        if line.note:
            at, across = (7, 1) if 7 in self.plan.sheet.widths else (7 if limited else 4, 4)
            self._text(self.row, at, line.note, "line_note", across)
            self.plan.columns = max(self.plan.columns, at + across - 1)
        if line.limits or line.says:
            self._line_limits(key, line, unit)

    def _line_limits(self, key: str, line: Line, unit: str | None) -> None:
        ends: dict[str, str | None] = {"from": None, "to": None}
        limits = line.limits
        for place, (end, bound) in enumerate((("from", limits.low), ("to", limits.high)) if limits else (), start=4):
            if bound is not None:
                ends[end] = f"{key}.{end}"
                self._given(f"{key}.{end}", place, bound, unit, per(line.column.decimals, ""), f"{line.column.words} · {end}")
        self._check(key, 6, ends["from"], ends["to"], line.says, limits.source if limits else "")

    def _prose(self, prose: Prose) -> None:
        self._part_title(prose, "")
        for line in prose.lines:
            column = 1
            for words, width in zip(line, prose.widths, strict=False):
                self._text(self.row, column, words, "prose", width)
                column += width
            self.row += 1

    def _column_cell(self, key: str, column: Column, row: Row, at: int, label: str, part: Table | Form) -> None:
        unit, decimals = per(column.unit, row.key), per(column.decimals, row.key)
        if isinstance(column, Given):
            self._given(key, at, per(column.value, row.key), unit, decimals, label, column)
            return
        role: Role = "reading" if isinstance(column, Reading) else "result"
        equation = column.equation if isinstance(column, Result) else None
        inputs = _inputs(column, part, row.key) if isinstance(column, Result) else {}
        self._put(Place(key, self._at(at), role, label, unit, decimals, column, row.key, equation, inputs))

    def _given(
        self, key: str, at: int, value: Any, unit: str | None, decimals: int, label: str, column: Column | None = None
    ) -> None:
        if value is None:
            return
        plain = value.to(unit or "") if isinstance(value, Quantity) else value
        self._put(Place(key, self._at(at), "given", label, unit, decimals, column, value=plain))

    def _check(self, key: str, at: int, low: str | None, high: str | None, says: str | None, source: str) -> None:
        value = self.layout.place(key)
        plan = CheckPlan(key, value.label, value.at.sheet, says, low, high, source)
        equation, inputs = verdict_of(plan)
        self.layout.checks.append(plan)
        self._put(
            Place(plan.verdict, self._at(at), "verdict", f"{value.label} · verdict", None, 0, equation=equation, inputs=inputs)
        )

    def _at(self, column: int) -> Address:
        self.plan.columns = max(self.plan.columns, column)
        return Address(self.plan.sheet.name, self.row, column)

    def _put(self, place: Place) -> None:
        if place.key in self.layout.places:
            raise LayoutError(f"two cells are called {place.key}")
        self.layout.places[place.key] = place


def verdict_of(check: CheckPlan) -> tuple[Callable[..., str], dict[str, Resolved]]:
    """Return the equation of a check's verdict and what it is called with."""
    if check.says is not None:
        return verdicts.verdict_of_tick, {"tick": check.key}
    inputs: dict[str, Resolved] = {"value": check.key, "uncertainty": f"release.{check.key}.uncertainty"}
    if check.low and check.high:
        return verdicts.verdict_between, inputs | {"low": check.low, "high": check.high}
    if check.low:
        return verdicts.verdict_at_least, inputs | {"low": check.low}
    if check.high:
        return verdicts.verdict_at_most, inputs | {"high": check.high}
    raise LayoutError(f"the check of {check.key} has no limit")


def conventions(spec: Spec) -> str:
    """One line that fixes what left, front and cylinder 1 mean for this engine."""
    engine = spec.engine
    return (
        f"Cylinder 1 is at the {engine.first_cylinder}. Left and right as seen from the {engine.seen_from}. "
        f"Thrust side: {engine.thrust_side}."
    )


def _in_row(table: Table, row: Row, end: str | None) -> str | None:
    """The key of a limit's end: a column of the same row, or a cell elsewhere by its whole key."""
    return end if end is None or "." in end else f"{table.key}.{row.key}.{end}"


def _columns(table: Table) -> dict[str, int]:
    found: dict[str, int] = {}
    for item in table.columns:
        name = f"{item.of}.verdict" if isinstance(item, Check) else item.name
        found.setdefault(name, len(found) + 2)
    return found


def _inputs(result: Result, part: Table | Form, row: str) -> dict[str, Resolved]:
    before, group, after = parameters(result.equation)
    found: dict[str, Resolved] = {}
    for name in (*before, *((group,) if group else ()), *after):
        given = per(result.inputs.get(name), row)
        if given is None:
            given = f"{part.key}.{row}.{name}" if row else f"{part.key}.{name}"
        found[name] = _filled(given, row)
    return found


def _filled(given: Any, row: str) -> Resolved:
    if isinstance(given, str):
        return given.format(*row.split("."), row=row)
    if isinstance(given, Quantity):
        return given
    return [_filled(one, row) for one in given]  # type: ignore[misc]


def lay_out(spec: Spec, job: Job | None = None) -> Layout:
    """Give every key of a spec its cell."""
    from builder.sheets import after_stations, stations  # the sheets speak of layouts in their types

    layout = Layout(spec, job or Job())
    for sheet in stations(layout):
        Placing(layout, sheet).place_all()
    for make in after_stations():
        Placing(layout, make(layout)).place_all()
    order = ["Job", *(name for name in layout.plans if name not in {"Job", "Release", "Method"}), "Release", "Method"]
    layout.plans = {name: layout.plans[name] for name in order}
    layout.places = dict(sorted(layout.places.items(), key=lambda item: _walk(order, item[1].at)))
    layout.checks.sort(key=lambda check: _walk(order, layout.places[check.key].at))
    return layout


def _walk(order: Sequence[str], at: Address) -> tuple[int, int, int]:
    return (order.index(at.sheet), at.row, at.column)


def checked_keys(layout: Layout) -> Iterable[str]:
    """The keys of every checked value."""
    return (check.key for check in layout.checks)
