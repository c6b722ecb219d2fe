"""Map: a picture of each face with its holes by name, which are done, which must not break
through.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from itertools import pairwise

from datumbook.cells.columns import Given, Input, Per, Result, Sizes, per, words
from datumbook.cells.face_maps import FaceMap, Marks, Outline, PlotRoom
from datumbook.cells.handles import Key
from datumbook.cells.tables import PLOT_FRAME, PLOT_WIDE, ROW_PIXELS, Row, Sheet, Table
from datumbook.equations import hole_safety
from datumbook.grouping import grouped
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.spec.holes import FacePlan
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.hole_groups import Groups
from datumbook.stations.holes.single_lines import OwnLines
from datumbook.stations.received.shown import shown_words

TALLEST = 22  # rows
RING_CORNERS = 12  # of the ring through which a bore is drawn
BESIDE = 6  # the first column that is not printed
MARKED = {  # by the state of a hole: its words, those on the map's key, and where along that is
    "open": ("to do", "to do", 0.06),
    "done": ("done", "done", 0.34),
    "danger": ("must not break through", "danger hole", 0.62),
}
KEY_STRIP = 0.08  # of the face's longer side: the strip above it in which the key stands
ASIDE = 0.045  # of the face's longer side, from a mark to its name
FRONT = {
    "deck": ", front to the left",
    "bottom": ", front to the left",
    "left": ", front to the left",
    "right": ", front to the right",
}  # as one sees the face from outside
HOW_TO_MAP = (
    "● to do   ■ done   △ round it: danger hole, must not break through. Drawn to scale, seen from "
    "outside the block; a hole is done once "
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
        unit = groups[0].spec.places[0][1].unit
        sizes = Sizes(unit, 1 if unit == "mm" else 3)
        self.of_hole, self.tick = of_hole, tick
        along = sizes.given("along", "along", lambda row: of_hole[row].centres[row][0])
        across = sizes.given("across", "across", lambda row: of_hole[row].centres[row][1])
        super().__init__(
            key=f"map_{face}",
            title=f"Places: {groups[0].face_words}",
            heading="Hole",
            rows=[Row(name, f"{one.alarm(name)}{name}") for name, one in of_hole.items()],
            columns=(
                shown_words("thread", "thread", lambda row: own.thread[row], width=15),
                along,
                across,
                words("below", "what to mind", lambda row: _minded(of_hole[row], row)),
                *(self._marks(groups[0].outline, sizes, along, across)),
            ),
        )

    def _marks(
        self, face: FacePlan | None, sizes: Sizes, *places: Given
    ) -> Iterator[Given | Result]:
        """Where the marks of each state stand, and the names: the mark of a state that a hole is
        not in stands on that of the map's key.
        """
        if face is None:
            return
        of_hole, tick = self.of_hole, self.tick
        for state, equation in (
            ("open", hole_safety.shown_where_open),
            ("done", hole_safety.shown_where_done),
        ):
            for axis, place, key in zip(("along", "at"), places, on_key(face, state), strict=True):
                inputs: dict[str, Per[Input]] = {
                    "tick": lambda row: tick(of_hole[row], row),
                    "place": place,
                    "elsewhere": key,
                }
                yield sizes.result(f"{state}_{axis}", f"{state} {axis}", equation, **inputs)
        for axis, place, key in zip(("along", "at"), places, on_key(face, "danger"), strict=True):
            yield sizes.given(f"danger_{axis}", f"danger {axis}", self._dangerous(place, key))
        yield sizes.given("named_at", "named at", lambda row: _named_at(of_hole[row], row))

    def _dangerous(self, place: Given, key: Quantity) -> Per[Quantity | float | None]:
        """The place of a hole that must not break through, that of the key for another."""
        of_hole = self.of_hole
        return lambda row: per(place.value, row) if of_hole[row].spec.danger_of(row) else key


class HoleMap:
    """The maps of the faces whose holes have places."""

    # by group, where its holes are ticked as done; handed over once they are declared
    gauged: Mapping[str, Table]

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
        return self.gauged[group.spec.key].column("done")[hole]

    def sheet(self) -> Sheet:
        """The sheet of the maps."""
        parts: list[FaceMap | Table] = []
        wide = 0
        for face, groups in self.faces.items():
            outline = groups[0].outline
            if outline is not None:
                chart = self._picture(outline, groups, own_page=bool(parts))
                wide = max(wide, 2 * len(MARKED) + 1, 2 * len(chart.outlines))
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
            uncut=True,
        )

    def _picture(self, face: FacePlan, groups: list[GroupAtWork], own_page: bool) -> FaceMap:
        unit, places = face.length.unit, self.places[face.on]
        length, width = face.length.to(unit), face.width.to(unit)
        names = [name for one in groups for name in one.spec.names]
        title, rows = seen_from_outside(face, groups[0]), rows_for(length, width + strip(face))
        return FaceMap(
            key=f"picture_{face.on}",
            title=title,
            says=f"{title}. Holes {', '.join(names)}, true to scale, each marked as to do or done; "
            "those that must not break through in a triangle.",
            room=PlotRoom(across=PLOT_WIDE, high=rows * ROW_PIXELS, frame=PLOT_FRAME),
            unit=unit,
            length=length,
            width=width,
            over=strip(face),
            rows=rows,
            outlines=(*self.outlines(face, groups[0]), *_key_of_marks(face)),
            marks=[
                *(
                    Marks(
                        words=words_of_state,
                        rows=names,
                        along=places.column(f"{state}_along"),
                        across=places.column(f"{state}_at"),
                        style=state,
                    )
                    for state, (words_of_state, _, _) in MARKED.items()
                ),
                Marks(
                    words="names",
                    rows=names,
                    along=places.column("along"),
                    across=places.column("named_at"),
                    style="name",
                    labels=names,
                ),
            ],
            beside=BESIDE,
            own_page=own_page,
        )

    def outlines(self, face: FacePlan, group: GroupAtWork) -> Iterator[Outline]:
        """The edge of a face, and its bores."""
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


def seen_from_outside(face: FacePlan, group: GroupAtWork) -> str:
    """A face in words, and how one looks at it."""
    return f"{_capital(group.face_words)}{FRONT.get(face.of, '')}"


def _key_of_marks(face: FacePlan) -> Iterator[Outline]:
    """The marks that say in the strip what the others mean."""
    for state, (_, said, _) in MARKED.items():
        yield Outline(name=f"key_{state}", words=said, points=(on_key(face, state),), mark=state)


def strip(face: FacePlan) -> float:
    """How high the strip above a face is in which the key of its map stands, in its own unit."""
    unit = face.length.unit
    return KEY_STRIP * max(face.length.to(unit), face.width.to(unit))


def on_key(face: FacePlan, state: str) -> tuple[Quantity, Quantity]:
    """Where the mark of a state stands on the key of a map: along and across."""
    unit, (_, _, along) = face.length.unit, MARKED[state]
    length, width = face.length.to(unit), face.width.to(unit)
    return _size(along * length, unit), _size(width + strip(face) / 2, unit)


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
