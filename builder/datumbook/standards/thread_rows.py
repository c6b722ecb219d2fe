"""The rows of the thread tables: sizes exact as their standard prints them, everything else by the
equations.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache, cached_property
from typing import Any

from datumbook.equations import thread_forms, threads
from datumbook.numbers.units import INCH
from datumbook.standards import table
from datumbook.standards.thread_families import FAMILIES, Family, ThreadForm

ORDER = list(FAMILIES)


@dataclass(frozen=True)
class Thread:
    """One row of the tables: sizes exact in the thread's own unit, everything else follows by the
    equations.

    `size` is what a designation names: the major diameter, the trade size of a pipe, the number of
    a BA thread. `tabled_effective` and `tabled_minor` are given where the standard prints a
    diameter that no equation gives; `engagement_pitches` is the length for which limits are
    tolerated, in pitches, None for one diameter. Diameters and pitches with `_mm` are millimetres,
    the stress area square millimetres, the form angle degrees. Limits are None where no outside
    number for them is known here.
    """

    designation: str
    family: str
    unit: str
    size: Fraction
    major: Fraction
    pitch: Fraction
    source: str
    minor_tolerance: Fraction | None = None
    engagement_pitches: int | None = None
    inch_pitch: bool = False
    tabled_effective: Fraction | None = None
    tabled_minor: Fraction | None = None
    effective_tolerance: Fraction | None = None
    taper: Fraction | None = None
    drills: tuple[str, ...] = ()
    drill_source: str = ""

    @property
    def kin(self) -> Family:
        """The family with its form and its equations."""
        return FAMILIES[self.family]

    @property
    def form(self) -> ThreadForm:
        """The form it is cut to."""
        return self.kin.form

    @property
    def form_angle(self) -> float:
        """Angle of the thread form in degrees."""
        return self.form.angle

    @cached_property
    def major_mm(self) -> float:
        """Major diameter in mm; of a taper thread, where its standard names it."""
        return self._millimetres(self.major)

    @cached_property
    def pitch_mm(self) -> float:
        """Pitch in mm."""
        return self._millimetres(self.pitch)

    @cached_property
    def effective_mm(self) -> float:
        """Basic effective (pitch) diameter in mm."""
        return self._diameter(self.tabled_effective, self.form.effective)

    @cached_property
    def minor_mm(self) -> float:
        """Basic minor diameter in mm."""
        return self._diameter(self.tabled_minor, self.form.minor)

    @property
    def threads_per_inch(self) -> float | None:
        """Threads to the inch of a thread whose standard counts them, None for one with a pitch in
        mm.
        """
        if not self.inch_pitch:
            return None
        number = (1 if self.unit == "in" else INCH) / self.pitch
        return int(number) if number.denominator == 1 else float(number)

    @property
    def limit_class(self) -> str | None:
        """Class whose limits the hole is held to, None where no outside limit is known here."""
        return self.kin.limit_class

    @property
    def engagement_mm(self) -> float:
        """Length of engagement for which its class is toleranced, in mm."""
        pitches = self.engagement_pitches
        return self.major_mm if pitches is None else pitches * self.pitch_mm

    @property
    def smallest_minor_mm(self) -> float | None:
        """Smallest hole the class allows, in mm; None where there is no class."""
        match self.limit_class:
            case "2B":
                return threads.smallest_minor_2b(self.major_mm, self.pitch_mm)
            case "6H":
                return threads.smallest_minor_6h(self.major_mm, self.pitch_mm)
            case None:
                return None
        return self.minor_mm

    @property
    def largest_minor_mm(self) -> float | None:
        """Largest hole the class allows, in mm; None where there is no class."""
        tolerance = float(self.minor_tolerance or 0)
        match self.limit_class:
            case "2B":
                tolerance = threads.minor_tolerance_2b(self.major_mm, self.pitch_mm)
                return threads.largest_minor_2b(self.major_mm, self.pitch_mm, tolerance)
            case "6H":
                return threads.largest_minor_6h(self.major_mm, self.pitch_mm, tolerance)
            case "ISO 228-1":
                return thread_forms.largest_pipe_minor(self.minor_mm, tolerance)
            case "BS 93":
                return thread_forms.largest_association_minor(self.minor_mm, self.pitch_mm)
        return None

    @property
    def stress_area_mm2(self) -> float | None:
        """Tensile stress area in mm², by the rule that `kin.stress_area_rule` names; None for a
        taper thread.
        """
        if self.taper is not None:
            return None
        if self.kin.stress_area is not None:
            return self.kin.stress_area(self.major_mm, self.pitch_mm)
        return thread_forms.mean_stress_area(self.effective_mm, self.minor_mm)

    def _millimetres(self, size: Fraction) -> float:
        return float(size * INCH if self.unit == "in" else size)

    def _diameter(self, tabled: Fraction | None, equation: Any) -> float:
        return (
            equation(self.major_mm, self.pitch_mm) if tabled is None else self._millimetres(tabled)
        )


def all_threads(families: Iterable[str] = ORDER) -> tuple[Thread, ...]:
    """Return every thread of these families, family by family, each by size; all of them where none
    is named.
    """
    asked = set(families)
    return tuple(thread for thread in _every() if thread.family in asked)


@cache
def _every() -> tuple[Thread, ...]:
    rows = [*_unified(), *_metric(), *_whitworth(), *_cycle(), *_association(), *_pipe()]
    return tuple(sorted(rows, key=lambda row: (ORDER.index(row.family), row.size, -row.pitch)))


def _inch(family: str, size: str, number: int, source: str, **more: Any) -> Thread:
    numbered = size.startswith("#")
    major = number_size(int(size[1:])) if numbered else Fraction(size)
    return Thread(
        designation=f"{size[1:] if numbered else in_words(major)}-{number} {family}",
        family=family,
        unit="in",
        size=major,
        major=major,
        pitch=Fraction(1, number),
        source=source,
        inch_pitch=True,
        **more,
    )


def number_size(number: int) -> Fraction:
    """Return the major diameter in inches of a numbered size: 0.060, and 0.013 more for each.

    >>> float(number_size(10))
    0.19
    """
    return Fraction(60 + 13 * number, 1000)


def in_words(size: Fraction) -> str:
    """Return a size in inches as it is written on a drawing: 1/4, 1, 1 1/8."""
    whole, part = divmod(size, 1)
    return " ".join(str(one) for one in (whole, part) if one)


def _unified() -> Iterator[Thread]:
    for name in ("unified", "unified_special"):
        data = table(name)
        for family in [key for key in data if key in ORDER]:
            for size, numbers in data[family].items():
                for number in numbers if isinstance(numbers, list) else [numbers]:
                    yield _unified_row(family, size, number, data)


def _unified_row(family: str, size: str, number: int, data: dict[str, Any]) -> Thread:
    thread = _inch(family, size, number, data["source"])
    one_diameter = family == "UN" and number in data["one_diameter"]
    return replace(
        thread, engagement_pitches=None if one_diameter else data.get("engagement_pitches")
    )


def _metric() -> Iterator[Thread]:
    data = table("metric")
    rows = [("metric coarse", size, pitch) for size, pitch in data["coarse"].items()]
    rows += [
        ("metric fine", size, pitch) for size, pitches in data["fine"].items() for pitch in pitches
    ]
    for family, size, pitch in rows:
        major = Fraction(size.removeprefix("M"))
        drills = tuple(data["drills"].get(f"{size}x{pitch}", ()))
        yield Thread(
            designation=f"{size}x{pitch}",
            family=family,
            unit="mm",
            size=major,
            major=major,
            pitch=Fraction(pitch),
            minor_tolerance=Fraction(data["minor_tolerance_6"][pitch]),
            source=data["source"],
            drills=drills,
            drill_source=data["drill_source"] if drills else "",
        )


def _whitworth() -> Iterator[Thread]:
    for family, data in table("whitworth").items():
        for row in data["rows"]:
            yield _inch(
                family,
                row["size"],
                row["threads"],
                data["source"],
                drills=tuple(row.get("drills", ())),
                drill_source=data["drill_source"] if "drills" in row else "",
            )


def _cycle() -> Iterator[Thread]:
    data = table("cycle")
    yield from (_inch("BSC", size, data["threads"], data["source"]) for size in data["sizes"])


def _association() -> Iterator[Thread]:
    data = table("association")
    for number in data["numbers"]:
        pitch = thread_forms.association_pitch(number)
        yield Thread(
            designation=f"{number} BA",
            family="BA",
            unit="mm",
            size=Fraction(number),
            major=Fraction(str(thread_forms.association_major_diameter(pitch))),
            pitch=Fraction(str(pitch)),
            source=data["source"],
        )


def _pipe() -> Iterator[Thread]:
    for family, data in table("pipe").items():
        for row in data["rows"]:
            yield _pipe_row(family, data, row)


def _pipe_row(family: str, data: dict[str, Any], row: dict[str, Any]) -> Thread:
    named = f"{row['size']}-{row['threads']} NPT" if family == "NPT" else f"{family}{row['size']}"
    tolerances = {
        name: Fraction(row[name])
        for name in ("effective_tolerance", "minor_tolerance")
        if name in row
    }
    return Thread(
        designation=named,
        family=family,
        unit=data["unit"],
        size=Fraction(row["size"]),
        major=Fraction(row["major"]),
        pitch=(1 if data["unit"] == "in" else INCH) / Fraction(row["threads"]),
        source=data["source"],
        inch_pitch=True,
        tabled_effective=Fraction(row["effective"]),
        tabled_minor=Fraction(row["minor"]),
        taper=Fraction(data["taper"]) if "taper" in data else None,
        drills=tuple(row.get("drills", ())),
        drill_source=data["drill_source"] if "drills" in row else "",
        effective_tolerance=tolerances.get("effective_tolerance"),
        minor_tolerance=tolerances.get("minor_tolerance"),
    )
