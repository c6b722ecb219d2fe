"""`datumbook compare`: the same block at two dates."""

from __future__ import annotations

from datumbook.commands.inputs import BookFile, readable
from datumbook.commands.printing import say


def compare(first: BookFile, second: BookFile) -> None:
    """Compare the same block at two dates, against the instruments' uncertainty."""
    from datumbook.comparison import compare as compared
    from datumbook.comparison import comparison_lines

    say(*comparison_lines(compared(readable(first), readable(second))))
