"""What holds the job up: readings that are missing, checks that are not OK and not conceded, a
block that is rejected.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from datumbook.cells.tables import MOVED_SINCE, Stage, StateRead, Table, stages_reached
from datumbook.equations.standings import CONCEDED, LEFT, PASSES
from datumbook.equations.verdicts import OPEN, OUT, STALE, UNSURE
from datumbook.messages.findings import Finding
from datumbook.numbers.printing import Printer, figures, limits_in_words
from datumbook.numbers.units import convert
from datumbook.stations.finished.every_check import EveryCheck
from datumbook.validator.judge.calendar import calendar
from datumbook.validator.judge.cured import cured
from datumbook.validator.judge.seal import seal_of, seal_written
from datumbook.validator.judge.signed import signed
from datumbook.validator.judge.unstated import unstated
from datumbook.validator.locate.location import Located
from datumbook.validator.readings.entries import Entries
from datumbook.workbook.evaluation import Breakdown
from datumbook.workbook.flow import lacking, upstream
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import CheckPlan, Place
from datumbook.workbook.printed import printed, printer

READ_OTHERWISE = "it was read in another state of assembly than its limit means"


class Outcome(NamedTuple):
    """One computed value: what Python makes of it, what the book shows, and how it was judged."""

    key: str
    label: str
    sheet: str
    cell: str
    unit: str
    computed: object
    shown: object
    verdict: str = ""
    concession: str = ""


def judge(
    layout: Layout, located: Located, entries: Entries, values: Mapping[str, object], stage: Stage
) -> list[Finding]:
    """Return what holds the job up at a stage of the work: readings first, then checks, then the
    decision.
    """
    reached = stages_reached(stage)
    every = layout.stations.release.checks
    later = {one.verdict for one in layout.checks if one.stage not in reached}

    def standing(check: CheckPlan) -> object:
        """Whether a check stands: by itself, where what answers it belongs to a later stage."""
        alone = not later.isdisjoint(check.superseded_by)
        return values[(every.by_itself if alone else every.standing)[check.key]]

    holding = [
        check
        for check in layout.checks
        if check.stage in reached and standing(check) not in (PASSES, CONCEDED, LEFT)
    ]
    by_plan = cured(layout, values) if stage == "planned" else {}
    curing = [check for check in holding if check.key in by_plan]
    holding = [check for check in holding if check.key not in by_plan]
    return [
        *_missing(layout, located, entries, values, holding),
        *_checks(layout, located, entries, values, holding),
        *_cured(layout, located, values, [(check, by_plan[check.key]) for check in curing]),
        *_decision(layout, located, values),
        *unstated(layout, located, entries.typed, values, reached),
        *calendar(layout, located, entries, values, reached),
        *signed(layout, located, values, reached),
        *_sealed(layout, located, entries, values),
    ]


def _missing(
    layout: Layout,
    located: Located,
    entries: Entries,
    values: Mapping[str, object],
    holding: list[CheckPlan],
) -> Iterator[Finding]:
    """The wanted readings that are not there, unless every check that needs them is under a
    concession.
    """
    held = {key for check in holding for key in (check.key, *upstream(layout, check.verdict))}
    left = layout.stations.job.way.left_cells(values)
    for place in layout.wanted():
        if (
            place.key not in left
            and values[place.key] in (None, "")
            and place.key in held
            and place.key not in entries.spoiled
        ):
            yield located.about("reading-missing", place)


def _checks(
    layout: Layout,
    located: Located,
    entries: Entries,
    values: Mapping[str, object],
    holding: list[CheckPlan],
) -> Iterator[Finding]:
    """The checks that hold the job up, except those that a reading above them already explains, or
    the state of assembly in which their series was read.
    """
    held = {check.key for check in holding}
    absent = {place.key for place in layout.wanted() if values[place.key] in (None, "")}
    for check in holding:
        needed, verdict = {check.key, *upstream(layout, check.verdict)}, values[check.verdict]
        state = read_otherwise(check, values)
        told = state is not None and state.verdict[state.whole] in held
        if not (told or needed & entries.spoiled or (verdict == OPEN and needed & absent)):
            yield _held(layout, located, check, str(verdict), values)


def _cured(
    layout: Layout,
    located: Located,
    values: Mapping[str, object],
    curing: list[tuple[CheckPlan, str]],
) -> Iterator[Finding]:
    """What is beyond its limit as received and cured by the boring planned."""
    for check, size in curing:
        place = layout.places[check.key]
        found = printed(values[check.key], place, *limits_of(layout, check, values))
        expected = limits_printed(layout, check, values)
        yield located.about("cured-by-plan", place, found=found, expected=expected, size=size)


def _decision(layout: Layout, located: Located, values: Mapping[str, object]) -> Iterator[Finding]:
    """A block that is rejected, or was meant to be, is not released."""
    form = layout.stations.release.decision
    if str(values[form.decision.key] or "").casefold() == "rejected":
        rejected = values[form.release_state.key] == "REJECTED"
        code = "job-rejected" if rejected else "rejection-incomplete"
        reason = values[form.reason.key] or "no reason is given"
        yield located.about(code, layout.place(form.decision.key), found=reason)


def _sealed(
    layout: Layout, located: Located, entries: Entries, values: Mapping[str, object]
) -> Iterator[Finding]:
    """What was sealed is as it was."""
    written = seal_written(layout, values)
    if written and written != seal_of(layout, entries.typed):
        place = layout.place(layout.stations.release.decision.seal.key)
        yield located.about("seal-broken", place, found=written)


def _held(
    layout: Layout, located: Located, check: CheckPlan, verdict: str, values: Mapping[str, object]
) -> Finding:
    place = layout.places[check.key]
    words: dict[str, object] = {
        "found": printed(values[check.key], place, *limits_of(layout, check, values)),
        "expected": limits_printed(layout, check, values),
        "source": f" ({check.source})" if check.source else "",
        "story": story(check, values),
    }
    beyond = "measuring-out" if check.if_stated else "check-out"
    code = {OUT: beyond, UNSURE: "check-unsure", STALE: "check-stale"}.get(verdict, "check-open")
    if check.guessed and verdict in (OUT, UNSURE):
        return located.about("limit-guessed", place, **words)
    every = layout.stations.release.checks
    conceded, stated = every.conceded_value.held_in(values, check.key), every.uncertainty
    if absent := _left_blank(every, check, values):
        code, words["absent"] = "concession-incomplete", ", ".join(absent)
    elif absent is not None and code != "check-open":
        code, words["expected"] = "concession-lapsed", printed(conceded, place)
    if code == "check-stale":
        words["because"] = why_stale(check, values)
    if code == "check-open":
        words["because"] = why_open(check, values) or _lacks(layout, located, check, values)
    if _is_state(place) and code in ("check-stale", "check-open"):
        words |= {"found": "every reading", "because": f"{READ_OTHERWISE}{story(check, values)}"}
    uncertainty = stated.held_in(values, check.key)
    if isinstance(uncertainty, float):
        words["uncertainty"] = printer(layout.place(stated[check.key])).quantity(uncertainty)
    return located.about(code, place, **words)


def story(check: CheckPlan, values: Mapping[str, object]) -> str:
    """What the words beside a check tell more of it, "" where they tell nothing."""
    told = [str(values[key]) for key in check.story if values[key]]
    return f": {', '.join(told)}" if told else ""


def _lacks(layout: Layout, located: Located, check: CheckPlan, values: Mapping[str, object]) -> str:
    """What a check is open for want of, with the blank readings in words, at most three: those
    under its number, or, where that is there, under what it may be off by.
    """
    number = values[check.key] not in (None, "")
    wanting = lacking(layout, check.verdict if number else check.key, values) | {check.key}
    blank = [
        place
        for place in layout.readings()
        if place.key in wanting and values[place.key] in (None, "")
    ]
    said = [f"{' '.join(located.shown_at(place))} ({place.label})" for place in blank[:3]]
    further = f" and {len(blank) - 3} more" if len(blank) > 3 else ""
    named = f"; blank: {', '.join(said)}{further}" if said else ""
    return f"something it needs is missing or broke down{named}{story(check, values)}"


def _left_blank(
    every: EveryCheck, check: CheckPlan, values: Mapping[str, object]
) -> list[str] | None:
    """What a concession begun lacks, of value, reason, name and date; None where none was begun."""
    wanted = {"reason": every.reason, "name": every.conceded_by, "date": every.conceded_on}
    if check.measured and values[check.key] is not None:
        wanted = {"value": every.conceded_value} | wanted
    absent = [words for words, column in wanted.items() if values[column[check.key]] in (None, "")]
    return absent if len(absent) < len(wanted) else None


def read_otherwise(check: CheckPlan, values: Mapping[str, object]) -> StateRead | None:
    """The state of assembly for which a check is not judged: its readings were taken in another
    than its limit means. None where they count, or were moved since.
    """
    table = check.fresh_in
    state = table.spoilers.state if table and table.spoilers else None
    if table is None or state is None or _moved(table, values):
        return None
    return state if values[state.unfit] else None


def why_stale(check: CheckPlan, values: Mapping[str, object]) -> str:
    """Why a check is STALE, in words: what moved its feature after which step, or the state its
    readings were taken in.
    """
    table = check.fresh_in
    series = table.spoilers.series if table and table.spoilers else None
    if table and series and (moved := _moved(table, values)):
        after = f"{values[series.step.key]}, done number {operation(values[series.number.key])}"
        return (
            f"the operation with done number {operation(moved)} moved the feature after the "
            f"reading was taken (after {after})"
        )
    told = f"{READ_OTHERWISE}{said}" if (said := story(check, values)) else ""
    return why_open(check, values) or told or "something it rests on is STALE"


def why_open(check: CheckPlan, values: Mapping[str, object]) -> str:
    """Why readings that are there are not judged, in words: the state they were taken in, and what
    to do; "" where that is not why.
    """
    state = read_otherwise(check, values)
    return f"{READ_OTHERWISE}: {values[state.what_to_do]}" if state else ""


def _is_state(place: Place) -> bool:
    return place.column is not None and isinstance(place.column.home, StateRead)


def _moved(table: Table, values: Mapping[str, object]) -> object:
    """The done number of the operation that moved what a table holds since it was read; None or ""
    where none did.
    """
    known = table.has(MOVED_SINCE, "")
    return values[table.cell("", MOVED_SINCE)] if known else None


def operation(number: object) -> str:
    """The done number of an operation, 0 where there is none."""
    return figures(number) if isinstance(number, float) else "0"


def limits_printed(layout: Layout, check: CheckPlan, values: Mapping[str, object]) -> str:
    """A check's limits in words."""
    if check.says is not None:
        return f"“{check.says}”"
    if check.judged:
        return f"set by {check.source}"
    ends = limits_of(layout, check, values)
    if ends == (None, None):
        return "no limit known yet"
    place = layout.places[check.key]
    named = zip((check.low, check.high), ends, strict=True)
    low, high = (_end(layout.places[key], end, place) if key else None for key, end in named)
    return limits_in_words(low, high, place.unit or "")


