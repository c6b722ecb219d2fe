"""The equations at the bench: which there are, and everything about one of them, read from the code
itself.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from difflib import get_close_matches
from functools import cache
from typing import TYPE_CHECKING, Any

from datumbook.calculator.fits import fit_card, is_fit
from datumbook.files import checkout
from datumbook.messages import ExpectedError
from datumbook.messages.refusals import shown

if TYPE_CHECKING:
    from datumbook.cells.columns import Check
    from datumbook.cells.tables import Line
    from datumbook.spec import Limit
    from datumbook.workbook.layout import Layout, SheetPlan

Equation = Callable[..., Any]

KINDS = {  # a kind of datumbook.formulas.kinds -> its words, and a quantity as typed at the bench
    "Length": ("a length", "0.5in"),
    "Area": ("an area", "0.1063in2"),
    "Volume": ("a volume", "500cm3"),
    "Ratio": ("a bare number or a percentage", "0.75"),
    "Count": ("a count", "3"),
    "Angle": ("an angle", "118deg"),
    "Force": ("a force", "12kN"),
    "Torque": ("a torque", "42lbf.ft"),
    "Stress": ("a stress", "400MPa"),
    "SpindleSpeed": ("a spindle speed", "764rev/min"),
    "CuttingSpeed": ("a cutting speed", "100ft/min"),
    "Temperature": ("a temperature", "20degC"),
    "Expansion": ("an expansion", "10.8e-6/°C"),
    "Words": ("words", "done"),
    "Measure": ("a measured value, of one kind throughout", "0.041mm"),
}


class BenchError(ExpectedError):
    """What was asked at the bench cannot be answered; the message is a sentence for the person,
    with the remedy.
    """


@cache
def equations() -> Mapping[str, Mapping[str, Equation]]:
    """Return module -> name -> equation, for every public equation of builder/datumbook/equations,
    as written there.
    """
    import pkgutil
    from importlib import import_module

    from datumbook import equations as package

    names = sorted(module.name for module in pkgutil.iter_modules(package.__path__))
    return {name: _public(import_module(f"{package.__name__}.{name}")) for name in names}


def _public(module: Any) -> dict[str, Equation]:
    found = inspect.getmembers(module, inspect.isfunction)
    own = [
        (name, one)
        for name, one in found
        if one.__module__ == module.__name__ and not name.startswith("_")
    ]
    return dict(sorted(own, key=lambda item: _first_line(item[1])))


def equation(name: str) -> Equation:
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


def kind_names(one: Equation) -> dict[str, str]:
    """Return parameter -> kind by its name in datumbook.formulas.kinds, and "return"; the same
    dimension may have two names.
    """
    names = inspect.signature(one)
    found = {name: str(parameter.annotation) for name, parameter in names.parameters.items()}
    return found | {"return": str(names.return_annotation)}


def meaning(one: Equation) -> str:
    """Return the first paragraph of what an equation says about itself, on one line."""
    return " ".join((inspect.getdoc(one) or "").split("\n\n")[0].split())


def explain(name: str | None, layout: Layout | None = None) -> str:
    """Return every equation with its meaning, or all about the one named, or about a fit;
    BenchError for a name that is none.

    layout: the book in which to look for where it is shown; that of the shipped demonstration spec
    if left out.
    """
    if name is None:
        return "\n\n".join(
            "\n".join(_listed(module, found)) for module, found in equations().items()
        )
    if is_fit(name):
        return fit_card(name)
    return "\n".join(_explained(equation(name), layout or _shipped_layout()))


def _listed(module: str, found: Mapping[str, Equation]) -> Iterator[str]:
    yield module
    yield from (two_columns(name, meaning(one)) for name, one in found.items())


def two_columns(name: str, words: str, width: int = 28) -> str:
    """A line of a list: the name, at least two blanks, the words; below it where the name is too
    long for its column.
    """
    return (
        f"  {name:<{width}}{words}"
        if len(name) + 2 <= width
        else f"  {name}\n  {'':<{width}}{words}"
    )


def _explained(one: Equation, layout: Layout) -> Iterator[str]:
    from datumbook.formulas.spelling import in_words
    from datumbook.messages.sources import source_of

    kinds = kind_names(one)
    yield f"{one.__name__}: {meaning(one)}"
    yield ""
    yield _row("formula", f"{one.__name__.replace('_', ' ')} = {in_words(one)}")
    for name, parameter in inspect.signature(one).parameters.items():
        many = ", one or more" if parameter.kind is parameter.VAR_POSITIONAL else ""
        yield _row("wants", f"{name}: {KINDS[kinds[name]][0]}{many}")
    yield _row("gives", KINDS[kinds["return"]][0])
    yield _row("source", source_of(one))
    yield from (_row("example", line) for line in _example(one))
    yield _row(
        "written",
        f"builder/datumbook/equations/{one.__module__.rpartition('.')[2]}.py, line "
        f"{_first_line(one)}",
    )
    yield from (_row("shown", line) for line in _shown(one, layout))
    yield from (_row("limited", line) for line in _limited(one, layout))
    yield from (_row("tested", line) for line in _tested(one))


def _row(head: str, words: str) -> str:
    return f"  {head:<10}{words}"


def _first_line(one: Equation) -> int:
    return int(inspect.unwrap(one).__code__.co_firstlineno)


def _example(one: Equation) -> list[str]:
    """The lines of the doctest in an equation's docstring."""
    _, mark, example = (inspect.getdoc(one) or "").partition(">>> ")
    return [line.strip() for line in (mark + example).splitlines() if line.strip()]


