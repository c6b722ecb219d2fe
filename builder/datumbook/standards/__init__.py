"""Tables of the standards as data files with their sources, and the parsers of what people write
for a row of them.

A row that is not in a table is refused with the nearest rows named; nothing is guessed.
"""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def table(name: str) -> dict[str, Any]:
    """Return a data file of this folder, by its name without `.toml`; read once, to be looked at
    and not changed.
    """
    return tomllib.loads(files(__name__).joinpath(f"{name}.toml").read_text("utf-8"))


def hole_allowances() -> dict[str, tuple[str, str]]:
    """What a shop allows round a hole where the spec says nothing: name -> (value as written, where
    it comes from).
    """
    return {name: (row["value"], row["source"]) for name, row in table("holes").items()}
