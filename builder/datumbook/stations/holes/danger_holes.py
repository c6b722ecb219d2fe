"""Danger holes: what is drilled and tapped over a gallery or a sealing face, each hole to a depth
and a stop of its own.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Check, Column, Input, words
from datumbook.cells.handles import Key, row_key
from datumbook.cells.tables import Row, Table
from datumbook.equations import cutting, hole_safety, single_holes
from datumbook.numbers.quantities import Quantity
from datumbook.numbers.units import convert
from datumbook.stations.holes.allowances import DepthAllowances
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.group_tables import held, stated
from datumbook.stations.holes.hole_groups import Steps, row_word
from datumbook.stations.holes.quill_scale import QuillScale
from datumbook.stations.holes.single_lines import OwnLines
from datumbook.stations.holes.stop_settings import StopSettings, no_deeper, under_face


class DangerHoles(Table):
    """The holes over a gallery or a sealing face: how deep no tip may go, how deep it goes, and the
    stop for that.
    """

    floor: Column
    deepest_tip: Column
    no_tip_below: Column
    held_back: Column
    full_depth_reached: Column
    set_depth: Column
    stop_reading: Column
    forbidden: Column  # what forbids a cut; handed over once it is declared

    def __init__(
        self, steps: Steps, allowed: DepthAllowances, settings: StopSettings, own: OwnLines
    ) -> None:
        self.steps, self.settings = steps, settings
        self.drillings = {
            self.row_of(row, one.hole): (row, one)
            for row in steps.drills
            for one in steps.apart(row)
        }
        found, sizes = self.drillings, steps.groups.sizes_by(self._group)
        on_scale = steps.groups.scale.set(lambda row: self._group(row).unit)

        def step(row: str) -> Input:
            return allowed.step(self._group(row).unit)

        deepest = sizes.result(
            "deepest_tip",
            "floor less its least",
            hole_safety.deepest_tip,
            least_floor=allowed.least_floor,
        )
        held_back = on_scale.result(
            "held_back",
            "held back to",
            cutting.held_back_on_scale,
            tip_depth=lambda row: settings.tip_depth[found[row][0]],
            stop_scale=step,
        )
        reached = sizes.result(
            "full_depth_reached",
            "full depth for certain",
            cutting.full_depth_reached,
            set_depth=held_back,
            stop_scale=step,
            before=self.drill_point,
        )
        super().__init__(
            key="danger",
            title="▲ DANGER: these holes must not break through",
            heading="Hole",
            note=f"Stop: {steps.groups.shop.stop}. Drill them last, each to the stop set here and "
            "to no other, tip measured from the finished face, stop tried on another hole first. "
            "The measured depth is judged on the Holes sheet. Blank: a line of its own decides it.",
            rows=[
                Row(key, f"▲ {one.hole}, {self._drilling(key, row)}")
                for key, (row, one) in found.items()
            ],
            columns=(
                words("over", "what lies below", lambda row: found[row][1].over, width=16),
                *under_face(
                    sizes,
                    "face to it, drawing",
                    lambda row: found[row][1].floor,
                    lambda row: self._group(row).gone,
                    list(found),
                ),
                deepest,
                no_deeper(sizes, "no_tip_below", "NO TIP BELOW", deepest),
                steps.scale_column(lambda row: found[row][0]),
                held_back,
                *held(
                    reached,
                    "thread and lead of its tap, held back as it is",
                    low=lambda row: settings.least_full_depth[found[row][0]],
                ),
                on_scale.result(
                    "set_depth",
                    "ITS TIP GOES TO",
                    single_holes.unless_own,
                    line=lambda row: own.line[found[row][1].hole],
                    value=held_back,
                ),
                on_scale.result(
                    "stop_reading",
                    "SET STOP AT",
                    cutting.stop_unless_forbidden,
                    forbidden=lambda row: self.forbidden[row_key(*self.cut_of(row))],
                    quill=allowed.quill,
                    face_reading=lambda row: settings.face_reading[found[row][0]],
                    stop_scale=step,
                ),
            ),
        )

    def row_of(self, row: str, hole: str) -> str:
        """The row of a dangerous hole at a drilling; at the first it has the hole's own name."""
        group, operation = self.steps.by_row[row]
        again = operation != "drill" and "drill" in group.spec.operations
        return row_key(hole, row_word(operation)) if again else hole

    def cut_of(self, row: str) -> tuple[str, str]:
        """The drilling of a row, and its hole."""
        drilling, one = self.drillings[row]
        return drilling, one.hole

    def drill_point(self, row: str) -> Key:
        """The point of the drill of a row."""
        return self.settings.drill_point[self.drillings[row][0]]

    def _group(self, row: str) -> GroupAtWork:
        """The group of a row of dangerous holes."""
        return self.steps.by_row[self.drillings[row][0]][0]

    def _drilling(self, key: str, row: str) -> str:
        """The group of a dangerous hole, the drilling where it is not the first, and the unit."""
        group, operation = self.steps.by_row[row]
        which = f": {operation}" if "." in key else ""
        return f"{group.spec.words}{which} ({group.unit})"


