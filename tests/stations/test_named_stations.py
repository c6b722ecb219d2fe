"""The stations that a job must name: none comes by itself, and each is held as the others are.

The engine is that of the tests with every section there is; its limits are invented.
"""

from __future__ import annotations

import subprocess
from collections import Counter
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from as_asked import values_of
from clean_readings import CONCEDED, clean_readings
from datumbook.cells.columns import Reading
from datumbook.equations.verdicts import OK, OPEN, OUT, STALE, UNSURE
from datumbook.formulas.tree import cells
from datumbook.job import Job
from datumbook.spec.named import NamedSections
from datumbook.standards.cleaning import baths
from datumbook.standards.works import stations
from datumbook.stations import lay_out
from datumbook.stations.walk import SHARED
from datumbook.validator import validate
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from engines import Results, same
from formula_limits import formula_faults
from long_runs import mostly_long
from programs import need, office
from readings_made import plausible
from whole_engine import named, whole

BY_NAME = tuple(key for key, one in stations().items() if one.pages)
OURS = [key for key in named().places if key not in whole().places]


def verdicts(typed: Mapping[str, object]) -> dict[str, object]:
    values = values_of(named(), typed)
    return {check.key: values[check.verdict] for check in named().checks}


def test_no_station_comes_that_the_job_does_not_name() -> None:
    sections = {section for key in BY_NAME for section in stations()[key].sections}
    assert sections == set(NamedSections.model_fields)
    assert all(getattr(whole().spec, section) is None for section in sections)
    assert not {*whole().plans} & {one.name for one in named().sections if one.station in BY_NAME}


@pytest.mark.parametrize("station", mostly_long(BY_NAME, 2))
def test_a_station_stands_alone_and_asks_for_the_readings_it_states(station: str) -> None:
    alone = lay_out(named().spec.given_as(named().spec.text, Path("x")), job_with(station))
    more = [one for one in alone.wanted() if one.key not in whole().places]
    assert len(more) == stations()[station].readings
    assert {one.station for one in alone.sections} - {one.station for one in whole().sections} == {
        station
    }


def job_with(*names: str) -> Job:
    return Job.model_validate({"block": "named", "with": list(names)})


def test_every_check_holds_where_every_reading_is_as_it_should_be() -> None:
    found = verdicts(clean_readings(named()))
    assert {key for key, one in found.items() if one not in (OK, "")} == {CONCEDED}
    empty = verdicts({})
    assert {empty[key] for key in found if key in OURS} <= {OPEN, ""}


def test_every_reading_hangs_on_a_check_and_says_how_it_is_taken() -> None:
    layout, met = named(), set[str]()
    waiting = [check.verdict for check in layout.checks if check.key in OURS]
    while waiting:
        key = waiting.pop()
        if key not in met:
            met.add(key)
            if layout.has_formula(key):
                waiting += (cell.key for cell in cells(layout.tree(key)))
    wanted = [one for one in layout.wanted() if one.key in OURS]
    assert {one.key for one in wanted} <= met
    for place in wanted:
        how = place.column.how if isinstance(place.column, Reading) else ""
        assert how(place.row) if callable(how) else how, place.key


@pytest.mark.parametrize(
    "units", mostly_long([{"surfaces": "uin", "flatness": "mm", "parts": "in"}, {}])
)
def test_the_validator_works_out_the_same_and_releases_what_is_right(
    units: dict[str, str], tmp_path: Path
) -> None:
    layout = lay_out(named().spec, job_with(*BY_NAME).model_copy(update={"units": units}))
    write(layout, tmp_path / "named.xlsx", clean_readings(layout))
    assert validate(tmp_path / "named.xlsx").verdict == "release"


@pytest.mark.program("libreoffice")
@pytest.mark.program("poppler")
def test_a_station_prints_the_pages_it_states(tmp_path: Path) -> None:
    write(named(), tmp_path / "named.xlsx", clean_readings(named()))
    (printed,) = office([tmp_path / "named.xlsx"], "pdf", tmp_path, recalculate=False)
    pages = subprocess.run(
        [need("poppler"), printed, "-"], capture_output=True, check=True, text=True
    ).stdout.split("\f")
    heads = Counter(page.partition("\n")[0].strip() for page in pages)
    sheets = {
        one.station: SHARED.get(one.name, (one.name,))[0]
        for one in named().sections
        if one.station in BY_NAME
    }
    assert {station: heads[sheet] for station, sheet in sheets.items()} == {
        station: stations()[station].pages for station in BY_NAME
    }


def test_every_formula_keeps_within_the_rules() -> None:
    layout = named()
    for key in OURS:
        if layout.has_formula(key):
            assert not formula_faults(f"={layout.formula(key)}"), key


