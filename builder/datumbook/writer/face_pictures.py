"""The picture of a face, true to scale: its edge, its bores, and each hole by name with its state
told by shape.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from xlsxwriter.workbook import Workbook

from datumbook.cells.face_maps import FaceMap, Marks, Outline
from datumbook.workbook.layout import Layout
from datumbook.workbook.styles import MARKS, OUTLINE_LINE, PICTURE_FONT

EDGE_SHOWN = (
    1.002  # how far an axis runs past the edge of the face, so that its line is not cut off
)
UNSEEN = {  # an axis that gives the plot its ends and no more
    "label_position": "none",
    "line": {"none": True},
    "major_tick_mark": "none",
    "minor_tick_mark": "none",
}


def drawn_face(book: Workbook, layout: Layout, face: FaceMap, sheet: str, row: int) -> Any:
    """Return the chart of a face, ready to be inserted; the outlines' points stand beside it from
    this row on.
    """
    chart = book.add_chart({"type": "scatter", "subtype": "straight"})
    outlines = (_outline(face, outline, sheet, row) for outline in face.outlines)
    for series in (*outlines, *(_marks(layout, face, marks) for marks in face.marks)):
        chart.add_series(series)
    (across, up), frame = _plot(face), face.room.frame
    for axis, size, words in (
        (chart.set_x_axis, face.length, "along"),
        (chart.set_y_axis, face.width + face.over, "across"),
    ):
        ends = {"min": 0, "max": size * EDGE_SHOWN, "major_gridlines": {"visible": False}}
        axis(ends | (_named(words, face.unit) if face.room.axes else UNSEEN))
    whole = across + frame, up + frame
    left, top = (0.7, 0.15) if face.room.axes else (0.5, 0.5)
    chart.set_plotarea(
        {
            "layout": {
                "x": left * frame / whole[0],
                "y": top * frame / whole[1],
                "width": across / whole[0],
                "height": up / whole[1],
            }
        }
    )
    chart.set_legend({"none": True})
    chart.set_size({"width": round(whole[0]), "height": round(whole[1])})
    return chart


def _plot(face: FaceMap) -> tuple[float, float]:
    """Width and height of the plot in pixels, in the proportion of the face, inside the rows kept
    for it.
    """
    tall = face.width + face.over
    room = face.room
    up, most = room.across * tall / face.length, room.high - room.frame
    return (room.across * most / up, most) if up > most else (room.across, up)


def _named(words: str, unit: str) -> dict[str, Any]:
    """An axis with its words, its unit and its numbers."""
    return {
        "name": f"{words}, {unit}",
        "name_font": PICTURE_FONT,
        "num_font": PICTURE_FONT,
        "num_format": "0",
    }


def _outline(face: FaceMap, outline: Outline, sheet: str, row: int) -> dict[str, Any]:
    first, last = row - 1, row + len(outline.points) - 2
    along, across = (face.column_of(outline, axis) - 1 for axis in ("along", "across"))
    points = {
        "name": outline.words,
        "categories": [sheet, first, along, last, along],
        "values": [sheet, first, across, last, across],
    }
    if outline.mark:
        return points | _marked(outline.mark, [outline.words], {"position": "right"})
    return points | {"line": OUTLINE_LINE, "marker": {"type": "none"}, "smooth": outline.smooth}


def _marks(layout: Layout, face: FaceMap, marks: Marks) -> dict[str, Any]:
    """Points from two columns of a table."""
    cells = [
        [layout.address(column[row]) for row in (marks.rows[0], marks.rows[-1])]
        for column in (marks.along, marks.across)
    ]
    along, across = (
        [one.sheet, one.row - 1, one.column - 1, other.row - 1, other.column - 1]
        for one, other in cells
    )
    font = PICTURE_FONT | {"bold": True, "size": face.lettering.size}
    return {
        "name": marks.words,
        "categories": along,
        "values": across,
        **_marked(
            marks.style, marks.labels, {"position": marks.named or face.lettering.at, "font": font}
        ),
    }


def _marked(style: str, labels: Sequence[str], look: dict[str, Any]) -> dict[str, Any]:
    """Marks without a line between them, and the words at each."""
    said = {
        "value": True,
        "font": PICTURE_FONT,
        "custom": [{"value": one} if one else {"delete": True} for one in labels],
        **look,
    }
    return {
        "marker": MARKS[style],
        "line": {"none": True},
        **({"data_labels": said} if labels else {}),
    }
