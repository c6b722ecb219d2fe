"""A crank swept round in a bore beside it, and a head that comes down on a piston.

Source: geometry; the sizes are invented.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from datumbook.equations import seals, valves
from witnesses import witness

NAN = math.nan


def near(value: object, off: float = 1e-9) -> object:
    return pytest.approx(value, abs=off)


def swept(axis: complex, bore: float = 120.0) -> np.ndarray:
    """What an indicator on a crank reads all round a bore whose middle is nought: the nearer the
    wall, the more.
    """
    arm = np.exp(1j * np.linspace(0, 2 * np.pi, 3601))
    along = (axis.conjugate() * arm).real
    wall = -along + np.sqrt(along**2 + (bore / 2) ** 2 - abs(axis) ** 2)  # from the axis, that way
    return np.asarray(bore / 2 - wall)


@witness(
    seals.crank_offset,
    seals.run_out_all_round,
    seals.run_out_after_lift,
    seals.indicator_two_ways,
    by="simulation",
)
def test_an_indicator_swept_round_a_bore_beside_the_crank_line() -> None:
    for across, up, lift in ((0.03, -0.02, 0.05), (-0.04, 0.01, 0.1), (0.02, -0.06, 0.0)):
        read = swept(complex(across, up))
        left, top, right, bottom = read[0], read[900], read[1800], read[2700]
        assert seals.crank_offset(left, right) == near(across, 1e-6)
        assert seals.crank_offset(top, bottom) == near(up, 1e-6)
        whole = seals.run_out_all_round(top, right, bottom, left)
        assert whole == near(np.ptp(read), 1e-6)
        both = 2 * (abs(across) + abs(up))
        assert seals.indicator_two_ways(top, right, bottom, left) == near(both, 1e-6)
        assert both >= np.ptp(read) - 1e-6
        lifted = swept(complex(across, up + lift))
        assert seals.run_out_after_lift(across, up, lift) == near(np.ptp(lifted), 1e-6)
    assert seals.run_out_after_lift(0.0, -0.05, 0.05) == 0


@witness(valves.crown_rise, by="coordinates")
def test_a_crown_comes_nearest_at_the_edge_of_its_bore_where_more_goes_off_the_deck() -> None:
    round_the_bore = 40.0 * np.exp(1j * np.linspace(0, 2 * np.pi, 3601))
    for along, across, middle in ((0.0004, 0.0, 0.2), (0.0003, -0.0004, 0.05), (0.0, 0.0, 0.1)):
        lost = middle + along * round_the_bore.real + across * round_the_bore.imag
        rise = valves.crown_rise(middle, math.hypot(along, across), 80.0)
        assert rise == near(lost.max(), 1e-7)


@witness(
    valves.head_drop,
    valves.valve_gap_after,
    valves.radial_gap_after,
    valves.pocket_deeper,
    by="coordinates",
)
def test_a_valve_that_comes_down_with_its_head_on_a_pocket() -> None:
    deck, after, head, old, new = 0.5, 0.2, 0.15, 1.5, 1.2
    rise = deck - after
    # from crown to head gasket face: the head comes nearer by all three
    was, now = deck + old, after + new - head
    drop = valves.head_drop(rise, head, old - new)
    assert drop == near(was - now)
    assert valves.head_drop(rise, NAN, NAN) == near(deck - after)
    for lean in (0.0, 0.2, 0.45):
        stem = np.array([math.sin(lean), math.cos(lean)])  # down the stem, towards the wall
        side = np.array([math.cos(lean), -math.sin(lean)])
        moved = np.array([0.0, drop])  # the head, straight down the bore
        along, across = np.linalg.solve(np.column_stack([stem, side]), moved)
        assert valves.valve_gap_after(2.4, drop, lean) == near(2.4 - along)
        assert valves.radial_gap_after(1.5, drop, lean) == near(1.5 - abs(across))
        for least in (1.0, 2.3):
            gap = 2.4 - float(along)
            deeper = valves.pocket_deeper(gap, least)
            assert gap + deeper == near(max(gap, least))


@witness(valves.ring_back_clearance, by="coordinates")
def test_a_ring_pushed_into_its_groove() -> None:
    way = np.exp(1j * np.linspace(0, 2 * np.pi, 361))
    ring = (71.2 / 2 + 3.75) * way  # on the bottom of the groove
    room = np.abs(79.5 / 2 * way) - np.abs(ring)
    assert valves.ring_back_clearance(79.5, 71.2, 3.75) == near(room.mean())
