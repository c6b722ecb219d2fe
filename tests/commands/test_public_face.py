"""What strangers and programs meet: one document of one shape, a status for each way to end, and
no file lost.
"""

from __future__ import annotations

import json
import os
import re
import resource
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import typer
from jsonschema import Draft202012Validator

from bored_block import bored_book
from command import run
from datumbook.commands.app import app
from datumbook.commands.statuses import STATUSES
from datumbook.files import PACKAGE, books_in
from datumbook.register import RegisterLine
from datumbook.register.instruments import Instrument
from datumbook.register.words import told
from datumbook.report.document import DOCUMENT_FORMAT, validation_schema
from datumbook.report.review_document import REVIEW_FORMAT, review_schema
from older_books import older_book

ENGINE = "orrindale_qp4"
GENERATE = ("generate", ENGINE, "--work", "bore")
SCHEMA = Draft202012Validator(validation_schema())


def started(
    *words: object, cwd: Path | None = None, **given: object
) -> subprocess.CompletedProcess[bytes]:
    """The program in a process of its own, as a shell starts it."""
    environment = os.environ | {str(name): str(value) for name, value in given.items()}
    environment["PYTHONPATH"] = str(PACKAGE.parent)
    return subprocess.run(
        [sys.executable, "-m", "datumbook", *map(str, words)],
        env=environment,
        cwd=cwd,
        capture_output=True,
        check=False,
    )


@pytest.fixture
def nonsense(tmp_path: Path) -> Path:
    path = tmp_path / "nonsense.xlsx"
    path.write_bytes(b"no workbook at all")
    return path


def test_one_book_or_many_are_one_document_that_its_schema_holds(nonsense: Path) -> None:
    for books in ([bored_book()], [nonsense], [bored_book(), nonsense, nonsense]):
        made = json.loads(run("validate", *books, "--json").stdout)
        SCHEMA.validate(made)
        assert (made["format"], len(made["books"])) == (DOCUMENT_FORMAT, len(books))
        entry = validation_schema()["$defs"]["BookDocument"]["properties"]
        assert all(set(one) == set(entry) for one in made["books"])


def test_a_folder_of_one_or_of_many_is_the_same_document(nonsense: Path, tmp_path: Path) -> None:
    folder = tmp_path / "books"
    folder.mkdir()
    for count in (1, 2):
        (folder / f"{count}.xlsx").write_bytes(nonsense.read_bytes())
        made = json.loads(run("validate", folder, "--json", "--today", "2026-05-31").stdout)
        SCHEMA.validate(made)
        assert [one["register"]["state"] for one in made["books"]] == ["unreadable"] * count


def test_the_schema_knows_every_column_of_the_register() -> None:
    shapes = validation_schema()["$defs"]
    for shape, told_of in (("RegisterDocument", RegisterLine), ("InstrumentDocument", Instrument)):
        assert list(shapes[shape]["properties"]) == list(told_of.__dataclass_fields__)
        assert shapes[shape]["required"] == list(told_of.__dataclass_fields__)


def test_spec_files_looked_over_are_one_document_that_its_schema_holds(tmp_path: Path) -> None:
    schema = Draft202012Validator(review_schema())
    faulty, empty = tmp_path / "faulty.toml", tmp_path / "empty.toml"
    faulty.write_text("engine = 1\n", "utf-8")
    empty.write_text("", "utf-8")
    for specs in ([ENGINE], [faulty], [ENGINE, faulty, empty, tmp_path / "none.toml"]):
        made = json.loads(run("spec", "check", *specs, "--json").stdout)
        schema.validate(made)
        assert (made["format"], len(made["files"])) == (REVIEW_FORMAT, len(specs))
    assert not schema.is_valid(made | {"format": REVIEW_FORMAT + 1})
    made["files"][1]["remarks"][0]["severity"] = "grave"
    assert not schema.is_valid(made)


def test_every_command_that_prints_json_publishes_its_schema() -> None:
    page = (PACKAGE / "manual" / "programs.md").read_text("utf-8")
    printing = {
        name
        for name, command in commands_of(typer.main.get_command(app))
        if any("--json" in one.opts for one in command.params)
    }
    published = dict(re.findall(r"\| `datumbook ([\w ]+) … --json` .*\]\((.+?)\) \|", page))
    assert published.keys() == printing
    for schema in published.values():
        Draft202012Validator.check_schema(json.loads(run("manual", schema).stdout))


def commands_of(group: Any, name: str = "") -> Iterator[tuple[str, Any]]:
    """Every command of the program, by the words that it is called with."""
    for word, command in getattr(group, "commands", {}).items():
        yield f"{name}{word}", command
        yield from commands_of(command, f"{name}{word} ")


def test_the_schema_refuses_what_is_no_such_document() -> None:
    made = json.loads(run("validate", bored_book(), "--json").stdout)
    assert not SCHEMA.is_valid(made["books"])
    assert not SCHEMA.is_valid(made | {"format": DOCUMENT_FORMAT + 1})
    made["books"][0]["verdict"] = "perhaps"
    assert not SCHEMA.is_valid(made)


