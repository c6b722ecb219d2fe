"""The spec file: read, held to its model and its checks, and turned down with every fault at
once.
"""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from datumbook.files import PACKAGE, checkout
from datumbook.messages import ExpectedError
from datumbook.messages.refusals import Fault
from datumbook.spec.block import Bank, BoreSpec, Engine, Heights, Lands
from datumbook.spec.checks import Parts, faults_between
from datumbook.spec.documents import read_document, schema_of, text_of
from datumbook.spec.faults import SpecFaults, faults_of, placed
from datumbook.spec.holes import FacePlan, HoleGroup, Shop
from datumbook.spec.limits import Limit, limit
from datumbook.spec.model import Spec
from datumbook.spec.positions import key_lines
from datumbook.spec.soundness import faults_of_whole
from datumbook.spec.vocabulary import with_words

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
    return read_spec(text_of(path), str(path))


def read_spec(text: str, name: str) -> Spec:
    """Return the spec a text holds; SpecFaults with every fault of it. The name stands for the file
    in messages.
    """
    document = read_document(text, name)
    spec = None
    faults: list[Fault] = []
    try:
        spec = Spec.model_validate(document)
    except ValidationError as error:
        faults += faults_of(error, spec_schema())
    faults += faults_between(_parts(document, spec))
    if spec is not None and not faults:
        faults += faults_of_whole(spec)
    if spec is None or faults:
        lines = key_lines(text)
        raise SpecFaults([placed(fault, name, document, lines) for fault in faults])
    return spec.given_as(text, Path(name))


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
def spec_schema() -> dict[str, Any]:
    """Return the JSON Schema of a spec, for editors and for the reference."""
    return with_words(schema_of(Spec, "Spec of an engine family"))


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
