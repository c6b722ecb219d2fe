"""Tables of the standards as data files with their sources, and the parsers of what people write
for a row of them.

A row that is not in a table is refused with the nearest rows named; nothing is guessed.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from functools import cache
from importlib.resources import files
from typing import Any, Protocol, TypeVar


class Called(Protocol):
    """A row of a table that people know by a name."""

    @property
    def name(self) -> str:
        """The name, as the table has it."""


AnyRow = TypeVar("AnyRow", bound=Called)


@cache
def table(name: str) -> dict[str, Any]:
    """Return a data file of this folder, by its name without `.toml`; read once, to be looked at
    and not changed.
    """
    return tomllib.loads(files(__name__).joinpath(f"{name}.toml").read_text("utf-8"))


def row_called(name: str, rows: Iterable[AnyRow], refusal: str) -> AnyRow:
    """Return the row of a name; LookupError with the refusal, and the names known behind it."""
    known = {row.name: row for row in rows}
    if name not in known:
        raise LookupError(f'"{name}" {refusal} {", ".join(known)}.')
    return known[name]


def hole_allowances() -> dict[str, tuple[str, str]]:
    """What a shop allows round a hole where the spec says nothing: name -> (value as written, where
    it comes from).
    """
    return {name: (row["value"], row["source"]) for name, row in table("holes").items()}
