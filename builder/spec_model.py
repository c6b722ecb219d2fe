"""The picture of a spec: what each section may hold. The descriptions here are the reference of the spec file.

Only what one value says about itself is held here; what values say about each other stands in spec_checks.
"""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field, PrivateAttr

from builder.spec_limits import Band, Limit, Part
from builder.spec_values import (
    AnglePositive,
    CellKey,
    ExpansionPositive,
    HoleName,
    LengthPositive,
    LengthTolerance,
    LengthUnit,
    RatioPositive,
    Text,
    TorquePositive,
)

Group = Literal["bores", "lands", "heights", "holes"]
GROUPS: tuple[Group, ...] = ("bores", "lands", "heights", "holes")
Face = Literal["deck", "bottom", "front", "rear", "left", "right"]
Operation = Literal["drill", "counterbore", "start tap", "finish tap", "chase", "deburr"]
Places = Annotated[int, Field(ge=0, le=6)]


class Engine(Part):
    """What the engine is, and what its words for places mean."""

    name: Text = Field(description="Name of the engine family as it stands on every sheet.")
    story: str = Field("", description="One line about the engine for the first sheet.")
    cylinders: int = Field(ge=1, le=16, description="Number of cylinders of the block, in one line, 1 to 16.")
    material: Text = Field(description="Material of the block in words; cutting speeds are looked up by it.")
    first_cylinder: Text = Field(description="The end at which cylinder 1 lies, in words.")
    seen_from: Text = Field(description="Where one stands when left and right are named, in words.")
    thrust_side: Literal["left", "right"] = Field(description="Side of the bore that takes the thrust: left or right.")
    bearing_caps: int = Field(ge=0, le=20, description="Number of main bearing caps, 0 to 20.")


class Units(Part):
    """Which group of readings is read in which unit of length."""

    bores: LengthUnit = Field(description="Unit of length in which the bores are read.")
    lands: LengthUnit = Field(description="Unit of length in which the lands between the bores are read.")
    heights: LengthUnit = Field(description="Unit of length in which deck and other heights are read.")
    holes: LengthUnit = Field(description="Unit of the hole allowances and the depth gauge; hole sizes keep their thread's.")

    def __getitem__(self, group: str) -> str:
        if group not in type(self).model_fields:
            raise KeyError(group)
        return str(getattr(self, group))


class Decimals(Part):
    """How many places after the decimal point each group of readings shows."""

    bores: Places = Field(description="Places after the decimal point shown for bores, 0 to 6.")
    lands: Places = Field(description="Places after the decimal point shown for lands, 0 to 6.")
    heights: Places = Field(description="Places after the decimal point shown for heights, 0 to 6.")
    holes: Places = Field(description="Places of the hole allowances; hole sizes have four in inches, three in mm.")

    def __getitem__(self, group: str) -> int:
        if group not in type(self).model_fields:
            raise KeyError(group)
        return int(getattr(self, group))


class Depth(Part):
    """One depth at which every bore is measured."""

    key: CellKey = Field(description="Word of this depth in cell names, small letters, digits and _.")
    words: Text = Field(description="What this depth is called on the sheet.")
    at: LengthPositive = Field(description="Distance from the deck face down the bore, a length.")


class Bores(Part):
    """The cylinder bores: sizes, where they are measured, what they are held to."""

    standard: Band = Field(description="Standard bore diameter, a length with two ends.")
    depths: tuple[Depth, ...] = Field(
        min_length=1, strict=False, description="Depths at which each bore is measured, from the deck downwards."
    )
    out_of_round: Limit = Field(description="Difference of the two diameters at one depth, a length.")
    taper: Limit = Field(description="Difference between the diameters at top and bottom, a length with its sign.")
    wear: Limit = Field(description="Largest diameter above the bore's own unworn lip, a length.")
    oversizes: tuple[LengthPositive, ...] = Field(
        (), strict=False, description="Oversizes for which pistons exist, lengths on the diameter, rising."
    )
    clean_up_stock: LengthPositive = Field(description="Metal left on the diameter for the hone, a length.")
    stroke: LengthPositive = Field(description="Stroke of the crankshaft, a length.")


class Chamfer(Part):
    """The chamfer at the mouth of each bore."""

    height: LengthPositive = Field(description="Height of the chamfer along the bore, a length.")
    angle: AnglePositive = Field(description="Angle of the chamfer to the bore's axis, in deg or rad.")


class Lands(Part):
    """The lands between the bores, measured along the deck from the front end face."""

    centres: tuple[LengthPositive, ...] = Field(
        min_length=1, strict=False, description="Distance of each bore centre from the front end face, rising, lengths."
    )
    deck_length: LengthPositive = Field(description="Length of the deck from end face to end face.")
    offset: Limit = Field(description="Distance of a bore's centre from its place, a length with its sign.")
    closure: Limit = Field(description="What lands and bores lack of the deck's whole length, a length with its sign.")
    mouth_chamfer: Chamfer = Field(description="The chamfer at the mouth of each bore.")
    clamping_land: Limit = Field(description="Width of flat deck left between two chamfers, a length.")


