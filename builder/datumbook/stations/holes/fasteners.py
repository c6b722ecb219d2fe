"""Fasteners: what a torque clamps and how far it strays, beside what grade and block can bear."""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Check, Column, Given, Result, Sizes, words
from datumbook.cells.tables import Line, Prose, Sheet, SheetPart
from datumbook.equations import fasteners
from datumbook.numbers.units import shown
from datumbook.standards.strength import clamp_scatter
from datumbook.stations.holes.allowances import allowed, source_of
from datumbook.stations.holes.fastener_groups import (
    Clamps,
    FastenerFigures,
    area,
    bare,
    grade_of,
    loads,
    strength_of,
    stress_unit,
    stripping_rows,
    torqued,
)
from datumbook.stations.holes.hole_groups import PERCENT, RATIO, Groups
from datumbook.stations.holes.opening import opening
from datumbook.stations.holes.stripping import StrippedThreads, margins, stripping
from datumbook.stations.holes.threads import ThreadHoles
from datumbook.stations.holes.tightening import tightening
from datumbook.workbook.layout import WHOLE

CONFLICTS = (
    "Stress areas are by formula; printed tables differ from it by up to 0.0002 in².",
    "Thread engaged in grey iron: rules of thumb say 1.0 to 1.5 diameters, FED-STD 16 with soft "
    "iron about 2.6, the iron's own "
    "shear strength about 1: each group is held to the rule named on the HoleMetal sheet.",
)


