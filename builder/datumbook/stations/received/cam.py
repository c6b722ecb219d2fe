"""Cam: the cam tunnel, the room its journals have, and how far it lies from the crank at either
end.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Check, Column, Sizes, limited
from datumbook.cells.tables import Form, Row, Sheet, Table, held
from datumbook.equations import clearances, flatness
from datumbook.equations.budget import least_of
from datumbook.spec import Limit
from datumbook.spec.features import Cam
from datumbook.stations.received.features import TwoPointSizes, drawn, ticked, two_point_held
from datumbook.stations.received.measured import Measured
from datumbook.stations.received.states import answer

CAM_PLACES = {
    "front_vertical": "front, upright",
    "front_level": "front, level",
    "rear_vertical": "rear, upright",
    "rear_level": "rear, level",
}
END_WORDS = {"front": "Front", "rear": "Rear"}


class CamDistances(Table):
    """How far the cam axis lies from the crank axis, at either end."""

    distance: Column


class CamCentre:
    """Where the cam tunnel lies to the crank, in one state."""

    def __init__(self, measured: Measured, spec: Cam, before: CamCentre | None = None) -> None:
        sizes, limits = measured.basis.sizes("cam"), spec.centre_distance
        self.distances = CamDistances(
            key=measured.key("cam_centre"),
            title=measured.title("Crank line to cam axis"),
            heading="End",
            note="A line bore brings the axes nearer: chain slack, tight gears, a late cam.",
            spoilers=measured.spoilers(),
            rows=[Row(end, words) for end, words in END_WORDS.items()],
            columns=limited(
                sizes.reading(
                    "distance",
                    "distance",
                    drawn(limits),
                    "Over mandrels in crank and cam tunnel, less half of both.",
                ),
                limits,
            ),
        )
        self.parallel = Form(
            key=measured.key("cam_parallelism"),
            title=measured.title("Cam parallel to the crank"),
            lines=[
                held(
                    sizes.result(
                        "parallelism",
                        "Difference of the two ends",
                        flatness.parallelism,
                        heights=[self.distances.distance[end] for end in END_WORDS],
                    ),
                    spec.parallelism,
                )
            ],
            fresh_in=self.distances.stale_with,
        )
        drive = measured.basis.spec.cam_drive
        least = drive.least_centre if drive and before else None
        self.nearer = self._nearer(measured, least) if least else None
        answer(self.parts(), before.parts() if before else ())

    def parts(self) -> list[Table | Form]:
        """The two distances, and what they say of both axes."""
        return [part for part in (self.distances, self.parallel, self.nearer) if part]

    def _nearer(self, measured: Measured, least: Limit) -> Form:
        """The distance at the nearer end, held to what the drive needs once the line is bored."""
        return Form(
            key=measured.key("cam_nearer"),
            title=measured.title("Crank and cam, the nearer end"),
            lines=[
                held(
                    measured.basis.sizes("cam").result(
                        "nearer",
                        "Crank line to cam axis, the nearer end",
                        least_of,
                        sizes=[self.distances.distance[end] for end in END_WORDS],
                    ),
                    least,
                )
            ],
            fresh_in=self.distances.stale_with,
        )


def sheet(bores: Table, centre: CamCentre) -> Sheet:
    """The sheet of the cam tunnel as received."""
    return Sheet(name="Cam", title="Cam tunnel", parts=(bores, *centre.parts()))


def cam_bores(measured: Measured, spec: Cam, before: TwoPointSizes | None = None) -> TwoPointSizes:
    """The bores of the cam tunnel in one state; its journals have room to be told here where the
    camshaft has no table of its own.
    """
    sizes, parts = measured.basis.sizes("cam"), measured.basis.spec.parts
    read = [
        sizes.reading(
            name, words, drawn(spec.size), "Bore gauge, two directions at either end of the bore."
        )
        for name, words in CAM_PLACES.items()
    ]
    held = two_point_held(sizes, read, spec.size)
    return TwoPointSizes(
        key=measured.key("cam_tunnel"),
        title=measured.title("Cam bores"),
        heading="Bore",
        note="Decides: as they are, new bushes, or bored in line.",
        spoilers=measured.spoilers(),
        rows=[Row(str(number), f"Cam bore {number}") for number in range(1, spec.bores + 1)],
        columns=(
            *read,
            *held,
            *(() if parts and parts.cam_journals else _clearance(sizes, spec, held[0], before)),
            *ticked(
                "register",
                "oil hole open",
                "Type done when a wire passes from the gallery through the bush's oil hole.",
            ),
        ),
        earlier=before,
    )


def _clearance(
    sizes: Sizes, spec: Cam, smallest: Column, before: Table | None
) -> Iterator[Column | Check]:
    """Journal and clearance where the bore is smallest; the journals are not measured again."""
    read = sizes.reading(
        "journal", "its journal", spec.journal, "Micrometer, the largest of two directions."
    )
    yield from () if before else (read,)
    yield from limited(
        sizes.result(
            "cam_clearance",
            "clearance",
            clearances.cam_clearance,
            cam_bore=smallest,
            journal=before.column("journal") if before else read,
        ),
        spec.clearance,
    )