class DangerTaps(Table):
    """The taps of dangerous holes: how deep the end of no tap may go, and the stop for the one that
    is started in the spindle.
    """

    no_tap_below: Column
    set_depth: Column
    touch_reading: Column
    feeler: Column
    face_reading: Column
    stop_reading: Column

    def __init__(self, steps: Steps, allowed: DepthAllowances, danger: DangerHoles) -> None:
        self.steps, self.allowed, self.danger = steps, allowed, danger
        self.taps = {
            self.row_of(row, one.hole): (row, one)
            for row in steps.threaded
            for one in steps.by_row[row][0].spec.danger
            if row == self.begun(row)
        }
        self.sizes = steps.groups.sizes_by(self._group)
        started = set(steps.those("start tap"))
        super().__init__(
            key="danger_taps",
            title="▲ DANGER: tapped by themselves, last",
            heading="Hole",
            note="No tap's end goes beyond the full diameter of its hole. A tap started in the "
            "spindle is touched off like a drill; by hand the depth is marked on its shank.",
            rows=[
                Row(key, f"▲ {one.hole}, {self._group(key).spec.words}: {steps.by_row[row][1]}")
                for key, (row, one) in self.taps.items()
            ],
            columns=(
                *self._limit(),
                *self._started([key for key, (row, _) in self.taps.items() if row in started]),
            ),
        )

    def begun(self, row: str) -> str:
        """The row of the tap that begins a thread: of a finishing tap the one before it."""
        group, operation = self.steps.by_row[row]
        finishes = operation == "finish tap" and "start tap" in group.spec.operations
        return row_key(group.spec.key, row_word("start tap")) if finishes else row

    def row_of(self, row: str, hole: str) -> str:
        """The row of a dangerous hole at a tap."""
        return row_key(hole, self.begun(row).rpartition(".")[2])

    def _group(self, key: str) -> GroupAtWork:
        return self.steps.by_row[self.taps[key][0]][0]

    def _drilled(self, key: str) -> str | None:
        """The row of the drilling before a tap at its hole; None for a hole that is there."""
        row, one = self.taps[key]
        drilling = self.steps.drilled_before(row)
        return self.danger.row_of(drilling, one.hole) if drilling else None

    def _limit(self) -> Iterator[Column | Check]:
        """The depth that the full diameter has for certain; in a hole that is there already, what
        its floor leaves.
        """
        drilled = {key: row for key in self.taps if (row := self._drilled(key)) is not None}
        there = [key for key in self.taps if key not in drilled]
        deep, heading = "full_depth", "full diameter to"
        if drilled:
            yield self.sizes.result(
                deep,
                heading,
                cutting.full_depth_reached,
                list(drilled),
                set_depth=lambda key: self.danger.set_depth[drilled[key]],
                stop_scale=self._step,
                before=lambda key: self.danger.drill_point(drilled[key]),
            )
        if there:
            drawn, after = under_face(
                self.sizes,
                "face to it, drawing",
                lambda key: self.taps[key][1].floor,
                lambda key: self._group(key).gone,
                there,
            )
            yield from (drawn, after)
            yield self.sizes.result(
                deep, heading, hole_safety.deepest_tip, there, least_floor=self.allowed.least_floor
            )
        name, said = "no_tap_below", "NO TAP BELOW"
        yield from stated(
            self.sizes.result(
                name,
                said,
                cutting.tap_depth_unless_forbidden,
                list(drilled),
                forbidden=lambda key: self.danger.forbidden[self._cut(key)],
                depth=lambda key: self.column(deep)[key],
                stop_scale=self._printed_step,
            ),
            self.sizes.result(
                name,
                said,
                cutting.depth_under_face,
                there,
                depth=lambda key: self.column(deep)[key],
                stop_scale=self._printed_step,
            ),
        )

    def _started(self, rows: list[str]) -> Iterator[Column | Check]:
        """The touch and the stop of a tap that is started in the spindle."""
        if not rows:
            return
        scale, quill = self.steps.groups.scale, self.allowed.quill

        def worked_in(key: str) -> str:
            return self._group(key).unit

        read, on_scale = scale.read(worked_in), scale.set(worked_in)
        yield self.steps.scale_column(lambda key: self.taps[key][0])
        yield on_scale.result(
            "set_depth",
            "ITS END GOES TO",
            cutting.depth_under_face,
            rows,
            depth=lambda key: self.no_tap_below[key],
            stop_scale=self._step,
        )
        yield read.reading(
            "touch_reading",
            "scale at touch",
            how="Quill scale with this tap's end on the face through the feeler.",
            wanted=False,
            rows=rows,
            possible=(-1000.0, 1000.0),
        )
        yield read.reading(
            "feeler",
            "feeler",
            how="Feeler between tap and face; 0 if none.",
            wanted=False,
            rows=rows,
            possible=lambda key: (0.0, convert(1.0, "mm", scale.unit(worked_in(key)))),
        )
        yield read.result("face_reading", "scale at face", cutting.face_reading, rows, quill=quill)
        drilled = [key for key in rows if self._drilled(key)]
        there = [key for key in rows if key not in drilled]
        name, said, step = "stop_reading", "SET STOP AT", self._step
        yield from stated(
            on_scale.result(
                name,
                said,
                cutting.stop_unless_forbidden,
                drilled,
                forbidden=lambda key: self.danger.forbidden[self._cut(key)],
                quill=quill,
                stop_scale=step,
            ),
            on_scale.result(name, said, cutting.stop_reading, there, quill=quill, stop_scale=step),
        )

    def _step(self, key: str) -> Input:
        return self.allowed.step(self._group(key).unit)

    def _printed_step(self, key: str) -> Quantity:
        return QuillScale.printed_step(self._group(key).unit)

    def _cut(self, key: str) -> str:
        """The drilling of its hole, which may be forbidden."""
        row, one = self.taps[key]
        return row_key(self.steps.drilled_before(row), one.hole)
