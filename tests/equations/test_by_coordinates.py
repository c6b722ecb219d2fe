"""Blocks laid out in space, turned any way up, and measured as points, planes and circles.

Source: geometry; the sizes are invented. What is measured is a distance between points or from a
plane, and knows nothing of corners, ends and sides.
"""

from __future__ import annotations

import math
from itertools import product
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest
from scipy.optimize import brentq
from scipy.spatial import ConvexHull
from scipy.spatial.transform import Rotation

from datumbook.equations import (
    bores,
    clean_cuts,
    crowns,
    drives,
    faces,
    flatness,
    heights,
    hole_safety,
    lands,
    line_bore,
    liners,
    mandrels,
    suspicions,
    thread_forms,
    walls,
)
from faces_cut import NAMES, POINTS
from witnesses import witness

Points = npt.NDArray[Any]

chance = np.random.default_rng(2)
TURNS = np.linspace(0, 2 * np.pi, 3601)


def near(value: object, off: float = 1e-9) -> object:
    return pytest.approx(value, abs=off)


def somewhere() -> tuple[Rotation, Points]:
    """How a block may lie: turned any way, and carried away."""
    return Rotation.random(rng=chance), chance.uniform(-500, 500, 3)


def over_plane(points: Points, of: Points) -> Points:
    """How far points lie over the plane through three others, on the side of the first of them."""
    normal = np.cross(of[1] - of[0], of[2] - of[0])
    off = (points - of[0]) @ normal / np.linalg.norm(normal)
    return np.asarray(off * np.sign(off[0]))


def read(corners: Points) -> tuple[float, ...]:
    """The heights of four corners over the crank line's plane, of a block that lies anywhere."""
    turn, away = somewhere()
    base = np.array([(0.0, 0.0, 0.0), (500.0, 0.0, 0.0), (0.0, 100.0, 0.0)])
    points = np.column_stack([POINTS, corners])
    found = over_plane(turn.apply(points) + away, turn.apply(base) + away)
    return tuple(float(one) for one in found)


@witness(
    heights.mean_height, heights.tilt_lengthwise, heights.tilt_crosswise, heights.twist, by="solver"
)
def test_the_four_figures_of_a_face_are_the_terms_of_the_patch_through_its_corners() -> None:
    back, left = np.sign(POINTS[:, 0] - 250), np.sign(POINTS[:, 1])
    terms = np.column_stack([np.ones(4), back / 2, left / 2, -back * left / 2])
    for _ in range(5):
        corners = chance.uniform(219.9, 220.1, 4)
        seen = read(corners)
        figures = (
            heights.mean_height(*seen),
            heights.tilt_lengthwise(*seen),
            heights.tilt_crosswise(*seen),
            heights.twist(*seen),
        )
        assert figures == near(np.linalg.solve(terms, corners))


@witness(heights.deck_height_at, faces.on_line, by="coordinates")
def test_the_deck_over_a_bore_is_where_its_axis_meets_the_ruled_face() -> None:
    for _ in range(5):
        corners, place = chance.uniform(219.9, 220.1, 4), float(chance.uniform(50, 350))
        turn, away = somewhere()
        points = turn.apply(
            [(x, y, z) for (x, y), z in zip(product((0, 400), (90, -90)), corners, strict=True)]
        )
        axis = turn.apply([(place, 0, 0), (place, 0, 1)]) + away
        front, rear = points[:2].mean(axis=0) + away, points[2:].mean(axis=0) + away
        # the two lines meet: up the axis from its foot, along the middle of the deck from its front
        sides = np.column_stack([axis[1] - axis[0], front - rear])
        up, share = np.linalg.lstsq(sides, front - axis[0], rcond=None)[0]
        found = heights.deck_height_at(*corners, centre=place, deck_length=400.0)
        assert found == near(up)
        ends = corners.reshape(2, 2).mean(axis=1)
        assert faces.on_line(*ends, place, 0.0, 400.0) == near(up)
        assert 0 < share < 1


