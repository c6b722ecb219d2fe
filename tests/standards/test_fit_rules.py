"""The shop's rules of so much to the inch: no source, so only their order and their words are
held.
"""

from __future__ import annotations

import pytest

from datumbook.standards import table
from datumbook.standards.fit_rules import fit_rule


@pytest.mark.parametrize("name", sorted(table("fit_rules")))
def test_every_rule_leaves_some_room_and_says_that_it_has_no_source(name: str) -> None:
    rule = fit_rule(name)
    assert 0 < rule.least.number < rule.most.number
    assert rule.source.endswith("common practice, no source")


def test_forged_pistons_want_more_room_than_cast_ones() -> None:
    # common practice, no source: 0.003 to 0.006 in at 3 to 3.5 in of bore
    assert fit_rule("piston, forged").least.number >= fit_rule("piston, cast").most.number
    assert 3.0 * float(fit_rule("piston, forged").least.number) == pytest.approx(0.003)


def test_an_unknown_rule_names_those_known() -> None:
    with pytest.raises(LookupError, match=r"holds piston, cast, piston, cast iron"):
        fit_rule("valve")
