"""The picture of a face, true to scale: its edge, its bores, and each hole by name with its state
told by shape.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from xlsxwriter.workbook import Workbook

from datumbook.cells.face_maps import FaceMap, Marks, Outline
from datumbook.cells.tables import PLOT_FRAME, PLOT_WIDE, ROW_PIXELS
from datumbook.workbook.layout import Layout
from datumbook.workbook.styles import MARKS, OUTLINE_LINE, PICTURE_FONT

EDGE_SHOWN = (
    1.002  # how far an axis runs past the edge of the face, so that its line is not cut off
)
NAMED_AT: dict[str, Any] = {"position": "center", "font": PICTURE_FONT | {"bold": True, "size": 14}}


def drawn_face(book: Workbook, layout: Layout, face: FaceMap, sheet: str, row: int) -> Any:
    """Return the chart of a face, ready to be inserted; the outlines' points stand beside it from
    this row on.
    """
    chart = book.add_chart({"type": "scatter", "subtype": "straight"})
    outlines = (_outline(face, outline, sheet, row) for outline in face.outlines)
    for series in (*outlines, *(_marks(layout, marks) for marks in face.marks)):
        chart.add_series(series)
    across, up = _plot(face)
    for axis, size, words in (
        (chart.set_x_axis, face.length, "along"),
        (chart.set_y_axis, face.width + face.over, "across"),
    ):
        axis(
            {
                "min": 0,
                "max": size * EDGE_SHOWN,
                "name": f"{words}, {face.unit}",
                "name_font": PICTURE_FONT,
                "num_font": PICTURE_FONT,
                "major_gridlines": {"visible": False},
                "num_format": "0",
            }
        )
    whole = across + PLOT_FRAME, up + PLOT_FRAME
    chart.set_plotarea(
        {
            "layout": {
                "x": 0.7 * PLOT_FRAME / whole[0],
                "y": 0.15 * PLOT_FRAME / whole[1],
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
    up, most = PLOT_WIDE * tall / face.length, face.rows * ROW_PIXELS - PLOT_FRAME
    return (PLOT_WIDE * most / up, most) if up > most else (PLOT_WIDE, up)


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


def _marks(layout: Layout, marks: Marks) -> dict[str, Any]:
    """Points from two columns of a table."""
    cells = [
        [layout.address(column[row]) for row in (marks.rows[0], marks.rows[-1])]
        for column in (marks.along, marks.across)
    ]
    along, across = (
        [one.sheet, one.row - 1, one.column - 1, other.row - 1, other.column - 1]
        for one, other in cells
    )
    return {
        "name": marks.words,
        "categories": along,
        "values": across,
        **_marked(marks.style, marks.labels, NAMED_AT),
    }


def _marked(style: str, labels: Sequence[str], look: dict[str, Any]) -> dict[str, Any]:
    """Marks without a line between them, and the words at each."""
    said = {
        "value": True,
        "font": PICTURE_FONT,
        "custom": [{"value": one} for one in labels],
        **look,
    }
    return {
        "marker": MARKS[style],
        "line": {"none": True},
        **({"data_labels": said} if labels else {}),
    }
