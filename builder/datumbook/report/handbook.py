"""The pages of the manual that are made from the code itself: the book of equations, the reference
of the spec file.
"""

from __future__ import annotations

import inspect
import types
from collections.abc import Iterator
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel

from datumbook.calculator.equations import (
    BENCH_KINDS,
    NO_CELL,
    BenchEquation,
    equations,
    kind_names,
    meaning,
    shipped_books,
    standing_in,
)
from datumbook.formulas.spelling import in_words
from datumbook.messages.sources import source_of
from datumbook.spec import Spec, limits

Model = type[BaseModel]


def equation_book() -> str:
    """Return every equation with its formula, what it wants and gives, and its source, as a page of
    the manual.
    """
    lines = [
        "# The equations",
        "",
        "Made from the code by `python tests/scripts/make_manual.py`. Each formula is the one "
        "that stands in the workbook,",
        "here with the shipped engines in whose books it does; `datumbook explain NAME` says in "
        "which cells, `datumbook work NAME`",
        "works it at the bench.",
    ]
    books = {book.spec.engine.name: standing_in(book) for book in shipped_books()}
    for module, found in equations().items():
        lines += ["", f"## {module.replace('_', ' ').capitalize()}"]
        for one in found.values():
            engines = sorted(name for name, standing in books.items() if one in standing)
            lines += ["", *_equation(one, engines)]
    return "\n".join(lines) + "\n"


def _equation(one: BenchEquation, engines: list[str]) -> Iterator[str]:
    kinds, name = kind_names(one), one.__name__
    wants = [
        f"{given.replace('_', ' ')} ({BENCH_KINDS[kinds[given]][0]})"
        for given in inspect.signature(one).parameters
    ]
    yield f"### {name}"
    yield ""
    yield meaning(one)
    yield ""
    yield f"    {name.replace('_', ' ')} = {in_words(one)}"
    yield ""
    made = BENCH_KINDS[kinds["return"]][0]
    yield f"Wants {', '.join(wants)}; gives {made}. Source: {source_of(one)}"
    yield f"Stands in the books of {', '.join(engines)}." if engines else f"Stands {NO_CELL}."


def spec_reference() -> str:
    """Return every key of a spec file, section by section, as a page of the manual."""
    lines = [
        "# The spec file",
        "",
        "Made from the model by `python tests/scripts/make_manual.py`. A size is text with its "
        'unit, such as `"81.0 mm"` or',
        '`"1 3/8 in"`. A limit is `{ from, to }`, `{ at_most }`, `{ at_least }` or `{ nominal, '
        "plus, minus }`, with its",
        "`source`. A section or key that is not needed may be left out: what an engine lacks "
        "leaves no trace in its workbook.",
    ]
    for path, model, many in _sections(Spec, ""):
        lines += [
            "",
            f"## {'[[' if many else '['}{path}{']]' if many else ']'}",
            "",
            meaning(model),
            "",
        ]
        lines += ["| key | needed | what |", "| --- | --- | --- |"]
        lines += [
            f"| `{key}` | {'yes' if field.is_required() else 'no'} | {field.description} |"
            for key, field in model.model_fields.items()
        ]
    return "\n".join(lines) + "\n"


def _sections(model: Model, path: str) -> Iterator[tuple[str, Model, bool]]:
    """Every section below a model in the order of the file: its path, its model, whether it may
    stand many times.
    """
    inherited = [key for base in model.__bases__ for key in getattr(base, "model_fields", {})]
    for key, field in sorted(model.model_fields.items(), key=lambda item: item[0] in inherited):
        inner, many = _model_of(field.annotation)
        # limits are written on one line and explained once, at the head
        if inner is not None and inner.__module__ != limits.__name__:
            place = f"{path}.{key}" if path else key
            yield place, inner, many
            yield from _sections(inner, place)


def _model_of(annotation: Any, many: bool = False) -> tuple[Model | None, bool]:
    """The model a field holds, if it holds one, and whether it holds a list of it."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation, many
    origin = get_origin(annotation)
    if origin in {Union, types.UnionType, tuple, list, Annotated} and origin is not Literal:
        for one in get_args(annotation):
            inner, several = _model_of(one, many or origin in {tuple, list})
            if inner is not None:
                return inner, several
    return None, many
