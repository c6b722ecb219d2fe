"""Filled workbook to verdict: opened safely, recognised, located, compared, read, and every result worked out anew.

The file is never changed and never trusted: a verdict rests on the readings and on Python alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Literal

from builder import VERSION
from builder.comparing import compare, spoken, stale
from builder.entries import Entries, read_entries
from builder.equations.verdicts import CONCEDED, OK, OPEN, OUT, PASSES, STALE, UNSURE
from builder.findings import Finding, finding
from builder.layout import CheckPlan, Layout
from builder.locating import Located, locate
from builder.reader import Book, Refused, SheetFound, open_book
from builder.reckoning import Fault, reckon
from builder.record import PROPERTY, SHEET, Record, RecordError, read_record
from builder.sheets import lay_out
from builder.spec import SpecFaults, read_spec
from builder.table import STAGES, Stage

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
    stage: Stage = "finished"

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
        """The state of the job in the book's own words, "" where there is none; never released unless the verdict is."""
        said = str(self.values.get("decision.release_state", ""))
        return "ON HOLD" if said in ("RELEASABLE", "RELEASED") and self.verdict != "release" else said

    @property
    def counts(self) -> dict[str, int]:
        """How many checks have which verdict, and how many wanted readings there are and are taken."""
        counted = {word: sum(one.verdict == word for one in self.outcomes) for word in (OK, OUT, STALE, UNSURE, OPEN)}
        if self.layout is None:
            return counted
        wanted = [place.key for place in self.layout.wanted()]
        taken = sum(self.values.get(key) not in (None, "") for key in wanted)
        return counted | {"checks": len(self.layout.checks), "readings_wanted": len(wanted), "readings_taken": taken}


def worst_exit(statuses: list[int]) -> int:
    """Of several books the worst counts: unreadable, untrusted, on hold, releasable."""
    return next(status for status in WORST if status in statuses)


def validate(path: Path, stage: Stage = "finished") -> Validation:
    """Validate one workbook; whatever the file holds, the answer is a Validation and never an exception.

    At an earlier stage only what belongs to it and to those before it can hold the job up.
    """
    try:
        book = open_book(path)
    except Refused as refusal:
        found = Finding(refusal.code, "damage", f"{refusal.message}.", found=refusal.part)
        return Validation(path, [found], readable=False, stage=stage)
    made = Validation(path, [_problem(one.code, one.message, one.sheet, one.cell) for one in book.problems], stage=stage)
    record = _recognise(book, made)
    layout = None if record is None else _laid_out(record, made)
    if layout is not None:
        made.layout = layout
        _examine(layout, book, made)
    return made


def _problem(code: str, message: str, sheet: str, cell: str) -> Finding:
    return Finding(code, "damage", f"{f'{sheet} {cell}: ' if sheet else ''}{message}.", sheet=sheet, cell=cell)


def _recognise(book: Book, made: Validation) -> Record | None:
    sheet = book.sheets.get(SHEET) or next((one for one in book.sheets.values() if _begins_record(one)), None)
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
    return first is not None and isinstance(first.value, str) and first.value.startswith("#1/")


def _laid_out(record: Record, made: Validation) -> Layout | None:
    altered = finding("spec-altered", sheet=SHEET, cell="A1", found="it does not match its identity")
    try:
        spec = read_spec(record.spec_text, record.spec_name)
    except SpecFaults:
        differs = finding("version-differs", found=record.version, expected=VERSION)
        made.findings.append(altered if record.version == VERSION else differs)
        return None
    if Layout(spec, record.job).identity_by(record.version) != record.identity:
        made.findings.append(altered)
        return None
    layout = lay_out(spec, record.job)
    alike = [(one.key, one.sheet, one.cell, one.unit, one.formula) for one in record.map] == list(_mapped(layout))
    if not alike or record.version != VERSION:
        made.findings.append(finding("other-version" if alike else "version-differs", found=record.version, expected=VERSION))
        _made_as(layout, record.identity)
    return layout if alike else None


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
    now = sheets_of(layout, made.stage)
    held = [check for check in _holding(layout, values) if check.sheet in now]
    made.findings += _missing(layout, located, entries, values, held) + _checks(layout, located, entries, values, held)
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


