"""Where each key of a TOML text stands: key path -> line. The parser of the standard library keeps
no positions.

Only texts that ``tomllib`` has accepted are walked, so nothing here needs to judge them.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from typing import Any

Path = tuple[str | int, ...]

BLANKS = re.compile(r"[ \t]*")
BETWEEN = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
STRING = re.compile(
    # several lines, with escapes; two more quotation marks may touch the end
    r'"""(?:[^\\]|\\.)*?"""(?:"{0,2})'
    r"|'''.*?'''(?:'{0,2})"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'",
    re.DOTALL,
)
NAME = rf"[ \t]*(?:[A-Za-z0-9_-]+|{STRING.pattern})[ \t]*"
KEY = re.compile(rf"{NAME}(?:\.{NAME})*", re.DOTALL)
SCALAR = re.compile(r"[^,\]}#\n]+")
CLOSED_BY = {"[": "]", "{": "}"}


def key_lines(text: str) -> dict[Path, int]:
    """Return the line on which each table, key and list entry of a TOML text first stands.

    >>> key_lines('[bores]\\nstroke = "3 in"\\n')
    {('bores',): 1, ('bores', 'stroke'): 2}
    """
    return _Walk(text).walked()


class _Walk:
    """One walk through a text, from its first letter to its last."""

    def __init__(self, text: str) -> None:
        self.text, self.at = text, 0
        self.ends = [found.start() for found in re.finditer("\n", text)]
        self.lines: dict[Path, int] = {}
        self.latest: dict[Path, int] = {}  # list of tables -> index of its latest entry

    def walked(self) -> dict[Path, int]:
        table: Path = ()
        self.skip(BETWEEN)
        while self.at < len(self.text):
            if self.text[self.at] == "[":
                table = self.header()
            else:
                self.pair(table)
            self.skip(BETWEEN)
        return self.lines

    def skip(self, pattern: re.Pattern[str]) -> str:
        found = pattern.match(self.text, self.at)
        start, self.at = self.at, found.end() if found else self.at
        return self.text[start : self.at]

    def mark(self, path: Path, start: int) -> None:
        for length in range(1, len(path) + 1):
            self.lines.setdefault(path[:length], bisect_right(self.ends, start - 1) + 1)

    def header(self) -> Path:
        """Walk [table] or [[list of tables]]; a name of such a list means its latest entry."""
        start, depth = self.at, 2 if self.text.startswith("[[", self.at) else 1
        self.at += depth
        path: Path = ()
        *above, last = self.key()
        for name in above:
            path = self.entry((*path, name))
        path = (*path, last)
        if depth == 2:
            self.latest[path] = self.latest.get(path, -1) + 1
        path = self.entry(path)
        self.mark(path, start)
        self.at += depth
        return path

    def entry(self, path: Path) -> Path:
        return (*path, self.latest[path]) if path in self.latest else path

    def key(self) -> list[str]:
        """Walk a key, dotted or not."""
        names: list[str] = []
        below: Any = tomllib.loads(f"{self.skip(KEY)} = 0")
        while below:
            names += below
            below = below[names[-1]]
        return names

    def pair(self, table: Path) -> None:
        """Walk key = value."""
        start = self.at
        path = (*table, *self.key())
        self.mark(path, start)
        self.at += 1  # the equals sign
        self.skip(BLANKS)
        self.value(path)

    def value(self, path: Path) -> None:
        """Walk a value; lists and inline tables are walked into."""
        letter = self.text[self.at]
        if letter in CLOSED_BY:
            self.members(CLOSED_BY[letter], path)
        else:
            self.skip(STRING if letter in "\"'" else SCALAR)

    def members(self, end: str, path: Path) -> None:
        """Walk the entries of a list or the pairs of an inline table up to its closing bracket."""
        self.at += 1
        index = 0
        self.skip(BETWEEN)
        while self.text[self.at] != end:
            if end == "]":
                self.mark((*path, index), self.at)
                self.value((*path, index))
            else:
                self.pair(path)
            index += 1
            self.skip(BETWEEN)
            self.at += self.text[self.at] == ","
            self.skip(BETWEEN)
        self.at += 1
