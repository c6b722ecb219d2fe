"""Standing ahead: whether a check holds the job up, asked for before every check is placed."""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.handles import Handle, Key, Part

EVERY_CHECK = "release"  # the table of every check, whose rows are named by the check's key


class StandingAhead(Part):
    """How checks stand, for a station that is placed before the table of every check is known."""

    def __init__(self) -> None:
        self.key, self.standing = EVERY_CHECK, Handle(name="standing")
        self.standing.home = self

    def names(self) -> Iterator[str]:
        """Of that table only this column is asked for ahead."""
        yield self.standing.name

    def has(self, name: str, row: str) -> bool:
        """Every check has its row there; what is asked in vain is refused once all is placed."""
        return bool(row) and name == self.standing.name

    def of(self, check: Key) -> Key:
        """The cell that says how a check stands."""
        return self.standing[check]
