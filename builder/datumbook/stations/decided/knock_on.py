"""Knock-on: what the plan does to compression, squish and the cam drive, before and after in one
line each.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Given, Input, Result, Sizes
from datumbook.cells.tables import Form, Line, Row, Table, held
from datumbook.equations import budget, crowns, drives, volumes
from datumbook.equations.bores import mean_size, swept_volume
from datumbook.equations.budget import least_of
from datumbook.equations.standings import shown_again
from datumbook.numbers.quantities import Quantity
from datumbook.spec import Limit
from datumbook.spec.block import Bank, CamDrive, Combustion
from datumbook.stations.decided.bore_plan import BorePlan
from datumbook.stations.decided.cuts import Cuts
from datumbook.stations.decided.deck_slopes import held_at_each_end
from datumbook.stations.decided.parts import PartsMeasured
from datumbook.stations.received.bores import ReceivedBores
from datumbook.stations.received.cam import CamCentre


class AboveThePiston(Form):
    """What stands above the piston: from the spec, the gasket in hand as soon as it is measured."""

    gasket_thickness: Column
    gasket_hole: Column
    thickness_in_hand: Column | None
    hole_in_hand: Column | None
    chamber_volume: Column
    dish_volume: Column


class CamCentres(Form):
    """Crank and cam after the line bore; the distance left where the spec says the least."""

    centre_distance: Column
    centre_received: Column | None
    centre_after: Column | None
    backlash_change: Column | None  # of gears


class KnockOn:
    """What the plan does to compression, squish and the cam drive."""

    def __init__(
        self,
        basis: Basis,
        bores: ReceivedBores | None,
        boring: BorePlan | None,
        cuts: Cuts,
        cam_centre: CamCentre | None,
        parts: PartsMeasured | None,
    ) -> None:
        self.basis, self.bores, self.boring = basis, bores, boring
        self.cuts, self.cam_centre = cuts, cam_centre
        self.measured = parts.gasket if parts else None
        self.length, spec = basis.sizes("heights"), basis.spec
        self.head = self._head(spec.combustion) if spec.combustion else None
        self.combustion: dict[str, Table] = {}
        if self.head is not None and spec.combustion is not None:
            for bank in spec.rows:
                self.combustion[bank.key] = self._combustion(self.head, spec.combustion, bank)
        drive = spec.cam_drive if cuts.line_boring.form else None
        self.cam_drive = self._cam_drive(drive) if drive else None

    def parts(self) -> list[Table | Form]:
        """The parts of the plan's sheet that this engine's spec has figures for."""
        return [part for part in (self.head, *self.combustion.values(), self.cam_drive) if part]

    def _head(self, spec: Combustion) -> AboveThePiston:
        length, volume = self.length, Sizes("cm**3", 2)
        dish = volume.given("dish_volume", "Dish in the crown", spec.dish_volume)
        thickness = length.given("gasket_thickness", "Gasket, as pressed", spec.gasket_thickness)
        hole = length.given("gasket_hole", "Gasket hole", spec.gasket_hole)
        return AboveThePiston(
            key="head",
            title="Above the piston, from the spec",
            lines=(
                thickness,
                hole,
                *self._gasket_in_hand(thickness, hole),
                volume.given("chamber_volume", "Chamber in the head", spec.chamber_volume),
                Line(column=dish, note="below zero for a dome"),
            ),
        )

    def _gasket_in_hand(self, thickness: Column, hole: Column) -> Iterator[Column]:
        """The gasket that the plan is worked out with, and where its sizes are from."""
        if (found := self.measured) is None:
            return
        read = (found.gasket_thickness, found.gasket_hole)
        names = ("thickness_in_hand", "hole_in_hand")
        for name, measured, drawn in zip(names, read, (thickness, hole), strict=True):
            words = f"{drawn.words}, worked with"
            yield self.length.result(name, words, crowns.in_hand, measured=measured, drawn=drawn)
        yield Result(
            name="gasket_from",
            words="Sizes of the gasket from",
            unit=None,
            equation=crowns.sizes_from,
            inputs={"measured": list(read)},
        )

    def _combustion(self, head: AboveThePiston, spec: Combustion, bank: Bank) -> Table:
        """One line as it is, one after each cut in the order of the work: a proud piston has a deck
        volume below zero.
        """
        volume = Sizes("cm**3", 2)
        lines = {
            "now": "As received, mean of the bores",
            **({"line_bore": "Line bored"} if self.cuts.line_boring.form else {}),
            **({"deck": "Deck cut"} if self.boring and self.boring.decided else {}),
            "after": "After the plan",
        }
        stroke = self.basis.stroke
        gasket = head.thickness_in_hand or head.gasket_thickness
        squish = self.length.result("squish", "squish", volumes.squish, gasket_thickness=gasket)
        return Table(
            key=f"combustion{bank.suffix}",
            title=bank.title("Compression and squish"),
            heading="",
            note="Say so to the owner before the cut. Above the piston that has the least room; "
            "after the plan with the mean of the finish bores. The most squish: over the middle "
            "of the piston that has the most room.",
            rows=[Row(key, words) for key, words in lines.items()],
            columns=(
                *self._bore(bank, list(lines)),
                *self._clearance(bank, list(lines)),
                volume.result("swept_volume", "swept", swept_volume, stroke=stroke),
                volume.result(
                    "gasket_volume",
                    "in the gasket",
                    volumes.gasket_volume,
                    gasket_hole=head.hole_in_hand or head.gasket_hole,
                    gasket_thickness=gasket,
                ),
                volume.result("deck_volume", "above the crown", volumes.deck_volume),
                volume.result(
                    "clearance_volume",
                    "all that is left",
                    volumes.clearance_volume,
                    chamber_volume=head.chamber_volume,
                    dish_volume=head.dish_volume,
                ),
                Sizes("", 2).result("compression_ratio", "ratio", volumes.compression_ratio),
                *self._squish(bank, spec.squish, squish, gasket),
            ),
        )

    def _squish(
        self, bank: Bank, limits: Limit, least: Column, gasket: Column
    ) -> Iterator[Column | Check]:
        """The least squish, and where the spec says how much it may be, the most."""
        if limits.high is None:
            yield from (least, Check(of=least, limits=limits, rows=["after"]))
            return
        room, after = self.cuts.banks[bank.key].room.crowns.over_middle, ["after"]
        rooms = [room[one] for one in bank.cylinders]
        roomiest = self.length.result("most_room", "most room", budget.most_of, after, sizes=rooms)
        most = self.length.result(
            "most_squish",
            "most squish",
            volumes.squish,
            after,
            deck_clearance=roomiest,
            gasket_thickness=gasket,
        )
        yield roomiest
        yield from held_at_each_end(least, most, limits, after)

    def _bore(self, bank: Bank, every: list[str]) -> Iterator[Column]:
        """The bore that each line starts from: as drawn where none is measured."""
        sizes, decided = self.basis.sizes("bores"), self.boring.decided if self.boring else None
        if self.bores is None:
            yield sizes.given("bore", "bore, as drawn", self.basis.spec.bores.standard.low)
            return
        means = [self.bores.each.mean_size[number] for number in bank.cylinders]
        finishes = [decided[one] for one in bank.cylinders] if decided else []
        finished = ["after"] if decided else []
        before = [row for row in every if row not in finished]
        yield sizes.result("bore", "bore", mean_size, before, diameters=means)
        yield sizes.result("bore", "bore", mean_size, finished, diameters=finishes)

    def _clearance(self, bank: Bank, every: list[str]) -> Iterator[Result]:
        """How far the crown stops below the deck in each line."""
        after = self.cuts.banks[bank.key].room.least
        room = {
            "now": after.room_now,
            "line_bore": after.room_line_bored,
            "deck": after.deck_clearance_after,
            "after": after.deck_clearance_after,
        }
        yield self.length.result(
            "deck_clearance", "deck clearance", shown_again, every, value=room.__getitem__
        )

    def _cam_drive(self, spec: CamDrive) -> CamCentres:
        drive = self._chain(spec) if spec.kind == "chain" else self._gears(spec)
        return CamCentres(
            key="cam_drive",
            title=f"Cam {spec.kind}, after the line bore",
            lines=[*self._centres(spec), *drive],
            note="Only a line bore that moves the crank line touches it.",
        )

    def _centres(self, spec: CamDrive) -> Iterator[Line]:
        length, words = self.length, "Crank line to cam axis"
        drawn = length.given("centre_distance", words, spec.centre_distance)
        yield Line(column=drawn)
        yield _angle("angle", "Crank to cam, off the line to the deck", spec.angle)
        yield Line(
            column=length.result(
                "centre_change",
                "Crank and cam move apart by",
                drives.centre_change,
                axis_shift=self.cuts.line_boring.rise(),
            ),
            note="below zero: they come nearer",
        )
        if spec.least_centre is not None:
            yield from self._centre_left(spec.least_centre, drawn)

    def _centre_left(self, least: Limit, drawn: Column) -> tuple[Line, Line]:
        """The distance as received, at the nearer end where both are read, and what the line bore
        leaves of it.
        """
        read: list[Input] = [drawn]
        note = "as drawn, for it is not measured"
        if self.cam_centre is not None:
            read, note = [self.cam_centre.distances.distance[end] for end in ("front", "rear")], ""
        received = self.length.result(
            "centre_received", "Crank line to cam axis as received", least_of, sizes=read
        )
        after = self.length.result(
            "centre_after", "Crank line to cam axis after", drives.centre_after
        )
        return Line(column=received, note=note), held(after, least)

    def _chain(self, spec: CamDrive) -> Sequence[Line | Column]:
        length, degrees, radius = self.length, Sizes("deg", 2), "Pitch radius of the cam sprocket"
        columns: list[Column] = [
            length.result("chain_excess", "Chain left over", drives.chain_excess)
        ]
        if spec.span is not None:
            columns += (
                length.given("span", "Free span of the slack strand", spec.span),
                length.result("chain_sag", "Sag of the slack strand", drives.chain_sag),
            )
        if spec.sprocket_radius is not None:
            columns += (
                length.given("sprocket_radius", radius, spec.sprocket_radius),
                degrees.result("cam_retard", "Cam runs late by", drives.cam_retard),
                degrees.result("crank_retard", "The same on the crank", drives.crank_retard),
            )
        return columns

    def _gears(self, spec: CamDrive) -> Sequence[Line | Column]:
        if spec.pressure_angle is None:
            return []
        return [
            _angle("pressure_angle", "Pressure angle", spec.pressure_angle),
            Line(
                column=self.length.result(
                    "backlash_change", "Backlash grows by", drives.backlash_change
                ),
                note="below zero: the gears run tighter",
            ),
        ]


def _angle(name: str, words: str, value: Quantity) -> Line:
    return Line(column=Given(name=name, words=words, unit="deg", decimals=1, value=value))
