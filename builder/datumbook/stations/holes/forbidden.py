"""Forbidden: which cuts are not to be made as planned, because the depth they reach, the floor
under them, a wall beside them or the hole of their drill is OUT, or not known for certain yet.
"""

from __future__ import annotations

from collections.abc import Callable

from datumbook.cells.columns import Check, Column, Result, words
from datumbook.cells.handles import Key, row_key
from datumbook.cells.tables import Row, Table
from datumbook.equations import forbidden_cuts, standings
from datumbook.stations.holes.danger_holes import DangerHoles
from datumbook.stations.holes.group_tables import stated
from datumbook.stations.holes.hole_groups import Steps
from datumbook.stations.holes.hole_walls import HoleWalls
from datumbook.stations.holes.reliefs import Reliefs
from datumbook.stations.holes.stop_settings import StopSettings
from datumbook.stations.holes.threads import ThreadHoles
from datumbook.stations.received.standing_ahead import StandingAhead

CutAlone = tuple[str, str]  # the row of an operation, and the dangerous hole it is for alone, or ""


class ForbiddenCuts(Table):
    """The verdicts that stand against each cut, what its card says of them, and how deep it is sent
    where none does.
    """

    said: Column
    before: Column
    goes_to: Column

    def __init__(
        self,
        steps: Steps,
        settings: StopSettings,
        danger: DangerHoles,
        walls: HoleWalls,
        reliefs: Reliefs,
        threads: ThreadHoles,
    ) -> None:
        self.steps, self.settings, self.danger = steps, settings, danger
        self.walls, self.reliefs, self.threads = walls, reliefs, threads
        cuts = [(row, "") for row in steps.cuts if steps.together(row)]
        cuts += [(row, one.hole) for row in steps.drills for one in steps.apart(row)]
        self.cuts: dict[str, CutAlone] = {self.row_of(*one): one for one in cuts}
        on_scale = steps.groups.scale.set(lambda key: steps.by_row[self.cuts[key][0]][0].unit)
        super().__init__(
            key="forbidden",
            title="What forbids a cut",
            heading="Group and operation",
            note="The worst verdict on each. OUT: do not drill. STALE, UNSURE or OPEN: not yet. "
            "No stop is told of either. A hole outside its thread's limits may be drilled once it "
            "is conceded on the Release sheet.",
            rows=[Row(key, self._words(*cut)) for key, cut in self.cuts.items()],
            columns=(
                *self._worst("depth", "depth it reaches", self._depth),
                *self._worst("floor", "floor under it", self._floor),
                *self._worst("wall", "walls beside it", self._wall),
                *self._hole(),
                *self._said(),
                Result(
                    name="before",
                    words="what to do first",
                    equation=forbidden_cuts.before_the_cut,
                    width=40,
                ),
                steps.scale_column(lambda key: self.cuts[key][0]),
                on_scale.result(
                    "goes_to",
                    "GOES TO",
                    forbidden_cuts.unless_forbidden,
                    forbidden=lambda key: self.said[key],
                    value=self._set_depth,
                ),
            ),
        )

    def row_of(self, row: str, hole: str) -> str:
        """The row of an operation, or of one dangerous hole of it."""
        return row_key(row, hole) if hole and hole not in self.steps.together(row) else row

    def _set_depth(self, key: str) -> Key:
        row, hole = self.cuts[key]
        if hole:
            return self.danger.set_depth[self.danger.row_of(row, hole)]
        return self.settings.set_depth[row]

    def _words(self, row: str, hole: str) -> str:
        group, operation = self.steps.by_row[row]
        return f"{group.spec.words}: {operation}{f' ▲ {hole}' if hole else ''}"

    def _worst(
        self, name: str, heading: str, verdicts: Callable[[str, str], list[Key]]
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

    def _said(self) -> list[Column | Check]:
        """What its card says of it, in the word of its operation."""
        reliefs = self.steps.those("counterbore")
        bored = [key for key, (row, _) in self.cuts.items() if row in reliefs]
        drilled = [key for key in self.cuts if key not in bored] if bored else None
        return stated(
            *(
                Result(name="said", words="on its card", equation=said, rows=rows, width=30)
                for said, rows in (
                    (forbidden_cuts.forbidden, drilled),
                    (forbidden_cuts.counterbore_forbidden, bored),
                )
            )
        )

    def _depth(self, row: str, hole: str) -> list[Key]:
        if hole:
            return [self.danger.full_depth_reached.verdict[self.danger.row_of(row, hole)]]
        found = [self.settings.column("full_depth_reached").verdict[row]]
        if row in self.steps.those("counterbore"):
            found.append(self.reliefs.column("depth_in_pitches").verdict[self._group(row)])
        return found

    def _floor(self, row: str, hole: str) -> list[Key]:
        """A dangerous hole is held back from its floor, whatever is planned."""
        left = row in self.steps.drills and not hole
        return [self.settings.column("floor_left").verdict[row]] if left else []

    def _wall(self, row: str, _: str) -> list[Key]:
        group = self._group(row)
        relief = row in self.steps.those("counterbore")
        return [
            *_verdicts(self.walls, group),
            *([self.reliefs.diameter.verdict[group]] if relief else []),
        ]

    def _hole(self) -> list[Column | Check]:
        """The hole that its drill makes, as long as its check holds the job up."""
        drilled = {key: self._group(row) for key, (row, _) in self.cuts.items()}
        judged: list[str] = []
        unjudged: list[str] = []
        for key, (row, _) in self.cuts.items():
            held = row in self.steps.those("drill") and self._found("hole", drilled[key])
            (judged if held else unjudged).append(key)
        stands = StandingAhead().of

        def verdict(name: str) -> Callable[[str], Key]:
            return lambda key: self.threads.column(name).verdict[drilled[key]]

        def standing(name: str) -> Callable[[str], Key]:
            return lambda key: stands(self.threads.column(name)[drilled[key]])

        return stated(
            Result(
                name="hole",
                words="hole of its drill",
                equation=forbidden_cuts.hole_held,
                inputs={
                    "drilled": verdict("hole"),
                    "drilled_stands": standing("hole"),
                    "probed": verdict("probed"),
                    "probed_stands": standing("probed"),
                },
                rows=judged,
            ),
            words(
                "hole", "hole of its drill", "", rows=[one for one in drilled if one not in judged]
            ),
        )

    def _found(self, name: str, group: str) -> bool:
        """Whether a hole of a group is held against limits."""
        return self.threads.has(self.threads.column(name).verdict_name, group)

    def _group(self, row: str) -> str:
        return self.steps.by_row[row][0].spec.key


def _verdicts(table: Table, row: str) -> list[Key]:
    """The verdicts of a table in one row."""
    return [
        one.of.verdict[row]
        for one in table.columns
        if isinstance(one, Check) and row in table.row_keys and one.stands_in(row)
    ]
