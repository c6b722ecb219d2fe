"""Say whether the books of all shipped specs are those of another commit in everything but words:
labels, texts and number formats.

    python tests/scripts/same_but_words.py COMMIT
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from openpyxl import load_workbook
from openpyxl.formula import Tokenizer
from openpyxl.formula.tokenizer import Token
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

ROOT = Path(__file__).resolve().parents[2]
Facts = dict[tuple[str, str], object]  # by the sheet's number and what is looked at


def facts(path: Path) -> Facts:
    """Everything of a book but its words: formulas with their texts blanked, the results they show,
    numbers, what is locked or checked or coloured where, and what the names stand for.
    """
    book, shown = load_workbook(path), load_workbook(path, data_only=True)
    found: Facts = {("", "names"): sorted(_names(book))}
    for number, sheet in enumerate(book.worksheets):
        results = shown.worksheets[number]
        for place, what in _of_sheet(sheet, results, book.sheetnames):
            found[str(number), place] = what
    return found


def differences(old: Path, new: Path) -> list[str]:
    """Where two books differ in more than words, a line each."""
    one, two = facts(old), facts(new)
    return [
        f"sheet {sheet}, {place}: {one.get((sheet, place))} -> {two.get((sheet, place))}"
        for sheet, place in {**one, **two}
        if one.get((sheet, place)) != two.get((sheet, place))
    ]


def _names(book: Workbook) -> Iterator[str]:
    for name in book.defined_names.values():
        yield without_words(f"={name.attr_text}", book.sheetnames)


def _of_sheet(
    sheet: Worksheet, results: Worksheet, sheets: list[str]
) -> Iterator[tuple[str, object]]:
    for row in sheet.iter_rows():
        for cell in row:
            value, shown = cell.value, results[cell.coordinate].value
            content = without_words(value, sheets) if cell.data_type == "f" else _kind(value)
            yield (
                cell.coordinate,
                (content, _kind(shown), cell.protection.locked, cell.fill.fgColor.rgb),
            )
    yield "merged", sorted(str(area) for area in sheet.merged_cells.ranges)
    yield "protected", sheet.protection.sheet
    yield (
        "checked",
        [
            (str(one.sqref), one.type, one.operator, *_texts((one.formula1, one.formula2), sheets))
            for one in sheet.data_validations.dataValidation
        ],
    )
    yield (
        "coloured",
        [
            (str(area.sqref), rule.type, rule.operator, *_texts(rule.formula, sheets))
            for area in sheet.conditional_formatting
            for rule in area.rules
        ],
    )


def _texts(formulas: tuple[str | None, ...] | list[str], sheets: list[str]) -> Iterator[str | None]:
    return (without_words(f"={one}", sheets) if one else None for one in formulas)


def _kind(value: object) -> object:
    return "words" if isinstance(value, str) else value


def without_words(formula: str, sheets: list[str]) -> str:
    """A formula with its texts blanked and its sheets by number."""

    def number_of(sheet: re.Match[str]) -> str:
        return f"{sheets.index(sheet[1])}!"

    parts = []
    for token in Tokenizer(formula).items:
        if token.type == Token.OPERAND and token.subtype == Token.TEXT:
            parts.append('"words"')
        else:
            parts.append(
                re.sub(r"'?([^'!]+)'?!", lambda at: f"{sheets.index(at[1])}!", token.value)
            )
    return "".join(parts)


def _books(code: Path, folder: Path) -> Iterator[Path]:
    """The empty books of the shipped specs as the code in this folder writes them."""
    folder.mkdir()
    for spec in sorted((code / "specs").glob("*.toml")):
        path = folder / f"{spec.stem}.xlsx"
        command = [sys.executable, "-m", "datumbook", "generate", str(spec), "-o", str(path)]
        environment = {**os.environ, "PYTHONPATH": str(code / "builder")}
        subprocess.run(command, env=environment, check=True, capture_output=True)
        yield path


def main(commit: str) -> int:
    """Print what differs, book by book; 1 where anything does."""
    count = 0
    with tempfile.TemporaryDirectory() as folder:
        then = Path(folder) / "code"
        worktree = ["git", "-C", str(ROOT), "worktree"]
        subprocess.run([*worktree, "add", "-q", "--detach", str(then), commit], check=True)
        try:
            old = _books(then, Path(folder) / "old")
            new = _books(ROOT, Path(folder) / "new")
            for one, two in zip(old, new, strict=True):
                found = differences(one, two)
                count += len(found)
                sys.stdout.write(f"{two.stem}: {len(found)} differences but words\n")
                sys.stdout.writelines(f"  {line}\n" for line in found[:20])
        finally:
            subprocess.run([*worktree, "remove", "--force", str(then)], check=True)
    return 1 if count else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
