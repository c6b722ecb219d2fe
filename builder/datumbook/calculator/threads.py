"""One thread at the bench, in words: its sizes, its limits, the drills for it, and what it is
mistaken for.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from datumbook.calculator.charts import chart_lines, outside_lines
from datumbook.equations import reaming
from datumbook.equations import threads as equations
from datumbook.messages import ExpectedError
from datumbook.messages.refusals import shown
from datumbook.numbers.printing import Printer, figures, with_unit
from datumbook.numbers.quantities import read_quantity
from datumbook.numbers.units import INCH
from datumbook.standards.clearance import clearance_holes
from datumbook.standards.drill_choice import (
    HoleLimits,
    both,
    chart_remarks,
    hole_limits,
    oversize_in_words,
    place_in_words,
    ranked,
)
from datumbook.standards.drills import SYSTEMS, Choice, all_drills
from datumbook.standards.look_alikes import look_alikes
from datumbook.standards.metric_limits import metric_limits
from datumbook.standards.oversize import as_good, share_wanted
from datumbook.standards.threads import METRIC, Thread, parse_thread

MM, INCHES, SQUARE_INCHES, SQUARE_MM, THREAD_SHARE = (
    Printer("mm", 3),
    Printer("in", 4),
    Printer("in**2", 4),
    Printer("mm**2", 2),
    Printer("%", 1),
)
LONGEST_DESIGNATION = 60  # characters of a designation
DRILLS_SHOWN = 12
LEAST_SHARE = 30  # per cent of thread that may be asked for

TWO_PERCENTAGES = (
    "Chart %: a full thread is 2 x 3/4 H, as the drill charts count. 5/8 H %: the whole basic "
    "thread is 2 x 5/8 H, as",
    "the standards draw it. The second is always 6/5 of the first: 75 % in a chart is 90 % of the "
    "basic thread.",
)


@dataclass(frozen=True, slots=True)
class EngagementAsked:
    """What is asked of the drills: the engagement in mm whose recommended limits hold, the series,
    the share of thread, what they cut over their size (in mm, None for the chart's means).
    """

    engagement_mm: float | None = None
    systems: tuple[str, ...] = SYSTEMS
    target: float = share_wanted()
    oversize_mm: float | None = None


ANY = EngagementAsked()


def asked(
    engagement: str = "", drills: str = "", share: str = "", oversize: str = ""
) -> EngagementAsked:
    """Return what a person asks of the drills, as written; ExpectedError saying what to write
    instead.

    >>> asked(drills="fraction, number", share="75", oversize="0 in").systems
    ('fraction', 'number')
    """
    length = read_quantity(engagement, "[length]").to("mm") if engagement else None
    systems = tuple(word.strip() for word in drills.split(",")) if drills else SYSTEMS
    all_drills(systems)
    target = _share(share) if share else share_wanted()
    return EngagementAsked(length, systems, target, _oversize(oversize) if oversize else None)


def _oversize(text: str) -> float:
    size = read_quantity(text, "[length]").to("mm")
    if size < 0:
        raise ExpectedError(
            f'"{shown(text)}" is under nothing; write what a drill cuts over its size, as 0.004in, '
            "or 0in for a reamer or a drill in a bush."
        )
    return size


def _share(text: str) -> float:
    words = text.strip().removesuffix("%").strip()
    if not re.fullmatch(r"\d{1,3}(\.\d+)?", words) or not LEAST_SHARE <= float(words) <= 100:
        raise ExpectedError(
            f'"{shown(text)}" is no share of thread; write a per cent of the drill charts from '
            f"{LEAST_SHARE} to 100, as 70."
        )
    return float(words) / 100


def thread_card(text: str, ask: EngagementAsked = ANY) -> str:
    """Return everything known here of the thread a text names; ExpectedError saying what to write
    instead.

    ask: the limits, the drill series and the share of thread by which the drills are ranked.

    >>> print(thread_card("5/16-24").splitlines()[0])
    5/16-24 UNF
    """
    if len(text) > LONGEST_DESIGNATION:
        raise ExpectedError(
            f'"{shown(text)}" is too long for a thread designation; write it like 5/16-24 UNF or '
            f"M8x1.25."
        )
    thread = parse_thread(text)
    limits = hole_limits(thread, ask.engagement_mm)
    parts = (
        _sizes(thread),
        _limits(thread, limits),
        _drills(thread, limits, ask),
        _charts(thread, limits, ask),
        outside_lines(thread, limits, ask.oversize_mm),
        _look_alikes(thread),
    )
    return "\n\n".join("\n".join(lines) for part in parts if (lines := list(part)))


def _sizes(thread: Thread) -> Iterator[str]:
    area, taper = thread.stress_area_mm2, thread.taper
    angle = with_unit(figures(thread.form_angle), "deg")
    rows = {
        "family": f"{thread.family}, {thread.kin.words}, form angle {angle}",
        "threads per inch": str(thread.threads_per_inch or ""),
        "taper on the diameter": f"{taper.numerator} in {taper.denominator}" if taper else "",
        "pitch": both(thread.pitch_mm, thread.unit),
        "sharp height H": both(thread.form.height_of_pitch * thread.pitch_mm, thread.unit),
        "major diameter": both(thread.major_mm, thread.unit),
        "basic pitch (effective) diameter": both(thread.effective_mm, thread.unit),
        "basic minor diameter": both(thread.minor_mm, thread.unit),
        "stress area": _area(thread, area) if area else "-",
        "stress area by": thread.kin.stress_area_rule,
        "clearance hole": _clearance(thread),
        "source": thread.source,
    }
    yield thread.designation
    yield from (_row(words, said) for words, said in rows.items() if said)


def _area(thread: Thread, area: float) -> str:
    inches, metric = SQUARE_INCHES.quantity(area / INCH**2), SQUARE_MM.quantity(area)
    return "   ".join((metric, inches) if thread.unit == "mm" else (inches, metric))


def _clearance(thread: Thread) -> str:
    """Its clearance holes by their fits, "" where none are listed."""
    try:
        holes = clearance_holes(thread)
    except LookupError:
        return ""
    fits = ", ".join(f"{hole.fit} {hole.words}" for hole in holes)
    return f"{fits} ({holes[0].source})"


def _limits(thread: Thread, limits: HoleLimits | None) -> Iterator[str]:
    yield "Limits"
    if limits is None:
        yield "  None are known here: no outside table of them was open. Gauge the thread itself."
        return
    known = hole_limits(thread)
    if known is not None and known != limits:
        yield f"  hole, {limits.rule}:"
        yield _row("", _band(thread, limits.smallest_mm, limits.largest_mm))
        limits = known
    yield _row(f"hole, {limits.rule}", _band(thread, limits.smallest_mm, limits.largest_mm))
    what = "of the pitch diameter and of the bolt"
    if thread.effective_tolerance is not None:
        highest, what = thread.effective_mm + float(thread.effective_tolerance), "of the bolt"
        yield _row("pitch diameter in the hole", _band(thread, thread.effective_mm, highest))
    if thread.limit_class == "2B":
        yield from _unified_limits(thread)
    elif thread.family in METRIC:
        yield from _metric_limits(thread)
    else:
        yield f"  Limits {what} are not in the tables here."


def _metric_limits(thread: Thread) -> Iterator[str]:
    limits = metric_limits(thread)
    for words, (low, high) in (
        ("pitch diameter in the hole, class 6H", limits.effective_of_hole),
        ("pitch diameter of the bolt, class 6g", limits.effective_of_bolt),
        ("major diameter of the bolt, class 6g", limits.major_of_bolt),
    ):
        yield _row(words, _band(thread, float(low), float(high)))


def _unified_limits(thread: Thread) -> Iterator[str]:
    major, pitch = thread.major_mm, thread.pitch_mm
    tolerance = equations.pitch_tolerance_2a(major, thread.engagement_mm, pitch)
    bands = {
        "pitch diameter in the hole, class 2B": (
            thread.effective_mm,
            equations.largest_pitch_diameter_2b(major, pitch, tolerance),
        ),
        "pitch diameter of the bolt, class 2A": (
            equations.smallest_pitch_diameter_2a(major, pitch, tolerance),
            equations.largest_pitch_diameter_2a(major, pitch, tolerance),
        ),
        "major diameter of the bolt, class 2A": (
            equations.smallest_major_2a(major, pitch, tolerance),
            equations.largest_major_2a(major, tolerance),
        ),
        "pitch diameter of a ground tap, H1": (
            reaming.largest_tap_effective(thread.effective_mm, 0),
            reaming.largest_tap_effective(thread.effective_mm, 1),
        ),
    }
    yield from (_row(words, _band(thread, low, high)) for words, (low, high) in bands.items())


def _drills(thread: Thread, limits: HoleLimits | None, ask: EngagementAsked) -> Iterator[str]:
    charted = thread.form.charted
    shown = _ranked(thread, limits, ask)[:DRILLS_SHOWN]
    yield _ranked_by(thread, ask)
    hole = (
        "hole as recommended"
        if ask.engagement_mm
        else f"hole in {thread.limit_class}"
        if thread.limit_class
        else "hole"
    )
    percentages = f"{'chart %':>10}{'5/8 H %':>10}" if charted else f"{'thread %':>10}"
    yield f"  {'drill':<10}{'inch':>8}{'mm':>9}{'makes in':>10}{'mm':>9}{percentages}   {hole}"
    yield from [_drill_row(thread, limits, each) for each in shown] or ["  None is listed here."]
    if shown:
        yield f"Makes: its size and what it cuts over that, {_by_whom(shown)}."
    yield from (
        TWO_PERCENTAGES
        if charted
        else [f"Thread %: the full thread is {thread.form.depth} on the diameter."]
    )


def _ranked(thread: Thread, limits: HoleLimits | None, ask: EngagementAsked) -> list[Choice]:
    """The drills asked for, the best first."""
    return ranked(thread, limits, ask.systems, ask.target, ask.oversize_mm)


def _by_whom(every: list[Choice]) -> str:
    """Whose figure the oversizes of these drills are, with the least and the most of them."""
    sizes = sorted(each.oversize_mm for each in every)
    span = " to ".join(dict.fromkeys(INCHES.number(size / INCH) for size in (sizes[0], sizes[-1])))
    return f"{span} in, {oversize_in_words(every)}; probe the first hole"


def _charts(thread: Thread, limits: HoleLimits | None, ask: EngagementAsked) -> Iterator[str]:
    """The drills that charts name, and why the first of those above is another."""
    every = _ranked(thread, limits, ask)
    ours = next((each for each in every if limits is None or each.inside), None)
    inputs = ask.systems, ask.target, ask.engagement_mm, ask.oversize_mm
    yield from chart_lines(thread, chart_remarks(thread, ours, *inputs), ask.oversize_mm)


def _ranked_by(thread: Thread, ask: EngagementAsked) -> str:
    if thread.taper is not None:
        return (
            "Drills as listed: a gauge, not a percentage, judges a taper thread (thread % is "
            "that at its small end)"
        )
    whose = "the charts'" if thread.form.charted else "its full"
    return (
        f"Drills, nearest to {with_unit(figures(100 * ask.target, 3), '%')} of {whose} thread "
        f"first, those inside before the rest (within {100 * as_good():.0f} points of it: surely "
        "inside, then the thread's own system)"
    )


def _drill_row(thread: Thread, limits: HoleLimits | None, each: Choice) -> str:
    sizes = each.drill.diameter_mm, each.hole_mm
    shares = (
        [each.drill_chart_thread, each.basic_profile_thread]
        if thread.form.charted
        else [each.basic_profile_thread]
    )
    place = place_in_words(each, limits) + ("; beyond the chart" if each.oversize.beyond else "")
    printed = "".join(f"{THREAD_SHARE.number(100 * share):>10}" for share in shares)
    return (
        f"  {each.drill.name:<10}{INCHES.number(sizes[0] / INCH):>8}{MM.number(sizes[0]):>9}"
        f"{INCHES.number(sizes[1] / INCH):>10}{MM.number(sizes[1]):>9}{printed}   {place}"
    )


def _look_alikes(thread: Thread) -> Iterator[str]:
    yield "Look-alikes in the tables"
    yield from [
        f"  {other.thread.designation}: {other.words}" for other in look_alikes(thread)
    ] or ["  None."]


def _row(words: str, value: str) -> str:
    return f"  {words:<38}{value}"


def _band(thread: Thread, low: float, high: float) -> str:
    """Two limits in inches and in mm, those of the thread's own system first."""
    inches = f"{INCHES.number(low / INCH)} to {INCHES.quantity(high / INCH)}"
    metric = f"{MM.number(low)} to {MM.quantity(high)}"
    return "   ".join((metric, inches) if thread.unit == "mm" else (inches, metric))
