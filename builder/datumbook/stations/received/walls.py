"""Walls: how thick the metal round each bore is, how far the core moved, and what boring leaves."""

from __future__ import annotations

from typing import TYPE_CHECKING

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Input, Per, limited
from datumbook.cells.handles import Handle, Key, row_key
from datumbook.cells.tables import Row, Sheet, Table, cylinder_rows
from datumbook.equations import budget, liners, walls
from datumbook.equations.standings import shown_again
from datumbook.numbers.quantities import read_quantity
from datumbook.spec import Limit
from datumbook.spec.features import WallPlace, Walls
from datumbook.stations.received.bores import FinishedBores, ReceivedBores

if TYPE_CHECKING:
    from datumbook.stations.decided.bore_plan import BorePlan

SIDES = {"thrust": "thrust side", "elsewhere": "elsewhere"}
NO_SHIFT = read_quantity("0 mm")


class BoreWalls:
    """The walls round the bores as received, and what the plan leaves of them."""

    def __init__(self, basis: Basis, spec: Walls, bores: ReceivedBores, plan: BorePlan) -> None:
        self.basis, self.spec, self.bores, self.plan = basis, spec, bores, plan
        self.sizes, dry = basis.sizes("walls"), basis.spec.dry_liners
        self.behind_liner = dry.parent_wall.low if dry and dry.parent_wall else None
        self.readings = self._readings()
        self.planned = (
            Table(
                key="wall_left",
                title="What boring leaves, position by position",
                heading="Cylinder",
                note="At the height where it is thinnest, with the finish bore and the set-over of "
                "the plan.",
                rows=cylinder_rows(self.basis.cylinders()),
                columns=[self._planned_at(place) for place in self.spec.positions],
            )
            if basis.spec.bored
            else None
        )
        self.each = self._each()

    @property
    def lined(self) -> bool:
        """Whether a cylinder with a dry liner keeps a wall of its own limit."""
        return self.behind_liner is not None and all(
            limit.low is not None for _, _, limit in self.sides()
        )

    def sheet(self) -> Sheet:
        """The sheet of the walls."""
        return Sheet(
            name="Walls",
            title="Walls round the bores",
            parts=[part for part in (self.readings, self.planned, self.each) if part],
        )

    def sides(self) -> list[tuple[str, str, Limit]]:
        """The sides on which there are readings, each with its words and its limit."""
        return [
            (side, words, getattr(self.spec, side))
            for side, words in SIDES.items()
            if self._places(side)
        ]

    def left(self) -> list[Handle]:
        """The least wall left on each side."""
        return [self.each.column(f"left_{side}") for side, _, _ in self.sides()]

    def _places(self, side: str) -> list[str]:
        """The columns of the positions on one side."""
        return [f"at_{one.key}" for one in self.spec.positions if one.thrust is (side == "thrust")]

    def _read(self, cylinder: str, places: list[str]) -> list[Key]:
        """What was read at these positions of one bore, height by height."""
        return [
            self.readings.column(place)[cylinder, height.key]
            for height in self.spec.heights
            for place in places
        ]

    def _readings(self) -> Table:
        sizes, spec = self.sizes, self.spec
        places = [
            sizes.reading(
                f"at_{one.key}",
                one.words,
                spec.standard,
                "Ultrasound, set on a piece of the same iron of known thickness.",
                possible=(0.0, (3 * spec.standard.to(self.basis.unit_of("walls")))),
            )
            for one in spec.positions
        ]
        core_shift = sizes.result("core_shift", "core shift", walls.core_shift, walls=places)
        return Table(
            key="walls",
            title="Wall readings",
            heading="Where",
            note="Core shift is half of thickest less thinnest at one height; a bore may be offset "
            "away from its thinnest side.",
            rows=[
                Row(row_key(cylinder, height.key), f"Cylinder {cylinder}, {height.words}")
                for cylinder in self.basis.cylinders()
                for height in spec.heights
            ],
            columns=(*places, core_shift, Check(of=core_shift, limits=spec.core_shift)),
        )

    def _planned_at(self, place: WallPlace) -> Column:
        name = f"at_{place.key}"
        angle: dict[str, Per[Input]] = {} if place.angle is None else {"angle": place.angle}
        return self.sizes.result(
            name,
            place.words,
            walls.wall_set_over if angle else walls.wall_set_over_anyhow,
            walls=lambda row: self._read(row, [name]),
            bore=self.bores.each.mean_size,
            finished_bore=self.plan.bore_in_block,
            offset=self.plan.each.offset,
            across=self.plan.each.across,
            **angle,
        )

    def _each(self) -> Table:
        """The least wall on each side, held to its own limit once the bore is opened."""
        bored = "every bore at its finish size and set over as the plan has it"
        return Table(
            key="wall",
            title="Each bore",
            heading="Cylinder",
            note=f"After boring: {bored if self.planned else 'as it is'}. Too thin decides: a "
            "smaller oversize, an offset, a liner, or reject.",
            rows=cylinder_rows(self.basis.cylinders()),
            columns=[item for side in self.sides() for item in self._side(*side)],
        )

    def _side(self, side: str, words: str, limits: Limit) -> tuple[Column | Check, ...]:
        sizes, places = self.sizes, self._places(side)
        least = sizes.result(
            f"least_{side}",
            f"least, {words}",
            walls.least_wall,
            walls=lambda row: self._read(row, places),
        )
        name = f"left_{side}"
        if self.planned is None:
            left = sizes.result(name, f"left, {words}", shown_again, value=least)
        else:
            left = sizes.result(
                name,
                f"after boring, {words}",
                walls.least_wall,
                walls=[self.planned.column(place) for place in places],
            )
        return (
            least,
            left,
            *(self._needed(side, limits, left) if self.lined else (Check(of=left, limits=limits),)),
        )

    def _needed(self, side: str, limits: Limit, left: Column) -> tuple[Column | Check, ...]:
        """What each cylinder must keep on one side, by whether it gets a liner, and what it has
        above that.
        """
        assert self.behind_liner is not None  # only lined walls are asked
        assert limits.low is not None
        needed = self.sizes.result(
            f"needed_{side}",
            "needed",
            liners.wall_needed,
            liner=self.plan.each.liner,
            parent_wall=self.behind_liner,
            wall=limits.low,
        )
        return (
            needed,
            Check(of=left, low=needed, source=limits.source),
            self.sizes.result(
                f"spare_{side}", "above it", budget.still_to_spare, after=left, limit=needed
            ),
        )


