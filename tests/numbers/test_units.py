"""The unit border: every row of the table against pint's own registry, exactly, and refusals that
name both units.

Sources: pint's registry (counted there in decimals of 60 digits); temperature scales by definition.
"""

from __future__ import annotations

import decimal
import tomllib
from decimal import Decimal
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

import datumbook.standards
from datumbook.numbers.units import (
    BASES,
    ROOTS,
    UnitError,
    coherent_word,
    convert,
    dimension_text,
    exponents,
    factor,
    from_coherent,
    shown,
    to_coherent,
    unit,
)

TABLE = tomllib.loads(Path(datumbook.standards.__file__).with_name("units.toml").read_text("utf-8"))
ROWS: dict[str, list[str]] = TABLE["words"]
SCALES = {word for word, row in ROWS.items() if len(row) == 3}

ROOT_OF = {root: base for base, (root, _) in ROOTS.items()}
TURN = Decimal("6.28318530717958647692528676655900576839433879875")  # 2 pi

words = st.sampled_from(sorted(ROWS))
known = st.sampled_from(sorted({**ROWS, **TABLE["aliases"]}))
numbers = st.floats(min_value=-1e6, max_value=1e6)


@cache
def registry() -> Any:
    with decimal.localcontext(prec=60):  # what it works out when it is made, it keeps
        return pint.UnitRegistry(non_int_type=Decimal)


def of_pint(word: str) -> tuple[Decimal, dict[str, int]]:
    """Return pint's factor to millimetre, tonne, second, kelvin, radian and one counted, and the
    powers of its root units: to pint an angle has no dimension, but a root unit of its own.
    """
    asked = registry().Quantity(Decimal(1), word or "dimensionless").to_root_units()
    powers = {ROOT_OF[root]: int(power) for root, power in asked.unit_items()}
    coherent = Decimal(1000) ** powers.get("[length]", 0) / Decimal(1_000_000) ** powers.get(
        "[mass]", 0
    )
    return asked.magnitude * coherent, powers


def roots_of(word: str) -> set[str]:
    """Return the root units that pint brings a word of its own down to; none for a name that it
    lists and cannot work out.
    """
    try:
        return {root for root, _ in registry().Quantity(1, word).to_root_units().unit_items()}
    except (pint.PintError, ValueError, TypeError):
        return set()


@pytest.mark.parametrize("word", sorted(set(ROWS) - SCALES))
def test_every_row_is_what_pint_says(word: str) -> None:
    with decimal.localcontext(prec=60):
        theirs, powers = of_pint(word)
        ours = Decimal(unit(word).factor.numerator) / Decimal(unit(word).factor.denominator)
        digits = Decimal("1e-20") if word == "deg" else Decimal("1e-25")  # it may keep 28
        assert abs(ours / theirs - 1) <= digits
    assert unit(word).exponents == tuple(Fraction(powers.get(base, 0)) for base in BASES)


@pytest.mark.parametrize("word", sorted(SCALES))
@pytest.mark.parametrize("reading", ["-40", "0", "20", "68", "212"])
def test_every_temperature_scale_is_what_pint_says(word: str, reading: str) -> None:
    theirs = registry().Quantity(Decimal(reading), word).to("degC").magnitude
    assert to_coherent(float(reading), word) == pytest.approx(float(theirs), abs=1e-12)


@pytest.mark.parametrize(("alias", "word"), sorted(TABLE["aliases"].items()))
def test_every_alias_is_the_unit_it_stands_for_and_no_row_of_its_own(alias: str, word: str) -> None:
    assert unit(alias) == unit(word)
    assert word in ROWS
    assert alias not in ROWS


@pytest.mark.parametrize(
    ("word", "dimension", "value"),
    [
        ("yard", "[length]", Fraction("914.4")),
        ("kgf", "[mass] * [length] / [time] ** 2", Fraction("9.80665")),
        ("bar", "[mass] / [length] / [time] ** 2", Fraction("0.1")),
        ("hour", "[time]", Fraction(3600)),
        ("liter", "[length] ** 3", Fraction(1_000_000)),
        ("kgf*cm", "[mass] * [length] ** 2 / [time] ** 2", Fraction("98.0665")),
        ("hertz", "1 / [time]", Fraction(1)),
        ("turn", "[angle]", Fraction("6.283185307179586")),
        ("gon", "[angle]", Fraction("0.015707963267948967")),
        ("arcmin", "[angle]", Fraction("0.0002908882086657216")),
    ],
)
def test_a_word_that_is_not_in_the_table_is_asked_of_pint(
    word: str, dimension: str, value: Fraction
) -> None:
    assert word not in ROWS
    assert unit(word).exponents == exponents(dimension)
    assert float(unit(word).factor) == pytest.approx(float(value), rel=1e-14)


