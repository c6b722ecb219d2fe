"""Pictures of cells, drawn by the spreadsheet program from the cells themselves; decoration that no
verdict rests on.
"""

from __future__ import annotations

from typing import Any

from xlsxwriter.workbook import Workbook

from datumbook.cells.tables import ROW_PIXELS, Picture, Series
from datumbook.workbook.layout import Layout
from datumbook.workbook.styles import INK, PICTURE_FONT, RULE, SERIES

WIDTH = 440  # pixels: two beside each other stay on the page
KINDS: dict[str, dict[str, str]] = {
    "bars": {"type": "bar", "subtype": "stacked"},
    "lines": {"type": "line"},
    "columns": {"type": "column"},
}


def drawn(book: Workbook, layout: Layout, picture: Picture) -> Any:
    """Return the chart of a picture, ready to be inserted."""
    chart = book.add_chart(KINDS[picture.kind])
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
        "name_font": PICTURE_FONT,
    }
    if picture.value_words:
        values["name"] = picture.value_words
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
    colour, dash, marker = SERIES[place % len(SERIES)]
    found: dict[str, Any] = {"name": series.words, "values": _column(layout, series.values)}
    found["categories"] = _row_words(layout, series.values)
    if picture.kind == "lines":
        found["marker"] = {
            "type": marker,
            "size": 6,
            "fill": {"color": colour},
            "border": {"color": colour},
        }
        found["line"] = {"color": colour, "width": 1.5, "dash_type": dash}
    else:
        pattern = (
            {"fill": {"color": colour}}
            if place != 1
            else {"pattern": {"pattern": "wide_upward_diagonal", "fg_color": colour}}
        )
        found |= {**pattern, "border": {"color": INK, "width": 0.5}, "gap": 60}
    return found


def _column(layout: Layout, keys: Any) -> list[Any]:
    """The range of cells in one unbroken column."""
    at = [layout.address(key) for key in keys]
    rows = [one.row for one in at]
    if {one.column for one in at} != {at[0].column} or rows != list(
        range(rows[0], rows[0] + len(rows))
    ):
        raise ValueError(f"{keys[0]} and what follows do not stand in one unbroken column")
    return [at[0].sheet, rows[0] - 1, at[0].column - 1, rows[-1] - 1, at[0].column - 1]


def _row_words(layout: Layout, keys: Any) -> list[Any]:
    sheet, first, _, last, _ = _column(layout, keys)
    return [sheet, first, 0, last, 0]
