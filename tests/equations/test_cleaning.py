"""Cleaning: what is a record and what is residue; a strength that is misprinted."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import cleaning
from datumbook.equations.verdicts import NOTHING_ASKED, OK, OPEN, OUT
from datumbook.numbers.units import convert

acidity = st.floats(0, 14)


@given(acidity, acidity)
def test_residue_off_is_nothing_just_where_a_rinse_is_clean(rinse: float, tap: float) -> None:
    clean = 6 <= rinse <= 8 or tap - 0.5 <= rinse <= tap + 0.5
    assert (cleaning.residue_off(rinse, tap) == 0) == clean
    assert (cleaning.residue_off(rinse, float("nan")) == 0) == (6 <= rinse <= 8)


@pytest.mark.parametrize(
    ("bath", "first", "further"),
    [("hot alkali", OUT, OUT), ("mild alkali", OK, OK), ("", OPEN, NOTHING_ASKED)],
)
def test_verdict_of_bath_and_verdict_of_further_bath(bath: str, first: str, further: str) -> None:
    attacking = ("hot alkali", "-", "inhibited acid")
    assert cleaning.verdict_of_bath(bath, *attacking) == first
    assert cleaning.verdict_of_further_bath(bath, *attacking) == further


def test_verdict_of_film_waits_for_all_three() -> None:
    written = ("light oil", "2026-05-12", "2026-06-12")
    assert cleaning.verdict_of_film(*written) == OK
    for place in range(3):
        assert cleaning.verdict_of_film(*written[:place], "", *written[place + 1 :]) == OPEN


def test_a_strength_misprinted_is_known_by_its_other_unit() -> None:
    # UFC 3-240-13FN prints 1 % as 8 lb in 100 gal, or 3.6 kg in 38 L: that is ten times as much
    litre = 1.0  # kg of water
    gallons = 100 * convert(231, "in**3", "cm**3") / 1000
    pounds = 8 * 0.45359237
    assert 100 * pounds / (gallons * litre) == pytest.approx(0.96, abs=0.005)
    assert 100 * 3.6 / (38 * litre) == pytest.approx(9.5, abs=0.05)
