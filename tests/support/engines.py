"""Spreadsheet programs and libraries as witnesses: each recalculates a workbook and says what every
cell holds.

Every engine keeps one contract: ``engine(path)`` returns (sheet, address) -> value of each cell
*stored in the file given*, after a hard recalculation (no result that the file carries is trusted).
A value is a float, a text ("" is a text result, too), a bool, None for a blank cell, or an
`EngineError`. Which error it is differs from program to program for the same formula, so errors
compare equal. A date is its serial number.

`roundtrip` is the other use: a person opens the book in some program and saves it, results as that
program leaves them. Answers are kept for the life of the process by the content of the file: treat
every returned path as read-only.
"""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

import formualizer as formualizer_library
import ironcalc as ironcalc_library
import openpyxl
from lxml import etree
from openpyxl.utils.cell import coordinate_to_tuple

from datumbook.workbook.evaluation import Breakdown
from programs import AS_ODS, AS_XLSX, need, office, run, workshop
from xlsx_parts import MAIN, Parts, plain_text


@dataclass(frozen=True)
class EngineError:
    """An error in a cell. Only that it is one compares; what the engine called it is for the reader
    of a failure.
    """

    shown: str = field(default="", compare=False)


Value = float | str | bool | None | EngineError
Results = dict[tuple[str, str], Value]


# --- what has been done once is not done twice


def once(route: str, path: Path, suffix: str = ".xlsx") -> Path:
    """Return where the answer of a route for this content is kept, whether it is there yet or
    not.
    """
    kept = workshop() / route / f"{hashlib.sha256(path.read_bytes()).hexdigest()[:32]}{suffix}"
    kept.parent.mkdir(parents=True, exist_ok=True)
    return kept


def under_own_name(path: Path) -> Path:
    """Return a copy named by its content, so that two files of one name can be converted
    together.
    """
    copy = once("given", path, path.suffix)
    if not copy.exists():
        shutil.copyfile(path, copy)
    return copy


# --- reading what an engine saved


def stored(path: Path) -> Results:
    """Return the value that each cell of an xlsx file carries, as it stands in the file."""
    parts = Parts(path)
    return {(sheet, cell.get("r", "")): value(parts, cell) for sheet, cell in parts.cells()}


def value(parts: Parts, cell: etree._Element) -> Value:
    """Return the value of one cell element by its type: s, inlineStr, str, b, e, or a number."""
    kind, text = cell.get("t", "n"), cell.findtext(f"{MAIN}v")
    if kind == "inlineStr":
        return "".join(plain_text(item) for item in cell.iterfind(f"{MAIN}is"))
    if kind == "str":
        return text or ""
    if not text:
        return None
    if kind == "s":
        return parts.shared_texts[int(text)]
    if kind == "b":
        return text in ("1", "true")
    return EngineError(text) if kind == "e" else float(text)


def asked_of_each_cell(path: Path, holds: Callable[[str, int, int], Value]) -> Results:
    """Return what ``holds(sheet, row, column)`` says of each cell stored in the file given."""
    cells = [(sheet, cell.get("r", "")) for sheet, cell in Parts(path).cells()]
    return {
        (sheet, address): holds(sheet, *coordinate_to_tuple(address)) for sheet, address in cells
    }


def held_to(path: Path, found: Results) -> Results:
    """Return one value for each cell stored in the file given; RuntimeError when a whole sheet is
    missing.
    """
    cells = [(sheet, cell.get("r", "")) for sheet, cell in Parts(path).cells()]
    lost = {sheet for sheet, _ in cells} - {sheet for sheet, _ in found}
    if lost:
        raise RuntimeError(
            f"the engine returned no cell of the sheets {sorted(lost)} of {path.name}"
        )
    return {cell: found.get(cell) for cell in cells}


# --- the engines


def libreoffice_many(paths: Sequence[Path]) -> list[Results]:
    """Recalculate several workbooks in one LibreOffice process; each is converted once in the life
    of this process.
    """
    waiting = [path for path in paths if not once("libreoffice", path).exists()]
    if waiting:
        copies = sorted({under_own_name(path) for path in waiting})
        office(copies, AS_XLSX, once("libreoffice", waiting[0]).parent, recalculate=True)
    return [held_to(path, stored(once("libreoffice", path))) for path in paths]


