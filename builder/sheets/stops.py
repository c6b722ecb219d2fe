"""Stops: how deep each cutting operation goes, what floor it leaves, and where the quill's stop is set."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from builder.equations import cutting
from builder.layout import Layout
from builder.quantities import read_quantity
from builder.sheets.hole_groups import Groups, Steps, at_the_machine
from builder.standards import hole_allowances
from builder.table import Check, Column, Form, Given, Line, Sheet, Table, typed_words
from builder.units import convert


def sheet(layout: Layout) -> Sheet:
    """The sheet of the depth stops."""
    parts = (at_the_machine(), _allowances(layout), _stops(Steps(Groups(layout))))
    return Sheet(name="Stops", title="Depths and stops", parts=parts)


def _allowances(layout: Layout) -> Form:
    known = hole_allowances()

    def given(name: str, heading: str, unit: str, decimals: int) -> Line:
        value, source = known[name]
        column = Given(name=name, words=heading, unit=unit, decimals=decimals, value=read_quantity(value))
        return Line(column=column, note=source)

    quill = typed_words(
        "quill", "Quill scale grows as the quill goes", "down or up, as on this machine.", choices=("down", "up")
    )
    return Form(
        key="allowances",
        title="Allowances",
        lines=(
            given("point_angle", "Drill point", "deg", 0),
            given("tap_lead", "Lead of the finishing tap, in pitches", "", 1),
            given("chip_room", "Room for chips under the tap", layout.unit_of("holes"), layout.decimals_of("holes")),
            given("least_floor", "Least floor under a drill point", layout.unit_of("holes"), layout.decimals_of("holes")),
            Line(column=quill, note="down or up; the stop readings stay blank without it"),
        ),
    )


def _stops(steps: Steps) -> Table:
    return Table(
        key="stops",
        title="Cutting operations",
        heading="Group and operation",
        note="Depths are from the finished face. Touch the face through the feeler and type what the scale reads: the stop "
        "reading follows. Touch again after every change of tool. Over a hole that is there already, touch the sound face "
        "beside it, burr stoned off: the point would drop in. The void below is the drawing's: castings shift, probe first.",
        rows=steps.rows(steps.cuts),
        columns=tuple(_stop_columns(steps)),
    )


def _stop_columns(steps: Steps) -> Iterator[Column | Check]:
    sizes, drills, quill = steps.sizes, steps.drills, "allowances.quill"
    counterbored = steps.of(lambda one, _: one.spec.counterbore.depth)
    yield sizes.given("depth", "full depth", counterbored, rows=steps.counterbores)
    yield sizes.result(
        "depth", "full depth", cutting.drilled_depth, drills, thread_depth=steps.of(lambda one, _: one.spec.thread_depth),
        tap_lead="allowances.tap_lead", pitch="threads.{0}.pitch", chip_room="allowances.chip_room",
    )  # fmt: skip
    point = {"diameter": "schedule.{row}.inch", "point_angle": "allowances.point_angle"}
    yield sizes.result("drill_point", "drill point", cutting.drill_point, drills, **point)
    yield sizes.result("tip_depth", "depth at the tip", cutting.tip_depth, drills, full_depth="stops.{row}.depth")
    yield sizes.given("floor", "face to void below", steps.of(lambda one, _: one.spec.floor), rows=drills)
    yield sizes.result("floor_left", "floor left", cutting.floor_left, drills)
    yield Check(of="floor_left", low="allowances.least_floor", rows=drills, source=hole_allowances()["least_floor"][1])
    scale: dict[str, Any] = {"wanted": False, "possible": (-1000.0, 1000.0)}
    gap = steps.of(lambda one, _: (0.0, convert(1.0, "mm", one.unit)))
    touch = "Quill scale with this tool on the face through the feeler."
    yield sizes.reading("touch_reading", "scale at touch", how=touch, **scale)
    yield sizes.reading("feeler", "feeler", how="Feeler between tool and face; 0 if none.", wanted=False, possible=gap)
    yield sizes.result("face_reading", "scale at face", cutting.face_reading, steps.cuts, quill=quill)
    for rows, depth in ((drills, "tip_depth"), (steps.counterbores, "depth")):
        yield sizes.result("stop_reading", "SET STOP AT", cutting.stop_reading, rows, quill=quill,
                           depth=f"stops.{{row}}.{depth}")  # fmt: skip
