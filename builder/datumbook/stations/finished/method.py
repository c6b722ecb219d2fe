"""Method: every equation the book uses, in words, with its formula and its source; and the usual
cautions.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable
from typing import Any

from datumbook.cells.tables import Prose, Sheet
from datumbook.equations import standings, verdicts
from datumbook.formulas.spelling import in_words
from datumbook.standards import table
from datumbook.workbook.layout import Layout

JUDGING = {
    verdicts.__name__,
    standings.__name__,
}  # what says what a verdict is, rather than what a size is


class MethodPage:
    """Every equation by which a result of the placed book is worked out."""

    def __init__(self, layout: Layout) -> None:
        self.used = {
            one.__name__: one
            for place in layout.places.values()
            if place.role == "result" and (one := place.equation)
            if one.__module__ not in JUDGING
        }

    def sheet(self) -> Sheet:
        """The sheet of the method."""
        head = ("Result and formula", "What it is", "Source")
        lines = [head, *(explained(equation) for _, equation in sorted(self.used.items()))]
        return Sheet(
            name="Method",
            read=True,
            title="Method and cautions",
            parts=(
                Prose(
                    title="Cautions",
                    lines=[(line,) for line in table("cautions")["lines"]],
                    widths=(3,),
                ),
                Prose(title="Equations", lines=lines, widths=(1, 1, 1)),
            ),
            widths={1: 56, 2: 56, 3: 40},
        )


def explained(equation: Callable[..., Any]) -> tuple[str, str, str]:
    """An equation's name with its formula, what it is, and its source."""
    text = inspect.getdoc(equation) or ""
    what = " ".join(text.split("\n\n")[0].split())
    source = re.search(r"Source: (.*?)(?:\n\n|\Z)", text, re.DOTALL)
    said = " ".join(source[1].split()) if source else ""
    return f"{equation.__name__.replace('_', ' ')} = {in_words(equation)}", what, said
