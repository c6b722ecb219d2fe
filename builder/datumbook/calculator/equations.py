"""The equations at the bench: which there are, and everything about one of them, read from the code
itself.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from types import CodeType, FunctionType
from typing import TYPE_CHECKING, Any

from datumbook.calculator.fits import fit_card, is_fit
from datumbook.calculator.where_used import elsewhere
from datumbook.files import checkout
from datumbook.grouping import grouped
from datumbook.messages import ExpectedError
from datumbook.messages.refusals import shown

if TYPE_CHECKING:
    from datumbook.spec import Limit
    from datumbook.workbook.layout import Layout
    from datumbook.workbook.placed import SheetPlan

BenchEquation = Callable[..., Any]
OF_BOOKS = "datumbook.equations."

# a kind of datumbook.formulas.kinds -> its words, and a quantity as typed at the bench
BENCH_KINDS = {
    "Length": ("a length", "0.5in"),
    "Area": ("an area", "0.1063in2"),
    "Volume": ("a volume", "500cm3"),
    "Ratio": ("a bare number or a percentage", "0.75"),
    "Share": ("a percentage or a bare number", "75%"),
    "Count": ("a count", "3"),
    "Angle": ("an angle", "118deg"),
    "Force": ("a force", "12kN"),
    "Torque": ("a torque", "42lbf.ft"),
    "Stress": ("a stress", "400MPa"),
    "Stiffness": ("a stiffness", "150kN/mm"),
    "Mass": ("a mass", "540g"),
    "Unbalance": ("an unbalance", "200g*mm"),
    "SpindleSpeed": ("a spindle speed", "764rev/min"),
    "CuttingSpeed": ("a cutting speed", "100ft/min"),
    "Temperature": ("a temperature", "20degC"),
    "Expansion": ("an expansion", "10.8e-6/°C"),
    "Words": ("words", "done"),
    "Measure": ("a measured value, of one kind throughout", "0.041mm"),
}

NO_CELL = "in no cell of a shipped book"


class BenchError(ExpectedError):
    """What was asked at the bench cannot be answered; the message is a sentence for the person,
    with the remedy.
    """


@cache
def equations() -> Mapping[str, Mapping[str, BenchEquation]]:
    """Return module -> name -> equation, for every public equation of builder/datumbook/equations,
    as written there.
    """
    import pkgutil
    from importlib import import_module

    from datumbook import equations as package

    return {
        name: _public(import_module(f"{package.__name__}.{name}"))
        for name in sorted(module.name for module in pkgutil.iter_modules(package.__path__))
    }


def _public(module: Any) -> dict[str, BenchEquation]:
    own = [
        (name, one)
        for name, one in inspect.getmembers(module, inspect.isfunction)
        if one.__module__ == module.__name__ and not name.startswith("_")
    ]
    return dict(sorted(own, key=lambda item: _first_line(item[1])))


def equation(name: str) -> BenchEquation:
    """Return the equation of a name, spaces and hyphens for _ allowed; BenchError with the nearest
    names.
    """
    known = {one: found for module in equations().values() for one, found in module.items()}
    word = plain_name(name)
    if word in known:
        return known[word]
    near = get_close_matches(word[:80], known, n=3, cutoff=0.5)
    remedy = f"the nearest are {', '.join(near)}" if near else "datumbook explain lists them all"
    raise BenchError(f'There is no equation called "{shown(name)}": {remedy}.')


def plain_name(text: str) -> str:
    """Return a name as the code writes it."""
    return re.sub(r"[\s_-]+", "_", text.strip().lower())


def kind_names(one: BenchEquation) -> dict[str, str]:
    """Return parameter -> kind by its name in datumbook.formulas.kinds, and "return"; the same
    dimension may have two names.
    """
    return {name: str(kind) for name, kind in inspect.get_annotations(one).items()}


def meaning(one: BenchEquation) -> str:
    """Return the first paragraph of what an equation says about itself, on one line."""
    return " ".join((inspect.getdoc(one) or "").split("\n\n")[0].split())


@cache
def reach(one: BenchEquation) -> frozenset[BenchEquation]:
    """Return an equation and every one it calls, however far: all that stand where it stands."""
    named = (it for layer in _layers(one) for it in map(layer.__globals__.get, _names_in(layer)))
    called = {it for it in filter(inspect.isfunction, named) if it.__module__.startswith(OF_BOOKS)}
    return frozenset({one}).union(*map(reach, called))


def _layers(one: BenchEquation) -> Iterator[FunctionType]:
    """An equation, and what it wraps, down to its own body."""
    layer: object = one
    while isinstance(layer, FunctionType):
        yield layer
        layer = getattr(layer, "__wrapped__", None)


def _names_in(of: FunctionType | CodeType) -> set[str]:
    code = of.__code__ if isinstance(of, FunctionType) else of
    return set(code.co_names).union(
        *(_names_in(part) for part in code.co_consts if isinstance(part, CodeType))
    )


def callers(one: BenchEquation) -> list[str]:
    """Return the names of an equation and of all that call it, however far, its own first."""
    every = (each for module in equations().values() for each in module.values())
    return [
        one.__name__,
        *(each.__name__ for each in every if each is not one and one in reach(each)),
    ]


def standing_in(layout: Layout) -> frozenset[BenchEquation]:
    """Return the equations that stand in a book: those of its cells, and those that these call."""
    used = {place.equation for place in layout.places.values() if place.equation}
    return frozenset[BenchEquation]().union(*map(reach, used))


def shipped_books() -> Iterator[Layout]:
    """Yield the books of the shipped specs, each laid out only when it is reached, the shortest
    spec first, as its book is the quickest; then those with the stations that a job has to name.
    """
    from datumbook.spec import shipped_specs

    specs = sorted(shipped_specs().values(), key=lambda it: it.stat().st_size)
    yield from map(_laid_out, specs)
    yield from (_laid_out(spec, named) for spec in specs if (named := _by_name(spec)))


@cache
def _by_name(spec: Path) -> tuple[str, ...]:
    """The stations an engine has figures for that stand in a book only where a job names them."""
    from datumbook.job.scope import described
    from datumbook.spec import load_spec
    from datumbook.standards.works import stations

    known = (stations()[key] for key in described(load_spec(spec)))
    return tuple(one.key for one in known if one.by_name and one.sections)


@cache
def _laid_out(spec: Path, named: tuple[str, ...] = ()) -> Layout:
    from datumbook.job import Job
    from datumbook.spec import load_spec
    from datumbook.stations import lay_out

    return lay_out(load_spec(spec), Job(also=named))


def explain(name: str | None) -> str:
    """Return every equation with its meaning, or all about the one named, or about a fit;
    BenchError for a name that is none.

    Its cells are those in the first of the shipped books in which it stands.
    """
    if name is None:
        return "\n\n".join(
            "\n".join([module, *(two_columns(name, meaning(one)) for name, one in found.items())])
            for module, found in equations().items()
        )
    if is_fit(name):
        return fit_card(name)
    return "\n".join(_explained(equation(name)))


def two_columns(name: str, words: str, width: int = 28) -> str:
    """A line of a list: the name, at least two blanks, the words; below it where the name is too
    long for its column.
    """
    return (
        f"  {name:<{width}}{words}"
        if len(name) + 2 <= width
        else f"  {name}\n  {'':<{width}}{words}"
    )


def _explained(one: BenchEquation) -> Iterator[str]:
    from datumbook.formulas.spelling import in_words
    from datumbook.messages.sources import source_of

    kinds = {name: BENCH_KINDS[kind][0] for name, kind in kind_names(one).items()}
    module = one.__module__.rpartition(".")[2]
    book = next((book for book in shipped_books() if one in standing_in(book)), None)
    told: dict[str, Iterable[str]] = {
        "formula": [f"{one.__name__.replace('_', ' ')} = {in_words(one)}"],
        "wants": (
            f"{name}: {kinds[name]}{', one or more' if each.kind is each.VAR_POSITIONAL else ''}"
            for name, each in inspect.signature(one).parameters.items()
        ),
        "gives": [kinds["return"]],
        "source": [source_of(one)],
        "example": _example(one),
        "written": [f"builder/datumbook/equations/{module}.py, line {_first_line(one)}"],
        "shown": _shown(one, book) if book else [NO_CELL, *elsewhere(*callers(one))],
        "limited": _limited(one, book) if book else (),
        "tested": _tested(one),
    }
    yield f"{one.__name__}: {meaning(one)}"
    yield ""
    yield from (f"  {head:<10}{line}" for head, lines in told.items() for line in lines)


def _first_line(one: BenchEquation) -> int:
    return int(inspect.unwrap(one).__code__.co_firstlineno)


def _example(one: BenchEquation) -> list[str]:
    """The lines of the doctest in an equation's docstring."""
    _, mark, example = (inspect.getdoc(one) or "").partition(">>> ")
    return [line.strip() for line in (mark + example).splitlines() if line.strip()]


