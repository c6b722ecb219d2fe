"""Limits written as one text: the ends are those of the table form, digit for digit.

The forms are those of drawings (ISO 129-1: size and deviations, upper one first; two limit sizes);
the arithmetic is held against the decimal module's.
"""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from datumbook.numbers.quantities import QuantityFault, read_quantity
from datumbook.spec.limits import Limit
from datumbook.spec.resolve_limits import limit_of
from long_runs import examples

ENDS = {  # text -> lower and upper end, worked by hand
    "82.000 .. 82.018 mm": ("82.000 mm", "82.018 mm"),
    "82.000…82.018 mm": ("82.000 mm", "82.018 mm"),
    "3.625 in .. 3.626 in": ("3.625 in", "3.626 in"),
    '3 5/8" .. 3 41/64"': ("3.625 in", "3.640625 in"),
    "-0.05 .. 0.05 mm": ("-0.05 mm", "0.05 mm"),
    "± 0.05 mm": ("-0.05 mm", "0.05 mm"),
    "+/- 0.002 in": ("-0.002 in", "0.002 in"),
    "<= 0.040 mm": (None, "0.040 mm"),
    "≤0.040 mm": (None, "0.040 mm"),
    ">= 5.0 mm": ("5.0 mm", None),
    "14.250 ± 0.002 in": ("14.248 in", "14.252 in"),
    "14.250 in +/- 2 thou": ("14.248 in", "14.252 in"),
    "82.000 +0.018/-0 mm": ("82.000 mm", "82.018 mm"),
    "82 +0.018 mm": ("82 mm", "82.018 mm"),
    "82+0.018 mm": ("82 mm", "82.018 mm"),
    "82 0/-0.02 mm": ("81.98 mm", "82 mm"),
    "82 −0.02 mm": ("81.98 mm", "82 mm"),
    "82 mm +0.5 thou/-0.2 thou": ("81.99492 mm", "82.0127 mm"),
    "60 +0.05/+0.02 mm": ("60.02 mm", "60.05 mm"),
    "60 -0.02/-0.05 mm": ("59.95 mm", "59.98 mm"),
    "82 -0.01 +0.02 mm": ("81.99 mm", "82.02 mm"),
    "3 5/8 +1/64 in": ("3.625 in", "3.640625 in"),
}


@pytest.mark.parametrize("text", ENDS)
def test_a_limit_of_one_text_has_the_ends_of_the_drawing(text: str) -> None:
    held = Limit.model_validate({**limit_of(text), "source": "drawing"})
    for end, wanted in zip((held.low, held.high), ENDS[text], strict=True):
        assert (end is None) is (wanted is None)
        if end is not None and wanted is not None:
            assert end.exactly("mm") == read_quantity(wanted).exactly("mm")


@pytest.mark.parametrize(
    "text",
    [
        "0.040 mm",
        "82.000 - 82.018 mm",  # a range, or a size and its tolerance?
        "82.000 -82.018 mm",
        "82.018 -82.000 mm",  # a range written from high to low
        "82.018 −9 mm",
        "82 +0.018 mm/-0.001 in",  # 82 of which?
        "82 mm +0.018 mm/-0.001 in",
        "14.25 + 0.002 in",
        "82 +0,018 mm",
        "60 +0.05/0.02 mm",
        "",
        "± ",
    ],
)
def test_what_may_be_read_in_two_ways_is_no_limit(text: str) -> None:
    with pytest.raises((ValueError, QuantityFault)):
        Limit.model_validate({**limit_of(text), "source": "drawing"})


SIZES = st.decimals(5, 400, places=3)
WIDTHS = st.decimals("0.001", "0.2", places=3)


@settings(max_examples=examples(60), deadline=None)
@given(SIZES, WIDTHS, WIDTHS, st.sampled_from(["mm", "in"]))
def test_every_form_says_the_same_limit(
    size: Decimal, above: Decimal, below: Decimal, unit: str
) -> None:
    low, high = size - below, size + above
    forms = [
        f"{size} +{above}/-{below} {unit}",
        f"{size} {unit} +{above} -{below}",
        f"{low} .. {high} {unit}",
        f"{low} {unit} .. {high} {unit}",
        f"{low} +{above + below}/-0 {unit}",
        f"{high} -{above + below} {unit}",
    ]
    for form in forms:
        held = Limit.model_validate({**limit_of(form), "source": "drawing"})
        assert held.low is not None
        assert held.high is not None
        assert (Decimal(held.low.number.numerator) / held.low.number.denominator) == low, form
        assert (Decimal(held.high.number.numerator) / held.high.number.denominator) == high, form
        assert held.low.unit == held.high.unit == unit
