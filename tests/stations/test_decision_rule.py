"""The decision rule at a limit, and a gauge too coarse to tell.

The guard factors are those of ISO 14253-1 (1998: the whole of U; 2017: 1.65 standard uncertainties,
from memory). JCGM 106:2012, example 7.4: y = 13.6, u = 1.8, limits 12.5 and 16.3, probability of
conformity 0.66.
"""

from __future__ import annotations

from statistics import NormalDist

import pytest

from as_asked import values_of
from datumbook.equations import uncertainties, verdicts
from datumbook.job import Job
from datumbook.spec import read_spec
from datumbook.stations import lay_out
from datumbook.workbook.layout import Layout
from project import full_form

TEXT = full_form("orrindale_qp4")
KEY = "bores.1.top.out_of_round"


def laid_out(rule: str) -> Layout:
    return lay_out(
        read_spec(f'{TEXT}\n[decision]\nrule = "{rule}"\n', "guarded.toml"), Job("guarded")
    )


def verdict(
    layout: Layout, thrust: float, uncertainty: float | None, resolution: float | None = None
) -> object:
    """The verdict on an out-of-round of thrust less 82.000 mm, limit 0.040 mm."""
    typed = {
        "bores.1.top.thrust": thrust,
        "bores.1.top.axial": 82.0,
        "instruments.bores.uncertainty": uncertainty,
        "instruments.bores.resolution": resolution,
    }
    return values_of(layout, typed)[f"{KEY}.verdict"]


@pytest.mark.parametrize(
    ("rule", "least_unsure"),
    [
        ("simple acceptance", 82.0405),
        ("guard band, 1998 edition", 82.0359),
        ("guard band, 2017 edition", 82.0366),
    ],
)
def test_each_rule_draws_its_guard_at_the_limit(rule: str, least_unsure: float) -> None:
    # U = 0.003 mm of one reading is 0.00424 mm of the difference of two; 0.0400 less U, and less
    # 0.825 U
    layout = laid_out(rule)
    assert verdict(layout, least_unsure - 0.0005, 0.003) == "OK"
    assert verdict(layout, least_unsure, 0.003) == (
        "OUT" if rule == "simple acceptance" else "UNSURE"
    )


def test_simple_acceptance_takes_the_limit_itself() -> None:
    assert verdict(laid_out("simple acceptance"), 82.04, 0.003) == "OK"


def test_a_gauge_that_resolves_no_tenth_of_the_tolerance_cannot_tell() -> None:
    layout = laid_out("guard band, 1998 edition")
    assert verdict(layout, 82.01, 0.0, 0.004) == "OK", "0.004 mm is a tenth of 0.040 mm"
    assert verdict(layout, 82.01, 0.0, 0.005) == "UNSURE"
    assert verdict(layout, 82.10, 0.0, 0.005) == "OUT", (
        "what is out by more than the tolerance is out with any gauge"
    )
    values = values_of(layout, {"instruments.bores.resolution": 0.005})
    assert values[f"release.{KEY}.gauge"] == "too coarse"


def conformity(value: float, uncertainty: float, low: float, high: float) -> float:
    """How likely a value lies within its limits, when it scatters normally with this standard
    uncertainty.
    """
    scatter = NormalDist(value, uncertainty)
    return scatter.cdf(high) - scatter.cdf(low)


def test_a_value_that_conforms_with_66_percent_only_is_unsure_by_either_guard_band() -> None:
    assert conformity(13.6, 1.8, 12.5, 16.3) == pytest.approx(
        0.66, abs=0.005
    )  # JCGM 106 prints 0.66
    for factor in (uncertainties.WHOLE_GUARD_BAND, uncertainties.ONE_SIDED_GUARD_BAND):
        guard = uncertainties.guard_band(2 * 1.8, factor)
        assert verdicts.verdict_between(13.6, 12.5, 16.3, guard) == "UNSURE"
    assert verdicts.verdict_between(13.6, 12.5, 16.3, uncertainties.SIMPLE_ACCEPTANCE) == "OK"


@pytest.mark.parametrize(
    ("factor", "least"),
    [(uncertainties.WHOLE_GUARD_BAND, 0.977), (uncertainties.ONE_SIDED_GUARD_BAND, 0.950)],
)
def test_what_a_guard_band_accepts_conforms_at_least_so_often(factor: float, least: float) -> None:
    # one limit far away: the normal distribution beyond 2 and beyond 1.65 standard uncertainties
    guard = uncertainties.guard_band(2 * 0.0015, factor)
    assert verdicts.verdict_between(80.000 + guard, 80.000, 80.019, guard) == "OK"
    assert conformity(80.000 + guard, 0.0015, 80.000, 80.019) == pytest.approx(least, abs=0.001)
