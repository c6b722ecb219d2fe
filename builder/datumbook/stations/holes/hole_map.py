"""Map: a picture of each face with its holes by name, which are done, which must not break
through.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from itertools import pairwise

from datumbook.cells.columns import Input, Per, Sizes, words
from datumbook.cells.handles import Key
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
from datumbook.grouping import grouped
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.spec.holes import FacePlan
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.hole_groups import Groups
from datumbook.stations.holes.holes import Holes
from datumbook.stations.holes.single_lines import OwnLines
from datumbook.stations.received.shown import shown_words

TALLEST = 22  # rows
RING_CORNERS = 12  # of the ring through which a bore is drawn
BESIDE = 6  # the first column that is not printed
MARKED = {
    "open_at": ("to do", "open"),
    "done_at": ("done", "done"),
    "danger_at": ("must not break through", "danger"),
    "named_at": ("names", "name"),
}
ASIDE = 0.045  # of the face's longer side, from a mark to its name
FRONT = {
    "deck": ", front to the left",
    "bottom": ", front to the left",
    "left": ", front to the left",
    "right": ", front to the right",
}  # as one sees the face from outside
HOW_TO_MAP = (
    "● to do   ■ done   △ round it: must not break through. Drawn to scale, seen from outside the "
    "block; a hole is done once "
    "it is ticked on the Holes sheet. Along from the left end, across from the lower edge."
)


class HolePlaces(Table):
    """Where the holes of one face stand, and where the marks of the map stand for them."""

    def __init__(
        self,
        face: str,
        groups: list[GroupAtWork],
        own: OwnLines,
        tick: Callable[[GroupAtWork, str], Key],
    ) -> None:
        of_hole = {name: one for one in groups for name in one.spec.names}
        high, outline = groups[0].spec.places[0][1], groups[0].outline
        unit, away = high.unit, outline.width if outline else high
        elsewhere = read_quantity(f"{-10 * away.to(unit):.6f} {unit}")
        sizes = Sizes(unit, 1 if unit == "mm" else 3)
        across = sizes.given("across", "across", lambda row: of_hole[row].centres[row][1])
        inputs: dict[str, Per[Input]] = {
            "tick": lambda row: tick(of_hole[row], row),
            "place": across,
            "elsewhere": elsewhere,
        }
        super().__init__(
            key=f"map_{face}",
            title=f"Places: {groups[0].face_words}",
            heading="Hole",
            rows=[Row(name, f"{one.alarm(name)}{name}") for name, one in of_hole.items()],
            columns=(
                shown_words("thread", "thread", lambda row: own.thread[row], width=15),
                sizes.given("along", "along", lambda row: of_hole[row].centres[row][0]),
                across,
                words("below", "what to mind", lambda row: _minded(of_hole[row], row)),
                sizes.result("open_at", "open at", hole_safety.shown_where_open, **inputs),
                sizes.result("done_at", "done at", hole_safety.shown_where_done, **inputs),
                sizes.given(
                    "danger_at",
                    "danger at",
                    lambda row: (
                        of_hole[row].centres[row][1]
                        if of_hole[row].spec.danger_of(row)
                        else elsewhere
                    ),
                ),
                sizes.given("named_at", "named at", lambda row: _named_at(of_hole[row], row)),
            ),
        )


class HoleMap:
    """The maps of the faces whose holes have places."""

    holes: Holes  # whose ticks the maps show; handed over once they are declared

    def __init__(self, groups: Groups, own: OwnLines) -> None:
        self.standard = groups.basis.spec.bores.standard
        self.faces = grouped((one.spec.on, one) for one in groups.all if one.spec.places)
        self.places = {
            face: HolePlaces(face, several, own, self._tick) for face, several in self.faces.items()
        }

    def of(self, group: GroupAtWork) -> HolePlaces:
        """The places of the face a group stands in."""
        return self.places[group.spec.on]

    def _tick(self, group: GroupAtWork, hole: str) -> Key:
        return self.holes.of(group).done[hole]

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
            read=True,
            title="Map of the holes",
            how=HOW_TO_MAP,
            parts=parts,
            behind=tuple(f"point {number}" for number in range(wide)),
            widths={1: 16, BESIDE - 1: 45},
            stage="finished",
        )

    def _picture(self, face: FacePlan, groups: list[GroupAtWork], own_page: bool) -> FaceMap:
        unit, places = face.length.unit, self.places[face.on]
        length, width = face.length.to(unit), face.width.to(unit)
        names = [name for one in groups for name in one.spec.names]
        return FaceMap(
            key=f"picture_{face.on}",
            title=f"{_capital(groups[0].face_words)}{FRONT.get(face.of, '')}",
            unit=unit,
            length=length,
            width=width,
            rows=rows_for(length, width),
            outlines=tuple(self._outlines(face, groups[0])),
            marks=[
                Marks(
                    words=said,
                    rows=names,
                    along=places.column("along"),
                    across=places.column(column),
                    style=style,
                    labels=names if style == "name" else (),
                )
                for column, (said, style) in MARKED.items()
            ],
            beside=BESIDE,
            own_page=own_page,
        )

    def _outlines(self, face: FacePlan, group: GroupAtWork) -> Iterator[Outline]:
        unit, standard = face.length.unit, self.standard.low
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
        for number, (along, across) in group.bores.items():
            ring = tuple(_ring(along.to(unit), across.to(unit), standard.to(unit) / 2, unit))
            yield Outline(name=f"bore_{number}", words=f"bore {number}", points=ring, smooth=True)


def rows_for(length: float, width: float) -> int:
    """How many rows a picture takes: as wide as the page, or at most TALLEST high."""
    return min(TALLEST, math.ceil((PLOT_WIDE * width / length + PLOT_FRAME) / ROW_PIXELS))


def _capital(said: str) -> str:
    return said[:1].upper() + said[1:]


def _ring(
    along: float, across: float, radius: float, unit: str
) -> Iterator[tuple[Quantity, Quantity]]:
    for corner in range(RING_CORNERS + 1):
        turn = 2 * math.pi * corner / RING_CORNERS
        yield (
            _size(along + radius * math.cos(turn), unit),
            _size(across + radius * math.sin(turn), unit),
        )


def _size(number: float, unit: str) -> Quantity:
    return read_quantity(f"{number:.3f} {unit}")


def _named_at(group: GroupAtWork, hole: str) -> Quantity:
    """Where the name of a hole stands: above its mark, below it in the upper half, so that it stays
    inside the face.
    """
    across, face = group.centres[hole][1], group.outline
    if face is None:
        return across
    unit = across.unit
    place, width = across.to(unit), face.width.to(unit)
    aside = ASIDE * max(face.length.to(unit), width)
    return _size(place - aside if place > width / 2 else place + aside, unit)


def _minded(group: GroupAtWork, name: str) -> str | None:
    danger = group.spec.danger_of(name)
    return f"over {danger.over}, {danger.floor.text} below the face" if danger else None
