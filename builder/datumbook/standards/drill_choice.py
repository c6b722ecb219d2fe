"""Which drill for a thread: ranked by the percentage its hole leaves, the hole inside the limits,
why another is refused, and why charts name another.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from datumbook.equations.thread_forms import (
    recommended_largest_hole,
    recommended_share,
    recommended_smallest_hole,
)
from datumbook.equations.threads import minor_tolerance_2b
from datumbook.formulas.functions import at_most, more_than
from datumbook.messages import ExpectedError
from datumbook.numbers.units import INCH
from datumbook.standards.drills import (
    SYSTEMS,
    Choice,
    Drill,
    all_drills,
    choice,
    drills_for,
    place_of,
)
from datumbook.standards.oversize import BEYOND_CHART, as_good, most_source, share_wanted
from datumbook.standards.tap_charts import chart_drills
from datumbook.standards.threads import Thread

LONGEST_ENGAGEMENT = 3  # diameters, as far as the recommendation goes
NAMED_INSIDE = 2
SAME = "the same here"
NONE_INSIDE = (
    "none of the shop's drills is inside: ream the hole, or guide the drill and state what it cuts "
    "over its size (drill_oversize)"
)


@dataclass(frozen=True, slots=True)
class HoleLimits:
    """The smallest and largest hole allowed, in mm, and whose limits they are."""

    smallest_mm: float
    largest_mm: float
    rule: str


@dataclass(frozen=True, slots=True)
class ChartRemark:
    """A drill that a printed chart names, and how it stands to the one taken here: SAME, or why
    that is another.
    """

    drill: Drill
    source: str
    remark: str


def hole_limits(thread: Thread, engagement_mm: float | None = None) -> HoleLimits | None:
    """Return the limits of a hole by the thread's class, None where none is known here.

    engagement_mm: length of engagement, to have the limits ASME B1.1 recommends for it instead:
    inside the class in a short hole, and beyond it in a long one. ExpectedError where there is no
    such recommendation.
    """
    if engagement_mm is not None:
        return _recommended(thread, engagement_mm)
    smallest, largest = thread.smallest_minor_mm, thread.largest_minor_mm
    if smallest is None or largest is None:
        return None
    return HoleLimits(smallest, largest, f"class {thread.limit_class}")


def drills_inside(
    thread: Thread,
    systems: Iterable[str] = SYSTEMS,
    target: float | None = None,
    engagement_mm: float | None = None,
    oversize_mm: float | None = None,
) -> list[Choice]:
    """Return the drills whose hole is probably inside the limits, the best first (`ranked`).

    target, oversize_mm: as for `drills_for`. Where no limits are known, every drill that leaves
    some thread and at most the full depth. Empty where the shop has none: then the nearest outside
    is not offered either.
    """
    limits = hole_limits(thread, engagement_mm)
    every = ranked(thread, limits, systems, target, oversize_mm)
    return [each for each in every if limits is None or each.inside]


def ranked(
    thread: Thread,
    limits: HoleLimits | None,
    systems: Iterable[str] = SYSTEMS,
    target: float | None = None,
    oversize_mm: float | None = None,
) -> list[Choice]:
    """Return the drills for a thread, placed in these limits and the best first: those inside
    before those outside, then by how far they are off the share of thread asked for. Shares within
    a few points of it are as good as one another; there a drill whose largest hole is inside too
    comes before one inside on average, the thread's own system before the other, and then the
    nearer.

    target, oversize_mm: as for `drills_for`.
    """
    wanted = share_wanted() if target is None else target

    def merit(each: Choice) -> tuple[bool, float, bool, bool, float]:
        off = _off(each, wanted)
        return (
            limits is not None and not each.inside,
            max(0.0, off - as_good()),
            not surely_inside(each, limits),
            each.drill.unit != thread.unit,
            off,
        )

    every = drills_for(thread, systems, target, oversize_mm)
    placed_here = [placed(each, limits) for each in every]
    return placed_here if thread.taper is not None else sorted(placed_here, key=merit)


def surely_inside(each: Choice, limits: HoleLimits | None) -> bool:
    """Say whether a drill's hole is inside these limits also where it cuts most over its size."""
    if limits is None or not each.inside:
        return False
    return at_most(each.largest_hole_mm, limits.largest_mm)


