"""The examples kept in the repository are those the tool makes today."""

from __future__ import annotations

import zipfile
from pathlib import Path

from make_examples import EXAMPLES, make_examples


def parts(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as book:
        return {name: book.read(name) for name in book.namelist()}


def test_the_examples_are_current(tmp_path: Path) -> None:
    made = make_examples(tmp_path)
    assert sorted(path.name for path in EXAMPLES.iterdir()) == sorted(path.name for path in made)
    for path in made:
        kept = EXAMPLES / path.name
        if path.suffix == ".xlsx":
            assert parts(path) == parts(kept), f"run python tests/make_examples.py: {path.name} is not current"
        else:
            assert path.read_bytes() == kept.read_bytes(), f"run python tests/make_examples.py: {path.name} is not current"
