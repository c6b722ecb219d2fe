"""The walls between floors: a module imports from the floors below it and from its own room, never
upward.

Source: the design's own rule; the table here is the only place that states it in full.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import datumbook

PACKAGE = Path(datumbook.__file__).parent

# Lowest first. A floor is rooms side by side; a room is one module, or a package whose modules
# share it.
FLOORS: tuple[tuple[str, ...], ...] = (
    ("formulas.kinds", "formulas.tree", "refusals", "sources", "findings", "files"),
    ("units",),
    ("quantities", "formulas.functions"),
    ("formulas.tracing",),
    ("formulas.spelling",),
    ("equations",),
    ("standards",),
    ("spec",),
    ("book.table",),
    ("choosing", "book.uncertainty", "book.repeats"),
    ("book.layout",),
    ("book.placing",),
    ("sheets",),
    ("styles", "book.record", "book.reckoning", "book.series"),
    ("book.before_and_after",),
    ("writer", "reader", "validator.plausibility"),
    ("validator.recognising", "validator.spots", "validator.unfollowed", "validator.older_books"),
    ("validator.locating", "validator.struck"),
    (
        "validator.formula_changes",
        "validator.printed_words",
        "validator.pasting",
        "validator.surveying",
        "validator.entries",
    ),
    ("validator.comparing",),
    ("validator.judging",),
    ("validator",),
    ("telling.worked",),
    ("telling", "carrying", "plan"),
    ("demo", "bench", "compare", "register"),
    ("cli", "telling.handbook"),
)
EQUATIONS_MAY = {
    "datumbook.formulas.kinds",
    "datumbook.formulas.functions",
    "datumbook.equations.verdicts",
}  # whose words the standings speak
ONLY_HERE = {
    "xlsxwriter": {"writer"},
    "openpyxl": {"reader"},
    "lxml": {"reader"},
    "zipfile": {"reader"},
    "pint": {"units"},
    "pydantic": {
        "spec",
        "bench",
        "telling.handbook",
    },  # the bench says where a limit comes from, the handbook every key
    "scipy": {"choosing"},
    "jinja2": {"telling"},
    "typer": {"cli"},
}

MODULES = sorted(
    ".".join(path.relative_to(PACKAGE).with_suffix("").parts).removesuffix(".__init__")
    for path in PACKAGE.rglob("*.py")
    if path != PACKAGE / "__init__.py"
)


def room(module: str) -> str:
    """The room of a module, written without `builder.`: itself where the table lists it, else its
    package.
    """
    return module if any(module in rooms for rooms in FLOORS) else module.split(".")[0]


def floor(module: str) -> int:
    for number, rooms in enumerate(FLOORS):
        if room(module) in rooms:
            return number
    raise LookupError(
        f"give builder/{module.replace('.', '/')}.py a floor in tests/project/test_floors.py"
    )


@cache
def imported(module: str) -> tuple[str, ...]:
    """Every module a module imports, at its head or inside a function; what only its types need is
    left out.
    """
    base = PACKAGE.joinpath(*module.split("."))
    path = base.with_suffix(".py") if base.with_suffix(".py").exists() else base / "__init__.py"
    return tuple(names_in(ast.parse(path.read_text("utf-8"))))


def names_in(node: ast.AST) -> Iterator[str]:
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.If) and ast.unparse(child.test) == "TYPE_CHECKING":
            continue
        if isinstance(child, ast.Import):
            yield from (alias.name for alias in child.names)
        elif isinstance(child, ast.ImportFrom):
            assert child.level == 0, "imports name their module in full"
            yield from whole_names(str(child.module), [alias.name for alias in child.names])
        else:
            yield from names_in(child)


def whole_names(module: str, names: list[str]) -> Iterator[str]:
    """`from builder import units` imports datumbook.numbers.units; `from builder import VERSION`
    imports builder.
    """
    for name in names:
        base = PACKAGE.parent.joinpath(*module.split("."), name)
        inner = module.split(".")[0] == "builder" and (
            base.with_suffix(".py").exists() or base.is_dir()
        )
        yield f"{module}.{name}" if inner else module


def of_builder(module: str) -> list[str]:
    return [
        name.removeprefix("builder.") for name in imported(module) if name.startswith("builder.")
    ]


@pytest.mark.parametrize("module", MODULES)
def test_a_module_imports_only_from_its_own_room_and_the_floors_below(module: str) -> None:
    upward = [
        name
        for name in of_builder(module)
        if room(name) != room(module) and floor(name) >= floor(module)
    ]
    assert upward == []


@pytest.mark.parametrize("module", [name for name in MODULES if name.startswith("equations.")])
def test_equations_import_nothing_but_kinds_and_functions(module: str) -> None:
    assert set(imported(module)) <= EQUATIONS_MAY | {"__future__"}


@pytest.mark.parametrize("library", ONLY_HERE)
def test_a_library_is_imported_in_its_own_room_alone(library: str) -> None:
    users = {
        room(module)
        for module in MODULES
        if any(name.split(".")[0] == library for name in imported(module))
    }
    assert users == ONLY_HERE[library]


def test_writer_and_reader_never_meet() -> None:
    assert [name for name in reached("writer") if room(name) == "reader"] == []
    readers = [module for module in MODULES if room(module) == "reader"]
    assert [name for module in readers for name in reached(module) if room(name) == "writer"] == []


def reached(module: str) -> set[str]:
    """Every module of the package that a module brings with it."""
    found, waiting = set(), [module]
    while waiting:
        new = [name for name in of_builder(waiting.pop()) if name in MODULES and name not in found]
        found.update(new)
        waiting += new
    return found


def test_every_room_of_the_table_exists() -> None:
    rooms = {room(module) for module in MODULES}
    listed = {name for rooms_of_floor in FLOORS for name in rooms_of_floor}
    assert listed - rooms == set()


def test_an_upward_import_would_be_noticed() -> None:
    assert list(names_in(ast.parse("def late():\n    from builder import units, VERSION"))) == [
        "datumbook.numbers.units",
        "builder",
    ]
    assert (
        floor("formulas.kinds")
        < floor("units")
        < floor("equations.bores")
        < floor("book.layout")
        < floor("cli")
    )
