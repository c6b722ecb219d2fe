"""The sections of stations that stand in a book only where its job names them."""

from __future__ import annotations

from typing import Literal, cast

from pydantic import Field, model_validator

from datumbook.numbers.quantities import Quantity
from datumbook.spec.features import Unlike
from datumbook.spec.limits import Band, Limit, SpecPart
from datumbook.spec.values import (
    AnglePositive,
    AngleSigned,
    CellKey,
    HoleName,
    LengthPositive,
    NotBlank,
    refused,
)

GasketKind = Literal[
    "soft composite",
    "graphite",
    "multi-layer steel",
    "solid copper",
    "liquid sealant",
    "paper or cork",
]
RingKind = Literal["plain iron or chrome", "moly", "moly, competition"]
Roughness = Literal["Ra", "Rz", "Rq"]


class UpperLimit(Limit):
    """A limit that has an upper end; without a lower one a value may be as small as it likes."""

    @property
    def high(self) -> Quantity:
        """Largest value allowed, exact."""
        return cast("Quantity", super().high)

    @model_validator(mode="after")
    def _has_an_upper_end(self) -> UpperLimit:
        if self.at_least is not None:
            raise refused("limit-needs-both", "at_least")
        return self


class FaceFinish(SpecPart):
    """The finish of a face, for the gasket that lies on it."""

    gasket: GasketKind = Field(description="Kind of the gasket or sealant that lies on this face.")
    roughness: UpperLimit | None = Field(
        None, description="Finish as its maker states it, a length; usual for the kind if left out."
    )
    stated_as: Roughness = Field("Ra", description="What that limit is of: Ra, Rz or Rq.")


class Plateau(SpecPart):
    """A bore finish in three parts: the peaks that run in, the core that carries, the valleys that
    hold oil.
    """

    peaks: Limit = Field(description="Reduced peak height Rpk, a length.")
    core: Limit = Field(description="Core depth Rk, a length.")
    valleys: Limit = Field(description="Reduced valley depth Rvk, a length.")


class BoreFinish(SpecPart):
    """The finish of the bores, for the rings that run in them."""

    rings: RingKind = Field(description="Kind of the piston rings.")
    roughness: UpperLimit | None = Field(
        None, description="Finish as their maker states it, a length; usual if left out."
    )
    stated_as: Roughness = Field("Ra", description="What that limit is of: Ra, Rz or Rq.")
    hatch_from: AnglePositive = Field(
        description="Least angle between the crossing marks of the hone, such as 40 deg."
    )
    hatch_to: AnglePositive = Field(description="Largest angle between the crossing marks.")
    hatch_source: NotBlank = Field(description="Where these angles come from.")
    plateau: Plateau | None = Field(None, description="The finish in three parts, where asked for.")

    @model_validator(mode="after")
    def _rises(self) -> BoreFinish:
        if self.hatch_from.exactly("deg") >= self.hatch_to.exactly("deg"):
            raise refused("limit-crossed", self.hatch_from.text, self.hatch_to.text)
        return self


class SurfaceLimits(SpecPart):
    """The finish of faces and bores, traced with a stylus."""

    deck: FaceFinish | None = Field(None, description="The deck face.")
    bottom: FaceFinish | None = Field(None, description="The bottom face.")
    bores: BoreFinish | None = Field(None, description="The cylinder bores.")

    @model_validator(mode="after")
    def _says_something(self) -> SurfaceLimits:
        if not (self.deck or self.bottom or self.bores):
            raise refused("empty", "surfaces", description="deck, bottom or bores")
        return self


class RinsedPlace(SpecPart):
    """A blind hole or a gallery in which the last rinse is proved."""

    key: CellKey = Field(
        description="Word of this place in cell names, small letters, digits and _."
    )
    words: NotBlank = Field(description="What this place is called on the sheet.")


class Cleaning(SpecPart):
    """The wash, and the places where its residue stays."""

    metal: Literal["iron", "aluminium"] = Field(description="Metal of the block.")
    soft_parts: tuple[NotBlank, ...] = Field(
        (),
        strict=False,
        description="Parts of aluminium, white metal, tin or zinc that stay in while it is washed.",
    )
    places: Unlike[RinsedPlace] = Field(
        min_length=1, strict=False, description="Blind holes and galleries, in the walk's order."
    )


class FlywheelHousing(SpecPart):
    """The flywheel housing, which runs true to the crank."""

    sae: Literal["00", "0", "1/2", "1", "2", "3"] = Field(
        description="Its SAE number, for the usual limit."
    )
    bore: UpperLimit | None = Field(
        None, description="Total reading on its bore, a length; usual for its number if left out."
    )
    face: UpperLimit | None = Field(
        None, description="Total reading on its face, a length; usual for its number if left out."
    )


class Seals(SpecPart):
    """What at the rear runs true to the crank."""

    place: LengthPositive = Field(
        description="Distance of the rear seal from the front end face, a length."
    )
    rear_seal: UpperLimit = Field(description="Total reading on the bore of the seal, a length.")
    housing: FlywheelHousing | None = Field(None, description="The flywheel housing.")


class Valve(SpecPart):
    """The valves of one kind."""

    lean: AngleSigned = Field(description="Angle of the valves to the bore, such as 20 deg.")
    gap: Limit | None = Field(
        None, description="Room over the piston along the stem, a length; usual if left out."
    )


class RingRoom(SpecPart):
    """The room of the rings in their grooves."""

    side: Band | None = Field(None, description="Side clearance, a length; usual if left out.")
    back: Band | None = Field(None, description="Back clearance, a length; usual if left out.")
    groove_root: LengthPositive = Field(
        description="Diameter of a standard piston at the bottom of the top groove, a length."
    )
    ring_wall: LengthPositive = Field(description="Radial thickness of a top ring, a length.")


class Studs(SpecPart):
    """How far the head studs stand out of the deck."""

    names: Unlike[HoleName] = Field(
        min_length=1, strict=False, description="Name of each stud that is measured."
    )
    height: Band = Field(description="How far a stud stands out of the deck, a length.")


class ValveClearances(SpecPart):
    """The room of valves, rings and studs."""

    inlet: Valve = Field(description="The inlet valves.")
    exhaust: Valve = Field(description="The exhaust valves.")
    radial: Limit | None = Field(
        None, description="Room between valve and pocket, a length; usual if left out."
    )
    rings: RingRoom | None = Field(None, description="The rings in their grooves.")
    studs: Studs | None = Field(None, description="The studs of the head.")


class Registers(SpecPart):
    """The registers in which the main bearing caps sit."""

    width: LengthPositive = Field(description="Width of a register as drawn, a length.")
    interference: Band | None = Field(
        None, description="How much wider a cap is, a length; usual if left out."
    )


class NamedSections(SpecPart):
    """The sections that a job must name to have their station."""

    surfaces: SurfaceLimits | None = Field(None, description="The finish of faces and bores.")
    cleaning: Cleaning | None = Field(None, description="The wash, its proof, and the film on it.")
    seals: Seals | None = Field(None, description="Rear seal and flywheel housing to the crank.")
    valve_clearances: ValveClearances | None = Field(
        None, description="The room of valves, rings and studs."
    )
    registers: Registers | None = Field(None, description="The registers of the main bearing caps.")
