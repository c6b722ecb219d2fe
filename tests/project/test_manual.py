"""The documents: pages made from the code are current, and every command they print runs."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from command import run
from long_runs import mostly_long
from make_manual import MANUAL, PAGES
from project import PROJECT as ROOT

DOCUMENTS = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted(MANUAL.glob("*.md"))]
SCRIPT = re.compile(r"^    python (\S+\.py)", re.MULTILINE)
COMMAND = re.compile(r"^    datumbook (.+?)(?:\s{2,}#.*)?$", re.MULTILINE)
ANSWERED = (0, 1)  # an untouched workbook is on hold, which is an answer


@pytest.mark.parametrize("name", PAGES)
def test_a_page_made_from_the_code_is_current(name: str) -> None:
    page: Callable[[], str] = PAGES[name]
    assert (MANUAL / name).read_text("utf-8") == page(), "run python tests/scripts/make_manual.py"


@pytest.mark.parametrize(
    "document", [ROOT / "README.md", MANUAL / "guide.md"], ids=lambda path: path.name
)
def test_every_command_of_a_document_runs(
    document: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    commands = COMMAND.findall(document.read_text("utf-8"))
    assert len(commands) >= 4
    for command in commands:
        words, _, target = command.partition(" > ")
        result = run(*shlex.split(words))
        assert result.exit_code in ANSWERED, (command, result.output)
        if target:
            (tmp_path / target).write_text(result.stdout, "utf-8")


@pytest.mark.parametrize(
    "script",
    mostly_long(sorted(set(SCRIPT.findall((ROOT / "DEVELOPERS.md").read_text("utf-8")))), 4),
)
def test_every_script_of_the_developers_page_finds_what_it_imports(script: str) -> None:
    """Started as it is printed, without the paths that pytest sets; its work itself is left out."""
    started = (
        "import runpy, sys; "
        f"sys.path[0] = {str((ROOT / script).parent)!r}; runpy.run_path({script!r}, run_name='')"
    )
    found = subprocess.run(
        [sys.executable, "-c", started],
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(ROOT / "builder")},
    )
    assert (found.returncode, found.stderr) == (0, "")


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.name)
def test_every_link_of_a_document_leads_somewhere(document: Path) -> None:
    for target in re.findall(r"\]\(([^)#]+)\)", document.read_text("utf-8")):
        assert (document.parent / target).exists(), target