def sheets_of(layout: Layout, stage: Stage) -> set[str]:
    """The sheets that belong to a stage of the work or to one before it."""
    reached = STAGES[: STAGES.index(stage) + 1]
    return {name for name, plan in layout.plans.items() if plan.sheet.stage in reached}


def _holding(layout: Layout, values: Mapping[str, object]) -> list[CheckPlan]:
    return [check for check in layout.checks if values[f"release.{check.key}.standing"] not in (PASSES, CONCEDED)]


def _missing(
    layout: Layout, located: Located, entries: Entries, values: Mapping[str, object], holding: list[CheckPlan]
) -> list[Finding]:
    """The wanted readings that are not there, unless every check that needs them is under a concession."""
    held = {key for check in holding for key in (check.key, *upstream(layout, check.verdict))}
    found = []
    for place in layout.wanted():
        if values[place.key] in (None, "") and place.key in held and place.key not in entries.spoiled:
            sheet, cell = located.shown_at(place)
            found.append(finding("reading-missing", sheet=sheet, cell=cell, key=place.key, label=place.label))
    return found


def _checks(
    layout: Layout, located: Located, entries: Entries, values: Mapping[str, object], holding: list[CheckPlan]
) -> list[Finding]:
    """The checks that hold the job up, except those that a reading above them already explains."""
    found, absent = [], {place.key for place in layout.wanted() if values[place.key] in (None, "")}
    for check in holding:
        needed = {check.key, *upstream(layout, check.verdict)}
        verdict = values[check.verdict]
        if needed & entries.spoiled or (verdict == OPEN and needed & absent):
            continue
        found.append(_held(layout, located, check, str(verdict), values))
    return found + _decision(layout, located, values)


def _decision(layout: Layout, located: Located, values: Mapping[str, object]) -> list[Finding]:
    """A block that is rejected, or was meant to be, is not released."""
    if str(values["decision.decision"] or "").casefold() != "rejected":
        return []
    place = layout.places["decision.decision"]
    sheet, cell = located.shown_at(place)
    code = "job-rejected" if values["decision.release_state"] == "REJECTED" else "rejection-incomplete"
    reason = values["decision.reason"] or "no reason is given"
    return [finding(code, sheet=sheet, cell=cell, key=place.key, label=place.label, found=reason)]


def _held(layout: Layout, located: Located, check: CheckPlan, verdict: str, values: Mapping[str, object]) -> Finding:
    place = layout.places[check.key]
    sheet, cell = located.shown_at(place)
    said = spoken(values[check.key], place)
    words: dict[str, object] = {
        "found": said,
        "expected": limits_said(layout, check, values),
        "source": f" ({check.source})" if check.source else "",
    }
    code = {OUT: "check-out", UNSURE: "check-unsure", STALE: "check-stale"}.get(verdict, "check-open")
    conceded = values.get(f"release.{check.key}.conceded_value")
    if absent := _left_blank(check, values):
        code, words["absent"] = "concession-incomplete", ", ".join(absent)
    elif absent is not None and code != "check-open":
        code, words["expected"] = "concession-lapsed", spoken(conceded, place)
    if check.fresh_in:
        words |= {name: f"{values[f'{check.fresh_in}.{name}'] or 0:g}" for name in ("taken_after", "spoiled_by")}
    uncertainty = values.get(f"release.{check.key}.uncertainty")
    if isinstance(uncertainty, float):
        words["uncertainty"] = f"{uncertainty:.{place.decimals + 1}f}"
    return finding(code, sheet=sheet, cell=cell, key=check.key, label=place.label, **words)


def _left_blank(check: CheckPlan, values: Mapping[str, object]) -> list[str] | None:
    """What a concession begun lacks, of value, reason, name and date; None where none was begun."""
    wanted = {"conceded_value": "value", "reason": "reason", "conceded_by": "name", "conceded_on": "date"}
    if f"release.{check.key}.conceded_value" not in values or values[check.key] is None:
        del wanted["conceded_value"]
    absent = [words for name, words in wanted.items() if values[f"release.{check.key}.{name}"] in (None, "")]
    return absent if len(absent) < len(wanted) else None


def limits_said(layout: Layout, check: CheckPlan, values: Mapping[str, object]) -> str:
    """A check's limits in words."""
    if check.says is not None:
        return f"“{check.says}”"
    if check.judged:
        return f"set by {check.source}"
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
