"""One printer: the digits of a cell, more beside a bound, limits in words that stand in one place.

Source: the expected texts are written by hand; the digits of a cell by exact decimals, halves away
from zero on 15 digits, as the spreadsheet programs round what they show.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

import datumbook
from datumbook.messages.refusals import spoken
from datumbook.numbers.printing import (
    NOT_LESS,
    NOT_MORE,
    Printer,
    figures,
    limits_in_words,
    signed,
    unit_in_words,
)
from datumbook.numbers.quantities import read_quantity
from datumbook.spec import limit

PACKAGE = Path(datumbook.__file__).parent
SIZES = st.floats(-1e6, 1e6, allow_nan=False)


@pytest.mark.parametrize(
    ("printer", "size", "printed"),
    [
        (Printer("mm", 3), 82.0145, "82.015 mm"),
        (Printer("mm", 3, 3), 82.0145, "82.0145 mm"),
        (Printer("mm", 3, 3), 82.0, "82.000 mm"),
        (Printer("mm", 3), 0.0005, "0.001 mm"),
        (Printer("mm", 3), -0.0004, "0.000 mm"),
        (Printer("", 2), 9.5, "9.50"),
        (Printer("%", 1), 75.35, "75.4 %"),
        (Printer("deg", 1), 45.0, "45.0°"),
        (Printer("N*m", 1), 52.25, "52.3 N·m"),
        (Printer("degC", 0), 21.5, "22 °C"),
    ],
)
def test_a_quantity_has_the_digits_of_its_cell_and_its_unit(
    printer: Printer, size: float, printed: str
) -> None:
    assert printer.quantity(size) == printed


@given(SIZES, st.integers(0, 6), st.integers(0, 4))
@example(524288.601277937, 6, 4)
def test_a_number_is_rounded_as_its_number_format_shows_it(
    size: float, decimals: int, further: int
) -> None:
    printer = Printer("", decimals, further)
    number_format = printer.number_format
    assert number_format.count("#") == further
    assert number_format.count("0") == 1 + decimals
    most = Decimal(1).scaleb(-decimals - further)
    assert Decimal(printer.number(size)) == Decimal(f"{size:.15g}").quantize(most, ROUND_HALF_UP)
    assert len(printer.number(size).partition(".")[2]) >= decimals


@pytest.mark.parametrize(
    ("size", "bound", "printed"),
    [
        (0.0014, None, "0.0014 in"),
        (0.00135, None, "0.0014 in"),
        (-0.0, None, "0.0000 in"),
        (0.01234, 0.0100, "0.0123 in"),
        (0.00996, 0.0100, "0.00996 in"),  # rounded it would stand on its limit
        (0.01004, 0.0100, "0.01004 in"),
        (0.0100001, 0.0100, "0.0100001 in"),
        (0.0100, 0.0100, "0.0100 in"),
        (0.1 + 0.2, 0.3, "0.3000 in"),  # the last bit is no side of a limit
    ],
)
def test_beside_a_bound_a_number_has_the_decimals_that_keep_it_on_its_side(
    size: float, bound: float | None, printed: str
) -> None:
    assert Printer("in", 4).beside(size, bound) == printed


@given(st.floats(-100, 100), st.floats(-1e-3, 1e-3), st.integers(0, 4))
def test_no_number_is_carried_to_or_over_its_bound(bound: float, off: float, places: int) -> None:
    bound, size = round(bound, 4), round(bound + off, 8)
    bound_read = Decimal(str(bound))
    printed = Decimal(Printer("", places).beside(size, bound))
    assert (printed > bound_read, printed < bound_read) == (size > bound, size < bound)


@pytest.mark.parametrize(
    ("size", "printed"), [(0.0014, "0.0014"), (0.00135, "0.00135"), (0.1234567, "0.1234567")]
)
def test_a_size_that_is_cut_has_the_decimals_it_has(size: float, printed: str) -> None:
    assert Printer("in", 4).exactly(size) == f"{printed} in"


@pytest.mark.parametrize(
    ("size", "printed"), [(0.0073, "0.0073"), (0.00732, "0.0073"), (0.00738, "0.00738")]
)
def test_what_may_still_come_off_is_never_rounded_up(size: float, printed: str) -> None:
    assert Printer("in", 4).room(size) == f"{printed} in"


def test_an_uncertainty_has_one_decimal_more_than_its_size() -> None:
    assert Printer("mm", 3).uncertainty(0.00125) == "0.0013 mm"


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (None, 0.04, f"{NOT_MORE} 0.040 mm"),
        (0.0125, None, f"{NOT_LESS} 0.0125 mm"),
        (82.0, 82.018, "from 82.000 to 82.018 mm"),
        (1 / 3, None, f"{NOT_LESS} 0.3333 mm"),  # it does not end: one decimal further
        (0.0, 0.1, "from 0.000 to 0.100 mm"),  # zero is an end like any other
    ],
)
def test_a_limit_in_words(low: float | None, high: float | None, words: str) -> None:
    assert Printer("mm", 3).limits(low, high) == words


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        ("20 psi", "30 psi", "from 20 psi to 30 psi"),
        ("80 degC", None, f"{NOT_LESS} 80 degC"),
        (None, "45 deg", f"{NOT_MORE} 45 deg"),
        ("9.0", "9.5", "from 9.0 to 9.5"),
    ],
)
def test_a_limit_holds_any_dimension(low: str | None, high: str | None, words: str) -> None:
    ends = {"low": low, "high": high}
    made = limit("invented", **{end: read_quantity(text) for end, text in ends.items() if text})
    assert made.in_words == words
    assert (made.low and made.low.text, made.high and made.high.text) == (low, high)


def test_a_limit_whose_ends_cross_is_refused_in_any_dimension() -> None:
    with pytest.raises(ValueError, match="30 psi") as refusal:
        limit("invented", low=read_quantity("30 psi"), high=read_quantity("20 psi"))
    assert str(refusal.value) == spoken("limit-crossed", "30 psi", "20 psi")[0]


def test_what_stands_in_no_cell_is_printed_by_its_figures() -> None:
    assert [figures(82.0145), figures(0.1 + 0.2), figures(1e-5), figures(52.36, 3)] == [
        "82.0145",
        "0.3",
        "0.00001",
        "52.4",
    ]
    assert figures(1.5e15, 6) == "1.5e+15"


def test_units_and_signs_of_a_sentence() -> None:
    assert [unit_in_words("in"), unit_in_words("um")] == ["inches", "µm"]
    assert signed("from -0.05 to 0.05 mm, dash-ed") == "from −0.05 to 0.05 mm, dash-ed"
    assert limits_in_words("an error", "an error", "mm") == "from an error to an error"


def spoken_in(path: Path) -> Iterator[str]:
    """The texts of a module's code, its docstrings left out."""
    tree = ast.parse(path.read_text("utf-8"))
    documented = ast.Module | ast.ClassDef | ast.FunctionDef
    docs = {
        id(node.body[0]) for node in ast.walk(tree) if isinstance(node, documented) and node.body
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and id(node) in docs:
            docs.add(id(node.value))
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docs:
            yield node.value


@pytest.mark.parametrize("words", [NOT_LESS, NOT_MORE])
def test_the_words_of_a_limit_stand_in_one_place(words: str) -> None:
    """Alone, or before a number: other sentences may use such words as well."""
    limit = re.compile(rf"^{words}$|\b{words} (?=$|[-\d])")
    where = [
        path.relative_to(PACKAGE).as_posix()
        for path in sorted(PACKAGE.rglob("*.py"))
        for text in spoken_in(path)
        if limit.search(text)
    ]
    assert where == ["numbers/printing.py"], "take the words of a limit from the printer"
