"""What may be typed in the cells of .ods, and colours put over them by what they hold.

Source: OASIS OpenDocument 1.3 part 3, 9.4.4 to 9.4.8 (from memory), and files of programs.
"""

from __future__ import annotations

import re

from datumbook.readers.formulas import from_open_formula
from datumbook.readers.markup import Element, truth
from datumbook.readers.rules import CellArea, EntryRule, areas_of

TABLE, TEXT, CALC = (
    "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}",
    "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}",
    "{urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0}",
)
_KINDS = {
    "cell-content-is-decimal-number()": "decimal",
    "cell-content-is-whole-number()": "whole",
    "cell-content-is-date()": "date",
    "cell-content-is-time()": "time",
}
_BETWEEN = re.compile(r"cell-content-is-(not-)?between\((.*),(.*)\)")
_LIST = re.compile(r"cell-content-is-in-list\((.*)\)")
_LISTED_WORD = re.compile(r'"((?:[^"]|"")*)"')
_ON_SHEET = re.compile(r"\$?(?:'(?:[^']|'')*'|[^'.:\s]+)\.")


def entry_rule(element: Element) -> EntryRule:
    """Return a content validation."""
    condition = element.get(f"{TABLE}condition", "").removeprefix("of:")
    kind, ends = "any", tuple[str, ...]()
    for part in filter(None, re.split(r"\s+and\s+(?=cell-content)", condition)):
        between, listed = _BETWEEN.fullmatch(part), _LIST.fullmatch(part)
        if part in _KINDS:
            kind = _KINDS[part]
        elif between:
            kind += " notBetween" if between[1] else ""
            ends = (between[2].strip(), between[3].strip())
        elif listed and (words := _LISTED_WORD.findall(listed[1])):
            kind, ends = "list", (f'"{",".join(words)}"',)
        else:
            kind, ends = f"{kind} {part}", ()
    return EntryRule(kind, ends, _said(element, "help-message"), _said(element, "error-message"))


def areas_named(text: str) -> tuple[CellArea, ...]:
    """Return the ranges of a list of references that name their sheet.

    >>> areas_named("Bores.B8:Bores.C9 Bores.E4")
    ((8, 2, 9, 3), (4, 5, 4, 5))
    """
    return areas_of(_ON_SHEET.sub("", text))


def colour_test(text: str) -> str:
    """Return the test of a conditional format as .xlsx would spell it."""
    formula = from_open_formula(text)
    return f"={formula}" if text.startswith("=") else formula


def _said(element: Element, kind: str) -> tuple[str, str]:
    for message in element.iterchildren(f"{TABLE}{kind}"):
        if truth(message.get(f"{TABLE}display")):
            lines = ("".join(map(str, one.itertext())) for one in message.iterchildren(f"{TEXT}p"))
            return message.get(f"{TABLE}title", ""), "\n".join(lines)
    return "", ""
