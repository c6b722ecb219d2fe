"""The report page: one book's validation on paper or on a telephone, complete without script or
network.

The page says the verdict first, then what was damaged, what is missing, what is out and why with
the numbers put in, then the rest.
Everything that comes from a spec, a job or a cell is shown as text: the template escapes it,
`printable` shows what cannot be seen.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from jinja2 import Environment, StrictUndefined, Template
from markupsafe import Markup

from datumbook import VERSION
from datumbook.cells.columns import Column
from datumbook.cells.tables import FRESHNESS
from datumbook.equations.verdicts import OUT, STALE, UNSURE
from datumbook.messages.findings import Finding, marked
from datumbook.numbers.printing import signed
from datumbook.numbers.units import convert
from datumbook.report import NOT_ENTERED, VERDICT_COLOURS
from datumbook.report.drawings import against_limits, drawings
from datumbook.report.worked import in_signs, steps, with_numbers
from datumbook.standards import table
from datumbook.stations.finished.every_check import EveryCheck
from datumbook.validator import Validation, limits_of, limits_printed, operation
from datumbook.workbook import styles
from datumbook.workbook.layout import CheckPlan, Layout, Place
from datumbook.workbook.printed import printed, printer

STATES = {
    "RELEASED": "RELEASED: every check is OK or under a concession, and two people have put their "
    "names.",
    "REJECTED": "REJECTED: the block does not go on.",
}
STEPS_SHOWN = 6  # that are written out below a check
SEVERITY_HEADINGS = {
    "damage": "What happened to the workbook",
    "reading": "Readings to put right",
    "check": "Other things that hold the job up",
    "note": "For information",
}


@dataclass(frozen=True)
class PageLine:
    """One thing in words and its value."""

    words: str
    value: str


@dataclass(frozen=True)
class CheckLine:
    """One check as its row of the table shows it."""

    key: str
    sheet: str
    cell: str
    words: str
    value: str
    limits: str
    uncertainty: str
    verdict: str
    stands: str


@dataclass(frozen=True)
class Judged:
    """One check that is OUT, STALE or UNSURE: its formula in words and with numbers, what it rests
    on, why, what to do.
    """

    check: CheckLine
    source: str
    measured: bool
    formula: str
    worked: str
    steps: tuple[PageLine, ...]
    why: str
    drawing: Markup | None
    remedies: tuple[str, ...]


@dataclass(frozen=True)
class Concession:
    """One concession as entered, and whether it holds."""

    check: CheckLine
    value: str
    reason: str
    by: str
    on: str


@dataclass(frozen=True)
class Found:
    """One finding: where, what is the matter, what to do, and the finding itself."""

    where: str
    says: str
    finding: Finding


def report_html(validation: Validation) -> str:
    """Return the report on one workbook as one HTML page that needs nothing else."""
    parts: dict[str, Any] = {
        name: [] for name in ("judged", "drawings", "concessions", "signatures", "entered", "job")
    }
    parts["checks"] = {}
    if validation.layout is not None:
        parts |= _Page(validation, validation.layout).parts()
    missing = [one for one in validation.findings if one.code == "reading-missing"]
    explained = {one.check.key for one in parts["judged"]}
    return _template().render(
        headline=_headline(validation),
        explained=explained,
        shared=_shared([one.remedies for one in parts["judged"]]),
        validation=validation,
        counts=validation.counts,
        missing={sheet: _by_row(ones) for sheet, ones in _by_sheet(missing).items()},
        take_them=missing[0].remedy if missing else "",
        others=_others(validation.findings, explained),
        severities=SEVERITY_HEADINGS,
        cautions=table("cautions")["lines"],
        not_entered=NOT_ENTERED,
        version=VERSION,
        styles=styles,
        **parts,
    )


def _shared(remedies: list[tuple[str, ...]]) -> list[str]:
    """What is to be done about more than one check: said once, after all of them."""
    counted = Counter(remedy for ones in remedies for remedy in ones)
    return [remedy for remedy, count in counted.items() if count > 1]


def _headline(validation: Validation) -> str:
    """The verdict in plain words; what a book says of itself counts only where the book can be
    trusted.
    """
    stated = VERDICT_COLOURS[validation.verdict]
    return (
        STATES.get(validation.state, stated)
        if validation.verdict in {"release", "hold"}
        else stated
    )


@cache
def _template() -> Template:
    page = Environment(
        autoescape=True,
        undefined=StrictUndefined,
        finalize=printable,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return page.from_string(files("datumbook.report").joinpath("report.html").read_text("utf-8"))


def printable(value: object) -> object:
    """Return words with every character that would not be seen, or would turn the line round, as
    the mark �.
    """
    if not isinstance(value, str) or hasattr(value, "__html__"):
        return value
    return marked(value, kept="\n\t")


def _by_sheet(ones: list[Any]) -> dict[str, list[Any]]:
    found: dict[str, list[Any]] = {}
    for one in ones:
        found.setdefault(one.sheet, []).append(one)
    return found


def _by_row(missing: list[Finding]) -> dict[str, list[PageLine]]:
    """The cells of missing readings by the words of their rows, each with what is read there."""
    found: dict[str, list[PageLine]] = {}
    for one in missing:
        row, _, column = one.label.partition(" · ")
        found.setdefault(row, []).append(PageLine(column, one.cell))
    return found


def _others(findings: list[Finding], judged: set[str]) -> dict[str, list[Found]]:
    """Every finding that is neither a missing reading nor said already beside a check, the gravest
    first.
    """
    left = [
        one for one in findings if one.code != "reading-missing" and not _is_beside(one, judged)
    ]
    by_severity = {
        grade: [_found(one) for one in left if one.severity == grade] for grade in SEVERITY_HEADINGS
    }
    return {grade: ones for grade, ones in by_severity.items() if ones}


def _is_beside(one: Finding, judged: set[str]) -> bool:
    return one.severity == "check" and one.key in judged


def _found(one: Finding) -> Found:
    place = " ".join(part for part in (one.sheet, one.cell) if part)
    says = one.message.removesuffix(one.remedy).strip()
    plain = says.removeprefix(f"{place}{f' ({one.label})' if one.label else ''}: ")
    return Found(place, says if plain == says else plain[:1].upper() + plain[1:], one)


class _Page:
    """What the page shows of a book whose layout is known."""

    def __init__(self, validation: Validation, layout: Layout) -> None:
        self.validation = validation
        self.layout = layout
        self.values = validation.values
        self.every: EveryCheck = layout.stations.release.checks
        self.outcomes = {one.key: one for one in validation.outcomes}
        self.lines = {
            check.key: self._line(check) for check in layout.checks if check.key in self.outcomes
        }

    def parts(self) -> dict[str, Any]:
        """The parts of the page by name."""
        stations, places = self.layout.stations, self.layout.places.values()
        readings, gauges = self.layout.readings(), stations.instruments.tables
        return {
            "judged": [
                self._judged(check)
                for check in self._plans()
                if self.lines[check.key].verdict in {OUT, STALE, UNSURE}
            ],
            "concessions": list(self._concessions()),
            "drawings": list(drawings(self.layout, self.values)),
            "checks": _by_sheet(list(self.lines.values())),
            "job": [
                self._entered(place)
                for place in places
                if place.stands_in(stations.job.block) and place.role != "result"
            ],
            "signatures": [
                self._entered(place)
                for place in readings
                if place.stands_in(stations.release.decision)
            ],
            "entered": [
                self._entered(place)
                for place in readings
                if place.stands_in(*gauges) and self._typed(place.key)
            ],
        }

    def _plans(self) -> list[CheckPlan]:
        return [check for check in self.layout.checks if check.key in self.lines]

    def _typed(self, key: str) -> bool:
        return self.values.get(key) not in (None, "")

    def _entered(self, place: Place) -> PageLine:
        words = place.label.rpartition(" · ")[2]  # without the title of its form
        of_a_gauge = place.stands_in(*self.layout.stations.instruments.tables)
        words = place.label if of_a_gauge else words.partition(", as ")[0]
        return PageLine(
            words,
            signed(printed(self.values[place.key], place))
            if self._typed(place.key)
            else NOT_ENTERED,
        )

    def _line(self, check: CheckPlan) -> CheckLine:
        outcome, place = self.outcomes[check.key], self.layout.places[check.key]
        return CheckLine(
            check.key,
            outcome.sheet,
            outcome.cell,
            place.label,
            signed(printed(self.values[check.key], place, *self._ends(check))),
            signed(limits_printed(self.layout, check, self.values)),
            self._uncertainty(check),
            outcome.verdict,
            self._side(check, self.every.standing),
        )

    def _ends(self, check: CheckPlan) -> tuple[object, object]:
        return limits_of(self.layout, check, self.values)

    def _uncertainty(self, check: CheckPlan) -> str:
        value = self.every.uncertainty.held_in(self.values, check.key)
        if not isinstance(value, float):
            return ""
        place = self.layout.place(self.every.uncertainty[check.key])
        return f"±{printed(value, place)}" if value else "none stated"

    def _side(self, check: CheckPlan, column: Column) -> str:
        """What stands in the line of a check on the Release sheet, "" where there is no such cell
        or nothing in it.
        """
        value = column.held_in(self.values, check.key)
        return str(value) if isinstance(value, str) else ""

    def _judged(self, check: CheckPlan) -> Judged:
        line, place = self.lines[check.key], self.layout.places[check.key]
        chain = [
            PageLine(below.label, worked)
            for below, worked in steps(self.layout, check.key, self.values)
        ]
        if len(chain) > STEPS_SHOWN:
            chain[STEPS_SHOWN:] = [
                PageLine(
                    "and so on",
                    f"{len(chain) - STEPS_SHOWN} more cells, each with its formula in the workbook",
                )
            ]
        beside = tuple(
            one.remedy if one.code != "concession-lapsed" else _found(one).says + " " + one.remedy
            for one in self.validation.findings
            if one.severity == "check" and one.key == check.key
        )
        formula = (
            in_signs(place.equation)
            if place.equation is not None and self.layout.has_formula(check.key)
            else ""
        )
        return Judged(
            line,
            check.source,
            check.says is None,
            formula,
            with_numbers(self.layout, check.key, self.values, *self._ends(check)),
            tuple(chain),
            self._why(check, line),
            self._drawing(check, line),
            beside,
        )

    def _drawing(self, check: CheckPlan, line: CheckLine) -> Markup | None:
        """The value against its limits, with the span of its uncertainty."""
        value, stated = self.values[check.key], self.every.uncertainty
        if not check.measured or not isinstance(value, float):
            return None
        span, width = stated.held_in(self.values, check.key), 0.0
        if isinstance(span, float):
            own, of = self.layout.place(stated[check.key]), self.layout.place(check.key)
            width = convert(span, own.unit or "", of.unit or "")
        says = f"{line.words} {line.value}, {line.limits}, {line.verdict}"
        return against_limits(value, width, self._ends(check), says)

    def _why(self, check: CheckPlan, line: CheckLine) -> str:
        """Say in one sentence why a check is not OK."""
        value, place = self.values[check.key], self.layout.places[check.key]
        if not isinstance(value, float):
            return "The cell says something else than the word that counts."
        if line.verdict == STALE:
            after, by = (operation(self.values[check.freshness[name]]) for name in FRESHNESS)
            return (
                f"It was read after operation {after}; operation {by} has moved the feature since."
            )
        if line.verdict == UNSURE:
            return (
                f"With an uncertainty of {line.uncertainty} it may lie on either side of the limit."
            )
        ends = zip(self._ends(check), (-1.0, 1.0), strict=True)
        beyond = max(sign * (value - end) for end, sign in ends if isinstance(end, float))
        stated = (
            f", more than its uncertainty of {line.uncertainty}"
            if line.uncertainty.startswith("±")
            else ""
        )
        return f"Beyond the limit by {printer(place).beside(beyond, 0.0)}{stated}."

    def _concessions(self) -> Iterator[Concession]:
        """Every concession of which something is entered, holding or not."""
        for check in self._plans():
            value = self.every.conceded_value.held_in(self.values, check.key)
            signatures = (self.every.reason, self.every.conceded_by, self.every.conceded_on)
            entered = [self._side(check, column) for column in signatures]
            if any(entered) or value is not None:
                conceded = (
                    signed(printed(value, self.layout.places[check.key]))
                    if value is not None
                    else ""
                )
                yield Concession(
                    self.lines[check.key], conceded, *(one or NOT_ENTERED for one in entered)
                )
