"""Make output_examples/ anew: the demonstration's spec, empty and filled workbook, and report."""

from __future__ import annotations

import sys
from pathlib import Path

from datumbook.commands.demo import run_demo
from datumbook.report.page import report_html

EXAMPLES = Path(__file__).resolve().parents[2] / "output_examples"


def make_examples(folder: Path) -> list[Path]:
    """Write the examples into a folder and return their paths."""
    made = run_demo(folder)
    report = folder / "report.html"
    made.validation.path = Path(made.filled.name)  # the page must not depend on where it was made
    report.write_text(report_html(made.validation), "utf-8")
    return [made.spec, made.empty, made.filled, report]


if __name__ == "__main__":
    for path in make_examples(EXAMPLES):
        sys.stdout.write(f"{path}\n")
