"""Keys are made and taken apart in cells/handles.py alone; everywhere else a cell is asked for by
its handle.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from itertools import combinations

import pytest

from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from project import PROJECT

PACKAGE = PROJECT / "builder" / "datumbook"
HANDLES = PACKAGE / "cells" / "handles.py"
TAKES_APART = {"partition", "rpartition", "split", "rsplit", "startswith", "endswith", "replace"}


@cache
def keys() -> frozenset[str]:
    """Every key of every shipped engine's book, and every fragment of one with a point in it."""
    books = (lay_out(load_spec(path), Job()) for path in shipped_specs().values())
    parted = {tuple(key.split(".")) for book in books for key in book.places}
    return frozenset(
        ".".join(parts[start:stop])
        for parts in parted
        for start, stop in combinations(range(len(parts) + 1), 2)
        if stop - start > 1
    )


def offences(module: ast.Module) -> Iterator[tuple[int, str]]:
    """Where a module says, makes or takes apart a key, by line."""
    for node in ast.walk(module):
        match node:
            case ast.Constant(value=str(words)) if words.strip(".") in keys():
                yield node.lineno, f"says {words}"
            case ast.Call(func=ast.Name(id="Key"), args=[ast.JoinedStr() | ast.BinOp()]):
                yield node.lineno, "makes a key"
            case ast.Call(
                func=ast.Attribute(attr=verb, value=of), args=[ast.Constant(value=str(sign)), *_]
            ) if verb in TAKES_APART and "." in sign and named(of) in {"key", "row"}:
                yield node.lineno, "takes a key apart"
            case ast.JoinedStr(values=[*parts]) if any(map(joins, parts, parts[1:])):
                yield node.lineno, "joins a key"


def named(value: ast.expr) -> str:
    """The last word by which a value is called."""
    match value:
        case ast.Name(id=name) | ast.Attribute(attr=name):
            return name
    return ""


def joins(one: ast.expr, other: ast.expr) -> bool:
    """Whether a point is set behind the key of something, within a string."""
    match one, other:
        case ast.FormattedValue(value=ast.Attribute(attr="key")), ast.Constant(value=str(words)):
            return words.startswith(".") and words.strip() == words
    return False


def test_no_module_but_handles_says_makes_or_takes_apart_a_key() -> None:
    assert len(keys()) > 20_000
    found = {
        path.relative_to(PACKAGE).as_posix(): where
        for path in sorted(PACKAGE.rglob("*.py"))
        if path != HANDLES and (where := list(offences(ast.parse(path.read_text("utf-8")))))
    }
    assert found == {}


@pytest.mark.parametrize(
    "planted",
    [
        'values["bore_plan.1.typed_bore"]',
        'keys = ("decision.released_by", "job")',
        'value.startswith("bores.1.")',
        'place.key.partition(".")[0]',
        'key.rsplit(".", 1)[-1] in JUDGED',
        'place.row.rpartition(".")',
        'key.replace(".", "__")',
        'Key(f"{check}.verdict")',
        'f"{column.home.key}.{name}"',
    ],
)
def test_an_offence_is_seen(planted: str) -> None:
    assert list(offences(ast.parse(planted)))


@pytest.mark.parametrize(
    "allowed",
    [
        'each.thrust[cylinder, "top"]',
        'text.partition(".")[0]',
        'f"{part.key}. {words}"',
        'open("findings.toml")',
    ],
)
def test_what_is_no_key_is_let_pass(allowed: str) -> None:
    assert not list(offences(ast.parse(allowed)))
