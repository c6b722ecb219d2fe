"""Cam: the cam tunnel, the room its journals have, and how far it lies from the crank at either
end.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Check, Column
from datumbook.cells.tables import Form, Line, Row, Sheet, Table
from datumbook.equations import clearances, flatness, tunnels
from datumbook.spec.features import Cam
from datumbook.stations.received.features import Feature, drawn, tick
from datumbook.stations.received.states import FINISHED
from datumbook.workbook.layout import Layout

PLACES = {
    "front_vertical": "front, upright",
    "front_level": "front, level",
    "rear_vertical": "rear, upright",
    "rear_level": "rear, level",
}
ENDS = {"front": "Front", "rear": "Rear"}


def sheet(layout: Layout) -> Sheet:
    """The sheet of the cam tunnel as received."""
    return Sheet(name="Cam", title="Cam tunnel", parts=measured(layout, finished=False))


def measured(layout: Layout, finished: bool) -> list[Table | Form]:
    """What is measured of the cam tunnel in one state; as finished only what the work has moved."""
    spec = layout.spec.cam
    if spec is None:
        return []
    tunnel, centre = (Feature(layout, name) for name in ("cam_tunnel", "cam_centre"))
    parts: list[Table | Form] = []
    if not finished or tunnel.again:
        parts.append(_bores(tunnel.finished() if finished else tunnel, spec))
    if not finished or centre.again:
        parts += _centre(centre.finished() if finished else centre, spec)
    return parts


def _bores(feature: Feature, spec: Cam) -> Table:
    sizes, key = feature.layout.sizes("cam"), feature.key("cam_tunnel")
    how, parts = "Bore gauge, two directions at either end of the bore.", feature.layout.spec.parts

    def columns() -> Iterator[Column | Check]:
        for name, words in PLACES.items():
            yield sizes.reading(name, words, drawn(spec.size), how)
        yield sizes.result(
            "cam_bore",
            "mean size",
            tunnels.tunnel_size,
            diameters=[f"{key}.{{row}}.{name}" for name in PLACES],
        )
        yield feature.check("cam_tunnel", "cam_bore", spec.size)
        if not (parts and parts.cam_journals):
            yield from _clearance(feature, spec)
        yield tick(
            "register",
            "oil hole open",
            "Type done when a wire passes from the gallery through the bush's oil hole.",
        )
        yield feature.done("cam_tunnel", "register")

    return Table(
        key=key,
        title=feature.title("Cam bores"),
        heading="Bore",
        note="Decides: as they are, new bushes, or bored in line.",
        spoilers=feature.spoilers(),
        rows=[Row(str(number), f"Cam bore {number}") for number in range(1, spec.bores + 1)],
        columns=tuple(columns()),
    )


def _clearance(feature: Feature, spec: Cam) -> Iterator[Column | Check]:
    """Journal and clearance, where the camshaft has no table of its own among the parts."""
    sizes = feature.layout.sizes("cam")
    if feature.state is not FINISHED:
        yield sizes.reading(
            "journal", "its journal", spec.journal, "Micrometer, the largest of two directions."
        )
    yield sizes.result(
        "cam_clearance", "clearance", clearances.cam_clearance, journal="cam_tunnel.{row}.journal"
    )
    yield feature.check("cam_tunnel", "cam_clearance", spec.clearance)


def _centre(feature: Feature, spec: Cam) -> list[Table | Form]:
    sizes, key = feature.layout.sizes("cam"), feature.key("cam_centre")
    how = "Over mandrels in crank and cam tunnel, less half of both."
    distances = Table(
        key=key,
        title=feature.title("Crank axis to cam axis"),
        heading="End",
        note="A line bore brings the axes nearer: chain slack, tight gears, a late cam.",
        spoilers=feature.spoilers(),
        rows=[Row(end, words) for end, words in ENDS.items()],
        columns=(
            sizes.reading("distance", "distance", drawn(spec.centre_distance), how),
            feature.check("cam_centre", "distance", spec.centre_distance),
        ),
    )
    apart = Line(
        column=sizes.result(
            "parallelism",
            "Difference of the two ends",
            flatness.parallelism,
            heights=[f"{key}.{end}.distance" for end in ENDS],
        )
    )
    parallel = Form(
        key=feature.key("cam_parallelism"),
        title=feature.title("Cam parallel to the crank"),
        lines=(feature.judged("cam_parallelism", apart, spec.parallelism),),
        fresh_in=key if feature.spoilers() else "",
    )
    return [distances, parallel]
