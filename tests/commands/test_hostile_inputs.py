"""What nobody means and somebody types all the same: every command that takes a book, a CSV or a
name for a file answers in words, with a status of its own, and never with a traceback.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from click.testing import Result

from clean_readings import clean_book, clean_readings, empty_book, shipped_layout, validated
from command import run
from datumbook.carrying import CarryError, from_csv, readings_csv
from datumbook.comparison import compare, comparison_lines
from datumbook.planning import plan, plan_lines
from datumbook.planning.pairing import pairing_lines
from datumbook.report.document import as_json, content
from datumbook.report.page import report_html
from datumbook.validator import validate
from datumbook.writer import write

BORE = "bores.1.top.thrust"
LONG = "x" * 300
HUGE = ("1e308", "-1e308", "1e999", "nan", "inf", "9" * 400, f"0.{'0' * 400}1", "1/0", "1e-320")


def in_words(made: Result, *statuses: int) -> str:
    """What a command said; it ended by itself, with one of these."""
    assert made.exception is None or isinstance(made.exception, SystemExit), made.exception
    assert made.exit_code in statuses, made.output
    assert "Traceback" not in made.output
    assert made.output.strip()
    return made.output


@pytest.mark.parametrize("value", HUGE)
def test_a_size_that_cannot_be_is_refused_with_its_line(value: str, tmp_path: Path) -> None:
    csv = tmp_path / "readings.csv"
    csv.write_text(f"key,value\n{BORE},{value}\n", "utf-8")
    with pytest.raises(CarryError, match=f"line 2: {BORE}: "):
        from_csv(shipped_layout(), csv)


def test_sizes_at_the_end_of_all_numbers_are_read_planned_and_judged(tmp_path: Path) -> None:
    """Typed into the book itself, where nothing refuses them: what the commands print of it."""
    layout, book = shipped_layout(), tmp_path / "book.xlsx"
    sizes = [one.key for one in layout.readings() if one.unit is not None]
    typed = {key: (1e308, -1e308, 1e-308)[place % 3] for place, key in enumerate(sizes)}
    write(layout, book, clean_readings(layout) | typed)
    made = validate(book)
    assert made.verdict == "hold"
    assert any(one.code == "reading-impossible" for one in made.findings)
    assert ",1e+308\n" in readings_csv(made)
    assert plan_lines(plan(made))
    assert pairing_lines(made) == []
    assert report_html(made)
    assert as_json(content(made))
    assert comparison_lines(compare(made, validated(clean_book())))


def test_names_longer_than_any_file_has(tmp_path: Path) -> None:
    book, long = empty_book(), tmp_path / f"{LONG}.xlsx"
    csv = tmp_path / "readings.csv"
    csv.write_text(f"key,value\n{BORE},82.0\n", "utf-8")
    for words in (("readings", long), ("plan", long), ("validate", long), ("compare", long, book)):
        in_words(run(*words), 2)
    in_words(run("fill", long, csv, "-o", tmp_path / "out.xlsx"), 2)
    in_words(run("fill", book, tmp_path / LONG, "-o", tmp_path / "out.xlsx"), 2)
    in_words(run("fill", book, csv, "-o", long), 6)
    in_words(run("readings", book, "-o", tmp_path / f"{LONG}.csv"), 6)
    in_words(run("generate", tmp_path / f"{LONG}.toml", "-o", tmp_path / "out.xlsx"), 4)
    in_words(run("generate", LONG, "-o", tmp_path / "out.xlsx"), 2)
    in_words(run("generate", "orrindale_qp4", "--job", tmp_path / LONG), 4)
    assert [path.name for path in tmp_path.iterdir()] == ["readings.csv"]


@pytest.mark.skipif(os.name == "nt", reason="rights of folders are others there")
def test_a_folder_that_may_not_be_looked_into(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As root nothing is shut off, so the system is made to refuse what lies in the folder."""
    shut = tmp_path / "shut"
    csv = tmp_path / "readings.csv"
    csv.write_text(f"key,value\n{BORE},82.0\n", "utf-8")
    shut_off(shut, monkeypatch)
    inside = shut / "book.xlsx"
    for words in (("readings", inside), ("plan", inside), ("validate", inside)):
        in_words(run(*words), 2)
    in_words(run("fill", inside, csv, "-o", tmp_path / "out.xlsx"), 2)
    in_words(run("fill", empty_book(), shut / "readings.csv", "-o", tmp_path / "out.xlsx"), 2)
    in_words(run("fill", empty_book(), csv, "-o", shut / "out.xlsx"), 6)
    in_words(run("readings", empty_book(), "-o", shut / "out.csv"), 6)
    in_words(run("generate", shut / "engine.toml", "-o", tmp_path / "out.xlsx"), 4)


def shut_off(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Have the system refuse every look into a folder, as it does to whoever has no rights to it.
    Source: POSIX.1-2017, open() and stat(): [EACCES], search permission is denied.
    """

    def refusing(name: str, module: object) -> None:
        asked = getattr(module, name)

        def ask(path: object, *more: object, **named: object) -> object:
            if isinstance(path, str | os.PathLike) and Path(path).is_relative_to(folder):
                raise PermissionError(13, "Permission denied", str(path))
            return asked(path, *more, **named)

        monkeypatch.setattr(module, name, ask)

    for name in ("stat", "lstat", "open", "scandir", "listdir", "mkdir"):
        refusing(name, os)
    import builtins
    import io

    refusing("open", io)
    refusing("open", builtins)
