"""Holes: what thread and drill each group wants, the schedule of operations with its stop readings, every hole."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from builder.equations import cutting, fasteners, threads
from builder.equations.verdicts import DONE
from builder.quantities import Quantity, read_quantity
from builder.spec import Limit
from builder.spec_model import HoleGroup
from builder.standards import hole_allowances
from builder.standards.cutting import cutting_speed, lubricant
from builder.standards.drills import Drill, drills_for, parse_drill
from builder.standards.threads import Thread, parse_thread
from builder.table import Check, Column, Form, Given, Line, Reading, Result, Row, Sheet, Table

if TYPE_CHECKING:
    from builder.layout import Layout

CUTS = ("counterbore", "drill")  # the operations that need a depth stop


def sheet(layout: Layout) -> Sheet:
    """The sheet of the hole work."""
    groups = [_Group(layout, group) for group in layout.spec.holes]
    if not groups:
        return Sheet(name="Holes", title="Hole work", parts=())
    parts = (_allowances(layout), _threads(groups), _fasteners(layout, groups), _schedule(layout, groups),
             *(_holes(layout, group) for group in groups))  # fmt: skip
    return Sheet(name="Holes", title="Hole work", parts=parts)


class _Group:
    """One group of holes with its thread and its drill found in the tables."""

    def __init__(self, layout: Layout, spec: HoleGroup) -> None:
        self.spec = spec
        self.thread: Thread = parse_thread(spec.thread)
        self.before: Thread | None = parse_thread(spec.opened_from) if spec.opened_from else None
        self.decimals = layout.spec.decimals.holes
        self.material = layout.spec.engine.material

    @property
    def unit(self) -> str:
        """The unit of the thread's own system, in which the whole group is worked."""
        return self.thread.unit

    @property
    def places(self) -> int:
        """Decimals that suit the unit: four in inches, three in millimetres."""
        return 4 if self.unit == "in" else 3

    @property
    def drill(self) -> Drill | None:
        """The spec's drill, or the best inside the limits in the thread's own system."""
        if "drill" not in self.spec.operations:
            return None
        if self.spec.drill:
            return parse_drill(self.spec.drill)
        systems = ("metric",) if self.unit == "mm" else ("fraction", "number", "letter")
        return next(choice.drill for choice in drills_for(self.thread, systems) if choice.inside)

    def size(self, operation: str) -> Quantity | None:
        """The diameter an operation cuts."""
        if operation == "drill" and self.drill is not None:
            return _quantity(self.drill.diameter, self.drill.unit)
        if operation == "counterbore" and self.spec.counterbore is not None:
            return self.spec.counterbore.diameter
        return None


def _quantity(number: Any, unit: str) -> Quantity:
    return Quantity(number, unit, 0, f"{number} {unit}")


def _by_group(groups: list[_Group]) -> Callable[[str], _Group]:
    return {group.spec.key: group for group in groups}.__getitem__


def _rows(groups: list[_Group]) -> list[Row]:
    return [Row(group.spec.key, f"{group.spec.words}, {group.spec.face} face") for group in groups]


def _allowances(layout: Layout) -> Form:
    known = hole_allowances()

    def given(name: str, words: str, unit: str, decimals: int) -> Line:
        value, source = known[name]
        column = Given(name=name, words=words, unit=unit, decimals=decimals, value=read_quantity(value))
        return Line(column=column, note=source)

    lengths, places = layout.unit_of("holes"), layout.spec.decimals.holes
    return Form(
        key="allowances",
        title="Allowances",
        lines=(
            given("point_angle", "Drill point", "deg", 0),
            given("tap_lead", "Lead of the finishing tap, in pitches", "", 1),
            given("chip_room", "Room for chips under the tap", lengths, places),
            given("least_floor", "Least floor under a drill point", lengths, places),
            given("least_engagement", "Least engagement, in diameters", "", 2),
            Line(
                column=Reading(name="direction", words="Quill scale: 1 grows downwards, -1 upwards", unit="",
                               possible=(-1.0, 1.0), wanted=False, how="1 or -1, as on this machine."),
                note="needed for the stop readings below",
            ),
        ),
    )  # fmt: skip


