"""Is it one of ours, and which: the hidden record of a book against the layout this version makes
of it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache

from datumbook import VERSION
from datumbook.cells.basis import Basis
from datumbook.effort import spend
from datumbook.job import Job, scope_of
from datumbook.messages.findings import Finding, finding
from datumbook.readers import Book, SheetFound
from datumbook.spec import Spec, SpecFaults, recorded_spec
from datumbook.stations import lay_out
from datumbook.workbook.layout import Layout
from datumbook.workbook.record import PROPERTY, SHEET, Record, RecordError, read_record

KEPT = 4  # specs whose layout is kept for the next book: a folder holds the books of few engines
KIN = "decision__released_by"  # the name of a reading that every book has
MapLine = tuple[str, str, str, str | None, str]


@dataclass
class Recognised:
    """What a book says of its making, and the layout to judge it by; neither where it cannot be
    trusted so far.
    """

    record: Record | None = None
    layout: Layout | None = None
    findings: list[Finding] = field(default_factory=list)


def recognise(book: Book) -> Recognised:
    """Read the record of a book and lay its job out again as this version does."""
    found = Recognised()
    record = found.record = _record(book, found.findings)
    if record is not None:
        found.layout = _laid_out(record, found.findings)
    if found.layout is None and any(one.code == "spec-altered" for one in found.findings):
        found.record = None
    return found


def _record(book: Book, findings: list[Finding]) -> Record | None:
    sheet = book.sheets.get(SHEET) or next(
        (one for one in book.sheets.values() if begins_record(one)), None
    )
    if sheet is None:
        kin = PROPERTY in book.properties or KIN in map(str.casefold, book.names)
        findings.append(finding("record-lost" if kin else "not-ours"))
        return None
    texts = [str(cell.value) for (_, column), cell in sorted(sheet.cells.items()) if column == 1]
    try:
        return read_record(texts)
    except RecordError as broken:
        findings.append(
            finding(broken.code, sheet=sheet.name, cell=f"A{broken.line}", found=str(broken))
        )
        return None


def begins_record(sheet: SheetFound) -> bool:
    """Say whether a sheet, whatever its name, begins as the record of a book does."""
    return str(sheet.value((1, 1))).startswith("#1/")


def _laid_out(record: Record, findings: list[Finding]) -> Layout | None:
    altered = finding(
        "spec-altered", sheet=SHEET, cell="A1", found="it does not match its identity"
    )
    try:
        scope = scope_of(_spec(*record.spec), record.job)
    except (SpecFaults, ValueError, RecursionError):
        findings.append(altered if record.version == VERSION else _other(record, alike=False))
        return None
    if Basis(scope).identity_by(record.version) != record.identity:
        findings.append(altered)
        return None
    work = record.job.work_alone.model_dump_json(by_alias=True)
    pattern, expected = _pattern(record.spec, work)
    found = [(one.key, one.sheet, one.cell, one.unit, one.formula) for one in record.map]
    alike = found == expected
    if not alike or record.version != VERSION:
        findings.append(_other(record, alike))
    return pattern.for_job(record.job, record.identity) if alike else None


@lru_cache(maxsize=KEPT)
def _spec(text: str, name: str, full_text: str) -> Spec:
    longest = max(map(len, text.splitlines()), default=0)  # a key of many words costs their square
    spend(8 * len(text + full_text) + longest**2 // 1000, "words in the engine file it carries")
    return recorded_spec(text, name, full_text)


@lru_cache(maxsize=KEPT)
def _pattern(spec: tuple[str, str, str], work: str) -> tuple[Layout, list[MapLine]]:
    """What the books of one spec and one work have in common, whatever their block: laid out once,
    with the map it gives.
    """
    layout = lay_out(_spec(*spec), Job.model_validate_json(work))
    formulas = {key: layout.formula(key) for key in layout.places if layout.has_formula(key)}
    return layout, [
        (key, place.at.sheet, place.at.cell, place.unit, formulas.get(key, ""))
        for key, place in layout.places.items()
    ]


def laid_out_like(spec: Spec, job: Job) -> Layout:
    """Return the layout of a spec for the work of a job, whatever its block; it is kept for the
    next. SpecFaults where the job does not fit the spec.
    """
    work = job.work_alone.model_dump_json(by_alias=True)
    return _pattern((spec.text, str(spec.path), spec.full_text), work)[0]


def _other(record: Record, alike: bool) -> Finding:
    if record.version == VERSION:
        return finding("layout-differs", found=record.version)
    return finding(
        "other-version" if alike else "version-differs", found=record.version, expected=VERSION
    )
