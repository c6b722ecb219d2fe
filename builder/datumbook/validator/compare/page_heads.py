"""The words printed at the head and foot of pages against the book's own.

Some programs drop them all on an honest save; what stands there says something else or nothing.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.messages.findings import Finding, finding
from datumbook.standards.steering_words import words_of
from datumbook.validator.compare.printed_words import names_of, words_steer
from datumbook.validator.locate.location import Located
from datumbook.workbook.layout import Layout
from datumbook.workbook.page_heads import FOOT, head_of

HEAD_SHOWN = 120  # letters


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
            was, said = words_of(own), words_of(found.words)
            if was != said:
                false = words_steer(was, said, names_of(layout))
                code = "page-head-false" if false else "page-head-changed"
                kinds.setdefault(code, {}).setdefault(now, (found.words, own))
    for code, sheets in kinds.items():
        sheet, (words, own) = next(iter(sheets.items()))
        shown = words[:HEAD_SHOWN]
        yield finding(code, sheet=sheet, found=shown, expected=own, count=len(sheets))
