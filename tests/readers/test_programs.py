"""What real programs make of a workbook, read back. Outside sources: the programs themselves."""

from __future__ import annotations

from pathlib import Path

import pytest

from datumbook.readers import Book, FoundCell, open_book, place_of, target
from datumbook.readers.canonical import canonical
from engines import roundtrip
from programs import need, run
from sample import FORMULAS, VALUES, write_sample

RESULTS_KEPT = (
    "libreoffice",
    "libreoffice_ods",
    "libreoffice_through_ods",
    "gnumeric",
    "gnumeric_ods",
    "ironcalc",
)
NEEDS = {
    "libreoffice": ["libreoffice"],
    "libreoffice_ods": ["libreoffice"],
    "libreoffice_through_ods": ["libreoffice"],
    "gnumeric": ["gnumeric"],
    "gnumeric_ods": ["gnumeric"],
}


def route(name: str) -> object:
    marks = [pytest.mark.program(*NEEDS[name])] if name in NEEDS else []
    return pytest.param(name, marks=marks, id=name)


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_sample(tmp_path_factory.mktemp("programs") / "sample.xlsx")


@pytest.fixture(params=[route(name) for name in (*RESULTS_KEPT, "openpyxl")])
def saved(request: pytest.FixtureRequest, sample: Path, tmp_path: Path) -> tuple[str, Book]:
    if request.param != "gnumeric_ods":
        return request.param, open_book(roundtrip(request.param, sample))
    run([need("gnumeric"), sample, tmp_path / "saved.ods"])
    return request.param, open_book(tmp_path / "saved.ods")


def cells(book: Book) -> dict[str, FoundCell]:
    found = book.sheets["Bores"].cells
    return {address: found[place_of(address)] for address in (*VALUES, *FORMULAS)}


def same(found: object, expected: float | str, share: float) -> bool:
    """Compare numbers to a share of themselves (programs save 15 digits, or evaluate anew), texts
    letter by letter.
    """
    return (
        found == expected
        if isinstance(expected, str)
        else found == pytest.approx(expected, rel=share)
    )


def test_every_program_leaves_the_values(saved: tuple[str, Book]) -> None:
    found = cells(saved[1])
    for address, expected in VALUES.items():
        assert same(found[address].value, expected, 1e-14), address
        assert found[address].formula is None


def test_every_program_leaves_the_formulas(saved: tuple[str, Book]) -> None:
    found = cells(saved[1])
    for address, (formula, _) in FORMULAS.items():
        assert canonical(found[address].formula or "", "Bores") == canonical(formula, "Bores"), (
            address
        )


def test_every_program_but_one_leaves_the_results(saved: tuple[str, Book]) -> None:
    name, book = saved
    found = cells(book)
    for address, (_, shown) in FORMULAS.items():
        if name == "openpyxl":
            assert found[address].value is None
        elif shown == "#DIV/0!":
            assert (found[address].value, found[address].error) == (None, "#DIV/0!")
        else:
            assert same(found[address].value, shown, 1e-6) or (found[address].value, shown) == (
                None,
                "",
            ), address


def test_every_program_leaves_the_names(saved: tuple[str, Book]) -> None:
    found = {name: target(text) for name, text in saved[1].names.items()}
    assert found == {"bores_1": ("Bores", 1, 1), "plan_size": ("Plan", 1, 1)}


def test_every_program_leaves_what_makes_a_number_a_date(saved: tuple[str, Book]) -> None:
    found = cells(saved[1])
    assert {address for address, cell in found.items() if cell.is_date} == {"A6", "A7"}
    assert {address for address, cell in found.items() if cell.is_percent} == {"A5"}


def test_every_program_leaves_sheets_and_merges(saved: tuple[str, Book]) -> None:
    name, book = saved
    assert list(book.sheets) == ["Bores", "Plan", "Spec"]
    assert (
        book.sheets["Spec"].hidden or name == "gnumeric"
    )  # that program shows what was very hidden
    assert book.sheets["Plan"].merged == ["C1:D2"]
    assert book.sheets["Plan"].hidden_rows == {5}
    assert book.sheets["Plan"].hidden_columns == {6, 7}
    assert book.properties.get("datumbook") == (None if name == "ironcalc" else "id-42")
    assert book.problems == []
