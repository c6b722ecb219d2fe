"""The verdict on whole books: untouched, complete, conceded, not a book, not ours, altered in its
hidden record.
"""

from __future__ import annotations

import base64
import json
import zipfile
import zlib
from pathlib import Path
from random import Random

import pytest

import datumbook.cells.basis
import datumbook.workbook.record
import datumbook.writer
from bored_block import bored_book, bored_layout, laid_out
from clean_readings import (
    CONCEDED,
    CONCESSION,
    clean_book,
    clean_readings,
    empty_book,
    shipped_layout,
    validated,
)
from damaged_books import with_cell
from datumbook.equations.verdicts import NOTHING_ASKED, OPEN, OUT
from datumbook.validator import EXIT, Validation, validate, worst_exit
from datumbook.workbook.flow import upstream
from datumbook.workbook.layout import Layout
from datumbook.workbook.record import CHUNK, SHEET, chunks
from datumbook.writer import write
from long_runs import mostly_long

# --- from untouched to released


def test_an_untouched_book_is_on_hold_with_each_check_that_needs_a_reading_open_and_no_damage() -> (
    None
):
    made, layout = validated(empty_book()), shipped_layout()
    assert (made.verdict, made.exit_status, made.state) == ("hold", 1, "ON HOLD")
    wanted = {place.key for place in layout.wanted()}
    for check in layout.checks:
        compared = [key for key in (check.key, check.low, check.high) if key in layout.places]
        needed = {*compared, *(key for one in compared for key in upstream(layout, one))} & wanted
        not_asked = (check.spot or check.judged) and made.values[check.verdict] == NOTHING_ASKED
        open_ = made.values[check.verdict] == OPEN
        assert open_ == bool(needed and not not_asked), check.key
    assert {one.code for one in made.findings} == {"reading-missing", "check-out"}
    assert [one.key for one in made.findings if one.code == "check-out"] == [CONCEDED]
    assert {one.key for one in made.findings if one.code == "reading-missing"} <= wanted
    assert made.counts["readings_taken"] == 0


def test_a_complete_book_may_be_released_and_nothing_whatever_is_said_of_it() -> None:
    made = validated(clean_book())
    assert (made.verdict, made.exit_status, made.state) == ("release", 0, "RELEASABLE")
    assert made.findings == []
    assert (
        made.counts["readings_taken"]
        == made.counts["readings_wanted"]
        == len(shipped_layout().wanted())
    )
    (conceded,) = [one for one in made.outcomes if one.concession]
    assert (conceded.key, conceded.verdict, conceded.concession) == (
        CONCEDED,
        OUT,
        CONCESSION[f"release.{CONCEDED}.reason"],
    )


def test_every_result_shown_is_the_result_worked_out() -> None:
    for one in validated(clean_book()).outcomes:
        if isinstance(one.computed, float):
            assert one.shown == pytest.approx(one.computed, rel=1e-9, abs=1e-9), one.key
        else:
            assert (one.shown or "") == (one.computed or ""), one.key


def filled(tmp_path: Path, **changed: float | str) -> Validation:
    """The clean book with readings changed; two underscores stand for a point."""
    readings = clean_readings(shipped_layout()) | {
        key.replace("__", "."): value for key, value in changed.items()
    }
    write(shipped_layout(), tmp_path / "book.xlsx", readings)
    return validate(tmp_path / "book.xlsx")


STEM = "release." + CONCEDED
CONCESSIONS = [
    ({f"{STEM}.conceded_value": 0.2650}, "concession-lapsed"),
    ({f"{STEM}.conceded_value": 0.26965}, ""),
    ({f"{STEM}.conceded_value": ""}, "concession-incomplete"),
    ({f"{STEM}.reason": ""}, "concession-incomplete"),
    ({f"{STEM}.conceded_by": ""}, "concession-incomplete"),
    ({f"{STEM}.conceded_on": ""}, "concession-incomplete"),
    (dict.fromkeys(CONCESSION, ""), "check-out"),
]


@pytest.mark.parametrize(("changed", "code"), mostly_long(CONCESSIONS, 3))
def test_a_concession_counts_only_whole_and_for_the_value_of_today(
    tmp_path: Path, changed: dict[str, float | str], code: str
) -> None:
    made = filled(tmp_path, **changed)
    place = shipped_layout().place(CONCEDED)
    expected = [(code, place.at.sheet, place.at.cell)] if code else []
    assert [(one.code, one.sheet, one.cell) for one in made.findings] == expected
    assert made.exit_status == (1 if code else 0)


def test_a_reading_that_cannot_be_taken_is_conceded_with_its_value_left_blank(
    tmp_path: Path,
) -> None:
    key = "holes_front_cover.F1.thread"
    words = {"reason": "hole broken out", "conceded_by": "A. N.", "conceded_on": "2026-05-11"}
    made = filled(
        tmp_path, **{key: ""}, **{f"release.{key}.{name}": said for name, said in words.items()}
    )
    assert (made.findings, made.verdict) == ([], "release")
    assert made.values[f"{key}.verdict"] == OPEN


