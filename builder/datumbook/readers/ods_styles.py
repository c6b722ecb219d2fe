"""Styles of .ods: how each shows what a cell holds, in the words of .xlsx.

Source: OASIS OpenDocument 1.3 part 3, 16 (styles), 16.29 (data styles) and 20 (formatting), from
memory, and files of programs.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from datumbook.readers.looks import FROM_EDGE, PLAIN_LOOK, PUSHED_OUT, Look, colour
from datumbook.readers.markup import Element, truth, whole

STYLE, DATA_STYLE, FO = (
    f"{{urn:oasis:names:tc:opendocument:xmlns:{name}:1.0}}"
    for name in ("style", "datastyle", "xsl-fo-compatible")
)
_DEEPEST_STYLE = 20  # styles that rest on each other
_LENGTH = re.compile(r"([0-9.]+)(pt|in|cm|mm|px)?")
_POINTS = {"pt": 1.0, "in": 72.0, "cm": 72 / 2.54, "mm": 7.2 / 2.54, "px": 0.75, None: 1.0}
_MOST_DIGITS = 30
_DATE = {
    "year": "yy",
    "month": "m",
    "day": "d",
    "hours": "h",
    "minutes": "mm",
    "seconds": "ss",
    "day-of-week": "ddd",
    "era": "yy",
    "quarter": "m",
    "week-of-year": "d",
    "am-pm": "AM/PM",
}
StyleTest = tuple[str, str]
"""What a cell is held against, and the style it takes then."""


def points(text: str, otherwise: float = PLAIN_LOOK.size) -> float:
    """Return a length in points, `otherwise` for what is none.

    >>> points("10pt"), points("1in"), points("wide", 9.0)
    (10.0, 72.0, 9.0)
    """
    match = _LENGTH.fullmatch(text)
    try:
        return float(match[1]) * _POINTS[match[2]] if match else otherwise
    except ValueError:
        return otherwise


@dataclass
class _Own:
    """What one style says itself."""

    parent: str = ""
    data: str = ""
    said: dict[str, str] = field(default_factory=dict)
    tests: tuple[StyleTest, ...] = ()


class OdsStyles:
    """The styles of one workbook by name, resolved when they are asked for."""

    def __init__(self) -> None:
        self.own: dict[str, _Own] = {}
        self.data: dict[str, str] = {}
        self.display: dict[str, str] = {}
        self.looks: dict[str, Look] = {}

    def keep(self, element: Element) -> None:
        """Take note of a style of cells or words."""
        own = _Own(
            element.get(f"{STYLE}parent-style-name", ""), element.get(f"{STYLE}data-style-name", "")
        )
        for properties in element:
            if properties.tag == f"{STYLE}map":
                test = _test(properties.get(f"{STYLE}condition", ""))
                own.tests += ((test, properties.get(f"{STYLE}apply-style-name", "")),)
            else:
                own.said |= {
                    str(name).rpartition("}")[2]: str(said)
                    for name, said in properties.attrib.items()
                }
        name = element.get(f"{STYLE}name", "")
        if element.tag == f"{STYLE}default-style":
            name = ""
        self.display[element.get(f"{STYLE}display-name", name)] = name
        self.own[name] = own
        self.looks.clear()

    def keep_data(self, element: Element) -> None:
        """Take note of a number format."""
        self.data[element.get(f"{STYLE}name", "")] = self._code(element)

    def look(self, name: str | None) -> Look:
        """Return what a style makes of a cell."""
        name = name or ""
        if name not in self.looks:
            self.looks[name] = self._look(name)
        return self.looks[name]

    def over(self, name: str) -> Look:
        """Return what a style puts over that of a cell."""
        said, code = self._said(self.display.get(name, name), base=False)
        ink, ground = colour(said.get("color", "")), colour(said.get("background-color", ""))
        return Look(
            code, ink, (ground,) if ground else (), points(said.get("font-size", "")), _struck(said)
        )

    def tests(self, name: str | None) -> tuple[StyleTest, ...]:
        """Return what a style holds its cells against."""
        own = self.own.get(name or "")
        return own.tests if own else ()

    def _look(self, name: str) -> Look:
        said, code = self._said(name, base=True)
        ink, ground = colour(said.get("color", "")), colour(said.get("background-color", ""))
        if truth(said.get("use-window-font-color")):
            ink = ""
        return Look(
            code or "General",
            ink,
            (ground,) if ground else (),
            points(said.get("font-size", "")),
            _struck(said),
            truth(said.get("repeat-content")),
            said.get("font-name", said.get("font-family", "")),
            _away(said),
        )

    def _said(self, name: str, base: bool) -> tuple[dict[str, str], str]:
        """What a style and those it rests on say, the nearest first; and its number format."""
        said, code = dict[str, str](), ""
        chain = [name]
        while (own := self.own.get(chain[-1])) and own.parent and len(chain) < _DEEPEST_STYLE:
            chain.append(own.parent)
        if not base and len(chain) > 1:
            chain = chain[:1]
        for one in (*chain, "") if base else chain:
            if own := self.own.get(one):
                said = own.said | said
                code = code or self.data.get(own.data, "")
        return said, code

    def _code(self, element: Element) -> str:
        """A number format as .xlsx spells it."""
        parts: list[str] = []
        cases: list[str] = []
        for child in element:
            word = child.tag.rpartition("}")[2]
            match word:
                case "number" | "scientific-number":
                    parts.append(_digits(child, word))
                case "fraction":
                    parts.append(_fraction(child))
                case "text" | "currency-symbol":
                    parts.append(_literal(child.text or ""))
                case "text-content":
                    parts.append("@")
                case "boolean":
                    parts.append("BOOLEAN")
                case "fill-character":
                    parts.append(f"*{(child.text or ' ')[:1]}")
                case "text-properties":
                    if ink := colour(child.get(f"{FO}color", "")):
                        parts.insert(0, f"[#{ink}]")
                case "map":
                    test = child.get(f"{STYLE}condition", "").removeprefix("value()")
                    other = self.data.get(child.get(f"{STYLE}apply-style-name", ""), "")
                    cases.append(f"[{test}]{other}")
                case _ if word in _DATE:
                    parts.append(_DATE[word])
        code = "".join(parts)
        if not code and any(child.tag == f"{DATA_STYLE}text" for child in element):
            return '""'  # it shows nothing
        if element.tag.endswith("percentage-style") and "%" not in code:
            code = f"{code or '0'}%"
        if [one.partition("]")[0] for one in cases] == ["[>=0"]:
            return f"{cases[0].partition(']')[2]};{code}"
        return ";".join([*cases, code])


def _digits(element: Element, word: str) -> str:
    places = element.get(f"{DATA_STYLE}decimal-places")
    if element.get(f"{DATA_STYLE}decimal-replacement") or len(element):
        return '"replaced"0'  # letters of its own between or behind the digits
    least = min(whole(element.get(f"{DATA_STYLE}min-integer-digits", "1"), 1), _MOST_DIGITS)
    head = "0" * least or "#"
    if truth(element.get(f"{DATA_STYLE}grouping")):
        head = f"#,##{head}"
    if word == "number" and places is None:
        return "General" if least <= 1 else head
    most = min(whole(places or "0", 0), _MOST_DIGITS)
    shown = most
    for name, said in element.attrib.items():
        if str(name).endswith("}min-decimal-places"):
            shown = min(whole(str(said), most), most)
    tail = f".{'0' * shown}{'#' * (most - shown)}" if most else ""
    scaled = element.get(f"{DATA_STYLE}display-factor", "1") != "1"
    return f"{head}{tail}{',' if scaled else ''}{'E+00' if word != 'number' else ''}"


def _fraction(element: Element) -> str:
    fixed = element.get(f"{DATA_STYLE}denominator-value")
    digits = min(whole(element.get(f"{DATA_STYLE}min-denominator-digits", "1"), 1), 9)
    return f"# {'?' * digits}/{fixed or '?' * digits}"


def _literal(text: str) -> str:
    return text if text in ("-", "%", "") else f'"{text}"'


def _away(said: dict[str, str]) -> str:
    """How a style keeps words off the sheet or the paper, "" where it does not."""
    if said.get("print-content") == "false":
        return "it is left out on paper"
    if 135 < _degrees(said.get("rotation-angle", "")) < 225:
        return "it stands on its head"
    return PUSHED_OUT if points(said.get("margin-left", "0pt")) > FROM_EDGE else ""


def _degrees(text: str) -> float:
    """An angle as a style states it, in degrees."""
    number = re.match(r"-?\d+(?:\.\d+)?", text)
    per = {"grad": 0.9, "rad": 57.29578}.get(text[number.end() :], 1.0) if number else 0.0
    return float(number[0]) * per % 360 if number else 0.0


def _struck(said: dict[str, str]) -> bool:
    return said.get("text-line-through-style", "none") != "none"


def _test(condition: str) -> str:
    """A test of a cell's own content as a conditional format spells it, else as it stands."""
    text = condition.removeprefix("of:").strip()
    return text.removeprefix("cell-content()") if text.startswith("cell-content()") else text
