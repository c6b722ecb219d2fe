"""What every sheet of fasteners needs of a group: its rule of engagement, its grade, its units of
force and stress, and what its torque clamps.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from datumbook.cells.columns import Check, Column, Input, Per, Result, Sizes, words
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Line
from datumbook.equations import fasteners, threads
from datumbook.numbers.quantities import Quantity
from datumbook.numbers.units import shown
from datumbook.spec.holes import Shop
from datumbook.standards.hole_rules import EngagementRule, engagement_rule
from datumbook.standards.strength import Strength, clamp_scatter, strength
from datumbook.standards.threads import Thread
from datumbook.stations.holes.allowances import allowance, allowed, source_of
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.group_tables import GroupTable, held, stated
from datumbook.stations.holes.hole_groups import PERCENT, RATIO, Groups
from datumbook.stations.holes.threads import ThreadHoles
from datumbook.stations.received.shown import shown_words

DEFAULT_RULE = "1.25 d"


def rule_of(group: GroupAtWork) -> EngagementRule:
    """The rule of least engagement a group is held to."""
    return engagement_rule(group.spec.engagement or DEFAULT_RULE)


def stripping_rows(groups: Groups) -> list[str]:
    """The groups whose stripping the formulas tell: unified threads, whose limits are known on both
    sides.
    """
    return groups.keys(lambda one: one.thread.limit_class == "2B" and grade_of(one))


def grade_of(group: GroupAtWork) -> str | None:
    """The strength grade of a group's fastener, None where none is named."""
    return group.spec.fastener.grade if group.spec.fastener else None


def strength_of(group: GroupAtWork) -> Strength:
    """What the grade of a group's fastener promises."""
    return strength(grade_of(group) or "", group.thread)


def fitted(groups: Groups) -> list[str]:
    """The groups whose fastener's length in the hole is known."""
    return groups.keys(
        lambda one: one.spec.fastener and one.spec.fastener.length and one.spec.fastener.grip
    )


def torqued(groups: Groups) -> list[str]:
    """The groups whose torque says what it clamps."""
    return groups.keys(lambda one: one.spec.torque) if groups.shop.nut_factor else []


def bare(number: Fraction) -> Quantity:
    """A number without a unit."""
    return Quantity(number, "", 2, str(number))


def loads(groups: Groups) -> Sizes:
    """What makes columns of force, in the unit that goes with each group's own."""
    return Sizes(groups.of(lambda one: "lbf" if one.unit == "in" else "kN"), 1, width=9.5)


def stresses(groups: Groups) -> Sizes:
    """What makes columns of stress, in the unit that goes with each group's own."""
    return Sizes(groups.of(lambda one: "psi" if one.unit == "in" else "MPa"), 0, width=9.5)


def torques(groups: Groups, width: float = 9.5) -> Sizes:
    """What makes columns of torque, in the unit the spec has it in."""
    return Sizes(groups.of(lambda one: one.spec.torque.unit), 1, width=width)


def torque_units(groups: Groups, **more: object) -> Column:
    """The column that says the unit of each torque."""
    return words("torque_unit", "in", groups.of(lambda one: shown(one.spec.torque.unit)), **more)


def areas(
    groups: Groups,
    name: str,
    heading: str,
    of: Callable[[GroupAtWork], Thread | None],
    **thread: Per[Input],
) -> list[Result]:
    """The stress area, by the formula of the thread's own standard; `thread` is the major diameter
    and the pitch of what `of` finds, where these are not in the same table.
    """
    found = {one.spec.key: own for one in groups.all if (own := of(one)) is not None}
    sizes = Sizes(
        lambda row: f"{found[row].unit}**2",
        lambda row: 4 if found[row].unit == "in" else 2,
        width=9.5,
    )
    return [
        sizes.result(
            name,
            heading,
            equation,
            [key for key, own in found.items() if own.kin.stress_area is equation],
            **thread,
        )
        for equation in (threads.unified_stress_area, threads.metric_stress_area)
    ]


class FastenerFigures(Form):
    """What the shop reckons fasteners with, each with its source."""

    scatter: Column
    most_proof: Column
    least_stripping: Column
    iron_shear: Column

    def __init__(self, shop: Shop) -> None:
        scatter, source = clamp_scatter()
        super().__init__(
            key="fastener_figures",
            title="Figures",
            lines=(
                Line(
                    column=Sizes("%", 0).given(
                        "scatter", "Clamp strays at one torque, either way", bare(scatter)
                    ),
                    note=source,
                ),
                allowance("most_proof", "Share of proof at the greatest clamp, most", Sizes("", 2)),
                allowance("least_stripping", "Stripping margin, least", Sizes("", 2)),
                *_stated("iron_shear", "Shear strength of the block", shop.iron_shear),
                *_stated("iron_tensile", "Tensile strength of the block", shop.iron_tensile),
            ),
        )