def test_an_open_check_holds_the_job_even_where_no_reading_is_missing_that_is_always_wanted(
    tmp_path: Path,
) -> None:
    """A cut is intended and no step says that it was made: nothing is missing on the sheets of
    measuring.
    """
    cut = {"deck_cut.parallel_to": "crank line", "deck_cut.cut": 0.0005, "route.deck.done": ""}
    made = filled(tmp_path, **cut)
    assert (made.verdict, made.state) == ("hold", "ON HOLD")
    assert [one.severity for one in made.findings] == ["check"]


def test_a_limit_missed_and_a_limit_met_exactly(tmp_path: Path) -> None:
    key = "holes_front_cover.F1.thread"
    assert filled(tmp_path, **{key: 0.625}).findings == []
    (one,) = filled(tmp_path, **{key: 0.6249}).findings
    assert (one.code, one.key) == ("check-out", key)
    (near,) = filled(tmp_path, **{key: 0.6251, "instruments.holes.uncertainty": 0.002}).findings
    assert (near.code, near.key) == ("check-unsure", key)


def test_released_and_rejected_jobs_say_so(tmp_path: Path) -> None:
    def decided(**said: str) -> Validation:
        typed = {f"decision.{key}": words for key, words in said.items()}
        write(bored_layout(), tmp_path / "book.xlsx", clean_readings(bored_layout()) | typed)
        return validate(tmp_path / "book.xlsx")

    released = decided(decision="released")
    assert (released.state, released.exit_status, released.findings) == ("RELEASED", 0, [])
    rejected = decided(decision="rejected", reason="cracked")
    assert (rejected.state, rejected.exit_status, [one.code for one in rejected.findings]) == (
        "REJECTED",
        1,
        ["job-rejected"],
    )
    assert "cracked" in rejected.findings[0].message


def test_of_several_books_the_worst_counts() -> None:
    """Unreadable before untrusted before on hold before releasable."""
    assert [worst_exit(list(one)) for one in ((0, 0), (0, 1), (1, 3, 0), (3, 2, 1), (2,))] == [
        0,
        1,
        3,
        2,
        2,
    ]
    assert EXIT == {"release": 0, "hold": 1, "untrusted": 3, "unreadable": 2}


# --- not a workbook, or not ours


@pytest.mark.parametrize("share", [0.0, 0.001, 0.1, 0.5, 0.9, 0.99, 0.9999])
def test_a_file_cut_off_anywhere_is_unreadable(tmp_path: Path, share: float) -> None:
    whole, book = bored_book().read_bytes(), tmp_path / "book.xlsx"
    book.write_bytes(whole[: int(len(whole) * share)])
    made = validate(book)
    assert (made.verdict, made.exit_status) == ("unreadable", 2)
    assert [one.code for one in made.findings] == ["file-truncated"]


OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600)
OTHERS = [
    ("text", b"82.014\n", "not-a-workbook"),
    ("csv", b"key,value\nbores.1.top.thrust,82.0\n", "not-a-workbook"),
    (
        "html",
        b"<!DOCTYPE html><html><table><tr><td>82.0</td></tr></table></html>",
        "not-a-workbook",
    ),
    ("random", Random(7).randbytes(4000), "not-a-workbook"),
    ("nothing", b"", "file-truncated"),
    ("old format", OLE, "old-format"),
    ("locked with a password", OLE + "EncryptedPackage".encode("utf-16-le"), "file-locked"),
]


@pytest.mark.parametrize(
    ("content", "code"), [one[1:] for one in OTHERS], ids=[one[0] for one in OTHERS]
)
def test_what_is_no_workbook_is_unreadable_in_plain_words(
    tmp_path: Path, content: bytes, code: str
) -> None:
    book = tmp_path / "book.xlsx"
    book.write_bytes(content)
    made = validate(book)
    assert ([one.code for one in made.findings], made.exit_status) == ([code], 2)
    assert "book.xlsx" in made.findings[0].message


def test_one_byte_of_the_file_changed_is_never_a_release(tmp_path: Path) -> None:
    """The archive has a checksum for each part; what it does not cover are the names and times of
    the parts.
    """
    whole, book, chance = bored_book().read_bytes(), tmp_path / "book.xlsx", Random(11)
    with zipfile.ZipFile(bored_book()) as archive:
        part = archive.getinfo("xl/worksheets/sheet2.xml")
    start = part.header_offset + 30 + len(part.filename)
    for _ in range(8):
        spot = chance.randrange(start, start + part.compress_size)
        book.write_bytes(
            whole[:spot] + bytes([whole[spot] ^ 1 << chance.randrange(8)]) + whole[spot + 1 :]
        )
        assert validate(book).exit_status == 2


