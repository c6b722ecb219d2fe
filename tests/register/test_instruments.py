"""The instruments: drift, second readings, unlike warmth, overdue calibration; and readings that
were struck.

Sources: worked by hand from the rules the sheet prints; ISO 1 for the reference temperature.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import pytest

from as_asked import values_of
from clean_readings import clean_readings, shipped_layout
from datumbook.job import Job
from datumbook.report import told
from datumbook.report.document import as_json, content
from datumbook.report.page import report_html
from datumbook.spec import load_spec, read_spec, shipped_specs
from datumbook.spec.groups import GROUPS
from datumbook.spec.model import groups_of
from datumbook.stations import lay_out
from datumbook.stations.received.instruments import warm_sizes
from datumbook.validator import Validation, validate
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from long_runs import mostly_long
from project import full_form

ONCE, TWICE = "orrindale_qp4", "brackwater_s1"


@cache
def twice() -> Layout:
    return lay_out(load_spec(shipped_specs()[TWICE]), Job("twice"))


def judged(tmp_path: Path, **typed: object) -> Validation:
    """The clean book of the shipped spec with more typed into it."""
    more = {key.replace("__", "."): value for key, value in typed.items()}
    write(shipped_layout(), tmp_path / "book.xlsx", clean_readings(shipped_layout()) | more)
    return validate(tmp_path / "book.xlsx")


# --- what is blank holds nothing up


def test_nothing_about_an_instrument_is_wanted_and_an_empty_list_passes() -> None:
    layout = shipped_layout()
    assert not [
        place.key for place in layout.wanted() if place.key.startswith(("instruments.", "struck."))
    ]
    values = values_of(layout, {})
    told = {check.verdict: values[check.verdict] for check in layout.checks if check.if_stated}
    assert len(told) == len(groups_of(layout.spec)) + len(warm_sizes(layout.spec))
    assert set(told.values()) == {""}, "nothing is asked of it"


# --- the setting


@pytest.mark.parametrize(
    ("before", "after", "resolution", "verdict"),
    [
        (0.0, 0.001, 0.001, "OK"),
        (0.001, -0.001, 0.001, "OUT"),
        (0.0, 0.0015, 0.001, "OUT"),
        (0.0, 0.001, None, "OPEN"),
        (0.0, None, 0.001, ""),
        (None, 0.5, 0.001, ""),
    ],
)
def test_a_setting_may_drift_by_one_step_and_is_judged_once_both_zeros_are_stated(
    before: float | None, after: float | None, resolution: float | None, verdict: str
) -> None:
    typed = {
        "zero_before": before,
        "zero_after": after,
        "resolution": resolution,
        "uncertainty": 0.003,
    }
    values = values_of(
        shipped_layout(), {f"instruments.bores.{name}": value for name, value in typed.items()}
    )
    assert values["instruments.bores.drift.verdict"] == verdict


def test_a_drifted_setting_says_so_and_may_be_conceded(tmp_path: Path) -> None:
    key = "instruments.bores.drift"
    drifted = {
        "instruments__bores__resolution": 0.001,
        "instruments__bores__zero_before": 0.0,
        "instruments__bores__zero_after": 0.004,
    }
    made = judged(tmp_path, **drifted)
    (one,) = made.findings
    assert (one.code, one.key, made.verdict) == ("measuring-out", key, "hold")
    assert "the setting drifted; set it again and repeat the readings" in one.message
    conceded = {
        "conceded_value": 0.004,
        "reason": "all read again",
        "conceded_by": "A. N.",
        "conceded_on": "2026-05-04",
    }
    let_by = {f"release.{key}.{name}": value for name, value in conceded.items()}
    assert judged(tmp_path, **drifted, **let_by).verdict == "release"


# --- what a gauge may be off


@pytest.mark.parametrize(
    ("uncertainty", "setting", "all_told", "in_common", "difference"),
    [
        (0.003, None, 0.003, 0.003, 0.003 * 2**0.5),
        (0.0015, 0.002, 0.0025, 0.002, 0.0015 * 2**0.5),
        (None, 0.002, 0.002, 0.002, 0.0),
        (None, None, None, None, 0.0),
    ],
)
def test_a_gauge_is_stated_with_one_figure_or_with_two(
    uncertainty: float | None,
    setting: float | None,
    all_told: float | None,
    in_common: float | None,
    difference: float,
) -> None:
    layout = shipped_layout()
    stated = {"instruments.bores.uncertainty": uncertainty, "instruments.bores.setting": setting}
    values = values_of(layout, clean_readings(layout) | stated)
    row = [values[f"instruments.bores.{name}"] for name in ("all_told", "in_common")]
    assert row == [one if one is None else pytest.approx(one) for one in (all_told, in_common)]
    found = [
        values[f"release.{key}.uncertainty"]
        for key in ("finished_bore.1.largest_size", "bores.1.top.out_of_round")
    ]
    assert found == pytest.approx([all_told or 0.0, difference])


# --- warmth


def misread(part: float | None, gauge: float | None) -> tuple[object, object]:
    values = values_of(
        shipped_layout(), {"instruments.bores.part": part, "instruments.bores.gauge": gauge}
    )
    return values["instruments.bores.misread_by"], values["instruments.bores.misread_by.verdict"]


def test_a_warm_block_on_a_cold_gauge_is_measured_again_when_soaked() -> None:
    # worked by hand: 83.018 mm x (10.8e-6 x 4 - 11.5e-6 x 0) is 3.6 µm, more than a tenth of 15 µm
    assert misread(24.0, 20.0) == (pytest.approx(0.0036, abs=5e-5), "OUT")
    # both at 25 degC: 83.018 x 0.7e-6 x 5 is 0.29 µm
    assert misread(25.0, 25.0) == (pytest.approx(0.00029, abs=5e-6), "OK")
    assert misread(20.0, 20.0) == (0.0, "OK")
    assert misread(35.0, None) == misread(None, 20.0) == (None, "")


def test_no_reading_is_altered_by_the_warmth_stated() -> None:
    layout = shipped_layout()
    cold, warm = (
        values_of(
            layout,
            clean_readings(layout)
            | {"instruments.bores.part": one, "instruments.bores.gauge": 20.0},
        )
        for one in (20.0, 40.0)
    )
    told = ("instruments.bores.", "release.", "decision.", "held_up.", "job.", "handed_over.")
    told += ("stations.",)
    assert {key for key in cold if cold[key] != warm[key] and not key.startswith(told)} == set()


def test_the_size_judged_is_the_one_that_feels_warmth_most() -> None:
    # the shipped spec: length by tolerance the largest of its group; 0.002 in is 0.0508 mm
    sizes = warm_sizes(load_spec(shipped_specs()[ONCE]))
    assert {group: name for group, (name, _, _) in sizes.items()} == {
        "bores": "largest finished bore",
        "heights": "deck height",
        "tunnels": "main tunnel",
    }
    assert [tolerance.to("mm") for _, _, tolerance in sizes.values()] == [
        0.015,
        pytest.approx(0.0508),
        0.025,
    ]


# --- second readings

FIRST = "bores.1.top.thrust"


def test_an_engine_that_asks_for_no_second_reading_has_no_trace_of_one() -> None:
    assert not [
        key
        for key, place in shipped_layout().places.items()
        if place.unit is not None and key.endswith(("_again", "repeatability", "widest_pair"))
    ]


@pytest.mark.parametrize(
    ("again", "resolution", "verdict"),
    [(4.2504, 0.0001, "OK"), (4.2505, 0.0001, "OUT"), (None, 0.0001, ""), (4.2502, None, "OPEN")],
)
def test_a_pair_may_lie_two_steps_apart(
    again: float | None, resolution: float | None, verdict: str
) -> None:
    typed = {FIRST: 4.2502, f"{FIRST}_again": again, "instruments.bores.resolution": resolution}
    assert values_of(twice(), typed)[f"{FIRST}_apart.verdict"] == verdict


def test_the_pairs_of_a_group_give_how_well_its_gauge_repeats() -> None:
    # worked by hand: pairs 1 and 2 ten-thousandths apart: the root of (1 + 4) / 4; one reading
    # without a second counts not
    typed = {
        FIRST: 4.2502,
        f"{FIRST}_again": 4.2503,
        "bores.1.middle.axial": 4.2500,
        "bores.1.middle.axial_again": 4.2498,
        "bores.1.bottom.axial": 4.2490,
    }
    assert values_of(twice(), typed)["instruments.bores.repeatability"] == pytest.approx(
        0.00011180, abs=1e-8
    )
    assert values_of(twice(), {FIRST: 4.2502})["instruments.bores.repeatability"] is None


def test_every_table_of_every_group_can_be_read_twice() -> None:
    text = full_form(ONCE)
    groups = groups_of(load_spec(shipped_specs()[ONCE]))
    assert set(groups) < set(GROUPS)
    named = ", ".join(f'"{group}"' for group in groups)
    layout = lay_out(read_spec(f"{text}\n[repeat]\ngroups = [{named}]\n", "twice.toml"), Job("all"))
    seconds = {place.key for place in layout.readings() if place.key.endswith("_again")}
    assert {key.partition(".")[0] for key in seconds} >= {
        "bores",
        "corners",
        "tunnels",
        "holes_head_studs",
        "walls",
    }
    assert not [place.key for place in layout.wanted() if place.key in seconds]
    assert all(layout.formula(key) for key in layout.places if layout.has_formula(key))


# --- days


@pytest.mark.parametrize(
    ("due", "measured", "codes"),
    mostly_long(
        [
            ("2026-03-31", "2026-04-01", ["calibration-overdue"]),
            ("2026-04-01", "2026-04-01", []),
            ("2026-03-31", "", []),
            ("", "2026-04-01", []),
            ("31.3.26", "2026-04-01", ["reading-is-no-day"]),
        ],
        2,
    ),
)
def test_a_calibration_overdue_is_told_by_the_validator(
    tmp_path: Path, due: str, measured: str, codes: list[str]
) -> None:
    made = judged(
        tmp_path,
        instruments__tunnels__calibration_due=due,
        instruments__tunnels__measured_on=measured,
    )
    assert [one.code for one in made.findings] == codes
    assert not [
        key
        for key in shipped_layout().places
        if shipped_layout().has_formula(key)
        and {"TODAY", "NOW"} & set(shipped_layout().formula(key).replace("(", " ").split())
    ]


# --- struck readings


def test_struck_readings_stand_in_report_and_json(tmp_path: Path) -> None:
    line = {
        "where": "Bores B9",
        "was": "82.412",
        "now": "82.142",
        "reason": "digits exchanged",
        "initials": "A. N.",
    }
    made = judged(tmp_path, **{f"struck.2.{name}": words for name, words in line.items()})
    assert made.verdict == "release", "a correction holds nothing up"
    assert json.loads(as_json(content(made)))["struck"] == [line | {"struck_on": ""}]
    said = "  Bores B9: was 82.412, is now 82.142; reason: digits exchanged; A. N., not entered."
    assert said in [words for _, words in told(made)]
    page = report_html(made)
    assert "Struck and corrected" in page
    assert "82.412" in page
    assert "Struck and corrected" not in report_html(judged(tmp_path))