def test_the_table_of_statuses_is_in_the_help_and_in_the_guide() -> None:
    told = " ".join(re.sub("[│╭╮╰╯─]", " ", run("-h").output).split())
    guide = " ".join((PACKAGE / "manual" / "guide.md").read_text("utf-8").split())
    for status, words in STATUSES.items():
        assert f"{status} {words}" in told
        assert f"| {status} | {words} |" in guide


def test_each_way_to_end_has_its_own_status(nonsense: Path, tmp_path: Path) -> None:
    faulty = tmp_path / "faulty.toml"
    faulty.write_text("engine = 1\n", "utf-8")
    assert run("validate", bored_book()).exit_code == 0
    assert run(*GENERATE, "-o", tmp_path / "book.xlsx").exit_code == 0
    assert run("validate", tmp_path / "book.xlsx").exit_code == 1
    assert run("validate", nonsense).exit_code == 2
    assert run("validate", bored_book(), "--stage", "someday").exit_code == 2
    assert run("generate", faulty).exit_code == 4


def test_a_mistake_of_ours_is_a_sentence_and_its_traceback_is_kept(tmp_path: Path) -> None:
    broken = (
        "import datumbook.stations as s, sys\n"
        "def lay_out(*_): raise ZeroDivisionError('gone')\n"
        "s.lay_out = lay_out\n"
        "from datumbook.commands.app import main\n"
        f"sys.argv = ['datumbook', 'generate', '{ENGINE}']\n"
        "main()\n"
    )
    made = subprocess.run(
        [sys.executable, "-c", broken],
        env=os.environ | {"PYTHONPATH": str(PACKAGE.parent), "TMPDIR": str(tmp_path)},
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert made.returncode == 5
    assert "Traceback" not in made.stderr
    (kept,) = tmp_path.glob("datumbook-failure-*.txt")
    assert str(kept) in made.stderr
    assert "ZeroDivisionError: gone" in kept.read_text("utf-8")


@pytest.mark.parametrize("words", [("spec", "schema"), ("readings", bored_book), ("explain",)])
def test_a_pipe_is_given_utf_8_whatever_the_code_page_is(words: tuple[object, ...]) -> None:
    asked = [one() if callable(one) else one for one in words]
    for page in ({"PYTHONIOENCODING": "cp1252"}, {"LC_ALL": "C", "PYTHONUTF8": "0"}):
        made = started(*asked, **page)
        assert (made.returncode, made.stderr) == (0, b""), page
        assert made.stdout.decode("utf-8") == run(*asked).stdout


def test_a_full_disk_ends_in_words() -> None:
    if not Path("/dev/full").exists():
        pytest.skip("this system has no /dev/full")
    with open("/dev/full", "wb") as full:
        made = subprocess.run(
            [sys.executable, "-m", "datumbook", "readings", str(bored_book())],
            env=os.environ | {"PYTHONPATH": str(PACKAGE.parent)},
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert made.returncode == 6
    assert "Traceback" not in made.stderr
    assert "space" in made.stderr


def test_a_book_that_does_not_fit_leaves_the_old_one_as_it_was(tmp_path: Path) -> None:
    book = tmp_path / "book.xlsx"
    book.write_bytes(b"the old one")

    def little() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))

    made = subprocess.run(
        [sys.executable, "-m", "datumbook", *GENERATE, "-o", str(book), "--replace"],
        env=os.environ | {"PYTHONPATH": str(PACKAGE.parent)},
        preexec_fn=little,
        capture_output=True,
        text=True,
        check=False,
    )
    assert made.returncode == 6, made.stderr
    assert "Traceback" not in made.stderr
    assert book.read_bytes() == b"the old one"


