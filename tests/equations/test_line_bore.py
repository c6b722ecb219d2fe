"""Line boring, tunnel by tunnel: worked figures, circles swept in small steps, and the corridor of
the lift as a solver finds it.

Source: geometry; the sizes are invented. scipy.optimize.linprog and numpy know nothing of tunnels.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from datumbook.equations import faces
from datumbook.equations import line_bore as bored
from engines import Results
from two_roads import Work, differences
from witnesses import witness

sizes = st.floats(61.00, 61.12)
small = st.floats(-0.05, 0.05)
cuts = st.floats(0.0, 0.2)
stocks = st.floats(0.0, 0.02)
angles = st.floats(0, math.pi)

Tunnel = tuple[float, float, float, float]  # upright, centre height, sideways, cap cut
rows = st.lists(st.tuples(sizes, small, small, cuts), min_size=2, max_size=5)
PLACES = [30.0, 140.0, 250.0, 360.0, 470.0]


def metals(tunnel: Tunnel, lift: float, line_sideways: float, finish: float) -> dict[str, float]:
    """What the cutter takes, from cell to cell as on a sheet; the tunnel is round."""
    size, centre, sideways, cap_cut = tunnel
    aside = bored.aside(sideways, line_sideways)
    saddle = bored.saddle_metal(lift, centre, size, finish)
    cap = bored.cap_metal(cap_cut, lift, centre, size, finish)
    return {
        "saddle": saddle,
        "cap": cap,
        "side": bored.side_metal(finish, size, aside),
        "saddle_slanting": bored.slanting_metal(saddle, size, finish, aside),
        "cap_slanting": bored.slanting_metal(cap, size, finish, aside),
    }


def swept(
    tunnel: Tunnel, lift: float, line_sideways: float, finish: float, half: str
) -> np.ndarray:
    """Metal at each point of one half of the old circle: how far inside the new circle it lies."""
    size, centre, sideways, cap_cut = tunnel
    turn = np.linspace(0, np.pi, 36_001) * (1 if half == "saddle" else -1)
    up = centre + (0 if half == "saddle" else cap_cut) + size / 2 * np.sin(turn)
    left = sideways + size / 2 * np.cos(turn)
    return np.asarray(finish / 2 - np.hypot(left - line_sideways, up - lift))


# --- worked figures


STOCK, FINISH, CAP_CUT = 0.010, 61.070, 0.150
ROW = [(61.090, 0.0), (61.095, 0.020), (61.085, 0.0)]  # upright, centre height


def test_lift_room_of_the_worked_row_is_for_one_lift_from_0_0425_to_0_130() -> None:
    lowest = [bored.lowest_lift(STOCK, centre, size, FINISH) for size, centre in ROW]
    highest = [bored.highest_lift(STOCK, CAP_CUT, centre, size, FINISH) for size, centre in ROW]
    low, high = bored.lowest_parallel_lift(*lowest), bored.highest_parallel_lift(*highest)
    assert (low, high) == pytest.approx((0.0425, 0.130))
    assert bored.lift_room(low, high) == pytest.approx(0.0875)
    assert bored.least_parallel_lift(low, high) == pytest.approx(0.0425)


def test_saddle_metal_and_cap_metal_of_a_lift_without_a_cut_on_the_caps_are_impossible() -> None:
    assert bored.saddle_metal(0.25, 0.0, 61.070, 61.070) == pytest.approx(0.25)
    assert bored.cap_metal(0.0, 0.25, 0.0, 61.070, 61.070) == pytest.approx(-0.25)
    low = bored.lowest_lift(STOCK, 0.0, 61.070, 61.070)
    high = bored.highest_lift(STOCK, 0.0, 0.0, 61.070, 61.070)
    assert bored.lift_room(low, high) == pytest.approx(-0.020)
    assert bored.least_parallel_lift(low, high) is None


def test_slanting_metal_is_missed_where_top_and_side_metal_clean() -> None:
    found = metals((61.045, 0.010, 0.010, 0.0), 0.0, 0.0, 61.070)
    assert found["saddle"] == pytest.approx(0.0025)
    assert found["side"] == pytest.approx(0.0025)
    assert found["saddle_slanting"] == pytest.approx(-0.0016, abs=5e-5)


# --- circles, point by point


@witness(bored.saddle_metal, bored.cap_metal, bored.slanting_metal, by="coordinates")
@given(sizes, small, small, cuts, small, small, sizes)
def test_saddle_metal_cap_metal_and_slanting_metal_are_the_least_between_two_circles(
    size: float,
    centre: float,
    sideways: float,
    cap_cut: float,
    lift: float,
    line_sideways: float,
    finish: float,
) -> None:
    tunnel = (size, centre, sideways, cap_cut)
    found = metals(tunnel, lift, line_sideways, finish)
    # how far a point falls off the circle from where the joint stands, the furthest here
    fall = (2 * 0.05 + 0.2) ** 2 / size
    for half, away in (("saddle", centre - lift), ("cap", lift - centre - cap_cut)):
        points = swept(tunnel, lift, line_sideways, finish, half)
        assert points[18_000] == pytest.approx(found[half], abs=fall), "upright"
        if away > 1e-6:
            assert points.min() == pytest.approx(found[f"{half}_slanting"], abs=1e-6)
        elif away < 0:
            assert found[f"{half}_slanting"] == pytest.approx(found[half], abs=1e-9)
            least = min(found[half], found["side"])
            assert points.min() >= least - fall, "no less between than upright or at the side"


@witness(bored.side_metal, bored.aside, by="coordinates")
@given(sizes, sizes, small, small)
def test_side_metal_is_the_lesser_of_both_sides_and_aside_takes_no_side(
    finish: float, width: float, sideways: float, line_sideways: float
) -> None:
    left = line_sideways + finish / 2 - (sideways + width / 2)
    right = (sideways - width / 2) - (line_sideways - finish / 2)
    aside = bored.aside(sideways, line_sideways)
    assert bored.side_metal(finish, width, aside) == pytest.approx(min(left, right), abs=1e-9)
    assert aside == bored.aside(line_sideways, sideways) >= 0


@given(st.tuples(sizes, small, small, cuts), small, small, sizes, stocks)
def test_clean_size_leaves_every_metal_the_stock_and_one_no_more(
    tunnel: Tunnel, lift: float, line_sideways: float, finish: float, stock: float
) -> None:
    clean = bored.clean_size(finish, stock, *metals(tunnel, lift, line_sideways, finish).values())
    at_clean = metals(tunnel, lift, line_sideways, clean)
    assert min(at_clean.values()) == pytest.approx(stock, abs=1e-9)


# --- the corridor of the lift


def corridor(row: Sequence[Tunnel], finish: float, stock: float) -> list[tuple[float, float]]:
    return [
        (
            bored.lowest_lift(stock, centre, size, finish),
            bored.highest_lift(stock, cap_cut, centre, size, finish),
        )
        for size, centre, _, cap_cut in row
    ]


@given(rows, sizes, stocks, small)
def test_saddle_and_cap_have_the_stock_from_lowest_lift_to_highest_lift_and_nowhere_else(
    row: list[Tunnel], finish: float, stock: float, lift: float
) -> None:
    for tunnel, (low, high) in zip(row, corridor(row, finish, stock), strict=True):
        found = metals(tunnel, lift, 0.0, finish)
        assert found["saddle"] - stock == pytest.approx(lift - low, abs=1e-9)
        assert found["cap"] - stock == pytest.approx(high - lift, abs=1e-9)


@witness(bored.least_parallel_lift, bored.lowest_parallel_lift, by="solver")
@given(rows, sizes, stocks)
def test_least_parallel_lift_is_the_one_that_a_solver_finds(
    row: list[Tunnel], finish: float, stock: float
) -> None:
    within = corridor(row, finish, stock)
    low = bored.lowest_parallel_lift(*(one for one, _ in within))
    high = bored.highest_parallel_lift(*(one for _, one in within))
    room = bored.lift_room(low, high)
    if abs(room) < 1e-6:
        return  # the solver's own tolerance
    # the lift as what it rises less what it sinks, and the least of both together
    bounds = [[-1.0, 1.0]] * len(within) + [[1.0, -1.0]] * len(within)
    limits = [-one for one, _ in within] + [one for _, one in within]
    solved = linprog([1.0, 1.0], A_ub=bounds, b_ub=limits, bounds=[(0, None)] * 2)
    least = bored.least_parallel_lift(low, high)
    assert (solved.status == 0) == (room > 0) == (least is not None)
    if least is not None:
        assert least == pytest.approx(solved.x[0] - solved.x[1], abs=1e-7)


@given(rows, sizes, stocks, small)
def test_lowest_parallel_lift_and_highest_parallel_lift_are_where_the_first_tunnel_lacks_stock(
    row: list[Tunnel], finish: float, stock: float, lift: float
) -> None:
    within = corridor(row, finish, stock)
    low = bored.lowest_parallel_lift(*(one for one, _ in within))
    high = bored.highest_parallel_lift(*(one for _, one in within))
    found = [metals(tunnel, lift, 0.0, finish) for tunnel in row]
    assert min(one["saddle"] for one in found) - stock == pytest.approx(lift - low, abs=1e-9)
    assert min(one["cap"] for one in found) - stock == pytest.approx(high - lift, abs=1e-9)


@given(rows, sizes, stocks)
def test_a_sloping_line_that_a_solver_lays_in_the_corridor_cleans_every_saddle_and_cap(
    row: list[Tunnel], finish: float, stock: float
) -> None:
    within = corridor(row, finish, stock)
    places = PLACES[: len(row)]
    shares = [(place - places[0]) / (places[-1] - places[0]) for place in places]
    rows = [[share - 1, -share] for share in shares] + [[1 - share, share] for share in shares]
    limits = [-one for one, _ in within] + [one for _, one in within]
    solved = linprog([1.0, 1.0], A_ub=rows, b_ub=limits, bounds=[(None, None)] * 2)
    low = bored.lowest_parallel_lift(*(one for one, _ in within))
    high = bored.highest_parallel_lift(*(one for _, one in within))
    if solved.status != 0:
        assert bored.lift_room(low, high) <= 1e-6, "a parallel line is a line"
        return
    front, rear = solved.x
    taken = []
    for tunnel, place in zip(row, places, strict=True):
        lift = faces.on_line(front, rear, place, places[0], places[-1])
        found = metals(tunnel, lift, 0.0, finish)
        taken += [found["saddle"], found["cap"]]
    assert min(taken) == pytest.approx(stock, abs=1e-6), "the lowest line touches the corridor"


# --- the banks


@witness(bored.lift_towards_deck, bored.bores_off_line, by="coordinates")
@given(small, small, angles)
def test_lift_towards_deck_and_bores_off_line_are_a_move_turned_into_the_bank(
    lift: float, sideways: float, angle: float
) -> None:
    move = np.array([sideways, lift])  # to the left, up
    left = np.array([math.sin(angle / 2), math.cos(angle / 2)])
    banks = ((left, sideways), (left * (-1, 1), -sideways))
    for along, towards in banks:
        found = bored.lift_towards_deck(lift, towards, angle)
        assert found == pytest.approx(float(move @ along), abs=1e-12)
        off = abs(float(move[0] * along[1] - move[1] * along[0]))
        assert bored.bores_off_line(lift, towards, angle) == pytest.approx(off, abs=1e-12)


@given(small, small)
def test_bores_off_line_is_the_move_aside_where_one_bank_stands_upright(
    lift: float, sideways: float
) -> None:
    assert bored.lift_towards_deck(lift, -sideways, 0.0) == lift
    assert bored.bores_off_line(lift, -sideways, 0.0) == abs(sideways)


@given(small, angles)
def test_lift_towards_deck_without_a_sideways_move_is_the_share_of_the_shift(
    lift: float, angle: float
) -> None:
    assert bored.lift_towards_deck(lift, 0.0, angle) == pytest.approx(
        lift * math.cos(angle / 2), abs=1e-12
    )


def test_lift_towards_deck_is_the_whole_lift_in_line_and_its_share_in_a_vee() -> None:
    # geometry: banks at 90 degrees lie 45 degrees off the lift; a flat engine's decks gain nothing
    assert bored.lift_towards_deck(0.004, 0.0, 0.0) == 0.004
    assert bored.lift_towards_deck(0.004, 0.0, math.radians(90)) == pytest.approx(
        0.004 * math.sqrt(0.5), abs=1e-12
    )
    assert bored.lift_towards_deck(0.004, 0.0, math.pi) == pytest.approx(0.0, abs=1e-12)


# --- both roads


TUNNEL = {"centre_height": 0.020, "tunnel_size": 61.095, "finish_size": 61.070}
BANK = {"lift": 0.100, "towards_bank": 0.020}
WORKS: list[Work] = [
    (bored.aside, {"sideways": -0.01, "line_sideways": 0.01}),
    (bored.saddle_metal, {"lift": 0.0425} | TUNNEL),
    (bored.cap_metal, {"cap_cut": 0.15, "lift": 0.13} | TUNNEL),
    (bored.side_metal, {"finish_size": 61.07, "width_across": 61.04, "aside": 0.005}),
    *(
        (
            bored.side_counted,
            {
                "side_metal": 61.062 / 2 - width / 2 - 0.001,
                "stock": 0.010,
                "finish_size": 61.062,
                "width_across": width,
                "aside": 0.001,
                "most_size": 61.075,
                "most_out_of_round": play,
            },
        )
        for width in (61.020, 61.064, 61.080)
        for play in (0.002, 0.020)
    ),
    *(
        (
            bored.slanting_metal,
            {"metal": metal, "tunnel_size": 61.045, "finish_size": 61.07, "aside": 0.010},
        )
        for metal in (0.0025, 0.0225)
    ),
    (bored.clean_size, {"finish_size": 61.07, "stock": 0.01, "metals": [0.0125, 0.0075, 0.015]}),
    (bored.lowest_lift, {"stock": 0.01} | TUNNEL),
    (bored.highest_lift, {"stock": 0.01, "cap_cut": 0.15} | TUNNEL),
    (bored.lowest_parallel_lift, {"lowest_lifts": [0.02, 0.0425, 0.0175]}),
    (bored.highest_parallel_lift, {"highest_lifts": [0.13, 0.1475, 0.1325]}),
    *(
        (equation, {"lowest_parallel_lift": low, "highest_parallel_lift": high})
        for equation in (bored.lift_room, bored.least_parallel_lift)
        for low, high in ((0.0425, 0.13), (-0.02, 0.01), (-0.02, -0.01), (0.02, -0.01), (0.1, 0.1))
    ),
    *(
        (bored.mandrel_when_cut, {"line_bored": said, "mandrel_seat": seat})
        for said in (bored.BORED, bored.AS_THEY_ARE, None)
        for seat in (0.03, None)
    ),
    *(
        (equation, BANK | {"bank_angle": angle})
        for equation in (bored.lift_towards_deck, bored.bores_off_line)
        for angle in (0.0, math.radians(60), math.radians(90), math.radians(180))
    ),
]


def test_both_roads_of_every_equation_agree_in_every_engine(
    engine: Callable[[Path], Results], tmp_path: Path
) -> None:
    assert not differences(engine, tmp_path / "line_bore.xlsx", WORKS)


def test_cap_cut_taken_is_none_where_the_tunnels_stay_and_blank_until_it_is_said() -> None:
    assert bored.cap_cut_taken(bored.BORED, cap_cut=0.15) == 0.15
    assert bored.cap_cut_taken(bored.AS_THEY_ARE, cap_cut=math.nan) == 0
    assert bored.cap_cut_taken(bored.AS_THEY_ARE, cap_cut=0.15) == 0
    assert bored.cap_cut_taken(bored.BORED, cap_cut=math.nan) is None
    assert bored.cap_cut_taken("", cap_cut=0.15) is None


@given(st.lists(small, min_size=2, max_size=2))
def test_rise_taken_is_as_planned_and_most_rise_the_more_of_both_ends(rises: list[float]) -> None:
    taken = [bored.rise_taken(bored.BORED, rise, 0.0) for rise in rises]
    assert taken == rises
    assert bored.most_rise(*taken) == max(rises)
    assert bored.rise_taken(bored.BORED, 0.05, 0.01) == pytest.approx(0.06), "the bar counts"
    assert bored.rise_taken(bored.AS_THEY_ARE, math.nan, 0.01) == 0
    assert bored.rise_taken(bored.BORED, math.nan, 0.0) is None
    assert bored.rise_taken("", 0.05, 0.0) is None


@given(st.lists(small, min_size=5, max_size=5), stocks)
def test_least_metal_is_least_all_round_and_the_stock_where_none_is_bored(
    metals: list[float], stock: float
) -> None:
    least = bored.least_all_round(*metals)
    assert least == min(metals)
    assert bored.least_metal(bored.BORED, stock, least) == least
    assert bored.least_metal(bored.AS_THEY_ARE, stock, math.nan) == stock
    assert bored.least_metal(bored.BORED, stock, math.nan) is None
    assert bored.least_metal("", stock, least) is None


def test_mandrel_when_cut_lies_as_it_was_read_and_level_in_tunnels_bored_in_line() -> None:
    assert bored.mandrel_when_cut(bored.AS_THEY_ARE, 0.03) == 0.03
    assert bored.mandrel_when_cut(bored.AS_THEY_ARE, math.nan) is None
    assert bored.mandrel_when_cut(bored.BORED, 0.03) == 0
    assert bored.mandrel_when_cut(bored.BORED, math.nan) == 0
    assert bored.mandrel_when_cut("", 0.03) is None


def test_finish_size_judged_is_the_least_allowed_where_none_is_bored() -> None:
    assert bored.finish_size_judged(bored.BORED, 61.050, 61.080) == 61.080
    assert bored.finish_size_judged(bored.AS_THEY_ARE, 61.050, 61.080) == 61.050
    assert bored.finish_size_judged("", 61.050, 61.080) is None
    assert bored.finish_size_judged(bored.BORED, 61.050, math.nan) is None


@witness(bored.side_counted, by="simulation")
@given(
    beyond=st.one_of(st.sampled_from([-5e-5, 5e-5]), st.floats(-0.03, 0.02)),
    finish=st.floats(61.050, 61.075),
    away=st.one_of(st.just(0.0), st.floats(0, 0.010)),
    play=st.sampled_from([0.004, 0.020]),
)
def test_side_counted_passes_no_tunnel_that_is_too_wide_or_stepped(
    beyond: float, finish: float, away: float, play: float
) -> None:
    """The wall left is the farther of the old one and the cutter's, seen from the new line at a
    thousand bearings; of what counts as the stock the widest is a size of the tunnel, and no
    diameter is so far from the least that the tunnel is out of round.
    """
    stock, most, width = 0.010, 61.075, finish + play + beyond
    side = bored.side_metal(finish, width, away)
    counted = bored.side_counted(side, stock, finish, width, away, most, play)
    bearing = np.linspace(0, 2 * np.pi, 1000, endpoint=False)
    beside = away * np.cos(bearing)
    old = beside + np.sqrt((width / 2) ** 2 - away**2 + beside**2)
    wall = np.maximum(old, finish / 2)
    across = wall + np.roll(wall, 500)
    left = across.max() <= most + 1e-9 and across.max() - finish <= play + 1e-9
    if counted >= stock:
        assert side >= stock or left
    else:
        assert side < stock
        farthest = 2 * (wall.max() if side < 0 else width / 2 + away)
        assert farthest > most - 1e-9 or farthest - finish > play - 1e-9
