"""The features of a block that not every spec describes: each section is optional, and what is left
out leaves no trace.

Only what one value says about itself is held here, as in model.py.
"""

from __future__ import annotations

from typing import Annotated, TypeVar

from pydantic import AfterValidator, Field, model_validator

from datumbook.numbers.quantities import read_quantity
from datumbook.spec.assembly import AssemblySpec
from datumbook.spec.limits import Band, Limit, SpecPart
from datumbook.spec.liners import Liners
from datumbook.spec.parts import FittedParts
from datumbook.spec.values import (
    AngleSigned,
    CellKey,
    HoleName,
    LengthPositive,
    NotBlank,
    PressurePositive,
    Rising,
    TemperaturePositive,
    refused,
    repeated,
)

HowMany = Annotated[int, Field(ge=1, le=64)]
Entry = TypeVar("Entry")


def _unlike(entries: tuple[Entry, ...]) -> tuple[Entry, ...]:
    """Refuse a name or key that stands twice in a list; names of cells are compared without regard
    to capitals.
    """
    for _, name in repeated(enumerate(str(getattr(entry, "key", entry)) for entry in entries)):
        raise refused("duplicate", name, "in this list")
    return entries


Unlike = Annotated[tuple[Entry, ...], AfterValidator(_unlike)]


class Identity(SpecPart):
    """What tells this block from another, recorded before anything is cut away."""

    marks: tuple[NotBlank, ...] = Field(
        min_length=1,
        strict=False,
        description="Numbers and marks to be copied or rubbed, in words.",
    )


class Proofs(SpecPart):
    """Crack test and pressure test of the jacket."""

    cracks: tuple[NotBlank, ...] = Field(
        min_length=1, strict=False, description="Places that are looked over for cracks, in words."
    )
    pressure_least: PressurePositive = Field(
        description="Pressure the jacket must hold, such as 20 psi."
    )
    pressure_most: PressurePositive = Field(
        description="Pressure that must not be passed, such as 40 psi."
    )
    water_least: TemperaturePositive = Field(
        description="Temperature of the water at least, such as 80 degC."
    )
    minutes: int = Field(ge=1, le=600, description="Minutes the pressure must hold, 1 to 600.")
    source: NotBlank = Field(description="Where these figures come from.")

    @model_validator(mode="after")
    def _rises(self) -> Proofs:
        if self.pressure_least.exactly("MPa") >= self.pressure_most.exactly("MPa"):
            raise refused("limit-crossed", self.pressure_least.text, self.pressure_most.text)
        return self


class GalleryPlug(SpecPart):
    """One plug of an oil or water gallery."""

    key: CellKey = Field(
        description="Word of this plug in cell names, small letters, digits and _."
    )
    words: NotBlank = Field(description="Where the plug sits, and its thread.")


class CorePlugs(SpecPart):
    """The plugs of the core holes."""

    names: Unlike[HoleName] = Field(
        min_length=1, strict=False, description="Name of each core hole, letters and digits."
    )
    hole: Band = Field(description="Diameter of a core hole, a length with two ends.")
    interference: Band = Field(
        description="How much larger a plug is than its hole, a length with two ends."
    )


class WallPlace(SpecPart):
    """One clock position round a bore."""

    key: CellKey = Field(
        description="Word of this position in cell names, small letters, digits and _."
    )
    words: NotBlank = Field(description="What this position is called on the sheet.")
    thrust: bool = Field(description="Whether the thrust side's limit holds here: true or false.")
    angle: AngleSigned | None = Field(
        None,
        description="Angle of this position from the front of the row; left out, it loses any "
        "set-over in full.",
    )


class WallHeight(SpecPart):
    """One height at which the walls are measured."""

    key: CellKey = Field(
        description="Word of this height in cell names, small letters, digits and _."
    )
    words: NotBlank = Field(description="What this height is called on the sheet.")


class Walls(SpecPart):
    """The walls round the bores, measured by ultrasound."""

    standard: LengthPositive = Field(description="Thickness of a wall as drawn, a length.")
    positions: Unlike[WallPlace] = Field(
        min_length=2,
        strict=False,
        description="Clock positions round each bore, in the order of the walk.",
    )
    heights: Unlike[WallHeight] = Field(
        min_length=1, strict=False, description="Heights, from the deck downwards."
    )
    thrust: Limit = Field(description="Wall left after boring on the thrust side, a length.")
    elsewhere: Limit = Field(description="Wall left after boring elsewhere, a length.")
    core_shift: Limit = Field(description="Half of thickest less thinnest at one height, a length.")


class Grid(SpecPart):
    """Points at which a face is probed, row by row."""

    along: Rising = Field(min_length=2, strict=False, description="Places along the face, lengths.")
    across: Rising = Field(
        min_length=2, strict=False, description="Places across the face, lengths."
    )
    at_most: LengthPositive = Field(
        description="Highest less lowest point about the least squares plane, a length."
    )
    source: NotBlank = Field(description="Where this limit comes from.")


class FaceLimits(SpecPart):
    """How flat a face is to be, under a straight-edge along six lines."""

    along: Limit = Field(
        description="Gap under the straight-edge along the face and across its corners, a length."
    )
    across: Limit = Field(description="Gap under the straight-edge across the face, a length.")
    finished: Limit | None = Field(
        None, description="Gap on the finished face in any direction; as received if left out."
    )
    grid: Grid | None = Field(None, description="Points probed besides the six lines.")


