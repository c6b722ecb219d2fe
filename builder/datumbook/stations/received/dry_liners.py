"""Dry liners: the hole each needs, how tight it sits there, what is left of its wall and of the
block's.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from datumbook.cells.columns import (
    Check,
    Column,
    Equation,
    Given,
    Reading,
    Result,
    Sizes,
    Uncertainty,
)
from datumbook.cells.tables import Form, Line, Table, cylinder_rows
from datumbook.equations import budget, clearances, liners, walls
from datumbook.equations.verdicts import liner_at_least, liner_between
from datumbook.numbers.quantities import read_quantity
from datumbook.spec.liners import Liners
from datumbook.standards.fits import CAST_IRON, Fit, parse_fit, too_tight
from datumbook.standards.materials import figure
from datumbook.stations.decided.bore_plan import FINISH
from datumbook.stations.received.features import drawn
from datumbook.workbook.layout import Layout

LINER = "bore_plan.{row}.liner"
NOTHING = read_quantity("0 mm")
REFERENCE = read_quantity("20 degC")


def parts(layout: Layout, spec: Liners) -> list[Table | Form]:
    """What is measured and worked out for each cylinder that gets a liner."""
    fit = Table(
        key="liner",
        title="Fit of the liners",
        heading="Cylinder",
        note="Only for a cylinder that the plan gives a liner. Liner and hole are read at one "
        "temperature; the hole is bored "
        "to the measured liner. Too tight distorts, too loose walks.",
        rows=cylinder_rows(layout.cylinders()),
        columns=tuple(_fit(layout, spec)),
    )
    found: list[Table | Form] = [fit, _limits(layout, spec)]
    if layout.spec.walls is not None or spec.parent_wall is not None:
        found += [_materials(layout, spec), _pressure(layout, spec)]
    return found


def _fit(layout: Layout, spec: Liners) -> Iterator[Column | Check]:
    sizes = layout.sizes("liners")
    assert spec.liner_wall is not None  # the spec's model holds it to be there
    wanted: Any = drawn(spec.tightness)
    yield _reading(
        sizes,
        "outside_diameter",
        "liner outside",
        spec.outside_diameter,
        "Micrometer, mean of two directions.",
    )
    yield sizes.result("hole", "bore block to", liners.hole_for_liner, interference_wanted=wanted)
    yield _reading(
        sizes,
        "hole_bored",
        "hole as bored",
        spec.outside_diameter,
        "Bore gauge, mean of two directions.",
    )
    yield sizes.result(
        "liner_interference",
        "tight by",
        clearances.liner_interference,
        hole="liner.{row}.hole_bored",
    )
    yield from _judged(sizes, "liner_interference", spec.tightness.source, liner_between)
    yield sizes.result("liner_wall", "liner wall", walls.liner_wall, finished_bore=FINISH)
    yield from _judged(sizes, "liner_wall", spec.liner_wall.source, liner_at_least)


def _limits(layout: Layout, spec: Liners) -> Form:
    """What fit and wall are held to, and by which code."""
    sizes, fit = layout.sizes("liners"), parse_fit(spec.fit) if spec.fit else None
    assert spec.liner_wall is not None  # the spec's model holds it to be there
    held = {
        "liner_interference_least": ("Least interference", spec.tightness.low),
        "liner_interference_most": ("Most interference", spec.tightness.high),
        "liner_wall_least": ("Least liner wall", spec.liner_wall.low or NOTHING),
    }
    lines = [Line(column=sizes.given(name, words, size)) for name, (words, size) in held.items()]
    if fit is not None:
        code = Given(name="code", words="Fit by its code", unit=None, value=fit.designation)
        lines.insert(0, Line(column=code, note="ISO 286-1"))
    return Form(
        key="liner_limits", title="What the liners are held to", note=_warning(fit), lines=lines
    )


def _warning(fit: Fit | None) -> str:
    if fit is None or not too_tight(fit):
        return (
            "Read hole and liner at one temperature, and never press a liner into a hole that "
            "was only reckoned."
        )
    return (
        f"MIND: {fit.designation} is tighter than {CAST_IRON}, the tightest fit usable with "
        f"cast iron (Shigley table 7-9)."
    )


def _judged(sizes: Sizes, of: str, source: str, equation: Equation) -> Iterator[Column | Check]:
    """The verdict on a size that an unlined cylinder lacks, with the size's uncertainty."""
    yield Uncertainty(
        name=f"{of}_uncertainty",
        words="±",
        unit=sizes.unit,
        decimals=sizes.decimals,
        of=f"liner.{{row}}.{of}",
    )
    held: dict[str, Any] = {
        "liner": LINER,
        "value": f"liner.{{row}}.{of}",
        "low": f"liner_limits.{of}_least",
        "uncertainty": f"liner.{{row}}.{of}_uncertainty",
    }
    held |= {"high": f"liner_limits.{of}_most"} if equation is liner_between else {}
    yield Result(name=f"{of}_verdict", words="verdict", unit=None, equation=equation, inputs=held)
    yield Check(of=f"{of}_verdict", judged=True, source=source)


