"""The review of a spec file: refusals, and warnings of what can be read and is a mistake all the
same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from datumbook.messages.refusals import Fault, refusal
from datumbook.spec import Spec, SpecFaults, read_draft
from datumbook.spec.documents import text_of
from datumbook.spec.review import holes, sizes, words  # noqa: F401  # each brings its rules
from datumbook.spec.review.registry import SPEC_RULES

__all__ = ["EXIT_REVIEWED", "ReviewVerdict", "Reviewed", "review", "reviewed_file"]

ReviewVerdict = Literal["clean", "warned", "refused"]
EXIT_REVIEWED: dict[ReviewVerdict, int] = {"clean": 0, "warned": 1, "refused": 4}


@dataclass(frozen=True)
class Reviewed:
    """What is to be said of one spec file, in the order of its lines."""

    file: str
    faults: tuple[Fault, ...]

    @property
    def verdict(self) -> ReviewVerdict:
        """The worst that is said."""
        if any(not refusal(one.code).warns for one in self.faults):
            return "refused"
        return "warned" if self.faults else "clean"

    @property
    def lines(self) -> list[str]:
        """A line for each: file:line: code message."""
        return [
            f"{one.file or self.file}:{one.line or 1}: {one.code} {_where(one)}{one.said}"
            for one in self.faults
        ]


def review(
    text: str, name: str, further: Callable[[Spec], Iterable[Fault]] = lambda _: ()
) -> Reviewed:
    """Return what is to be said of the spec a text holds; the name stands for the file.

    further: what else is looked over, such as its empty book; only where nothing is refused.
    """
    try:
        spec, draft = read_draft(text, name)
    except SpecFaults as refused:
        return Reviewed(name, tuple(refused.faults))
    found = [*further(spec), *(one for look in SPEC_RULES for one in look(spec))]
    named = (one for one in found if one.code != "name-unused" or draft.wrote(one.path))
    told = map(draft.placed, named)
    in_turn = sorted(told, key=lambda one: (one.file != name, one.file, one.line or 0, one.key))
    return Reviewed(name, tuple(in_turn))


def reviewed_file(path: Path, further: Callable[[Spec], Iterable[Fault]]) -> Reviewed:
    """Return what is to be said of a spec file, also where it cannot be read; as review."""
    try:
        text = text_of(path)
    except SpecFaults as refused:
        return Reviewed(str(path), tuple(refused.faults))
    return review(text, str(path), further)


def _where(fault: Fault) -> str:
    return f"{fault.key}: " if fault.key else ""
