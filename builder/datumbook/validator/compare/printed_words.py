"""The words printed in the book against those that stand there now: labels, units, the head of each
sheet, sorted rows.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from datumbook.messages.findings import Finding, finding
from datumbook.readers.arithmetic import number_said
from datumbook.validator.locate.location import Located, plain
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import PrintedText, SheetPlan

Changed = list[tuple[PrintedText, str]]


def words_changed(layout: Layout, located: Located) -> Iterator[Finding]:
    """Yield what was changed in printed words, on the sheets where nothing was moved."""
    strayed = {layout.places[key].at.sheet for key in located.strayed}
    for name, plan in layout.plans.items():
        now = located.sheets[name]
        if now is not None and located.in_place(name) and name not in strayed:
            changed = _differing(plan, located, now)
            exchanged = _exchanged(plan, changed)
            if exchanged:
                text, shown = exchanged[0]
                yield _about("words-exchanged", text, now, shown, count=len(exchanged))
            for text, shown in changed:
                if (text, shown) not in exchanged:
                    yield _about(_what_changed(text, shown), text, now, shown or "nothing")


def _differing(plan: SheetPlan, located: Located, now: str) -> Changed:
    sheet = located.book.sheets[now]
    return [
        (text, shown)
        for text in plan.texts
        if text.words
        and (shown := plain(value := sheet.value((text.at.row, text.at.column))))
        != plain(text.words)
        and (value is None or value != number_said(text.words))
    ]


def _exchanged(plan: SheetPlan, changed: Changed) -> Changed:
    """The rows and columns that now bear the words of another one, as after sorting."""
    words = {
        style: {plain(text.words) for text in plan.texts if text.style == style}
        for style in ("row", "heading")
    }
    return [
        (text, shown) for text, shown in changed if shown and shown in words.get(text.style, ())
    ]


def _about(code: str, text: PrintedText, sheet: str, found: str, **words: Any) -> Finding:
    return finding(
        code, sheet=sheet, cell=text.at.cell, found=found, expected=plain(text.words), **words
    )


def _what_changed(text: PrintedText, shown: str) -> str:
    """The code of what became of printed words."""
    if shown and _garbled(shown, plain(text.words)):
        return "label-garbled"
    if text.style == "identity":
        return "sheet-of-another-book"
    units = {"unit": text.words, "heading": text.words.partition("\n")[2]}
    unit = units.get(text.style, "").split()
    return "unit-changed" if unit and shown.split()[-len(unit) :] != unit else "label-changed"


def _garbled(shown: str, words: str) -> bool:
    """Say whether words differ only where they are not plain letters, each of which a program wrote
    as something else.
    """
    (plain_shown, odd_shown), (plain_words, odd_words) = _sorted_out(shown), _sorted_out(words)
    return plain_shown == plain_words and 0 < odd_words <= odd_shown


def _sorted_out(words: str) -> tuple[str, int]:
    """The plain letters of words, and how many signs are none."""
    plain_signs = "".join(sign for sign in words if sign.isascii() and sign != "?")
    return plain_signs, len(words) - len(plain_signs)
