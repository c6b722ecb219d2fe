"""Filled workbook to verdict: opened safely, recognised, located, compared, read, and every result worked out anew.

The file is never changed and never trusted: a verdict rests on the readings and on Python alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from builder import VERSION
from builder.comparing import compare, spoken, stale
from builder.entries import Entries, read_entries
from builder.equations.verdicts import CONCEDED, OK, OPEN, OUT, PASSES, UNSURE
from builder.findings import Finding, finding
from builder.layout import CheckPlan, Layout
from builder.locating import Located, locate
from builder.reader import Book, Refused, SheetFound, open_book
from builder.reckoning import Fault, reckon
from builder.record import PROPERTY, Record, RecordError, read_record
from builder.sheets import lay_out
from builder.spec import SpecFaults, read_spec

Verdict = Literal["release", "hold", "untrusted", "unreadable"]
EXIT: dict[Verdict, int] = {"release": 0, "hold": 1, "untrusted": 3, "unreadable": 2}
WORST: tuple[int, ...] = (2, 3, 1, 0)


@dataclass(frozen=True)
class Outcome:
    """One computed value: what Python makes of it, what the book shows, and how it was judged."""

    key: str
    label: str
    sheet: str
    cell: str
    unit: str
    computed: object
    shown: object
    verdict: str = ""
    concession: str = ""


@dataclass
class Validation:
    """Everything the validator found out about one workbook."""

    path: Path
    findings: list[Finding] = field(default_factory=list)
    outcomes: list[Outcome] = field(default_factory=list)
    layout: Layout | None = None
    values: Mapping[str, object] = field(default_factory=dict)
    typed: Mapping[str, float | str] = field(default_factory=dict)
    readable: bool = True

    @property
    def verdict(self) -> Verdict:
        """Where the book stands: the gravest of its findings decides."""
        if not self.readable:
            return "unreadable"
        graves = {one.severity for one in self.findings}
        return "untrusted" if "damage" in graves else "hold" if graves & {"reading", "check"} else "release"

    @property
    def exit_status(self) -> int:
        """0 releasable, 1 on hold, 3 untrusted, 2 unreadable."""
        return EXIT[self.verdict]

    @property
    def state(self) -> str:
        """The state of the job in the book's own words, "" where there is none."""
        return str(self.values.get("decision.release_state", ""))

    @property
    def counts(self) -> dict[str, int]:
        """How many checks have which verdict, and how many wanted readings there are and are taken."""
        counted = {word: sum(one.verdict == word for one in self.outcomes) for word in (OK, OUT, UNSURE, OPEN)}
        if self.layout is None:
            return counted
        wanted = [place.key for place in self.layout.wanted()]
        taken = sum(self.values.get(key) not in (None, "") for key in wanted)
        return counted | {"checks": len(self.layout.checks), "readings_wanted": len(wanted), "readings_taken": taken}


def worst_exit(statuses: list[int]) -> int:
    """Of several books the worst counts: unreadable, untrusted, on hold, releasable."""
    return next(status for status in WORST if status in statuses)


def validate(path: Path) -> Validation:
    """Validate one workbook; whatever the file holds, the answer is a Validation and never an exception."""
    try:
        book = open_book(path)
    except Refused as refusal:
        found = Finding(refusal.code, "damage", f"{refusal.message}.", found=refusal.part)
        return Validation(path, [found], readable=False)
    made = Validation(path, [_problem(one.code, one.message, one.sheet, one.cell) for one in book.problems])
    record = _recognise(book, made)
    layout = None if record is None else _laid_out(record, made)
    if layout is not None:
        made.layout = layout
        _examine(layout, book, made)
    return made


def _problem(code: str, message: str, sheet: str, cell: str) -> Finding:
    return Finding(code, "damage", f"{f'{sheet} {cell}: ' if sheet else ''}{message}.", sheet=sheet, cell=cell)


def _recognise(book: Book, made: Validation) -> Record | None:
    sheet = next((one for one in book.sheets.values() if _begins_record(one)), None)
    if sheet is None:
        kin = PROPERTY in book.properties or any(name.casefold() == "job_identity" for name in book.names)
        code, words = ("spec-altered", {"found": "the sheet that holds it is gone"}) if kin else ("not-ours", {})
        made.findings.append(finding(code, **words))
        return None
    texts = [str(cell.value) for (_, column), cell in sorted(sheet.cells.items()) if column == 1]
    try:
        return read_record(texts)
    except RecordError as broken:
        made.findings.append(finding("spec-altered", sheet=sheet.name, cell=f"A{broken.line}", found=str(broken)))
        return None


def _begins_record(sheet: SheetFound) -> bool:
    first = sheet.cells.get((1, 1))
    return first is not None and isinstance(first.value, str) and first.value.startswith(("#1/", "#"))


def _laid_out(record: Record, made: Validation) -> Layout | None:
    try:
        layout = lay_out(read_spec(record.spec_text, record.spec_name), record.job)
    except SpecFaults:
        made.findings.append(finding("version-differs", found=record.version, expected=VERSION))
        return None
    if layout.identity_by(record.version) != record.identity:
        made.findings.append(finding("spec-altered", sheet="Record", cell="A1", found="it does not match its identity"))
        return None
    if record.version != VERSION:
        alike = all(
            (place := layout.places.get(one.key)) is not None and (place.at.sheet, place.at.cell) == (one.sheet, one.cell)
            for one in record.map
        )
        made.findings.append(finding("other-version" if alike else "version-differs", found=record.version, expected=VERSION))
        if not alike:
            return None
        layout.identity = record.identity
    return layout


