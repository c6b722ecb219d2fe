"""Cam: the cam tunnel, the room its journals have, and how far it lies from the crank at either
end.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Check, Column
from datumbook.cells.tables import Form, Line, Row, Sheet, Table
from datumbook.equations import clearances, flatness, tunnels
from datumbook.spec.features import Cam
from datumbook.stations.received.features import drawn, ticked
from datumbook.stations.received.measured import Measured

PLACES = {
    "front_vertical": "front, upright",
    "front_level": "front, level",
    "rear_vertical": "rear, upright",
    "rear_level": "rear, level",
}
ENDS = {"front": "Front", "rear": "Rear"}


class CamBores(Table):
    """The bores of the cam tunnel; with the journals, as received, where the camshaft has no table
    of its own among the parts.
    """

    cam_bore: Column


class CamDistances(Table):
    """How far the cam axis lies from the crank axis, at either end."""

    distance: Column


class CamCentre:
    """Where the cam tunnel lies to the crank, in one state."""

    def __init__(self, measured: Measured, spec: Cam, before: CamCentre | None = None) -> None:
        self.measured, self.spec, self.sizes = measured, spec, measured.basis.sizes("cam")
        self.distances: CamDistances = self._distances(before.distances if before else None)
        self.parallel: Form = self._parallel(before.parallel if before else None)

    def parts(self) -> tuple[Table, Form]:
        """The two distances, and what they say of both axes."""
        return self.distances, self.parallel

    def _distances(self, before: CamDistances | None) -> CamDistances:
        limits, how = (
            self.spec.centre_distance,
            "Over mandrels in crank and cam tunnel, less half of both.",
        )
        distance = self.sizes.reading("distance", "distance", drawn(limits), how)
        return CamDistances(
            key=self.measured.key("cam_centre"),
            title=self.measured.title("Crank axis to cam axis"),
            heading="End",
            note="A line bore brings the axes nearer: chain slack, tight gears, a late cam.",
            spoilers=self.measured.spoilers(),
            rows=[Row(end, words) for end, words in ENDS.items()],
            columns=self.measured.limited(distance, limits, before),
        )

    def _parallel(self, before: Form | None) -> Form:
        apart = self.sizes.result(
            "parallelism",
            "Difference of the two ends",
            flatness.parallelism,
            heights=[self.distances.distance[end] for end in ENDS],
        )
        return Form(
            key=self.measured.key("cam_parallelism"),
            title=self.measured.title("Cam parallel to the crank"),
            lines=[self.measured.judged(Line(column=apart), self.spec.parallelism, before)],
            fresh_in=self.distances.stale_with,
        )


def sheet(bores: CamBores, centre: CamCentre) -> Sheet:
    """The sheet of the cam tunnel as received."""
    return Sheet(name="Cam", title="Cam tunnel", parts=(bores, *centre.parts()))


def cam_bores(measured: Measured, spec: Cam, before: CamBores | None = None) -> CamBores:
    """The bores of the cam tunnel in one state."""
    return CamBores(
        key=measured.key("cam_tunnel"),
        title=measured.title("Cam bores"),
        heading="Bore",
        note="Decides: as they are, new bushes, or bored in line.",
        spoilers=measured.spoilers(),
        rows=[Row(str(number), f"Cam bore {number}") for number in range(1, spec.bores + 1)],
        columns=tuple(_columns(measured, spec, before)),
    )


def _columns(measured: Measured, spec: Cam, before: CamBores | None) -> Iterator[Column | Check]:
    sizes, parts = measured.basis.sizes("cam"), measured.basis.spec.parts
    how = "Bore gauge, two directions at either end of the bore."
    read = [sizes.reading(name, words, drawn(spec.size), how) for name, words in PLACES.items()]
    mean = sizes.result("cam_bore", "mean size", tunnels.tunnel_size, diameters=read)
    yield from read
    yield from measured.limited(mean, spec.size, before)
    if not (parts and parts.cam_journals):
        yield from _clearance(measured, spec, before)
    open_ = "Type done when a wire passes from the gallery through the bush's oil hole."
    yield from ticked("register", "oil hole open", open_, before)


def _clearance(measured: Measured, spec: Cam, before: CamBores | None) -> Iterator[Column | Check]:
    """Journal and clearance; the journals are not measured again."""
    sizes = measured.basis.sizes("cam")
    how = "Micrometer, the largest of two directions."
    read = sizes.reading("journal", "its journal", spec.journal, how)
    journal = before.column("journal") if before else read
    clearance = sizes.result(
        "cam_clearance", "clearance", clearances.cam_clearance, journal=journal
    )
    yield from () if before else (read,)
    yield from measured.limited(clearance, spec.clearance, before)
