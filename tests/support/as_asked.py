"""What a book works out, a cell at a time: what no test asks for is not worked out."""

from __future__ import annotations

from collections.abc import Mapping

from datumbook.workbook.evaluation import AsTyped
from datumbook.workbook.layout import Layout


def values_of(layout: Layout, readings: Mapping[str, object]) -> AsTyped:
    """The values of a book, were these its readings."""
    return AsTyped(layout, readings, {})
