"""Bores: every cylinder at its depths and axes, what is worn, and the size that cleans the worst."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from builder.equations import bores
from builder.spec import Limit
from builder.table import Check, Column, Form, Given, Line, Reading, Result, Row, Sheet, Table

if TYPE_CHECKING:
    from builder.layout import Layout


def sheet(layout: Layout) -> Sheet:
    """The sheet of the cylinder bores."""
    return Sheet(name="Bores", title="Cylinder bores", parts=(_readings(layout), _each(layout), _rebore(layout)))


def _readings(layout: Layout) -> Table:
    spec, unit, decimals = layout.spec.bores, layout.unit_of("bores"), layout.decimals_of("bores")
    rows = [
        Row(f"{cylinder}.{depth.key}", f"Cylinder {cylinder}, {depth.words}")
        for cylinder in layout.cylinders()
        for depth in spec.depths
    ]
    depths = "; ".join(f"{depth.words} {depth.at.text} below the deck" for depth in spec.depths)

    def reading(name: str, words: str) -> Reading:
        return Reading(name=name, words=words, unit=unit, decimals=decimals, group="bores", near=spec.standard.low,
                       how="Bore gauge, caps fitted and torqued, block at room temperature.")  # fmt: skip

    return Table(
        key="bores",
        title="Bore readings",
        heading="Where",
        note=f"Depths: {depths}.",
        rows=rows,
        columns=(
            reading("thrust", "across the crank"),
            reading("axial", "along the crank"),
            Result(
                name="out_of_round", words="out of round", unit=unit, decimals=decimals, equation=bores.out_of_round
            ),
            Check(of="out_of_round", limits=spec.out_of_round),
        ),
    )


def _each(layout: Layout) -> Table:
    spec, unit, decimals = layout.spec.bores, layout.unit_of("bores"), layout.decimals_of("bores")
    everywhere = [f"bores.{{row}}.{depth.key}.{axis}" for depth in spec.depths for axis in ("thrust", "axial")]

    def result(name: str, words: str, equation: object, **inputs: object) -> Result:
        return Result(name=name, words=words, unit=unit, decimals=decimals, equation=equation, inputs=inputs)  # type: ignore[arg-type]

    def tapers() -> Iterator[Column | Check]:
        first, last = spec.depths[0].key, spec.depths[-1].key
        for axis, words in (("thrust", "taper across"), ("axial", "taper along")):
            ends = {"top": f"bores.{{row}}.{first}.{axis}", "bottom": f"bores.{{row}}.{last}.{axis}"}
            yield result(f"taper_{axis}", words, bores.taper, **ends)
            yield Check(of=f"taper_{axis}", limits=spec.taper)

    return Table(
        key="bore",
        title="Each bore",
        heading="Cylinder",
        note="Taper is top less bottom: above zero, the bore is wider at the top. "
        "The unworn lip above ring travel is the size the bore once had.",
        rows=[Row(str(cylinder), f"Cylinder {cylinder}") for cylinder in layout.cylinders()],
        columns=(
            Reading(
                name="unworn_lip",
                words="unworn lip",
                unit=unit,
                decimals=decimals,
                group="bores",
                near=spec.standard.low,
                how="Above the highest point of ring travel.",
            ),  # fmt: skip
            result("mean_size", "mean size", bores.mean_size, diameters=everywhere),
            result("largest_size", "largest", bores.largest_size, diameters=everywhere),
            *(tapers() if len(spec.depths) > 1 else ()),
            result("wear", "wear", bores.wear),
            Check(of="wear", limits=spec.wear),
            result("clean_up_size", "cleans up at", bores.clean_up_size, clean_up_stock="rebore.clean_up_stock"),
        ),
    )


def _rebore(layout: Layout) -> Form:
    spec, unit, decimals = layout.spec.bores, layout.unit_of("bores"), layout.decimals_of("bores")
    standard, sizes = spec.standard.low, spec.oversizes
    most = Limit(at_most=(standard + sizes[-1]).text, source="standard size and the largest oversize")

    def given(name: str, words: str, value: object) -> Given:
        return Given(name=name, words=words, unit=unit, decimals=decimals, value=value)  # type: ignore[arg-type]

    return Form(
        key="rebore",
        title="Next size for all bores",
        note="One-sided wear: the axis stays, so the deepest wear counts twice, and the hone gets its stock.",
        lines=(
            Line(column=given("standard", "Standard bore, least", standard), note=spec.standard.source),
            Line(column=given("clean_up_stock", "Stock for the hone, on diameter", spec.clean_up_stock)),
            *(
                Line(column=given(f"oversize_{place}", f"Oversize {place}", size))
                for place, size in enumerate(sizes, 1)
            ),
            Line(
                column=Result(
                    name="worst_clean_up",
                    words="Worst bore cleans up at",
                    unit=unit,
                    decimals=decimals,
                    equation=bores.worst_clean_up,
                    inputs={"clean_up_sizes": [f"bore.{number}.clean_up_size" for number in layout.cylinders()]},
                ),
                limits=most,
                note=most.source,
            ),
            Line(
                column=Result(
                    name="next_oversize",
                    words="Bore all to",
                    unit=unit,
                    decimals=decimals,
                    equation=bores.next_oversize,
                    inputs={"oversizes": [f"rebore.oversize_{place}" for place, _ in enumerate(sizes, 1)]},
                ),
                note="the first oversize that cleans the worst bore; blank if none does",
            ),
        ),
    )
