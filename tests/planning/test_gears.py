"""What the plan says of cam gears that a line bore brings nearer.

Source: geometry: two gears brought nearer by c lose 2 c tan(pressure angle) of their backlash. That
it wants to be judged at all: common practice, no source.
"""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

import pytest

from as_asked import values_of
from datumbook.job import Job
from datumbook.numbers.printing import Printer
from datumbook.planning import plan
from datumbook.planning.telling import plan_lines
from datumbook.spec import read_spec
from datumbook.stations import lay_out
from datumbook.validator import Validation
from datumbook.workbook.layout import Layout
from project import full_form

NEAREST = '[cam_drive]\nleast_centre = { value = ">= 4.540 in", source = "invented" }\n'
CHAIN = {'kind = "gears"': 'kind = "chain"', 'pressure_angle = "20 deg"\n': ""}


@cache
def book(*changes: tuple[str, str]) -> Layout:
    text = full_form("hollowmere_v8")
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return lay_out(read_spec(text, "x.toml"), Job("x"))


def said(layout: Layout, rise: float) -> list[str]:
    """What the plan says of a line bore with such a rise, in inches, at either end."""
    typed: dict[str, object] = {"line_bore.line_bored": "yes"}
    typed |= {f"line_bore.rise_{end}": rise for end in ("front", "rear")}
    values = values_of(layout, typed)
    lines = plan_lines(plan(Validation(Path("block.xlsx"), layout=layout, values=values)))
    return [one for one in lines if one.startswith("  Your line bore")]


@pytest.mark.parametrize("rise", [0.004, 0.010])
def test_gears_that_no_limit_holds_are_told_to_run_tighter(rise: float) -> None:
    lost = Printer("in", 4).beside(2 * rise * math.tan(math.radians(20)), 0.0)
    lines = said(book(), rise)
    line = lines[-1]
    assert f"the cam gears would have {lost} less backlash, and no limit says" in line
    assert "measure the backlash first" in line
    assert not [one for one in lines if "keeps every limit" in one]


@pytest.mark.parametrize("changes", [(("[cam_drive]\n", NEAREST),), tuple(CHAIN.items())])
def test_nothing_is_said_where_a_limit_holds_them_or_there_are_none(
    changes: tuple[tuple[str, str], ...],
) -> None:
    (line,) = said(book(*changes), 0.004)
    assert "backlash" not in line


def test_nothing_is_said_of_a_line_that_stays_where_it_is() -> None:
    (line,) = said(book(), 0.0)
    assert "keeps every limit" in line
