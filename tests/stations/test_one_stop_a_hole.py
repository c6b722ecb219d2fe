"""Every sheet that names a hole sends the tool to one depth there and sets one stop for it, and no
stop lets a tip come nearer to a floor than its limit.

The cells are read from the written workbook: which holes one concerns is told by the words printed
beside it.
"""

from __future__ import annotations

import re
from collections import defaultdict
from pathlib import Path

import openpyxl
import pytest

from datumbook.job import Job
from datumbook.numbers.quantities import read_quantity
from datumbook.numbers.units import convert
from datumbook.spec import read_spec, shipped_specs
from datumbook.standards import hole_allowances
from datumbook.stations import lay_out
from datumbook.stations.holes.hole_groups import row_word
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place
from datumbook.writer import write
from hole_steps import steps_of
from long_runs import mostly_long
from readings_made import plausible

TEXTS = {name: path.read_text("utf-8") for name, path in shipped_specs().items()}
QP4 = TEXTS["orrindale_qp4"]
FRONT = (
    'operations = ["drill", "start tap", "finish tap", "deburr", "probe depth"]\nboss = "3/4 in"'
)
INSERTS = (
    'operations = ["drill", "insert drill", "insert tap", "insert", "deburr", "probe depth"]\n'
    'insert = { drill = "21/64", tap = "5/16-18 insert tap", length = "0.469 in" }\n'
    'danger = [{ hole = "F2", over = "timing case", floor = "0.95 in" }]'
)
GALLERY = '{ hole = "S7", over = "main oil gallery", floor = "25.4 mm" }'
EVERY = ", ".join(GALLERY.replace("S7", f"S{number}") for number in range(1, 13))
SPECS = TEXTS | {
    "held back": QP4.replace('floor = "25.4 mm"', 'floor = "24.0 mm"'),
    "drilled twice": QP4.replace(FRONT, INSERTS),
    "every hole over the gallery": QP4.replace(GALLERY, EVERY),
}
Told = dict[tuple[str, str], list[tuple[str, float, float]]]


class Book:
    """A workbook as it was written, read cell by cell."""

    def __init__(self, layout: Layout, path: Path, quill: str) -> None:
        self.layout, self.quill = layout, quill
        self.sheets = openpyxl.load_workbook(path, data_only=True)

    def number(self, key: str) -> float:
        at = self.layout.places[key].at
        value = self.sheets[at.sheet].cell(at.row, at.column).value
        assert isinstance(value, int | float), f"{key} shows {value!r}"
        return float(value)

    def words(self, key: str) -> str:
        at = self.layout.places[key].at
        return str(self.sheets[at.sheet].cell(at.row, at.column).value)

    def beside(self, key: str) -> str:
        at = self.layout.places[key].at
        return str(self.sheets[at.sheet].cell(at.row, 1).value)

    def told(self) -> Told:
        """Of each hole and operation every depth and stop the sheets tell, with their cells."""
        found: Told = defaultdict(list)
        stops = [
            key
            for key, one in self.layout.places.items()
            if "SET STOP AT" in one.label and station(one) != "OneHole"  # no line is in use
        ]
        for key in stops:
            holes, operation, depth = self.about(key)
            for hole in holes:
                sizes = round(self.number(depth), 9), round(self.number(key), 9)
                found[hole, operation].append((key, *sizes))
        return found

    def about(self, key: str) -> tuple[list[str], str, str]:
        """The holes a stop is for, the operation, and the cell of the depth that goes with it."""
        table, _, rest = key.partition(".")
        if table.startswith("walk_"):
            hole, column = rest.split(".")
            operation = column.removesuffix("_stop")
            return [hole], operation, f"{table}.{hole}.{operation}_depth"
        if table == "danger":
            named = re.match(r"▲ (\w+), [^:]+(?:: (.+))? \(", self.beside(key))
            assert named
            return (
                [named[1]],
                row_word(named[2] or "drill"),
                key.replace("stop_reading", "held_back"),
            )
        if table == "stops":
            group, operation, _ = rest.split(".")
            spec = next(one for one in self.layout.spec.holes if one.key == group)
            but = self.beside(key).partition("all but ")[2].split(", ")
            tip = key.replace("stop_reading", "tip_depth")
            depth = tip if tip in self.layout.places else key.replace("stop_reading", "depth")
            return [hole for hole in spec.names if hole not in but], operation, depth
        named_in = [one for one in self.layout.spec.holes if table.startswith(f"card_{one.key}_")]
        operations = [row_word(name) for one in named_in for name in one.operations]
        rest = table.removeprefix(f"card_{named_in[0].key}_")
        operation = max((one for one in operations if rest.startswith(one)), key=len)
        return self.words(f"{table}.holes").split(": ")[1].split(), operation, f"{table}.depth"


