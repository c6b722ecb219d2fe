"""The words printed at the head and foot of pages against the book's own.

Some programs drop them all on an honest save; what stands there says something else or nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import SequenceMatcher

from datumbook.messages.findings import Finding, finding
from datumbook.standards.steering_words import steers, words_of
from datumbook.validator.compare.printed_words import names_of
from datumbook.validator.locate.location import Located
from datumbook.workbook.layout import Layout
from datumbook.workbook.page_heads import FOOT, head_of

HEAD_SHOWN, MOST_READ = 120, 2_000  # letters
LOUD = frozenset(
    [
        "ok",
        "released",
        "releasable",
        "passed",
        "accepted",
        "approved",
        "rejected",
        "not",
        "never",
        "skip",
        "ignore",
        "omit",
        "danger",
        "fit",
        "scrap",
    ]
)
"""Words that say by themselves what is to be done with a block, or that something is not."""

MARK = 2  # letters: shorter words before a number are "by", "in", "to"
YEAR = 4  # digits: "May 2026" numbers nothing
_SIZE = re.compile(
    r"(?<![\d.,])\d+[.,]\d+(?![\d.,]*\d)|[+±]\s?\d|\d\s?/\s?(?:8|16|32|64)\b"
    r"|\bto\s+\d\d|\d\s?(?:mm|thou)\b"
)


def heads_changed(layout: Layout, located: Located) -> Iterator[Finding]:
    """Yield the first sheet whose pages bear words that steer where the book gave it others, and
    the first whose other words do not; each with how many sheets are like it.
    """
    kinds: dict[str, dict[str, tuple[str, str]]] = {}
    for name in layout.plans:
        now = located.sheets[name]
        if now is None:
            continue
        for found in located.book.sheets[now].page_words:
            own = " ".join(head_of(layout, name) if found.at_head else FOOT)
            if words_of(own) != words_of(found.words):
                false = misleads(own, found.words, names_of(layout))
                code = "page-head-false" if false else "page-head-changed"
                kinds.setdefault(code, {}).setdefault(now, (found.words, own))
    for code, sheets in kinds.items():
        sheet, (words, own) = next(iter(sheets.items()))
        shown = words[:HEAD_SHOWN]
        yield finding(code, sheet=sheet, found=shown, expected=own, count=len(sheets))


def misleads(own: str, said: str, names: frozenset[str]) -> bool:
    """Say whether words at the head or foot of a page steer: one of the book's own is another now,
    or beside them stands a verdict, a size, or a number of something that the trade numbers. The
    name of a shop, an address, a day or a telephone number does not.
    """
    was, now = words_of(own), words_of(said[:MOST_READ])
    pieces = SequenceMatcher(None, was, now, autojunk=False).get_opcodes()
    kept = any(
        kind == "equal" and any(was[at].isalnum() for at in range(first, last))
        for kind, first, last, _, _ in pieces
    )
    gone = [
        word for kind, first, last, _, _ in pieces if kind != "equal" for word in was[first:last]
    ]
    if kept and any(steers(word, names) for word in gone):
        return True
    added = [
        (now[at - 1] if at else "", now[at])
        for kind, _, _, start, end in pieces
        if kind != "equal"
        for at in range(start, end)
    ]
    numbered = any(
        word.isdecimal()
        and len(word) < YEAR
        and len(before) > MARK
        and before.isalpha()
        and steers(before, names)
        for before, word in added
    )
    return (
        numbered
        or any(word in LOUD for _, word in added)
        or bool(_SIZE.search(said.replace(own, "")))
    )
