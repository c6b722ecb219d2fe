"""How a cell shows what it holds: its number format, its ink and what lies behind it, its size.

Contrast is that of WCAG 2.1, 1.4.3: the ratio of relative luminances, 1 (alike) to 21.
"""

from __future__ import annotations

import colorsys
import re
from functools import lru_cache
from typing import NamedTuple

BLACK, WHITE = "000000", "FFFFFF"
LEAST_CONTRAST = 2.0  # below it nobody reads on a screen in a workshop (common practice, no source)
SMALLEST = 5.0  # points of print that can be read (common practice, no source)
FROM_EDGE = 100.0  # points that words may stand from the edge of their cell (our own limit)
PUSHED_OUT = "it is pushed out of its cell"
OF_SIGNS = (
    "wingdings",
    "webdings",
    "symbol",
    "opensymbol",
    "zapf",
    "marlett",
    "mt extra",
    "dingbats",
)
"""Faces whose letters and figures are drawn as something else (common practice, no source)."""

_HEX = re.compile(r"(?:[0-9A-Fa-f]{2})?([0-9A-Fa-f]{6})")


class Look(NamedTuple):
    """What a style makes of a cell: `ink` and `grounds` are RRGGBB, "" and none where the program
    chooses.

    `filling` says that the content is repeated across the cell: 8 is shown as 888888; `away` how it
    is kept off the sheet, off the paper or on its head, "" where it is not.
    """

    number_format: str = "General"
    ink: str = ""
    grounds: tuple[str, ...] = ()
    size: float = 10.0
    struck: bool = False
    filling: bool = False
    face: str = ""
    away: str = ""

    @property
    def hides(self) -> str:
        """How it keeps from sight what stands in the cell, "" where it does not."""
        return _hides(self)


PLAIN_LOOK = Look()


@lru_cache(maxsize=4_096)
def _hides(look: Look) -> str:
    if look.size < SMALLEST:
        return f"its print is {look.size:g} points high"
    if look.struck:
        return "it is struck out"
    if look.face.casefold().startswith(OF_SIGNS):
        return f"it is printed in {look.face}, whose letters are signs"
    if look.away:
        return look.away
    if look.filling:
        return "it is repeated across the cell"
    ink = look.ink or BLACK
    alike = [one for one in look.grounds or (WHITE,) if contrast(ink, one) < LEAST_CONTRAST]
    return f"it is printed in #{ink} on #{alike[0]}" if alike else ""


def contrast(one: str, two: str) -> float:
    """Return the ratio of the relative luminances of two colours.

    >>> contrast("000000", "FFFFFF"), contrast("FFFFFF", "FFFFFF")
    (21.0, 1.0)
    """
    dark, light = sorted((_luminance(one), _luminance(two)))
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    red, green, blue = (_linear(int(colour[at : at + 2], 16) / 255) for at in (0, 2, 4))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4


def colour(text: str) -> str:
    """Return a colour as RRGGBB, "" for what is none; the share that shines through is left out.

    >>> colour("FF1F2A30"), colour("#1f2a30"), colour("transparent")
    ('1F2A30', '1F2A30', '')
    """
    match = _HEX.fullmatch(text.removeprefix("#"))
    return match[1].upper() if match else ""


def tinted(base: str, tint: float) -> str:
    """Return a colour made darker (to -1) or lighter (to 1). Source: ECMA-376 part 1, 18.8.19.

    >>> tinted("000000", 0.5), tinted("FFFFFF", -1.0)
    ('808080', '000000')
    """
    parts = (int(base[at : at + 2], 16) / 255 for at in (0, 2, 4))
    hue, light, saturation = colorsys.rgb_to_hls(*parts)
    tint = max(-1.0, min(1.0, tint))
    light = light * (1 + tint) if tint < 0 else light * (1 - tint) + tint
    rgb = colorsys.hls_to_rgb(hue, light, saturation)
    return "".join(f"{round(part * 255):02X}" for part in rgb)
