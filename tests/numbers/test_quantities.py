from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from datumbook.numbers.quantities import (
    KINDS,
    NUMBER_PATTERN,
    UNIT_PATTERN,
    QuantityFault,
    number_text,
    read_number,
    read_quantity,
)
from long_runs import examples

TORQUE = "[mass] * [length] ** 2 / [time] ** 2"

# as a mechanic writes it, dimension, exact number, unit, decimals; common practice, no source
WRITTEN = [
    ("2 3/8 in", "[length]", Fraction(19, 8), "in", 0),
    ("1-1/4 in", "[length]", Fraction(5, 4), "in", 0),
    ('3 1/2"', "[length]", Fraction(7, 2), "in", 0),
    ("3½ in", "[length]", Fraction(7, 2), "in", 0),
    ("-1 1/4 in", "[length]", Fraction(-5, 4), "in", 0),
    ("1/4 in", "[length]", Fraction(1, 4), "in", 0),
    ("81.0 mm", "[length]", Fraction(81), "mm", 1),
    (".0005 in", "[length]", Fraction(1, 2000), "in", 4),
    ("−0.05 mm", "[length]", Fraction(-1, 20), "mm", 2),
    ("1\u202f3/8\u00a0in", "[length]", Fraction(11, 8), "in", 0),
    ("0.002in", "[length]", Fraction(1, 500), "in", 3),
    ("12 thou", "[length]", Fraction(12), "thou", 0),
    ("0.20", "", Fraction(1, 5), "", 2),
    ("45 deg", "[angle]", Fraction(45), "deg", 0),
    ("90°", "[angle]", Fraction(90), "deg", 0),
    ("4", "[count]", Fraction(4), "count", 0),
    ("764 rpm", "1 / [time]", Fraction(764), "1/min", 0),
    ("12.7 rev/s", "1 / [time]", Fraction("12.7"), "1/s", 1),
    ("42 lb-ft", TORQUE, Fraction(42), "lbf*ft", 0),
    ("10.8e-6 1/degC", "1 / [temperature]", Fraction(108, 10**7), "1/degC", 7),
    ("3 1/degC", "1 / [temperature]", Fraction(3), "1/degC", 0),
    ("20 °C", "[temperature]", Fraction(20), "degC", 0),
]

REFUSED = [
    ("1,5 mm", "[length]", "decimal-comma", '"1.5 mm"'),
    ("1,500", None, "decimal-comma", '"1.500" or "1500"'),
    ("1.234,5 mm", "[length]", "decimal-comma", "no mark between thousands"),
    ("3/0 in", "[length]", "zero-denominator", "3/8 in"),
    ("2 9/8 in", "[length]", "mixed-fraction", '"3 1/8 in"'),
    ("±0.002 in", "[length]", "plus-minus", 'from = "-0.002 in", to = "0.002 in"'),
    ("+/-0.002 in", "[length]", "plus-minus", 'plus = "0.002 in"'),
    ("0.005", "[length]", "no-unit", '"0.005 in" or "0.005 mm"'),
    ("45", "[angle]", "no-unit", '"45 deg" or "45 rad"'),
    ("0.2 deg", "", "unit-not-wanted", '"0.2"'),
    ("0.2", "[angle]", "no-unit", '"0.2 deg" or "0.2 rad"'),
    ("50 %", "[count]", "unit-not-wanted", 'Write "50"'),
    ("4 deg", "[count]", "unit-not-wanted", 'Write "4"'),
    ("80 rad/s", "1 / [time]", "misread-unit", "Write rev/min behind the number."),
    ("0.1 mm/rev", "[length]", "misread-unit", "Write mm behind the number."),
    ("5 mil", "[length]", "misread-unit", "Write thou or mm behind the number."),
    ("15 ft", TORQUE, "wrong-dimension", '"15 lbf*ft" or "15 N*m"'),
    ("0.005 foo", "[length]", "unknown-unit", '"0.005 in" or "0.005 mm"'),
    ("", "[length]", "not-a-quantity", "2 3/8 in"),
    ("1.2.3 mm", "[length]", "not-a-quantity", "2 3/8 in"),
    ("1 500 mm", "[length]", "not-a-quantity", "2 3/8 in"),
    ("5 in 3", "[length]", "not-a-quantity", "2 3/8 in"),
    ("1e999 mm", "[length]", "not-a-quantity", "2 3/8 in"),
    ("5 m**9**9", None, "not-a-quantity", "2 3/8 in"),
    ("٣ mm", "[length]", "not-a-quantity", "2 3/8 in"),
    ("9" * 70, None, "not-a-quantity", "2 3/8 in"),
]