def _end(own: Place, end: object, place: Place) -> str:
    """One end of a limit as its own cell shows it, or turned into the unit of what it limits."""
    if own.unit == place.unit or not isinstance(end, float):
        return printed(end, own)
    return Printer(place.unit or "", place.decimals).given(end).quantity(end)


def limits_of(
    layout: Layout, check: CheckPlan, values: Mapping[str, object]
) -> tuple[object, object]:
    """What a check is held to, low end and high end, in the check's own unit; None for an end it
    has not.

    A limit stands in the unit it was stated in, which may be another: a least wall in inches round
    a hole in millimetres.
    """
    unit = layout.places[check.key].unit or ""
    ends = [
        (values[key], layout.places[key].unit or "") if key else (None, unit)
        for key in (check.low, check.high)
    ]
    low, high = (convert(end, own, unit) if isinstance(end, float) else end for end, own in ends)
    return low, high


def outcomes(layout: Layout, located: Located, values: Mapping[str, object]) -> Iterator[Outcome]:
    """Yield every computed value with what the book shows of it."""
    checks, every = {check.key: check for check in layout.checks}, layout.stations.release.checks
    for place in layout.places.values():
        if place.role == "result" or place.key in checks:
            cell, value = located.cell(place.key), values[place.key]
            conceded = every.standing.held_in(values, place.key) == CONCEDED
            reason = every.reason.held_in(values, place.key) if conceded else ""
            yield Outcome(
                place.key,
                place.label,
                *located.shown_at(place),
                place.unit or "",
                "error" if isinstance(value, Breakdown) else value,
                None if cell is None else cell.error or cell.value,
                str(values[checks[place.key].verdict]) if place.key in checks else "",
                str(reason or ""),
            )
