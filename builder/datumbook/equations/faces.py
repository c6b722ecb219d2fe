"""A face at its four corners, and a cut that lies parallel to something.

Heights are counted from the crank line, the deck's upwards, the bottom face's downwards; everything
here holds for either face. What a cut is parallel to stands at each corner so far beyond the crank
line, its `base`: a cut brings the whole face to one height above it, `t` below the lowest corner so
counted.
"""

from __future__ import annotations

from datumbook.equations.verdicts import OK, UNSURE
from datumbook.formulas.functions import (
    any_of,
    at_least,
    decided,
    equal,
    largest,
    numbers_in,
    only_where,
    takes_blanks,
    where,
)
from datumbook.formulas.kinds import Length, Ratio, Words

# what a cut is parallel to
ALONG_AXIS, ALONG_OPPOSITE, ALONG_ITSELF = "crank line", "opposite face", "the face itself"
NOT_CUT = "not cut"


def bottom_at_corner(overall_height: Length, deck_height: Length) -> Length:
    """Crank line to bottom face at one corner, from the two heights read over it.

    Source: geometry.

    >>> bottom_at_corner(overall_height=300.04, deck_height=219.99)
    80.05
    """
    return overall_height - deck_height


def on_line(
    front: Length, rear: Length, place: Length, front_place: Length, rear_place: Length
) -> Length:
    """Height of a straight line at one place, from its heights at the front and at the rear: the
    deck over a cylinder, the lift of the crank line at a corner or a tunnel.

    place, front_place, rear_place: from the front end face (mm).

    Source: geometry.

    >>> on_line(front=0.05, rear=0.13, place=250, front_place=50, rear_place=450)
    0.09
    """
    return front + (rear - front) * (place - front_place) / (rear_place - front_place)


def deck_after_line_bore(deck_height: Length, lift: Length) -> Length:
    """Crank line to deck once the line has risen by so much at this place.

    Source: geometry.

    >>> deck_after_line_bore(deck_height=220.00, lift=0.13)
    219.87
    """
    return deck_height - lift


def bottom_after_line_bore(bottom_height: Length, lift: Length) -> Length:
    """Crank line to bottom face once the line has risen by so much at this place.

    Source: geometry.

    >>> bottom_after_line_bore(bottom_height=80.00, lift=0.13)
    80.13
    """
    return bottom_height + lift


def on_plane(height: Length, next_along: Length, next_across: Length, opposite: Length) -> Length:
    """Height at one corner of the plane that lies nearest to all four: the face without its twist.

    The plane of least squares goes by the corners with half the twist above and below, in turn:
    each corner comes down by half of what it and its opposite have over the two others, halved.

    next_along: the corner at the other end, same side; next_across: same end, other side; opposite:
    across the diagonal.

    Source: geometry, least squares.

    >>> on_plane(height=220.00, next_along=219.97, next_across=219.97, opposite=220.00)
    219.985
    """
    return height - ((height + opposite) - (next_along + next_across)) / 4


@takes_blanks
def base_without_opposite(parallel_to: Words, height: Length, plane: Length) -> Length:
    """How far beyond the crank line lies what a cut is parallel to, at one corner: the line itself,
    the face's own plane, or, of a face not cut, the face as it is.

    plane: the face's own, see on_plane. Both are on this side of the crank line, so below zero.
    Blank until it is chosen.

    Source: geometry.

    >>> base_without_opposite("the face itself", height=220.00, plane=219.985)
    -219.985
    """
    return where(
        equal(parallel_to, ALONG_AXIS),
        0,
        where(
            equal(parallel_to, ALONG_ITSELF),
            _where_there(plane, 0 - plane),
            only_where(equal(parallel_to, NOT_CUT), _where_there(height, 0 - height)),
        ),
    )


@takes_blanks
def base(parallel_to: Words, height: Length, plane: Length, opposite_plane: Length) -> Length:
    """As base_without_opposite, of a block that can be stood on its opposite face.

    opposite_plane: crank line to the plane of the opposite face at this corner, as that face is
    when this one is cut.

    Source: geometry.

    >>> base("opposite face", height=220.00, plane=220.00, opposite_plane=79.985)
    79.985
    """
    return where(
        equal(parallel_to, ALONG_OPPOSITE),
        _where_there(opposite_plane, opposite_plane),
        base_without_opposite(parallel_to, height, plane),
    )


def base_clocked(parallel_to: Words, base: Length, mandrel_when_cut: Length) -> Length:
    """What a cut is parallel to, at one corner, once more: what is set up along the crank line is
    clocked along the mandrel, as it lies there.

    base: see faces.base.

    Source: geometry.

    >>> base_clocked("crank line", base=0.0, mandrel_when_cut=0.03)
    -0.03
    """
    return base - where(equal(parallel_to, ALONG_AXIS), mandrel_when_cut, 0)


def _where_there(number: Length, value: Length) -> Length:
    """The value where the number is there, else blank."""
    return only_where(at_least(numbers_in(number), 1), value)


def above_base(height: Length, base: Length) -> Length:
    """How high a corner stands over what the cut is parallel to.

    Source: geometry.

    >>> above_base(height=219.99, base=80.05)
    300.04
    """
    return height + base


def highest_corner(*corners: Length) -> Length:
    """Greatest of the heights at the corners: where a level cutter touches first.

    Source: geometry.

    >>> highest_corner(220.03, 220.03, 219.99, 219.99)
    220.03
    """
    return largest(*corners)


