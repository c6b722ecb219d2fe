"""Lengths in a row, depths, units and places after the point, where a spec writes them shorter."""

from __future__ import annotations

from math import log10
from typing import Any

from datumbook.messages import ExpectedError
from datumbook.messages.refusals import shown
from datumbook.numbers.quantities import read_quantity
from datumbook.numbers.units import factor
from datumbook.spec.drafts import Draft
from datumbook.spec.positions import Path
from datumbook.spec.resolve_places import modelled, spaced
from datumbook.spec.written import Spaced

READ_IN = ("bores", "lands", "heights", "holes")
PLACES_IN_MM = {"bores": 3, "lands": 2, "heights": 3, "holes": 2}
PLACES_IN_INCHES = {"bores": 4, "lands": 3, "heights": 4, "holes": 3}
MOST_PLACES = 6
LARGEST_UNIT = 1000  # mm: no gauge of a block reads in more than metres
ENDS_OF_TRAVEL = ("top of ring travel", "bottom of ring travel")
DEPTHS = {  # how many depths there are -> the key of each
    1: ("top",),
    2: ("top", "bottom"),
    3: ("top", "middle", "bottom"),
    4: ("top", "upper", "lower", "bottom"),
    5: ("top", "upper", "middle", "lower", "bottom"),
}


def units_in_full(draft: Draft) -> None:
    """The unit of each group, as stated for it or for all, else that of the bores; and its places
    after the point, as usual for the unit where none are stated.
    """
    given = draft.document.get("units", {})
    common = given if isinstance(given, str) else _unit_of_bores(draft.document)
    if isinstance(given, str):
        draft.document["units"] = given = {}
    if not isinstance(given, dict):
        return
    common = _readable(draft, ("units",), common)
    for group in READ_IN:
        given.setdefault(group, common)
    draft.document["units"] = given
    places = draft.document.setdefault("decimals", {})
    if isinstance(places, dict):
        for group in READ_IN:
            places.setdefault(group, _usual_places(group, given[group]))


def _readable(draft: Draft, path: Path, unit: Any) -> Any:
    """A unit as it is stated; mm, with the fault put down, where no gauge reads in it."""
    try:
        if not isinstance(unit, str) or factor(unit, "mm") <= LARGEST_UNIT:
            return unit
    except ValueError:
        pass  # no unit, or none of length
    draft.refuse(path, "unit-not-length", shown(unit))
    return "mm"


def _unit_of_bores(document: dict[str, Any]) -> str:
    bores = document.get("bores")
    standard = bores.get("standard") if isinstance(bores, dict) else None
    ends = standard if isinstance(standard, dict) else {}
    for name in ("nominal", "from", "at_most", "at_least"):
        try:
            return read_quantity(ends[name], "[length]").unit
        except (KeyError, ExpectedError):
            continue
    return "mm"


def _usual_places(group: str, unit: Any) -> int:
    if unit == "in":
        return PLACES_IN_INCHES[group]
    try:
        finer = round(log10(factor(str(unit), "mm")))
    except ValueError:  # no unit of length: the model says so
        finer = 0
    return min(max(0, PLACES_IN_MM[group] + finer), MOST_PLACES)


def depths_in_full(draft: Draft) -> None:
    """Depths given as lengths alone, each with its key and its words."""
    bores = draft.document.get("bores")
    given = bores.get("depths") if isinstance(bores, dict) else None
    if not isinstance(given, list) or not all(isinstance(one, str) for one in given) or not given:
        return
    path = ("bores", "depths")
    if len(given) not in DEPTHS:
        draft.refuse(path, "depths-unnamed", str(len(given)), str(max(DEPTHS)))
        return
    for at, (key, depth) in enumerate(zip(DEPTHS[len(given)], given, strict=True)):
        words = {"top": ENDS_OF_TRAVEL[0], "bottom": ENDS_OF_TRAVEL[1]}.get(key, key)
        draft.at(path)[at] = {"key": key, "words": words, "at": depth}


def rows_in_full(draft: Draft) -> None:
    """Lengths evenly spaced, written out: bore centres, places of the tunnels, grids of a face."""
    document = draft.document
    engine = document.get("engine")
    engine = engine if isinstance(engine, dict) else {}
    _row(draft, ("lands", "centres"), engine.get("cylinders"))
    _row(draft, ("tunnels", "alignment", "places"), engine.get("bearing_caps"))
    for path, bank in draft.entries("banks"):
        held = bank.get("cylinders")
        _row(draft, (*path, "centres"), len(held) if isinstance(held, list) else None)
    for face in ("deck", "bottom"):
        for name in ("along", "across"):
            _row(draft, ("flatness", face, "grid", name), None)


def _row(draft: Draft, path: Path, count: Any) -> None:
    try:
        given = draft.at(path)
    except (KeyError, TypeError):
        return
    if not isinstance(given, dict):
        return
    form = modelled(draft, path, Spaced, given)
    count = form.points if form and form.points else min(count, 64) if type(count) is int else 0
    if form is None:
        draft.at(path[:-1])[path[-1]] = []
    elif (form.step is None) is (form.to is None) or count < 1:
        draft.refuse(path, "row-ends", shown(count or "?"))
        draft.at(path[:-1])[path[-1]] = []
    else:
        draft.set(path, spaced(form, count))
