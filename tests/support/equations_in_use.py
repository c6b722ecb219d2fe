"""Which equations are used: in the cells of the shipped books and of the tests' engine that has
everything, and by the modules that make books and plans.
"""

from __future__ import annotations

import ast
import tomllib
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

import datumbook
from datumbook.calculator.equations import (
    BenchEquation,
    equations,
    reach,
    shipped_books,
    standing_in,
)
from project import SUPPORT
from whole_engine import named as with_every_station

PACKAGE = Path(datumbook.__file__).parent
LIST = SUPPORT / "equations_in_no_book.toml"
ALL = {name: one for module in equations().values() for name, one in module.items()}
FROM = "datumbook.equations"


def listed() -> dict[str, list[str]]:
    """Return the lists of the equations in no shipped book and no plan, as they stand in their
    file.
    """
    return tomllib.loads(LIST.read_text("utf-8"))


@cache
def unused() -> dict[str, set[str]]:
    """Return the same lists as the package is now: no shipped book and no plan has these, and of
    them a station or a standard names the second, for an engine that no shipped spec describes.
    """
    out = set(ALL) - shown() - named(["plan"])
    rooms = {path.name for path in PACKAGE.iterdir()} - {"equations", "calculator"}
    by_some_engine = named(sorted(rooms))
    return {
        "at_the_bench_alone": out - by_some_engine,
        "for_no_shipped_engine": out & by_some_engine,
    }


@cache
def shown() -> frozenset[str]:
    """Return the equations in the cells of these books, and those that these call."""
    return frozenset().union(
        *(_names(standing_in(book)) for book in (*shipped_books(), with_every_station()))
    )


def named(rooms: Iterable[str]) -> set[str]:
    """Return the equations that the modules of these rooms name, and those that these call."""
    paths = [path for room in rooms for path in sorted((PACKAGE / room).rglob("*.py"))]
    words = {word for path in paths for word in _taken(ast.parse(path.read_text("utf-8")))}
    return {name for word in words & set(ALL) for name in _names(reach(ALL[word]))}


def _names(found: Iterable[BenchEquation]) -> set[str]:
    return {one.__name__ for one in found} & set(ALL)


def _taken(module: ast.Module) -> Iterator[str]:
    """What a module takes from the equations: imported by name, or as `module.name`."""
    imports = [node for node in ast.walk(module) if isinstance(node, ast.ImportFrom)]
    rooms = {
        alias.asname or alias.name
        for node in imports
        if node.module == FROM
        for alias in node.names
    }
    for node in imports:
        if str(node.module).startswith(f"{FROM}."):
            yield from (alias.name for alias in node.names)
    for node in ast.walk(module):
        match node:
            case ast.Attribute(value=ast.Name(id=room), attr=name) if room in rooms:
                yield name
