"""Fasteners: what a torque clamps and how far it strays, beside what grade and block can bear."""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Check, Column, Given, Result, Sizes, words
from datumbook.cells.tables import Form, Line, Prose, Sheet, Table
from datumbook.equations import fasteners
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.numbers.units import shown
from datumbook.standards import hole_allowances
from datumbook.standards.strength import clamp_scatter
from datumbook.stations.holes.fastener_groups import (
    PERCENT,
    RATIO,
    area,
    bare,
    grade_of,
    load_unit,
    strength_of,
    stress_unit,
    stripping_rows,
)
from datumbook.stations.holes.fastener_groups import torqued as torqued_keys
from datumbook.stations.holes.hole_groups import Groups
from datumbook.stations.holes.opening import opening
from datumbook.stations.holes.stripping import stripping
from datumbook.stations.holes.tightening import tightening
from datumbook.workbook.layout import WHOLE, Layout

CONFLICTS = (
    "Stress areas are by formula; printed tables differ from it by up to 0.0002 in².",
    "Thread engaged in grey iron: rules of thumb say 1.0 to 1.5 diameters, FED-STD 16 with soft "
    "iron about 2.6, the iron's own "
    "shear strength about 1: each group is held to the rule named on the HoleMetal sheet.",
)


def sheet(layout: Layout) -> Sheet:
    """The sheet of the fasteners."""
    groups = Groups(layout)
    parts: list[Table | Form | Prose] = [_figures(layout), _clamp(layout, groups)]
    if stripping_rows(groups):
        parts.append(stripping(layout, groups))
    if groups.keys(lambda one: one.before):
        parts.append(opening(layout, groups))
    parts.append(_conflicts(groups))
    return Sheet(
        name="Fasteners", title="Fasteners and torque", parts=(*parts, *tightening(groups))
    )


def _conflicts(groups: Groups) -> Prose:
    """Where sources disagree, and which of them is followed here."""
    named = [strength_of(groups.by_key[key]) for key in groups.keys(grade_of)]
    grades = [f"Grade {one.grade}: {one.conflict}" for one in named if one.conflict]
    return Prose(
        title="Where sources disagree",
        lines=[(line,) for line in dict.fromkeys((*grades, *CONFLICTS))],
        widths=(WHOLE,),
    )


def _figures(layout: Layout) -> Form:
    """What the shop reckons with, each with its source."""
    known, (scatter, source) = hole_allowances(), clamp_scatter()
    shop = layout.spec.shop

    def line(
        name: str, heading: str, value: Quantity | None, unit: str, decimals: int, note: str
    ) -> Line:
        return Line(
            column=Given(name=name, words=heading, unit=unit, decimals=decimals, value=value),
            note=note,
        )

    lines = [
        line("scatter", "Clamp strays at one torque, either way", bare(scatter), "%", 0, source),
        line(
            "most_proof",
            "Share of proof at the greatest clamp, most",
            *_allowed(known, "most_proof", 2),
        ),
        line("least_stripping", "Stripping margin, least", *_allowed(known, "least_stripping", 2)),
    ]
    for name, heading, stress in (
        ("iron_shear", "Shear strength of the block", shop.iron_shear),
        ("iron_tensile", "Tensile strength of the block", shop.iron_tensile),
    ):
        if stress is not None:
            lines.append(line(name, heading, stress, stress.unit, 0, stress.source))
    return Form(key="fastener_figures", title="Figures", lines=lines)


def _allowed(
    known: dict[str, tuple[str, str]], name: str, decimals: int
) -> tuple[Quantity, str, int, str]:
    value, source = known[name]
    return read_quantity(value), "", decimals, source


def _clamp(layout: Layout, groups: Groups) -> Table:
    return Table(
        key="fasteners",
        title="What the fastener gives",
        heading="Group",
        note="Clamp = torque / (K · major diameter), and only as good as K: the least and the "
        "greatest are what it may stray "
        "to. Areas in² or mm², forces lbf or kN.",
        turned=True,
        rows=groups.rows(),
        columns=tuple(_clamp_columns(layout, groups)),
    )


