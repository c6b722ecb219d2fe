"""What is to be said about one place of a workbook: returned, never raised. The sentences stand in
findings.toml.

That file is the catalogue of everything that can be found, and the page
builder/datumbook/manual/damage.md is made from it.
"""

from __future__ import annotations

import tomllib
import unicodedata
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Literal

Severity = Literal["damage", "reading", "check", "note"]

FINDING_GROUPS = {
    "identity": "Which book it is",
    "file": "The file",
    "structure": "Sheets, rows, columns and cells",
    "results": "Formulas and what they show",
    "readings": "What was typed",
    "checks": "What holds the job up",
}
SEVERITIES = {
    "damage": "the workbook cannot be trusted",
    "reading": "an entry to put right",
    "check": "a limit",
    "note": "for information",
}
FINDING_COLUMNS = {
    "severity": "severity",
    "happens": "what happened",
    "seen": "how it is recognised",
    "says": "what is said",
    "remedy": "what to do",
}
HIDDEN = {
    "Cc",
    "Cf",
    "Cs",
    "Co",
    "Cn",
}  # control, direction and half characters: shown as a mark, never obeyed


@dataclass(frozen=True)
class Finding:
    """One thing about one place; the message ends in the remedy, the other words are as a person
    writes them.
    """

    code: str
    severity: Severity
    message: str
    remedy: str = ""
    sheet: str = ""
    cell: str = ""
    key: str = ""
    label: str = ""
    found: str = ""
    expected: str = ""
    suggestion: str = ""


@cache
def catalogue() -> dict[str, dict[str, str]]:
    """Every kind of finding: code -> group, severity, happens, seen, says, remedy."""
    return tomllib.loads(files("datumbook.messages").joinpath("findings.toml").read_text("utf-8"))


def leaves_readings_sound(code: str) -> bool:
    """Say whether the readings of a book in which this was found may be carried into a new one:
    where the remedy says so, and where only formulas were changed.
    """
    kind = catalogue()[code]
    return "readings of this one" in kind["remedy"] or kind["remedy"].endswith("={formula}")


def finding(
    code: str, *, sheet: str = "", cell: str = "", key: str = "", label: str = "", **words: Any
) -> Finding:
    """Return a finding with its sentence filled in; KeyError for a code that is not in the
    catalogue.
    """
    kind = catalogue()[code]
    where = " ".join(part for part in (sheet, cell) if part) + (f" ({label})" if label else "")
    filled = {
        "where": where,
        "sheet": sheet,
        "cell": cell,
        "label": label,
        "exchanged": "",
        **{name: str(word) for name, word in words.items()},
    }
    spoken = {name: printable(word) for name, word in filled.items()}
    remedy = kind["remedy"].format(**spoken)
    message = f"{kind['says'].format(**spoken)} {remedy}"
    shown = {name: filled[name] for name in ("found", "expected", "suggestion") if name in filled}
    return Finding(code, kind["severity"], message, remedy, sheet, cell, key, label, **shown)  # type: ignore[arg-type]


def printable(words: str) -> str:
    """Words on one line, with a mark for every character that cannot be seen, so that a terminal
    obeys none of them.

    >>> printable("82.0\\x1b[31m\\u202e")
    '82.0�[31m�'
    """
    return marked(words.replace("\r\n", " ").replace("\n", " ").replace("\t", " "))


def marked(words: str, kept: str = "") -> str:
    """Words with a mark for every character that cannot be seen, those of `kept` left as they
    are.
    """
    if words.isascii() and words.isprintable():
        return words
    return "".join(
        "\ufffd" if unicodedata.category(sign) in HIDDEN and sign not in kept else sign
        for sign in words
    )


def catalogue_page() -> str:
    """Return the catalogue as a page of the manual."""
    kinds = catalogue()
    page = [
        "# What can be wrong with a returned workbook\n",
        f"{len(kinds)} kinds, made from `builder/datumbook/messages/findings.toml`; do not "
        f"edit here.\n",
        *(f"- **{severity}**: {words}" for severity, words in SEVERITIES.items()),
    ]
    for group, words in FINDING_GROUPS.items():
        page += [
            f"\n## {words}\n",
            f"| code | {' | '.join(FINDING_COLUMNS.values())} |",
            "| --- | --- | --- | --- | --- | --- |",
            *(_row(code, kind) for code, kind in kinds.items() if kind["group"] == group),
        ]
    return "\n".join([*page, ""])


def _row(code: str, kind: dict[str, str]) -> str:
    said = (kind[name].replace("|", "\\|") for name in FINDING_COLUMNS)
    return f"| `{code}` | {' | '.join(said)} |"
