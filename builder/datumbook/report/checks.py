"""The checks of a book on the report page: each in its line, those that are OUT, STALE or UNSURE
with why and the numbers put in, and the concessions as entered.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import Markup

from datumbook.cells.columns import Column
from datumbook.cells.tables import FRESHNESS
from datumbook.equations.verdicts import OUT, STALE, UNSURE
from datumbook.messages.findings import Finding
from datumbook.numbers.printing import signed
from datumbook.numbers.units import convert
from datumbook.report import NOT_ENTERED
from datumbook.report.drawings import against_limits
from datumbook.report.worked import in_signs, steps, with_numbers
from datumbook.validator import Validation, limits_of, limits_printed, operation
from datumbook.validator.judge.judgement import Outcome
from datumbook.workbook.layout import CheckPlan, Layout
from datumbook.workbook.printed import printed, printer

STEPS_SHOWN = 6  # that are written out below a check


@dataclass(frozen=True)
class CheckLine:
    """One check as its row of the table shows it: where it stands and its verdict, and in print its
    value, limits, uncertainty and standing.
    """

    outcome: Outcome
    value: str
    limits: str
    uncertainty: str
    stands: str


@dataclass(frozen=True)
class Judged:
    """One check that is OUT, STALE or UNSURE: its formula in words and with numbers, what it rests
    on (words and value of each step), why, what to do.
    """

    check: CheckLine
    source: str
    measured: bool
    formula: str
    worked: str
    steps: tuple[tuple[str, str], ...]
    why: str
    drawing: Markup | None
    remedies: tuple[str, ...]


def where_and_what(one: Finding) -> tuple[str, str]:
    """Where a finding is, and what it says there without its place and its remedy."""
    place = " ".join(part for part in (one.sheet, one.cell) if part)
    says = one.message.removesuffix(one.remedy).strip()
    plain = says.removeprefix(f"{place}{f' ({one.label})' if one.label else ''}: ")
    return place, says if plain == says else plain[:1].upper() + plain[1:]


class ChecksTold:
    """The checks of a validated book, in the words of the page."""

    def __init__(self, validation: Validation, layout: Layout) -> None:
        self.validation = validation
        self.layout = layout
        self.values = validation.values
        self.every = layout.stations.release.checks
        outcomes = {one.key: one for one in validation.outcomes}
        self.plans = [check for check in layout.checks if check.key in outcomes]
        self.lines = {check.key: self._line(check, outcomes[check.key]) for check in self.plans}

    def judged(self) -> list[Judged]:
        """Every check that is OUT, STALE or UNSURE, and why."""
        return [
            self._judged(check, self.lines[check.key])
            for check in self.plans
            if self.lines[check.key].outcome.verdict in {OUT, STALE, UNSURE}
        ]

    def concessions(self) -> Iterator[tuple[CheckLine, str, list[str]]]:
        """Every concession of which something is entered, holding or not: its check, the value
        conceded, its reason, by whom and on which day.
        """
        for check in self.plans:
            value = self.every.conceded_value.held_in(self.values, check.key)
            entered = [
                self._side(check, column)
                for column in (self.every.reason, self.every.conceded_by, self.every.conceded_on)
            ]
            if any(entered) or value is not None:
                yield (
                    self.lines[check.key],
                    "" if value is None else signed(printed(value, self.layout.places[check.key])),
                    [one or NOT_ENTERED for one in entered],
                )

    def _line(self, check: CheckPlan, outcome: Outcome) -> CheckLine:
        place = self.layout.places[check.key]
        return CheckLine(
            outcome,
            signed(printed(self.values[check.key], place, *self._ends(check))),
            signed(limits_printed(self.layout, check, self.values)),
            self._uncertainty(check),
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

    def _judged(self, check: CheckPlan, line: CheckLine) -> Judged:
        place = self.layout.places[check.key]
        chain = [
            (below.label, worked) for below, worked in steps(self.layout, check.key, self.values)
        ]
        if further := chain[STEPS_SHOWN:]:
            said = f"{len(further)} more cells, each with its formula in the workbook"
            chain[STEPS_SHOWN:] = [("and so on", said)]
        return Judged(
            check=line,
            source=check.source,
            measured=check.says is None,
            formula=in_signs(place.equation)
            if place.equation is not None and self.layout.has_formula(check.key)
            else "",
            worked=with_numbers(self.layout, check.key, self.values, *self._ends(check)),
            steps=tuple(chain),
            why=self._why(check, line),
            drawing=self._drawing(check, line),
            remedies=tuple(
                f"{where_and_what(one)[1]} {one.remedy}"
                if one.code == "concession-lapsed"
                else one.remedy
                for one in self.validation.findings
                if one.severity == "check" and one.key == check.key
            ),
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
        return against_limits(
            value,
            width,
            self._ends(check),
            f"{line.outcome.label} {line.value}, {line.limits}, {line.outcome.verdict}",
        )

    def _why(self, check: CheckPlan, line: CheckLine) -> str:
        """Say in one sentence why a check is not OK."""
        value, verdict = self.values[check.key], line.outcome.verdict
        if not isinstance(value, float):
            return "The cell says something else than the word that counts."
        if verdict == STALE:
            after, by = (operation(self.values[check.freshness[name]]) for name in FRESHNESS)
            return (
                f"It was read after operation {after}; operation {by} has moved the feature since."
            )
        if verdict == UNSURE:
            return (
                f"With an uncertainty of {line.uncertainty} it may lie on either side of the limit."
            )
        beyond = max(
            sign * (value - end)
            for end, sign in zip(self._ends(check), (-1.0, 1.0), strict=True)
            if isinstance(end, float)
        )
        stated = (
            f", more than its uncertainty of {line.uncertainty}"
            if line.uncertainty.startswith("±")
            else ""
        )
        place = self.layout.places[check.key]
        return f"Beyond the limit by {printer(place).beside(beyond, 0.0)}{stated}."
