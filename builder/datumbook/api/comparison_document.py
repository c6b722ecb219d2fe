"""What other programs are told of the same block at two dates: one JSON document, every reading and
checked result beside its counterpart.
"""

from __future__ import annotations

from typing import Any, Literal

from typing_extensions import TypedDict

from datumbook.comparison import Feature, Word, compare
from datumbook.report.document import (
    JobDocument,
    SpecDocument,
    ToolDocument,
    content,
    published_schema,
)
from datumbook.validator import Validation

COMPARISON_FORMAT: Literal[1] = 1


class SideDocument(TypedDict):
    """One of the two books."""

    workbook: str
    spec: SpecDocument
    job: JobDocument


class FeatureDocument(TypedDict):
    """One reading or checked result in both books, in `unit` ("" for words); null where a book has
    none. `difference` is the second less the first, null where there is none; `uncertainty` is what
    that may be off by (k = 2), zero where neither book states any. The judgements are those of the
    books' own checks, "" on a reading.
    """

    key: str
    label: str
    unit: str
    first: float | str | None
    second: float | str | None
    difference: float | None
    uncertainty: float
    verdict: Word
    first_judged: str
    second_judged: str


class PairOfBooksDocument(TypedDict):
    """Two books of one block: what is to be known before their differences, and every feature that
    either holds, in the order of the sheets.
    """

    tool: ToolDocument
    first: SideDocument
    second: SideDocument
    warnings: list[str]
    counts: dict[str, int]
    features: list[FeatureDocument]


class ComparisonDocument(TypedDict):
    """What `datumbook compare --json` prints: a format number and one entry for two books."""

    format: Literal[1]
    pairs: list[PairOfBooksDocument]


def comparison_document(first: Validation, second: Validation) -> ComparisonDocument:
    """Two books as one document. NoBook where one cannot be read or is none of ours."""
    found = compare(first, second)
    changed, incomparable = len(found.changes), len(found.incomparable)
    unchanged = len(found.features) - changed - incomparable
    return {
        "format": COMPARISON_FORMAT,
        "pairs": [
            {
                "tool": content(first)["tool"],
                "first": _side(first),
                "second": _side(second),
                "warnings": list(found.warnings),
                "counts": {
                    "changed": changed,
                    "unchanged": unchanged,
                    "cannot_be_compared": incomparable,
                },
                "features": [_feature(one) for one in found.features],
            }
        ],
    }


def comparison_schema() -> dict[str, Any]:
    """The JSON Schema of the document."""
    return published_schema(ComparisonDocument, "comparison", COMPARISON_FORMAT)


def _side(book: Validation) -> SideDocument:
    told = content(book)
    return {"workbook": str(book.path), "spec": told["spec"], "job": told["job"]}


def _feature(one: Feature) -> FeatureDocument:
    return {
        "key": one.key,
        "label": one.label,
        "unit": one.printer.unit,
        "first": one.one,
        "second": one.two,
        "difference": one.difference,
        "uncertainty": one.uncertainty,
        "verdict": one.verdict,
        "first_judged": one.judged[0],
        "second_judged": one.judged[1],
    }
