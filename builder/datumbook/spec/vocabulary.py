"""The words that the tables know for a key of a spec, for its schema and its reference.

Closed words are all there are; of open ones others may stand too, and are then taken as they are.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from pydantic import BaseModel

from datumbook.numbers.quantities import Quantity
from datumbook.spec.features import Tunnels
from datumbook.spec.groups import GROUPS
from datumbook.spec.holes import Shop
from datumbook.spec.soundness import GAUGES

KeyOfModel = tuple[str, str]
WITH_SIZES: tuple[type[BaseModel], ...] = (Shop, Tunnels)  # models with sizes that are usual


def closed_words() -> dict[KeyOfModel, tuple[str, ...]]:
    """Return the words of which one must stand, by model and key."""
    from datumbook.standards.order import operations  # tables, read when a schema is

    known = tuple(operations())
    return {
        **{("Units", group): GAUGES for group in GROUPS},
        ("Order", "left_out"): known,
        ("Overruled", "before"): known,
        ("Overruled", "after"): known,
        ("Liners", "material"): _materials(),
        ("Liners", "block"): _materials(),
    }


def open_words() -> dict[KeyOfModel, tuple[str, ...]]:
    """Return the words that the tables have figures for, by model and key."""
    from datumbook.standards import table

    cut = tuple(sorted({row["material"] for row in table("cutting")["speed"]}))
    return {("Engine", "material"): cut}


def _materials() -> tuple[str, ...]:
    """The materials whose stiffness and expansion the table holds."""
    from datumbook.standards.materials import all_figures

    wanted = {"modulus", "poisson", "expansion"}
    found: dict[str, set[str]] = {}
    for one in all_figures():
        found.setdefault(one.material, set()).add(one.what)
    return tuple(name for name, figures in found.items() if wanted <= figures)


def with_words(schema: dict[str, Any]) -> dict[str, Any]:
    """Return a schema in which each key that takes such words names them, and each size that is
    usual says what it is where it is left out.
    """
    for words, allow in ((closed_words(), _closed), (open_words(), _open)):
        for (model, key), known in words.items():
            entry = schema["$defs"][model]["properties"][key]
            if "items" in entry:
                entry["items"] = allow(entry["items"], known)
            else:
                schema["$defs"][model]["properties"][key] = allow(entry, known)
    for of in WITH_SIZES:
        for key, field in of.model_fields.items():
            if isinstance(field.default, Quantity):
                entry = schema["$defs"][of.__name__]["properties"][key]
                entry["default"] = field.default.text
    return schema


Allow = Callable[[dict[str, Any], tuple[str, ...]], dict[str, Any]]


def _closed(entry: dict[str, Any], known: tuple[str, ...]) -> dict[str, Any]:
    kept = {name: value for name, value in entry.items() if name not in ("minLength", "examples")}
    return {**kept, "enum": list(known)}


def _open(entry: dict[str, Any], known: tuple[str, ...]) -> dict[str, Any]:
    kept = {name: value for name, value in entry.items() if name not in ("type", "minLength")}
    any_word = {"type": "string", "minLength": 1}
    return {**kept, "anyOf": [{"type": "string", "enum": list(known)}, any_word]}