def _materials(layout: Layout, spec: Liners) -> Form:
    """The figures of the two materials, each with its source."""
    lines = []
    for part, words, material in (
        ("parent", "block", spec.block),
        ("liner", "liner", spec.material),
    ):
        for what, heading, unit, decimals in (
            ("modulus", "Modulus", "MPa", 0),
            ("poisson", "Poisson's ratio", "", 3),
        ):
            found = figure(material, what)
            column = Given(
                name=f"{part}_{what}",
                words=f"{heading} of the {words}",
                unit=unit,
                decimals=decimals,
                value=found.value,
            )
            lines.append(Line(column=column, note=f"{material}: {found.source}"))
    if spec.room is not None:
        found = figure(spec.material, "expansion")
        column = Given(
            name="expansion",
            words="Expansion of the liner",
            unit="1/degC",
            decimals=7,
            value=found.value,
        )
        lines.append(Line(column=column, note=f"{spec.material}: {found.source}"))
        room = layout.sizes("liners").given(
            "assembly_clearance", "Room wanted while it goes in", spec.room
        )
        lines.append(Line(column=room))
    return Form(key="liner_materials", title="Figures of the materials", lines=lines)


def _pressure(layout: Layout, spec: Liners) -> Table:
    """What a liner presses and moves, the block taken for a ring no thicker than its least wall."""
    return Table(
        key="liner_pressure",
        title="Pressure of the liners",
        heading="Cylinder",
        note="For the record: no verdict hangs on it. Pressure and stress by Lamé's rings. The "
        "stress of the block is the "
        "plain hoop stress at its hole; handbook tables for steel add Poisson's ratio times the "
        "pressure.",
        rows=cylinder_rows(layout.cylinders()),
        columns=tuple(_pressed(layout, spec)),
    )


def _pressed(layout: Layout, spec: Liners) -> Iterator[Column]:
    sizes, stress, factor = layout.sizes("liners"), Sizes("MPa", 1), Sizes("", 2)
    fit: dict[str, Any] = {
        name: f"liner.{{row}}.{name}" for name in ("liner_interference", "outside_diameter")
    }
    outside = {"outside_diameter": fit["outside_diameter"]}
    figures = {
        f"{part}_{what}": f"liner_materials.{part}_{what}"
        for part in ("parent", "liner")
        for what in ("modulus", "poisson")
    }
    yield _reading(
        sizes,
        "liner_bore",
        "bore of the liner",
        layout.spec.bores.standard.low,
        "Bore gauge, before it is pressed in.",
    )
    yield _parent_wall(layout, spec)
    yield sizes.result(
        "parent_ring", "taken for a ring of", liners.parent_ring, hole="liner.{row}.hole_bored"
    )
    yield factor.result(
        "parent_hoop_factor", "hoop factor, block", liners.parent_hoop_factor, **outside
    )
    yield factor.result(
        "liner_hoop_factor", "hoop factor, liner", liners.liner_hoop_factor, **outside
    )
    yield stress.result("contact_pressure", "pressure", liners.contact_pressure, **fit, **figures)
    yield stress.result("parent_hoop_stress", "plain hoop stress, block", liners.parent_hoop_stress)
    yield sizes.result(
        "bore_closing",
        "bore closes by",
        liners.bore_closing,
        **outside,
        liner_modulus=figures["liner_modulus"],
    )
    if spec.room is not None:
        yield Sizes("degC", 0).result(
            "chilling_temperature",
            "chill the liner to",
            liners.chilling_temperature,
            **fit,
            temperature=REFERENCE,
            assembly_clearance="liner_materials.assembly_clearance",
            expansion="liner_materials.expansion",
        )


def _parent_wall(layout: Layout, spec: Liners) -> Column:
    """The least wall of the block round a liner: as measured, else the least the spec allows."""
    sizes = layout.sizes("liners")
    left = [f"wall.{{row}}.left_{side}" for side in ("thrust", "elsewhere")]
    left = [key for key in left if key.format(row=layout.cylinders()[0]) in layout.places]
    if left:
        return sizes.result("parent_wall", "block round it", budget.least_of, sizes=left)
    assert spec.parent_wall is not None  # the table is left out without it
    return sizes.given("parent_wall", "block round it, least", spec.parent_wall.low)


def _reading(sizes: Sizes, name: str, words: str, near: Any, how: str) -> Reading:
    """A size of a liner; cylinders without one leave it blank."""
    return replace(sizes.reading(name, words, near, how), wanted=False)
