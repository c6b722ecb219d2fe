"""The finish of faces and bores: with what it is traced, when a reading can be judged, the angle of
the hone's marks, and what a fly-cutter leaves.
"""

from __future__ import annotations

from datumbook.equations.verdicts import OPEN, OUT, STALE, UNSURE, verdict_between
from datumbook.formulas.functions import (
    PI,
    any_of,
    arctangent,
    at_most,
    blank,
    empirical,
    equal,
    in_unit,
    largest,
    less_than,
    missing,
    more_than,
    numbers_in,
    of_unit,
    only_where,
    square_root,
    taken_as,
    takes_blanks,
    tangent,
    total,
    where,
)
from datumbook.formulas.kinds import Angle, Count, CuttingSpeed, Length, Ratio, SpindleSpeed, Words

RA, RZ, RQ, SPECIMEN = "Ra", "Rz", "Rq", "like"
FULL_CYCLES, SINGLE_STROKES = "full cycles", "single strokes"


@empirical(gives="mm", roughness="um")
def sampling_length(roughness: Length, read_as: Words) -> Length:
    """Cut-off with which a stylus traces a face of this roughness.

    read_as: Ra, Rz or Rq, or like, of a comparison specimen, which is numbered by its Ra. The steps
    of Rz lie five times as high as those of Ra, which serve for Rq.

    Source: [ISO 4288] tables 1 and 2, not periodic; the steps of Rz, and Ra over 10 µm, from
    memory.

    >>> sampling_length(roughness=1.6e-3, read_as="Ra"), sampling_length(2.5e-3, read_as="Ra")
    (0.8, 2.5)
    """
    step = where(equal(read_as, RZ), 5, 1)
    coarse = where(at_most(roughness, 10 * step), 2.5, 8.0)
    usual = where(at_most(roughness, 2 * step), 0.8, coarse)
    return where(at_most(roughness, 0.1 * step), 0.25, usual)


@takes_blanks
def cutoff(cutoff_set: Length, cutoff_here: Length) -> Length:
    """Cut-off a place was traced with: the one said for all, or another where it is said.

    Source: none needed.

    >>> cutoff(cutoff_set=0.8, cutoff_here=2.5), cutoff(cutoff_set=0.8, cutoff_here=float("nan"))
    (2.5, 0.8)
    """
    whole = only_where(more_than(numbers_in(cutoff_set), 0), cutoff_set)
    return where(missing(cutoff_here), whole, cutoff_here)


def evaluation_length(sampling_length: Length) -> Length:
    """Length over which a finish is worked out: five cut-offs.

    Source: [ISO 4288] table 1, five sampling lengths.

    >>> evaluation_length(sampling_length=0.8)
    4.0
    """
    return 5 * sampling_length


def traverse_length(sampling_length: Length) -> Length:
    """Length a stylus travels for it, with its run-up and run-out: seven cut-offs. A land narrower
    than this is traced along itself.

    Source: common practice, no source: one cut-off lost at either end.

    >>> traverse_length(sampling_length=0.8)
    5.6
    """
    return 7 * sampling_length


@takes_blanks
def finish_guard(
    all_told: Length, guard_factor: Ratio, resolution: Length, low: Length, high: Length
) -> Length:
    """How far inside a limit a finish must lie, by the decision rule named: as of every reading,
    nothing where it is not stated how far off the gauge may be, and the whole tolerance where it is
    too coarse.

    all_told: what the stylus may be off; resolution: of what it shows, blank where not stated.

    Source: as guard_band.

    >>> finish_guard(all_told=0.00005, guard_factor=1.0, resolution=0.00001, low=0.0, high=0.0008)
    0.00005
    """
    guard, tolerance = guard_factor * total(all_told), high - low
    return where(more_than(10 * total(resolution), tolerance), largest(tolerance, guard), guard)


@takes_blanks
def verdict_of_finish(
    roughness: Length,
    low: Length,
    high: Length,
    finish_guard: Length,
    read_as: Words,
    stated_as: Words,
    cutoff: Length,
    sampling_length: Length,
) -> Words:
    """The verdict on the finish of a face: UNSURE where reading and limit are different things, or
    where another cut-off was used than the finish asks for; a comparison specimen is never more.
    Too short a cut-off shows less than there is, too long a one more: what is then OUT at the end
    that the right one would only put farther off stays OUT.

    Source: [ISO 4288] table 1, a cut-off goes with a finish; otherwise as verdict_between.

    >>> verdict_of_finish(0.7, 0.0, 0.8, 0.0, "Ra", "Ra", 0.8, 0.8)
    'OK'
    >>> verdict_of_finish(0.7, 0.0, 6.3, 0.0, "Ra", "Rz", 0.8, 0.8)
    'UNSURE'
    >>> verdict_of_finish(0.9, 0.0, 0.8, 0.0, "Ra", "Ra", cutoff=0.25, sampling_length=0.8)
    'OUT'
    """
    held = verdict_between(roughness, low, high, finish_guard)
    farther = where(
        less_than(cutoff, sampling_length),
        more_than(roughness - finish_guard, high),
        less_than(roughness + finish_guard, low),
    )
    other = where(missing(finish_guard), OPEN, where(farther, OUT, UNSURE))
    traced = where(at_most(abs(cutoff - sampling_length), 0), held, other)
    known = where(missing(cutoff), OPEN, traced)
    unread = any_of(missing(roughness), blank(read_as))
    return where(unread, OPEN, where(equal(read_as, stated_as), known, UNSURE))