def _stated(name: str, heading: str, stress: Quantity | None) -> Iterator[Line]:
    if stress is not None:
        yield Line(column=Sizes(stress.unit, 0).given(name, heading, stress), note=stress.source)


class Clamps(GroupTable):
    """What each group's fastener gives: what its torque clamps, beside what its grade can bear."""

    stress_area: Column
    torque: Column
    nut_factor: Column
    greatest_clamp: Column

    def __init__(self, groups: Groups, holes: ThreadHoles, figures: FastenerFigures) -> None:
        self.groups, self.holes, self.figures = groups, holes, figures
        super().__init__(
            groups,
            key="fasteners",
            title="What the fastener gives",
            note="Clamp = torque / (K · major diameter), and only as good as K: the least and the "
            "greatest are what it may stray to. Areas in² or mm², forces lbf or kN.",
            columns=(
                *stated(
                    shown_words("thread", "thread", holes.thread, width=13),
                    *areas(
                        groups,
                        "stress_area",
                        "stress area",
                        lambda one: one.thread,
                        major=holes.major,
                        pitch=holes.pitch,
                    ),
                    *self._torque(torqued(groups)),
                    *self._grade(groups.keys(grade_of)),
                    *self._proof([key for key in torqued(groups) if grade_of(groups.by_key[key])]),
                ),
            ),
        )

    def area_of(self, row: str) -> Key:
        """The stress area of a group's thread."""
        return self.stress_area[row]

    def _torque(self, rows: list[str]) -> tuple[Column, ...]:
        """The torque as the spec has it, in newton metres, the nut factor, and what they clamp."""
        force, torque = loads(self.groups), self.groups.of(lambda one: one.spec.torque)
        clamp = force.result(
            "clamp_load", "clamp", fasteners.clamp_load, rows, diameter=self.holes.major
        )
        stray = {"clamp": clamp, "scatter": self.figures.scatter}
        least, greatest = fasteners.least_clamp, fasteners.greatest_clamp
        return (
            torques(self.groups, width=8).given("torque", "torque", torque, rows=rows),
            torque_units(self.groups, rows=rows, width=7),
            Sizes("N*m", 1, width=8).given("newton_metres", "torque", torque, rows=rows),
            Sizes("", 2, width=8).given(
                "nut_factor", "nut factor K", self.groups.shop.nut_factor, rows=rows
            ),
            clamp,
            force.result("least_clamp", "least clamp", least, rows, **stray),
            force.result("greatest_clamp", "greatest clamp", greatest, rows, **stray),
        )

    def _grade(self, rows: list[str]) -> tuple[Column, ...]:
        """What the grade of the fastener promises."""
        proof = self.groups.of(lambda one: strength_of(one).proof)
        return (
            words("grade", "grade", self.groups.of(grade_of), rows=rows, width=8),
            stresses(self.groups).given(
                "proof_strength", "proof strength, psi or MPa", proof, rows=rows
            ),
            loads(self.groups).result(
                "proof_load", "proof load", fasteners.proof_load, rows, area=self.area_of
            ),
        )

    def _proof(self, rows: list[str]) -> tuple[Column | Check, ...]:
        """The greatest clamp beside the proof load, and the torque for the preload aimed at."""
        share = PERCENT.result(
            "share_of_proof",
            "share of proof, greatest",
            fasteners.share_of_proof,
            rows,
            clamp=lambda row: self.greatest_clamp[row],
        )
        usual = allowed("proof_share")
        aimed = self.groups.of(lambda one: one.spec.fastener.proof_share or usual)
        preload = loads(self.groups).result("preload", "preload aimed at", fasteners.preload, rows)
        return (
            *held(share, source_of("most_proof"), high=self.figures.most_proof),
            RATIO.given("proof_share", "share aimed at", aimed, rows=rows),
            preload,
            torques(self.groups).result(
                "torque_for_preload",
                "torque for it, as torque",
                fasteners.torque_for_clamp,
                rows,
                clamp=preload,
                diameter=self.holes.major,
            ),
        )
