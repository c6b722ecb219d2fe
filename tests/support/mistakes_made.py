"""Mistakes made in an engine file, one at a time."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass

from project import SUPPORT

FOLDER = SUPPORT / "spec_mistakes"
ENGINES = {path.stem: path.read_text("utf-8") for path in FOLDER.glob("*_*.toml")}
USUAL = "fallowick_t4"


@dataclass(frozen=True)
class Mistake:
    """One mistake: what it is, the file it is made in, the code it is told by, words of the line
    it is told at, and the codes told along with it.
    """

    what: str
    code: str
    text: str
    at: str
    also: frozenset[str]


def _made(row: dict[str, object]) -> Mistake:
    text = ENGINES[str(row.get("spec", USUAL))]
    first, then = row["replace"], row["by"]
    pairs = zip(*((one,) if isinstance(one, str) else one for one in (first, then)), strict=True)  # type: ignore[misc]
    for old, new in pairs:
        assert text.count(old) == 1, (row["what"], old)
        text = text.replace(old, new)
    also = frozenset(map(str, row.get("also", ())))  # type: ignore[call-overload]
    return Mistake(str(row["what"]), str(row["code"]), text, str(row["at"]), also)


MISTAKES = {
    one.what: one
    for one in map(_made, tomllib.loads((FOLDER / "mistakes.toml").read_text("utf-8"))["mistake"])
}
CODES = {one.code for one in MISTAKES.values()}
