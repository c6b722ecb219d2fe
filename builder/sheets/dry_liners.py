"""Dry liners: the hole each needs, how tight it sits there, what is left of its wall and of the block's."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from builder.equations import budget, clearances, liners, walls
from builder.equations.verdicts import liner_at_least, liner_between
from builder.layout import Layout
from builder.quantities import Quantity, read_quantity
from builder.sheets.bore_plan import FINISH
from builder.sheets.features import drawn
from builder.spec_liners import Liners
from builder.table import Check, Column, Equation, Form, Line, Reading, Result, Row, Sizes, Table, Uncertainty

LINER = "bore_plan.{row}.liner"
NOTHING = read_quantity("0 mm")


def parts(layout: Layout, spec: Liners) -> list[Table | Form]:
    """What is measured and worked out for each cylinder that gets a liner."""
    fit = Table(
        key="liner",
        title="Fit of the liners",
        heading="Cylinder",
        note="Only for a cylinder that the plan gives a liner. Liner and hole are read at one temperature; the hole is bored "
        "to the measured liner. Too tight distorts, too loose walks.",
        rows=_cylinders(layout),
        columns=tuple(_fit(layout, spec)),
    )
    walled = spec.modulus is not None and layout.spec.walls is not None
    return [fit, _limits(layout, spec), *([_pressure(layout, spec.modulus)] if walled and spec.modulus else [])]


def _fit(layout: Layout, spec: Liners) -> Iterator[Column | Check]:
    sizes = layout.sizes("liners")
    assert spec.interference is not None  # the spec's model holds it to be there
    assert spec.liner_wall is not None
    wanted: Any = drawn(spec.interference)
    yield _reading(sizes, "outside_diameter", "liner outside", spec.outside_diameter, "Micrometer, mean of two directions.")
    yield sizes.result("hole", "bore block to", liners.hole_for_liner, interference_wanted=wanted)
    yield _reading(sizes, "hole_bored", "hole as bored", spec.outside_diameter, "Bore gauge, mean of two directions.")
    yield sizes.result("liner_interference", "tight by", clearances.liner_interference, hole="liner.{row}.hole_bored")
    yield from _judged(sizes, "liner_interference", spec.interference.source, liner_between)
    yield sizes.result("liner_wall", "liner wall", walls.liner_wall, finished_bore=FINISH)
    yield from _judged(sizes, "liner_wall", spec.liner_wall.source, liner_at_least)


def _limits(layout: Layout, spec: Liners) -> Form:
    """What fit and wall are held to."""
    sizes = layout.sizes("liners")
    assert spec.interference is not None  # the spec's model holds it to be there
    assert spec.liner_wall is not None
    held = {"liner_interference_least": ("Least interference", spec.interference.low),
            "liner_interference_most": ("Most interference", spec.interference.high),
            "liner_wall_least": ("Least liner wall", spec.liner_wall.low or NOTHING)}  # fmt: skip
    lines = [Line(column=sizes.given(name, words, size)) for name, (words, size) in held.items()]
    return Form(key="liner_limits", title="What the liners are held to", lines=lines)  # fmt: skip


def _judged(sizes: Sizes, of: str, source: str, equation: Equation) -> Iterator[Column | Check]:
    """The verdict on a size that an unlined cylinder lacks, with the size's uncertainty."""
    yield Uncertainty(name=f"{of}_uncertainty", words="±", unit=sizes.unit, decimals=sizes.decimals,
                      of=f"liner.{{row}}.{of}")  # fmt: skip
    held: dict[str, Any] = {"liner": LINER, "value": f"liner.{{row}}.{of}", "low": f"liner_limits.{of}_least",
                            "uncertainty": f"liner.{{row}}.{of}_uncertainty"}  # fmt: skip
    held |= {"high": f"liner_limits.{of}_most"} if equation is liner_between else {}
    yield Result(name=f"{of}_verdict", words="verdict", unit=None, equation=equation, inputs=held)
    yield Check(of=f"{of}_verdict", judged=True, source=source)


def _pressure(layout: Layout, modulus: Quantity) -> Table:
    """The pressure a liner puts on the block round it, taken for a ring no thicker than its least wall."""
    sizes, stress = layout.sizes("liners"), Sizes("MPa", 1)
    left = [f"wall.{{row}}.left_{side}" for side in ("thrust", "elsewhere")]
    left = [key for key in left if key.format(row=layout.cylinders()[0]) in layout.places]
    fit: dict[str, Any] = {name: f"liner.{{row}}.{name}" for name in ("liner_interference", "outside_diameter")}
    how = "Bore gauge, before it is pressed in."
    return Table(
        key="liner_pressure",
        title="Pressure of the liners",
        heading="Cylinder",
        note="Block and liner of one iron. For the record: no verdict hangs on it.",
        rows=_cylinders(layout),
        columns=(
            _reading(sizes, "liner_bore", "bore of the liner", layout.spec.bores.standard.low, how),
            sizes.result("parent_wall", "block round it", budget.least_of, sizes=left),
            sizes.result("parent_ring", "taken for a ring of", liners.parent_ring, hole="liner.{row}.hole_bored"),
            stress.result("contact_pressure", "pressure", liners.contact_pressure_one_material, **fit, modulus=modulus),
            Sizes("", 2).result("parent_hoop_factor", "hoop factor", liners.parent_hoop_factor,
                                outside_diameter=fit["outside_diameter"]),
            stress.result("parent_hoop_stress", "pull in the block", liners.parent_hoop_stress),
        ),
    )  # fmt: skip


def _reading(sizes: Sizes, name: str, words: str, near: Any, how: str) -> Reading:
    """A size of a liner; cylinders without one leave it blank."""
    return replace(sizes.reading(name, words, near, how), wanted=False)


def _cylinders(layout: Layout) -> list[Row]:
    return [Row(str(number), f"Cylinder {number}") for number in layout.cylinders()]