def _shown(one: BenchEquation, layout: Layout) -> list[str]:
    """Sheet by sheet, the first cell that uses the equation and how many do, in one spec's book;
    the cells of the equations that call it where none is its own.
    """
    cells = grouped(
        ((place.at.sheet, place.equation), place.at.cell)
        for place in layout.places.values()
        if place.equation and one in reach(place.equation)
    )
    own = {where: at for where, at in cells.items() if where[1] is one}
    named = "".join(f", made --with {one}" for one in layout.job.also)
    return [
        f"{'' if user is one else f'within {user.__name__}: '}sheet {sheet}, first in {at[0]}, "
        f"{_counted(len(at), 'cell')}, in the book of {layout.spec.engine.name}{named}"
        for (sheet, user), at in (own or cells).items()
    ]


def _limited(one: BenchEquation, layout: Layout) -> list[str]:
    """What the cells of an equation are held to, each limit with its key in the spec."""
    keys = {id(limit): key for key, limit in _spec_limits(layout.spec, "")}
    said = (
        f"by the cells beside it: {source}"
        if limit is None
        else f"{keys.get(id(limit), 'not a key of the spec')}: {limit.in_words} ({limit.source})"
        for plan in layout.plans.values()
        for limit, source in _limits_on(one, plan)
    )
    return list(dict.fromkeys(said))


