"""The spec file: read, held to its model and its checks, and turned down with every fault at
once.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import replace
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from datumbook.files import PACKAGE, checkout
from datumbook.messages import ExpectedError
from datumbook.messages.refusals import Fault, fault_at
from datumbook.spec.block import Bank, BoreSpec, Engine, Heights, Lands
from datumbook.spec.checks import Parts, faults_between
from datumbook.spec.faults import SpecFaults, faults_of, placed
from datumbook.spec.holes import FacePlan, HoleGroup
from datumbook.spec.limits import Limit, limit
from datumbook.spec.model import Spec
from datumbook.spec.positions import key_lines

__all__ = [
    "Bank",
    "Limit",
    "Spec",
    "SpecFaults",
    "find_spec",
    "limit",
    "load_spec",
    "read_spec",
    "shipped_specs",
    "spec_schema",
]

Section = TypeVar("Section", bound=BaseModel)


def load_spec(path: Path | str) -> Spec:
    """Return the spec in a file; SpecFaults with every fault of it, the file named as it was
    given.
    """
    try:
        text = Path(path).read_bytes().decode("utf-8-sig")
    except (OSError, ValueError) as error:
        found = error.strerror if isinstance(error, OSError) else "it is not UTF-8"
        raise SpecFaults(
            [_of_file(str(path), None, "file-unreadable", found or str(error))]
        ) from None
    return read_spec(text, str(path))


def read_spec(text: str, name: str) -> Spec:
    """Return the spec a text holds; SpecFaults with every fault of it. The name stands for the file
    in messages.
    """
    document = _document(text, name)
    spec = None
    faults: list[Fault] = []
    try:
        spec = Spec.model_validate(document)
    except ValidationError as error:
        faults += faults_of(error, spec_schema())
    faults += faults_between(_parts(document, spec))
    if spec is None or faults:
        lines = key_lines(text)
        raise SpecFaults([placed(fault, name, document, lines) for fault in faults])
    return spec.given_as(text, Path(name))


def _document(text: str, name: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as error:
        found = (
            "lists within lists without end" if isinstance(error, RecursionError) else str(error)
        )
        place = re.search(r" \(at line (\d+), column (\d+)\)$| \(at end of document\)$", found)
        line = int(place[1]) if place and place[1] else text.count("\n") + 1
        what = found[: place.start()] if place else found
        raise SpecFaults([_of_file(name, line, "not-toml", what[:1].lower() + what[1:])]) from None


def _of_file(file: str, line: int | None, code: str, found: str) -> Fault:
    return replace(fault_at((), code, found), file=file, line=line)


def _parts(document: Mapping[str, Any], spec: Spec | None) -> Parts:
    """Return the parts that hold by themselves, so that they can be held against each other."""
    if spec is not None:
        return Parts(
            spec.engine,
            spec.bores,
            spec.lands,
            spec.heights,
            spec.banks,
            dict(enumerate(spec.holes)),
            dict(enumerate(spec.outlines)),
        )
    return Parts(
        _part(Engine, document.get("engine")),
        _part(BoreSpec, document.get("bores")),
        _part(Lands, document.get("lands")),
        _part(Heights, document.get("heights")),
        tuple(_listed(Bank, document.get("banks")).values()),
        _listed(HoleGroup, document.get("holes")),
        _listed(FacePlan, document.get("outlines")),
    )


def _listed(model: type[Section], entries: Any) -> dict[int, Section]:
    """The entries of a list that hold by themselves, each by its place in the list."""
    read = (
        (at, _part(model, entry))
        for at, entry in enumerate(entries if isinstance(entries, list) else ())
    )
    return {at: part for at, part in read if part is not None}


def _part(model: type[Section], given: Any) -> Section | None:
    try:
        return model.model_validate(given)
    except ValidationError:
        return None


@cache
def spec_schema() -> dict[str, Any]:
    """Return the JSON Schema of a spec, for editors and for the reference; TOML has no null, so it
    has none.
    """
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **_without_null(Spec.model_json_schema()),
        "title": "Spec of an engine family",
    }


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


def shipped_specs() -> dict[str, Path]:
    """Return the shipped specs by name: of the installed package, or of the checkout's own folder.

    Raises FileNotFoundError where there is none, as nothing could be generated.
    """
    folder = PACKAGE / "specs"
    if not folder.is_dir() and (project := checkout()) is not None:
        folder = project / "specs"
    found = {path.stem: path for path in sorted(folder.glob("*.toml"))}
    if not found:
        raise FileNotFoundError(
            f"no engine specs are installed in {folder}; install datumbook anew"
        )
    return found


def find_spec(given: Path) -> Path:
    """Return the file that is meant by a path or the name of a shipped spec; ExpectedError with the
    nearest names where a name means none.
    """
    shipped = shipped_specs()
    path = given if given.exists() else shipped.get(str(given), given)
    if not path.exists() and not given.suffix:
        near = ", ".join(get_close_matches(str(given), shipped, n=1) or shipped)
        raise ExpectedError(
            f"{given}: no such file, and no engine of that name is shipped; did you mean {near}?"
        )
    return path
