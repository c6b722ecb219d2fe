"""What is left round a hole: old grooves, walls, floors, edges, thread, and the tap that still
fits.
"""

from __future__ import annotations

from datumbook.formulas.functions import (
    all_of,
    any_of,
    at_least,
    at_most,
    decided,
    equal,
    missing,
    numbers_in,
    only_where,
    smallest,
    square_root,
    takes_blanks,
    where,
)
from datumbook.formulas.kinds import Length, Ratio, Words
from datumbook.formulas.whole import whole_below


def _over_nothing(length: Length) -> Length:
    """The length, or nothing where it is below nothing; a bare 0 would have no unit."""
    return (length + abs(length)) / 2


def groove_left(old_major: Length, new_hole: Length) -> Length:
    """Depth of the old thread's grooves that a larger hole leaves in its wall; 0 where it swallows
    them.

    Source: geometry.

    >>> groove_left(old_major=0.4375, new_hole=0.4219)
    0.0078
    """
    return _over_nothing(old_major - new_hole) / 2


def centre_distance(
    along: Length, across: Length, other_along: Length, other_across: Length
) -> Length:
    """Distance between the centres of two holes of one face, from their coordinates.

    Source: geometry.

    >>> centre_distance(along=0, across=0, other_along=30, other_across=40)
    50.0
    """
    return square_root((other_along - along) ** 2 + (other_across - across) ** 2)


def wall_to_neighbour(centre_distance: Length, diameter: Length, other_diameter: Length) -> Length:
    """Metal between two holes, bores or spaces that run side by side; below zero they meet.

    Source: geometry.

    >>> wall_to_neighbour(centre_distance=50.0, diameter=12.7, other_diameter=80.0)
    3.65
    """
    return centre_distance - (diameter + other_diameter) / 2


def wall_after_opening(wall: Length, old_diameter: Length, new_diameter: Length) -> Length:
    """Wall beside a hole once it has been opened: half of what the diameter grows is taken from
    each side.

    Source: geometry.

    >>> wall_after_opening(wall=0.250, old_diameter=0.4375, new_diameter=0.5000)
    0.21875
    """
    return wall - (new_diameter - old_diameter) / 2


def edge_distance(position: Length, edge: Length) -> Length:
    """Distance from the centre of a hole to an edge of the face, along one axis.

    Source: geometry.

    >>> edge_distance(position=18.0, edge=0.0)
    18.0
    """
    return abs(position - edge)


def edge_in_diameters(edge_distance: Length, major: Length) -> Ratio:
    """Distance from the centre of a hole to an edge, counted in diameters of its thread.

    Source: common practice, no source: at least 1.5.

    >>> edge_in_diameters(edge_distance=0.750, major=0.500)
    1.5
    """
    return edge_distance / major


def depth_after_skim(depth: Length, skim: Length) -> Length:
    """Depth of a hole, a thread or a relief once its face has been cut; 0 where the cut has taken
    all of it.

    Source: geometry.

    >>> depth_after_skim(depth=0.100, skim=0.015)
    0.085
    """
    return _over_nothing(depth - skim)


def deepest_tip(floor: Length, least_floor: Length) -> Length:
    """Depth that no drill tip may pass above a gallery or a sealing face: the floor less what must
    stay of it.

    Both are worked out from the face as it is when the hole is drilled.

    Source: geometry.

    >>> deepest_tip(floor=1.250, least_floor=0.125)
    1.125
    """
    return floor - least_floor


def deepest_below_cut(floor: Length, skim: Length, least_floor: Length) -> Length:
    """As deepest_tip, from the floor by the drawing and what the cut on the face takes of it.

    Source: geometry.

    >>> deepest_below_cut(floor=1.250, skim=0.025, least_floor=0.125)
    1.1
    """
    return deepest_tip(depth_after_skim(floor, skim), least_floor)


@takes_blanks
def deepest_thread(deepest: Length, drilled: Length, drill_point: Length) -> Length:
    """Depth that no thread of a drilled hole may be found beyond: what its floor leaves, and once
    its depth at the tip is read the full diameter above the drill's point. Blank until the figures
    it needs are known.

    Source: geometry: no full thread stands where the hole has not its full diameter.

    >>> deepest_thread(deepest=1.125, drilled=1.100, drill_point=0.127)
    0.973
    """
    full_depth = drilled - drill_point
    shallower = where(at_most(full_depth, deepest), full_depth, deepest)
    least = where(missing(drilled), deepest, shallower)
    known = any_of(missing(drilled), at_least(numbers_in(drill_point), 1))
    return only_where(all_of(at_least(numbers_in(deepest), 1), known), least)


