"""Write the pages of the manual that are made from data: `python tests/scripts/make_manual.py`."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))

import datumbook
from compatibility_page import page as programs_page
from datumbook.api.comparison_document import comparison_schema
from datumbook.api.plan_document import plan_schema
from datumbook.messages.findings import catalogue_page
from datumbook.report.document import validation_schema
from datumbook.report.handbook import equation_book, job_reference, spec_reference
from datumbook.report.review_document import review_schema

MANUAL = Path(datumbook.__file__).parent / "manual"
PAGES: dict[str, Callable[[], str]] = {
    "damage.md": catalogue_page,
    "equations.md": equation_book,
    "job.md": job_reference,
    "spreadsheets.md": programs_page,
    "spec.md": spec_reference,
    "comparison.schema.json": lambda: json.dumps(comparison_schema(), indent=2) + "\n",
    "plan.schema.json": lambda: json.dumps(plan_schema(), indent=2) + "\n",
    "spec_check.schema.json": lambda: json.dumps(review_schema(), indent=2) + "\n",
    "validation.schema.json": lambda: json.dumps(validation_schema(), indent=2) + "\n",
}

if __name__ == "__main__":
    MANUAL.mkdir(exist_ok=True)
    for name, page in PAGES.items():
        (MANUAL / name).write_text(page(), "utf-8")