@pytest.mark.parametrize(
    "filling",
    mostly_long([plausible, clean_readings, lambda _: {}]),
    ids=["plausible", "clean", "empty"],
)
def test_every_result_is_the_same_in_python_and_in_the_engine(
    engine_in_turn: Callable[[Path], Results],
    filling: Callable[[Layout], Mapping[str, object]],
    tmp_path: Path,
) -> None:
    layout, path = named(), tmp_path / "named.xlsx"
    readings = dict(filling(layout)) | SET_UP
    write(layout, path, readings)
    found, computed = engine_in_turn(path), values_of(layout, readings)
    shown = {key: layout.place(key).at for key in OURS if layout.has_formula(key)}
    assert {
        key: (found[at.sheet, at.cell], computed[key])
        for key, at in shown.items()
        if not same(found[at.sheet, at.cell], computed[key])
    } == {}


SET_UP = {  # what may stay blank, and is worked with where it does not
    "feed_marks.feed": 0.008,
    "feed_marks.nose_radius": 0.032,
    "hone_setting.spindle_speed": 180.0,
    "hone_setting.travel": 110.0,
    "hone_setting.strokes": 87.3,
    "hone_setting.counted_as": "full cycles",
}
DECIDES: list[tuple[Mapping[str, object], dict[str, str]]] = [  # readings, verdicts no longer OK
    ({"finished_deck_finish.front.roughness": 0.9}, {"finished_deck_finish.front.verdict": OUT}),
    (
        {"finished_bottom_finish.rear.roughness": 1.9},
        {"finished_bottom_finish.rear.verdict": UNSURE},
    ),
    (
        {
            "finished_bottom_finish.rear.roughness": 1.5,
            "finished_bottom_finish.rear.cutoff_here": 0.8,
        },
        {"finished_bottom_finish.rear.verdict": OUT},
    ),
    ({"finished_deck_finish.rear.marks": "not done"}, {"finished_deck_finish.rear.marks": OUT}),
    (
        {"finished_bore_traced.read_as": "Rz"},
        {f"finished_bore_finish.{number}.verdict": UNSURE for number in range(1, 5)},
    ),
    (
        {"finished_bottom_traced.read_as": "like"},
        {
            f"finished_bottom_finish.{place}.verdict": UNSURE
            for place in ("front", "middle", "rear")
        },
    ),
    ({"finished_bore_finish.2.hatch": 51.0}, {"finished_bore_finish.2.hatch": OUT}),
    ({"finished_bore_finish.3.peaks": 0.45}, {"finished_bore_finish.3.peaks": OUT}),
    ({"finished_bore_finish.3.valleys": 0.75}, {"finished_bore_finish.3.valleys": OUT}),
    (
        {
            "instruments.surfaces.uncertainty": 0.05,
            "finished_bore_finish.1.roughness": 0.58,
            "finished_bore_finish.4.roughness": 0.66,
        },
        {"finished_bore_finish.1.verdict": UNSURE, "finished_bore_finish.4.verdict": OUT},
    ),
    (
        {"instruments.surfaces.resolution": 0.025},  # the limits of the bores are 0.2 apart
        {f"finished_bore_finish.{number}.verdict": UNSURE for number in range(1, 5)},
    ),
    (
        {"finished_bottom_traced.cutoff_set": 0.25, "finished_bottom_finish.rear.roughness": 9.0},
        {
            "finished_bottom_finish.front.verdict": UNSURE,
            "finished_bottom_finish.middle.verdict": UNSURE,
            "finished_bottom_finish.rear.verdict": OUT,
        },
    ),
    ({"washed.first.bath": "hot alkali"}, {"washed.first.verdict": OUT}),
    ({"washed.second.bath": "inhibited acid"}, {"washed.second.verdict": OUT}),
    ({"washed.third.bath": "mild alkali"}, {}),
    ({"finished_rinse.jacket.rinse": 9.0}, {"finished_rinse.jacket.residue_off": OUT}),
    ({"finished_rinse.jacket.rinse": 8.5, "tap_water.tap": 8.2}, {}),
    ({"finished_rinse.jacket.rinse": 5.5}, {"finished_rinse.jacket.residue_off": OUT}),
    ({"finished_rinse.stud_holes.cloth": "not done"}, {"finished_rinse.stud_holes.cloth": OUT}),
    ({"kept.block.inspect_by": ""}, {"kept.block.verdict": OPEN}),
    (
        {"seal_bores.housing.top": 0.009},
        {"seal_bores.housing.run_out": OUT, "seals_after.housing.run_out_after": OUT},
    ),
    (
        {"finished_seal_bores.rear_seal.left": -0.009},
        {"finished_seal_bores.rear_seal.run_out": OUT},
    ),
    (
        {"finished_housing_face.face.right": 0.0081},
        {"finished_housing_face.face.face_run_out": OUT},
    ),
    (  # off slantwise: the four differ by 0.006, a whole turn by 0.0085
        {
            f"finished_housing_face.face.{place}": sign * 0.003
            for place, sign in {"top": 1, "right": 1, "bottom": -1, "left": -1}.items()
        },
        {"finished_housing_face.face.face_run_out": OUT},
    ),
    ({"valve_room.inlet.valve_gap": 2.0}, {"valve_room.inlet.valve_gap_after": OUT}),
    ({"valve_room.exhaust.radial_gap": 1.2}, {"valve_room.exhaust.radial_gap_after": OUT}),
    (
        {"nearer_by.head_cut": 2.7},
        {f"valve_room.{one}.valve_gap_after": OUT for one in ("inlet", "exhaust")},
    ),
    ({"ring_room.2.top_side": 0.16}, {"ring_room.2.top_side": OUT}),
    ({"ring_room.3.second_side": 0.02}, {"ring_room.3.second_side": OUT}),
    ({"ring_room.4.ring_wall": 4.2}, {"ring_room.4.ring_back": OUT}),
    ({"stud_heights.S2.stud_height": 96.0}, {"stud_heights.S2.stud_height": OUT}),
    ({"registers.2.cap_front": 109.99}, {"registers.2.interference_front": OUT}),
    ({"registers.3.block_rear": 109.90}, {"registers.3.interference_rear": OUT}),
]


