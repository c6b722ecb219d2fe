"""Every way of spoiling a book is found by its code and at its place, and nothing else is said of it.

The damage is done in the stored XML of a book that has no finding at all, so what is found is the damage.
Kinds of damage: what people and programs do to returned workbooks; common practice, no source.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import openpyxl
import pytest

from builder.findings import catalogue
from builder.layout import Text
from builder.record import PROPERTY, SHEET
from builder.validator import EXIT, validate
from clean_readings import at, clean_book, only, shipped_layout, told
from damaged_books import KEPT, with_cell, with_names, with_parts
from xlsx_parts import Parts

READING = "bores.2.middle.thrust"
RESULT = "bores.2.middle.out_of_round"


def formula(key: str) -> str:
    return shipped_layout().formula(key)


# --- formulas --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "typed"),
    [(RESULT, 0.0), (RESULT, "0.001"), (f"{RESULT}.verdict", "OK"), (f"{RESULT}.verdict", None),
     ("decision.release_state", "RELEASED"), ("decision.holding", "#REF!")],
)  # fmt: skip
def test_a_formula_replaced_by_what_was_typed_is_found_even_where_the_value_is_right(
    tmp_path: Path, key: str, typed: object
) -> None:
    one = only(with_cell(clean_book(), tmp_path / "book.xlsx", at(key), holds=typed))
    assert (one.code, one.sheet, one.cell, one.key) == ("formula-replaced", *at(key), key)
    assert one.remedy.endswith(f"={formula(key)}")


EDITS = [
    ("operand", RESULT, "ABS(B", "ABS(C"),
    ("sign", RESULT, "-C", "+C"),
    ("function", "bore.1.mean_size", "AVERAGE", "MAX"),
    ("digits of the guard", f"{RESULT}.verdict", ",9)", ",2)"),
    ("comparison", f"{RESULT}.verdict", ">0", ">=0"),
    ("word", f"{RESULT}.verdict", '"OUT"', '"OK"'),
    ("limit", f"{RESULT}.verdict", "Release!", "Lands!"),
    ("grouping", "bore.1.clean_up_size", "2*(", "2*1*("),
]


@pytest.mark.parametrize(("key", "old", "new"), [edit[1:] for edit in EDITS], ids=[edit[0] for edit in EDITS])
def test_one_change_within_a_formula_is_found_though_it_shows_the_right_result(
    tmp_path: Path, key: str, old: str, new: str
) -> None:
    edited = formula(key).replace(old, new, 1)
    assert edited != formula(key)
    one = only(with_cell(clean_book(), tmp_path / "book.xlsx", at(key), holds=KEPT, formula=edited))
    assert (one.code, one.sheet, one.cell, one.found) == ("formula-edited", *at(key), edited)


@pytest.mark.parametrize("spelled", [str.lower, lambda text: f"({text})", lambda text: text.replace(",", " , ")])
def test_a_formula_spelled_otherwise_by_a_program_is_no_finding(tmp_path: Path, spelled: object) -> None:
    assert callable(spelled)
    key = "bore.1.mean_size"
    book = with_cell(clean_book(), tmp_path / "book.xlsx", at(key), holds=KEPT, formula=spelled(formula(key)))
    assert validate(book).findings == []


def test_a_formula_copied_from_the_row_above_is_an_edit_and_a_placeholder_of_another_program_too(tmp_path: Path) -> None:
    for other in (formula("bores.2.top.out_of_round"), f'IFERROR(__xludf.DUMMYFUNCTION("{RESULT}"),0.0)', "Bores!#REF!"):
        one = only(with_cell(clean_book(), tmp_path / "book.xlsx", at(RESULT), holds=KEPT, formula=other))
        assert (one.code, one.key) == ("formula-edited", RESULT)


# --- figures and words of the book -----------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["bores.out_of_round.to", "rebore.standard", "threads.head_studs.pitch", "job.number"])
def test_a_figure_of_the_spec_typed_over_is_found(tmp_path: Path, key: str) -> None:
    for typed in (0.05, "0.05", None):
        one = only(with_cell(clean_book(), tmp_path / "book.xlsx", at(key), holds=typed))
        assert (one.code, one.sheet, one.cell) == ("given-changed", *at(key))


def printed(style: str, words: str) -> Text:
    return next(text for text in shipped_layout().plans["Bores"].texts if text.style == style and words in text.words)


@pytest.mark.parametrize(
    ("style", "words", "typed", "code"),
    [
        ("unit", "mm", "in", "unit-changed"),
        ("heading", "along the crank", "along the crank in", "unit-changed"),
        ("heading", "out of round", "ovality mm", "label-changed"),
        ("title", "Cylinder bores", "Bores", "label-changed"),
        ("row", "Cylinder 2, middle", "Cylinder 2, centre", "label-changed"),
        ("row", "Cylinder 2, middle", "Cylinder 3, middle", "words-exchanged"),
    ],
)
def test_printed_words_changed_are_a_note_but_units_and_exchanged_rows_are_damage(
    tmp_path: Path, style: str, words: str, typed: str, code: str
) -> None:
    cell = printed(style, words).at.cell
    made = validate(with_cell(clean_book(), tmp_path / "book.xlsx", ("Bores", cell), holds=typed))
    assert told(made.findings) == Counter({(code, "Bores", cell): 1})
    assert made.exit_status == (0 if code == "label-changed" else 3)


def test_rows_sorted_with_their_readings_are_one_finding(tmp_path: Path) -> None:
    """The formulas stay and are right; only the words say that the readings are other ones."""
    first, second = printed("row", "Cylinder 1, top"), printed("row", "Cylinder 1, middle")
    halfway = with_cell(clean_book(), tmp_path / "half.xlsx", ("Bores", first.at.cell), holds=second.words)
    one = only(with_cell(halfway, tmp_path / "book.xlsx", ("Bores", second.at.cell), holds=first.words))
    assert (one.code, one.cell) == ("words-exchanged", first.at.cell)


# --- the file as a whole ---------------------------------------------------------------------------------------------


def test_a_stale_result_is_one_note_and_the_verdict_does_not_lean_on_it(tmp_path: Path) -> None:
    made = validate(with_cell(clean_book(), tmp_path / "book.xlsx", at(RESULT), holds=0.001, formula=formula(RESULT)))
    assert told(made.findings) == Counter({("results-stale", *at(RESULT)): 1})
    assert made.exit_status == 0
    lied = with_cell(clean_book(), tmp_path / "book.xlsx", at("decision.holding"), holds=0, formula=formula("decision.holding"))
    out = validate(with_cell(lied, tmp_path / "out.xlsx", at("holes_front_cover.F1.thread"), holds=0.6))
    assert out.verdict == "hold"
    assert {one.code for one in out.findings} == {"results-stale", "check-out"}


def test_names_dropped_are_a_note_and_every_cell_is_found_by_its_place(tmp_path: Path) -> None:
    name = shipped_layout().place(READING).name
    for keep, count in ((lambda _: False, len(shipped_layout().places)), (lambda one: one != name, 1)):
        made = validate(with_names(clean_book(), tmp_path / "book.xlsx", keep))
        (one,) = made.findings
        assert (one.code, made.exit_status) == ("names-lost", 0)
        assert f"dropped {count} of its names" in one.message
        assert made.typed == validate(clean_book()).typed


def test_identities_that_differ_mean_that_two_books_were_mixed(tmp_path: Path) -> None:
    identity = shipped_layout().identity.encode()
    pasted = only(with_cell(clean_book(), tmp_path / "cell.xlsx", at("job.identity"), holds="0123-4567-89AB"))
    assert (pasted.code, pasted.cell) == ("identity-differs", at("job.identity")[1])
    swapped = {"docProps/custom.xml": lambda part: part.replace(identity, b"0123-4567-89AB")}
    one = only(with_parts(clean_book(), tmp_path / "property.xlsx", swapped))
    assert (one.code, one.found) == ("identity-differs", "0123-4567-89AB")
    assert PROPERTY.encode() in Parts(clean_book()).files["docProps/custom.xml"]


def test_a_program_of_its_own_or_a_tie_to_other_files_makes_a_book_untrusted(tmp_path: Path) -> None:
    for part, code in (("xl/vbaProject.bin", "has-macros"), ("xl/externalLinks/externalLink1.xml", "external-link")):
        made = validate(with_parts(clean_book(), tmp_path / "book.xlsx", {part: lambda _: b"<x/>"}))
        assert ([one.code for one in made.findings], made.exit_status) == ([code], EXIT["untrusted"])
        assert part.casefold() in made.findings[0].message.casefold()


def test_sheets_of_a_persons_own_do_no_harm(tmp_path: Path) -> None:
    book = openpyxl.load_workbook(clean_book())
    book.create_sheet("Notes", 0)["A1"] = "# what the owner said"
    book.save(tmp_path / "book.xlsx")
    made = validate(tmp_path / "book.xlsx")
    assert ({one.code for one in made.findings}, made.exit_status) == ({"results-missing"}, 0)


def test_a_sheet_renamed_or_deleted_by_a_library_is_told(tmp_path: Path) -> None:
    for spoil, code in (
        (lambda book: book.remove(book["Lands"]), "sheet-deleted"),
        (lambda book: book.remove(book[SHEET]), ""),
    ):
        book = openpyxl.load_workbook(clean_book())
        spoil(book)
        book.save(tmp_path / "book.xlsx")
        made = validate(tmp_path / "book.xlsx")
        damage = [one.code for one in made.findings if one.severity == "damage"]
        assert (damage, made.exit_status) == ([code or "spec-altered"], 3)


def test_every_code_has_a_severity_and_a_remedy_in_words() -> None:
    for code, kind in catalogue().items():
        assert kind["severity"] in {"damage", "reading", "check", "note"}, code
        assert kind["says"].endswith("."), code
        assert kind["remedy"], code
