"""What printed drill charts name for a thread, held against what those drills make."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from datumbook.numbers.printing import Printer
from datumbook.standards.drill_choice import ChartRemark, HoleLimits, hole_limits, placed, refused
from datumbook.standards.drills import Drill, all_drills, choice, drills_for
from datumbook.standards.threads import METRIC, Thread

HARD_TARGET = 0.50  # what the second column of a drill chart aims at
CHARTS_APART = Fraction(1, 10)  # mm
FRACTIONS_NAMED, NAMED_AS_HARD = (
    (0.45, 0.90),
    (0.45, 0.55),
)  # shares of thread, by the size of the drill, for which charts still name it
NO_OVERSIZE = 0.0  # charts count as if a drill made its own size


def chart_lines(
    thread: Thread, named: Iterable[ChartRemark], oversize_mm: float | None
) -> Iterator[str]:
    """Yield the drills that charts name for a thread, each with the reason where it is not taken.

    oversize_mm: what drills cut over their size, None for the mean of such a drill.
    """
    yield "Drills that charts name"
    yield from [f"  {_named(thread, one)}" for one in named] or ["  None is known here."]
    if thread.family in METRIC:
        yield f"  {_differ(thread, oversize_mm)}"


def _named(thread: Thread, one: ChartRemark) -> str:
    if not thread.form.charted:
        return f"{one.drill.name}: {one.remark} ({one.source})."
    share = 100 * choice(thread, one.drill, NO_OVERSIZE).drill_chart_thread
    own = f"{one.drill.name}, {share:.1f} % if it made its own size"
    return f"{own}: {one.remark} ({one.source})."


def _differ(thread: Thread, oversize_mm: float | None) -> str:
    """The drills about the shop's rule, major less pitch, of which one chart names this and another
    that.
    """
    rule = thread.major - thread.pitch
    near = [
        choice(thread, drill, oversize_mm)
        for drill in all_drills(["metric"])
        if abs(drill.diameter - rule) <= CHARTS_APART
    ]
    said = ", ".join(f"{each.drill.name} {each.place}" for each in near)
    return (
        f"Charts differ by a tenth about major less pitch, "
        f"{Printer('mm', 2).quantity(float(rule))}: {said} {thread.limit_class}."
    )


def outside_lines(
    thread: Thread, limits: HoleLimits | None, oversize_mm: float | None
) -> Iterator[str]:
    """Yield the drills that charts may name for a thread although its limits do not allow the hole
    they make.
    """
    if limits is None:
        return
    whose = thread.limit_class if limits == hole_limits(thread) else "what is recommended"
    yield f"Drills that charts may name, and outside {whose}"
    every = {drill.name: choice(thread, drill, oversize_mm) for drill in _charted(thread)}
    placed_here = [placed(each, limits) for each in every.values()]
    outside = [each for each in placed_here if not each.inside]
    if not outside:
        yield "  None."
        return
    yield from (f"  {refused(thread, each, limits)}." for each in outside)
    yield (
        "  A plan that names one of these needs its reason recorded beside it (drill_reason in "
        "the spec)."
    )


def _charted(thread: Thread) -> Iterator[Drill]:
    """The fraction drills that a chart may name, and the number or letter drill of its 50 % column:
    by their own sizes, as charts count.
    """
    fractions = [choice(thread, drill, NO_OVERSIZE) for drill in all_drills(["fraction"])]
    named = drills_for(thread, ["number", "letter"], HARD_TARGET, NO_OVERSIZE)
    hard = named[:1] if thread.unit == "in" else []
    for drills, (low, high) in ((fractions, FRACTIONS_NAMED), (hard, NAMED_AS_HARD)):
        yield from (each.drill for each in drills if low <= each.drill_chart_thread <= high)
