"""The further features of a block: each with its sheet, its verdicts and its finished twin; one
left out leaves no trace.

The spec is the shipped engine with every section of the new spec's template. The plane is held
against numpy's least squares, the results against the engines; the limits are invented.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

import numpy as np
import pytest

from as_asked import values_of
from clean_readings import clean_readings
from datumbook.cells.columns import Reading
from datumbook.equations.verdicts import OK, OPEN, OUT, STALE
from datumbook.formulas.tree import cells
from datumbook.job import Job
from datumbook.spec import Spec, SpecFaults, load_spec, read_spec, shipped_specs
from datumbook.spec.features import Features
from datumbook.spec.model import groups_of
from datumbook.spec.new import Answers, write_new_spec
from datumbook.stations import lay_out
from datumbook.stations.received.route import operations_of
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from engines import Results, same
from formula_limits import formula_faults
from long_runs import mostly_long
from readings_made import plausible
from whole_engine import bare, whole, whole_text

SHIPPED = shipped_specs()["orrindale_qp4"]
SHEETS = {"Identity", "Plugs", "Proofs", "Tunnels", "SmallBores", "Parts", "Fits"}


def verdicts(layout: Layout, typed: Mapping[str, object]) -> dict[str, object]:
    values = values_of(layout, typed)
    return {check.key: values[check.verdict] for check in layout.checks}


# what an engine has and what it lacks


def test_the_sections_of_a_new_spec_are_a_spec_once_the_marks_of_comment_are_taken_away() -> None:
    text = write_new_spec(Answers("Pump", 4, "82 mm", "90 mm"))
    start = text.index("# # Further features")
    lines = [line.removeprefix("#").removeprefix(" ") for line in text[start:].splitlines()]
    caps = text[:start].replace("bearing_caps = 5", "bearing_caps = 3")
    spec = read_spec(caps + "\n".join(lines), "new.toml")
    assert all(getattr(spec, name) for name in Features.model_fields)
    assert not any(getattr(read_spec(text, "new.toml"), name) for name in Features.model_fields)


def test_a_feature_that_is_left_out_leaves_no_trace() -> None:
    assert set(whole().plans) - set(bare().plans) == SHEETS
    # where no piston and no rod is measured, a crown is held with those of the drawing
    drawn = {key for key in bare().places if "finished_crown." in key}
    assert set(bare().places) - drawn < set(whole().places)
    assert groups_of(bare().spec) == ["bores", "lands", "heights", "holes"]
    assert not [
        key for key in bare().places if key.startswith(("instruments.walls", "instruments.tunnels"))
    ]


# a state of assembly is asked only where a job names it, and answered in tests of its own
STANDING = [name for name in Features.model_fields if name != "assembly"]


@pytest.mark.parametrize("name", mostly_long(STANDING, 5))
def test_each_feature_can_stand_alone(name: str) -> None:
    spec = whole().spec.model_copy(
        update=dict.fromkeys(Features.model_fields) | {"gallery_plugs": ()}
    )
    alone = lay_out(spec.model_copy(update={name: getattr(whole().spec, name)}), Job("alone"))
    assert set(alone.places) - set(bare().places)
    found = verdicts(alone, clean_readings(alone))
    assert {key for key, verdict in found.items() if verdict not in (OK, "")} == {
        "threads.front_cover.hole"
    }


def title_of(layout: Layout) -> str:
    (found,) = [one.title for one in layout.sections if one.name == "Faces"]
    return found


def test_the_faces_are_called_by_what_is_measured_of_them() -> None:
    fewer = whole().spec.model_copy(update={"flatness": None})
    assert title_of(whole()) == "Flatness and squareness of the faces"
    assert title_of(lay_out(fewer, Job("fewer"))) == "Squareness of the faces"


def test_without_a_finished_section_nothing_is_measured_twice() -> None:
    layout = lay_out(whole().spec.model_copy(update={"finished": None}), Job("received"))
    assert "Finished" in set(whole().plans) - set(layout.plans)
    planned = {check.verdict for check in layout.checks if check.stage == "planned"}
    assert all(planned.issuperset(check.superseded_by) for check in layout.checks)


def test_a_group_has_the_unit_of_its_kin_unless_the_spec_names_its_own() -> None:
    assert {group: bare().spec.units[group] for group in ("walls", "flatness", "tunnels")} == {
        "walls": "mm",
        "flatness": "in",
        "tunnels": "mm",
    }
    own = read_spec(
        whole_text()
        .replace("[units]\n", '[units]\ntunnels = "in"\n')
        .replace("[decimals]\n", "[decimals]\ntunnels = 4\n"),
        "own.toml",
    )
    assert (own.units["tunnels"], own.decimals["tunnels"], own.units["cam"]) == ("in", 4, "mm")
    found = verdicts(lay_out(own, Job("own")), clean_readings(lay_out(own, Job("own"))))
    assert {key for key, verdict in found.items() if verdict not in (OK, "")} == {
        "threads.front_cover.hole"
    }


def test_in_other_units_every_verdict_is_the_same() -> None:
    units = {"walls": "in", "flatness": "mm", "tunnels": "in", "cam": "thou", "small_bores": "in"}
    turned = lay_out(whole().spec, Job("turned", units))
    assert turned.place("deck_flatness_plane.squares").unit == "mm**2"
    found = verdicts(turned, clean_readings(turned))
    assert {key for key, verdict in found.items() if verdict not in (OK, "")} == {
        "threads.front_cover.hole"
    }


# the sheets hold together


def test_every_formula_keeps_within_the_rules_and_reads_what_its_equation_names() -> None:
    layout = whole()
    assert {
        key: formula_faults(f"={layout.formula(key)}")
        for key in layout.places
        if layout.has_formula(key)
    }.values()
    for key, place in layout.places.items():
        if place.equation is not None:
            assert not formula_faults(f"={layout.formula(key)}"), key
            named = {
                one
                for given in place.inputs.values()
                for one in (given if isinstance(given, list) else [given])
            }
            assert {cell.key for cell in cells(layout.tree(key))} == {
                one for one in named if isinstance(one, str)
            }, key


def upstream(layout: Layout, keys: Iterable[str]) -> set[str]:
    """The readings that the formulas of these cells come down to."""
    met: set[str] = set()
    waiting = list(keys)
    while waiting:
        key = waiting.pop()
        if key not in met:
            met.add(key)
            if layout.has_formula(key):
                waiting += (cell.key for cell in cells(layout.tree(key)))
    return {key for key in met if layout.place(key).role == "reading"}


def test_every_reading_that_is_wanted_hangs_on_a_check() -> None:
    layout = whole()
    hung_on = upstream(
        layout, [check.verdict for check in layout.checks if check.key not in bare().places]
    )
    ours = {place.key for place in layout.wanted() if place.key not in bare().places}
    hung_on -= {
        place.key
        for place in layout.readings()
        if place.key.endswith(
            (
                ".liner",
                ".outside_diameter",
                ".hole_across",
                ".hole_along",
                ".cap_cut",
                ".finish_size",
                ".edge_lies",
            )
        )
    }
    assert ours == {
        key
        for key in hung_on
        if key not in bare().places
        and not key.startswith("instruments.")
        and not key.endswith(".again")
    }


def test_every_wanted_reading_says_what_is_measured() -> None:
    for place in whole().wanted():
        how = place.column.how if isinstance(place.column, Reading) else ""
        assert how(place.row) if callable(how) else how, place.key


@pytest.mark.parametrize(
    "filling",
    mostly_long([clean_readings, plausible, lambda _: {}]),
    ids=["clean", "plausible", "empty"],
)
def test_every_result_is_the_same_in_python_and_in_the_engine(
    engine_in_turn: Callable[[Path], Results],
    filling: Callable[[Layout], Mapping[str, object]],
    tmp_path: Path,
) -> None:
    layout, path = whole(), tmp_path / "whole.xlsx"
    readings = filling(layout)
    write(layout, path, readings)
    found, computed = engine_in_turn(path), values_of(layout, readings)
    shown = {
        key: found[place.at.sheet, place.at.cell]
        for key, place in layout.places.items()
        if layout.has_formula(key)
    }
    assert {
        key: (value, computed[key])
        for key, value in shown.items()
        if not same(value, computed[key])
    } == {}


# what each reading decides

DECIDES = [  # a reading, what it was read as, the checks that are then OUT
    ("marks.1.recorded", "not done", {"marks.1.recorded"}),
    ("photographs.deck.taken", "not done", {"photographs.deck.taken"}),
    ("cracks.all.outcome", "cracked", {"cracks.all.verdict"}),
    ("pressure_test.pressure.found", 45.0, {"pressure_test.pressure.found"}),
    ("pressure_test.water.found", 79.0, {"pressure_test.water.found"}),
    ("pressure_test.minutes.found", 19.0, {"pressure_test.minutes.found"}),
    ("tightness.jacket.outcome", "leaks", {"tightness.jacket.verdict"}),
    (
        "walls.2.upper.at_left",
        2.9,
        {"wall.2.left_thrust", "walls.2.upper.core_shift", "finished_wall.2.left_thrust"},
    ),
    ("caps.2.height", 47.55, {"caps.2.height", "line_bored.2.cap_left"}),
    ("walls.2.upper.at_rear", 3.2, set()),
    ("deck_flatness.left_edge.gap_along", 0.0063, {"deck_flatness.left_edge.gap_along"}),
    ("deck_flatness.front_end.gap_across", 0.0035, {"deck_flatness.front_end.gap_across"}),
    ("deck_flatness.front_end.gap_across", 0.0030, set()),
    (
        "finished_deck_flatness.left_edge.gap_along",
        0.0025,
        {"finished_deck_flatness.left_edge.gap_along"},
    ),
    ("bottom_flatness.rear_end.gap_across", 0.0045, {"bottom_flatness.rear_end.gap_across"}),
    ("squareness.3.crosswise", 0.0012, {"squareness.3.lean_crosswise"}),
    ("rear_face.run_out", 0.0060, {"rear_face.run_out"}),
    (
        "tunnels.2.front.vertical",
        61.030,
        {"tunnel.2.largest_size", "tunnels.2.front.out_of_round", "tunnel_taper.2.taper_vertical"},
    ),
    ("tunnel.1.torqued", "loose", {"tunnel.1.torqued"}),
    ("alignment.2.centre", 0.014, {"alignment.2.adjacent", "alignment.3.adjacent"}),
    ("alignment.3.centre", 0.020, set()),
    (
        "cam_journals.1.vertical",
        47.630,
        {
            "cam_journals.1.largest_size",
            "cam_journals.1.journal_out_of_round",
            "cam_fits.1.cam_clearance",
        },
    ),
    ("cam_tunnel.2.register", "shut", {"cam_tunnel.2.register"}),
    (
        "cam_centre.front.distance",
        133.41,
        {"cam_centre.front.distance", "cam_parallelism.parallelism", "cam_drive.centre_after"},
    ),
    ("tappet_bores.7.top_along", 20.990, {"tappet_bores.7.largest_size"}),
    ("tappets.3.tappet", 20.620, {"tappets.3.tappet", "tappet_fits.3.tappet_clearance"}),
    ("pistons.2.piston", 81.980, {"bore_fits.2.piston_clearance"}),
    ("pistons.2.weight", 416.0, {"pistons_weighed.set.weight_spread"}),
    (
        "pistons.3.compression_height",
        1.840,
        {
            "crowns.3.deck_clearance",
            "crowns.3.squish",
            "crown.3.deck_clearance",
            "combustion.after.squish",
        },
    ),
    (
        "finished_bores.2.top.thrust",
        81.980,
        {
            "finished_bores.2.top.out_of_round",
            "finished_bore.2.taper_thrust",
            "finished_bore.2.smallest_size",
            "bore_fits.2.piston_clearance",
            "ring_gaps.2.ring_gap_closure",
        },
    ),
    ("gudgeon_pins.4.small_end", 22.000, {"gudgeon_pins.4.pin_clearance"}),
    ("ring_gaps.1.top_gap", 0.200, {"ring_gaps.1.top_gap", "ring_gaps.1.ring_gap_closure"}),
    ("ring_gaps.1.second_gap", 0.700, {"ring_gaps.1.second_gap"}),
    ("rods.1.rod_length", 7.012, {"rods.1.rod_length"}),
    (
        "main_journals.2.rear.vertical",
        57.145,
        {
            "main_journals.2.rear.journal_out_of_round",
            "main_journal.2.taper_vertical",
            "main_clearances.2.clearance",
        },
    ),
    ("main_shells.1.shell_thickness", 1.940, {"main_clearances.1.clearance"}),
    ("big_end_shells.3.in_shells", 52.390, {"big_end_clearances.3.clearance"}),
    ("main_crush.2.proud_lower", 0.060, {"main_crush.2.crush"}),
    ("thrust.front_washer", 2.200, {"thrust.end_float"}),
    ("crank.end_float", 0.300, {"crank.end_float"}),
    ("dowels.W1.hole_depth", 13.4 / 25.4, {"dowels.W1.dowel_projection"}),
    (
        "core_holes.L1.upright",
        40.20,
        {"core_holes.L1.largest_size", "core_plugs.L1.least_interference"},
    ),
    ("core_plugs.R1.core_plug", 40.30, {"core_plugs.R1.greatest_interference"}),
]


@pytest.mark.parametrize(
    ("reading", "value", "out"),
    mostly_long(DECIDES, 12),
    ids=[f"{row[0]}={row[1]}" for row in DECIDES],
)
def test_one_bad_reading_puts_exactly_its_checks_out(
    reading: str, value: object, out: set[str]
) -> None:
    clean = clean_readings(whole())
    assert reading in clean
    found = verdicts(whole(), clean | {reading: value})
    assert {key for key, verdict in found.items() if verdict == OUT} - {
        "threads.front_cover.hole"
    } == out


def test_the_end_tunnels_make_the_line_and_the_others_are_held_to_it() -> None:
    bent = {"alignment.1.centre": 0.002, "alignment.2.centre": 0.017, "alignment.3.centre": 0.012}
    values = values_of(whole(), clean_readings(whole()) | bent)
    off = [values[f"alignment.{number}.misalignment"] for number in (1, 2, 3)]
    assert off == pytest.approx(
        [0.0, 0.017 - 0.007, 0.0], abs=1e-12
    )  # halfway between tunnels at 50, 200 and 350 mm
    assert values["tunnel_line.overall_misalignment"] == pytest.approx(0.010)


def test_plugs_are_counted_in_as_they_were_counted_out() -> None:
    typed = clean_readings(whole())
    assert values_of(whole(), typed)["plugs_counted_in.all.verdict"] == OK
    forgotten = values_of(whole(), typed | {"plugs_in.main_front.fitted": ""})
    assert (
        forgotten["plugs_counted_in.all.verdict"],
        forgotten["plugs_counted_out.all.verdict"],
    ) == (OPEN, OK)


def grid_points() -> dict[str, tuple[float, float]]:
    values = {key: place.value for key, place in whole().places.items() if place.role == "given"}
    stems = [
        key.removesuffix(".along")
        for key in values
        if key.startswith("deck_flatness_grid.") and key.endswith(".along")
    ]
    return {stem: (values[f"{stem}.along"], values[f"{stem}.across"]) for stem in stems}  # type: ignore[misc]


@pytest.mark.parametrize(
    "bumps", [(0, 0, 0, 0, 0, 0), (0.001, 0, 0, 0, 0.002, 0), (0, 0.004, -0.003, 0.001, 0, 0.005)]
)
def test_the_plane_through_the_grid_is_numpys(bumps: tuple[float, ...]) -> None:
    points = grid_points()
    places = np.column_stack([np.ones(len(points)), np.array(list(points.values()))])
    read = places @ np.array([0.01, 0.0004, -0.0003]) + np.array(bumps)
    left = read - places @ np.linalg.lstsq(places, read, rcond=None)[0]
    typed = {f"{stem}.reading": float(value) for stem, value in zip(points, read, strict=True)}
    values = values_of(whole(), clean_readings(whole()) | typed)
    assert [values[f"{stem}.above_plane"] for stem in points] == pytest.approx(
        list(left), abs=1e-12
    )
    flatness = values["deck_flatness_peak.all.flatness"]
    assert flatness == pytest.approx(left.max() - left.min(), abs=1e-12)
    assert values["deck_flatness_peak.all.verdict"] == (
        OUT if left.max() - left.min() > 0.10 / 25.4 else OK
    )


@pytest.mark.parametrize(
    ("share", "verdict"), [(0.8, OK), (0.95, "UNSURE"), (1.1, "UNSURE"), (1.3, OUT)]
)
def test_the_grid_is_unsure_within_the_gauges_uncertainty_of_its_limit(
    share: float, verdict: str
) -> None:
    """One point lifted moves the flatness in proportion; ± 0.0005 in, times the root of two, is
    0.18 of the limit.
    """
    point, gauge = "deck_flatness_grid.1_2.reading", {"instruments.flatness.uncertainty": 0.0005}
    clean = clean_readings(whole())
    of_one = values_of(whole(), clean | {point: 0.001})["deck_flatness_peak.all.flatness"]
    assert isinstance(of_one, float)
    lifted = share * 0.10 / 25.4 / of_one * 0.001
    assert (
        values_of(whole(), clean | gauge | {point: lifted})["deck_flatness_peak.all.verdict"]
        == verdict
    )


# two states

# an operation done after the finished readings -> the features of these sheets it makes stale
MOVES = {
    "line_bore": {
        *("finished_tunnels", "finished_tunnel", "finished_tunnel_taper", "finished_tunnel_row"),
        *(
            "finished_alignment",
            "finished_tunnel_line",
            "finished_cam_centre",
            "finished_cam_parallelism",
            "finished_cam_nearer",
        ),
        *("finished_squareness", "finished_rear_face", "main_clearances", "crowns"),
    },
    "deck": {
        *(
            "finished_deck_flatness",
            "finished_deck_flatness_peak",
            "finished_squareness",
            "finished_rear_face",
        ),
        *("finished_dowels", "crowns"),
    },
    "bottom_face": {"finished_bottom_flatness", "crowns"},
    "cam_tunnel": {
        "finished_cam_tunnel",
        "finished_cam_centre",
        "finished_cam_parallelism",
        "finished_cam_nearer",
        "cam_fits",
    },
    "tappet_bores": {"finished_tappet_bores", "tappet_fits"},
    "hone": {"finished_wall", "bore_fits", "ring_gaps"},
}


@pytest.mark.parametrize(("operation", "moved"), MOVES.items(), ids=MOVES)
def test_an_operation_after_the_finished_readings_makes_exactly_its_features_stale(
    operation: str, moved: set[str]
) -> None:
    layout = whole()
    next_number = len(operations_of(layout.spec)) + 1.0
    later = verdicts(layout, clean_readings(layout) | {f"route.{operation}.done": next_number})
    ours = {
        key.split(".")[0]
        for key, verdict in later.items()
        if verdict == STALE and key not in bare().places
    }
    assert ours == moved


def test_once_the_finished_face_is_flat_the_received_one_no_longer_holds() -> None:
    layout, bent = whole(), {"deck_flatness.left_edge.gap_along": 0.008}
    values = values_of(layout, clean_readings(layout) | bent)
    assert values["deck_flatness.left_edge.gap_along.verdict"] == OUT
    assert values["release.deck_flatness.left_edge.gap_along.standing"] == "passes"
    values = values_of(
        layout, clean_readings(layout) | bent | {"finished_deck_flatness.left_edge.gap_along": None}
    )
    assert values["release.deck_flatness.left_edge.gap_along.standing"] == "holds"


def test_what_no_operation_of_the_job_moves_is_not_measured_again() -> None:
    shipped = lay_out(load_spec(SHIPPED), Job("shipped"))
    assert "finished_tunnels.1.front.vertical" in shipped.places, "it is line bored"
    text = whole_text().replace(
        'left_out = ["dry_liners"]', 'left_out = ["dry_liners", "cam_tunnel", "line_bore"]'
    )
    layout = lay_out(read_spec(text, "fewer.toml"), Job("fewer"))
    assert not [
        key
        for key in layout.places
        if key.startswith(("finished_tunnel", "finished_cam", "finished_alignment"))
    ]
    assert not [
        check.key
        for check in layout.checks
        if check.superseded_by and check.key.startswith(("tunnel", "cam_"))
    ]


def test_a_vee_engine_has_its_decks_one_by_one() -> None:
    spec = load_spec(shipped_specs()["hollowmere_v8"])
    layout = lay_out(spec.model_copy(update={"flatness": whole().spec.flatness}), Job("vee"))
    decks = {
        key.split(".")[0]
        for key in layout.places
        if key.startswith("deck_flatness") and ".gap_along" in key
    }
    assert len(decks) == len(spec.banks) == 2


# faults of the sections

FAULTS = [
    ('names = ["W1", "W2"]', 'names = ["W1", "w1"]', "duplicate", "dowels.names"),
    ('key = "lower"', 'key = "upper"', "duplicate", "walls.heights"),
    ('pressure_most = "40 psi"', 'pressure_most = "0.1 MPa"', "limit-crossed", "proofs"),
    ('water_least = "80 degC"', 'water_least = "80 mm"', "wrong-dimension", "proofs.water_least"),
    (
        'places = ["50 mm", "200 mm"',
        'places = ["250 mm", "200 mm"',
        "not-increasing",
        "tunnels.alignment.places",
    ),
    (
        'across = ["20 mm", "140 mm"]',
        'across = ["20 mm", "20 mm"]',
        "not-increasing",
        "flatness.deck.grid.across",
    ),
    (
        'places = ["50 mm", "200 mm", "350 mm"]',
        'places = ["50 mm", "100 mm", "200 mm", "350 mm"]',
        "places-count",
        "tunnels",
    ),
    ("bearing_caps = 3", "bearing_caps = 0", "out-of-range", "engine"),
]


@pytest.mark.parametrize(
    ("old", "new", "code", "key"), FAULTS, ids=[f"{row[3]} {row[2]}" for row in FAULTS]
)
def test_faults_of_the_sections_are_told_where_they_stand(
    old: str, new: str, code: str, key: str
) -> None:
    text = whole_text()
    assert text.count(old) == 1
    with pytest.raises(SpecFaults) as raised:
        read_spec(text.replace(old, new), "x.toml")
    (fault,) = raised.value.faults
    assert (fault.code, fault.key) == (code, key)
    assert fault.line


def test_the_shipped_engine_shows_tunnels_walls_flatness_plugs_proofs_and_parts() -> None:
    spec: Spec = load_spec(SHIPPED)
    shown = {name for name in Features.model_fields if getattr(spec, name)}
    assert shown == {"tunnels", "walls", "flatness", "gallery_plugs", "proofs", "parts"}
