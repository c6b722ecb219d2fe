"""Drills as people write them, `17/64`, `#7`, `letter I` or `6.9 mm`, and the drills for a
thread.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, cached_property

from datumbook.equations.drilled_holes import probable_hole
from datumbook.equations.thread_forms import thread_share
from datumbook.equations.threads import basic_profile_thread, drill_chart_thread
from datumbook.formulas.functions import at_least, at_most
from datumbook.messages import ExpectedError
from datumbook.numbers.quantities import read_number
from datumbook.numbers.units import INCH
from datumbook.standards import table
from datumbook.standards.oversize import Oversize, oversize_of, share_wanted
from datumbook.standards.thread_rows import Thread, in_words

SYSTEMS = ("fraction", "number", "letter", "metric")
HOW_TO_WRITE_A_DRILL = "write a drill like 17/64, #7, letter I or 6.9 mm"

NUMBER_DRILL = re.compile(r"(?:#|no\.?|number)\s*(\d+)", re.IGNORECASE)
LETTER_DRILL = re.compile(r"(?:letter\s*)?([a-z])", re.IGNORECASE)
MILLIMETRES = re.compile(r"(\d*\.?\d+)\s*mm", re.IGNORECASE)
FRACTION_INCH = re.compile(
    r"((?:\d+[ -])?\d+/[1-9]\d*|\d+(?=\s*[\"″i]))\s*(?:\"|″|in\.?|inch)?", re.IGNORECASE
)
DECIMAL_INCH = re.compile(r"(\d*\.\d+)\s*(?:\"|″|in\.?|inch)?", re.IGNORECASE)


@dataclass(frozen=True)
class Drill:
    """A drill one can buy: its name on the stand, its system, its diameter exactly in the unit it
    is made to.
    """

    name: str
    system: str
    diameter: Fraction
    unit: str

    @cached_property
    def diameter_mm(self) -> float:
        """Diameter in mm."""
        return float(_millimetres(self))


@dataclass(frozen=True, slots=True)
class Choice:
    """A drill held against a thread by the hole it probably makes: both percentages as shares, and
    where the hole lies in the limits.

    Drill charts have a percentage of their own for threads of 60 degrees only; of any other form
    both figures are the share of its standard's depth (of a taper thread, at its small end).
    `oversize` is what the drill cuts over its own size, and whose figure that is. `place` is
    "inside", "below" (hole too small) or "above" (too large) of the limits of the thread's class,
    or "no limit" where none is known here.
    """

    drill: Drill
    oversize: Oversize
    drill_chart_thread: float
    basic_profile_thread: float
    place: str

    @property
    def oversize_mm(self) -> float:
        """What the drill cuts over its own size in the mean, in mm."""
        return self.oversize.mean_mm

    @property
    def hole_mm(self) -> float:
        """Diameter of the hole it probably makes, in mm."""
        return probable_hole(self.drill.diameter_mm, self.oversize_mm)

    @property
    def largest_hole_mm(self) -> float:
        """Diameter of the largest hole it is known to make, in mm; as it probably does where that
        is not known.
        """
        most = self.oversize.most_mm
        return probable_hole(self.drill.diameter_mm, self.oversize_mm if most is None else most)

    @property
    def inside(self) -> bool:
        """Whether the hole lies inside the limits of the thread's class."""
        return self.place == "inside"


def parse_drill(text: str) -> Drill:
    """Return the drill a text names; ExpectedError saying what was found, which drills are near and
    what to write.

    >>> parse_drill("No. 7").name, parse_drill("I").diameter_mm, parse_drill("17/64 in").name
    ('#7', 6.9088, '17/64')
    """
    words = " ".join(text.split())
    for form, read in (
        (NUMBER_DRILL, _number),
        (LETTER_DRILL, _letter),
        (MILLIMETRES, _metric),
        (FRACTION_INCH, _fraction),
    ):
        if written := form.fullmatch(words):
            return read(words, written[1])
    raise ExpectedError(f'"{words}" is not the name of a drill; {_remedy(words)}.')


def all_drills(systems: Iterable[str] = SYSTEMS) -> list[Drill]:
    """Return the drills of these systems, smallest first; ExpectedError for a system that is none
    of SYSTEMS.
    """
    asked = set(systems)
    if unknown := sorted(asked.difference(SYSTEMS)):
        raise ExpectedError(
            f'"{unknown[0]}" is not a system of drills; choose from {", ".join(SYSTEMS)}.'
        )
    return [drill for drill in _stand() if drill.system in asked]


def drills_for(
    thread: Thread,
    systems: Iterable[str] = SYSTEMS,
    target: float | None = None,
    oversize_mm: float | None = None,
) -> list[Choice]:
    """Return the drills whose holes leave some thread, up to the full one of the drill charts,
    nearest to the target first.

    target: share of thread wanted, drill-chart convention where the form has one, the usual one
    where it is left out. oversize_mm: what the shop's drills cut over their size; what such a drill
    does in the mean where it is left out. For a taper thread, whose drill no percentage tells, only
    the drills its standard lists.
    """
    if thread.taper is not None:
        return [choice(thread, drill, oversize_mm) for drill in listed_drills(thread)]
    major, deepest = (
        thread.major_mm,
        2 * thread.pitch_mm,
    )  # no form is deeper than a pitch on either side
    choices = (
        choice(thread, drill, oversize_mm)
        for drill in all_drills(systems)
        if major - deepest < drill.diameter_mm < major
    )
    cutting = [each for each in choices if 0 < each.drill_chart_thread <= 1]
    wanted = share_wanted() if target is None else target
    return sorted(cutting, key=lambda each: abs(each.drill_chart_thread - wanted))


