"""Is it one of ours, and which: the hidden record of a book against the layout this version makes of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from builder import VERSION
from builder.findings import Finding, finding
from builder.layout import Layout
from builder.reader import Book, SheetFound
from builder.record import PROPERTY, SHEET, Record, RecordError, read_record
from builder.sheets import lay_out
from builder.spec import SpecFaults, read_spec


@dataclass
class Recognised:
    """What a book says of its making, and the layout to judge it by; neither where it cannot be trusted so far."""

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
    sheet = book.sheets.get(SHEET) or next((one for one in book.sheets.values() if _begins_record(one)), None)
    if sheet is None:
        kin = PROPERTY in book.properties or any(name.casefold() == "job_identity" for name in book.names)
        findings.append(finding("record-lost" if kin else "not-ours"))
        return None
    texts = [str(cell.value) for (_, column), cell in sorted(sheet.cells.items()) if column == 1]
    try:
        return read_record(texts)
    except RecordError as broken:
        findings.append(finding(broken.code, sheet=sheet.name, cell=f"A{broken.line}", found=str(broken)))
        return None


def _begins_record(sheet: SheetFound) -> bool:
    first = sheet.cells.get((1, 1))
    return first is not None and isinstance(first.value, str) and first.value.startswith("#1/")


def _laid_out(record: Record, findings: list[Finding]) -> Layout | None:
    altered = finding("spec-altered", sheet=SHEET, cell="A1", found="it does not match its identity")
    try:
        spec = read_spec(record.spec_text, record.spec_name)
    except SpecFaults:
        findings.append(altered if record.version == VERSION else _other(record, alike=False))
        return None
    if Layout(spec, record.job).identity_by(record.version) != record.identity:
        findings.append(altered)
        return None
    layout = lay_out(spec, record.job)
    alike = [(one.key, one.sheet, one.cell, one.unit, one.formula) for one in record.map] == list(_mapped(layout))
    if not alike or record.version != VERSION:
        findings.append(_other(record, alike))
        _made_as(layout, record.identity)
    return layout if alike else None


def _other(record: Record, alike: bool) -> Finding:
    if record.version == VERSION:
        return finding("layout-differs", found=record.version)
    return finding("other-version" if alike else "version-differs", found=record.version, expected=VERSION)


def _made_as(layout: Layout, identity: str) -> None:
    """Let a layout expect the identity that the version which made the book printed on it."""
    now, layout.identity = layout.identity, identity
    layout.places["job.identity"] = replace(layout.places["job.identity"], value=identity)
    for plan in layout.plans.values():
        plan.texts = [replace(text, words=text.words.replace(now, identity)) for text in plan.texts]


def _mapped(layout: Layout) -> Iterator[tuple[str, str, str, str | None, str]]:
    for key, place in layout.places.items():
        formula = layout.formula(key) if layout.has_formula(key) else ""
        yield key, place.at.sheet, place.at.cell, place.unit, formula