@takes_blanks
def fresh_finish(
    roughness: Length,
    low: Length,
    high: Length,
    finish_guard: Length,
    read_as: Words,
    stated_as: Words,
    cutoff: Length,
    sampling_length: Length,
    moved_since: Count,
) -> Words:
    """As verdict_of_finish, but STALE when the face was cut after it was traced.

    moved_since: done number of that operation, blank for none.

    Source: as fresh_between.

    >>> fresh_finish(0.7, 0.0, 0.8, 0.0, "Ra", "Ra", 0.8, 0.8, moved_since=4.0)
    'STALE'
    """
    verdict = verdict_of_finish(
        roughness, low, high, finish_guard, read_as, stated_as, cutoff, sampling_length
    )
    return where(missing(roughness), OPEN, where(missing(moved_since), verdict, STALE))


@takes_blanks
def why_not_judged(
    roughness: Length,
    read_as: Words,
    stated_as: Words,
    cutoff: Length,
    sampling_length: Length,
    verdict: Words,
) -> Words:
    """Why a finish that is read cannot be judged, in words; blank where it can, or is OUT in spite
    of it.

    Source: as verdict_of_finish.

    >>> why_not_judged(0.7, "like", "Ra", float("nan"), 0.8, "UNSURE")
    'like, no number'
    """
    other = where(equal(read_as, SPECIMEN), "like, no number", "limit of another kind")
    traced = where(at_most(abs(cutoff - sampling_length), 0), "", "other cut-off")
    known = where(missing(cutoff), "cut-off not said", traced)
    unread = any_of(missing(roughness), blank(read_as), equal(verdict, OUT))
    return where(unread, "", where(equal(read_as, stated_as), known, other))


def hone_speed(bore: Length, spindle_speed: SpindleSpeed) -> CuttingSpeed:
    """Speed of the stones round the bore.

    Source: geometry, the circumference times the revolutions.

    >>> hone_speed(bore=101.6, spindle_speed=200 / 60)
    1063.953
    """
    return PI * bore * spindle_speed


def stroking_speed(travel: Length, strokes: Count, counted_as: Words) -> CuttingSpeed:
    """Mean speed of the stones along the bore. One full cycle, down and up, is twice the travel of
    the hone, which is not the engine's stroke; counted in single strokes it is once.

    strokes: in a minute. A head driven by a crank runs half as fast again in mid-stroke.

    Source: geometry.

    >>> stroking_speed(travel=152.4, strokes=60, counted_as="full cycles")
    304.8
    """
    ways = where(equal(counted_as, SINGLE_STROKES), 1, 2)
    return ways * travel * of_unit(taken_as(strokes, Ratio), "1/min")


def angle_to_horizontal(stroking_speed: CuttingSpeed, hone_speed: CuttingSpeed) -> Angle:
    """Angle of a hone's marks to the line round the bore: half the angle between crossing marks.

    Source: geometry, the way along the bore over the way round it.

    >>> angle_to_horizontal(stroking_speed=304.8, hone_speed=1063.953)
    0.27901
    """
    return arctangent(stroking_speed / hone_speed)


def included_angle(angle_to_horizontal: Angle) -> Angle:
    """Angle between the crossing marks of a hone: twice that of one of them to the horizontal.

    Source: geometry.

    >>> included_angle(angle_to_horizontal=0.27901)
    0.55802
    """
    return 2 * angle_to_horizontal


def half_angle(hatch: Angle) -> Angle:
    """Angle of a hone's marks to the horizontal, from the angle between the crossing marks.

    Source: geometry.

    >>> half_angle(hatch=0.6108652)
    0.3054326
    """
    return hatch / 2


def strokes_for_hatch(hatch: Angle, hone_speed: CuttingSpeed, travel: Length) -> Count:
    """Full cycles in a minute that give an angle between the crossing marks.

    Source: geometry, angle_to_horizontal turned round.

    >>> strokes_for_hatch(hatch=0.7853982, hone_speed=772.8318, travel=110.0)
    87.3
    """
    along = hone_speed * tangent(hatch / 2)
    return taken_as(in_unit(along / (2 * travel), "1/min"), Count)


def feed_mark_height(feed: Length, nose_radius: Length) -> Length:
    """Height of the marks that a round-nosed cutter leaves: the best finish (Rz) it can give.

    feed: of the block for each turn of a fly-cutter.

    Source: geometry, the sagitta of the nose over one feed.

    >>> feed_mark_height(feed=0.20, nose_radius=0.8)
    0.00625
    """
    return feed * feed / (8 * nose_radius)


def feed_mark_roughness(feed: Length, nose_radius: Length) -> Length:
    """The same marks as their mean deviation (Ra).

    Source: geometry, the mean deviation of a row of shallow arcs from their mean line.

    >>> feed_mark_roughness(feed=0.20, nose_radius=0.8)
    0.001604
    """
    return feed * feed / (18 * square_root(3) * nose_radius)
