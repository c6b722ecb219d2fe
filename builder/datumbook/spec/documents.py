"""Documents: a file of ours as it is read before its model holds it, and the schema it is held
to.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import GenerateJsonSchema

from datumbook.messages.refusals import Fault, fault_at
from datumbook.numbers.quantities import Quantity
from datumbook.spec.faults import SpecFaults
from datumbook.spec.toml_faults import toml_fault


def text_of(path: Path | str) -> str:
    """Return the text of a file; SpecFaults, the file named as it was given, where it is none."""
    try:
        return Path(path).read_bytes().decode("utf-8-sig")
    except (OSError, ValueError) as error:
        found = error.strerror if isinstance(error, OSError) else "it is not UTF-8"
        raise SpecFaults(
            [_of_file(str(path), None, "file-unreadable", found or str(error))]
        ) from None


def read_document(text: str, name: str) -> dict[str, Any]:
    """Return what a TOML text holds; SpecFaults with the line where it is none."""
    try:
        return tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as error:
        found = (
            "lists within lists without end" if isinstance(error, RecursionError) else str(error)
        )
        place = re.search(r" \(at line (\d+), column (\d+)\)$| \(at end of document\)$", found)
        line = int(place[1]) if place and place[1] else text.count("\n") + 1
        what = found[: place.start()] if place else found
        told = toml_fault(text, line, what)
        shown = what[:1].lower() + what[1:] if told.code == "not-toml" else told.found
        fault = fault_at((), told.code, shown, told.expected)
        raise SpecFaults([replace(fault, file=name, line=told.line)]) from None


def _of_file(file: str, line: int | None, code: str, found: str) -> Fault:
    return replace(fault_at((), code, found), file=file, line=line)


def schema_of(model: type[BaseModel], title: str) -> dict[str, Any]:
    """Return the JSON Schema of a file; TOML has no null, so it has none."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:datumbook:{model.__name__.lower()}",
        **_without_null(model.model_json_schema(schema_generator=_AsWritten)),
        "title": title,
    }


class _AsWritten(GenerateJsonSchema):
    """A schema that gives a size left out as it would be written."""

    def encode_default(self, dft: Any) -> Any:
        return dft.text if isinstance(dft, Quantity) else super().encode_default(dft)


def _without_null(entry: Any) -> Any:
    """Return a schema whose optional keys are merely not required, and whose titles repeat no
    key.
    """
    if isinstance(entry, list):
        return [_without_null(one) for one in entry]
    if not isinstance(entry, dict):
        return entry
    choices = [one for one in entry.get("anyOf", []) if one != {"type": "null"}]
    kept = {
        key: value
        for key, value in entry.items()
        if key != "anyOf" and (key, value) != ("default", None)
    }
    if len(choices) == 1:
        kept = {**choices[0], **kept}
    elif choices:
        kept["anyOf"] = choices
    return {key: _without_null(value) for key, value in kept.items()}
