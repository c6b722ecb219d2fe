"""Bores: every cylinder at its depths and axes, what is worn, and the size that cleans the worst."""

from __future__ import annotations

from collections.abc import Iterator

from builder.equations import bores
from builder.layout import Layout
from builder.spec import limit
from builder.table import Check, Column, Form, Line, Row, Sheet, Table

AXES = {"thrust": "across the crank", "axial": "along the crank"}


def sheet(layout: Layout) -> Sheet:
    """The sheet of the cylinder bores."""
    return Sheet(name="Bores", title="Cylinder bores", parts=(_readings(layout), _each(layout), _rebore(layout)))


def _readings(layout: Layout) -> Table:
    spec, sizes = layout.spec.bores, layout.sizes("bores")
    depths = "; ".join(f"{depth.words} {depth.at.text}" for depth in spec.depths)
    how = "Bore gauge, caps fitted and torqued, block at room temperature."
    return Table(
        key="bores",
        title="Bore readings",
        heading="Where",
        note=f"Depths below the deck: {depths}.",
        rows=[
            Row(f"{cylinder}.{depth.key}", f"Cylinder {cylinder}, {depth.words}")
            for cylinder in layout.cylinders()
            for depth in spec.depths
        ],
        columns=(
            *(sizes.reading(axis, words, spec.standard.low, how) for axis, words in AXES.items()),
            sizes.result("out_of_round", "out of round", bores.out_of_round),
            Check(of="out_of_round", limits=spec.out_of_round),
        ),
    )


def _each(layout: Layout) -> Table:
    spec, sizes = layout.spec.bores, layout.sizes("bores")
    everywhere = [f"bores.{{row}}.{depth.key}.{axis}" for depth in spec.depths for axis in AXES]

    def tapers() -> Iterator[Column | Check]:
        first, last = spec.depths[0].key, spec.depths[-1].key
        for axis, words in AXES.items():
            ends = {"top": f"bores.{{row}}.{first}.{axis}", "bottom": f"bores.{{row}}.{last}.{axis}"}
            yield sizes.result(f"taper_{axis}", f"taper {words}", bores.taper, **ends)
            yield Check(of=f"taper_{axis}", limits=spec.taper)

    return Table(
        key="bore",
        title="Each bore",
        heading="Cylinder",
        note="Taper is top less bottom: above zero, the bore is wider at the top. "
        "The unworn lip above ring travel is the size the bore once had.",
        rows=[Row(str(cylinder), f"Cylinder {cylinder}") for cylinder in layout.cylinders()],
        columns=(
            sizes.reading("unworn_lip", "unworn lip", spec.standard.low, "Above the highest point of ring travel."),
            sizes.result("mean_size", "mean size", bores.mean_size, diameters=everywhere),
            sizes.result("largest_size", "largest", bores.largest_size, diameters=everywhere),
            *(tapers() if len(spec.depths) > 1 else ()),
            sizes.result("wear", "wear", bores.wear),
            Check(of="wear", limits=spec.wear),
            sizes.result("clean_up_size", "cleans up at", bores.clean_up_size, clean_up_stock="rebore.clean_up_stock"),
        ),
    )


def _rebore(layout: Layout) -> Form:
    spec, sizes = layout.spec.bores, layout.sizes("bores")
    standard, oversizes = spec.standard.low, list(enumerate(spec.oversizes, 1))
    assert standard is not None  # a Band has both ends
    bores_of = [f"bore.{number}.clean_up_size" for number in layout.cylinders()]
    worst = sizes.result("worst_clean_up", "Worst bore cleans up at", bores.worst_clean_up, clean_up_sizes=bores_of)
    lines = [
        Line(column=sizes.given("standard", "Standard bore, least", standard), note=spec.standard.source),
        Line(column=sizes.given("clean_up_stock", "Stock for the hone, on diameter", spec.clean_up_stock)),
        *(Line(column=sizes.given(f"oversize_{place}", f"Oversize {place}", size)) for place, size in oversizes),
    ]
    if oversizes:
        most = limit("standard bore and the largest oversize", high=standard + spec.oversizes[-1])
        steps = [f"rebore.oversize_{place}" for place, _ in oversizes]
        bore_to = sizes.result("next_oversize", "Bore all to", bores.next_oversize, oversizes=steps)
        lines += [
            Line(column=worst, limits=most, note=most.source),
            Line(column=bore_to, note="the first oversize that cleans the worst bore; blank if none does"),
        ]
    return Form(
        key="rebore",
        title="Next size for all bores",
        note="One-sided wear: the axis stays, so the deepest wear counts twice, and the hone gets its stock.",
        lines=lines,
    )
