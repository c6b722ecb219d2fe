"""The spec file: read, held to its model and its checks, and turned down with every fault at
once.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping
from copy import deepcopy
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from datumbook.messages.refusals import Fault
from datumbook.spec.block import Bank, BoreSpec, Engine, Heights, Lands
from datumbook.spec.checks import Parts, faults_between
from datumbook.spec.documents import schema_of, text_of
from datumbook.spec.drafts import Draft
from datumbook.spec.faults import SpecFaults, faults_of
from datumbook.spec.holes import FacePlan, HoleGroup, Shop
from datumbook.spec.limits import Limit, limit
from datumbook.spec.model import Spec
from datumbook.spec.resolve import resolved
from datumbook.spec.shipped import find_spec, shipped_specs
from datumbook.spec.soundness import faults_of_whole
from datumbook.spec.vocabulary import with_words
from datumbook.spec.wanted import wanting
from datumbook.spec.written_schema import as_written

__all__ = [
    "Bank",
    "Limit",
    "Spec",
    "SpecFaults",
    "find_spec",
    "full_schema",
    "limit",
    "load_spec",
    "read_spec",
    "recorded_spec",
    "shipped_specs",
    "spec_schema",
]

Section = TypeVar("Section", bound=BaseModel)
BASE_LOST = ("base-missing", "base-circle", "file-unreadable", "not-toml")
"""After these nothing is said of what a spec lacks: it may all stand in the base."""


def load_spec(path: Path | str) -> Spec:
    """Return the spec in a file; SpecFaults with every fault of it, the file named as it was
    given.
    """
    return read_spec(text_of(path), str(path))


def read_spec(text: str, name: str) -> Spec:
    """Return the spec a text holds; SpecFaults with every fault of it. The name stands for the file
    in messages, and what the text stands on is looked for beside it.
    """
    return read_draft(text, name)[0]


def recorded_spec(text: str, name: str, full_text: str) -> Spec:
    """Return the spec of a book from its record alone: its text as it was given and, where that is
    written shorter, its full form. No file is looked for. Raises SpecFaults, and
    ValueError where that form is none.
    """
    if not full_text:
        return _drafted(text, name, None)[0]
    document = json.loads(full_text)
    if not isinstance(document, dict):
        raise ValueError("the full form of a spec is a table")
    return _modelled(Draft.of(document, name)).given_as(text, Path(name), full_text)


def read_draft(text: str, name: str) -> tuple[Spec, Draft]:
    """Return the spec a text holds, and the draft that knows where each key of it was written.
    Raises as read_spec does.
    """
    return _drafted(text, name, Path(name).parent)


def _drafted(text: str, name: str, folder: Path | None) -> tuple[Spec, Draft]:
    draft = resolved(text, name, folder, Spec)
    spec, full = _modelled(draft), draft.document
    written = json.dumps(full, sort_keys=True) if full != tomllib.loads(text) else ""
    return spec.given_as(text, Path(name), written), draft


def _modelled(draft: Draft) -> Spec:
    """The spec of a draft in its full form; SpecFaults with all that was found in it."""
    if any(one.code in BASE_LOST for one in draft.faults):
        raise SpecFaults(draft.faults)
    spec, faults = None, list[Fault]()
    try:
        spec = Spec.model_validate(draft.document)
    except ValidationError as error:
        faults += faults_of(error, full_schema())
    faults += faults_between(_parts(draft.document, spec))
    faults += wanting(draft.document)
    if spec is not None and not faults:
        faults += faults_of_whole(spec)
    found = [draft.placed(fault) for fault in faults]
    if spec is None or found or draft.faults:
        raise SpecFaults([*draft.faults, *(one for one in found if not _told(one, draft))])
    return spec


def _told(fault: Fault, draft: Draft) -> bool:
    """Whether a fault only follows from one that was found on the way to the full form."""
    where = [(one.file, one.line) for one in draft.faults if fault.key.startswith(one.key)]
    return fault.code != "missing-key" and (fault.file, fault.line) in where


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
            spec.shop,
        )
    return Parts(
        _part(Engine, document.get("engine")),
        _part(BoreSpec, document.get("bores")),
        _part(Lands, document.get("lands")),
        _part(Heights, document.get("heights")),
        tuple(_listed(Bank, document.get("banks")).values()),
        _listed(HoleGroup, document.get("holes")),
        _listed(FacePlan, document.get("outlines")),
        _part(Shop, document.get("shop")),
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
def full_schema() -> dict[str, Any]:
    """Return the JSON Schema of a spec in full form: what each key holds."""
    return with_words(schema_of(Spec, "Spec of an engine family"))


@cache
def spec_schema() -> dict[str, Any]:
    """Return the JSON Schema of a spec as it may be written, for editors."""
    return as_written(deepcopy(full_schema()))
