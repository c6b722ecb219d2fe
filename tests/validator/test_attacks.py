"""Families of attacks on a filled book, each in .xlsx and in .ods: all are damage, none is silent
and none leaves the book releasable.

Each attack is one change of what is stored; the book it is made on has no damage at all.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import openpyxl
import pytest

import attacks_on_contents
import attacks_on_structure
import attacks_on_words
from attacks_on_looks import BELOW, LIMIT, ODS, READING, RESULT, SHEET, VERDICT, WORD, XLSX
from datumbook.validator import Validation, validate
from datumbook.writer import write
from foreign_saves import honest_readings, small_layout
from harmless_additions import HARMLESS_ODS, HARMLESS_XLSX
from long_runs import mostly_long
from programs import AS_ODS, made_once, office
from stored_books import StoredOds, StoredXlsx

assert attacks_on_contents
assert attacks_on_structure
assert attacks_on_words
ALL = [
    pytest.param(kind, family, name, id=f"{kind} {family}: {name}")
    for kind, families in (("xlsx", XLSX), ("ods", ODS))
    for family, attacks in families.items()
    for name in attacks
]
FEW = 8


@cache
def honest_xlsx() -> Path:
    """A book of a third of the size, filled honestly."""
    layout = small_layout()
    return made_once("attacked.xlsx", lambda out: write(layout, out, honest_readings(layout, 1)))


@cache
def honest_ods() -> Path:
    """The same saved as .ods by a program."""
    source = honest_xlsx()
    return made_once(
        "attacked.ods",
        lambda out: office([source], AS_ODS, out.parent, recalculate=False)[0].rename(out),
    )


def test_the_attacked_cells_are_what_they_are_called() -> None:
    """A sheet laid out otherwise moves them: then the names are to follow."""
    found = {
        place.at.cell: key
        for key, place in small_layout().places.items()
        if place.at.sheet == SHEET
    }
    assert found[READING] == "bores.1.top.thrust"
    assert found[BELOW] == "bores.1.middle.thrust"
    assert found[RESULT] == "bores.1.top.out_of_round"
    assert found[VERDICT] == "bores.1.top.out_of_round.verdict"
    assert found[LIMIT] == "bores.out_of_round.to"
    assert "crank" in openpyxl.load_workbook(honest_xlsx())[SHEET][WORD].value


def attacked(kind: str, family: str, name: str, folder: Path) -> Path:
    """The book after one attack."""
    out = folder / f"book.{kind}"
    if kind == "xlsx":
        sound = StoredXlsx(honest_xlsx())
        XLSX[family][name](sound)
        return sound.save(out)
    saved = StoredOds(honest_ods())
    ODS[family][name](saved)
    return saved.save(out)


def damage(made: Validation) -> list[str]:
    """What is said of it that cannot be trusted."""
    return [one.code for one in made.findings if one.severity == "damage"]


@pytest.mark.program("libreoffice")
@pytest.mark.parametrize("kind", ["xlsx", "ods"])
def test_the_book_that_is_attacked_has_no_damage(kind: str, tmp_path: Path) -> None:
    """Also where it is only stored again by the tests' own means."""
    sound = StoredXlsx(honest_xlsx()) if kind == "xlsx" else StoredOds(honest_ods())
    made = validate(sound.save(tmp_path / f"again.{kind}"))
    assert (damage(made), made.readable, made.layout is not None) == ([], True, True)


@pytest.mark.program("libreoffice")
@pytest.mark.parametrize(("kind", "family", "name"), mostly_long(ALL, FEW))
def test_every_attack_is_damage(kind: str, family: str, name: str, tmp_path: Path) -> None:
    made = validate(attacked(kind, family, name, tmp_path))
    assert damage(made), f"silent, or only noted: {[one.message for one in made.findings][-3:]}"
    assert made.exit_status in (2, 3)
    assert len(damage(made)) <= 3, "one cause, one finding"


HARMLESS = [
    pytest.param(kind, name, id=f"{kind}: {name}")
    for kind, additions in (("xlsx", HARMLESS_XLSX), ("ods", HARMLESS_ODS))
    for name in additions
]


@pytest.mark.program("libreoffice")
@pytest.mark.parametrize(("kind", "name"), mostly_long(HARMLESS, FEW))
def test_what_people_add_in_good_faith_is_never_damage(
    kind: str, name: str, tmp_path: Path
) -> None:
    out, sound = tmp_path / f"book.{kind}", validate(honest_xlsx())
    if kind == "xlsx":
        book = StoredXlsx(honest_xlsx())
        HARMLESS_XLSX[name](book)
        made = validate(book.save(out))
    else:
        saved = StoredOds(honest_ods())
        HARMLESS_ODS[name](saved)
        made = validate(saved.save(out))
    assert [one.message for one in made.findings if one.severity == "damage"] == []
    assert (made.verdict, made.typed) == (sound.verdict, sound.typed)


def test_the_attacks_are_many_in_both_formats() -> None:
    counted = {
        kind: {family: len(attacks) for family, attacks in families.items()}
        for kind, families in (("xlsx", XLSX), ("ods", ODS))
    }
    print(counted)
    assert sum(counted["xlsx"].values()) >= 90
    assert sum(counted["ods"].values()) >= 45
    assert counted["xlsx"].keys() == counted["ods"].keys()
