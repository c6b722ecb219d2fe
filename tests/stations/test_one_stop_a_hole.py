"""Every sheet that names a hole sends the tool to one depth there and sets one stop for it, and no
stop lets a tip come nearer to a floor than its limit.

The cells are read from the written workbook: which holes one concerns is told by the words printed
beside it.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from datumbook.job import Job
from datumbook.numbers.quantities import read_quantity
from datumbook.numbers.units import convert
from datumbook.spec import read_spec, shipped_specs
from datumbook.spec.faults import SpecFaults
from datumbook.standards import hole_allowances
from datumbook.standards.works import works
from datumbook.stations import lay_out
from datumbook.stations.holes.hole_groups import row_word
from datumbook.stations.holes.stop_cards import BARE_HAND
from datumbook.workbook.evaluation import reckon
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place
from datumbook.writer import write
from hole_steps import steps_of
from long_runs import examples, mostly_long
from project import full_form
from readings_made import plausible

TEXTS = {name: full_form(name) for name in shipped_specs()}
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
    "scale of the shop": QP4.replace("[shop]", '[shop]\nstop_scale = "1/32 in"'),
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
            if "SET STOP AT" in one.label
            and station(one) != "OneHole"  # no line is in use
            and ".other." not in key  # beside it on a card, in the other unit
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
        if table.startswith("card_"):
            operation = rest.removeprefix("scale.").removesuffix("_stop")
            boxes = self.words(f"{table}.scale.{operation}_holes")
            return re.findall(r"\w+", boxes), operation, f"{table}.scale.{operation}_depth"
        if table == "danger":
            named = re.match(r"▲ (\w+), [^:]+(?:: (.+))? \(", self.beside(key))
            assert named
            return (
                [named[1]],
                row_word(named[2] or "drill"),
                key.replace("stop_reading", "set_depth"),
            )
        if table == "stops":
            group, operation, _ = rest.split(".")
            spec = next(one for one in self.layout.spec.holes if one.key == group)
            but = self.beside(key).partition("all but ")[2].split(", ")
            depth = key.replace("stop_reading", "set_depth")
            return [hole for hole in spec.names if hole not in but], operation, depth
        raise AssertionError(f"{key} sets a stop, and no one says for which holes")


def station(place: Place) -> str:
    return place.section.name if place.section else ""


WORKED = [name for name in works() if name != "measure"]  # which measures, and cuts nothing
BOOKS = [
    *((name, "down", "full") for name in SPECS),
    ("orrindale_qp4", "up", "full"),
    ("held back", "up", "full"),
    ("scale of the shop", "up", "full"),
    *((name, "down", work) for name in shipped_specs() for work in WORKED if work != "full"),
]


@pytest.fixture(scope="module", params=mostly_long(map(pytest.param, BOOKS), 4), ids=" ".join)
def book(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Book:
    name, quill, work = request.param
    return book_of(name, quill, tmp_path_factory.mktemp("books") / "book.xlsx", work)


def book_of(name: str, quill: str, path: Path, work: str = "full") -> Book:
    layout = lay_out(read_spec(SPECS[name], "x.toml"), Job("SQ-17", work=(work,)))
    readings = plausible(layout) | {"allowances.quill": quill}
    for number, row in enumerate(steps_of(layout).cuts):
        readings |= {f"stops.{row}.touch_reading": 40.0 + number, f"stops.{row}.feeler": 0.004}
    write(layout, path, readings)
    return Book(layout, path, quill)


def test_every_stop_stands_on_a_line_of_its_scale(book: Book) -> None:
    scale = steps_of(book.layout).groups.scale
    for places in book.told().values():
        for key, depth, stop in places:
            unit = book.layout.places[key].unit or ""
            line = scale.step(unit).to(unit)
            for size in (depth, stop):
                assert size / line == pytest.approx(round(size / line), abs=1e-6), key


def test_no_two_places_of_a_book_give_one_hole_different_tools_or_drills(book: Book) -> None:
    steps = steps_of(book.layout)
    for row, (group, operation) in steps.by_row.items():
        tool, word = book.words(f"schedule.{row}.tool"), row_word(operation)
        told = {
            book.words(key)
            for key in book.layout.places
            if key.startswith(f"card_{group.spec.key}_") and key.endswith(f".scale.{word}_tool")
        }
        assert told <= {tool}, row
        assert told or operation in BARE_HAND
        walk = f"walk_{group.spec.key}_{word}."
        in_walk = {
            book.words(key)
            for key in book.layout.places
            if key.startswith(walk) and key.endswith(".tool")
        }
        assert in_walk <= {tool, "by hand"}, row
        if operation == "drill":
            drill = book.number(f"threads.{group.spec.key}.drill_size")
            inches = book.number(f"schedule.{row}.inch")
            assert inches == pytest.approx(convert(drill, group.unit, "in"))
            assert book.number(f"schedule.{row}.millimetre") == pytest.approx(inches * 25.4)


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
                    unit = book.layout.places[key].unit or ""
                    deep = (stop - book.number(face)) * (1 if book.quill == "down" else -1)
                    room = floor - skim - least.to(group.unit) - convert(deep, unit, group.unit)
                    assert room >= -1e-9, f"{key} sends the tool {-room} {group.unit} too deep"


LINES = st.one_of(
    st.integers(10, 394).map(lambda at: f"{at / 10000} in"),  # 0.001 in to 1 mm
    st.integers(3, 100).map(lambda at: f"{at / 100} mm"),
    st.sampled_from(["0.001 in", "1/64 in", "1/32 in", "1 mm"]),
)


def on_lines(text: str, line: str, thinner: float) -> Layout:
    """The book of a spec for hole work on a scale with these lines, all floors so much thinner."""

    def floor(found: re.Match[str]) -> str:
        return f'floor = "{read_quantity(found[1]).to("mm") * thinner:.4f} mm"'

    text = re.sub(r'floor = "([^"]+)"', floor, text)
    text = re.sub(r"stop_scale = .*\n", "", text)
    shop = f'[shop]\nstop_scale = "{line}"\n'
    text = text.replace("[shop]\n", shop) if "[shop]\n" in text else text + "\n" + shop
    try:
        spec = read_spec(text, "x.toml")
    except SpecFaults:  # a thread deeper than its floor
        reject()
    return lay_out(spec, Job("SQ-17", work=("hole_work",)))


@pytest.mark.parametrize(
    "name", mostly_long(["orrindale_qp4", *sorted(set(TEXTS) - {"orrindale_qp4"})], 2)
)
@settings(max_examples=examples(60), deadline=None)
@given(
    data=st.data(), line=LINES, thinner=st.floats(0.75, 1.1), quill=st.sampled_from(["down", "up"])
)
def test_no_card_at_any_rounding_lets_the_point_nearer_to_a_floor_than_its_limit(
    name: str, data: st.DataObject, line: str, thinner: float, quill: str
) -> None:
    layout = on_lines(TEXTS[name], line, thinner)
    steps = steps_of(layout)
    typed = plausible(layout) | {"allowances.quill": quill}
    for row in steps.cuts:
        typed[f"stops.{row}.touch_reading"] = data.draw(st.floats(-300, 300), row)
        typed[f"stops.{row}.feeler"] = data.draw(st.floats(0, 0.03), f"{row}, feeler")
    values = reckon(layout, typed)
    least = read_quantity(hole_allowances()["least_floor"][0]).to("mm")
    seen = 0
    for row in steps.drills:
        group, operation = steps.by_row[row]
        word, unit = row_word(operation), steps.groups.scale.unit(group.unit)
        skim = size_in_mm(layout, values, group.planned_cut) if group.planned_cut else 0.0
        touch, feeler = (typed[f"stops.{row}.{one}"] for one in ("touch_reading", "feeler"))
        face = touch + feeler if quill == "down" else touch - feeler
        for card in cards_of(layout, group.spec.key, word):
            stop, warning = values[f"{card}.scale.{word}_stop"], values[f"{card}.scale.warning"]
            boxes = layout.places[f"{card}.scale.{word}_holes"].value
            deep = convert((stop - face) * (1 if quill == "down" else -1), unit, "mm")
            for hole in re.findall(r"\w+", str(boxes)):
                seen += 1
                danger = group.spec.danger_of(hole)
                floor = (danger.floor if danger else group.spec.floor).to("mm") - skim
                forbidden = not danger and re.match("DO NOT DRILL: .*floor", str(warning))
                assert forbidden or floor - deep >= least - 1e-6, f"{card}, {hole}"
    assert seen == sum(len(steps.by_row[row][0].spec.names) for row in steps.drills)


def cards_of(layout: Layout, group: str, word: str) -> list[str]:
    """The cards on which a drilling of a group has its stop."""
    ends = f".scale.{word}_stop"
    return [
        key.removesuffix(ends)
        for key in layout.places
        if key.startswith(f"card_{group}_") and key.endswith(ends)
    ]


def size_in_mm(layout: Layout, values: Mapping[str, object], key: str) -> float:
    """What a cell holds, in millimetres; nothing where it is blank."""
    found = values[key]
    return convert(found, layout.places[key].unit or "", "mm") if isinstance(found, float) else 0.0


def test_a_dangerous_hole_has_a_card_of_its_own_after_the_others(tmp_path: Path) -> None:
    book = book_of("orrindale_qp4", "down", tmp_path / "book.xlsx")
    cards = [part.key for part in book.layout.plans["Cards"].sheet.parts if hasattr(part, "key")]
    at = cards.index("card_sump_rail_drill")
    assert cards[at + 1] == "card_sump_rail_drill_S7"
    assert re.findall(r"\w+", book.words("card_sump_rail_drill_S7.scale.drill_holes")) == ["S7"]
    assert "S7" not in book.words("card_sump_rail_drill.scale.drill_holes")
    assert book.words("card_sump_rail_drill_S7.scale.danger") == "over main oil gallery"


def test_a_group_of_none_but_dangerous_holes_has_no_common_stop(tmp_path: Path) -> None:
    book = book_of("every hole over the gallery", "down", tmp_path / "book.xlsx")
    assert "stops.sump_rail.drill.stop_reading" not in book.layout.places
    assert "card_sump_rail_drill" not in {key.partition(".")[0] for key in book.layout.places}