@witness(
    heights.end_closure,
    heights.height_closure,
    heights.lowest_corner,
    faces.most_taken,
    by="solver",
)
def test_a_height_misread_at_one_end_is_what_the_closure_shows() -> None:
    for _ in range(12):
        deck, bottom = chance.uniform(219.9, 220.1, 4), chance.uniform(79.9, 80.1, 4)
        top, foot = np.column_stack([POINTS, deck]), np.column_stack([POINTS, -bottom])
        whole = np.linalg.norm(top - foot, axis=1)
        misread = chance.choice([-1, 1], 2) * chance.uniform(0.01, 0.1, 2)
        closures = []
        for end in (0, 1):
            under = [float(whole[at] - deck[at]) for at in (2 * end, 2 * end + 1)]
            middle = -foot[2 * end : 2 * end + 2, 2].mean()
            closures.append(heights.end_closure(*under, middle + misread[end]))
        assert closures == near(-misread)
        worse = -misread[np.argmax(np.abs(misread))]
        assert heights.height_closure(*closures) == near(worse)
        # a level plane sinks on to the highest corner, rises to the lowest
        seen = read(deck)
        rests = [brentq(lambda z: (deck < z).mean() - share, 0, 300) for share in (0.1, 0.9)]  # noqa: B023
        assert heights.lowest_corner(*seen) == near(rests[0])
        assert faces.most_taken(*seen) == near(rests[1])
        assert faces.highest_corner(*seen) == near(rests[1])


@witness(faces.highest_corner, faces.infeed, faces.height_after, by="coordinates")
def test_a_level_cutter_from_the_touch_on_the_highest_corner() -> None:
    for _ in range(5):
        deck, down = chance.uniform(219.9, 220.1, 4), float(chance.uniform(0.2, 0.4))
        touch = faces.highest_corner(*deck)
        assert touch == near(np.sort(deck)[-1])
        left = np.minimum(deck, np.sort(deck)[-1] - down)  # what the cutter leaves standing
        off = float((deck - left).min())
        assert faces.infeed(off, touch, float(deck.min())) == near(down)
        after = faces.height_after(faces.ALONG_AXIS, touch, down, 0.0, 0.0)
        assert [after] * 4 == near(left)
        # the work came out 0.003 high; a face that is not cut knows nothing of it
        high = faces.height_after(faces.ALONG_AXIS, touch, down, 0.0, 0.003)
        assert [high - 0.003] * 4 == near(left)
        stays = faces.height_after(faces.NOT_CUT, 0.0, 0.0, -touch, 0.003)
        assert stays == near(touch)


@witness(
    faces.base_clocked,
    faces.base,
    faces.base_without_opposite,
    faces.above_base,
    mandrels.under_mandrel,
    by="coordinates",
)
def test_a_block_clocked_along_its_mandrel_or_stood_on_a_face() -> None:
    """Turned about the crosswise axis until the mandrel, or the opposite face, lies level."""
    for _ in range(5):
        seats, deck = chance.uniform(-0.05, 0.05, 2), chance.uniform(219.9, 220.1, 2)
        bottom = chance.uniform(79.9, 80.1, 2)
        places = np.array([20.0, 480.0])
        deck_at, foot_at = (np.column_stack([places, z]) for z in (deck, -bottom))

        def level(points: Points, line: Points) -> Points:
            lean = math.atan2(*(line[1] - line[0])[::-1])
            turn = np.array([(math.cos(lean), math.sin(lean)), (-math.sin(lean), math.cos(lean))])
            return np.asarray(((points - line[0]) @ turn.T)[:, 1])

        for words, line, base in (
            (faces.ALONG_AXIS, np.column_stack([places, seats]), 0.0),
            (faces.ALONG_OPPOSITE, foot_at, None),
            (faces.ALONG_ITSELF, deck_at, None),
        ):
            stand = []
            for at in (0, 1):
                known = faces.base(words, deck[at], deck[at], bottom[at])
                if words != faces.ALONG_OPPOSITE:
                    assert faces.base_without_opposite(words, deck[at], deck[at]) == near(known)
                assert base is None or known == base
                clocked = faces.base_clocked(words, known, seats[at])
                stand.append(faces.above_base(deck[at], clocked))
            # a lean of a tenth in 460 shortens what is seen of the height by less than 1e-5
            assert stand == near(level(deck_at, line), 2e-5)
            # a twisted deck: its plane, and where its corner stands, are two heights
            known = faces.base(words, deck[at] + 0.02, deck[at], bottom[at])
            assert level(deck_at, line)[at] - stand[at] == near(0, 2e-5)
            if words == faces.ALONG_ITSELF:
                assert faces.above_base(deck[at] + 0.02, known) == near(0.02)
        # a face not cut is cut by nothing: it stands on itself
        for base in (faces.base, faces.base_without_opposite):
            itself = base(faces.NOT_CUT, deck[0], deck[0] - 0.02, *[80.0] * (base is faces.base))
            assert faces.above_base(deck[0], itself) == near(0)
        # read downwards, the mandrel lies as far the other way
        under = [mandrels.under_mandrel(seat) for seat in seats]
        assert under == near(-np.column_stack([places, seats])[:, 1])