def station(place: Place) -> str:
    return place.section.name if place.section else ""


BOTH_WAYS = [*((name, "down") for name in SPECS), ("orrindale_qp4", "up"), ("held back", "up")]


@pytest.fixture(scope="module", params=mostly_long(map(pytest.param, BOTH_WAYS), 3), ids=" ".join)
def book(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Book:
    return book_of(*request.param, tmp_path_factory.mktemp("books") / "book.xlsx")


def book_of(name: str, quill: str, path: Path) -> Book:
    layout = lay_out(read_spec(SPECS[name], "x.toml"), Job("SQ-17"))
    readings = plausible(layout) | {"allowances.quill": quill}
    for number, row in enumerate(steps_of(layout).cuts):
        readings |= {f"stops.{row}.touch_reading": 40.0 + number, f"stops.{row}.feeler": 0.004}
    write(layout, path, readings)
    return Book(layout, path, quill)


def test_no_two_places_of_a_book_give_one_hole_different_stops(book: Book) -> None:
    told = book.told()
    steps = steps_of(book.layout)
    wanted = {
        (hole, row_word(operation))
        for group, operation in (steps.by_row[row] for row in steps.cuts)
        for hole in group.spec.names
    }
    assert set(told) == wanted
    for (hole, operation), places in told.items():
        sheets = sorted(station(book.layout.places[key]) for key, _, _ in places)
        assert sheets == ["Cards", "Schedule", "Stops"], f"{hole}, {operation}: {places}"
        assert len({depth for _, depth, _ in places}) == 1, f"{hole}, {operation}: {places}"
        assert len({stop for _, _, stop in places}) == 1, f"{hole}, {operation}: {places}"


def test_no_stop_lets_a_tip_nearer_to_a_floor_than_its_limit(book: Book) -> None:
    least = read_quantity(hole_allowances()["least_floor"][0])
    told = book.told()
    for group in steps_of(book.layout).groups.all:
        cut = group.planned_cut
        skim = (
            convert(book.number(cut), book.layout.places[cut].unit or "", group.unit)
            if cut
            else 0.0
        )
        for hole in group.spec.names:
            danger = group.spec.danger_of(hole)
            floor = (danger.floor if danger else group.spec.floor).to(group.unit)
            for operation in map(row_word, group.spec.operations):
                face = f"stops.{group.spec.key}.{operation}.face_reading"
                for key, _, stop in told.get((hole, operation), []):
                    deep = (stop - book.number(face)) * (1 if book.quill == "down" else -1)
                    room = floor - skim - least.to(group.unit) - deep
                    assert room >= -1e-9, f"{key} sends the tool {-room} {group.unit} too deep"


def test_a_dangerous_hole_has_a_card_of_its_own_after_the_others(tmp_path: Path) -> None:
    book = book_of("orrindale_qp4", "down", tmp_path / "book.xlsx")
    cards = [part.key for part in book.layout.plans["Cards"].sheet.parts if hasattr(part, "key")]
    at = cards.index("card_sump_rail_drill")
    assert cards[at + 1] == "card_sump_rail_drill_S7"
    assert book.words("card_sump_rail_drill_S7.holes") == "bottom face: S7"
    assert "S7" not in book.words("card_sump_rail_drill.holes")
    assert book.words("card_sump_rail_drill_S7.danger") == "over main oil gallery"
    assert not [
        key
        for key in book.layout.places
        if key.startswith("card_sump_rail_drill.d") and "S7" in key
    ]


def test_a_group_of_none_but_dangerous_holes_has_no_common_stop(tmp_path: Path) -> None:
    book = book_of("every hole over the gallery", "down", tmp_path / "book.xlsx")
    assert "stops.sump_rail.drill.stop_reading" not in book.layout.places
    assert "card_sump_rail_drill.stop" not in book.layout.places
