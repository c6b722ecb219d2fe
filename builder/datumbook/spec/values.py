"""The kinds of value a spec holds: sizes with their unit, names that become cell names, units of
length.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Annotated, Any, TypeVar

from pydantic import AfterValidator, Field, PlainValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from datumbook.messages.refusals import Fault, fault_at, shown
from datumbook.numbers.quantities import (
    KINDS,
    NUMBER_PATTERN,
    UNIT_PATTERN,
    Quantity,
    QuantityFault,
    read_quantity,
)

Kept = TypeVar("Kept")
CELL_KEY = r"[a-z][a-z0-9]*(?:_[a-z0-9]+)*"
LONGEST_KEY, LONGEST_TEXT = 40, 300
HOLE_NAME = r"[A-Za-z][A-Za-z0-9]*"
HOLE_SPAN = r" *([A-Za-z]+)([0-9]+) *(?:-|–|to|\.\.+|…) *[A-Za-z]*([0-9]+) *"
TORQUE = "[mass] * [length] ** 2 / [time] ** 2"
SCALES = {  # from line to line, the finest and the coarsest; common practice, no source
    "in": (read_quantity("0.00005 in"), read_quantity("1/4 in")),
    "mm": (read_quantity("0.001 mm"), read_quantity("5 mm")),
}
STRESS = "[mass] / [length] / [time] ** 2"


def refused(
    code: str, found: object, expected: str = "", *below: str, **words: str
) -> PydanticCustomError:
    """Return a refusal of the catalogue in the form in which the model gathers it; `below` is the
    key it is put to, inside of what is refused.
    """
    return _gathered(fault_at(below, code, shown(found), expected, **words))


def _gathered(fault: Fault) -> PydanticCustomError:
    context = {"fault": fault, "sentence": fault.sentence}
    return PydanticCustomError(fault.code, "{sentence}", context)


def _read(
    dimension: str, given: Any, *below: str, source: str = "", guessed: bool = False
) -> Quantity:
    try:
        return replace(read_quantity(given, dimension), source=source, guessed=guessed)
    except QuantityFault as told:
        raise _gathered(
            Fault(below, told.code, told.found, told.expected, told.sentence, told.remedy)
        ) from None


def _size(dimension: str, example: str, accept: Callable[[Quantity], Quantity]) -> tuple[Any, Any]:
    """Return what makes a field a size written as "text", as { value = "text", source = "..." } or
    as { value = "text", guessed = true }.
    """

    def read(given: Any) -> Quantity:
        if isinstance(given, dict):
            value, source, guessed = _taken_apart(given)
            return accept(_read(dimension, value, "value", source=source, guessed=guessed))
        return accept(_read(dimension, given))

    text = _text_schema(dimension, example)
    table = {
        "type": "object",
        "properties": {
            "value": text,
            "source": {"type": "string", "description": "Where the figure comes from."},
            "guessed": {
                "type": "boolean",
                "description": "Whether the figure is a guess that only holds the place of the "
                "engine's own; what rests on a guess is not released.",
                "default": False,
            },
        },
        "required": ["value"],
        "anyOf": [
            {"type": "object", "required": [name], "properties": {name: {}}}
            for name in ("source", "guessed")
        ],
        "additionalProperties": False,
    }
    return PlainValidator(read), WithJsonSchema({"anyOf": [text, table]})


def _end(example: str, accept: Callable[[Quantity], Quantity]) -> tuple[Any, Any]:
    """Return what makes a field one end of a limit: a length written as "text", whose source the
    limit gives.
    """
    return (
        PlainValidator(lambda given: accept(_read("[length]", given))),
        WithJsonSchema(_text_schema("[length]", example)),
    )


def _text_schema(dimension: str, example: str) -> dict[str, Any]:
    return {
        "type": "string",
        "pattern": f"^{NUMBER_PATTERN}{UNIT_PATTERN}{'' if dimension else '?'}$",
        "title": KINDS[dimension][0],
        "examples": [example],
    }


def _taken_apart(given: dict[str, Any]) -> tuple[Any, str, bool]:
    for name in given:
        if name not in ("value", "source", "guessed"):
            raise refused(
                "unknown-key",
                name,
                "",
                name,
                advice="A figure is { value, source } and nothing else, or { value, guessed }.",
            )
    guessed = given.get("guessed", False)
    if not isinstance(guessed, bool):
        raise refused(
            "wrong-type", guessed, "true or false", "guessed", description="of a guess, true"
        )
    for name in ("value",) if guessed else ("value", "source"):
        if name not in given:
            raise refused(
                "missing-key", name, description='{ value = "...", source = "..." } says both'
            )
    if not isinstance(given.get("source", ""), str):
        raise refused(
            "wrong-type",
            given["source"],
            "a text",
            "source",
            description="where the figure comes from",
        )
    return given["value"], given.get("source", ""), guessed


def repeated(names: Iterable[tuple[Kept, str]]) -> Iterator[tuple[Kept, str]]:
    """Yield each name that stood before, with its place; names of cells are compared without
    regard to capitals.
    """
    seen: set[str] = set()
    for at, name in names:
        if name.lower() in seen:
            yield at, name
        seen.add(name.lower())


def falling(sizes: Sequence[Quantity]) -> Iterator[tuple[int, Quantity, Quantity]]:
    """Yield the place of each size that is not larger than the one before it, and both of them."""
    for at, (before, size) in enumerate(pairwise(sizes), start=1):
        if size.exactly("mm") <= before.exactly("mm"):
            yield at, before, size


def _signed(quantity: Quantity) -> Quantity:
    return quantity


def _positive(quantity: Quantity) -> Quantity:
    if quantity.number <= 0:
        raise refused("not-positive", quantity.text)
    return quantity


def _scale(line: Quantity) -> Quantity:
    """A line of a scale as a quill has one: a digital readout's at the finest."""
    finest, coarsest = SCALES["in" if _positive(line).unit == "in" else "mm"]
    if not finest.number <= line.exactly(finest.unit) <= coarsest.number:
        raise refused("scale-not-made", line.text, f"from {finest.text} to {coarsest.text}")
    return line


