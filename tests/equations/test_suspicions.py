"""Where to look first: a reading made wrong on purpose is the one pointed at, and nothing is while
the closure holds.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import heights, suspicions

SPARED = {
    0: (3, 1, 2),
    1: (2, 0, 3),
    2: (1, 3, 0),
    3: (0, 2, 1),
}  # opposite, and the two beside that
small = st.floats(-0.001, 0.001)


def tilts(corners: list[float]) -> list[float]:
    return [
        suspicions.tilt_without(*(corners[each] for each in three)) for three in SPARED.values()
    ]


@given(st.integers(0, 3), st.sampled_from([-0.03, 0.02, 0.05]), small, small)
def test_corner_suspected_is_the_one_that_was_misread(
    wrong: int, by: float, along: float, across: float
) -> None:
    true = [
        9.67,
        9.67 + across,
        9.67 + along,
        9.67 + along + across,
    ]  # front left, front right, rear left, rear right
    corners = [size + by * (number == wrong) for number, size in enumerate(true)]
    assert abs(heights.twist(*corners)) == pytest.approx(abs(by) / 2, abs=1e-9)
    found = tilts(corners)
    said = [suspicions.corner_suspected(each, *found, verdict="OUT") for each in found]
    assert said == ["look first" if number == wrong else "" for number in range(4)]
    assert {suspicions.corner_suspected(each, *found, verdict="OK") for each in found} == {""}


def test_tilt_without_the_misread_corner_of_the_worked_example() -> None:
    # FL 9.6712, RL 9.6735, RR 9.6721, and FR typed 9.6968 for 9.6698: common practice, no source
    found = tilts([9.6712, 9.6968, 9.6735, 9.6721])
    assert found == pytest.approx([0.0261, 0.0037, 0.0503, 0.0279], abs=1e-9)
    assert found.index(min(found)) == 1


@given(
    st.lists(st.floats(-0.1, 0.1), min_size=3, max_size=8),
    st.data(),
    st.sampled_from([-0.9, 0.6, 1.0]),
)
def test_land_suspected_is_the_one_that_was_misread(
    true: list[float], data: st.DataObject, by: float
) -> None:
    wrong = data.draw(st.integers(0, len(true) - 1))
    drawn = 10.0
    off = [
        suspicions.off_drawing(drawn + each + by * (number == wrong), drawn)
        for number, each in enumerate(true)
    ]
    said = [suspicions.land_suspected(each, *off, row_closure=by, verdict="OUT") for each in off]
    assert said == ["look first" if number == wrong else "" for number in range(len(true))]
    assert suspicions.land_suspected(off[wrong], *off, row_closure=by, verdict="UNSURE") == ""


@given(st.floats(-0.01, 0.05))
def test_off_drawing_is_the_closure_when_all_else_is_as_drawn(error: float) -> None:
    assert suspicions.off_drawing(10.0 + error, 10.0) == pytest.approx(error, abs=1e-12)


@given(st.floats(0.0, 0.1))
def test_beyond_drawing_counts_from_the_nearer_end(beyond: float) -> None:
    assert suspicions.beyond_drawing(10.696 + beyond, 10.694, 10.696) == pytest.approx(
        beyond, abs=1e-9
    )
    assert suspicions.beyond_drawing(10.694 - beyond, 10.694, 10.696) == pytest.approx(
        beyond, abs=1e-9
    )
    assert suspicions.beyond_drawing(10.695, 10.694, 10.696) == pytest.approx(-0.001, abs=1e-9)


@pytest.mark.parametrize(
    ("beyond", "said"),
    [
        ((0.02, 0.001, -0.001), "overall height"),
        ((0, 0.02, 0.001), "deck height"),
        ((-0.002, -0.001, 0.0), "axis to bottom"),
    ],
)
def test_height_suspected_is_the_farthest_from_its_drawing(
    beyond: tuple[float, float, float], said: str
) -> None:
    assert suspicions.height_suspected(*beyond, verdict="OUT") == said
    assert suspicions.height_suspected(*beyond, verdict="OK") == ""