class Flatness(SpecPart):
    """The flatness of the faces."""

    deck: FaceLimits = Field(description="The deck face.")
    bottom: FaceLimits | None = Field(None, description="The bottom face.")


class Squareness(SpecPart):
    """How square the deck stands to the bores, and how true the rear face runs."""

    swept_diameter: LengthPositive = Field(
        description="Diameter the indicator is swept on, a length."
    )
    length: LengthPositive = Field(description="Length over which the lean is judged, a length.")
    lean: Limit = Field(
        description="How far a bore leans from square to the deck over that length."
    )
    rear_face: Limit | None = Field(
        None, description="Total reading of an indicator swept on the rear face, a length."
    )


class Alignment(SpecPart):
    """The centres of the tunnels, held against the straight line through the first and the last."""

    places: Rising = Field(
        min_length=3,
        strict=False,
        description="Distance of each tunnel from the front end face, rising, lengths.",
    )
    sideways: bool = Field(
        False, description="Whether the centres are read sideways too: true or false."
    )
    adjacent: Limit = Field(
        description="How far two neighbouring tunnels are out of line, a length."
    )
    overall: Limit = Field(description="Highest less lowest tunnel off that line, a length.")


class Caps(SpecPart):
    """The main bearing caps, which lose height when they are cut for a line bore."""

    standard: LengthPositive = Field(
        description="Height of a cap as drawn, joint face to the seat of its nuts, a length."
    )
    least: Limit = Field(description="Height down to which a cap may be cut, a length.")


class Tunnels(SpecPart):
    """The main bearing tunnels, caps on and torqued; as many as there are bearing caps."""

    size: Band = Field(description="Diameter of a tunnel, a length with two ends.")
    out_of_round: Limit = Field(
        description="Largest less smallest diameter at one depth, a length."
    )
    taper: Limit = Field(
        description="Front less rear diameter in one direction, a length with its sign."
    )
    spread: Limit = Field(description="Largest tunnel of the row less the smallest, a length.")
    stock: LengthPositive = Field(
        read_quantity("0.010 mm"),
        description="Metal on the radius that a line bore needs to clean all round, a length.",
    )
    mandrel: LengthPositive | None = Field(
        None,
        description="Diameter of the straight mandrel that heights are read over, where it does "
        "not fill the tunnels, a length.",
    )
    caps: Caps | None = Field(None, description="The height of the caps, where it is measured.")
    alignment: Alignment | None = Field(
        None, description="The line of the tunnels, where their centres are read."
    )


class Cam(SpecPart):
    """The cam tunnel and its distance from the crank."""

    bores: HowMany = Field(description="Number of cam bores, 1 to 64.")
    size: Band = Field(description="Diameter of a cam bore or its bush, a length with two ends.")
    journal: LengthPositive = Field(description="Diameter of a cam journal as drawn, a length.")
    clearance: Limit = Field(description="Room a journal has in its bore, a length.")
    centre_distance: Band = Field(
        description="Distance from crank axis to cam axis, a length with two ends."
    )
    parallelism: Limit = Field(
        description="Difference of that distance between front and rear, a length."
    )


class TappetBores(SpecPart):
    """The bores of the tappets."""

    bores: HowMany = Field(description="Number of tappet bores, 1 to 64.")
    size: Band = Field(description="Diameter of a tappet bore, a length with two ends.")
    tappet: LengthPositive = Field(
        description="Diameter of a tappet as measured or drawn, a length."
    )
    clearance: Limit = Field(description="Room a tappet has in its bore, a length.")


class Dowels(SpecPart):
    """The dowels of the deck."""

    names: Unlike[HoleName] = Field(
        min_length=1, strict=False, description="Name of each dowel, letters and digits."
    )
    dowel_length: LengthPositive = Field(description="Length of a dowel, a length.")
    hole_depth: LengthPositive = Field(description="Depth of a dowel hole as drawn, a length.")
    projection: Limit = Field(description="How far a dowel stands out of the deck, a length.")


class Features(SpecPart):
    """The optional sections of a spec."""

    identity: Identity | None = Field(None, description="What tells this block from another.")
    proofs: Proofs | None = Field(None, description="Crack test and pressure test.")
    gallery_plugs: Unlike[GalleryPlug] = Field(
        (), strict=False, description="Every plug of the oil and water galleries."
    )
    core_plugs: CorePlugs | None = Field(None, description="The plugs of the core holes.")
    liners: Liners | None = Field(None, description="The liners: dry, wet or flanged.")
    walls: Walls | None = Field(None, description="The walls round the bores.")
    flatness: Flatness | None = Field(None, description="The flatness of deck and bottom face.")
    squareness: Squareness | None = Field(
        None, description="Deck square to the bores, run-out of the rear face."
    )
    tunnels: Tunnels | None = Field(None, description="The main bearing tunnels.")
    cam: Cam | None = Field(None, description="The cam tunnel.")
    tappet_bores: TappetBores | None = Field(None, description="The bores of the tappets.")
    dowels: Dowels | None = Field(None, description="The dowels of the deck.")
    parts: FittedParts | None = Field(
        None, description="The parts that go into the block, and their fits."
    )
    assembly: AssemblySpec | None = Field(
        None, description="The state of assembly that limits mean; asked where a job names it."
    )