def test_a_workbook_that_is_not_ours_is_said_to_be_another(tmp_path: Path) -> None:
    import xlsxwriter

    with xlsxwriter.Workbook(tmp_path / "book.xlsx") as book:
        book.add_worksheet("Bores").write("A1", "Cylinder bores")
    made = validate(tmp_path / "book.xlsx")
    assert ([one.code for one in made.findings], made.exit_status) == (["not-ours"], 3)


# --- the hidden record


def repacked(text: str) -> list[str]:
    """A record of this content, every checksum right."""
    packed = base64.b64encode(zlib.compress(text.encode(), 9)).decode()
    pieces = [packed[start : start + CHUNK] for start in range(0, len(packed), CHUNK)]
    return [
        f"#{number}/{len(pieces)}:{zlib.crc32(piece.encode()):08X}:{piece}"
        for number, piece in enumerate(pieces, 1)
    ]


def content_of(layout: Layout) -> dict[str, object]:
    packed = "".join(chunk.split(":", 2)[2] for chunk in chunks(layout))
    found: dict[str, object] = json.loads(zlib.decompress(base64.b64decode(packed)))
    return found


def with_record(path: Path, monkeypatch: pytest.MonkeyPatch, content: object) -> Validation:
    monkeypatch.setattr(datumbook.writer, "chunks", lambda *_, **__: repacked(json.dumps(content)))
    write(bored_layout(), path, clean_readings(bored_layout()))
    return validate(path)


def test_a_character_of_the_record_changed_is_found_with_its_line(tmp_path: Path) -> None:
    lines = chunks(bored_layout())
    for number in (1, len(lines)):
        spoiled = (
            lines[number - 1][:-3]
            + ("A" if lines[number - 1][-3] != "A" else "B")
            + lines[number - 1][-2:]
        )
        made = validate(
            with_cell(bored_book(), tmp_path / "book.xlsx", (SHEET, f"A{number}"), holds=spoiled)
        )
        assert [(one.code, one.sheet, one.cell) for one in made.findings] == [
            ("record-damaged", SHEET, f"A{number}")
        ]
        assert (made.exit_status, made.layout) == (3, None)


TAMPERED = [
    ("a limit made wider", "spec_full", lambda text: text.replace('"0.040 mm"', '"0.400 mm"')),
    ("the same as given", "spec_text", lambda text: text.replace("<= 0.040 mm", "<= 0.400 mm")),
    ("a full form that is none", "spec_full", lambda _: "[1"),
    ("a full form that is no table", "spec_full", lambda _: "[]"),
    ("a spec that is none", "spec_text", lambda _: "bores ="),
    ("another job", "job", lambda job: job | {"block": "SQ-9999"}),
    ("less work", "job", lambda job: job | {"work": ["measure"]}),
    ("other units", "job", lambda job: job | {"units": {"bores": "furlong"}}),
    ("another version", "version", lambda _: "0.0.1"),
    ("not words", "spec_text", lambda _: 5),
    ("no job", "job", lambda _: None),
]


@pytest.mark.parametrize(
    ("name", "change"), mostly_long((pytest.param(*one[1:], id=one[0]) for one in TAMPERED), 3)
)
def test_a_record_changed_with_its_checksums_made_right_does_not_match_its_identity(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, change: object
) -> None:
    content = content_of(bored_layout())
    assert callable(change)
    made = with_record(tmp_path / "book.xlsx", monkeypatch, content | {name: change(content[name])})
    assert ([one.code for one in made.findings], made.exit_status) == (["spec-altered"], 3)


@pytest.mark.parametrize(
    "content", mostly_long([[], "record", None, {"identity": "x"}, {"map": 3}], 2)
)
def test_a_record_that_is_none_is_told_and_never_a_traceback(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, content: object
) -> None:
    assert [
        one.code for one in with_record(tmp_path / "book.xlsx", monkeypatch, content).findings
    ] == ["spec-altered"]


def test_a_book_of_another_version_is_judged_where_its_cells_stand_alike(tmp_path: Path) -> None:
    ours = bored_layout()  # of this version
    with pytest.MonkeyPatch.context() as monkeypatch:
        for module in (datumbook.cells.basis, datumbook.workbook.record):
            monkeypatch.setattr(module, "VERSION", "0.0.1")
        layout = laid_out(ours.job)
        write(layout, tmp_path / "book.xlsx", clean_readings(layout))
    assert layout.identity != ours.identity
    made = validate(tmp_path / "book.xlsx")
    assert ([one.code for one in made.findings], made.exit_status) == (["other-version"], 0)


@pytest.mark.parametrize(("column", "was"), [(2, "Z99"), (3, "ft"), (6, "1+1")])
def test_a_book_of_a_version_with_other_places_units_or_formulas_is_not_judged_by_this_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, column: int, was: str
) -> None:
    content, layout = content_of(bored_layout()), bored_layout()
    content["map"][5][column] = was  # type: ignore[index]
    older = content | {"version": "0.0.1", "identity": layout.identity_by("0.0.1")}
    made = with_record(tmp_path / "book.xlsx", monkeypatch, older)
    assert ([one.code for one in made.findings], made.exit_status) == (["version-differs"], 3)
