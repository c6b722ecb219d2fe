"""What a spec may write shorter than its full form, each form with its description: patterns of
holes, rows of lengths, and the keys that say where a file and its limits come from.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from datumbook.spec.holes import Pair
from datumbook.spec.limits import SpecPart
from datumbook.spec.values import AngleSigned, LengthPositive, LengthSigned

Lengths = Annotated[tuple[LengthPositive, ...], Field(strict=False, min_length=1)]
Several = Annotated[
    Lengths,
    BeforeValidator(
        lambda given: given if isinstance(given, list) else [given],
        json_schema_input_type=LengthPositive | Lengths,
    ),
]
Offset = Annotated[tuple[LengthSigned, LengthSigned], Field(strict=False)]
HowManyHoles = Annotated[int, Field(ge=1, le=200)]


class Crossings(SpecPart):
    """Holes at every crossing of the places along and the places across, along first."""

    along: Several = Field(description="Places along the face: one, or a list.")
    across: Several = Field(description="Places across the face: one, or a list.")


class RowOfHoles(SpecPart):
    """Holes in a straight row, evenly spaced."""

    row: HowManyHoles = Field(description="How many holes stand in the row.")
    from_: Pair = Field(alias="from", description="First hole, along and across.")
    to: Pair | None = Field(None, description="Last hole, along and across; or step.")
    step: Offset | None = Field(
        None, description="From hole to hole, along and across, with their signs; or to."
    )


class Rectangle(SpecPart):
    """Holes round the edge of a rectangle, evenly spaced, from its first corner along first."""

    rectangle: Annotated[tuple[HowManyHoles, HowManyHoles], Field(strict=False)] = Field(
        description="How many holes stand along and how many across, the corners counted in both."
    )
    from_: Pair = Field(alias="from", description="First corner, along and across.")
    to: Pair = Field(description="Corner opposite, along and across.")


class HoleCircle(SpecPart):
    """Holes on a circle, evenly spaced, counter-clockwise as seen from outside."""

    circle: HowManyHoles = Field(description="How many holes stand on the circle.")
    centre: Pair = Field(description="Centre of the circle, along and across.")
    diameter: LengthPositive = Field(description="Diameter of the circle, a length.")
    first: AngleSigned | None = Field(
        None, description="Where the first hole stands, an angle from along; 0 deg if left out."
    )


class Mirror(SpecPart):
    """The holes before this one once more, as in a mirror."""

    mirror: Literal["along", "across"] = Field(
        description="What changes: the places along, or the places across."
    )
    about: LengthPositive = Field(description="Where the mirror stands, along or across.")
    order: Literal["back", "same"] = Field(
        "back",
        description='Whether the copies are named "back" from the last hole to the first, as one '
        'walks round a face, or in the "same" order.',
    )


class ByCylinder(SpecPart):
    """The same holes round every cylinder."""

    by_cylinder: Annotated[tuple[Offset, ...], Field(strict=False, min_length=1)] = Field(
        description="Each hole from the centre of its cylinder, along and across, with signs."
    )
    line: LengthPositive | None = Field(
        None,
        description="Where the centres of the cylinders lie across the face; bores_across of the "
        "deck's outline if left out.",
    )
    cylinders: Annotated[tuple[int, ...], Field(strict=False)] = Field(
        (), description="Only round these cylinders, by number; round all if left out."
    )


class Spaced(SpecPart):
    """Lengths evenly spaced."""

    from_: LengthPositive = Field(alias="from", description="First length.")
    step: LengthPositive | None = Field(None, description="From one to the next; or to.")
    to: LengthPositive | None = Field(None, description="Last length; or step.")
    points: HowManyHoles | None = Field(
        None, description="How many they are, where no number of cylinders or bearings says it."
    )


PATTERNS: dict[str, type[SpecPart]] = {  # the key that tells a pattern -> its model
    "along": Crossings,
    "across": Crossings,
    "row": RowOfHoles,
    "rectangle": Rectangle,
    "circle": HoleCircle,
    "mirror": Mirror,
    "by_cylinder": ByCylinder,
}
