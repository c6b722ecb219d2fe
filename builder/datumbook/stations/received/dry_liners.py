"""Dry liners: the hole each needs, how tight it sits there, what is left of its wall and of the
block's.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from datumbook.cells.basis import Basis
from datumbook.cells.columns import (
    Check,
    Column,
    Equation,
    Input,
    Per,
    Reading,
    Result,
    Sizes,
    Uncertainty,
    words,
)
from datumbook.cells.handles import Handle
from datumbook.cells.tables import Form, Line, Sheet, Table, cylinder_rows
from datumbook.equations import budget, clearances, liner_pressure, liners, walls
from datumbook.equations.verdicts import liner_at_least, liner_at_most
from datumbook.numbers.quantities import NO_LENGTH, Quantity
from datumbook.spec.liners import Liners
from datumbook.standards.fits import CAST_IRON, Fit, parse_fit, tighter_than
from datumbook.stations.received.features import TwoPointSizes, drawn, two_point
from datumbook.stations.received.liner_heat import LinersIn, of_material

STIFFNESS = {"modulus": ("Modulus", "MPa", 0), "poisson": ("Poisson's ratio", "", 3)}
HOLE_AXES = {"across": "across the crank", "along": "along it"}


class LinerFits(TwoPointSizes):
    """Each liner in its hole, read two ways; the verdicts and the wall follow from what the plan
    decides.
    """

    outside_diameter: Column
    hole: Column
    least_interference: Column
    greatest_interference: Column


class DryLiners:
    """What is measured and worked out for each cylinder that gets a liner."""

    def __init__(self, basis: Basis, spec: Liners) -> None:
        self.basis, self.spec, self.sizes = basis, spec, basis.sizes("liners")
        self.fit = self._fit()
        self.limits = self._limits()
        self.pressed: list[Table | Form] = []
        self.heat = LinersIn(basis, spec, spec.room, self.fit) if spec.room is not None else None

    def sheet(self) -> Sheet:
        """The sheet of the dry liners."""
        heat = self.heat.parts() if self.heat else ()
        parts = [self.fit, self.limits, *self.pressed, *heat]
        return Sheet(name="Liners", title="Cylinder liners", parts=parts)

    def bored_as(self, liner: Column, finish_bore: Column, walls_left: Sequence[Handle]) -> None:
        """What follows from the plan: which cylinder gets a liner, to what size that is bored, and
        the walls it leaves of the block.
        """
        spec, fit, limit = self.spec, self.fit, self.limits.column
        tight = spec.tightness.source
        assert spec.liner_wall is not None  # the spec's model holds it to be there
        wall = self.sizes.result(
            "liner_wall", "liner wall", walls.liner_wall, finished_bore=finish_bore
        )
        fit.extend(
            (
                *self._judged(
                    liner,
                    fit.least_interference,
                    tight,
                    liner_at_least,
                    low=limit("liner_interference_least"),
                ),
                *self._judged(
                    liner,
                    fit.greatest_interference,
                    tight,
                    liner_at_most,
                    high=limit("liner_interference_most"),
                ),
                wall,
                *self._judged(
                    liner,
                    wall,
                    spec.liner_wall.source,
                    liner_at_least,
                    low=limit("liner_wall_least"),
                ),
            )
        )
        if walls_left:
            self._press(
                self.sizes.result(
                    "parent_wall", "block round it", budget.least_of, sizes=walls_left
                )
            )
        elif spec.parent_wall is not None:
            self._press(
                self.sizes.given("parent_wall", "block round it, least", spec.parent_wall.low)
            )

    def _fit(self) -> LinerFits:
        sizes, near = self.sizes, self.spec.outside_diameter
        bored = [
            self._reading(
                f"hole_{way}", f"hole as bored, {said}", near, "Bore gauge, half way down."
            )
            for way, said in HOLE_AXES.items()
        ]
        smallest, largest = two_point(sizes, bored)
        tight = clearances.liner_interference
        return LinerFits(
            key="liner",
            title="Fit of the liners",
            heading="Cylinder",
            note="Only for a cylinder that the plan gives a liner. Liner and hole are read at one "
            "temperature; the hole is bored "
            "to the measured liner. Too tight distorts, too loose walks.",
            rows=cylinder_rows(self.basis.lined()),
            columns=(
                self._reading(
                    "outside_diameter", "liner outside", near, "Micrometer, mean of two directions."
                ),
                sizes.result(
                    "hole",
                    "bore block to",
                    liners.hole_for_liner,
                    interference_wanted=drawn(self.spec.tightness),
                ),
                *bored,
                smallest,
                largest,
                sizes.result("least_interference", "tight by, least", tight, hole=largest),
                sizes.result("greatest_interference", "tight by, most", tight, hole=smallest),
            ),
        )

    def _limits(self) -> Form:
        """What fit and wall are held to, and by which code."""
        sizes, spec = self.sizes, self.spec
        fit, tight = parse_fit(spec.fit) if spec.fit else None, spec.tightness
        code = words("code", "Fit by its code", fit.designation if fit else None)
        assert spec.liner_wall is not None  # the spec's model holds it to be there
        return Form(
            key="liner_limits",
            title="What the liners are held to",
            note=_warning(fit),
            lines=(
                *([Line(column=code, note="ISO 286-1")] if fit else []),
                sizes.given("liner_interference_least", "Least interference", tight.low),
                sizes.given("liner_interference_most", "Most interference", tight.high),
                sizes.given(
                    "liner_wall_least", "Least liner wall", spec.liner_wall.low or NO_LENGTH
                ),
            ),
        )

    def _judged(
        self, liner: Column, of: Column, source: str, equation: Equation, **end: Handle
    ) -> Iterator[Column | Check]:
        """The verdict on a size that an unlined cylinder lacks, with the size's uncertainty."""
        uncertainty = Uncertainty(
            name=f"{of.name}_uncertainty", words="±", unit=of.unit, decimals=of.decimals, of=of
        )
        held: dict[str, Per[Input]] = {"liner": liner, "value": of, "uncertainty": uncertainty}
        verdict = Result(
            name=f"{of.name}_verdict", words="verdict", equation=equation, inputs=held | end
        )
        yield from (uncertainty, verdict, Check(of=verdict, judged=True, source=source))

    def _press(self, parent_wall: Column) -> None:
        """What a liner presses and moves, the block taken for a ring no thicker than its least
        wall.
        """
        figures = self._figures()
        self.pressed = [
            figures,
            Table(
                key="liner_pressure",
                title="Pressure of the liners",
                heading="Cylinder",
                note="For the record: no verdict hangs on it. Pressure and stress by Lamé's rings, "
                "where the hole is smallest. "
                "The stress of the block is the plain hoop stress at its hole; handbook tables for "
                "steel add Poisson's ratio times the pressure.",
                rows=cylinder_rows(self.basis.lined()),
                columns=self._pressed(parent_wall, figures),
            ),
        ]

    def _figures(self) -> Form:
        """The figures of the two materials, each with its source."""
        spec = self.spec
        lines = [
            of_material(f"{part}_{what}", f"{said} of the {metal}", unit, decimals, material)
            for part, metal, material in (
                ("parent", "block", spec.block),
                ("liner", "liner", spec.material),
            )
            for what, (said, unit, decimals) in STIFFNESS.items()
        ]
        return Form(key="liner_materials", title="Figures of the materials", lines=lines)

    def _pressed(self, parent_wall: Column, figures: Form) -> tuple[Column, ...]:
        sizes, stress, factor, fit = self.sizes, Sizes("MPa", 1), Sizes("", 2), self.fit
        outside, tight, of_metal = fit.outside_diameter, fit.greatest_interference, figures.column
        return (
            self._reading(
                "liner_bore",
                "bore of the liner",
                self.basis.spec.bores.standard.low,
                "Bore gauge, before it is pressed in.",
            ),
            parent_wall,
            sizes.result(
                "parent_ring",
                "taken for a ring of",
                liner_pressure.parent_ring,
                hole=fit.smallest_size,
            ),
            factor.result(
                "parent_hoop_factor",
                "hoop factor, block",
                liner_pressure.parent_hoop_factor,
                outside_diameter=outside,
            ),
            factor.result(
                "liner_hoop_factor",
                "hoop factor, liner",
                liner_pressure.liner_hoop_factor,
                outside_diameter=outside,
            ),
            stress.result(
                "contact_pressure",
                "pressure",
                liner_pressure.contact_pressure,
                liner_interference=tight,
                outside_diameter=outside,
                parent_modulus=of_metal("parent_modulus"),
                parent_poisson=of_metal("parent_poisson"),
                liner_modulus=of_metal("liner_modulus"),
                liner_poisson=of_metal("liner_poisson"),
            ),
            stress.result(
                "parent_hoop_stress", "plain hoop stress, block", liner_pressure.parent_hoop_stress
            ),
            sizes.result(
                "bore_closing",
                "bore closes by",
                liner_pressure.bore_closing,
                outside_diameter=outside,
                liner_modulus=of_metal("liner_modulus"),
            ),
            sizes.result(
                "liner_shrinkage",
                "outside shrinks by",
                liner_pressure.liner_shrinkage,
                outside_diameter=outside,
                liner_modulus=of_metal("liner_modulus"),
                liner_poisson=of_metal("liner_poisson"),
            ),
            sizes.result(
                "parent_growth",
                "hole grows by",
                liner_pressure.parent_growth,
                outside_diameter=outside,
                parent_modulus=of_metal("parent_modulus"),
                parent_poisson=of_metal("parent_poisson"),
            ),
        )

    def _reading(self, name: str, words: str, near: Quantity | None, how: str) -> Reading:
        """A size of a liner; cylinders without one leave it blank."""
        return self.sizes.reading(name, words, near, how, wanted=False)


def _warning(fit: Fit | None) -> str:
    if fit is None or not tighter_than(fit, CAST_IRON):
        return (
            "Read hole and liner at one temperature, and never press a liner into a hole that "
            "was only worked out."
        )
    return (
        f"MIND: {fit.designation} is tighter than {CAST_IRON}, the tightest fit usable with "
        f"cast iron (Shigley table 7-9)."
    )
