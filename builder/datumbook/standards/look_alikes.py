"""Threads that are mistaken for one another: of one size, or so near that a screw of the one goes
into a hole of the other by hand.

Whether it goes in is geometry, with the loosest pair the limits allow: what the pitches are apart
binds the flanks, and the more the further in. The loosest pair is reckoned for every family by the
formula of the unified threads, which gives that of the metric ones within 0.02 mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import radians

from datumbook.equations.thread_forms import turns_by_hand, turns_to_bind
from datumbook.equations.threads import pitch_tolerance_2a
from datumbook.standards.drill_choice import both
from datumbook.standards.threads import Thread, all_threads

PIPES = {"G", "R", "NPT"}
# Three quarters of a turn are felt as one: the screw's point and the mouth of the hole have no full
# thread. With less than half the depth in common it is felt to be loose. Both common practice, no
# source.
LEAST_TURNS, LEAST_DEPTH = 0.75, 0.5
LOOSEST_BY = 1.3  # of the tolerance of each part: the tolerance and 0.3 of it allowed (ASME B1.1)
MANY_TURNS = 20.0  # no more threads are engaged


@dataclass(frozen=True, slots=True)
class LookAlike:
    """A thread that another is mistaken for, and in words what differs and after how many turns it
    binds.
    """

    thread: Thread
    words: str


def look_alikes(thread: Thread) -> list[LookAlike]:
    """Return what a thread is mistaken for, the hardest to tell first."""
    found = [
        other
        for other in all_threads()
        if other.designation != thread.designation and _alike(thread, other)
    ]
    found.sort(
        key=lambda other: (
            _pitch_apart(thread, other) != 0,
            -round(max(_turns_in(thread, other), _turns_in(other, thread)), 9),
            round(_pitch_apart(thread, other), 9),
            abs(thread.major_mm - other.major_mm),
        )
    )
    return [
        LookAlike(other, f"{', '.join(_differs(thread, other))}; {_binds(thread, other)}.")
        for other in found
    ]


def _alike(thread: Thread, other: Thread) -> bool:
    if {thread.family, other.family} <= PIPES:
        return thread.size == other.size
    return _same_size(thread, other) or goes_in(thread, other) or goes_in(other, thread)


def looseness(thread: Thread) -> float:
    """How much smaller than basic the smallest screw is, or larger the largest hole, on the pitch
    diameter (mm).
    """
    tolerance = pitch_tolerance_2a(thread.major_mm, thread.engagement_mm, thread.pitch_mm)
    return LOOSEST_BY * tolerance


def goes_in(screw: Thread, hole: Thread) -> bool:
    """Say whether the smallest screw of one thread goes into the largest hole of another by hand
    for a turn or more, and bites there.

    >>> from datumbook.standards.threads import parse_thread
    >>> inch, metric = parse_thread("5/16-18"), parse_thread("M8")
    >>> goes_in(inch, metric), goes_in(metric, inch)
    (True, False)
    """
    return _turns_in(screw, hole) >= LEAST_TURNS


def _turns_in(screw: Thread, hole: Thread) -> float:
    """Turns that a screw goes in by hand, none where it does not start or hardly bites."""
    clearance = hole.effective_mm - screw.effective_mm + looseness(screw) + looseness(hole)
    bites = screw.major_mm - hole.minor_mm >= LEAST_DEPTH * (hole.major_mm - hole.minor_mm)
    if clearance < 0 or not bites or screw.major_mm > hole.major_mm + looseness(hole):
        return 0.0
    if _pitch_apart(screw, hole) == 0:
        return MANY_TURNS
    angle = radians(min(screw.form_angle, hole.form_angle))
    turns = turns_by_hand(clearance, screw.pitch_mm, hole.pitch_mm, angle)
    return min(turns, MANY_TURNS)


def _differs(thread: Thread, other: Thread) -> Iterator[str]:
    same_pitch, same_size = _pitch_apart(thread, other) == 0, _same_size(thread, other)
    yield (
        "same size"
        if same_size
        else f"{both(abs(thread.major_mm - other.major_mm), thread.unit)} apart in size"
    )
    if same_pitch:
        yield "same pitch"
    elif same_size:
        yield f"other pitch, {both(other.pitch_mm, thread.unit)}"
    else:
        yield f"{100 * _pitch_apart(thread, other):.1f} % in pitch"
    if thread.form_angle != other.form_angle:
        yield f"{other.form_angle:g}° against {thread.form_angle:g}°"
    if thread.taper != other.taper:
        yield "one taper, the other parallel"


def _binds(thread: Thread, other: Thread) -> str:
    if _pitch_apart(thread, other) == 0:
        if thread.form_angle != other.form_angle:
            return (
                "it goes in for its whole length, and bears only on the edges of the flanks; "
                "try an angle gauge"
            )
        if thread.taper != other.taper:
            return "it goes in, and wedges or leaks where the taper meets the parallel thread"
        return "it goes in for its whole length; measure it"
    if not _same_size(thread, other) and (said := _by_hand(thread, other)):
        return said
    turns = turns_to_bind(thread.pitch_mm, other.pitch_mm)
    if turns < 1:
        return "it is half a thread out in less than one turn; count the threads"
    counted = f"{turns:.0f} turn{'' if round(turns) == 1 else 's'}"
    return f"it starts, and is half a thread out after {counted}; count the threads"


def _by_hand(thread: Thread, other: Thread) -> str:
    """Which screw goes into which hole, and how far; "" where neither does."""
    turns, screw, hole = max(
        (_turns_in(screw, hole), screw.designation, hole.designation)
        for screw, hole in ((thread, other), (other, thread))
    )
    if turns < LEAST_TURNS:
        return ""
    counted = f"{max(1, round(turns))} turn{'' if round(turns) < 2 else 's'}"
    return f"by hand the {screw} screw goes some {counted} into the {hole} hole; count the threads"


def _same_size(thread: Thread, other: Thread) -> bool:
    return round(thread.major_mm - other.major_mm, 9) == 0


def _pitch_apart(thread: Thread, other: Thread) -> float:
    apart = round(abs(thread.pitch_mm - other.pitch_mm), 9)
    return apart / max(thread.pitch_mm, other.pitch_mm)
