"""Write the pages of the manual that are made from data: `python tests/make_manual.py`."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import builder
from builder.findings import catalogue_page
from builder.telling.handbook import equation_book, spec_reference

MANUAL = Path(builder.__file__).parent / "manual"
PAGES: dict[str, Callable[[], str]] = {"damage.md": catalogue_page, "equations.md": equation_book, "spec.md": spec_reference}

if __name__ == "__main__":
    MANUAL.mkdir(exist_ok=True)
    for name, page in PAGES.items():
        (MANUAL / name).write_text(page(), "utf-8")