@witness(
    faces.off_at_front_left,
    faces.off_at_front_right,
    faces.off_at_rear_left,
    faces.off_at_rear_right,
    by="solver",
)
def test_what_a_leaning_cut_is_off_by_is_a_plane_through_the_corner_touched() -> None:
    at = [
        faces.off_at_front_left,
        faces.off_at_front_right,
        faces.off_at_rear_left,
        faces.off_at_rear_right,
    ]
    for touched in range(4):
        sunk, along, across = chance.uniform(-0.05, 0.05, 3)
        # level + slopes: nothing else than `sunk` where it touched, and so much from end to end
        design = np.array([(1.0, *POINTS[touched]), (0.0, 460.0, 0.0), (0.0, 0.0, 180.0)])
        plane = np.linalg.solve(design, (sunk, along, across))
        found = [one(NAMES[touched], sunk, along, across) for one in at]
        assert found == near(plane[0] + POINTS @ plane[1:])


@witness(suspicions.tilt_without, by="solver")
def test_the_tilt_of_three_corners_is_that_of_the_plane_through_them() -> None:
    for left_out in range(4):
        corners = chance.uniform(219.9, 220.1, 4)
        three = [one for one in range(4) if one != left_out]
        design = np.column_stack([np.ones(3), POINTS[three]])
        plane = np.linalg.solve(design, corners[three])
        rise = abs(plane[1]) * 460 + abs(plane[2]) * 180
        opposite, lengthwise, crosswise = left_out ^ 3, left_out ^ 1, left_out ^ 2
        found = suspicions.tilt_without(*(corners[[opposite, lengthwise, crosswise]]))
        assert found == near(rise)


@witness(
    clean_cuts.crown_under_edge,
    clean_cuts.crown_left,
    clean_cuts.crown_stood_on,
    clean_cuts.hollow_left,
    clean_cuts.cut_with_margin,
    by="coordinates",
)
def test_a_straight_edge_and_a_cut_on_a_curved_line() -> None:
    share = np.linspace(-1, 1, 2001)
    for _ in range(5):
        deep = float(chance.uniform(0.01, 0.05))
        for words, shape in (
            (clean_cuts.ROCKS, 220 - deep * share**2),
            (clean_cuts.RESTS_ON_ENDS, 220 + deep * (share**2 - 1)),
        ):
            # the edge comes down level; the leaf that does not go under, at the ends or the middle
            gap = float((shape.max() - shape).max())
            rocks = float(shape[1000] - shape[[0, -1]].max())
            crown = clean_cuts.crown_under_edge(gap, words)
            assert crown == near(max(rocks, 0))
            assert clean_cuts.crown_left(crown, faces.NOT_CUT) == near(max(rocks, 0))
            cut = np.minimum(shape, shape[[0, -1]].min() - 0.001)
            if words == clean_cuts.ROCKS:
                left = float(np.ptp(cut))
                assert clean_cuts.crown_left(crown, faces.ALONG_AXIS) == near(left)
                lines = [crown, crown / 2, 0.0]
                assert clean_cuts.crown_stood_on(faces.ALONG_OPPOSITE, *lines) == near(rocks)
                assert clean_cuts.crown_stood_on(faces.ALONG_ITSELF, *lines) == near(left)
        # a hollow under a cut: how far the plane still stands over its lowest place
        hollow = 220 - deep * (1 - share**2)
        for taken in (0.3 * deep, 1.2 * deep):
            still = float(max((220 - taken - hollow).max(), 0))
            assert clean_cuts.hollow_left(deep, taken) == near(still)
        # the gauge read the hollow too shallow by all it may be off: the margin just reaches it
        wrong = float(chance.uniform(0.001, 0.006))
        seen = float((220 - hollow).max()) - wrong
        assert 220 - clean_cuts.cut_with_margin(seen, wrong) == near(hollow.min())


