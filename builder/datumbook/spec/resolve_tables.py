"""Coordinates of holes from a CSV file that stands beside the spec, as a measuring machine or a
drawing program writes them: a line for each hole, its name, along and across.
"""

from __future__ import annotations

import csv
import re
from dataclasses import replace
from pathlib import Path as FilePath
from typing import Any

from datumbook.messages.refusals import fault_at, shown
from datumbook.spec.documents import text_of
from datumbook.spec.drafts import Draft, Stated
from datumbook.spec.faults import SpecFaults
from datumbook.spec.positions import Path

HEAD = re.compile(
    r"(hole|name|group|unit|along|across|x|y)[ _]*[\[(]?([a-zµ\"]*)[\])]?", re.IGNORECASE
)
HEAD_WORDS = {"name": "hole", "x": "along", "y": "across"}
COORDINATES = ("hole", "along", "across")
LARGEST_FILE = 2_000_000  # bytes: no engine has so many holes


def holes_from_files(draft: Draft) -> None:
    """Places that name a file, each written out from it; names as well where none are stated."""
    read: dict[str, list[tuple[int, Stated]]] = {}
    for path, group in draft.entries("holes"):
        given = group.get("places")
        if not isinstance(given, str):
            continue
        here = (*path, "places")
        if given not in read:
            read[given] = _read(draft, here, given)
        group["places"] = []
        if read[given]:
            _placed(draft, here, group, given, read[given])


def _placed(
    draft: Draft, path: Path, group: Stated, file: str, rows: list[tuple[int, Stated]]
) -> None:
    if "names" not in group:
        key = group.get("key")
        group["names"] = [row["hole"] for _, row in rows if row.get("group", key) == key]
    by_name = {row["hole"].lower(): (line, row) for line, row in rows}
    names = group["names"] if isinstance(group["names"], list) else []
    for name in names:
        found = by_name.get(str(name).lower())
        if found is None:
            draft.refuse(path, "hole-not-in-file", shown(name), file)
            continue
        group["places"].append([_size(found[1], way) for way in ("along", "across")])


def _size(row: Stated, way: str) -> str:
    """A coordinate with the unit it names, else that of its line or of its column."""
    text, unit = row[way], row.get("unit") or row.get(f"{way} unit", "")
    return text if not unit or re.search(r"[A-Za-zµ\"”″]\s*$", text) else f"{text} {unit}"


def _read(draft: Draft, path: Path, file: str) -> list[tuple[int, Stated]]:
    """The lines of a file, each with its number; [] with the fault put down where it is no such
    table.
    """
    where = draft.folder / file if draft.folder is not None else None
    if where is None or not where.is_file() or where.stat().st_size > LARGEST_FILE:
        draft.refuse(path, "places-file", shown(file), "a file beside the spec")
        return []
    try:
        lines = text_of(where).splitlines()
    except SpecFaults as told:
        draft.faults += told.faults
        return []
    mark = next((one for one in (";", "\t") if one in lines[0]), ",") if lines else ","
    try:
        rows = list(csv.reader(lines, delimiter=mark))
    except csv.Error as broken:
        draft.refuse(path, "places-file", shown(broken), "a table")
        return []
    heads = [HEAD.fullmatch(one.strip()) for one in rows[0]] if rows else []
    names = [HEAD_WORDS.get(one[1].lower(), one[1].lower()) if one else "" for one in heads]
    lacking = [one for one in COORDINATES if one not in names]
    if lacking:
        fault = fault_at((), "places-file", shown(", ".join(lacking)), "a head of its own for each")
        draft.faults.append(replace(fault, file=str(where), line=1))
        return []
    units: dict[str, Any] = {
        f"{name} unit": one[2] for name, one in zip(names, heads, strict=True) if one and one[2]
    }
    found: list[tuple[int, Stated]] = []
    for line, row in enumerate(rows[1:], start=2):
        cells = dict(zip(names, (one.strip() for one in row), strict=False))
        if not any(cells.values()):
            continue
        if any(not cells.get(one) for one in COORDINATES):
            fault = fault_at((), "places-file", shown(",".join(row)), "a name and both places")
            draft.faults.append(replace(fault, file=FilePath(where).as_posix(), line=line))
            continue
        found.append((line, {**units, **cells}))
    return found
