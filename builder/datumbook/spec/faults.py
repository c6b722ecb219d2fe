"""Faults of a spec: what the model gathers and what the checks find, each put to its file, line and
key.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from datumbook.messages import ExpectedError
from datumbook.messages.refusals import Fault, shown, spoken
from datumbook.spec.positions import Path

if TYPE_CHECKING:
    from pydantic import ValidationError
    from pydantic_core import ErrorDetails

TYPES = {  # what the model calls an error -> what is wanted, in words
    "string_type": "a text between quotation marks",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "tuple_type": "a list in square brackets",
    "model_type": "a table",
    "model_attributes_type": "a table",
}


class SpecFaults(ExpectedError):  # noqa: N818  # faults of the file, not an error here
    """Every fault of one spec file, in the order of its lines; as text one line a fault."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = sorted(faults, key=lambda fault: (fault.line or 0, fault.key))
        super().__init__("\n".join(map(str, self.faults)))


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault by its key path, before it has a file and a line."""

    path: Path
    code: str
    found: str
    expected: str
    sentence: str
    remedy: str


def problem(path: Path, code: str, found: str = "", expected: str = "", **words: str) -> Problem:
    """Return a problem with the sentences of the catalogue."""
    return Problem(path, code, found, expected, *spoken(code, found, expected, **words))


def problems_of(error: ValidationError, schema: Mapping[str, Any]) -> Iterator[Problem]:
    """Yield what the model has gathered, in the words of the catalogue; the schema knows what each
    key holds.
    """
    for detail in error.errors(include_url=False):
        path = tuple(detail["loc"])
        context = detail.get("ctx", {})
        if "remedy" in context:
            path = (*path, context["below"]) if context["below"] else path
            said = (context[name] for name in ("found", "expected", "sentence", "remedy"))
            yield Problem(path, detail["type"], *said)
        else:
            yield _of_model(path, detail, schema)


def _of_model(path: Path, detail: ErrorDetails, schema: Mapping[str, Any]) -> Problem:
    """Put one of the model's own errors into our words."""
    entry, found, kind = schema_at(schema, path), shown(detail["input"]), detail["type"]
    description = _lowered(
        entry.get("description", "The schema of the spec says what stands here.")
    )
    if kind == "extra_forbidden":
        advice = _nearest(str(path[-1]), schema_at(schema, path[:-1]).get("properties", {}))
        return problem(path, "unknown-key", str(path[-1]), advice=advice)
    if kind == "missing":
        return problem(path, "missing-key", str(path[-1]), description=description)
    if kind == "literal_error":
        words = entry.get("enum", [])
        return problem(path, "not-one-of", found, ", ".join(words), advice=_nearest(found, words))
    if kind in ("greater_than_equal", "less_than_equal"):
        return problem(
            path, "out-of-range", found, f"between {entry['minimum']} and {entry['maximum']}"
        )
    if kind in ("blank", "too_short"):
        return problem(
            path, "empty", f'"{found}"' if kind == "blank" else found, description=description
        )
    wanted = TYPES.get(kind, "what stands here")
    return problem(
        path, "wrong-type", _as_written(detail["input"]), wanted, description=description
    )


def _lowered(sentence: str) -> str:
    """Return a sentence as the second half of another."""
    return f"{sentence[:1].lower()}{sentence[1:].rstrip('.')}"


def _as_written(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    return f'"{shown(value)}"' if isinstance(value, str) else shown(value)


def _nearest(word: str, known: Mapping[str, Any] | Sequence[str]) -> str:
    near = difflib.get_close_matches(word, list(known), n=1, cutoff=0.6)
    return f'Did you mean "{near[0]}"?' if near else f"Known are {', '.join(known)}."


def schema_at(schema: Mapping[str, Any], path: Path) -> Mapping[str, Any]:
    """Return what the JSON Schema says about one key path; {} where it says nothing."""
    entry: Mapping[str, Any] = schema
    for step in path:
        entry = _resolved(schema, entry)
        entry = (
            entry.get("items", {})
            if isinstance(step, int)
            else entry.get("properties", {}).get(step, {})
        )
    return _resolved(schema, entry)


def _resolved(schema: Mapping[str, Any], entry: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return an entry with what its $ref points at; its own description goes first."""
    if "$ref" not in entry:
        return entry
    return {**schema["$defs"][entry["$ref"].rpartition("/")[2]], **entry}


def placed(
    found: Problem, file: str, document: Mapping[str, Any], lines: Mapping[Path, int]
) -> Fault:
    """Return the fault of a problem: its key in the words of the file, the line of the deepest key
    that is there.
    """
    path = found.path
    while path and path not in lines:
        path = path[:-1]
    key = found.path if found.code == "missing-key" else path
    line = lines.get(path)
    said = (found.found, found.expected, found.remedy, found.code, found.sentence)
    return Fault(file, line, key_text(key, document), *said)


def key_text(path: Path, document: Mapping[str, Any]) -> str:
    """Return a key path as text; an entry of a list is called by its key, else by its number from
    1.
    """
    words: list[str] = []
    here: Any = document
    for step in path:
        here = _below(here, step)
        if isinstance(step, str):
            words.append(step)
        elif isinstance(here, dict) and isinstance(here.get("key"), str) and here["key"]:
            words.append(shown(here["key"]))
        else:
            words[-1] = f"{words[-1]}[{step + 1}]"
    return ".".join(words)


def _below(here: Any, step: str | int) -> Any:
    try:
        return here[step]
    except (KeyError, IndexError, TypeError):
        return None