def _limits_on(one: BenchEquation, plan: SheetPlan) -> Iterator[tuple[Limit | None, str]]:
    """Every limit on a sheet that holds a result of the equation; None where two cells are the
    limits.
    """
    from datumbook.cells.columns import Check, Result, per
    from datumbook.cells.tables import Form, Table

    for part in plan.sheet.every_part:
        if isinstance(part, Form):
            yield from (
                (line.limits, "")
                for line in part.each
                if line.limits and getattr(line.column, "equation", None) is one
            )
        elif isinstance(part, Table):
            names = {
                it.name for it in part.columns if isinstance(it, Result) and it.equation is one
            }
            checks = (it for it in part.columns if isinstance(it, Check) and it.of.name in names)
            yield from (
                (per(check.limits, row.key), per(check.source, row.key))
                for check in checks
                if check.says is None
                for row in part.rows
                if check.stands_in(row.key)
            )


def _spec_limits(part: object, path: str) -> Iterator[tuple[str, Limit]]:
    """Every limit of a spec with its dotted key."""
    from pydantic import BaseModel

    from datumbook.spec import Limit

    if isinstance(part, Limit):
        yield path, part
    elif isinstance(part, BaseModel):
        for name, value in part:
            yield from _spec_limits(value, f"{path}.{name}".lstrip("."))


def _tested(one: BenchEquation) -> Iterator[str]:
    """The published cases and tests of an equation, where the package stands in a checkout with its
    tests.
    """
    import tomllib

    root = checkout()
    if root is None:
        return
    for path in sorted((root / "tests" / "support" / "published").glob("*.toml")):
        if cases := tomllib.loads(path.read_text("utf-8")).get(one.__name__):
            yield f"{path.relative_to(root).as_posix()}, {_counted(len(cases), 'published case')}"
    for path in sorted((root / "tests" / "equations").glob("test_*.py")):
        if re.search(rf"\b{one.__name__}\b", path.read_text("utf-8")):
            yield path.relative_to(root).as_posix()


def _counted(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
