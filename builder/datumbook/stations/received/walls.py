"""Walls: how thick the metal round each bore is, how far the core moved, and what boring leaves."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from datumbook.cells.columns import Check, Column
from datumbook.cells.tables import Row, Sheet, Table, cylinder_rows
from datumbook.equations import budget, liners, walls
from datumbook.equations.standings import shown_again
from datumbook.numbers.quantities import read_quantity
from datumbook.spec import Limit
from datumbook.spec.features import WallPlace, Walls
from datumbook.stations.decided.bore_plan import FINISH, OFFSET, bore_in_block, bored, dry
from datumbook.stations.received.features import Feature
from datumbook.workbook.layout import Layout

SIDES = {"thrust": "thrust side", "elsewhere": "elsewhere"}
NO_SHIFT = read_quantity("0 mm")


def sheet(layout: Layout) -> Sheet:
    """The sheet of the walls."""
    spec = layout.spec.walls
    assert spec is not None  # the station is left out without it
    return Sheet(name="Walls", title="Walls round the bores", parts=_parts(layout, spec))


def _parts(layout: Layout, spec: Walls) -> tuple[Table, ...]:
    return (
        _readings(layout, spec),
        *((_left(layout, spec),) if bored(layout) else ()),
        _each(layout, spec),
    )


def _readings(layout: Layout, spec: Walls) -> Table:
    sizes = layout.sizes("walls")
    how = "Ultrasound, set on a piece of the same iron of known thickness."
    thick = spec.standard.to(layout.unit_of("walls"))
    return Table(
        key="walls",
        title="Wall readings",
        heading="Where",
        note="Core shift is half of thickest less thinnest at one height; a bore may be offset "
        "away from its thinnest side.",
        rows=[
            Row(f"{cylinder}.{height.key}", f"Cylinder {cylinder}, {height.words}")
            for cylinder in layout.cylinders()
            for height in spec.heights
        ],
        columns=(
            *(
                sizes.reading(
                    f"at_{place.key}", place.words, spec.standard, how, possible=(0.0, 3 * thick)
                )
                for place in spec.positions
            ),
            sizes.result(
                "core_shift",
                "core shift",
                walls.core_shift,
                walls=[f"walls.{{row}}.at_{place.key}" for place in spec.positions],
            ),
            Check(of="core_shift", limits=spec.core_shift),
        ),
    )


def _each(layout: Layout, spec: Walls) -> Table:
    how = (
        "every bore at its finish size and set over as the plan has it"
        if bored(layout)
        else "as it is"
    )
    return Table(
        key="wall",
        title="Each bore",
        heading="Cylinder",
        note=f"After boring: {how}. Too thin decides: a smaller oversize, an offset, a liner, or "
        f"reject.",
        rows=cylinder_rows(layout.cylinders()),
        columns=tuple(_sides(layout, spec)),
    )


def finished(layout: Layout) -> Table:
    """What boring has left of each wall, from the bore as it was and as it is."""
    spec, sizes = layout.spec.walls, layout.sizes("walls")
    assert spec is not None  # asked only with walls
    before, wall = (
        (FINISH, "wall.{row}.left_")
        if bored(layout)
        else ("bore.{row}.mean_size", "wall.{row}.least_")
    )

    def columns() -> Iterator[Column | Check]:
        for side, words, limits in _limits(spec):
            yield sizes.result(
                f"left_{side}",
                words,
                walls.wall_after_boring,
                wall=wall + side,
                bore=before,
                finished_bore="finished_bore.{row}.mean_size",
                shift_towards=NO_SHIFT,
            )
            if lined_walls(layout):
                yield Check(
                    of=f"left_{side}", low=f"wall.{{row}}.needed_{side}", source=limits.source
                )
            else:
                yield Check(of=f"left_{side}", limits=limits)

    return Table(
        key="finished_wall",
        title="Walls left, as finished",
        heading="Cylinder",
        note="From the wall as the plan leaves it, less what the bore was finished larger than "
        "planned. Where the bar was set "
        "over otherwise, measure the wall again."
        if bored(layout)
        else "From the wall as received and the two sizes of the bore, about its own centre.",
        fresh_in="finished_bores",
        rows=cylinder_rows(layout.cylinders()),
        columns=tuple(columns()),
    )


def bored_again(layout: Layout) -> bool:
    """Whether an operation of this job takes metal from the walls."""
    return layout.spec.walls is not None and Feature(layout, "bores").again


def _left(layout: Layout, spec: Walls) -> Table:
    """What boring leaves at each position, at the height where it is thinnest."""
    sizes = layout.sizes("walls")

    def left(place: WallPlace) -> Column:
        planned: dict[str, Any] = {
            "bore": "bore.{row}.mean_size",
            "finished_bore": bore_in_block(layout),
            "offset": OFFSET,
        }
        planned["walls"] = [f"walls.{{row}}.{height.key}.at_{place.key}" for height in spec.heights]
        name, words = f"at_{place.key}", place.words
        if place.angle is None:
            return sizes.result(name, words, walls.wall_set_over_anyhow, **planned)
        return sizes.result(name, words, walls.wall_set_over, **planned, angle=place.angle)

    return Table(
        key="wall_left",
        title="What boring leaves, position by position",
        heading="Cylinder",
        note="At the height where it is thinnest, with the finish bore and the set-over of the "
        "plan.",
        rows=cylinder_rows(layout.cylinders()),
        columns=tuple(left(place) for place in spec.positions),
    )


def _limits(spec: Walls) -> list[tuple[str, str, Limit]]:
    """The sides on which there are readings, each with its words and its limit."""
    return [
        (side, words, getattr(spec, side)) for side, words in SIDES.items() if _cells(spec, side)
    ]


def _sides(layout: Layout, spec: Walls) -> Iterator[Column | Check]:
    """The least wall on the thrust side and elsewhere, each held to its own limit once the bore is
    opened.
    """
    sizes = layout.sizes("walls")
    for side, words, limits in _limits(spec):
        least, left = f"least_{side}", f"left_{side}"
        yield sizes.result(least, f"least, {words}", walls.least_wall, walls=_cells(spec, side))
        if bored(layout):
            after = [f"wall_left.{{row}}.at_{place}" for place in _places(spec, side)]
            yield sizes.result(left, f"after boring, {words}", walls.least_wall, walls=after)
        else:
            yield sizes.result(left, f"left, {words}", shown_again, value=f"wall.{{row}}.{least}")
        twin = f"finished_wall.{{row}}.{left}.verdict" if bored_again(layout) else ""
        if lined_walls(layout):
            yield from _needed(layout, side, limits, twin)
        else:
            yield Check(of=left, limits=limits, superseded_by=twin)


def lined_walls(layout: Layout) -> bool:
    """Whether a cylinder with a dry liner keeps a wall of its own limit."""
    liners_of, spec = dry(layout), layout.spec.walls
    own = (
        liners_of is not None
        and liners_of.parent_wall is not None
        and liners_of.parent_wall.low is not None
    )
    return (
        own and spec is not None and all(limits.low is not None for _, _, limits in _limits(spec))
    )


def _both_walls(layout: Layout, limits: Limit) -> dict[str, Any]:
    """The wall a cylinder must keep behind a liner, and round a bare bore."""
    spec = dry(layout)
    return {
        "parent_wall": spec.parent_wall.low if spec and spec.parent_wall else None,
        "wall": limits.low,
    }


def _needed(layout: Layout, side: str, limits: Limit, twin: str) -> Iterator[Column | Check]:
    """What each cylinder must keep on one side, by whether it gets a liner, and what it has above
    that.
    """
    sizes, both = layout.sizes("walls"), _both_walls(layout, limits)
    needed, left = f"needed_{side}", f"wall.{{row}}.left_{side}"
    yield sizes.result(needed, "needed", liners.wall_needed, liner="bore_plan.{row}.liner", **both)
    yield Check(of=f"left_{side}", low=needed, source=limits.source, superseded_by=twin)
    yield sizes.result(
        f"spare_{side}",
        "above it",
        budget.still_to_spare,
        after=left,
        limit=f"wall.{{row}}.{needed}",
    )


def _cells(spec: Walls, side: str) -> list[str]:
    return [
        f"walls.{{row}}.{height.key}.at_{place}"
        for height in spec.heights
        for place in _places(spec, side)
    ]


def _places(spec: Walls, side: str) -> list[str]:
    return [place.key for place in spec.positions if place.thrust is (side == "thrust")]
