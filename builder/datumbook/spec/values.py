"""The kinds of value a spec holds: sizes with their unit, names that become cell names, units of
length.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Annotated, Any

from pydantic import AfterValidator, Field, PlainValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from datumbook.messages.refusals import shown, spoken
from datumbook.numbers.quantities import (
    KINDS,
    NUMBER_PATTERN,
    UNIT_PATTERN,
    Quantity,
    QuantityFault,
    read_quantity,
)

CELL_KEY = r"[a-z][a-z0-9]*(?:_[a-z0-9]+)*"
LONGEST_KEY, LONGEST_TEXT = 40, 300
HOLE_NAME = r"[A-Za-z][A-Za-z0-9]*"
TORQUE = "[mass] * [length] ** 2 / [time] ** 2"
STRESS = "[mass] / [length] / [time] ** 2"


def refused(code: str, found: object, expected: str = "", **words: str) -> PydanticCustomError:
    """Return a refusal of the catalogue in the form in which the model gathers it."""
    sentence, remedy = spoken(code, shown(found), expected, **words)
    return _gathered(code, shown(found), expected, sentence, remedy)


def refused_at(key: str, code: str, found: object, expected: str = "") -> PydanticCustomError:
    """The same for a fault between the sections of a spec, put to one of them."""
    return _below(refused(code, found, expected), key)


def _gathered(
    code: str, found: str, expected: str, sentence: str, remedy: str, below: str = ""
) -> PydanticCustomError:
    context = {
        "found": found,
        "expected": expected,
        "sentence": sentence,
        "remedy": remedy,
        "below": below,
    }
    return PydanticCustomError(code, "{sentence}", context)


def _read(dimension: str, given: Any, below: str = "", source: str = "") -> Quantity:
    try:
        return replace(read_quantity(given, dimension), source=source)
    except QuantityFault as fault:
        raise _gathered(
            fault.code, fault.found, fault.expected, fault.sentence, fault.remedy, below
        ) from None


def _size(dimension: str, example: str, accept: Callable[[Quantity], Quantity]) -> tuple[Any, Any]:
    """Return what makes a field a size written as "text" or as { value = "text", source = "..."
    }.
    """

    def read(given: Any) -> Quantity:
        if isinstance(given, dict):
            value, source = _taken_apart(given)
            return accept(_read(dimension, value, "value", source))
        return accept(_read(dimension, given))

    text = _text_schema(dimension, example)
    table = {
        "type": "object",
        "properties": {
            "value": text,
            "source": {"type": "string", "description": "Where the figure comes from."},
        },
        "required": ["value", "source"],
        "additionalProperties": False,
    }
    return PlainValidator(read), WithJsonSchema({"anyOf": [text, table]})


def _end(example: str, accept: Callable[[Quantity], Quantity]) -> tuple[Any, Any]:
    """Return what makes a field one end of a limit: a length written as "text", whose source the
    limit gives.
    """
    schema = WithJsonSchema(_text_schema("[length]", example))
    return PlainValidator(lambda given: accept(_read("[length]", given))), schema


def _text_schema(dimension: str, example: str) -> dict[str, Any]:
    pattern = f"^{NUMBER_PATTERN}{UNIT_PATTERN}{'' if dimension else '?'}$"
    return {
        "type": "string",
        "pattern": pattern,
        "title": KINDS[dimension][0],
        "examples": [example],
    }


def _taken_apart(given: dict[str, Any]) -> tuple[Any, str]:
    unknown = [name for name in given if name not in ("value", "source")]
    if unknown:
        error = refused(
            "unknown-key", unknown[0], advice="A figure is { value, source } and nothing else."
        )
        raise _below(error, unknown[0])
    for name in ("value", "source"):
        if name not in given:
            raise refused(
                "missing-key", name, description='{ value = "...", source = "..." } says both'
            )
    if not isinstance(given["source"], str):
        description = "where the figure comes from"
        raise _below(
            refused("wrong-type", given["source"], "a text", description=description), "source"
        )
    return given["value"], given["source"]


def _below(error: PydanticCustomError, name: str) -> PydanticCustomError:
    return PydanticCustomError(error.type, "{sentence}", {**(error.context or {}), "below": name})


def _signed(quantity: Quantity) -> Quantity:
    return quantity


def _positive(quantity: Quantity) -> Quantity:
    if quantity.number <= 0:
        raise refused("not-positive", quantity.text)
    return quantity


def _tolerance(quantity: Quantity) -> Quantity:
    if quantity.number < 0:
        raise refused("tolerance-negative", quantity.text, better=(-quantity).text)
    return quantity


LengthSigned = Annotated[Quantity, *_end("-0.05 mm", _signed)]
LengthTolerance = Annotated[Quantity, *_end("0.002 in", _tolerance)]
LengthPositive = Annotated[Quantity, *_size("[length]", "3.740 in", _positive)]
AnglePositive = Annotated[Quantity, *_size("[angle]", "45 deg", _positive)]
RatioPositive = Annotated[Quantity, *_size("", "0.20", _positive)]
TorquePositive = Annotated[Quantity, *_size(TORQUE, "42 lbf*ft", _positive)]
StressPositive = Annotated[Quantity, *_size(STRESS, "30000 psi", _positive)]
VolumePositive = Annotated[Quantity, *_size("[length] ** 3", "44 cm**3", _positive)]
VolumeSigned = Annotated[Quantity, *_size("[length] ** 3", "3 cm**3", _signed)]
AngleSigned = Annotated[Quantity, *_size("[angle]", "25 deg", _signed)]
PressurePositive = Annotated[
    Quantity, *_size("[mass] / [length] / [time] ** 2", "20 psi", _positive)
]
MassPositive = Annotated[Quantity, *_size("[mass]", "412 g", _positive)]
TemperaturePositive = Annotated[Quantity, *_size("[temperature]", "80 degC", _positive)]
ExpansionPositive = Annotated[Quantity, *_size("1 / [temperature]", "10.8e-6 1/degC", _positive)]


def _not_blank(text: str) -> str:
    if not text.strip():
        raise PydanticCustomError("blank", "blank")
    if len(text) > LONGEST_TEXT or not text.isprintable():
        raise refused("text-not-printable", text[:60], str(LONGEST_TEXT))
    return text


def _cell_key(text: str) -> str:
    if not re.fullmatch(CELL_KEY, text) or len(text) > LONGEST_KEY:
        better = re.sub("[^a-z0-9_]+", "_", text.lower()).strip("_").lstrip("0123456789_") or "top"
        better = better[:LONGEST_KEY].rstrip("_")
        raise refused("key-not-allowed", text, better=better)
    return text


def _hole_name(text: str) -> str:
    if not re.fullmatch(HOLE_NAME, text) or len(text) > LONGEST_KEY:
        better = re.sub("[^A-Za-z0-9]+", "", text).lstrip("0123456789") or "D1"
        raise refused("name-not-allowed", text, better=better)
    return text


def _length_unit(text: str) -> str:
    from datumbook.numbers import units  # the unit table is read with the first unit

    try:
        unit = units.unit(text)
    except ValueError:
        raise refused("unit-not-length", text) from None
    if unit.dimension != "[length]":
        raise refused("unit-not-length", text)
    return unit.word


Text = Annotated[str, AfterValidator(_not_blank), Field(json_schema_extra={"minLength": 1})]
CellKey = Annotated[
    str, AfterValidator(_cell_key), Field(json_schema_extra={"pattern": f"^{CELL_KEY}$"})
]
HoleName = Annotated[
    str, AfterValidator(_hole_name), Field(json_schema_extra={"pattern": f"^{HOLE_NAME}$"})
]
LengthUnit = Annotated[
    str, AfterValidator(_length_unit), Field(json_schema_extra={"examples": ["mm", "in", "thou"]})
]
