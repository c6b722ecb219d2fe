"""What the threads of fastener and block hold, by the formulas of FED-STD-H28."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from datumbook.cells.columns import Check, Column, Given, Sizes
from datumbook.cells.tables import Table
from datumbook.equations import fasteners, threads
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.standards import hole_allowances
from datumbook.stations.holes.fastener_groups import (
    RATIO,
    bare,
    fitted,
    load_unit,
    strength_of,
    stress_unit,
    stripping_rows,
    torqued,
)
from datumbook.stations.holes.hole_groups import Groups
from datumbook.workbook.layout import Layout


def stripping(layout: Layout, groups: Groups) -> Table:
    """The table of what the threads hold."""
    return Table(
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
        columns=tuple(_stripping_columns(layout, groups)),
    )


def _stripping_columns(layout: Layout, groups: Groups) -> Iterator[Column | Check]:
    sizes, rows, shop = groups.sizes, stripping_rows(groups), layout.spec.shop
    of_thread = {"major": "threads.{row}.major", "pitch": "threads.{row}.pitch"}
    engaged = groups.of(lambda one: read_quantity(f"{one.thread.engagement_mm:.9f} mm"))
    yield sizes.given("engagement", "engagement tolerated", engaged)
    for name, heading, equation in (
        ("smallest_major", "bolt, least major", threads.smallest_major_2a),
        ("largest_effective", "hole, largest effective", threads.largest_pitch_diameter_2b),
        ("smallest_effective", "bolt, least effective", threads.smallest_pitch_diameter_2a),
    ):
        yield sizes.result(name, heading, equation, rows, **of_thread)
    pitch = {"pitch": "threads.{row}.pitch"}
    yield sizes.result(
        "hole_shear_area_per_length",
        "hole, shear area a length",
        fasteners.hole_shear_area_per_length,
        rows,
        **pitch,
    )
    yield sizes.result(
        "bolt_shear_area_per_length",
        "bolt, shear area a length",
        fasteners.bolt_shear_area_per_length,
        rows,
        largest_minor="threads.{row}.largest_minor",
        **pitch,
    )
    area = {"stress_area": "fasteners.{row}.stress_area"}
    yield sizes.result(
        "fed_std_14", "by FED-STD 14", fasteners.engagement_for_bolt_thread, rows, **area
    )
    tensile = groups.of(lambda one: strength_of(one).tensile)
    if shop.iron_tensile is not None:
        unit = lambda row: stress_unit(groups.by_key[row])  # noqa: E731  # a column's unit by its row
        yield Given(
            name="tensile_strength",
            words="bolt, tensile",
            unit=unit,
            decimals=0,
            value=tensile,
            width=9.5,
        )
        ratio = groups.of(lambda one: bare(_over(shop.iron_tensile, strength_of(one).tensile)))
        yield RATIO.given("strength_ratio", "block over bolt", ratio)
        yield sizes.result(
            "fed_std_16", "by FED-STD 16", fasteners.engagement_for_hole_thread, rows, **area
        )
    if shop.iron_shear is not None:
        yield from _by_strength(layout, groups, rows, area)


def _by_strength(
    layout: Layout, groups: Groups, rows: list[str], area: dict[str, Any]
) -> Iterator[Column | Check]:
    """The rule by the block's own shear strength, and the margin at the greatest clamp over the
    engagement there will be.
    """
    shear = {"shear_strength": "fastener_figures.iron_shear"}
    if layout.spec.shop.iron_tensile is not None:
        yield groups.sizes.result(
            "strength", "by strength", fasteners.engagement_by_strength, rows, **area, **shear
        )
    reached = [key for key in rows if key in fitted(groups) and key in torqued(layout, groups)]
    if reached:
        force = Sizes(lambda row: load_unit(groups.by_key[row]), 1, width=9.5)
        yield force.result(
            "stripping_load",
            "strips at",
            fasteners.stripping_load,
            reached,
            **shear,
            shear_area_per_length="stripping.{row}.hole_shear_area_per_length",
            engaged_length="reach.{row}.engaged_length",
        )
        yield RATIO.result(
            "stripping_margin",
            "margin",
            fasteners.stripping_margin,
            reached,
            clamp="fasteners.{row}.greatest_clamp",
        )
        yield Check(
            of="stripping_margin",
            low="fastener_figures.least_stripping",
            rows=reached,
            source=hole_allowances()["least_stripping"][1],
        )


def _over(one: Quantity | None, other: Quantity) -> Fraction:
    assert one is not None
    return (one.exactly("psi") / other.exactly("psi")).limit_denominator(10**9)
