"""Every sheet that names a hole sends the tool to one depth there and sets one stop for it, and no
stop lets a tip come nearer to a floor than its limit.

The cells are read from the written workbook: which holes one concerns is told by the words printed
beside it.
"""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from datumbook.job import Job
from datumbook.numbers.quantities import read_quantity
from datumbook.numbers.units import convert
from datumbook.report.spindle_cards import cards_to_drill
from datumbook.spec import read_spec, shipped_specs
from datumbook.standards import hole_allowances
from datumbook.standards.works import works
from datumbook.stations import lay_out
from datumbook.stations.holes.hole_groups import row_word
from datumbook.stations.holes.stop_cards import BARE_HAND, OTHERWISE, SCALE
from datumbook.validator import validate
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place
from datumbook.writer import write
from hole_steps import steps_of
from long_runs import mostly_long
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
    "scale in 64ths": QP4.replace("[shop]", '[shop]\nstop_scale = "1/64 in"'),
    "scale of a metric shop": QP4.replace("[shop]", '[shop]\nstop_scale = "0.05 mm"'),
    "drilled twice": QP4.replace(FRONT, INSERTS),
    "out under a rail": QP4.replace('floor = "27 mm"', 'floor = "24 mm"'),
    "every hole over the gallery": QP4.replace(GALLERY, EVERY),
}
Told = dict[tuple[str, str], list[tuple[str, float | None, float | None]]]


class Book:
    """A workbook as it was written, read cell by cell."""

    def __init__(self, layout: Layout, path: Path, quill: str) -> None:
        self.layout, self.path, self.quill = layout, path, quill
        self.sheets = openpyxl.load_workbook(path, data_only=True)

    def number(self, key: str) -> float:
        value = self.shown(key)
        assert value is not None, f"{key} is blank"
        return value

    def shown(self, key: str) -> float | None:
        """What a cell shows; None where it is blank."""
        value = self.cell(key).value
        assert value in ("", None) or isinstance(value, int | float), f"{key} shows {value!r}"
        return None if value in ("", None) else round(float(value), 9)

    def cell(self, key: str) -> Any:
        at = self.layout.places[key].at
        return self.sheets[at.sheet].cell(at.row, at.column)

    def printed(self, key: str) -> str:
        """What stands on the paper: its number cut to the decimals of its format, halves up."""
        cell = self.cell(key)
        if not isinstance(cell.value, int | float):
            return str(cell.value or "")
        decimals = len(cell.number_format.partition(".")[2])
        return str(Decimal(repr(cell.value)).quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP))

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
                sizes = [
                    None if size is None else round(size, 9)
                    for size in map(self.shown, [depth, key])
                ]
                found[hole, operation].append((key, sizes[0], sizes[1]))
        return found

    def about(self, key: str) -> tuple[list[str], str, str]:
        """The holes a stop is for, the operation, and the cell of the depth that goes with it."""
        table, _, rest = key.partition(".")
        if table.startswith("walk_"):
            hole, column = rest.split(".")
            operation = column.removesuffix("_stop")
            return [hole], operation, f"{table}.{hole}.{operation}_depth"
        if table.startswith("card_"):
            word = rest.removeprefix("scale.").removesuffix("_stop")
            operation = "start_tap" if word == "tap" else word
            boxes = self.words(f"{table}.scale.{operation}_holes")
            return re.findall(r"\w+", boxes), operation, f"{table}.scale.{word}_depth"
        if table == "danger_taps":
            hole, operation, _ = rest.split(".")
            return [hole], operation, key.replace("stop_reading", "set_depth")
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


