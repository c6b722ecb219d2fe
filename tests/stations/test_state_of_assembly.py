"""The state of assembly: a series read in another state than its limits mean is not judged, one of
which it is not said holds by one line, and no size is turned into that of another state.

The engine and its limits are invented; bores with lobes are simulated here, point by point.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from as_asked import values_of
from clean_readings import clean_readings
from datumbook.cells.tables import StateRead, Table
from datumbook.comparison import Comparison, compare
from datumbook.equations.verdicts import OK, OPEN, OUT, STALE
from datumbook.job import Job, scope_of
from datumbook.numbers.units import convert
from datumbook.spec import SpecFaults, load_spec, read_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.validator import validate
from datumbook.workbook.flow import upstream
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from engines import libreoffice, same
from long_runs import mostly_long
from project import full_form
from state_of_assembly import NAMED, Typed, as_meant, asked, otherwise, section, stated, states
from whole_engine import SHIPPED, whole_text

UNDER_PLATE = "finished_state_bores"


@cache
def layout() -> Layout:
    return stated()


@cache
def blind() -> Layout:
    """The same with bores read in two directions."""
    return stated(("slanting = true", "slanting = false"))


@cache
def sound() -> Typed:
    """A block that may be released, every series read as its limits mean."""
    return clean_readings(layout()) | as_meant(layout())


@cache
def as_it_should_be() -> dict[str, Any]:
    """All that is worked out of the sound block."""
    return values_of(layout(), sound())


def verdicts_of(values: Mapping[str, Any], book: Layout) -> dict[str, object]:
    return {check.key: values[check.verdict] for check in book.checks}


def verdicts(typed: Typed, of: Layout | None = None) -> dict[str, object]:
    book = of or layout()
    return verdicts_of(values_of(book, typed), book)


def own(state: StateRead) -> str:
    return str(state.verdict[state.whole])


def resting_on(state: StateRead) -> set[str]:
    """The checks whose verdict comes from a reading of the series of a state."""
    book = layout()
    read = set()
    for place in book.readings():
        home = place.column.home if place.column else None
        spoilers = home.spoilers if isinstance(home, Table) else None
        if spoilers and spoilers.state is state:
            read.add(place.key)
    return {one.key for one in book.checks if {one.key, *upstream(book, one.verdict)} & read}


# --- the verdicts


def test_read_as_the_limits_mean_the_block_may_be_released() -> None:
    values = as_it_should_be()
    assert [values[own(one)] for one in states(layout())] == [OK] * len(states(layout()))
    assert values["decision.release_state"] == "RELEASABLE"


def test_a_state_not_said_holds_each_series_by_one_line_and_changes_no_other_verdict() -> None:
    right = verdicts_of(as_it_should_be(), layout())
    unsaid = verdicts(sound() | dict.fromkeys(as_meant(layout())))
    changed = {key for key in right if right[key] != unsaid[key]}
    assert changed == {own(one) for one in states(layout())}
    assert {unsaid[key] for key in changed} == {OPEN}
    assert len(changed) <= 8
    wanted = {place.key for place in layout().wanted()}
    assert {place.key for place in asked(layout())} <= wanted


@pytest.mark.parametrize(
    "key", mostly_long((one.key for one in asked(layout()) if one.row != "warmth"), 8)
)
def test_each_condition_read_otherwise_leaves_its_series_unjudged_and_says_what_to_do(
    key: str,
) -> None:
    place = layout().places[key]
    state = place.column.home if place.column else None
    assert isinstance(state, StateRead)
    if place.row == "plate_number":
        return  # which plate it was is recorded, and any will do
    other = {key: otherwise(place, sound()[key])}
    values = values_of(layout(), sound() | other)
    right, wrong = verdicts_of(as_it_should_be(), layout()), verdicts_of(values, layout())
    changed = {one for one in right if right[one] != wrong[one]}
    assert {wrong[one] for one in changed} <= {STALE, OPEN}
    unplanned = {one for one in changed if wrong[one] == OPEN}
    assert not unplanned or state.key == "state_heights", "of sound heights alone a cut is planned"
    assert not any(one.startswith(("corners.", "deck_flatness.")) for one in unplanned)
    assert own(state) in changed
    assert changed - {own(state)} <= resting_on(state), "nothing that rests on other readings"
    remedy = values[state.what_to_do]
    assert remedy == layout().places[state.remedy[place.row]].value
    assert values["decision.release_state"] == (
        "ON HOLD" if state.key.startswith("finished_") else values["decision.release_state"]
    )


def test_bores_read_without_the_plate_their_limits_mean_cannot_be_released() -> None:
    other = verdicts(sound() | {f"{UNDER_PLATE}.plate.read": "off"})
    sizes = [key for key in other if key.startswith(("finished_bores.", "finished_bore."))]
    assert len(sizes) > 30
    assert {other[key] for key in sizes} == {STALE}
    fits = [key for key in other if key.startswith("piston_fit") and other[key]]
    assert {other[key] for key in fits} <= {STALE}, "a clearance in a bore of another state neither"
    signed = sound() | {"decision.decision": "released", f"{UNDER_PLATE}.plate.read": "off"}
    assert values_of(layout(), signed)["decision.release_state"] == "ON HOLD"
    right = {"decision.decision": "released"}
    assert values_of(layout(), sound() | right)["decision.release_state"] == "RELEASED"


def test_the_size_itself_is_shown_as_it_was_read_whatever_the_state() -> None:
    right = as_it_should_be()
    wrong = values_of(layout(), sound() | {f"{UNDER_PLATE}.plate.read": "off"})
    for key in ("finished_bore.1.largest_size", "finished_bores.1.top.out_of_round"):
        assert wrong[key] == right[key]


@pytest.mark.parametrize(
    ("torque", "verdict"), [(57.0, OK), (54.15, OK), (59.85, OK), (54.1, STALE), (60.0, STALE)]
)
def test_the_torque_of_the_plate_may_be_off_by_what_a_wrench_is(
    torque: float, verdict: str
) -> None:
    found = verdicts(sound() | {f"{UNDER_PLATE}.torque.read": torque})
    assert found[f"{UNDER_PLATE}.whole.verdict"] == verdict


def test_what_differs_in_two_ways_says_the_first_and_then_the_next() -> None:
    both = {f"{UNDER_PLATE}.caps.read": "off", f"{UNDER_PLATE}.gasket.read": "new"}
    values = values_of(layout(), sound() | both)
    assert values[f"{UNDER_PLATE}.whole.remedy"] == "fit the main caps, torque them, read again"
    values = values_of(layout(), sound() | both | {f"{UNDER_PLATE}.caps.read": "TORQUED"})
    assert "crushed gasket" in str(values[f"{UNDER_PLATE}.whole.remedy"])


def test_what_was_received_in_another_state_no_longer_holds_once_it_is_finished_in_its_own() -> (
    None
):
    values = values_of(layout(), sound() | {"state_bores.plate.read": "on"})
    assert values["bores.1.top.out_of_round.verdict"] == STALE
    assert values["release.bores.1.top.out_of_round.standing"] == "passes"
    assert values["release.state_bores.whole.verdict.standing"] == "holds", (
        "it is said all the same"
    )


# --- warmth


@pytest.mark.parametrize(
    ("warmth", "verdict"), [(18.0, OK), (22.0, OK), (17.9, OPEN), (22.1, OPEN), (65.0, OPEN)]
)
def test_a_block_out_of_its_band_of_warmth_is_measured_again(warmth: float, verdict: str) -> None:
    values = values_of(layout(), sound() | {f"{UNDER_PLATE}.warmth.read": warmth})
    assert values[f"{UNDER_PLATE}.whole.verdict"] == verdict
    assert values["finished_bores.1.top.out_of_round.verdict"] == verdict
    remedy = "let it rest, read again at 18 to 22 °C" if verdict == OPEN else ""
    assert values[f"{UNDER_PLATE}.whole.remedy"] == remedy


def test_the_size_at_the_reference_stands_beside_and_is_held_to_nothing() -> None:
    book, warm = layout(), sound() | {f"{UNDER_PLATE}.warmth.read": 47.0}
    values = values_of(book, warm)
    expansion = book.spec.heights.expansion.to("1/degC")
    for number in range(1, 5):
        read = values[f"finished_bore.{number}.largest_size"]
        shown = values[f"finished_bore_at_reference.{number}.largest_size_at_reference"]
        assert isinstance(read, float)
        # a ring of iron cooled by so many degrees, step by step
        size = read
        for _ in range(2700):
            size /= 1 + expansion * 0.01
        assert shown == pytest.approx(size, abs=1e-5 * read * 27 * expansion + 1e-5)
    assert not any("at_reference" in one.key for one in book.checks)


def test_heat_and_force_after_the_readings_make_them_stale() -> None:
    after = {"route.repair.done": 99.0}
    plain = lay_out(load_spec(SHIPPED), Job("plain"))
    assert verdicts(sound() | after)["finished_bores.1.top.out_of_round"] == STALE
    assert verdicts(clean_readings(plain) | after, plain)["finished_bores.1.top.out_of_round"] == OK


# --- lobes


def read_round(bore: np.ndarray, degrees: float) -> float:
    """What a gauge of two points reads across a bore given by its radius every tenth of a degree,
    the widest within a few degrees, as one rocks it.
    """
    at = round(degrees * 10)
    return float(bore[at % 3600] + bore[(at + 1800) % 3600])


def lobed(lobes: int, height: float) -> np.ndarray:
    angle = np.radians(np.arange(3600) / 10)
    return np.asarray(41.004 + height * np.cos(lobes * angle), dtype=float)


AXES = {"thrust": 0.0, "axial": 90.0, "slanting_45": 45.0, "slanting_135": 135.0}


@pytest.mark.parametrize(
    ("lobes", "by_two", "by_four"), [(2, 4.0, 4.0), (3, 0.0, 0.0), (4, 0.0, 4.0), (6, 4.0, 4.0)]
)
def test_two_directions_are_blind_to_four_lobes_and_four_directions_see_them(
    lobes: int, by_two: float, by_four: float
) -> None:
    height = 0.006
    bore = lobed(lobes, height)
    read = {
        f"finished_bores.1.top.{axis}": read_round(bore, degrees) for axis, degrees in AXES.items()
    }
    for book, seen in ((blind(), by_two), (layout(), by_four)):
        known = {key: size for key, size in read.items() if key in book.places}
        assert len(known) == (2 if book is blind() else 4)
        values = values_of(book, clean_readings(book) | as_meant(book) | known)
        found = values["finished_bores.1.top.out_of_round"]
        assert found == pytest.approx(seen * height, abs=1e-9)
        seen_out = values["finished_bores.1.top.out_of_round.verdict"] == OUT
        assert seen_out is (seen * height > 0.010), "the limit is 0.010"


def test_the_sheet_says_what_its_directions_cannot_see_and_how_to_see_it() -> None:
    def notes(book: Layout) -> str:
        return " ".join(text.words for plan in book.plans.values() for text in plan.texts)

    told = notes(blind())
    assert "see nothing of four lobes" in told
    assert "slanting = true under [assembly]" in told
    assert "Read at 0, 45, 90 and 135°" in notes(layout())
    none = stated(
        ('plate = "on"\ntorque = "57 N*m"', "#"),
        ('gasket = "crushed"', "#"),
        ("fasteners = ", "# "),
    )
    assert "lobes" not in notes(none)


# --- in the file


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("states")


def written(folder: Path, name: str, **changed: object) -> Path:
    path = folder / f"{name}.xlsx"
    said = {f"{UNDER_PLATE}.{row}.read": value for row, value in changed.items()}
    write(layout(), path, sound() | said)
    return path


@pytest.mark.parametrize(
    ("name", "changed"),
    mostly_long(
        [("bare", {"plate": "off"}), ("right", {}), ("warm", {"warmth": 31.0}), ("none", None)]
    ),
)
def test_a_spreadsheet_program_comes_to_the_same(
    folder: Path, name: str, changed: dict[str, object] | None
) -> None:
    rows = ("caps", "plate", "gasket", "fasteners", "attached", "plate_number", "torque", "warmth")
    said = dict.fromkeys(rows) if changed is None else changed
    path = written(folder, f"calc_{name}", **said)
    found = libreoffice(path)
    typed = {f"{UNDER_PLATE}.{row}.read": value for row, value in said.items()}
    values = values_of(layout(), sound() | typed)
    for key, place in layout().places.items():
        if place.role in ("result", "verdict"):
            assert same(found[place.at.sheet, place.at.cell], values[key]), key


def test_the_validator_tells_another_state_once_with_what_to_do(folder: Path) -> None:
    path = written(folder, "bare", plate="off")
    held = validate(path)
    assert held.verdict == "hold"
    (told,) = [one for one in held.findings if one.severity == "check"]
    assert (told.code, told.key) == ("check-stale", f"{UNDER_PLATE}.whole.verdict")
    assert told.message.endswith(
        "every reading is STALE: it was read in another state of assembly than its limit means: "
        "bolt the torque plate on, read again. Measure it again as its limit means it, and say "
        "the step after which it was read."
    )


def test_the_validator_asks_for_a_warm_block_once(folder: Path) -> None:
    held = validate(written(folder, "warm", warmth=31.0))
    (told,) = [one for one in held.findings if one.severity == "check"]
    assert (told.code, told.key) == ("check-open", f"{UNDER_PLATE}.whole.verdict")
    assert "let it rest, read again at 18 to 22 °C" in told.message


def test_the_validator_asks_for_a_state_not_said_and_for_nothing_else(folder: Path) -> None:
    held = validate(written(folder, "unsaid", plate=None, torque=None))
    told = [one for one in held.findings if one.severity != "note"]
    assert {(one.code, one.key) for one in told} == {
        ("reading-missing", f"{UNDER_PLATE}.plate.read"),
        ("reading-missing", f"{UNDER_PLATE}.torque.read"),
    }


def test_a_state_conceded_still_leaves_every_size_to_be_told(folder: Path) -> None:
    stem = f"release.{UNDER_PLATE}.whole.verdict"
    conceded = {f"{stem}.{one}": "2026-05-04" for one in ("reason", "conceded_by", "conceded_on")}
    path = folder / "conceded.xlsx"
    write(layout(), path, sound() | {f"{UNDER_PLATE}.plate.read": "off"} | conceded)
    stale = [one for one in validate(path).findings if one.code == "check-stale"]
    assert len(stale) > 30
    assert all("bolt the torque plate on" in one.message for one in stale)


# --- only where it is named


def test_no_work_brings_it_unless_the_job_names_it() -> None:
    spec = read_spec(full_form("orrindale_qp4") + section(), "stated.toml")
    for work in ("measure", "recondition", "full"):
        assert "assembly" not in scope_of(spec, Job("a", work=(work,))).stations
        with_it, without = (
            lay_out(one, Job("a", work=(work,))) for one in (spec, load_spec(SHIPPED))
        )
        assert [*with_it.places] == [*without.places], "the book has not grown by a cell"
    assert "assembly" in scope_of(spec, Job("a", also=NAMED)).stations


def test_an_engine_file_without_it_is_told_so() -> None:
    with pytest.raises(SpecFaults, match="assembly"):
        scope_of(load_spec(shipped_specs()["orrindale_qp4"]), Job("a", also=NAMED))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('plate = "on"\n', "", 'the key "plate = "on"" is missing'),
        ('coolest = "18 degC"', "#", 'the key "coolest" is missing'),
        ('coolest = "18 degC"', 'coolest = "23 degC"', "is not below"),
        ('caps = "torqued"', 'caps = "tight"', "torqued"),
    ],
)
def test_a_state_that_cannot_be_is_refused(old: str, new: str, said: str) -> None:
    with pytest.raises(SpecFaults) as refused:
        read_spec(whole_text().replace(old, new), "wrong.toml")
    assert said in str(refused.value)


def test_temperatures_may_be_stated_in_fahrenheit() -> None:
    book = stated(
        ('coolest = "18 degC"', 'coolest = "64 degF"'),
        ('warmest = "22 degC"', 'warmest = "72 degF"'),
    )
    typed = clean_readings(book) | as_meant(book)
    warm = {key: convert(20.0, "degC", "degF") for key in typed if key.endswith(".warmth.read")}
    assert verdicts(typed | warm, book)[f"{UNDER_PLATE}.whole.verdict"] == OK
    assert verdicts(typed, book)[f"{UNDER_PLATE}.whole.verdict"] == OPEN, "20 °F is cold"


# --- two dates


def compared(folder: Path, name: str, **changed: object) -> Comparison:
    """The sound block beside the same with the first bore 0.02 wider, in a state of its own."""
    right, later = folder / "then.xlsx", folder / f"{name}.xlsx"
    said = {f"{UNDER_PLATE}.{row}.read": value for row, value in changed.items()}
    write(layout(), right, sound())
    write(layout(), later, sound() | said | {"finished_bores.1.top.thrust": 82.02})
    return compare(validate(right), validate(later))


def test_sizes_of_two_states_stand_side_by_side_and_are_not_subtracted(folder: Path) -> None:
    found = compared(folder, "bare_now", plate="off")
    of = {one.key: one for one in found.features}
    for key in ("finished_bores.1.top.thrust", "finished_bore.1.largest_size"):
        assert (of[key].one, of[key].two) == (82.0, 82.02)
        assert of[key].difference is None
        assert of[key].verdict == "cannot be compared"
    (warning,) = found.warnings
    assert "Torque plate, on in the first book, off in the second" in warning
    assert of["corners.front_left.deck"].verdict == "no change"


def test_sizes_of_one_state_are_subtracted(folder: Path) -> None:
    found = compared(folder, "alike", torque=56.5, warmth=21.0)
    of = {one.key: one for one in found.features}
    assert of["finished_bores.1.top.thrust"].difference == pytest.approx(0.02)
    assert not found.warnings
