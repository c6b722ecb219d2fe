"""Walls: the metal between a hole and its neighbour, the nearest bore, what lies behind it and the
edge of its face.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations, product

from datumbook.cells.columns import Check, Column, words
from datumbook.cells.handles import Key
from datumbook.equations import hole_safety, standings
from datumbook.stations.holes.allowances import MetalAllowances, source_of
from datumbook.stations.holes.group import GroupAtWork, in_mm
from datumbook.stations.holes.group_tables import GroupTable, held, stated
from datumbook.stations.holes.hole_groups import RATIO, Groups
from datumbook.stations.holes.hole_map import HoleMap
from datumbook.stations.holes.reliefs import Reliefs
from datumbook.stations.holes.threads import ThreadHoles

Columns = tuple[Column | Check, ...]


class HoleWalls(GroupTable):
    """The walls and edges of the groups of which something is known beside them."""

    def __init__(
        self,
        groups: Groups,
        allowed: MetalAllowances,
        threads: ThreadHoles,
        reliefs: Reliefs,
        places: HoleMap,
    ) -> None:
        self.groups, self.sizes, self.allowed = groups, groups.sizes, allowed
        self.places = places
        widest = self.sizes.result(
            "widest",
            "widest diameter",
            standings.shown_again,
            value=lambda row: reliefs.diameter.find(row) or threads.major[row],
        )
        super().__init__(
            groups,
            key="metal",
            title="Walls and edges",
            note="The widest the hole gets, relief included, against its nearest neighbour and "
            "the nearest bore at its largest oversize, from the coordinates; other walls as stated "
            "in the spec, which castings do not keep: probe first.",
            only=groups.keys(lambda one: one.spec.places or one.spec.walls or one.spec.edge),
            columns=(
                widest,
                *stated(
                    *self._neighbours(widest),
                    *self._bores(widest),
                    *self._stated(widest),
                    *self._edges(threads),
                ),
            ),
        )

    def _at(self, axis: str, hole_of: Callable[[str], str]) -> Callable[[str], Key]:
        """Where one hole of each group stands on its face, along or across."""
        by_key = self.groups.by_key
        return lambda row: self.places.of(by_key[row]).column(axis)[hole_of(row)]

    def _thick(self, wall: Column) -> Columns:
        """A wall held against the least."""
        return held(wall, source_of("least_wall"), low=self.allowed.least_wall)

    def _neighbours(self, widest: Column) -> Columns:
        """The two holes of each group that stand nearest each other."""
        paired = self.groups.keys(lambda one: len(one.spec.places) > 1)
        pair = {key: nearest_pair(self.groups.by_key[key]) for key in paired}
        wall = self.sizes.result(
            "wall",
            "wall between",
            hole_safety.wall_to_neighbour,
            paired,
            diameter=widest,
            other_diameter=widest,
        )
        return (
            words(
                "nearest",
                "nearest holes",
                lambda row: " to ".join(pair[row]),
                rows=paired,
                width=10,
            ),
            self.sizes.result(
                "centre_distance",
                "centres apart",
                hole_safety.centre_distance,
                paired,
                along=self._at("along", lambda row: pair[row][0]),
                across=self._at("across", lambda row: pair[row][0]),
                other_along=self._at("along", lambda row: pair[row][1]),
                other_across=self._at("across", lambda row: pair[row][1]),
            ),
            *self._thick(wall),
        )

    def _bores(self, widest: Column) -> Columns:
        """The hole and the bore of its own deck that stand nearest each other."""
        groups, sizes = self.groups, self.sizes
        bored = groups.keys(lambda one: one.spec.places and one.bores)
        pair = {key: nearest_bore(groups.by_key[key]) for key in bored}
        bore = sizes.given("bore", "largest bore", groups.basis.spec.bores.largest, rows=bored)
        distance = sizes.result(
            "bore_distance",
            "centre to its centre",
            hole_safety.centre_distance,
            bored,
            along=self._at("along", lambda row: pair[row][0]),
            across=self._at("across", lambda row: pair[row][0]),
            other_along=lambda row: groups.by_key[row].bores[pair[row][1]][0],
            other_across=lambda row: groups.by_key[row].bores[pair[row][1]][1],
        )
        wall = sizes.result(
            "bore_wall",
            "wall to bore",
            hole_safety.wall_to_neighbour,
            bored,
            centre_distance=distance,
            diameter=widest,
            other_diameter=bore,
        )
        return (
            words(
                "near_bore",
                "nearest bore",
                lambda row: "{} to bore {}".format(*pair[row]),
                rows=bored,
                width=12,
            ),
            bore,
            distance,
            *self._thick(wall),
        )

    def _stated(self, widest: Column) -> Columns:
        """The thinnest wall of those the spec states, as it is and as the opened hole leaves it."""
        of, stated = self.groups.of, self.groups.keys(lambda one: one.spec.walls)
        thinnest = of(lambda one: min(one.spec.walls, key=lambda wall: wall.metal.to("mm")))
        wall = self.sizes.given(
            "stated_wall", "wall as stated", lambda row: thinnest(row).metal, rows=stated
        )
        after = self.sizes.result(
            "wall_after",
            "wall after",
            hole_safety.wall_after_opening,
            stated,
            wall=wall,
            old_diameter=of(lambda one: one.major_before),
            new_diameter=widest,
        )
        return (
            words(
                "wall_to",
                "thinnest stated wall",
                lambda row: thinnest(row).to,
                rows=stated,
                width=14,
            ),
            wall,
            *self._thick(after),
        )

    def _edges(self, threads: ThreadHoles) -> Columns:
        """The edge of the face, from the coordinates or as stated."""
        groups, sizes, (name, heading) = self.groups, self.sizes, ("edge", "centre to edge")
        placed = groups.keys(lambda one: one.spec.places and one.outline)
        stated = groups.keys(lambda one: one.spec.edge and one.spec.key not in placed)
        nearest = {key: nearest_edge_hole(groups.by_key[key]) for key in placed}
        share = RATIO.result(
            "edge_in_diameters",
            "in diameters",
            hole_safety.edge_in_diameters,
            [*placed, *stated],
            edge_distance=lambda row: self.column(name)[row],
            major=threads.major,
        )
        return (
            words("near_edge", "nearest the edge", nearest.__getitem__, rows=placed, width=9.5),
            sizes.result(
                name,
                heading,
                hole_safety.nearest_edge,
                placed,
                along=self._at("along", nearest.__getitem__),
                across=self._at("across", nearest.__getitem__),
                length=groups.of(lambda one: one.outline.length),
                width=groups.of(lambda one: one.outline.width),
            ),
            sizes.given(name, heading, groups.of(lambda one: one.spec.edge), rows=stated),
            *held(share, source_of("least_edge"), low=self.allowed.least_edge),
        )


def nearest_pair(group: GroupAtWork) -> tuple[str, str]:
    """The two holes of a group that stand nearest each other."""
    at, apart = group.centres_mm, hole_safety.centre_distance
    return min(combinations(at, 2), key=lambda pair: apart(*at[pair[0]], *at[pair[1]]))


def nearest_edge_hole(group: GroupAtWork) -> str:
    """The hole of a group that stands nearest an edge of its face."""
    at, outline = group.centres_mm, group.outline
    assert outline is not None
    ends = outline.length.to("mm"), outline.width.to("mm")
    return min(at, key=lambda name: hole_safety.nearest_edge(*at[name], *ends))


def nearest_bore(group: GroupAtWork) -> tuple[str, int]:
    """The hole of a group and the cylinder of its own deck that stand nearest each other."""
    holes, apart = group.centres_mm, hole_safety.centre_distance
    bores = {number: in_mm(centre) for number, centre in group.bores.items()}
    pairs = product(holes, bores)
    return min(pairs, key=lambda pair: apart(*holes[pair[0]], *bores[pair[1]]))
