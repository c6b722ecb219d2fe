"""How the book looks: one calm palette, checked to read in grey and to tell apart without colour.

Readings are the only tinted cells; verdicts carry their word, so that colour only helps.
"""

from __future__ import annotations

from typing import Any

from datumbook.cells.columns import DateTyped, Given, Reading, Result, per
from datumbook.workbook.placed import Place
from datumbook.workbook.printed import printer

INK, SOFT, RULE, PAPER = "#1F2A30", "#5B6870", "#B9C2C7", "#FFFFFF"
READING_FILL, HEADING_FILL, PART_INK = "#FFF3D1", "#E6ECEE", "#0F4C5C"
FONT = "Arial"  # or whatever the machine has with its measures

BASE = {
    "font_name": FONT,
    "font_size": 10,
    "font_scheme": "none",  # else some programs take the font of the theme
    "font_color": INK,
    "valign": "vcenter",
}
BOXED = {"border": 1, "border_color": RULE}
TO_FILL = {"border": 1, "border_color": SOFT}  # a box one can find without its tint
TABS = {"received": "#CFDAD6", "planned": "#D98E04", "finished": PART_INK}  # lightest to darkest

TEXT_STYLES: dict[str, dict[str, Any]] = {
    "title": {"font_size": 16, "bold": True},
    "identity": {"font_color": SOFT, "underline": 1},  # it leads to the first sheet
    "section": {"font_size": 14, "bold": True},  # a station that shares its sheet
    "how": {"font_color": SOFT, "text_wrap": True, "valign": "top"},
    "part": {
        "font_size": 12,
        "bold": True,
        "font_color": PART_INK,
        "bottom": 2,
        "bottom_color": PART_INK,
    },
    "note": {"font_color": SOFT, "italic": True, "text_wrap": True, "valign": "top"},
    "source": {"font_color": SOFT, "italic": True, "text_wrap": True, "valign": "top"},
    "heading": {
        "bold": True,
        "bg_color": HEADING_FILL,
        "text_wrap": True,
        "align": "center",
        **BOXED,
    },
    "limit_words": {"font_color": SOFT, "align": "right", **BOXED},
    "row": {"text_wrap": True, **BOXED},
    "unit": {"font_color": SOFT, "indent": 1, **BOXED},
    "line_note": {"font_color": SOFT, "italic": True, "text_wrap": True},
    "prose": {"text_wrap": True, "valign": "top"},
}

# colour, dash and marker of the lines and bars of a picture: told apart in grey too
SERIES_STYLES = (
    ("#0F4C5C", "solid", "circle"),
    ("#D98E04", "dash", "square"),
    ("#CFDAD6", "round_dot", "triangle"),
)
# columns that hold a verdict's word, without being verdicts on another
JUDGED = (
    "verdict",
    "turn",
    "made",
    "alike",
    "standing",
    "by_itself",
    "release_state",
    "state",
    "unfit",
)
VERDICT_STYLES: dict[str, dict[str, Any]] = {
    "OK": {"bg_color": "#D3E8E4", "font_color": "#0B3D36"},
    "OUT": {"bg_color": "#8F2D1F", "font_color": "#FFFFFF", "bold": True},
    "UNSURE": {"bg_color": "#F3C65A", "font_color": INK, "bold": True},
    "STALE": {"bg_color": "#C9C2DE", "font_color": INK, "bold": True},
    "OPEN": {"bg_color": "#ECEFF0", "font_color": SOFT, "italic": True},
    "holds": {"font_color": "#8F2D1F", "bold": True},
    "conceded": {"font_color": INK, "italic": True},
}


def text_style(style: str) -> dict[str, Any]:
    """The format of printed words."""
    return BASE | TEXT_STYLES[style]


def place_style(place: Place, typed: object = None) -> dict[str, Any]:
    """The format of a keyed cell, with its decimals."""
    look: dict[str, Any] = BASE | BOXED | {"num_format": number_format(place)}
    if place.role == "verdict" or place.unit is None:
        look |= {"align": "center" if says_verdict(place) else "left"}
        look |= {"text_wrap": True} if place.role in {"given", "reading"} else {}
    if place.role == "reading":
        look |= {"bg_color": READING_FILL, "locked": False, "font_size": 11, **TO_FILL}
    if place.column is not None and place.column.runs_on:
        look |= {"border": 0, "text_wrap": False}
    if isinstance(place.column, Given):
        look |= {"font_color": SOFT}
    if place.column is not None and (size := per(place.column.type_size, place.row)) != 1.0:
        look |= {"font_size": BASE["font_size"] * size}
    if isinstance(typed, DateTyped):
        look |= {"num_format": "d\\-mmm"}
    return look


def says_verdict(place: Place) -> bool:
    """Say whether a cell holds a verdict's word."""
    name = place.column.name if place.column is not None else ""
    return place.role == "verdict" or name in JUDGED or name.endswith(".verdict")


def number_format(place: Place) -> str:
    """The digits that are printed everywhere; words are text cells, and a day that is shown again
    is one too where a program made a number of it.
    """
    if isinstance(place.column, Result) and place.column.day:
        return "yyyy-mm-dd"
    if place.unit is None:
        return "@" if isinstance(place.column, Reading) else "General"
    return printer(place).number_format


UNPRINTED = {  # there, and not seen
    "font_color": PAPER,
    "bg_color": PAPER,
    "border": 0,
    "underline": 0,
}
LARGE_PRINT = {"bold": True, "font_color": INK, "indent": 1}  # what is read at arm's length
PICTURE_FONT = {"name": FONT, "size": 9, "color": INK}
LIMIT_LINE = {"color": INK, "width": 1.0, "dash_type": "long_dash"}  # across a picture
OUTLINE_LINE = {"color": SOFT, "width": 1.25}
MARKS: dict[
    str, dict[str, Any]
] = {  # told apart by shape, then by colour; filled, as some programs draw no border
    "open": {
        "type": "circle",
        "size": 10,
        "border": {"color": INK, "width": 1.5},
        "fill": {"color": "#D9A441"},
    },
    "done": {
        "type": "square",
        "size": 9,
        "border": {"color": "#0B3D36"},
        "fill": {"color": "#0B3D36"},
    },
    "danger": {
        "type": "triangle",
        "size": 20,
        "border": {"color": "#8F2D1F", "width": 2.25},
        "fill": {"none": True},
    },
    "hole": {"type": "circle", "size": 6, "border": {"color": INK}, "fill": {"color": INK}},
    "alarm": {
        "type": "triangle",
        "size": 14,
        "border": {"color": "#8F2D1F"},
        "fill": {"color": "#8F2D1F"},
    },
    "name": {"type": "none"},
}