def placed(each: Choice, limits: HoleLimits | None) -> Choice:
    """Return a choice with its place in these limits; as it is where there are none."""
    if limits is None:
        return each
    return replace(each, place=place_of(each.hole_mm, limits.smallest_mm, limits.largest_mm))


def drill_refusal(
    thread: Thread,
    drill: Drill,
    systems: Iterable[str] = SYSTEMS,
    engagement_mm: float | None = None,
    oversize_mm: float | None = None,
) -> str | None:
    """Return why a drill is refused for a thread, with the nearest sizes inside; None where its
    hole may be drilled.
    """
    limits = hole_limits(thread, engagement_mm)
    each = placed(choice(thread, drill, oversize_mm), limits)
    if limits is None or each.inside:
        return None
    inside = sorted(
        drills_inside(thread, systems, None, engagement_mm, oversize_mm),
        key=lambda other: abs(other.drill.diameter_mm - drill.diameter_mm),
    )[:NAMED_INSIDE]
    named = " and ".join(
        f"{other.drill.name} ({other.drill.diameter_mm / INCH:.4f} in)" for other in inside
    )
    remedy = f"the nearest inside are {named}" if named else NONE_INSIDE
    return f"{refused(thread, each, limits)}; {remedy}."


def refused(thread: Thread, each: Choice, limits: HoleLimits) -> str:
    """Return what a drill outside its limits makes and leaves, and by how much it is outside."""
    return (
        f"{each.drill.name} makes {made(thread, each)} and leaves {shares_in_words(thread, each)} "
        f"of {thread.designation}: the hole is {beyond(thread, each, limits)}"
    )


def chart_remarks(
    thread: Thread,
    ours: Choice | None,
    systems: Sequence[str] = SYSTEMS,
    target: float | None = None,
    engagement_mm: float | None = None,
    oversize_mm: float | None = None,
) -> Iterator[ChartRemark]:
    """Yield each drill that printed charts name for a thread, the usual one first, with how it
    stands to ours.

    ours: the drill taken here, None for none. The other arguments are those it was ranked by.
    """
    limits, owned = hole_limits(thread, engagement_mm), {one.name for one in all_drills(systems)}
    wanted = share_wanted() if target is None else target
    for named in chart_drills(thread):
        each = placed(choice(thread, named.drill, oversize_mm), limits)
        if ours and ours.drill.name == each.drill.name:
            remark = SAME
        elif limits is not None and not each.inside:
            remark = refused(thread, each, limits)
        elif each.drill.name not in owned:
            ranked = ", ".join(systems)
            remark = f"{each.drill.name} is not on the stand of {ranked} drills"
        else:
            both_leave = ", ".join(_leaves(thread, one) for one in (each, ours) if one)
            remark = f"{both_leave}; {_why(each, ours, limits, wanted)}"
        yield ChartRemark(each.drill, named.source, remark)


def _why(each: Choice, ours: Choice | None, limits: HoleLimits | None, wanted: float) -> str:
    """Why a drill inside comes after ours, which is as good by its share or nearer to it."""
    said = f"{100 * wanted:.0f} % is wanted"
    if ours is None or _off(ours, wanted) <= _off(each, wanted):
        return f"nearest to {said}"
    if surely_inside(ours, limits) and not surely_inside(each, limits):
        return f"about {said}, and {each.drill.name} is inside on average alone"
    return f"about {said}, and {ours.drill.name} is of the thread's own system"


def _off(each: Choice, wanted: float) -> float:
    return abs(each.drill_chart_thread - wanted)


def _leaves(thread: Thread, each: Choice) -> str:
    rule = "by the charts" if thread.form.charted else f"of {thread.form.depth}"
    return f"{each.drill.name} leaves {100 * each.drill_chart_thread:.1f} % {rule}"


def made(thread: Thread, each: Choice) -> str:
    """Return the hole that a drill probably makes, in the thread's own unit."""
    if thread.unit == "mm":
        return f"about {each.hole_mm:.2f} mm"
    return f"about {each.hole_mm / INCH:.4f} in"


def shares_in_words(thread: Thread, each: Choice) -> str:
    """Return both percentages with the convention of each; one where the form has only one."""
    basic = f"{100 * each.basic_profile_thread:.1f} %"
    if thread.form.charted:
        return f"{100 * each.drill_chart_thread:.1f} % by the charts, {basic} of 5/8 H"
    return f"{basic} of {thread.form.depth}"


