"""The words at the head and foot of pages of .ods: those of the page style of a sheet.

Source: OASIS OpenDocument 1.3 part 3, 16.9 (style:master-page), 7 (text fields).
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.readers.book import PageWords
from datumbook.readers.markup import Element, truth
from datumbook.readers.ods_styles import STYLE

MASTER = f"{STYLE}master-page"
_OF_TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"
_HOLDING = {f"{_OF_TEXT}{name}" for name in ("p", "h", "span", "a")}


def page_words(master: Element) -> list[PageWords]:
    """Return what a page style prints at the head and foot of pages, of first and left ones too."""
    found = []
    for part in master:
        kind = str(part.tag).rpartition("}")[2].partition("-")[0]
        if kind in ("header", "footer") and truth(part.get(f"{STYLE}display"), otherwise=True):
            words = " ".join("".join(_said(part)).split())
            found += [PageWords(kind == "header", words)] if words else []
    return found


def _said(element: Element) -> Iterator[str]:
    """The words of an element in their order; what a field shows is left out."""
    yield element.text or ""
    for child in element:
        if child.tag in _HOLDING or str(child.tag).startswith(STYLE):
            yield from _said(child)
        yield child.tail or ""
    yield "" if element.tag in (f"{_OF_TEXT}span", f"{_OF_TEXT}a") else " "