@pytest.mark.parametrize(("text", "dimension", "number", "unit", "decimals"), WRITTEN)
def test_what_people_write_is_read_exactly(
    text: str, dimension: str, number: Fraction, unit: str, decimals: int
) -> None:
    read = read_quantity(text, dimension)
    assert (read.number, read.unit, read.decimals, read.text) == (number, unit, decimals, text)


@pytest.mark.parametrize(("text", "dimension", "code", "advice"), REFUSED)
def test_what_cannot_be_meant_is_refused_with_what_to_write(
    text: str, dimension: str | None, code: str, advice: str
) -> None:
    with pytest.raises(QuantityFault) as raised:
        read_quantity(text, dimension)
    assert raised.value.code == code
    assert advice in raised.value.remedy
    assert "\n" not in str(raised.value)


def test_a_refusal_of_another_dimension_names_both() -> None:
    with pytest.raises(
        QuantityFault, match='"42 lb-ft" is a torque, and a length is wanted here: write "42 in"'
    ):
        read_quantity("42 lb-ft", "[length]")


def test_a_bare_toml_number_is_refused_with_its_own_figure() -> None:
    with pytest.raises(QuantityFault) as raised:
        read_quantity(14, "[length]")  # type: ignore[arg-type]
    assert (raised.value.code, raised.value.remedy.endswith('"14 in" or "14 mm".')) == (
        "number-not-text",
        True,
    )


def test_a_number_is_read_without_a_unit_only() -> None:
    assert read_number("1-1/4") == (Fraction(5, 4), 0)
    assert read_number("10.8e-6") == (Fraction(108, 10**7), 7)
    with pytest.raises(QuantityFault, match="a bare number is wanted"):
        read_number("1 in")


# the inch is 25.4 mm exactly (international yard and pound agreement, 1959)
@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("2 3/8 in", "mm", 60.325),
        ("0.1 in", "mm", 2.54),
        ("68 degF", "degC", 20.0),
        ("-40 degC", "degF", -40.0),
        ("25.4 mm", "thou", 1000.0),
    ],
)
def test_conversion_is_exact_until_its_one_rounding(text: str, unit: str, value: float) -> None:
    assert read_quantity(text).to(unit) == value


def test_sums_are_exact_and_keep_the_first_unit() -> None:
    height, tolerance = read_quantity("14.250 in"), read_quantity("0.0508 mm")
    assert (height + tolerance).text == "14.252 in"
    assert (height - tolerance).number == Fraction("14.248")
    assert (-height).text == "-14.25 in"


@given(st.decimals(-99999, 99999, places=5), st.sampled_from(["mm", "in", ""]))
def test_a_decimal_comes_back_as_printed(number: Decimal, unit: str) -> None:
    read = read_quantity(f"{number:f} {unit}")
    assert (read.number, read.decimals, read.unit) == (Fraction(number), 5, unit)
    assert read_number(number_text(read.number))[0] == read.number


@given(
    st.integers(0, 999),
    st.integers(1, 64),
    st.data(),
    st.sampled_from(["", "-", "−"]),
    st.sampled_from(" -"),
)
def test_a_mixed_number_comes_back(
    whole: int, below: int, data: st.DataObject, sign: str, joint: str
) -> None:
    above = data.draw(st.integers(0, below - 1))
    number = read_number(f"{sign}{whole}{joint}{above}/{below}")[0]
    assert number == (whole + Fraction(above, below)) * (-1 if sign else 1)


@given(st.fractions())
def test_a_number_is_spelled_so_that_it_is_the_same_number(number: Fraction) -> None:
    assert Fraction(number_text(number)) == number


PIECES = [
    "1",
    "25",
    "3/8",
    "/",
    ".",
    ",",
    "-",
    "−",
    "±",
    " ",
    "\u2009",
    "e",
    "e-6",
    "in",
    "mm",
    "°",
    "½",
    '"',
    "0",
    "**",
    "{}",
]


@settings(max_examples=examples(300))
@given(
    st.one_of(st.text(max_size=70), st.lists(st.sampled_from(PIECES), max_size=8).map("".join)),
    st.sampled_from([None, *KINDS]),
)
def test_any_text_is_a_quantity_or_a_fault(text: str, dimension: str | None) -> None:
    told = ""
    try:
        read_quantity(text, dimension)
    except QuantityFault as fault:
        told = str(fault)
    assert told or re.fullmatch(rf"{NUMBER_PATTERN}({UNIT_PATTERN})?", text) or not text.isascii()


@pytest.mark.parametrize("written", WRITTEN)
def test_the_pattern_for_editors_lets_through_what_is_read(
    written: tuple[str, str, Fraction, str, int],
) -> None:
    text, dimension = written[:2]
    unit = UNIT_PATTERN if dimension not in ("", "[count]") else f"({UNIT_PATTERN})?"
    assert re.fullmatch(NUMBER_PATTERN + unit, text) or "½" in text
