"""How much a value moves with one reading: the largest of several, with the one that is largest."""

from __future__ import annotations

import pytest

from datumbook.equations import clean_cuts, faces, heights
from datumbook.workbook.evaluation import _Reckoning, as_function
from datumbook.workbook.uncertainty import sensitivity
from small_layout import SMALL, small

ENDS = {"corners": ["of.a", "of.e", "of.f"]}
LAYOUT = small(
    {
        "highest": (faces.highest_corner, "mm", ENDS),
        "lowest": (heights.lowest_corner, "mm", ENDS),
        "infeed": (
            clean_cuts.infeed_that_cleans,
            "mm",
            {
                "least_cut": "of.c",
                "highest_above_base": "of.highest",
                "lowest_above_base": "of.lowest",
            },
        ),
    }
)


@pytest.mark.parametrize(
    ("key", "moved"),
    [
        ("of.highest", {"of.a": 1, "of.e": 0, "of.f": 0}),
        ("of.lowest", {"of.a": 0, "of.e": 1, "of.f": 0}),
        ("of.infeed", {"of.a": 1, "of.c": 1, "of.e": -1, "of.f": 0}),
    ],
)
def test_only_the_reading_that_is_largest_moves_the_largest(
    key: str, moved: dict[str, float]
) -> None:
    """a 82, e 81, f 81.5: all alike, so that any of them could be it."""
    reckoning = _Reckoning(LAYOUT, SMALL, {})
    found = {
        one: as_function(sensitivity(LAYOUT.slopes[True], key, one))(reckoning.value)
        for one in moved
    }
    assert found == moved
