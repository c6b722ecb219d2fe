"""The parts that go into the block: each section is optional, and what is left out leaves no trace.

A limit left out is worked out by the shop's rule of so much to the inch, and the sheet says so.
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from datumbook.spec.limits import Band, Limit, SpecPart
from datumbook.spec.values import LengthPositive, MassPositive, NotBlank, RatioPositive


class Pistons(SpecPart):
    """The pistons, measured before the bores are made to them."""

    diameter: LengthPositive = Field(
        description="Diameter of a standard piston where its maker gauges it, a length."
    )
    gauged_at: NotBlank = Field(
        description="Where the maker gauges it, in words, such as 20 mm above the foot of the "
        "skirt."
    )
    material: Literal["cast", "cast iron", "forged"] = Field(
        "cast",
        description="What the pistons are, for the rule of so much to the inch: cast, cast iron "
        "or forged.",
    )
    clearance: Limit | None = Field(
        None, description="Room of a piston in its bore, a length; by rule if left out."
    )
    weight: MassPositive | None = Field(
        None, description="Weight of a piston, a mass; not weighed if left out."
    )
    weight_spread: MassPositive | None = Field(
        None, description="Heaviest less lightest of the set at most, a mass."
    )


class GudgeonPins(SpecPart):
    """The gudgeon pins in the bushes of their rods."""

    size: LengthPositive = Field(description="Diameter of a gudgeon pin, a length.")
    clearance: Limit = Field(description="Room of a pin in the bush of its rod, a length.")


class Rings(SpecPart):
    """The ring gaps, read with each ring square in the bore it will run in."""

    top: Limit | None = Field(
        None, description="Gap of the top ring, a length; by rule if left out."
    )
    second: Limit | None = Field(
        None, description="Gap of the second ring, a length; by rule if left out."
    )
    closure: Limit | None = Field(
        None,
        description="What feeler and bore gauge may disagree by about the taper, a length; one "
        "more gap is read for it.",
    )


class Journals(SpecPart):
    """The journals of one row, each in two directions at two places, and the shells they run in."""

    size: Band = Field(description="Diameter of a journal, a length with two ends.")
    out_of_round: Limit = Field(description="Difference of two diameters at one place, a length.")
    taper: Limit = Field(
        description="Front less rear diameter in one direction, a length with its sign."
    )
    shell: LengthPositive | None = Field(
        None,
        description="Thickness of a half shell; if left out, the housings are measured with their "
        "shells in.",
    )
    clearance: Limit | None = Field(
        None, description="Room for oil on the diameter, a length; by rule if left out."
    )
    crush: Limit | None = Field(
        None, description="How far a pair of shells stands proud of its housing, a length."
    )


class Crankpins(Journals):
    """The big end journals; several rods may share one."""

    of_cylinders: tuple[int, ...] = Field(
        (),
        strict=False,
        description="Crankpin of each cylinder, cylinder by cylinder; one each if left out.",
    )
    throws: bool = Field(
        False, description="Whether the throws are measured, half the stroke: true or false."
    )


class Rods(SpecPart):
    """The connecting rods, caps on and torqued."""

    length: Band = Field(description="Length from centre to centre, two ends.")
    big_end: Band = Field(
        description="Diameter of the big end without shells, a length with two ends."
    )
    weight: MassPositive | None = Field(
        None, description="Weight of a rod, a mass; not weighed if left out."
    )
    weight_spread: MassPositive | None = Field(
        None, description="Heaviest less lightest of the set at most, a mass."
    )


class Washers(SpecPart):
    """The thrust washers, where the end float is worked out before the crank is laid in."""

    thickness: LengthPositive = Field(description="Thickness of a thrust washer, a length.")
    saddle: LengthPositive = Field(
        description="Width of the block and cap between the washers, a length."
    )
    journal: LengthPositive = Field(description="Width between the cheeks of the crank, a length.")


class Thrust(SpecPart):
    """The thrust of the crank."""

    end_float: Limit = Field(description="How far the crank moves endways, a length.")
    washers: Washers | None = Field(
        None, description="The thrust washers, where they are measured."
    )


class CamJournals(SpecPart):
    """The journals of the camshaft, each in two directions."""

    size: Band = Field(description="Diameter of a cam journal, a length with two ends.")
    out_of_round: Limit = Field(description="Difference of the two diameters, a length.")


class Tappets(SpecPart):
    """The tappets, one for each bore."""

    size: Band = Field(description="Diameter of a tappet, a length with two ends.")


class FittedParts(SpecPart):
    """The parts that go into the block, measured, and what their fits are held to."""

    pistons: Pistons | None = Field(None, description="The pistons.")
    gudgeon_pins: GudgeonPins | None = Field(None, description="The gudgeon pins.")
    rings: Rings | None = Field(None, description="The piston rings.")
    main_journals: Journals | None = Field(None, description="The main journals of the crank.")
    crankpins: Crankpins | None = Field(None, description="The big end journals of the crank.")
    rods: Rods | None = Field(None, description="The connecting rods.")
    thrust: Thrust | None = Field(None, description="The thrust of the crank.")
    cam_journals: CamJournals | None = Field(
        None, description="The journals of the camshaft; a [cam] section has their bores."
    )
    tappets: Tappets | None = Field(
        None, description="The tappets; a [tappet_bores] section has their bores."
    )
    gasket: bool = Field(
        False, description="Whether the head gasket is measured; [combustion] has its figures."
    )
    ratio_spread: RatioPositive | None = Field(
        None, description="Highest less lowest compression ratio at most."
    )

    @property
    def crowns_in_hand(self) -> bool:
        """Whether each crown is judged among the fits, by its own piston or rod."""
        return bool(self.pistons or self.rods)


def has_crush(parts: FittedParts) -> bool:
    """Whether the crush of any shells is read."""
    return any(
        row is not None and row.crush is not None for row in (parts.main_journals, parts.crankpins)
    )
