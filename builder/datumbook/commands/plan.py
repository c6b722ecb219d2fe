"""`datumbook plan`: what may be cut."""

from __future__ import annotations

from datumbook.commands.inputs import BookFile, readable
from datumbook.commands.printing import say


def plan(book: BookFile) -> None:
    """Say what may be cut: the least metal under all limits, or which limit forbids it; and which
    part goes where.
    """
    from datumbook.planning import plan as planned
    from datumbook.planning import plan_lines
    from datumbook.planning.pairing import pairing_lines

    made = readable(book)
    say(*plan_lines(planned(made)), *pairing_lines(made))