@witness(crowns.steepest_slope, crowns.edge_slope, by="coordinates")
def test_the_steepest_way_down_a_face_of_all_the_ways_there_are() -> None:
    ways = np.column_stack([np.cos(TURNS), np.sin(TURNS)])
    for _ in range(5):
        along, across = chance.uniform(-1e-3, 1e-3, 2)
        falls = float((ways @ (along, across)).max())
        assert crowns.steepest_slope(abs(along), abs(across)) == near(falls, 2e-9)
        corners = chance.uniform(219.9, 220.1, 4)
        steps = np.abs(corners.reshape(2, 2)[1] - corners.reshape(2, 2)[0]) / 460
        tilt, twist = heights.tilt_lengthwise(*corners), heights.twist(*corners)
        assert crowns.edge_slope(tilt, twist, 460.0) == near(steps.max())


@witness(crowns.stroke_ground, heights.piston_stack, by="simulation")
def test_a_crank_turned_round_once() -> None:
    throw, rod, crown = 47.5, 150.0, 34.8
    pin = throw * np.exp(1j * TURNS)
    stroke = float(np.ptp(pin.real))
    assert crowns.stroke_ground(throw) == near(stroke)
    # the gudgeon pin stands a rod away from the crank pin, on the axis of the bore
    top = pin.real + np.sqrt(rod**2 - pin.imag**2) + crown
    assert float(np.ptp(top)) == near(stroke)
    assert heights.piston_stack(stroke, rod, crown) == near(float(top.max()))


@witness(crowns.lowest_over_bore, by="coordinates")
def test_the_lowest_place_over_a_bore_of_a_leaning_deck_with_a_hollow() -> None:
    far, turn = np.meshgrid(np.linspace(0, 50.0, 51), TURNS)
    for _ in range(5):
        along, across = chance.uniform(-1e-3, 1e-3, 2)
        deck = 220 + along * far * np.cos(turn) + across * far * np.sin(turn)
        deep = float(chance.uniform(0.005, 0.05))
        hollow = np.where((far > 45) & (deck < np.median(deck)), deep, 0)  # where it lies lowest
        slope = math.hypot(along, across)
        found = crowns.lowest_over_bore(220.0, slope, 100.0, deep)
        assert found == near((deck - hollow).min(), 1e-6)


@witness(mandrels.mandrel_seat, by="solver")
def test_a_bar_lifted_in_an_oval_tunnel_until_it_touches() -> None:
    angle = np.linspace(0, np.pi, 40_001)
    touched = set()
    for bar, width, worn in ((60.95, 61.0, 0.02), (60.98, 61.0, 0.05), (60.9, 61.0, 0.3)):
        upright = width + worn
        wall = width / 2 * np.cos(angle) + 1j * upright / 2 * np.sin(angle)
        # the farther it is lifted, the nearer comes the wall: until a radius is left
        lift = brentq(lambda up: np.abs(wall - 1j * up).min() - bar / 2, -0.01, 0.4)  # noqa: B023
        saddle = mandrels.mandrel_seat(mandrels.IN_SADDLES, upright, width, bar)
        assert saddle == near(lift, 1e-6)
        assert mandrels.mandrel_seat(mandrels.IN_CAPS, upright, width, bar) == near(-lift, 1e-6)
        touched.add(int(np.abs(wall - 1j * lift).argmin()) == 20_000)
    assert touched == {True, False}, "on top, and on both flanks"


@witness(bores.clean_up_size, bores.out_of_round, by="coordinates")
def test_a_bore_worn_on_one_wall_is_clean_once_the_cutter_reaches_every_point_of_it() -> None:
    for _ in range(5):
        lip, wear, stock = chance.uniform((81, 0, 0), (83, 0.3, 0.1))
        ring = lip / 2 * np.exp(1j * TURNS)
        wall = np.concatenate([ring, ring + wear])  # the ring wore its way into one side
        size = float(np.ptp(wall.real))
        found = bores.clean_up_size(lip, size, stock)
        assert (found - stock) / 2 == near(np.abs(wall).max())
        narrow = float(np.ptp(wall.imag))
        assert bores.out_of_round(size, narrow) == near(wear)
        assert bores.out_of_round(narrow, size) == near(wear)


