"""Attacks on printed words that steer the work: a figure, a side, a number, what must not be done.

The words are looked for in the book that is attacked, so that none goes missing unseen.
"""

from __future__ import annotations

from attacks_on_looks import ODS, SHEET, XLSX, OnOds, OnXlsx
from datumbook.workbook.placed import PrintedText
from foreign_saves import small_layout
from stored_books import StoredOds, StoredXlsx, ods
from xlsx_parts import MAIN


def printed(words: str) -> PrintedText:
    """The first printed text that holds these words."""
    return next(
        text for plan in small_layout().plans.values() for text in plan.texts if words in text.words
    )


def in_xlsx(old: str, new: str) -> OnXlsx:
    """Words of one cell changed."""

    def attack(book: StoredXlsx) -> None:
        text = printed(old)
        cell = book.cell(text.at.sheet, text.at.cell)
        for child in list(cell):
            cell.remove(child)
        cell.set("t", "inlineStr")
        made = book.child(cell, "<is><t/></is>")
        made[0].text = text.words.replace(old, new, 1)

    return attack


def in_ods(old: str, new: str) -> OnOds:
    """Words of one cell changed."""

    def attack(book: StoredOds) -> None:
        text = printed(old)
        cell = book.cell(text.at.sheet, text.at.cell)
        for child in cell.findall(ods("text:p")):
            cell.remove(child)
        for at, line in enumerate(text.words.replace(old, new, 1).split("\n")):
            book.put(cell, "<text:p/>", at).text = line

    return attack


CHANGES = {
    "the thrust side": ("Thrust side: left", "Thrust side: right"),
    "the end of cylinder 1": ("at the timing end", "at the flywheel end"),
    "left and right": ("Left and right as seen", "Right and left as seen"),
    "the number of a cylinder": ("End wall before cylinder 1", "End wall before cylinder 2"),
    "an oversize": ("Oversize +0.25 mm", "Oversize +0.50 mm"),
    "the direction of a heading": ("across the crank\nmm", "along the crank\nmm"),
    "what a heading means": ("out of round\nmm", "taper\nmm"),
    "the sense of a limit": ("not more than", "not less than"),
    "a danger taken out": ("stand clear, ", ""),
    "a not taken out": ("never water", "water"),
    "an example otherwise": ("such as 82.014", "such as 8.2014"),
    "a step before and after": ("before the cut and after it", "after the cut and before it"),
    "the name of a row": ("Centre off its place, mm", "Centre, mm"),
    "a row without a name": ("Finish bore typed, mm", ""),
    "what a verdict means": ("OUT: beyond the limit", "OUT: inside the limit"),
    "the sign of more and less": ("+0.75", "-0.75"),
}


def head_in_xlsx(book: StoredXlsx) -> None:
    """Another verdict at the head of the pages of a sheet."""
    (head,) = book.sheet(SHEET).iter(f"{MAIN}oddHeader")
    head.text = FALSE_HEAD


def foot_in_xlsx(book: StoredXlsx) -> None:
    """The same at the foot of first pages alone."""
    (found,) = book.sheet(SHEET).iter(f"{MAIN}headerFooter")
    found.set("differentFirst", "1")
    book.child(found, f"<firstFooter>{FALSE_HEAD}</firstFooter>")


def head_in_ods(book: StoredOds) -> None:
    """Another verdict at the head of the pages of every sheet."""
    for head in book.styles.iter(ods("style:header")):
        book.put(head, f"<style:region-center><text:p>{FALSE_HEAD}</text:p></style:region-center>")


FALSE_HEAD = "RELEASED: all OK, stop 99.9"
XLSX["page heads"] = {"at the head": head_in_xlsx, "at the foot of first pages": foot_in_xlsx}
ODS["page heads"] = {"at the head": head_in_ods}
XLSX["words"] = {name: in_xlsx(*change) for name, change in CHANGES.items()}
ODS["words"] = {name: in_ods(*change) for name, change in CHANGES.items()}
