"""Small bores: tappet bores and the room of their tappets, dowels and how far they stand out, the
holes of the core plugs.
"""

from __future__ import annotations

from collections.abc import Sequence

from datumbook.cells.basis import Basis
from datumbook.cells.columns import limited
from datumbook.cells.tables import Row, Sheet, Table
from datumbook.equations import clearances
from datumbook.spec import features
from datumbook.stations.received.features import TwoPointSizes, drawn, two_point_held
from datumbook.stations.received.measured import Measured

SMALL_BORE_PLACES = {
    "top_along": "top, along the crank",
    "top_across": "top, across",
    "bottom_along": "bottom, along the crank",
    "bottom_across": "bottom, across",
}
SMALL_BORE_AXES = {"upright": "upright", "level": "level"}


def sheet(parts: Sequence[Table]) -> Sheet:
    """The sheet of the small bores as received; its title is what stands on it."""
    return Sheet(
        name="SmallBores",
        title=", ".join(part.key.replace("_", " ") for part in parts).capitalize(),
        parts=parts,
    )


def tappet_bores(
    measured: Measured, spec: features.TappetBores, before: TwoPointSizes | None = None
) -> TwoPointSizes:
    """The bores of the tappets in one state; with the room of a tappet as drawn, where the tappets
    have no table of their own among the parts.
    """
    sizes, parts = measured.basis.sizes("small_bores"), measured.basis.spec.parts
    read = [
        sizes.reading(name, words, drawn(spec.size), "Small-hole gauge and micrometer.")
        for name, words in SMALL_BORE_PLACES.items()
    ]
    held = two_point_held(sizes, read, spec.size)
    room = (
        sizes.given("tappet", "tappet", spec.tappet),
        *limited(
            sizes.result(
                "tappet_clearance", "clearance", clearances.tappet_clearance, tappet_bore=held[0]
            ),
            spec.clearance,
        ),
    )
    return TwoPointSizes(
        key=measured.key("tappet_bores"),
        title=measured.title("Tappet bores"),
        heading="Bore",
        note="Too much room decides: oversize tappets, or bushes.",
        spoilers=measured.spoilers(),
        rows=[Row(str(number), f"Tappet bore {number}") for number in range(1, spec.bores + 1)],
        columns=(*read, *held, *(() if parts and parts.tappets else room)),
        earlier=before,
    )


def dowels(measured: Measured, spec: features.Dowels, before: Table | None = None) -> Table:
    """The dowels of the deck in one state."""
    sizes = measured.basis.sizes("heights")
    return Table(
        key=measured.key("dowels"),
        title=measured.title("Dowels"),
        heading="Dowel",
        note="A deck cut takes from the hole: a dowel that then stands too far out bottoms in the "
        "head.",
        spoilers=measured.spoilers(),
        rows=[Row(name, f"Dowel {name}") for name in spec.names],
        columns=(
            sizes.reading(
                "dowel_length", "its length", spec.dowel_length, "Micrometer over both ends."
            ),
            sizes.reading(
                "hole_depth", "depth of its hole", spec.hole_depth, "Depth gauge from the deck."
            ),
            *limited(
                sizes.result("dowel_projection", "stands out", clearances.dowel_projection),
                spec.projection,
            ),
        ),
        earlier=before,
    )


def core_holes(basis: Basis, spec: features.CorePlugs) -> TwoPointSizes:
    """The holes of the core plugs; no operation moves them."""
    sizes, near = basis.sizes("small_bores"), drawn(spec.hole)
    read = [
        sizes.reading(axis, words, near, "Inside micrometer.")
        for axis, words in SMALL_BORE_AXES.items()
    ]
    return TwoPointSizes(
        key="core_holes",
        title="Core holes",
        heading="Hole",
        note="Clean, free of pits where the plug seats. Out of size decides: an oversize plug, or "
        "a screwed one.",
        rows=[Row(name, f"Core hole {name}") for name in spec.names],
        columns=(*read, *two_point_held(sizes, read, spec.hole)),
    )
