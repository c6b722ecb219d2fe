"""The words of an equation: each has two meanings, and the two agree in every engine.

Sources: rounding of ties as measured in seven programs (INTEROP, 1.005 to 1.01 and the like); the
engines themselves.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from case_book import CaseBook, Entry, Question
from datumbook.formulas import functions as words
from datumbook.formulas import tree as trees
from datumbook.formulas.kinds import Angle, Count, Length, Words
from datumbook.formulas.ties import rounded_to_even
from datumbook.formulas.tree import Call, Cell
from engines import EngineError, Results, Value
from strategies import Example, collected, words_in

EXAMPLES = 600

NAN = math.nan


# --- random expressions


@cache
def random_examples() -> list[Example]:
    return collected(EXAMPLES)


def expected(example: Example) -> Value:
    """What the plain function gives: a number, "" for blank, an error where it breaks down."""
    try:
        value = example.worked()
    except (ZeroDivisionError, ValueError):
        return EngineError()
    return "" if value is None else value


def test_the_plain_function_and_the_formula_agree_on_random_expressions(
    engine: Callable[[Path], Results], tmp_path: Path
) -> None:
    examples = random_examples()
    book = CaseBook([example.question() for example in examples])
    found = book.answers(engine(book.write(tmp_path / "random.xlsx")))
    apart = [
        (formula, example.sizes, value, expected(example))
        for example, formula, value in zip(examples, book.formulas, found, strict=True)
        if not agree(value, expected(example), 1e-12 * example.watch.largest)
    ]
    assert not apart


def agree(shown: Value, value: Value, within: float) -> bool:
    if isinstance(value, float):
        return isinstance(shown, float | int) and abs(shown - value) <= within
    return shown == value


def test_the_random_expressions_reach_every_word_blanks_and_errors() -> None:
    examples = random_examples()
    used = set().union(*(words_in(example.expression) for example in examples))
    assert used >= {
        "+",
        "-",
        "*",
        "/",
        "**",
        "abs",
        "largest",
        "smallest",
        "total",
        "mean",
        "total_of_squares",
        "square_root",
        "rounded",
        "where",
        "at_most",
        "at_least",
        "less_than",
        "more_than",
        "all_of",
        "any_of",
        "equal",
        "next_size_up",
    }
    kinds = [type(expected(example)) for example in examples]
    assert kinds.count(str) > 10
    assert kinds.count(EngineError) > 3
    assert any(one.value == 0 for example in examples for one in example.sizes)


# --- rounding


@pytest.mark.parametrize(
    ("value", "digits", "result"),
    [
        (1.005, 2, 1.01),
        (2.675, 2, 2.68),
        (-2.5, 0, -3.0),
        (0.285, 2, 0.29),
        (0.5, 0, 1.0),
        (1234.5, -2, 1200.0),
    ],
)
def test_half_up_rounds_the_published_ties_away_from_zero(
    value: float, digits: int, result: float
) -> None:
    assert words.half_up(value, digits) == result


@given(st.integers(-(10**9), 10**9), st.integers(0, 4), st.integers(0, 4))
def test_half_up_is_decimal_rounding_of_the_number_as_it_is_written(
    whole: int, places: int, digits: int
) -> None:
    written = Decimal(whole).scaleb(-places)
    rounded = written.quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP)
    assert words.half_up(float(written), digits) == float(rounded)


@given(
    st.floats(min_value=-1e300, max_value=1e300) | st.sampled_from((NAN, math.inf)),
    st.integers(-3, 12),
)
def test_half_up_never_breaks_down_and_moves_no_number_by_more_than_half_a_step(
    value: float, digits: int
) -> None:
    found = words.half_up(value, digits)
    if math.isfinite(value):
        assert abs(found - value) <= 0.5 * 10.0**-digits + 1e-14 * abs(value)
    else:
        assert found is value


def test_ties_are_rounded_alike_by_every_engine(
    engine: Callable[[Path], Results], tmp_path: Path
) -> None:
    def to_thousandth(size: Length) -> Length:
        return words.rounded(size, "in", 3)

    ties = [(step + 0.5) / 1000 for step in range(0, 4000, 13)]
    mixed = [Entry(float(f"{tie:.10g}"), "in") for tie in ties]
    book = CaseBook([Question(to_thousandth, {"size": entry}, "in") for entry in mixed])
    found = book.answers(engine(book.write(tmp_path / "ties.xlsx")))
    wanted = [words.half_up(float(entry.value or 0), 3) for entry in mixed]
    assert found == pytest.approx(wanted, abs=1e-12)


def test_ties_are_rounded_to_even_alike_by_every_engine(
    engine: Callable[[Path], Results], tmp_path: Path
) -> None:
    def to_thousandth(size: Length) -> Length:
        return rounded_to_even(size, "in", 3)

    # ties, what lies a ten-millionth beside them, and sums that are short of one by a last bit
    ties = [(2 * step + 1) * 5 / 10000 for step in range(0, 4000, 29)]
    near = [tie + beside for tie in ties[:40] for beside in (-1e-7, 1e-7)]
    sums = [0.7977 + 0.0158, 0.9227 + 0.0158, 0.1449 + 0.0106, 0.0001 + 0.0004]
    mixed = [Entry(value, "in") for value in (*ties, *near, *sums)]
    book = CaseBook([Question(to_thousandth, {"size": entry}, "in") for entry in mixed])
    found = book.answers(engine(book.write(tmp_path / "even.xlsx")))
    exact = [Decimal(f"{entry.value:.10g}") for entry in mixed]
    wanted = [float(value.quantize(Decimal("0.001"), ROUND_HALF_EVEN)) for value in exact]
    assert found == pytest.approx(wanted, abs=1e-12)
    assert [rounded_to_even(float(entry.value or 0) * 25.4, "in", 3) / 25.4 for entry in mixed] == (
        pytest.approx(wanted, abs=1e-12)
    )


@given(st.integers(0, 40_000))
def test_rounding_in_inches_survives_the_way_through_millimetres(half_tenths: int) -> None:
    inches = float(f"{half_tenths * 0.00005:.10g}")
    found = words.from_coherent(words.rounded(words.to_coherent(inches, "in"), "in", 4), "in")
    assert found == pytest.approx(words.half_up(inches, 4), abs=1e-12)


# --- comparisons


@given(st.integers(-(10**7), 10**7), st.integers(-(10**5), 10**5))
def test_a_size_exactly_on_a_limit_is_on_it_however_the_limit_was_reached(
    tenths: int, more: int
) -> None:
    size, limit = (tenths + more) / 10_000, tenths / 10_000 + more / 10_000
    assert words.at_most(size, limit)
    assert words.at_least(size, limit)
    assert not words.less_than(size, limit)
    assert not words.more_than(size, limit)


@given(st.integers(-(10**7), 10**7), st.integers(1, 10**5))
def test_a_size_one_step_beyond_a_limit_is_beyond_it(tenths: int, more: int) -> None:
    size, limit = (tenths + more) / 10_000, tenths / 10_000
    assert words.more_than(size, limit)
    assert words.less_than(limit, size)
    assert not words.at_most(size, limit)
    assert not words.at_least(limit, size)


# --- words that stand for cells


def test_words_of_missing_numbers_skip_them() -> None:
    assert words.total(1.0, NAN, 2.0) == 3.0
    assert words.numbers_in(1.0, NAN) == 1.0
    assert words.nth_largest(2.0, 5.0, NAN, 7.0) == 5.0
    assert words.missing(NAN)
    assert not words.missing(0.0)


def test_words_are_compared_whatever_their_capitals_as_spreadsheets_do() -> None:
    assert words.equal("Done", "done")
    assert words.cells_saying("done", "DONE", "done ", "") == 1.0
    assert words.blank("")
    assert not words.blank(" ")


def test_the_words_over_groups_agree_in_every_engine(
    engine: Callable[[Path], Results], tmp_path: Path
) -> None:
    def said(*ticks: Words) -> Count:
        return words.cells_saying("done", *ticks)

    def second(*sizes: Length) -> Length:
        return words.nth_largest(2, *sizes)

    def where_is(size: Length, *sizes: Length) -> Count:
        return words.position_of(size, *sizes)

    def third(*names: Words) -> Words:
        return words.pick(3, *names)

    def slope(angle: Length, run: Length) -> Length:
        return run * words.tangent(words.taken_as(angle / run, Angle))

    def steep(rise: Length, run: Length) -> Angle:
        return words.arctangent(rise / run)

    def shadow(length: Length, angle: Angle) -> Length:
        return length * words.cosine(angle)

    def rise(length: Length, angle: Angle) -> Length:
        return length * words.sine(angle)

    ticks = [Entry(word, None) for word in ("done", "Done", " done", None, "not done", "DONE")]
    sizes = [Entry(size, "mm") for size in (82.0, 82.5, 81.25, 82.5)]
    questions = [
        Question(said, {"ticks": ticks}, "count"),
        Question(second, {"sizes": sizes}, "mm"),
        Question(second, {"sizes": sizes}, "in"),
        Question(where_is, {"size": Entry(81.25, "mm"), "sizes": sizes}, "count"),
        Question(third, {"names": ticks}, None),
        Question(slope, {"angle": Entry(1.0, "mm"), "run": Entry(2.0, "mm")}, "mm"),
        Question(shadow, {"length": Entry(2.0, "in"), "angle": Entry(60.0, "deg")}, "in"),
        Question(shadow, {"length": Entry(2.0, "in"), "angle": Entry(-2.5, "rad")}, "mm"),
        Question(rise, {"length": Entry(2.0, "in"), "angle": Entry(30.0, "deg")}, "in"),
        Question(steep, {"rise": Entry(1.0, "in"), "run": Entry(25.4, "mm")}, "deg"),
        Question(steep, {"rise": Entry(-1.0, "mm"), "run": Entry(2.0, "mm")}, "rad"),
    ]
    book = CaseBook(questions)
    found = book.answers(engine(book.write(tmp_path / "groups.xlsx")))
    assert found[:2] == [3.0, 82.5]
    assert found[2] == pytest.approx(82.5 / 25.4)
    assert found[3:5] == [3.0, " done"]
    assert found[5] == pytest.approx(2 * math.tan(0.5))
    assert found[6:] == pytest.approx([1.0, 50.8 * math.cos(2.5), 1.0, 45.0, math.atan(-0.5)])


def test_next_size_up_is_the_first_size_not_below_the_need_and_blank_beyond_the_last() -> None:
    sizes = (82.25, 82.5, 82.75)
    assert words.next_size_up(82.25, *sizes) == 82.25
    assert words.next_size_up(82.2500001, *sizes) == 82.5
    assert words.next_size_up(82.7500001, *sizes) is None


def test_only_where_is_the_value_or_nothing() -> None:
    assert words.only_where(words.at_most(1.0, 2.0), 3.0) == 3.0
    assert words.only_where(words.at_most(2.0, 1.0), 3.0) is None


def test_a_word_called_with_a_cell_makes_a_call_of_its_spreadsheet_name() -> None:
    size = Cell("size", "mm")
    assert isinstance(words.largest(size, 3.0), Call)
    assert words.largest(size, 3.0).name == "MAX"  # type: ignore[attr-defined]
    assert isinstance(words.at_most(size, 3.0), trees.Test)
    assert words.largest(2.0, 3.0) == 3.0


def test_an_empirical_equation_turns_its_arguments_into_its_own_units_on_both_roads(
    engine: Callable[[Path], Results], tmp_path: Path
) -> None:
    @words.empirical(size="in", gives="in")
    def pull(size: Length) -> Length:
        return 0.001 * size**0.5 + 0.01

    assert words.from_coherent(pull(25.4 * 4), "in") == pytest.approx(0.012)
    book = CaseBook(
        [
            Question(pull, {"size": Entry(25.4 * 4, "mm")}, "in"),
            Question(pull, {"size": Entry(4, "in")}, "mm"),
        ]
    )
    assert book.formulas[1] == 'IF(COUNT(B2)=1,(0.001*(B2)^(0.5)+0.01)*25.4,"")'
    assert book.answers(engine(book.write(tmp_path / "pull.xlsx"))) == pytest.approx(
        [0.012, 0.012 * 25.4]
    )