@takes_blanks
def cut_taken(parallel_to: Words, cut: Length) -> Length:
    """Metal off the lowest corner: the cut that is planned, none of a face that is not cut.

    Source: none needed.

    >>> cut_taken("crank line", cut=0.02), cut_taken("not cut", cut=float("nan"))
    (0.02, 0)
    """
    return where(equal(parallel_to, NOT_CUT), 0, _where_there(cut, cut))


def height_after(
    parallel_to: Words, highest_above_base: Length, infeed: Length, base: Length, work_off: Length
) -> Length:
    """Height of a face at one corner after the cut: the whole face lies one infeed below where the
    cutter touched the highest corner, over what the cut is parallel to. A face not cut stays.

    work_off: what touch, infeed and clocking may be off at this corner, taken as nothing.

    Source: geometry.

    >>> height_after("opposite face", 300.00, infeed=0.02, base=79.97, work_off=0.0)
    220.01
    """
    return highest_above_base - infeed - base + where(equal(parallel_to, NOT_CUT), 0, work_off)


def off_at_front_left(
    touch_on: Words, infeed_off: Length, along_off: Length, across_off: Length
) -> Length:
    """How far the work may be off at the front left corner: by touch and infeed, and by the
    clocking, whose tilt turns about the corner that was touched.

    along_off, across_off: rear over front, and left over right, once the block is clocked.

    Source: geometry.

    >>> off_at_front_left("rear right", 0.005, along_off=0.02, across_off=0.01)
    -0.005
    """
    return infeed_off + _front(touch_on) * along_off + _left(touch_on) * across_off


def off_at_front_right(
    touch_on: Words, infeed_off: Length, along_off: Length, across_off: Length
) -> Length:
    """As off_at_front_left, at the front right corner.

    Source: geometry.

    >>> off_at_front_right("front right", 0.005, along_off=0.02, across_off=0.01)
    0.005
    """
    return infeed_off + _front(touch_on) * along_off + _right(touch_on) * across_off


def off_at_rear_left(
    touch_on: Words, infeed_off: Length, along_off: Length, across_off: Length
) -> Length:
    """As off_at_front_left, at the rear left corner.

    Source: geometry.

    >>> off_at_rear_left("rear left", 0.005, along_off=0.02, across_off=0.01)
    0.005
    """
    return infeed_off + _rear(touch_on) * along_off + _left(touch_on) * across_off


def off_at_rear_right(
    touch_on: Words, infeed_off: Length, along_off: Length, across_off: Length
) -> Length:
    """As off_at_front_left, at the rear right corner.

    Source: geometry.

    >>> off_at_rear_right("rear right", 0.005, along_off=0.02, across_off=0.01)
    0.005
    """
    return infeed_off + _rear(touch_on) * along_off + _right(touch_on) * across_off


def _front(touch_on: Words) -> Ratio:
    return where(_either(touch_on, "rear left", "rear right"), -1, 0)


def _rear(touch_on: Words) -> Ratio:
    return where(_either(touch_on, "front left", "front right"), 1, 0)


def _left(touch_on: Words) -> Ratio:
    return where(_either(touch_on, "front right", "rear right"), 1, 0)


def _right(touch_on: Words) -> Ratio:
    return where(_either(touch_on, "front left", "rear left"), -1, 0)


def _either(touch_on: Words, one: str, other: str) -> bool:
    return any_of(equal(touch_on, one), equal(touch_on, other))


def overall_at_corner(deck_after: Length, bottom_after: Length) -> Length:
    """Bottom face to deck at one corner after all cuts.

    Source: geometry.

    >>> overall_at_corner(deck_after=219.97, bottom_after=79.97)
    299.94
    """
    return deck_after + bottom_after


@decided
def infeed(cut_taken: Length, highest_above_base: Length, lowest_above_base: Length) -> Length:
    """How far the cutter goes down from where it touches the highest corner: a figure that is set,
    and is what it is.

    A crowned face is touched on its hump first, higher than any corner: there one touches on the
    lowest corner, from which the infeed is the cut.

    Source: geometry.

    >>> infeed(cut_taken=0.02, highest_above_base=220.03, lowest_above_base=219.99)
    0.06
    """
    return cut_taken + (highest_above_base - lowest_above_base)


def sound(height: Length, closure: Words) -> Length:
    """A height that a forecast may be built on: none where the three heights do not add up, for one
    of them is misread.

    Source: common practice, no source.

    >>> sound(220.00, closure="OK")
    220.00
    """
    return only_where(any_of(equal(closure, OK), equal(closure, UNSURE)), height)


@decided
def gone_since_drawn(drawn: Length, height: Length, uncertainty: Length, taken: Length) -> Length:
    """Metal that a face has lost at one corner once it is cut, beside its drawing: what it lay
    below it as received, and what the cut takes. A bound, of what the height may be off too; metal
    that it stands proud is not set against the cut.

    height: crank line to the face as received; uncertainty: of that.

    Source: geometry.

    >>> gone_since_drawn(drawn=3.555, height=3.525, uncertainty=0.0005, taken=0.004)
    0.0345
    """
    return largest(0, drawn - height + uncertainty) + taken


@decided
def most_taken(*taken: Length) -> Length:
    """Most metal that is taken from one corner: a bound of what is taken anywhere.

    Source: none needed.

    >>> most_taken(0.06, 0.06, 0.02, 0.02)
    0.06
    """
    return largest(*taken)
