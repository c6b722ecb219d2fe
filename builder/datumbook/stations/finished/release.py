"""Release: every check in fixed order with room for a concession, what holds the job up, and who
lets the block go.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Any

from datumbook.cells.columns import (
    Column,
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
from datumbook.cells.tables import Form, Line, Row, Sheet, Table
from datumbook.equations import standings, uncertainties
from datumbook.numbers.quantities import Quantity, counted, number_text
from datumbook.workbook.layout import CheckPlan, Layout, upstream

RANKS = 12
BAND = {"expanded_uncertainty": "release.{row}.uncertainty", "guard_factor": "rule.guard_factor"}


def sheet(layout: Layout) -> Sheet:
    """The sheet of the release."""
    parts = (_state(layout), _held_up(layout), _checks(layout))
    twice = ("by_itself",) if any(check.superseded_by for check in layout.checks) else ()
    behind = ("line", "urgency", "check", "band", "tolerance", *twice)
    addresses = max(len(str(layout.address(check.key))) for check in layout.checks)
    return Sheet(
        name="Release",
        title="Release",
        parts=parts,
        widths={1: 46, 2: max(14, addresses)},
        behind=behind,
    )


def _state(layout: Layout) -> Form:
    stands = [f"release.{check.key}.standing" for check in layout.checks]

    def count(name: str, heading: str, equation: Any, **inputs: Any) -> Line:
        return Line(
            column=Result(name=name, words=heading, unit="", equation=equation, inputs=inputs)
        )

    return Form(
        key="decision",
        title="Where the job stands",
        note="Released: every check OK or conceded, and two people have put their names. "
        "Rejected: with the reason.",
        lines=(
            Line(
                column=Given(
                    name="checks",
                    words="Checks",
                    unit="",
                    whole=True,
                    value=float(len(layout.checks)),
                )
            ),
            count("passing", "OK", standings.passing, standings=stands),
            count(
                "under_concession",
                "Under a concession",
                standings.under_concession,
                standings=stands,
            ),
            count("holding", "Hold the job up", standings.holding),
            Line(
                column=typed_words(
                    "decision",
                    "Decision: released or rejected",
                    "One of the two words.",
                    choices=("released", "rejected"),
                )
            ),
            Line(
                column=typed_words("reason", "Reason, if rejected", "Why the block cannot go on.")
            ),
            Line(
                column=typed_words("measured_by", "Measured by", "Name of the person who measured.")
            ),
            Line(
                column=typed_words(
                    "released_by", "Released or rejected by", "Name of a second person."
                )
            ),
            Line(
                column=typed_words(
                    "released_on", "Date, as 2026-05-31", "Year-month-day.", day=True
                )
            ),
            Line(
                column=Result(
                    name="release_state", words="State", unit=None, equation=standings.release_state
                )
            ),
        ),
    )


def _held_up(layout: Layout) -> Table:
    def every(name: str) -> list[str]:
        return [f"release.{check.key}.{name}" for check in layout.checks]

    def rank(row: str) -> Quantity:
        return counted(int(row))

    return Table(
        key="held_up",
        title="What holds it up, the gravest first",
        heading="Rank",
        rows=[
            Row(str(place), f"{place}.") for place in range(1, min(RANKS, len(layout.checks)) + 1)
        ],
        columns=(
            Result(
                name="where",
                words="go to",
                unit=None,
                equation=standings.words_at,
                inputs={"place": "held_up.{row}.place", "lines": every("go_to")},
            ),
            Result(
                name="verdict",
                words="verdict",
                unit=None,
                equation=standings.words_at,
                inputs={"place": "held_up.{row}.place", "lines": every("verdict")},
            ),
            Result(
                name="place",
                words="line",
                unit="",
                equation=standings.place_of_rank,
                inputs={"rank": rank, "urgencies": every("urgency")},
            ),
            Result(
                name="what",
                words="check",
                unit=None,
                equation=standings.words_at,
                inputs={"place": "held_up.{row}.place", "lines": every("check")},
            ),
        ),
    )


def _checks(layout: Layout) -> Table:
    return Table(
        key="release",
        title="Every check",
        heading="Check",
        note="A concession lets a check pass without changing its verdict: the value as it is now "
        "(blank if none could be "
        "taken), the reason, the name, the date.",
        rows=[Row(check.key, _said(layout, check.key)) for check in layout.checks],
        columns=tuple(_columns(layout, {check.key: check for check in layout.checks})),
        repeated=True,
    )


def _said(layout: Layout, key: str) -> str:
    """A check in words, with the sheet it stands on."""
    place = layout.place(key)
    return f"{place.at.sheet}: {place.label}"


def _columns(layout: Layout, checks: dict[str, CheckPlan]) -> Iterator[Column]:
    measured = [key for key, check in checks.items() if check.measured]
    guarded = [key for key in measured if checks[key].guarded]
    ticks = [key for key in checks if key not in set(measured)]
    sizes = Sizes(
        lambda row: layout.place(row).unit, lambda row: layout.place(row).decimals, width=8.5
    )
    yield words("go_to", "go to", lambda row: str(layout.address(row)))
    shown = replace(
        sizes, width=10.5
    )  # wide enough for the number of a day, which a typed fraction may have become
    yield shown.result("value", "value", standings.shown_again, measured, value="{row}")
    yield Result(
        name="value",
        words="value",
        unit=None,
        rows=ticks,
        equation=standings.said_again,
        inputs={"words": "{row}"},
    )
    yield words("unit", "unit", lambda row: layout.place(row).unit, width=5)
    for name, end in (("from", "low"), ("to", "high")):
        rows = [key for key, check in checks.items() if getattr(check, end)]
        yield sizes.result(name, name, standings.shown_again, rows, value=_end(checks, end))
    yield Uncertainty(
        name="uncertainty",
        words="± (U)",
        unit=sizes.unit,
        rows=guarded,
        of="{row}",
        width=8.5,
        decimals=lambda row: layout.place(row).decimals + 1,
    )
    yield from _guard(layout, checks, guarded)
    verdict = {"words": lambda row: checks[row].verdict}
    yield Result(
        name="verdict",
        words="verdict",
        unit=None,
        equation=standings.said_again,
        inputs=verdict,
        width=8.5,
    )
    yield Reading(
        name="conceded_value",
        words="value conceded",
        unit=sizes.unit,
        decimals=sizes.decimals,
        rows=measured,
        wanted=False,
        how="The value as it is now; blank if none could be taken.",
        width=8.5,
    )
    yield typed_words("reason", "reason", "Why the block may go on all the same.", width=22)
    yield typed_words("conceded_by", "by", "Name.")
    yield typed_words("conceded_on", "on", "Year-month-day.", day=True)
    yield from _standings(layout, checks, measured)
    yield from _guard_parts(layout, checks, guarded)


def _finer(layout: Layout) -> Sizes:
    """Columns that show one place more than the value of the check."""
    return Sizes(
        lambda row: layout.place(row).unit, lambda row: layout.place(row).decimals + 1, width=8.5
    )


def _toleranced(
    layout: Layout, checks: dict[str, CheckPlan], measured: list[str]
) -> tuple[list[str], list[str]]:
    """The checks whose gauge can be held against a tolerance: with both limits, and with an upper
    one alone.
    """
    gauged = [key for key in measured if _group(layout, key) and checks[key].high]
    return [key for key in gauged if checks[key].low], [
        key for key in gauged if not checks[key].low
    ]


def _guard_parts(
    layout: Layout, checks: dict[str, CheckPlan], measured: list[str]
) -> Iterator[Column]:
    """What the guard is made of: the decision rule's own band, and the tolerance."""
    finer, (both, one) = _finer(layout), _toleranced(layout, checks, measured)
    yield finer.result("band", "guard by the rule", uncertainties.guard_band, [*both, *one], **BAND)
    yield finer.result(
        "tolerance",
        "tolerance",
        uncertainties.tolerance,
        both,
        low=_end(checks, "low"),
        high=_end(checks, "high"),
    )
    yield finer.result(
        "tolerance", "tolerance", standings.shown_again, one, value=_end(checks, "high")
    )


