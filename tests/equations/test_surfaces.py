"""The finish of faces and bores: figures printed by others stand in
tests/support/published/surfaces.toml; here what is reached by another road, and what is misprinted.
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import surfaces
from datumbook.equations.verdicts import OK, OPEN, OUT, STALE, UNSURE
from datumbook.numbers.units import convert

NAN = float("nan")


def hatch(bore: float, turns: float, travel: float, strokes: float, counted_as: str) -> float:
    """The angle between crossing marks in degrees, from how the hone is set; mm and minutes."""
    along = surfaces.stroking_speed(travel, strokes, counted_as)
    beta = surfaces.angle_to_horizontal(along, surfaces.hone_speed(bore, turns / 60))
    return math.degrees(surfaces.included_angle(beta))


def test_included_angle_from_speed_strokes_and_travel_is_the_one_a_trade_article_prints() -> None:
    set_so = {"bore": 101.6, "turns": 200, "travel": 152.4, "strokes": 60}
    assert hatch(**set_so, counted_as="full cycles") == pytest.approx(32, abs=0.5)
    assert hatch(**set_so, counted_as="full cycles") == pytest.approx(31.97, abs=0.01)
    assert hatch(**set_so, counted_as="single strokes") == pytest.approx(16.3, abs=0.05)


def test_strokes_for_hatch_are_those_of_a_printed_work_requirement() -> None:
    # NMWR 9-2815-220: 35 degrees to the horizontal, 77 turns, 43 strokes; the bore from memory
    speed = surfaces.hone_speed(convert(5.750, "in", "mm"), 77 / 60)
    travel = convert(11.32, "in", "mm")
    assert surfaces.strokes_for_hatch(math.radians(70), speed, travel) == pytest.approx(
        43, abs=0.02
    )  # the travel is printed to a hundredth of an inch


@given(st.floats(40, 200), st.floats(20, 600), st.floats(30, 400), st.floats(5, 300))
def test_angle_to_horizontal_is_the_slope_of_the_path_drawn_on_the_unrolled_bore(
    bore: float, turns: float, travel: float, strokes: float
) -> None:
    """A stone walked along the wall in small steps; the marks down and up cross at twice it."""
    seconds = 60 / strokes / 2  # one stroke down
    steps = np.linspace(0.0, seconds, 50)
    angle = 2 * np.pi * turns / 60 * steps
    path = np.stack([bore / 2 * angle, travel * steps / seconds])
    down = np.diff(path, axis=1)[:, 0]
    up = down * np.array([1, -1])
    cosine = down @ up / (np.linalg.norm(down) * np.linalg.norm(up))
    between = math.degrees(math.acos(max(-1.0, min(1.0, float(cosine)))))
    found = hatch(bore, turns, travel, strokes, "full cycles")
    assert found == pytest.approx(between, rel=1e-6)
    assert surfaces.half_angle(2 * found) == pytest.approx(found)


@given(st.floats(0.02, 1.0), st.floats(0.4, 8.0))
def test_feed_mark_height_and_feed_mark_roughness_are_those_of_marks_drawn_point_by_point(
    feed: float, radius: float
) -> None:
    shallow = feed * min(1.0, 0.1 * radius / feed)
    across = np.linspace(-shallow / 2, shallow / 2, 20001)
    marks = radius - np.sqrt(radius**2 - across**2)
    assert surfaces.feed_mark_height(shallow, radius) == pytest.approx(marks.max(), rel=1e-3)
    mean_line = np.trapezoid(marks, across) / shallow
    deviation = np.trapezoid(abs(marks - mean_line), across) / shallow
    assert surfaces.feed_mark_roughness(shallow, radius) == pytest.approx(deviation, rel=3e-3)


@given(st.floats(1e-5, 0.05))
def test_sampling_length_grows_with_the_finish_and_evaluation_length_with_it(rough: float) -> None:
    found = [surfaces.sampling_length(share * rough, "Ra") for share in (1, 2, 4)]
    assert all(one <= two for one, two in pairwise(found))
    assert surfaces.evaluation_length(found[0]) < surfaces.traverse_length(found[0])
    assert surfaces.sampling_length(rough, "Rz") <= found[0]


@pytest.mark.parametrize(
    ("read", "read_as", "stated_as", "cutoff", "guard", "verdict", "why"),
    [
        (0.7, "Ra", "Ra", 0.8, 0.0, OK, ""),
        (0.8, "Ra", "Ra", 0.8, 0.0, OK, ""),
        (0.9, "Ra", "Ra", 0.8, 0.0, OUT, ""),
        (0.1, "Ra", "Ra", 0.8, 0.0, OUT, ""),
        (0.78, "Ra", "Ra", 0.8, 0.05, UNSURE, ""),
        (0.7, "Ra", "Rz", 0.8, 0.0, UNSURE, "limit of another kind"),
        (9.9, "Rz", "Ra", 0.8, 0.0, UNSURE, "limit of another kind"),
        (0.7, "like", "Ra", NAN, 0.0, UNSURE, "like, no number"),
        (0.7, "Ra", "Ra", 2.5, 0.0, UNSURE, "other cut-off"),
        (0.85, "Ra", "Ra", 0.25, 0.1, UNSURE, "other cut-off"),
        (0.95, "Ra", "Ra", 0.25, 0.1, OUT, ""),
        (0.95, "Ra", "Ra", 2.5, 0.1, UNSURE, "other cut-off"),
        (0.2, "Ra", "Ra", 2.5, 0.1, OUT, ""),
        (0.2, "Ra", "Ra", 0.25, 0.1, UNSURE, "other cut-off"),
        (0.7, "Ra", "Ra", NAN, 0.0, OPEN, "cut-off not said"),
        (0.6, "Ra", "Ra", 0.8, NAN, OPEN, ""),
        (0.95, "Ra", "Ra", 0.25, NAN, OPEN, "other cut-off"),
        (NAN, "Ra", "Ra", 0.8, 0.0, OPEN, ""),
        (0.7, "", "Ra", 0.8, 0.0, OPEN, ""),
    ],
)
def test_verdict_of_finish_and_why_not_judged(
    read: float, read_as: str, stated_as: str, cutoff: float, guard: float, verdict: str, why: str
) -> None:
    how = (read_as, stated_as, cutoff, 0.8)
    assert surfaces.verdict_of_finish(read, 0.4, 0.8, guard, *how) == verdict
    assert surfaces.why_not_judged(read, *how, verdict) == why


@given(st.integers(0, 10**6), st.floats(0.05, 0.5), st.floats(1.2, 4.0))
def test_a_verdict_of_finish_stays_out_where_the_right_cutoff_puts_it_farther_out(
    seed: int, shorter: float, rougher: float
) -> None:
    """A profile of waves of every length, drawn by chance and traced through the Gaussian filter of
    ISO 16610-21: its Ra grows with the cut-off, so that a short one never makes OUT of what is in.
    """
    chance = np.random.default_rng(seed)
    waves = np.fft.rfftfreq(4000, d=0.002)[1:]  # of a trace of 8 mm
    heights = (chance.normal(size=(2, waves.size)) / waves).T @ [1, 1j]

    def traced(cutoff: float) -> float:
        kept = 1 - np.exp(-math.pi * (math.sqrt(math.log(2) / math.pi) * waves * cutoff) ** 2)
        return float(abs(np.fft.irfft(np.concatenate([[0], heights * kept]), 4000)).mean())

    right = traced(0.8)
    found = surfaces.verdict_of_finish(
        traced(0.8 * shorter), 0.0, right / rougher, 0.0, "Ra", "Ra", 0.8 * shorter, 0.8
    )
    assert traced(0.8 * shorter) <= right
    assert found in (OUT, UNSURE)
    within = surfaces.verdict_of_finish(
        traced(0.8 * shorter), 0.0, right * 1.01, 0.0, "Ra", "Ra", 0.8 * shorter, 0.8
    )
    assert within == UNSURE


def test_fresh_finish_is_stale_once_the_face_was_cut_again() -> None:
    read = (0.7, 0.4, 0.8, 0.0, "Ra", "Ra", 0.8, 0.8)
    assert surfaces.fresh_finish(*read, moved_since=NAN) == OK
    assert surfaces.fresh_finish(*read, moved_since=9.0) == STALE
    assert surfaces.fresh_finish(NAN, *read[1:], moved_since=9.0) == OPEN


def test_cutoff_is_the_one_of_the_face_unless_another_is_said() -> None:
    assert surfaces.cutoff(0.8, NAN) == 0.8
    assert surfaces.cutoff(0.8, 2.5) == surfaces.cutoff(NAN, 2.5) == 2.5


# Two units printed side by side that do not say the same: which of them is meant is named here.
MISPRINTS = [  # where, as printed in one unit, in the other, what the other should say
    ("one engine's service book, bore finish", (1.78, "um"), (15, "uin"), 70),
    ("one engine's service book, bore finish", (4.57, "um"), (80, "uin"), 180),
    ("a welding note, preheat of iron", (700, "degF"), (300, "degC"), 371),
]


@pytest.mark.parametrize(("where", "one", "other", "meant"), MISPRINTS)
def test_a_misprint_is_known_by_its_other_unit(
    where: str, one: tuple[float, str], other: tuple[float, str], meant: float
) -> None:
    found = convert(*one, other[1])
    assert found == pytest.approx(meant, rel=0.005), where
    assert found != pytest.approx(other[0], rel=0.1), where