@pytest.fixture(scope="module", params=mostly_long(map(pytest.param, BOOKS), 3), ids=" ".join)
def book(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Book:
    name, quill, work = request.param
    return book_of(name, quill, tmp_path_factory.mktemp("books") / "book.xlsx", work)


def book_of(name: str, quill: str, path: Path, work: str = "full") -> Book:
    layout = lay_out(read_spec(SPECS[name], "x.toml"), Job("SQ-17", work=(work,)))
    readings = plausible(layout) | {"allowances.quill": quill}
    at = [f"stops.{row}" for row in steps_of(layout).cuts]
    at += [
        key.removesuffix(".touch_reading")
        for key in layout.places
        if key.startswith("danger_taps.") and key.endswith(".touch_reading")
    ]
    for number, one in enumerate(at):
        readings |= {f"{one}.touch_reading": 40.0 + number, f"{one}.feeler": 0.004}
    write(layout, path, readings)
    return Book(layout, path, quill)


def test_every_stop_stands_on_a_line_of_its_scale_and_is_printed_to_the_full(book: Book) -> None:
    scale, seen = steps_of(book.layout).groups.scale, 0
    for places in book.told().values():
        for key, depth, stop in places:
            unit = book.layout.places[key].unit or ""
            line = scale.step(unit).to(unit)
            for size in (depth, stop):
                lines = None if size is None else size / line
                assert lines is None or lines == pytest.approx(round(lines), abs=1e-6), key
            if stop is not None:
                assert float(book.printed(key)) == pytest.approx(stop, abs=1e-9), key
                seen += 1
    assert seen


def test_the_other_unit_tells_the_same_on_the_safe_side(book: Book) -> None:
    """In the unit that is not the scale's a depth is never more, and a stop never lower, than in
    the other; less by no more than the last digit.
    """
    beside = [key for key in book.layout.places if key.startswith("card_") and ".other." in key]
    grows = 1 if book.quill == "down" else -1
    for key in beside:
        first = key.replace(".other.", ".scale.")
        if book.shown(key) is None or book.shown(first) is None:
            assert book.shown(key) is book.shown(first) is None, key
            continue
        units = [book.layout.places[one].unit or "" for one in (key, first)]
        other, own = float(book.printed(key)), convert(book.number(first), units[1], units[0])
        deeper = (other - own) * (grows if key.endswith("_stop") else 1)
        digit = 10.0 ** -len(book.printed(key).partition(".")[2])
        # a depth on no line of the scale is cut off in either unit, each for itself
        cut_off = convert(10.0 ** -len(book.printed(first).partition(".")[2]), *reversed(units))
        slack = cut_off if key.endswith((".thread_depth", ".deepest")) else 0.0
        assert -digit - 1e-9 <= deeper <= slack + 1e-9, f"{key} {other}, {first} {own} {units[0]}"
    assert beside or not book.layout.stations.holes.steps.cuts  # type: ignore[union-attr]


def test_thread_depths_and_turns_are_the_same_on_schedule_and_cards(book: Book) -> None:
    for group in steps_of(book.layout).groups.all:
        told = {
            key: convert(book.number(key), book.layout.places[key].unit or "", group.unit)
            for key in book.layout.places
            if key.startswith((f"walk_{group.spec.key}_", f"card_{group.spec.key}_"))
            and key.endswith(".thread_depth")
            and ".other." not in key
        }
        if told:
            assert max(told.values()) - min(told.values()) < 0.0011, told  # the last digit
        turns = {
            book.number(key)
            for key in book.layout.places
            if key.startswith(f"card_{group.spec.key}_") and key.endswith(".turns")
        }
        assert len(turns) <= 1, turns


def test_the_cards_of_the_report_print_what_the_cards_of_the_book_print(book: Book) -> None:
    made = validate(book.path)
    left = {key: value for key, value in made.values.items() if not key.endswith(".done")}
    told = cards_to_drill(replace(made, values=left))
    assert made.verdict in ("hold", "release")
    tables = {one.table.title: one.table for one in book.layout.stations.holes.cards.each}  # type: ignore[union-attr]
    assert [one.title for one in told] == list(tables)
    for card in told:
        for line in card.lines:
            for at, said in ((SCALE, line.said), (OTHERWISE, line.beside)):
                key = tables[card.title].column(line.name).find(at)
                assert said == (book.printed(key) if key else ""), f"{card.title}, {line.words}"


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
    tapped = {
        (danger.hole, "start_tap")
        for row in steps.those("start tap")
        for danger in steps.by_row[row][0].spec.danger
    }
    assert set(told) == wanted | tapped
    for (hole, operation), places in told.items():
        where = f"{hole}, {operation}: {places}"
        sheets = sorted(station(book.layout.places[key]) for key, _, _ in places)
        assert sheets == ["Cards", *(["Schedule"] if (hole, operation) in wanted else []), "Stops"]
        assert len({stop for _, _, stop in places}) == 1, where
        if places[0][2] is not None:
            assert len({depth for _, depth, _ in places}) == 1, where
        elif (hole, operation) in wanted:
            sent = [depth for key, depth, _ in places if key.startswith(("card_", "walk_"))]
            assert sent == [None, None], f"forbidden, and yet sent: {where}"


def test_where_a_card_forbids_the_cut_no_sheet_tells_a_stop(book: Book) -> None:
    told = book.told()
    for key in book.layout.places:
        if key.startswith("card_") and key.endswith(".scale.warning"):
            forbidden = book.words(key).startswith(("DO NOT DRILL", "DO NOT COUNTERBORE"))
            stops = [
                stop
                for places in told.values()
                if any(one.startswith(f"{key.partition('.')[0]}.") for one, _, _ in places)
                for _, _, stop in places
            ]
            assert not forbidden or set(stops) <= {None}, key
            assert forbidden or None not in stops, key


def test_no_stop_lets_a_tip_nearer_to_a_floor_than_its_limit(book: Book) -> None:
    least = read_quantity(hole_allowances()["least_floor"][0])
    told = book.told()
    for group in steps_of(book.layout).groups.all:
        cut = group.gone
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
                    if stop is None or operation == "start_tap":
                        continue
                    unit = book.layout.places[key].unit or ""
                    deep = (stop - book.number(face)) * (1 if book.quill == "down" else -1)
                    room = floor - skim - least.to(group.unit) - convert(deep, unit, group.unit)
                    assert room >= -1e-9, f"{key} sends the tool {-room} {group.unit} too deep"


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
