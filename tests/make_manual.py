"""Write the pages of the manual that are made from data: `python tests/make_manual.py`."""

from __future__ import annotations

from pathlib import Path

import builder
from builder.findings import catalogue_page

PAGE = Path(builder.__file__).parent / "manual" / "damage.md"

if __name__ == "__main__":
    PAGE.parent.mkdir(exist_ok=True)
    PAGE.write_text(catalogue_page(), "utf-8")
