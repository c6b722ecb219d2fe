"""Whose limits a book is held to: a book from a loosened spec is told, check by check."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bored_block import JOB, bored_book, bored_layout
from clean_readings import clean_readings, shipped_layout
from command import run
from datumbook.job import Job
from datumbook.spec import load_spec, read_spec
from datumbook.stations import lay_out
from datumbook.validator import validate
from datumbook.validator.judge.whose_limits import against_shop
from datumbook.writer import write
from memory_books import located
from project import SPECS

OWN = SPECS / "orrindale_qp4.toml"


def loosened(path: Path, old: str, new: str) -> Path:
    """A sound book of a spec that says `new` where the shop's says `old`."""
    text = OWN.read_text("utf-8")
    assert old in text
    layout = lay_out(read_spec(text.replace(old, new, 1), OWN.name), JOB)
    write(layout, path, clean_readings(bored_layout()))
    return path


def test_a_book_of_the_shops_own_spec_is_told_nothing() -> None:
    assert validate(bored_book(), shop=[load_spec(OWN)]).findings == []


def test_a_loosened_limit_holds_the_job_and_both_figures_are_said(tmp_path: Path) -> None:
    book = loosened(tmp_path / "book.xlsx", '"<= 0.040 mm"', '"<= 0.940 mm"')
    assert run("validate", book).exit_code == 0, "the book alone cannot know"
    held = run("validate", book, "--spec", OWN)
    assert held.exit_code == 1
    assert "0.940 mm" in held.output
    assert "0.040 mm" in held.output


def test_an_order_of_work_of_another_spec_or_a_limit_in_another_unit_is_no_difference(
    tmp_path: Path,
) -> None:
    book = loosened(tmp_path / "book.xlsx", '"<= 0.040 mm"', '"<= 40 µm"')
    found = validate(book, shop=[load_spec(OWN)]).findings
    assert [one.code for one in found] == ["spec-superseded"]
    assert "figures that differ: 0" in found[0].message


GUESS = '{ value = "<= 0.150 mm", guessed = true }'


@pytest.mark.parametrize(
    ("old", "new", "here", "there"),
    [
        ('{ value = "<= 1.0 mm"', '{ value = "-1.0 .. 1.0 mm"', "limit-missing", "limit-added"),
        ('taper = "± 0.050 mm"', 'taper = ">= -0.050 mm"', "limit-added", "limit-missing"),
        ('"<= 0.150 mm"', GUESS, "guess-missing", "guess-added"),
    ],
)
def test_a_limit_or_a_guess_that_one_spec_has_alone_is_named_and_nothing_else_is(
    old: str, new: str, here: str, there: str
) -> None:
    """The checks more or fewer, and the cells that move on the Release sheet, are no difference."""
    ours, other = shipped_layout(), read_spec(OWN.read_text("utf-8").replace(old, new, 1), OWN.name)
    theirs = lay_out(other, Job(block="SQ-2209"))
    for layout, shop, code in ((ours, other, here), (theirs, ours.spec, there)):
        found = list(against_shop(layout, located(layout, {}), [shop]))
        assert {one.code for one in found} == {code, "spec-superseded"}
        assert "figures that differ: 0" in found[-1].message


def test_a_limit_that_the_book_lacks_is_told_with_its_figure() -> None:
    shop = OWN.read_text("utf-8").replace('{ value = "<= 1.0 mm"', '{ value = "-1.0 .. 1.0 mm"', 1)
    layout = shipped_layout()
    one, _ = against_shop(layout, located(layout, {}), [read_spec(shop, OWN.name)])
    assert "the shop's spec holds -1.00 mm here, the book none" in one.message
    assert "core shift" in one.message


@pytest.mark.parametrize("books", [1, 2])
def test_a_folder_of_specs_is_held_beside_each_book(books: int, tmp_path: Path) -> None:
    for number in range(books):
        loosened(tmp_path / f"{number}.xlsx", '"<= 0.040 mm"', '"<= 0.940 mm"')
    made = run("validate", tmp_path, "--spec", SPECS, "--json")
    assert made.exit_code == 1
    for book in json.loads(made.stdout)["books"]:
        codes = {one["code"] for one in book["findings"]}
        assert codes == {"limit-looser", "spec-superseded"}


def test_a_folder_without_a_spec_and_a_faulty_one_are_refused(tmp_path: Path) -> None:
    assert run("validate", bored_book(), "--spec", tmp_path).exit_code == 2
    (tmp_path / "faulty.toml").write_text("engine = 1\n", "utf-8")
    assert run("validate", bored_book(), "--spec", tmp_path).exit_code == 4
