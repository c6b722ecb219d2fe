"""One noun, one meaning: names of classes, aliases and constants are unique across the package;
and a module is short enough to be read at one sitting.
"""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator

from project import PROJECT

PACKAGE = PROJECT / "builder" / "datumbook"
MODULES = sorted(PACKAGE.rglob("*.py"))
LONGEST = 350  # lines of a module


def defined(module: ast.Module) -> Iterator[str]:
    """The classes, aliases and constants that a module makes."""
    for node in module.body:
        match node:
            case ast.ClassDef(name=name):
                yield name
            case ast.Assign(targets=targets):
                yield from (name for target in targets for name in bound(target))
            case ast.AnnAssign(target=target):
                yield from bound(target)


def bound(target: ast.expr) -> Iterator[str]:
    """The names that an assignment binds, those within a tuple too."""
    return (
        node.id
        for node in ast.walk(target)
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)
    )


def test_a_name_of_the_package_means_one_thing() -> None:
    where: dict[str, list[str]] = defaultdict(list)
    for path in MODULES:
        for name in defined(ast.parse(path.read_text("utf-8"))):
            if not name.startswith("__"):
                where[name].append(path.relative_to(PACKAGE).as_posix())
    assert len(where) > 600
    assert {name: paths for name, paths in where.items() if len(paths) > 1} == {}


def test_every_way_to_make_a_name_is_seen() -> None:
    made = "A = 1\nB, (C, *D) = 1, (2, 3)\nE: int = 4\nF = G = x[y] = 5\nclass H: I = 6\n"
    assert list(defined(ast.parse(made))) == [*"ABCDEFGH"]


def test_no_module_is_longer_than_one_reads_at_one_sitting() -> None:
    lines = {
        path.relative_to(PACKAGE).as_posix(): len(path.read_text("utf-8").splitlines())
        for path in MODULES
    }
    assert {name: count for name, count in lines.items() if count > LONGEST} == {}