def _tolerance(quantity: Quantity) -> Quantity:
    if quantity.number < 0:
        raise refused("tolerance-negative", quantity.text, better=(-quantity).text)
    return quantity


LengthSigned = Annotated[Quantity, *_end("-0.05 mm", _signed)]
LengthTolerance = Annotated[Quantity, *_end("0.002 in", _tolerance)]
LengthPositive = Annotated[Quantity, *_size("[length]", "3.740 in", _positive)]
ScaleLine = Annotated[Quantity, *_size("[length]", "0.005 in", _scale)]
LengthEitherWay = Annotated[Quantity, *_size("[length]", "0.015 mm", _tolerance)]
AnglePositive = Annotated[Quantity, *_size("[angle]", "45 deg", _positive)]
RatioPositive = Annotated[Quantity, *_size("", "0.20", _positive)]
TorquePositive = Annotated[Quantity, *_size(TORQUE, "42 lbf*ft", _positive)]
StressPositive = Annotated[Quantity, *_size(STRESS, "30000 psi", _positive)]
VolumePositive = Annotated[Quantity, *_size("[length] ** 3", "44 cm**3", _positive)]
SpeedPositive = Annotated[Quantity, *_size("1 / [time]", "500 1/min", _positive)]
VolumeSigned = Annotated[Quantity, *_size("[length] ** 3", "3 cm**3", _signed)]
AngleSigned = Annotated[Quantity, *_size("[angle]", "25 deg", _signed)]
PressurePositive = Annotated[Quantity, *_size(STRESS, "20 psi", _positive)]
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
        raise refused("key-not-allowed", text, better=better[:LONGEST_KEY].rstrip("_"))
    return text


def _hole_name(text: str) -> str:
    if span := re.fullmatch(HOLE_SPAN, text):
        first, last = (f"{span[1]}{number}" for number in (span[2], span[3]))
        second = f"{span[1]}{int(span[2]) + 1}"
        raise refused("names-in-one", text, first=first, second=second, last=last)
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


NotBlank = Annotated[str, AfterValidator(_not_blank), Field(json_schema_extra={"minLength": 1})]
CellKey = Annotated[
    str, AfterValidator(_cell_key), Field(json_schema_extra={"pattern": f"^{CELL_KEY}$"})
]
HoleName = Annotated[
    str, AfterValidator(_hole_name), Field(json_schema_extra={"pattern": f"^{HOLE_NAME}$"})
]
LengthUnit = Annotated[
    str, AfterValidator(_length_unit), Field(json_schema_extra={"examples": ["mm", "in", "thou"]})
]


def _rising(sizes: tuple[Quantity, ...]) -> tuple[Quantity, ...]:
    """Refuse a list of places that does not grow from entry to entry."""
    for _, before, size in falling(sizes):
        raise refused("not-increasing", size.text, before.text)
    return sizes


Rising = Annotated[tuple[LengthPositive, ...], AfterValidator(_rising)]
