"""How a sheet lies on paper: upright or across, at which scale, on how many pages.

Every sheet is fitted to a number of whole pages. No program is asked to begin a page after a given
row: Gnumeric prints an empty page for each and breaks elsewhere. Where no part may be cut, blank
rows fill all pages to one height, so that the scale that fits ends each page where its parts do.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

UPRIGHT = (530.0, 747.0)  # points: as wide as A4 and Letter both have room, as high as A4 has
LANDSCAPE = (727.0, 505.0)  # the same across
FILLED = (736.0, 470.0)  # to where blank rows fill a page, upright and across
LESS_HIGH = {"A4": 0.0, "Letter": 50.0}  # points: how much less high an upright page of it is
TALL_TITLE = (42.0, 52.0)  # and how high what begins the next one is, to go over every page's end
QUARTER = 0.3  # of a page: less than that stands alone on none, with some to spare
BOX_GROWS = 10.0  # points: how much higher boxes are made where a page has room
HIGHEST_GROWTH = 380.0  # points that a row may grow: programs allow 409.5 for the whole of it
WIDER = 1.06  # how much wider than stated the columns of some programs turn out


@dataclass(frozen=True)
class Paper:
    """A sheet of a width, in points, on paper."""

    landscape: bool
    percent: int  # the scale at which its width fits; never larger than on the screen
    size: str = "A4"

    @property
    def room(self) -> tuple[float, float]:
        """The room on it, in points: width and height."""
        return LANDSCAPE if self.landscape else (UPRIGHT[0], UPRIGHT[1] - LESS_HIGH[self.size])

    @property
    def filled(self) -> float:
        """To where blank rows fill a page of it, in points."""
        return FILLED[self.landscape] - (0.0 if self.landscape else LESS_HIGH[self.size])

    @property
    def tall_title(self) -> float:
        """How high a title is that begins a page, in points."""
        return TALL_TITLE[self.landscape]

    def scales(self, least: float) -> range:
        """The scales it may be printed at, in percent: the largest first, none below the least
        unless its width wants it.
        """
        return range(self.percent, min(self.percent, int(100 * least)) - 1, -1)

    def height_at(self, percent: int) -> float:
        """What a page of it has room for at a scale, in points of the sheet."""
        return self.room[1] * 100 / percent


def laid(across: float, least: float, size: str = "A4") -> Paper:
    """How a width lies: upright where it is printed no smaller than the least scale so."""
    landscape = UPRIGHT[0] / (WIDER * across) < least
    room = LANDSCAPE if landscape else UPRIGHT
    return Paper(landscape, min(100, int(100 * room[0] / (WIDER * across))), size)


@dataclass(frozen=True)
class Uncut:
    """Rows that no page's end cuts: the first and the last, and how high they are together with
    the blank row behind them.
    """

    first: int
    last: int
    height: float
    boxes: Sequence[int] = ()  # its rows that are written in
    own_page: bool = False


@dataclass(frozen=True)
class Heads:
    """What a page has over its blocks: the first the head of the sheet, those behind it a higher
    title.
    """

    first: float
    further: float

    def over(self, page: int) -> float:
        """The same, by the number of the page from 0."""
        return self.further if page else self.first


def grouped_on_pages(blocks: Sequence[Uncut], heads: Heads, room: float) -> list[list[Uncut]]:
    """Blocks as they follow each other, those together that share a page."""
    found: list[list[Uncut]] = [[]]
    used = heads.first
    for one in blocks:
        if found[-1] and (one.own_page or used + one.height > room):
            found.append([])
            used = heads.further
        found[-1].append(one)
        used += one.height
    if len(found) > 1:
        _share(found[-2], found[-1], QUARTER * room)
    return found


def _share(before: list[Uncut], last: list[Uncut], least: float) -> None:
    """Blocks of one page move on to the last where only little is on that."""
    while len(before) > 1 and sum(one.height for one in last) < least:
        last.insert(0, before.pop())


def filled(
    pages: Sequence[Sequence[Uncut]], heads: Heads, full: float
) -> Iterator[tuple[int, float]]:
    """The rows that grow to fill each page to its end, each with its height more: boxes a little,
    then the blank rows behind the blocks; what would make those too high goes to the boxes too, or
    to every row where there are none.
    """
    for place, page in enumerate(pages):
        left = max(0.0, full - sum(one.height for one in page) - heads.over(place))
        boxes = [row for one in page for row in one.boxes]
        roomier = min(BOX_GROWS, left / len(boxes)) if boxes else 0.0
        left -= roomier * len(boxes)
        for one in reversed(page):
            yield one.last + 1, (taken := min(left, HIGHEST_GROWTH))
            left -= taken
        rows = boxes or [row for one in page for row in range(one.first + 1, one.last + 1)]
        if more := roomier + left / len(rows):
            yield from ((row, more) for row in rows)
