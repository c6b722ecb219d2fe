"""What the threads of fastener and block hold, by the formulas of FED-STD-H28."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from datumbook.cells.columns import Check, Column, Sizes
from datumbook.cells.tables import Table
from datumbook.equations import fasteners, threads
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.stations.holes.allowances import source_of
from datumbook.stations.holes.fastener_groups import (
    Clamps,
    FastenerFigures,
    bare,
    fitted,
    loads,
    strength_of,
    stress_unit,
    stripping_rows,
    torqued,
)
from datumbook.stations.holes.hole_groups import RATIO, Groups
from datumbook.stations.holes.threads import ThreadHoles


class StrippedThreads(Table):
    """What the threads hold, and the engagement each rule wants."""

    hole_shear_area_per_length: Column
    fed_std_14: Column
    fed_std_16: Column | None
    strength: Column | None


def stripping(
    groups: Groups, holes: ThreadHoles, clamps: Clamps, figures: FastenerFigures
) -> StrippedThreads:
    """The table of what the threads hold."""
    return StrippedThreads(
        key="stripping",
        title="What the threads hold",
        heading="Group",
        note="FED-STD-H28/2B, table II.B.1, at least metal (2A in 2B), per length of engagement. "
        "Formula 14 looks at the bolt "
        "alone, 16 at tensile strengths, 'by strength' at the block's own shear strength: the "
        "rule a group is held to "
        "stands on the HoleMetal sheet.",
        turned=True,
        rows=[row for row in groups.rows() if row.key in stripping_rows(groups)],
        columns=(*_areas(groups, holes), *_rules(groups, clamps, figures)),
    )


def _areas(groups: Groups, holes: ThreadHoles) -> Iterator[Column]:
    """The threads at least metal, and what shears of them."""
    sizes = groups.sizes
    engaged = groups.of(lambda one: read_quantity(f"{one.thread.engagement_mm:.9f} mm"))
    yield sizes.given("engagement", "engagement tolerated", engaged)
    for name, heading, equation in (
        ("smallest_major", "bolt, least major", threads.smallest_major_2a),
        ("largest_effective", "hole, largest effective", threads.largest_pitch_diameter_2b),
        ("smallest_effective", "bolt, least effective", threads.smallest_pitch_diameter_2a),
    ):
        yield sizes.result(name, heading, equation, major=holes.major, pitch=holes.pitch)
    yield sizes.result(
        "hole_shear_area_per_length",
        "hole, shear area a length",
        fasteners.hole_shear_area_per_length,
        pitch=holes.pitch,
    )
    yield sizes.result(
        "bolt_shear_area_per_length",
        "bolt, shear area a length",
        fasteners.bolt_shear_area_per_length,
        largest_minor=holes.largest_minor,
        pitch=holes.pitch,
    )


def _rules(groups: Groups, clamps: Clamps, figures: FastenerFigures) -> Iterator[Column]:
    """The engagement that each formula wants, of those whose strengths are known."""
    sizes, area, iron = groups.sizes, clamps.stress_area, groups.shop.iron_tensile
    bolt = fasteners.engagement_for_bolt_thread
    yield sizes.result("fed_std_14", "by FED-STD 14", bolt, stress_area=area)
    if iron is None:
        return
    stress = Sizes(groups.of(stress_unit), 0, width=9.5)
    tensile = groups.of(lambda one: strength_of(one).tensile)
    yield stress.given("tensile_strength", "bolt, tensile", tensile)
    ratio = groups.of(lambda one: bare(_over(iron, strength_of(one).tensile)))
    yield RATIO.given("strength_ratio", "block over bolt", ratio)
    hole = fasteners.engagement_for_hole_thread
    yield sizes.result("fed_std_16", "by FED-STD 16", hole, stress_area=area)
    if groups.shop.iron_shear is not None:
        yield sizes.result(
            "strength",
            "by strength",
            fasteners.engagement_by_strength,
            stress_area=area,
            shear_strength=figures.iron_shear,
        )


def margins(
    groups: Groups,
    held: StrippedThreads,
    engaged_length: Column,
    clamps: Clamps,
    figures: FastenerFigures,
) -> Iterator[Column | Check]:
    """The margin at the greatest clamp over the engagement there will be, where the block's own
    shear strength is known.
    """
    known = groups.shop.iron_shear is not None
    both = set(fitted(groups)) & set(torqued(groups)) if known else set[str]()
    rows = [key for key in stripping_rows(groups) if key in both]
    if not rows:
        return
    load = loads(groups).result(
        "stripping_load",
        "strips at",
        fasteners.stripping_load,
        rows,
        shear_strength=figures.iron_shear,
        shear_area_per_length=held.hole_shear_area_per_length,
        engaged_length=engaged_length,
    )
    margin = RATIO.result(
        "stripping_margin", "margin", fasteners.stripping_margin, rows, clamp=clamps.greatest_clamp
    )
    yield from (load, margin)
    least, source = figures.least_stripping, source_of("least_stripping")
    yield Check(of=margin, low=least, rows=rows, source=source)


def _over(one: Quantity, other: Quantity) -> Fraction:
    return (one.exactly("psi") / other.exactly("psi")).limit_denominator(10**9)
