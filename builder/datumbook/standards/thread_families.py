"""Families of threads: the form each is cut to, the equations of that form, and the class its holes
are held to.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from datumbook.equations import thread_forms, threads
from datumbook.formulas.functions import PI

ThreadEquation = Callable[..., float]


@dataclass(frozen=True, slots=True)
class ThreadForm:
    """A thread form: its angle in degrees, and the equations (major, pitch) that give its
    diameters.

    None where only a table says it. `depth` names the whole depth of 100 % of thread, as printed
    beside a percentage.
    """

    name: str
    angle: float
    depth: str
    effective: ThreadEquation | None
    minor: ThreadEquation | None
    charted: bool = False  # drill charts count 2 x 3/4 H of it as a full thread

    @property
    def height_of_pitch(self) -> float:
        """Height H of the sharp triangle as a share of the pitch."""
        return thread_forms.sharp_height(1.0, self.angle * PI / 180)


@dataclass(frozen=True, slots=True)
class Family:
    """A family of threads: its form, the class of its holes (None where no outside limit is known
    here).

    `stress_area` is the equation (major, pitch) of its own standard, None where it has none.
    """

    name: str
    form: ThreadForm
    words: str
    limit_class: str | None = None
    stress_area: ThreadEquation | None = None
    stress_area_rule: str = (
        "midway between effective and minor diameter; its own standard has no formula known here"
    )


SIXTY = ThreadForm(
    "ISO and unified",
    60.0,
    "2 x 5/8 H",
    threads.basic_pitch_diameter,
    threads.basic_minor_diameter,
    True,
)
WHITWORTH = ThreadForm(
    "Whitworth",
    55.0,
    "2 x 2/3 H",
    thread_forms.whitworth_effective_diameter,
    thread_forms.whitworth_minor_diameter,
)
ASSOCIATION = ThreadForm(
    "British Association",
    47.5,
    "2 x 0.6 p",
    thread_forms.association_effective_diameter,
    thread_forms.association_minor_diameter,
)
CYCLE = ThreadForm(
    "cycle",
    60.0,
    "2 x 0.5327 p",
    thread_forms.cycle_effective_diameter,
    thread_forms.cycle_minor_diameter,
)
PIPE = ThreadForm("Whitworth pipe", 55.0, "2 x 2/3 H", None, None)
TAPER_60 = ThreadForm("taper pipe of 60 degrees", 60.0, "2 x 0.8 p", None, None)

INCH_AREA = (threads.unified_stress_area, "FED-STD-H28/2B, formula 1")
METRIC_AREA = (threads.metric_stress_area, "ISO 898-1")
NO_AREA = "none: a taper plug is not tightened in tension"

FAMILIES = {
    family.name: family
    for family in (
        Family("UNC", SIXTY, "unified coarse", "2B", *INCH_AREA),
        Family("UNF", SIXTY, "unified fine", "2B", *INCH_AREA),
        Family("UNEF", SIXTY, "unified extra-fine", "2B", *INCH_AREA),
        Family("UN", SIXTY, "unified, one pitch for many sizes", "2B", *INCH_AREA),
        Family("metric coarse", SIXTY, "ISO metric coarse", "6H", *METRIC_AREA),
        Family("metric fine", SIXTY, "ISO metric fine", "6H", *METRIC_AREA),
        Family("BSW", WHITWORTH, "British Standard Whitworth"),
        Family("BSF", WHITWORTH, "British Standard Fine"),
        Family("BSC", CYCLE, "cycle thread"),
        Family("BA", ASSOCIATION, "British Association", "BS 93"),
        Family("G", PIPE, "parallel pipe thread", "ISO 228-1"),
        Family(
            "R",
            PIPE,
            "taper pipe thread of 55 degrees, R outside and Rc inside",
            stress_area_rule=NO_AREA,
        ),
        Family("NPT", TAPER_60, "taper pipe thread of 60 degrees", stress_area_rule=NO_AREA),
    )
}
