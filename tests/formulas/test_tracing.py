"""Tracing: dimensions checked, a factor only where two units meet, and the guard the tree demands.

Source: 25.4 mm to the inch exactly (the international inch); temperature scales by definition.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest

from datumbook.equations.temperature import at_reference
from datumbook.formulas.functions import (
    arctangent,
    at_most,
    cells_saying,
    cosine,
    empirical,
    equal,
    largest,
    mean,
    missing,
    nth_largest,
    numbers_in,
    pick,
    position_of,
    rounded,
    square_root,
    taken_as,
    takes_blanks,
    tangent,
    total_of_squares,
    where,
)
from datumbook.formulas.kinds import (
    Angle,
    Area,
    Count,
    Length,
    Measure,
    Ratio,
    Temperature,
    Volume,
    Words,
)
from datumbook.formulas.spelling import Address, spell
from datumbook.formulas.tracing import DimensionError, called, parameters, trace
from datumbook.formulas.tree import Cell, Number, OfUnit

A_TO_F = {letter: Address("Cases", 1, place) for place, letter in enumerate("abcdef", 1)}


def spelled(equation: Callable[..., Any], gives: str | None, **units: str | None) -> str:
    """The formula of an equation over cells A1, B1 … of these units."""
    arguments = {
        name: Cell(letter, word)
        for (name, word), letter in zip(units.items(), "abcdef", strict=False)
    }
    return spell(trace(equation, arguments, gives), A_TO_F.__getitem__, "Cases")


def gap(one: Length, two: Length) -> Length:
    return one - two


def share(one: Length, two: Length) -> Ratio:
    return one / two


def face(one: Length, two: Length) -> Area:
    return one * two


def diagonal(one: Length, two: Length) -> Length:
    return square_root(total_of_squares(one, two))


def worst(one: Length, two: Length) -> Length:
    return largest(one, two)


def chosen(one: Length, two: Length) -> Length:
    return where(at_most(one, two), one, two)


GOLDEN: list[tuple[Callable[..., Any], str, tuple[str, str], str]] = [
    (gap, "mm", ("mm", "mm"), "A1-B1"),
    (gap, "in", ("in", "in"), "A1-B1"),
    (gap, "mm", ("mm", "in"), "A1-B1*25.4"),
    (gap, "in", ("in", "mm"), "A1-B1/25.4"),
    (gap, "in", ("mm", "mm"), "(A1-B1)/25.4"),
    (gap, "mm", ("in", "in"), "(A1-B1)*25.4"),
    (gap, "um", ("mm", "mm"), "(A1-B1)*1000"),
    (share, "", ("mm", "mm"), "A1/B1"),
    (share, "", ("in", "mm"), "A1/B1*25.4"),
    (share, "%", ("mm", "mm"), "A1/B1*100"),
    (face, "mm**2", ("mm", "mm"), "A1*B1"),
    (face, "in**2", ("mm", "mm"), "A1*B1/645.16"),
    (face, "mm**2", ("in", "mm"), "A1*B1*25.4"),
    (diagonal, "mm", ("mm", "mm"), "SQRT(SUM((A1)^(2),(B1)^(2)))"),
    (diagonal, "mm", ("mm", "in"), "SQRT(SUM((A1)^(2),(B1)^(2)*645.16))"),
    (worst, "mm", ("mm", "mm"), "MAX(A1:B1)"),
    (worst, "in", ("mm", "in"), "MAX(A1,B1*25.4)/25.4"),
    (chosen, "mm", ("mm", "mm"), "IF(ROUND(A1-B1,9)<=0,A1,B1)"),
    (chosen, "mm", ("mm", "in"), "IF(ROUND(A1-B1*25.4,9)<=0,A1,B1*25.4)"),
    (chosen, "in", ("mm", "mm"), "IF(ROUND(A1-B1,9)<=0,A1/25.4,B1/25.4)"),
]


@pytest.mark.parametrize(("equation", "gives", "units", "text"), GOLDEN)
def test_a_factor_stands_only_where_two_units_meet(
    equation: Callable[..., Any], gives: str, units: tuple[str, str], text: str
) -> None:
    found = spelled(equation, gives, one=units[0], two=units[1])
    assert found == f'IF(COUNT(A1:B1)=2,{text},"")'


def test_temperatures_are_turned_by_their_scales_and_differences_by_their_size() -> None:
    def warmer(now: Temperature, then: Temperature) -> Temperature:
        return now - then

    assert (
        spelled(warmer, "degC", now="degC", then="degF") == 'IF(COUNT(A1:B1)=2,A1-(B1-32)/1.8,"")'
    )


def test_a_size_brought_to_the_reference_temperature_in_mixed_units() -> None:
    names = dict(zip(parameters(at_reference)[0], ("mm", "1/degC", "degC", "degC"), strict=True))
    assert "25.4" not in spelled(at_reference, "mm", **names)
    assert spelled(at_reference, "in", **names).count("25.4") == 1


def test_two_temperatures_are_never_added_or_multiplied() -> None:
    def twice(now: Temperature, then: Temperature) -> Temperature:
        return now + then

    def product(now: Temperature, then: Temperature) -> Temperature:
        return now * then

    for equation in (twice, product):
        with pytest.raises(
            DimensionError, match=rf"{equation.__name__}: now and then: .*temperature"
        ):
            spelled(equation, "degC", now="degC", then="degC")


# --- what cannot meet


def test_a_cell_of_the_wrong_kind_is_refused_with_equation_argument_and_both_units() -> None:
    with pytest.raises(DimensionError, match=re.escape("gap wants two as [length]; b is in N*m.")):
        spelled(gap, "mm", one="mm", two="N*m")
    with pytest.raises(
        DimensionError, match=re.escape("gap wants one as [length]; a is in words.")
    ):
        spelled(gap, "mm", one=None, two="mm")
    with pytest.raises(
        DimensionError, match=re.escape("gap wants one as [length]; a is in a bare number.")
    ):
        spelled(gap, "mm", one="", two="mm")


def test_units_that_cannot_meet_inside_are_refused_with_equation_argument_and_both_units() -> None:
    def wrong(width: Length, plate: Area) -> Length:
        return width + plate

    with pytest.raises(
        DimensionError, match=re.escape("wrong: plate: in**2 cannot be turned into mm.")
    ):
        spelled(wrong, "mm", width="mm", plate="in**2")


def test_a_bare_number_is_not_a_length() -> None:
    def wrong(width: Length) -> Length:
        return width + 0.5

    with pytest.raises(
        DimensionError,
        match=re.escape("wrong: a number in it: a bare number cannot be turned into mm."),
    ):
        spelled(wrong, "mm", width="mm")


def test_a_result_of_another_kind_than_promised_is_refused() -> None:
    def promised(width: Length) -> Length:
        return width * width

    def said(width: Length) -> Words:
        return width  # type: ignore[return-value]

    with pytest.raises(
        DimensionError, match=re.escape("promised promises [length] and gives mm*mm.")
    ):
        spelled(promised, "mm", width="mm")
    with pytest.raises(DimensionError, match="said promises words"):
        spelled(said, "mm", width="mm")
    with pytest.raises(DimensionError, match="gap"):
        spelled(gap, "N", one="mm", two="mm")


def test_a_measured_power_of_a_measured_size_is_refused() -> None:
    def wrong(width: Length, power: Ratio) -> Length:
        return width**power

    with pytest.raises(DimensionError, match="known when the book is built"):
        spelled(wrong, "mm", width="mm", power="")


def test_any_measure_is_taken_in_one_unit_all_through() -> None:
    def same(value: Measure, low: Measure) -> Measure:
        return largest(value, low)

    assert spelled(same, "in", value="in", low="mm") == 'IF(COUNT(A1:B1)=2,MAX(A1,B1/25.4),"")'
    with pytest.raises(DimensionError, match="same: low: N cannot be turned into mm"):
        spelled(same, "mm", value="mm", low="N")


# --- an angle, a count and a ratio are three kinds


def scaled(size: Length, share: Ratio) -> Length:
    return size * share


def lean(size: Length, angle: Angle) -> Length:
    return size * tangent(angle)


def in_all(size: Volume, cylinders: Count) -> Volume:
    return size * taken_as(cylinders, Ratio)


def arc(radius: Length, angle: Angle) -> Length:
    return radius * taken_as(angle, Ratio)


def slant(rise: Length, run: Length) -> Angle:
    return taken_as(rise / run, Angle)


def steep(rise: Length, run: Length) -> Angle:
    return arctangent(rise / run)


@pytest.mark.parametrize(
    ("equation", "gives", "units", "text"),
    [
        (in_all, "cm**3", ("cm**3", "count"), "A1*B1"),
        (arc, "mm", ("mm", "rad"), "A1*B1"),
        (arc, "mm", ("mm", "deg"), "A1*B1*0.0174532925199433"),
        (slant, "rad", ("mm", "mm"), "A1/B1"),
        (slant, "rad", ("in", "mm"), "A1/B1*25.4"),
        (slant, "deg", ("mm", "mm"), "A1/B1*57.2957795130823"),
        (scaled, "mm", ("mm", "%"), "A1*B1*0.01"),
        (lean, "mm", ("mm", "deg"), "A1*TAN(B1*0.0174532925199433)"),
        (steep, "rad", ("mm", "mm"), "ATAN(A1/B1)"),
        (steep, "deg", ("in", "mm"), "ATAN(A1/B1*25.4)*57.2957795130823"),
    ],
)
def test_what_is_said_to_be_taken_as_another_kind_is_spelled_as_the_number_it_is(
    equation: Callable[..., Any], gives: str, units: tuple[str, str], text: str
) -> None:
    names = parameters(equation)[0]
    found = spelled(equation, gives, **dict(zip(names, units, strict=True)))
    assert found == f'IF(COUNT(A1:B1)=2,{text},"")'


@pytest.mark.parametrize(("unit", "named"), [("deg", "deg"), ("count", "a count"), ("rad", "rad")])
def test_a_ratio_is_not_given_an_angle_or_a_count(unit: str, named: str) -> None:
    message = f"scaled wants share as a bare number; b is in {named}."
    with pytest.raises(DimensionError, match=re.escape(message)):
        spelled(scaled, "mm", size="mm", share=unit)


@pytest.mark.parametrize(("unit", "named"), [("", "a bare number"), ("%", "%"), ("deg", "deg")])
def test_a_count_is_not_given_a_ratio_or_an_angle(unit: str, named: str) -> None:
    message = f"in_all wants cylinders as a count; b is in {named}."
    with pytest.raises(DimensionError, match=re.escape(message)):
        spelled(in_all, "cm**3", size="cm**3", cylinders=unit)


@pytest.mark.parametrize(
    ("unit", "named"), [("", "a bare number"), ("%", "%"), ("count", "a count")]
)
def test_an_angle_is_not_given_a_ratio_or_a_count(unit: str, named: str) -> None:
    message = f"lean wants angle as [angle]; b is in {named}."
    with pytest.raises(DimensionError, match=re.escape(message)):
        spelled(lean, "mm", size="mm", angle=unit)


def test_a_figure_put_in_is_held_to_its_kind_as_a_cell_is() -> None:
    given = {"size": Cell("a", "mm"), "share": OfUnit(Number(45.0), "deg")}
    with pytest.raises(
        DimensionError,
        match=re.escape("scaled wants share as a bare number; what is given is in deg."),
    ):
        trace(scaled, given, "mm")


def test_a_mix_inside_an_equation_is_refused_with_equation_argument_and_both() -> None:
    def sum_of(share: Ratio, angle: Angle) -> Ratio:
        return share + angle

    def less(angle: Angle, holes: Count) -> Angle:
        return angle - holes

    def worse(share: Ratio, holes: Count) -> Ratio:
        return largest(share, holes)

    def judged(angle: Angle, share: Ratio) -> Words:
        return where(at_most(angle, share), "in", "out")

    def chosen(angle: Angle, share: Ratio) -> Angle:
        return where(at_most(share, 1), angle, share)

    def sloped(share: Ratio, width: Length) -> Length:
        return width * tangent(share)

    def turned(holes: Count, width: Length) -> Length:
        return width * cosine(holes)

    def power(width: Ratio, holes: Count) -> Ratio:
        return width**holes

    def raised(angle: Angle) -> Angle:
        return angle + 1

    for equation, units, said in [
        (sum_of, ("", "deg"), "sum_of: angle: deg cannot be turned into a bare number."),
        (less, ("deg", "count"), "less: holes: a count cannot be turned into deg."),
        (worse, ("", "count"), "worse: holes: a count cannot be turned into a bare number."),
        (judged, ("rad", ""), "judged: share: a bare number cannot be turned into rad."),
        (chosen, ("deg", "%"), "chosen: share: % cannot be turned into deg."),
        (sloped, ("%", "mm"), "sloped: share: % cannot be turned into rad."),
        (turned, ("count", "mm"), "turned: holes: a count cannot be turned into rad."),
        (power, ("", "count"), "power: width and holes: a power must be a bare number."),
        (raised, ("deg",), "raised: a number in it: a bare number cannot be turned into deg."),
    ]:
        names = parameters(equation)[0]
        with pytest.raises(DimensionError, match=f"^{re.escape(said)}$"):
            spelled(equation, units[0], **dict(zip(names, units, strict=True)))


def test_a_root_of_an_angle_or_a_count_is_refused() -> None:
    def of_angle(angle: Angle) -> Ratio:
        return square_root(angle)

    def of_count(size: Length, repeats: Count) -> Length:
        return size / square_root(repeats)

    with pytest.raises(DimensionError, match=re.escape("of_angle: angle: there is no root of deg")):
        spelled(of_angle, "", angle="deg")
    with pytest.raises(
        DimensionError, match=re.escape("of_count: repeats: there is no root of a count")
    ):
        spelled(of_count, "mm", size="mm", repeats="count")


def test_a_result_that_turns_one_kind_into_another_unsaid_is_refused() -> None:
    def swept(size: Volume, cylinders: Count) -> Volume:
        return size * cylinders

    def carried(radius: Length, angle: Angle) -> Length:
        return radius * angle

    def leaning(rise: Length, run: Length) -> Angle:
        return rise / run

    def passed(share: Ratio) -> Count:
        return share

    for equation, units, said in [
        (swept, ("mm**3", "count"), "promises [length] ** 3 and gives mm**3*count."),
        (carried, ("mm", "deg"), "promises [length] and gives mm*deg."),
        (leaning, ("mm", "mm"), "promises [angle] and gives mm/mm."),
        (passed, ("",), "promises a count and gives a bare number."),
    ]:
        names = parameters(equation)[0]
        with pytest.raises(DimensionError, match=re.escape(f"{equation.__name__} {said}")):
            spelled(equation, units[0], **dict(zip(names, units, strict=True)))


def test_only_an_angle_a_count_and_a_ratio_are_taken_as_one_another() -> None:
    def bent(width: Length) -> Angle:
        return taken_as(width, Angle)

    def stretched(share: Ratio) -> Length:
        return taken_as(share, Length)

    for equation, unit, gives in [(bent, "mm", "deg"), (stretched, "", "mm")]:
        with pytest.raises(DimensionError, match=f"{equation.__name__}: .*only an angle, a count"):
            spelled(equation, gives, **{parameters(equation)[0][0]: unit})


def test_a_number_written_into_an_equation_counts_where_it_meets_a_count() -> None:
    def left(holes: Count) -> Count:
        return largest(0, holes - 1)

    def weighed(holes: Count, word: Words) -> Count:
        return where(equal(word, "done"), 100, 10) - holes

    assert spelled(left, "count", holes="count") == 'IF(COUNT(A1)=1,MAX(0,A1-1),"")'
    assert (
        spelled(weighed, "count", holes="count", word=None)
        == 'IF(COUNT(A1)=1,IF(B1="done",100,10)-A1,"")'
    )


def test_what_counts_cells_and_places_gives_a_count_and_takes_one() -> None:
    def there(*sizes: Length) -> Count:
        return numbers_in(*sizes)

    def ticked(*ticks: Words) -> Count:
        return cells_saying("done", *ticks)

    def place(size: Length, *sizes: Length) -> Count:
        return position_of(size, *sizes)

    def ranked(rank: Count, *sizes: Length) -> Length:
        return nth_largest(rank, *sizes)

    def worded(at: Count, *lines: Words) -> Words:
        return pick(at, *lines)

    sizes, lines = [Cell("b", "mm"), Cell("c", "mm")], [Cell("b", None), Cell("c", None)]
    trace(there, {"sizes": sizes}, "count")
    trace(ticked, {"ticks": lines}, "count")
    trace(place, {"size": Cell("a", "mm"), "sizes": sizes}, "count")
    trace(ranked, {"rank": Cell("a", "count"), "sizes": sizes}, "mm")
    trace(worded, {"at": Cell("a", "count"), "lines": lines}, None)
    for equation, group, gives in [
        (ranked, {"sizes": sizes}, "mm"),
        (worded, {"lines": lines}, None),
    ]:
        with pytest.raises(DimensionError, match=rf"{equation.__name__} wants \w+ as a count"):
            trace(equation, {parameters(equation)[0][0]: Cell("a", "")} | group, gives)


# --- the guard


def test_the_guard_counts_each_number_once_and_no_words() -> None:
    def spoken(word: Words, one: Length, two: Length) -> Length:
        return where(equal(word, "dry"), one * 2 + two, one)

    found = spelled(spoken, "mm", word=None, one="mm", two="mm")
    assert found == 'IF(COUNT(B1:C1)=2,IF(A1="dry",B1*2+C1,B1),"")'


def test_an_equation_that_takes_blanks_has_no_guard() -> None:
    @takes_blanks
    def there(one: Length) -> Words:
        return where(missing(one), "OPEN", "there")

    assert spelled(there, None, one="mm") == 'IF(COUNT(A1)=0,"OPEN","there")'


def test_rounding_and_empirical_equations_carry_their_own_unit() -> None:
    def printed(one: Length) -> Length:
        return rounded(one, "in", 4)

    @empirical(one="in", gives="in")
    def pull(one: Length) -> Length:
        return 0.0015 * one ** (1 / 3)

    assert spelled(printed, "mm", one="mm") == 'IF(COUNT(A1)=1,ROUND(ROUND(A1/25.4,9),4)*25.4,"")'
    assert (
        spelled(pull, "mm", one="mm")
        == 'IF(COUNT(A1)=1,0.0015*(A1/25.4)^(0.333333333333333)*25.4,"")'
    )


# --- calling by names


def test_a_group_stands_between_the_parameters_before_and_after_it() -> None:
    def middle(first: Length, *rest: Length, last: Length) -> Length:
        return mean(first, *rest, last)

    assert parameters(middle) == (("first",), "rest", ("last",))
    assert called(middle, {"rest": [2.0, 3.0], "last": 4.0, "first": 1.0}) == 2.5
