"""Forbidden: which cuts are not to be made as planned, because the depth they reach, the floor
under them or a wall beside them is OUT.
"""

from __future__ import annotations

from collections.abc import Callable

from datumbook.cells.columns import Check, Column, Result, words
from datumbook.cells.handles import Key, row_key
from datumbook.cells.tables import Row, Table
from datumbook.equations import hole_safety, standings
from datumbook.spec.holes import Danger
from datumbook.stations.holes.group_tables import stated
from datumbook.stations.holes.hole_groups import Steps
from datumbook.stations.holes.hole_walls import HoleWalls
from datumbook.stations.holes.reliefs import Reliefs
from datumbook.stations.holes.stops import Stops

CutAlone = tuple[str, Danger | None]  # the row of an operation, and the hole it is for alone


class ForbiddenCuts(Table):
    """The verdicts that stand against each cut, and what its card says of them."""

    said: Column

    def __init__(self, steps: Steps, stops: Stops, walls: HoleWalls, reliefs: Reliefs) -> None:
        self.steps, self.stops, self.walls, self.reliefs = steps, stops, walls, reliefs
        cuts: dict[str, CutAlone] = {row: (row, None) for row in steps.cuts if steps.together(row)}
        cuts |= {
            self.row_of(row, one): (row, one) for row in steps.drills for one in steps.apart(row)
        }
        self.cuts = cuts
        super().__init__(
            key="forbidden",
            title="What forbids a cut",
            heading="Group and operation",
            note="The worst verdict on each; what is OUT is said on the card.",
            rows=[Row(key, self._words(*cut)) for key, cut in cuts.items()],
            columns=(
                *self._worst("depth", "depth it reaches", self._depth),
                *self._worst("floor", "floor under it", self._floor),
                *self._worst("wall", "walls beside it", self._wall),
                Result(name="said", words="on its card", equation=hole_safety.forbidden, width=30),
            ),
        )

    @staticmethod
    def row_of(row: str, danger: Danger | None) -> str:
        """The row of an operation, or of one dangerous hole of it."""
        return row_key(row, danger.hole) if danger else row

    def _words(self, row: str, danger: Danger | None) -> str:
        group, operation = self.steps.by_row[row]
        return f"{group.spec.words}: {operation}{f' ▲ {danger.hole}' if danger else ''}"

    def _worst(
        self, name: str, heading: str, verdicts: Callable[[str, Danger | None], list[Key]]
    ) -> list[Column | Check]:
        """The worst of some verdicts, blank for a cut that has none."""
        found = {key: verdicts(*cut) for key, cut in self.cuts.items()}
        judged = [key for key, keys in found.items() if keys]
        said = standings.worst_said
        return stated(
            Result(
                name=name,
                words=heading,
                equation=said,
                inputs={"verdicts": found.__getitem__},
                rows=judged,
            ),
            words(name, heading, "", rows=[key for key in found if key not in judged]),
        )

    def _depth(self, row: str, danger: Danger | None) -> list[Key]:
        stops = self.stops
        found = [stops.settings.column("full_depth_reached").verdict[row]]
        if danger:
            found.append(stops.danger.tip_depth.verdict[stops.danger.row_of(row, danger.hole)])
        if row in self.steps.those("counterbore"):
            found.append(self.reliefs.column("depth_in_pitches").verdict[self._group(row)])
        return found

    def _floor(self, row: str, danger: Danger | None) -> list[Key]:
        """A dangerous hole is held back from its floor, whatever is planned."""
        left = row in self.steps.drills and danger is None
        return [self.stops.settings.column("floor_left").verdict[row]] if left else []

    def _wall(self, row: str, _: Danger | None) -> list[Key]:
        group = self._group(row)
        relief = row in self.steps.those("counterbore")
        return [
            *_verdicts(self.walls, group),
            *([self.reliefs.diameter.verdict[group]] if relief else []),
        ]

    def _group(self, row: str) -> str:
        return self.steps.by_row[row][0].spec.key


def _verdicts(table: Table, row: str) -> list[Key]:
    """The verdicts of a table in one row."""
    return [
        one.of.verdict[row]
        for one in table.columns
        if isinstance(one, Check) and row in table.row_keys and one.stands_in(row)
    ]
