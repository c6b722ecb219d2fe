"""Threads that are mistaken for one another: the same size, trade size or pitch, and something else
that differs.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from datumbook.equations.thread_forms import turns_to_bind
from datumbook.standards.drill_choice import both
from datumbook.standards.threads import Thread, all_threads

NEAR_MAJOR, NEAR_PITCH = 0.4, 0.06  # mm; share: two threads nearer than this start into each other
PIPES = {"G", "R", "NPT"}


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
    apart = abs(thread.major_mm - other.major_mm)
    return _same_size(thread, other) or (
        apart <= NEAR_MAJOR and _pitch_apart(thread, other) <= NEAR_PITCH
    )


def _differs(thread: Thread, other: Thread) -> Iterator[str]:
    same_pitch, same_size = _pitch_apart(thread, other) == 0, _same_size(thread, other)
    yield (
        "same size" if same_size else f"{both(abs(thread.major_mm - other.major_mm))} apart in size"
    )
    if same_pitch:
        yield "same pitch"
    elif same_size:
        yield f"other pitch, {both(other.pitch_mm)}"
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
    turns = turns_to_bind(thread.pitch_mm, other.pitch_mm)
    if turns < 1:
        return "it is half a thread out in less than one turn; count the threads"
    counted = f"{turns:.0f} turn{'' if round(turns) == 1 else 's'}"
    return f"it starts, and is half a thread out after {counted}; count the threads"


def _same_size(thread: Thread, other: Thread) -> bool:
    return round(thread.major_mm - other.major_mm, 9) == 0


def _pitch_apart(thread: Thread, other: Thread) -> float:
    apart = round(abs(thread.pitch_mm - other.pitch_mm), 9)
    return apart / max(thread.pitch_mm, other.pitch_mm)
