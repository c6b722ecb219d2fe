"""Resources of metal: what the engine has figures for, by the cells in which its sizes stand, and
the sizes gathered.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain
from typing import NamedTuple

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column, Input
from datumbook.cells.handles import Handle, Key
from datumbook.equations import budget
from datumbook.equations.bores import largest_size
from datumbook.equations.lands import clamping_land
from datumbook.equations.liners import wall_counted
from datumbook.spec import Limit
from datumbook.stations.decided.bore_plan import BorePlan
from datumbook.stations.decided.cuts import Cuts
from datumbook.stations.decided.knock_on import KnockOn
from datumbook.stations.decided.piston_stacks import StacksInHand
from datumbook.stations.received.bores import ReceivedBores
from datumbook.stations.received.deck_heights import CORNERS
from datumbook.stations.received.features import drawn
from datumbook.stations.received.heights import BlockHeights
from datumbook.stations.received.lands import BoreRows
from datumbook.stations.received.tunnels import MainTunnels
from datumbook.stations.received.walls import BoreWalls


@dataclass(frozen=True)
class Resource:
    """One resource: where its sizes stand, whether work makes it grow, the lines that gather sizes
    for it alone, and the verdicts on the plan that hold it elsewhere; without one it is held here.
    """

    key: str
    words: str
    group: str
    as_new: Input
    as_received: Input
    after: Input
    limit: Input
    source: str
    grows: bool = False
    gathered: tuple[Column, ...] = ()
    held_by: tuple[Key, ...] = ()


class Bored(NamedTuple):
    """The stations of a job that measures the bores."""

    bores: ReceivedBores
    rows: BoreRows | None
    boring: BorePlan


class Faced(NamedTuple):
    """The stations of a job that measures the heights."""

    heights: BlockHeights
    cuts: Cuts
    knock_on: KnockOn
    stacks: StacksInHand


class Resources:
    """The resources this engine has; one without a limit has no line."""

    def __init__(
        self,
        basis: Basis,
        bored: Bored | None,
        walls: BoreWalls | None,
        faced: Faced | None,
        tunnels: MainTunnels | None,
    ) -> None:
        self.basis, self.spec = basis, basis.spec
        self.walls, self.tunnels = walls, tunnels
        self.lines = [
            *(chain.from_iterable(make(faced) for make in self._of_faces()) if faced else ()),
            *(self._lands(bored) if bored else ()),
            *self._walls(),
            *(self._widest(bored) if bored else ()),
        ]

    def _of_faces(self) -> tuple[Callable[[Faced], Iterator[Resource]], ...]:
        """What each resource of the faces and the line bore is made by, in the order printed."""
        return self._block, self._decks, self._axis, self._caps, self._centre

    def _block(self, faced: Faced) -> Iterator[Resource]:
        least, block = self.basis.heights.overall_limit, faced.cuts.block
        corners = faced.cuts.at_corners
        for bank in faced.heights.banks.values():
            if block and corners and bank.overall and least and bank.ledger.overall_least:
                yield Resource(
                    "overall_height",
                    "Overall height, lowest corner",
                    "heights",
                    bank.ledger.overall_standard,
                    bank.overall.lowest_corner,
                    block.overall_after,
                    bank.ledger.overall_least,
                    least.source,
                    held_by=_verdicts(corners.overall, CORNERS),
                )

    def _decks(self, faced: Faced) -> Iterator[Resource]:
        spec, sizes = self.basis.heights, self.basis.sizes("heights")
        drawn = spec.deck.nominal or spec.deck.low
        stack = self.basis.stroke * Fraction(1, 2) + spec.rod_length + spec.compression_height
        for bank in faced.cuts.banks.values():
            if spec.deck_clearance.low is not None:
                room, words = bank.room.least, bank.bank.title("Room above the pistons, the least")
                new = sizes.given(bank.named("room_as_new"), f"{words}, as drawn", drawn - stack)
                yield Resource(
                    bank.named("deck_room"),
                    words,
                    "heights",
                    new,
                    room.room_now,
                    room.deck_clearance_after,
                    bank.room.crowns.deck_clearance.low_end,
                    spec.deck_clearance.source,
                    gathered=(new,),
                    held_by=_verdicts(bank.room.crowns.deck_clearance, bank.bank.cylinders),
                )

    def _axis(self, faced: Faced) -> Iterator[Resource]:
        least, band = self.basis.heights.bottom_limit, self.basis.heights.bottom
        block, corners = faced.cuts.block, faced.cuts.at_corners
        if not (block and corners and least and band) or least.low is None:
            return
        words, sizes = "Crank line to bottom face, lowest corner", self.basis.sizes("heights")
        new = sizes.given("bottom_as_new", f"{words}, as drawn", drawn(band))
        read = next(iter(faced.heights.banks.values())).corners.column("bottom")
        received = sizes.result(
            "bottom_received", words, budget.least_of, sizes=[read[corner] for corner in CORNERS]
        )
        yield Resource(
            "axis_height",
            words,
            "heights",
            new,
            received,
            block.bottom_after,
            corners.bottom.low_end,
            least.source,
            gathered=(new, received),
            held_by=_verdicts(corners.bottom, CORNERS),
        )

    def _caps(self, faced: Faced) -> Iterator[Resource]:
        spec, sizes = self.spec.tunnels, self.basis.sizes("tunnels")
        each, caps = faced.cuts.line_boring.each, spec.caps if spec else None
        measured, left = (
            self.tunnels.caps if self.tunnels else None,
            each.cap_left if each else None,
        )
        if caps is None or measured is None or left is None or caps.least.low is None:
            return
        numbers = self.basis.bearings()
        new = sizes.given("cap_as_new", "Cap, as drawn", caps.standard)
        least = sizes.result(
            "cap_height",
            "Lowest cap",
            budget.least_of,
            sizes=[measured.height[number] for number in numbers],
        )
        after = sizes.result(
            "cap_after",
            "Lowest cap, after its cut",
            budget.least_of,
            sizes=[left[number] for number in numbers],
        )
        yield Resource(
            "cap_height",
            "Lowest main bearing cap",
            "tunnels",
            new,
            least,
            after,
            measured.height.low_end,
            caps.least.source,
            gathered=(new, least, after),
            held_by=_verdicts(left, numbers),
        )

    def _centre(self, faced: Faced) -> Iterator[Resource]:
        drive, spec = faced.knock_on.cam_drive, self.spec.cam_drive
        least = spec.least_centre if spec else None
        if drive and least and least.low and drive.centre_received and drive.centre_after:
            yield Resource(
                "cam_centre",
                "Crank line to cam axis",
                "heights",
                drive.centre_distance,
                drive.centre_received,
                drive.centre_after,
                drive.centre_after.low_end,
                least.source,
                held_by=(drive.centre_after.verdict.key,),
            )

    def _lands(self, bored: Bored) -> Iterator[Resource]:
        rows, sizes = bored.rows, self.basis.sizes("lands")
        if rows is None or not rows.between or not self.spec.bored:
            return
        limits = self.basis.lands.clamping_land
        if limits.low is None:
            return
        words, clamped = "Narrowest land between bores", "Left of it between chamfers"
        chamfer = rows.chamfer.chamfer_width
        lands = [(row.widths, name) for row in rows.between for name in row.between]
        new = sizes.given("land_as_new", f"{words}, as drawn", rows.narrowest())
        land = sizes.result(
            "land", words, budget.least_of, sizes=[table.width[name] for table, name in lands]
        )
        as_new = sizes.result(
            "clamping_as_new",
            f"{clamped}, as drawn",
            clamping_land,
            land=new,
            chamfer_width=chamfer,
        )
        received = sizes.result("clamping_received", clamped, clamping_land, chamfer_width=chamfer)
        after = sizes.result(
            "clamping_after",
            "Narrowest land to clamp, after the plan",
            budget.least_of,
            sizes=[table.clamping_land[name] for table, name in lands],
        )
        yield Resource(
            "clamping_land",
            "Narrowest land to clamp",
            "lands",
            as_new,
            received,
            after,
            lands[0][0].clamping_land.low_end,
            limits.source,
            gathered=(new, land, as_new, received, after),
            held_by=tuple(table.clamping_land.verdict[name] for table, name in lands),
        )

    def _walls(self) -> Iterator[Resource]:
        for side, words, limits in self.walls.sides() if self.walls else ():
            if self.walls and limits.low is not None:
                yield self._wall(self.walls, side, words, limits)

    def _wall(self, walls: BoreWalls, side: str, words: str, limits: Limit) -> Resource:
        """The thinnest wall of one side; where dry liners have a limit of their own, each wall
        counts against its own.
        """
        sizes, left = walls.sizes, walls.each.column(f"left_{side}")
        new = sizes.given(f"wall_as_new_{side}", f"Wall, {words}, as drawn", walls.spec.standard)
        least = sizes.result(
            f"wall_{side}",
            f"Thinnest wall, {words}",
            budget.least_of,
            sizes=self._of_each(walls.each.column(f"least_{side}")),
        )
        given = sizes.given(f"wall_limit_{side}", f"Least wall, {words}", limits.low)
        name = f"wall_after_{side}"
        if walls.lined:
            after = sizes.result(
                name,
                f"Worst, {words}, after, each to its own limit",
                wall_counted,
                limit=given,
                spares=self._of_each(walls.each.column(f"spare_{side}")),
            )
        else:
            after = sizes.result(
                name, f"Thinnest, {words}, after", budget.least_of, sizes=self._of_each(left)
            )
        return Resource(
            f"wall_{side}",
            f"Thinnest wall, {words}",
            "walls",
            new,
            least,
            after,
            given if walls.lined else left.low_end,
            limits.source,
            gathered=(new, least, given, after) if walls.lined else (new, least, after),
            held_by=_verdicts(left, self.basis.cylinders()),
        )

    def _of_each(self, column: Handle) -> list[Key]:
        return [column[cylinder] for cylinder in self.basis.cylinders()]

    def _widest(self, bored: Bored) -> Iterator[Resource]:
        """The widest bore, where there are oversizes to bore to."""
        sizes, bores = self.basis.sizes("bores"), bored.bores
        if not self.spec.bores.oversizes:
            return
        beside = bored.boring.beside
        widest = self._of_each(beside.widest if beside else bores.each.largest_size)
        bore = sizes.result("bore", "Widest bore", largest_size, diameters=widest)
        after = sizes.result(
            "bore_after",
            "Widest finish bore",
            largest_size,
            diameters=self._of_each(bored.boring.each.finish_bore),
        )
        yield Resource(
            "bore",
            "Widest bore, to its finish size",
            "bores",
            bores.rebore.standard,
            bore,
            after,
            bores.rebore.worst_clean_up.high_end,
            "the largest oversize",
            grows=True,
            gathered=(bore, after),
        )


def _verdicts(column: Handle, rows: Iterable[str | int]) -> tuple[Key, ...]:
    """The verdicts on a column in these rows."""
    return tuple(column.verdict[row] for row in rows)
