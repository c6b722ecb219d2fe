"""What a file of .ods holds beside its sheets, by allow-list: the book's own, a harmless addition,
or what runs and reaches out. None of it is opened, run or followed.

Source of the words: OASIS OpenDocument 1.3 part 2, 3 (packages), and part 3 (from memory).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from datumbook.messages.findings import Finding, finding
from datumbook.readers.gate import Contents
from datumbook.readers.markup import Element, elements
from datumbook.readers.parts import PART_KINDS, followed_by_hand, holds_program, links_beside

_NAMESPACE = "{urn:oasis:names:tc:opendocument:xmlns:"
_LEADS_TO = "{http://www.w3.org/1999/xlink}href"
_MANIFEST = f"{_NAMESPACE}manifest:1.0}}"

_OWN = re.compile(
    r"(?:mimetype|manifest\.rdf|layout-cache|(?:object[^/]*/)?(?:content|styles|meta|settings)\.xml"
    r"|meta-inf/(?:manifest|documentsignatures)\.xml|thumbnails/.*|pictures/.*|media/.*"
    r"|objectreplacements/.*|object[^/]*/(?:pictures/.*)?|configurations2/.*|.*/)"
)
_PROGRAM = re.compile(r"basic/|scripts/|dialogs/|.*\.(?:exe|js|py|jar|bsh|class)$|.*macro")
_CHART = ("application/vnd.oasis.opendocument.chart", "application/vnd.oasis.opendocument.graphics")

_OF_ODS = PART_KINDS["ods"]
_FORMS = {"form:form"}  # empty in every sheet some programs save
_SPACES = (*sorted(_OF_ODS["none"]), "drawing", "presentation", "svg-compatible")
_LEADING_TAGS = [f"{_NAMESPACE}{space}:1.0}}*" for space in _SPACES] + [
    f"{_NAMESPACE}{space}:1.0}}{word}"
    for space, _, word in (
        one.partition(":")
        for one in sorted(_OF_ODS["runs"] | _OF_ODS["reaches"] | _OF_ODS["leading"])
    )
]
_INSIDE = re.compile(r"(?:\./)?(?:Pictures|Object|ObjectReplacements|Media)\b[^:]*", re.IGNORECASE)


def strange_parts(contents: Contents) -> list[Finding]:
    """Return what a file of .ods holds beside what it was given and what people harmlessly add."""
    found: dict[tuple[str, str], Finding] = {}
    links: list[str] = []
    for code, said in (*_by_names(contents), *_by_content(contents)):
        if code == "link-beside":
            links.append(said)
        else:
            found.setdefault((code, said), finding(code, found=said))
    return [*found.values(), *links_beside(links)]


def _by_names(contents: Contents) -> Iterator[tuple[str, str]]:
    objects = {path.casefold(): kind for path, kind in _objects(contents)}
    for path, kind in objects.items():
        if kind not in _CHART:
            yield "external-link", f"{path} ({kind[:60]})"
    charts = tuple(objects)
    for name, data in contents.parts.items():
        replaced = name.startswith("objectreplacements/")
        # an accelerator or a menu of the file's own may call a program
        script = name.startswith("configurations2/") and b"script:" in data
        if _PROGRAM.match(name) or script or (holds_program(data) and not replaced):
            yield "has-macros", name
        elif not (_OWN.fullmatch(name) or name.startswith(charts)):
            yield "part-strange", name


def _objects(contents: Contents) -> Iterator[tuple[str, str]]:
    """The folders of the file that hold an object, with what it is."""
    tags = [f"{_MANIFEST}file-entry"]
    for element in elements(contents, "META-INF/manifest.xml", tags, optional=True):
        kind = element.get(f"{_MANIFEST}media-type", "")
        path = element.get(f"{_MANIFEST}full-path", "")
        whole = kind.startswith("application/vnd.oasis") and path != "/"
        if path.endswith("/") and (whole or (kind and path.casefold().startswith("object"))):
            yield path, kind


def _by_content(contents: Contents) -> Iterator[tuple[str, str]]:
    charts = _charts(contents)
    for name in contents.parts:
        if name.endswith(("content.xml", "styles.xml")):
            for element in elements(contents, name, _LEADING_TAGS):
                yield from _by_element(element, charts)


def _charts(contents: Contents) -> set[str]:
    """The folders of charts that do lie in the file, as they are led to: programs name them as they
    like.
    """
    named = {path.casefold() for path, kind in _objects(contents) if kind in _CHART}
    return {
        path.rstrip("/")
        for path in named
        if re.fullmatch(r"[\w-]+/", path) and f"{path}content.xml" in contents.parts
    }


def _by_element(element: Element, charts: set[str]) -> Iterator[tuple[str, str]]:
    space, _, word = element.tag.partition("}")
    kind = space.removeprefix(_NAMESPACE).partition(":")[0]
    tag, reaching = f"{kind}:{word}", _OF_ODS["reaches"]
    if tag in _OF_ODS["runs"] or (kind in _OF_ODS["none"] and tag not in _FORMS | reaching):
        yield "has-macros", f"an element {tag}"
    elif tag in reaching:
        yield "external-link", f"an element {tag}"
    target = element.get(_LEADS_TO)
    inside = target and (
        target.startswith("#")
        or _INSIDE.fullmatch(target)
        or target.removeprefix("./").rstrip("/").casefold() in charts
    )
    if target and not inside:
        by_hand = tag in ("text:a", "drawing:a") and followed_by_hand(target)
        yield ("link-beside", target) if by_hand else ("external-link", target[:80])
