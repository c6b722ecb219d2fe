"""What a person at a terminal is told about a validation: verdict first, what is missing, what is
out, where.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict
from itertools import groupby
from typing import Any

from datumbook import VERSION
from datumbook.messages.findings import Finding, printable
from datumbook.report.liners import liners_in
from datumbook.validator import Validation
from datumbook.validator.readings.corrections import Struck

VERDICT_COLOURS = {
    "release": "RELEASABLE: every check is OK or under a concession.",
    "hold": "ON HOLD: do not assemble.",
    "untrusted": "NOT TO BE TRUSTED: the workbook was altered, damaged or mixed up.",
    "unreadable": "UNREADABLE: this is not a workbook that can be judged.",
}
NOT_ENTERED = "not entered"
LISTED = 8  # of the cells missing on a sheet


def told(validation: Validation) -> Iterator[tuple[str, str]]:
    """Lines with their style: title, bad, warn, plain or soft; nothing in them is obeyed by a
    terminal.
    """
    yield from ((style, printable(line)) for style, line in _told(validation))


def _told(validation: Validation) -> Iterator[tuple[str, str]]:
    yield "title", str(validation.path)
    yield (
        {"release": "good", "hold": "warn"}.get(validation.verdict, "bad"),
        VERDICT_COLOURS[validation.verdict],
    )
    layout, counts = validation.layout, validation.counts
    if layout is not None:
        yield (
            "plain",
            f"Job {layout.job.block} · {layout.spec.engine.name} · book {layout.identity} · "
            f"{validation.state}",
        )
        yield (
            "plain",
            (
                f"{counts['readings_taken']} of {counts['readings_wanted']} readings taken; "
                f"{counts['checks']} checks: {counts['OK']} OK, {counts['OUT']} OUT, "
                f"{counts['STALE']} STALE, {counts['UNSURE']} UNSURE, {counts['OPEN']} OPEN, "
                f"of {counts['nothing_asked']} nothing is asked."
            ),
        )
    for severity, heading, line_style in (
        ("damage", "What happened to the workbook", "bad"),
        ("reading", "Readings to take or to put right", "warn"),
        ("check", "Checks that hold the job up", "bad"),
        ("note", "For information", "soft"),
    ):
        found = [one for one in validation.findings if one.severity == severity]
        if found:
            yield "title", f"{heading} ({len(found)})"
            yield from ((line_style, line) for line in _lines(found))
    if layout is not None and (liners := list(liners_in(layout, validation.values))):
        yield "title", "Getting the liners in; local codes and licensed practice come first"
        yield from (("plain", f"  {words}: {said}") for words, said in liners)
    if validation.struck:
        yield "title", f"Struck and corrected ({len(validation.struck)})"
        yield from (("plain", f"  {_corrected(one)}") for one in validation.struck)


def _corrected(one: Struck) -> str:
    """One correction in a sentence; what was not entered is said."""
    said = {name: words or NOT_ENTERED for name, words in asdict(one).items()}
    return "{where}: was {was}, is now {now}; reason: {reason}; {initials}, {struck_on}.".format(
        **said
    )


def _lines(found: list[Finding]) -> Iterator[str]:
    """Findings of one kind together, their common remedy once."""
    for code in dict.fromkeys(one.code for one in found):
        ones = [one for one in found if one.code == code]
        yield from _missing(ones) if code == "reading-missing" else _each(ones)


def _each(ones: list[Finding]) -> Iterator[str]:
    shared = len(ones) > 1 and len({one.remedy for one in ones}) == 1
    for one in ones:
        yield f"  {one.message.removesuffix(one.remedy).rstrip() if shared else one.message}"
    if shared:
        yield f"    {ones[0].remedy}"


def _missing(ones: list[Finding]) -> Iterator[str]:
    for sheet, group in groupby(ones, key=lambda one: one.sheet):
        here = list(group)
        named = "; ".join(f"{one.cell} {one.label}" for one in here[:LISTED])
        more = f"; and {len(here) - LISTED} more" if len(here) > LISTED else ""
        yield f"  Missing on {sheet}: {named}{more}."


def document(validation: Validation) -> dict[str, Any]:
    """The validation as the JSON document of the contract."""
    layout = validation.layout
    return {
        "workbook": str(validation.path),
        "tool": {"name": "datumbook", "version": VERSION},
        "spec": {"name": layout.spec.path.name, "engine": layout.spec.engine.name}
        if layout
        else None,
        "job": {"block": layout.job.block, "identity": layout.identity, "state": validation.state}
        if layout
        else None,
        "verdict": validation.verdict,
        "counts": validation.counts | {"findings": len(validation.findings)},
        "findings": [asdict(one) for one in validation.findings],
        "results": [one._asdict() for one in validation.outcomes],
        "struck": [asdict(one) for one in validation.struck],
    }


def as_json(documents: list[dict[str, Any]]) -> str:
    """One document for one book, a list for several."""
    return json.dumps(
        documents[0] if len(documents) == 1 else documents, ensure_ascii=False, indent=2
    )
