"""Pictures of cells, drawn by the spreadsheet program from the cells themselves; decoration that no
verdict rests on.
"""

from __future__ import annotations

from typing import Any

from xlsxwriter.workbook import Workbook

from datumbook.cells.tables import ROW_PIXELS, Picture, Series
from datumbook.workbook.layout import Layout
from datumbook.workbook.styles import INK, PICTURE_FONT, RULE, SERIES_STYLES

WIDTH = 440  # pixels: two beside each other stay on the page
CHART_KINDS: dict[str, dict[str, str]] = {
    "bars": {"type": "bar", "subtype": "stacked"},
    "lines": {"type": "line"},
    "columns": {"type": "column"},
}


def drawn(book: Workbook, layout: Layout, picture: Picture) -> Any:
    """Return the chart of a picture, ready to be inserted."""
    chart = book.add_chart(CHART_KINDS[picture.kind])
    for place, series in enumerate(picture.series):
        chart.add_series(_series(layout, picture, series, place))
    chart.set_title(
        {
            "name": picture.title,
            "name_font": PICTURE_FONT | {"bold": True, "size": 10},
            "overlay": False,
        }
    )
    axis = {
        "num_font": PICTURE_FONT,
        "line": {"color": RULE},
        "major_gridlines": {"visible": False},
        "label_position": "low",
    }
    values = {
        **axis,
        "major_gridlines": {"visible": True, "line": {"color": RULE, "width": 0.5}},
        "name": picture.value_words,
        "name_font": PICTURE_FONT,
    }
    chart.set_x_axis(values if picture.kind == "bars" else axis)
    chart.set_y_axis(axis | {"reverse": True} if picture.kind == "bars" else values)
    chart.set_legend(
        {"position": "bottom", "font": PICTURE_FONT} if len(picture.series) > 1 else {"none": True}
    )
    chart.set_size({"width": WIDTH, "height": ROW_PIXELS * picture.lines - 8})
    chart.set_chartarea({"border": {"color": RULE}})
    return chart


def offset(picture: Picture) -> dict[str, int]:
    """How far to the right of the sheet's edge a picture begins, in pixels."""
    return {"y_offset": 4, "x_offset": 4 + picture.beside * (WIDTH + 12), "object_position": 2}


def _series(layout: Layout, picture: Picture, series: Series, place: int) -> dict[str, Any]:
    colour, dash, marker = SERIES_STYLES[place % len(SERIES_STYLES)]
    sheet, first, column, last = _column(layout, series.values)
    found: dict[str, Any] = {
        "name": series.words,
        "categories": [sheet, first, 0, last, 0],
        "values": [sheet, first, column, last, column],
    }
    filled: dict[str, Any] = {"fill": {"color": colour}}
    if picture.kind == "lines":
        return found | {
            "marker": {"type": marker, "size": 6, **filled, "border": {"color": colour}},
            "line": {"color": colour, "width": 1.5, "dash_type": dash},
        }
    if place == 1:
        filled = {"pattern": {"pattern": "wide_upward_diagonal", "fg_color": colour}}
    return found | filled | {"border": {"color": INK, "width": 0.5}, "gap": 60}


def _column(layout: Layout, keys: Any) -> tuple[str, int, int, int]:
    """Sheet, first row, column and last row of cells in one unbroken column, counted from 0."""
    at = [layout.address(key) for key in keys]
    start = at[0]
    unbroken = [(start.row + step, start.column) for step in range(len(at))]
    if [(one.row, one.column) for one in at] != unbroken:
        raise ValueError(f"{keys[0]} and what follows do not stand in one unbroken column")
    return start.sheet, start.row - 1, start.column - 1, at[-1].row - 1