def _shipped_layout() -> Layout:
    from datumbook.spec import load_spec, shipped_specs
    from datumbook.stations import lay_out

    return lay_out(load_spec(next(iter(shipped_specs().values()))))


def _shown(one: Equation, layout: Layout) -> list[str]:
    """Sheet by sheet, the first cell that uses the equation and how many do, in one spec's book."""
    cells: dict[str, list[str]] = {}
    for place in layout.places.values():
        if place.equation is one:
            cells.setdefault(place.at.sheet, []).append(place.at.cell)
    book = f"in the book of {layout.spec.engine.name}"
    lines = [
        f"sheet {sheet}, first in {at[0]}, {_counted(len(at), 'cell')}, {book}"
        for sheet, at in cells.items()
    ]
    return lines or [f"in no cell of its own {book}"]


def _limited(one: Equation, layout: Layout) -> list[str]:
    """What the cells of an equation are held to, each limit with its key in the spec."""
    keys = {id(limit): key for key, limit in _spec_limits(layout.spec, "")}
    found: dict[str, None] = {}
    for plan in layout.plans.values():
        for limit, source in _limits_on(one, plan):
            if limit is None:
                found.setdefault(f"by the cells beside it: {source}")
            else:
                place = keys.get(id(limit), "not a key of the spec")
                found.setdefault(f"{place}: {_limit_words(limit)} ({limit.source})")
    return list(found)


def _limits_on(one: Equation, plan: SheetPlan) -> Iterator[tuple[Limit | None, str]]:
    """Every limit on a sheet that holds a result of the equation; None where two cells are the
    limits.
    """
    from datumbook.cells.columns import Check, Result
    from datumbook.cells.tables import Form, Table

    for part in plan.sheet.parts:
        if isinstance(part, Form):
            yield from (
                (line.limits, "") for line in part.lines if line.limits and _computes(line, one)
            )
        elif isinstance(part, Table):
            names = {
                item.name
                for item in part.columns
                if isinstance(item, Result) and item.equation is one
            }
            checks = [item for item in part.columns if isinstance(item, Check) and item.of in names]
            rows = [row.key for row in part.rows]
            yield from (held for check in checks for held in _limits_of(check, rows))


def _computes(line: Line, one: Equation) -> bool:
    return getattr(line.column, "equation", None) is one


def _limits_of(check: Check, rows: Iterable[str]) -> Iterator[tuple[Limit | None, str]]:
    from datumbook.cells.columns import per

    for row in rows:
        if check.stands_in(row) and check.says is None:
            yield per(check.limits, row), per(check.source, row)


def _spec_limits(part: object, path: str) -> Iterator[tuple[str, Limit]]:
    """Every limit of a spec with its dotted key."""
    from pydantic import BaseModel

    from datumbook.spec import Limit

    if isinstance(part, Limit):
        yield path, part
    elif isinstance(part, BaseModel):
        for name, value in part:
            yield from _spec_limits(value, f"{path}.{name}".lstrip("."))


def _limit_words(limit: Limit) -> str:
    if limit.low is not None and limit.high is not None:
        return f"from {limit.low} to {limit.high}"
    return f"at least {limit.low}" if limit.low is not None else f"at most {limit.high}"


def _tested(one: Equation) -> Iterator[str]:
    """The published cases and tests of an equation, where the package stands in a checkout with its
    tests.
    """
    import tomllib

    root = checkout()
    if root is None:
        return
    for path in sorted((root / "tests" / "support" / "published").glob("*.toml")):
        cases = tomllib.loads(path.read_text("utf-8")).get(one.__name__, [])
        if cases:
            yield f"{path.relative_to(root).as_posix()}, {_counted(len(cases), 'published case')}"
    for path in sorted((root / "tests" / "equations").glob("test_*.py")):
        if re.search(rf"\b{one.__name__}\b", path.read_text("utf-8")):
            yield path.relative_to(root).as_posix()


def _counted(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