def _threads(groups: list[_Group]) -> Table:
    group = _by_group(groups)
    drilled = [one.spec.key for one in groups if one.drill]
    metric = [one.spec.key for one in groups if one.unit == "mm"]
    unified = [one.spec.key for one in groups if one.unit == "in"]

    def result(name: str, words: str, equation: Any, rows: list[str] | None, **more: Any) -> Result:
        own: dict[str, Any] = {"unit": lambda row: group(row).unit, "decimals": lambda row: group(row).places}
        own |= more
        return Result(name=name, words=words, equation=equation, rows=rows, **own)

    def length(name: str, words: str, value: Callable[[_Group], Any], rows: list[str] | None = None) -> Given:
        return Given(name=name, words=words, unit=lambda row: group(row).unit, decimals=lambda row: group(row).places,
                     value=lambda row: value(group(row)), rows=rows)  # fmt: skip

    columns: tuple[Column | Check, ...] = (
        Given(name="thread", words="thread", unit=None, value=lambda row: group(row).thread.designation, width=15),
        Given(name="unit", words="sizes in", unit=None, value=lambda row: group(row).unit),
        length("major", "major diameter", lambda one: _quantity(one.thread.major, one.unit)),
        length("pitch", "pitch", lambda one: _quantity(one.thread.pitch, one.unit)),
        length("minor_tolerance", "minor tolerance",
               lambda one: _quantity(one.thread.minor_tolerance, "mm"), metric),
        result("smallest_minor", "least hole", threads.smallest_minor_2b, unified),
        result("smallest_minor", "least hole", threads.smallest_minor_6h, metric),
        result("largest_minor", "largest hole", threads.largest_minor_2b, unified),
        result("largest_minor", "largest hole", threads.largest_minor_6h, metric),
        Given(name="drill", words="drill", unit=None, rows=drilled, value=lambda row: group(row).drill.name),  # type: ignore[union-attr]
        length("hole", "drilled hole", lambda one: one.size("drill"), drilled),
        Check(of="hole", low="smallest_minor", high="largest_minor", rows=drilled,
              source=lambda row: f"class {group(row).thread.limit_class} minor diameter"),
        result("drill_chart_thread", "thread, drill-chart rule", threads.drill_chart_thread, drilled, unit="%", decimals=1),
        result("basic_profile_thread", "thread, 5/8 H rule", threads.basic_profile_thread, drilled, unit="%", decimals=1),
    )  # fmt: skip
    reasons = [f"{one.spec.words}: {one.spec.drill_reason}" for one in groups if one.spec.drill_reason]
    return Table(
        key="threads",
        title="Threads and drills",
        heading="Group",
        note="Percent of thread has two rules: drill charts count 1.299 pitches as full, the basic profile 1.0825; "
        "75 by the first is 90 by the second. " + " ".join(reasons),
        rows=_rows(groups),
        columns=columns,
    )


