"""Pictures of a face, true to scale: its outlines, and marks at the places of its holes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

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
    labels: Sequence[str] = ()  # "" where a mark has no name
    named: Literal["", "above", "below"] = ""  # where, if not as all of them


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


@dataclass(frozen=True, kw_only=True)
class PlotRoom:
    """The room of a picture in pixels: how wide its plot is at most, how high all of it, what the
    axes take of that, if it has any.
    """

    across: float
    high: float
    frame: float
    axes: bool = True


@dataclass(frozen=True)
class Lettering:
    """How the names at marks are printed: their size in points, and where they stand."""

    size: int = 14
    at: Literal["center", "above"] = "center"


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
    room: PlotRoom
    outlines: Sequence[Outline]
    marks: Sequence[Marks]
    beside: int  # the first of the columns in which the outlines' points stand
    says: str  # what it shows, for whoever does not see it
    lettering: Lettering = Lettering()
    sketch: bool = False  # of a card, and drawn with it
    note: str = ""
    own_page: bool = False

    def column_of(self, outline: Outline, axis: str) -> int:
        """The column in which one axis of an outline's points stands."""
        return self.beside + 2 * list(self.outlines).index(outline) + (axis == "across")
