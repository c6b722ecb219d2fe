"""Every equation that gives a number meets a number from outside, and whoever holds it notices."""

from __future__ import annotations

from pathlib import Path

import pytest

from datumbook.equations import lands
from datumbook.formulas.kinds import Length
from witnesses import (
    ROADS,
    Witness,
    equations,
    notices,
    numeric,
    printed,
    unwitnessed,
    witness,
    witnesses,
    witnesses_in,
)


def test_every_equation_that_gives_a_number_meets_one_from_outside() -> None:
    wanting = unwitnessed(numeric(), witnesses(), printed())
    assert wanting == [], (
        "give each a published case that somebody printed, or a test that comes to its number by "
        "another road, marked @witness"
    )


@pytest.mark.parametrize(
    "held", [pytest.param(one, id=f"{one.equation}-{one.test}") for one in witnesses()]
)
def test_a_witness_notices_its_equation_a_little_off(held: Witness) -> None:
    assert held.by in ROADS
    assert held.equation in numeric(), "no equation that gives a number"
    assert notices(held)


def width_of_nothing(width: Length) -> Length:
    """An equation without an outside number."""
    return width


def width_in_words(width: Length) -> str:
    """An equation that gives words needs none."""
    return f"{width}"


def test_an_equation_without_a_number_from_outside_is_told() -> None:
    planted = {"width_of_nothing": width_of_nothing}
    found = unwitnessed(numeric(dict(equations()) | planted), witnesses(), printed())
    assert found == sorted(planted)


SAME_AGAIN = """
@witness(lands.offset, by="coordinates")
def test_offset() -> None:
    assert True


@witness(lands.bore_pitch, lands.offset, by="counting")
def test_two() -> None:
    assert lands.bore_pitch(3.0, 1.0) == len(range(1, 3))
    assert lands.offset(3.0, 1.0) == len(range(1, 3))
"""


def test_a_witness_that_looks_at_nothing_is_told(tmp_path: Path) -> None:
    path = tmp_path / "test_planted.py"
    head = "from datumbook.equations import lands\nfrom witnesses import witness\n"
    path.write_text(head + SAME_AGAIN, "utf-8")
    found = list(witnesses_in(path))
    assert [(one.test, one.equation, one.by) for one in found] == [
        ("test_offset", "offset", "coordinates"),
        ("test_two", "bore_pitch", "counting"),
        ("test_two", "offset", "counting"),
    ]
    assert [notices(one) for one in found] == [False, True, True]
    assert lands.offset(3.0, 1.0) == 2.0, "put right again"


def test_what_is_worked_by_hand_is_no_number_from_outside() -> None:
    assert "spindle_speed" in printed()
    assert not {"boring_offset", "plane_slope"} & printed()


def test_a_witness_without_a_road_is_refused() -> None:
    with pytest.raises(ValueError, match="a road of coordinates"):
        witness(lands.offset, by="the same expression")