def listed_drills(thread: Thread) -> list[Drill]:
    """Return the drills that the thread's own standard lists for it, as far as they are known
    here.
    """
    return [parse_drill(name) for name in thread.drills]


def choice(thread: Thread, drill: Drill, oversize_mm: float | None = None) -> Choice:
    """Hold the hole that one drill probably makes against a thread; oversize_mm as for
    `drills_for`.
    """
    oversize = oversize_of(drill.diameter_mm, oversize_mm)
    hole = probable_hole(drill.diameter_mm, oversize.mean_mm)
    place = place_of(hole, thread.smallest_minor_mm, thread.largest_minor_mm)
    if thread.form.charted:
        sizes = thread.major_mm, hole, thread.pitch_mm
        shares = drill_chart_thread(*sizes), basic_profile_thread(*sizes)
    else:
        shares = (thread_share(thread.major_mm, hole, thread.minor_mm),) * 2
    return Choice(drill, oversize, *shares, place)


def place_of(hole_mm: float, smallest_mm: float | None, largest_mm: float | None) -> str:
    """Say whether a hole lies "inside", "below" or "above" limits, or that there is "no limit"; all
    in mm.
    """
    if smallest_mm is None or largest_mm is None:
        return "no limit"
    if not at_least(hole_mm, smallest_mm):
        return "below"
    return "inside" if at_most(hole_mm, largest_mm) else "above"


@cache
def _stand() -> tuple[Drill, ...]:
    drills = table("drills")
    named = [
        Drill(f"{mark}{name}", system, Fraction(inch), "in")
        for system, mark in (("number", "#"), ("letter", ""))
        for name, inch in drills[system].items()
    ]
    stand = [
        *map(_fraction_drill, _steps(drills["fraction"])),
        *named,
        *map(_metric_drill, _steps(drills["metric"])),
    ]
    return tuple(sorted(stand, key=_millimetres))


def _steps(row: dict[str, str]) -> list[Fraction]:
    """The sizes of a row that goes from one to another, or from its first step, by equal steps."""
    step = Fraction(row["step"])
    first, last = Fraction(row.get("from", step)) / step, Fraction(row["to"]) / step
    return [count * step for count in range(int(first), int(last) + 1)]


def _fraction_drill(inches: Fraction) -> Drill:
    return Drill(
        in_words(inches) if inches.denominator > 1 else f"{inches} in", "fraction", inches, "in"
    )


def _metric_drill(millimetres: Fraction) -> Drill:
    digits = 1 if millimetres * 10 % 1 == 0 else 2
    return Drill(f"{float(millimetres):.{digits}f} mm", "metric", millimetres, "mm")


def _number(words: str, number: str) -> Drill:
    return _named(words, f"#{int(number)}", "number", "number drills run from #1 to #60")


def _letter(words: str, letter: str) -> Drill:
    return _named(words, letter.upper(), "letter", "letter drills run from A to Z")


def _named(words: str, name: str, system: str, known: str) -> Drill:
    for drill in all_drills([system]):
        if drill.name == name:
            return drill
    raise ExpectedError(f'"{words}" is not in the table of drills: {known}.')


def _metric(words: str, size: str) -> Drill:
    metric, millimetres = table("drills")["metric"], Fraction(size)
    whole = millimetres / Fraction(metric["finest_step"])
    if whole.denominator == 1 and Fraction(metric["from"]) <= millimetres <= Fraction(metric["to"]):
        return _metric_drill(millimetres)
    raise ExpectedError(
        f'"{words}" is not in the table of drills; {_nearest(millimetres, ["metric"])}.'
    )


def _fraction(words: str, size: str) -> Drill:
    fraction, (inches, _) = table("drills")["fraction"], read_number(size)
    if (inches / Fraction(fraction["step"])).denominator == 1 and 0 < inches <= Fraction(
        fraction["to"]
    ):
        return _fraction_drill(inches)
    raise ExpectedError(
        f'"{words}" is not in the table of drills; {_nearest(inches * INCH, ["fraction"])}.'
    )


def _remedy(words: str) -> str:
    if "," in words:
        return f"write the decimal point as a full stop; {HOW_TO_WRITE_A_DRILL}"
    if words.isdecimal():
        return f"write #{words} for the number drill or {words} mm for the metric one"
    if decimal := DECIMAL_INCH.fullmatch(words):
        return f"{_nearest(Fraction(decimal[1]) * INCH, SYSTEMS)}; {HOW_TO_WRITE_A_DRILL}"
    return HOW_TO_WRITE_A_DRILL


def _nearest(millimetres: Fraction, systems: Iterable[str]) -> str:
    near = sorted(all_drills(systems), key=lambda drill: abs(_millimetres(drill) - millimetres))[:2]
    return "the nearest are " + " and ".join(
        f"{drill.name} ({float(_millimetres(drill) / INCH):.4f} in)" for drill in near
    )


def _millimetres(drill: Drill) -> Fraction:
    return drill.diameter * INCH if drill.unit == "in" else drill.diameter
