"""What the threads of fastener and block hold, by the formulas of FED-STD-H28."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from datumbook.cells.columns import Column
from datumbook.equations import fasteners, openings, threads
from datumbook.numbers.quantities import Quantity
from datumbook.stations.holes.allowances import source_of
from datumbook.stations.holes.clamps import Clamps
from datumbook.stations.holes.fastener_groups import (
    bare,
    clamped,
    fitted,
    loads,
    strength_of,
    stresses,
    stripping_rows,
)
from datumbook.stations.holes.group_tables import GroupTable, held, stated
from datumbook.stations.holes.hole_groups import RATIO, Groups
from datumbook.stations.holes.openings import Openings
from datumbook.stations.holes.proof import FastenerFigures
from datumbook.stations.holes.threads import ThreadHoles


class StrippedThreads(GroupTable):
    """What the threads hold, and the engagement each rule wants."""

    hole_shear_area_per_length: Column
    fed_std_14: Column
    fed_std_16: Column | None
    strength: Column | None

    def __init__(
        self,
        groups: Groups,
        opened: Openings,
        holes: ThreadHoles,
        clamps: Clamps,
        figures: FastenerFigures,
    ) -> None:
        self.groups, self.clamps, self.figures = groups, clamps, figures
        super().__init__(
            groups,
            key="stripping",
            title="What the threads hold",
            note="FED-STD-H28/2B, table II.B.1, at least metal (2A in 2B), per length of "
            "engagement. Formula 14 looks at the bolt alone, 16 at tensile strengths, 'by "
            "strength' at the block's own shear strength: the rule a group is held to stands on "
            "this sheet, below.",
            only=stripping_rows(groups),
            columns=(*_least_metal(groups, opened, holes), *self._rules()),
        )

    def held_over(self, engaged_length: Column) -> None:
        """The margin at the greatest clamp over the engagement there will be, where the block's own
        shear strength is known.
        """
        if self.figures.iron_shear is None:
            return
        both = set(fitted(self.groups)) & set(clamped(self.groups))
        rows = [key for key in stripping_rows(self.groups) if key in both]
        load = loads(self.groups).result(
            "stripping_load",
            "strips at",
            fasteners.stripping_load,
            rows,
            shear_strength=self.figures.iron_shear,
            shear_area_per_length=lambda row: self.hole_shear_area_per_length[row],
            engaged_length=engaged_length,
        )
        margin = RATIO.result(
            "stripping_margin",
            "margin",
            fasteners.stripping_margin,
            rows,
            clamp=lambda row: self.clamps.greatest_clamp[row],
        )
        least = self.figures.least_stripping
        self.extend(stated(load, *held(margin, source_of("least_stripping"), low=least)))

    def _rules(self) -> Iterator[Column]:
        """The engagement that each formula wants, of those whose strengths are known."""
        groups, sizes, area = self.groups, self.groups.sizes, self.clamps.thread_area
        iron, bolt = groups.shop.iron_tensile, fasteners.engagement_for_bolt_thread
        yield sizes.result("fed_std_14", "by FED-STD 14", bolt, stress_area=area)
        if iron is None:
            return
        tensile = groups.of(lambda one: strength_of(one).tensile)
        yield stresses(groups).given("tensile_strength", "bolt, tensile", tensile)
        ratio = groups.of(lambda one: bare(_over(iron, strength_of(one).tensile)))
        yield RATIO.given("strength_ratio", "block over bolt", ratio)
        hole = fasteners.engagement_for_hole_thread
        yield sizes.result("fed_std_16", "by FED-STD 16", hole, stress_area=area)
        if self.figures.iron_shear is not None:
            yield sizes.result(
                "strength",
                "by strength",
                fasteners.engagement_by_strength,
                stress_area=area,
                shear_strength=self.figures.iron_shear,
            )


def _least_metal(groups: Groups, opened: Openings, holes: ThreadHoles) -> tuple[Column, ...]:
    """The threads at least metal, and what shears of them."""
    sizes, thread = groups.sizes, {"major": holes.major, "pitch": holes.pitch}
    engaged = opened.picked("engagement")
    return (
        sizes.result("engagement", "engagement tolerated", openings.value_at, **engaged),
        sizes.result(
            "pitch_tolerance", "effective, tolerance", threads.pitch_tolerance_2a, **thread
        ),
        sizes.result("smallest_major", "bolt, least major", threads.smallest_major_2a, **thread),
        sizes.result(
            "largest_effective",
            "hole, largest effective",
            threads.largest_pitch_diameter_2b,
            **thread,
        ),
        sizes.result(
            "smallest_effective",
            "bolt, least effective",
            threads.smallest_pitch_diameter_2a,
            **thread,
        ),
        sizes.result(
            "hole_shear_area_per_length",
            "hole, shear area a length",
            fasteners.hole_shear_area_per_length,
            pitch=holes.pitch,
        ),
        sizes.result(
            "bolt_shear_area_per_length",
            "bolt, shear area a length",
            fasteners.bolt_shear_area_per_length,
            largest_minor=lambda row: holes.largest_minor[row],
            pitch=holes.pitch,
        ),
    )


def _over(one: Quantity, other: Quantity) -> Fraction:
    return (one.exactly("psi") / other.exactly("psi")).limit_denominator(10**9)