class Heights(Part):
    """Heights of the block over its main bearing line, and what they are held to."""

    overall: Band = Field(description="Height from the bottom face to the deck as made, a length with two ends.")
    overall_limit: Limit = Field(description="Overall height to which the block may be cut, a length.")
    deck: Band = Field(description="Height of the deck over the crankshaft's axis, a length with two ends.")
    bottom: Band = Field(description="Height of the crankshaft's axis over the bottom face, a length with two ends.")
    tilt: Limit = Field(description="Difference of deck heights from end to end or side to side, a signed length.")
    twist: Limit = Field(description="Half the difference of the two diagonals' sums of corner heights, a signed length.")
    closure: Limit = Field(description="What deck and bottom lack of the overall height, a length with its sign.")
    rod_length: LengthPositive = Field(description="Connecting rod from centre to centre, a length.")
    compression_height: LengthPositive = Field(description="Piston from pin centre to crown, a length.")
    deck_clearance: Limit = Field(description="Crown below the deck at top dead centre, a length.")
    expansion: ExpansionPositive = Field(description="Expansion of the block's material for each degree, in 1/degC.")


class Shop(Part):
    """Figures of the shop that a table stands in for where they are left out."""

    nut_factor: RatioPositive | None = Field(None, description="Torque over force and diameter, a bare number.")


class Counterbore(Part):
    """The counterbore over a thread."""

    diameter: LengthPositive = Field(description="Diameter of the counterbore, a length larger than the thread.")
    depth: LengthPositive = Field(description="Depth of the counterbore from the finished face, a length.")
    plus: LengthTolerance = Field(description="How much deeper it may be, a length without a sign.")
    minus: LengthTolerance = Field(description="How much shallower it may be, a length without a sign.")


class HoleGroup(Part):
    """Threaded holes of one kind in one face."""

    key: CellKey = Field(description="Word of this group in cell names, small letters, digits and _.")
    words: Text = Field(description="What this group is called on the sheet.")
    face: Face = Field(description="Face of the block the holes stand in.")
    names: tuple[HoleName, ...] = Field(
        min_length=1, strict=False, description="Name of each hole, unique over the whole block, letters and digits."
    )
    thread: Text = Field(description="Thread to be made, as on the drawing: 5/16-18 UNC or M8x1.25.")
    opened_from: Text | None = Field(None, description="Thread the hole had before, where it is opened up.")
    drill: Text | None = Field(None, description="Drill by name or size, 17/64, #7, F or 6.8 mm; chosen if left out.")
    drill_reason: str = Field("", description="Why a drill outside the thread's limits is used.")
    thread_depth: LengthPositive = Field(description="Depth of full thread from the finished face, a length.")
    floor: LengthPositive = Field(description="From the face to the nearest gallery, jacket or outside below, a length.")
    operations: tuple[Operation, ...] = Field(
        min_length=1, strict=False, description="What is done to each hole, in the order of the work."
    )
    counterbore: Counterbore | None = Field(None, description="The counterbore, where an operation cuts one.")
    torque: TorquePositive | None = Field(None, description="Tightening torque of the fastener, such as 42 lbf*ft.")


class Finished(Part):
    """What the block is held to when the work on it is done; without this section only the block as received is judged."""

    bore_plus: LengthTolerance = Field(description="How far above the size bored to a finished bore may be.")
    bore_minus: LengthTolerance = Field(description="How far below the size bored to a finished bore may be.")
    out_of_round: Limit = Field(description="Difference of the two diameters at one depth of a finished bore.")
    taper: Limit = Field(description="Difference between top and bottom of a finished bore, a length with its sign.")
    tilt: Limit = Field(description="Difference of finished deck heights from end to end or side to side, a signed length.")
    twist: Limit = Field(description="Half the difference of the finished deck's diagonals, a signed length.")


class Overruled(Part):
    """A rule of the order of work that this shop sets aside."""

    before: Text = Field(description="Operation that usually comes first, by its key in the order of work.")
    after: Text = Field(description="Operation that usually comes after it, by its key.")
    reason: Text = Field(description="Why this shop does otherwise; it is printed beside the operation.")


class Order(Part):
    """What this engine's order of work has otherwise than the usual one."""

    left_out: tuple[str, ...] = Field((), strict=False, description="Operations this engine never needs, by their keys.")
    overruled: tuple[Overruled, ...] = Field((), strict=False, description="Rules this shop sets aside, with the reason.")


class Spec(Part):
    """One engine family: sizes, limits with their source, oversizes, holes, threads and materials."""

    engine: Engine = Field(description="What the engine is.")
    units: Units = Field(description="Which group of readings is read in which unit.")
    decimals: Decimals = Field(description="How many places after the decimal point each group shows.")
    bores: Bores = Field(description="The cylinder bores.")
    lands: Lands = Field(description="The lands between the bores.")
    heights: Heights = Field(description="The heights of the block.")
    shop: Shop = Field(default_factory=lambda: Shop(nut_factor=None), description="Figures of the shop.")
    finished: Finished | None = Field(None, description="What the finished block is held to.")
    order: Order = Field(Order(left_out=(), overruled=()), description="The order of work where it is not the usual one.")
    holes: tuple[HoleGroup, ...] = Field((), strict=False, description="The groups of threaded holes.")

    _text: str = PrivateAttr("")
    _path: Path = PrivateAttr(Path())

    @property
    def text(self) -> str:
        """The spec file as given."""
        return self._text

    @property
    def path(self) -> Path:
        """The file the spec was read from, or the name it was given."""
        return self._path

    def given_as(self, text: str, path: Path) -> Spec:
        """Return the same spec that knows the text and the file it came from."""
        known = self.model_copy()
        known._text, known._path = text, path
        return known