def _clamp_columns(layout: Layout, groups: Groups) -> Iterator[Column | Check]:
    torqued, graded = torqued_keys(layout, groups), groups.keys(grade_of)
    both = [key for key in torqued if key in graded]
    force = Sizes(lambda row: load_unit(groups.by_key[row]), 1, width=9.5)
    yield words("thread", "thread", groups.of(lambda one: one.thread.designation), width=13)
    yield from area(
        groups, "stress_area", "stress area", "thread", "threads.{row}.major", "threads.{row}.pitch"
    )
    if torqued:
        yield from _torque(layout, groups, torqued)
        yield force.result(
            "clamp_load", "clamp", fasteners.clamp_load, torqued, diameter="threads.{row}.major"
        )
        stray = {"clamp": "fasteners.{row}.clamp_load", "scatter": "fastener_figures.scatter"}
        yield force.result("least_clamp", "least clamp", fasteners.least_clamp, torqued, **stray)
        yield force.result(
            "greatest_clamp", "greatest clamp", fasteners.greatest_clamp, torqued, **stray
        )
    if graded:
        yield words("grade", "grade", groups.of(grade_of), rows=graded, width=8)
        proof = groups.of(lambda one: strength_of(one).proof)
        yield Given(
            name="proof_strength",
            words="proof strength, psi or MPa",
            decimals=0,
            rows=graded,
            value=proof,
            width=9.5,
            unit=lambda row: stress_unit(groups.by_key[row]),
        )
        yield force.result(
            "proof_load",
            "proof load",
            fasteners.proof_load,
            graded,
            area="fasteners.{row}.stress_area",
        )
    if both:
        greatest = {"clamp": "fasteners.{row}.greatest_clamp"}
        yield PERCENT.result(
            "share_of_proof", "share of proof, greatest", fasteners.share_of_proof, both, **greatest
        )
        yield Check(
            of="share_of_proof",
            high="fastener_figures.most_proof",
            rows=both,
            source=hole_allowances()["most_proof"][1],
        )
        yield from _wanted(groups, both)


def _torque(layout: Layout, groups: Groups, torqued: list[str]) -> Iterator[Column]:
    """The torque as the spec has it, in newton metres, and the nut factor."""
    torque = groups.of(lambda one: one.spec.torque)
    unit = groups.of(lambda one: one.spec.torque.unit)
    yield Given(
        name="torque", words="torque", unit=unit, decimals=1, rows=torqued, value=torque, width=8
    )
    yield words("torque_unit", "in", lambda row: shown(unit(row)), rows=torqued, width=7)
    yield Given(
        name="newton_metres",
        words="torque",
        unit="N*m",
        decimals=1,
        rows=torqued,
        value=torque,
        width=8,
    )
    yield Given(
        name="nut_factor",
        words="nut factor K",
        unit="",
        decimals=2,
        rows=torqued,
        width=8,
        value=layout.spec.shop.nut_factor,
    )


def _wanted(groups: Groups, both: list[str]) -> Iterator[Column]:
    """The preload aimed at, as a share of the proof load, and the torque that gives it."""
    force = Sizes(lambda row: load_unit(groups.by_key[row]), 1, width=9.5)
    share = read_quantity(hole_allowances()["proof_share"][0])
    aimed = groups.of(lambda one: one.spec.fastener.proof_share or share)
    unit = groups.of(lambda one: one.spec.torque.unit)
    yield RATIO.given("proof_share", "share aimed at", aimed, rows=both)
    yield force.result("preload", "preload aimed at", fasteners.preload, both)
    yield Result(
        name="torque_for_preload",
        words="torque for it, as torque",
        unit=unit,
        decimals=1,
        rows=both,
        width=9.5,
        equation=fasteners.torque_for_clamp,
        inputs={"clamp": "fasteners.{row}.preload", "diameter": "threads.{row}.major"},
    )
