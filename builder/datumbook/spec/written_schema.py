"""The schema of a spec as it is written: the full form, and beside each part of it what may stand
there instead.
"""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel

from datumbook.spec.limits import FORMS, Limit
from datumbook.spec.written import PATTERNS, Spaced

NAMES_AS_TEXT = {
    "type": "string",
    "description": "Names, ranges of them such as D1-D14, with commas.",
}
ANY_TEXT = {"type": "string", "minLength": 1}
ROOT_KEYS = {
    "based_on": ANY_TEXT
    | {"description": "Spec that this one stands on: a shipped engine, or a file beside it."},
    "without": {
        "type": "array",
        "items": ANY_TEXT,
        "description": "What of that spec this one goes without, such as holes.front_cover.",
    },
}
SOURCE = ANY_TEXT | {
    "description": "Where every limit below comes from that names no source itself."
}
LIMIT_TEXT = {
    "type": "string",
    "examples": ["82.000 .. 82.018 mm", "<= 0.040 mm", "14.250 ± 0.002 in", "82 +0.018/-0 mm"],
}
ROWS = (
    ("Lands", "centres"),
    ("Bank", "centres"),
    ("Alignment", "places"),
    ("Grid", "along"),
    ("Grid", "across"),
)
NAMED_HOLES = ("HoleGroup", "CorePlugs", "Dowels", "Studs")
NOT_WANTED = {  # what the model wants and a shorter form supplies
    "HoleGroup": ("words", "face", "thread", "thread_depth", "floor", "operations", "names"),
    "Bank": ("words",),
    "GalleryPlug": ("words",),
    "Units": ("bores", "lands", "heights", "holes"),
    "Decimals": ("bores", "lands", "heights", "holes"),
}


def as_written(schema: dict[str, Any]) -> dict[str, Any]:
    """Return the schema of the full form with the shorter forms beside it."""
    parts = schema["$defs"] = dict(schema["$defs"])
    models: list[type[BaseModel]] = [*PATTERNS.values(), Spaced]
    for model in models:
        parts |= _of(model)
    for name in [one for one, part in parts.items() if _is_limit(part)]:
        parts[name] = _limit(parts[name])
    for part, key in ROWS:
        _beside(parts[part], key, {"$ref": f"#/$defs/{Spaced.__name__}"})
    for part in NAMED_HOLES:
        _beside(parts[part], "names", NAMES_AS_TEXT)
    _beside(parts["HoleGroup"], "places", *_places(parts["HoleGroup"]["properties"]["places"]))
    parts["HoleGroup"]["properties"]["like"] = ANY_TEXT | {
        "description": "Group of holes, by its key, that this one is like where it says nothing."
    }
    depths = parts["BoreSpec"]["properties"]["depths"]
    _beside(parts["BoreSpec"], "depths", depths | {"items": {"type": "string"}})
    for name, keys in NOT_WANTED.items():
        parts[name]["required"] = [one for one in parts[name]["required"] if one not in keys]
    for name, part in parts.items():
        if part.get("type") == "object" and name not in {one.__name__ for one in PATTERNS.values()}:
            part["properties"].setdefault("source", SOURCE)
            part["required"] = [one for one in part.get("required", ()) if one != "source"]
    schema["properties"] = ROOT_KEYS | {"source": SOURCE} | schema["properties"]
    _beside(schema, "units", {"type": "string", "description": "Unit of every group."})
    return schema | _unless_based(schema)


def _unless_based(schema: dict[str, Any]) -> dict[str, Any]:
    """What must stand in a spec, and in its sections, unless it stands on another that may state
    it.
    """
    wanted: dict[str, Any] = {}
    for key, entry in schema["properties"].items():
        name = entry.get("$ref") or next(
            (one["$ref"] for one in entry.get("anyOf", ()) if "$ref" in one), None
        )
        items = name or entry.get("items", {}).get("$ref")
        part = schema["$defs"].get(str(items).rpartition("/")[2], {})
        if keys := part.pop("required", []):
            named = dict.fromkeys(keys, True)  # strict validators want each key named where it is
            table = {"type": "object", "required": keys, "properties": named}
            wanted[key] = table if name else {"type": "array", "items": table}
    wants = {"type": "object", "required": ["engine", "bores"], "properties": wanted}
    schema.pop("required", None)
    based = {"type": "object", "required": ["based_on"], "properties": {"based_on": ANY_TEXT}}
    return {"if": based, "else": wants}


def _of(model: type[BaseModel]) -> dict[str, Any]:
    made = model.model_json_schema()
    below = made.pop("$defs", {})
    return {model.__name__: made, **below}


def _is_limit(part: dict[str, Any]) -> bool:
    return set(Limit.model_json_schema()["properties"]) <= set(part.get("properties", ()))


def _limit(table: dict[str, Any]) -> dict[str, Any]:
    """A limit as a text, as a text with a source of its own, or as a table of its ends."""
    ends_of = {name for form in FORMS for name in form}
    besides = {key: one for key, one in table["properties"].items() if key not in ends_of}
    with_source = {
        "type": "object",
        "properties": {"value": LIMIT_TEXT, **besides},
        "required": ["value"],
        "additionalProperties": False,
    }
    ends = table | {"required": []}
    return {"description": table["description"], "anyOf": [LIMIT_TEXT, with_source, ends]}


def _places(pairs: dict[str, Any]) -> list[dict[str, Any]]:
    """The places of a group: patterns alone or in a list with pairs, or a file of them."""
    patterns = [{"$ref": f"#/$defs/{one.__name__}"} for one in dict.fromkeys(PATTERNS.values())]
    mixed = {"type": "array", "items": {"anyOf": [pairs["items"], *patterns]}}
    file = {"type": "string", "description": "File of coordinates beside the spec, .csv."}
    return [mixed, *patterns, file]


def _beside(part: dict[str, Any], key: str, *others: dict[str, Any]) -> None:
    """Let other forms stand at a key beside its own."""
    own = part["properties"][key]
    words = {name: own[name] for name in ("description", "title") if name in own}
    full = {name: value for name, value in own.items() if name not in words}
    part["properties"][key] = words | {"anyOf": [full, *others]}