class Fasteners:
    """The fasteners of all groups: clamp, proof, the strength of the threads, the opened ones."""

    stripping: StrippedThreads | None = None

    def __init__(self, groups: Groups, threads: ThreadHoles) -> None:
        self.groups, self.threads = groups, threads
        self.force, self.torqued = loads(groups), torqued(groups)
        self.figures = self._figures()
        self.clamps = self._clamps()
        if stripping_rows(groups):
            self.stripping = stripping(groups, threads, self.clamps, self.figures)

    def held_over(self, engaged_length: Column) -> None:
        """The margins against stripping, over the engagement there will be."""
        if self.stripping is not None:
            self.stripping.extend(
                margins(self.groups, self.stripping, engaged_length, self.clamps, self.figures)
            )

    def sheet(self) -> Sheet:
        """The sheet of the fasteners."""
        parts: list[SheetPart] = [self.figures, self.clamps]
        if self.stripping is not None:
            parts.append(self.stripping)
        if self.groups.keys(lambda one: one.before):
            parts.append(opening(self.groups, self.threads, self.clamps))
        parts += [self._conflicts(), *tightening(self.groups)]
        return Sheet(name="Fasteners", title="Fasteners and torque", parts=parts)

    def _conflicts(self) -> Prose:
        """Where sources disagree, and which of them is followed here."""
        groups = self.groups
        named = [strength_of(groups.by_key[key]) for key in groups.keys(grade_of)]
        grades = [f"Grade {one.grade}: {one.conflict}" for one in named if one.conflict]
        return Prose(
            title="Where sources disagree",
            lines=[(line,) for line in dict.fromkeys((*grades, *CONFLICTS))],
            widths=(WHOLE,),
        )

    def _figures(self) -> FastenerFigures:
        """What the shop reckons with, each with its source."""
        (scatter, source), shop = clamp_scatter(), self.groups.shop
        strays = "Clamp strays at one torque, either way"
        lines = [Line(column=Sizes("%", 0).given("scatter", strays, bare(scatter)), note=source)]
        for name, heading in (
            ("most_proof", "Share of proof at the greatest clamp, most"),
            ("least_stripping", "Stripping margin, least"),
        ):
            column = Sizes("", 2).given(name, heading, allowed(name))
            lines.append(Line(column=column, note=source_of(name)))
        for name, heading, stress in (
            ("iron_shear", "Shear strength of the block", shop.iron_shear),
            ("iron_tensile", "Tensile strength of the block", shop.iron_tensile),
        ):
            if stress is not None:
                column = Sizes(stress.unit, 0).given(name, heading, stress)
                lines.append(Line(column=column, note=stress.source))
        return FastenerFigures(key="fastener_figures", title="Figures", lines=lines)

    def _clamps(self) -> Clamps:
        return Clamps(
            key="fasteners",
            title="What the fastener gives",
            heading="Group",
            note="Clamp = torque / (K · major diameter), and only as good as K: the least and the "
            "greatest are what it may stray "
            "to. Areas in² or mm², forces lbf or kN.",
            turned=True,
            rows=self.groups.rows(),
            columns=tuple(self._columns()),
        )

    def _columns(self) -> Iterator[Column | Check]:
        of, major, pitch = self.groups.of, self.threads.major, self.threads.pitch
        yield words("thread", "thread", of(lambda one: one.thread.designation), width=13)
        yield from area(
            self.groups,
            "stress_area",
            "stress area",
            lambda one: one.thread,
            major=major,
            pitch=pitch,
        )
        if self.torqued:
            yield from self._torque()
        graded = self.groups.keys(grade_of)
        if graded:
            yield words("grade", "grade", of(grade_of), rows=graded, width=8)
            yield Given(
                name="proof_strength",
                words="proof strength, psi or MPa",
                decimals=0,
                rows=graded,
                value=of(lambda one: strength_of(one).proof),
                width=9.5,
                unit=of(stress_unit),
            )
            yield self.force.result(
                "proof_load",
                "proof load",
                fasteners.proof_load,
                graded,
                area=lambda row: self.clamps.stress_area[row],
            )
        both = [key for key in self.torqued if key in graded]
        if both:
            yield from self._proof(both)

    def _torque(self) -> Iterator[Column]:
        """The torque as the spec has it, in newton metres, the nut factor, and what they clamp."""
        rows, torque = self.torqued, self.groups.of(lambda one: one.spec.torque)
        unit = self.groups.of(lambda one: one.spec.torque.unit)
        yield Sizes(unit, 1, width=8).given("torque", "torque", torque, rows=rows)
        yield words("torque_unit", "in", lambda row: shown(unit(row)), rows=rows, width=7)
        yield Sizes("N*m", 1, width=8).given("newton_metres", "torque", torque, rows=rows)
        factor = self.groups.shop.nut_factor
        yield Sizes("", 2, width=8).given("nut_factor", "nut factor K", factor, rows=rows)
        clamp = self.force.result(
            "clamp_load", "clamp", fasteners.clamp_load, rows, diameter=self.threads.major
        )
        yield clamp
        stray = {"clamp": clamp, "scatter": self.figures.scatter}
        yield self.force.result("least_clamp", "least clamp", fasteners.least_clamp, rows, **stray)
        yield self.force.result(
            "greatest_clamp", "greatest clamp", fasteners.greatest_clamp, rows, **stray
        )

    def _proof(self, both: list[str]) -> Iterator[Column | Check]:
        """The greatest clamp beside the proof load, and the torque for the preload aimed at."""
        share = PERCENT.result(
            "share_of_proof",
            "share of proof, greatest",
            fasteners.share_of_proof,
            both,
            clamp=lambda row: self.clamps.greatest_clamp[row],
        )
        yield share
        most, source = self.figures.most_proof, source_of("most_proof")
        yield Check(of=share, high=most, rows=both, source=source)
        usual = allowed("proof_share")
        aimed = self.groups.of(lambda one: one.spec.fastener.proof_share or usual)
        yield RATIO.given("proof_share", "share aimed at", aimed, rows=both)
        preload = self.force.result("preload", "preload aimed at", fasteners.preload, both)
        yield preload
        yield Result(
            name="torque_for_preload",
            words="torque for it, as torque",
            unit=self.groups.of(lambda one: one.spec.torque.unit),
            decimals=1,
            rows=both,
            width=9.5,
            equation=fasteners.torque_for_clamp,
            inputs={"clamp": preload, "diameter": self.threads.major},
        )
