"""The checks of a book on the report page: each in its line, those that are OUT, STALE or UNSURE
with why and the numbers put in, and the concessions as entered.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass

from markupsafe import Markup

from datumbook.cells.columns import Column, DateTyped
from datumbook.cells.handles import Key
from datumbook.equations.verdicts import OUT, STALE, UNSURE
from datumbook.grouping import grouped
from datumbook.messages.findings import Finding
from datumbook.numbers.printing import signed
from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.numbers.units import convert
from datumbook.report import NOT_ENTERED
from datumbook.report.drawings import against_limits
from datumbook.report.worked import in_signs, steps, with_numbers
from datumbook.validator import Validation, limits_of, limits_printed, story, why_stale
from datumbook.validator.judge.judgement import Outcome
from datumbook.workbook.flow import upstream
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import CheckPlan
from datumbook.workbook.printed import printed, printer

STEPS_SHOWN = 6  # that are written out below a check
WORST_FIRST = (OUT, STALE, UNSURE)
APART = 2  # of what is measured in one column, so many in doubt stand each by itself
A_DAY = "a day, not a size"


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
    on (words and value of each step), why, what to do; and in short those alike, less far out.
    """

    check: CheckLine
    alike: tuple[tuple[str, CheckLine], ...]
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
        self.plans = [check for check in validation.checks if check.key in outcomes]
        wrong = {one.key for one in validation.findings if one.severity == "reading"}
        self.wrong = {key for key in wrong if validation.typed.get(key) not in (None, "")}
        self.days = {key for key in self.wrong if isinstance(validation.typed[key], DateTyped)}
        self.lines = {check.key: self._line(check, outcomes[check.key]) for check in self.plans}

    def judged(self) -> list[Judged]:
        """Every check that is OUT, STALE or UNSURE, and why, the worst verdicts first; the
        forecasts of one column and what rests on them together, and the sizes measured in one where
        they are many, the worst of them worked out. What rests on a reading that is to be put right
        is told by that.
        """
        doubtful = {
            check.key: check
            for check in self.plans
            if self.lines[check.key].outcome.verdict in WORST_FIRST
            and not self._rests_on(check, self.wrong)
        }
        self.crowded = Counter(self._column(check) for check in doubtful.values())
        told = grouped((self._told_with(check, doubtful), check) for check in doubtful.values())
        judged = [self._judged(each) for each in told.values()]
        return sorted(judged, key=lambda one: WORST_FIRST.index(one.check.outcome.verdict))

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
            A_DAY
            if self._rests_on(check, self.days)
            else signed(printed(self.values[check.key], place, *self._ends(check))),
            signed(limits_printed(self.layout, check, self.values)),
            self._uncertainty(check),
            self._side(check, self.every.standing),
        )

    def _rests_on(self, check: CheckPlan, keys: Set[str]) -> bool:
        """Whether a check is worked out from one of these readings, or is one."""
        return bool(keys) and not keys.isdisjoint(
            {check.key, *upstream(self.layout, check.verdict)}
        )

    def _column(self, check: CheckPlan) -> object:
        return self.layout.places[check.key].column

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

    def _told_with(self, check: CheckPlan, doubtful: Mapping[Key, CheckPlan]) -> object:
        """What checks that are told together have alike: of sizes measured their column, where more
        of it are in doubt than one tells apart; of forecasts their column, or that of the first
        forecast in doubt that they rest on.
        """
        if not self._is_forecast(check):
            column = self._column(check)
            return column if self.crowded[column] > APART else check.key
        below = upstream(self.layout, check.key)
        rests_on = (one for one in doubtful.values() if one.key in below and self._is_forecast(one))
        return self._column(next(rests_on, check))

    def _is_forecast(self, check: CheckPlan) -> bool:
        return check.measured and check.stage == "planned"

    def _judged(self, alike: list[CheckPlan]) -> Judged:
        """The worst of some checks that are told together, with the others in short."""
        check = max(alike, key=lambda one: half_up(self._beyond(one), GUARD_DIGITS))
        place, line = self.layout.places[check.key], self.lines[check.key]
        return Judged(
            check=line,
            alike=tuple(
                self._alike(line, self.lines[one.key]) for one in alike if one is not check
            ),
            source=check.source,
            measured=check.says is None,
            formula=in_signs(place.equation)
            if place.equation is not None and self.layout.has_formula(check.key)
            else "",
            worked=with_numbers(self.layout, check.key, self.values, *self._ends(check)),
            steps=tuple(self._steps(check)),
            why=self._why(check, line),
            drawing=self._drawing(check, line),
            remedies=tuple(dict.fromkeys(self._remedies({one.key for one in alike}))),
        )

    def _alike(self, worst: CheckLine, line: CheckLine) -> tuple[str, CheckLine]:
        """Another check in words: its row alone where its column is that of the worst."""
        row, _, column = line.outcome.label.rpartition(" · ")
        same = bool(row) and column == worst.outcome.label.rpartition(" · ")[2]
        return row if same else line.outcome.label, line

    def _steps(self, check: CheckPlan) -> list[tuple[str, str]]:
        """What a check rests on, step by step; only counted where it is more than one would read
        through.
        """
        chain = [
            (below.label, worked) for below, worked in steps(self.layout, check.key, self.values)
        ]
        if len(chain) <= STEPS_SHOWN:
            return chain
        return [("rests on", f"{len(chain)} cells, each with its formula in the workbook")]

    def _remedies(self, keys: set[Key]) -> Iterator[str]:
        for one in self.validation.findings:
            if one.severity == "check" and one.key in keys:
                lapsed = one.code == "concession-lapsed"
                yield f"{where_and_what(one)[1]} {one.remedy}" if lapsed else one.remedy

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
        if verdict == STALE:
            because = why_stale(check, self.values)
            return f"{because[:1].upper()}{because[1:]}."
        if not isinstance(value, float):
            told = story(check, self.values)
            return f"The cell says something else than the word that counts{told}."
        if verdict == UNSURE:
            return (
                f"With an uncertainty of {line.uncertainty} it may lie on either side of the limit."
            )
        stated = (
            f", more than its uncertainty of {line.uncertainty}"
            if line.uncertainty.startswith("±")
            else ""
        )
        place = self.layout.places[check.key]
        return f"Beyond the limit by {printer(place).beside(self._beyond(check), 0.0)}{stated}."

    def _beyond(self, check: CheckPlan) -> float:
        """How far a number lies beyond its limit, below zero within it; words not at all."""
        value = self.values[check.key]
        return max(
            (
                sign * (value - end)
                for end, sign in zip(self._ends(check), (-1.0, 1.0), strict=True)
                if isinstance(end, float) and isinstance(value, float)
            ),
            default=0.0,
        )
