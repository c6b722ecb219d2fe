"""Stops: how deep each cutting operation goes, what floor it leaves, and where the quill's stop is
set.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from datumbook.cells.columns import Check, Column, Given, Result, typed_words, words
from datumbook.cells.tables import Form, Line, Prose, Row, Sheet, Table
from datumbook.equations import cutting, hole_safety, standings
from datumbook.numbers.quantities import read_quantity
from datumbook.numbers.units import convert
from datumbook.spec.holes import Danger
from datumbook.standards import hole_allowances
from datumbook.standards.hole_rules import taps
from datumbook.stations.holes.hole_groups import Group, Groups, Steps, at_the_machine
from datumbook.stations.holes.touches import cross_checks
from datumbook.workbook.layout import Layout


def sheet(layout: Layout) -> Sheet:
    """The sheet of the depth stops."""
    groups = Groups(layout)
    steps = Steps(groups)
    parts: list[Table | Form | Prose] = [at_the_machine(), _allowances(layout), _stops(steps)]
    if dangers(groups):
        parts.append(_dangers(layout, groups))
    parts += cross_checks(layout, steps)
    return Sheet(name="Stops", title="Depths and stops", parts=tuple(parts), widths={1: 30})


def dangers(groups: Groups) -> dict[str, tuple[Group, Danger]]:
    """The holes that must not break through, of groups that are drilled, by name."""
    return {
        one.hole: (group, one) for group in groups.all if group.drill for one in group.spec.danger
    }


def _allowances(layout: Layout) -> Form:
    known = hole_allowances()

    def given(name: str, heading: str, unit: str, decimals: int) -> Line:
        value, source = known[name]
        column = Given(
            name=name, words=heading, unit=unit, decimals=decimals, value=read_quantity(value)
        )
        return Line(column=column, note=source)

    def lead(name: str) -> Line:
        tap = next(one for one in taps() if one.name == name)
        heading = f"Lead of a {name} tap, in pitches"
        column = Given(
            name=f"{name}_lead",
            words=heading,
            unit="",
            decimals=1,
            value=read_quantity(str(tap.least_lead)),
        )
        return Line(column=column, note=f"its least: {tap.source}")

    quill = typed_words(
        "quill",
        "Quill scale grows as the quill goes",
        "down or up, as on this machine.",
        choices=("down", "up"),
    )
    return Form(
        key="allowances",
        title="Allowances",
        lines=(
            given("point_angle", "Drill point", "deg", 0),
            given("tap_lead", "Lead of the finishing tap, in pitches", "", 1),
            *(lead(one.name) for one in taps()),
            given(
                "chip_room",
                "Room for chips under the tap",
                layout.unit_of("holes"),
                layout.decimals_of("holes"),
            ),
            given(
                "least_floor",
                "Least floor under a drill point",
                layout.unit_of("holes"),
                layout.decimals_of("holes"),
            ),
            given(
                "touch_apart",
                "Two touches of a face, at most apart",
                layout.unit_of("holes"),
                layout.decimals_of("holes"),
            ),
            Line(column=quill, note="down or up; the stop readings stay blank without it"),
        ),
    )


def _stops(steps: Steps) -> Table:
    return Table(
        key="stops",
        title="Cutting operations",
        heading="Group and operation",
        note="Depths are from the finished face: cut the face first. Touch the face through the "
        "feeler and type what the scale "
        "reads: the stop reading follows. Touch again after every change of tool. Face tilted or "
        "uncut: touch its highest "
        "corner. Over a hole that is there already, touch the sound face beside it, burr stoned "
        "off: the point would drop in. "
        "The void below is the drawing's, less the cut planned on the face: castings shift, probe "
        "first.",
        rows=steps.rows(steps.cuts),
        columns=tuple(_stop_columns(steps)),
    )


def _stop_columns(steps: Steps) -> Iterator[Column | Check]:
    sizes, drills = steps.sizes, steps.drills
    if steps.stated:
        yield sizes.given(
            "depth", "full depth", steps.of(lambda one, name: one.depth(name)), rows=steps.stated
        )
    if drills:
        yield sizes.result(
            "depth",
            "full depth",
            cutting.drilled_depth,
            drills,
            thread_depth=steps.of(lambda one, _: one.spec.thread_depth),
            tap_lead="allowances.tap_lead",
            pitch="threads.{0}.pitch",
            chip_room="allowances.chip_room",
        )
        yield from _floor_columns(steps)
    yield from _readings(steps)


def _floor_columns(steps: Steps) -> Iterator[Column | Check]:
    """The floor a drill leaves under its tip, and the tap the hole has room for."""
    sizes, drills = steps.sizes, steps.drills
    point = {"diameter": "schedule.{row}.inch", "point_angle": "allowances.point_angle"}
    yield sizes.result("drill_point", "drill point", cutting.drill_point, drills, **point)
    yield sizes.result(
        "tip_depth", "depth at the tip", cutting.tip_depth, drills, full_depth="stops.{row}.depth"
    )
    yield sizes.given(
        "drawn_floor", "face to void, drawing", steps.of(lambda one, _: one.spec.floor), rows=drills
    )
    cut = steps.of(lambda one, _: one.planned_cut)
    skimmed = [row for row in drills if cut(row)]
    if skimmed:
        yield sizes.result(
            "floor",
            "after the planned cut",
            hole_safety.depth_after_skim,
            skimmed,
            depth="stops.{row}.drawn_floor",
            skim=cut,
        )
    yield sizes.result(
        "floor",
        "after the planned cut",
        standings.shown_again,
        [row for row in drills if not cut(row)],
        value="stops.{row}.drawn_floor",
    )
    yield sizes.result("floor_left", "floor left", cutting.floor_left, drills)
    yield Check(
        of="floor_left",
        low="allowances.least_floor",
        rows=drills,
        source=hole_allowances()["least_floor"][1],
    )
    of_thread: dict[str, Any] = {
        "thread_depth": steps.of(lambda one, _: one.spec.thread_depth),
        "pitch": "threads.{0}.pitch",
    }
    yield Result(
        name="lead_room",
        words="room for lead, pitches",
        unit="",
        decimals=1,
        rows=drills,
        width=8,
        equation=hole_safety.lead_room,
        inputs={
            "full_depth": "stops.{row}.depth",
            "chip_room": "allowances.chip_room",
            **of_thread,
        },
    )
    leads = {f"{name}_lead": f"allowances.{name}_lead" for name in ("taper", "second", "bottoming")}
    yield Result(
        name="tap_that_fits",
        words="tap that finishes it",
        unit=None,
        rows=drills,
        equation=hole_safety.tap_that_fits,
        inputs=leads,
        width=10,
    )


def _readings(steps: Steps) -> Iterator[Column]:
    sizes, quill = steps.sizes, "allowances.quill"
    scale: dict[str, Any] = {"wanted": False, "possible": (-1000.0, 1000.0)}
    gap = steps.of(lambda one, _: (0.0, convert(1.0, "mm", one.unit)))
    touch = "Quill scale with this tool on the face through the feeler."
    yield sizes.reading("touch_reading", "scale at touch", how=touch, **scale)
    yield sizes.reading(
        "feeler",
        "feeler",
        how="Feeler between tool and face; 0 if none.",
        wanted=False,
        possible=gap,
    )
    yield sizes.result(
        "face_reading", "scale at face", cutting.face_reading, steps.cuts, quill=quill
    )
    for rows, depth in ((steps.drills, "tip_depth"), (steps.stated, "depth")):
        if rows:
            yield sizes.result(
                "stop_reading",
                "SET STOP AT",
                cutting.stop_reading,
                rows,
                quill=quill,
                depth=f"stops.{{row}}.{depth}",
            )


def _dangers(layout: Layout, groups: Groups) -> Table:
    """The holes over a gallery or a sealing face: how deep no tip may go, and what the scale reads
    there.
    """
    found = dangers(groups)

    def of(ask: Any) -> Any:
        return lambda row: ask(*found[row])

    sizes = groups.sizes_by(lambda row: found[row][0])
    drill = of(lambda group, _: f"stops.{group.spec.key}.drill")
    cut = of(lambda group, _: group.planned_cut)
    skimmed = [row for row in found if cut(row)]
    return Table(
        key="danger",
        title="▲ DANGER: these holes must not break through",
        heading="Hole",
        note=f"Stop: {layout.spec.shop.stop}. Drill them last, tip measured from the finished "
        f"face, stop tried on another hole "
        "first. The measured depth is judged on the Holes sheet.",
        rows=[
            Row(name, f"▲ {name}, {group.spec.words} ({group.unit})")
            for name, (group, _) in found.items()
        ],
        columns=(
            words("over", "what lies below", of(lambda _, danger: danger.over), width=16),
            sizes.given("drawn_floor", "face to it, drawing", of(lambda _, danger: danger.floor)),
            *(
                (
                    sizes.result(
                        "floor",
                        "after the planned cut",
                        hole_safety.depth_after_skim,
                        skimmed,
                        depth="danger.{row}.drawn_floor",
                        skim=cut,
                    ),
                )
                if skimmed
                else ()
            ),
            sizes.result(
                "floor",
                "after the planned cut",
                standings.shown_again,
                [row for row in found if not cut(row)],
                value="danger.{row}.drawn_floor",
            ),
            sizes.result(
                "deepest_tip",
                "NO TIP BELOW",
                hole_safety.deepest_tip,
                least_floor="allowances.least_floor",
            ),
            sizes.result(
                "deepest_full_depth",
                "full depth there",
                hole_safety.deepest_full_depth,
                drill_point=lambda row: f"{drill(row)}.drill_point",
            ),
            sizes.result(
                "tip_depth",
                "tip as planned",
                standings.shown_again,
                value=lambda row: f"{drill(row)}.tip_depth",
            ),
            Check(
                of="tip_depth",
                high="deepest_tip",
                source=of(lambda _, danger: f"break-through limit: {danger.over} below"),
            ),
            sizes.result(
                "stop_reading",
                "STOP NEVER BEYOND",
                cutting.stop_reading,
                quill="allowances.quill",
                face_reading=lambda row: f"{drill(row)}.face_reading",
                depth="danger.{row}.deepest_tip",
            ),
        ),
    )
