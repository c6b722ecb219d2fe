"""One thread at the bench, in words: its sizes, its limits, the drills for it, and what it is mistaken for."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from builder.equations import threads as equations
from builder.refusals import shown
from builder.standards.drills import Choice, all_drills, choice, drills_for
from builder.standards.threads import Thread, all_threads, parse_thread

INCH = 25.4
LONGEST = 60  # characters of a designation
DRILLS_SHOWN = 12
CHART_TARGET, HARD_TARGET = 0.75, 0.50  # what the two columns of a drill chart aim at
FRACTIONS_NAMED, NAMED_AS_HARD = (0.45, 0.90), (0.45, 0.55)  # shares of thread for which charts still name a drill
NEAR_MAJOR, NEAR_PITCH = 0.4, 0.06  # mm; share: two threads nearer than this start into each other

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
    parts = (_sizes(thread), _limits(thread), _drills(thread), _refused(thread), _look_alikes(thread))
    return "\n\n".join("\n".join(part) for part in parts)


def _sizes(thread: Thread) -> Iterator[str]:
    major, pitch = thread.major_mm, thread.pitch_mm
    yield thread.designation
    yield _row("family", f"{thread.family}, form angle {thread.form_angle:g}°")
    if thread.threads_per_inch:
        yield _row("threads per inch", f"{thread.threads_per_inch}")
    yield _row("pitch", _both(pitch))
    yield _row("major diameter", _both(major))
    yield _row("basic pitch (effective) diameter", _both(equations.basic_pitch_diameter(major, pitch)))
    yield _row("basic minor diameter", _both(equations.basic_minor_diameter(major, pitch)))
    area = thread.stress_area_mm2
    yield _row("stress area", f"{area / INCH**2:.4f} in²   {area:.2f} mm²")
    yield _row("source", thread.source)


def _limits(thread: Thread) -> Iterator[str]:
    yield "Limits"
    yield _row(f"hole, class {thread.limit_class}", _band(thread.smallest_minor_mm, thread.largest_minor_mm))
    if thread.unit != "in":
        yield "  Limits of the pitch diameter and of the bolt are not in the metric tables here."
        return
    major, pitch = thread.major_mm, thread.pitch_mm

    def at(limit: Callable[[float, float, float], float]) -> float:
        return limit(major, major, pitch)  # UNC and UNF are toleranced for an engagement of one diameter

    lowest = equations.basic_pitch_diameter(major, pitch)
    yield _row("pitch diameter in the hole, class 2B", _band(lowest, at(equations.largest_pitch_diameter_2b)))
    low, high = at(equations.smallest_pitch_diameter_2a), at(equations.largest_pitch_diameter_2a)
    yield _row("pitch diameter of the bolt, class 2A", _band(low, high))
    low, high = at(equations.smallest_major_2a), at(equations.largest_major_2a)
    yield _row("major diameter of the bolt, class 2A", _band(low, high))


def _drills(thread: Thread) -> Iterator[str]:
    yield f"Drills, nearest to {100 * CHART_TARGET:.0f} % of the charts' thread first"
    yield f"  {'drill':<10}{'inch':>8}{'mm':>9}{'chart %':>10}{'5/8 H %':>10}   hole in {thread.limit_class}"
    for each in drills_for(thread)[:DRILLS_SHOWN]:
        millimetres = each.drill.diameter_mm
        shares = f"{100 * each.drill_chart_thread:>10.1f}{100 * each.basic_profile_thread:>10.1f}"
        yield f"  {each.drill.name:<10}{millimetres / INCH:>8.4f}{millimetres:>9.3f}{shares}   {each.place}"
    yield from TWO_PERCENTAGES


def _refused(thread: Thread) -> Iterator[str]:
    """The drills that charts name for this thread although its class does not allow their hole."""
    yield f"Drills that charts may name, and outside {thread.limit_class}"
    refused = {each.drill.name: each for each in _charted(thread) if not each.inside}
    if not refused:
        yield "  None."
        return
    for each in refused.values():
        yield f"  {each.drill.name} leaves {_shares(each)}: the hole is {_beyond(thread, each)}."
    yield "  A plan that names one of these needs its reason recorded beside it (drill_reason in the spec)."


def _charted(thread: Thread) -> Iterator[Choice]:
    """The fraction drills that a chart may name, and the number or letter drill of its 50 % column."""
    low, high = FRACTIONS_NAMED
    fractions = [choice(thread, drill) for drill in all_drills(["fraction"])]
    yield from (each for each in fractions if low <= each.drill_chart_thread <= high)
    low, high = NAMED_AS_HARD
    hard = drills_for(thread, ["number", "letter"], HARD_TARGET)[:1] if thread.unit == "in" else []
    yield from (each for each in hard if low <= each.drill_chart_thread <= high)


def _shares(each: Choice) -> str:
    return f"{each.drill_chart_thread:.1%} by the charts, {each.basic_profile_thread:.1%} of 5/8 H".replace("%", " %")


def _beyond(thread: Thread, each: Choice) -> str:
    """By how much a hole misses the class, and the basic profile where it is under that too."""
    hole, small, large = each.drill.diameter_mm, thread.smallest_minor_mm, thread.largest_minor_mm
    if each.place == "above":
        return f"{_both(hole - large)} over the largest allowed, {_one(thread, large)}"
    said = f"{_both(small - hole)} under the smallest allowed, {_one(thread, small)}"
    full = each.basic_profile_thread > 1
    return f"{said}; the tap must cut more than the whole basic thread" if full else said


def _look_alikes(thread: Thread) -> Iterator[str]:
    yield "Look-alikes in the tables"
    others = [other for other in all_threads() if other.designation != thread.designation]
    found = [line for other in others for line in _alike(thread, other)]
    yield from found or ["  None."]


def _alike(thread: Thread, other: Thread) -> Iterator[str]:
    if (thread.unit, thread.major) == (other.unit, other.major):
        yield f"  {other.designation}: same size, other pitch, {_both(other.pitch_mm)}; count the threads."
        return
    by_major, by_pitch = abs(thread.major_mm - other.major_mm), abs(thread.pitch_mm - other.pitch_mm)
    share = by_pitch / max(thread.pitch_mm, other.pitch_mm)
    if thread.unit != other.unit and by_major <= NEAR_MAJOR and 0 < share <= NEAR_PITCH:
        turns = min(thread.pitch_mm, other.pitch_mm) / 2 / by_pitch
        apart = f"{_both(by_major)} apart in size, {100 * share:.1f} % in pitch"
        yield f"  {other.designation}: {apart}; it starts, and is half a thread out after {turns:.0f} turns."


def _row(words: str, value: str) -> str:
    return f"  {words:<38}{value}"


def _both(millimetres: float) -> str:
    return f"{millimetres / INCH:.4f} in ({millimetres:.3f} mm)"


def _one(thread: Thread, millimetres: float) -> str:
    return f"{millimetres / INCH:.3f} in" if thread.unit == "in" else f"{millimetres:.3f} mm"


def _band(low: float, high: float) -> str:
    return f"{low / INCH:.4f} to {high / INCH:.4f} in   {low:.3f} to {high:.3f} mm"
