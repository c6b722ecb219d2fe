"""What other programs are told of spec files: one JSON document of one shape for one file or many,
with its published schema.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Literal

from typing_extensions import TypedDict

from datumbook.messages.refusals import refusal
from datumbook.report.document import published_schema
from datumbook.spec.review import Reviewed, ReviewVerdict

REVIEW_FORMAT: Literal[1] = 1


class RemarkDocument(TypedDict):
    """One thing about one line of a spec file; `key` is the key it is about, "" where it is about
    the file.
    """

    code: str
    severity: Literal["warning", "refusal"]
    file: str
    line: int
    key: str
    message: str
    remedy: str


class SpecFileDocument(TypedDict):
    """One spec file as it was looked over."""

    file: str
    verdict: ReviewVerdict
    remarks: list[RemarkDocument]


class ReviewDocument(TypedDict):
    """What `datumbook spec check --json` prints: a format number and one entry a file, in the order
    of the files.
    """

    format: Literal[1]
    files: list[SpecFileDocument]


def review_document(reviewed: Iterable[Reviewed]) -> ReviewDocument:
    """The reviews as one document."""
    return {"format": REVIEW_FORMAT, "files": [_file(one) for one in reviewed]}


def _file(reviewed: Reviewed) -> SpecFileDocument:
    return {
        "file": reviewed.file,
        "verdict": reviewed.verdict,
        "remarks": [
            {
                "code": fault.code,
                "severity": "warning" if refusal(fault.code).warns else "refusal",
                "file": fault.file or reviewed.file,
                "line": fault.line or 1,
                "key": fault.key,
                "message": fault.sentence,
                "remedy": fault.remedy,
            }
            for fault in reviewed.faults
        ],
    }


def review_schema() -> dict[str, Any]:
    """The JSON Schema of the document."""
    return published_schema(ReviewDocument, "spec-check", REVIEW_FORMAT)
