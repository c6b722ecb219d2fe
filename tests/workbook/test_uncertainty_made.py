"""Uncertainty carried along expressions made by rule, held against GTC, of the Measurement
Standards Laboratory of New Zealand: a setting is one uncertain number that all its readings share.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from itertools import pairwise
from typing import Any

import GTC
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from datumbook.formulas.functions import at_most, largest, mean, smallest, square_root, total, where
from datumbook.formulas.kinds import Ratio
from small_layout import Size, Stated, reckon_one, small, typed

MADE = {
    **{f"r{place}": Size(2.0 + place, "", "bores") for place in range(3)},
    **{f"m{place}": Size(3.1 + place, "", "bores", "mandrel") for place in range(2)},
    **{f"l{place}": Size(1.3 + place, "", "lands") for place in range(4)},
}
Expression = Any  # the name of a reading, or an operation with its operands
SMOOTH = ("plus", "minus", "mean", "times", "over", "root", "scaled", "apart", "choice")
OURS: dict[str, Callable[..., Any]] = {
    "plus": lambda one, two: total(one, two),
    "minus": lambda one, two: one - two,
    "mean": lambda *them: mean(*them),
    "times": lambda one, two: one * two,
    "over": lambda one, two: one / (two * two + 1),
    "root": lambda one, two: square_root(one * one + two * two + 1),
    "scaled": lambda one, two: 3 * one - two / 4,
    "apart": lambda one, two: abs(one - two),
    "choice": lambda one, two: where(at_most(one, two), one + two, two - 3 * one),
    "largest": lambda *them: largest(*them),
    "smallest": lambda *them: smallest(*them),
}


def off_a_tie(*them: Any) -> list[float]:
    """The values of what a branch is taken by, where none is so near another that a rounding turns
    it.
    """
    values = sorted(map(GTC.value, them))
    assume(all(above - below > 1e-6 for below, above in pairwise(values)))
    return [GTC.value(one) for one in them]


def theirs_of(name: str, them: list[Any]) -> Any:
    """One operation as GTC does it; a branch is taken by value."""
    one, two = them[0], them[-1]
    match name:
        case "mean":
            return sum(them) / len(them)
        case "root":
            return GTC.sqrt(one * one + two * two + 1)
        case "apart":
            first, second = off_a_tie(one, two)
            return one - two if first > second else two - one
        case "choice":
            first, second = off_a_tie(one, two)
            return one + two if first < second else two - 3 * one
        case "largest" | "smallest":
            values = off_a_tie(*them)
            return them[values.index((max if name == "largest" else min)(values))]
        case "plus":
            return one + two
    return OURS[name](one, two)


def worked(expression: Expression, values: Mapping[str, Any], by: Callable[..., Any]) -> Any:
    if isinstance(expression, str):
        return values[expression]
    name, *operands = expression
    return by(name, [worked(one, values, by) for one in operands])


@st.composite
def once_each(draw: Any, names: tuple[str, ...]) -> Expression:
    """An expression of every kind in which each reading stands once: branches alike count as one
    reading, which is no other's.
    """
    if len(names) == 1:
        return names[0]
    operation = draw(st.sampled_from(tuple(OURS)))
    many = operation in {"mean", "largest", "smallest"} and len(names) > 2
    parts = draw(st.integers(2, 3 if many else 2))
    cuts = draw(st.sets(st.integers(1, len(names) - 1), min_size=parts - 1, max_size=parts - 1))
    ends = [0, *sorted(cuts), len(names)]
    pairs = pairwise(ends)
    return (operation, *(draw(once_each(names[one:two])) for one, two in pairs))


def often(leaves: st.SearchStrategy[str]) -> st.SearchStrategy[Expression]:
    """Expressions in which a reading may stand more than once."""
    return st.recursive(
        leaves, lambda inner: st.tuples(st.sampled_from(SMOOTH), inner, inner), max_leaves=8
    )


figures = st.sampled_from([0.001, 0.0015, 0.002, 0.003])
gauges_stated = st.fixed_dictionaries(
    {
        group: st.builds(Stated, st.just(""), figures, st.none() | figures | st.just(0.0))
        for group in ("bores", "lands")
    }
)


def agree(inner: Expression, outer: Expression, stated: Mapping[str, Stated]) -> None:
    """A value worked out by way of another has the uncertainty that GTC finds for it."""
    names = [*MADE, "inner"]

    def first(*sizes: Ratio) -> Ratio:
        return 1 * worked(
            inner, dict(zip(MADE, sizes, strict=True)), lambda name, them: OURS[name](*them)
        )

    def second(*sizes: Ratio) -> Ratio:
        return 1 * worked(
            outer, dict(zip(names, sizes, strict=True)), lambda name, them: OURS[name](*them)
        )

    cells = {"sizes": [f"of.{name}" for name in MADE]}
    layout = small(
        {
            "inner": (first, "", cells),
            "outer": (second, "", {"sizes": [f"of.{name}" for name in names]}),
        },
        MADE,
        stated,
    )
    readings = typed(MADE, stated)
    single = {name: GTC.ureal(one.value, stated[one.group].reading) for name, one in MADE.items()}
    settings = {(one.group, one.setting): one for one in MADE.values()}
    shared = {
        setting: GTC.ureal(
            0.0, own.reading if (own := stated[one.group]).setting is None else own.setting
        )
        for setting, one in settings.items()
    }
    values = {name: single[name] + shared[one.group, one.setting] for name, one in MADE.items()}
    values["inner"] = worked(inner, values, theirs_of)
    theirs = worked(outer, values, theirs_of) * 1
    assume(abs(GTC.value(theirs)) < 1e6)
    variance = 0.0
    for (group, setting), common in shared.items():
        together = GTC.component(theirs, common) ** 2
        apart_each = sum(
            GTC.component(theirs, single[name]) ** 2
            for name, one in MADE.items()
            if (one.group, one.setting) == (group, setting)
        )
        alone = stated[group].setting is None
        variance += max(together, apart_each) if alone else together + apart_each
    ours = reckon_one(layout, "of.outer_uncertainty", readings)
    assert ours == pytest.approx(math.sqrt(variance), rel=1e-9, abs=1e-12)


readings_made = st.sampled_from(list(MADE))


@given(often(readings_made), often(readings_made | st.just("inner")), gauges_stated)
def test_made_expressions_have_the_uncertainty_of_another_calculator(
    inner: Expression, outer: Expression, stated: Mapping[str, Stated]
) -> None:
    agree(inner, outer, stated)


@given(st.permutations(list(MADE)), st.integers(1, len(MADE) - 1), st.data(), gauges_stated)
def test_made_branches_have_the_uncertainty_of_another_calculator(
    names: list[str], at: int, data: Any, stated: Mapping[str, Stated]
) -> None:
    inner = data.draw(once_each(tuple(names[:at])))
    agree(inner, data.draw(once_each(("inner", *names[at:]))), stated)
