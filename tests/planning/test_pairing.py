"""Selective fitting: the least sum of squares by trying every order, and what the command says of
the demonstration.

The oracle is the count of all orders; for sizes that only add, the closest spread is that of the
sorted sizes (geometry).
"""

from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from as_asked import values_of
from clean_readings import clean_readings, demo_book, shipped_layout, validated
from datumbook.job import Job
from datumbook.optimise.best_pairs import best_pairs
from datumbook.planning.pairing import pairing_lines, pairings
from datumbook.stations import lay_out
from datumbook.validator import Validation
from datumbook.workbook.layout import Layout

rows = st.integers(min_value=2, max_value=5).flatmap(
    lambda count: st.lists(
        st.lists(st.floats(min_value=-0.1, max_value=0.1), min_size=count, max_size=count),
        min_size=count,
        max_size=count,
    )
)
halves = st.lists(st.integers(0, 40), min_size=2, max_size=6)


@settings(deadline=None)  # the first call loads scipy
@given(rows, st.floats(min_value=0, max_value=0.1))
def test_no_other_order_comes_closer_to_the_aim(clearances: list[list[float]], aim: float) -> None:
    def off(order: tuple[int, ...]) -> float:
        return sum((row[part] - aim) ** 2 for row, part in zip(clearances, order, strict=True))

    order = best_pairs(clearances, aim)
    assert sorted(order) == list(range(len(clearances)))
    assert (
        off(tuple(order)) <= min(off(each) for each in permutations(range(len(clearances)))) + 1e-12
    )


@settings(deadline=None)
@given(halves, halves)
def test_where_sizes_only_add_no_order_has_a_smaller_spread(
    bores: list[int], pistons: list[int]
) -> None:
    count = min(len(bores), len(pistons))
    clearances = [
        [0.04 + (bore - piston) / 1000 for piston in pistons[:count]] for bore in bores[:count]
    ]
    order = best_pairs(clearances, 0.04)
    spread = [
        max(row[part] for row, part in zip(clearances, each, strict=True))
        - min(row[part] for row, part in zip(clearances, each, strict=True))
        for each in (order, *permutations(range(count)))
    ]
    assert spread[0] <= min(spread) + 1e-12


def test_the_order_given_stays_where_no_other_is_better() -> None:
    assert best_pairs([[0.04, 0.04], [0.05, 0.05]], 0.045) == [0, 1]


def made(layout: Layout, typed: dict[str, object]) -> Validation:
    return Validation(demo_book(), layout=layout, values=values_of(layout, typed))


def test_two_pistons_exchanged_are_told_to_go_back() -> None:
    layout = shipped_layout()
    clean: dict[str, object] = dict(clean_readings(layout))
    for number, size in {1: 82.010, 2: 82.000, 3: 82.005, 4: 82.005}.items():
        clean |= {key: size for key in clean if key.startswith(f"finished_bores.{number}.")}
        clean[f"pistons.{number}.piston"] = size - 0.045
    clean["pistons.1.piston"], clean["pistons.2.piston"] = (
        clean["pistons.2.piston"],
        clean["pistons.1.piston"],
    )
    found = {one.words: one for one in pairings(made(layout, clean))}["Pistons to bores"]
    assert list(found.order)[:2] == [1, 0]
    assert max(found.given()) - min(found.given()) == pytest.approx(0.020)
    assert max(found.found()) - min(found.found()) == pytest.approx(0, abs=1e-9)
    assert (found.low, found.high) == (0.035, 0.060)


def test_the_demonstration_is_told_its_shells_and_nothing_is_written() -> None:
    before = demo_book().read_bytes()
    lines = pairing_lines(validated(demo_book()))
    assert any(
        "Main shells to housings: spread 0.005 mm, in the order given 0.027 mm" in line
        for line in lines
    )
    assert any("Pistons to bores: as they are" in line for line in lines)
    assert demo_book().read_bytes() == before


def test_beyond_the_limits_is_said() -> None:
    layout = shipped_layout()
    small: dict[str, object] = dict(clean_readings(layout)) | {"pistons.3.piston": 81.500}
    lines = pairing_lines(made(layout, small))
    assert sum("beyond its limits" in line for line in lines) <= 1
    assert any("No order keeps every clearance from 0.035 to 0.060 mm" in line for line in lines)


def test_without_parts_or_with_a_size_missing_nothing_is_suggested() -> None:
    layout = shipped_layout()
    assert pairing_lines(made(layout, {})) == []
    bare = lay_out(layout.spec.model_copy(update={"parts": None}), Job("bare"))
    assert pairing_lines(made(bare, dict(clean_readings(bare)))) == []