def finished_walls(before: BoreWalls, finished: FinishedBores) -> Table:
    """What boring has left of each wall, from the bore as it was and as it is."""
    planned = "From the wall as the plan leaves it, less what the bore was finished larger "
    return Table(
        key="finished_wall",
        title="Walls left, as finished",
        heading="Cylinder",
        note=f"{planned}than planned. Where the bar was set over otherwise, measure the wall again."
        if before.planned
        else "From the wall as received and the two sizes of the bore, about its own centre.",
        fresh_in=finished.readings.stale_with,
        rows=cylinder_rows(before.basis.cylinders()),
        columns=[
            item for side in before.sides() for item in _finished_side(before, finished, *side)
        ],
        earlier=before.each,
    )


def _finished_side(
    before: BoreWalls, finished: FinishedBores, side: str, words: str, limits: Limit
) -> tuple[Column, Check]:
    of, planned = before.each.column, before.planned is not None
    left = before.sizes.result(
        f"left_{side}",
        words,
        walls.wall_after_boring,
        wall=of(f"left_{side}" if planned else f"least_{side}"),
        bore=before.plan.each.finish_bore if planned else before.bores.each.mean_size,
        finished_bore=finished.each.mean_size,
        shift_towards=NO_SHIFT,
    )
    if before.lined:
        return left, Check(of=left, low=of(f"needed_{side}"), source=limits.source)
    return limited(left, limits)
