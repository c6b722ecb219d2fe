"""How a sheet of an .xlsx workbook is shown and printed: the switches of its view, the words at the
head and foot of its pages.

Source: ECMA-376 part 1, 18.3.1.46 (headerFooter and its codes), 18.3.1.87 (sheetView).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from datumbook.messages.findings import Finding, finding
from datumbook.readers.book import PageWords
from datumbook.readers.markup import Element, truth
from datumbook.readers.rules import CellArea, areas_of
from datumbook.readers.xlsx_styles import MAIN

MOST_WORDS = 4_000  # letters of a print area that are read
PRINT_AREA = "_xlnm.print_area"
HEADS, VIEW = f"{{{MAIN}}}headerFooter", f"{{{MAIN}}}sheetView"
_BEFORE_CELLS = re.compile(r"(?:'(?:[^']|'')*+'|[^',!]*+)!")
_CODE = re.compile(
    r"&(?:(?P<part>[LCR])|(?P<sign>&)|\"[^\"]*\"|K[0-9A-Fa-f]{6}|K[0-9]{2}[+-][0-9]{3}|[0-9]{1,3}|.)",
    re.DOTALL,
)


def page_words(element: Element) -> Iterator[PageWords]:
    """Yield what is printed at the head and foot of pages, of first and even ones too."""
    for said in element:
        words = _CODE.sub(_plain, said.text or "").strip()
        if words:
            yield PageWords(str(said.tag).endswith("Header"), words)


def areas_printed(text: str) -> tuple[CellArea, ...]:
    """Return the ranges that a print area names, whatever its sheet is called.

    >>> areas_printed("'My, sheet'!$A$1:$B$3,Bores!$C$5")
    ((1, 1, 3, 2), (5, 3, 5, 3))
    """
    return areas_of(_BEFORE_CELLS.sub("", text[:MOST_WORDS]).replace(",", " ").replace("$", ""))


def _plain(code: re.Match[str]) -> str:
    return "&" if code["sign"] else " " if code["part"] else ""


def view_switched(element: Element, sheet: str) -> Iterator[Finding]:
    """Yield the switches of a view that show a sheet otherwise than it is printed."""
    if truth(element.get("showFormulas")):
        yield finding("formulas-shown", sheet=sheet)
    if not truth(element.get("showZeros"), otherwise=True):
        yield finding("zeros-hidden", sheet=sheet)
