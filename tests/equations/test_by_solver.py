"""Numbers that a solver finds, an integral adds up or a run of events comes to.

Sources: geometry, Hooke's law and the equilibrium of a ring; the sizes are invented. Thick rings
from their differential equation, which knows no factor of Lamé's.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import count, pairwise

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq, linprog

from datumbook.equations import (
    clearances,
    cutting,
    drives,
    fasteners,
    flatness,
    hole_safety,
    line_bore,
    openings,
    pistons,
    single_holes,
    spindle_speeds,
    standings,
    station_lines,
    temperature,
    thread_forms,
    threads,
    uncertainties,
    volumes,
    walls,
)
from datumbook.equations import liner_pressure as rings
from pressed_rings import pressed
from witnesses import witness

chance = np.random.default_rng(3)


def near(value: object, off: float = 1e-9) -> object:
    return pytest.approx(value, abs=off)


def root(off: Callable[[float], float], low: float, high: float) -> float:
    return float(brentq(off, low, high, xtol=1e-12, rtol=1e-14))


# --- lines and rows


@witness(
    line_bore.lowest_parallel_lift,
    line_bore.highest_parallel_lift,
    line_bore.lift_room,
    by="solver",
)
def test_the_least_and_the_greatest_lift_that_a_solver_finds_in_the_corridor() -> None:
    for _ in range(5):
        lows, highs = chance.uniform(0, 0.05, 4), chance.uniform(0.06, 0.2, 4)
        sides, limits = [[-1.0]] * 4 + [[1.0]] * 4, [*-lows, *highs]
        ends = [
            float(linprog([way], A_ub=sides, b_ub=limits, bounds=[(None, None)]).x[0])
            for way in (1.0, -1.0)
        ]
        low = line_bore.lowest_parallel_lift(*lows)
        high = line_bore.highest_parallel_lift(*highs)
        assert [low, high] == near(ends)
        assert line_bore.lift_room(low, high) == near(ends[1] - ends[0])


@witness(walls.row_shift, by="solver")
def test_the_shift_of_a_row_that_leaves_the_least_worst_offset() -> None:
    for _ in range(5):
        offsets = chance.uniform(-0.3, 0.3, 5)
        # the shift and the worst that is left of it; each offset stays within the worst
        sides = [[way, -1.0] for way in (1.0, -1.0) for _ in offsets]
        limits = [*-offsets, *offsets]
        least = linprog([0.0, 1.0], A_ub=sides, b_ub=limits, bounds=[(None, None)] * 2)
        assert walls.row_shift(*offsets) == near(least.x[0])


# --- rings pressed into one another


@witness(
    rings.contact_pressure,
    rings.parent_hoop_factor,
    rings.liner_hoop_factor,
    rings.parent_hoop_stress,
    rings.liner_hoop_stress,
    rings.liner_shrinkage,
    rings.parent_growth,
    rings.bore_closing,
    by="solver",
)
def test_a_liner_pressed_into_a_block_by_the_equilibrium_of_both_rings() -> None:
    inside, joint, outside, pull = 80.0, 86.0, 104.0, 0.075
    liner, parent = (120e3, 0.26), (75e3, 0.33)  # modulus (MPa), Poisson's ratio
    found = pressed(inside, joint, outside, pull, liner, parent)
    factors = rings.parent_hoop_factor(outside, joint), rings.liner_hoop_factor(joint, inside)
    assert factors[0] == near(found.parent_hoop / found.pressure, 1e-6)
    assert factors[1] == near(-found.liner_hoop_outside / found.pressure, 1e-6)
    pressure = rings.contact_pressure(pull, joint, *factors, *parent, *liner)
    assert pressure == near(found.pressure, 1e-6)
    assert rings.parent_hoop_stress(pressure, factors[0]) == near(found.parent_hoop, 1e-5)
    assert rings.liner_hoop_stress(pressure, factors[1]) == near(found.liner_hoop, 1e-5)
    assert rings.bore_closing(pressure, factors[1], inside, liner[0]) == near(found.closing, 1e-7)
    shrinkage = rings.liner_shrinkage(pressure, joint, factors[1], *liner)
    assert shrinkage == near(found.shrinkage, 1e-7)
    assert rings.parent_growth(pressure, joint, factors[0], *parent) == near(found.growth, 1e-7)


# --- the drive of the cam


@witness(drives.chain_sag, by="integration")
def test_a_chain_hangs_as_deep_as_a_curve_of_its_own_length() -> None:
    for span, excess in ((133.0, 1e-4), (200.0, 3e-4)):
        sag = root(
            lambda deep: (
                quad(lambda x: math.hypot(1, 8 * deep * x / span**2), -span / 2, span / 2)[0]  # noqa: B023
                - span  # noqa: B023
                - excess  # noqa: B023
            ),
            0.0,
            5.0,
        )
        assert drives.chain_sag(span, excess) == near(sag, 2e-5)
    assert drives.chain_sag(133.0, -0.1) == 0, "a chain too short hangs straight"


@witness(drives.backlash_change, by="coordinates")
def test_two_gears_drawn_apart_by_their_involutes() -> None:
    """What the teeth leave of the pitch where two gears without backlash come to roll."""
    teeth, others, module = 30, 45, 2.0
    for pressure in (math.radians(14.5), math.radians(20)):
        for apart in (-1e-4, 1e-4):
            radii = [teeth * module / 2, others * module / 2]
            rolled = math.acos(sum(radii) * math.cos(pressure) / (sum(radii) + apart))
            grown = [one * math.cos(pressure) / math.cos(rolled) for one in radii]
            curl = (math.tan(pressure) - pressure) - (math.tan(rolled) - rolled)
            thick = [
                new * (math.pi * module / 2 / old + 2 * curl)
                for old, new in zip(radii, grown, strict=True)
            ]
            left = 2 * math.pi * grown[0] / teeth - sum(thick)
            assert drives.backlash_change(apart, pressure) == near(left, 1e-8)


# --- volumes


@witness(volumes.gasket_volume, volumes.deck_volume, volumes.clearance_volume, by="integration")
def test_the_room_over_a_crown_added_up_in_thin_rings() -> None:
    bore, hole, thick = 82.0, 84.0, 1.2

    def turned(height: Callable[[float], float], radius: float) -> float:
        return float(quad(lambda r: 2 * math.pi * r * height(r), 0, radius, epsabs=1e-10)[0])

    for down in (0.25, -0.15):
        deck, gasket = turned(lambda _: down, bore / 2), turned(lambda _: thick, hole / 2)  # noqa: B023
        assert volumes.deck_volume(bore, down) == near(deck, 1e-6)
        assert volumes.gasket_volume(hole, thick) == near(gasket, 1e-6)
        # a chamber like a dome over the bore, a dish in the crown
        chamber = turned(lambda r: 12 * (1 - (r / 41) ** 2), 41.0)
        dish = turned(lambda r: 3 * math.cos(math.pi * r / 60), 30.0)

        def high(r: float, down: float = down) -> float:
            """From the crown to the head at so much from the axis."""
            over = 12 * (1 - (r / 41) ** 2) + down if r < 41 else 0
            return over + thick + (3 * math.cos(math.pi * r / 60) if r < 30 else 0)

        whole = sum(
            float(quad(lambda r: 2 * math.pi * r * high(r), *ring, epsabs=1e-10)[0])
            for ring in pairwise((0.0, 30.0, 41.0, hole / 2))
        )
        assert volumes.clearance_volume(chamber, dish, gasket, deck) == near(whole, 1e-5)


@witness(clearances.ring_gap_closure, by="coordinates")
def test_a_ring_laid_round_a_bore_at_both_ends() -> None:
    turns = np.linspace(0, 2 * np.pi, 200_001)

    def girth(size: float) -> float:
        return float(np.abs(np.diff(size / 2 * np.exp(1j * turns))).sum())

    ring = girth(82.0) - 0.35
    for top, bottom in ((82.10, 82.02), (82.03, 82.05)):
        gaps = [girth(size) - ring for size in (top, bottom)]
        assert clearances.ring_gap_closure(*gaps, top, bottom) == near(0, 1e-7)
        assert clearances.ring_gap_closure(gaps[0] + 0.02, gaps[1], top, bottom) == near(0.02, 1e-7)


# --- at the machine


@dataclass
class Quill:
    """A quill with a scale beside it, which counts downwards or upwards."""

    grows: str
    zero: float
    down: float = 0.0

    def read(self) -> float:
        return self.zero + (self.down if self.grows == "down" else -self.down)

    def goes_to(self, depth: float) -> float:
        while abs(depth - self.down) > 1e-12:
            self.down += math.copysign(min(abs(depth - self.down), 0.5), depth - self.down)
        return self.read()


@witness(cutting.least_full_depth, by="simulation")
def test_a_tap_turned_to_its_full_thread_goes_on_by_its_lead() -> None:
    pitch, thread, lead = 1.25, 16.0, 1.5
    point = cut = 0.0  # of the tap, and of the full thread, which its lead follows
    while cut < thread - 1e-9:
        point += pitch / 100
        cut = max(0.0, point - lead * pitch)
    assert cutting.least_full_depth(thread, lead, pitch) == near(point)


@witness(
    cutting.stop_reading,
    cutting.stop_unless_forbidden,
    cutting.depth_on_scale,
    cutting.full_depth_reached,
    by="counting",
)
def test_a_stop_is_moved_down_line_by_line_while_the_tool_is_not_too_deep() -> None:
    for on_face, deepest, line in ((7.0, 12.47, 0.5), (7.13, 12.47, 0.1), (-3.4, 20.0, 0.25)):
        depths, lines = [0.0], [line * at for at in range(-400, 400)]
        while depths[-1] + line <= deepest:
            depths.append(depths[-1] + line)
        assert cutting.depth_on_scale(deepest, line) == near(depths[-1])
        down = [at for at in lines if at - on_face <= depths[-1] + 1e-9]
        up = [at for at in lines if on_face - at <= depths[-1] + 1e-9]
        assert cutting.stop_reading(on_face, depths[-1], line, "down") == near(down[-1])
        assert cutting.stop_reading(on_face, depths[-1], line, "up") == near(up[0])
        stop = cutting.stop_unless_forbidden
        assert stop("", on_face, depths[-1], line, "down") == near(down[-1])
        assert stop("DO NOT DRILL YET: floor in doubt", on_face, depths[-1], line, "down") is None
        assert stop("", on_face, float("nan"), line, "down") is None
        assert cutting.full_depth_reached(depths[-1], line, 0.3) == near(depths[-2] - 0.3)


@witness(cutting.relief_on_scale, by="counting")
def test_a_relief_goes_down_line_by_line_until_no_face_leaves_it_short() -> None:
    for depth, least, most, line in (
        (1.6, 1.4, 2.0, 0.127),  # 12 lines may end at 1.397: 13
        (1.6, 1.4, 2.0, 0.1),  # a line at its depth
        (1.6, 1.45, 1.62, 0.127),  # the thirteenth is too deep
        (1.6, 1.5, 1.7, 0.25),  # two lines apart, no line serves
        (2.0, 1.0, 2.5, 1.0),
    ):
        lines = [line * at for at in range(200)]
        usual = max(one for one in lines if one <= depth + 1e-9)
        serve = [one for one in lines if usual <= one <= most and one - line >= least - 1e-9]
        expected = serve[0] if serve else usual
        assert cutting.relief_on_scale(depth, least, most, line) == near(expected)


@witness(cutting.reading_on_safe_side, by="counting")
def test_a_reading_is_printed_in_the_digit_at_which_the_tool_stands_no_deeper() -> None:
    for exact, digit in ((3.4952, 0.001), (-3.4952, 0.001), (61.7, 0.01), (2.42913, 0.0001)):
        digits = [digit * at for at in range(math.floor(exact / digit) - 3, 10**6)][:8]
        above = [at for at in digits if at >= exact - 1e-9]
        below = [at for at in digits if at <= exact + 1e-9]
        assert cutting.reading_on_safe_side(exact, digit, "down") == near(below[-1])
        assert cutting.reading_on_safe_side(exact, digit, "up") == near(above[0])


@witness(spindle_speeds.speed_cut_off, spindle_speeds.speed_of_machine, by="counting")
def test_a_spindle_is_set_to_the_fastest_step_that_is_not_too_fast() -> None:
    for turns in (3.2, 47.0, 99.9, 100.0, 101.0, 763.9, 760.0, 769.999, 2546.5):
        step = 10 if turns >= 100 else 1
        told = max(one for one in range(0, 3000, step) if one <= turns)
        assert spindle_speeds.speed_cut_off(turns / 60) * 60 == near(told, 1e-6)
        ladder = [75.0, 110.0, 170.0, 260.0, 400.0, 600.0]
        slow = [one for one in ladder if one <= turns]
        found = spindle_speeds.speed_of_machine(turns / 60, *(one / 60 for one in reversed(ladder)))
        assert found is None if not slow else found * 60 == near(slow[-1], 1e-6)


@witness(hole_safety.quarter_turns, by="simulation")
def test_a_tap_is_turned_by_quarters_while_its_thread_is_not_too_deep() -> None:
    for depth, begins, pitch in (
        (16.0, 0.0, 1.25),
        (16.0, 2.0, 1.25),
        (0.625, 0.0, 1 / 18),
        (0.75, 3 / 32, 1 / 16),
        (9.99, 0.01, 1.0),
        (1.0, 1.5, 1.0),  # no thread is left under the relief
    ):
        quarters, at = 0, begins
        while at + pitch / 4 <= depth + 1e-9:  # a quarter more, and its thread is no deeper
            quarters, at = quarters + 1, at + pitch / 4
        assert hole_safety.quarter_turns(depth, begins, pitch) == quarters / 4


@witness(
    cutting.face_reading, cutting.table_face_reading, cutting.face_disagreement, by="simulation"
)
def test_a_quill_goes_down_on_feeler_face_and_table() -> None:
    face, feeler, height = 31.7, 0.1, 58.0  # below the quill's own stop
    for grows in ("down", "up"):
        quill = Quill(grows, zero=7.0)
        touch = quill.goes_to(face - feeler)
        table, on_face = quill.goes_to(face + height), quill.goes_to(face)
        assert cutting.face_reading(touch, feeler, grows) == near(on_face)
        assert cutting.table_face_reading(table, height, grows) == near(on_face)
        bare = cutting.face_reading(on_face, feeler, grows)  # no feeler was there
        other = cutting.table_face_reading(table, height, grows)
        farther = quill.goes_to(face + feeler) - quill.goes_to(face)
        assert cutting.face_disagreement(bare, other) == near(farther)


def steps(size: float, step: float) -> float:
    """How many steps a size takes, counted in hundredths of a step."""
    return next(n for n in count() if n * step / 100 >= size - 1e-9) / 100


@witness(
    hole_safety.depth_in_pitches,
    hole_safety.edge_in_diameters,
    hole_safety.lead_room,
    openings.relief_deepened,
    by="counting",
)
def test_how_often_a_pitch_or_a_diameter_goes_into_a_length() -> None:
    assert hole_safety.depth_in_pitches(1.6, 1.25) == near(steps(1.6, 1.25))
    assert hole_safety.edge_in_diameters(11.0, 8.0) == near(steps(11.0, 8.0), 0.0051)
    assert hole_safety.edge_in_diameters(12.0, 8.0) == near(steps(12.0, 8.0))
    assert hole_safety.lead_room(26.0, 20.0, 1.5, 1.25) == near(steps(26.0 - 20.0 - 1.5, 1.25))
    deep = openings.relief_deepened(1.6, 1.25, 1.5)
    assert steps(deep, 1.5) == near(steps(1.6, 1.25))
    assert root(lambda d: d / steps(1.6, 1.25) - 1.5, 0.1, 9.0) == near(deep)


@witness(
    hole_safety.groove_left, openings.relief_opened, single_holes.relief_alike, by="coordinates"
)
def test_rims_of_old_and_new_threads_about_one_axis() -> None:
    rim = np.exp(1j * np.linspace(0, 2 * np.pi, 361))
    for old, new in ((11.1, 10.7), (9.5, 10.7)):
        left = np.abs(old / 2 * rim) - np.abs(new / 2 * rim)
        assert hole_safety.groove_left(old, new) == near(max(float(left.mean()), 0))
    ring = float((np.abs(8.5 / 2 * rim) - np.abs(8.0 / 2 * rim)).mean())
    wide = 2 * float(np.abs((10.0 / 2 + ring) * rim).mean())
    assert openings.relief_opened(8.5, 8.0, 10.0) == near(wide)
    assert single_holes.relief_alike(8.5, 8.0, 10.0) == near(wide)
    assert single_holes.relief_alike(0.0, 8.0, 10.0) == 0, "a group without a relief"
    assert single_holes.relief_alike(0.5, 0.25, 0.375) == 0.625


@witness(pistons.ring_gap_by_rule, pistons.piston_clearance_by_rule, by="counting")
def test_so_much_to_each_inch_of_bore() -> None:
    for rule in (pistons.ring_gap_by_rule, pistons.piston_clearance_by_rule):
        laid = sum(0.004 for _ in np.arange(0, 3.25, 0.25)) / 4
        assert rule(3.25, 0.004) == near(laid)


# --- fasteners


@witness(
    fasteners.proof_load,
    fasteners.stress_area_ratio,
    fasteners.clamp_gain,
    fasteners.stripping_load,
    by="integration",
)
def test_a_bolt_and_a_thread_as_so_many_fibres() -> None:
    def carried(area: float, stress: float) -> float:
        radius = math.sqrt(area / math.pi)
        return float(quad(lambda r: 2 * math.pi * r * stress, 0, radius)[0])

    assert fasteners.proof_load(580.0, 36.61) == near(carried(36.61, 580.0), 1e-6)
    larger, smaller = carried(57.99, 580.0), carried(36.61, 580.0)
    assert fasteners.stress_area_ratio(57.99, 36.61) == near(larger / smaller)
    assert fasteners.clamp_gain(57.99, 36.61) == near((larger - smaller) / smaller)
    # turn by turn down the hole, each so much area to the millimetre
    turns = np.full(800, 12.0 / 800)
    assert fasteners.stripping_load(16.8, 12.0, 220.0) == near((turns * 16.8 * 220.0).sum(), 1e-6)


@witness(
    fasteners.preload,
    fasteners.share_of_proof,
    fasteners.clamp_at_same_torque,
    fasteners.torque_at_same_stress,
    fasteners.engagement_by_strength,
    fasteners.stripping_margin,
    fasteners.greatest_clamp,
    fasteners.least_clamp,
    fasteners.torque_of_step,
    by="solver",
)
def test_what_is_sought_of_a_fastener_by_trying() -> None:
    proof = 21_233.8
    aimed = np.linspace(0, proof, 101)[75]
    assert fasteners.preload(proof, 0.75) == near(aimed, 1e-6)
    assert fasteners.share_of_proof(aimed, proof) == near(0.75)
    # the old torque on a larger thread, and the torque with the old stress in it
    old, new, torque = (36.61, 8.0), (57.99, 10.0), 25_000.0
    clamp = fasteners.clamp_load(torque, 0.2, old[1])
    at_torque = root(lambda f: fasteners.torque_for_clamp(f, 0.2, new[1]) - torque, 1.0, 1e6)
    assert fasteners.clamp_at_same_torque(clamp, old[1], new[1]) == near(at_torque, 1e-6)
    stress = clamp / old[0]
    at_stress = root(lambda t: fasteners.clamp_load(t, 0.2, new[1]) / new[0] - stress, 1.0, 1e6)
    found = fasteners.torque_at_same_stress(torque, old[0], new[0], old[1], new[1])
    assert found == near(at_stress, 1e-6)
    # the engagement at which thread and bolt give way together, and the clamp that strips it
    breaks = 830.0 * 36.61
    length = root(lambda le: fasteners.stripping_load(16.8, le, 220.0) - breaks, 0.1, 100.0)
    assert fasteners.engagement_by_strength(36.61, 16.8, 830.0, 220.0) == near(length)
    strips = fasteners.stripping_load(16.8, length, 220.0)
    margin = root(lambda times: times * clamp - strips, 0.01, 100.0)
    assert fasteners.stripping_margin(strips, clamp) == near(margin)
    # bolts whose clamp strays evenly by a third either way
    bolts = 1000.0 * np.linspace(1 - 0.33, 1 + 0.33, 67)
    assert fasteners.least_clamp(1000.0, 0.33) == near(bolts.min())
    assert fasteners.greatest_clamp(1000.0, 0.33) == near(bolts.max())
    rounds = [fasteners.torque_of_step(90.0, step, 3) for step in (1, 2, 3)]
    assert rounds == near(np.linspace(0, 90.0, 4)[1:])


@witness(thread_forms.thread_share, threads.basic_profile_thread, by="coordinates")
def test_the_flank_that_a_hole_leaves_of_a_profile() -> None:
    """The flank of sixty degrees from root to crest, cut off at the hole: its height that stays."""
    major, pitch = 8.0, 1.25
    minor = major - 2 * 5 / 8 * pitch * math.cos(math.radians(30))
    up = np.linspace(minor / 2, major / 2, 100_001)
    flank = np.exp(-1j * np.radians(30)) * (up - minor / 2) / math.cos(math.radians(30))
    for hole in (6.8, 7.0, minor):
        stays = flank[up >= hole / 2 - 1e-12]
        share = float(np.ptp(stays.real) / np.ptp(flank.real))
        assert thread_forms.thread_share(major, hole, minor) == near(share, 2e-5)
        assert threads.basic_profile_thread(major, hole, pitch) == near(share, 2e-5)


@witness(
    thread_forms.recommended_share,
    thread_forms.recommended_smallest_hole,
    thread_forms.recommended_largest_hole,
    thread_forms.largest_association_minor,
    by="library",
)
def test_recommended_holes_are_read_off_a_scale_of_the_tolerance() -> None:
    low, high = 5.0, 5.4
    ends = [1 / 3, 2 / 3, 3 / 2]
    for diameters in (0.2, 1 / 3, 0.5, 2 / 3, 1.0, 3 / 2, 2.0):
        step = int(np.searchsorted(ends, diameters))
        share = thread_forms.recommended_share(10.0, 10.0 * diameters)
        assert share == np.linspace(0, 0.75, 4)[step]
        scale = np.interp(np.linspace(0, 1, 5), [0, 1], [low, high])  # quarters of the tolerance
        quarters = [*scale, high + scale[1] - low]
        found = thread_forms.recommended_smallest_hole(low, high - low, share)
        assert found == near(quarters[step])
        most = thread_forms.recommended_largest_hole(low, high, high - low, share)
        assert most == near(quarters[step + 2])
        # printed to fewer digits, the end of the class stands as it is printed
        coarse = thread_forms.recommended_largest_hole(low, 5.39, high - low, share)
        assert coarse == near(5.39 if step == 2 else quarters[step + 2])
    # BS 93: three eighths of a pitch over the basic minor diameter
    eighths = np.linspace(3.728, 3.728 + 0.81, 9)
    assert thread_forms.largest_association_minor(3.728, 0.81) == near(eighths[3])


# --- warmth


@witness(
    temperature.misread_share, temperature.misread_by, temperature.at_reference, by="simulation"
)
def test_a_part_and_a_scale_grow_degree_by_degree() -> None:
    iron, steel = 10.8e-6, 11.5e-6

    def grown(length: float, expansion: float, warm: float) -> float:
        """From 20 degrees in steps of a hundredth."""
        each = math.copysign(0.01, warm - 20)
        for _ in range(round(abs(warm - 20) / 0.01)):
            length += length * expansion * each
        return length

    for part, gauge in ((25.0, 25.0), (28.0, 21.0), (14.0, 23.0), (20.0, 26.5)):
        step = grown(0.001, steel, gauge)  # a step of the gauge's scale
        read = grown(80.0, iron, part) / step * 0.001
        share = temperature.misread_share(iron, part, steel, gauge, 20.0)
        assert share * 80.0 == near(read - 80.0, 2e-6)
        assert temperature.misread_by(80.0, share) == near(abs(read - 80.0), 2e-6)
        back = temperature.at_reference(grown(80.0, iron, part), iron, part, 20.0)
        assert back == near(80.0, 2e-6)


# --- readings and the job


@witness(
    uncertainties.widest_pair, uncertainties.finest_share, uncertainties.drift, by="simulation"
)
def test_two_readings_of_one_place_each_a_step_off() -> None:
    step, true = 0.002, 82.0137
    read = [round(true / step) * step + off * step for off in (-1, 0, 1)]
    assert uncertainties.widest_pair(step) == near(max(read) - min(read))
    assert uncertainties.drift(read[0], read[2]) == near(np.ptp(read))
    assert uncertainties.drift(read[2], read[0]) == near(np.ptp(read))
    assert sum(uncertainties.finest_share(0.02) for _ in range(10)) == near(0.02)


def told_off(standing: list[str]) -> Iterator[int]:
    """The checks that hold the job up, one by one."""
    yield from (1 for one in standing if one not in ("passes", "conceded", "left"))


@witness(standings.holding, station_lines.still_to_read, station_lines.comes_next, by="counting")
def test_what_holds_a_job_up_and_what_comes_next_is_told_off() -> None:
    said = ["passes", "holds", "conceded", "", "passes", "left", "holds", "left"]
    said += ["passes"] * 3
    counts = [said.count(one) for one in ("passes", "conceded", "left")]
    assert standings.holding(len(said), *counts) == len(list(told_off(said)))
    wanted, taken = set(range(24)), set(range(0, 24, 3))
    assert station_lines.still_to_read(24, len(taken), "") == len(wanted - taken)
    assert station_lines.still_to_read(24, len(taken), station_lines.AS_IT_IS) == 0
    # the first station of the walk with cells to fill comes before all that have some
    to_read = [0, 3, 0, 5, 1]
    ranks = [station_lines.comes_next(left, line) for line, left in enumerate(to_read, 1)]
    assert ranks.index(max(ranks)) == next(at for at, left in enumerate(to_read) if left)
    assert sorted(ranks, reverse=True) == [998, 996, 995, 0, 0]


@witness(spindle_speeds.feed_speed, by="simulation")
def test_a_drill_goes_down_turn_by_turn() -> None:
    depth = sum(0.1 for _ in range(700))  # of a minute
    assert spindle_speeds.feed_speed(0.1, 700 / 60) == near(depth / 60)


@witness(flatness.flatness_uncertainty, by="solver")
def test_two_points_about_the_plane_of_very_many() -> None:
    side = np.arange(1000.0) - 499.5
    sums = np.diag([1e6, *[1e3 * (side**2).sum()] * 2])  # of a square of a million points
    apart = np.array([0.0, 1.0, 0.0])
    furthest = math.sqrt(2 - apart @ np.linalg.solve(sums, apart))
    assert flatness.flatness_uncertainty(2.0) == near(2 * furthest, 1e-9)


@witness(thread_forms.mean_stress_area, by="integration")
def test_the_circle_midway_between_two_diameters() -> None:
    radius = float(np.mean([0.2180, 0.1860])) / 2
    area = quad(lambda x: 2 * math.sqrt(radius**2 - x**2), -radius, radius)[0]
    assert thread_forms.mean_stress_area(0.2180, 0.1860) == near(area)


@witness(thread_forms.turns_to_bind, by="counting")
def test_two_unlike_threads_turn_by_turn() -> None:
    for one, other in ((1.0, 25.4 / 24), (1.27, 1.25)):
        turns = np.arange(0, 100, 0.001)
        behind = np.abs(turns * one - turns * other)
        found = float(turns[behind < min(one, other) / 2][-1])
        assert thread_forms.turns_to_bind(one, other) == near(found, 0.0011)
    assert thread_forms.turns_to_bind(1.0, 1.5) == 1, "one turn, and they are half a thread apart"


@witness(thread_forms.largest_pipe_minor, by="printed")
def test_the_largest_minor_diameter_of_a_pipe_thread() -> None:
    # ISO 228-1 as thread tables print it: G1/8, minor diameter 8.566 to 8.848, tolerance 0.282
    assert thread_forms.largest_pipe_minor(8.566, 0.282) == near(8.848)


@witness(volumes.capacity, by="integration")
def test_four_pistons_swept_one_after_the_other() -> None:
    across = quad(lambda x: 2 * math.sqrt(35.0**2 - x**2), -35.0, 35.0)[0]
    swept = [quad(lambda _: across, 0, 75.0)[0] for _ in range(4)]
    assert volumes.capacity(70.0, 75.0, 4) == near(sum(swept), 1e-3)
