"""Faults of a spec: what the model gathers and what the checks find, each put to its file, line and
key.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from datumbook.messages import ExpectedError
from datumbook.messages.refusals import Fault, fault_at, shown
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


def faults_of(error: ValidationError, schema: Mapping[str, Any]) -> Iterator[Fault]:
    """Yield what the model has gathered, in the words of the catalogue; the schema knows what each
    key holds.
    """
    for detail in error.errors(include_url=False):
        context = detail.get("ctx", {})
        if detail["type"] == "too_short" and len(detail["input"]) >= context["min_length"]:
            continue  # its entries are refused one by one
        gathered = context.get("fault")
        if gathered:
            yield replace(gathered, path=(*detail["loc"], *gathered.path))
        else:
            yield _of_model(tuple(detail["loc"]), detail, schema)


def _of_model(path: Path, detail: ErrorDetails, schema: Mapping[str, Any]) -> Fault:
    """Put one of the model's own errors into our words."""
    entry, found, kind = schema_at(schema, path), shown(detail["input"]), detail["type"]
    sentence = entry.get("description", "The schema of the spec says what stands here.")
    description = f"{sentence[:1].lower()}{sentence[1:].rstrip('.')}"
    match kind:
        case "extra_forbidden":
            known = schema_at(schema, path[:-1]).get("properties", {})
            return fault_at(
                path, "unknown-key", str(path[-1]), advice=nearest(str(path[-1]), known)
            )
        case "missing":
            return fault_at(path, "missing-key", str(path[-1]), description=description)
        case "literal_error":
            words = entry.get("enum", [])
            return fault_at(
                path, "not-one-of", found, ", ".join(words), advice=nearest(found, words)
            )
        case "greater_than_equal" | "less_than_equal":
            return fault_at(path, "out-of-range", found, _bounds(entry))
        case "too_short":
            return fault_at(path, "empty", found, description=description)
        case "blank":
            return fault_at(path, "empty", f'"{found}"', description=description)
        case "model_type" if "oneOf" in entry:
            return fault_at(path, "not-a-limit", _as_written(detail["input"]))
    return fault_at(
        path,
        "wrong-type",
        _as_written(detail["input"]),
        TYPES.get(kind, "what stands here"),
        description=description,
    )


def _bounds(entry: Mapping[str, Any]) -> str:
    """The bounds of a whole number in words, of which one may be missing."""
    low, high = entry.get("minimum"), entry.get("maximum")
    if low is not None and high is not None:
        return f"between {low} and {high}"
    return f"{low} or more" if low is not None else f"{high} or less"


def _as_written(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    return f'"{shown(value)}"' if isinstance(value, str) else shown(value)


def nearest(word: str, known: Mapping[str, Any] | Sequence[str]) -> str:
    """Return the nearest of known words as a question, or all of them where none is near."""
    near = difflib.get_close_matches(word, list(known), n=1, cutoff=0.6)
    return f'Did you mean "{near[0]}"?' if near else f"Known are {', '.join(known)}."


def schema_at(schema: Mapping[str, Any], path: Path) -> Mapping[str, Any]:
    """Return what the JSON Schema says about one key path; {} where it says nothing."""
    entry: Mapping[str, Any] = schema
    for step in path:
        entry = _resolved(schema, entry)
        entry = (
            _item(entry, step)
            if isinstance(step, int)
            else entry.get("properties", {}).get(step, {})
        )
    return _resolved(schema, entry)


def _item(entry: Mapping[str, Any], at: int) -> Mapping[str, Any]:
    """What a list holds at one place: each its own, or all the same."""
    own = entry.get("prefixItems", [])
    found: Mapping[str, Any] = own[at] if at < len(own) else entry.get("items", {})
    return found


def _resolved(schema: Mapping[str, Any], entry: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return an entry with what its $ref points at, and where it may be left out with what stands
    there otherwise; its own description goes first.
    """
    given = [one for one in entry.get("anyOf", ()) if one != {"type": "null"}]
    if len(given) == 1:
        return _resolved(schema, {**given[0], **entry, "anyOf": ()})
    if "$ref" not in entry:
        return entry
    return {**schema["$defs"][entry["$ref"].rpartition("/")[2]], **entry}


def placed(
    fault: Fault, file: str, document: Mapping[str, Any], lines: Mapping[Path, int]
) -> Fault:
    """Return a fault put to its file: its key in the words of the file, the line of the deepest key
    that is there.
    """
    path = fault.path
    while path and path not in lines:
        path = path[:-1]
    key = fault.path if fault.code == "missing-key" else path
    return replace(fault, file=file, line=lines.get(path), key=key_text(key, document))


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