def lead_room(full_depth: Length, thread_depth: Length, chip_room: Length, pitch: Length) -> Ratio:
    """Pitches of tap lead that a blind hole has room for below its full thread and above the chips.

    Source: geometry.

    >>> lead_room(full_depth=1.0529, thread_depth=0.875, chip_room=0.0625, pitch=1 / 13)
    1.5
    """
    return (full_depth - thread_depth - chip_room) / pitch


def tap_that_fits(
    lead_room: Ratio, taper_lead: Ratio, second_lead: Ratio, bottoming_lead: Ratio
) -> Words:
    """Tap with the longest lead that still finishes the thread: taper, second or bottoming, or
    none.

    Source: common practice, no source: the longer the lead, the easier it cuts.

    >>> tap_that_fits(lead_room=4.2, taper_lead=7, second_lead=4, bottoming_lead=1.5)
    'second'
    """
    shorter = where(at_least(lead_room, bottoming_lead), "bottoming", "none")
    return where(
        at_least(lead_room, taper_lead),
        "taper",
        where(at_least(lead_room, second_lead), "second", shorter),
    )


def length_in_hole(fastener_length: Length, grip: Length) -> Length:
    """Length of a bolt or stud below the face: all of it less what head, gasket and washer take up.

    Source: geometry.

    >>> length_in_hole(fastener_length=2.500, grip=1.750)
    0.75
    """
    return fastener_length - grip


def room_below_fastener(usable_depth: Length, length_in_hole: Length) -> Length:
    """Room between the end of a fastener and the end of the thread; below zero it bottoms before it
    clamps.

    Source: geometry.

    >>> room_below_fastener(usable_depth=0.875, length_in_hole=0.750)
    0.125
    """
    return usable_depth - length_in_hole


def engaged_length(length_in_hole: Length, thread_depth: Length, relief: Length) -> Length:
    """Length over which fastener and block hold each other: from the relief to the end of whichever
    is shorter.

    Source: geometry.

    >>> engaged_length(length_in_hole=0.750, thread_depth=0.875, relief=0.100)
    0.65
    """
    shorter = where(at_most(length_in_hole, thread_depth), length_in_hole, thread_depth)
    return _over_nothing(shorter - relief)


def engagement_by_diameters(major: Length, diameters: Ratio) -> Length:
    """Full thread wanted by a rule that counts diameters.

    Source: common practice, no source: 1.25 and 1.5 are both said of grey iron.

    >>> engagement_by_diameters(major=0.500, diameters=1.5)
    0.75
    """
    return major * diameters


def widest_relief(*over: Length) -> Length:
    """Widest relief that stays under the gasket hole and inside the boss: the smaller of what is
    given.

    Source: common practice, no source.

    >>> widest_relief(0.531, 1.125)
    0.531
    """
    return smallest(*over)


def depth_in_pitches(depth: Length, pitch: Length) -> Ratio:
    """Depth of a relief, counted in pitches of its thread.

    Source: common practice, no source: one to two.

    >>> depth_in_pitches(depth=0.09375, pitch=1 / 14)
    1.3125
    """
    return depth / pitch


def nearest_edge(along: Length, across: Length, length: Length, width: Length) -> Length:
    """Distance from the centre of a hole to the nearest of the four edges of its face.

    Source: geometry.

    >>> nearest_edge(along=18.0, across=28.0, length=394.0, width=190.0)
    18.0
    """
    return smallest(
        edge_distance(along, 0),
        edge_distance(along, length),
        edge_distance(across, 0),
        edge_distance(across, width),
    )


@takes_blanks
def shown_where_done(tick: Words, place: Length, elsewhere: Length) -> Length:
    """Place of a mark on the hole map where its hole is ticked as done, elsewhere (on the key of
    the map) where not.

    Source: none needed.

    >>> shown_where_done(tick="done", place=28.0, elsewhere=205.8)
    28.0
    """
    return where(equal(tick, "done"), place, elsewhere)


@takes_blanks
def shown_where_open(tick: Words, place: Length, elsewhere: Length) -> Length:
    """Place of a mark on the hole map where its hole is not yet ticked as done, elsewhere where it
    is.

    Source: none needed.

    >>> shown_where_open(tick="", place=28.0, elsewhere=205.8)
    28.0
    """
    return where(equal(tick, "done"), elsewhere, place)


@decided
def quarter_turns(depth: Length, begins: Length, pitch: Length) -> Ratio:
    """Turns of a tap from where its full thread enters to where that is so deep, in whole quarters
    and never more than it takes.

    depth: from the face; begins: how deep the thread begins, under a relief.

    Source: geometry: a turn is a pitch.

    >>> quarter_turns(depth=16.0, begins=2.0, pitch=1.25)
    11.0
    """
    return whole_below(4 * _over_nothing(depth - begins) / pitch) / 4
