"""Walls: the metal between a hole and its neighbour, the nearest bore, what lies behind it and the
edge of its face.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from datumbook.cells.columns import Check, Column, words
from datumbook.cells.handles import Key
from datumbook.cells.tables import Table
from datumbook.equations import hole_safety
from datumbook.numbers.quantities import Quantity
from datumbook.stations.holes.allowances import MetalAllowances, source_of
from datumbook.stations.holes.hole_groups import RATIO, Group, Groups, quantity
from datumbook.stations.holes.hole_map import HoleMap
from datumbook.stations.holes.threads import ThreadHoles

NOTE = (
    "The widest the hole gets, relief included, against its nearest neighbour and the nearest "
    "bore at its largest oversize, "
    "from the coordinates; other walls as stated in the spec, which castings do not keep: probe "
    "first."
)


class HoleWalls:
    """The walls and edges of the groups of which something is known beside them."""

    def __init__(
        self, groups: Groups, allowed: MetalAllowances, threads: ThreadHoles, places: HoleMap
    ) -> None:
        self.groups, self.allowed, self.threads = groups, allowed, threads
        self.places = places
        self.known = groups.keys(lambda one: one.spec.places or one.spec.walls or one.spec.edge)
        widest = groups.of(lambda one: one.widest)
        self.widest = groups.sizes.given("widest", "widest diameter", widest, rows=self.known)

    def parts(self) -> Iterator[Table]:
        """The table of the walls and edges, where there are any."""
        if self.known:
            yield Table(
                key="metal",
                title="Walls and edges",
                heading="Group",
                note=NOTE,
                rows=[row for row in self.groups.rows() if row.key in self.known],
                columns=(
                    self.widest,
                    *self._neighbours(),
                    *self._bores(),
                    *self._stated(),
                    *self._edges(),
                ),
                turned=True,
            )

    def _at(self, row: str, hole: str) -> dict[str, Key]:
        """Where a hole of a group stands on its face, along and across."""
        table = self.places.of(self.groups.by_key[row])
        return {"along": table.along[hole], "across": table.across[hole]}

    def _thick(self, wall: Column) -> Check:
        """A wall held against the least."""
        least, source = self.allowed.least_wall, source_of("least_wall")
        return Check(of=wall, low=least, rows=wall.rows, source=source)

    def _neighbours(self) -> Iterator[Column | Check]:
        groups, sizes = self.groups, self.groups.sizes
        paired = groups.keys(lambda one: len(one.spec.places) > 1)
        if not paired:
            return
        pair = {key: nearest_pair(groups.by_key[key]) for key in paired}
        nearest = lambda row: " to ".join(pair[row])  # noqa: E731  # a column's value by its row
        yield words("nearest", "nearest holes", nearest, rows=paired, width=10)
        yield sizes.result(
            "centre_distance",
            "centres apart",
            hole_safety.centre_distance,
            paired,
            along=lambda row: self._at(row, pair[row][0])["along"],
            across=lambda row: self._at(row, pair[row][0])["across"],
            other_along=lambda row: self._at(row, pair[row][1])["along"],
            other_across=lambda row: self._at(row, pair[row][1])["across"],
        )
        wall = sizes.result(
            "wall",
            "wall between",
            hole_safety.wall_to_neighbour,
            paired,
            diameter=self.widest,
            other_diameter=self.widest,
        )
        yield from (wall, self._thick(wall))

    def _bores(self) -> Iterator[Column | Check]:
        groups, sizes = self.groups, self.groups.sizes
        bored = groups.keys(
            lambda one: one.spec.places and one.row and one.outline and one.outline.bores_across
        )
        if not bored:
            return
        pair = {key: nearest_bore(groups.by_key[key]) for key in bored}
        near = lambda row: "{} to bore {}".format(*pair[row])  # noqa: E731  # a value by its row
        yield words("near_bore", "nearest bore", near, rows=bored, width=12)
        bore = sizes.given("bore", "largest bore", _largest_bore(groups), rows=bored)
        distance = sizes.result(
            "bore_distance",
            "centre to its centre",
            hole_safety.centre_distance,
            bored,
            along=lambda row: self._at(row, pair[row][0])["along"],
            across=lambda row: self._at(row, pair[row][0])["across"],
            other_along=lambda row: _centre(groups.by_key[row], pair[row][1]),
            other_across=groups.of(lambda one: one.outline.bores_across),
        )
        wall = sizes.result(
            "bore_wall",
            "wall to bore",
            hole_safety.wall_to_neighbour,
            bored,
            centre_distance=distance,
            diameter=self.widest,
            other_diameter=bore,
        )
        yield from (bore, distance, wall, self._thick(wall))

    def _stated(self) -> Iterator[Column | Check]:
        groups, sizes = self.groups, self.groups.sizes
        stated = groups.keys(lambda one: one.spec.walls)
        if not stated:
            return
        least = groups.of(lambda one: min(one.spec.walls, key=lambda wall: wall.metal.to("mm")))
        before = groups.of(lambda one: one.before or one.thread)
        to = lambda row: least(row).to  # noqa: E731  # a column's value by its row
        yield words("wall_to", "thinnest stated wall", to, rows=stated, width=14)
        wall = sizes.given(
            "stated_wall", "wall as stated", lambda row: least(row).metal, rows=stated
        )
        after = sizes.result(
            "wall_after",
            "wall after",
            hole_safety.wall_after_opening,
            stated,
            wall=wall,
            old_diameter=lambda row: quantity(before(row).major, before(row).unit),
            new_diameter=self.widest,
        )
        yield from (wall, after, self._thick(after))

    def _edges(self) -> Iterator[Column | Check]:
        groups, sizes = self.groups, self.groups.sizes
        placed = groups.keys(lambda one: one.spec.places and one.outline)
        stated = groups.keys(lambda one: one.spec.edge and one.spec.key not in placed)
        edges: list[Column] = []
        if placed:
            name = {key: nearest_edge_hole(groups.by_key[key]) for key in placed}
            yield words("near_edge", "nearest the edge", name.__getitem__, rows=placed, width=9.5)
            edges.append(
                sizes.result(
                    "edge",
                    "centre to edge",
                    hole_safety.nearest_edge,
                    placed,
                    along=lambda row: self._at(row, name[row])["along"],
                    across=lambda row: self._at(row, name[row])["across"],
                    length=groups.of(lambda one: one.outline.length),
                    width=groups.of(lambda one: one.outline.width),
                )
            )
        if stated:
            edge = groups.of(lambda one: one.spec.edge)
            edges.append(sizes.given("edge", "centre to edge", edge, rows=stated))
        if not edges:
            return
        share = RATIO.result(
            "edge_in_diameters",
            "in diameters",
            hole_safety.edge_in_diameters,
            [*placed, *stated],
            edge_distance=edges[0],
            major=self.threads.major,
        )
        yield from (*edges, share)
        least, source = self.allowed.least_edge, source_of("least_edge")
        yield Check(of=share, low=least, rows=share.rows, source=source)


def nearest_pair(group: Group) -> tuple[str, str]:
    """The two holes of a group that stand nearest each other."""
    places = dict(zip(group.spec.names, group.spec.places, strict=True))

    def apart(pair: tuple[str, str]) -> float:
        one, other = ([size.to("mm") for size in places[name]] for name in pair)
        return hole_safety.centre_distance(*one, *other)

    return min(combinations(group.spec.names, 2), key=apart)


def nearest_edge_hole(group: Group) -> str:
    """The hole of a group that stands nearest an edge of its face."""
    outline = group.outline
    assert outline is not None
    ends = outline.length.to("mm"), outline.width.to("mm")

    def apart(name: str) -> float:
        along, across = (size.to("mm") for size in group.spec.places[group.spec.names.index(name)])
        return hole_safety.nearest_edge(along, across, *ends)

    return min(group.spec.names, key=apart)


def nearest_bore(group: Group) -> tuple[str, int]:
    """The hole of a group and the cylinder of its own deck that stand nearest each other."""
    row, across = group.row, group.outline.bores_across if group.outline else None
    assert row is not None  # only groups with bores in their outline are asked
    assert across is not None
    middle = across.to("mm")
    pairs = [(name, at) for name in group.spec.names for at in range(len(row.centres))]

    def apart(pair: tuple[str, int]) -> float:
        along, across = (
            size.to("mm") for size in group.spec.places[group.spec.names.index(pair[0])]
        )
        return hole_safety.centre_distance(along, across, row.centres[pair[1]].to("mm"), middle)

    name, at = min(pairs, key=apart)
    return name, row.cylinders[at]


def _centre(group: Group, cylinder: int) -> Quantity:
    """Where a cylinder's centre lies along the deck the group stands in."""
    assert group.row is not None
    return group.row.centres[group.row.cylinders.index(cylinder)]


def _largest_bore(groups: Groups) -> Quantity:
    bores = groups.basis.spec.bores
    standard = bores.standard.high
    return standard + bores.oversizes[-1] if bores.oversizes else standard
