"""Tightening: friction of thread and head apart, turn and stretch, studs with unlike ends, full
thread; the single published cases stand in tests/support/published/tightening.toml.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import fasteners, threads, tightening

POUND, POUND_INCH = 4.4482216152605, 112.9848290276167

# d, pitch, yield (MPa), friction, face, hole: kN, N m. VDI 2230 (2001), tables A1 and A2, as
# reproduced; faces of ISO 4014 (from memory), medium holes of ISO 273
VDI_2230 = [
    (16.0, 1.5, 940, 0.12, 22.5, 17.5, 128.7, 320),
    (10.0, 1.25, 640, 0.14, 14.6, 11.0, 30.8, 57),
    (24.0, 2.0, 1100, 0.10, 33.6, 26.0, 355, 1110),
]


@pytest.mark.parametrize(
    ("major", "pitch", "yielding", "friction", "face", "hole", "clamp", "torque"), VDI_2230
)
def test_clamp_at_yield_share_and_nut_factor_by_friction_are_those_of_vdi_2230(
    major: float,
    pitch: float,
    yielding: float,
    friction: float,
    face: float,
    hole: float,
    clamp: float,
    torque: float,
) -> None:
    area, effective = (
        threads.metric_stress_area(major, pitch),
        threads.basic_pitch_diameter(major, pitch),
    )
    found = tightening.clamp_at_yield_share(0.9, yielding, area, pitch, effective, friction)
    assert found / 1000 == pytest.approx(clamp, rel=0.0034)
    rubs = tightening.friction_diameter(face, hole)
    factor = tightening.nut_factor_by_friction(pitch, effective, rubs, friction, friction, major)
    needed = fasteners.torque_for_clamp(found, factor, major)
    assert needed / 1000 == pytest.approx(torque, rel=0.009)
    assert needed == pytest.approx(
        tightening.torque_by_friction(found, pitch, effective, rubs, friction, friction)
    )
    assert fasteners.clamp_load(needed, factor, major) == pytest.approx(found)


def test_the_clamp_left_after_a_tightening_factor_of_1_8_is_that_printed() -> None:
    # VDI 2230: M12 of class 8.8 at friction 0.14 clamps 41.9 kN at most, 41.9 / 1.8 = 23.3 kN at
    # least; a factor is greatest over least, (1 + s) / (1 - s)
    scatter = (1.8 - 1) / (1.8 + 1)
    mean = 41.9 / (1 + scatter)
    assert fasteners.greatest_clamp(mean, scatter) == pytest.approx(41.9)
    assert fasteners.least_clamp(mean, scatter) == pytest.approx(23.3, abs=0.05)


@pytest.mark.parametrize(
    ("scatter", "factor"),
    [(0.12, 1.27), (0.17, 1.41), (0.23, 1.60), (0.28, 1.78), (0.43, 2.51), (0.60, 4.0)],
)
def test_scatter_is_a_tightening_factor_otherwise_said(scatter: float, factor: float) -> None:
    # worked by hand
    ratio = fasteners.greatest_clamp(1.0, scatter) / fasteners.least_clamp(1.0, scatter)
    assert ratio == pytest.approx(factor, abs=0.005)


def lever(major: float, per_inch: int, face: float, hole: float) -> tuple[float, float]:
    """The lever in inches at a friction of 0.15, and what of it the pitch takes."""
    pitch = 1 / per_inch
    effective = threads.basic_pitch_diameter(major, pitch)
    whole = tightening.friction_lever(pitch, effective, (face + hole) / 2, 0.15, 0.15)
    return whole, pitch / (2 * math.pi)


@pytest.mark.parametrize(
    ("major", "per_inch", "face", "hole", "clamp"),
    # worked by hand: 600 lbf in at a friction of 0.15, lbf
    [
        (7 / 16, 20, 5 / 8, 15 / 32, 7139),
        (7 / 16, 14, 5 / 8, 15 / 32, 6956),
        (1 / 2, 13, 3 / 4, 1 / 2, 6117),
    ],
)
def test_friction_lever_makes_the_nut_end_of_a_stud_set_its_clamp(
    major: float, per_inch: int, face: float, hole: float, clamp: float
) -> None:
    assert 600 / lever(major, per_inch, face, hole)[0] == pytest.approx(clamp, abs=0.6)


def test_most_of_a_torque_goes_into_friction() -> None:
    # worked by hand for 7/16-20 at 0.15: pitch 9.5 %, thread 41.7 %, head 48.8 %
    whole, pitch = lever(7 / 16, 20, 5 / 8, 15 / 32)
    head = 0.15 * (5 / 8 + 15 / 32) / 4
    shares = [100 * one / whole for one in (pitch, whole - pitch - head, head)]
    assert shares == pytest.approx([9.5, 41.7, 48.8], abs=0.05)


def test_a_turn_past_proof_is_seen() -> None:
    # worked by hand: 1/2-13, 5 in long, 30 000 psi and 60 degrees more, joint four times as stiff
    area = 0.1419 * 25.4**2
    bolt = tightening.bolt_stiffness(0.0, 1.0, 5 * 25.4, area, 30e6 * POUND / 25.4**2)
    joint = tightening.joint_stiffness(bolt, 4)
    snug = 30_000 * 0.1419 * POUND
    assert tightening.bolt_stretch(snug, bolt) / 25.4 == pytest.approx(0.0050, abs=5e-5)
    clamp = tightening.clamp_after_turn(snug, math.radians(60), 25.4 / 13, bolt, joint)
    assert clamp / POUND == pytest.approx(12_989, abs=1)
    assert (clamp - snug) / POUND == pytest.approx(8732, abs=1)
    stress = fasteners.tightened_stress(clamp, area)
    assert stress * 25.4**2 / POUND / 1000 == pytest.approx(91.5, abs=0.05)
    proof = fasteners.proof_load(85_000 * POUND / 25.4**2, area)
    assert fasteners.share_of_proof(clamp, proof) > 1


def test_bolt_stiffness_gives_the_stretch_that_others_printed() -> None:
    # a published worked example: 7/8-9, 10 000 lbf over 5 in on 0.46 in², 30e6 psi: 0.0036 in
    bolt = tightening.bolt_stiffness(0.0, 1.0, 5.0, 0.46, 30e6)
    assert tightening.bolt_stretch(10_000.0, bolt) == pytest.approx(0.0036, abs=5e-5)
    # another: M10, 25 kN over 50 mm on 58.0 mm², 200 GPa: 0.108 mm
    metric = tightening.bolt_stiffness(0.0, 1.0, 50.0, 58.0, 200e3)
    assert tightening.bolt_stretch(25e3, metric) == pytest.approx(0.108, abs=5e-4)


@given(
    shank=st.floats(0, 200),
    thread=st.floats(5, 50),
    diameter=st.floats(6, 20),
    stiffer=st.floats(1, 10),
    clamp=st.floats(1e3, 1e5),
    gained=st.floats(1e3, 1e5),
)
def test_clamp_at_stretch_and_angle_of_turn_lead_back_to_the_clamp(
    shank: float, thread: float, diameter: float, stiffer: float, clamp: float, gained: float
) -> None:
    area = tightening.round_area(diameter)
    bolt = tightening.bolt_stiffness(shank, area, thread, 0.8 * area, 207e3)
    joint = tightening.joint_stiffness(bolt, stiffer)
    # shank and thread one after the other, each by F L / (A E)
    apart = clamp * shank / (area * 207e3) + clamp * thread / (0.8 * area * 207e3)
    stretch = tightening.bolt_stretch(clamp, bolt)
    assert stretch == pytest.approx(apart)
    assert tightening.clamp_at_stretch(stretch, bolt) == pytest.approx(clamp)
    gain = tightening.clamp_to_gain(clamp + gained, clamp)
    turn = tightening.angle_of_turn(
        tightening.bolt_stretch(gain, bolt), tightening.joint_squeeze(gain, joint), 1.5
    )
    after = tightening.clamp_after_turn(clamp, turn, 1.5, bolt, joint)
    assert after == pytest.approx(clamp + gained)


def test_joint_squeeze_is_a_quarter_of_the_stretch_of_a_joint_four_times_as_stiff() -> None:
    joint = tightening.joint_stiffness(200e3, 4)
    assert tightening.joint_squeeze(1000.0, joint) == pytest.approx(
        tightening.bolt_stretch(1000.0, 200e3) / 4
    )


def test_round_area_is_that_of_a_polygon_of_many_corners() -> None:
    corners = [
        (6 * math.cos(at), 6 * math.sin(at)) for at in (math.tau * i / 3600 for i in range(3600))
    ]
    shoelace = sum(
        x * next_y - next_x * y
        for (x, y), (next_x, next_y) in zip(corners, corners[1:] + corners[:1], strict=True)
    )
    assert tightening.round_area(12.0) == pytest.approx(shoelace / 2, rel=1e-5)


def test_weaker_area_is_the_block_end_where_the_nut_end_is_fine() -> None:
    # Shigley, 9th ed., table 8-2: 7/16-14 0.1063, 7/16-20 0.1187, 1/2-13 0.1419 in²
    assert tightening.weaker_area(0.1063, 0.1187) == 0.1063
    assert tightening.weaker_area(0.1419, 0.1187) == 0.1187, "a stepped stud breaks at its nut end"


def test_thread_on_fastener_and_incomplete_mouth_take_what_is_no_full_thread() -> None:
    # by hand: M10 stud 25 mm in the hole, 2 x 1.5 at its end, run-out 3.8 mm (DIN 939), relief 1.9
    to = tightening.thread_on_fastener(25.0, 2.0, 1.5)
    mouth = tightening.incomplete_mouth(1.9, 3.8)
    assert (to, mouth, to - mouth) == pytest.approx((22.0, 3.8, 18.2))


@pytest.mark.parametrize(
    ("major", "included", "pitches"),
    [(8, 120, 0.4), (10, 120, 0.4), (16, 120, 0.4), (8, 90, 0.7), (10, 90, 0.7), (16, 90, 0.7)],
)
def test_a_countersunk_mouth_is_no_full_thread_down_to_the_minor_diameter(
    major: int, included: int, pitches: float
) -> None:
    # worked by hand for a mouth of 1.05 d on M8 to M16: 0.4 pitch at 120 degrees, 0.7 at 90
    pitch = {8: 1.25, 10: 1.5, 16: 2.0}[major]
    minor = threads.basic_minor_diameter(float(major), pitch)
    deep = (1.05 * major - minor) / 2 / math.tan(math.radians(included / 2))
    assert tightening.incomplete_mouth(deep, 0.0) / pitch == pytest.approx(pitches, abs=0.06)


def test_shear_of_iron_makes_m12_strip_where_others_say() -> None:
    # worked by hand: M12 of class 10.9 (87.7 kN) in iron of 250 MPa, 26.117 mm²/mm: 12.2 mm at 1.1,
    # 13.4 mm at the tensile strength itself
    shear = tightening.shear_of_iron(250.0, 1.1)
    assert shear == pytest.approx(275.0)
    lengths = [
        fasteners.engagement_by_strength(87.7e3 / 1040, 26.117, 1040, one) for one in (shear, 250)
    ]
    assert lengths == pytest.approx([12.2, 13.4], abs=0.05)


def test_the_least_bolt_strips_later_than_the_one_a_handbook_reckons_with() -> None:
    # CRC handbook chapter: M10x1.5 in aluminium of 130 MPa, 69 600 N; its 9.968 mm is the largest
    # major of 6g, with the smallest, 9.732, it is 24.9 mm (by hand)
    lengths = [
        69_600 / (fasteners.hole_shear_area_per_length(major, 9.206, 1.5) * 130)
        for major in (9.968, 9.732)
    ]
    assert lengths == pytest.approx([21.6, 24.9], abs=0.05)
