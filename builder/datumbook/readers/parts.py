"""What a file of .xlsx holds beside its sheets, by allow-list: the book's own, a harmless addition,
or what runs and reaches out. None of it is opened, run or followed.

Source of the words: ECMA-376 part 1, 15 (parts and their relationships), and files of programs.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Sequence
from importlib.resources import files
from typing import NamedTuple

from datumbook.messages.findings import Finding, finding
from datumbook.readers.gate import Contents
from datumbook.readers.markup import elements

_RELATION_TAG = "{http://schemas.openxmlformats.org/package/2006/relationships}Relationship"
_TYPES = "{http://schemas.openxmlformats.org/package/2006/content-types}"

PART_KINDS: dict[str, dict[str, frozenset[str]]] = {
    file: {name: frozenset(words.split()) for name, words in kinds.items()}
    for file, kinds in tomllib.loads(
        files("datumbook.readers").joinpath("parts.toml").read_text("utf-8")
    ).items()
}
"""What a file may hold, by weight."""

_OF_XLSX = PART_KINDS["xlsx"]
_PROGRAM_TYPES = re.compile(
    r"vba|macrosheet|activex|controlproperties|dialogsheet|oleobject|ole$|x-msdownload|javascript"
    r"|webextension|x-executable|customui",
    re.IGNORECASE,
)
_DATA_TYPES = re.compile(
    r"externallink|connections|querytable|volatiledep|model\+data", re.IGNORECASE
)
_PROGRAM_NAMES = re.compile(r"vbaproject|macrosheets/|activex/|ctrlprops/|customui|\.(?:exe|js)$")
_DATA_NAMES = re.compile(r"externallinks/externallink|embeddings/|/connections\.xml|querytables/")
_PROGRAMS = (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", b"MZ", b"\x7fELF", b"#!", b"PK\x03\x04")
_SCRIPT = re.compile(
    rb"<(?:[\w.-]+:)?script[\s>/]|(?:java|vb)script:|DataMashup|FmlaMacro"
    rb"|\smacro\s*=\s*[\"'][^\"']|ObjectType\s*=\s*[\"'](?!Note[\"'])",
    re.IGNORECASE,
)
_OF_TEXTS = ("xl/worksheets/", "xl/sharedstrings", "xl/comments", "xl/threadedcomments")
_FOLLOWED_BY_HAND = re.compile(r"(?:https?://|mailto:)", re.IGNORECASE)


class _Tie(NamedTuple):
    """One relation of a part."""

    kind: str
    target: str
    outside: bool


def strange_parts(contents: Contents) -> list[Finding]:
    """Return what a file of .xlsx holds beside what it was given and what people harmlessly add."""
    ties = [tie for name in contents.parts for tie in _ties(contents, name)]
    types = _types(contents)
    found: dict[tuple[str, str], Finding] = {}
    for code, said in (*_by_ties(ties), *_told_twice(ties), *_by_parts(contents, types)):
        found.setdefault((code, said), finding(code, found=said))
    links = [one.target for one in ties if _is_link(one)]
    return [*found.values(), *links_beside(links)]


def links_beside(links: Sequence[str]) -> Iterator[Finding]:
    """Yield the one finding for links that a person follows by hand, none where there are none."""
    if links:
        yield finding("link-beside", found=links[0][:80], count=len(links))


def followed_by_hand(target: str) -> bool:
    """Say whether a link leads to a page or a letter, which nothing opens by itself."""
    return _FOLLOWED_BY_HAND.match(target) is not None


def holds_program(data: bytes) -> bool:
    """Say whether the bytes of a part are a program, an object or an archive of its own."""
    return data.startswith(_PROGRAMS)


def holds_script(data: bytes) -> bool:
    """Say whether the words of a part call a program, in any encoding."""
    return _SCRIPT.search(data.replace(b"\0", b"")) is not None


def _is_link(tie: _Tie) -> bool:
    return tie.outside and tie.kind == "hyperlink" and followed_by_hand(tie.target)


def _ties(contents: Contents, name: str) -> Iterator[_Tie]:
    if name.endswith(".rels"):
        for element in elements(contents, name, [_RELATION_TAG]):
            outside = element.get("TargetMode", "").casefold() == "external"
            kind = element.get("Type", "").rpartition("/")[2]
            yield _Tie(kind, element.get("Target", ""), outside)


def _types(contents: Contents) -> dict[str, str]:
    """The content type of each part, by its name or its ending."""
    tags = [f"{_TYPES}Override", f"{_TYPES}Default"]
    named, endings = dict[str, str](), dict[str, str]()
    for element in elements(contents, "[Content_Types].xml", tags):
        said = element.get("ContentType", "")
        if element.tag.endswith("Override"):
            named[element.get("PartName", "").lstrip("/").casefold()] = said
        else:
            endings[element.get("Extension", "").casefold()] = said
    return {
        name: named.get(name) or endings.get(name.rpartition(".")[2], "") for name in contents.parts
    }


def _by_ties(ties: list[_Tie]) -> Iterator[tuple[str, str]]:
    for tie in ties:
        if tie.outside and not _is_link(tie):
            yield "external-link", f"{tie.kind}: {tie.target[:80]}"
        elif tie.kind in _OF_XLSX["runs"]:
            yield "has-macros", tie.target
        elif tie.kind in _OF_XLSX["reaches"]:
            yield "external-link", tie.target
        elif tie.kind in _OF_XLSX["told"]:
            yield "part-added", tie.target
        elif tie.kind not in _OF_XLSX["own"] | _OF_XLSX["harmless"] | {"hyperlink"}:
            yield "part-strange", f"{tie.target[:80]}, a part of the kind {tie.kind[:40]}"


def _told_twice(ties: list[_Tie]) -> Iterator[tuple[str, str]]:
    """Kinds of which a book has one part: of two, programs may show either."""
    for kind in _OF_XLSX["once"]:
        targets = [tie.target for tie in ties if tie.kind == kind]
        if len(targets) > 1:
            yield "part-strange", f"{targets[-1][:80]}, a second part of the kind {kind}"


def _by_parts(contents: Contents, types: dict[str, str]) -> Iterator[tuple[str, str]]:
    for name, data in contents.parts.items():
        said = types[name]
        program = _PROGRAM_TYPES.search(said) or _PROGRAM_NAMES.search(name) or holds_program(data)
        script = not name.startswith(_OF_TEXTS) and holds_script(data)
        if program or script:
            yield "has-macros", name
        elif _DATA_TYPES.search(said) or _DATA_NAMES.search(name):
            yield "external-link", name
