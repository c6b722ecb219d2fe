"""Walls: how thick the metal round each bore is, how far the core moved, and what boring leaves."""

from __future__ import annotations

from collections.abc import Iterator

from builder.equations import walls
from builder.equations.verdicts import shown_again
from builder.layout import Layout
from builder.quantities import read_quantity
from builder.sheets.features import Feature
from builder.spec import Limit
from builder.spec_features import Walls
from builder.table import Check, Column, Row, Sheet, Table

NO_SHIFT = read_quantity("0 mm")


def sheet(layout: Layout) -> Sheet:
    """The sheet of the walls."""
    spec = layout.spec.walls
    assert spec is not None  # the station is left out without it
    return Sheet(name="Walls", title="Walls round the bores", parts=(_readings(layout, spec), _each(layout, spec)))


def _readings(layout: Layout, spec: Walls) -> Table:
    sizes = layout.sizes("walls")
    how = "Ultrasound, set on a piece of the same iron of known thickness."
    thick = spec.standard.to(layout.unit_of("walls"))
    return Table(
        key="walls",
        title="Wall readings",
        heading="Where",
        note="Core shift is half of thickest less thinnest at one height; a bore may be offset away from its thinnest side.",
        rows=[
            Row(f"{cylinder}.{height.key}", f"Cylinder {cylinder}, {height.words}")
            for cylinder in layout.cylinders()
            for height in spec.heights
        ],
        columns=(
            *(
                sizes.reading(f"at_{place.key}", place.words, spec.standard, how, possible=(0.0, 3 * thick))
                for place in spec.positions
            ),
            sizes.result("core_shift", "core shift", walls.core_shift,
                         walls=[f"walls.{{row}}.at_{place.key}" for place in spec.positions]),
            Check(of="core_shift", limits=spec.core_shift),
        ),
    )  # fmt: skip


def _each(layout: Layout, spec: Walls) -> Table:
    bored = "every bore taken to the size the bore sheet proposes, about its own centre" if _rebored(layout) else "as it is"
    return Table(
        key="wall",
        title="Each bore",
        heading="Cylinder",
        note=f"After boring: {bored}. Too thin decides: a smaller oversize, an offset, a liner, or reject.",
        rows=_cylinders(layout),
        columns=tuple(_sides(layout, spec)),
    )


def finished(layout: Layout) -> Table:
    """What boring has left of each wall, from the bore as it was and as it is."""
    spec, sizes = layout.spec.walls, layout.sizes("walls")
    assert spec is not None  # asked only with walls

    def columns() -> Iterator[Column | Check]:
        for side, words, limits in _limits(spec):
            yield sizes.result(f"left_{side}", words, walls.wall_after_boring, wall=f"wall.{{row}}.least_{side}",
                               bore="bore.{row}.mean_size", finished_bore="finished_bore.{row}.mean_size",
                               shift_towards=NO_SHIFT)  # fmt: skip
            yield Check(of=f"left_{side}", limits=limits)

    return Table(
        key="finished_wall",
        title="Walls left, as finished",
        heading="Cylinder",
        note="From the wall as received and the two sizes of the bore, about its own centre: where the bar was offset, "
        "measure the wall again.",
        fresh_in="finished_bores",
        rows=_cylinders(layout),
        columns=tuple(columns()),
    )


def bored_again(layout: Layout) -> bool:
    """Whether an operation of this job takes metal from the walls."""
    return layout.spec.walls is not None and Feature(layout, "bores").again


def _cylinders(layout: Layout) -> list[Row]:
    return [Row(str(cylinder), f"Cylinder {cylinder}") for cylinder in layout.cylinders()]


def _rebored(layout: Layout) -> bool:
    return bool(layout.spec.bores.oversizes)


def _limits(spec: Walls) -> list[tuple[str, str, Limit]]:
    """The sides on which there are readings, each with its words and its limit."""
    sides = (("thrust", "thrust side", spec.thrust), ("elsewhere", "elsewhere", spec.elsewhere))
    return [side for side in sides if _cells(spec, side[0])]


def _sides(layout: Layout, spec: Walls) -> Iterator[Column | Check]:
    """The least wall on the thrust side and elsewhere, each held to its own limit once the bore is opened."""
    sizes = layout.sizes("walls")
    for side, words, limits in _limits(spec):
        least, left = f"least_{side}", f"left_{side}"
        yield sizes.result(least, f"least, {words}", walls.least_wall, walls=_cells(spec, side))
        if _rebored(layout):
            yield sizes.result(left, f"after boring, {words}", walls.wall_after_boring, wall=f"wall.{{row}}.{least}",
                               bore="bore.{row}.mean_size", finished_bore="rebore.next_oversize",
                               shift_towards=NO_SHIFT)  # fmt: skip
        else:
            yield sizes.result(left, f"left, {words}", shown_again, value=f"wall.{{row}}.{least}")
        twin = f"finished_wall.{{row}}.{left}.verdict" if bored_again(layout) else ""
        yield Check(of=left, limits=limits, superseded_by=twin)


def _cells(spec: Walls, side: str) -> list[str]:
    found = [place.key for place in spec.positions if place.thrust is (side == "thrust")]
    return [f"walls.{{row}}.{height.key}.at_{place}" for height in spec.heights for place in found]
