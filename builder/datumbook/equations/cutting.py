"""At the machine: where the quill stops, what thread and what metal are left."""

from __future__ import annotations

from datumbook.formulas.functions import (
    all_of,
    at_least,
    at_most,
    blank,
    decided,
    equal,
    more_than,
    numbers_in,
    only_where,
    takes_blanks,
    tangent,
    where,
)
from datumbook.formulas.kinds import Angle, Length, Ratio, Words
from datumbook.formulas.whole import whole_below

DOWN, UP = "down", "up"


def drill_point(diameter: Length, point_angle: Angle) -> Length:
    """Length of a drill's cone, from its tip to its full diameter: d / 2 / tan(angle / 2).

    Source: geometry.

    >>> drill_point(diameter=0.5000, point_angle=2.0594885174)
    0.1502
    """
    return diameter / 2 / tangent(point_angle / 2)


def tip_depth(full_depth: Length, drill_point: Length) -> Length:
    """Depth the tip of the drill reaches when its full diameter has reached `full_depth`.

    Source: geometry.

    >>> tip_depth(full_depth=1.0529, drill_point=0.1267)
    1.1796
    """
    return full_depth + drill_point


def face_reading(touch_reading: Length, feeler: Length, quill: Words) -> Length:
    """What the quill's scale reads with the tool on the face, from a touch through a feeler.

    `quill` says where the scale grows: "down" as the quill goes down, "up" as it goes up; missing
    for any other word. `feeler` is 0 for a bare touch.

    Source: geometry.

    >>> face_reading(touch_reading=2.315, feeler=0.004, quill="down")
    2.319
    """
    return where(
        equal(quill, DOWN),
        touch_reading + feeler,
        only_where(equal(quill, UP), touch_reading - feeler),
    )


@decided
def depth_on_scale(depth: Length, stop_scale: Length) -> Length:
    """Depth a tool is sent to on a quill whose scale has lines `stop_scale` apart: whole steps, and
    never deeper than `depth`.

    `depth` is the counterbore's, or for a drill the depth of its tip.

    Source: geometry.

    >>> depth_on_scale(depth=1.1796, stop_scale=0.005)
    1.175
    """
    return stop_scale * whole_below(depth / stop_scale)


@decided
def relief_on_scale(depth: Length, least: Length, most: Length, stop_scale: Length) -> Length:
    """Depth that a relief is sent to on a scale, as `depth_on_scale`; where that could end short of
    the `least` it may be deep, its face between two lines, the first line that cannot, if that is
    no deeper than the `most`.

    Source: geometry.

    >>> relief_on_scale(depth=1.6, least=1.4, most=2.0, stop_scale=0.127)
    1.651
    """
    usual = depth_on_scale(depth, stop_scale)
    surely = stop_scale - stop_scale * whole_below(-least / stop_scale)
    deeper = all_of(more_than(least, usual - stop_scale), at_most(surely, most))
    return where(deeper, surely, usual)


@decided
def depth_under_face(depth: Length, stop_scale: Length) -> Length:
    """Depth that a tool is sent to or may go to on a scale, as `depth_on_scale`; missing where no
    line of it lies under the face.

    Source: geometry.

    >>> depth_under_face(depth=1.1796, stop_scale=0.005)
    1.175
    """
    on_line = depth_on_scale(depth, stop_scale)
    return only_where(more_than(on_line, 0), on_line)


@decided
@takes_blanks
def tap_depth_unless_forbidden(forbidden: Words, depth: Length, stop_scale: Length) -> Length:
    """Depth that no tap goes beyond in a hole that is drilled first; blank where the drilling is
    forbidden, and where it leaves no line under the face.

    Source: geometry.

    >>> tap_depth_unless_forbidden("", depth=1.1796, stop_scale=0.005)
    1.175
    """
    allowed = all_of(blank(forbidden), at_least(numbers_in(depth, stop_scale), 2))
    return only_where(allowed, depth_under_face(depth, stop_scale))


@decided
def held_back_on_scale(tip_depth: Length, deepest_tip: Length, stop_scale: Length) -> Length:
    """Depth on a line of the scale that a drill's tip is sent to above a gallery: as planned, and
    never beyond the deepest it may go.

    Source: geometry.

    >>> held_back_on_scale(tip_depth=1.1796, deepest_tip=1.127, stop_scale=0.005)
    1.125
    """
    deepest = where(at_most(tip_depth, deepest_tip), tip_depth, deepest_tip)
    return depth_on_scale(deepest, stop_scale)


@decided
def stop_reading(
    face_reading: Length, set_depth: Length, stop_scale: Length, quill: Words
) -> Length:
    """What the quill's scale reads where the stop is set: a line of the scale, at `set_depth`, or
    the next line above it where the face lies between two lines.

    `quill` as for the face reading.

    Source: geometry.

    >>> stop_reading(face_reading=2.319, set_depth=1.175, stop_scale=0.005, quill="down")
    3.49
    """
    down = stop_scale * whole_below((face_reading + set_depth) / stop_scale)
    up = -stop_scale * whole_below((set_depth - face_reading) / stop_scale)
    return where(equal(quill, DOWN), down, only_where(equal(quill, UP), up))


