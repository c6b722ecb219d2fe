"""Kinds: dimensions as types, and nothing else passes for one."""

from __future__ import annotations

import pytest

from datumbook.formulas import kinds
from datumbook.formulas.kinds import Length, Ratio, Words, dimension, kinds_of
from datumbook.numbers.units import coherent_word, exponents, unit
from published_cases import equations

ALL = {name: dimension(kind) for name, kind in vars(kinds).items() if hasattr(kind, "__metadata__")}


def one(size: Length, *sizes: Length, word: Words) -> Ratio:
    return size / sizes[0] if word else 0.0


def test_kinds_of_reads_every_parameter_and_the_result() -> None:
    assert kinds_of(one) == {"size": "[length]", "sizes": "[length]", "word": "words", "return": ""}


@pytest.mark.parametrize("thing", [float, str, None, "[length]", 3])
def test_what_is_not_a_kind_is_refused_by_name(thing: object) -> None:
    with pytest.raises(TypeError, match="is not one of the kinds"):
        dimension(thing)


@pytest.mark.parametrize("name", sorted(set(ALL) - {"Words", "Measure"}))
def test_every_kind_has_a_unit_of_the_coherent_set(name: str) -> None:
    word = coherent_word(ALL[name])
    assert unit(word).exponents == exponents(ALL[name])
    assert unit(word).factor == 1


def test_an_angle_a_count_and_a_ratio_are_three_kinds() -> None:
    three = {exponents(ALL[name]) for name in ("Angle", "Count", "Ratio")}
    assert len(three) == 3
    assert [coherent_word(ALL[name]) for name in ("Angle", "Count", "Ratio")] == [
        "rad",
        "count",
        "",
    ]


@pytest.mark.parametrize("name", sorted(set(ALL) - {"Words", "Measure", "Share"}))
def test_no_two_kinds_are_of_one_dimension(name: str) -> None:
    # but a share, which is a ratio and only said otherwise
    others = {"Words", "Measure", "Share"}
    of = {one: exponents(text) for one, text in ALL.items() if one not in others}
    assert [one for one, found in of.items() if found == of[name]] == [name]


@pytest.mark.parametrize("name", sorted(equations()))
def test_every_equation_names_a_kind_for_each_parameter_and_for_its_result(name: str) -> None:
    found = kinds_of(equations()[name])
    assert "return" in found
    assert set(found.values()) <= set(ALL.values())
