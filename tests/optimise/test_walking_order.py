"""The way from hole to hole: every hole once, begun at the first, danger last, and near the
shortest there is.

Source: geometry; the shortest way of a few holes by trying every one.
"""

from __future__ import annotations

from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from datumbook.optimise.walking_order import walking_order, way
from long_runs import examples

points = st.lists(
    st.tuples(st.integers(0, 40), st.integers(0, 20)), min_size=1, max_size=6, unique=True
)


@settings(max_examples=examples(150), deadline=None)
@given(points, st.integers(0, 5))
def test_every_hole_is_visited_once_the_dangerous_last(
    places: list[tuple[int, int]], danger: int
) -> None:
    known = {f"H{at}": place for at, place in enumerate(places)}
    names = list(known)
    last = names[danger : danger + 1]
    order = walking_order(names, known, last)
    assert sorted(order) == sorted(names)
    assert order[len(order) - len(last) :] == last


@settings(max_examples=examples(100), deadline=None)
@given(points)
def test_the_way_is_no_longer_than_as_named_and_at_most_a_third_over_the_shortest(
    places: list[tuple[int, int]],
) -> None:
    known = {f"H{at}": place for at, place in enumerate(places)}
    names = list(known)
    found = way(walking_order(names, known), known)
    assert found <= way(names, known) + 1e-6
    assert (
        found
        <= 4 / 3 * min(way([names[0], *rest], known) for rest in permutations(names[1:])) + 1e-6
    )


def test_a_bolt_circle_named_round_is_walked_round() -> None:
    places = {
        "S1": (24, 14),
        "S2": (93, 14),
        "S3": (162, 14),
        "S4": (162, 216),
        "S5": (93, 216),
        "S6": (24, 216),
    }
    assert walking_order(list(places), places) == list(places)
    crossed = ["S1", "S4", "S2", "S5", "S3", "S6"]
    assert walking_order(crossed, places) == ["S1", "S2", "S3", "S4", "S5", "S6"]


def test_without_places_the_holes_are_walked_as_named() -> None:
    assert walking_order(["D3", "D1", "D2"], {}, last=["D3"]) == ["D1", "D2", "D3"]