@decided
@takes_blanks
def stop_unless_forbidden(
    forbidden: Words, face_reading: Length, set_depth: Length, stop_scale: Length, quill: Words
) -> Length:
    """What the quill's scale reads where the stop is set; blank where the cut is forbidden.

    Source: geometry.

    >>> stop_unless_forbidden("", face_reading=2.319, set_depth=1.175, stop_scale=0.005, quill=DOWN)
    3.49
    """
    known = at_least(numbers_in(face_reading, set_depth, stop_scale), 3)
    stop = stop_reading(face_reading, set_depth, stop_scale, quill)
    return only_where(all_of(blank(forbidden), known), stop)


@decided
def reading_on_safe_side(reading: Length, step: Length, quill: Words) -> Length:
    """A reading of the quill's scale as it is printed in steps of another unit: on the side on
    which the tool stands no deeper.

    `quill` as for the face reading.

    Source: geometry.

    >>> reading_on_safe_side(reading=3.4952, step=0.001, quill="down")
    3.495
    """
    down = step * whole_below(reading / step)
    return where(equal(quill, DOWN), down, step * -whole_below(-reading / step))


def full_depth_reached(set_depth: Length, stop_scale: Length, before: Length) -> Length:
    """Depth that a cut reaches for certain with its stop on a line of the scale: a step less than
    it is sent to, for a face between two lines; less what the tool has before its full diameter.

    Source: geometry.

    >>> full_depth_reached(set_depth=1.175, stop_scale=0.005, before=0.1267)
    1.0433
    """
    return set_depth - stop_scale - before


def least_full_depth(thread_depth: Length, tap_lead: Ratio, pitch: Length) -> Length:
    """Full-diameter depth below which a blind hole has no room for its thread and the lead of the
    tap that finishes it, chips not counted.

    Source: common practice, no source.

    >>> least_full_depth(thread_depth=0.875, tap_lead=1.5, pitch=1 / 13)
    0.9904
    """
    return thread_depth + tap_lead * pitch


def engagement(thread_depth: Length, counterbore_depth: Length) -> Length:
    """Length of thread left to hold a stud once the counterbore has taken the first turns; both
    depths from the face.

    Source: geometry.

    >>> engagement(thread_depth=0.875, counterbore_depth=0.100)
    0.775
    """
    return thread_depth - counterbore_depth


def floor_left(floor: Length, tip_depth: Length) -> Length:
    """Metal left under a blind hole: from the tip of the drill to the nearest space or outside
    below it.

    Below zero the drill has broken through.

    Source: geometry.

    >>> floor_left(floor=1.2500, tip_depth=1.1796)
    0.0704
    """
    return floor - tip_depth


def drilled_depth(
    thread_depth: Length, tap_lead: Ratio, pitch: Length, chip_room: Length
) -> Length:
    """Full-diameter depth to drill in a blind hole: the thread, the tap's lead beyond it, and room
    for chips.

    Source: common practice, no source.

    >>> drilled_depth(thread_depth=0.875, tap_lead=1.5, pitch=1 / 13, chip_room=0.0625)
    1.053
    """
    return thread_depth + tap_lead * pitch + chip_room


def table_face_reading(table_reading: Length, block_height: Length, quill: Words) -> Length:
    """What the quill's scale reads with the tool on the face, from a touch on the table the block
    stands on.

    `block_height` is the height of the face over the table, parallels included; `quill` as for the
    face reading.

    Source: geometry.

    >>> table_face_reading(table_reading=14.480, block_height=12.165, quill="down")
    2.315
    """
    return where(
        equal(quill, DOWN),
        table_reading - block_height,
        only_where(equal(quill, UP), table_reading + block_height),
    )


def face_disagreement(face_reading: Length, table_face_reading: Length) -> Length:
    """How far the two ways to the face's reading are apart: a feeler counted where none was used,
    or a wrong height.

    Source: geometry.

    >>> face_disagreement(face_reading=2.319, table_face_reading=2.315)
    0.004
    """
    return face_reading - table_face_reading


def touches_in_words(
    face_reading: Length, touch_reading: Length, table_face_reading: Length, touch_apart: Length
) -> Words:
    """What the two ways to the face's reading say of each other; `touch_apart` is what two honest
    touches may differ by.

    Where the table agrees with the bare touch instead, the two ways differ by the feeler.

    Source: geometry.

    >>> touches_in_words(
    ...     face_reading=2.319, touch_reading=2.315, table_face_reading=2.315, touch_apart=0.002,
    ... )
    'apart by the feeler: counted but not used, or the height is wrong'
    """
    by_feeler = at_most(abs(touch_reading - table_face_reading), touch_apart)
    feeler = "apart by the feeler: counted but not used, or the height is wrong"
    apart = where(by_feeler, feeler, "apart: touch and measure anew")
    return where(at_most(abs(face_reading - table_face_reading), touch_apart), "agree", apart)


def depth_at_lowest_corner(depth: Length, tilt: Length) -> Length:
    """Depth a cut has under the lowest corner of a face that is not flat yet, the stop set from its
    highest corner.

    Source: geometry.

    >>> depth_at_lowest_corner(depth=0.100, tilt=0.006)
    0.094
    """
    return depth - tilt
