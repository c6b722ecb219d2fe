"""A hole opened to the next size: what its fastener gains, and what must grow with it."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from datumbook.cells.columns import Check, Column, Result, Sizes, words
from datumbook.cells.tables import Table
from datumbook.equations import fasteners
from datumbook.numbers.quantities import Quantity
from datumbook.standards.clearance import clearance_holes
from datumbook.stations.holes.fastener_groups import PERCENT, RATIO, area, load_unit, torqued
from datumbook.stations.holes.hole_groups import Group, Groups, quantity
from datumbook.workbook.layout import Layout


def opening(layout: Layout, groups: Groups) -> Table:
    """The checklist of the groups that are opened."""
    opened = groups.keys(lambda one: one.before)
    return Table(
        key="opening",
        title="Opened to the next size: what is gained, and what must grow too",
        heading="Group",
        note="At equal stress the clamp goes with the stress area; at the old torque a larger "
        "thread clamps less. Old groove, "
        "walls, edge, floor and thread left are checked on the Threads, HoleMetal and Stops "
        "sheets. Also: longer studs and "
        "holes in both parts, room for nut and spanner.",
        turned=True,
        rows=[row for row in groups.rows() if row.key in opened],
        columns=tuple(_opening_columns(layout, groups, opened)),
    )


def _opening_columns(layout: Layout, groups: Groups, opened: list[str]) -> Iterator[Column | Check]:
    before = groups.of(lambda one: one.before)
    old = Sizes(
        lambda row: before(row).unit, lambda row: 4 if before(row).unit == "in" else 3, width=9.5
    )
    yield words("before", "opened from", groups.of(lambda one: one.before.designation), width=11)
    yield old.given(
        "major", "old major", groups.of(lambda one: quantity(one.before.major, one.before.unit))
    )
    yield old.given(
        "pitch", "old pitch", groups.of(lambda one: quantity(one.before.pitch, one.before.unit))
    )
    yield from area(
        groups, "area_before", "old area", "before", "opening.{row}.major", "opening.{row}.pitch"
    )
    areas = {
        "area_after": "fasteners.{row}.stress_area",
        "area_before": "opening.{row}.area_before",
    }
    known = [
        key
        for key in opened
        if groups.by_key[key].thread.kin.stress_area and before(key).kin.stress_area
    ]
    yield RATIO.result(
        "stress_area_ratio", "area, times", fasteners.stress_area_ratio, known, **areas
    )
    yield PERCENT.result(
        "clamp_gain", "clamp gained, equal stress", fasteners.clamp_gain, known, **areas
    )
    tightened = [key for key in known if key in torqued(layout, groups)]
    if tightened:
        across = {"diameter_before": "opening.{row}.major", "diameter_after": "threads.{row}.major"}
        load = Sizes(lambda row: load_unit(groups.by_key[row]), 1, width=9.5)
        factor = {"torque": "fasteners.{row}.torque", "nut_factor": "fasteners.{row}.nut_factor"}
        yield load.result(
            "clamp",
            "old clamp, this torque",
            fasteners.clamp_load,
            tightened,
            diameter="opening.{row}.major",
            **factor,
        )
        yield load.result(
            "clamp_at_same_torque",
            "new clamp, this torque",
            fasteners.clamp_at_same_torque,
            tightened,
            **across,
        )
        yield Result(
            name="torque_at_same_stress",
            words="torque, equal stress",
            rows=tightened,
            decimals=1,
            width=9.5,
            unit=groups.of(lambda one: one.spec.torque.unit),
            equation=fasteners.torque_at_same_stress,
            inputs={"torque": "fasteners.{row}.torque", **areas, **across},
        )
    yield from _must_grow(groups, opened)


def _must_grow(groups: Groups, opened: list[str]) -> Iterator[Column | Check]:
    """The holes of gasket and mating part against the clearance hole of the new thread."""
    known = [key for key in opened if _clearance(groups.by_key[key]) is not None]
    clear = groups.of(_clearance)
    yield groups.sizes.given("clearance_hole", "close clearance hole", clear, rows=known)
    source = groups.of(lambda one: clearance_holes(one.thread)[0].source)
    for name, heading in (("gasket_hole", "gasket hole"), ("mating_hole", "mating part's hole")):
        rows = [key for key in known if getattr(groups.by_key[key].spec, name)]
        if rows:
            yield groups.sizes.given(name, heading, groups.of(_given(name)), rows=rows)
            yield Check(of=name, low="clearance_hole", rows=rows, source=source)


def _given(name: str) -> Callable[[Group], Quantity | None]:
    """What a group's spec says under a key."""
    return lambda group: getattr(group.spec, name)


def _clearance(group: Group) -> Quantity | None:
    try:
        return quantity(clearance_holes(group.thread)[0].diameter_mm, "mm")
    except LookupError:
        return None
