"""What other programs are told: one JSON document of one shape for one book or many, with its
published schema.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import asdict
from typing import Any, Literal

from typing_extensions import TypedDict

from datumbook import VERSION
from datumbook.messages.findings import Severity
from datumbook.validator import Validation, Verdict

DOCUMENT_FORMAT: Literal[1] = 1
CountedTo = Literal["", "release", "today", "file"]


class ToolDocument(TypedDict):
    """What judged the books."""

    name: str
    version: str


class SpecDocument(TypedDict):
    """The spec a book was made from."""

    name: str
    engine: str


class JobDocument(TypedDict):
    """The job of a book."""

    block: str
    identity: str
    state: str
    seal: str


class FindingDocument(TypedDict):
    """One thing about one place; `code` is a stable word of the manual's page of damage."""

    code: str
    severity: Severity
    message: str
    remedy: str
    sheet: str
    cell: str
    key: str
    label: str
    found: str
    expected: str
    suggestion: str


class ResultDocument(TypedDict):
    """One computed value: what Python makes of it and what the book shows, in `unit`."""

    key: str
    label: str
    sheet: str
    cell: str
    unit: str
    computed: float | str | None
    shown: float | str | bool | None
    verdict: str
    concession: str


class StruckDocument(TypedDict):
    """One correction, in the words it was entered with."""

    where: str
    was: str
    now: str
    reason: str
    initials: str
    struck_on: str


class InstrumentDocument(TypedDict):
    """What a book states of the instrument of one group of readings; sizes in mm, days as
    year-month-day, "" and null where it states nothing.
    """

    number: str
    group: str
    job: str
    unit: str
    calibration_due: str
    measured_on: str
    all_told: float | None
    setting: float | None
    resolution: float | None
    zero_before: float | None
    zero_after: float | None


class RegisterDocument(TypedDict):
    """The line of the register for a book: the worst of it, the readings that hold the job up, and
    the days it is open from `received_on` to `until`, the day that `counted_to` names.
    """

    file: str
    job: str
    engine: str
    identity: str
    state: str
    exit_status: int
    worst: str
    readings_missing: int | None
    received_on: str
    days_open: int | None
    counted_to: CountedTo
    until: str
    instruments: list[InstrumentDocument]


class BookDocument(TypedDict):
    """One workbook as it was judged; spec and job are null where it is none of ours. `settled` are
    the doubts about whole series that its Release sheet answers.
    """

    workbook: str
    tool: ToolDocument
    spec: SpecDocument | None
    job: JobDocument | None
    verdict: Verdict
    counts: dict[str, int]
    findings: list[FindingDocument]
    results: list[ResultDocument]
    struck: list[StruckDocument]
    settled: list[FindingDocument]
    register: RegisterDocument


class ValidationDocument(TypedDict):
    """What `datumbook validate --json` prints: a format number and one entry a book, in the order
    of the books.
    """

    format: Literal[1]
    books: list[BookDocument]


def content(validation: Validation) -> dict[str, Any]:
    """What the document tells of a book, wherever its file lies."""
    layout = validation.layout
    return {
        "tool": {"name": "datumbook", "version": VERSION},
        "spec": {"name": layout.spec.path.name, "engine": layout.spec.engine.name}
        if layout
        else None,
        "job": {
            "block": layout.job.block,
            "identity": layout.identity,
            "state": validation.state,
            "seal": validation.seal,
        }
        if layout
        else None,
        "verdict": validation.verdict,
        "counts": validation.counts | {"findings": len(validation.findings)},
        "findings": [asdict(one) for one in validation.findings],
        "results": [one._asdict() for one in validation.outcomes],
        "struck": [asdict(one) for one in validation.struck],
        "settled": [asdict(one) for one in validation.settled],
    }


def as_json(made: dict[str, Any]) -> str:
    """One book's entry as text."""
    return json.dumps(made, ensure_ascii=False, indent=2)


def joined(*entries: str) -> str:
    """Entries as `as_json` writes them, none of them empty, as one that holds what each does."""
    inner = (entry.removeprefix("{\n").removesuffix("\n}") for entry in entries)
    return "{\n" + ",\n".join(inner) + "\n}"


def whole_document(entries: Iterable[str]) -> Iterator[str]:
    """The document, piece by piece: its head, each entry as it comes, its end."""
    yield f'{{"format": {DOCUMENT_FORMAT}, "books": ['
    for place, entry in enumerate(entries):
        yield f",\n{entry}" if place else entry
    yield "]}"


def validation_schema() -> dict[str, Any]:
    """The JSON Schema of the document."""
    return published_schema(ValidationDocument, "validation", DOCUMENT_FORMAT)


def published_schema(shape: type, name: str, number: int) -> dict[str, Any]:
    """The JSON Schema of a document of this shape, with its name and format number."""
    from pydantic import TypeAdapter

    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:datumbook:{name}:{number}",
        **TypeAdapter(shape).json_schema(),
    }
