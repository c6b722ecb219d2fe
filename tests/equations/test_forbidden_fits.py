"""What a card says of a liner by the verdicts on its fit, every case told apart by hand.

Common practice, no source: a liner whose fit is not known to be right is not put in.
"""

from __future__ import annotations

import math
from itertools import product

import pytest

from datumbook.equations import forbidden_fits
from datumbook.equations.heat_and_cold import NO_COLD, NO_HEAT
from datumbook.equations.verdicts import OK, OPEN, OUT, STALE, UNSURE
from witnesses import witness

SAID = (OK, "", OPEN, STALE, UNSURE, OUT)


@pytest.mark.parametrize("verdicts", list(product(SAID, repeat=3)))
@witness(forbidden_fits.bored_first, forbidden_fits.temperature_unless_forbidden, by="every case")
def test_fit_forbidden_and_means_unless_forbidden_let_a_fit_in_that_is_known_to_be_right(
    verdicts: tuple[str, str, str],
) -> None:
    said = forbidden_fits.fit_forbidden(*verdicts)
    clear = {*verdicts} <= {OK, ""}
    assert (said == "") == clear
    assert said.startswith("DO NOT FIT:") == (OUT in verdicts)
    assert said.startswith("DO NOT FIT YET:") == (not clear and OUT not in verdicts)
    tight_alone = verdicts[1] == OUT and OUT not in (verdicts[0], verdicts[2])
    assert forbidden_fits.bored_first(said, 114.3) == (114.3 if tight_alone else None)
    assert forbidden_fits.bored_first(said, math.nan) is None
    wanted = forbidden_fits.temperature_unless_forbidden(said, -169.0)
    assert wanted == (-169.0 if clear else None)
    assert forbidden_fits.temperature_unless_forbidden(said, math.nan) is None
    assert forbidden_fits.means_unless_forbidden(said, "oven") == ("oven" if clear else "")


def test_no_way_in_is_said_only_where_none_reaches() -> None:
    for cold, heat, both in product((NO_COLD, "nitrogen", ""), *[(NO_HEAT, "oven", "")] * 2):
        none = (cold, heat, both) == (NO_COLD, NO_HEAT, NO_HEAT)
        assert bool(forbidden_fits.no_way_in(cold, heat, both)) == none
