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
    callers,
    equations,
    kind_names,
    meaning,
    shipped_books,
    standing_in,
)
from datumbook.calculator.where_used import elsewhere
from datumbook.formulas.spelling import in_words
from datumbook.job import Job
from datumbook.messages.sources import source_of
from datumbook.spec import Spec, limits
from datumbook.spec.documents import schema_of
from datumbook.spec.vocabulary import with_words
from datumbook.spec.written import PATTERNS, Spaced
from datumbook.standards.order import operations
from datumbook.standards.works import stations, works

Model = type[BaseModel]

SPACED: list[tuple[Model, str]] = [(Spaced, "from")]
SHORTER = (
    'A limit is one text: `"82.000 .. 82.018 mm"`, `"<= 0.040 mm"`, `">= 5.0 mm"`, `"14.250 ± '
    '0.002 in"`, `"82.000 +0.018/-0 mm"`, `"± 0.05 mm"`; with a source of its own `{ value = '
    '"<= 0.040 mm", source = "sheet 4" }`.',
    '`source = "sheet 4"` in a section holds for every limit there that names none, at the head '
    "of the file for every limit.",
    '`units = "mm"` is the unit of every group; a group without one is read as the bores, and '
    "places after the point are as usual for the unit. `depths` are lengths alone.",
    '`names` is `"D1-D14"`, or several ranges and names with commas.',
    "`places` are pairs and patterns, alone or in a list, laid out in turn; or the name of a CSV "
    "file beside the spec, with the head `hole,along,across` and a line for each hole.",
    '`like = "head_studs"` in a group of holes: what it does not say is as in that group.',
    '`based_on = "orrindale_qp4"`, a shipped spec or `"six.toml"` beside this one: only what '
    'differs is stated, lists of tables entry by entry; `without = ["holes.front_cover"]` says '
    "what it does not have.",
)


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
    if engines:
        yield f"Stands in the books of {', '.join(engines)}."
    else:
        yield f"Stands {'; '.join([NO_CELL, *elsewhere(*callers(one))])}."


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
    return "\n".join([*lines, *_shorter(), *_keys(Spec)]) + "\n"


def _shorter() -> Iterator[str]:
    """What may be written shorter, and the keys of each pattern."""
    yield from ("", "## Written shorter", "", *(f"- {one}" for one in SHORTER))
    told_by: dict[Model, str] = {model: key for key, model in reversed(PATTERNS.items())}
    for model, key in (*reversed(told_by.items()), *SPACED):
        yield from ("", f"### {{ {key} = … }}", "", meaning(model), "")
        yield from ("| key | needed | what |", "| --- | --- | --- |")
        yield from (
            f"| `{field.alias or name}` | {'yes' if field.is_required() else 'no'} | "
            f"{field.description} |"
            for name, field in model.model_fields.items()
        )


def job_reference() -> str:
    """Return what may stand in a job file, as a page of the manual."""
    lines = [
        "# The job file",
        "",
        "Made from the model by `python tests/scripts/make_manual.py`. The spec says what the "
        "engine is, the job what one block is here for: TOML, a few lines. `datumbook job new` "
        "writes one by questions, `datumbook job check` says what is wrong in it and what comes "
        "along with its work.",
        "",
        "| key | what | usual |",
        "| --- | --- | --- |",
        *(
            f"| `{field.alias or key}` | {field.description} | {_usual(field.default)} |"
            for key, field in Job.model_fields.items()
        ),
        *_keys(Job),
        "",
        "## Work",
        "",
        *(f"- `{one.key}`: {one.words}" for one in works().values()),
        "",
        "or operations of the order of work, in a list. Each brings the stations it cannot do "
        "without and the operations that must come before it; every cut brings the last "
        "inspection.",
        "",
        "| operation | what | cannot do without |",
        "| --- | --- | --- |",
        *(
            f"| `{one.key}` | {one.words} | {', '.join(one.needs)} |"
            for one in operations().values()
        ),
        "",
        "## Stations",
        "",
        "Any of them may come beside the work, by `with`.",
        "",
        *(f"- `{one.key}`: {one.told}" for one in stations().values()),
    ]
    return "\n".join(lines) + "\n"


def _usual(default: object) -> str:
    """What holds where a key is left out."""
    if isinstance(default, tuple):
        return ", ".join(map(str, default)) or "none"
    return str(default) if isinstance(default, str) and default else "none"


def _keys(whole: Model) -> Iterator[str]:
    """Every section below a model, with its keys as a table."""
    known = schema_of(whole, "")
    if whole is Spec:
        known = with_words(known)
    for path, model, many in _sections(whole, ""):
        yield from (
            "",
            f"## {'[[' if many else '['}{path}{']]' if many else ']'}",
            "",
            meaning(model),
            "",
            "| key | needed | what | words | left out |",
            "| --- | --- | --- | --- | --- |",
        )
        yield from (
            f"| `{field.alias or key}` | {'yes' if field.is_required() else 'no'} | "
            f"{field.description} | {_words_of(known, model, field.alias or key)} | "
            f"{_default_of(known, model, field.alias or key)} |"
            for key, field in model.model_fields.items()
        )


def _words_of(schema: dict[str, Any], model: Model, key: str) -> str:
    """The words or numbers a key may have, where they are few."""
    entry = schema["$defs"][model.__name__]["properties"][key]
    entry = entry.get("items", entry)
    if {"minimum", "maximum"} <= set(entry):
        return f"{entry['minimum']} to {entry['maximum']}"
    if entry.get("type") == "boolean":
        return "`true`, `false`"
    known = [word for one in (entry, *entry.get("anyOf", ())) for word in one.get("enum", ())]
    others = "; others are taken as they are" if known and "enum" not in entry else ""
    return ", ".join(f"`{word}`" for word in known) + others


def _default_of(schema: dict[str, Any], model: Model, key: str) -> str:
    """What holds where a key is left out, "" where nothing does."""
    default = schema["$defs"][model.__name__]["properties"][key].get("default")
    if isinstance(default, bool):
        return f"`{str(default).lower()}`"
    if isinstance(default, list):
        return ", ".join(f"`{one}`" for one in default) or "none"
    return f"`{default}`" if isinstance(default, str | int) and default != "" else ""


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
