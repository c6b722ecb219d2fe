"""What a person at a terminal is told about a validation: the verdict and what to do first, what is
out and where, the plan, what is missing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict

from datumbook.grouping import grouped
from datumbook.messages.findings import Finding, printable
from datumbook.report.decisions import Decisions, decisions
from datumbook.report.liners import liners_in
from datumbook.report.missing import stations_missing
from datumbook.report.verdict import headline, holding, sealing, to_do_first
from datumbook.validator import Validation
from datumbook.validator.readings.corrections import Struck

NOT_ENTERED = "not entered"


def told(validation: Validation) -> Iterator[tuple[str, str]]:
    """Lines with their style: title, bad, warn, plain or soft; nothing in them is obeyed by a
    terminal.
    """
    yield from ((style, printable(line)) for style, line in _told(validation))


def _told(validation: Validation) -> Iterator[tuple[str, str]]:
    yield "title", str(validation.path)
    yield ({"release": "good", "hold": "warn"}.get(validation.verdict, "bad"), headline(validation))
    layout, counts = validation.layout, validation.counts
    if layout is not None:
        yield (
            "plain",
            f"Job {layout.job.block} · {layout.spec.engine.name} · book {layout.identity} · "
            f"{as_stage(validation)}",
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
    if sealed := sealing(validation):
        yield "plain", sealed
    found = validation.findings
    decided = None if validation.verdict == "release" else decisions(validation)
    if len(first := to_do_first(validation, decided)) > 1:
        yield "title", "To do, the most pressing first"
        yield from (("plain", f"  {number}. {line}") for number, line in enumerate(first, 1))
    wrong = [one for one in found if one.severity == "reading" and one.code != "reading-missing"]
    for heading, ones, line_style in (
        (
            "What happened to the workbook",
            [one for one in found if one.severity == "damage"],
            "bad",
        ),
        ("Checks that hold the job up", holding(found), "bad"),
        ("Readings to put right", wrong, "warn"),
    ):
        yield from _listed(heading, ones, line_style)
    if decided:
        yield from _decided(decided)
    if missing := stations_missing(validation):
        yield "title", f"Readings to take ({sum(one.count for one in missing)})"
        yield from (("warn", f"  Missing on {one.sheet}, {one.line}.") for one in missing)
    yield from _listed("For information", [one for one in found if one.severity == "note"], "soft")
    if layout is not None and (liners := list(liners_in(layout, validation.values))):
        yield "title", "Getting the liners in; local codes and licensed practice come first"
        yield from (("plain", f"  {words}: {said}") for words, said in liners)
    if layout is not None and validation.settled:
        answer = validation.values[layout.stations.release.decision.read_again.key]
        yield "title", f"Doubted, and answered on the Release sheet ({len(validation.settled)})"
        yield from (("plain", f"  {_without_remedy(one)}") for one in validation.settled)
        yield "plain", f"  Answered: {answer}"
    if validation.struck:
        yield "title", f"Struck and corrected ({len(validation.struck)})"
        yield from (("plain", f"  {_corrected(one)}") for one in validation.struck)


def _without_remedy(one: Finding) -> str:
    return one.message.removesuffix(one.remedy).rstrip()


def _corrected(one: Struck) -> str:
    """One correction in a sentence; what was not entered is said."""
    said = {name: words or NOT_ENTERED for name, words in asdict(one).items()}
    return "{where}: was {was}, is now {now}; reason: {reason}; {initials}, {struck_on}.".format(
        **said
    )


def as_stage(validation: Validation) -> str:
    """The state of the job; at an earlier stage, of which the release says nothing, that stage."""
    early = validation.stage != "finished" and validation.state == "ON HOLD"
    return f"as {validation.stage}" if early else validation.state


def _listed(heading: str, ones: list[Finding], style: str) -> Iterator[tuple[str, str]]:
    """Findings under a heading, those of one kind together, their common remedy once."""
    if ones:
        yield "title", f"{heading} ({len(ones)})"
    for alike in grouped((one.code, one) for one in ones).values():
        yield from ((style, line) for line in _each(alike))


def _decided(made: Decisions) -> Iterator[tuple[str, str]]:
    """The plan of a block that does not go on as it is."""
    yield "title", "The plan; datumbook plan tells the ways not taken"
    for title, lines in made.pieces:
        if len(lines) == 1:
            yield "plain", f"  {title}: {lines[0]}"
            continue
        yield "plain", f"  {title}"
        yield from (("plain", f"    {line}") for line in lines)
    if made.spare:
        left = "; ".join(f"{one.words} {one.left} {one.verdict}" for one in made.spare)
        yield "plain", f"  To spare as planned: {left}"


def _each(ones: list[Finding]) -> Iterator[str]:
    shared = len(ones) > 1 and len({one.remedy for one in ones}) == 1
    for one in ones:
        yield f"  {one.message.removesuffix(one.remedy).rstrip() if shared else one.message}"
    if shared:
        yield f"    {ones[0].remedy}"
