"""Map: a picture of each face with its holes by name, which are done, which must not break
through.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from datumbook.cells.columns import Column, Sizes, words
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
from datumbook.stations.holes.holes import Holes

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


class HolePlaces(Table):
    """Where the holes of one face stand, and where the marks of the map stand for them."""

    along: Column
    across: Column
    open_at: Column
    done_at: Column
    danger_at: Column
    named_at: Column


class HoleMap:
    """The maps of the faces whose holes have places."""

    holes: Holes  # whose ticks the maps show; handed over once they are declared

    def __init__(self, groups: Groups) -> None:
        self.standard = groups.basis.spec.bores.standard
        self.faces: dict[str, list[Group]] = {}
        for one in groups.all:
            if one.spec.places:
                self.faces.setdefault(one.spec.on, []).append(one)
        self.places = {face: self._places(face, own) for face, own in self.faces.items()}

    def of(self, group: Group) -> HolePlaces:
        """The places of the face a group stands in."""
        return self.places[group.spec.on]

    def sheet(self) -> Sheet:
        """The sheet of the maps."""
        parts: list[FaceMap | Table] = []
        wide = len(MARKED)
        for face, groups in self.faces.items():
            outline = groups[0].outline
            if outline is not None:
                chart = self._picture(outline, groups, own_page=bool(parts))
                wide = max(wide, 2 * len(chart.outlines))
                parts.append(chart)
            parts.append(self.places[face])
        return Sheet(
            name="Map",
            title="Map of the holes",
            how=HOW,
            parts=parts,
            behind=tuple(f"point {number}" for number in range(wide)),
            widths={1: 16, BESIDE - 1: 45},
            stage="finished",
        )

    def _picture(self, face: FacePlan, groups: list[Group], own_page: bool) -> FaceMap:
        unit, places = face.length.unit, self.places[face.on]
        length, width = face.length.to(unit), face.width.to(unit)
        names = [name for one in groups for name in one.spec.names]
        marks = [
            Marks(words=said, rows=names, along=places.along, across=across, style=style)
            for said, across, style in (
                ("to do", places.open_at, "open"),
                ("done", places.done_at, "done"),
                ("must not break through", places.danger_at, "danger"),
                ("names", places.named_at, "name"),
            )
        ]
        marks[-1] = replace(marks[-1], labels=names)
        return FaceMap(
            key=f"picture_{face.on}",
            title=f"{_capital(groups[0].face_words)}{FRONT.get(face.of, '')}",
            unit=unit,
            length=length,
            width=width,
            rows=rows_for(length, width),
            outlines=tuple(self._outlines(face, groups[0].row)),
            marks=marks,
            beside=BESIDE,
            own_page=own_page,
        )

    def _outlines(self, face: FacePlan, row: Bank | None) -> Iterator[Outline]:
        unit = face.length.unit
        nought = read_quantity(f"0 {unit}")
        corners = (
            (nought, nought),
            (face.length, nought),
            (face.length, face.width),
            (nought, face.width),
            (nought, nought),
        )
        # one by one: a program that smooths the rings smooths all
        for side, ends in enumerate(pairwise(corners), start=1):
            yield Outline(name=f"edge_{side}", words="edge of the face", points=ends)
        if face.bores_across is not None and row is not None:
            radius = self.standard.low
            for number, centre in zip(row.cylinders, row.centres, strict=True):
                ring = tuple(
                    _ring(centre.to(unit), face.bores_across.to(unit), radius.to(unit) / 2, unit)
                )
                yield Outline(
                    name=f"bore_{number}", words=f"bore {number}", points=ring, smooth=True
                )

    def _places(self, face: str, groups: list[Group]) -> HolePlaces:
        of_hole = {name: one for one in groups for name in one.spec.names}
        return HolePlaces(
            key=f"map_{face}",
            title=f"Places: {groups[0].face_words}",
            heading="Hole",
            rows=[Row(name, f"{one.alarm(name)}{name}") for name, one in of_hole.items()],
            columns=tuple(self._columns(of_hole)),
        )

    def _columns(self, of_hole: dict[str, Group]) -> Iterator[Column]:
        places = {
            name: place
            for one in dict.fromkeys(of_hole.values())
            for name, place in zip(one.spec.names, one.spec.places, strict=True)
        }
        first = next(iter(of_hole.values()))
        along, high = places[first.spec.names[0]]
        unit = along.unit
        sizes = Sizes(unit, 1 if unit == "mm" else 3)
        away = first.outline.width if first.outline else high
        elsewhere = read_quantity(f"{-10 * away.to(unit):.6f} {unit}")
        across = sizes.given("across", "across", lambda row: places[row][1])
        yield words("thread", "thread", lambda row: of_hole[row].thread.designation, width=15)
        yield sizes.given("along", "along", lambda row: places[row][0])
        yield across
        yield words("below", "what to mind", lambda row: _minded(of_hole[row], row))
        for name, equation in (
            ("open_at", hole_safety.shown_where_open),
            ("done_at", hole_safety.shown_where_done),
        ):
            yield sizes.result(
                name,
                name.replace("_", " "),
                equation,
                tick=lambda row: self.holes.of(of_hole[row]).done[row],
                place=across,
                elsewhere=elsewhere,
            )
        danger = lambda row: places[row][1] if of_hole[row].spec.danger_of(row) else elsewhere  # noqa: E731
        yield sizes.given("danger_at", "danger at", danger)
        named = lambda row: _named_at(of_hole[row], places[row][1])  # noqa: E731  # a value by its row
        yield sizes.given("named_at", "named at", named)


def rows_for(length: float, width: float) -> int:
    """How many rows a picture takes: as wide as the page, or at most TALLEST high."""
    return min(TALLEST, math.ceil((PLOT_WIDE * width / length + PLOT_FRAME) / ROW_PIXELS))


def _capital(said: str) -> str:
    return said[:1].upper() + said[1:]


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