def libreoffice(path: Path) -> Results:
    """Recalculate by LibreOffice with a profile that recalculates every file on load."""
    return libreoffice_many([path])[0]


def gnumeric(path: Path) -> Results:
    """Recalculate by Gnumeric's converter."""
    kept = once("gnumeric", path)
    if not kept.exists():
        run([need("gnumeric"), "--recalc", path, kept])
    return held_to(path, stored(kept))


def ironcalc(path: Path) -> Results:
    """Recalculate by the library IronCalc."""
    model = ironcalc_library.load_from_xlsx(str(path), "en", "UTC", "en")
    model.evaluate()
    numbers = {
        sheet["name"]: number for number, sheet in enumerate(model.get_worksheets_properties())
    }

    def holds(sheet: str, row: int, column: int) -> Value:
        place = numbers[sheet], row, column
        found = model.get_cell_value(*place)
        wrong = model.get_cell_type(*place) == ironcalc_library.CellType.ErrorValue
        return EngineError(str(found)) if wrong else found

    return asked_of_each_cell(path, holds)


def formualizer(path: Path) -> Results:
    """Recalculate by the library formualizer, which compares raw floats strictly."""
    book = formualizer_library.load_workbook(str(path))
    book.set_temporal_egress("serial")
    book.evaluate_all()

    def holds(sheet: str, row: int, column: int) -> Value:
        found = book.get_value(sheet, row, column)
        return EngineError(str(found["kind"])) if isinstance(found, dict) else found

    return asked_of_each_cell(path, holds)


ENGINES: dict[str, Callable[[Path], Results]] = {
    "libreoffice": libreoffice,
    "gnumeric": gnumeric,
    "ironcalc": ironcalc,
    "formualizer": formualizer,
}


# --- opened and saved by another program


def saved_by_libreoffice(path: Path, kept: Path) -> None:
    """Save as xlsx, results kept where the file has them, as that program does."""
    office([under_own_name(path)], AS_XLSX, kept.parent, recalculate=False)


def saved_as_ods(path: Path, kept: Path) -> None:
    """Save as ods."""
    office([under_own_name(path)], AS_ODS, kept.parent, recalculate=False)


def saved_through_ods(path: Path, kept: Path) -> None:
    """Save as ods, open that and save as xlsx."""
    office([roundtrip("libreoffice_ods", path)], AS_XLSX, kept.parent, recalculate=False)


def saved_by_gnumeric(path: Path, kept: Path) -> None:
    """Save as xlsx without a hard recalculation."""
    run([need("gnumeric"), path, kept])


def saved_by_ironcalc(path: Path, kept: Path) -> None:
    """Evaluate and save; protection, validations and properties are lost."""
    model = ironcalc_library.load_from_xlsx(str(path), "en", "UTC", "en")
    model.evaluate()
    model.save_to_xlsx(str(kept))


def saved_by_openpyxl(path: Path, kept: Path) -> None:
    """Load and save by the library openpyxl; every result is dropped."""
    openpyxl.load_workbook(path).save(kept)


ROUTES: dict[str, tuple[str, Callable[[Path, Path], None]]] = {
    "libreoffice": (".xlsx", saved_by_libreoffice),
    "libreoffice_through_ods": (".xlsx", saved_through_ods),
    "libreoffice_ods": (".ods", saved_as_ods),
    "gnumeric": (".xlsx", saved_by_gnumeric),
    "ironcalc": (".xlsx", saved_by_ironcalc),
    "openpyxl": (".xlsx", saved_by_openpyxl),
}


def roundtrip(engine: str, path: Path) -> Path:
    """Open a workbook and save it by one of ROUTES, once for each content; the returned file is
    read-only to you.
    """
    suffix, save = ROUTES[engine]
    kept = once(f"saved-{engine}", path, suffix)
    if not kept.exists():
        save(path, kept)
    return kept


def same(shown: Value, computed: object) -> bool:
    """Say whether what a cell shows is what was computed: numbers to 1e-9 of their size, words and
    errors as they are.
    """
    if isinstance(computed, Breakdown):
        return isinstance(shown, EngineError)
    if isinstance(computed, float):
        return type(shown) in {int, float} and abs(float(shown or 0) - computed) <= 1e-9 * max(
            1.0, abs(computed)
        )
    return shown == (computed or "") or (shown is None and not computed)
