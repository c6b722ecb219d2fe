"""Pictures of cells, drawn by the spreadsheet program from the cells themselves; decoration that no
verdict rests on.

Their scales are known before anything is read, so that pictures alike can be held against each
other. Cells that are blank leave gaps, and a bar of nothing has no edge that could be seen.
"""

from __future__ import annotations

import math
from typing import Any

from xlsxwriter.workbook import Workbook

from datumbook.cells.scales import LimitLine
from datumbook.cells.tables import ROW_PIXELS, Picture, Series
from datumbook.workbook.layout import Layout
from datumbook.workbook.styles import LIMIT_LINE, PAPER, PICTURE_FONT, RULE, SERIES_STYLES

WIDTH = 440  # pixels: two beside each other stay on the page
CHART_KINDS: dict[str, dict[str, str]] = {
    "bars": {"type": "bar", "subtype": "stacked"},
    "lines": {"type": "line"},
    "columns": {"type": "column"},
}
ALLOWED = 100  # %: the end of an allowance, which bars are drawn against


def drawn(book: Workbook, layout: Layout, picture: Picture) -> Any:
    """Return the chart of a picture, ready to be inserted."""
    chart, limits = book.add_chart(CHART_KINDS[picture.kind]), picture.scale.limits
    for place, series in enumerate(picture.series):
        chart.add_series(_series(layout, picture, series, place))
    if limits:
        across = chart if picture.kind == "lines" else book.add_chart(CHART_KINDS["lines"])
        for limit in limits:
            across.add_series(_limit(layout, picture, limit))
        if across is not chart:
            chart.combine(across)
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
    values = axis | _values(picture)
    chart.set_x_axis(values if picture.kind == "bars" else axis)
    chart.set_y_axis(axis | {"reverse": True} if picture.kind == "bars" else values)
    chart.set_legend(_legend(picture))
    chart.set_size({"width": WIDTH, "height": ROW_PIXELS * picture.lines - 8})
    chart.set_chartarea({"border": {"color": RULE}, "fill": {"color": PAPER}})
    chart.show_blanks_as("gap")
    return chart


def inserted(picture: Picture) -> dict[str, Any]:
    """Where a picture begins to the right of the sheet's edge, in pixels, and what it shows in
    words, for whoever does not see it.
    """
    return {
        "y_offset": 4,
        "x_offset": 4 + picture.beside * (WIDTH + 12),
        "object_position": 2,
        "description": described(picture),
    }


def described(picture: Picture) -> str:
    """What a picture shows, in words: what is drawn, from where to where, and its limits."""
    low, high, _ = picture.scale.ends
    unit = picture.scale.unit
    said = [one.words for one in picture.series]
    limits = [f"{one.words} {one.size.text}" for one in picture.scale.limits]
    return (
        f"{picture.title}. {_listed('Drawn', said)} Scale from {low:g} to {high:g} {unit}. "
        f"{_listed('Limits', limits)}The figures stand in the table."
    )


def _listed(what: str, said: list[str]) -> str:
    return f"{what}: {', '.join(said)}. " if said else ""


def _legend(picture: Picture) -> dict[str, Any]:
    """The legend: of limits that share their words the first alone; none for a single series."""
    said = [one.words for one in picture.series] + [one.words for one in picture.scale.limits]
    if len(said) == 1:
        return {"none": True}
    again = [at for at, words in enumerate(said) if words in said[:at]]
    return {"position": "bottom", "font": PICTURE_FONT, "delete_series": again}


def _values(picture: Picture) -> dict[str, Any]:
    """The axis of the values: its ends are those of the scale, its lines faint; of bars the end of
    the whole allowance alone is drawn, as their limit.
    """
    low, high, step = picture.scale.ends
    faint = {"visible": True, "line": {"color": RULE, "width": 0.5}}
    found = {
        "major_gridlines": faint,
        "name": picture.value_words,
        "name_font": PICTURE_FONT,
        "min": low,
        "max": high,
        "major_unit": step,
        "num_format": f"{0:.{max(0, -math.floor(math.log10(step)))}f}",
    }
    if picture.kind != "bars":
        return found
    return found | {
        "major_unit": ALLOWED,
        "minor_unit": step,
        "major_gridlines": {"visible": True, "line": LIMIT_LINE},
        "minor_gridlines": faint,
    }


def _series(layout: Layout, picture: Picture, series: Series, place: int) -> dict[str, Any]:
    colour, dash, marker = SERIES_STYLES[place % len(SERIES_STYLES)]
    found = _cells(layout, series.values) | {"name": series.words}
    filled: dict[str, Any] = {"fill": {"color": colour}}
    if picture.kind == "lines":
        return found | {
            "marker": {"type": marker, "size": 6, **filled, "border": {"color": colour}},
            "line": {"color": colour, "width": 1.5, "dash_type": dash},
        }
    return found | filled | {"border": {"none": True}, "gap": 60}


def _limit(layout: Layout, picture: Picture, limit: LimitLine) -> dict[str, Any]:
    """A limit straight across, from the first row to the last."""
    rows = _cells(layout, picture.series[0].values)["categories"]
    return _cells(layout, picture.scale.cells(limit)) | {
        "name": limit.words,
        "categories": rows,
        "marker": {"type": "none"},
        "line": LIMIT_LINE,
    }


def _cells(layout: Layout, keys: Any) -> dict[str, Any]:
    """The values of a series and the words of their rows; ValueError where the cells do not stand
    in one unbroken column.
    """
    at = [layout.address(key) for key in keys]
    start = at[0]
    unbroken = [(start.row + step, start.column) for step in range(len(at))]
    if [(one.row, one.column) for one in at] != unbroken:
        raise ValueError(f"{keys[0]} and what follows do not stand in one unbroken column")
    first, last, column = start.row - 1, at[-1].row - 1, start.column - 1
    return {
        "categories": [start.sheet, first, 0, last, 0],
        "values": [start.sheet, first, column, last, column],
    }
