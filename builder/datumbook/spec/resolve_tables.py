"""Coordinates of holes from a CSV file that stands beside the spec, as a measuring machine or a
drawing program writes them: a line for each hole, its name, along and across.
"""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path as FilePath
from typing import Any

from datumbook.messages.refusals import Fault, fault_at, shown
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
    key = group.get("key")
    if "names" not in group:
        group["names"] = [row["hole"] for _, row in rows if row.get("group", key) == key]
    own_last = sorted(rows, key=lambda one: one[1].get("group", key) == key)
    by_name = {row["hole"].lower(): (line, row) for line, row in own_last}
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
    where = draft.beside(file)
    if where is None or where.stat().st_size > LARGEST_FILE:
        draft.refuse(path, "places-file", shown(file), "a file beside the spec")
        return []
    try:
        (_, head), *rows = _lines(where)
    except SpecFaults as told:
        draft.faults += told.faults
        return []
    heads = [HEAD.fullmatch(one) for one in head]
    names = [HEAD_WORDS.get(one[1].lower(), one[1].lower()) if one else "" for one in heads]
    wrong = [one for one in COORDINATES if one not in names] or [
        one for one, times in Counter(names).items() if one and times > 1
    ]
    if wrong:
        fault = _fault(where, 1, ", ".join(wrong), "a head of its own for each, once")
        draft.faults.append(fault)
        return []
    units: dict[str, Any] = {
        f"{name} unit": one[2] for name, one in zip(names, heads, strict=True) if one and one[2]
    }
    found: list[tuple[int, Stated]] = []
    stood = set[tuple[str | None, str]]()
    for line, row in rows:
        cells = dict(zip(names, row, strict=False))
        if any(row[len(names) :]):
            wanted = f"{len(names)} columns, as many as heads, and a decimal point"
        elif any(not cells.get(one) for one in COORDINATES):
            wanted = "a name and both places"
        elif (name := (cells.get("group"), cells["hole"].lower())) in stood:
            wanted = "one line for each hole"
        else:
            stood.add(name)
            found.append((line, {**units, **cells}))
            continue
        draft.faults.append(_fault(where, line, ",".join(row), wanted))
    return found


def _lines(file: FilePath) -> Iterator[tuple[int, list[str]]]:
    """The head of a table and every line below it that says something, each with its number;
    SpecFaults with the line where a quote is left open or the file says nothing.
    """
    text = text_of(file)
    first = text.partition("\n")[0]
    mark = next((one for one in (";", "\t") if one in first), ",")
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    line = 1
    try:
        for row in rows:
            if rows.line_num > line:
                said = row[-1].partition("\n")[0]
                raise SpecFaults([_fault(file, line, said, "a quote closed on its own line")])
            cells = [one.strip() for one in row]
            if line == 1 or any(cells):
                yield line, cells
            line = rows.line_num + 1
    except csv.Error:
        said = text.splitlines()[line - 1]
        raise SpecFaults([_fault(file, line, said, "a quote closed where its cell ends")]) from None
    if line == 1:
        raise SpecFaults([_fault(file, 1, "an empty file", "a table")])


def _fault(file: FilePath, line: int, found: str, wanted: str) -> Fault:
    """What is wrong with a line of a file of coordinates."""
    said = fault_at((), "places-file", shown(found), wanted)
    return replace(said, file=file.as_posix(), line=line)
