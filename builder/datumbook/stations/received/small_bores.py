"""Small bores: tappet bores and the room of their tappets, dowels and how far they stand out, the
holes of the core plugs.
"""

from __future__ import annotations

from collections.abc import Sequence

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, limited
from datumbook.cells.tables import Row, Sheet, Table
from datumbook.equations import bores, clearances
from datumbook.spec import features
from datumbook.stations.received.features import drawn
from datumbook.stations.received.measured import Measured

PLACES = {
    "top_along": "top, along the crank",
    "top_across": "top, across",
    "bottom_along": "bottom, along the crank",
    "bottom_across": "bottom, across",
}
AXES = {"upright": "upright", "level": "level"}


class TappetBoreSizes(Table):
    """The bores of the tappets."""

    tappet_bore: Column


class CoreHoles(Table):
    """The holes that the core plugs close."""

    hole: Column


def sheet(parts: Sequence[Table]) -> Sheet:
    """The sheet of the small bores as received; its title is what stands on it."""
    title = ", ".join(part.key.replace("_", " ") for part in parts).capitalize()
    return Sheet(name="SmallBores", title=title, parts=parts)


def tappet_bores(
    measured: Measured, spec: features.TappetBores, before: TappetBoreSizes | None = None
) -> TappetBoreSizes:
    """The bores of the tappets in one state; with the room of a tappet as drawn, where the tappets
    have no table of their own among the parts.
    """
    sizes, parts = measured.basis.sizes("small_bores"), measured.basis.spec.parts
    how = "Small-hole gauge and micrometer."
    read = [sizes.reading(name, words, drawn(spec.size), how) for name, words in PLACES.items()]
    mean = sizes.result("tappet_bore", "mean size", bores.mean_size, diameters=read)
    columns: list[Column | Check] = [*read, *measured.limited(mean, spec.size, before)]
    if not (parts and parts.tappets):
        tappet = sizes.given("tappet", "tappet", spec.tappet)
        room = sizes.result("tappet_clearance", "clearance", clearances.tappet_clearance)
        columns += (tappet, *measured.limited(room, spec.clearance, before))
    return TappetBoreSizes(
        key=measured.key("tappet_bores"),
        title=measured.title("Tappet bores"),
        heading="Bore",
        note="Too much room decides: oversize tappets, or bushes.",
        spoilers=measured.spoilers(),
        rows=[Row(str(number), f"Tappet bore {number}") for number in range(1, spec.bores + 1)],
        columns=columns,
    )


def dowels(measured: Measured, spec: features.Dowels, before: Table | None = None) -> Table:
    """The dowels of the deck in one state."""
    sizes = measured.basis.sizes("heights")
    both, deck = "Micrometer over both ends.", "Depth gauge from the deck."
    out = sizes.result("dowel_projection", "stands out", clearances.dowel_projection)
    return Table(
        key=measured.key("dowels"),
        title=measured.title("Dowels"),
        heading="Dowel",
        note="A deck cut takes from the hole: a dowel that then stands too far out bottoms in the "
        "head.",
        spoilers=measured.spoilers(),
        rows=[Row(name, f"Dowel {name}") for name in spec.names],
        columns=(
            sizes.reading("dowel_length", "its length", spec.dowel_length, both),
            sizes.reading("hole_depth", "depth of its hole", spec.hole_depth, deck),
            *measured.limited(out, spec.projection, before),
        ),
    )


def core_holes(basis: Basis, spec: features.CorePlugs) -> CoreHoles:
    """The holes of the core plugs; no operation moves them."""
    sizes, near = basis.sizes("small_bores"), drawn(spec.hole)
    read = [sizes.reading(axis, words, near, "Inside micrometer.") for axis, words in AXES.items()]
    hole = sizes.result("hole", "mean size", bores.mean_size, diameters=read)
    return CoreHoles(
        key="core_holes",
        title="Core holes",
        heading="Hole",
        note="Clean, free of pits where the plug seats. Out of size decides: an oversize plug, or "
        "a screwed one.",
        rows=[Row(name, f"Core hole {name}") for name in spec.names],
        columns=(*read, *limited(hole, spec.hole)),
    )
