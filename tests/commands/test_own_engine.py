"""Your own engine in an hour: every command of the page runs, every line of its files is typed, and
what comes out waits for readings alone.
"""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from command import run
from datumbook.commands.statuses import FULFILLED, ON_HOLD
from datumbook.spec import load_spec
from datumbook.spec.guesses import guesses
from datumbook.validator import validate
from make_manual import MANUAL

PAGE = (MANUAL / "own_engine.md").read_text("utf-8")
STEP = re.compile(r"^## Step (\d+): [^(]+\((\d+) minutes?\)$", re.MULTILINE)
DONE = re.compile(r"^    datumbook ([^\n]+)$|^```toml\n(.+?)^```$", re.MULTILINE | re.DOTALL)
HEADING = re.compile(r"(?m)^\[{1,2}\w[\w.]*\]{1,2}")


def typed_into(text: str, typed: str) -> str:
    """A spec with lines typed in the place of those of the same keys, in the section they name."""
    heading, *lines = typed.splitlines()
    start = text.index(f"\n{heading}") + 1
    following = HEADING.search(text, start + len(heading))
    end = following.start() if following else len(text)
    section = text[start:end]
    for line in lines:
        key = line.partition(" =")[0]
        old = re.compile(rf"^{key} = (?:\[\n(?:  .*\n)*\]|.*)$", re.MULTILINE)
        section, count = old.subn(lambda _, line=line: line, section)
        assert count == 1, key
    return text[:start] + section + text[end:]


def test_the_steps_are_counted_and_take_less_than_an_hour() -> None:
    steps = [(int(number), int(minutes)) for number, minutes in STEP.findall(PAGE)]
    assert [number for number, _ in steps] == list(range(1, len(steps) + 1))
    assert sum(minutes for _, minutes in steps) < 60
    assert PAGE.count("\n## ") == len(steps)


def test_every_command_and_file_of_the_page_is_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    spec = tmp_path / "ruddle.toml"
    checked = []
    for command, typed in DONE.findall(PAGE):
        if typed:
            spec.write_text(typed_into(spec.read_text("utf-8"), typed), "utf-8")
            continue
        made = run(*shlex.split(command))
        assert made.exit_code in (FULFILLED, ON_HOLD), (command, made.output)
        if command.startswith("spec check"):
            checked.append((made.exit_code, made.stdout))
    assert [status for status, _ in checked] == [ON_HOLD, FULFILLED]
    assert "no fault found, nothing to warn of" in checked[-1][1]
    assert list(guesses(load_spec(spec))) == []
    begun = {one.code for one in validate(tmp_path / "try.xlsx").findings}
    assert "limit-guessed" in begun
    whole = validate(tmp_path / "R-101.xlsx")
    assert whole.verdict == "hold"
    assert {one.code for one in whole.findings} <= {"reading-missing", "check-open"}
    assert "reading-missing" in {one.code for one in whole.findings}
