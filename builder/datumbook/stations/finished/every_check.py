"""Every check: one line each with its value, limits, guard, verdict and room for a concession."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cached_property

from datumbook.cells.columns import (
    Column,
    Equation,
    Given,
    Input,
    Per,
    Reading,
    Result,
    Sizes,
    Uncertainty,
    typed_words,
    words,
)
from datumbook.cells.handles import Key
from datumbook.cells.tables import Row, Table
from datumbook.equations import standings, uncertainties
from datumbook.numbers.quantities import Quantity, number_text
from datumbook.spec.limits import LIMIT_GUESSED
from datumbook.stations.received.job import DecisionRule
from datumbook.stations.received.shown import shown_words
from datumbook.stations.received.standing_ahead import EVERY_CHECK
from datumbook.workbook.flow import stations_under, upstream
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import CheckPlan


class EveryCheck(Table):
    """The checks of the placed stations, in walking order; a row is named by its check's key."""

    go_to: Column
    uncertainty: Column
    guard: Column
    verdict: Column
    conceded_value: Column
    reason: Column
    conceded_by: Column
    conceded_on: Column
    standing: Column
    urgency: Column
    check: Column
    band: Column
    tolerance: Column
    by_itself: Column

    def __init__(self, layout: Layout, rule: DecisionRule) -> None:
        self.layout, self.rule = layout, rule
        self.of: dict[str, CheckPlan] = {check.key: check for check in layout.checks}
        self.measured = [key for key, check in self.of.items() if check.measured]
        self.guarded = [key for key in self.measured if self.of[key].guarded]
        self.twice = [key for key, check in self.of.items() if check.superseded_by]
        # forecasts of a job that cuts nothing: what might be cut is told, and holds nothing up
        cuts = layout.scope.cuts
        self.offered = {
            key for key, check in self.of.items() if check.stage == "planned" and not cuts
        }
        self.group = {key: _group(layout, self.of[key].key) for key in self.guarded}
        super().__init__(
            key=EVERY_CHECK,
            title="Every check",
            heading="Check",
            note="A concession lets a check pass without changing its verdict: the value as it is "
            "now (blank if none could be "
            "taken), the reason, the name, the date.",
            rows=[Row(key, self._said(key)) for key in self.of],
            columns=self._columns(),
        )

    def address(self, row: str) -> str:
        """Where the value of a check stands."""
        return str(self.layout.address(self.of[row].key))

    def every(self, column: Column) -> list[Key]:
        """The cells of a column, check by check."""
        return [column[key] for key in self.of]

    def guard_of(self, check: CheckPlan) -> Key:
        """The cell with the guard at a check's limits."""
        return self.guard[check.key]

    def _said(self, row: str) -> str:
        """A check in words, with the sheet it stands on; of one that rests on a guess, what to
        do.
        """
        place, guessed = self.layout.place(self.of[row].key), self.of[row].guessed
        return f"{place.at.sheet}: {place.label}{f' · {LIMIT_GUESSED}' if guessed else ''}"

    def _like(self, finer: int) -> Sizes:
        """Columns in the unit of the value of the check, with so many places more."""
        place = self.layout.place
        return Sizes(
            lambda row: place(self.of[row].key).unit,
            lambda row: place(self.of[row].key).decimals + finer,
            width=8.5,
        )

    def _value(self, row: str) -> Key:
        return self.of[row].key

    def _end(self, end: str) -> Callable[[str], Key]:
        return lambda row: Key(getattr(self.of[row], end))

    def _columns(self) -> tuple[Column, ...]:
        sizes, again, unlike = self._like(0), standings.shown_again, set(self.measured)
        ticks = [key for key in self.of if key not in unlike]
        # wide enough for the number of a day, which a typed fraction may have become
        wide = replace(sizes, width=10.5)
        return (
            words("go_to", "go to", self.address),
            wide.result("value", "value", again, self.measured, value=self._value),
            _words("value", "value", standings.said_again, ticks, words=self._value),
            words("unit", "unit", sizes.unit, width=5),
            *(
                sizes.result(
                    name,
                    name,
                    again,
                    [key for key, check in self.of.items() if getattr(check, end)],
                    value=self._end(end),
                )
                for name, end in (("from", "low"), ("to", "high"))
            ),
            Uncertainty(
                name="uncertainty",
                words="± (U)",
                unit=sizes.unit,
                rows=self.guarded,
                of=self._value,
                width=8.5,
                decimals=self._like(1).decimals,
            ),
            *self._guard(),
            shown_words("verdict", "verdict", lambda row: self.of[row].verdict, width=8.5),
            sizes.reading(
                "conceded_value",
                "value conceded",
                how="The value as it is now; blank if none could be taken.",
                rows=self.measured,
                wanted=False,
            ),
            typed_words("reason", "reason", "Why the block may go on all the same.", width=22),
            typed_words("conceded_by", "by", "Name."),
            typed_words("conceded_on", "on", "Year-month-day.", day=True),
            *self._standings(),
            *self._guard_parts(),
        )

    def _toleranced(self) -> tuple[list[str], list[str]]:
        """The checks whose gauge can be held against a tolerance: with both limits, and with an
        upper one alone.
        """
        gauged = [key for key in self.guarded if self.group[key] and self.of[key].high]
        both = [key for key in gauged if self.of[key].low]
        return both, [key for key in gauged if not self.of[key].low]

    def _by_rule(self, name: str, heading: str, rows: list[str]) -> Result:
        """The guard by the decision rule alone."""
        return self._like(1).result(
            name,
            heading,
            uncertainties.guard_band,
            rows,
            expanded_uncertainty=lambda _: self.uncertainty,
            guard_factor=self.rule.guard_factor,
        )

    def _guard_parts(self) -> tuple[Column, ...]:
        """What the guard is made of: the decision rule's own band, and the tolerance."""
        finer, (both, one), again = self._like(1), self._toleranced(), standings.shown_again
        high = self._end("high")
        return (
            self._by_rule("band", "guard by the rule", [*both, *one]),
            finer.result(
                "tolerance",
                "tolerance",
                uncertainties.tolerance,
                both,
                low=self._end("low"),
                high=high,
            ),
            finer.result("tolerance", "tolerance", again, one, value=high),
        )

    def _guard(self) -> tuple[Column, ...]:
        """The guard of each limit by the decision rule, and whether the gauge can tell at all."""
        both, one = self._toleranced()
        judged = [*both, *one]
        gauges = self.layout.stations.instruments.gauges
        return (
            Result(
                name="gauge",
                words="gauge",
                rows=judged,
                equation=uncertainties.coarseness,
                inputs={
                    "resolution": lambda row: gauges.resolution[self.group[row]],
                    "tolerance": lambda _: self.tolerance,
                },
                width=10,
            ),
            self._like(1).result(
                "guard",
                "guard",
                uncertainties.guard_applied,
                judged,
                guard_band=lambda _: self.band,
            ),
            self._by_rule(
                "guard", "guard", [key for key in self.guarded if key not in set(judged)]
            ),
        )

    def _by_themselves(self, name: str, rows: Sequence[str]) -> tuple[Column, ...]:
        """Whether checks stand, looked at alone: with a value to be conceded, or without."""
        asked = [key for key in rows if key not in self.offered]
        guessed = [key for key in asked if self.of[key].guessed]
        measured = [key for key in asked if self.of[key].measured and key not in guessed]
        ticks = [key for key in asked if not self.of[key].measured and key not in guessed]
        half, left, rests = self._half_step, self._left, self._rests_on
        offered = [key for key in rows if key in self.offered]
        return (
            _words(
                name,
                "stands",
                standings.standing,
                measured,
                8.5,
                half_step=half,
                left=left,
                rests_on=rests,
            ),
            _words(
                name, "stands", standings.standing_of_tick, ticks, 8.5, left=left, rests_on=rests
            ),
            *(
                [
                    _words(
                        name,
                        "stands",
                        standings.standing_on_a_guess,
                        guessed,
                        8.5,
                        left=left,
                        rests_on=rests,
                    )
                ]
                if guessed
                else []
            ),
            words(name, "stands", standings.PASSES, rows=offered),
        )

    def _left(self, row: str) -> Key:
        return self.layout.stations.job.way.left_at(self.of[row].section)

    def _rests_on(self, row: str) -> list[Key]:
        """Where it is said whether the other stations a check rests on are left as they are."""
        section, way = self.of[row].section, self.layout.stations.job.way
        others = self._under[self.of[row].verdict] - {section.station if section else ""}
        return [cell for one in sorted(others) if (cell := way.left_of(one)) is not None]

    @cached_property
    def _under(self) -> dict[str, frozenset[str]]:
        return stations_under(self.layout, [one.verdict for one in self.of.values()])

    def _half_step(self, row: str) -> Quantity:
        place = self.layout.place(self.of[row].key)
        step = Fraction(1, 2 * 10**place.decimals)
        return Quantity(step, place.unit or "", place.decimals + 1, number_text(step))

    def _standings(self) -> tuple[Column, ...]:
        return (
            *self._by_themselves("standing", [one for one in self.of if one not in self.twice]),
            _words(
                "standing",
                "stands",
                standings.standing_once_finished,
                self.twice,
                standing=lambda _: self.by_itself,
                finished=lambda row: list(self.of[row].superseded_by),
            ),
            *(self._by_themselves("by_itself", self.twice) if self.twice else ()),
            Given(
                name="line",
                words="line",
                unit="",
                whole=True,
                value={key: float(line) for line, key in enumerate(self.of, 1)}.__getitem__,
                width=6,
            ),
            Sizes("", 0, width=8).result("urgency", "urgency", standings.urgency),
            words("check", "check", self._said, width=30),
        )


def _words(
    name: str,
    heading: str,
    equation: Equation,
    rows: Sequence[str],
    width: float = 0.0,
    **inputs: Per[Input],
) -> Result:
    """A column of words that an equation gives."""
    return Result(
        name=name, words=heading, rows=rows, equation=equation, inputs=inputs, width=width
    )


def _group(layout: Layout, key: Key) -> str:
    """The group of the gauge a value rests on: that of the first reading it comes from, "" where it
    comes from none.
    """
    for one in (key, *sorted(upstream(layout, key))):
        column = layout.place(one).column
        if isinstance(column, Reading) and column.group:
            return column.group
    return ""
