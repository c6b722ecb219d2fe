"""One thread at the bench, in words: its sizes, its limits, the drills for it, and what it is mistaken for."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from builder.equations import threads as equations
from builder.refusals import shown
from builder.standards.clearance import clearance_holes
from builder.standards.drill_choice import beyond, both, hole_limits, shares_in_words
from builder.standards.drills import Choice, all_drills, choice, drills_for, listed_drills
from builder.standards.look_alikes import look_alikes
from builder.standards.threads import Thread, parse_thread

INCH = 25.4
LONGEST = 60  # characters of a designation
DRILLS_SHOWN = 12
CHART_TARGET, HARD_TARGET = 0.75, 0.50  # what the two columns of a drill chart aim at
FRACTIONS_NAMED, NAMED_AS_HARD = (0.45, 0.90), (0.45, 0.55)  # shares of thread for which charts still name a drill

TWO_PERCENTAGES = (
    "Chart %: a full thread is 2 x 3/4 H, as the drill charts count. 5/8 H %: the whole basic thread is 2 x 5/8 H, as",
    "the standards draw it. The second is always 6/5 of the first: 75 % in a chart is 90 % of the basic thread.",
)


def thread_card(text: str) -> str:
    """Return everything known here of the thread a text names; ValueError saying what to write instead.

    >>> print(thread_card("5/16-24").splitlines()[0])
    5/16-24 UNF
    """
    if len(text) > LONGEST:
        raise ValueError(f'"{shown(text)}" is too long for a thread designation; write it like 5/16-24 UNF or M8x1.25.')
    thread = parse_thread(text)
    parts = (_sizes, _limits, _drills, _refused, _look_alikes)
    return "\n\n".join("\n".join(lines) for part in parts if (lines := list(part(thread))))


def _sizes(thread: Thread) -> Iterator[str]:
    yield thread.designation
    yield _row("family", f"{thread.family}, {thread.kin.words}, form angle {thread.form_angle:g}°")
    if thread.threads_per_inch:
        yield _row("threads per inch", f"{thread.threads_per_inch}")
    if thread.taper:
        yield _row("taper on the diameter", f"{thread.taper.numerator} in {thread.taper.denominator}")
    yield _row("pitch", both(thread.pitch_mm))
    yield _row("sharp height H", both(thread.form.height_of_pitch * thread.pitch_mm))
    yield _row("major diameter", both(thread.major_mm))
    yield _row("basic pitch (effective) diameter", both(thread.effective_mm))
    yield _row("basic minor diameter", both(thread.minor_mm))
    area = thread.stress_area_mm2
    yield _row("stress area", f"{area / INCH**2:.4f} in²   {area:.2f} mm²" if area else "-")
    yield _row("stress area by", thread.kin.stress_area_rule)
    yield from _clearance(thread)
    yield _row("source", thread.source)


def _clearance(thread: Thread) -> Iterator[str]:
    try:
        holes = clearance_holes(thread)
    except LookupError:
        return
    fits = ", ".join(f"{hole.fit} {float(hole.diameter_mm):g}" for hole in holes)
    yield _row("clearance hole in mm", f"{fits} ({holes[0].source})")


def _limits(thread: Thread) -> Iterator[str]:
    yield "Limits"
    limits = hole_limits(thread)
    if limits is None:
        yield "  None are known here: no outside table of them was open. Gauge the thread itself."
        return
    yield _row(f"hole, {limits.rule}", _band(limits.smallest_mm, limits.largest_mm))
    if thread.effective_tolerance is not None:
        highest = thread.effective_mm + float(thread.effective_tolerance)
        yield _row("pitch diameter in the hole", _band(thread.effective_mm, highest))
    yield from _unified_limits(thread) if thread.limit_class == "2B" else _no_other_limits(thread)


def _no_other_limits(thread: Thread) -> Iterator[str]:
    what = "of the bolt" if thread.effective_tolerance is not None else "of the pitch diameter and of the bolt"
    yield f"  Limits {what} are not in the tables here."


def _unified_limits(thread: Thread) -> Iterator[str]:
    def at(limit: Callable[[float, float, float], float]) -> float:
        return limit(thread.major_mm, thread.engagement_mm, thread.pitch_mm)

    lowest = thread.effective_mm
    yield _row("pitch diameter in the hole, class 2B", _band(lowest, at(equations.largest_pitch_diameter_2b)))
    low, high = at(equations.smallest_pitch_diameter_2a), at(equations.largest_pitch_diameter_2a)
    yield _row("pitch diameter of the bolt, class 2A", _band(low, high))
    low, high = at(equations.smallest_major_2a), at(equations.largest_major_2a)
    yield _row("major diameter of the bolt, class 2A", _band(low, high))


def _drills(thread: Thread) -> Iterator[str]:
    charted, ranked = thread.form.charted, drills_for(thread)[:DRILLS_SHOWN]
    yield _ranked_by(thread)
    hole = f"hole in {thread.limit_class}" if thread.limit_class else "hole"
    percentages = f"{'chart %':>10}{'5/8 H %':>10}" if charted else f"{'thread %':>10}"
    yield f"  {'drill':<10}{'inch':>8}{'mm':>9}{percentages}   {hole}"
    yield from [_drill_row(thread, each) for each in ranked] or ["  None is listed here."]
    yield from TWO_PERCENTAGES if charted else [f"Thread %: the full thread is {thread.form.depth} on the diameter."]
    if listed := ", ".join(drill.name for drill in listed_drills(thread)):
        yield f"Listed for it: {listed} ({thread.drill_source})."


def _ranked_by(thread: Thread) -> str:
    if thread.taper is not None:
        return "Drills as listed: a gauge, not a percentage, judges a taper thread (thread % is that at its small end)"
    whose = "the charts'" if thread.form.charted else "its full"
    return f"Drills, nearest to {100 * CHART_TARGET:.0f} % of {whose} thread first"


def _drill_row(thread: Thread, each: Choice) -> str:
    millimetres = each.drill.diameter_mm
    shares = [each.drill_chart_thread, each.basic_profile_thread] if thread.form.charted else [each.basic_profile_thread]
    printed = "".join(f"{100 * share:>10.1f}" for share in shares)
    return f"  {each.drill.name:<10}{millimetres / INCH:>8.4f}{millimetres:>9.3f}{printed}   {each.place}"


def _refused(thread: Thread) -> Iterator[str]:
    """The drills that charts name for this thread although its class does not allow their hole."""
    limits = hole_limits(thread)
    if limits is None:
        return
    yield f"Drills that charts may name, and outside {thread.limit_class}"
    refused = {each.drill.name: each for each in _charted(thread) if not each.inside}
    if not refused:
        yield "  None."
        return
    for each in refused.values():
        yield f"  {each.drill.name} leaves {shares_in_words(thread, each)}: the hole is {beyond(thread, each, limits)}."
    yield "  A plan that names one of these needs its reason recorded beside it (drill_reason in the spec)."


def _charted(thread: Thread) -> Iterator[Choice]:
    """The fraction drills that a chart may name, and the number or letter drill of its 50 % column."""
    low, high = FRACTIONS_NAMED
    fractions = [choice(thread, drill) for drill in all_drills(["fraction"])]
    yield from (each for each in fractions if low <= each.drill_chart_thread <= high)
    low, high = NAMED_AS_HARD
    hard = drills_for(thread, ["number", "letter"], HARD_TARGET)[:1] if thread.unit == "in" else []
    yield from (each for each in hard if low <= each.drill_chart_thread <= high)


def _look_alikes(thread: Thread) -> Iterator[str]:
    yield "Look-alikes in the tables"
    found = look_alikes(thread)
    yield from (f"  {other.thread.designation}: {other.words}" for other in found)
    if not found:
        yield "  None."


def _row(words: str, value: str) -> str:
    return f"  {words:<38}{value}"


def _band(low: float, high: float) -> str:
    return f"{low / INCH:.4f} to {high / INCH:.4f} in   {low:.3f} to {high:.3f} mm"
