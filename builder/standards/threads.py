"""Threads as people write them, `5/16-24 UNF` or `M8x1.25`, and what the tables know of each."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from builder.equations.threads import (
    largest_minor_2b,
    largest_minor_6h,
    metric_stress_area,
    smallest_minor_2b,
    smallest_minor_6h,
    unified_stress_area,
)
from builder.standards import table

INCH = Fraction(254, 10)
FORM_ANGLE = 60.0

UNIFIED = re.compile(
    r"""(?P<size>\d+/\d+|\d*\.\d+|\d+)\s*(?:"|″|''|in\b\.?|inch\b)?\s*
    (?:[-–]\s*(?P<pitch>\d+(?:\.\d+)?)\s*(?:tpi\b)?)?\s*
    (?P<family>[a-z]{2,})?\s*(?:[-–]?\s*(?P<limits>\d[a-z]))?""",
    re.VERBOSE | re.IGNORECASE,
)
METRIC = re.compile(
    r"""m\s*(?P<size>\d+(?:\.\d+)?)\s*(?:[x×*-]\s*(?P<pitch>\d*\.?\d+)(?![\da-z.])\s*(?:mm\b)?)?\s*
    (?P<family>[a-z]{3,})?\s*(?:[-–]?\s*(?P<limits>\d[a-z]))?""",
    re.VERBOSE | re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Thread:
    """One row of the tables: sizes exact in the thread's own unit, everything else follows by the equations.

    Diameters and pitches with `_mm` are millimetres, the stress area square millimetres, the form angle degrees.
    """

    designation: str
    family: str
    unit: str
    major: Fraction
    pitch: Fraction
    minor_tolerance: Fraction | None
    source: str

    @property
    def major_mm(self) -> float:
        """Major diameter in mm."""
        return _millimetres(self.major, self.unit)

    @property
    def pitch_mm(self) -> float:
        """Pitch in mm."""
        return _millimetres(self.pitch, self.unit)

    @property
    def threads_per_inch(self) -> int | None:
        """Threads to the inch of an inch thread, None for a metric one."""
        return int(1 / self.pitch) if self.unit == "in" else None

    @property
    def limit_class(self) -> str:
        """Class whose limits the hole is held to: 2B for inch threads, 6H for metric ones."""
        return "2B" if self.minor_tolerance is None else "6H"

    @property
    def smallest_minor_mm(self) -> float:
        """Smallest hole the class allows, in mm."""
        smallest = smallest_minor_2b if self.minor_tolerance is None else smallest_minor_6h
        return smallest(self.major_mm, self.pitch_mm)

    @property
    def largest_minor_mm(self) -> float:
        """Largest hole the class allows, in mm."""
        if self.minor_tolerance is None:
            return largest_minor_2b(self.major_mm, self.pitch_mm)
        return largest_minor_6h(self.major_mm, self.pitch_mm, float(self.minor_tolerance))

    @property
    def stress_area_mm2(self) -> float:
        """Tensile stress area in mm²; inch and metric standards define it differently."""
        area = unified_stress_area if self.unit == "in" else metric_stress_area
        return area(self.major_mm, self.pitch_mm)

    @property
    def form_angle(self) -> float:
        """Angle of the thread form in degrees."""
        return FORM_ANGLE


def parse_thread(text: str) -> Thread:
    """Return the thread a text names; ValueError saying what was found, what is known near it and what to write.

    >>> parse_thread("5/16-24").designation, parse_thread("m8 x 1").designation, parse_thread("M10").designation
    ('5/16-24 UNF', 'M8x1', 'M10x1.5')
    """
    words = " ".join(text.split())
    for form, unit in ((METRIC, "mm"), (UNIFIED, "in")):
        if written := form.fullmatch(words):
            return _chosen(words, unit, written)
    remedy = "write the decimal point as a full stop" if "," in words else "write it like 5/16-24 UNF or M8x1.25"
    raise ValueError(f'"{words}" is not a thread designation known here; {remedy}.')


def all_threads() -> tuple[Thread, ...]:
    """Return every thread of the tables: inch threads by size, then metric ones."""
    return tuple(sorted((*_unified(), *_metric()), key=lambda thread: (thread.unit, thread.major, -thread.pitch)))


def _chosen(words: str, unit: str, written: re.Match[str]) -> Thread:
    size = _fraction(words, written["size"])
    rows = [thread for thread in all_threads() if thread.unit == unit]
    same = [thread for thread in rows if thread.major == size]
    if not same:
        near = sorted(rows, key=lambda thread: abs(thread.major - size))[:4]
        raise ValueError(
            f'The size of "{words}" is not in the table of threads, which runs from {rows[0].designation} to '
            f"{rows[-1].designation}; nearest are {_named(near)}: write one of its rows."
        )
    left = [thread for thread in same if _agrees(thread, written)]
    if len(left) != 1:
        raise ValueError(_not_one(words, left, same))
    if (limits := written["limits"]) and limits.upper() != left[0].limit_class:
        known = left[0].limit_class
        raise ValueError(f'"{words}" asks for class {limits.upper()}; only the limits of {known} are known here.')
    return left[0]


def _agrees(thread: Thread, written: re.Match[str]) -> bool:
    family, pitch = written["family"], written["pitch"]
    if family and family.upper() != thread.family.upper():
        return False
    if pitch:
        return Fraction(pitch) == (thread.threads_per_inch or thread.pitch)
    return bool(family) or thread.family != "metric fine"


def _not_one(words: str, left: list[Thread], same: list[Thread]) -> str:
    if left:
        return f'"{words}" could be {_named(left)}: write the pitch as well.'
    return f'"{words}" is not in the table of threads; of this size it holds {_named(same)}: write one of these.'


def _named(threads: list[Thread]) -> str:
    names = [thread.designation for thread in threads]
    return " or ".join(part for part in (", ".join(names[:-1]), names[-1]) if part)


def _fraction(words: str, size: str) -> Fraction:
    try:
        return Fraction(size)
    except ZeroDivisionError:
        raise ValueError(f'The size of "{words}" divides by nothing; write it like 5/16-24 UNF.') from None


def _millimetres(size: Fraction, unit: str) -> float:
    return float(size * INCH if unit == "in" else size)


@cache
def _unified() -> tuple[Thread, ...]:
    data = table("unified")
    return tuple(
        Thread(f"{size}-{number} {family}", family, "in", Fraction(size), Fraction(1, number), None, data["source"])
        for family in ("UNC", "UNF")
        for size, number in data[family].items()
    )


@cache
def _metric() -> tuple[Thread, ...]:
    data = table("metric")
    coarse = [("metric coarse", size, pitch) for size, pitch in data["coarse"].items()]
    fine = [("metric fine", size, pitch) for size, pitches in data["fine"].items() for pitch in pitches]
    return tuple(
        Thread(
            designation=f"{size}x{pitch}",
            family=family,
            unit="mm",
            major=Fraction(size.removeprefix("M")),
            pitch=Fraction(pitch),
            minor_tolerance=Fraction(data["minor_tolerance_6"][pitch]),
            source=data["source"],
        )
        for family, size, pitch in (*coarse, *fine)
    )
