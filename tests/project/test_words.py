"""One noun, one meaning: names of classes, aliases and constants are unique across the package."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator

from project import PROJECT

PACKAGE = PROJECT / "builder" / "datumbook"


def defined(module: ast.Module) -> Iterator[str]:
    """The classes, aliases and constants that a module makes."""
    for node in module.body:
        match node:
            case ast.ClassDef(name=name):
                yield name
            case ast.Assign(targets=[ast.Name(id=name)]) | ast.AnnAssign(target=ast.Name(id=name)):
                yield name


def test_a_name_of_the_package_means_one_thing() -> None:
    where: dict[str, list[str]] = defaultdict(list)
    for path in sorted(PACKAGE.rglob("*.py")):
        for name in defined(ast.parse(path.read_text("utf-8"))):
            if not name.startswith("__"):
                where[name].append(path.relative_to(PACKAGE).as_posix())
    assert len(where) > 600
    assert {name: paths for name, paths in where.items() if len(paths) > 1} == {}
