"""What programs call: loaded when asked for, typed, and told of on its page, whose examples run."""

from __future__ import annotations

import doctest
import inspect
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

import datumbook
from clean_readings import clean_book, demo_book, empty_book, validated
from damaged_books import with_cell
from datumbook.commands.manual import MANUAL_FOLDER
from datumbook.files import PACKAGE
from datumbook.validator import Validation

PAGE = (MANUAL_FOLDER / "programs.md").read_text("utf-8")
CALLED = [name for name in datumbook.__all__ if inspect.isfunction(getattr(datumbook, name))]
HEAVY = ("pydantic", "openpyxl", "xlsxwriter", "lxml", "pint", "typer", "scipy", "datumbook.spec")

CALLER = '''
from pathlib import Path

import datumbook
from datumbook import ExpectedError, Validation


def judged(folder: Path) -> dict[str, str]:
    """The books of a shop that may not go, and why."""
    shop = [datumbook.read_spec(path) for path in folder.glob("*.toml")]
    books = [datumbook.validate(path, stage="planned", shop=shop) for path in folder.glob("*.xlsx")]
    return {str(one.path): one.findings[0].message for one in books if one.verdict != "release"}


def first(book: Validation) -> float | str | None:
    try:
        filled = datumbook.fill(book.path, "new.csv", "new.xlsx", replace=True)
    except ExpectedError:
        return None
    count: int = len(datumbook.plan(filled.path).bores.bores)
    made = datumbook.generate("engine", job={"block": str(count)}, protected=False)
    return datumbook.readings(made.path)[0].value
'''

CLICKS_OWN = "ignore:'click.:DeprecationWarning"  # an old typer asks the newest click for it