@witness(
    bores.bar_off_axis,
    bores.clean_up_set_over,
    bores.surely_clean_size,
    bores.room_to_set_over,
    bores.set_over_suggested,
    by="coordinates",
)
def test_a_bar_set_over_cleans_once_it_reaches_the_wall_worn_deepest_on_any_side() -> None:
    for _ in range(5):
        lip, wear, off = chance.uniform((81, 0, 0.01), (83, 0.3, 0.4))
        along, across = off * np.cos(way := chance.uniform(0, 7)), off * np.sin(way)
        axis = along + 1j * across
        ring = lip / 2 * np.exp(1j * TURNS)
        own = bores.clean_up_size(lip, lip + wear, 0)
        # one deepest place, on every side in turn: the worst of them is what the size is for
        found = bores.clean_up_set_over(own, along, across)
        worn = np.abs(ring * (1 + 2 * wear / lip) - axis).max()
        assert found / 2 == near(worn, 1e-6)
        assert bores.bar_off_axis(along, across) == near(abs(axis))
        assert bores.bar_off_axis(off, 0) == bores.bar_off_axis(-off, 0) == near(off)
        # by the largest circle about the new axis that leaves nothing: grown by what may be off
        surely = bores.surely_clean_size(own, 0.01)
        size = bores.clean_up_set_over(surely, along, across)
        assert size / 2 == near(worn + 0.005, 1e-6)
        room = bores.room_to_set_over(size, surely, across)
        straight = bores.room_to_set_over(size, surely, 0)
        assert np.abs(ring * (1 + 2 * wear / lip) - straight).max() + 0.005 == near(size / 2, 1e-6)
        for wanted in (-9.0, 9.0):
            over = bores.set_over_suggested(wanted, room, 0.001)
            assert np.sign(over) == np.sign(wanted) or room < 0.001
            reached = np.abs(ring * (1 + 2 * wear / lip) - over - 1j * across).max()
            assert reached + 0.005 <= size / 2 + 1e-6
        assert bores.set_over_suggested(0.0126, 1.0, 0.01) == near(0.01)
        assert bores.set_over_suggested(-0.0151, 1.0, 0.01) == near(-0.02)


@witness(bores.size_to_clean_at, liners.size_to_clean_at_lined, by="coordinates")
def test_a_bore_is_asked_to_be_clean_where_a_cutter_as_large_takes_more_than_its_form() -> None:
    nothing = float("nan")
    for _ in range(5):
        read = chance.uniform(82.0, 82.2, 6)
        low, high = np.sort(read)[[0, -1]]
        for size in (low - 0.01, low, low + 0.010, low + 0.016, high + 0.001):
            leaves = size > high or size - low > 0.015
            assert bores.whether_bored(size, 0.015, *read) == ("yes" if leaves else "no")
        assert bores.whether_bored(nothing, 0.015, *read) == "yes"
        assert bores.size_to_clean_at(low, high) == low
        assert bores.size_to_clean_at(nothing, high) == high
        assert liners.size_to_clean_at_lined("no", nothing, high) == high
        assert liners.size_to_clean_at_lined("yes", low, high) == low
        assert liners.size_to_clean_at_lined("yes", nothing, high) is None


@witness(lands.chamfer_width, lands.gasket_margin, by="coordinates")
def test_a_chamfer_is_where_a_slanting_line_leaves_the_bore() -> None:
    for _ in range(5):
        bore, high, angle, hole = chance.uniform((80, 0.2, 0.2, 84), (83, 1.0, 1.2, 88))
        # from the wall, `high` under the deck, up along the slant until the deck is met
        slant = np.array([(math.sin(angle), -1.0), (math.cos(angle), 0.0)])
        out, edge = np.linalg.solve(slant, (-bore / 2, high))
        assert out > 0
        assert lands.chamfer_width(high, angle) == near(edge - bore / 2)
        assert lands.gasket_margin(hole, bore, high, angle) == near(hole / 2 - edge)


