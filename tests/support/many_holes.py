"""The shipped engine with any number of holes: honest blocks whose hole work is large."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

SHIPPED = Path(__file__).parents[2] / "specs" / "orrindale_qp4.toml"
GROUP = 12
"""Holes of one kind, as a sump rail or a bell housing has."""

_BETWEEN = ("[[holes]]", "# Further features")
_THREADS = ("M8x1.25", "M10x1.5", "M6x1", "5/16-18 UNC", "3/8-16 UNC", "1/4-20 UNC")
_FACES = {"bottom": (394, 230), "front": (190, 270), "rear": (190, 270)}
_FEW = 400  # holes that are of these threads; more are small, and stand closer
_PITCH, _CLOSE = 13, 4  # mm, from hole to hole and from the edge: enough metal about the largest


def with_holes(count: int, group: int = GROUP) -> str:
    """Return the text of the shipped spec with `count` tapped holes, `group` of a kind, on three of
    its faces.
    """
    text = SHIPPED.read_text("utf-8")
    first, after = (text.index(sign) for sign in _BETWEEN)
    firsts = range(0, count, group)
    groups = [
        _group(at, range(start, min(start + group, count)), at // len(_FACES) * group, count > _FEW)
        for at, start in enumerate(firsts)
    ]
    return text[:first] + "\n".join(groups) + "\n" + text[after:]


def _group(at: int, holes: range, before: int, close: bool) -> str:
    """One group of holes, all groups of a face in one grid over it: so many stand before them."""
    faces = list(_FACES)
    face = faces[at % len(faces)]
    pitch = _CLOSE if close else _PITCH
    long, wide = (size // pitch - 1 for size in _FACES[face])
    grid = (divmod((before + place) % (long * wide), long) for place in range(len(holes)))
    places = ", ".join(
        f'["{pitch * (along + 1)} mm", "{pitch * (across + 1)} mm"]' for across, along in grid
    )
    names = ", ".join(f'"H{number + 1}"' for number in holes)
    thread = "M3x0.5" if close else _THREADS[at % len(_THREADS)]
    return "\n".join(_lines(at, face, names, places, thread))


def _lines(at: int, face: str, names: str, places: str, thread: str) -> Iterator[str]:
    yield "[[holes]]"
    yield f'key = "rail_{at + 1}"'
    yield f'words = "Rail {at + 1}"'
    yield f'face = "{face}"'
    yield f"names = [{names}]"
    yield f"places = [{places}]"
    yield f'thread = "{thread}"'
    yield 'thread_depth = "12 mm"'
    yield 'floor = "27 mm"'
    yield 'operations = ["drill", "start tap", "finish tap", "deburr", "probe depth"]'
    yield ""