def _examine(layout: Layout, book: Book, made: Validation) -> None:
    located = locate(layout, book)
    made.findings += located.findings
    entries = read_entries(layout, located)
    made.typed = entries.typed
    values = made.values = reckon(layout, entries.typed)
    altered_findings, altered = compare(layout, located, values)
    made.findings += _identity(layout, book) + altered_findings
    made.findings += stale(layout, located, values, downstream(layout, altered) | altered)
    made.findings += entries.findings
    made.findings += _missing(layout, located, entries, values) + _checks(layout, located, entries, values)
    made.outcomes = _outcomes(layout, located, values)


def _identity(layout: Layout, book: Book) -> list[Finding]:
    found = book.properties.get(PROPERTY)
    if found in (None, layout.identity):
        return []
    return [finding("identity-differs", label="the file's property", found=found, expected=layout.identity)]


def upstream(layout: Layout, key: str, seen: set[str] | None = None) -> set[str]:
    """Every key that a key is worked out from."""
    seen = set() if seen is None else seen
    for given in layout.places[key].inputs.values():
        for one in given if isinstance(given, list) else [given]:
            if isinstance(one, str) and one not in seen:
                seen.add(one)
                upstream(layout, one, seen)
    return seen


def downstream(layout: Layout, keys: set[str]) -> set[str]:
    """Every key that is worked out from one of these, however far."""
    if not keys:
        return set()
    fed: dict[str, list[str]] = {}
    for key, place in layout.places.items():
        for given in place.inputs.values():
            for one in given if isinstance(given, list) else [given]:
                if isinstance(one, str):
                    fed.setdefault(one, []).append(key)
    reached, fresh = set[str](), list(keys)
    while fresh:
        for key in fed.get(fresh.pop(), ()):
            if key not in reached:
                reached.add(key)
                fresh.append(key)
    return reached


def _holding(layout: Layout, values: Mapping[str, object]) -> list[CheckPlan]:
    return [check for check in layout.checks if values[f"release.{check.key}.standing"] not in (PASSES, CONCEDED)]


def _missing(layout: Layout, located: Located, entries: Entries, values: Mapping[str, object]) -> list[Finding]:
    """The wanted readings that are not there, unless every check that needs them is under a concession."""
    held = {key for check in _holding(layout, values) for key in (check.key, *upstream(layout, check.key))}
    found = []
    for place in layout.wanted():
        if values[place.key] in (None, "") and place.key in held and place.key not in entries.spoiled:
            sheet, cell = located.shown_at(place)
            found.append(finding("reading-missing", sheet=sheet, cell=cell, key=place.key, label=place.label))
    return found


def _checks(layout: Layout, located: Located, entries: Entries, values: Mapping[str, object]) -> list[Finding]:
    """The checks that hold the job up, except those that a reading above them already explains."""
    found = []
    for check in _holding(layout, values):
        needed = {check.key, *upstream(layout, check.key)}
        verdict = values[check.verdict]
        absent = any(values[key] in (None, "") for key in needed if layout.places[key].role == "reading")
        if needed & entries.spoiled or (verdict == OPEN and absent):
            continue
        found.append(_held(layout, located, check, str(verdict), values))
    if values.get("decision.release_state") == "REJECTED":
        place = layout.places["decision.decision"]
        sheet, cell = located.shown_at(place)
        found.append(finding("job-rejected", sheet=sheet, cell=cell, key=place.key, found=values["decision.reason"]))
    return found


def _held(layout: Layout, located: Located, check: CheckPlan, verdict: str, values: Mapping[str, object]) -> Finding:
    place = layout.places[check.key]
    sheet, cell = located.shown_at(place)
    said = spoken(values[check.key], place)
    words: dict[str, object] = {
        "found": said,
        "expected": limits_said(layout, check, values),
        "source": f" ({check.source})" if check.source else "",
    }
    code = {OUT: "check-out", UNSURE: "check-unsure"}.get(verdict, "check-open")
    conceded = values.get(f"release.{check.key}.conceded_value")
    if code != "check-open" and values.get(f"release.{check.key}.reason") and conceded is not None:
        code, words["expected"] = "concession-lapsed", spoken(conceded, place)
    uncertainty = values.get(f"release.{check.key}.uncertainty")
    if isinstance(uncertainty, float):
        words["uncertainty"] = f"{uncertainty:.{place.decimals + 1}f}"
    return finding(code, sheet=sheet, cell=cell, key=check.key, label=place.label, **words)


def limits_said(layout: Layout, check: CheckPlan, values: Mapping[str, object]) -> str:
    """A check's limits in words."""
    if check.says is not None:
        return f"“{check.says}”"
    place = layout.places[check.key]
    low, high = (spoken(values[key], place, exactly=True) if key else "" for key in (check.low, check.high))
    return f"{low} to {high}" if low and high else f"not more than {high}" if high else f"not less than {low}"


def _outcomes(layout: Layout, located: Located, values: Mapping[str, object]) -> list[Outcome]:
    checks = {check.key: check for check in layout.checks}
    found = []
    for place in layout.places.values():
        if place.role != "result" and place.key not in checks:
            continue
        sheet, address = located.shown_at(place)
        cell, value = located.cell(place.key), values[place.key]
        shown = None if cell is None else cell.error or cell.value
        conceded = values.get(f"release.{place.key}.standing") == CONCEDED
        reason = str(values.get(f"release.{place.key}.reason") or "") if conceded else ""
        verdict = str(values[checks[place.key].verdict]) if place.key in checks else ""
        found.append(
            Outcome(
                place.key,
                place.label,
                sheet,
                address,
                place.unit or "",
                "error" if isinstance(value, Fault) else value,
                shown,
                verdict,
                reason,
            )
        )
    return found