@pytest.mark.parametrize(
    ("typed", "said"), mostly_long(DECIDES, 8), ids=["+".join(row[0]) for row in DECIDES]
)
def test_a_reading_decides_its_own_checks_and_no_other(
    typed: Mapping[str, object], said: dict[str, str]
) -> None:
    clean = clean_readings(named())
    assert {*typed} <= {place.key for place in named().readings()}
    found = verdicts(clean | typed)
    assert {key: one for key, one in found.items() if one not in (OK, "")} == {CONCEDED: OUT} | said


def test_a_face_cut_after_it_was_traced_is_stale() -> None:
    found = verdicts(clean_readings(named()) | {"route.deck.done": 99.0})
    stale = {key for key, one in found.items() if one == STALE and key in OURS}
    assert {f"finished_deck_finish.{place}.verdict" for place in ("front", "middle", "rear")} <= (
        stale
    )
    assert not any(key.startswith("finished_b") for key in stale)


def test_a_proof_of_the_wash_is_stale_once_metal_is_cut_again() -> None:
    found = verdicts(clean_readings(named()) | {"route.hone.done": 99.0})
    assert found["finished_rinse.jacket.residue_off"] == STALE


def test_a_bath_is_refused_by_the_metal_it_meets() -> None:
    light = {bath.name for bath in baths() if bath.attacks("aluminium", soft_parts=False)}
    assert light == {bath.name for bath in baths() if bath.attacks("iron", soft_parts=True)}
    assert "hot alkali" in light
    assert not any(bath.attacks("iron", soft_parts=False) for bath in baths())


def test_a_line_bore_as_planned_is_judged_at_the_seal_before_it_is_cut() -> None:
    """Twice the offset that is left: 0.003 aside and 0.002 low, lifted by 0.004, is 0.0072."""
    lifted = {
        "line_bore.line_bored": "yes",
        "line_bore.rise_front": 0.004 * 25.4,
        "line_bore.rise_rear": 0.004 * 25.4,
    }
    aside = {
        "seal_bores.rear_seal.right": 0.003,
        "seal_bores.rear_seal.left": -0.003,
        "seal_bores.rear_seal.top": -0.002,
        "seal_bores.rear_seal.bottom": 0.002,
    }
    values = values_of(named(), clean_readings(named()) | lifted | aside)
    assert values["seals_after.rear_seal.lift"] == pytest.approx(0.004)
    assert values["seals_after.rear_seal.run_out_after"] == pytest.approx(0.0072, abs=5e-5)
    assert values["seals_after.housing.run_out_after"] == pytest.approx(0.008)
    too_far = values_of(named(), clean_readings(named()) | lifted | {"line_bore.rise_rear": 0.12})
    by_key = {check.key: check for check in named().checks}
    forecast = by_key["seals_after.housing.run_out_after"]
    assert too_far[forecast.verdict] == OUT
    assert forecast.stage == "planned"
    assert by_key["finished_seal_bores.housing.run_out"].verdict in forecast.superseded_by


