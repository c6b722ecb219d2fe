"""`datumbook plan`: what may be cut."""

from __future__ import annotations

from datumbook.commands.inputs import BookFile, readable
from datumbook.commands.outputs import Json
from datumbook.commands.printing import say, say_json


def plan(book: BookFile, json: Json = False) -> None:
    """Say what may be cut: the least metal under all limits, or which limit forbids it; and which
    part goes where.
    """
    made = readable(book)
    if json:
        from datumbook.api.plan_document import plan_document

        say_json(plan_document(made))
        return
    from datumbook.planning import plan as planned
    from datumbook.planning import plan_lines
    from datumbook.planning.pairing import pairing_lines

    say(*plan_lines(planned(made)), *pairing_lines(made))
