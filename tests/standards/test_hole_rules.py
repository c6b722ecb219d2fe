"""Taps and rules of engagement, each by its name."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from datumbook.equations import fasteners
from datumbook.standards.hole_rules import engagement_rule, engagement_rules, tap, taps


def test_taps_have_shorter_leads_one_after_the_other() -> None:
    # from memory: taper 7 to 10, second 3 to 5, bottoming 1 to 2 pitches
    assert [(each.name, each.least_lead, each.most_lead) for each in taps()] == [
        ("taper", 7, 10),
        ("second", 3, 5),
        ("bottoming", 1, 2),
    ]
    assert all("from memory" in each.source for each in taps())
    assert all(each.least_lead <= each.lead <= each.most_lead for each in taps())


def test_a_rule_counts_diameters_or_names_an_equation() -> None:
    for rule in engagement_rules():
        assert (rule.diameters is None) != (rule.equation is None)
        assert rule.equation is None or hasattr(fasteners, rule.equation)
        assert rule.source
    assert engagement_rule("1.25 d").diameters == Fraction(5, 4)


@pytest.mark.parametrize(
    ("ask", "known"),
    [(tap, "taper, second, bottoming"), (engagement_rule, "1.25 d, 1.5 d, strength")],
)
def test_an_unknown_name_is_answered_with_the_known_ones(
    ask: Callable[[str], object], known: str
) -> None:
    with pytest.raises(LookupError, match=known):
        ask("plug of lead")