def beyond(thread: Thread, each: Choice, limits: HoleLimits) -> str:
    """Return by how much a hole outside misses its limits, and the basic profile where it is under
    that too.
    """
    hole = each.hole_mm
    if more_than(hole, limits.largest_mm):
        return (
            f"{both(hole - limits.largest_mm, thread.unit)} over the largest allowed, "
            f"{one(thread, limits.largest_mm)}"
        )
    said = (
        f"{both(limits.smallest_mm - hole, thread.unit)} under the smallest allowed, "
        f"{one(thread, limits.smallest_mm)}"
    )
    full = each.basic_profile_thread > 1
    return f"{said}; the tap must cut more than the whole basic thread" if full else said


def oversize_in_words(every: Sequence[Choice]) -> str:
    """Return whose figures the oversizes of these drills are, which drills are beyond the chart,
    and how much larger than on average single holes come out.
    """
    whose = dict.fromkeys(one.oversize.source for one in every if not one.oversize.beyond)
    beyond = dict.fromkeys(one.drill.name for one in every if one.oversize.beyond)
    largest = [
        (one.oversize.most_mm, one.drill.unit) for one in every if one.oversize.most_mm is not None
    ]
    said = [", or ".join(whose)] if whose else []
    if beyond:
        said.append(f"{', '.join(beyond)}: {BEYOND_CHART}")
    if largest:
        most = both(*max(largest))
        said.append(f"that is on average, some holes come out up to {most} over ({most_source()})")
    return "; ".join(said)


def place_in_words(each: Choice, limits: HoleLimits | None) -> str:
    """Return where the hole of a drill lies, and whether all its holes do or only the mean of them.

    >>> from datumbook.standards.drills import parse_drill
    >>> from datumbook.standards.threads import parse_thread
    >>> thread = parse_thread("5/16-24 UNF")
    >>> [place_in_words(choice(thread, parse_drill(one)), hole_limits(thread)) for one in "HI"]
    ['inside', 'inside on average']
    """
    single = limits and each.inside and not surely_inside(each, limits)
    return f"{each.place} on average" if single else each.place


def both(millimetres: float, first: str = "in") -> str:
    """Return a size in inches and in mm, the unit named first before the other.

    >>> both(8.0), both(8.0, "mm")
    ('0.3150 in (8.000 mm)', '8.000 mm (0.3150 in)')
    """
    inches, metric = f"{millimetres / INCH:.4f} in", f"{millimetres:.3f} mm"
    return f"{metric} ({inches})" if first == "mm" else f"{inches} ({metric})"


def one(thread: Thread, millimetres: float) -> str:
    """Return a limit in the thread's own unit, to three places, or four where the limit has
    them.
    """
    if thread.unit == "mm":
        return f"{millimetres:.3f} mm"
    return f"{f'{millimetres / INCH:.4f}'.removesuffix('0')} in"


def _recommended(thread: Thread, engagement_mm: float) -> HoleLimits:
    smallest, largest = thread.smallest_minor_mm, thread.largest_minor_mm
    if thread.limit_class != "2B" or smallest is None or largest is None:
        raise ExpectedError(
            f"No holes are recommended by length of engagement for {thread.designation}: ASME "
            f"B1.1 does so for unified "
            "threads alone; leave the length out."
        )
    diameters = engagement_mm / thread.major_mm
    if not 0 < diameters <= LONGEST_ENGAGEMENT:
        raise ExpectedError(
            f"An engagement of {diameters:.2f} diameters is outside the recommendation, which "
            f"runs up to "
            f"{LONGEST_ENGAGEMENT} diameters; leave the length out to have the limits of class 2B."
        )
    tolerance, share = (
        minor_tolerance_2b(thread.major_mm, thread.pitch_mm),
        recommended_share(thread.major_mm, engagement_mm),
    )
    return HoleLimits(
        smallest_mm=recommended_smallest_hole(smallest, tolerance, share),
        largest_mm=recommended_largest_hole(smallest, largest, tolerance, share),
        rule=f"recommended by ASME B1.1 for an engagement of {diameters:.2f} diameters",
    )
