"""A face of the block on the report page, true to scale: its edge, its bores, and each hole by name
with its state told by shape.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import dist
from statistics import fmean

from markupsafe import Markup

from datumbook.cells.face_maps import FaceMap, Marks
from datumbook.report.canvas import EDGE, HIGH, LETTER, LINE, WIDE, Canvas, Scale, cut_to
from datumbook.workbook import styles

HOLES = {name: (look["type"], name) for name, look in styles.MARKS.items()}
NAMED = 60  # holes of a face that still have room for their names
SIZES = {"open": 4.5, "done": 4.0, "danger": 9.0, "hole": 3.0, "alarm": 5.0}
ABOVE = 7.0  # pixels from a hole of a sketch up to its name


def drawn_face_map(face: FaceMap, values: Mapping[str, float]) -> Markup:
    """A face true to scale, as one looks down on it: its edge and bores, and its holes by name and
    state.
    """
    high, across, up = _scales(face)
    states = {
        marks.words: (marks.style, _inside(face, marks, values))
        for marks in face.marks
        if not marks.labels
    }
    told = "; ".join(
        f"{words}: {', '.join(holes)}" for words, (_, holes) in states.items() if holes
    )
    canvas = Canvas(WIDE, high + 1.2 * LINE, f"{face.title}. {told}")
    _outlined(canvas, face, across, up)
    named: dict[str, tuple[float, float]] = {}
    for style, holes in states.values():
        for name, (along, over) in holes.items():
            canvas.sign(*HOLES[style], across(along), up(over), half=SIZES[style])
            clear = SIZES[style] + 3
            named[name] = (
                across(along),
                up(over) + (clear + 8 if over > face.width / 2 else -clear),
            )  # inside the face
    for name, at in named.items() if len(named) <= NAMED else ():
        canvas.words(cut_to(name, 8 * LETTER), *at, "middle", "name")
    left = EDGE
    for words, (style, holes) in states.items():
        if not holes:
            continue
        canvas.sign(*HOLES[style], left + 5, high + LINE - 5)
        canvas.words(words, left + 14, high + LINE - 1)
        left += 30 + LETTER * len(words)
    return canvas.svg()


def drawn_sketch(face: FaceMap, holes: Sequence[str], values: Mapping[str, float]) -> Markup:
    """The face of a card true to scale: the holes of its walk by name and number, a dangerous one
    in a triangle of its own.
    """
    high, across, up = _scales(face)
    walked, *alarmed = face.marks
    labels = dict(zip(walked.rows, walked.labels, strict=True))
    dangerous = {row for marks in alarmed for row in marks.rows}
    order = ", ".join(labels[hole] for hole in holes if hole in labels)
    canvas = Canvas(WIDE, high + LINE, f"{face.title}. In walking order: {order}")
    _outlined(canvas, face, across, up)
    for hole, (along, over) in _inside(face, walked, values).items():
        if hole in holes:
            style = "alarm" if hole in dangerous else "hole"
            canvas.sign(*HOLES[style], across(along), up(over), half=SIZES[style])
            canvas.words(labels[hole], across(along), up(over) - ABOVE, "middle", "name")
    return canvas.svg()


def _scales(face: FaceMap) -> tuple[float, Scale, Scale]:
    """How high the drawing of a face is, and its scales along and across."""
    size = min((WIDE - 2 * EDGE) / face.length, HIGH / face.width)  # pixels to the unit
    high = size * face.width + 2 * EDGE
    across = Scale(0.0, face.length, EDGE, EDGE + size * face.length)
    return high, across, Scale(0.0, face.width, high - EDGE, EDGE)


def _outlined(canvas: Canvas, face: FaceMap, across: Scale, up: Scale) -> None:
    """The edge of a face, and its bores."""
    for outline in face.outlines:
        if outline.mark:  # of the key, which stands below here
            continue
        points = [
            (across(along.to(face.unit)), up(over.to(face.unit))) for along, over in outline.points
        ]
        if outline.smooth:  # round a bore
            x, y = (fmean(ends) for ends in zip(*points[1:], strict=True))
            canvas.sign("circle", "outline", x, y, dist((x, y), points[0]))
        else:
            canvas.line("outline", *points)


def _inside(
    face: FaceMap, marks: Marks, values: Mapping[str, float]
) -> dict[str, tuple[float, float]]:
    """Where each mark stands, by the name of its hole; one in another state stands on the key."""
    found = {}
    for row in marks.rows:
        along, over = (values.get(column[row]) for column in (marks.along, marks.across))
        if along is not None and over is not None and 0 <= over <= face.width:
            found[row] = (along, over)
    return found
