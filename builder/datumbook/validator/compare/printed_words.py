"""The words printed in the book against those that stand there now: labels, units, the head of each
sheet, sorted rows.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import SequenceMatcher
from typing import Any
from unicodedata import normalize

from datumbook.messages.findings import Finding, finding
from datumbook.readers import FoundCell
from datumbook.readers.arithmetic import number_said
from datumbook.standards.steering_words import LINKING, steers, without_marks, words_of
from datumbook.validator.locate.location import Located, plain
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import PrintedText, SheetPlan

NAMING_STYLES = {"row", "heading", "limit_words", "unit"}  # words that say what a cell is
TITLE_STYLES = {"title", "section"}
NOTHING = FoundCell(None)
Changed = list[tuple[PrintedText, str]]


def words_changed(layout: Layout, located: Located) -> Iterator[Finding]:
    """Yield what was changed in printed words, on the sheets where nothing was moved."""
    names = frozenset[str]()
    strayed = {layout.places[key].at.sheet for key in located.strayed}
    for name, plan in layout.plans.items():
        now = located.sheets[name]
        if now is not None and located.in_place(name) and name not in strayed:
            changed = _differing(plan, located, now)
            exchanged = _exchanged(plan, changed)
            if exchanged:
                text, shown = exchanged[0]
                yield _about("words-exchanged", text, now, shown, count=len(exchanged))
            names = names or (names_of(layout) if changed else names)
            for text, shown in changed:
                if (text, shown) not in exchanged:
                    code = _what_changed(text, shown, names)
                    yield _about(code, text, now, shown or "nothing")


def _differing(plan: SheetPlan, located: Located, now: str) -> Changed:
    """The printed words that read otherwise; a formula in their place may any day."""
    cells = located.book.sheets[now].cells
    changed = []
    for text in plan.texts:
        cell = cells.get((text.at.row, text.at.column), NOTHING)
        shown = plain(cell.value if cell.formula is None else f"={cell.formula}")
        said = number_said(text.words) if type(cell.value) is float else None
        if text.words and shown != plain(text.words) and (said is None or cell.value != said):
            changed.append((text, shown))
    return changed


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


def _what_changed(text: PrintedText, shown: str, names: frozenset[str]) -> str:
    """The code of what became of printed words."""
    words = plain(text.words)
    if shown.startswith("=") and not words.startswith("="):
        return "instruction-changed"
    if shown and _garbled(shown, words):
        return "label-garbled"
    if text.style == "identity":
        return "sheet-of-another-book"
    units = {"unit": text.words, "heading": text.words.partition("\n")[2]}
    unit = units.get(text.style, "").split()
    if unit and shown.split()[-len(unit) :] != unit:
        return "unit-changed"
    was, now = words_of(words), words_of(shown)
    if text.style in NAMING_STYLES:
        alike = without_marks(was) == without_marks(now)
        return "label-changed" if alike else "instruction-changed"
    called = frozenset[str]() if text.style in TITLE_STYLES else names
    return "instruction-changed" if words_steer(was, now, called) else "label-changed"


def words_steer(was: list[str], now: list[str], called: frozenset[str]) -> bool:
    """Say whether a word by which somebody at the machine goes is not in both texts."""
    return any(steers(word, called) for word in _differing_words(was, now))


def _differing_words(was: list[str], now: list[str]) -> list[str]:
    """The words of two texts that are not in both, each in its place."""
    pieces = SequenceMatcher(None, was, now, autojunk=False).get_opcodes()
    return [
        word
        for kind, first, last, start, end in pieces
        if kind != "equal"
        for word in (*was[first:last], *now[start:end])
    ]


def names_of(layout: Layout) -> frozenset[str]:
    """The words by which rows, columns, holes and tools of the book are called."""
    said = [
        text.words
        for plan in layout.plans.values()
        for text in plan.texts
        if text.style in NAMING_STYLES
    ]
    said += [
        place.value
        for place in layout.places.values()
        if place.role == "given" and isinstance(place.value, str)
    ]
    return frozenset(word for text in said for word in words_of(text)) - LINKING


def _garbled(shown: str, words: str) -> bool:
    """Say whether words differ only where they are not plain letters, each of which a program wrote
    as a question mark, or by its bytes.
    """
    ways = [
        re.escape(words[at]) if words[at].isascii() else _ways(words[at])
        for at in range(len(words))
    ]
    return not words.isascii() and re.fullmatch("".join(ways), shown) is not None


def _ways(sign: str) -> str:
    """The ways in which programs garble a letter that is not plain."""
    coded = sign.encode("utf-8")
    said = {sign, "?", "\ufffd", "\ufffd" * len(coded), "?" * len(coded), normalize("NFKC", sign)}
    said |= {coded.decode(code, "replace") for code in ("cp1252", "latin-1")}
    return f"(?:{'|'.join(sorted(map(re.escape, said), key=len, reverse=True))})"
