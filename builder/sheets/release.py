"""Release: every check in fixed order with room for a concession, what holds the job up, and who lets the block go."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from builder.equations import verdicts
from builder.quantities import Quantity, number_text
from builder.table import Form, Given, Line, Reading, Result, Row, Sheet, Table, Uncertainty

if TYPE_CHECKING:
    from builder.layout import CheckPlan, Layout

RANKS = 12


def sheet(layout: Layout) -> Sheet:
    """The sheet of the release."""
    return Sheet(name="Release", title="Release", parts=(_state(layout), _held_up(layout), _checks(layout)))


def _state(layout: Layout) -> Form:
    standings = [f"release.{check.key}.standing" for check in layout.checks]

    def count(name: str, words: str, equation: Any, **inputs: Any) -> Line:
        return Line(column=Result(name=name, words=words, unit="", equation=equation, inputs=inputs))

    def words(name: str, words: str, how: str, choices: tuple[str, ...] = ()) -> Line:
        return Line(column=Reading(name=name, words=words, unit=None, wanted=False, how=how, choices=choices))

    return Form(
        key="decision",
        title="Where the job stands",
        note="Released: every check OK or conceded, and two people have put their names. Rejected: with the reason.",
        lines=(
            Line(column=Given(name="checks", words="Checks", unit="", value=float(len(layout.checks)))),
            count("passing", "OK", verdicts.passing, standings=standings),
            count("under_concession", "Under a concession", verdicts.under_concession, standings=standings),
            count("holding", "Hold the job up", verdicts.holding),
            words("decision", "Decision", "released or rejected.", ("released", "rejected")),
            words("reason", "Reason, if rejected", "Why the block cannot go on."),
            words("measured_by", "Measured by", "Name of the person who measured."),
            words("released_by", "Released or rejected by", "Name of a second person."),
            words("released_on", "Date, as 2026-05-31", "Year-month-day."),
            Line(column=Result(name="release_state", words="State", unit=None, equation=verdicts.release_state)),
        ),
    )


def _held_up(layout: Layout) -> Table:
    checks = layout.checks
    return Table(
        key="held_up",
        title="What holds it up, the gravest first",
        heading="Rank",
        rows=[Row(str(rank), f"{rank}.") for rank in range(1, min(RANKS, len(checks)) + 1)],
        columns=(
            Given(name="rank", words="rank", unit="", value=float),
            Result(name="place", words="line below", unit="", equation=verdicts.place_of_rank,
                   inputs={"urgencies": [f"release.{check.key}.urgency" for check in checks]}),
            Result(name="what", words="check", unit=None, equation=verdicts.words_at,
                   inputs={"lines": [f"release.{check.key}.check" for check in checks]}),
            Result(name="verdict", words="verdict", unit=None, equation=verdicts.words_at,
                   inputs={"lines": [f"release.{check.key}.verdict" for check in checks]}),
        ),
    )  # fmt: skip


def _checks(layout: Layout) -> Table:
    checks = {check.key: check for check in layout.checks}
    measured = [key for key, check in checks.items() if check.says is None]
    ticks = [key for key in checks if key not in set(measured)]
    lines = {key: float(line) for line, key in enumerate(checks, 1)}

    def unit(row: str) -> str | None:
        return layout.place(row).unit

    def decimals(row: str) -> int:
        return layout.place(row).decimals

    def end(name: str, words: str) -> Result:
        keys = [key for key, check in checks.items() if getattr(check, name)]
        return Result(name="from" if name == "low" else "to", words=words, unit=unit, decimals=decimals, rows=keys,
                      equation=verdicts.shown_again, inputs={"value": lambda row: getattr(checks[row], name)})  # fmt: skip

    def concession(name: str, words: str, how: str) -> Reading:
        return Reading(name=name, words=words, unit=None, wanted=False, how=how)

    def half_step(row: str) -> Quantity:
        step = Quantity(_half(decimals(row)), unit(row) or "", decimals(row) + 1, "")
        return Quantity(step.number, step.unit, step.decimals, f"{number_text(step.number)} {step.unit}".strip())

    signed = {"verdict": "release.{row}.verdict", "reason": "release.{row}.reason",
              "conceded_by": "release.{row}.conceded_by", "conceded_on": "release.{row}.conceded_on"}  # fmt: skip
    return Table(
        key="release",
        title="Every check",
        heading="Check",
        note="A concession lets a check pass without changing its verdict: the value as it is now (blank if none could be "
        "taken), the reason, the name, the date.",
        rows=[Row(key, _words(layout, check)) for key, check in checks.items()],
        columns=(
            Given(name="go_to", words="go to", unit=None, value=lambda row: str(layout.address(row)), width=13),
            Result(name="value", words="value", unit=unit, decimals=decimals, rows=measured,
                   equation=verdicts.shown_again, inputs={"value": "{row}"}),
            Result(name="value", words="value", unit=None, rows=ticks, equation=verdicts.said_again, inputs={"words": "{row}"}),
            Given(name="unit", words="unit", unit=None, value=unit, width=6),
            end("low", "from"),
            end("high", "to"),
            Uncertainty(name="uncertainty", words="± (U)", unit=unit, decimals=lambda row: decimals(row) + 1, rows=measured,
                        of=lambda row: row),
            Result(name="verdict", words="verdict", unit=None, equation=verdicts.said_again, inputs={"words": "{row}.verdict"}),
            Reading(name="conceded_value", words="value conceded", unit=unit, decimals=decimals, rows=measured, wanted=False,
                    how="The value as it is now; blank if none could be taken.", possible=(-1e6, 1e6)),
            concession("reason", "reason", "Why the block may go on all the same."),
            concession("conceded_by", "by", "Name."),
            concession("conceded_on", "on", "Year-month-day."),
            Result(name="standing", words="stands", unit=None, rows=measured, equation=verdicts.standing,
                   inputs=signed | {"half_step": half_step}),
            Result(name="standing", words="stands", unit=None, rows=ticks, equation=verdicts.standing_of_tick, inputs=signed),
            Given(name="line", words="line", unit="", value=lines.__getitem__, width=6),
            Result(name="urgency", words="urgency", unit="", equation=verdicts.urgency, width=8),
            Given(name="check", words="check", unit=None, value=lambda row: _words(layout, checks[row]), width=3),
        ),
    )  # fmt: skip


def _half(decimals: int) -> Any:
    from fractions import Fraction  # one exact number

    return Fraction(1, 2 * 10**decimals)


def _words(layout: Layout, check: CheckPlan) -> str:
    """The check in words that say which station it belongs to."""
    return layout.place(check.key).label