def apart(code: str, folder: Path) -> str:
    """What Python says to this, in a process of its own."""
    ran = subprocess.run(
        [sys.executable, "-W", "error", "-W", CLICKS_OWN, "-c", code],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(PACKAGE.parent)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert (ran.returncode, ran.stderr) == (0, "")
    return ran.stdout


def mypy(code: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """What mypy says to a program, strictly, with the package as it is installed elsewhere."""
    (folder / "caller.py").write_text(code, "utf-8")
    asked = ["--strict", "--cache-dir", str(folder / "cache"), "--follow-imports=silent"]
    return subprocess.run(
        [sys.executable, "-m", "mypy", *asked, "caller.py"],
        cwd=folder,
        env=os.environ | {"MYPYPATH": str(PACKAGE.parent)},
        capture_output=True,
        text=True,
        check=False,
    )


def test_what_is_imported_is_the_version_alone_until_more_is_asked_for(tmp_path: Path) -> None:
    said = apart(
        "import sys, datumbook\n"
        f"print([one for one in {HEAVY} if one in sys.modules], datumbook.VERSION)\n"
        "from datumbook import validate\n"
        "print('datumbook.spec' in sys.modules, validate('none.xlsx').verdict)",
        tmp_path,
    )
    assert said.splitlines() == [f"[] {datumbook.VERSION}", "True unreadable"]


def test_no_room_has_the_name_of_what_is_called(tmp_path: Path) -> None:
    """A module that is imported is put into its package by its own name, over what stood there."""
    modules = [
        ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts)
        for path in PACKAGE.rglob("*.py")
        if path.name != "__main__.py"
    ]
    said = apart(
        "import importlib, inspect, datumbook\n"
        f"for one in {modules}: importlib.import_module(one)\n"
        "print([one for one in datumbook.__all__ if inspect.ismodule(getattr(datumbook, one))])",
        tmp_path,
    )
    assert said == "[]\n"


def test_every_name_is_there_and_no_other() -> None:
    assert set(datumbook.__all__) <= set(dir(datumbook))
    assert all(hasattr(datumbook, name) for name in datumbook.__all__)
    with pytest.raises(AttributeError, match="no attribute 'judge'"):
        _ = datumbook.judge  # type: ignore[attr-defined]


def test_a_program_that_calls_it_is_checked_by_mypy(tmp_path: Path) -> None:
    pytest.importorskip("mypy", reason="mypy is not installed: pip install -e '.[test]' does")
    held = mypy(CALLER, tmp_path)
    assert held.returncode == 0, held.stdout
    wrong = mypy(CALLER.replace('stage="planned"', 'stage="done"'), tmp_path)
    assert "incompatible type \"Literal['done']\"" in wrong.stdout


def test_every_example_of_the_page_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    test = doctest.DocTestParser().get_doctest(PAGE, {}, "programs.md", "programs.md", 0)
    told: list[str] = []
    ran = doctest.DocTestRunner().run(test, out=told.append)
    assert "".join(told) == ""
    assert ran.attempted > 15


@pytest.mark.parametrize("name", datumbook.__all__)
def test_the_page_tells_of_every_name(name: str) -> None:
    assert f"`{name}`" in PAGE or name in CALLED


@pytest.mark.parametrize("name", CALLED)
def test_the_page_tells_of_every_argument_answer_and_error(name: str) -> None:
    function = getattr(datumbook, name)
    head, _, told = PAGE.partition(f"\n### {name}(")[2].partition("\n")
    told = re.split(r"\n##+ ", told)[0]
    arguments = inspect.signature(function).parameters
    starred = any(one.kind is one.KEYWORD_ONLY for one in arguments.values())
    given = re.findall(r"\w+", head)
    assert (given, r"\*" in head) == (list(arguments), starred)
    assert all(f"`{one}`" in told or one in ("book", "spec") for one in arguments), told
    answer = inspect.signature(function).return_annotation
    assert re.findall(r"[A-Z]\w+", answer)[-1] in told
    assert "ExpectedError" in told
    assert function.__doc__


def test_the_page_tells_of_what_an_answer_holds() -> None:
    hidden = {"located", "record", "readable", "reached", "checks", "wanted"}
    public = {one for one in (*Validation.__dataclass_fields__, *vars(Validation)) if one[0] != "_"}
    assert {one for one in public if f"`{one}`" not in PAGE} == hidden
    for kind in (datumbook.Plan, datumbook.BookWritten):
        assert [one for one in kind.__dataclass_fields__ if f"`{one}`" not in PAGE] == []
    assert [one for one in datumbook.ReadingTold._fields if f"`{one}`" not in PAGE] == []


def test_readings_are_told_as_they_stand(tmp_path: Path) -> None:
    told = {one.key: one for one in datumbook.readings(validated(demo_book()))}
    assert told["bores.1.top.thrust"].value == validated(demo_book()).typed["bores.1.top.thrust"]
    assert {one.value for one in datumbook.readings(validated(empty_book()))} == {None}
    assert told["holes_front_cover.F3.thread"].value == "2026-05-08", "a program made a day of it"
    one = told["bores.1.top.thrust"]
    spoiled = with_cell(clean_book(), tmp_path / "b.xlsx", (one.sheet, one.cell), holds="#REF!")
    (unread,) = [one for one in datumbook.readings(spoiled) if one.unread]
    assert (unread.key, unread.value, unread.unread) == (one.key, None, "#REF!")


def test_what_is_no_book_is_an_answer_or_an_expected_error_and_nothing_else(tmp_path: Path) -> None:
    for strange in ("no.xlsx", "x" * 4_000, "a\0b", ".", "/dev/null"):
        path = tmp_path / strange
        assert datumbook.validate(path).verdict == "unreadable"
        for ask in (datumbook.plan, datumbook.readings):
            with pytest.raises(datumbook.ExpectedError):
                ask(path)
        with pytest.raises(datumbook.ExpectedError):
            datumbook.read_spec(path)
        with pytest.raises(datumbook.ExpectedError):
            datumbook.fill(path, path, tmp_path / "out.xlsx")
    with pytest.raises(datumbook.ExpectedError, match="received, planned, finished"):
        datumbook.validate(clean_book(), stage="done")  # type: ignore[arg-type]
    with pytest.raises(datumbook.ExpectedError, match="block"):
        datumbook.generate("orrindale_qp4", tmp_path / "out.xlsx", job={"block": ""})
    assert list(tmp_path.iterdir()) == []