def _fasteners(layout: Layout, groups: list[_Group]) -> Table:
    group = _by_group(groups)
    opened = [one.spec.key for one in groups if one.before]
    torqued = [one.spec.key for one in groups if one.spec.torque and layout.spec.shop.nut_factor]

    def area(
        name: str, words: str, of: Callable[[_Group], Thread | None], rows: list[str] | None, **inputs: Any
    ) -> list[Result]:
        def made(equation: Any, unit: str) -> Result:
            keys = [one.spec.key for one in groups if (of(one) or one.thread).unit == unit]
            keys = [key for key in keys if rows is None or key in rows]
            return Result(name=name, words=words, unit="mm**2", decimals=2, equation=equation, rows=keys, inputs=inputs)

        return [made(threads.unified_stress_area, "in"), made(threads.metric_stress_area, "mm")]

    def old(name: str, words: str, value: Callable[[Thread], Any]) -> Given:
        return Given(name=name, words=words, rows=opened, unit=lambda row: group(row).before.unit,  # type: ignore[union-attr]
                     decimals=lambda row: group(row).places, value=lambda row: value(group(row).before))  # type: ignore[arg-type] # fmt: skip

    columns: list[Column | Check] = [
        Given(name="thread", words="thread", unit=None, value=lambda row: group(row).thread.designation, width=15),
        *area("stress_area", "stress area", lambda one: one.thread, None, major="threads.{row}.major",
              pitch="threads.{row}.pitch"),
    ]  # fmt: skip
    if opened:
        columns += [
            Given(name="before", words="opened from", unit=None, rows=opened, value=lambda row: group(row).before.designation),  # type: ignore[union-attr]
            old("major_before", "its major", lambda thread: _quantity(thread.major, thread.unit)),
            old("pitch_before", "its pitch", lambda thread: _quantity(thread.pitch, thread.unit)),
            *area("area_before", "its area", lambda one: one.before, opened, major="fasteners.{row}.major_before",
                  pitch="fasteners.{row}.pitch_before"),
            Result(name="clamp_gain", words="clamp gained at equal stress", unit="%", decimals=1, rows=opened,
                   equation=fasteners.clamp_gain,
                   inputs={"area_after": "fasteners.{row}.stress_area", "area_before": "fasteners.{row}.area_before"}),
        ]  # fmt: skip
    if torqued:
        columns += [
            Given(name="torque", words="torque", unit="N*m", decimals=1, rows=torqued, value=lambda row: group(row).spec.torque),
            Given(name="nut_factor", words="nut factor", unit="", decimals=2, rows=torqued,
                  value=layout.spec.shop.nut_factor),
            Result(name="clamp_load", words="clamp load", unit="kN", decimals=1, rows=torqued, equation=fasteners.clamp_load,
                   inputs={"diameter": "threads.{row}.major"}),
        ]  # fmt: skip
    return Table(key="fasteners", title="What the fastener gains", heading="Group", rows=_rows(groups), columns=columns,
                 note="Clamp at equal stress goes with the stress area; at equal torque a larger thread clamps less. "
                 "Clamp from torque is only as good as the nut factor.")  # fmt: skip


def _schedule(layout: Layout, groups: list[_Group]) -> Table:
    steps = {f"{one.spec.key}.{_key(name)}": (one, name) for one in groups for name in one.spec.operations}
    rows = [Row(key, f"{one.spec.words}, {place}. {name}")
            for one in groups for place, name in enumerate(one.spec.operations, 1)
            for key in [f"{one.spec.key}.{_key(name)}"]]  # fmt: skip
    cuts = [key for key, (_, name) in steps.items() if name in CUTS]
    drills = [key for key, (_, name) in steps.items() if name == "drill"]
    counterbores = [key for key in cuts if key not in drills]

    def length(name: str, words: str, equation: Any, keys: list[str], **inputs: Any) -> Result:
        return Result(name=name, words=words, unit=lambda row: steps[row][0].unit, decimals=lambda row: steps[row][0].places,
                      rows=keys, equation=equation, inputs=inputs)  # fmt: skip

    def given(
        name: str, words: str, value: Callable[[_Group, str], Any], keys: list[str] | None = None, **more: Any
    ) -> Given:
        own: dict[str, Any] = {
            "unit": lambda row: steps[row][0].unit,
            "decimals": lambda row: steps[row][0].places,
        } | more
        return Given(name=name, words=words, rows=keys, value=lambda row: value(*steps[row]), **own)

    def bench(name: str, words: str, how: str) -> Reading:
        return Reading(name=name, words=words, unit=lambda row: steps[row][0].unit, rows=cuts, wanted=False,
                       decimals=lambda row: steps[row][0].places, possible=(-1000.0, 1000.0), how=how)  # fmt: skip

    return Table(
        key="schedule",
        title="Schedule of operations",
        heading="Group and operation",
        own_page=True,
        note="Depths are from the finished face. Touch the face through the feeler, type the scale reading and the feeler: "
        "the stop reading follows. Touch again after every change of tool.",
        rows=rows,
        columns=(
            given("tool", "tool", _tool, unit=None, width=20),
            given("unit", "sizes in", lambda one, _: one.unit, unit=None),
            given("inch", "diameter, in", lambda one, name: one.size(name), cuts, unit="in", decimals=4),
            given("millimetre", "diameter, mm", lambda one, name: one.size(name), cuts, unit="mm", decimals=3),
            given("depth", "depth", lambda one, _: one.spec.counterbore.depth, counterbores),  # type: ignore[union-attr]
            length("depth", "depth", cutting.drilled_depth, drills, thread_depth=lambda row: _thread_depth(steps[row][0]),
                   tap_lead="allowances.tap_lead", pitch="threads.{0}.pitch", chip_room="allowances.chip_room"),
            length("drill_point", "point", cutting.drill_point, drills, diameter="schedule.{row}.inch",
                   point_angle="allowances.point_angle"),
            length("tip_depth", "to the tip", cutting.tip_depth, drills, full_depth="schedule.{row}.depth"),
            bench("touch_reading", "scale at touch", "Quill scale with this tool on the face through the feeler."),
            bench("feeler", "feeler", "Feeler between tool and face; 0 where none is used."),
            length("face_reading", "scale at the face", cutting.face_reading, cuts, direction="allowances.direction"),
            length("stop_reading", "set stop at", cutting.stop_reading, drills, direction="allowances.direction",
                   depth="schedule.{row}.tip_depth"),
            length("stop_reading", "set stop at", cutting.stop_reading, counterbores, direction="allowances.direction"),
            given("cutting_speed", "cutting speed", lambda one, name: read_quantity(_speed(one, name)), cuts, unit="m/min",
                  decimals=0),
            Result(name="spindle_speed", words="speed", unit="1/min", decimals=0, rows=cuts, equation=cutting.spindle_speed,
                   inputs={"diameter": "schedule.{row}.inch"}),
            given("lubricant", "lubricant", lambda one, name: lubricant(name, one.material).words, unit=None, width=20),
        ),
    )  # fmt: skip


