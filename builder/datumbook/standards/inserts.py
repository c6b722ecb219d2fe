"""The drills for wire-thread inserts, by the thread they restore."""

from __future__ import annotations

from dataclasses import dataclass

from datumbook.standards import row_called, table
from datumbook.standards.threads import Thread


@dataclass(frozen=True, slots=True)
class InsertDrill:
    """The drill for the insert of a thread: `name` is that thread, as its table writes it."""

    name: str
    drill: str
    source: str


def insert_drills() -> list[InsertDrill]:
    """Return the drills that are known, inserts of metric threads first."""
    return [
        InsertDrill(row["thread"], row["drill"], row["source"]) for row in table("inserts")["row"]
    ]


def insert_drill(thread: Thread) -> InsertDrill:
    """Return the drill for the insert of a thread; LookupError naming the threads known.

    >>> from datumbook.standards.threads import parse_thread
    >>> insert_drill(parse_thread("3/8-16")).drill
    'X'
    """
    return row_called(
        thread.designation, insert_drills(), "has no insert known here, name its drill: known are"
    )
