"""A book for the pen that was typed into after all: judged as the whole book with the same
readings, by whichever program it was saved; what is hidden of it beyond what a form hides is
damage.

The oracle is the whole book, saved by the same program; what somebody can hide with a spreadsheet
program: common practice, no source.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pytest

from clean_readings import clean_readings, shipped_layout, told
from datumbook.carrying import carry
from datumbook.readers import open_book
from datumbook.validator import Validation, validate
from datumbook.validator.compare.looks import looks_changed
from datumbook.validator.compare.survey import survey
from datumbook.validator.locate.location import locate
from datumbook.workbook.layout import Layout
from datumbook.workbook.pen import PenForm, pen_form
from datumbook.workbook.record import SHEET, Record, RecordError, read_record
from datumbook.writer import write
from foreign_saves import honest_readings, small_layout
from long_runs import mostly_long
from programs import AS_ODS, AS_XLSX, made_once, need, office, run
from records import content_of, repacked_lines
from stored_books import StoredOds, StoredXlsx, ods
from xlsx_parts import MAIN

SAVES: dict[str, Callable[[Path, Path], object]] = {
    "LibreOffice.ods": lambda book, out: by_libreoffice(AS_ODS, book, out),
    "LibreOffice.xlsx": lambda book, out: by_libreoffice(AS_XLSX, book, out),
    "Gnumeric.xlsx": lambda book, out: run([need("gnumeric"), book, out]),
}
BOOKS = {"small": small_layout, "shipped": shipped_layout}


def by_libreoffice(target: str, book: Path, out: Path) -> None:
    (folder := out.with_name(f"{out.name}-made")).mkdir()
    office([book], target, folder, recalculate=False)[0].rename(out)


@cache
def filled(name: str, *, pen: bool) -> Path:
    """A filled book, whole or for the pen: of the small one all as it should be, of the shipped one
    with a bore far out and a reading missing.
    """
    layout = BOOKS[name]()
    readings = honest_readings(layout, 1) if name == "small" else faulty(layout)
    return made_once(
        f"typed-{name}-{'pen' if pen else 'whole'}.xlsx",
        lambda out: write(layout, out, readings, pen=pen),
    )


def faulty(layout: Layout) -> dict[str, object]:
    readings: dict[str, object] = dict(clean_readings(layout))
    del readings["bores.2.top.axial"]
    return readings | {"bores.1.top.axial": "82.9"}


def saved(name: str, way: str, *, pen: bool) -> Path:
    book = filled(name, pen=pen)
    return made_once(f"{book.stem}-{way}", lambda out: SAVES[way](book, out))


def damage(made: Validation) -> list[str]:
    return [one.code for one in made.findings if one.severity == "damage"]


def alike(form: Path, whole: Path) -> None:
    """Both are judged alike, in every finding and every value."""
    ours, theirs = validate(form), validate(whole)
    assert damage(ours) == []
    assert told(ours.findings) == told(theirs.findings)
    assert (ours.verdict, ours.state, ours.seal) == (theirs.verdict, theirs.state, theirs.seal)
    assert not {*ours.typed.items()} ^ {*theirs.typed.items()}
    assert {key: one for key, one in ours.values.items() if one != theirs.values[key]} == {}


@pytest.mark.parametrize("name", mostly_long(list(BOOKS), 1))
def test_a_form_typed_into_is_judged_as_the_whole_book(name: str) -> None:
    alike(filled(name, pen=True), filled(name, pen=False))


@pytest.mark.program("libreoffice", "gnumeric")
@pytest.mark.parametrize(
    ("name", "way"), mostly_long([(name, way) for way in SAVES for name in BOOKS])
)
def test_a_form_saved_by_a_program_is_judged_as_the_whole_book_it_saved(
    name: str, way: str
) -> None:
    alike(saved(name, way, pen=True), saved(name, way, pen=False))


# --- what is hidden of it later


def forms() -> Iterator[tuple[str, PenForm]]:
    """The forms of the small book, as its record tells them."""
    narrow = recorded(filled("small", pen=True)).narrow
    assert narrow is not None
    for name, plan in small_layout().plans.items():
        form = pen_form(small_layout(), plan, narrow=name in narrow)
        if not form.is_blank:
            yield name, form


def recorded(book: Path) -> Record:
    lines = [str(cell.value) for _, cell in sorted(open_book(book).sheets[SHEET].cells.items())]
    return read_record(lines)


def seen(form: PenForm) -> list[tuple[int, int]]:
    """Rows and columns of what a form shows."""
    words = [one for one in form.plan.texts if one.words]
    cells = [*small_layout().by_sheet[form.plan.sheet.name], *words]
    return [(one.at.row, one.at.column) for one in cells if form.has_shown(one)]


def test_every_row_and_column_that_a_form_shows_is_missed_once_it_is_hidden() -> None:
    layout, book = small_layout(), open_book(filled("small", pen=True))
    located = locate(layout, book, recorded(filled("small", pen=True)).narrow)
    hiding = {"row-hidden", "column-hidden", "sheet-hidden"}
    assert not hiding & {one.code for one in survey(layout, located, [], protected=True)}
    counted = {}
    for name, form in forms():
        sheet, cells = book.sheets[name], seen(form)
        rows, columns = {row for row, _ in cells}, {column for _, column in cells}
        assert not rows & sheet.hidden_rows
        assert not columns & sheet.hidden_columns
        sheet.hidden_rows |= rows
        sheet.hidden_columns |= columns
        sheet.hidden = True
        counted[name] = len(rows), len(columns)
    found = [one for one in survey(layout, located, [], protected=True) if one.code in hiding]
    assert Counter(one.code for one in found) == dict.fromkeys(hiding, len(counted))
    for name, (rows_hidden, columns_hidden) in counted.items():
        said = {one.code: one.message for one in found if one.sheet == name}
        assert said["row-hidden"].startswith(f"{rows_hidden} row(s) of {name} ")
        assert said["column-hidden"].startswith(f"{columns_hidden} column(s) of {name} ")


def test_a_form_unhidden_is_the_whole_book_again(tmp_path: Path) -> None:
    book = StoredXlsx(filled("small", pen=True))
    for name in small_layout().plans:
        for tag in ("row", "col"):
            for one in book.sheet(name).iter(f"{MAIN}{tag}"):
                one.attrib.pop("hidden", None)
    for one in book.parts.workbook.iter(f"{MAIN}sheet"):
        if one.get("name") != SHEET:
            one.attrib.pop("state", None)
    alike(book.save(tmp_path / "shown.xlsx"), filled("small", pen=False))


def box() -> tuple[str, str]:
    """A sheet and a cell of it that a form is written in."""
    place = small_layout().places["bores.1.top.axial"]
    return place.at.sheet, place.at.cell


def hide_row(book: StoredXlsx) -> None:
    sheet, cell = box()
    number = cell.lstrip("ABCDEFGHIJKLMNOP")
    (row,) = [one for one in book.sheet(sheet).iter(f"{MAIN}row") if one.get("r") == number]
    row.set("hidden", "1")


def whiten(book: StoredXlsx) -> None:
    look = '<font><color rgb="FFFFFFFF"/><sz val="10"/><name val="Arial"/></font>'
    book.look(*box(), font=look)


@pytest.mark.parametrize(("attack", "code"), [(hide_row, "row-hidden"), (whiten, "cell-unseen")])
@pytest.mark.parametrize("pen", [True, False])
def test_hiding_a_reading_in_the_file_is_damage_in_form_and_whole_book(
    attack: Callable[[StoredXlsx], None], code: str, pen: bool, tmp_path: Path
) -> None:
    book = StoredXlsx(filled("small", pen=pen))
    attack(book)
    assert damage(validate(book.save(tmp_path / "hidden.xlsx"))) == [code]


@pytest.mark.program("libreoffice")
def test_a_row_hidden_in_the_ods_of_a_form_is_damage(tmp_path: Path) -> None:
    book = StoredOds(saved("small", "LibreOffice.ods", pen=True))
    sheet, cell = box()
    row = book.row(sheet, int(cell.lstrip("ABCDEFGHIJKLMNOP")))
    row.set(ods("table:visibility"), "collapse")
    assert damage(validate(book.save(tmp_path / "hidden.ods"))) == ["row-hidden"]


def test_whether_a_book_is_a_form_its_record_says_and_not_what_is_hidden_in_it() -> None:
    layout, book = small_layout(), open_book(filled("small", pen=True))
    located = locate(layout, book, recorded(filled("small", pen=False)).narrow)
    found = {one.code for one in survey(layout, located, [], protected=True)}
    assert {"row-hidden", "column-hidden", "sheet-hidden"} <= found
    assert "cell-unseen" in {one.code for one in looks_changed(layout, located)}


@pytest.mark.parametrize("said", [3, {}, {"narrow": 3}])
def test_a_record_that_says_nothing_sensible_of_its_forms_is_refused(said: object) -> None:
    with pytest.raises(RecordError):
        read_record(repacked_lines(content_of(small_layout()) | {"pen": said}))


def test_the_readings_of_a_form_are_carried_into_a_whole_book() -> None:
    layout = small_layout()
    carried = carry(layout, filled("small", pen=True))
    assert carried.damage == []
    assert carried.typed
    assert carried == carry(layout, filled("small", pen=False))
