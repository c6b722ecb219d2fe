"""`datumbook compare`: the same block at two dates."""

from __future__ import annotations

from datumbook.commands.inputs import BookFile, readable
from datumbook.commands.outputs import Json
from datumbook.commands.printing import say, say_json


def compare(first: BookFile, second: BookFile, json: Json = False) -> None:
    """Compare the same block at two dates, against the instruments' uncertainty."""
    one, two = readable(first), readable(second)
    if json:
        from datumbook.api.comparison_document import comparison_document

        say_json(comparison_document(one, two))
        return
    from datumbook.comparison import compare as compared
    from datumbook.comparison import comparison_lines

    say(*comparison_lines(compared(one, two)))
