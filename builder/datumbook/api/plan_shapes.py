"""The shape of what other programs are told of what may be cut; every size stands with its unit."""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

from datumbook.report.document import JobDocument, SpecDocument, ToolDocument

PLAN_FORMAT: Literal[1] = 1


class FigureDocument(TypedDict):
    """One figure: what it is, and its value in `unit`; null where it cannot be worked out."""

    name: str
    value: float | None
    unit: str


class LimitDocument(TypedDict):
    """One limit on a size: the size before any cut and after those proposed (null where none are),
    the least or the most that it may be, and what it may be off by (k = 2), all in `unit`; `binds`
    where the cuts reach it exactly.
    """

    name: str
    before: float
    after: float | None
    low: float | None
    high: float | None
    uncertainty: float
    unit: str
    source: str
    binds: bool


class CutDocument(TypedDict):
    """One cut, or one way to set a face up: on what, how ("" where nothing is to choose), whether
    it is proposed or as typed, and what it is set to. `limits` is what the cut proposed leaves of
    every limit; `conflict` holds those that forbid it, or that a face does not keep that stays.
    """

    place: str
    set_up: str
    proposed: bool
    typed: bool
    forbidden: bool
    figures: list[FigureDocument]
    limits: list[LimitDocument]
    conflict: list[LimitDocument]


class OperationDocument(TypedDict):
    """One operation of the route in the order of the work: its done number, null while it is not
    done, and its cuts, none where nothing is planned of it.
    """

    key: str
    words: str
    done: int | None
    cuts: list[CutDocument]


class IntentionDocument(TypedDict):
    """One cut that is typed: a sentence for each limit that it breaks or may break, and what is
    still to be typed, or what no reading tells of it.
    """

    intention: str
    sentences: list[str]
    wants: str
    unseen: str


class LandDocument(TypedDict):
    """The flat left to clamp on between two bores as planned, the least it may be, in `unit`."""

    name: str
    left: float | None
    low: float | None
    unit: str
    verdict: str
    source: str


class BudgetDocument(TypedDict):
    """One resource of metal, in `unit`: as drawn, as received and after the plan, its limit, what
    has gone, what the plan takes and what is then left to spare; below zero it is overdrawn.
    """

    key: str
    words: str
    as_new: float | None
    as_received: float | None
    taken: float | None
    planned: float | None
    after: float | None
    limit: float | None
    to_spare: float | None
    unit: str
    verdict: str
    source: str


class PairDocument(TypedDict):
    """One place, the number of the part suggested for it, and the clearance that makes."""

    place: int
    part: int
    clearance: float
    within: bool


class PairingDocument(TypedDict):
    """One kind of part and where each of them goes; the limits of the clearance in `unit`."""

    words: str
    part: str
    place: str
    pairs: list[PairDocument]
    low: float | None
    high: float | None
    unit: str


class UnknownDocument(TypedDict):
    """Something that could not be worked out, and the readings it wants."""

    name: str
    readings: list[str]


class BookPlanDocument(TypedDict):
    """What may be cut on one block; `damaged` where the book cannot be trusted and this rests on
    its readings alone, `forbidden` with a sentence for each cut that is not to be made.
    """

    workbook: str
    tool: ToolDocument
    spec: SpecDocument
    job: JobDocument
    damaged: bool
    forbidden: list[str]
    typed: list[IntentionDocument]
    operations: list[OperationDocument]
    lands: list[LandDocument]
    budgets: list[BudgetDocument]
    pairings: list[PairingDocument]
    unknown: list[UnknownDocument]


class PlanDocument(TypedDict):
    """What `datumbook plan --json` prints: a format number and one entry a book."""

    format: Literal[1]
    books: list[BookPlanDocument]
