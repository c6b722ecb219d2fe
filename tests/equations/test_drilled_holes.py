"""The hole a drill makes: against the percentages that a chart prints beside its probable holes.

Source: a published tap chart with probable holes.
"""

from __future__ import annotations

import csv
import math

import pytest

from datumbook.equations.drilled_holes import hole_counted_on, probable_hole
from datumbook.equations.threads import drill_chart_thread
from datumbook.standards.oversize import mean_oversize
from project import SUPPORT

INCH = 25.4
TEXT = (SUPPORT / "published" / "probable_holes.csv").read_text("utf-8")
PRINTED = list(csv.DictReader(line for line in TEXT.splitlines() if not line.startswith("#")))


@pytest.mark.parametrize("row", PRINTED, ids=lambda row: f"{row['major']}-{row['threads']}")
def test_probable_hole_leaves_the_per_cent_that_the_chart_prints(row: dict[str, str]) -> None:
    drill = float(row["drill"]) * INCH
    hole = probable_hole(drill, mean_oversize(drill))
    share = drill_chart_thread(float(row["major"]) * INCH, hole, INCH / float(row["threads"]))
    assert round(100 * share) == int(row["percent"])


def test_hole_counted_on_is_the_probed_one_once_it_is_read() -> None:
    assert hole_counted_on(6.87, 6.90) == 6.87
    assert hole_counted_on(math.nan, 6.90) == 6.90
    assert hole_counted_on(math.nan, math.nan) is None