def _guard(layout: Layout, checks: dict[str, CheckPlan], measured: list[str]) -> Iterator[Column]:
    """The guard of each limit by the decision rule, and whether the gauge can tell at all."""
    finer, (both, one) = _finer(layout), _toleranced(layout, checks, measured)
    group = {key: _group(layout, key) for key in measured}
    stated: dict[str, Per[Input]] = {
        "resolution": lambda row: f"instruments.{group[row]}.resolution",
        "tolerance": "release.{row}.tolerance",
    }
    yield Result(
        name="gauge",
        words="gauge",
        unit=None,
        rows=[*both, *one],
        equation=uncertainties.coarseness,
        inputs=stated,
        width=10,
    )
    plain = [key for key in measured if key not in {*both, *one}]
    yield finer.result(
        "guard",
        "guard",
        uncertainties.guard_applied,
        [*both, *one],
        guard_band="release.{row}.band",
    )
    yield finer.result("guard", "guard", uncertainties.guard_band, plain, **BAND)


def _group(layout: Layout, key: str) -> str:
    """The group of the gauge a value rests on: that of the first reading it comes from, "" where it
    comes from none.
    """
    for one in (key, *sorted(upstream(layout, key))):
        column = layout.place(one).column
        if isinstance(column, Reading) and column.group:
            return column.group
    return ""


def _end(checks: dict[str, CheckPlan], end: str) -> Callable[[str], str]:
    return lambda row: str(getattr(checks[row], end))


def _by_themselves(
    name: str, rows: list[str], measured: set[str], half_step: Callable[[str], Quantity]
) -> Iterator[Result]:
    """Whether checks stand, looked at alone: with a value to be conceded, or without."""
    yield Result(
        name=name,
        words="stands",
        unit=None,
        rows=[key for key in rows if key in measured],
        width=8.5,
        equation=standings.standing,
        inputs={"half_step": half_step},
    )
    yield Result(
        name=name,
        words="stands",
        unit=None,
        rows=[key for key in rows if key not in measured],
        equation=standings.standing_of_tick,
    )


def _standings(
    layout: Layout, checks: dict[str, CheckPlan], measured: list[str]
) -> Iterator[Column]:
    lines = {key: float(line) for line, key in enumerate(checks, 1)}

    def half_step(row: str) -> Quantity:
        place = layout.place(row)
        step = Fraction(1, 2 * 10**place.decimals)
        return Quantity(step, place.unit or "", place.decimals + 1, number_text(step))

    twice = [key for key, check in checks.items() if check.superseded_by]
    once = [key for key in checks if key not in set(twice)]
    yield from _by_themselves("standing", once, set(measured), half_step)
    yield Result(
        name="standing",
        words="stands",
        unit=None,
        rows=twice,
        equation=standings.standing_once_finished,
        inputs={
            "standing": "release.{row}.by_itself",
            "finished": lambda row: checks[row].superseded_by,
        },
    )
    if twice:
        yield from _by_themselves("by_itself", twice, set(measured), half_step)
    yield Given(name="line", words="line", unit="", whole=True, value=lines.__getitem__, width=6)
    yield Result(name="urgency", words="urgency", unit="", equation=standings.urgency, width=8)
    yield words("check", "check", lambda row: _said(layout, row), width=30)
