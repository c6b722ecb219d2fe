"""Map: a picture of each face with its holes by name, which are done, which must not break
through.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from datumbook.cells.columns import Column, Given, Result, words
from datumbook.cells.tables import (
    PLOT_FRAME,
    PLOT_WIDE,
    ROW_PIXELS,
    FaceMap,
    Marks,
    Outline,
    Row,
    Sheet,
    Table,
)
from datumbook.equations import hole_safety
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.spec import Bank
from datumbook.spec.holes import FacePlan
from datumbook.stations.holes.hole_groups import Group, Groups
from datumbook.workbook.layout import Layout

TALLEST = 22  # rows
CORNERS = 12  # of the ring through which a bore is drawn
BESIDE = 6  # the first column that is not printed
MARKED = ("open_at", "done_at", "danger_at", "named_at")
ASIDE = 0.045  # of the face's longer side, from a mark to its name
FRONT = {
    "deck": ", front to the left",
    "bottom": ", front to the left",
    "left": ", front to the left",
    "right": ", front to the right",
}  # as one sees the face from outside
HOW = (
    "● to do   ■ done   △ round it: must not break through. Drawn to scale, seen from outside the "
    "block; a hole is done once "
    "it is ticked on the Holes sheet. Along from the left end, across from the lower edge."
)


def mapped(groups: Groups) -> dict[str, list[Group]]:
    """The groups whose places are known, by face."""
    found: dict[str, list[Group]] = {}
    for one in groups.all:
        if one.spec.places:
            found.setdefault(one.spec.on, []).append(one)
    return found


def sheet(layout: Layout) -> Sheet:
    """The sheet of the maps, of the faces whose holes have places."""
    faces = mapped(Groups(layout))
    parts: list[FaceMap | Table] = []
    wide = len(MARKED)
    for face, groups in faces.items():
        outline = groups[0].outline
        if outline is not None:
            chart = _picture(layout, outline, groups, own_page=bool(parts))
            wide = max(wide, 2 * len(chart.outlines))
            parts.append(chart)
        parts.append(_places(face, groups))
    behind = tuple(f"point {number}" for number in range(wide))
    return Sheet(
        name="Map",
        title="Map of the holes",
        how=HOW,
        parts=parts,
        behind=behind,
        widths={1: 16, BESIDE - 1: 45},
        stage="finished",
    )


def _picture(layout: Layout, face: FacePlan, groups: list[Group], own_page: bool) -> FaceMap:
    unit = face.length.unit
    length, width = face.length.to(unit), face.width.to(unit)
    table, names = f"map_{face.on}", [name for one in groups for name in one.spec.names]

    def marks(said: str, across: str, style: str, labels: tuple[str, ...] = ()) -> Marks:
        return Marks(
            words=said,
            table=table,
            rows=names,
            along="along",
            across=across,
            style=style,
            labels=labels,
        )

    return FaceMap(
        key=f"picture_{face.on}",
        title=f"{_capital(groups[0].face_words)}{FRONT.get(face.of, '')}",
        unit=unit,
        length=length,
        width=width,
        rows=rows_for(length, width),
        outlines=tuple(_outlines(layout, face, groups[0].row)),
        marks=(
            marks("to do", "open_at", "open"),
            marks("done", "done_at", "done"),
            marks("must not break through", "danger_at", "danger"),
            marks("names", "named_at", "name", tuple(names)),
        ),
        beside=BESIDE,
        own_page=own_page,
    )


def rows_for(length: float, width: float) -> int:
    """How many rows a picture takes: as wide as the page, or at most TALLEST high."""
    return min(TALLEST, math.ceil((PLOT_WIDE * width / length + PLOT_FRAME) / ROW_PIXELS))


def _capital(said: str) -> str:
    return said[:1].upper() + said[1:]


def _outlines(layout: Layout, face: FacePlan, row: Bank | None) -> Iterator[Outline]:
    unit = face.length.unit
    nought = read_quantity(f"0 {unit}")
    corners = (
        (nought, nought),
        (face.length, nought),
        (face.length, face.width),
        (nought, face.width),
        (nought, nought),
    )
    for side, ends in enumerate(
        pairwise(corners), start=1
    ):  # one by one: a program that smooths the rings smooths all
        yield Outline(name=f"edge_{side}", words="edge of the face", points=ends)
    if face.bores_across is not None and row is not None:
        radius = layout.spec.bores.standard.low
        assert radius is not None  # a Band has both ends
        for number, centre in zip(row.cylinders, row.centres, strict=True):
            ring = tuple(
                _ring(centre.to(unit), face.bores_across.to(unit), radius.to(unit) / 2, unit)
            )
            yield Outline(name=f"bore_{number}", words=f"bore {number}", points=ring, smooth=True)


def _ring(
    along: float, across: float, radius: float, unit: str
) -> Iterator[tuple[Quantity, Quantity]]:
    for corner in range(CORNERS + 1):
        turn = 2 * math.pi * corner / CORNERS
        yield (
            _size(along + radius * math.cos(turn), unit),
            _size(across + radius * math.sin(turn), unit),
        )


def _size(number: float, unit: str) -> Quantity:
    return read_quantity(f"{number:.3f} {unit}")


def _places(face: str, groups: list[Group]) -> Table:
    of_hole = {name: one for one in groups for name in one.spec.names}
    return Table(
        key=f"map_{face}",
        title=f"Places: {groups[0].face_words}",
        heading="Hole",
        rows=[
            Row(name, f"{'▲ DANGER ' if one.spec.danger_of(name) else ''}{name}")
            for name, one in of_hole.items()
        ],
        columns=tuple(_columns(of_hole)),
    )


def _columns(of_hole: dict[str, Group]) -> Iterator[Column]:
    def place(axis: int) -> Any:
        return lambda row: of_hole[row].spec.places[of_hole[row].spec.names.index(row)][axis]

    first = next(iter(of_hole.values()))
    unit = place(0)(first.spec.names[0]).unit
    size: dict[str, Any] = {"unit": unit, "decimals": 1 if unit == "mm" else 3}
    away = first.outline.width if first.outline else place(1)(first.spec.names[0])
    elsewhere = read_quantity(f"{-10 * away.to(unit):.6f} {unit}")
    tick = lambda row: f"holes_{of_hole[row].spec.key}.{row}.done"  # noqa: E731  # a column's input by its row
    yield words("thread", "thread", lambda row: of_hole[row].thread.designation, width=15)
    yield Given(name="along", words="along", value=place(0), **size)
    yield Given(name="across", words="across", value=place(1), **size)
    yield words("below", "what to mind", lambda row: _minded(of_hole[row], row))
    for name, equation in (
        ("open_at", hole_safety.shown_where_open),
        ("done_at", hole_safety.shown_where_done),
    ):
        across = lambda row: f"map_{of_hole[row].spec.on}.{row}.across"  # noqa: E731
        inputs: dict[str, Any] = {"tick": tick, "place": across, "elsewhere": elsewhere}
        yield Result(
            name=name, words=name.replace("_", " "), equation=equation, inputs=inputs, **size
        )
    danger = lambda row: place(1)(row) if of_hole[row].spec.danger_of(row) else elsewhere  # noqa: E731
    yield Given(name="danger_at", words="danger at", value=danger, **size)
    yield Given(
        name="named_at",
        words="named at",
        value=lambda row: _named_at(of_hole[row], place(1)(row)),
        **size,
    )


def _named_at(group: Group, across: Quantity) -> Quantity:
    """Where the name of a hole stands: above its mark, below it in the upper half, so that it stays
    inside the face.
    """
    if group.outline is None:
        return across
    unit, longer = (
        across.unit,
        max(group.outline.length.to(across.unit), group.outline.width.to(across.unit)),
    )
    upper = across.to(unit) > group.outline.width.to(unit) / 2
    return _size(across.to(unit) + (-ASIDE if upper else ASIDE) * longer, unit)


def _minded(group: Group, name: str) -> str | None:
    danger = group.spec.danger_of(name)
    return f"over {danger.over}, {danger.floor.text} below the face" if danger else None
