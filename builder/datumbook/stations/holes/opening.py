"""A hole opened to the next size: what its fastener gains, and what must grow with it."""

from __future__ import annotations

from collections.abc import Iterator
from operator import attrgetter

from datumbook.cells.columns import Check, Column, Result, Sizes, words
from datumbook.cells.tables import Table
from datumbook.equations import fasteners
from datumbook.numbers.quantities import Quantity
from datumbook.standards.clearance import clearance_holes
from datumbook.stations.holes.fastener_groups import Clamps, area, loads, torqued
from datumbook.stations.holes.hole_groups import PERCENT, RATIO, Group, Groups, quantity
from datumbook.stations.holes.threads import ThreadHoles


def opening(groups: Groups, threads: ThreadHoles, clamps: Clamps) -> Table:
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
        columns=(*_gained(groups, opened, threads, clamps), *_must_grow(groups, opened)),
    )


def _gained(
    groups: Groups, opened: list[str], threads: ThreadHoles, clamps: Clamps
) -> Iterator[Column]:
    """The old thread, and what clamp and torque become with the new one."""
    before = groups.of(lambda one: one.before)
    old = Sizes(
        lambda row: before(row).unit, lambda row: 4 if before(row).unit == "in" else 3, width=9.5
    )
    yield words("before", "opened from", groups.of(lambda one: one.before.designation), width=11)
    major = old.given(
        "major", "old major", groups.of(lambda one: quantity(one.before.major, one.before.unit))
    )
    pitch = old.given(
        "pitch", "old pitch", groups.of(lambda one: quantity(one.before.pitch, one.before.unit))
    )
    yield from (major, pitch)
    old_areas = list(
        area(groups, "area_before", "old area", lambda one: one.before, major=major, pitch=pitch)
    )
    yield from old_areas
    known = [
        key
        for key in opened
        if groups.by_key[key].thread.kin.stress_area and before(key).kin.stress_area
    ]
    if not known:
        return
    areas = {"area_after": clamps.stress_area, "area_before": old_areas[0]}
    yield RATIO.result(
        "stress_area_ratio", "area, times", fasteners.stress_area_ratio, known, **areas
    )
    yield PERCENT.result(
        "clamp_gain", "clamp gained, equal stress", fasteners.clamp_gain, known, **areas
    )
    tightened = [key for key in known if key in torqued(groups)]
    if tightened:
        load, across = loads(groups), {"diameter_before": major, "diameter_after": threads.major}
        yield load.result(
            "clamp",
            "old clamp, this torque",
            fasteners.clamp_load,
            tightened,
            diameter=major,
            torque=clamps.torque,
            nut_factor=clamps.nut_factor,
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
            inputs={"torque": clamps.torque, **areas, **across},
        )


def _must_grow(groups: Groups, opened: list[str]) -> Iterator[Column | Check]:
    """The holes of gasket and mating part against the clearance hole of the new thread."""
    known = [key for key in opened if _clearance(groups.by_key[key]) is not None]
    clear = groups.sizes.given(
        "clearance_hole", "close clearance hole", groups.of(_clearance), rows=known
    )
    yield clear
    source = groups.of(lambda one: clearance_holes(one.thread)[0].source)
    for name, heading in (("gasket_hole", "gasket hole"), ("mating_hole", "mating part's hole")):
        rows = [key for key in known if getattr(groups.by_key[key].spec, name)]
        if rows:
            hole = groups.sizes.given(
                name, heading, groups.of(attrgetter(f"spec.{name}")), rows=rows
            )
            yield hole
            yield Check(of=hole, low=clear, rows=rows, source=source)


def _clearance(group: Group) -> Quantity | None:
    try:
        return quantity(clearance_holes(group.thread)[0].diameter_mm, "mm")
    except LookupError:
        return None
