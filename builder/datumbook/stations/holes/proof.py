"""Proof: the greatest clamp of each group beside what its grade can bear, what gives the preload
aimed at, and the figures these are judged by.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Check, Column, Sizes
from datumbook.cells.tables import Form, Line
from datumbook.equations import fasteners, tightening
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.spec.holes import Shop
from datumbook.standards.strength import iron_shear_ratio
from datumbook.stations.holes.allowances import allowance, allowed, source_of
from datumbook.stations.holes.clamps import DEGREES, Clamps
from datumbook.stations.holes.fastener_groups import (
    bare,
    clamped,
    grade_of,
    has_proof,
    loads,
    strength_of,
    stresses,
    tightening_of,
    torques,
)
from datumbook.stations.holes.group_tables import held, stated
from datumbook.stations.holes.hole_groups import PERCENT, RATIO

YIELD_SHARE = read_quantity("0.9")  # of the tables of VDI 2230


class FastenerFigures(Form):
    """What the shop reckons fasteners with, each with its source."""

    most_proof: Column
    least_stripping: Column
    iron_shear: Column | None
    iron_tensile: Column

    def __init__(self, shop: Shop) -> None:
        super().__init__(
            key="fastener_figures",
            title="Figures",
            lines=(
                allowance("most_proof", "Share of proof at the greatest clamp, most", Sizes("", 2)),
                allowance("least_stripping", "Stripping margin, least", Sizes("", 2)),
                *_stated("iron_shear", "Shear strength of the block", shop.iron_shear),
                *_stated("iron_tensile", "Tensile strength of the block", shop.iron_tensile),
                *self._shear_by_tensile(shop),
            ),
        )

    def _shear_by_tensile(self, shop: Shop) -> Iterator[Line]:
        """The shear strength of the block by its tensile strength, where it is not stated."""
        if shop.iron_tensile is None or shop.iron_shear is not None:
            return
        ratio, source, _ = iron_shear_ratio()
        yield Line(
            column=RATIO.given("shear_ratio", "Shear over tensile strength", bare(ratio)),
            note=source,
        )
        yield Line(
            column=Sizes(shop.iron_tensile.unit, 0).result(
                "iron_shear",
                "Shear strength of the block, by it",
                tightening.shear_of_iron,
                tensile_strength=lambda _: self.iron_tensile.key,
            )
        )


def _stated(name: str, heading: str, stress: Quantity | None) -> Iterator[Line]:
    if stress is not None:
        yield Line(column=Sizes(stress.unit, 0).given(name, heading, stress), note=stress.source)


class Proof:
    """The columns that hold the clamps of a table against grade and preload."""

    def __init__(self, clamps: Clamps, figures: FastenerFigures) -> None:
        self.clamps, self.groups, self.figures = clamps, clamps.groups, figures
        self.proved = set(self.groups.keys(has_proof))

    def columns(self) -> list[Column | Check]:
        """Those that stand in some row."""
        return stated(*self._share(), *self._yield())

    def _rows(self, *by: str) -> list[str]:
        """The groups whose clamp is reckoned from this, and whose proof strength is known."""
        return [key for key in clamped(self.groups, *by) if key in self.proved]

    def _share(self) -> Iterator[Column | Check]:
        """The greatest clamp beside the proof load, and what gives the preload aimed at."""
        groups, usual = self.groups, allowed("proof_share")
        rows = self._rows()
        share = PERCENT.result(
            "share_of_proof",
            "share of proof, greatest",
            fasteners.share_of_proof,
            rows,
            clamp=lambda row: self.clamps.greatest_clamp[row],
        )
        yield from held(share, source_of("most_proof"), high=self.figures.most_proof)
        yield stresses(groups).result(
            "tightened_stress",
            "stress in it, greatest",
            fasteners.tightened_stress,
            rows,
            clamp=lambda row: self.clamps.greatest_clamp[row],
            area=self.clamps.area_of,
        )
        aimed = groups.of(
            lambda one: (one.spec.fastener and one.spec.fastener.proof_share) or usual
        )
        yield RATIO.given("proof_share", "share aimed at", aimed, rows=rows)
        preload = loads(groups).result("preload", "preload aimed at", fasteners.preload, rows)
        yield preload
        yield from self._torque_for(preload)
        yield from self._turn_for(preload)

    def _torque_for(self, preload: Column) -> Iterator[Column]:
        """The torque, by the nut factor or by friction, for the preload aimed at."""
        name, heading = "torque_for_preload", "torque for it, as torque"
        rows = self._rows("torque")
        rubs = self.groups.keys(lambda one: tightening_of(one).by_friction)
        yield torques(self.groups).result(
            name,
            heading,
            fasteners.torque_for_clamp,
            [key for key in rows if key not in rubs],
            clamp=preload,
            diameter=self.clamps.major_of,
        )
        yield torques(self.groups).result(
            name,
            heading,
            tightening.torque_by_friction,
            [key for key in rows if key in rubs],
            clamp=preload,
            pitch=self.clamps.pitch_of,
        )

    def _turn_for(self, preload: Column) -> Iterator[Column]:
        """The turn after the torque, or the stretch, for the preload aimed at."""
        groups, sizes = self.groups, self.groups.sizes
        turned, stretched = self._rows("angle"), self._rows("stretch")
        gain = loads(groups).result(
            "clamp_to_gain", "of it by the turn", tightening.clamp_to_gain, turned
        )
        yield gain
        name, heading = "bolt_stretch", "fastener stretches for it"
        yield sizes.result(name, heading, tightening.bolt_stretch, turned, clamp=gain)
        yield sizes.result(name, heading, tightening.bolt_stretch, stretched, clamp=preload)
        yield sizes.result(
            "joint_squeeze", "joint gives for it", tightening.joint_squeeze, turned, clamp=gain
        )
        yield DEGREES.result(
            "angle_of_turn",
            "turn for it",
            tightening.angle_of_turn,
            turned,
            pitch=self.clamps.pitch_of,
        )

    def _yield(self) -> Iterator[Column]:
        """The clamp at which pull and twist together come near yield, where friction is known."""
        rubs = self.groups.keys(lambda one: tightening_of(one).by_friction and grade_of(one))
        rows = [key for key in clamped(self.groups, "torque") if key in rubs]
        yielding = self.groups.of(lambda one: strength_of(one).yielding)
        yield stresses(self.groups).given("yield_strength", "yield strength", yielding, rows=rows)
        yield RATIO.given("yield_share", "of it, twist counted", YIELD_SHARE, rows=rows)
        yield loads(self.groups).result(
            "clamp_at_yield_share",
            "clamp there",
            tightening.clamp_at_yield_share,
            rows,
            share=lambda row: self.clamps.column("yield_share")[row],
            area=self.clamps.twisted_area,
            pitch=self.clamps.pitch_of,
        )
