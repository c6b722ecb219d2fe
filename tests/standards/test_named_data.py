"""The data behind the stations that a job names: every word a spec may say has its row."""

from __future__ import annotations

from typing import get_args

import pytest

from datumbook.spec.named import FlywheelHousing, GasketKind, RingKind
from datumbook.standards import table
from datumbook.standards.cleaning import baths, films
from datumbook.standards.clearances import usual_clearance
from datumbook.standards.housings import housing_run_out
from datumbook.standards.surfaces import gasket_finish, ring_finish


def test_every_kind_that_a_spec_may_name_has_a_row_and_every_row_a_name() -> None:
    for kinds, rows, find in (
        (GasketKind, "gaskets", gasket_finish),
        (RingKind, "rings", ring_finish),
    ):
        assert get_args(kinds) == tuple(row["name"] for row in table("surfaces")[rows])
        for kind in get_args(kinds):
            found = find(kind)
            assert found.source
            assert found.low is None or found.low.to("um") < found.high.to("um")


def test_every_sae_housing_has_a_limit_and_a_smaller_one_none_that_is_wider() -> None:
    numbers = get_args(FlywheelHousing.model_fields["sae"].annotation)
    limits = [housing_run_out(one)[0].to("mm") for one in numbers]
    assert limits == sorted(limits, reverse=True)
    assert housing_run_out("3")[0].to("mm") == pytest.approx(0.20, abs=0.005)
    assert housing_run_out("0")[0].to("mm") == pytest.approx(0.25, abs=0.005)
    assert housing_run_out("00")[0].to("mm") == pytest.approx(0.30, abs=0.006)


def test_what_is_not_known_is_refused_with_what_is() -> None:
    with pytest.raises(LookupError, match="multi-layer steel"):
        gasket_finish("felt")
    with pytest.raises(LookupError, match="they are 1, 2, 3"):
        housing_run_out("7")


def test_what_is_known_from_memory_says_so_where_it_is_printed() -> None:
    rows = [*table("surfaces")["gaskets"], *table("surfaces")["rings"]]
    rows += [row for row in table("clearances").values() if "known" in row]
    for row in rows:
        assert ("from memory" in row["source"]) == (row["known"] == "from memory"), row


def test_baths_and_films_are_told_apart_by_their_names() -> None:
    for names in ([one.name for one in baths()], [one.name for one in films()]):
        assert len(names) == len(set(names))
    low, high, _ = usual_clearance("ring_side")
    assert high is not None
    assert low.to("mm") < high.to("mm")
