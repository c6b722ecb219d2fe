"""The picture of a spec as a whole; its sections by subject are in block.py, features.py, parts.py,
liners.py, holes.py, groups.py, named.py and work.py. Their descriptions are the reference of the
spec file.

Only what values of one spec say by themselves is held here; what they say about each other stands
in checks.py.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pydantic import Field, PrivateAttr, model_validator

from datumbook.spec.block import (
    Bank,
    BoreSpec,
    CamDrive,
    Combustion,
    Engine,
    Finished,
    Heights,
    Lands,
)
from datumbook.spec.features import Features
from datumbook.spec.groups import GROUPS, Decimals, ReadingGroup, Units
from datumbook.spec.holes import FacePlan, HoleGroup, Shop
from datumbook.spec.liners import Liners
from datumbook.spec.named import NamedSections
from datumbook.spec.parts import has_crush
from datumbook.spec.values import refused
from datumbook.spec.work import DecisionSpec, Order, Repeat


class Spec(Features, NamedSections):
    """One engine family: sizes, limits with their source, oversizes, holes, threads and
    materials.
    """

    guessed: bool = Field(
        False,
        description="Whether every figure here is a guess, as in a file begun from another "
        "engine's; what rests on a guess is not released.",
    )
    engine: Engine = Field(description="What the engine is.")
    units: Units = Field(description="Which group of readings is read in which unit.")
    decimals: Decimals = Field(
        description="How many places after the decimal point each group shows."
    )
    bores: BoreSpec = Field(description="The cylinder bores.")
    lands: Lands | None = Field(None, description="The lands between the bores.")
    heights: Heights | None = Field(None, description="The heights of the block.")
    shop: Shop = Field(
        default_factory=lambda: Shop.model_validate({}),
        description="What the shop owns, and its figures.",
    )
    combustion: Combustion | None = Field(None, description="What stands above the piston.")
    cam_drive: CamDrive | None = Field(None, description="The drive of the camshaft.")
    banks: tuple[Bank, ...] = Field(
        (), strict=False, description="The rows of cylinders, where there are several decks."
    )
    finished: Finished | None = Field(None, description="What the finished block is held to.")
    decision: DecisionSpec = Field(
        DecisionSpec(rule="guard band, 1998 edition"),
        description="The decision rule at the limits.",
    )
    repeat: Repeat = Field(
        Repeat(groups=()), description="The groups of readings that are taken twice."
    )
    order: Order = Field(
        Order(left_out=(), overruled=()),
        description="The order of work where it is not the usual one.",
    )
    outlines: tuple[FacePlan, ...] = Field(
        (), strict=False, description="Outlines of faces, for the maps of their holes."
    )
    holes: tuple[HoleGroup, ...] = Field(
        (), strict=False, description="The groups of threaded holes."
    )

    _text: str = PrivateAttr("")
    _full_text: str = PrivateAttr("")
    _path: Path = PrivateAttr(Path())

    @property
    def dry_liners(self) -> Liners | None:
        """The dry liners of an engine that may get them."""
        return self.liners if self.liners is not None and self.liners.kind == "dry" else None

    @property
    def bored(self) -> bool:
        """Whether each cylinder has a finish size of its own: oversizes to bore to, or liners."""
        return bool(self.bores.oversizes) or self.dry_liners is not None

    @model_validator(mode="after")
    def _has_a_cap_for_each_tunnel(self) -> Spec:
        caps, lined = self.engine.bearing_caps, self.tunnels and self.tunnels.alignment
        if (self.tunnels or self.registers) and not caps:
            raise refused(
                "out-of-range",
                "bearing_caps = 0 with a section of tunnels or registers",
                "between 1 and 20",
                "engine",
            )
        if lined and len(lined.places) != caps:
            raise refused(
                "places-count", f"{len(lined.places)} places", f"{caps} tunnels", "tunnels"
            )
        return self

    @model_validator(mode="after")
    def _repeats_what_it_reads(self) -> Spec:
        for group in self.repeat.groups:
            if group not in (known := groups_of(self)):
                raise refused("group-not-read", group, ", ".join(known), "repeat")
        return self

    @model_validator(mode="after")
    def _lines_cylinders_it_has(self) -> Spec:
        every = range(1, self.engine.cylinders + 1)
        for number in self.liners.cylinders if self.liners else ():
            if number not in every:
                known = ", ".join(map(str, every))
                raise refused("cylinder-unknown", number, known, "liners", "cylinders")
        return self

    @model_validator(mode="after")
    def _has_each_cylinder_under_one_head(self) -> Spec:
        under = (
            sorted(number for head in self.liners.heads for number in head) if self.liners else []
        )
        if under and under != list(range(1, self.engine.cylinders + 1)):
            raise refused(
                "cylinders-of-heads",
                ", ".join(map(str, under)),
                str(self.engine.cylinders),
                "liners",
            )
        return self

    @model_validator(mode="after")
    def _has_a_place_for_each_part(self) -> Spec:
        parts = self.parts
        if parts is None:
            return self
        homes = {
            "cam_journals": "cam",
            "tappets": "tappet_bores",
            "gasket": "combustion",
            "ratio_spread": "combustion",
        }
        for part, section in homes.items():
            if getattr(parts, part) and not getattr(self, section):
                raise refused("section-missing", part, section, "parts")
        if parts.main_journals and not self.engine.bearing_caps:
            raise refused(
                "out-of-range", "bearing_caps = 0 with main journals", "between 1 and 20", "engine"
            )
        shared = parts.crankpins.of_cylinders if parts.crankpins else ()
        if shared and (len(shared) != self.engine.cylinders or min(shared) < 1):
            raise refused(
                "crankpins-count", ", ".join(map(str, shared)), str(self.engine.cylinders), "parts"
            )
        return self

    @property
    def rows(self) -> tuple[Bank, ...]:
        """The rows of cylinders, each under its own deck: the banks, or the one row of an engine in
        line, of which only the numbers are known where the spec has no lands.
        """
        if self.banks:
            return self.banks
        lands = self.lands
        length: dict[str, Any] = {"deck_length": lands.deck_length} if lands else {}
        return (
            Bank.model_construct(
                None,
                key="",
                words="",
                cylinders=tuple(range(1, self.engine.cylinders + 1)),
                centres=lands.centres if lands else (),
                **length,
            ),
        )

    @property
    def text(self) -> str:
        """The spec file as given."""
        return self._text

    @property
    def path(self) -> Path:
        """The file the spec was read from, or the name it was given."""
        return self._path

    @property
    def full_text(self) -> str:
        """The full form as JSON, where the text is written shorter or stands on other files; ""
        where the text is the full form.
        """
        return self._full_text

    @property
    def stated(self) -> tuple[str, str]:
        """All that the spec states: its text, and its full form where that is another."""
        return self._text, self._full_text

    def given_as(self, text: str, path: Path, full_text: str = "") -> Spec:
        """Return the same spec that knows the text and the file it came from, and its full form."""
        known = self.model_copy()
        known._text, known._path, known._full_text = text, path, full_text
        return known


def groups_of(spec: Spec) -> list[ReadingGroup]:
    """The groups of readings this engine has, in the order of GROUPS."""
    has = {
        "lands": spec.lands,
        "heights": spec.heights,
        "walls": spec.walls,
        "flatness": spec.flatness or spec.squareness or spec.seals,
        "tunnels": spec.tunnels or spec.registers,
        "cam": spec.cam,
        "small_bores": spec.tappet_bores or spec.core_plugs,
        "liners": spec.liners,
        "parts": spec.parts or spec.valve_clearances,
        "gaps": spec.parts and (spec.parts.rings or spec.parts.thrust or has_crush(spec.parts)),
        "surfaces": spec.surfaces,
        "holes": spec.holes,
    }
    return [group for group in GROUPS if has.get(group, True)]
