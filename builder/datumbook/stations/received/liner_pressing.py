"""What a dry liner presses and moves, the block taken for a ring no thicker than its least wall."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from datumbook.cells.columns import Column, Given, Sizes
from datumbook.cells.tables import Form, Line, Row, Table
from datumbook.equations import liner_pressure
from datumbook.spec.liners import Liners
from datumbook.standards.materials import FIGURES, figure

STIFFNESS = {"modulus": ("Modulus", "MPa", 0), "poisson": ("Poisson's ratio", "", 3)}


@dataclass(frozen=True)
class Fitted:
    """The liners in their holes, as the sheet has them."""

    outside_diameter: Column
    smallest_size: Column
    greatest_interference: Column
    liner_bore: Column
    liner_length: Column


def pressing(
    sizes: Sizes, spec: Liners, rows: Sequence[Row], fit: Fitted, parent_wall: Column
) -> list[Table | Form]:
    """The figures of the two materials, and the pressure of each liner."""
    figures = _figures(spec)
    return [
        figures,
        Table(
            key="liner_pressure",
            title="Pressure of the liners",
            heading="Cylinder",
            note="For the record: no verdict hangs on it. Pressure and stress by Lamé's rings, "
            "where the hole is smallest. "
            "The stress of the block is the plain hoop stress at its hole; handbook tables for "
            "steel add Poisson's ratio times the pressure.",
            rows=rows,
            columns=(parent_wall, *_pressed(sizes, fit, figures)),
        ),
    ]


def _figures(spec: Liners) -> Form:
    """The figures of the two materials, each with its source."""
    lines = [
        of_material(f"{part}_{what}", f"{said} of the {metal}", unit, decimals, material)
        for part, metal, material in (
            ("parent", "block", spec.block),
            ("liner", "liner", spec.material),
        )
        for what, (said, unit, decimals) in STIFFNESS.items()
    ]
    return Form(key="liner_materials", title="Figures of the materials", lines=lines)


def _pressed(sizes: Sizes, fit: Fitted, figures: Form) -> tuple[Column, ...]:
    stress, factor = Sizes("MPa", 1), Sizes("", 2)
    outside, bore, tight = fit.outside_diameter, fit.liner_bore, fit.greatest_interference
    of_metal = figures.column
    return (
        sizes.result(
            "parent_ring", "taken for a ring of", liner_pressure.parent_ring, hole=fit.smallest_size
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
            liner_bore=bore,
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
            liner_bore=bore,
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


def of_material(name: str, said: str, unit: str, decimals: int, material: str) -> Line:
    """One figure of a material by what its name says, with its source."""
    what = next(one for one in reversed(FIGURES) if name.endswith(one.replace(" ", "_")))
    found = figure(material, what)
    return Line(
        column=Given(name=name, words=said, unit=unit, decimals=decimals, value=found.value),
        note=f"{material}: {found.source}{', from memory' if found.known == 'from memory' else ''}",
    )
