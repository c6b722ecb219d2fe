"""The same numbers from libraries of others: numpy, the standard library's statistics, sorting and
bisection, GTC for uncertainties.
"""

from __future__ import annotations

import bisect
import heapq
import math
import statistics
from fractions import Fraction

import GTC
import numpy as np
import pytest

from datumbook.equations import (
    bearings,
    bores,
    budget,
    flatness,
    hole_safety,
    line_bore,
    liners,
    pistons,
    standings,
    tunnels,
    uncertainties,
    volumes,
    walls,
)
from witnesses import witness

chance = np.random.default_rng(4)
NAN = math.nan


def near(value: object, off: float = 1e-9) -> object:
    return pytest.approx(value, abs=off)


@witness(
    walls.least_wall,
    bores.smallest_size,
    budget.least_of,
    hole_safety.widest_relief,
    bores.largest_size,
    bores.worst_clean_up,
    budget.most_of,
    flatness.worst_gap,
    line_bore.most_rise,
    by="library",
)
def test_the_first_and_the_last_of_a_heap() -> None:
    for size in (1, 4, 7):
        read = [float(one) for one in chance.uniform(0.1, 90, size)]
        least, most = heapq.nsmallest(1, read)[0], heapq.nlargest(1, read)[0]
        for smallest in (
            walls.least_wall,
            bores.smallest_size,
            budget.least_of,
            hole_safety.widest_relief,
        ):
            assert smallest(*read) == least
        for largest in (
            bores.largest_size,
            bores.worst_clean_up,
            budget.most_of,
            flatness.worst_gap,
            line_bore.most_rise,
        ):
            assert largest(*read) == most


@witness(
    tunnels.size_spread,
    tunnels.tunnel_out_of_round,
    tunnels.overall_misalignment,
    flatness.parallelism,
    liners.ledge_spread,
    liners.stand_out_spread,
    pistons.weight_spread,
    volumes.compression_spread,
    bearings.journal_out_of_round,
    tunnels.adjacent_misalignment,
    by="library",
)
def test_from_the_least_to_the_greatest() -> None:
    for size in (2, 5):
        read = chance.uniform(-1, 1, size)
        for spread in (
            tunnels.size_spread,
            tunnels.tunnel_out_of_round,
            tunnels.overall_misalignment,
            flatness.parallelism,
            liners.ledge_spread,
            liners.stand_out_spread,
            pistons.weight_spread,
            volumes.compression_spread,
        ):
            assert spread(*read) == near(np.ptp(read))
        for between in (bearings.journal_out_of_round, tunnels.adjacent_misalignment):
            assert between(*read[:2]) == between(*read[1::-1]) == near(np.ptp(read[:2]))


@witness(bores.mean_size, liners.ledge_depth, by="library")
def test_the_mean_of_the_standard_library() -> None:
    read = [float(one) for one in chance.uniform(81.9, 82.1, 7)]
    for mean in (bores.mean_size, liners.ledge_depth):
        assert mean(*read) == near(statistics.fmean(read))


@witness(pistons.largest_protrusion, by="library")
def test_the_crown_that_stands_highest() -> None:
    crowns, deck = chance.uniform(219.8, 220.2, 6), 220.0
    proudest = float(np.sort(crowns)[-1] - deck)
    assert pistons.largest_protrusion(*(deck - crowns)) == near(proudest)


@witness(bores.next_oversize, by="library")
def test_the_next_size_in_a_sorted_list() -> None:
    sizes = [82.25, 82.5, 82.75, 83.0]
    for worst in (82.01, 82.25, 82.301, 82.999, 83.2):
        place = bisect.bisect_left(sizes, worst)
        wanted = sizes[place] if place < len(sizes) else None
        assert bores.next_oversize(worst, 82.0, 0.25, 0.5, 0.75, 1.0) == wanted


