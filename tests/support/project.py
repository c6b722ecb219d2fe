"""Where the project stands: the folder with its pyproject.toml, and what the tests keep beside
their code.
"""

from __future__ import annotations

from pathlib import Path

PROJECT = Path(__file__).resolve().parents[2]
SUPPORT = PROJECT / "tests" / "support"
SPECS = PROJECT / "specs"
