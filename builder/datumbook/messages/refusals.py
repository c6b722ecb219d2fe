"""The catalogue of refusals: every way a spec is turned down, as data with templates.

The sentences stand in refusals.toml; nothing is read until the first refusal is spoken.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from functools import cache


@dataclass(frozen=True, slots=True)
class Refusal:
    """One way of saying no: its stable code, what it means, the sentence and the remedy as
    templates. One that warns refuses nothing: it is told where a spec is looked over.
    """

    code: str
    meaning: str
    sentence: str
    remedy: str
    warns: bool = False


@dataclass(frozen=True, slots=True)
class Fault:
    """One refusal at one key path; put to its file, line and key it is, as text, the one line a
    person reads.
    """

    path: tuple[str | int, ...]
    code: str
    found: str
    expected: str
    sentence: str
    remedy: str
    file: str = ""
    line: int | None = None
    key: str = ""

    def __str__(self) -> str:
        place = f"{self.file} line {self.line}" if self.line else self.file
        return f"{place} · {self.key}: {self.said}" if self.key else f"{place}: {self.said}"

    @property
    def said(self) -> str:
        """Sentence and remedy without the place."""
        return f"{self.sentence} {self.remedy}"


@cache
def refusals() -> dict[str, Refusal]:
    """Return the whole catalogue by code, in the order of the file."""
    import tomllib  # only a refusal needs it
    from importlib.resources import files

    text = files("datumbook.messages").joinpath("refusals.toml").read_text("utf-8")
    return {code: Refusal(code, **entry) for code, entry in tomllib.loads(text).items()}


def refusal(code: str) -> Refusal:
    """Return one refusal; LookupError with the nearest codes when there is none."""
    catalogue = refusals()
    if code not in catalogue:
        near = ", ".join(difflib.get_close_matches(code, catalogue, n=3)) or "none is near"
        raise LookupError(f'there is no refusal "{code}" (nearest: {near})')
    return catalogue[code]


def spoken(code: str, found: str = "", expected: str = "", **words: str) -> tuple[str, str]:
    """Return sentence and remedy of a refusal with the words put in; KeyError when a template lacks
    a word.

    >>> spoken("zero-denominator", found="3/0")
    ('"3/0" divides by zero.', 'Write the fraction as printed, such as "3/8 in".')
    """
    said = refusal(code)
    words |= {"found": found, "expected": expected}
    return said.sentence.format(**words), said.remedy.format(**words)


def fault_at(
    path: tuple[str | int, ...], code: str, found: str = "", expected: str = "", **words: str
) -> Fault:
    """Return a fault with the sentences of the catalogue; KeyError when a template lacks a word."""
    return Fault(path, code, found, expected, *spoken(code, found, expected, **words))


def shown(value: object) -> str:
    """Return a found value as one short line for a sentence."""
    text = " ".join(str(value).split())
    return text if len(text) <= 60 else text[:57] + "..."
