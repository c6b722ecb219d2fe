"""Sizes that are counted: parts painted side by side or end to end, in cells of a micrometre.

Source: geometry; the sizes are invented.
"""

from __future__ import annotations

import numpy as np
import pytest

from datumbook.equations import (
    bearings,
    bores,
    budget,
    clearances,
    cutting,
    drilled_holes,
    faces,
    fits,
    heights,
    hole_safety,
    lands,
    liner_pressure,
    liners,
    mandrels,
    openings,
    pistons,
    suspicions,
    tunnels,
    uncertainties,
    volumes,
    walls,
)
from painted import beyond, bored, cells, middle, row, width
from witnesses import witness

chance = np.random.default_rng(1)


def even(low: float, high: float) -> float:
    """A size between, of an even number of micrometres: half of it is a whole number of them."""
    return 2 * int(chance.integers(cells(low) // 2, cells(high) // 2)) / 1000


def near(value: float) -> object:
    return pytest.approx(value, abs=1e-9)


@witness(
    budget.taken_so_far,
    budget.taken_by_plan,
    budget.still_to_spare,
    budget.grown_so_far,
    budget.grown_by_plan,
    budget.still_to_grow,
    heights.metal_removed,
    heights.metal_removable,
    by="counting",
)
def test_of_a_height_and_of_a_bore_what_has_gone_what_goes_and_what_is_left() -> None:
    for _ in range(5):
        new, received, after, limit = (even(210, 212) for _ in range(4))
        assert budget.taken_so_far(new, received) == near(beyond([new], [received]))
        assert budget.taken_by_plan(received, after) == near(beyond([received], [after]))
        assert budget.still_to_spare(after, limit) == near(beyond([after], [limit]))
        assert budget.grown_so_far(new, received) == near(beyond([received], [new]))
        assert budget.grown_by_plan(received, after) == near(beyond([after], [received]))
        assert budget.still_to_grow(after, limit) == near(beyond([limit], [after]))
        assert heights.metal_removed(new, received) == near(beyond([new], [received]))
        assert heights.metal_removable(received, limit) == near(beyond([received], [limit]))


@witness(
    heights.above_lowest,
    heights.least_deck_height,
    faces.bottom_at_corner,
    faces.overall_at_corner,
    faces.deck_after_line_bore,
    faces.bottom_after_line_bore,
    mandrels.deck_over_centre,
    mandrels.bottom_over_centre,
    mandrels.seat_counted,
    mandrels.seat_as_found,
    suspicions.off_drawing,
    suspicions.beyond_drawing,
    by="counting",
)
def test_one_height_beside_another() -> None:
    for _ in range(5):
        deck, bottom, low, lift = even(218, 222), even(79, 81), even(217, 218), even(0.01, 0.2)
        overall = deck + bottom
        assert heights.above_lowest(deck, low) == near(beyond([deck], [low]))
        least = heights.least_deck_height(low, lift)
        assert beyond([least], [low, lift]) == 0
        assert heights.deck_clearance(least, low) == near(beyond([low, lift], [low]))
        assert faces.bottom_at_corner(overall, deck) == near(beyond([deck, bottom], [deck]))
        assert faces.overall_at_corner(deck, bottom) == near(beyond([deck, bottom], []))
        # the block stands on its bottom: the crank line rises towards the deck
        assert faces.deck_after_line_bore(deck, lift) == near(
            beyond([bottom, deck], [bottom, lift])
        )
        assert faces.bottom_after_line_bore(bottom, lift) == near(beyond([bottom, lift], []))
        # the mandrel lies a seat above the centre of the tunnel
        seat = lift
        over, under = beyond([deck], [seat]), beyond([bottom, seat], [])
        assert mandrels.deck_over_centre(over, seat) == near(deck)
        assert mandrels.bottom_over_centre(under, seat) == near(bottom)
        assert mandrels.seat_counted(seat, 0.004) == near(beyond([seat, 0.004], []))
        assert mandrels.seat_as_found(seat) == near(beyond([seat], []))
        assert suspicions.off_drawing(deck, low) == near(beyond([deck], [low]))
        for high, low_end in ((low + 0.1, low), (deck + 1.2, deck + 1.0), (deck + 1.0, low - 1.0)):
            outside = max(beyond([deck], [high]), beyond([low_end], [deck]))
            assert suspicions.beyond_drawing(deck, low_end, high) == near(outside)


@witness(
    fits.fit_clearance,
    clearances.cam_clearance,
    clearances.end_float,
    clearances.liner_interference,
    clearances.oil_clearance,
    pistons.piston_clearance,
    liners.hole_for_liner,
    bearings.crush,
    bearings.thrust_width,
    by="counting",
)
def test_a_part_beside_the_room_it_goes_into() -> None:
    for _ in range(5):
        hole, shaft, shell = even(59, 61), even(59, 61), even(1.8, 2.2)
        assert fits.fit_clearance(hole, shaft) == near(beyond([hole], [shaft]))
        assert clearances.cam_clearance(hole, shaft) == near(beyond([hole], [shaft]))
        assert clearances.end_float(hole, shaft) == near(beyond([hole], [shaft]))
        assert clearances.liner_interference(shaft, hole) == near(beyond([shaft], [hole]))
        found = clearances.oil_clearance(hole, shell, shaft)
        assert found == near(beyond([hole], [shell, shaft, shell]))
        assert pistons.piston_clearance(hole, shaft) == near(beyond([hole], [shaft]))
        wanted = liners.hole_for_liner(shaft, 0.05)
        assert beyond([shaft], [wanted]) == near(0.05)
        # two half shells in a tunnel, laid out straight, each as proud as it stands
        halves, girth = [even(92, 92.1), even(92, 92.1)], 184.0
        proud = [beyond([half], [girth / 2]) for half in halves]
        assert bearings.crush(*proud) == near(beyond(halves, [girth]))
        assert bearings.thrust_width(hole, shell, 0.0) == near(beyond([shell, hole], []))
        assert bearings.thrust_width(hole, shell, 2.0) == near(beyond([shell, hole, 2.0], []))


@witness(
    clearances.stand_out,
    liners.stand_out_after,
    pistons.gasket_for_protrusion,
    volumes.squish,
    tunnels.cap_height_after,
    openings.relief_at_least,
    openings.relief_at_most,
    uncertainties.tolerance,
    by="counting",
)
def test_what_stands_over_a_face_and_what_lies_between_two_limits() -> None:
    for _ in range(5):
        flange, sink, shim, cut = even(7.9, 8.1), even(7.9, 8.1), even(0.05, 0.3), even(0.05, 0.4)
        out = clearances.stand_out(flange, sink, shim)
        assert out == near(beyond([shim, flange], [sink]))
        assert liners.stand_out_after(out, cut) == near(
            beyond([shim, flange], [beyond([sink], [cut])])
        )
        # a crown proud of the deck, the gasket beside it, the head on the gasket
        proud, room = cut, shim
        gasket = pistons.gasket_for_protrusion(proud, room)
        assert beyond([10.0, gasket], [10.0, proud]) == near(room)
        assert volumes.squish(proud, gasket) == near(beyond([10.0, proud, gasket], [10.0]))
        assert tunnels.cap_height_after(sink, cut) == near(beyond([sink], [cut]))
        assert openings.relief_at_least(sink, cut) == near(beyond([sink], [cut]))
        assert openings.relief_at_most(sink, cut) == near(beyond([sink, cut], []))
        assert uncertainties.tolerance(sink, flange) == near(beyond([flange], [sink]))


@witness(
    cutting.engagement,
    cutting.floor_left,
    cutting.depth_at_lowest_corner,
    cutting.drilled_depth,
    hole_safety.deepest_tip,
    hole_safety.depth_after_skim,
    hole_safety.length_in_hole,
    hole_safety.room_below_fastener,
    hole_safety.engaged_length,
    hole_safety.engagement_by_diameters,
    by="counting",
)
def test_down_a_hole_from_its_face() -> None:
    for _ in range(5):
        thread, relief, floor = even(20, 24), even(1, 4), even(30, 34)
        point, least, bolt, grip = even(2, 4), even(2, 4), even(55, 65), even(38, 42)
        assert cutting.engagement(thread, relief) == near(width(row(relief, thread - relief), 1))
        tip = thread + point
        assert cutting.floor_left(floor, tip) == near(beyond([floor], [thread, point]))
        # a counterbore cut from the highest corner, at a corner that lies lower
        assert cutting.depth_at_lowest_corner(relief, 0.15) == near(beyond([relief], [0.15]))
        full = cutting.drilled_depth(thread, 3, 1.25, 1.5)
        assert full == near(beyond([thread, 1.25, 1.25, 1.25, 1.5], []))
        deepest = hole_safety.deepest_tip(floor, least)
        assert deepest == near(beyond([floor], [least]))
        assert hole_safety.depth_after_skim(relief, 0.5) == near(beyond([relief], [0.5]))
        assert hole_safety.depth_after_skim(0.4, 0.5) == 0
        inside = hole_safety.length_in_hole(bolt, grip)
        assert inside == near(beyond([bolt], [grip]))
        assert hole_safety.room_below_fastener(thread, inside) == near(
            beyond([grip, thread], [bolt])
        )
        # cells of the thread that have bolt beside them
        down = np.arange(cells(40))
        for bolt_end in (inside, 15.0, 27.5):
            held = (down >= cells(relief)) & (down < cells(thread)) & (down < cells(bolt_end))
            assert hole_safety.engaged_length(bolt_end, thread, relief) == near(held.sum() / 1000)
        assert hole_safety.engaged_length(0.5, thread, relief) == 0
        assert hole_safety.engagement_by_diameters(8.0, 1.25) == near(beyond([8.0, 2.0], []))


@witness(
    lands.first_centre,
    lands.next_centre,
    lands.bore_pitch,
    lands.offset,
    lands.row_length,
    lands.row_closure,
    lands.land_after_boring,
    lands.land_set_over,
    lands.clamping_land,
    hole_safety.wall_to_neighbour,
    hole_safety.wall_after_opening,
    by="counting",
)
def test_a_row_of_bores_painted_along_the_deck() -> None:
    for _ in range(5):
        widths = [even(14, 16), *(even(*one) for one in [(81, 83), (9, 17)] * 4)]  # end wall last
        painted = row(*widths)
        sizes, between = widths[1::2], widths[2:-1:2]
        centres = [middle(painted, part) for part in (1, 3, 5, 7)]
        found = [lands.first_centre(widths[0], sizes[0])]
        for at, land in enumerate(between):
            found.append(lands.next_centre(found[-1], sizes[at], land, sizes[at + 1]))
        assert found == near(centres)
        drawn = middle(row(15.0, 82.0), 1)
        assert lands.offset(centres[0], drawn) == near(beyond([centres[0]], [drawn]))
        pitch = lands.bore_pitch(centres[1], centres[0])
        assert pitch == near(beyond([centres[1]], [centres[0]]))
        assert lands.row_length(*widths) == near(len(painted) / 1000)
        # one land read 0.04 too wide, and the deck read in one go
        misread = lands.row_length(*widths[:2], widths[2] + 0.04, *widths[3:])
        assert lands.row_closure(misread, len(painted) / 1000) == near(0.04)
        # two neighbours bored out, about their own centres and set over
        grown = [size + even(0.2, 1.0) for size in sizes[:2]]
        opened = bored(bored(painted, 1, grown[0]), 3, grown[1])
        land = lands.land_after_boring(between[0], sizes[0], grown[0], sizes[1], grown[1])
        assert land == near(width(opened, 2))
        over = [even(-0.1, 0.1), even(-0.1, 0.1)]
        moved = bored(bored(painted, 1, grown[0], over[0]), 3, grown[1], over[1])
        assert lands.land_set_over(land, *over) == near(width(moved, 2))
        # a chamfer on either side of the land takes its cells as well
        flat = np.flatnonzero(opened == 2)[cells(0.3) : -cells(0.3)]
        assert lands.clamping_land(land, 0.3) == near(len(flat) / 1000)
        # the land is a wall between two holes; the one is opened, the other stays
        wall = hole_safety.wall_to_neighbour(pitch, sizes[0], sizes[1])
        assert wall == near(width(painted, 2))
        one = bored(painted, 1, grown[0])
        assert hole_safety.wall_after_opening(wall, sizes[0], grown[0]) == near(width(one, 2))


@witness(
    walls.wall_after_boring,
    walls.liner_wall,
    walls.core_shift,
    walls.boring_offset,
    liner_pressure.parent_ring,
    bores.bore_before_honing,
    bores.least_finished,
    bores.largest_finished,
    bores.wear,
    bores.taper,
    tunnels.tunnel_taper,
    bearings.journal_taper,
    by="counting",
)
def test_a_bore_cut_through_along_the_row_wall_bore_wall() -> None:
    for _ in range(5):
        front, size, rear, growth = even(4, 6), even(81, 83), even(4, 6), even(0.2, 1.6)
        painted = row(front, size, rear)
        shift = even(-0.1, 0.1)
        opened = bored(painted, 1, size + growth, shift)
        after = walls.wall_after_boring(rear, size, size + growth, shift)
        assert after == near(width(opened, 2))
        # a liner in the hole, bored to its finished size
        hole = row(front, 1.5, size, 1.5, rear)
        assert walls.liner_wall(size + 3.0, size) == near(width(hole, 1))
        assert liner_pressure.parent_ring(size, front) == near(len(row(front, size, front)) / 1000)
        # a core that stood off the bore's centre: one wall gained what the other lost
        off = even(0.02, 0.4)
        cast = row(6.0 + off, 82.0, 6.0 - off)
        assert walls.core_shift(width(cast, 0), width(cast, 2)) == near(off)
        # a centre found off its place, and the bar set over to where the row is laid anew
        found = row(50.0 - size / 2 + off, size, rear)
        bar = walls.boring_offset(off, row_shift=0.02)
        assert bar == near(beyond([50.0], [middle(found, 1), 0.02]))
        hone = row(front, 0.03, size, 0.03, rear)
        whole = width(hole, 2) + 2 * width(hone, 1)
        assert bores.bore_before_honing(whole, 0.06) == near(width(hone, 2))
        assert bores.least_finished(size, 0.02) == near(beyond([size], [0.02]))
        assert bores.largest_finished(size, 0.02) == near(beyond([size, 0.02], []))
        assert bores.wear(size + growth, size) == near(beyond([size + growth], [size]))
        for taper in (bores.taper, tunnels.tunnel_taper, bearings.journal_taper):
            assert taper(size, size + growth) == near(beyond([size], [size + growth]))


@witness(
    clearances.core_plug_interference,
    clearances.dowel_projection,
    clearances.tappet_clearance,
    by="counting",
)
def test_plugs_dowels_and_tappets() -> None:
    assert clearances.core_plug_interference(40.15, 40.0) == near(beyond([40.15], [40.0]))
    assert clearances.dowel_projection(22.0, 14.0) == near(beyond([22.0], [14.0]))
    assert clearances.tappet_clearance(20.64, 20.61) == near(beyond([20.64], [20.61]))


@witness(drilled_holes.probable_hole, tunnels.register_interference, by="counting")
def test_a_drill_that_cuts_wide_and_a_cap_in_its_register() -> None:
    block = row(10.0, 6.7, 10.0)  # the drill's own size, and what its lips cut beside it
    hole = width(bored(block, 1, 6.8), 1)
    assert drilled_holes.probable_hole(6.7, 0.1) == near(hole)
    assert tunnels.register_interference(70.05, 70.0) == near(beyond([70.05], [70.0]))
    assert tunnels.register_interference(69.98, 70.0) == near(-beyond([70.0], [69.98]))


@witness(bearings.oil_clearance_by_rule, by="counting")
def test_so_much_to_each_inch_of_journal() -> None:
    laid = sum(0.001 for _ in np.arange(0, 2.25, 0.25)) / 4
    assert bearings.oil_clearance_by_rule(2.25, 0.001) == near(laid)
