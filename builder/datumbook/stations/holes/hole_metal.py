"""HoleMetal: what is left round each group of holes: walls, edges, reliefs, thread for the fastener
to hold by.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from operator import attrgetter
from typing import Any

from datumbook.cells.columns import Check, Column, Given, Sizes, words
from datumbook.cells.tables import Form, Line, Sheet, Table
from datumbook.equations import hole_safety, standings
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.standards import hole_allowances
from datumbook.stations.holes.hole_groups import Group, Groups, quantity
from datumbook.stations.holes.reach import REACH, reach
from datumbook.workbook.layout import Layout

RATIO = Sizes("", 2, width=9.5)
ALLOWED = ("least_wall", "least_edge", "least_relief", "most_relief")
HEADINGS = {
    "least_wall": "Wall beside a hole, least",
    "least_edge": "Hole to edge, least, in diameters",
    "least_relief": "Relief, least, in pitches",
    "most_relief": "Relief, most, in pitches",
}


def sheet(layout: Layout) -> Sheet:
    """The sheet of the metal round the holes."""
    groups = Groups(layout)
    parts: list[Table | Form] = [_allowances(layout)]
    for key, title, note, columns in (
        ("metal", "Walls and edges", WALLS, tuple(_walls(layout, groups))),
        ("relief", "Reliefs", RELIEFS, tuple(_reliefs(groups))),
        ("reach", "Thread for the fastener", REACH, tuple(reach(layout, groups))),
    ):
        rows = [row for row in groups.rows() if any(one.stands_in(row.key) for one in columns)]
        if rows:
            parts.append(
                Table(
                    key=key,
                    title=title,
                    heading="Group",
                    note=note,
                    rows=rows,
                    columns=columns,
                    turned=True,
                )
            )
    return Sheet(name="HoleMetal", title="Metal round each hole", parts=parts, stage="planned")


WALLS = (
    "The widest the hole gets, relief included, against its nearest neighbour and the nearest "
    "bore at its largest oversize, "
    "from the coordinates; other walls as stated in the spec, which castings do not keep: probe "
    "first."
)
RELIEFS = (
    "A relief is larger than the thread, smaller than gasket hole and boss, and one to two "
    "pitches deep, all from the finished "
    "face. One that is cut before the face loses what the face loses: cut it after."
)


def _allowances(layout: Layout) -> Form:
    known = hole_allowances()
    in_length: dict[str, Any] = {
        "unit": layout.unit_of("holes"),
        "decimals": layout.decimals_of("holes"),
    }

    def line(name: str) -> Line:
        value, source = known[name]
        shape: dict[str, Any] = in_length if name == "least_wall" else {"unit": "", "decimals": 2}
        return Line(
            column=Given(name=name, words=HEADINGS[name], value=read_quantity(value), **shape),
            note=source,
        )

    nought = Given(
        name="nought",
        words="Old groove left, most; room under a fastener, least",
        value=read_quantity("0 mm"),
        **in_length,
    )
    lines = [*(line(name) for name in ALLOWED), Line(column=nought, note="geometry")]
    return Form(key="metal_allowances", title="Least and most", lines=lines)


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


def _walls(layout: Layout, groups: Groups) -> Iterator[Column | Check]:
    sizes, source = groups.sizes, hole_allowances()["least_wall"][1]
    every = groups.keys(lambda one: one.spec.places or one.spec.walls or one.spec.edge)
    yield sizes.given("widest", "widest diameter", groups.of(lambda one: one.widest), rows=every)
    paired = groups.keys(lambda one: len(one.spec.places) > 1)
    if paired:
        yield from _neighbours(groups, paired)
        yield Check(of="wall", low="metal_allowances.least_wall", rows=paired, source=source)
    bored = groups.keys(
        lambda one: one.spec.places and one.row and one.outline and one.outline.bores_across
    )
    if bored:
        yield from _bores(layout, groups, bored)
        yield Check(of="bore_wall", low="metal_allowances.least_wall", rows=bored, source=source)
    stated = groups.keys(lambda one: one.spec.walls)
    if stated:
        least = groups.of(lambda one: min(one.spec.walls, key=lambda wall: wall.metal.to("mm")))
        yield words(
            "wall_to", "thinnest stated wall", lambda row: least(row).to, rows=stated, width=14
        )
        yield sizes.given(
            "stated_wall", "wall as stated", lambda row: least(row).metal, rows=stated
        )
        old = groups.of(
            lambda one: quantity((one.before or one.thread).major, (one.before or one.thread).unit)
        )
        yield sizes.result(
            "wall_after",
            "wall after",
            hole_safety.wall_after_opening,
            stated,
            wall="metal.{row}.stated_wall",
            old_diameter=old,
            new_diameter="metal.{row}.widest",
        )
        yield Check(of="wall_after", low="metal_allowances.least_wall", rows=stated, source=source)
    yield from _edges(groups)


def _neighbours(groups: Groups, paired: list[str]) -> Iterator[Column]:
    pair = {key: nearest_pair(groups.by_key[key]) for key in paired}

    def at(which: int, axis: str) -> Any:
        return lambda row: f"map_{groups.by_key[row].spec.on}.{pair[row][which]}.{axis}"

    yield words(
        "nearest", "nearest holes", lambda row: " to ".join(pair[row]), rows=paired, width=10
    )
    yield groups.sizes.result(
        "centre_distance",
        "centres apart",
        hole_safety.centre_distance,
        paired,
        along=at(0, "along"),
        across=at(0, "across"),
        other_along=at(1, "along"),
        other_across=at(1, "across"),
    )
    widest = {"diameter": "metal.{row}.widest", "other_diameter": "metal.{row}.widest"}
    yield groups.sizes.result(
        "wall", "wall between", hole_safety.wall_to_neighbour, paired, **widest
    )


def _bores(layout: Layout, groups: Groups, bored: list[str]) -> Iterator[Column]:
    pair = {key: nearest_bore(groups.by_key[key]) for key in bored}
    across = groups.of(lambda one: one.outline.bores_across)
    largest = _largest_bore(layout)
    yield words(
        "near_bore",
        "nearest bore",
        lambda row: f"{pair[row][0]} to bore {pair[row][1]}",
        rows=bored,
        width=12,
    )
    yield groups.sizes.given("bore", "largest bore", largest, rows=bored)
    yield groups.sizes.result(
        "bore_distance",
        "centre to its centre",
        hole_safety.centre_distance,
        bored,
        along=lambda row: f"map_{groups.by_key[row].spec.on}.{pair[row][0]}.along",
        across=lambda row: f"map_{groups.by_key[row].spec.on}.{pair[row][0]}.across",
        other_along=lambda row: _centre(groups.by_key[row], pair[row][1]),
        other_across=across,
    )
    beside = {
        "centre_distance": "metal.{row}.bore_distance",
        "diameter": "metal.{row}.widest",
        "other_diameter": "metal.{row}.bore",
    }
    yield groups.sizes.result(
        "bore_wall", "wall to bore", hole_safety.wall_to_neighbour, bored, **beside
    )


def _centre(group: Group, cylinder: int) -> Quantity:
    """Where a cylinder's centre lies along the deck the group stands in."""
    assert group.row is not None
    return group.row.centres[group.row.cylinders.index(cylinder)]


