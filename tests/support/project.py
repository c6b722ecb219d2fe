"""Where the project stands: the folder with its pyproject.toml, and what the tests keep beside
their code.
"""

from __future__ import annotations

from pathlib import Path

PROJECT = Path(__file__).resolve().parents[2]
SUPPORT = PROJECT / "tests" / "support"
SPECS = PROJECT / "specs"
FULL_FORM = SUPPORT / "full_form"


def full_form(name: str) -> str:
    """The text of a shipped spec in full form, nothing written shorter: what tests alter by a word
    or two. `tests/spec/test_full_form.py` holds the shipped one to it.
    """
    return (FULL_FORM / f"{name}.toml").read_text("utf-8")
