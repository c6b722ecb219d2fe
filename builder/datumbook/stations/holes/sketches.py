"""Sketches: each face on its cards, its holes numbered as they are walked."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Literal

from datumbook.cells.face_maps import FaceMap, Lettering, Marks, PlotRoom
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.hole_map import HoleMap, seen_from_outside

ACROSS, HIGHEST, FRAME = 470.0, 160.0, 40.0  # pixels: the plot, all of it, what is round it
NAMED_AT: tuple[Literal["above", "below"], ...] = ("above", "below")
OTHER_SIDE: dict[str, Literal["above", "below"]] = {"above": "below", "below": "above"}
CROWDED = 0.2  # of the length of a face
NAMES_SIZE = 10  # points: 9 on a card, which is printed smaller to be two a page


def sketch(
    places: HoleMap, groups: list[GroupAtWork], set_up: int, beside: int, row_pixels: float
) -> FaceMap | None:
    """The face of these groups as it lies in a set-up; None where the spec does not say where its
    holes stand, or how large it is.

    row_pixels: how high a row of the sheet is.
    """
    face = groups[0].outline
    if face is None or groups[0].spec.on not in places.places:
        return None
    table, unit = places.of(groups[0]), face.length.unit
    length, width = face.length.to(unit), face.width.to(unit)
    high = min(HIGHEST, ACROSS * width / length + FRAME)
    labels = dict(label for one in groups if one.centres for label in _labels(one))
    centres = {hole: at for one in groups for hole, at in one.centres_mm.items() if hole in labels}
    sides = _sides(centres, face.width.to("mm"), face.length.to("mm") * CROWDED)
    dangers = [danger.hole for one in groups for danger in one.spec.danger if danger.hole in labels]
    title = f"Set-up {set_up}: {seen_from_outside(face, groups[0])}"
    return FaceMap(
        key=f"sketch_{set_up}",
        title=title,
        says=f"{title}. Holes in walking order: {', '.join(labels.values())}. True to scale.",
        unit=unit,
        length=length,
        width=width,
        over=0.0,
        rows=math.ceil(high / row_pixels),
        room=PlotRoom(across=ACROSS, high=high, frame=FRAME, axes=False),
        outlines=tuple(places.outlines(face, groups[0])),
        marks=[
            *(
                Marks(
                    words=f"holes in walking order, named {at}",
                    rows=list(labels),
                    along=table.column("along"),
                    across=table.column("across"),
                    style="hole",
                    labels=[
                        label if sides[hole] == at and hole not in dangers else ""
                        for hole, label in labels.items()
                    ],
                    named=at,
                )
                for at in NAMED_AT
            ),
            *(
                Marks(
                    words=f"must not break through: {name}",
                    rows=[name],
                    along=table.column("along"),
                    across=table.column("across"),
                    style="alarm",
                    labels=[labels[name]],  # at the larger mark, to stand clear of it
                    named=sides[name],
                )
                for name in dangers
            ),
        ],
        beside=beside,
        lettering=Lettering(NAMES_SIZE, "above"),
        sketch=True,
    )


def _sides(
    centres: dict[str, tuple[float, float]], width: float, close: float
) -> dict[str, Literal["above", "below"]]:
    """Whether each hole is named above or below: outward, and by turns along a row whose holes
    stand closer than their names are long.
    """
    found: dict[str, Literal["above", "below"]] = {}
    for outward in NAMED_AT:
        row = [
            (along, hole)
            for hole, (along, across) in centres.items()
            if (across >= width / 2) == (outward == "above")
        ]
        last = None
        for along, hole in sorted(row):
            near = last is not None and along - last[0] < close and found[last[1]] == outward
            found[hole] = OTHER_SIDE[outward] if near else outward
            last = along, hole
    return found


def _labels(group: GroupAtWork) -> Iterator[tuple[str, str]]:
    """The holes of a group as the spec names them, each with its number in the walk."""
    number = {name: at for at, name in enumerate(group.walk, start=1)}
    for name in group.spec.names:
        yield name, f"{'▲' if group.spec.danger_of(name) else ''}{number[name]} {name}"
