"""The register of a shop: one line a workbook, whatever the file holds; and what only several books
together show.
"""

from __future__ import annotations

import csv
import io
import json
import os
from concurrent.futures.process import BrokenProcessPool
from datetime import date
from pathlib import Path

import pytest

from bored_block import at, bored_book, bored_layout
from clean_readings import clean_readings, demo_book, empty_book, shipped_layout, validated
from command import run
from damaged_books import with_cell
from datumbook.job import Job
from datumbook.register import FEW_BOOKS, HowJudged, RegisterError, RegisterLine, entered, register
from datumbook.register.instruments import Instrument, instruments_of, remarks
from datumbook.register.lines import undated_line
from datumbook.register.words import as_csv, noticed, told
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.validator import validate
from datumbook.workbook.record import chunks
from datumbook.writer import workbook_bytes, write
from long_runs import mostly_long
from state_of_assembly import as_meant, asked, otherwise, stated

RELEASED = {"job.received_on": "2026-05-02", "decision.decision": "released"}


def line(path: Path, **asked: object) -> RegisterLine:
    return entered(path, HowJudged(**asked))[0]  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def released(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("register") / "released.xlsx"
    write(bored_layout(), path, clean_readings(bored_layout()) | RELEASED)
    return path


@pytest.fixture(scope="module")
def rejected(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("register") / "rejected.xlsx"
    turned_down = {
        "decision.decision": "rejected",
        "decision.reason": "cracked",
        "bores.1.top.thrust": 89.9,
    }
    write(bored_layout(), path, clean_readings(bored_layout()) | RELEASED | turned_down)
    return path


def test_every_state_has_its_word_and_its_exit_status(
    released: Path, rejected: Path, tmp_path: Path
) -> None:
    cut, foreign = tmp_path / "cut.xlsx", tmp_path / "foreign.xlsx"
    cut.write_bytes(bored_book().read_bytes()[:5000])
    foreign.write_bytes(foreign_book())
    damaged = with_cell(
        bored_book(), tmp_path / "damaged.xlsx", at("bores.1.top.out_of_round"), holds=0.5
    )
    states = {
        path: (line(path).state, line(path).exit_status)
        for path in (released, rejected, bored_book(), demo_book(), cut, foreign, damaged, tmp_path)
    }
    assert [*states.values()] == [
        ("released", 0),
        ("rejected", 1),
        ("releasable", 0),
        ("on hold", 1),
        ("unreadable", 2),
        ("not ours", 3),
        ("damaged", 3),
        ("unreadable", 2),
    ]


def foreign_book() -> bytes:
    import openpyxl

    book, out = openpyxl.Workbook(), io.BytesIO()
    book.save(out)
    return out.getvalue()


def test_the_worst_is_what_damaged_the_book_else_the_first_of_the_release_sheet() -> None:
    made = validated(demo_book())
    first = made.values["held_up.1.what"]
    verdict, place = undated_line(made).worst.split(" ", 1)
    assert verdict == made.values["held_up.1.verdict"]
    sheet, label = str(first).split(": ", 1)
    assert sheet in place
    assert label in place
    assert undated_line(validate(bored_book())).worst == ""


def test_a_series_read_in_another_state_is_said_to_be(tmp_path: Path) -> None:
    """One condition of one series another than its limits mean, all else as it should be."""
    layout = stated()
    sound = clean_readings(layout) | as_meant(layout)
    place = next(one for one in asked(layout) if one.unit is None and one.row != "plate_number")
    book = tmp_path / "other.xlsx"
    write(layout, book, sound | {place.key: otherwise(place, sound[place.key])})
    worst = undated_line(validate(book)).worst
    assert worst.startswith("STALE ")
    assert "State of the bores when read" in worst


def test_readings_missing_are_those_that_hold_the_job_up(released: Path) -> None:
    missing = [one for one in validated(empty_book()).findings if one.code == "reading-missing"]
    assert line(empty_book()).readings_missing == len(missing) > 0
    assert line(released).readings_missing == 0
    assert line(released.parent / "nothing.xlsx").readings_missing is None


def test_days_open_count_to_release_else_to_the_day_given_else_to_the_date_of_the_file(
    released: Path, tmp_path: Path
) -> None:
    assert (line(released).days_open, line(released).counted_to) == (10, "release"), "2 to 12 May"
    book = tmp_path / "open.xlsx"
    write(bored_layout(), book, {"job.received_on": "2026-05-02"})
    given = line(book, today=date(2026, 6, 1))
    assert (given.days_open, given.counted_to, given.until) == (30, "today", "2026-06-01")
    os.utime(book, (0, 1_780_315_200.0))  # noon of 1 June 2026, universal time
    filed = line(book)
    assert filed.counted_to == "file"
    assert filed.days_open in (30, 31), "wherever the clock stands"
    assert line(book, today=date(2026, 5, 1)).days_open is None, "received after today"
    assert line(empty_book()).counted_to == "", "no day received, nothing counted"


def test_hundreds_of_books_in_other_processes_give_the_same_lines_in_order(
    released: Path, tmp_path: Path
) -> None:
    nonsense = tmp_path / "nonsense.xlsx"
    nonsense.write_bytes(b"PK\x03\x04 no more")
    paths = [
        released,
        nonsense,
        bored_book(),
        empty_book(),
        demo_book(),
        tmp_path / "none.xlsx",
        released,
    ]
    assert len(paths) >= FEW_BOOKS
    alone = [entered(path, HowJudged(whole=True)) for path in paths]
    assert list(register(paths, HowJudged(whole=True), processes=2)) == alone


def test_a_process_ended_from_outside_ends_the_register_in_words(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    def broken(*_: object) -> None:
        raise BrokenProcessPool

    monkeypatch.setattr("datumbook.register.ProcessPoolExecutor", broken)
    with pytest.raises(RegisterError, match="ended from outside"):
        list(register([tmp_path / "none.xlsx"] * FEW_BOOKS, HowJudged()))
    for number in range(FEW_BOOKS):
        (tmp_path / f"{number}.xlsx").write_bytes(b"")
    made = run("validate", tmp_path)
    assert made.exit_code == 2
    assert "not complete" in made.output


def test_a_folder_is_a_table_whose_status_is_that_of_the_worst_book(
    released: Path, tmp_path: Path
) -> None:
    folder = tmp_path / "shop"
    folder.mkdir()
    (folder / "one.xlsx").write_bytes(released.read_bytes())
    made = run("validate", folder)
    assert made.exit_code == 0
    assert "released" in made.output
    assert "1 books: 1 released." in made.output
    (folder / "two.xlsx").write_text("plain words", "utf-8")
    made = run("validate", folder, "--today", "2026-06-01")
    assert made.exit_code == 2
    assert "plain text or CSV, not a workbook" in made.output
    assert "Traceback" not in made.output
    assert run("validate", folder, "--today", "1 June").exit_code == 2
    assert run("validate", folder, "--csv", "--json").exit_code == 2


def test_the_register_is_csv_and_json_for_programs(released: Path) -> None:
    rows = list(csv.DictReader(io.StringIO(run("validate", released, "--csv").stdout)))
    assert [(row["job"], row["state"], row["days_open"]) for row in rows] == [
        ("SQ-2209", "released", "10")
    ]
    documents = json.loads(run("validate", released, bored_book(), "--json").stdout)["books"]
    assert [one["register"]["state"] for one in documents] == ["released", "releasable"]
    assert [one["verdict"] for one in documents] == ["release", "release"]


def test_no_cell_of_the_csv_is_taken_for_a_formula() -> None:
    evil = RegisterLine(
        "=cmd.xlsx", "@SQ", "+engine", "", "on hold", 1, "-1", None, "", None, "", ""
    )
    (row,) = csv.DictReader(io.StringIO(as_csv([evil])))
    assert all(cell[:1] not in "=@+-" for cell in row.values() if cell)


def test_one_book_in_two_files_is_noticed(released: Path) -> None:
    blocks = [line(released), line(bored_book())]
    assert [
        sentence
        for sentence in noticed(blocks)
        if "2 times" in sentence and str(released) in sentence
    ]
    assert not list(noticed(blocks[:1]))


def test_the_table_says_what_its_days_count_to(released: Path) -> None:
    said = "\n".join(
        words for _, words in told([line(released), line(empty_book(), today=date(2026, 6, 1))])
    )
    assert "to the day of release" in said
    assert "day given" not in said, "the other one has no day it was received"


# --- instruments


def gauge(job: str, day: str, **stated: object) -> Instrument:
    return Instrument("BG-7", "bores", job, "mm", measured_on=day, **stated)  # type: ignore[arg-type]


def test_one_instrument_stated_with_two_uncertainties_is_a_remark() -> None:
    ones = [
        gauge("SQ-1", "2026-01-05", all_told=0.002),
        gauge("SQ-2", "2026-02-05", all_told=0.004),
    ]
    (said,) = remarks(ones)
    assert "0.002 mm in job SQ-1" in said
    assert "0.004 mm in job SQ-2" in said
    assert not list(remarks([ones[0], ones[0]]))
    other = Instrument("BG-8", "bores", "SQ-2", "mm", all_told=0.004)
    assert not list(remarks([ones[0], other])), "another number is another instrument"
    in_inches = Instrument("bg-7", "bores", "SQ-3", "in", all_told=0.0000787401575 * 25.4)
    assert not list(remarks([ones[0], in_inches])), "0.002 mm as an inch book states it"


def test_one_instrument_stated_with_two_settings_is_a_remark() -> None:
    ones = [
        gauge("SQ-1", "2026-01-05", all_told=0.0025, setting=0.002),
        gauge("SQ-2", "2026-02-05", all_told=0.0025, setting=0.0015),
    ]
    (said,) = remarks(ones)
    assert "its setting of 0.002 mm in job SQ-1 and of 0.0015 mm in job SQ-2" in said
    one_figure = gauge("SQ-3", "2026-03-05", all_told=0.0025)
    assert not list(remarks([ones[0], one_figure])), "the same, all told"


def test_calibration_due_is_held_against_the_day_given_else_the_last_day_of_readings() -> None:
    ones = [gauge("SQ-1", "2026-01-05", calibration_due="2026-03-01"), gauge("SQ-2", "2026-03-05")]
    (said,) = remarks(ones)
    assert "2026-03-01" in said
    assert "SQ-2" in said
    assert not list(remarks(ones, "2026-02-01"))
    renewed = [*ones, gauge("SQ-3", "2026-03-06", calibration_due="2027-03-01")]
    assert not list(remarks(renewed)), "it was calibrated since"


def test_drift_is_told_once_it_grew_over_three_jobs_and_passes_a_step() -> None:
    def drifting(*after: float) -> list[Instrument]:
        stated = {"zero_before": 0.0, "resolution": 0.002}
        return [
            gauge(f"SQ-{number}", f"2026-0{number}-05", zero_after=size, **stated)
            for number, size in enumerate(after, 1)
        ]

    (said,) = remarks(drifting(0.001, 0.002, 0.004))
    assert "0.004 mm in job SQ-3" in said
    assert not list(remarks(drifting(0.001, 0.004, 0.002))), "it came back"
    assert not list(remarks(drifting(0.0002, 0.0005, 0.001))), "less than one step"
    assert not list(remarks(drifting(0.001, 0.004))), "two jobs are no trend"


def test_instruments_are_read_by_their_keys_whatever_columns_there_are() -> None:
    layout = shipped_layout()
    stated: dict[str, object] = {
        "instruments.bores.number": " BG  7",
        "instruments.bores.all_told": 0.0025,
        "instruments.bores.setting": 0.002,
        "instruments.bores.calibration_due": "2026-09-30",
        "instruments.heights.number": "",
        "instruments.lands.uncertainty": 0.1,
        "job.received_on": "2026-05-02",
    }
    (one,) = instruments_of(layout, stated)
    assert (one.number, one.group, one.job, one.calibration_due) == (
        "BG 7",
        "bores",
        layout.job.block,
        "2026-09-30",
    )
    assert one.measured_on == "2026-05-02", "the day received stands for the day of the readings"
    assert one.drift is None
    assert (one.all_told, one.setting) == (0.0025, 0.002)


# --- what many books of one spec share


@pytest.mark.parametrize("name", mostly_long(shipped_specs()))
def test_a_layout_used_again_for_another_job_is_the_one_laid_out_for_it(name: str) -> None:
    spec = load_spec(shipped_specs()[name])
    fresh = lay_out(spec, Job("Q/2 'b'"))
    again = lay_out(spec, Job("one")).for_job(Job("Q/2 'b'"))
    assert again.identity == fresh.identity
    assert [again.place(key).value for key in again.places] == [
        place.value for place in fresh.places.values()
    ]
    assert {sheet: plan.texts for sheet, plan in again.plans.items()} == {
        sheet: plan.texts for sheet, plan in fresh.plans.items()
    }
    assert chunks(again) == chunks(fresh)
    assert (again.homes, again.names) == (fresh.homes, fresh.names)
    assert again.by_sheet == {
        name: [again.places[one.key] for one in ones] for name, ones in fresh.by_sheet.items()
    }


def test_a_layout_used_again_writes_the_same_book() -> None:
    spec = load_spec(shipped_specs()["orrindale_qp4"])
    again = lay_out(spec, Job("one")).for_job(Job("two"))
    assert workbook_bytes(again, {}) == workbook_bytes(lay_out(spec, Job("two")), {})