# --- refusals


@pytest.mark.parametrize(
    ("word", "near"), [("mmm", "mm"), ("inche", "inch"), ("lbft", "lb-ft"), ("degc", "degC")]
)
def test_a_word_that_is_no_unit_is_refused_with_the_nearest(word: str, near: str) -> None:
    with pytest.raises(
        UnitError, match=f'"{word}" is not a unit known here; did you mean'
    ) as refusal:
        unit(word)
    assert near in str(refusal.value)


@pytest.mark.parametrize("word", ["qqqqq", "mm mm)", "3 +", "__import__"])
def test_nonsense_is_refused_in_one_sentence(word: str) -> None:
    with pytest.raises(UnitError, match="is not a unit known here"):
        unit(word)


@pytest.mark.parametrize("word", ["ampere", "bit", "lumen", "sr", "deg/mm"])
def test_a_unit_of_something_no_block_is_measured_in_is_refused(word: str) -> None:
    with pytest.raises(UnitError, match="nothing on a block is measured in"):
        unit(word)


@pytest.mark.parametrize("word", ["kelvin", "degR", "delta_degC"])
def test_a_temperature_scale_with_another_zero_is_refused_with_those_that_are_known(
    word: str,
) -> None:
    with pytest.raises(
        UnitError, match=f'"{word}" is a temperature scale not known here; write degC or degF'
    ):
        unit(word)


def test_units_that_cannot_meet_are_refused_naming_both() -> None:
    with pytest.raises(
        UnitError, match=r'"mm" \(\[length\]\) cannot be turned into "" \(a bare number\)'
    ):
        factor("mm", "")
    with pytest.raises(UnitError, match=r'"in" \(\[length\]\) cannot be turned into "N\*m"'):
        convert(1.0, "in", "N*m")


# --- turns, angles and counts


# identity: a minute has 60 seconds and a turn is a turn, whatever it is called
@pytest.mark.parametrize("word", ["rpm", "RPM", "rev/min", "r/min", "turn/min", "turns/min"])
def test_a_turn_in_a_minute_is_one_thing_under_all_its_names(word: str) -> None:
    assert unit(word) is unit("1/min")
    assert convert(60.0, word, "rps") == convert(60.0, word, "rev/s") == 1.0


@pytest.mark.parametrize("word", ["rpm", "rps", "turn/min"])
def test_where_pint_makes_a_turn_an_angle_the_table_differs_from_it_by_one_turn(word: str) -> None:
    with decimal.localcontext(prec=40):
        theirs, powers = of_pint(word)
        ours = Decimal(unit(word).factor.numerator) / Decimal(unit(word).factor.denominator)
        assert abs(theirs / ours / TURN - 1) < Decimal("1e-30")
    assert powers == {"[angle]": 1, "[time]": -1}
    assert unit(word).exponents == exponents("1 / [time]")


@pytest.mark.parametrize(
    ("word", "instead"),
    [
        *((word, "rev/min") for word in ("rad/s", "radians/min", "deg/s", "revolution/min")),
        *((word, "rev/min") for word in ("cycle/s", "revolutions_per_minute", "counts/s", "Bq")),
        ("mm/turn", "mm"),
        ("inch/revolution", "mm"),
        ("N*m/rad", "N·mm"),
        ("mm*count", "mm"),
        *sorted(TABLE["refused"].items()),
    ],
)
def test_a_word_that_hides_an_angle_or_a_count_is_refused_with_the_word_to_use(
    word: str, instead: str
) -> None:
    with pytest.raises(UnitError) as refusal:
        unit(word)
    assert str(refusal.value).endswith(f"write {instead}.")
    assert refusal.value.instead == instead
    assert all(unit(one).word for one in instead.split(" or "))