def _key(operation: str) -> str:
    return operation.replace(" ", "_")


def _thread_depth(group: _Group) -> Quantity:
    return group.spec.thread_depth


def _speed(group: _Group, operation: str) -> str:
    row = cutting_speed(operation, group.material)
    return f"{row.value} {row.unit}"


def _tool(group: _Group, operation: str) -> str:
    size = group.size(operation)
    return {
        "drill": f"drill {group.drill.name}" if group.drill else "",
        "counterbore": f"counterbore {size.text}" if size else "",
        "start tap": f"{group.thread.designation} taper tap, spindle unpowered",
        "finish tap": f"{group.thread.designation} bottoming tap, by hand",
        "chase": f"{group.thread.designation} chaser, by hand",
        "deburr": "countersink and file, by hand",
    }[operation]


def _holes(layout: Layout, group: _Group) -> Table:
    spec, unit, places = group.spec, group.unit, group.places
    hole = f"holes_{spec.key}"
    columns: list[Column | Check] = []
    if spec.counterbore is not None:
        cut = spec.counterbore
        low, high = cut.depth - cut.minus, cut.depth + cut.plus
        columns += [
            Reading(name="counterbore", words="counterbore depth", unit=unit, decimals=places, group="holes", near=cut.depth,
                    possible=(0.0, cut.depth.to(unit) * 4), how="Depth gauge from the finished face."),
            Check(of="counterbore", limits=Limit(**{"from": low.text, "to": high.text}, source="engine spec")),
        ]  # fmt: skip
    columns += [
        Reading(name="thread", words="thread depth", unit=unit, decimals=places, group="holes", near=spec.thread_depth,
                how="Plug gauge to where it stops, from the finished face."),
        Check(of="thread", limits=Limit(at_least=spec.thread_depth.text, source="engine spec")),
    ]  # fmt: skip
    if spec.counterbore is not None:
        columns += [
            Result(name="engagement", words="thread left", unit=unit, decimals=places, equation=cutting.engagement,
                   inputs={"thread_depth": f"{hole}.{{row}}.thread", "counterbore_depth": f"{hole}.{{row}}.counterbore"}),
            Check(of="engagement", limits=_least_engagement(group)),
        ]  # fmt: skip
    columns += [
        Reading(
            name="done", words="gauged, clean, deburred", unit=None, choices=(DONE,), how="Type done when the hole is."
        ),
        Check(of="done", says=DONE),
    ]
    note = f"{spec.thread}; {', '.join(spec.operations)}."
    return Table(key=hole, title=f"{spec.words}, {spec.face} face", heading="Hole", note=note, own_page=True,
                 rows=[Row(name, f"Hole {name}") for name in spec.names], columns=columns)  # fmt: skip


def _least_engagement(group: _Group) -> Limit:
    diameters, source = hole_allowances()["least_engagement"]
    least = group.thread.major * read_quantity(diameters).number
    return Limit(at_least=f"{float(least):.10g} {group.unit}", source=f"{diameters} diameters: {source}")
