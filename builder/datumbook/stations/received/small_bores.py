"""Small bores: tappet bores and the room of their tappets, dowels and how far they stand out, the
holes of the core plugs.
"""

from __future__ import annotations

from datumbook.cells.tables import Row, Sheet, Table
from datumbook.equations import bores, clearances
from datumbook.spec.features import CorePlugs, Dowels, TappetBores
from datumbook.stations.received.features import Feature, drawn
from datumbook.workbook.layout import Layout

PLACES = {
    "top_along": "top, along the crank",
    "top_across": "top, across",
    "bottom_along": "bottom, along the crank",
    "bottom_across": "bottom, across",
}
AXES = {"upright": "upright", "level": "level"}


def sheet(layout: Layout) -> Sheet:
    """The sheet of the small bores as received."""
    return Sheet(name="SmallBores", title=title(layout), parts=measured(layout, finished=False))


def title(layout: Layout) -> str:
    """What stands on the sheet, in words."""
    spec = layout.spec
    found = {
        "tappet bores": spec.tappet_bores,
        "dowels": spec.dowels,
        "core holes": spec.core_plugs,
    }
    said = ", ".join(words for words, section in found.items() if section)
    return f"{said[:1].upper()}{said[1:]}"


def measured(layout: Layout, finished: bool) -> list[Table]:
    """What is measured in one state; as finished only what the work has moved."""
    spec, parts = layout.spec, list[Table]()
    tappets, dowels = (Feature(layout, name) for name in ("tappet_bores", "dowels"))
    if spec.tappet_bores and (not finished or tappets.again):
        parts.append(_tappets(tappets.finished() if finished else tappets, spec.tappet_bores))
    if spec.dowels and (not finished or dowels.again):
        parts.append(_dowels(dowels.finished() if finished else dowels, spec.dowels))
    if spec.core_plugs and not finished:
        parts.append(_core_holes(Feature(layout, "core_plugs"), spec.core_plugs))
    return parts


def _tappets(feature: Feature, spec: TappetBores) -> Table:
    sizes, key = feature.layout.sizes("small_bores"), feature.key("tappet_bores")
    how, parts = "Small-hole gauge and micrometer.", feature.layout.spec.parts
    return Table(
        key=key,
        title=feature.title("Tappet bores"),
        heading="Bore",
        note="Too much room decides: oversize tappets, or bushes.",
        spoilers=feature.spoilers(),
        rows=[Row(str(number), f"Tappet bore {number}") for number in range(1, spec.bores + 1)],
        columns=(
            *(sizes.reading(name, words, drawn(spec.size), how) for name, words in PLACES.items()),
            sizes.result(
                "tappet_bore",
                "mean size",
                bores.mean_size,
                diameters=[f"{key}.{{row}}.{name}" for name in PLACES],
            ),
            feature.check("tappet_bores", "tappet_bore", spec.size),
            *(
                ()
                if parts and parts.tappets
                else (
                    sizes.given("tappet", "tappet", spec.tappet),
                    sizes.result("tappet_clearance", "clearance", clearances.tappet_clearance),
                    feature.check("tappet_bores", "tappet_clearance", spec.clearance),
                )
            ),
        ),
    )


def _dowels(feature: Feature, spec: Dowels) -> Table:
    sizes = feature.layout.sizes("heights")
    return Table(
        key=feature.key("dowels"),
        title=feature.title("Dowels"),
        heading="Dowel",
        note="A deck cut takes from the hole: a dowel that then stands too far out bottoms in the "
        "head.",
        spoilers=feature.spoilers(),
        rows=[Row(name, f"Dowel {name}") for name in spec.names],
        columns=(
            sizes.reading(
                "dowel_length", "its length", spec.dowel_length, "Micrometer over both ends."
            ),
            sizes.reading(
                "hole_depth", "depth of its hole", spec.hole_depth, "Depth gauge from the deck."
            ),
            sizes.result("dowel_projection", "stands out", clearances.dowel_projection),
            feature.check("dowels", "dowel_projection", spec.projection),
        ),
    )


def _core_holes(feature: Feature, spec: CorePlugs) -> Table:
    sizes = feature.layout.sizes("small_bores")
    return Table(
        key="core_holes",
        title="Core holes",
        heading="Hole",
        note="Clean, free of pits where the plug seats. Out of size decides: an oversize plug, or "
        "a screwed one.",
        rows=[Row(name, f"Core hole {name}") for name in spec.names],
        columns=(
            *(
                sizes.reading(axis, words, drawn(spec.hole), "Inside micrometer.")
                for axis, words in AXES.items()
            ),
            sizes.result(
                "hole",
                "mean size",
                bores.mean_size,
                diameters=[f"core_holes.{{row}}.{axis}" for axis in AXES],
            ),
            feature.check("core_holes", "hole", spec.hole),
        ),
    )
