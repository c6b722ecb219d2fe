"""A book whose layout is not this version's: its readings by its own record, name by name and cell
by cell.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from datumbook.cells.columns import DateTyped
from datumbook.cells.handles import defined_name
from datumbook.readers import Book, FoundCell, place_of, target
from datumbook.readers.arithmetic import arithmetic, shows_sum
from datumbook.workbook.record import Mapped, Record


@dataclass(frozen=True)
class OlderReading:
    """One reading of an older book: what it was, what was typed, and how that reads; typed is None
    for what is none.
    """

    was: Mapped
    typed: float | str | None
    said: str


def older_readings(record: Record, book: Book) -> Iterator[OlderReading]:
    """Yield every reading of the record's map whose cell holds something."""
    names = {name.casefold(): text for name, text in book.names.items()}
    for was in record.map:
        spot = _spot(was, book, names) if was.role == "reading" else None
        sheet = None if spot is None else book.sheets.get(spot[0])
        if spot is not None and sheet is not None and spot[1:] in sheet.cells:
            cell, formula = sheet.cells[spot[1:]], sheet.filled_by(spot[1:])
            typed = _worked_out(was, cell, formula) if formula else _typed(was, cell, book)
            if typed != "":
                yield OlderReading(was, typed, formula or _said(cell))


def _spot(was: Mapped, book: Book, names: dict[str, str]) -> tuple[str, int, int] | None:
    """Where a reading stands: where its name leads, else where the record says."""
    spot = target(names.get(defined_name(was.key).casefold(), ""))
    if spot is not None and spot[0] in book.sheets:
        return spot
    try:
        return (was.sheet, *place_of(was.cell))
    except ValueError:
        return None


def _worked_out(was: Mapped, cell: FoundCell, formula: str) -> float | None:
    """What a formula spells out, where it is a sum of numbers that the cell shows."""
    worked = None if was.unit is None else arithmetic(formula)
    return worked if worked is not None and shows_sum(cell, worked) else None


def _typed(was: Mapped, cell: FoundCell, book: Book) -> float | str | None:
    if cell.error is not None or isinstance(cell.value, bool):
        return None
    if cell.value is None:
        return ""
    if isinstance(cell.value, str):
        return cell.value if cell.value.strip() else ""
    if was.unit is not None:
        return DateTyped(cell.value) if cell.is_date else cell.value
    day = book.moment(cell.value) if cell.is_date else None
    return f"{day:%Y-%m-%d}" if day else f"{cell.value:.15g}"


def _said(cell: FoundCell) -> str:
    return cell.error or (
        str(cell.value).upper() if isinstance(cell.value, bool) else str(cell.value)
    )
