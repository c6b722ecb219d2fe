"""What is printed at the head and at the foot of every page of a sheet."""

from __future__ import annotations

from datumbook.workbook.layout import Layout


def head_of(layout: Layout, sheet: str) -> tuple[str, str]:
    """Return the words at the left and at the right of the head of a sheet's pages."""
    return sheet, f"Job {layout.job.block} · book {layout.identity}"


FOOT = ("page", "of")
"""The words before the number of a page and before how many there are."""
