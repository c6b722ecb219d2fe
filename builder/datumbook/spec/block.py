"""The block: the engine and its words, bores, lands, banks and heights, what the finished block is
held to, and what stands above the pistons or hangs on the crank's axis.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from datumbook.numbers.quantities import Quantity
from datumbook.spec.limits import Band, Limit, SpecPart
from datumbook.spec.values import (
    AnglePositive,
    AngleSigned,
    CellKey,
    ExpansionPositive,
    LengthEitherWay,
    LengthPositive,
    NotBlank,
    Rising,
    VolumePositive,
    VolumeSigned,
)


class Engine(SpecPart):
    """What the engine is, and what its words for places mean."""

    name: NotBlank = Field(description="Name of the engine family as it stands on every sheet.")
    story: str = Field("", description="One line about the engine for the first sheet.")
    cylinders: int = Field(
        ge=1, le=16, description="Number of cylinders of the block, in one line, 1 to 16."
    )
    material: NotBlank = Field(
        description="Material of the block in words; cutting speeds are looked up by it."
    )
    expansion: ExpansionPositive | None = Field(
        None,
        description="Expansion of that material for each degree, where there are no heights to "
        "state it; by the table of materials if left out.",
    )
    first_cylinder: NotBlank | None = Field(
        None, description="The end at which cylinder 1 lies, in words."
    )
    seen_from: NotBlank | None = Field(
        None,
        description="Where one stands when left and right are named, in words; heights need it.",
    )
    thrust_side: Literal["left", "right"] | None = Field(
        None, description="Side of the bore that takes the thrust: left or right; walls need it."
    )
    bank_angle: AnglePositive | None = Field(
        None, description="Angle between the banks of a vee or flat engine."
    )
    bearing_caps: int = Field(0, ge=0, le=20, description="Number of main bearing caps, 0 to 20.")


class Depth(SpecPart):
    """One depth at which every bore is measured."""

    key: CellKey = Field(
        description="Word of this depth in cell names, small letters, digits and _."
    )
    words: NotBlank = Field(description="What this depth is called on the sheet.")
    at: LengthPositive = Field(description="Distance from the deck face down the bore, a length.")


class BoreSpec(SpecPart):
    """The cylinder bores: sizes, where they are measured, what they are held to."""

    standard: Band = Field(description="Standard bore diameter, a length with two ends.")
    depths: tuple[Depth, ...] = Field(
        min_length=1,
        strict=False,
        description="Depths at which each bore is measured, from the deck downwards.",
    )
    out_of_round: Limit = Field(
        description="Difference of the two diameters at one depth, a length."
    )
    taper: Limit = Field(
        description="Difference between the diameters at top and bottom, a length with its sign."
    )
    wear: Limit = Field(description="Largest diameter above the bore's own unworn lip, a length.")
    oversizes: tuple[LengthPositive, ...] = Field(
        (),
        strict=False,
        description="Oversizes for which pistons exist, lengths on the diameter, rising.",
    )
    clean_up_stock: LengthPositive = Field(
        description="Metal left on the diameter for the hone, a length."
    )
    stroke: LengthPositive | None = Field(
        None, description="Stroke of the crankshaft, a length; heights need it."
    )

    @property
    def largest(self) -> Quantity:
        """The largest bore there may be: the standard one with the largest oversize."""
        return self.standard.high + self.oversizes[-1] if self.oversizes else self.standard.high


class Chamfer(SpecPart):
    """The chamfer at the mouth of each bore."""

    height: LengthPositive = Field(description="Height of the chamfer along the bore, a length.")
    angle: AnglePositive = Field(
        description="Angle of the chamfer to the bore's axis, in deg or rad."
    )


class Lands(SpecPart):
    """The lands between the bores, measured along the deck from the front end face."""

    centres: tuple[LengthPositive, ...] = Field(
        (),
        strict=False,
        description="Distance of each bore centre from the front end face, rising; left out with "
        "banks.",
    )
    deck_length: LengthPositive | None = Field(
        None, description="Length of the deck, end face to end face; not with banks."
    )
    offset: Limit = Field(
        description="Distance of a bore's centre from its place, a length with its sign."
    )
    closure: Limit = Field(
        description="What lands and bores lack of the deck's whole length, a length with its sign."
    )
    mouth_chamfer: Chamfer = Field(description="The chamfer at the mouth of each bore.")
    clamping_land: Limit = Field(
        description="Width of flat deck left between two chamfers, a length."
    )


class Bank(SpecPart):
    """One row of cylinders under one deck, of an engine that has several."""

    key: CellKey = Field(
        description="Word of this bank in cell names, small letters, digits and _."
    )
    words: NotBlank = Field(description="What this bank is called on the sheets.")
    cylinders: tuple[int, ...] = Field(
        min_length=1, strict=False, description="Its cylinders by number, front to rear."
    )
    centres: tuple[LengthPositive, ...] = Field(
        min_length=1,
        strict=False,
        description="Distance of each bore centre from the bank's front end face, rising, lengths.",
    )
    deck_length: LengthPositive = Field(
        description="Length of the bank's deck from end face to end face."
    )

    @property
    def suffix(self) -> str:
        """What the bank adds to the key of a table: nothing where there is only one row."""
        return f"_{self.key}" if self.key else ""

    def title(self, words: str) -> str:
        """A table's title, with the bank's name where there are several."""
        return f"{self.words}: {words[:1].lower()}{words[1:]}" if self.key else words


class CornersRead(SpecPart):
    """Where the heights of a face are read: at its very corners, or as far inside as said here."""

    along: Rising = Field(
        (),
        max_length=2,
        strict=False,
        description="Front and rear corners from the front end face, two lengths; the ends of the "
        "deck if left out.",
    )
    across: LengthPositive = Field(
        description="How far apart the left and the right corners are read, a length."
    )


class Heights(SpecPart):
    """Heights of the block over its main bearing line, and what they are held to."""

    overall: Band | None = Field(
        None, description="Bottom face to deck as made, two ends; not with banks."
    )
    overall_limit: Limit | None = Field(
        None, description="Overall height to which the block may be cut; not with banks."
    )
    deck: Band = Field(
        description="Height of the deck over the crankshaft's axis, a length with two ends."
    )
    bottom: Band | None = Field(
        None, description="Crank axis over the bottom face, two ends; not with banks."
    )
    bottom_limit: Limit | None = Field(
        None, description="Axis over bottom face down to which it may be cut; not with banks."
    )
    tilt: Limit = Field(
        description="Difference of deck heights from end to end or side to side, a signed length."
    )
    twist: Limit = Field(
        description="Half the difference of the two diagonals' sums of corner heights, a signed "
        "length."
    )
    closure: Limit = Field(
        description="What deck and bottom lack of the overall height, a length with its sign."
    )
    rod_length: LengthPositive = Field(
        description="Connecting rod from centre to centre, a length."
    )
    compression_height: LengthPositive = Field(
        description="Piston from pin centre to crown, a length."
    )
    deck_clearance: Limit = Field(description="Crown below the deck at top dead centre, a length.")
    bores_off_line: Limit | None = Field(
        None,
        description="How far the bores of a bank may miss the crank axis after a line bore, a "
        "length; with banks only.",
    )
    corners: CornersRead | None = Field(
        None, description="Where the heights are read; the very corners of the deck if left out."
    )
    expansion: ExpansionPositive = Field(
        description="Expansion of the block's material for each degree, in 1/degC."
    )


class Finished(SpecPart):
    """What the block is held to when the work on it is done; without this section only the block as
    received is judged.
    """

    bore_plus: LengthEitherWay = Field(
        description="How far above the size bored to a finished bore may be."
    )
    bore_minus: LengthEitherWay = Field(
        description="How far below the size bored to a finished bore may be."
    )
    out_of_round: Limit = Field(
        description="Difference of the two diameters at one depth of a finished bore."
    )
    taper: Limit = Field(
        description="Difference between top and bottom of a finished bore, a length with its sign."
    )
    tilt: Limit | None = Field(
        None,
        description="Difference of finished deck heights from end to end or side to side, a "
        "signed length; with heights.",
    )
    twist: Limit | None = Field(
        None,
        description="Half the difference of the finished deck's diagonals, a signed length; with "
        "heights.",
    )


class Combustion(SpecPart):
    """What stands above the piston, for the compression ratio before and after the cuts."""

    gasket_thickness: LengthPositive = Field(description="Head gasket as pressed, a length.")
    gasket_hole: LengthPositive = Field(description="Bore hole of the gasket, a length.")
    chamber_volume: VolumePositive = Field(description="Combustion chamber in the head, a volume.")
    dish_volume: VolumeSigned = Field(
        description="Dish of the piston crown, a volume; below zero for a dome."
    )
    squish: Limit = Field(
        description="Gap between crown and flat head at top dead centre, a length."
    )


class CamDrive(SpecPart):
    """The drive of the camshaft, which a shift of the crank axis slackens or tightens."""

    kind: Literal["chain", "gears"] = Field(description="What drives the camshaft: chain or gears.")
    centre_distance: LengthPositive = Field(description="Crank axis to cam axis, a length.")
    least_centre: Limit | None = Field(
        None, description="Crank to cam down to which a line bore may bring them, a length."
    )
    angle: AngleSigned = Field(
        description="Between the line from crank to cam and the line from crank to deck, an angle."
    )
    sprocket_radius: LengthPositive | None = Field(
        None, description="Pitch radius of the cam sprocket, for a chain."
    )
    span: LengthPositive | None = Field(
        None, description="Free span of the slack strand, for a chain."
    )
    pressure_angle: AnglePositive | None = Field(
        None, description="Pressure angle of the teeth, for gears."
    )
