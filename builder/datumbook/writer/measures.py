"""The measures of a sheet: points and pixels, columns in figures, how many lines words take."""

from __future__ import annotations

from xlsxwriter.utility import xl_pixel_width

POINTS = 0.75  # of a pixel
FIGURE, EDGES = 7, 5  # pixels: a column's width is counted in figures, beside its edges
LIBRARYS_OWN = 64  # pixels: the width a column has unless told


def pixels(height: float) -> int:
    """A height in points as whole pixels: of the library, not every version rounds to them."""
    return int(height / POINTS + 0.5)


def column_pixels(width: float) -> int:
    """A column's width in figures as whole pixels; the library's versions mark its own differently,
    so a pixel more than that.
    """
    found = int(FIGURE * width + 0.5) + EDGES
    return found + (found == LIBRARYS_OWN)


def lines_of(words: str, width: float) -> int:
    """How many lines words take, broken between words, in a width in pixels; a word that is longer
    is broken itself.
    """
    lines, used = 0, 0.0
    for paragraph in words.split("\n"):
        lines, used = lines + 1, 0.0
        for word in paragraph.split():
            length, space = xl_pixel_width(word), xl_pixel_width(" ") if used else 0
            if used + space + length <= width:
                used += space + length
                continue
            further = (1 if used else 0) + max(0, -int(-length // width) - 1)
            lines, used = lines + further, length % width if length > width else length
    return lines
