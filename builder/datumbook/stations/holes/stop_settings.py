"""Stop settings: how deep each cutting operation goes, what floor it leaves, and the line of
the quill's scale where it stops.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from datumbook.cells.columns import Check, Column, Input, Per, Result, Sizes, per
from datumbook.cells.tables import Table
from datumbook.equations import cutting, hole_safety, standings
from datumbook.numbers.quantities import read_quantity
from datumbook.numbers.units import convert
from datumbook.stations.holes.allowances import DepthAllowances, source_of
from datumbook.stations.holes.group_tables import held, stated
from datumbook.stations.holes.hole_groups import Steps
from datumbook.stations.holes.quill_scale import QuillScale
from datumbook.stations.holes.reliefs import Reliefs
from datumbook.stations.holes.threads import ThreadHoles
from datumbook.stations.holes.tools import Tools

NO_DEPTH = read_quantity("0 mm")
STOP_NOTE = (
    "Depths are from the finished face: cut the face first. Touch the face through the feeler and "
    "type what the scale reads: the stop reading follows. Touch again after every change of tool. "
    "Face tilted or uncut: touch its highest corner. Over a hole that is there already, touch the "
    "sound face beside it, burr stoned off: the point would drop in. Where a spot-face or a relief "
    "is cut first, touch the face beside that seat, never in it. The void below is the "
    "drawing's, less what its face has lost since, the planned cut with it; of a face whose height "
    "is not read the drawing's alone. Castings shift: probe first. A stop is set on a "
    "line of its scale, never deeper than worked out; sent to a line, a cut may end a step short "
    "where the face lies between two lines. A relief goes to the next line where only that keeps "
    "its tolerance either way."
)


class StopSettings(Table):
    """The depth of every cutting operation, the touch of its tool, and its stop."""

    depth: Column
    drill_point: Column
    tip_depth: Column
    floor: Column
    touch_reading: Column
    feeler: Column
    face_reading: Column
    set_depth: Column
    least_full_depth: Column
    stop_reading: Column
    forbidden: Column  # what forbids a cut; handed over once it is declared

    def __init__(
        self,
        steps: Steps,
        allowed: DepthAllowances,
        threads: ThreadHoles,
        reliefs: Reliefs,
        tools: Tools,
    ) -> None:
        self.steps, self.sizes, self.allowed = steps, steps.sizes, allowed
        depth = steps.of(lambda one, name: one.depth(name))
        relieved = [row for row in steps.stated if row in steps.those("counterbore")]
        relief = steps.of(lambda one, _: reliefs.depth[one.spec.key])
        again, plain = standings.shown_again, [row for row in steps.stated if row not in relieved]
        super().__init__(
            key="stops",
            title="Cutting operations",
            heading="Group and operation",
            note=STOP_NOTE,
            rows=steps.stop_rows(),
            columns=(
                *stated(
                    self.sizes.result("depth", "full depth", again, relieved, value=relief),
                    self.sizes.given("depth", "full depth", depth, rows=plain),
                ),
                *(self._floors(threads, tools) if steps.drills else ()),
                *self._sent(threads, reliefs),
                *self._readings(),
            ),
        )

    def _floors(self, threads: ThreadHoles, tools: Tools) -> tuple[Column | Check, ...]:
        """The floor a drill leaves under its tip, and the tap the hole has room for."""
        of, sizes, drills, allowed = self.steps.of, self.sizes, self.steps.drills, self.allowed
        thread_depth = of(lambda one, _: one.spec.thread_depth)
        pitch = of(lambda one, _: threads.pitch[one.spec.key])
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
        point = sizes.result(
            "drill_point",
            "drill point",
            cutting.drill_point,
            drills,
            diameter=tools.inch,
            point_angle=allowed.point_angle,
        )
        left = sizes.result("floor_left", "floor left", cutting.floor_left, drills)
        room = Sizes("", 1, width=8).result(
            "lead_room",
            "room for lead, pitches",
            hole_safety.lead_room,
            drills,
            full_depth=depth,
            chip_room=allowed.chip_room,
            thread_depth=thread_depth,
            pitch=pitch,
        )
        return (
            depth,
            point,
            sizes.result(
                "tip_depth", "depth at the tip", cutting.tip_depth, drills, full_depth=depth
            ),
            *under_face(
                sizes,
                "face to void, drawing",
                of(lambda one, _: one.spec.floor),
                of(lambda one, _: one.gone),
                drills,
            ),
            *held(left, source_of("least_floor"), low=allowed.least_floor),
            room,
            Sizes(None, 0, width=10).result(
                "tap_that_fits",
                "tap that finishes it",
                hole_safety.tap_that_fits,
                drills,
                **allowed.leads,
            ),
        )

    def _step(self, row: str) -> Input:
        """From line to line on the scale of an operation's stop."""
        return self.allowed.step(self.steps.by_row[row][0].unit)

    def _sent(self, threads: ThreadHoles, reliefs: Reliefs) -> tuple[Column | Check, ...]:
        """The depth on the scale that each cut is sent to, and whether it reaches its work with
        that.
        """
        steps, sizes, of = self.steps, self.sizes, self.steps.of
        relieved = [row for row in steps.stated if row in steps.those("counterbore")]
        other = [row for row in steps.stated if row not in relieved]
        name, heading = "least_full_depth", "it must reach"
        sent_to = ("set_depth", "SENT TO, from the face")
        reached = sizes.result(
            "full_depth_reached",
            "it reaches for certain",
            cutting.full_depth_reached,
            steps.cuts,
            before=lambda row: self.drill_point[row] if row in steps.drills else NO_DEPTH,
            stop_scale=self._step,
        )
        return (
            *stated(
                sizes.result(
                    name,
                    heading,
                    cutting.least_full_depth,
                    steps.drills,
                    thread_depth=of(lambda one, _: one.spec.thread_depth),
                    tap_lead=self.allowed.tap_lead,
                    pitch=of(lambda one, _: threads.pitch[one.spec.key]),
                ),
                sizes.result(
                    name,
                    heading,
                    standings.shown_again,
                    relieved,
                    value=of(lambda one, _: reliefs.least_depth[one.spec.key]),
                ),
                sizes.given(name, heading, NO_DEPTH, rows=other),
            ),
            *held(
                reached,
                "the stop on a line of the scale, the face between two lines",
                low=lambda row: self.least_full_depth[row],
            ),
            steps.scale_column(),
            *stated(
                steps.set.result(
                    *sent_to,
                    cutting.relief_on_scale,
                    relieved,
                    depth=lambda row: self.depth[row],
                    least=of(lambda one, _: reliefs.least_depth[one.spec.key]),
                    most=of(lambda one, _: reliefs.most_depth[one.spec.key]),
                    stop_scale=self._step,
                ),
                steps.set.result(
                    *sent_to,
                    cutting.depth_on_scale,
                    [row for row in steps.cuts if row not in relieved],
                    depth=lambda row: (self.tip_depth if row in steps.drills else self.depth)[row],
                    stop_scale=self._step,
                ),
            ),
        )

    def _readings(self) -> tuple[Column | Check, ...]:
        """What the scale reads at the face, and where the stop is set for the holes that share
        one.
        """
        steps, sizes, quill = self.steps, self.steps.read, self.allowed.quill
        return (
            sizes.reading(
                "touch_reading",
                "scale at touch",
                how="Quill scale with this tool on the face through the feeler.",
                wanted=False,
                possible=(-1000.0, 1000.0),
            ),
            sizes.reading(
                "feeler",
                "feeler",
                how="Feeler between tool and face; 0 if none.",
                wanted=False,
                possible=steps.of(
                    lambda one, _: (0.0, convert(1.0, "mm", steps.groups.scale.unit(one.unit)))
                ),
            ),
            sizes.result("face_reading", "scale at face", cutting.face_reading, quill=quill),
            steps.set.result(
                "stop_reading",
                "SET STOP AT",
                cutting.stop_unless_forbidden,
                [row for row in steps.cuts if steps.together(row)],
                forbidden=lambda row: self.forbidden[row],
                quill=quill,
                stop_scale=self._step,
            ),
        )


def no_deeper(sizes: Sizes, name: str, heading: str, depth: Per[Input]) -> Result:
    """A depth that nothing may pass, cut off after its last printed digit."""
    return sizes.result(
        name,
        heading,
        cutting.depth_on_scale,
        depth=depth,
        stop_scale=lambda row: QuillScale.printed_step(per(sizes.unit, row)),
    )


def under_face(
    sizes: Sizes,
    heading: str,
    drawn_floor: Callable[[str], Any],
    gone: Callable[[str], Any],
    rows: list[str],
) -> tuple[Column | Check, ...]:
    """The floor under holes by the drawing, and what of it lies under their finished face."""
    drawn = sizes.given("drawn_floor", heading, drawn_floor, rows=rows)
    cut, plain = [row for row in rows if gone(row)], [row for row in rows if not gone(row)]
    name, left, skim = "floor", "left under the face", hole_safety.depth_after_skim
    return (
        drawn,
        *stated(sizes.result(name, left, skim, cut, depth=drawn, skim=gone)),
        sizes.result(name, left, standings.shown_again, plain, value=drawn),
    )
