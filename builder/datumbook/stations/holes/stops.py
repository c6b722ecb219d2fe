"""Stops: how deep each cutting operation goes, what floor it leaves, and where the quill's stop is
set.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from datumbook.cells.columns import Check, Column, Sizes, words
from datumbook.cells.handles import Key, row_key
from datumbook.cells.tables import Row, Sheet, Table
from datumbook.equations import cutting, hole_safety, standings
from datumbook.numbers.quantities import Quantity
from datumbook.numbers.units import convert
from datumbook.stations.holes.allowances import depth_allowances, source_of
from datumbook.stations.holes.hole_groups import Group, Steps, at_the_machine, row_word
from datumbook.stations.holes.threads import ThreadHoles
from datumbook.stations.holes.tools import ToolOperations
from datumbook.stations.holes.touches import StopSettings, cross_checks

NOTE = (
    "Depths are from the finished face: cut the face first. Touch the face through the feeler and "
    "type what the scale reads: the stop reading follows. Touch again after every change of tool. "
    "Face tilted or uncut: touch its highest corner. Over a hole that is there already, touch the "
    "sound face beside it, burr stoned off: the point would drop in. The void below is the "
    "drawing's, less the cut planned on the face: castings shift, probe first."
)


class DangerHoles(Table):
    """The holes that must not break through: how deep each may be drilled, and is."""

    floor: Column
    deepest_tip: Column
    held_back: Column
    stop_reading: Column


class Stops:
    """The depths of every cutting operation, and where the quill's stop is set for each."""

    def __init__(self, steps: Steps, threads: ThreadHoles, tools: ToolOperations) -> None:
        self.steps, self.groups, self.threads, self.tools = steps, steps.groups, threads, tools
        self.allowances = depth_allowances(steps.groups.basis)
        self.settings = self._settings()
        self.dangers = {
            self.danger_row(row, one.hole): (row, one)
            for row in steps.drills
            for one in steps.apart(row)
        }
        self.danger = self._danger() if self.dangers else None

    def danger_row(self, row: str, hole: str) -> str:
        """The row of a dangerous hole at a drilling; at the first it has the hole's own name."""
        group, operation = self.steps.by_row[row]
        again = operation != "drill" and "drill" in group.spec.operations
        return row_key(hole, row_word(operation)) if again else hole

    def goes_to(self, row: str, hole: str) -> Key:
        """How deep an operation goes at a hole: a drill to its tip, held back in a dangerous one,
        another cut to its full depth.
        """
        if self.danger is not None and hole not in self.steps.together(row):
            return self.danger.held_back[self.danger_row(row, hole)]
        settings = self.settings
        return settings.tip_depth[row] if row in self.steps.drills else settings.depth[row]

    def stop_of(self, row: str, hole: str) -> Key:
        """What the scale reads there: the one place where the stop of a hole is worked out."""
        if self.danger is not None and hole not in self.steps.together(row):
            return self.danger.stop_reading[self.danger_row(row, hole)]
        return self.settings.stop_reading[row]

    def sheet(self) -> Sheet:
        """The sheet of the depth stops."""
        danger = () if self.danger is None else (self.danger,)
        checks = cross_checks(self.steps, self.allowances, self.settings)
        parts = (at_the_machine(), self.allowances, self.settings, *danger, *checks)
        return Sheet(name="Stops", title="Depths and stops", parts=parts, widths={1: 30})

    def _settings(self) -> StopSettings:
        return StopSettings(
            key="stops",
            title="Cutting operations",
            heading="Group and operation",
            note=NOTE,
            rows=self.steps.stop_rows(),
            columns=tuple(self._columns()),
        )

    def _columns(self) -> Iterator[Column | Check]:
        steps = self.steps
        if steps.stated:
            stated = steps.of(lambda one, name: one.depth(name))
            yield steps.sizes.given("depth", "full depth", stated, rows=steps.stated)
        if steps.drills:
            yield from self._floors()
        yield from self._readings()

    def _floors(self) -> Iterator[Column | Check]:
        """The floor a drill leaves under its tip, and the tap the hole has room for."""
        steps, sizes, drills, allowed = (
            self.steps,
            self.steps.sizes,
            self.steps.drills,
            self.allowances,
        )
        thread_depth = steps.of(lambda one, _: one.spec.thread_depth)
        pitch = lambda row: self.threads.pitch[steps.group_key(row)]  # noqa: E731  # by its row
        depth = sizes.result(
            "depth",
            "full depth",
            cutting.drilled_depth,
            drills,
            thread_depth=thread_depth,
            tap_lead=allowed.tap_lead,
            pitch=pitch,
            chip_room=allowed.chip_room,
        )
        yield depth
        yield sizes.result(
            "drill_point",
            "drill point",
            cutting.drill_point,
            drills,
            diameter=self.tools.inch,
            point_angle=allowed.point_angle,
        )
        yield sizes.result(
            "tip_depth", "depth at the tip", cutting.tip_depth, drills, full_depth=depth
        )
        drawn = steps.of(lambda one, _: one.spec.floor)
        cut = steps.of(lambda one, _: one.planned_cut)
        yield from _after_the_cut(sizes, drawn, cut, drills, "face to void, drawing")
        left = sizes.result("floor_left", "floor left", cutting.floor_left, drills)
        yield left
        least, source = allowed.least_floor, source_of("least_floor")
        yield Check(of=left, low=least, rows=drills, source=source)
        yield Sizes("", 1, width=8).result(
            "lead_room",
            "room for lead, pitches",
            hole_safety.lead_room,
            drills,
            full_depth=depth,
            chip_room=allowed.chip_room,
            thread_depth=thread_depth,
            pitch=pitch,
        )
        yield Sizes(None, 0, width=10).result(
            "tap_that_fits",
            "tap that finishes it",
            hole_safety.tap_that_fits,
            drills,
            taper_lead=allowed.taper_lead,
            second_lead=allowed.second_lead,
            bottoming_lead=allowed.bottoming_lead,
        )

    def _readings(self) -> Iterator[Column]:
        steps, sizes, quill = self.steps, self.steps.sizes, self.allowances.quill
        yield sizes.reading(
            "touch_reading",
            "scale at touch",
            how="Quill scale with this tool on the face through the feeler.",
            wanted=False,
            possible=(-1000.0, 1000.0),
        )
        yield sizes.reading(
            "feeler",
            "feeler",
            how="Feeler between tool and face; 0 if none.",
            wanted=False,
            possible=steps.of(lambda one, _: (0.0, convert(1.0, "mm", one.unit))),
        )
        yield sizes.result(
            "face_reading", "scale at face", cutting.face_reading, steps.cuts, quill=quill
        )
        for rows in ([row for row in steps.drills if steps.together(row)], steps.stated):
            if rows:
                yield sizes.result(
                    "stop_reading",
                    "SET STOP AT",
                    cutting.stop_reading,
                    rows,
                    quill=quill,
                    depth=lambda row: self.goes_to(row, steps.together(row)[0]),
                )

    def _danger(self) -> DangerHoles:
        """The holes over a gallery or a sealing face: how deep no tip may go, how deep it goes, and
        the stop for that.
        """
        stop = self.groups.shop.stop
        return DangerHoles(
            key="danger",
            title="▲ DANGER: these holes must not break through",
            heading="Hole",
            note=f"Stop: {stop}. Drill them last, each to the stop set here and to no other, tip "
            "measured from the finished face, stop tried on another hole first. The measured depth "
            "is judged on the Holes sheet.",
            rows=[
                Row(key, f"▲ {one.hole}, {self._drilling(key, row)}")
                for key, (row, one) in self.dangers.items()
            ],
            columns=tuple(self._danger_columns()),
        )

    def _danger_columns(self) -> Iterator[Column | Check]:
        found, settings, allowed = self.dangers, self.settings, self.allowances
        sizes = self.groups.sizes_by(self._group)
        yield words("over", "what lies below", lambda row: found[row][1].over, width=16)
        yield from _after_the_cut(
            sizes,
            lambda row: found[row][1].floor,
            lambda row: self._group(row).planned_cut,
            list(found),
            "face to it, drawing",
        )
        deepest = sizes.result(
            "deepest_tip", "NO TIP BELOW", hole_safety.deepest_tip, least_floor=allowed.least_floor
        )
        yield deepest
        yield sizes.result(
            "deepest_full_depth",
            "full depth at that",
            hole_safety.deepest_full_depth,
            drill_point=lambda row: settings.drill_point[found[row][0]],
        )
        planned = sizes.result(
            "tip_depth",
            "planned for the group",
            standings.shown_again,
            value=lambda row: settings.tip_depth[found[row][0]],
        )
        yield planned
        yield Check(
            of=planned,
            high=deepest,
            source=lambda row: f"break-through limit: {found[row][1].over} below",
        )
        sent = sizes.result("held_back", "ITS TIP GOES TO", hole_safety.held_back)
        yield sent
        yield sizes.result(
            "stop_reading",
            "SET STOP AT",
            cutting.stop_reading,
            quill=allowed.quill,
            face_reading=lambda row: settings.face_reading[found[row][0]],
            depth=sent,
        )

    def _group(self, row: str) -> Group:
        """The group of a row of dangerous holes."""
        return self.steps.by_row[self.dangers[row][0]][0]

    def _drilling(self, key: str, row: str) -> str:
        """The group of a dangerous hole, the drilling where it is not the first, and the unit."""
        group, operation = self.steps.by_row[row]
        which = f": {operation}" if "." in key else ""
        return f"{group.spec.words}{which} ({group.unit})"


def _after_the_cut(
    sizes: Sizes,
    drawn_floor: Callable[[str], Quantity | None],
    cut: Callable[[str], str | None],
    rows: list[str],
    heading: str,
) -> Iterator[Column]:
    """The floor under holes by the drawing, and what the cut planned on their face leaves of it."""
    drawn = sizes.given("drawn_floor", heading, drawn_floor, rows=rows)
    yield drawn
    name, words_ = "floor", "after the planned cut"
    skimmed = [row for row in rows if cut(row)]
    if skimmed:
        skim = hole_safety.depth_after_skim
        yield sizes.result(
            name, words_, skim, skimmed, depth=drawn, skim=lambda row: cut(row) or ""
        )
    plain = [row for row in rows if not cut(row)]
    yield sizes.result(name, words_, standings.shown_again, plain, value=drawn)
