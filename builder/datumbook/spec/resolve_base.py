"""A spec that stands on another: what it states goes over what its base states, table by table.

Lists of sections ([[holes]], [[banks]], [[outlines]], [[gallery_plugs]]) go over each other entry
by entry, by key; any other list, limit or figure is replaced whole.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path as FilePath
from typing import Any

from pydantic import BaseModel

from datumbook.messages.refusals import shown
from datumbook.spec.drafts import Draft, WrittenAt, parts_of
from datumbook.spec.limits import Limit
from datumbook.spec.positions import Path
from datumbook.spec.shipped import shipped_specs

BASED_ON, WITHOUT = "based_on", "without"
PATTERNED = ("places", "centres", "along", "across")  # written in one of several forms


def base_of(draft: Draft) -> FilePath | None:
    """Take the name of its base out of a draft, and return the file it means; None where it stands
    on none, or on one that is not there.
    """
    if BASED_ON not in draft.document:
        return None
    named = draft.document.pop(BASED_ON)
    shipped = shipped_specs()
    if not isinstance(named, str) or draft.folder is None:
        draft.refuse((BASED_ON,), "base-missing", shown(named), _advice("", shipped))
        return None
    found = draft.beside(named) or shipped.get(named)
    if found is None:
        draft.refuse((BASED_ON,), "base-missing", shown(named), _advice(named, shipped))
    return found


def _advice(named: str, shipped: Mapping[str, FilePath]) -> str:
    near = get_close_matches(named, shipped, n=1)
    return f'Did you mean "{near[0]}"?' if near else f"Shipped are {', '.join(shipped)}."


def over_base(base: Draft, own: Draft, model: type[BaseModel]) -> Draft:
    """A draft put over the one it stands on, less what it says it goes without."""
    without = own.document.pop(WITHOUT, [])
    gone = _meant_by(without if isinstance(without, list) else [without], base, own)
    merged = Draft(own.name, own.folder, {}, {}, base.faults + own.faults)
    kept = Draft(base.name, base.folder, {}, {})
    kept.document = _copied(base, (), kept.spots, (), gone)
    over = _Over(kept, own, merged.spots)
    merged.document = over.merged((), (), (), model)
    return merged


def _meant_by(names: list[Any], base: Draft, told: Draft) -> set[Path]:
    """The key paths of a base that dotted names mean, an entry of a list by its key."""
    found = set[Path]()
    for at, name in enumerate(names):
        path: Path = ()
        for word in str(name).split("."):
            here = dict(_items(base.at(path)))
            step = next((key for key, one in here.items() if word in (key, _name(one))), None)
            if step is None:
                known = [_name(one) or str(key) for key, one in here.items()]
                near = get_close_matches(word, known, n=1) or known
                told.refuse((WITHOUT, at), "without-unknown", shown(name), shown(", ".join(near)))
                break
            path = (*path, step)
        else:
            found.add(path)
    return found


def _copied(
    draft: Draft, at: Path, spots: dict[Path, WrittenAt], path: Path, gone: Collection[Path] = ()
) -> Any:
    """What stands in a draft, where it was written put down under the path it stands at now."""
    here = draft.at(at)
    if at in draft.spots:
        spots[path] = draft.spots[at]
    if isinstance(here, dict):
        return {
            key: _copied(draft, (*at, key), spots, (*path, key), gone)
            for key in here
            if (*at, key) not in gone
        }
    if isinstance(here, list):
        kept = [(*at, number) for number in range(len(here)) if (*at, number) not in gone]
        return [_copied(draft, one, spots, (*path, now), gone) for now, one in enumerate(kept)]
    return here


@dataclass(frozen=True)
class _Over:
    """A draft being put over its base; where each key of the two was written is put down under the
    path it stands at now.
    """

    base: Draft
    own: Draft
    spots: dict[Path, WrittenAt]

    def merged(self, below: Path, over: Path, path: Path, model: type[BaseModel] | None) -> Any:
        """What stands at a key of the draft put over what stands at that of its base."""
        under, stated = self.base.at(below), self.own.at(over)
        if len(path) == 1 and _sections(under) and _sections(stated):
            return self.entries(below, over, path, model)
        if not _goes_over(under, stated, path, model):
            return _copied(self.own, over, self.spots, path)
        if path in self.own.spots or over in self.own.spots:
            self.spots[path] = self.own.spots[over]
        known = dict(parts_of(model)) if model else {}
        return {
            key: self.one(
                (*below, key) if key in under else None,
                (*over, key) if key in stated else None,
                (*path, key),
                known.get(key),
            )
            for key in [*under, *(one for one in stated if one not in under)]
        }

    def entries(
        self, below: Path, over: Path, path: Path, model: type[BaseModel] | None
    ) -> list[Any]:
        """A list of sections put over another by the names of its entries; new ones stand
        behind.
        """
        under = {_name(one): (*below, at) for at, one in enumerate(self.base.at(below))}
        stated = {_name(one): (*over, at) for at, one in enumerate(self.own.at(over))}
        names = [*under, *(one for one in stated if one not in under)]
        self.spots[path] = self.own.spots.get(over, WrittenAt(self.own.name, 1))
        return [
            self.one(under.get(name), stated.get(name), (*path, at), model)
            for at, name in enumerate(names)
        ]

    def one(
        self, below: Path | None, over: Path | None, path: Path, model: type[BaseModel] | None
    ) -> Any:
        """What only one of the two states, or both put over each other."""
        if over is None:
            return _copied(self.base, below or (), self.spots, path)
        if below is None:
            return _copied(self.own, over, self.spots, path)
        return self.merged(below, over, path, model)


def _sections(listed: Any) -> bool:
    return isinstance(listed, list) and bool(listed) and all(map(_name, listed))


def _goes_over(under: Any, stated: Any, path: Path, model: type[BaseModel] | None) -> bool:
    """Whether two tables are put over each other key by key: no limits, figures or patterns."""
    tables = isinstance(under, dict) and isinstance(stated, dict)
    whole = (model is not None and issubclass(model, Limit)) or bool({*path[-1:]} & {*PATTERNED})
    return tables and not whole and "value" not in under and "value" not in stated


def _items(here: Any) -> Iterator[tuple[Any, Any]]:
    if isinstance(here, dict):
        yield from here.items()
    elif isinstance(here, list):
        yield from enumerate(here)


def _name(entry: Any) -> str:
    """What an entry of a list is called by: its key, or the face and bank of an outline."""
    if not isinstance(entry, dict):
        return ""
    if isinstance(entry.get("key"), str):
        return str(entry["key"])
    return "_".join(str(entry[one]) for one in ("of", "bank") if one in entry)
