"""Marks of hone and cutter drawn point by point.

Source: geometry; the sizes are invented.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from datumbook.equations import cleaning, surfaces
from witnesses import witness

NAN = math.nan


def near(value: object, off: float = 1e-9) -> object:
    return pytest.approx(value, abs=off)


def stone(bore: float, turns: float, travel: float, cycles: float) -> np.ndarray:
    """Where a stone goes in a second on the wall rolled out flat, in ten thousand steps: round and
    up, down and up at an even speed.
    """
    time = np.linspace(0, 1, 10_001)
    way = (time * cycles * 2) % 2
    return time * turns * math.pi * bore + 1j * travel * np.where(way < 1, way, 2 - way)


@witness(
    surfaces.hone_speed,
    surfaces.stroking_speed,
    surfaces.angle_to_horizontal,
    surfaces.strokes_for_hatch,
    by="simulation",
)
def test_a_stone_rolled_out_flat() -> None:
    bore, turns, travel, cycles = 82.0, 3.0, 110.0, 1.25  # of a second
    steps = np.diff(stone(bore, turns, travel, cycles))
    round_it = surfaces.hone_speed(bore, turns)
    assert round_it == near(steps.real.sum())
    along = surfaces.stroking_speed(travel, cycles * 60, "full cycles")
    assert along == near(np.abs(steps.imag).sum(), 1e-6)
    assert along == surfaces.stroking_speed(travel, 2 * cycles * 60, surfaces.SINGLE_STROKES)
    marks = np.angle(steps)
    assert surfaces.angle_to_horizontal(along, round_it) == near(np.median(np.abs(marks)))
    hatch = float(np.median(marks[marks > 0]) - np.median(marks[marks < 0]))
    assert surfaces.strokes_for_hatch(hatch, round_it, travel) == near(cycles * 60, 1e-6)


@witness(surfaces.feed_mark_height, surfaces.feed_mark_roughness, by="integration")
def test_a_row_of_marks_of_a_round_nose() -> None:
    feed, nose = 0.2, 1.6
    across = (np.arange(200_000) + 0.5) / 200_000 * feed - feed / 2
    mark = nose - np.sqrt(nose**2 - across**2)
    assert surfaces.feed_mark_height(feed, nose) == near(np.ptp(mark), 5e-6)
    rough = np.abs(mark - mark.mean()).mean()
    assert surfaces.feed_mark_roughness(feed, nose) == near(rough, 2e-6)


@witness(surfaces.cutoff, surfaces.finish_guard, cleaning.residue_off, by="every case")
def test_what_is_said_of_a_place_and_of_a_rinse() -> None:
    for whole, here, found in ((0.8, 2.5, 2.5), (0.8, NAN, 0.8), (NAN, 2.5, 2.5), (NAN, NAN, None)):
        assert surfaces.cutoff(whole, here) == found
    for off, factor, step, guard in (
        (0.25, 1.0, NAN, 0.25),
        (0.5, 0.5, 0.01, 0.25),
        (NAN, 1.0, NAN, 0),
        (NAN, 1.0, 0.05, 0),  # a tenth of what lies between the limits is fine enough
        (0.25, 1.0, 0.06, 0.5),
        (0.75, 1.0, 0.06, 0.75),
    ):
        assert surfaces.finish_guard(off, factor, step, 0.5, 1.0) == guard
    # every acidity in tenths: clean from 6 to 8, or within one half of the tap
    scale = np.round(np.arange(3.0, 12.0, 0.1), 1)
    for tap in (NAN, 7.5, 8.4, 5.0):
        clean = [one for one in scale if 6 <= one <= 8 or abs(one - tap) <= 0.5 + 1e-9]
        # the scale is whole between its ends, or there are two stretches: the nearest counts
        for rinse in scale:
            away = min(abs(rinse - one) for one in clean)
            assert cleaning.residue_off(rinse, tap) == near(away)
