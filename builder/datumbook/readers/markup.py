"""XML read with care: one pass, no entities, no network, nothing kept that was read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from io import BytesIO
from math import isfinite
from typing import TYPE_CHECKING

from lxml import etree

from datumbook.effort import spend
from datumbook.readers.book import part_refusal
from datumbook.readers.gate import Contents

if TYPE_CHECKING:
    Element = etree._Element
else:
    Element = object


def elements(
    contents: Contents, part: str, tags: Sequence[str], optional: bool = False
) -> Iterator[Element]:
    """Yield each element of these tags at its end, then empty it; Refused where the part is missing
    (and not optional) or its XML breaks off. A part of no name has none.
    """
    if part and (contents.holds(part) or not optional):
        for _, element in events(contents, part, tags, ("end",)):
            yield element
            discard(element)


def events(
    contents: Contents, part: str, tags: Sequence[str], which: Sequence[str] = ("start", "end")
) -> Iterator[tuple[str, Element]]:
    """Yield (event, element) for these tags in the order of the file; Refused where the part is
    missing or its XML breaks off.
    """
    data = contents.part(part)
    try:
        for event in etree.iterparse(
            BytesIO(data),
            which,
            tag=tags,
            resolve_entities=False,
            no_network=True,
            huge_tree=False,
            load_dtd=False,
            remove_comments=True,
            remove_pis=True,
        ):
            spend(4 + len(event[1]), f"elements in its part {part}")
            yield event
    except etree.XMLSyntaxError as error:
        raise part_refusal(
            "part-garbled", contents.file, part, f"breaks off or is garbled at line {error.lineno}"
        ) from None


def discard(element: Element) -> None:
    """Empty an element that was read, and drop its elder brothers, so that memory stays small."""
    element.clear()
    parent = element.getparent()
    if parent is not None:
        while element.getprevious() is not None:
            del parent[0]


def truth(text: str | None, otherwise: bool = False) -> bool:
    """Return an XML boolean as programs write it: 1, true or on; `otherwise` where nothing is
    written.
    """
    return otherwise if text is None else text.strip().lower() in ("1", "true", "on")


def whole(text: str, otherwise: int) -> int:
    """Return a stored count, and `otherwise` for what is none or longer than any sheet needs."""
    return int(text) if text.isdecimal() and len(text) < 10 else otherwise


def number(text: str) -> float:
    """Return a stored number, however many digits it has; ValueError for words and for what is not
    finite.
    """
    value = float(text)
    if not isfinite(value) or "_" in text:
        raise ValueError(f"{text!r} is not a number")
    return value
