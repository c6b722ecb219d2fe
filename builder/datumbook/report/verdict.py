"""What a report says first, on page and at terminal: the verdict at the stage asked for, and what
to do, in the order in which it counts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from datumbook.grouping import grouped
from datumbook.messages.findings import Finding
from datumbook.report.decisions import Decisions
from datumbook.validator import Validation
from datumbook.validator.judge.seal import seal_written

VERDICT_COLOURS = {
    "release": "RELEASABLE: every check is OK or under a concession.",
    "hold": "ON HOLD: do not assemble.",
    "untrusted": "NOT TO BE TRUSTED: the workbook was altered, damaged or mixed up.",
    "unreadable": "UNREADABLE: this is not a workbook that can be judged.",
}
STATES = {
    "RELEASED": "RELEASED: every check is OK or under a concession, and two people have put their "
    "names.",
    "REJECTED": "REJECTED: the block does not go on.",
}
EARLIER_STAGES = {"received": "MEASURED AS RECEIVED", "planned": "PLANNED"}
NOTHING_HOLDS = "every reading is taken and every limit kept, or under a concession"
# kind of finding that holds the job up, the worst first -> what it is, what to do
HOLDING_KINDS = {
    "limit-guessed": ("held to a guess", "Put the maker's figures in the engine file for"),
    "check-out": ("beyond its limit", "Rework or concede what is beyond its limit"),
    "check-stale": ("moved since it was read", "Measure again what was moved since"),
    "check-unsure": ("too near the limit to tell", "Measure finer, or concede, what is UNSURE"),
    "measuring-out": ("beyond what measuring allows", "Put right how it was measured"),
    "check-open": ("not yet judged", "Find what is wanting for what cannot be judged"),
}
UNSETTLED = ("not settled", "Settle on its sheet")
NAMES_IN_A_LINE = 4  # things named in one line


def headline(validation: Validation) -> str:
    """The verdict in plain words, of an earlier stage what the block is at that stage; what a book
    says of itself counts only where the book can be trusted.
    """
    verdict = validation.verdict
    if verdict not in {"release", "hold"}:
        return VERDICT_COLOURS[verdict]
    if validation.state == "REJECTED" or validation.stage == "finished":
        return STATES.get(validation.state, VERDICT_COLOURS[verdict])
    said = "; ".join(_found(validation)) or NOTHING_HOLDS
    return f"{EARLIER_STAGES[validation.stage]}: {said}."


def sealing(validation: Validation) -> str:
    """What seals a book that was released or rejected, and where it is written; "" of one that goes
    on.
    """
    if validation.layout is None or validation.state not in STATES:
        return ""
    written = seal_written(validation.layout, validation.values)
    if written == validation.seal:
        return f"Sealed as {written}; nothing was changed since."
    return (
        f"Seal of all that stands in it: {validation.seal}. Write it on the Release sheet, and "
        f"keep it: a later change is told by it."
    )


def _found(validation: Validation) -> Iterator[str]:
    """What a block is found to be at an earlier stage: which of its sizes are beyond their limits,
    and how many readings are still to take.
    """
    kinds = grouped(
        (HOLDING_KINDS.get(one.code, UNSETTLED), one) for one in holding(validation.findings)
    )
    yield from (f"{words}: {named(ones)}" for (words, _), ones in kinds.items())
    missing = sum(one.code == "reading-missing" for one in validation.findings)
    wrong = sum(one.severity == "reading" for one in validation.findings) - missing
    if wrong:
        yield f"{counted(wrong, 'reading')} to put right"
    if missing:
        yield f"{counted(missing, 'reading')} to take"


def to_do_first(validation: Validation, decided: Decisions | None) -> list[str]:
    """What to do, the most pressing first: what is not to be cut, the book itself, entries to put
    right, what holds the job up, readings to take. Of a book that cannot be trusted no cut is
    forbidden.
    """
    forbidden = decided.forbidden if decided and validation.verdict == "hold" else ()
    return [*forbidden, *_to_do(validation.findings)]


def _to_do(findings: Sequence[Finding]) -> Iterator[str]:
    damage = [one for one in findings if one.severity == "damage"]
    if damage:
        where = dict.fromkeys(one.sheet or "the file" for one in damage)
        yield f"Put right what happened to the workbook: {_some([*where])}."
    wrong = [one for one in findings if one.severity == "reading" and one.code != "reading-missing"]
    if wrong:
        yield f"Put {counted(len(wrong), 'reading')} right: {_places(wrong)}."
    kinds = grouped((HOLDING_KINDS.get(one.code, UNSETTLED), one) for one in holding(findings))
    yield from (f"{to_do}: {named(ones)}." for (_, to_do), ones in kinds.items())
    missing = [one for one in findings if one.code == "reading-missing"]
    if missing:
        sheets = grouped((one.sheet, one) for one in missing)
        each = ", ".join(f"{sheet} {len(ones)}" for sheet, ones in sheets.items())
        yield f"Take {counted(len(missing), 'reading')}: {each}."


def holding(findings: Sequence[Finding]) -> list[Finding]:
    """The checks that hold a job up, the worst kind first."""
    kinds = list(HOLDING_KINDS)
    held = [one for one in findings if one.severity == "check"]
    return sorted(
        held, key=lambda one: kinds.index(one.code) if one.code in HOLDING_KINDS else len(kinds)
    )


def counted(number: int, what: str) -> str:
    """A number of things in words.

    >>> counted(1, "reading"), counted(3, "reading")
    ('1 reading', '3 readings')
    """
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def named(ones: Sequence[Finding]) -> str:
    """What findings are about, each name once, with how often it comes where that is more than
    once.
    """
    names = grouped((one.label.rpartition(" · ")[2] or "the block", one) for one in ones)
    said = [f"{name} ({len(of)})" if len(of) > 1 else name for name, of in names.items()]
    return _some(said)


def _places(ones: Sequence[Finding]) -> str:
    return _some([f"{one.sheet} {one.cell}" for one in ones])


def _some(said: list[str]) -> str:
    """As many as one reads in a line, and how many more there are."""
    more = f" and {len(said) - NAMES_IN_A_LINE} more" if len(said) > NAMES_IN_A_LINE else ""
    return f"{', '.join(said[:NAMES_IN_A_LINE])}{more}"
