"""With what a command ends: one table, printed by `--help` and in the guide."""

from __future__ import annotations

FULFILLED, ON_HOLD, WRONG_USE, UNTRUSTED = 0, 1, 2, 3
FAULTY, OUR_FAILURE, NO_ROOM, INTERRUPTED = 4, 5, 6, 130
STATUSES = {
    FULFILLED: "done; of a book: it may go",
    ON_HOLD: "the book is on hold; of a spec: there are warnings",
    WRONG_USE: "used wrongly, or a book that cannot be read",
    UNTRUSTED: "the book is damaged or none of ours",
    FAULTY: "the spec or job file is at fault",
    OUR_FAILURE: "datumbook itself failed",
    NO_ROOM: "the system would not read or write: full, locked, not allowed, nobody listening",
    INTERRUPTED: "stopped at the keyboard",
}


def status_table() -> str:
    """The table as lines of text."""
    return "\n".join(f"{status:>3}  {words}" for status, words in STATUSES.items())
