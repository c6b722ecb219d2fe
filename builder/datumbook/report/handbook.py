"""The pages of the manual that are made from the code itself: the book of equations, the reference
of the spec file.
"""

from __future__ import annotations

import inspect
import types
from collections.abc import Callable, Iterator
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from datumbook.calculator.equations import KINDS, equations, kind_names, meaning
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
        "that stands in the workbook;",
        "`datumbook explain NAME` says where, `datumbook work NAME` works it at the bench.",
    ]
    for module, found in equations().items():
        lines += ["", f"## {module.replace('_', ' ').capitalize()}"]
        for one in found.values():
            lines += ["", *_equation(one)]
    return "\n".join(lines) + "\n"


def _equation(one: Callable[..., Any]) -> Iterator[str]:
    kinds, name = kind_names(one), one.__name__
    wants = [
        f"{given.replace('_', ' ')} ({KINDS[kinds[given]][0]})"
        for given in inspect.signature(one).parameters
    ]
    yield f"### {name}"
    yield ""
    yield meaning(one)
    yield ""
    yield f"    {name.replace('_', ' ')} = {in_words(one)}"
    yield ""
    yield f"Wants {', '.join(wants)}; gives {KINDS[kinds['return']][0]}. Source: {source_of(one)}"


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
            _said(model),
            "",
        ]
        lines += ["| key | needed | what |", "| --- | --- | --- |"]
        lines += [
            f"| `{key}` | {_needed(field)} | {field.description} |"
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
        if inner is not None and not _is_limit(inner):
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


def _is_limit(model: Model) -> bool:
    """Limits are written on one line and explained once, at the head."""
    return model.__module__ == limits.__name__


def _said(model: Model) -> str:
    return " ".join((inspect.getdoc(model) or "").split("\n\n")[0].split())


def _needed(field: FieldInfo) -> str:
    return "yes" if field.is_required() else "no"
