"""Groups of holes written shorter: names in ranges, a group like another, places in patterns."""

from __future__ import annotations

import re
from collections.abc import Iterator
from copy import deepcopy
from difflib import get_close_matches
from typing import Any

from pydantic import TypeAdapter, ValidationError

from datumbook.messages.refusals import shown
from datumbook.numbers.quantities import Quantity
from datumbook.spec.drafts import Draft, Stated
from datumbook.spec.positions import Path
from datumbook.spec.resolve_places import Cylinders, pairs_of
from datumbook.spec.values import LengthPositive

RANGE = re.compile(r"([A-Za-z]+)([0-9]{1,4}) ?(?:-|–|\.\.) ?([A-Za-z]*)([0-9]{1,4})")
NAMED_SECTIONS = (("core_plugs",), ("dowels",), ("valve_clearances", "studs"))
MOST_NAMES = 400
A_LENGTH = TypeAdapter[Quantity](LengthPositive)


def names_in_full(draft: Draft) -> None:
    """Every name of a range by itself: D1-D14, alone or in a list."""
    for path, group in draft.entries("holes"):
        if "names" in group:
            group["names"] = _names(draft, (*path, "names"), group["names"])
    for path in NAMED_SECTIONS:
        here: Any = draft.document
        for step in path:
            here = here.get(step) if isinstance(here, dict) else None
        if isinstance(here, dict) and "names" in here:
            here["names"] = _names(draft, (*path, "names"), here["names"])


def _names(draft: Draft, path: Path, given: Any) -> Any:
    listed = given.split(",") if isinstance(given, str) else given
    if not isinstance(listed, list):
        return given
    spots, names = dict(draft.spots), list[Any]()
    for at, entry in enumerate(listed):
        for name in _range(entry.strip()) if isinstance(entry, str) else [entry]:
            if (spot := spots.get((*path, at)) or spots.get(path)) is not None:
                draft.spots[(*path, len(names))] = spot
            names.append(name)
    if len(names) > MOST_NAMES:
        draft.refuse(path, "names-too-many", shown(given), str(MOST_NAMES))
        return names[:1]
    return names


def _range(text: str) -> list[str]:
    """The names a range means; what is none is a name by itself.

    >>> _range("D8-D11")
    ['D8', 'D9', 'D10', 'D11']
    """
    found = RANGE.fullmatch(text)
    if not found or found[3] not in ("", found[1]):
        return [text]
    first, last = int(found[2]), int(found[4])
    way = 1 if last >= first else -1
    wide = len(found[2]) if found[2].startswith("0") else 0
    return [f"{found[1]}{number:0{wide}d}" for number in range(first, last + way, way)]


def words_in_full(draft: Draft) -> None:
    """What holes, banks and plugs are called on the sheets, where only their key is stated."""
    for name in ("holes", "banks", "gallery_plugs"):
        for _, entry in draft.entries(name):
            key = entry.get("key")
            if "words" not in entry and isinstance(key, str) and key:
                entry["words"] = key.replace("_", " ").capitalize()


def holes_in_full(draft: Draft) -> None:
    """Every group with all it says, and every hole at its own place."""
    groups = {str(group.get("key")): path for path, group in draft.entries("holes")}
    for path, group in draft.entries("holes"):
        _made_like(draft, path, group, groups, ())
    for path, group in draft.entries("holes"):
        places = group.get("places")
        if isinstance(places, dict) or (isinstance(places, list) and _has_tables(places)):
            found = pairs_of(draft, (*path, "places"), places, lambda at: _cylinders(draft, at))
            draft.set((*path, "places"), found)


def _has_tables(entries: list[Any]) -> bool:
    return any(isinstance(entry, dict) for entry in entries)


def _made_like(
    draft: Draft, path: Path, group: Stated, groups: dict[str, Path], above: tuple[str, ...]
) -> None:
    """Put what a group says over what the group says that it is like: but for the names, and in
    another face for places and bank.
    """
    if "like" not in group:
        return
    like = group["like"]
    if not isinstance(like, str) or like not in groups or like in above:
        near = get_close_matches(str(like), groups, n=1) or list(groups)
        draft.refuse((*path, "like"), "like-unknown", shown(like), shown(", ".join(near)))
        del group["like"]
        return
    del group["like"]
    model = draft.at(groups[like])
    _made_like(draft, groups[like], model, groups, (*above, str(group.get("key"))))
    elsewhere = group.get("face", model.get("face")) != model.get("face")
    kept = ("names", "bank", "places") if elsewhere else ("names",)
    for name, value in model.items():
        if name in kept:
            continue
        if name not in group:
            group[name] = deepcopy(value)
        elif isinstance(value, dict) and isinstance(group[name], dict) and name != "places":
            group[name] = {**deepcopy(value), **group[name]}


def _cylinders(draft: Draft, path: Path) -> Cylinders | None:
    """Where the cylinders stand on the face of a group; None, with the fault put down, where that
    is not known.
    """
    group = draft.at(path[:2])
    face, bank = group.get("face"), group.get("bank")
    along = dict(_centres(draft.document, bank)) if face in ("deck", "bottom") else {}
    if not along:
        draft.refuse(path, "cylinders-line", str(face))
        return None
    outline = next(
        (
            one
            for _, one in draft.entries("outlines")
            if one.get("of") == "deck" and one.get("bank") == bank
        ),
        {},
    )
    return Cylinders(along, _length(outline.get("bores_across")) if face == "deck" else None)


def _centres(document: Stated, bank: Any) -> Iterator[tuple[int, Quantity]]:
    """Each cylinder of a bank, or of the one row there is, with its place along."""
    holder: Any = document.get("lands")
    numbers: Any = None
    if bank is not None:
        banks = document.get("banks")
        entries = [one for one in banks if isinstance(one, dict)] if isinstance(banks, list) else []
        holder = next((one for one in entries if one.get("key") == bank), None)
        numbers = holder.get("cylinders") if holder else None
    centres = holder.get("centres") if isinstance(holder, dict) else None
    if not isinstance(centres, list):
        return
    for at, text in enumerate(centres):
        known = isinstance(numbers, list) and at < len(numbers)
        number = numbers[at] if known else at + 1
        place = _length(text)
        if place is not None and isinstance(number, int):
            yield number, place


def _length(given: Any) -> Quantity | None:
    try:
        return A_LENGTH.validate_python(given)
    except ValidationError:
        return None
