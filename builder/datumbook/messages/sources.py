"""The bibliography: every source that an equation, a table or a published case cites, under one
name.

An equation says where it comes from in the `Source:` line of its docstring: the line names a key of
sources.toml, or says why there is none ("geometry", "common practice, no source", "count"), or "as"
and another equation's name.
"""

from __future__ import annotations

import inspect
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache
from importlib.resources import files
from types import MappingProxyType

KNOWN = ("opened", "reproduced", "from memory")


class SourceError(ValueError):
    """A mistake of ours in the bibliography or in a `Source:` line; the message says which entry
    and what is wrong.
    """


@dataclass(frozen=True, slots=True)
class Source:
    """One entry: how it is cited, whose it is, how a place in it is named, and how this project
    knows it.
    """

    key: str
    author: str
    title: str
    edition: str
    pages: str
    known: str

    def __str__(self) -> str:
        memory = "; from memory" if self.known == "from memory" else ""
        return f"{self.author}, {self.title} ({self.edition}){memory}"


@cache
def bibliography() -> Mapping[str, Source]:
    """Return every source by its key; SourceError for an entry with a field missing, empty or
    unknown.
    """
    return read_bibliography(
        files("datumbook.messages").joinpath("sources.toml").read_text("utf-8")
    )


def read_bibliography(text: str) -> Mapping[str, Source]:
    """Return the sources of a bibliography text by key; SourceError for an entry that is not
    whole.
    """
    return MappingProxyType(
        {key: _source(key, entry) for key, entry in tomllib.loads(text).items()}
    )


def _source(key: str, entry: Mapping[str, str]) -> Source:
    wanted = {field.name for field in fields(Source)} - {"key"}
    if set(entry) != wanted or not all(entry.values()):
        raise SourceError(
            f'sources.toml, ["{key}"]: give each of {", ".join(sorted(wanted))}, and nothing else.'
        )
    if entry["known"] not in KNOWN:
        raise SourceError(
            f'sources.toml, ["{key}"]: known = "{entry["known"]}" is none of {", ".join(KNOWN)}.'
        )
    return Source(key=key, **entry)


def cited(text: str) -> tuple[Source, ...]:
    """Return the sources a text names by key, in the order named; ISO 1 is not found inside ISO
    14253-1.
    """
    return tuple(bibliography()[key] for key in dict.fromkeys(_key_pattern().findall(text)))


@cache
def _key_pattern() -> re.Pattern[str]:
    longest_first = sorted(bibliography(), key=len, reverse=True)
    return re.compile(rf"(?<!\w)({'|'.join(map(re.escape, longest_first))})(?![\w-])")


def source_of(equation: object) -> str:
    """Return the words of an equation's `Source:` line on one line; SourceError if it has none."""
    found = re.search(
        r"^Source: (.+?)(?:\n\s*\n|\Z)", inspect.getdoc(equation) or "", re.MULTILINE | re.DOTALL
    )
    if not found:
        name = getattr(equation, "__name__", repr(equation))
        raise SourceError(
            f"{name}: its docstring has no `Source:` line; name a source, geometry, or common "
            f"practice."
        )
    return " ".join(found.group(1).split())