def test_the_plan_takes_from_a_valve_what_it_takes_off_deck_and_line() -> None:
    """The crown rises by deck cut and lift together, and the stem feels its cosine."""
    clean = clean_readings(named())
    cut = clean | {
        "line_bore.line_bored": "yes",
        "line_bore.rise_front": 0.10,
        "line_bore.rise_rear": 0.10,
    }
    before, after = values_of(named(), clean), values_of(named(), cut)
    assert before["crown_rise.crown_rise"] == pytest.approx(0.0, abs=1e-9)
    assert after["crown_rise.crown_rise"] == pytest.approx(0.10)
    left = clean["valve_room.inlet.valve_gap"] - 0.10 * 0.9396926
    assert after["valve_room.inlet.valve_gap_after"] == pytest.approx(left)


# of that engine, in mm: the bores' middles, the deck, the end tunnels
CENTRES, DECK, TUNNELS = (56.0, 148.0, 246.0, 338.0), (394.0, 190.0), (50.0, 350.0)


@pytest.mark.parametrize("seed", mostly_long(range(12), 4))
def test_a_valve_loses_what_the_crown_rises_that_rises_most(seed: int) -> None:
    """A deck out of true, cut true to a crank line that rises slantwise, over unlike pistons; the
    loss is looked for here all over the rim of every bore. The least room before, less the least
    room after, is of other pistons and of other places, and mostly less.
    """
    chance = np.random.default_rng(seed)
    layout, read = named(), clean_readings(named())
    tilt = chance.uniform(-0.15, 0.15, 2)  # of the deck, end to end and side to side
    rises, off = chance.uniform(0.0, 0.1, 2), chance.uniform(0.0, 0.1)
    ends, sides = {"front": 0.0, "rear": DECK[0]}, {"right": -DECK[1] / 2, "left": DECK[1] / 2}

    def surface(x: Any, y: Any) -> np.ndarray:
        return np.asarray(tilt[0] * x / DECK[0] + tilt[1] * y / DECK[1])

    def lift(x: Any) -> np.ndarray:
        front, rear = TUNNELS
        return np.asarray(rises[0] + (rises[1] - rises[0]) * (x - front) / (rear - front))

    corners = {(end, side): (x, y) for end, x in ends.items() for side, y in sides.items()}
    for (end, side), at in corners.items():
        for name in ("deck", "overall"):
            read[f"corners.{end}_{side}.{name}"] += surface(*at) / 25.4
    for number in range(1, 5):
        read[f"pistons.{number}.compression_height"] += chance.uniform(-0.2, 0.2) / 25.4
    values = values_of(
        layout,
        read
        | {"line_bore.line_bored": "yes", "deck_cut.parallel_to": "crank line"}
        | {"line_bore.rise_front": rises[0], "line_bore.rise_rear": rises[1]}
        | {"deck_cut.cut": off / 25.4},
    )
    left = min(surface(*at) - lift(at[0]) for at in corners.values()) - off
    rim = 41.0 * np.exp(1j * np.linspace(0, 2 * np.pi, 361))
    lost = [surface(x + rim.real, rim.imag) - left for x in CENTRES]
    assert values["crown_rise.crown_rise"] == pytest.approx(np.max(lost), abs=1e-4)
    for number, each in enumerate(lost, 1):
        assert values[f"crown_rises.{number}.crown_rise"] == pytest.approx(each.max(), abs=1e-4)


def test_valves_of_a_block_that_is_only_measured_are_judged_as_they_were_read() -> None:
    job = Job.model_validate({"block": "x", "work": "measure", "with": ["valve_clearances"]})
    layout = lay_out(named().spec, job)
    values = values_of(
        layout, {"valve_room.inlet.valve_gap": 2.5, "valve_room.inlet.radial_gap": 1.5}
    )
    assert values["valve_room.inlet.valve_gap_after"] == pytest.approx(2.5)
    assert values["valve_room.inlet.valve_gap_after.verdict"] == OK


def test_why_a_finish_cannot_be_told_stands_beside_it() -> None:
    read = clean_readings(named()) | {"finished_deck_traced.cutoff_set": 2.5}
    values = values_of(named(), read)
    assert values["finished_deck_finish.front.why_not_judged"] == "other cut-off"
    assert values["finished_deck_finish.front.verdict"] == UNSURE


def test_the_hone_and_the_cutter_are_forecast_from_how_they_are_set() -> None:
    values = values_of(named(), clean_readings(named()) | SET_UP)
    assert values["hone_setting.included_angle"] == pytest.approx(45.0, abs=0.1)
    assert values["hone_setting.strokes_for_hatch"] == pytest.approx(87.3, abs=0.1)
    assert values["feed_marks.feed_mark_height"] == pytest.approx(0.008**2 / (8 * 0.032) * 25400)
