"""Balance of a crank: masses told off one by one, and a rotor's centre of mass followed round."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import balancing
from witnesses import witness

grams = st.floats(10, 2000)


@witness(balancing.bob_weight, by="counting")
def test_a_pin_carries_two_big_ends_and_half_of_what_goes_up_and_down() -> None:
    rods = [{"turning": [430, 45], "up and down": [170, 540, 118, 48, 2]} for _ in range(2)]
    carried = 4.0
    for rod in rods:
        carried += sum(rod["turning"])
        carried += sum(mass / 2 for mass in rod["up and down"])
    assert math.isclose(balancing.bob_weight(475e-6, 878e-6, 0.5, 4e-6) * 1e6, carried)


@witness(balancing.residual_unbalance, by="simulation")
def test_the_centre_of_mass_runs_round_at_the_speed_of_the_grade() -> None:
    grade, rotor, speed, step = 6.3, 0.020, 100.0, 1e-7
    off = balancing.residual_unbalance(grade, rotor, speed) / rotor

    def centre(time: float) -> tuple[float, float]:
        angle = 2 * math.pi * speed * time
        return off * math.cos(angle), off * math.sin(angle)

    for turn in range(8):
        begun = turn / 8 / speed
        (x0, y0), (x1, y1) = centre(begun), centre(begun + step)
        assert math.isclose(math.hypot(x1 - x0, y1 - y0) / step, grade, rel_tol=1e-6)


@given(grams, grams, st.floats(0, 1))
def test_more_balanced_is_never_lighter(big_end: float, moving: float, share: float) -> None:
    less = balancing.bob_weight(big_end, moving, share, 0.0)
    assert 2 * big_end <= less <= balancing.bob_weight(big_end, moving, 1.0, 0.0)
