"""Clamps: what each group's fastener clamps, by torque, turn or stretch, and how far that strays,
beside what its grade can bear.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from datumbook.cells.columns import Column, Sizes, words
from datumbook.cells.handles import Key
from datumbook.equations import fasteners, standings, threads, tightening
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.spec.tightening import Stretched
from datumbook.standards.materials import figure
from datumbook.stations.holes.fastener_groups import (
    areas,
    bare,
    clamped,
    grade_of,
    has_proof,
    loads,
    nut_end_of,
    nut_factor_of,
    strength_of,
    stresses,
    tightening_of,
    torque_units,
    torqued,
    torques,
    way_of,
)
from datumbook.stations.holes.group import GroupAtWork, quantity
from datumbook.stations.holes.group_tables import GroupTable, stated
from datumbook.stations.holes.hole_groups import PERCENT, RATIO, Groups
from datumbook.stations.holes.threads import ThreadHoles
from datumbook.stations.received.shown import shown_words

DEGREES = Sizes("deg", 1, width=9.5)
FRICTION = Sizes("", 3, width=9.5)


class Clamps(GroupTable):
    """What each group's fastener gives: what it clamps, beside what its grade can bear."""

    stress_area: Column
    torque: Column
    nut_factor: Column
    clamp_load: Column
    greatest_clamp: Column

    def __init__(self, groups: Groups, holes: ThreadHoles) -> None:
        self.groups, self.holes = groups, holes
        self.studs = groups.keys(nut_end_of)
        self.shanks = groups.keys(
            lambda one: one.thread.kin.stress_area and stated_shank_of(one) is not None
        )
        super().__init__(
            groups,
            key="fasteners",
            title="What the fastener gives",
            note="By torque the clamp is torque / (K · major diameter), and only as good as K: the "
            "least and the greatest are what it may stray to. A stud's nut end sets the clamp, "
            "its weakest section, a waisted shank too, the strength. Areas in² or mm², forces lbf "
            "or kN.",
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
                    *self._nut_end(),
                    *self._torque(torqued(groups)),
                    *self._friction(groups.keys(lambda one: tightening_of(one).by_friction)),
                    *self._stretched(),
                    *self._clamp(),
                    *self._grade(groups.keys(grade_of)),
                ),
            ),
        )

    def area_of(self, row: str) -> Key:
        """The area that a group's fastener breaks at: of its weaker end, or of a shank that is
        smaller still.
        """
        return self.column("weakest_area")[row] if row in self.shanks else self.thread_area(row)

    def thread_area(self, row: str) -> Key:
        """The stress area of a group's fastener: of a stud with unlike ends the weaker."""
        return self.column("weaker_area" if row in self.studs else "stress_area")[row]

    def major_of(self, row: str) -> Key:
        """The major diameter of the thread that is tightened."""
        return self.column("nut_major")[row] if row in self.studs else self.holes.major[row]

    def pitch_of(self, row: str) -> Key:
        """The pitch of the thread that is tightened."""
        return self.column("nut_pitch")[row] if row in self.studs else self.holes.pitch[row]

    def tightened_area(self, row: str) -> Key:
        """The stress area of the thread that is tightened."""
        return self.column("nut_area" if row in self.studs else "stress_area")[row]

    def twisted_area(self, row: str) -> Key:
        """The least area between the wrench and the thread that holds."""
        return self.area_of(row) if row in self.shanks else self.tightened_area(row)

    def _nut_end(self) -> Iterator[Column]:
        """The nut end of a stud with unlike ends."""
        groups, ends = self.groups, self.studs
        sizes = groups.sizes
        thread = {one.spec.key: end for one in groups.all if (end := nut_end_of(one))}
        yield words("nut_end", "nut end", lambda row: thread[row].designation, rows=ends)

        def major(row: str) -> Quantity:
            return quantity(thread[row].major, thread[row].unit)

        def pitch(row: str) -> Quantity:
            return quantity(thread[row].pitch, thread[row].unit)

        yield sizes.given("nut_major", "its major diameter", major, rows=ends)
        yield sizes.given("nut_pitch", "its pitch", pitch, rows=ends)
        yield from areas(
            groups, "nut_area", "its area", nut_end_of, major=self.major_of, pitch=self.pitch_of
        )
        yield in_area(groups).result(
            "weaker_area",
            "weaker end",
            tightening.weaker_area,
            ends,
            area=lambda row: self.stress_area[row],
            other_area=lambda row: self.column("nut_area")[row],
        )

    def _torque(self, rows: list[str]) -> Iterator[Column]:
        """The torque as the spec has it, in newton metres, and the nut factor where it is a
        figure.
        """
        torque = self.groups.of(lambda one: one.spec.torque)
        yield torques(self.groups, width=8).given("torque", "torque", torque, rows=rows)
        yield torque_units(self.groups, rows=rows, width=7)
        yield Sizes("N*m", 1, width=8).given("newton_metres", "torque", torque, rows=rows)
        known = [key for key in rows if nut_factor_of(self.groups.by_key[key])]
        yield Sizes("", 2, width=8).given(
            "nut_factor", "nut factor K", self.groups.of(nut_factor_of), rows=known
        )

    def _friction(self, rows: list[str]) -> Iterator[Column]:
        """The nut factor that friction of thread and head amounts to."""
        of, sizes = self.groups.of, self.groups.sizes
        told = {
            "thread_friction": ("friction of the thread", FRICTION),
            "head_friction": ("friction of the head", FRICTION),
            "head_face": ("face under the head", sizes),
        }
        for name, (heading, unit) in told.items():
            value = of(_told(name))
            yield unit.given(name, heading, value, rows=rows)
        yield sizes.result(
            "friction_diameter",
            "it rubs on a mean diameter of",
            tightening.friction_diameter,
            rows,
            hole=of(lambda one: one.spec.mating_hole),
        )
        thread = {"major": self.major_of, "pitch": self.pitch_of}
        yield sizes.result(
            "effective", "effective diameter", threads.basic_pitch_diameter, rows, **thread
        )
        yield FRICTION.result(
            "nut_factor",
            "nut factor K",
            tightening.nut_factor_by_friction,
            rows,
            pitch=self.pitch_of,
            diameter=self.major_of,
        )

    def _stretched(self) -> Iterator[Column]:
        """How stiff fastener and joint are, where a turn or a stretch is reckoned with them."""
        groups, sizes = self.groups, self.groups.sizes
        turned, none = clamped(groups, "angle"), read_quantity("0 mm")
        rows = clamped(groups, "angle", "stretch")
        shanks = [one.spec.key for one in groups.all if one.spec.key in {*rows, *self.shanks}]
        yield sizes.given(
            "shank_length",
            "shank that stretches",
            groups.of(lambda one: _stretched_of(one).shank or none),
            rows=rows,
        )
        yield sizes.given(
            "shank_diameter",
            "its diameter",
            groups.of(lambda one: stated_shank_of(one) or one.major),
            rows=shanks,
        )
        yield in_area(groups).result(
            "shank_area",
            "its area",
            tightening.round_area,
            shanks,
            diameter=lambda row: self.column("shank_diameter")[row],
        )
        yield in_area(groups).result(
            "weakest_area",
            "weakest section",
            tightening.weaker_area,
            self.shanks,
            area=self.thread_area,
            other_area=lambda row: self.column("shank_area")[row],
        )
        yield sizes.given(
            "thread_length",
            "thread that stretches",
            groups.of(lambda one: _stretched_of(one).thread),
            rows=rows,
        )
        yield stresses(groups).given(
            "modulus", "modulus of elasticity", groups.of(_modulus_of), rows=rows
        )
        stiffness = Sizes(
            groups.of(lambda one: "lbf/in" if one.unit == "in" else "kN/mm"),
            groups.of(lambda one: 0 if one.unit == "in" else 1),
            width=9.5,
        )
        yield stiffness.result(
            "bolt_stiffness",
            "fastener's stiffness",
            tightening.bolt_stiffness,
            rows,
            area=self.tightened_area,
        )
        stiffer = groups.of(lambda one: _stretched_of(one).joint_stiffer)
        yield RATIO.given("stiffer", "joint stiffer, times", stiffer, rows=turned)
        yield stiffness.result(
            "joint_stiffness", "joint's stiffness", tightening.joint_stiffness, turned
        )

    def _clamp(self) -> Iterator[Column]:
        """The clamp, by what it is tightened to, and how far it strays."""
        groups, force, of = self.groups, loads(self.groups), self.groups.of
        by = {name: clamped(groups, name) for name in ("torque", "angle", "stretch", "aim")}
        every = clamped(groups)
        otherwise = [key for key in every if way_of(groups.by_key[key]).name != "torque"]
        yield words("way", "tightened by", of(lambda one: way_of(one).name), rows=otherwise)
        name, heading, by_torque = "clamp_load", "clamp", fasteners.clamp_load
        yield force.result(name, heading, by_torque, by["torque"], diameter=self.major_of)
        yield force.result(
            "snug_clamp", "clamp before the turn", by_torque, by["angle"], diameter=self.major_of
        )
        turn = of(lambda one: tightening_of(one).angle)
        yield DEGREES.given("turn", "turn", turn, rows=by["angle"])
        yield force.result(
            name, heading, tightening.clamp_after_turn, by["angle"], pitch=self.pitch_of
        )
        stretch = of(lambda one: tightening_of(one).stretch)
        yield groups.sizes.given("stretch", "stretch", stretch, rows=by["stretch"])
        yield force.result(name, heading, tightening.clamp_at_stretch, by["stretch"])
        yield force.result(
            name,
            heading,
            standings.shown_again,
            by["aim"],
            value=lambda row: self.column("preload")[row],
        )
        yield PERCENT.given("scatter", "clamp strays, either way", of(_strays), rows=every)
        stray = {"clamp": lambda row: self.clamp_load[row]}
        least, greatest = fasteners.least_clamp, fasteners.greatest_clamp
        yield force.result("least_clamp", "least clamp", least, every, **stray)
        yield force.result("greatest_clamp", "greatest clamp", greatest, every, **stray)

    def _grade(self, rows: list[str]) -> Iterator[Column]:
        """What the grade of the fastener promises."""
        proof = self.groups.of(lambda one: strength_of(one).proof)
        proved = self.groups.keys(has_proof)
        yield words("grade", "grade", self.groups.of(grade_of), rows=rows, width=8)
        yield stresses(self.groups).given(
            "proof_strength", "proof strength, psi or MPa", proof, rows=proved
        )
        yield loads(self.groups).result(
            "proof_load", "proof load", fasteners.proof_load, proved, area=self.area_of
        )


def in_area(groups: Groups) -> Sizes:
    """What makes columns of area, in the unit that goes with each group's own."""
    return Sizes(
        groups.of(lambda one: f"{one.unit}**2"),
        groups.of(lambda one: 4 if one.unit == "in" else 2),
        width=9.5,
    )


def _strays(group: GroupAtWork) -> Quantity:
    """How far the clamp of a group strays: as stated, else by surface and method."""
    return tightening_of(group).scatter or bare(way_of(group).share)


def _stretched_of(group: GroupAtWork) -> Stretched:
    stretched = tightening_of(group).stretched
    assert stretched is not None  # a spec without it is refused
    return stretched


def stated_shank_of(group: GroupAtWork) -> Quantity | None:
    """The diameter of a fastener's shank, None where it is not stated."""
    stretched = tightening_of(group).stretched
    return stretched.shank_diameter if stretched else None


def _modulus_of(group: GroupAtWork) -> Quantity:
    return _stretched_of(group).modulus or figure("steel", "modulus").value


def _told(name: str) -> Callable[[GroupAtWork], Quantity]:
    """A figure of how a group is tightened, by its name."""
    return lambda group: getattr(tightening_of(group), name)
