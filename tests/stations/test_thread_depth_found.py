"""How deep a thread may be found: no deeper than the floor under its own hole leaves, nor than the
hole has its full diameter.

Source: every expected figure is worked by hand here, from the spec's own sizes; a drill point of
118° is as deep as half its diameter over the tangent of 59° (geometry).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache

import pytest

from as_asked import values_of
from clean_readings import clean_readings, shipped_layout
from datumbook.equations.faces import ALONG_ITSELF
from datumbook.job import Job
from datumbook.numbers.units import convert
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.workbook.layout import Layout
from long_runs import mostly_long

LEAST_FLOOR = 25.4 / 8  # mm, the shop's own
GALLERY = 25.4  # mm under S7
EXACT = {"instruments.holes.uncertainty": 0.0}
SKIMMED = {"bottom_cut.parallel_to": ALONG_ITSELF, "bottom_cut.cut": 0.032}


def found(**typed: float | str | None) -> Mapping[str, object]:
    """Every value of the clean book with these besides, dots of the keys as two underscores."""
    more = {key.replace("__", "."): value for key, value in typed.items()}
    return values_of(shipped_layout(), {**clean_readings(shipped_layout()), **more})


def point_of(diameter: float) -> float:
    return diameter / 2 / math.tan(math.radians(59))


def test_a_thread_measured_past_the_gallery_under_its_hole_is_out() -> None:
    values = found(holes_sump_rail__S7__thread=26.5)
    assert values["holes_sump_rail.S7.thread.verdict"] == "OUT"


@pytest.mark.parametrize("over", [-0.001, 0.001])
def test_a_danger_thread_ends_where_its_own_floor_less_the_least_ends(over: float) -> None:
    deepest = GALLERY - LEAST_FLOOR
    point = point_of(6.8)
    # the tip read so deep that the floor alone says where the thread ends
    typed = {**EXACT, "holes_sump_rail.S7.drilled": deepest + point + 1}
    typed["holes_sump_rail.S7.thread"] = deepest + over
    values = found(**typed)
    assert values["holes_sump_rail.S7.deepest_thread"] == pytest.approx(deepest)
    assert values["holes_sump_rail.S7.thread.verdict"] == ("OUT" if over > 0 else "OK")


def test_what_the_planned_cut_takes_of_the_floor_is_taken_of_the_limit() -> None:
    values = found(**SKIMMED, holes_sump_rail__S7__drilled=None)
    left = GALLERY - 0.032 * 25.4 - LEAST_FLOOR
    assert values["holes_sump_rail.S7.deepest_thread"] == pytest.approx(left, abs=0.02)
    assert values["holes_sump_rail.S7.deepest_thread"] == values["holes_sump_rail.S7.deepest"]


def test_a_thread_found_deeper_than_its_hole_has_its_full_diameter_is_a_misreading() -> None:
    tip, key = 0.852, "holes_front_cover.F1"
    typed = {**EXACT, f"{key}.drilled": tip}
    full = tip - point_of(convert(clean_drill_mm("front_cover"), "mm", "in"))
    for depth, verdict in ((1.05, "OUT"), (full + 0.0005, "OUT"), (full - 0.0005, "OK")):
        values = found(**typed, **{f"{key}.thread": depth})
        assert values[f"{key}.deepest_thread"] == pytest.approx(full)
        assert values[f"{key}.thread.verdict"] == verdict


def test_a_hole_drilled_by_itself_ends_by_the_point_of_its_own_drill() -> None:
    """Drill F is 0.257 in; the other holes of its group are drilled 17/64."""
    line = {"hole": "F1", "like": "Front cover", "typed_drill": "F", "decided_by": "A. M."}
    typed = {f"single_inch.1.{name}": value for name, value in line.items()}
    read = {f"holes_front_cover.{hole}.drilled": 0.852 for hole in ("F1", "F3")}
    values = found(**typed, **EXACT, **read)
    ends = {hole: values[f"holes_front_cover.{hole}.deepest_thread"] for hole in ("F1", "F3")}
    assert ends["F1"] == pytest.approx(0.852 - point_of(0.257))
    assert ends["F3"] == pytest.approx(0.852 - point_of(17 / 64))


def test_nothing_is_said_of_how_deep_until_the_cut_on_its_face_is_decided() -> None:
    blank = values_of(shipped_layout(), {})
    assert blank["holes_sump_rail.S7.deepest_thread"] in (None, "")
    assert blank["single_gauge_inch.1.deepest_thread"] in (None, "")
    undecided = found(bottom_cut__parallel_to=None, holes_sump_rail__S7__thread=26.5)
    assert undecided["holes_sump_rail.S7.thread.verdict"] in ("OPEN", "STALE")


@pytest.mark.parametrize(
    ("tip", "depth", "verdict"),
    [
        (0.852, 0.64, "OK"),
        (0.852, 0.852 - point_of(0.257) - 0.0005, "OK"),
        (0.852, 0.852 - point_of(0.257) + 0.0005, "OUT"),
        (None, 1.062 - 0.125 - 0.0005, "OK"),
        (None, 1.062 - 0.125 + 0.0005, "OUT"),
    ],
)
def test_a_hole_on_no_drawing_is_held_to_its_floor_and_its_full_diameter_too(
    tip: float | None, depth: float, verdict: str
) -> None:
    line = {"hole": "X1", "like": "Front cover", "typed_drill": "F"}  # drill F is 0.257 in
    typed = {f"single_inch.1.{name}": value for name, value in line.items()}
    values = found(
        **typed,
        **EXACT,
        single_gauge_inch__1__drilled=tip,
        single_gauge_inch__1__thread_found=depth,
    )
    assert values["single_gauge_inch.1.thread_found_judged"] == verdict


def clean_drill_mm(group: str) -> float:
    holes = shipped_layout().stations.holes
    assert holes is not None
    drill = holes.groups.by_key[group].drill
    assert drill is not None
    return drill.diameter_mm


@cache
def laid_out(name: str) -> Layout:
    return lay_out(load_spec(shipped_specs()[name]), Job(block="x", gauging="every"))


@pytest.mark.parametrize("name", mostly_long(shipped_specs(), 2))
def test_no_thread_is_ok_beyond_what_floor_or_full_diameter_leave(name: str) -> None:
    """In every hole of every engine, at depths from its drawing's to beyond the drawing's floor."""
    layout = laid_out(name)
    clean, judged = clean_readings(layout) | EXACT, 0
    assert layout.stations.holes is not None
    groups = layout.stations.holes.groups.all
    for step in range(9):
        depths = {
            f"holes_{one.spec.key}.{hole}.thread": convert(
                _between(one.spec.thread_depth.to("mm"), one.spec.floor.to("mm"), step / 8),
                "mm",
                one.unit,
            )
            for one in groups
            for hole in one.spec.names
        }
        values = values_of(layout, {**clean, **depths})
        for one in groups:
            for hole in one.spec.names:
                key = f"holes_{one.spec.key}.{hole}"
                floor = (one.spec.danger_of(hole) or one.spec).floor.to("mm")
                most = floor - LEAST_FLOOR
                tip = values.get(f"{key}.drilled")
                if isinstance(tip, float) and one.drill is not None:
                    full = convert(tip, one.unit, "mm") - point_of(one.drill.diameter_mm)
                    most = min(most, full)
                if values[f"{key}.thread.verdict"] == "OK":
                    judged += 1
                    assert convert(depths[f"{key}.thread"], one.unit, "mm") <= most + 1e-9, key
    assert judged or not groups


def _between(low: float, high: float, share: float) -> float:
    return low + (high * 1.02 - low) * share