@pytest.mark.parametrize(
    ("one", "other"), [("rad", ""), ("deg", "%"), ("count", ""), ("deg", "count")]
)
def test_angle_count_and_ratio_are_never_turned_into_one_another(one: str, other: str) -> None:
    for here, there in ((one, other), (other, one)):
        with pytest.raises(UnitError, match=f'"{here}" .* cannot be turned into "{there}"'):
            factor(here, there)


def test_every_angle_hidden_in_pint_s_own_words_is_known_as_one_or_refused() -> None:
    hiding = {word for word in registry() if {"radian", "count"} & roots_of(word)}
    assert {"rpm", "rps", "turn", "gon", "cycle", "mil", "becquerel"} <= hiding
    plain = {exponents("[angle]"), exponents("[count]")}
    for word in hiding - set(TABLE["aliases"]):
        try:
            known = unit(word)
        except UnitError as error:
            refused = error
        else:
            assert known.exponents in plain
            continue
        assert refused.instead or "nothing on a block is measured in" in str(refused)


# --- conversions


@given(numbers, words, words)
def test_there_and_back_is_where_it_began(value: float, here: str, there: str) -> None:
    if unit(here).exponents == unit(there).exponents:
        assert convert(convert(value, here, there), there, here) == pytest.approx(
            value, rel=1e-13, abs=1e-10
        )
    else:
        with pytest.raises(UnitError):
            convert(value, here, there)


@given(numbers, words)
def test_through_the_coherent_set_and_back(value: float, word: str) -> None:
    assert from_coherent(to_coherent(value, word), word) == pytest.approx(
        value, rel=1e-14, abs=1e-11
    )


@given(numbers, known)
def test_every_word_known_goes_through_its_row_and_back(value: float, word: str) -> None:
    row = TABLE["aliases"].get(word, word)
    assert unit(word) is unit(row)
    assert convert(value, word, row) == pytest.approx(value, rel=1e-14, abs=1e-11)
    assert from_coherent(to_coherent(value, word), row) == pytest.approx(
        value, rel=1e-14, abs=1e-11
    )


@given(numbers, words, words)
def test_both_ways_of_converting_agree(value: float, here: str, there: str) -> None:
    if unit(here).exponents == unit(there).exponents:
        through = from_coherent(to_coherent(value, here), there)
        assert convert(value, here, there) == pytest.approx(through, rel=1e-13, abs=1e-10)


@pytest.mark.parametrize(
    ("value", "here", "there", "result"),
    [
        (1.0, "in", "mm", 25.4),
        (25.4, "mm", "in", 1.0),
        (68.0, "degF", "degC", 20.0),
        (-40.0, "degC", "degF", -40.0),
        (100.0, "ft/min", "m/min", 30.48),
        (1.0, "thou", "um", 25.4),
        (180.0, "deg", "rad", 3.141592653589793),
    ],
)
def test_conversions_known_by_definition(
    value: float, here: str, there: str, result: float
) -> None:
    assert convert(value, here, there) == pytest.approx(result, rel=1e-15)


def test_an_expansion_is_turned_as_a_difference_of_temperatures() -> None:
    assert convert(10.8e-6, "1/degC", "1/degF") == pytest.approx(6e-6)


# --- how units multiply and print


def test_units_multiply_divide_and_take_roots() -> None:
    inch, mm = unit("in"), unit("mm")
    assert (inch * mm).factor == Fraction("25.4")
    assert (inch / inch).exponents == unit("").exponents
    assert (inch ** Fraction(2)).factor == unit("in**2").factor
    assert float((unit("in**2") ** Fraction(1, 2)).factor) == pytest.approx(25.4, rel=1e-15)
    assert (unit("in**2") ** Fraction(1, 2)).dimension == "[length]"


@pytest.mark.parametrize("dimension", sorted({row[0] for row in ROWS.values()}))
def test_a_dimension_is_read_back_as_it_is_written(dimension: str) -> None:
    assert exponents(dimension_text(exponents(dimension))) == exponents(dimension)
    assert unit(coherent_word(dimension)).factor == 1


def test_units_are_printed_for_a_person() -> None:
    assert [shown(word) for word in ("1/min", "degC", "N*m", "in**2", "cm**3", "mm", "")] == [
        "rev/min",
        "°C",
        "N·m",
        "in²",
        "cm³",
        "mm",
        "",
    ]
