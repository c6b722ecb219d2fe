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
import typer

from command import run
from datumbook.commands.app import app
from datumbook.files import PACKAGE
from datumbook.messages.findings import catalogue
from long_runs import mostly_long
from make_manual import MANUAL, PAGES
from project import PROJECT as ROOT

DOCUMENTS = [
    ROOT / "README.md",
    ROOT / "DEVELOPERS.md",
    ROOT / "output_examples" / "README.md",
    *sorted(MANUAL.glob("*.md")),
]
SCRIPT = re.compile(r"^    python (\S+\.py)", re.MULTILINE)
COMMAND = re.compile(r"^    datumbook (.+?)(?:\s{2,}#.*)?$", re.MULTILINE)
OF_ALL = {"-h", "--help", "--version"}
ANSWERED = (0, 1)  # an untouched workbook is on hold, which is an answer


@pytest.mark.parametrize("name", PAGES)
def test_a_page_made_from_the_code_is_current(name: str) -> None:
    page: Callable[[], str] = PAGES[name]
    assert (MANUAL / name).read_text("utf-8") == page(), "run python tests/scripts/make_manual.py"


@pytest.mark.parametrize(
    "document", mostly_long([ROOT / "README.md", MANUAL / "guide.md"]), ids=lambda path: path.name
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


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.parent.name + path.name)
def test_every_command_and_option_that_a_document_names_is_there(document: Path) -> None:
    text = document.read_text("utf-8")
    for said in re.findall(r"(?:`|^    )datumbook ([^`\n]+)", text, re.MULTILINE):
        command, words = typer.main.get_command(app), said.partition("#")[0].split()
        while words and (further := getattr(command, "commands", {}).get(words[0])):
            command, words = further, words[1:]
        assert not hasattr(command, "commands") or not words or words[0] in OF_ALL, said
        options = {one for each in command.params for one in each.opts} | OF_ALL
        named = {word for word in words if word.startswith("-") and not word[1:2].isdigit()}
        assert named <= options, said


@pytest.mark.parametrize("name", ["questions.md", "programs.md"])
def test_every_code_that_a_page_names_is_a_finding(name: str) -> None:
    text = (MANUAL / name).read_text("utf-8")
    named = set(re.findall(r"[`'\"]([a-z]+(?:-[a-z]+)+)[`'\"]", text))
    assert named
    assert named <= set(catalogue())


def test_the_tool_opens_no_connection_as_the_questions_say() -> None:
    reaching = re.compile(
        r"^\s*(?:import|from) (?:asyncio|ftplib|http|requests|smtplib|socket|urllib)\b"
    )
    sources = [path for path in PACKAGE.rglob("*.py") if path.name != "__main__.py"]
    assert len(sources) > 400
    for path in sources:
        lines = path.read_text("utf-8").splitlines()
        assert [line for line in lines if reaching.match(line)] == [], path


def test_every_heading_that_a_link_means_is_there() -> None:
    for document in DOCUMENTS:
        for file, heading in re.findall(r"\]\(([^)#]*)#([^)]+)\)", document.read_text("utf-8")):
            page = (document.parent / file if file else document).read_text("utf-8")
            heads = re.findall(r"^#+ (.+)$", page, re.MULTILINE)
            anchors = {re.sub(r"[^\w -]", "", one.lower()).replace(" ", "-") for one in heads}
            assert heading in anchors, (document.name, heading)


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.parent.name + path.name)
def test_every_link_of_a_document_leads_somewhere(document: Path) -> None:
    for target in re.findall(r"\]\(([^)#]+)\)", document.read_text("utf-8")):
        assert (document.parent / target).exists(), target
