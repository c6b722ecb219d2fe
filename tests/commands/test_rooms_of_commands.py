"""The command line's own walls: one module prints, one catches, a mistake of ours is no advice."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import datumbook.commands
import datumbook.stations
from command import run
from datumbook.messages import ExpectedError

MODULES = {
    path.stem: path for path in sorted(Path(datumbook.commands.__file__).parent.glob("*.py"))
}
PRINTING = {"echo", "secho", "print", "Console", "Text", "track", "stdout", "stderr"}


def words_of(module: str) -> Iterator[str]:
    """Every name and attribute that a module's code uses."""
    for node in ast.walk(ast.parse(MODULES[module].read_text("utf-8"))):
        if isinstance(node, ast.Name):
            yield node.id
        elif isinstance(node, ast.Attribute):
            yield node.attr


def test_one_module_prints() -> None:
    printing = {module for module in MODULES if PRINTING & set(words_of(module))}
    assert printing == {"printing"}, "say it with `say` or `warn` of commands/printing.py"


def test_one_module_catches_what_the_rooms_raise() -> None:
    catching = {
        module
        for module, path in MODULES.items()
        if any(isinstance(node, ast.Try) for node in ast.walk(ast.parse(path.read_text("utf-8"))))
    }
    assert catching == {"errors", "app"}, "raise ExpectedError; commands/errors.py tells it"


@pytest.mark.parametrize("raised", [ExpectedError("write it so"), ValueError("no advice")])
def test_only_what_a_person_can_put_right_is_told(
    raised: ValueError, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise raised

    monkeypatch.setattr(datumbook.stations, "lay_out", broken)
    made = run("spec", "check", "orrindale_qp4")
    if isinstance(raised, ExpectedError):
        assert (made.exit_code, made.stderr) == (2, "write it so\n")
    else:
        assert made.exception is raised


def test_faults_of_a_spec_are_an_answer_and_other_errors_are_not(tmp_path: Path) -> None:
    faulty = tmp_path / "faulty.toml"
    faulty.write_text("engine = 1\n", "utf-8")
    for words in (("spec", "check"), ("generate",)):
        made = run(*words, faulty)
        assert (made.exit_code, made.stderr) == (4, "")
        assert "faulty.toml" in made.stdout
        unknown = run(*words, "nosuchengine")
        assert (unknown.exit_code, unknown.stdout) == (2, "")
    refused = run("spec", "new", "-o", tmp_path / "x.toml", typed="X\n2\n7O mm\n75 mm\nmm\n")
    assert refused.exit_code == 2, "asked again, and nobody answers"
    assert "7O mm" in refused.stderr


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("validate", "none.xlsx", "none2.xlsx", "--today", "1.2.26"), "--today 1.2.26: write the"),
        (("validate", "none.xlsx", "--json", "--csv"), "--json and --csv: ask for one of them."),
        (("validate", "none.xlsx", "--report", "x.txt"), "--report x.txt: the report is a page"),
        (("generate", "orrindale_qp4", "--units", "bores"), "--units bores: write a group and a"),
        (("generate", "orrindale_qp4", "--units", "bores=kg"), "--units bores=kg: kg is no unit"),
        (("generate", "orrindale_qp4", "--block", "x" * 41), "Give it a name of 1 to 40"),
        (("compare", "none.xlsx", "none.xlsx"), "none.xlsx"),
        (("plan", "none.xlsx"), "none.xlsx"),
        (("fill", "none.xlsx", "none.csv", "-o", "x.xlsx"), "none.xlsx is damaged, so its reading"),
        (("thread", "5/16-24", "--engagement", "5/16"), "has no unit: write"),
        (("work", "85 H7/s6", "ring=1in"), "A fit takes"),
        (("explain", "85 H7/s"), "There is no equation called"),
    ],
)
def test_wrong_use_is_told_with_its_remedy(
    words: tuple[str, ...], said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    made = run(*words)
    assert made.exit_code == 2, made.output
    assert said in made.stderr
    assert made.stdout == ""
    assert not list(tmp_path.iterdir())
