"""Pictures and boxes that lie over the cells of an .ods sheet; its charts are left out.

Source: OASIS OpenDocument 1.3 part 3, 10 (graphics) and 19.627 (where a shape ends), from memory.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.readers.markup import Element
from datumbook.readers.ods_rules import TABLE, TEXT, areas_named
from datumbook.readers.ods_styles import points
from datumbook.readers.rules import CellArea

DRAW, SVG = (
    f"{{urn:oasis:names:tc:opendocument:xmlns:{name}:1.0}}"
    for name in ("drawing", "svg-compatible")
)
SHAPES = f"{TABLE}shapes"
A_ROW, _WIDE = 15.0, 50.0  # points: a row and a column as they mostly are
_HIDES = 2 / 3  # of a row or column: so much of it covered hides what stands in it


def laid_over_by(
    element: Element, row: int = 1, column: int = 1, high: float = A_ROW
) -> Iterator[tuple[CellArea, str]]:
    """Yield the cells that each picture or box in a cell, or on the whole sheet, covers, and what
    it is with its words; `high` is the row of that cell, in points.
    """
    for shape in element:
        if shape.tag.startswith(DRAW) and not any(
            child.tag in (f"{DRAW}object", f"{DRAW}object-ole") for child in shape
        ):
            paragraphs = shape.iter(f"{TEXT}p")
            words = " ".join("".join(map(str, one.itertext())) for one in paragraphs).strip()[:40]
            picture = any(child.tag == f"{DRAW}image" for child in shape)
            thing = "a picture" if picture else "a box"
            said = f"{thing} with the words “{words}”" if words else thing
            yield _covered_cells(shape, row, column, high), said


def _covered_cells(shape: Element, row: int, column: int, row_high: float) -> CellArea:
    down, across = (points(shape.get(f"{SVG}{way}", ""), 0.0) for way in ("y", "x"))
    ends = areas_named(shape.get(f"{TABLE}end-cell-address", ""))
    top, left = row + _lines(down, A_ROW), column + _lines(across, _WIDE)
    if ends:
        (bottom, right, _, _) = ends[0]
        below, behind = (points(shape.get(f"{TABLE}end-{way}", ""), 0.0) for way in ("y", "x"))
        last_high = max(A_ROW, row_high) if bottom == row else A_ROW
        bottom, right = bottom - 1 + _lines(below, last_high), right - 1 + _lines(behind, _WIDE)
        return (row + (down > A_ROW * _HIDES), column + (across > _WIDE * _HIDES), bottom, right)
    high, wide = (points(shape.get(f"{SVG}{way}", ""), 0.0) for way in ("height", "width"))
    return (
        top,
        left,
        row + int((down + high) / A_ROW) - 1,
        column + int((across + wide) / _WIDE) - 1,
    )


def _lines(size: float, line: float) -> int:
    """How many whole rows or columns a distance takes, one that is nearly whole among them."""
    return int(size / line + 1 - _HIDES)
