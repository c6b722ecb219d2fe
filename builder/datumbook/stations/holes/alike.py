"""What a hole decided by itself takes over from the group it is like."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from datumbook.cells.columns import Check, Column, Sizes, words
from datumbook.cells.handles import Key
from datumbook.cells.tables import Row, Table
from datumbook.equations import hole_safety, standings
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.stations.holes.fastener_groups import bare
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.group_tables import stated
from datumbook.stations.holes.hole_groups import RATIO
from datumbook.stations.holes.hole_metal import HoleMetal
from datumbook.stations.holes.quill_scale import IN_KEYS
from datumbook.stations.holes.reach import BOLT_END, mouth_cuts
from datumbook.stations.holes.reliefs import Reliefs
from datumbook.stations.holes.single_lines import SingleLines
from datumbook.stations.holes.stop_settings import under_face
from datumbook.stations.holes.threads import ThreadHoles


class Alike(Table):
    """What a hole takes over from the group it is like; 0 where nothing is stated."""

    def __init__(
        self, lines: SingleLines, threads: ThreadHoles, reliefs: Reliefs, metal: HoleMetal
    ) -> None:
        self.groups = {one.spec.key: one for one in lines.alike}
        self.unit, self.sizes = lines.unit, Sizes(lines.unit, lines.places, width=9.5)
        none, walls, reach = read_quantity("0 mm"), metal.walls, metal.reach
        self.spoiled = any(mouth_cuts(one.spec) for one in lines.alike)
        super().__init__(
            key=f"alike_{IN_KEYS[lines.unit]}",
            title=f"What is taken over from the groups ({lines.unit})",
            heading="Group",
            turned=True,
            note="0: nothing is stated. Of a whole group the least counts: neighbour, bore, edge.",
            rows=[Row(key, one.spec.words) for key, one in self.groups.items()],
            columns=(
                self._stated("thread_depth", "thread depth", lambda one: one.spec.thread_depth),
                *_floors(self.sizes, self.groups),
                self._stated("there", "thread there now", lambda one: one.major_before),
                *self._shown("major", "its thread", threads.major.find),
                *self._shown("pitch", "its pitch", threads.pitch.find),
                *self._shown("apart", "to its neighbour", _found(walls, "centre_distance")),
                *self._shown("widest", "neighbour, widest", _found(walls, "widest")),
                *self._shown("bore_apart", "to the nearest bore", _found(walls, "bore_distance")),
                *self._shown("bore", "that bore", _found(walls, "bore")),
                *self._shown("edge", "to the edge", _found(walls, "edge")),
                *self._shown("wall", "wall as stated", _found(walls, "stated_wall")),
                self._stated("gasket_hole", "gasket hole", lambda one: one.spec.gasket_hole),
                *self._shown("relief", "relief diameter", reliefs.diameter.find),
                *self._shown("relief_depth", "relief depth", reliefs.depth.find),
                self._stated(
                    "minus",
                    "may be shallower",
                    lambda one: one.spec.counterbore.minus if one.spec.counterbore else None,
                ),
                self._stated(
                    "plus",
                    "may be deeper",
                    lambda one: one.spec.counterbore.plus if one.spec.counterbore else None,
                ),
                *self._shown(
                    "in_hole",
                    "fastener in the hole",
                    lambda row: _found(reach, "length_in_hole")(row) or reach.thread_depth[row],
                ),
                RATIO.given(
                    "incomplete_end",
                    "incomplete at its end, pitches",
                    lambda row: bare(BOLT_END[0] * bool(_found(reach, "incomplete_end")(row))),
                ),
                *(
                    self._shown("mouth", "no full thread to", _found(reach, "incomplete_mouth"))
                    if self.spoiled
                    else ()
                ),
                RATIO.result(
                    "diameters",
                    "thread wanted, in diameters",
                    hole_safety.depth_in_pitches,
                    depth=lambda row: _found(reach, "needed")(row) or none,
                    pitch=threads.major,
                ),
            ),
        )

    def _stated(
        self, name: str, heading: str, ask: Callable[[GroupAtWork], Quantity | None]
    ) -> Column:
        none = read_quantity("0 mm")
        return self.sizes.given(name, heading, lambda row: ask(self.groups[row]) or none)

    def _shown(
        self, name: str, heading: str, found: Callable[[str], Key | None]
    ) -> list[Column | Check]:
        """A size of another table, shown again where it stands; 0 where it does not."""
        there, again = [key for key in self.groups if found(key)], standings.shown_again
        missing, none = [key for key in self.groups if not found(key)], read_quantity("0 mm")
        return stated(
            self.sizes.result(name, heading, again, there, value=lambda row: found(row) or none),
            self.sizes.given(name, heading, none, rows=missing),
        )

    def cells(self, name: str) -> list[Key]:
        """The cells of a column, group by group."""
        return [self.column(name)[key] for key in self.groups]


def _found(table: Table, name: str) -> Callable[[str], Key | None]:
    """Where a column of a table stands in a row, if it does."""
    return lambda row: table.column(name).find(row) if name in table.names() else None


def _floors(sizes: Sizes, groups: Mapping[str, GroupAtWork]) -> tuple[Column | Check, ...]:
    """The floor under each group's holes, less what their face has lost."""
    return under_face(
        sizes,
        "face to void, drawing",
        lambda row: groups[row].spec.floor,
        lambda row: groups[row].gone,
        list(groups),
    )


class SingleDangers(Table):
    """The holes that must not break through, of this unit: what lies below, and how far."""

    def __init__(self, lines: SingleLines) -> None:
        self.found = {one.hole: (group, one) for group in lines.alike for one in group.spec.danger}
        super().__init__(
            key=f"single_dangers_{IN_KEYS[lines.unit]}",
            title=f"▲ Floors that a line above keeps to ({lines.unit})",
            heading="Hole",
            rows=[Row(name, f"▲ {name}") for name in self.found],
            columns=(
                words("name", "name", str, width=9.5),
                words("over", "what lies below", lambda row: self.found[row][1].over, width=20),
                *under_face(
                    Sizes(lines.unit, lines.places, width=9.5),
                    "face to it, drawing",
                    lambda row: self.found[row][1].floor,
                    lambda row: self.found[row][0].gone,
                    list(self.found),
                ),
            ),
        )

    def cells(self, name: str) -> list[Key]:
        """The cells of a column, hole by hole."""
        return [self.column(name)[hole] for hole in self.found]
