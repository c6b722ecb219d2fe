"""A stripped hole decided at the bench: what is typed for a group is followed on every sheet.

Source: ASME B1.1 and ISO 965-1 for the limits of the new threads; everything else is worked by hand
from the sizes of the shipped spec and the shop's allowances.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path

import pytest

from as_asked import values_of
from clean_readings import clean_readings, shipped_layout
from datumbook.validator import validate
from datumbook.writer import write
from engines import Results, roundtrip, same
from long_runs import mostly_long

GROUP = {
    "opened.sump_rail.opened_to": "M10x1.5",
    "opened.sump_rail.decided_by": "A. N.",
    "opened.rear_housing.opened_to": "7/16-14 UNC",
    "opened.rear_housing.typed_drill": "23/64",
    "allowances.quill": "down",
    "stops.sump_rail.drill.touch_reading": 40.0,
    "stops.sump_rail.drill.feeler": 0.1,
    "stops.rear_housing.drill.touch_reading": 2.0,
    "stops.rear_housing.drill.feeler": 0.0,
}
POINT = math.tan(math.radians(59))
TIP = 16 + 1.5 * 1.5 + 25.4 / 16 + 8.5 / 2 / POINT  # mm: thread, lead, chips, point
REAR_TIP = 0.75 + 1.5 / 14 + 1 / 16 + 23 / 64 / 2 / POINT
HELD_BACK = 25.4 - 25.4 / 8  # over the gallery: its floor less the least floor
MM, IN = 0.1, 0.005  # from line to line on the scale of the quill


def sent(depth: float, line: float) -> float:
    """A depth on the last line before it."""
    return math.floor(depth / line) * line


BY_HAND: dict[str, float | str | None] = {
    "threads.sump_rail.thread": "M10x1.5",
    "threads.sump_rail.smallest_minor": 8.376,  # ISO 965-1, M10 6H
    "threads.sump_rail.largest_minor": 8.676,
    "threads.sump_rail.drill_size": 8.5,
    "threads.sump_rail.hole": 8.5 + 0.0044 * 25.4,  # what a drill of this size cuts over it
    "threads.sump_rail.groove_left": 0.0,  # 8.5 swallows the M8
    "threads.rear_housing.smallest_minor": 0.360,  # ASME B1.1, 7/16-14 UNC 2B
    "threads.rear_housing.largest_minor": 0.376,
    "threads.rear_housing.hole": 23 / 64 + 0.0046,
    "threads.rear_housing.groove_left": (3 / 8 - 23 / 64 - 0.0046) / 2,  # of the 3/8-16
    "metal.sump_rail.widest": 10.5,  # the relief, half a millimetre over as drawn
    "metal.sump_rail.wall_after": 6.4 - (10.5 - 6) / 2,
    "metal.sump_rail.edge_in_diameters": 1.4,
    "relief.sump_rail.depth": 1.6 / 1.25 * 1.5,
    "relief.sump_rail.diameter.verdict": "OUT",  # over the gasket's hole of 9.5
    "reach.sump_rail.engaged_length": 20 - 5 - 2 * 1.5 - 1.92,  # its last two turns are none
    "reach.sump_rail.needed": 12.5,
    "reach.rear_housing.needed": 1.25 * 7 / 16,
    "fasteners.sump_rail.clamp_load": 20 / (0.2 * 0.010) / 1000,  # kN
    "fasteners.sump_rail.stress_area": 57.99,  # ISO 898-1, table
    "fasteners.rear_housing.stress_area": 0.1063,  # FED-STD-H28
    "opening.sump_rail.clearance_hole": 10.5,  # ISO 273, fine
    "opening.sump_rail.gasket_hole.verdict": "OUT",
    "stops.sump_rail.drill.tip_depth": TIP,
    "stops.sump_rail.drill.set_depth": sent(TIP, MM),
    "stops.sump_rail.drill.stop_reading": None,  # the wall beside it would be too thin
    "danger.S7.set_depth": sent(HELD_BACK, MM),
    "danger.S7.full_depth_reached.verdict": "OK",
    "danger.S7.stop_reading": None,
    "stops.rear_housing.drill.stop_reading": 2.0 + sent(REAR_TIP, IN),
    "walk_sump_rail_drill.S1.tool": "drill 8.5 mm",
    "walk_sump_rail_drill.S1.drill_stop": None,
    "walk_sump_rail_drill.S7.drill_stop": None,
    "walk_sump_rail_start_tap.S1.tool": "M10x1.5 taper tap, spindle unpowered",
    "decided_tools.sump_rail.said": "not as drawn: those in its walks",
    "decided_tools.front_cover.said": "as drawn",
    "schedule.sump_rail.finish_tap.tool": "M10x1.5 second, then bottoming tap, by hand",
    "schedule.rear_housing.drill.tool": "drill 23/64",
    "schedule.rear_housing.drill.spindle_speed": 80 * 12 / (math.pi * 23 / 64),
    "card_sump_rail_drill.scale.drill_tool": "drill 8.5 mm",
    "card_sump_rail_drill.scale.drill_stop": None,
    "card_rear_housing_drill.scale.drill_stop": 2.0 + sent(REAR_TIP, IN),
    "card_sump_rail_drill_S7.scale.drill_stop": None,
    "card_sump_rail_drill_S7.scale.warning": "DO NOT DRILL: wall OUT",
    "card_sump_rail_counterbore.scale.counterbore_depth": None,  # wider than the gasket's hole
    "stops.sump_rail.counterbore.set_depth": 1.9,
    "relief.sump_rail.least_depth": 1.72,
    "relief.sump_rail.most_depth": 2.32,
    "holes_sump_rail.S1.counterbore.verdict": "OUT",  # gauged as drawn: too shallow by now
    "holes_sump_rail.S3.for": "M10x1.5",
    "map_bottom.S3.thread": "M10x1.5",
}
SINGLE = {
    "single_inch.1.hole": "D4",
    "single_inch.1.like": "Head studs",
    "single_inch.1.opened_to": "1/2-13 UNC",
    "single_inch.1.relief_depth": 0.1,
    "single_inch.1.decided_by": "A. N.",
    "single_stops_inch.1.touch_reading": 3.0,
    "single_stops_inch.1.feeler": 0.004,
    "single_inch.2.hole": "X1",  # on no drawing
    "single_inch.2.like": "Front cover",
    "single_inch.2.typed_drill": "F",
    "single_stops_inch.2.touch_reading": 1.0,
    "single_stops_inch.2.feeler": 0.0,
    "single_gauge_inch.2.drilled": 0.84,
    "single_gauge_inch.2.thread_found": 0.64,
    "single_gauge_inch.2.done": "done",
    "single_metric.3.hole": "S7",  # over the gallery
    "single_metric.3.like": "Sump rail",
    "single_metric.3.opened_to": "M10x1.5",
    "allowances.quill": "down",
    "single_stops_metric.3.touch_reading": 50.0,
    "single_stops_metric.3.feeler": 0.0,
    "stops.sump_rail.drill.touch_reading": 40.0,
    "stops.sump_rail.drill.feeler": 0.1,
    "stops.head_studs.counterbore.touch_reading": 1.0,
    "stops.head_studs.counterbore.feeler": 0.0,
}
STUD_TIP = 1.0 + 1.5 / 13 + 1 / 16 + 27 / 64 / 2 / POINT
NEW_TIP = 0.625 + 1.5 / 18 + 1 / 16 + 0.257 / 2 / POINT
DRAWN_TIP = 16 + 1.5 * 1.25 + 25.4 / 16 + 6.8 / 2 / POINT
LEAVE = "LEAVE OUT the holes that have a line of their own"
SEE = "NOT HERE: see its own line"
SINGLE_BY_HAND: dict[str, float | str | None] = {
    "single_metal_inch.1.thread": "1/2-13 UNC",
    "single_metal_inch.1.tool": "drill 27/64",
    "single_metal_inch.1.least": 0.417,  # ASME B1.1, 1/2-13 UNC 2B
    "single_metal_inch.1.largest": 0.434,
    "single_metal_inch.1.hole_made": 27 / 64 + 0.0047,
    "single_metal_inch.1.hole_made_judged": "OK",
    "single_metal_inch.1.groove_left": (7 / 16 - 27 / 64 - 0.0047) / 2,
    "single_metal_inch.1.groove_left_judged": "OUT",
    "single_metal_inch.1.relief": 17 / 32,
    "single_metal_inch.1.wall_after": 0.260 - (17 / 32 - 7 / 16) / 2,
    "single_metal_inch.1.edge_in_diameters": 18 / 25.4 / 0.5,
    "single_metal_inch.1.to_neighbour": 84 / 25.4 - (17 / 32 + 15 / 32) / 2,
    "single_metal_inch.1.engaged_length": 4.75 - 3.85 - 2 / 13 - 0.1,
    "single_metal_inch.1.needed": 0.75,
    "single_stops_inch.1.set_depth": sent(STUD_TIP, IN),
    "single_stops_inch.1.forbidden": "DO NOT DRILL: OUT below",  # old grooves would stay
    "single_stops_inch.1.stop_reading": None,
    "single_stops_inch.1.spindle_speed": 80 * 12 / (math.pi * 27 / 64),
    "single_gauge_inch.1.new": 0.0,
    "single_gauge_inch.1.all_told": "OUT",
    "single_metal_inch.2.tool": "drill F",
    "single_stops_inch.2.forbidden": "",
    "single_stops_inch.2.stop_reading": 1.0 + sent(NEW_TIP, IN),
    "single_metal_inch.2.to_bore": None,  # nothing is stated of a bore
    "single_gauge_inch.2.new": 1.0,
    "single_gauge_inch.2.drilled_judged": "OK",
    "single_gauge_inch.2.all_told": "OK",
    "single_stops_metric.3.over": "main oil gallery",
    "single_stops_metric.3.full_there_judged": "OK",
    "single_stops_metric.3.forbidden": "DO NOT DRILL: OUT below",
    "single_stops_metric.3.set_depth": sent(HELD_BACK, MM),
    "single_stops_metric.3.stop_reading": None,
    "single_metal_inch.4.thread": "",
    "single_gauge_inch.4.all_told": "",
    # the group's own lines: another hole as drawn, these left out
    "walk_head_studs_counterbore.D3.counterbore_stop": 1.0 + sent(3 / 32, IN),
    "walk_head_studs_counterbore.D4.counterbore_stop": None,
    "walk_head_studs_counterbore.D4.tool": SEE,
    "walk_sump_rail_drill.S6.drill_stop": 40.1 + sent(DRAWN_TIP, MM),
    "walk_sump_rail_drill.S7.drill_stop": None,
    "walk_sump_rail_drill.S7.drill_depth": None,
    "walk_sump_rail_start_tap.S7.tool": SEE,
    "danger.S7.set_depth": None,
    "danger.S7.stop_reading": None,
    "card_sump_rail_drill_S7.scale.drill_stop": None,
    "card_head_studs_counterbore.scale.warning": LEAVE,
    "card_sump_rail_drill.scale.warning": "",
    "holes_sump_rail.S7.deepest": HELD_BACK,
    "holes_sump_rail.S7.for": "M10x1.5",
    "holes_sump_rail.S6.for": "M8x1.25",
    "own_lines.D4.most_depth": 0.115,
    "holes_head_studs.D4.counterbore.verdict": "",  # its depths need not be read
    "map_deck.D4.thread": "1/2-13 UNC",
}
ON_THE_SHEETS = (
    "walk_sump_rail_drill.S1.tool",
    "stops.sump_rail.drill.depth",
    "card_sump_rail_drill.scale.drill_tool",
    "holes_sump_rail.S1.for",
)
FILLED = {"group": (GROUP, BY_HAND), "single": (SINGLE, SINGLE_BY_HAND)}
PRINTED = {"fasteners.sump_rail.stress_area": 2, "fasteners.rear_housing.stress_area": 4}


@cache
def reckoned(what: str = "group") -> dict[str, object]:
    return dict(values_of(shipped_layout(), clean_readings(shipped_layout()) | FILLED[what][0]))


def as_printed(key: str, value: object) -> object:
    return round(value, PRINTED[key]) if key in PRINTED and isinstance(value, float) else value


def agrees(key: str, value: object, expected: float | str | None) -> bool:
    found = as_printed(key, value)
    if expected is None:
        return not found and found != 0
    if isinstance(expected, str) or not isinstance(found, int | float):
        return found == expected
    return math.isclose(found, expected, rel_tol=1e-9, abs_tol=1e-9)


def unlike(
    values: Callable[[str], object], by_hand: Mapping[str, float | str | None]
) -> dict[str, object]:
    return {
        key: (values(key), expected)
        for key, expected in by_hand.items()
        if not agrees(key, values(key), expected)
    }


@pytest.mark.parametrize("what", FILLED)
def test_what_is_decided_is_followed_to_every_sheet(what: str) -> None:
    assert unlike(reckoned(what).get, FILLED[what][1]) == {}


def test_nothing_else_of_the_group_says_the_thread_of_the_drawing() -> None:
    layout, values = shipped_layout(), reckoned()
    left = {
        key
        for key, value in values.items()
        if "M8x1.25" in str(value) and "M8x1.25" not in str(layout.places[key].value)
    }
    assert left == set()
    printed = [
        text
        for name in sorted({layout.places[key].at.sheet for key in ON_THE_SHEETS})
        for text in layout.plans[name].texts
        if "M8x1.25" in text.words and not text.words.startswith("Tools in turn")
    ]
    turns = [text for text in printed if text.words[:1].isdigit()]
    assert printed == turns, "only the order of the tools, which says that it is the drawing's"


def test_words_that_are_no_choice_are_refused_and_leave_the_checks_open(tmp_path: Path) -> None:
    layout, book = shipped_layout(), tmp_path / "book.xlsx"
    write(layout, book, clean_readings(layout) | {"opened.sump_rail.opened_to": "M11"})
    made = validate(book)
    assert "reading-not-a-choice" in [
        one.code for one in made.findings if one.key == "opened.sump_rail.opened_to"
    ]
    for check in ("threads.sump_rail.hole", "reach.sump_rail.engaged_length"):
        assert made.values[f"{check}.verdict"] == "OPEN"
    assert made.values["schedule.sump_rail.start_tap.tool"] == ""


def test_a_drill_that_is_not_for_the_thread_is_out_of_its_class() -> None:
    typed = {"opened.sump_rail.opened_to": "M10x1.5", "opened.sump_rail.typed_drill": "6.8 mm"}
    values = values_of(shipped_layout(), clean_readings(shipped_layout()) | typed)
    assert values["threads.sump_rail.drill_size"] == 6.8
    assert values["threads.sump_rail.hole"] == pytest.approx(6.8 + 0.0040 * 25.4)
    assert values["threads.sump_rail.hole.verdict"] == "OUT"
    assert values["threads.sump_rail.groove_left"] == pytest.approx(0.6 - 0.0020 * 25.4)


@pytest.mark.parametrize(
    ("probed", "verdict", "standing"),
    # the drill of the spec probably makes 0.2696 in, over the class's 0.265
    [(None, "", "holds"), (0.2630, "OK", "passes"), (0.2660, "OUT", "passes")],
)
def test_a_probed_hole_is_judged_instead_of_the_probable_one(
    probed: float | None, verdict: str, standing: str
) -> None:
    typed = clean_readings(shipped_layout())
    typed = {key: value for key, value in typed.items() if "front_cover.hole.conceded" not in key}
    if probed is not None:
        typed["threads.front_cover.probed"] = probed
    values = values_of(shipped_layout(), typed)
    assert values["threads.front_cover.hole.verdict"] == "OUT"
    assert values["threads.front_cover.probed.verdict"] == verdict
    assert values["release.threads.front_cover.hole.standing"] == standing
    assert values["threads.front_cover.counted"] == pytest.approx(probed or 17 / 64 + 0.0040)
    by_the_charts = (5 / 16 - (probed or 17 / 64 + 0.0040)) * 18 / 1.299038
    assert values["threads.front_cover.drill_chart_thread"] == pytest.approx(100 * by_the_charts)


def test_a_single_hole_that_is_probed_is_judged_by_that() -> None:
    typed = clean_readings(shipped_layout()) | SINGLE
    probable = values_of(shipped_layout(), typed)
    assert probable["single_metal_inch.1.hole_made_judged"] == "OK"
    probed = values_of(shipped_layout(), typed | {"single_metal_inch.1.probed": 0.436})
    assert probed["single_metal_inch.1.hole_made"] == 0.436
    assert probed["single_metal_inch.1.hole_made_judged"] == "OUT"  # over 0.434 of the class


def test_a_relief_that_is_typed_stands_before_the_one_that_grew() -> None:
    typed = {
        "opened.sump_rail.opened_to": "M10x1.5",
        "opened.sump_rail.relief_diameter": 11.0,
        "opened.sump_rail.relief_depth": 2.0,
    }
    values = values_of(shipped_layout(), clean_readings(shipped_layout()) | typed)
    assert values["metal.sump_rail.widest"] == 11.0
    assert values["stops.sump_rail.counterbore.set_depth"] == 2.0
    assert (
        values["card_sump_rail_counterbore.scale.counterbore_tool"]
        == "counterbore, diameter as typed"
    )


@pytest.mark.parametrize("what", mostly_long(FILLED))
def test_every_program_works_it_out_alike(
    what: str, engine_in_turn: Callable[[Path], Results], tmp_path: Path
) -> None:
    layout, book = shipped_layout(), tmp_path / "book.xlsx"
    write(layout, book, clean_readings(layout) | FILLED[what][0])
    found, values = engine_in_turn(book), reckoned(what)

    def shown(key: str) -> object:
        return found[layout.places[key].at.sheet, layout.places[key].at.cell]

    assert unlike(shown, FILLED[what][1]) == {}
    assert [key for key in layout.places if not same(shown(key), values[key])] == []  # type: ignore[arg-type]


@pytest.mark.parametrize("program", mostly_long(["libreoffice", "gnumeric"]))
@pytest.mark.parametrize("what", mostly_long(FILLED))
def test_a_book_saved_by_another_program_is_judged_the_same(
    what: str, program: str, tmp_path: Path
) -> None:
    layout, book = shipped_layout(), tmp_path / "book.xlsx"
    write(layout, book, clean_readings(layout) | FILLED[what][0])
    own, saved = validate(book), validate(roundtrip(program, book))
    assert unlike(saved.values.get, FILLED[what][1]) == {}
    assert {(one.code, one.key) for one in saved.findings} == {
        (one.code, one.key) for one in own.findings
    }


def test_a_hole_decided_by_itself_has_one_stop_in_the_whole_book() -> None:
    layout, values = shipped_layout(), reckoned("single")
    told = {
        key: value
        for key, value in values.items()
        if "SET STOP AT" in layout.places[key].label
        and isinstance(value, float)
        and (
            ".S7." in key
            or key in {"card_sump_rail_drill_S7.scale.drill_stop", "danger.S7.stop_reading"}
        )
    }
    assert told == {}
    assert values["single_stops_metric.3.set_depth"] == pytest.approx(sent(HELD_BACK, MM))
    assert values["single_stops_metric.3.stop_reading"] is None, "its line is OUT"


def test_two_lines_of_one_hole_are_refused() -> None:
    typed = SINGLE | {"single_inch.3.hole": "d4", "single_inch.3.like": "Head studs"}
    values = values_of(shipped_layout(), clean_readings(shipped_layout()) | typed)
    assert values["single_gauge_inch.1.hole_judged"] == "OUT"
    assert values["single_gauge_inch.3.all_told"] == "OUT"


@pytest.mark.parametrize("left_out", ["like", "opened_to"])
def test_a_line_that_is_not_understood_is_open(left_out: str) -> None:
    typed = SINGLE | {f"single_inch.1.{left_out}": "something else"}
    values = values_of(shipped_layout(), clean_readings(shipped_layout()) | typed)
    assert values["single_metal_inch.1.engaged_length_judged"] == "OPEN"
    assert values["single_stops_inch.1.stop_reading"] is None
    assert values["walk_head_studs_counterbore.D4.tool"] == SEE
    assert values["holes_head_studs.D4.for"] == ""


def test_what_is_blank_asks_for_nothing() -> None:
    values = values_of(shipped_layout(), clean_readings(shipped_layout()))
    lines = {key: value for key, value in values.items() if key.endswith("_judged")}
    assert len(lines) > 100
    assert set(lines.values()) == {""}
    standings = [value for key, value in values.items() if key.endswith(".all_told.standing")]
    assert set(standings) == {"passes"}
