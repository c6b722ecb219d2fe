"""Liners: dry liners pressed into the block, each with its hole: the fit by its code, what it presses and what it moves."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Any

from builder.equations import clearances, liners
from builder.layout import Layout
from builder.quantities import Quantity, number_text, read_quantity
from builder.sheets.parts import cylinder_rows
from builder.spec_parts import Liners
from builder.standards.fits import CAST_IRON, Fit, parse_fit, too_tight
from builder.standards.materials import figure
from builder.table import Check, Column, Form, Given, Line, Sheet, Sizes, Table

STRESS = Sizes("MPa", 1)
REFERENCE = read_quantity("20 degC")


def sheet(layout: Layout) -> Sheet:
    """The sheet of the dry liners."""
    parts = layout.spec.parts
    spec = parts.liners if parts else None
    assert spec is not None  # the station is left out without them
    tables = (_fit(layout, spec), _each(layout, spec))
    return Sheet(name="Liners", title="Dry liners in their holes", parts=tables, widths={2: 12, 6: 11.5}, stage="planned")


def _millimetres(size: Fraction) -> Quantity:
    return Quantity(size, "mm", 3, f"{number_text(size)} mm")


def _fit(layout: Layout, spec: Liners) -> Form:
    """The code of the fit, what it allows, and the figures of the materials."""
    sizes, fit = layout.sizes("bores"), parse_fit(spec.fit)
    ends = {
        "hole_least": ("Hole, not less than", fit.hole.nominal + fit.hole.lower),
        "hole_most": ("Hole, not more than", fit.hole.nominal + fit.hole.upper),
        "liner_least": ("Liner outside, not less than", fit.shaft.nominal + fit.shaft.lower),
        "liner_most": ("Liner outside, not more than", fit.shaft.nominal + fit.shaft.upper),
        "interference_least": ("Interference, not less than", fit.shaft.lower - fit.hole.upper),
        "interference_most": ("Interference, not more than", fit.shaft.upper - fit.hole.lower),
    }
    lines = [
        Line(column=Given(name="code", words="Fit by its code", unit=None, value=fit.designation), note="ISO 286-1"),
        *(Line(column=sizes.given(name, words, _millimetres(size))) for name, (words, size) in ends.items()),
        Line(column=sizes.given("liner_bore", "Bore of the liner as bought", spec.bore)),
        Line(column=sizes.given("parent_wall", "Least wall of the block behind it", spec.parent_wall)),
        *_materials(spec),
        Line(column=sizes.given("assembly_clearance", "Room wanted while it goes in", spec.room)),
    ]
    return Form(key="liner", title="The fit", note=_warning(fit), lines=lines)


def _warning(fit: Fit) -> str:
    if not too_tight(fit):
        return "Read hole and liner at one temperature, and never press a liner into a hole that was only reckoned."
    return f"MIND: {fit.designation} is tighter than {CAST_IRON}, the tightest fit usable with cast iron (Shigley table 7-9)."


def _materials(spec: Liners) -> Iterator[Line]:
    for part, words, material in (("parent", "block", spec.block), ("liner", "liner", spec.material)):
        for what in ("modulus", "poisson"):
            found = figure(material, what)
            unit, decimals = ("MPa", 0) if what == "modulus" else ("", 3)
            heading = f"Modulus of the {words}" if what == "modulus" else f"Poisson's ratio of the {words}"
            column = Given(name=f"{part}_{what}", words=heading, unit=unit, decimals=decimals, value=found.value)
            yield Line(column=column, note=f"{material}: {found.source}")
    expansion = figure(spec.material, "expansion")
    column = Given(name="expansion", words="Expansion of the liner", unit="1/degC", decimals=7, value=expansion.value)
    yield Line(column=column, note=f"{spec.material}: {expansion.source}")


def _each(layout: Layout, spec: Liners) -> Table:
    """The two sizes of each pair, and what follows from them."""
    sizes, fit = layout.sizes("bores"), parse_fit(spec.fit)
    degrees = replace(STRESS, unit="degC", decimals=0)

    def of(made: Sizes, name: str, words: str, equation: Callable[..., Any], *stated: str, **inputs: Any) -> Column:
        return made.result(name, words, equation, **{one: f"liner.{one}" for one in stated}, **inputs)

    factors = ("parent_modulus", "parent_poisson", "liner_modulus", "liner_poisson")
    return Table(
        key="liners",
        title="Each liner and its hole",
        heading="Cylinder",
        note="Pressure and stress by Lamé's rings, the block taken for one no thicker than its least wall. The stress of the "
        "block is the plain hoop stress at its hole; handbook tables for steel add Poisson's ratio times the pressure.",
        rows=cylinder_rows(layout),
        columns=(
            sizes.reading("hole", "hole", _millimetres(fit.hole.nominal), "Bore gauge, the largest of all readings."),
            Check(of="hole", low="liner.hole_least", high="liner.hole_most", source="ISO 286-1"),
            sizes.reading("outside_diameter", "liner outside", _millimetres(fit.shaft.nominal + fit.shaft.lower),
                          "Outside micrometer, the smallest of all readings."),
            Check(of="outside_diameter", low="liner.liner_least", high="liner.liner_most", source="ISO 286-1"),
            sizes.result("liner_interference", "interference", clearances.liner_interference),
            Check(of="liner_interference", low="liner.interference_least", high="liner.interference_most", source="ISO 286-1"),
            of(sizes, "parent_ring", "block as a ring", liners.parent_ring, "parent_wall"),
            of(Sizes("", 3), "parent_hoop_factor", "hoop factor, block", liners.parent_hoop_factor),
            of(Sizes("", 3), "liner_hoop_factor", "hoop factor, liner", liners.liner_hoop_factor, "liner_bore"),
            of(STRESS, "contact_pressure", "pressure", liners.contact_pressure, *factors),
            of(STRESS, "parent_hoop_stress", "plain hoop stress, block", liners.parent_hoop_stress),
            of(sizes, "bore_closing", "bore closes by", liners.bore_closing, "liner_bore", "liner_modulus"),
            of(degrees, "chilling_temperature", "chill the liner to", liners.chilling_temperature, "assembly_clearance",
               "expansion", temperature=REFERENCE),
        ),
    )  # fmt: skip
