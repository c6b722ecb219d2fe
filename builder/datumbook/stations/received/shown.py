"""What stands elsewhere in the book, shown again."""

from __future__ import annotations

from collections.abc import Sequence

from datumbook.cells.columns import Input, Per, Result
from datumbook.equations import standings


def shown_words(
    name: str,
    heading: str,
    said: Per[Input],
    rows: Sequence[str] | None = None,
    width: float = 0.0,
    day: bool = False,
) -> Result:
    """A column of words of another table, shown again; `day` where they say a day."""
    return Result(
        name=name,
        words=heading,
        equation=standings.said_again,
        inputs={"words": said},
        rows=rows,
        width=width,
        day=day,
    )
