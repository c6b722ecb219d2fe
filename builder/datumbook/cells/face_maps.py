"""Pictures of a face, true to scale: its outlines, and marks at the places of its holes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from datumbook.cells.handles import Handle, Part
from datumbook.numbers.quantities import Quantity


@dataclass(frozen=True, kw_only=True)
class Marks:
    """Points of a chart, from two columns of a table: their shape and colour are words of
    styles.py.
    """

    words: str
    rows: Sequence[str]
    along: Handle
    across: Handle
    style: str
    labels: Sequence[str] = ()


@dataclass(frozen=True, kw_only=True)
class Outline:
    """A line of a chart through points that are known when the book is laid out; or one point, with
    a mark of styles.py and its words beside it.
    """

    name: str
    words: str
    points: Sequence[tuple[Quantity, Quantity]]
    smooth: bool = False
    mark: str = ""


@dataclass(kw_only=True, eq=False)
class FaceMap(Part):
    """A picture of a face, true to scale: outlines, and marks at the places of its holes; over it
    a strip for their key.
    """

    key: str
    title: str
    unit: str
    length: float
    width: float
    over: float
    rows: int
    outlines: Sequence[Outline]
    marks: Sequence[Marks]
    beside: int  # the first of the columns in which the outlines' points stand
    note: str = ""
    own_page: bool = False

    def column_of(self, outline: Outline, axis: str) -> int:
        """The column in which one axis of an outline's points stands."""
        return self.beside + 2 * list(self.outlines).index(outline) + (axis == "across")
