"""The part of a spec that says what holes a block has, what is done to them, and what the shop owns
for it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Literal

from pydantic import Field

from datumbook.numbers.quantities import read_quantity
from datumbook.spec.limits import SpecPart
from datumbook.spec.tightening import SurfaceName, Tightening
from datumbook.spec.values import (
    CellKey,
    HoleName,
    LengthPositive,
    LengthTolerance,
    NotBlank,
    RatioPositive,
    ScaleLine,
    SpeedPositive,
    StressPositive,
    TorquePositive,
    VolumePositive,
)

Face = Literal["deck", "bottom", "front", "rear", "left", "right"]
HoleOperation = Literal[
    "drill",
    "ream",
    "counterbore",
    "spot-face",
    "countersink",
    "start tap",
    "finish tap",
    "chase",
    "insert drill",
    "insert tap",
    "insert",
    "plug",
    "deburr",
    "probe depth",
]
DrillSeries = Literal["fraction", "number", "letter", "metric"]
TapName = Literal["taper", "second", "bottoming"]
Pair = Annotated[tuple[LengthPositive, LengthPositive], Field(strict=False)]


SHOP_FIGURE = replace(read_quantity("0.010 mm"), source="common practice, no source")


class Shop(SpecPart):
    """What the shop owns, and its figures; a table stands in for those left out."""

    nut_factor: RatioPositive | None = Field(
        None, description="Torque over force and diameter, a bare number."
    )
    surface: SurfaceName | None = Field(
        None,
        description="Surface of thread and head, by its name in the table: dry, oiled, zinc; gives "
        "the nut factor where none is stated, and how far clamp strays at one torque.",
    )
    iron_shear: StressPositive | None = Field(
        None, description="Shear strength of the block's material, for the stripping rules."
    )
    iron_tensile: StressPositive | None = Field(
        None, description="Tensile strength of the block's material, for FED-STD 16."
    )
    infeed_off: LengthPositive = Field(
        SHOP_FIGURE, description="What touch and infeed of a face cut may be off, a length (k = 2)."
    )
    clocking_off: LengthPositive = Field(
        SHOP_FIGURE,
        description="What a block may be clocked out of level, from end to end, a length (k = 2).",
    )
    bar_off: LengthPositive = Field(
        SHOP_FIGURE,
        description="What either end of a line bore may be off its place, a length (k = 2).",
    )
    chilling_room: VolumePositive | None = Field(
        None, description="Volume of the room in which liners are chilled, a volume."
    )
    drills: tuple[DrillSeries, ...] = Field(
        ("fraction", "number", "letter", "metric"),
        min_length=1,
        strict=False,
        description="Drill series the shop owns.",
    )
    drill_oversize: LengthTolerance | None = Field(
        None,
        description="What the shop's drills cut over their own size, a length; a chart's mean by "
        "size where it is left out.",
    )
    taps: tuple[TapName, ...] = Field(
        ("taper", "second", "bottoming"),
        min_length=1,
        strict=False,
        description="Taps the shop owns of each thread, by lead.",
    )
    stop: NotBlank = Field(
        "depth stop of the quill, locked", description="What stops the quill at depth, in words."
    )
    stop_scale: ScaleLine | None = Field(
        None,
        description="From line to line on the scale of the quill's stop, in its own unit; every "
        "stop is set on a line. A common scale in the unit of each group where it is left out.",
    )
    paper: Literal["A4", "Letter"] = Field(
        "A4", description="Paper that the shop prints on; where pages end follows from it."
    )
    spindle_speeds: tuple[SpeedPositive, ...] = Field(
        (),
        strict=False,
        description="Speeds that the drilling machine has, as 500 1/min; a cutter is turned at the "
        "next below its own. Cut off to tens where they are left out.",
    )
    spared: Literal["tool changes", "set-ups"] = Field(
        "tool changes",
        description="What the order of hole work spares first; a set-up turns the block.",
    )
    tightening_rounds: int = Field(
        3, ge=1, le=6, description="Rounds in which a fastener is tightened, 1 to 6."
    )


class FacePlan(SpecPart):
    """The outline of a face as one sees it from outside: along from its left end, across from its
    lower edge.

    The front of the block is to the left on deck and bottom face: the lower edge is the left side
    of the block on the deck, the right side on the bottom face.
    """

    of: Face = Field(description="Which face of the block.")
    bank: CellKey | None = Field(
        None, description="Bank whose deck it is, by its key, where there are several decks."
    )
    length: LengthPositive = Field(description="Length of the face, along.")
    width: LengthPositive = Field(description="Width of the face, across.")
    bores_across: LengthPositive | None = Field(
        None, description="Across distance of the bores' centres, for the deck."
    )

    @property
    def on(self) -> str:
        """Word of the face in cell names, as a group of holes has it."""
        return f"{self.of}_{self.bank}" if self.bank else self.of

    @property
    def face(self) -> Face:
        """The face, by the word a group of holes has for it."""
        return self.of


class Counterbore(SpecPart):
    """The counterbore over a thread."""

    diameter: LengthPositive = Field(
        description="Diameter of the counterbore, a length larger than the thread."
    )
    depth: LengthPositive = Field(
        description="Depth of the counterbore from the finished face, a length."
    )
    plus: LengthTolerance = Field(description="How much deeper it may be, a length without a sign.")
    minus: LengthTolerance = Field(
        description="How much shallower it may be, a length without a sign."
    )


class HoleCut(SpecPart):
    """A cut with a diameter and a depth of its own: spot-face, ream or countersink."""

    operation: Literal["ream", "spot-face", "countersink"] = Field(
        description="The operation that makes this cut."
    )
    diameter: LengthPositive = Field(description="Diameter of the cut, a length.")
    depth: LengthPositive = Field(description="Depth of the cut from the finished face, a length.")


class Insert(SpecPart):
    """A wire-thread insert: its own drill and tap, as its maker states them."""

    drill: NotBlank | None = Field(
        None, description="Drill for the insert's tap, by name or size; the table's if left out."
    )
    tap: NotBlank = Field(description="The insert's own tap, in words.")
    length: LengthPositive = Field(description="Length of the insert when it is in, a length.")


class Wall(SpecPart):
    """Metal beside the hole, stated instead of worked out from coordinates."""

    to: NotBlank = Field(
        description="What lies behind the wall: water jacket, oil gallery, bore 2."
    )
    metal: LengthPositive = Field(
        description="Metal between the thread as it is now and that, a length."
    )


class Danger(SpecPart):
    """A hole with a gallery or a sealing face under it: the one that must not break through."""

    hole: HoleName = Field(description="Which hole of the group.")
    over: NotBlank = Field(description="What lies under it.")
    floor: LengthPositive = Field(description="From the face to that, a length.")


class Fastener(SpecPart):
    """The bolt or stud that goes in."""

    grade: NotBlank | None = Field(None, description="Strength grade: SAE 5, 8.8.")
    length: LengthPositive | None = Field(
        None, description="Length under the head, or of the whole stud."
    )
    grip: LengthPositive | None = Field(
        None, description="How much of it stands above the block's finished face."
    )
    proof_share: RatioPositive | None = Field(
        None, description="Share of the proof load aimed at: 0.75 to use again."
    )
    nut_end: NotBlank | None = Field(
        None, description="Thread of a stud's nut end, where it is not the block's: 7/16-20 UNF."
    )
    run_out: LengthPositive | None = Field(
        None,
        description="Incomplete thread next a stud's shank that goes below the face, a length; "
        "about 2.5 pitches.",
    )


class HoleGroup(SpecPart):
    """Threaded holes of one kind in one face."""

    key: CellKey = Field(
        description="Word of this group in cell names, small letters, digits and _."
    )
    words: NotBlank = Field(description="What this group is called on the sheet.")
    face: Face = Field(description="Face of the block the holes stand in.")
    bank: CellKey | None = Field(
        None,
        description="Bank in whose deck they stand, by its key, where there are several decks.",
    )
    names: tuple[HoleName, ...] = Field(
        min_length=1,
        strict=False,
        description="Name of each hole, unique over the whole block, letters and digits.",
    )
    places: tuple[Pair, ...] = Field(
        (),
        strict=False,
        description="Centre of each hole, along and across its face, in the order of the names.",
    )
    thread: NotBlank = Field(
        description="Thread to be made, as on the drawing: 5/16-18 UNC or M8x1.25."
    )
    opened_from: NotBlank | None = Field(
        None, description="Thread the hole had before, where it is opened up."
    )
    drill: NotBlank | None = Field(
        None, description="Drill by name or size, 17/64, #7, F or 6.8 mm; chosen if left out."
    )
    drill_reason: str = Field("", description="Why a drill outside the thread's limits is used.")
    drill_oversize: LengthTolerance | None = Field(
        None,
        description='What the drill cuts over its own size here, a length: "0 mm" for a reamer, or '
        "a drill in a bush; the shop's figure where it is left out.",
    )
    thread_share: RatioPositive | None = Field(
        None,
        description="Share of thread that the hole as drilled should leave, by the drill charts: "
        "70 %.",
    )
    thread_depth: LengthPositive = Field(
        description="Depth of full thread from the finished face, a length."
    )
    floor: LengthPositive = Field(
        description="From the face to the nearest gallery, jacket or outside below, a length."
    )
    danger: tuple[Danger, ...] = Field(
        (), strict=False, description="Holes of the group with less below them, each by name."
    )
    walls: tuple[Wall, ...] = Field(
        (), strict=False, description="Metal beside the holes, where it is stated."
    )
    edge: LengthPositive | None = Field(
        None, description="Centre to the nearest edge, where no coordinates tell it."
    )
    operations: tuple[HoleOperation, ...] = Field(
        min_length=1,
        strict=False,
        description="What is done to each hole, in the order of the work.",
    )
    counterbore: Counterbore | None = Field(
        None, description="The counterbore, where an operation cuts one."
    )
    cuts: tuple[HoleCut, ...] = Field(
        (), strict=False, description="Sizes of ream, spot-face and countersink."
    )
    insert: Insert | None = Field(
        None, description="The wire-thread insert, where operations fit one."
    )
    gasket_hole: LengthPositive | None = Field(
        None, description="Hole of the gasket over this one, a diameter."
    )
    boss: LengthPositive | None = Field(None, description="Boss the hole stands in, a diameter.")
    mating_hole: LengthPositive | None = Field(
        None, description="Hole of the part that is bolted on, a diameter."
    )
    engagement_length: LengthPositive | None = Field(
        None,
        description="Thread engaged, to hold the hole to the limits recommended for it instead of "
        "its class.",
    )
    engagement: NotBlank | None = Field(
        None, description="Rule of least engagement, by its name: 1.25 d, 1.5 d, strength."
    )
    fastener: Fastener | None = Field(None, description="The bolt or stud that goes in.")
    torque: TorquePositive | None = Field(
        None,
        description="Tightening torque of the fastener, such as 42 lbf*ft; that before the turn, "
        "where it is tightened by angle.",
    )
    tightening: Tightening | None = Field(
        None, description="How the fastener is tightened, where it is not as the shop has it."
    )

    @property
    def on(self) -> str:
        """Word of the face in cell names, with its bank where there are several decks: bottom,
        deck_left.
        """
        return f"{self.face}_{self.bank}" if self.bank else self.face

    def oversize_mm(self, shop: Shop | None) -> float | None:
        """What a drill cuts over its size here, in mm, as the group or else the shop states it;
        None where neither does.
        """
        stated = self.drill_oversize or (shop.drill_oversize if shop else None)
        return stated.to("mm") if stated else None

    def cut(self, operation: str) -> HoleCut | None:
        """The sizes of a cut of its own, None where none are given."""
        return next((one for one in self.cuts if one.operation == operation), None)

    def danger_of(self, hole: str) -> Danger | None:
        """What lies under a hole that must not break through, None under the others."""
        return next((one for one in self.danger if one.hole == hole), None)
