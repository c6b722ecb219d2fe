"""Every way of spoiling a book is found by its code and at its place, and nothing else is said of
it.

The damage is done in the stored XML of a book that has no finding at all, so what is found is the
damage. Kinds of damage: what people and programs do to returned workbooks; common practice, no
source.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import openpyxl
import pytest
from lxml import etree

from bored_block import at, bored_book, bored_layout
from clean_readings import only, told, validated
from damaged_books import KEPT, with_cell, with_names, with_parts, with_sheet, with_workbook
from damages import without
from datumbook.readers import address_of
from datumbook.readers.shared import shared_formula
from datumbook.validator import EXIT, validate
from datumbook.workbook.placed import Place, PrintedText
from datumbook.workbook.record import PROPERTY, SHEET
from long_runs import mostly_long
from xlsx_parts import MAIN, Parts

READING = "bores.2.middle.thrust"
RESULT = "bores.2.middle.out_of_round"


def formula(key: str) -> str:
    return bored_layout().formula(key)


# --- formulas


def test_a_formula_in_a_fixed_cell_of_no_words_is_told_though_it_shows_nothing_yet(
    tmp_path: Path,
) -> None:
    empty = next(
        place
        for place in bored_layout().places.values()
        if place.role == "given" and place.value == ""
    )
    one = only(
        with_cell(
            bored_book(),
            tmp_path / "book.xlsx",
            (empty.at.sheet, empty.at.cell),
            holds="",
            formula="1+1",
        )
    )
    assert (one.code, one.sheet, one.cell) == ("given-changed", empty.at.sheet, empty.at.cell)


@pytest.mark.parametrize(
    ("key", "typed"),
    mostly_long(
        [
            (RESULT, 0.0),
            (RESULT, "0.001"),
            (f"{RESULT}.verdict", "OK"),
            (f"{RESULT}.verdict", None),
            ("decision.release_state", "RELEASED"),
            ("decision.holding", "#REF!"),
        ],
        3,
    ),
)
def test_a_formula_replaced_by_what_was_typed_is_found_even_where_the_value_is_right(
    tmp_path: Path, key: str, typed: object
) -> None:
    one = only(with_cell(bored_book(), tmp_path / "book.xlsx", at(key), holds=typed))
    code = "verdict-overwritten" if key.endswith("verdict") else "formula-replaced"
    assert (one.code, one.sheet, one.cell, one.key) == (code, *at(key), key)
    assert one.remedy.endswith(f"={formula(key)}")


EDITS = [
    ("operand", RESULT, "ABS(B", "ABS(C", "formula-reference"),
    ("sign", RESULT, "-C", "+C", "formula-edited"),
    ("function", "bore.1.mean_size", "AVERAGE", "SUM", "formula-edited"),
    ("digits of the guard", f"{RESULT}.verdict", ",9)", ",2)", "formula-number"),
    ("comparison", f"{RESULT}.verdict", ">0", ">=0", "formula-edited"),
    ("word", f"{RESULT}.verdict", '"OUT"', '"OK"', "formula-edited"),
    ("limit", f"{RESULT}.verdict", "Release!", "Lands!", "formula-reference"),
    ("grouping", "bore.1.clean_up_size", "2*(", "2*1*(", "formula-edited"),
]


@pytest.mark.parametrize(
    ("key", "old", "new", "code"),
    mostly_long((pytest.param(*edit[1:], id=edit[0]) for edit in EDITS), 3),
)
def test_one_change_within_a_formula_is_found_though_it_shows_the_right_result(
    tmp_path: Path, key: str, old: str, new: str, code: str
) -> None:
    edited = formula(key).replace(old, new, 1)
    assert edited != formula(key)
    one = only(with_cell(bored_book(), tmp_path / "book.xlsx", at(key), holds=KEPT, formula=edited))
    assert (one.code, one.sheet, one.cell, one.found) == (code, *at(key), edited)


@pytest.mark.parametrize(
    "spelled", [str.lower, lambda text: f"({text})", lambda text: text.replace(",", " , ")]
)
def test_a_formula_spelled_otherwise_by_a_program_is_no_finding(
    tmp_path: Path, spelled: object
) -> None:
    assert callable(spelled)
    key = "bore.1.mean_size"
    book = with_cell(
        bored_book(), tmp_path / "book.xlsx", at(key), holds=KEPT, formula=spelled(formula(key))
    )
    assert validate(book).findings == []


def test_a_formula_dragged_or_copied_says_from_where(tmp_path: Path) -> None:
    """Dragged from the row above it is the right one; dragged from beside or copied letter by
    letter it is not.
    """
    shifted = with_cell(
        bored_book(),
        tmp_path / "beside.xlsx",
        at("bore.1.clean_up_size"),
        holds=KEPT,
        formula=shared_formula(
            formula("bore.1.mean_size"), at("bore.1.mean_size")[1], at("bore.1.clean_up_size")[1]
        ),
    )
    copied = with_cell(
        bored_book(),
        tmp_path / "book.xlsx",
        at(RESULT),
        holds=KEPT,
        formula=formula("bores.2.top.out_of_round"),
    )
    for book, origin in ((shifted, "bore.1.mean_size"), (copied, "bores.2.top.out_of_round")):
        assert (only(book).code, only(book).found) == ("formula-dragged", at(origin)[1])


def test_values_pasted_over_a_sheet_are_one_finding_that_names_range_and_count(
    tmp_path: Path,
) -> None:
    layout = bored_layout()
    for sheet in ("Bores", "Finished"):
        computed = [
            place
            for place in layout.places.values()
            if place.at.sheet == sheet and layout.has_formula(place.key)
        ]
        one = only(pasted(tmp_path, sheet))
        assert (one.code, one.sheet) == ("block-pasted", sheet)
        assert f" {len(computed)} formulas" in one.message
        assert one.found.split(":")[0] == address_of(
            min(p.at.row for p in computed), min(p.at.column for p in computed)
        )


def pasted(folder: Path, sheet: str) -> Path:
    return with_sheet(bored_book(), folder / "book.xlsx", sheet, without("f"))


def test_two_formulas_typed_over_far_apart_are_two_findings(tmp_path: Path) -> None:
    first = with_cell(bored_book(), tmp_path / "half.xlsx", at(RESULT), holds=0.0)
    made = validate(with_cell(first, tmp_path / "book.xlsx", at("bore.3.mean_size"), holds=82.0))
    assert told(made.findings) == Counter(
        {("formula-replaced", *at(RESULT)): 1, ("formula-replaced", *at("bore.3.mean_size")): 1}
    )


def typed_over(folder: Path, changes: dict[str, tuple[object, object]]) -> Path:
    """The clean book with what these keys hold and their formulas changed."""
    book = bored_book()
    for number, (key, (holds, said)) in enumerate(changes.items()):
        book = with_cell(book, folder / f"{number}.xlsx", at(key), holds=holds, formula=said)
    return book


def test_two_formulas_typed_over_in_one_column_with_readings_between_are_two_findings(
    tmp_path: Path,
) -> None:
    """No formula stands between them, and yet a hand that typed twice is likelier than one that
    pasted.
    """
    keys = apart()
    found = validate(typed_over(tmp_path, dict.fromkeys(keys, (7.0, None)))).findings
    assert {(one.code, one.cell) for one in found} == {
        ("formula-replaced", at(key)[1]) for key in keys
    }


def apart() -> tuple[str, str]:
    """Two results in one column, not side by side, with no formula between them."""
    layout, above = bored_layout(), dict[tuple[str, int], Place]()
    for place in layout.places.values():
        if layout.has_formula(place.key):
            before = above.get((place.at.sheet, place.at.column))
            if (
                before is not None
                and place.at.row > before.at.row + 1
                and {before.role, place.role} == {"result"}
            ):
                return before.key, place.key
            above[place.at.sheet, place.at.column] = place
    raise LookupError("no two such results")


def test_formulas_dragged_from_two_places_are_two_findings_and_a_run_of_them_is_one(
    tmp_path: Path,
) -> None:
    places = [
        f"bores.{cylinder}.{depth}.out_of_round"
        for cylinder in (2, 3)
        for depth in ("top", "middle", "bottom")
    ]
    first, last = formula(places[0]), formula(places[-1])
    twice = validate(
        typed_over(tmp_path, {RESULT: (KEPT, first), "bores.4.bottom.out_of_round": (KEPT, last)})
    ).findings
    assert {(one.code, one.cell, one.found) for one in twice} == {
        ("formula-dragged", at(RESULT)[1], at(places[0])[1]),
        ("formula-dragged", at("bores.4.bottom.out_of_round")[1], at(places[-1])[1]),
    }
    run = {
        key: (KEPT, formula(RESULT))
        for key in ("bores.1.middle.out_of_round", "bores.1.bottom.out_of_round")
    }
    (one,) = validate(typed_over(tmp_path, run)).findings
    assert "1 more of Bores" in one.message


def test_results_with_a_decimal_comma_are_said_in_words(tmp_path: Path) -> None:
    values = validated(bored_book()).values
    sizes = {
        key: value
        for key, value in values.items()
        if bored_layout().has_formula(key) and type(value) is float
    }
    key = next(key for key, value in sizes.items() if not value.is_integer())
    shown = f"{values[key]:.15g}"
    one = only(
        with_cell(
            bored_book(),
            tmp_path / "book.xlsx",
            at(key),
            holds=shown.replace(".", ","),
            formula=KEPT,
        )
    )
    assert one.code == "results-are-text"
    assert f"that is {shown}, written with a comma for the point" in one.message


# --- names and cells that changed places


SWAPS = [
    ("bores.2.middle.thrust", "bores.2.top.thrust"),
    ("bore_plan.1.typed_bore", "bore_plan.2.typed_bore"),
    ("bore_plan.1.typed_bore", "lands.1_2.width"),
    ("bore.1.unworn_lip", "bore.4.unworn_lip"),
    ("job.owner", "instruments.bores.part"),
]


@pytest.mark.parametrize(("first", "second"), mostly_long(SWAPS))
def test_two_names_swapped_are_one_finding_and_no_row_is_said_to_be_inserted(
    tmp_path: Path, first: str, second: str
) -> None:
    def swap(root: etree._Element) -> None:
        names = {name.get("name"): name for name in root.iter(f"{MAIN}definedName")}
        one, two = (names[bored_layout().place(key).name] for key in (first, second))
        one.text, two.text = two.text, one.text

    made = validate(with_workbook(bored_book(), tmp_path / "book.xlsx", swap))
    (damage,) = [one for one in made.findings if one.severity == "damage"]
    assert damage.code == "cell-moved"
    for key in (first, second):
        assert " ".join(at(key)) in damage.message


def test_a_far_cell_and_a_false_dimension_cost_nothing(tmp_path: Path) -> None:
    def stretch(root: etree._Element) -> None:
        data = root.find(f"{MAIN}sheetData")
        assert data is not None
        root.insert(0, etree.Element(f"{MAIN}dimension", ref="A1:XFD1048576"))
        cell = etree.SubElement(
            etree.SubElement(data, f"{MAIN}row", r="1048576"), f"{MAIN}c", r="XFD1048576"
        )
        etree.SubElement(cell, f"{MAIN}v").text = "1"

    made = validate(with_sheet(bored_book(), tmp_path / "book.xlsx", "Bores", stretch))
    assert told(made.findings) == Counter({("typed-beside", "Bores", "XFD1048576"): 1})


# --- figures and words of the book


@pytest.mark.parametrize(
    "key",
    mostly_long(
        ["bores.out_of_round.to", "rebore.standard", "centres.1.standard_centre", "job.number"], 2
    ),
)
def test_a_figure_of_the_spec_typed_over_is_found(tmp_path: Path, key: str) -> None:
    code = "job-number-differs" if key == "job.number" else "given-changed"
    for typed in (0.05, "0.05", None):
        one = only(with_cell(bored_book(), tmp_path / "book.xlsx", at(key), holds=typed))
        assert (one.code, one.sheet, one.cell) == (code, *at(key))


def printed(style: str, words: str) -> PrintedText:
    return next(
        text
        for text in bored_layout().plans["Bores"].texts
        if text.style == style and words in text.words
    )


@pytest.mark.parametrize(
    ("style", "words", "typed", "code"),
    mostly_long(
        [
            ("unit", "mm", "in", "unit-changed"),
            ("heading", "along the crank", "along the crank in", "unit-changed"),
            ("heading", "out of round", "ovality mm", "instruction-changed"),
            ("title", "Cylinder bores", "Bores", "label-changed"),
            ("row", "Cylinder 2, middle", "Cylinder 2, centre", "instruction-changed"),
            ("row", "Cylinder 2, middle", "Cylinder 2 middle", "label-changed"),
            ("how", "Thrust side: left", "Thrust side: right", "instruction-changed"),
            ("how", "Thrust side: left", "", "instruction-changed"),
            ("row", "Cylinder 2, middle", "Cylinder 3, middle", "words-exchanged"),
        ],
        3,
    ),
)
def test_printed_words_that_steer_nothing_are_a_note_and_all_others_damage(
    tmp_path: Path, style: str, words: str, typed: str, code: str
) -> None:
    cell = printed(style, words).at.cell
    made = validate(with_cell(bored_book(), tmp_path / "book.xlsx", ("Bores", cell), holds=typed))
    assert told(made.findings) == Counter({(code, "Bores", cell): 1})
    assert made.exit_status == (0 if code == "label-changed" else 3)


def test_rows_sorted_with_their_readings_are_one_finding(tmp_path: Path) -> None:
    """The formulas stay and are right; only the words say that the readings are other ones."""
    first, second = printed("row", "Cylinder 1, top"), printed("row", "Cylinder 1, middle")
    halfway = with_cell(
        bored_book(), tmp_path / "half.xlsx", ("Bores", first.at.cell), holds=second.words
    )
    one = only(
        with_cell(halfway, tmp_path / "book.xlsx", ("Bores", second.at.cell), holds=first.words)
    )
    assert (one.code, one.cell) == ("words-exchanged", first.at.cell)


# --- the file as a whole


def test_a_stale_result_is_one_note_and_the_verdict_does_not_lean_on_it(tmp_path: Path) -> None:
    made = validate(
        with_cell(
            bored_book(), tmp_path / "book.xlsx", at(RESULT), holds=0.001, formula=formula(RESULT)
        )
    )
    assert told(made.findings) == Counter({("results-stale", *at(RESULT)): 1})
    assert made.exit_status == 0
    lied = with_cell(
        bored_book(),
        tmp_path / "book.xlsx",
        at("decision.holding"),
        holds=0,
        formula=formula("decision.holding"),
    )
    out = validate(with_cell(lied, tmp_path / "out.xlsx", at("lands.1_2.width"), holds=0.6))
    assert out.verdict == "hold"
    assert {one.code for one in out.findings} == {"results-stale", "check-out"}


def test_names_dropped_are_a_note_and_every_cell_is_found_by_its_place(tmp_path: Path) -> None:
    name = bored_layout().place(READING).name
    for keep, count in (
        (lambda _: False, len(bored_layout().readings())),
        (lambda one: one != name, 1),
    ):
        made = validate(with_names(bored_book(), tmp_path / "book.xlsx", keep))
        (one,) = made.findings
        assert (one.code, made.exit_status) == ("names-lost", 0)
        assert one.message.startswith(f"{count} of the names")
        assert made.typed == validated(bored_book()).typed


def test_identities_that_differ_mean_that_two_books_were_mixed(tmp_path: Path) -> None:
    identity = bored_layout().identity.encode()
    pasted = only(
        with_cell(bored_book(), tmp_path / "cell.xlsx", at("job.identity"), holds="0123-4567-89AB")
    )
    assert (pasted.code, pasted.cell) == ("identity-differs", at("job.identity")[1])
    swapped = {"docProps/custom.xml": lambda part: part.replace(identity, b"0123-4567-89AB")}
    one = only(with_parts(bored_book(), tmp_path / "property.xlsx", swapped))
    assert (one.code, one.found) == ("property-differs", "0123-4567-89AB")
    assert PROPERTY.encode() in Parts(bored_book()).files["docProps/custom.xml"]


def test_a_program_of_its_own_or_a_tie_to_other_files_makes_a_book_untrusted(
    tmp_path: Path,
) -> None:
    for part, code in (
        ("xl/vbaProject.bin", "has-macros"),
        ("xl/externalLinks/externalLink1.xml", "external-link"),
    ):
        made = validate(with_parts(bored_book(), tmp_path / "book.xlsx", {part: lambda _: b"<x/>"}))
        assert ([one.code for one in made.findings], made.exit_status) == (
            [code],
            EXIT["untrusted"],
        )
        assert part.casefold() in made.findings[0].message.casefold()


def test_sheets_of_a_persons_own_do_no_harm(tmp_path: Path) -> None:
    book = openpyxl.load_workbook(bored_book())
    book.create_sheet("Notes", 0)["A1"] = "# what the owner said"
    book.save(tmp_path / "book.xlsx")
    made = validate(tmp_path / "book.xlsx")
    assert ({one.code for one in made.findings}, made.exit_status) == (
        {"results-missing", "sheet-added"},
        0,
    )


def test_a_sheet_renamed_or_deleted_by_a_library_is_told(tmp_path: Path) -> None:
    for spoil, code in (
        (lambda book: book.remove(book["Proofs"]), "sheet-deleted"),
        (lambda book: book.remove(book[SHEET]), ""),
    ):
        book = openpyxl.load_workbook(bored_book())
        spoil(book)
        book.save(tmp_path / "book.xlsx")
        made = validate(tmp_path / "book.xlsx")
        damage = [one.code for one in made.findings if one.severity == "damage"]
        assert (damage, made.exit_status) == ([code or "record-lost"], 3)