@pytest.mark.parametrize("words", ["explain", "--help", "validate -h"])
def test_who_stops_listening_is_told_nothing(words: str, tmp_path: Path) -> None:
    program = f"{sys.executable} -m datumbook {words} | head -1; echo ${{PIPESTATUS[0]}}"
    made = subprocess.run(
        ["bash", "-c", program],
        env=os.environ | {"PYTHONPATH": str(PACKAGE.parent)},
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert made.stderr == ""
    assert made.stdout.splitlines()[-1] in ("0", "6"), "0 where all was said before"


@pytest.mark.parametrize("command", ["plan", "readings"])
def test_the_folder_where_one_stands_is_no_book(command: str) -> None:
    made = run(command, ".")
    assert (made.exit_code, made.stdout) == (2, "")
    assert "folder" in made.stderr


def test_a_folder_that_may_not_be_written_ends_in_words(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", "utf-8")
    made = run(*GENERATE, "-o", tmp_path / "file" / "book.xlsx")
    assert made.exit_code == 6
    assert "book.xlsx" in made.stderr
    folder = run("demo", "--out", tmp_path / "file" / "demo")
    assert folder.exit_code == 6
    assert "name another folder with --out" in folder.stderr
    long = run(*GENERATE, "-o", tmp_path / f"{'x' * 300}.xlsx")
    assert long.exit_code == 6, long.output


@pytest.mark.parametrize("lock", [".~lock.book.xlsx#", "~$book.xlsx"])
def test_a_book_that_is_open_in_a_program_is_neither_replaced_nor_trusted_in_silence(
    lock: str, tmp_path: Path
) -> None:
    book = tmp_path / "book.xlsx"
    book.write_bytes(bored_book().read_bytes())
    (tmp_path / lock).write_text("", "utf-8")
    refused = run(*GENERATE, "-o", book, "--replace")
    assert refused.exit_code == 2
    assert lock in refused.stderr
    assert book.read_bytes() == bored_book().read_bytes()
    judged = run("validate", book)
    assert judged.exit_code == 0
    assert "what is not saved in it is not read" in judged.stderr


def test_a_workbook_that_is_replaced_is_kept_and_counted_by_no_folder(tmp_path: Path) -> None:
    book = tmp_path / "book.xlsx"
    book.write_bytes(bored_book().read_bytes())
    for count in (1, 2):
        before = book.read_bytes()
        made = run(*GENERATE, "-o", book, "--replace")
        assert made.exit_code == 0
        kept = tmp_path / f"book.xlsx.{count}.bak"
        assert kept.read_bytes() == before
        assert str(kept) in made.output
    assert books_in(tmp_path) == [book]


def test_no_text_is_written_over_a_file_by_mistake(tmp_path: Path) -> None:
    there = tmp_path / "there.html"
    there.write_text("mine", "utf-8")
    for words in (
        ("readings", bored_book(), "-o", there),
        ("validate", bored_book(), "--report", there),
        ("spec", "new", "-o", there),
        ("job", "new", ENGINE, "-o", there, "--block", "A"),
        ("demo", "--out", tmp_path),
    ):
        made = run(*words, typed="Tern 2\n2\n70 mm\n75 mm\nmm\n")
        assert made.exit_code == 2, words
        assert there.read_text("utf-8") == "mine"
    assert run("validate", bored_book(), "--report", there, "--replace").exit_code == 0
    assert there.read_text("utf-8") != "mine"


def test_a_workbook_is_written_in_its_own_form_only(tmp_path: Path) -> None:
    refused = run(*GENERATE, "-o", tmp_path / "book.ods")
    assert refused.exit_code == 2
    assert ".xlsx" in refused.stderr
    assert not (tmp_path / "book.ods").exists()


def test_a_book_of_an_older_version_is_carried_over_by_one_command(tmp_path: Path) -> None:
    older_book(tmp_path / "old.xlsx")
    made = run("upgrade", tmp_path / "old.xlsx")
    assert made.exit_code == 0, made.output
    new = tmp_path / "old_upgraded.xlsx"
    assert "Not carried over: " in made.output
    assert run("upgrade", new).output.startswith(f"{new}: this version reads it")
    assert run("upgrade", tmp_path / "old.xlsx").exit_code == 2, "never writes over"
    (tmp_path / "no.xlsx").write_bytes(b"nothing")
    assert run("upgrade", tmp_path / "no.xlsx").exit_code == 2


def test_the_manual_lists_and_prints_its_documents() -> None:
    listed = run("manual").output
    for path in (PACKAGE / "manual").glob("*.md"):
        assert path.name in listed
        assert run("manual", path.stem).stdout == path.read_text("utf-8")
    unknown = run("manual", "giude")
    assert unknown.exit_code == 2
    assert "Is guide.md meant?" in unknown.stderr


def test_the_help_answers_to_its_short_name() -> None:
    for words in ((), ("validate",), ("spec",), ("spec", "check"), ("job", "new")):
        assert run(*words, "-h").output == run(*words, "--help").output


def test_a_shell_completes_the_shipped_engines() -> None:
    asked = {"_DATUMBOOK_COMPLETE": "complete_bash", "COMP_WORDS": "datumbook generate orr"}
    ask = "import sys; sys.argv = ['datumbook']; from datumbook.commands.app import main; main()"
    said = subprocess.run(
        [sys.executable, "-c", ask],
        env=os.environ | asked | {"COMP_CWORD": "2", "PYTHONPATH": str(PACKAGE.parent)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert said.stdout.split() == [ENGINE]


def test_the_register_is_no_wider_than_the_terminal() -> None:
    line = RegisterLine(
        "a.xlsx", "A", "E", "", "on hold", 1, "a very long reason " * 9, 0, "", None, "", ""
    )
    wide = [text for _, text in told([line])]
    assert max(map(len, wide)) > 100
    narrow = [text for _, text in told([line], width=80)]
    assert max(map(len, narrow[:2])) == 80
    assert narrow[1].endswith("…")
