"""Opens a workbook in LibreOffice without a window and types into it as a person would; run by the
system's Python.

    /usr/bin/python3 typing_client.py PROFILE_FOLDER < jobs.json

Standard input is a list of jobs, done by one program process that this script starts, and ends by
its own id: ``{"book": path, "out": path, "typed": [["Bores", "C7", "81.02"], …], "actions": [{"do":
"insert_rows", …}, …]}``. A text goes through the program's own recogniser of numbers, in the format
of the cell: `1/4` is a date in a General cell and a quarter where the format is a fraction. A
locked cell refuses, as it does at the keyboard; the validation of a cell is passed round, as
pasting does. Actions follow the typing and take the protection of their sheet off first. Why not
the tests' own Python: the bridge to the program comes with the system and belongs to its
interpreter.
"""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

FILTERS = {".xlsx": "Calc MS Excel 2007 XML", ".ods": "calc8"}
SECONDS_TO_START = 60


class RefusedError(Exception):
    """The program would not let a person do this; the message says what and where."""


# --- the program


def start(profile: Path, pipe: str) -> subprocess.Popen[bytes]:
    """Start the program on a profile folder, listening on a pipe of its own; its process id is left
    in the folder.
    """
    options = ["--headless", "--norestore", "--nologo", f"-env:UserInstallation={profile.as_uri()}"]
    program = subprocess.Popen(
        ["soffice", *options, f"--accept=pipe,name={pipe};urp;"],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    (profile / "process").write_text(str(program.pid), encoding="ascii")
    return program


def desktop(program: subprocess.Popen[bytes], pipe: str) -> Any:
    """Return the program's desktop as soon as it answers; RefusedError when it does not within a
    minute.
    """
    import uno
    from com.sun.star.connection import NoConnectException

    resolver = uno.getComponentContext().ServiceManager.createInstance(
        "com.sun.star.bridge.UnoUrlResolver"
    )
    until = time.monotonic() + SECONDS_TO_START
    while time.monotonic() < until and program.poll() is None:
        try:
            context = resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
            return context.ServiceManager.createInstanceWithContext(
                "com.sun.star.frame.Desktop", context
            )
        except NoConnectException:
            time.sleep(0.05)
    raise RefusedError("the spreadsheet program did not start")


def end(program: subprocess.Popen[bytes], table: Any) -> None:
    """Ask the program to end; end its process group if it does not."""
    try:
        table.terminate()
        program.wait(timeout=20)
    except Exception:  # it may have gone already, or be past answering
        os.killpg(program.pid, signal.SIGKILL)
        program.wait()


def setting(name: str, value: Any) -> Any:
    """Return one named option of a load or save."""
    from com.sun.star.beans import PropertyValue

    option = PropertyValue()
    option.Name, option.Value = name, value
    return option


# --- what a person does


def sheet_of(book: Any, name: str) -> Any:
    """Return a sheet by name; RefusedError when there is none."""
    if not book.Sheets.hasByName(name):
        raise RefusedError(
            f"there is no sheet {name!r}: the book has {list(book.Sheets.ElementNames)}"
        )
    return book.Sheets.getByName(name)


def type_text(book: Any, sheet: str, cell: str, text: str) -> None:
    """Type a text into a cell and leave it; RefusedError for a locked cell of a protected sheet."""
    page = sheet_of(book, sheet)
    place = page.getCellRangeByName(cell)
    if page.isProtected() and place.CellProtection.IsLocked:
        raise RefusedError(f"{sheet}!{cell} is locked: nothing can be typed there")
    place.FormulaLocal = text


def cells_between(page: Any, wanted: dict[str, Any]) -> Any:
    """Return the range address of an action's ``cells``."""
    return page.getCellRangeByName(wanted["cells"]).RangeAddress


def act(book: Any, wanted: dict[str, Any]) -> None:
    """Do one thing a person may do to a book; `ACTIONS` says which and with what."""
    if wanted["do"] not in ACTIONS:
        raise RefusedError(f"there is no action {wanted['do']!r}: there are {sorted(ACTIONS)}")
    if book.isProtected():
        book.unprotect("")
    page = sheet_of(book, wanted["sheet"])
    page.unprotect("")
    ACTIONS[wanted["do"]](book, page, wanted)


def insert_rows(_book: Any, page: Any, wanted: dict[str, Any]) -> None:
    """Insert ``count`` rows above row ``row`` (1 is the first)."""
    page.Rows.insertByIndex(wanted["row"] - 1, wanted.get("count", 1))


def delete_rows(_book: Any, page: Any, wanted: dict[str, Any]) -> None:
    """Delete ``count`` rows from row ``row`` on."""
    page.Rows.removeByIndex(wanted["row"] - 1, wanted.get("count", 1))


def insert_columns(_book: Any, page: Any, wanted: dict[str, Any]) -> None:
    """Insert ``count`` columns left of column ``column`` (1 is A)."""
    page.Columns.insertByIndex(wanted["column"] - 1, wanted.get("count", 1))


def delete_columns(_book: Any, page: Any, wanted: dict[str, Any]) -> None:
    """Delete ``count`` columns from column ``column`` on."""
    page.Columns.removeByIndex(wanted["column"] - 1, wanted.get("count", 1))


def rename_sheet(_book: Any, page: Any, wanted: dict[str, Any]) -> None:
    """Give the sheet the name ``to``."""
    page.Name = wanted["to"]


def delete_sheet(book: Any, page: Any, _wanted: dict[str, Any]) -> None:
    """Delete the sheet."""
    book.Sheets.removeByName(page.Name)


def copy_sheet(book: Any, page: Any, wanted: dict[str, Any]) -> None:
    """Copy the sheet under the name ``to``, behind all others."""
    book.Sheets.copyByName(page.Name, wanted["to"], book.Sheets.Count)


def move_cells(_book: Any, page: Any, wanted: dict[str, Any]) -> None:
    """Cut ``cells`` and paste them at ``to`` on the same sheet."""
    page.moveRange(page.getCellRangeByName(wanted["to"]).CellAddress, cells_between(page, wanted))


def copy_cells(_book: Any, page: Any, wanted: dict[str, Any]) -> None:
    """Copy ``cells`` and paste them at ``to`` on the same sheet."""
    page.copyRange(page.getCellRangeByName(wanted["to"]).CellAddress, cells_between(page, wanted))


def set_formula(_book: Any, page: Any, wanted: dict[str, Any]) -> None:
    """Put ``formula`` (English names, `=` in front; a number or a text as well) into ``cell``."""
    page.getCellRangeByName(wanted["cell"]).Formula = wanted["formula"]


ACTIONS = {
    action.__name__: action
    for action in (
        insert_rows,
        delete_rows,
        insert_columns,
        delete_columns,
        rename_sheet,
        delete_sheet,
        copy_sheet,
        move_cells,
        copy_cells,
        set_formula,
    )
}


def work(table: Any, job: dict[str, Any]) -> None:
    """Open a copy of the book of a job, type, act, save under the name ``out`` and close.

    A copy, because the program locks what it opens and another process may want the same book.
    """
    if not Path(job["book"]).exists():
        raise RefusedError(f"there is no workbook {job['book']}")
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(shutil.copy(job["book"], folder))
        book = table.loadComponentFromURL(copy.as_uri(), "_blank", 0, (setting("Hidden", True),))
        if book is None:
            raise RefusedError(f"{job['book']} cannot be opened")
        fill_in(book, job)


def fill_in(book: Any, job: dict[str, Any]) -> None:
    """Type, act, save under the name ``out`` and close."""
    try:
        for sheet, cell, text in job.get("typed", []):
            type_text(book, sheet, cell, text)
        for wanted in job.get("actions", []):
            act(book, wanted)
        out = Path(job["out"])
        book.storeToURL(out.as_uri(), (setting("FilterName", FILTERS[out.suffix]),))
    finally:
        book.close(True)


def main() -> int:
    """Do the jobs on standard input; 1 with a sentence on standard error when one is refused."""
    jobs, pipe = json.load(sys.stdin), f"datumbook{os.getpid()}"
    program, table = start(Path(sys.argv[1]), pipe), None
    try:
        table = desktop(program, pipe)
        for job in jobs:
            work(table, job)
    except RefusedError as refusal:
        print(refusal, file=sys.stderr)
        return 1
    finally:
        end(program, table)
    return 0


if __name__ == "__main__":
    sys.exit(main())
