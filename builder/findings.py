"""What the validator has to say about one place: returned, never raised. The sentences stand in findings.toml."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Literal

Severity = Literal["damage", "reading", "check", "note"]


@dataclass(frozen=True)
class Finding:
    """One thing about one place; the message ends in the remedy, the other words are as a person writes them."""

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
    """Every kind of finding: code -> severity, says, remedy."""
    return tomllib.loads(files("builder").joinpath("findings.toml").read_text("utf-8"))


def finding(code: str, *, sheet: str = "", cell: str = "", key: str = "", label: str = "", **words: Any) -> Finding:
    """Return a finding with its sentence filled in; KeyError for a code that is not in the catalogue."""
    kind = catalogue()[code]
    where = " ".join(part for part in (sheet, cell) if part) + (f" ({label})" if label else "")
    filled = {"where": where, "sheet": sheet, "label": label} | {name: str(word) for name, word in words.items()}
    remedy = kind["remedy"].format(**filled)
    message = f"{kind['says'].format(**filled)} {remedy}"
    shown = {name: filled[name] for name in ("found", "expected", "suggestion") if name in filled}
    return Finding(code, kind["severity"], message, remedy, sheet, cell, key, label, **shown)  # type: ignore[arg-type]
