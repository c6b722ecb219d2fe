"""Temperature: worked by hand, and turned round."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations.temperature import at_reference

IRON, STEEL = (
    10.8e-6,
    11.5e-6,
)  # 1/degC: grey iron from memory, gauge steel as in the guide on uncertainty, H.1

lengths = st.floats(min_value=1, max_value=500)
temperatures = st.floats(min_value=-10, max_value=50)


@pytest.mark.parametrize(
    ("length", "warmer", "grown", "printed"),
    [
        (3.130, 10, 0.00034, 5e-6),
        (9.658, 12, 0.00125, 5e-6),
        (80.0, 6.5, 0.0056, 5e-5),
    ],  # inches, inches, mm
)
def test_at_reference_takes_off_what_iron_has_grown(
    length: float, warmer: float, grown: float, printed: float
) -> None:
    # arithmetic, derived; to half the last digit written
    assert length - at_reference(length, IRON, 20 + warmer, 20) == pytest.approx(grown, abs=printed)


def test_at_reference_for_iron_read_with_a_steel_gauge_leaves_only_their_difference() -> None:
    # arithmetic, derived: 80 mm, both at 25 degrees: the reading is 0.28 um short
    read = 80.0
    true_at_25 = read * (1 + STEEL * 5)
    assert at_reference(true_at_25, IRON, 25, 20) - read == pytest.approx(0.00028, abs=0.000005)


@given(lengths, temperatures)
def test_at_reference_of_a_part_at_the_reference_temperature_is_its_length(
    length: float, reference: float
) -> None:
    assert at_reference(length, IRON, reference, reference) == length


@given(lengths, temperatures, temperatures)
def test_at_reference_needs_only_the_difference(
    length: float, temperature: float, reference: float
) -> None:
    shifted = at_reference(length, IRON, temperature + 5, reference + 5)
    assert shifted == pytest.approx(at_reference(length, IRON, temperature, reference), abs=1e-9)


@given(lengths, st.floats(min_value=-5, max_value=45))
def test_at_reference_there_and_back_is_within_a_tenth_of_a_micrometre_in_a_metre(
    length: float, warm: float
) -> None:
    there = at_reference(length, IRON, warm, 20)
    assert at_reference(there, IRON, 20, warm) == pytest.approx(length, abs=1e-7 * length)
