"""Pictures and boxes that lie over the cells of an .xlsx sheet; its charts are left out.

Source: ECMA-376 part 1, 20.5 (SpreadsheetML drawings).
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.readers.gate import Contents
from datumbook.readers.markup import Element, elements, whole
from datumbook.readers.rules import CellArea

_OF_SHEET = "{http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing}"
_OF_DRAWING = "{http://schemas.openxmlformats.org/drawingml/2006/main}"
_ANCHORS = [f"{_OF_SHEET}{kind}Anchor" for kind in ("twoCell", "oneCell", "absolute")]
_THINGS = {"pic": "a picture", "sp": "a box", "cxnSp": "a line", "grpSp": "a group of boxes"}
_ROW_HEIGHT, _COLUMN_WIDTH = (
    190_000,
    600_000,
)  # of an inch, 914,400 to it: a row and a column as they mostly are
_PART = 3  # of a row or column: more of it than one such share covered hides what stands in it


def laid_over(contents: Contents, part: str) -> Iterator[tuple[CellArea, str]]:
    """Yield the cells that each picture or box covers, and what it is with its words."""
    for anchor in elements(contents, part, _ANCHORS, optional=True):
        kinds = [child.tag.rpartition("}")[2] for child in anchor]
        thing = next((_THINGS[kind] for kind in kinds if kind in _THINGS), "")
        if thing:
            texts = anchor.iter(f"{_OF_DRAWING}t")
            words = " ".join("".join(map(str, one.itertext())) for one in texts).strip()[:40]
            yield _area(anchor), f"{thing} with the words “{words}”" if words else thing


def _area(anchor: Element) -> CellArea:
    first = anchor.find(f"{_OF_SHEET}from")
    top, above = _line(first, "row") if first is not None else _far(anchor, "y", _ROW_HEIGHT)
    left, before = _line(first, "col") if first is not None else _far(anchor, "x", _COLUMN_WIDTH)
    last = anchor.find(f"{_OF_SHEET}to")
    if last is not None:
        (bottom, below), (right, behind) = _line(last, "row"), _line(last, "col")
    else:
        size = anchor.find(f"{_OF_SHEET}ext")
        high = whole(size.get("cy", "0"), 0) if size is not None else 0
        wide = whole(size.get("cx", "0"), 0) if size is not None else 0
        bottom, below = top + (above + high) // _ROW_HEIGHT, (above + high) % _ROW_HEIGHT
        right, behind = left + (before + wide) // _COLUMN_WIDTH, (before + wide) % _COLUMN_WIDTH
    return (
        top + 1 + (above > _ROW_HEIGHT // _PART),
        left + 1 + (before > _COLUMN_WIDTH // _PART),
        bottom + (below > _ROW_HEIGHT - _ROW_HEIGHT // _PART),
        right + (behind > _COLUMN_WIDTH - _COLUMN_WIDTH // _PART),
    )


def _line(end: Element, kind: str) -> tuple[int, int]:
    """The row or column of one corner, from 0, and how far into it."""
    return (
        whole(end.findtext(f"{_OF_SHEET}{kind}") or "0", 0),
        whole(end.findtext(f"{_OF_SHEET}{kind}Off") or "0", 0),
    )


def _far(anchor: Element, way: str, step: int) -> tuple[int, int]:
    """The same of a corner that is stated by its distance from the sheet's."""
    at = anchor.find(f"{_OF_SHEET}pos")
    return divmod(whole(at.get(way, "0"), 0) if at is not None else 0, step)
