"""What an empty book says: a check shows a verdict once something is asked of it, and not before.

Common practice, no source: a green word beside nothing read tells the reader of the sheet that
somebody looked.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from as_asked import values_of
from datumbook.equations.standings import HOLDS, PASSES
from datumbook.equations.verdicts import NOTHING_ASKED, OK, OPEN
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.workbook.flow import upstream

SPEC_STANDS = ("opened.",)  # typed in place of what the engine file says, which stands till then
TABLE_STANDS = ".probed"  # read in place of what a drill makes in the mean, which stands till then
GAUGES = "instruments."  # what a gauge is stated with is no reading of the block
shipped = pytest.mark.parametrize("spec", shipped_specs().values(), ids=shipped_specs())


@shipped
def test_an_empty_book_calls_ok_only_what_rests_on_no_reading(spec: Path) -> None:
    layout = lay_out(load_spec(spec))
    values = values_of(layout, {})
    for check in layout.checks:
        if values[check.verdict] == OK:
            below = {check.key, *upstream(layout, check.verdict)}
            read = [
                key
                for key in below
                if layout.places[key].role == "reading"
                and not key.startswith((*SPEC_STANDS, GAUGES))
                and not key.endswith(TABLE_STANDS)
            ]
            assert not read, f"{check.words} is OK before {read[0]} is read"


@shipped
def test_what_nothing_is_asked_of_passes_and_what_waits_for_a_wanted_reading_holds(
    spec: Path,
) -> None:
    layout = lay_out(load_spec(spec))
    values, standing = values_of(layout, {}), layout.stations.release.checks.standing
    found = {values[check.verdict]: values[standing[check.key]] for check in layout.checks}
    assert {found[NOTHING_ASKED], found[OK], found[OPEN]} == {PASSES, HOLDS}
    assert (found[NOTHING_ASKED], found[OPEN]) == (PASSES, HOLDS)
    wanted = {place.key for place in layout.wanted()}
    for check in layout.checks:
        if values[check.verdict] == NOTHING_ASKED:
            assert check.key not in wanted, check.words