def _largest_bore(layout: Layout) -> Quantity:
    bores = layout.spec.bores
    standard = bores.standard.high
    assert standard is not None  # a Band has both ends
    return standard + bores.oversizes[-1] if bores.oversizes else standard


def _edges(groups: Groups) -> Iterator[Column | Check]:
    placed = groups.keys(lambda one: one.spec.places and one.outline)
    stated = [
        key for key in groups.keys(lambda one: one.spec.edge) if key not in placed
    ]  # not a dict
    if placed:
        name = {key: nearest_edge_hole(groups.by_key[key]) for key in placed}
        face = groups.of(lambda one: one.spec.on)
        yield words("near_edge", "nearest the edge", name.__getitem__, rows=placed, width=9.5)
        yield groups.sizes.result(
            "edge",
            "centre to edge",
            hole_safety.nearest_edge,
            placed,
            along=lambda row: f"map_{face(row)}.{name[row]}.along",
            across=lambda row: f"map_{face(row)}.{name[row]}.across",
            length=groups.of(lambda one: one.outline.length),
            width=groups.of(lambda one: one.outline.width),
        )
    if stated:
        yield groups.sizes.given(
            "edge", "centre to edge", groups.of(lambda one: one.spec.edge), rows=stated
        )
    if placed or stated:
        both = [*placed, *stated]
        yield RATIO.result(
            "edge_in_diameters",
            "in diameters",
            hole_safety.edge_in_diameters,
            both,
            edge_distance="metal.{row}.edge",
            major="threads.{row}.major",
        )
        yield Check(
            of="edge_in_diameters",
            low="metal_allowances.least_edge",
            rows=both,
            source=hole_allowances()["least_edge"][1],
        )


BOUNDS = {"gasket_hole": "gasket hole", "boss": "boss"}  # what a relief must stay inside of


def _bounds(group: Group) -> list[str]:
    """The cells of what a relief must stay inside of."""
    return [f"relief.{group.spec.key}.{name}" for name in BOUNDS if getattr(group.spec, name)]


def _reliefs(groups: Groups) -> Iterator[Column | Check]:
    sizes, relieved = groups.sizes, groups.keys(lambda one: one.spec.counterbore)
    if not relieved:
        return
    yield sizes.given(
        "diameter",
        "relief diameter",
        groups.of(lambda one: one.spec.counterbore.diameter),
        rows=relieved,
    )
    bounded = [
        key
        for key in relieved
        if groups.by_key[key].spec.gasket_hole or groups.by_key[key].spec.boss
    ]
    free = [key for key in relieved if key not in bounded]
    for name, heading in BOUNDS.items():
        given = [key for key in bounded if getattr(groups.by_key[key].spec, name)]
        if given:
            yield sizes.given(name, heading, groups.of(attrgetter(f"spec.{name}")), rows=given)
    if bounded:
        yield sizes.result(
            "widest_relief",
            "widest there",
            hole_safety.widest_relief,
            bounded,
            over=groups.of(_bounds),
        )
        yield Check(
            of="diameter",
            low="threads.{row}.major",
            high="widest_relief",
            rows=bounded,
            source="over the thread, under gasket hole and boss",
        )
    if free:
        yield Check(of="diameter", low="threads.{row}.major", rows=free, source="over the thread")
    yield sizes.given(
        "depth", "relief depth", groups.of(lambda one: one.spec.counterbore.depth), rows=relieved
    )
    yield RATIO.result(
        "depth_in_pitches",
        "in pitches",
        hole_safety.depth_in_pitches,
        relieved,
        pitch="threads.{row}.pitch",
    )
    yield Check(
        of="depth_in_pitches",
        low="metal_allowances.least_relief",
        high="metal_allowances.most_relief",
        rows=relieved,
        source=hole_allowances()["least_relief"][1],
    )
    skimmed = [key for key in relieved if groups.by_key[key].planned_cut]
    if skimmed:
        yield sizes.result(
            "skim",
            "cut planned on the face",
            standings.shown_again,
            skimmed,
            value=groups.of(lambda one: one.planned_cut),
        )
        yield sizes.result(
            "left_if_before",
            "left of it if cut before the face",
            hole_safety.depth_after_skim,
            skimmed,
        )