@witness(budget.share, by="library")
def test_a_share_in_whole_numbers() -> None:
    parts = [int(one) for one in chance.integers(1, 50, 4)]
    for part in parts:
        wanted = float(Fraction(part, sum(parts)))
        assert budget.share(part / 1000, *(one / 1000 for one in parts)) == near(wanted)
    # overdrawn by two of forty: it has none, and the others share more than the whole
    left = [float(Fraction(part, 40)) for part in (36, 6)]
    assert [budget.share(part, 0.036, 0.006, -0.002) for part in (0.036, 0.006)] == near(left)
    assert budget.share(-0.002, 0.036, 0.006, -0.002) == 0


@witness(tunnels.misalignment, by="library")
def test_a_centre_off_the_line_through_the_ends() -> None:
    for _ in range(5):
        places = np.sort(chance.uniform(0, 500, 3))
        centres = chance.uniform(-0.05, 0.05, 3)
        line = np.polynomial.Polynomial.fit(places[[0, 2]], centres[[0, 2]], 1)
        found = tunnels.misalignment(
            centres[1], places[1], centres[0], places[0], centres[2], places[2]
        )
        assert found == near(centres[1] - line(places[1]))


@witness(uncertainties.all_told, uncertainties.in_common, by="library")
def test_readings_of_one_setting_by_gtc() -> None:
    for setting, alone in ((0.002, 0.0015), (0.0, 0.003), (0.004, 0.0)):
        master = GTC.ureal(0.0, setting)
        one, other = (82.0 + master + GTC.ureal(0.0, alone) for _ in range(2))
        assert uncertainties.all_told(setting, alone) == near(GTC.uncertainty(one))
        shared = GTC.get_covariance(one, other)
        assert uncertainties.in_common(setting, alone) == near(math.sqrt(shared))
    # a master that is off, and a gauge of which nothing is stated
    master = GTC.ureal(82.0, 0.002)
    assert uncertainties.all_told(0.002, NAN) == near(GTC.uncertainty(master))
    together = math.sqrt(GTC.get_covariance(master + 1.0, master - 1.0))
    assert uncertainties.in_common(0.002, NAN) == near(together)
    # one figure for all: two readings go with each other wholly, and one is no less sure
    whole = GTC.ureal(82.0, 0.003)
    assert uncertainties.all_told(NAN, 0.003) == near(GTC.uncertainty(whole))
    together = math.sqrt(GTC.get_covariance(whole + 1.0, whole - 1.0))
    assert uncertainties.in_common(NAN, 0.003) == near(together)
    assert uncertainties.in_common(NAN, NAN) is uncertainties.all_told(NAN, NAN) is None


@witness(
    standings.place_of_rank,
    standings.urgency,
    standings.taken_in_all,
    standings.readings_taken,
    by="library",
)
def test_what_holds_the_job_up_sorted() -> None:
    order = ["OUT", "STALE", "UNSURE", "OPEN"]
    checks = [
        ("OPEN", "holds"),
        ("OUT", "holds"),
        ("OK", "passes"),
        ("UNSURE", "conceded"),
        ("OUT", "holds"),
        ("STALE", "holds"),
        ("UNSURE", "holds"),
    ]
    ranks = [standings.urgency(*check, line) for line, check in enumerate(checks, 1)]
    held = [
        (order.index(verdict), line)
        for line, (verdict, standing) in enumerate(checks, 1)
        if standing == "holds"
    ]
    found = [standings.place_of_rank(rank, *ranks) for rank in range(1, 8)]
    assert found == [*(line for _, line in sorted(held)), None, None]
    assert ranks[2:4] == [0, 0]
    # the printed scale of ranks: ten thousand to a word, less the line
    assert [int(rank) for rank in ranks] == [9999, 39998, 0, 0, 39995, 29994, 19993]
    read = [82.01, NAN, 82.02, 0.0]
    assert standings.readings_taken(*read) == np.count_nonzero(~np.isnan(read))
    assert standings.taken_in_all(3.0, 4.0, 5.0) == math.fsum([3.0, 4.0, 5.0])
