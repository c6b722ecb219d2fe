"""Where an equation is used that stands in no cell of a shipped book."""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping
from functools import cache

from datumbook.files import PACKAGE
from datumbook.grouping import grouped

EQUATIONS = "datumbook.equations"
# room of the package -> what it means for an equation to be named there
ROOMS = {
    "stations": "in the books of engines that have it",
    "workbook": "in the books of engines that have it",
    "standards": "in the sizes of a table",
    "plan": "in a plan",
    "calculator": "in a card at the bench",
}
# the equations of the bench itself, each with why no sheet shows it
OWN = {
    "capacity": "an engine is spoken of by it; no cut and no limit hangs on it",
    "largest_reamer": "reamers are bought before the block comes; the book gauges the hole",
    "smallest_reamer": "reamers are bought before the block comes; the book gauges the hole",
    "bob_weight": "a crank is balanced apart from its block",
    "residual_unbalance": "a crank is balanced apart from its block",
    "flat_within": "a rule by length is worked out before its limit is written in a spec",
    "feed_speed": "of machines that feed by the minute; the sheets give the feed of one turn",
}
AT_THE_BENCH = "at the bench alone"


@cache
def modules_naming() -> Mapping[str, tuple[str, ...]]:
    """Return name of an equation -> the modules of the package, by their paths in it, that take it
    from the equations by name.
    """
    paths = [path for room in ROOMS for path in sorted((PACKAGE / room).rglob("*.py"))]
    texts = {path: text for path in paths if EQUATIONS in (text := path.read_text("utf-8"))}
    named = grouped(
        (name, path.relative_to(PACKAGE).as_posix())
        for path, text in texts.items()
        for name in sorted(set(_taken(ast.parse(text))))
    )
    return {name: tuple(paths) for name, paths in named.items()}


def elsewhere(*names: str) -> Iterator[str]:
    """Yield where an equation is used outside the shipped books, in words: names are its own and
    those of the equations that call it, however far.
    """
    if names[0] in OWN:
        yield f"{AT_THE_BENCH}: {OWN[names[0]]}"
    modules = {path: name for name in reversed(names) for path in modules_naming().get(name, ())}
    for path, name in sorted(modules.items()):
        within = "" if name == names[0] else f"within {name}, "
        yield f"{within}{ROOMS[path.partition('/')[0]]}: builder/datumbook/{path}"


def _taken(module: ast.Module) -> Iterator[str]:
    """What a module takes from the equations: imported by name, or as `module.name`."""
    imports = [node for node in ast.walk(module) if isinstance(node, ast.ImportFrom)]
    rooms = {
        alias.asname or alias.name
        for node in imports
        if node.module == EQUATIONS
        for alias in node.names
    }
    for node in imports:
        if str(node.module).startswith(f"{EQUATIONS}."):
            yield from (alias.name for alias in node.names)
    for each in ast.walk(module):
        match each:
            case ast.Attribute(value=ast.Name(id=room), attr=name) if room in rooms:
                yield name
