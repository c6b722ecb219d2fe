"""Places laid out in a pattern: each hole where geometry puts it.

The circle is held against the roots of unity of numpy, rows against numpy's even spacing, the rest
against places worked by hand on a drawing of our own.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from datumbook.spec import SpecFaults, read_spec
from project import SUPPORT

ENGINES = SUPPORT / "engines"
BORES = (ENGINES / "bores_alone.toml").read_text("utf-8")
GROUP = """
[lands]
centres = { from = "56 mm", step = "92 mm" }
deck_length = "204 mm"
offset = "± 0.13 mm"
closure = "± 0.10 mm"
mouth_chamfer = { height = "0.5 mm", angle = "45 deg" }
clamping_land = ">= 5.0 mm"
[[outlines]]
of = "deck"
length = "204 mm"
width = "190 mm"
bores_across = "95 mm"
[[holes]]
key = "studs"
face = "deck"
thread = "M8x1.25"
thread_depth = "16 mm"
floor = "28 mm"
operations = ["chase"]
"""


def places(
    pattern: str, names: str, folder: Path = ENGINES, face: str = "deck"
) -> list[tuple[float, float]]:
    group = GROUP.replace('face = "deck"', f'face = "{face}"')
    text = f'{BORES}{group}names = "{names}"\nplaces = {pattern}\n'
    (group,) = read_spec(text, str(folder / "x.toml")).holes
    return [(along.to("mm"), across.to("mm")) for along, across in group.places]


def test_a_circle_stands_on_the_roots_of_unity() -> None:
    found = places(
        '{ circle = 7, centre = ["100 mm", "90 mm"], diameter = "120 mm", first = "10 deg" }',
        "C1-C7",
        face="front",
    )
    turned = 60 * np.exp(1j * np.radians(10)) * np.exp(2j * np.pi * np.arange(7) / 7)
    wanted = np.column_stack([100 + turned.real, 90 + turned.imag])
    assert np.abs(np.array(found) - wanted).max() <= 0.0005  # written to the micrometre


def test_a_row_is_evenly_spaced() -> None:
    ends = places('{ row = 6, from = ["24 mm", "14 mm"], to = ["180 mm", "40 mm"] }', "R1-R6")
    wanted = np.column_stack([np.linspace(24, 180, 6), np.linspace(14, 40, 6)])
    assert np.abs(np.array(ends) - wanted).max() <= 0.0005
    steps = places('{ row = 6, from = ["24 mm", "14 mm"], step = ["31.2 mm", "5.2 mm"] }', "R1-R6")
    assert steps == ends


def test_a_rectangle_is_walked_round_its_edge() -> None:
    found = places(
        '{ rectangle = [3, 3], from = ["20 mm", "10 mm"], to = ["180 mm", "170 mm"] }',
        "S1-S8",
        face="front",
    )
    assert found == [
        (20, 10), (100, 10), (180, 10), (180, 90), (180, 170), (100, 170), (20, 170), (20, 90),
    ]  # fmt: skip


def test_crossings_run_along_first() -> None:
    found = places('{ along = ["20 mm", "60 mm"], across = ["1 in", "40 mm"] }', "G1-G4")
    assert found == [(20, 25.4), (60, 25.4), (20, 40), (60, 40)]


@pytest.mark.parametrize(
    ("order", "wanted"),
    [
        ("back", [(20, 28), (60, 28), (60, 162), (20, 162)]),
        ("same", [(20, 28), (60, 28), (20, 162), (60, 162)]),
    ],
)
def test_a_mirror_repeats_what_stands_before_it(order: str, wanted: list[Any]) -> None:
    row = '{ along = ["20 mm", "60 mm"], across = "28 mm" }'
    mirror = f'{{ mirror = "across", about = "95 mm", order = "{order}" }}'
    assert places(f"[{row}, {mirror}]", "M1-M4") == wanted


def test_holes_by_cylinder_stand_off_each_centre_and_a_shared_one_once() -> None:
    found = places(
        '{ by_cylinder = [["-46 mm", "-67 mm"], ["46 mm", "-67 mm"]] }', "D1-D3"
    )  # centres at 56 and 148 mm, 95 mm across
    assert found == [(10, 28), (102, 28), (194, 28)]
    one = places('{ by_cylinder = [["0 mm", "60 mm"]], cylinders = [2] }', "W1-W1")
    assert one == [(148, 155)]


HEADS = ["hole,along,across", "name;x mm;y mm", "hole,along [mm],across (mm)"]


@pytest.mark.parametrize("head", HEADS)
def test_coordinates_are_read_from_a_file(tmp_path: Path, head: str) -> None:
    mark, unit = (";" if ";" in head else ","), ("" if "mm" in head else " mm")
    lines = [f"B{at}{mark}{10 * at}{unit}{mark}{5 * at}{unit}" for at in (2, 1)]
    (tmp_path / "holes.csv").write_text("\n".join([head, *lines]) + "\n", "utf-8")
    assert places('"holes.csv"', "B1-B2", tmp_path) == [(10, 5), (20, 10)]


@pytest.mark.parametrize(
    ("lines", "code", "line"),
    [
        (["hole,along"], "places-file", 1),
        (["hole,along,across", "B1,10 mm"], "places-file", 2),
        (["hole,along,across", "B2,1 mm,5 mm", "B1,20,35,30,0"], "places-file", 3),
        (["hole,along,across,along", "B1,10 mm,5 mm,12 mm"], "places-file", 1),
        (["hole,x,across,along", "B1,10 mm,5 mm,12 mm"], "places-file", 1),
        (["hole,along,across", 'B1,10 mm,"5 mm', "B2,20 mm,5 mm"], "places-file", 2),
        (["hole,along,across", 'B1,10 mm,"5 mm', 'B2,20 mm,5 mm"'], "places-file", 2),
        (["hole,along,across", 'B1,10 mm,"5" mm', "B2,20 mm,5 mm"], "places-file", 2),
        (["hole,along,across", "B1,10 mm,5 mm", "B2,9 mm,5 mm", "b1,1 mm,5 mm"], "places-file", 4),
        ([], "places-file", 1),
        (["hole,along,across", "B1,10 mm,5 mm"], "hole-not-in-file", None),
        (["hole,along,across", "B1,10 mm,5 mm", "B2,ten,5 mm"], "not-a-quantity", None),
    ],
)
def test_a_file_that_is_no_table_of_holes_is_told(
    tmp_path: Path, lines: list[str], code: str, line: int | None
) -> None:
    (tmp_path / "holes.csv").write_text("\n".join(lines), "utf-8")
    with pytest.raises(SpecFaults) as told:
        places('"holes.csv"', "B1-B2", tmp_path)
    fault = next(one for one in told.value.faults if one.code == code)
    assert fault.file.endswith("holes.csv" if line else "x.toml")
    assert fault.line == line or line is None


@pytest.mark.parametrize("points", [0, -1, 9999])
def test_how_many_points_stand_in_a_row_has_bounds(points: int) -> None:
    row = f'{{ from = "56 mm", step = "92 mm", points = {points} }}'
    group = GROUP.replace('{ from = "56 mm", step = "92 mm" }', row)
    assert group != GROUP
    with pytest.raises(SpecFaults) as told:
        read_spec(f"{BORES}{group}", str(ENGINES / "x.toml"))
    said = [(one.code, one.found, one.expected) for one in told.value.faults]
    assert ("out-of-range", str(points), "between 1 and 200") in said


@pytest.mark.parametrize(
    ("pattern", "found"),
    [
        ('{ rectangle = [1, -1], from = ["20 mm", "10 mm"], to = ["180 mm", "170 mm"] }', "-1"),
        ('{ row = 0, from = ["20 mm", "10 mm"], to = ["180 mm", "170 mm"] }', "0"),
        ('{ circle = 201, centre = ["20 mm", "10 mm"], diameter = "5 mm" }', "201"),
    ],
)
def test_how_many_holes_stand_in_a_pattern_has_bounds(pattern: str, found: str) -> None:
    for one in (pattern, f"[{pattern}]"):
        with pytest.raises(SpecFaults) as told:
            places(one, "S1-S4")
        said = [(one.code, one.found, one.expected) for one in told.value.faults]
        assert ("out-of-range", found, "between 1 and 200") in said


@pytest.mark.parametrize("unit", ["furlong", "bushel", "kg", "km"])
def test_a_unit_no_gauge_reads_in_is_refused_once_by_its_name(unit: str) -> None:
    with pytest.raises(SpecFaults) as told:
        read_spec(f'units = "{unit}"\n{BORES}', str(ENGINES / "x.toml"))
    found = [(one.code, one.key, one.found, one.line) for one in told.value.faults]
    assert found == [("unit-not-length", "units", unit, 1)]


@pytest.mark.parametrize("name", ["x" * 5000, "a\\u0000b"])
def test_what_cannot_name_a_file_names_none(name: str) -> None:
    with pytest.raises(SpecFaults) as told:
        read_spec(f'based_on = "{name}"\n{BORES}', str(ENGINES / "x.toml"))
    assert [one.code for one in told.value.faults] == ["base-missing"]
    assert len(told.value.faults[0].found) <= 60
    with pytest.raises(SpecFaults) as told:
        places(f'"{name}"', "B1-B2")
    assert "places-file" in [one.code for one in told.value.faults]
