"""The styles part of .xlsx: how each style a cell can name shows what the cell holds."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from math import isfinite

from datumbook.readers.gate import Contents
from datumbook.readers.looks import (
    BLACK,
    FROM_EDGE,
    PLAIN_LOOK,
    PUSHED_OUT,
    WHITE,
    Look,
    colour,
    tinted,
)
from datumbook.readers.markup import Element, elements, truth, whole
from datumbook.readers.number_formats import BUILT_IN

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
"""The namespace of ordinary .xlsx sheets. Source: ECMA-376 part 1 (transitional)."""

_DRAWN = "{http://schemas.openxmlformats.org/drawingml/2006/main}"
_STYLE_TAGS = [f"{{{MAIN}}}{name}" for name in ("numFmts", "fonts", "fills", "cellXfs", "dxfs")]
_INDENT = 8.0  # points of one step, about three blanks (ECMA-376 part 1, 18.8.1, from memory)
_FAINT = ("none", "gray125", "gray0625")  # patterns through which the paper shows
# the first eight colours of a file's own list; the ninth to sixteenth are these again
_BASIC = ("000000", "FFFFFF", "FF0000", "00FF00", "0000FF", "FFFF00", "FF00FF", "00FFFF")
_SYSTEM = {64: BLACK, 65: WHITE}


@dataclass
class XlsxStyles:
    """The looks a cell names by number, and those that a conditional format puts over them."""

    cells: list[Look] = field(default_factory=lambda: [PLAIN_LOOK])
    over: list[Look] = field(default_factory=list)
    over_of: Callable[[Element], Look] = field(default=lambda _: PLAIN_LOOK)
    over_run: Callable[[Element], Look] = field(default=lambda _: PLAIN_LOOK)


def read_styles(contents: Contents, part: str, theme: str) -> XlsxStyles:
    """Return the styles of a workbook; Refused where the part's XML is broken."""
    return _StylesReader(_theme(contents, theme)).read(contents, part)


def _theme(contents: Contents, part: str) -> list[str]:
    """The colours of the theme in the order in which styles number them: paper before ink."""
    found: list[str] = []
    for scheme in elements(contents, part, [f"{_DRAWN}clrScheme"], optional=True):
        for one in scheme:
            said = [colour(child.get("lastClr", child.get("val", ""))) for child in one]
            found.append(said[0] if said else "")
    return [*found[1::-1], *found[3:1:-1], *found[4:]] if len(found) > 4 else found


class _StylesReader:
    def __init__(self, theme: list[str]) -> None:
        self.theme = theme
        self.codes = dict(BUILT_IN)
        self.fonts: list[Look] = []
        self.fills: list[tuple[str, ...]] = []
        self.found = XlsxStyles(over_of=self._over, over_run=self._font)

    def read(self, contents: Contents, part: str) -> XlsxStyles:
        for element in elements(contents, part, _STYLE_TAGS):
            match element.tag[len(MAIN) + 2 :]:
                case "numFmts":
                    for one in element:
                        self._code(one)
                case "fonts":
                    self.fonts = [self._font(one) for one in element]
                case "fills":
                    self.fills = [self._ground(one) for one in element]
                case "cellXfs":
                    self.found.cells = [self._look(one) for one in element] or [PLAIN_LOOK]
                case "dxfs":
                    self.found.over = [self._over(one) for one in element]
        return self.found

    def _code(self, element: Element) -> str:
        code = element.get("formatCode", "")
        self.codes[whole(element.get("numFmtId", "0"), 0)] = code
        return code

    def _font(self, element: Element) -> Look:
        """The look of a font alone: ink, size, face, and whether it is struck out."""
        ink, size, struck, face = "", PLAIN_LOOK.size, False, ""
        for child in element:
            match child.tag.rpartition("}")[2]:
                case "color":
                    ink = self._colour(child)
                case "sz":
                    size = _number(child.get("val", ""), size)
                case "strike":
                    struck = truth(child.get("val"), otherwise=True)
                case "name" | "rFont":
                    face = child.get("val", "")
        return PLAIN_LOOK._replace(ink=ink, size=size, struck=struck, face=face)

    def _ground(self, element: Element, over: bool = False) -> tuple[str, ...]:
        """What lies behind; a conditional format names the colour of a solid ground last."""
        stops = [self._colour(one) for one in element.iter(f"{{{MAIN}}}color")]
        if stops:  # a ground that runs from one colour to another
            return tuple(one for one in stops if one)
        for pattern in element.iterchildren(f"{{{MAIN}}}patternFill"):
            kind = pattern.get("patternType", "solid" if over else "none")
            front = _first(self._colour(one) for one in pattern.iterchildren(f"{{{MAIN}}}fgColor"))
            back = _first(self._colour(one) for one in pattern.iterchildren(f"{{{MAIN}}}bgColor"))
            if kind in _FAINT and not over:
                return (back,) if back and kind != "none" else ()
            if kind == "solid":
                wanted = back or front if over else front or BLACK
                return (wanted,) if wanted else ()
            return tuple(dict.fromkeys((front or BLACK, back or WHITE)))
        return ()

    def _colour(self, element: Element) -> str:
        base = colour(element.get("rgb", ""))
        if not base and (place := element.get("theme")) is not None:
            number = whole(place, len(self.theme))
            base = self.theme[number] if number < len(self.theme) else ""
        if not base and (place := element.get("indexed")) is not None:
            base = _indexed(whole(place, 64))
        tint = _number(element.get("tint", ""), 0.0)
        return tinted(base, tint) if base and tint else base

    def _look(self, element: Element) -> Look:
        font = whole(element.get("fontId", "0"), 0)
        fill = whole(element.get("fillId", "0"), 0)
        own = self.fonts[font] if font < len(self.fonts) else PLAIN_LOOK
        grounds = self.fills[fill] if fill < len(self.fills) else ()
        stands = list(element.iterchildren(f"{{{MAIN}}}alignment"))
        filling = any(one.get("horizontal") == "fill" for one in stands)
        pushed = any(whole(one.get("indent", "0"), 0) * _INDENT > FROM_EDGE for one in stands)
        code = self.codes.get(whole(element.get("numFmtId", "0"), 0), "General")
        return own._replace(
            number_format=code, grounds=grounds, filling=filling, away=PUSHED_OUT if pushed else ""
        )

    def _over(self, element: Element) -> Look:
        look = PLAIN_LOOK._replace(number_format="")
        for child in element:
            match child.tag.rpartition("}")[2]:
                case "font":
                    own = self._font(child)
                    look = look._replace(ink=own.ink, size=own.size, struck=own.struck)
                case "fill":
                    look = look._replace(grounds=self._ground(child, over=True))
                case "numFmt":
                    look = look._replace(number_format=child.get("formatCode", ""))
        return look


def _indexed(number: int) -> str:
    if number < 16:
        return _BASIC[number % 8]
    if number in _SYSTEM:
        return _SYSTEM[number]
    from openpyxl.styles.colors import COLOR_INDEX

    return colour(COLOR_INDEX[number]) if number < len(COLOR_INDEX) else ""


def _first(found: Iterator[str]) -> str:
    return next(found, "")


def _number(text: str, otherwise: float) -> float:
    try:
        value = float(text)
    except ValueError:
        return otherwise
    return value if isfinite(value) else otherwise
