"""Threads: what hole each thread wants, what its drill leaves of it, what a larger fastener gains."""

from __future__ import annotations

from collections.abc import Iterator

from builder.equations import fasteners, threads
from builder.layout import Layout
from builder.sheets.hole_groups import Groups, quantity
from builder.standards.threads import Thread
from builder.table import Check, Column, Given, Result, Sheet, Sizes, Table, words
from builder.units import shown

PERCENT = Sizes("%", 1, width=9.5)


def sheet(layout: Layout) -> Sheet:
    """The sheet of the threads."""
    groups = Groups(layout)
    return Sheet(name="Threads", title="Threads and drills", parts=(_holes(groups), _fasteners(layout, groups)))


def _holes(groups: Groups) -> Table:
    reasons = [f"{one.spec.words}: {one.spec.drill_reason}" for one in groups.all if one.spec.drill_reason]
    return Table(
        key="threads",
        title="The hole for the thread",
        heading="Group",
        note="Percent of thread has two rules: drill charts count 1.299 pitches as full, the basic profile 1.0825; "
        "75 by the first is 90 by the second. A hole outside its class needs a recorded reason: concede it on the "
        "Release sheet. " + " ".join(reasons),
        rows=groups.rows(),
        columns=tuple(_hole_columns(groups)),
    )


def _hole_columns(groups: Groups) -> Iterator[Column | Check]:
    sizes, drilled = groups.sizes, groups.keys(lambda one: one.drill)
    unified = groups.keys(lambda one: one.thread.limit_class == "2B")
    metric = groups.keys(lambda one: one.thread.limit_class == "6H")
    limited = [key for key in drilled if key in {*unified, *metric}]  # of other forms no limits are known here
    yield words("thread", "thread", groups.of(lambda one: one.thread.designation), width=15)
    yield sizes.given("major", "major diameter", groups.of(lambda one: quantity(one.thread.major, one.unit)))
    yield sizes.given("pitch", "pitch", groups.of(lambda one: quantity(one.thread.pitch, one.unit)))
    tolerance = groups.of(lambda one: quantity(one.thread.minor_tolerance, "mm"))
    yield sizes.given("minor_tolerance", "minor tolerance (6H only)", tolerance, rows=metric)
    yield sizes.result("smallest_minor", "least hole", threads.smallest_minor_2b, unified)
    yield sizes.result("smallest_minor", "least hole", threads.smallest_minor_6h, metric)
    yield sizes.result("largest_minor", "largest hole", threads.largest_minor_2b, unified)
    yield sizes.result("largest_minor", "largest hole", threads.largest_minor_6h, metric)
    if drilled:
        source = groups.of(lambda one: f"minor diameter of class {one.thread.limit_class}")
        yield words("drill", "drill", groups.of(lambda one: one.drill.name), rows=drilled, width=9.5)
        yield sizes.given("hole", "drilled hole", groups.of(lambda one: one.size("drill")), rows=drilled)
        yield Check(of="hole", low="smallest_minor", high="largest_minor", rows=limited, source=source)
        yield PERCENT.result("drill_chart_thread", "thread by drill charts", threads.drill_chart_thread, limited)
        yield PERCENT.result("basic_profile_thread", "thread by 5/8 H", threads.basic_profile_thread, limited)


def _fasteners(layout: Layout, groups: Groups) -> Table:
    return Table(
        key="fasteners",
        title="What the fastener gives",
        heading="Group",
        note="Clamp at equal stress goes with the stress area; at equal torque a larger thread clamps less. "
        "Clamp reckoned from torque is only as good as the nut factor.",
        rows=groups.rows(),
        columns=tuple(_fastener_columns(layout, groups)),
    )


def _fastener_columns(layout: Layout, groups: Groups) -> Iterator[Column]:
    opened = groups.keys(lambda one: one.before)
    torqued = groups.keys(lambda one: one.spec.torque) if layout.spec.shop.nut_factor else []
    yield words("thread", "thread", groups.of(lambda one: one.thread.designation), width=15)
    yield from _area(groups, "stress_area", "stress area, in² or mm²", "thread", "threads.{row}.major", "threads.{row}.pitch")
    if opened:
        old = groups.sizes_by(lambda row: groups.by_key[row])
        unit = groups.of(lambda one: one.before.unit)
        yield words("before", "opened from", groups.of(lambda one: one.before.designation), rows=opened, width=12)
        major = groups.of(lambda one: quantity(one.before.major, one.before.unit))
        pitch = groups.of(lambda one: quantity(one.before.pitch, one.before.unit))
        yield old.given("major_before", "its major", major, unit=unit, rows=opened)
        yield old.given("pitch_before", "its pitch", pitch, unit=unit, rows=opened)
        yield from _area(groups, "area_before", "its area", "before", "fasteners.{row}.major_before",
                         "fasteners.{row}.pitch_before")  # fmt: skip
        areas = {"area_after": "fasteners.{row}.stress_area", "area_before": "fasteners.{row}.area_before"}
        yield PERCENT.result("clamp_gain", "clamp gained at equal stress", fasteners.clamp_gain, opened, **areas)
    if torqued:
        load = groups.of(lambda one: "lbf" if one.unit == "in" else "kN")
        torque = groups.of(lambda one: one.spec.torque)
        unit = groups.of(lambda one: one.spec.torque.unit)
        yield Given(name="torque", words="torque", unit=unit, decimals=1, rows=torqued, value=torque, width=9.5)
        yield words("torque_unit", "in", lambda row: shown(unit(row)), rows=torqued, width=8)
        yield Given(name="nut_factor", words="nut factor", unit="", decimals=2, rows=torqued, width=9.5,
                    value=layout.spec.shop.nut_factor)  # fmt: skip
        yield Result(name="clamp_load", words="clamp load, lbf or kN", unit=load, decimals=1, rows=torqued, width=9.5,
                     equation=fasteners.clamp_load, inputs={"diameter": "threads.{row}.major"})  # fmt: skip


def _area(groups: Groups, name: str, heading: str, of: str, major: str, pitch: str) -> Iterator[Result]:
    """The stress area, by the formula of the thread's own standard."""
    found = {one.spec.key: thread.kin.stress_area for one in groups.all
             if (thread := getattr(one, of)) is not None and thread.kin.stress_area}  # fmt: skip
    area = Sizes(lambda row: f"{_thread(groups, row, of).unit}**2", lambda row: _places(_thread(groups, row, of)), width=9.5)
    for equation in (threads.unified_stress_area, threads.metric_stress_area):
        rows = [key for key, own in found.items() if own is equation]
        yield area.result(name, heading, equation, rows, major=major, pitch=pitch)


def _thread(groups: Groups, row: str, of: str) -> Thread:
    thread = getattr(groups.by_key[row], of)
    assert isinstance(thread, Thread)  # only rows that have one are asked
    return thread


def _places(thread: Thread) -> int:
    return 4 if thread.unit == "in" else 2
