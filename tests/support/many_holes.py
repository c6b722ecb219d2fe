"""The shipped engine with any number of holes: honest blocks whose hole work is large."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

SHIPPED = Path(__file__).parents[2] / "specs" / "orrindale_qp4.toml"
GROUP = 12
"""Holes of one kind, as a sump rail or a bell housing has."""

_BETWEEN = ("[[holes]]", "# Further features")
_THREADS = ("M8x1.25", "M10x1.5", "M6x1", "5/16-18 UNC", "3/8-16 UNC", "1/4-20 UNC")
_FACES = {"bottom": (394, 230), "front": (190, 270), "rear": (190, 270), "deck": (394, 190)}


def with_holes(count: int, group: int = GROUP) -> str:
    """Return the text of the shipped spec with `count` tapped holes, `group` of a kind, in rows on
    four of its faces.
    """
    text = SHIPPED.read_text("utf-8")
    first, after = (text.index(sign) for sign in _BETWEEN)
    firsts = range(0, count, group)
    groups = [
        _group(at, range(start, min(start + group, count))) for at, start in enumerate(firsts)
    ]
    return text[:first] + "\n".join(groups) + "\n" + text[after:]


def _group(at: int, holes: range) -> str:
    """One group of holes: a line of holes across a face, each group on a line of its own."""
    face = list(_FACES)[at % len(_FACES)]
    along, across = _FACES[face]
    line = 12 + (at // len(_FACES) * 23) % (across - 20)
    step = (along - 30) / max(len(holes) - 1, 1)
    places = ", ".join(
        f'["{15 + step * place:.1f} mm", "{line} mm"]' for place in range(len(holes))
    )
    names = ", ".join(f'"H{number + 1}"' for number in holes)
    return "\n".join(_lines(at, face, names, places))


def _lines(at: int, face: str, names: str, places: str) -> Iterator[str]:
    yield "[[holes]]"
    yield f'key = "rail_{at + 1}"'
    yield f'words = "Rail {at + 1}"'
    yield f'face = "{face}"'
    yield f"names = [{names}]"
    yield f"places = [{places}]"
    yield f'thread = "{_THREADS[at % len(_THREADS)]}"'
    yield 'thread_depth = "12 mm"'
    yield 'floor = "27 mm"'
    yield 'operations = ["drill", "start tap", "finish tap", "deburr", "probe depth"]'
    yield ""