@witness(walls.wall_set_over, walls.wall_set_over_anyhow, walls.wall_after_boring, by="coordinates")
def test_a_wall_beside_a_bore_set_over_is_what_the_new_circle_leaves() -> None:
    for _ in range(5):
        thin, bore, grown = chance.uniform((4, 81, 0.2), (6, 83, 1))
        rear, left = chance.uniform(-0.01, 0.01, 2)
        angle = float(chance.uniform(0, 2 * np.pi))
        # seen from above, the front up, the left to the left; as a clock goes
        place = (bore / 2 + thin) * np.array([math.sin(angle), math.cos(angle)])
        centre = np.array([-left, -rear])
        away = float(np.linalg.norm(place - centre)) - (bore + grown) / 2
        known = {"bore": bore, "finished_bore": bore + grown, "offset": rear}
        found = walls.wall_set_over(thin, thin + 1, **known, across=left, angle=angle)
        # the place is seen from both centres in one direction, but for the move over the radius
        assert found == near(away, 1e-5)
        ring = (bore / 2 + thin) * np.exp(1j * TURNS)
        least = float(np.abs(ring - complex(*centre)).min()) - (bore + grown) / 2
        assert walls.wall_set_over_anyhow(thin + 1, thin, **known, across=left) == near(least, 1e-6)
        straight = walls.wall_set_over_anyhow(thin, **known, across=0.0)
        assert walls.wall_after_boring(thin, bore, bore + grown, abs(rear)) == near(straight)


@witness(
    hole_safety.centre_distance,
    hole_safety.wall_to_neighbour,
    hole_safety.edge_distance,
    hole_safety.nearest_edge,
    by="coordinates",
)
def test_the_nearest_points_of_two_holes_and_of_the_edges_of_a_face() -> None:
    for number in range(5):
        # near one edge after the other
        near_edge = ((8, 90), (386, 90), (200, 8), (200, 182), (120, 60))[number]
        one = complex(*(near_edge + chance.uniform(-4, 4, 2)))
        other = complex(*chance.uniform((60, 40), (300, 150)))
        small, large = chance.uniform((6, 8), (8, 12))
        apart = hole_safety.centre_distance(one.real, one.imag, other.real, other.imag)
        assert apart == near(abs(np.exp(0.7j) * (one - other)))  # turned, it is as far
        # the point of either rim that looks at the other hole
        way = (other - one) / abs(other - one)
        rims = one + small / 2 * way, other - large / 2 * way
        wall = float(((rims[1] - rims[0]) / way).real)
        assert hole_safety.wall_to_neighbour(apart, small, large) == near(wall)
        length, width = 394.0, 190.0
        along, across = np.linspace(0, length, 394_001), np.linspace(0, width, 190_001)
        sides = [
            np.abs(along - one).min(),
            np.abs(along + 1j * width - one).min(),
            np.abs(1j * across - one).min(),
            np.abs(length + 1j * across - one).min(),
        ]
        found = hole_safety.nearest_edge(one.real, one.imag, length, width)
        assert found == near(min(sides), 1e-6)
        assert hole_safety.edge_distance(one.real, length) == near(sides[3], 1e-6)
        assert hole_safety.edge_distance(one.imag, 0.0) == near(sides[0], 1e-6)


@witness(
    drives.centre_change,
    drives.centre_after,
    drives.chain_excess,
    drives.cam_retard,
    drives.crank_retard,
    by="coordinates",
)
def test_a_cam_beside_a_crank_line_that_moves() -> None:
    for _ in range(5):
        far, shift, angle, radius = chance.uniform((100, -0.2, 0.1, 38), (150, 0.2, 2.5, 45))
        cam, crank = far * np.exp(1j * angle), complex(shift)  # the deck lies towards the real axis
        change = drives.centre_change(far, shift, angle)
        assert change == near(abs(cam - crank) - far)
        assert drives.centre_after(far, change) == near(abs(cam - crank))
        # a chain once round two sprockets alike, hull of their rims: two strands and one girth
        girths = [2 * abs(cam - at) + 2 * np.pi * radius for at in (0, crank)]
        assert drives.chain_excess(change) == near(girths[0] - girths[1])
        # the driving strand stays as long; what the centres near each other the sprocket lags
        late = drives.cam_retard(change, radius)
        assert radius * late == near(far - abs(cam - crank))
        assert np.exp(1j * drives.crank_retard(late)) == near(np.exp(1j * late) ** 2)


