"""The command line as a person meets it: what it prints, where it writes, with which status it
ends.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from clean_readings import demo_book, empty_book
from command import run
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from project import full_form
from records import content_of

ENGINE = "orrindale_qp4"


@pytest.fixture
def empty() -> Path:
    return empty_book()


@pytest.fixture
def filled() -> Path:
    return demo_book()


def book_of(path: Path, *options: str) -> dict[str, Any]:
    (book,) = json.loads(run("validate", path, "--json", *options).stdout)["books"]
    return book


def test_the_demonstration_says_where_its_files_are_and_what_a_machinist_wants_to_know(
    tmp_path: Path,
) -> None:
    made = run("demo", "--out", tmp_path / "there")
    assert made.exit_code == 0
    for name in (f"{ENGINE}.toml", f"{ENGINE}_empty.xlsx", f"{ENGINE}_filled.xlsx", "report.html"):
        assert (tmp_path / "there" / name).is_file()
        assert name in made.output
    assert "ON HOLD" in made.output
    assert "Hole D1" in made.output, "the missing reading is named"
    assert "5/8" in made.output, "the fraction that became a date is recovered"
    assert "82.500" in made.output, "the next size of all bores is said"


def test_generate_takes_a_shipped_name_or_a_file_and_refuses_to_guess(tmp_path: Path) -> None:
    book = tmp_path / "book.xlsx"
    assert run("generate", ENGINE, "-o", book, "--block", "SQ-1").exit_code == 0
    assert book.is_file()
    missing = run("generate", tmp_path / "nothing.toml", "-o", book)
    assert missing.exit_code == 4
    assert "nothing.toml" in missing.output
    assert (
        run(
            "generate", ENGINE, "-o", tmp_path / "x.xlsx", "--units", "bores=furlong/fortnight"
        ).exit_code
        == 2
    )
    assert run("generate", ENGINE, "-o", tmp_path / "x.xlsx", "--units", "valves=mm").exit_code == 2
    assert run("generate", ENGINE, "-o", tmp_path / "x.xlsx", "--block", " ").exit_code == 2
    assert not (tmp_path / "x.xlsx").exists()


def test_validate_ends_with_the_status_of_the_worst_book(
    empty: Path, filled: Path, tmp_path: Path
) -> None:
    assert run("validate", empty).exit_code == 1
    assert run("validate", filled).exit_code == 1
    nonsense = tmp_path / "nonsense.xlsx"
    nonsense.write_bytes(b"no workbook at all")
    assert run("validate", nonsense).exit_code == 2
    assert run("validate", empty, nonsense).exit_code == 2
    assert run("validate", tmp_path / "void").exit_code == 2
    (tmp_path / "void").mkdir()
    assert run("validate", tmp_path / "void").exit_code == 2


def test_the_json_document_keeps_to_its_contract(filled: Path, empty: Path) -> None:
    one = book_of(filled)
    assert set(one) == {
        "workbook",
        "tool",
        "spec",
        "job",
        "verdict",
        "counts",
        "findings",
        "results",
        "struck",
        "settled",
        "register",
    }
    assert one["verdict"] == "hold"
    keys = {
        "code",
        "severity",
        "sheet",
        "cell",
        "key",
        "label",
        "found",
        "expected",
        "suggestion",
        "message",
    }
    assert all(keys <= set(found) for found in one["findings"])
    assert {found["severity"] for found in one["findings"]} <= {
        "damage",
        "reading",
        "check",
        "note",
    }
    keys = {"key", "sheet", "cell", "unit", "computed", "shown", "verdict", "concession"}
    assert all(keys <= set(result) for result in one["results"])
    assert [
        found["verdict"]
        for found in json.loads(run("validate", filled, empty, "--json").stdout)["books"]
    ] == ["hold", "hold"]


def test_readings_go_out_as_csv_and_come_back(filled: Path, empty: Path, tmp_path: Path) -> None:
    csv, again = tmp_path / "readings.csv", tmp_path / "again.xlsx"
    assert run("readings", filled, "-o", csv).exit_code == 0
    assert csv.read_text("utf-8").splitlines()[0] == "key,sheet,cell,label,unit,value"
    assert run("readings", filled).stdout == csv.read_text("utf-8")
    assert run("fill", filled, csv, "-o", again).exit_code == 0
    assert again.read_bytes() == filled.read_bytes()
    assert (
        run("generate", ENGINE, "--block", "SQ-2209", "--readings", filled, "-o", again).exit_code
        == 2
    ), "never writes over"
    assert (
        run(
            "generate", ENGINE, "--block", "SQ-2209", "--readings", filled, "-o", again, "--replace"
        ).exit_code
        == 0
    )
    assert again.read_bytes() == filled.read_bytes()
    csv.write_text("key,value\nbores.9.top.thrust,82.0\n", "utf-8")
    refused = run("fill", empty, csv, "-o", tmp_path / "none.xlsx")
    assert refused.exit_code == 2
    assert "bores.9.top.thrust" in refused.output
    assert not (tmp_path / "none.xlsx").exists()


def test_plan_and_compare_speak(filled: Path, empty: Path) -> None:
    planned = run("plan", filled)
    assert planned.exit_code == 0
    assert "82.500" in planned.output
    same = run("compare", filled, filled)
    assert same.exit_code == 0
    assert "Changed: 0" in same.output
    assert run("compare", filled, empty).exit_code == 0


def test_the_bench_commands_answer_or_say_what_to_write() -> None:
    assert "0.2720" in run("thread", "5/16-24 UNF").output
    assert run("thread", "5/16").exit_code == 2
    assert (
        "nearest to 70 %"
        in run("thread", "1/4-20", "--drills", "fraction,number", "--share", "70").output
    )
    assert "recommended by ASME B1.1" in run("thread", "5/16-24", "--engagement", "5/16in").output
    assert run("thread", "1/4-20", "--share", "7/10").exit_code == 2
    assert "out_of_round" in run("explain").output
    assert "thrust" in run("explain", "out_of_round").output
    assert run("explain", "out_of_rond").exit_code == 2
    assert (
        "86.6"
        in run("work", "drill_chart_thread", "major=5/16in", "hole=17/64in", "pitch=1/24in").output
    )
    assert run("work", "drill_chart_thread", "major=5/16in").exit_code == 2


def test_a_faulty_spec_is_told_every_fault_with_its_line(tmp_path: Path) -> None:
    text = full_form(ENGINE)
    faulty = tmp_path / "faulty.toml"
    faulty.write_text(
        text.replace('"0.040 mm"', '"0.040"').replace('stroke = "3.740 in"', 'stroke = "3,740 in"'),
        "utf-8",
    )
    told = run("spec", "check", faulty)
    assert told.exit_code == 4
    assert "bores.out_of_round.at_most" in told.output
    assert "bores.stroke" in told.output
    assert told.output.count("faulty.toml:") == 3, "two faults and the sum of them"
    assert run("spec", "check", ENGINE).exit_code == 0


def test_a_new_spec_is_made_by_questions_and_makes_a_book(tmp_path: Path) -> None:
    spec, book = tmp_path / "mine.toml", tmp_path / "mine.xlsx"
    made = run("spec", "new", "-o", spec, typed="Tern 2\n2\n70 mm\n75 mm\nmm\n")
    assert made.exit_code == 0, made.output
    assert run("spec", "check", spec).exit_code == 1, "its guesses are told"
    assert run("generate", spec, "-o", book).exit_code == 0
    assert run("validate", book).exit_code == 1
    assert run("spec", "new", "-o", spec, typed="Tern 2\n2\n70 mm\n75 mm\nmm\n").exit_code == 2, (
        "never writes over a spec"
    )
    assert json.loads(run("spec", "schema").stdout)["title"]


def test_help_loads_nothing_heavy() -> None:
    names = ("pint", "openpyxl", "xlsxwriter", "scipy", "pydantic", "lxml", "jinja2")
    heavy = (
        f"import sys, datumbook.commands.app; print([name for name in {names} if name in "
        f"sys.modules])"
    )
    assert (
        subprocess.run(
            [sys.executable, "-c", heavy], capture_output=True, text=True, check=True
        ).stdout.strip()
        == "[]"
    )
    assert run("--version").output.startswith("datumbook ")


def test_the_version_printed_is_the_one_a_workbook_bears(empty: Path) -> None:
    document = book_of(empty)
    written = content_of(lay_out(load_spec(shipped_specs()[ENGINE])))["version"]
    assert (
        run("--version").output.split()
        == [document["tool"]["name"], document["tool"]["version"]]
        == ["datumbook", written]
    )


@pytest.mark.parametrize(
    ("typed", "offered"),
    [("datumbook val", {"validate"}), ("datumbook spec ", {"check", "schema", "new"})],
)
def test_a_shell_completes_the_commands(typed: str, offered: set[str]) -> None:
    ask = "import sys; sys.argv = ['datumbook']; from datumbook.commands.app import main; main()"
    asked = {
        "_DATUMBOOK_COMPLETE": "complete_bash",
        "COMP_WORDS": typed,
        "COMP_CWORD": str(typed.count(" ")),
    }
    said = subprocess.run(
        [sys.executable, "-c", ask],
        env=os.environ | asked,
        capture_output=True,
        text=True,
        check=False,
    )
    assert set(said.stdout.split()) == offered


def test_signatures_do_not_follow_the_readings_to_another_job(filled: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.xlsx"
    made = run("generate", ENGINE, "--block", "OTHER", "--readings", filled, "-o", other)
    assert made.exit_code == 0
    assert "signed for another job" in made.output
    told = book_of(other)
    assert told["job"]["state"] == "ON HOLD"
    drill = next(
        result for result in told["results"] if result["key"] == "threads.front_cover.hole"
    )
    assert drill["verdict"] == "OUT"
    assert not drill["concession"]


def test_nothing_is_written_over_a_workbook_by_mistake(filled: Path, tmp_path: Path) -> None:
    book = tmp_path / "book.xlsx"
    book.write_bytes(filled.read_bytes())
    for words in (
        ("validate", book, "--report", book),
        ("readings", book, "-o", book),
        ("generate", ENGINE, "-o", book),
    ):
        assert run(*words).exit_code == 2
        assert book.read_bytes() == filled.read_bytes()


def test_an_earlier_stage_is_judged_by_what_belongs_to_it(filled: Path) -> None:
    received = book_of(filled, "--stage", "received")
    assert {found["sheet"] for found in received["findings"] if found["severity"] == "check"} == {
        "Bores",
        "Heights",
    }
    assert run("validate", filled, "--stage", "someday").exit_code == 2