def test_a_chain_over_unlike_sprockets_leaves_a_little_less_than_chain_excess() -> None:
    rim = np.exp(1j * np.linspace(0, 2 * np.pi, 20_001))

    def girth(apart: float) -> float:
        points = np.concatenate([20.5 * rim, apart + 41.0 * rim])
        return float(ConvexHull(np.column_stack([points.real, points.imag])).area)

    less = (girth(133.0) - girth(132.8)) / drives.chain_excess(-0.2)
    assert less == near(1 - 1 / 80, 1e-3)
    assert less == near(math.cos(math.asin(20.5 / 133.0)), 1e-4)


@witness(
    line_bore.clean_size,
    line_bore.lowest_lift,
    line_bore.highest_lift,
    line_bore.least_all_round,
    by="solver",
)
def test_the_size_and_the_lifts_with_which_a_circle_holds_an_old_tunnel() -> None:
    half = np.linspace(0, np.pi, 4001)
    for _ in range(5):
        size, high, aside, cut = chance.uniform((61.06, -0.03, 0, 0.05), (61.09, 0.03, 0.02, 0.2))
        finish, stock, lift = chance.uniform((61.07, 0, 0.05), (61.09, 0.01, 0.1))
        saddle = 1j * high + size / 2 * np.exp(1j * half)
        cap = 1j * high + size / 2 * np.exp(-1j * half)

        def inside(points: Points, lift: float, finish: float) -> float:
            return float(finish / 2 - np.abs(points - 1j * lift).max())

        def where(points: Points, finish: float = finish, stock: float = stock) -> float:
            """The lift with which the stock is left on these points, no more and no less."""
            return float(brentq(lambda z: inside(points, z, finish) - stock, -0.5, 0.5, xtol=1e-12))

        top, bottom = saddle[2000:2001], cap[2000:2001] + 1j * cut
        assert line_bore.lowest_lift(stock, high, size, finish) == near(where(top))
        assert line_bore.highest_lift(stock, cut, high, size, finish) == near(where(bottom))
        # uncut caps: the old tunnel is a circle, beside the new line and under it
        metals = [
            line_bore.saddle_metal(lift, high, size, finish),
            line_bore.cap_metal(0.0, lift, high, size, finish),
            line_bore.side_metal(finish, size, aside),
        ]
        metals += [line_bore.slanting_metal(one, size, finish, aside) for one in metals[:2]]
        whole = np.concatenate([saddle, cap]) + aside
        assert line_bore.least_all_round(*metals) == near(inside(whole, lift, finish), 1e-6)
        clean = line_bore.clean_size(finish, stock, *metals)
        assert inside(whole, lift, clean) == near(stock, 1e-6)


@witness(flatness.out_of_square, flatness.out_of_square_over, by="coordinates")
def test_a_bar_that_leans_as_an_indicator_swept_round_it_tells() -> None:
    lean = math.atan2(0.1, 100.0)
    rim = 10 * np.exp(1j * TURNS)
    swept = float(np.ptp(rim.real * math.tan(lean)))
    assert flatness.out_of_square(swept, 20.0) == near(lean)
    axis = 200.0 * np.exp(1j * 0.00025)
    assert flatness.out_of_square_over(0.00025, 200.0) == near(axis.imag, 1e-8)


@witness(thread_forms.cycle_effective_diameter, by="coordinates")
def test_a_cycle_thread_rounded_by_a_sixth_of_its_pitch() -> None:
    pitch = 25.4 / 26
    sharp = pitch / 2 / math.tan(math.radians(30))
    # a circle that touches both flanks near their sharp tip, and how far its own tip lies from it
    flank = np.exp(1j * math.radians(60)) * np.linspace(0, pitch, 200_001)
    up = brentq(lambda y: np.abs(flank - 1j * y).min() - pitch / 6, 0, pitch)
    deep = sharp - 2 * (up - pitch / 6)
    # half the depth above it, half below: the standard prints 0.5327 p
    assert thread_forms.cycle_effective_diameter(6.35, pitch) == near(6.35 - deep, 1e-5)
