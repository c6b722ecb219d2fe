"""Books that a spreadsheet program filled or spoiled as people do: typed, pasted, cut, rows
inserted, sheets renamed.

What is recalculated in the program is its own work.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from bench_typing import job, type_many
from clean_readings import clean_book, clean_readings, empty_book, shipped_layout, told, validated
from datumbook.messages.findings import Finding
from datumbook.readers import address_of
from datumbook.validator import Validation, validate
from datumbook.workbook.placed import Place
from datumbook.workbook.record import SHEET
from engines import gnumeric, libreoffice, once
from long_runs import mostly_long
from programs import made_once
from readings_made import in_turn

pytestmark = pytest.mark.program("libreoffice")

BLANK_BEFORE = "holes_front_cover.F3.thread"
TYPED_AS = {
    "bores.1.top.thrust": "82.0",
    "corners.front_left.overall": "14 1/4",
    "instruments.heights.uncertainty": ".0005",
    "holes_head_studs.D1.thread": "1 1/32",
    "instruments.heights.part": "19.5",
    "job.owner": "Saltmarrow Harbour Trust",
}
"""As a person types them; a fraction with a whole number is a number to every program, one without
it may be text.
"""


def place(key: str) -> Place:
    return shipped_layout().place(key)


def as_typed(key: str, value: float | str) -> tuple[str, str, str]:
    text = value if isinstance(value, str) else f"{value:.9g}"
    at = place(key).at
    return at.sheet, at.cell, TYPED_AS.get(key, text)


def row(key: str) -> int:
    return place(key).at.row


def column(key: str) -> int:
    return place(key).at.column


def act(do: str, sheet: str = "Bores", **words: Any) -> dict[str, Any]:
    return {"do": do, "sheet": sheet, **words}


MIDDLE, OUT_OF_ROUND = "bores.2.middle.thrust", "bores.2.middle.out_of_round"


def spoiled() -> Mapping[str, list[dict[str, Any]]]:
    """What was done to the clean book, by a name of our own."""
    cell, beside = place(MIDDLE).at.cell, f"N{row(MIDDLE)}"
    return {
        "sheet renamed": [act("rename_sheet", to="Bohrungen 1")],
        "row inserted": [act("insert_rows", row=row(MIDDLE))],
        "rows inserted in two sheets": [
            act("insert_rows", row=row(MIDDLE), count=2),
            act("insert_rows", "Tunnels", row=9),
        ],
        "row inserted between headings": [act("insert_rows", row=row("bore.1.unworn_lip") - 3)],
        "row inserted at the top": [act("insert_rows", row=1)],
        "row deleted with its readings": [act("delete_rows", row=row(MIDDLE))],
        "row of words deleted": [act("delete_rows", row=5)],
        "row of the conventions deleted": [act("delete_rows", "Customer", row=3)],
        "column inserted": [act("insert_columns", column=place(MIDDLE).at.column + 1)],
        "column deleted": [act("delete_columns", column=place(MIDDLE).at.column + 1)],
        "row of results deleted": [act("delete_rows", "Budget", row=10)],
        "rows inserted among results": [act("insert_rows", "Map", row=30, count=20)],
        "column of results deleted": [act("delete_columns", column=column(OUT_OF_ROUND))],
        "last column deleted": [
            act("delete_columns", column=shipped_layout().plans["Bores"].columns)
        ],
        "column inserted among results": [act("insert_columns", "Threads", column=3)],
        "row and column inserted": [
            act("insert_rows", "Parts", row=9),
            act("insert_columns", "Parts", column=1),
        ],
        "sheet of results renamed": [act("rename_sheet", "Budget", to="Bolts")],
        "sheet deleted": [act("delete_sheet", "Parts")],
        "record deleted": [act("delete_sheet", SHEET)],
        "sheet copied": [act("copy_sheet", to="Bores_2")],
        "cell cut and pasted": [act("move_cells", cells=cell, to=beside)],
        "result cut and pasted": [
            act("move_cells", cells=place("bores.2.middle.out_of_round").at.cell, to=beside)
        ],
        "reading copied over a formula": [
            act("copy_cells", cells=cell, to=place("bores.2.middle.out_of_round").at.cell)
        ],
        "formula typed over": [
            act(
                "set_formula",
                cell=place("bores.2.middle.out_of_round").at.cell,
                formula=f"=ABS({cell}-82)",
            )
        ],
    }


DEEPEST = 25.4 - 25.4 / 8  # mm: the gallery under S7 less the least floor of 1/8 in
IN_TURN = in_turn(shipped_layout())
AT_THE_MACHINE: dict[str, dict[str, float | str]] = {
    "drilled too deep": {"holes_sump_rail.S7.drilled": DEEPEST + 0.5},
    "relieved before the skim": {
        "route.hole_work.done": IN_TURN["route.deck.done"],
        "route.deck.done": IN_TURN["route.hole_work.done"],
        "measured_holes.step": "hole work",
    },
    "relieved after the skim": {"measured_holes.step": "hole work"},
    "skimmed past the thread": {"deck_cut.parallel_to": "crank line", "deck_cut.cut": 0.2501},
    "walked": {
        "allowances.quill": "down",
        "stops.sump_rail.drill.touch_reading": 40.1,
        "stops.sump_rail.drill.feeler": 0.1,
    },
}
"""What is done to the clean block at the machine, by a name of our own: the flange S with S7 over
the gallery, the deck D.
"""


FILLED = ["filled", "filled, ods"]


@cache
def worked(name: str) -> Path:
    """The book after this work, typed when it is asked for."""
    folder = f"typed-{list(jobs(Path())).index(name)}"

    def work(made: Path) -> None:
        made.mkdir()
        type_many([jobs(made)[name]])

    return made_once(folder, work) / Path(jobs(Path())[name]["out"]).name


def jobs(folder: Path) -> dict[str, dict[str, Any]]:
    """Everything that is typed, with the book it is typed into and the one saved in the folder."""
    readings = clean_readings(shipped_layout()) | dict.fromkeys(TYPED_AS, "")
    found = {
        "filled": job(
            empty_book(), folder / "filled.xlsx", [as_typed(*one) for one in readings.items()]
        )
    }
    found["filled, ods"] = found["filled"] | {"out": str(folder / "filled.ods")}
    at = place(BLANK_BEFORE).at
    for text in (
        "5/8",
        "21/32",
        "0,642",
        "0.642 in",
        "0.642",
        "16.3",
        "5%",
        "1:30",
        "TRUE",
        " 0.642 ",
    ):
        found[text] = job(
            clean_book(), folder / f"typed{len(found)}.xlsx", [(at.sheet, at.cell, text)]
        )
    for name, typed in AT_THE_MACHINE.items():
        found[name] = job(
            clean_book(),
            folder / f"machine{len(found)}.xlsx",
            [as_typed(*one) for one in typed.items()],
        )
    for name, actions in spoiled().items():
        found[name] = job(clean_book(), folder / f"spoiled{len(found)}.xlsx", [], actions)
    return found


@cache
def judged(name: str) -> Validation:
    return validate(worked(name))


def damage(name: str) -> list[Finding]:
    return [one for one in judged(name).findings if one.severity == "damage"]


# --- filled in by a person


@pytest.mark.parametrize("name", mostly_long(FILLED))
def test_a_book_filled_by_a_person_is_released_without_any_false_finding(name: str) -> None:
    made = judged(name)
    assert (made.findings, made.verdict, made.state) == ([], "release", "RELEASABLE")
    assert made.typed["corners.front_left.overall"] == 14.25
    assert made.typed["holes_head_studs.D1.thread"] == 1 + 1 / 32
    assert made.typed["instruments.heights.uncertainty"] == 0.0005
    assert made.typed["job.owner"] == "Saltmarrow Harbour Trust"


def test_both_programs_reckon_in_the_filled_book_what_the_validator_reckons() -> None:
    made = judged("filled")
    for engine in (libreoffice, gnumeric):
        results = engine(worked("filled"))
        for one in made.outcomes:
            shown = results[one.sheet, one.cell]
            if isinstance(one.computed, float):
                assert shown == pytest.approx(one.computed, rel=1e-9, abs=1e-9), (
                    engine.__name__,
                    one.key,
                )
            else:
                assert (shown or "") == (one.computed or ""), (engine.__name__, one.key)
    kept = validate(once("gnumeric", worked("filled")))
    # what the other program does not keep of a list is said, and holds nothing
    assert {one.code for one in kept.findings} <= {"entry-rules-lost"}
    assert kept.verdict == "release"


# --- at the machine


def test_the_block_typed_in_has_a_flange_a_danger_hole_a_deck_and_two_ends() -> None:
    holes = {group.face: group for group in shipped_layout().spec.holes}
    assert {"deck", "bottom", "front", "rear"} <= set(holes)
    assert (len(holes["bottom"].names), len(holes["deck"].names)) == (12, 10)
    assert [one.hole for one in holes["bottom"].danger] == ["S7"]


def too_deep(made: Validation) -> None:
    (found,) = [one for one in made.findings if one.code == "check-out"]
    assert found.key == "holes_sump_rail.S7.drilled"
    assert "break-through limit of S7: main oil gallery below" in found.message
    assert made.exit_status == 1


RELIEF = "holes_head_studs.D1.counterbore"  # depths are wanted in the first hole


def stale(made: Validation) -> None:
    assert made.values[f"{RELIEF}.verdict"] == "STALE"
    assert RELIEF in {one.key for one in made.findings}


def fresh(made: Validation) -> None:
    assert made.values[f"{RELIEF}.verdict"] == "OK"


def past_the_thread(made: Validation) -> None:
    # by hand: 1.000 in of thread less 0.2501 skimmed less 3/32 of relief is 0.65615; 1.5 x 7/16 is
    # 0.65625
    assert made.values["reach.head_studs.engaged_length"] == pytest.approx(0.65615, abs=1e-9)
    assert made.values["reach.head_studs.needed"] == pytest.approx(0.65625, abs=1e-9)
    assert made.values["reach.head_studs.engaged_length.verdict"] == "OUT"


def follows_its_touch(made: Validation) -> None:
    sent = made.values["stops.sump_rail.drill.set_depth"]
    assert isinstance(sent, float)
    assert made.values["walk_sump_rail_drill.S7.drill_stop"] == pytest.approx(40.2 + sent)
    assert (made.findings, made.verdict) == ([], "release")


@pytest.mark.parametrize(
    ("name", "holds"),
    mostly_long(
        zip(
            AT_THE_MACHINE,
            (too_deep, stale, fresh, past_the_thread, follows_its_touch),
            strict=True,
        )
    ),
)
def test_what_is_done_at_the_machine_is_judged_as_it_was_typed(
    name: str, holds: Callable[[Validation], None]
) -> None:
    holds(judged(name))


SLIPS = [
    ("5/8", "reading-is-date", "5/8"),
    ("0.642 in", "reading-is-text", "0.642"),
    ("16.3", "reading-wrong-unit", "0.641732"),
    ("21/32", "reading-is-text", "0.65625"),
    ("0,642", "reading-wrong-unit", "0.6420"),
    ("TRUE", "reading-is-truth", ""),
    ("0.642", "", ""),
    (" 0.642 ", "", ""),
]


@pytest.mark.parametrize(("text", "code", "meant"), mostly_long(SLIPS))
def test_what_the_program_made_of_a_slip_of_the_hand_is_told(
    text: str, code: str, meant: str
) -> None:
    """INTEROP: what a program makes of a typed text, measured with this one in the language
    en-US.
    """
    made = judged(text)
    at = place(BLANK_BEFORE).at
    counted = told(
        [one for one in made.findings if text != "TRUE" or one.code != "results-stale"]
    )  # it counts TRUE as 1
    assert counted == Counter({(code, at.sheet, at.cell): 1} if code else {})
    assert made.exit_status == (1 if code else 0)
    assert [one.suggestion for one in made.findings if one.code == code] == (
        [meant] if code else []
    )


@pytest.mark.parametrize("text", mostly_long(["5%", "1:30"]))
def test_a_percent_or_a_time_typed_into_a_cell_of_sizes_is_a_number_that_holds_the_job(
    text: str,
) -> None:
    """The program keeps the cell's format, so nothing but the size itself can tell: here 0.05 and
    0.0625.
    """
    assert judged(text).exit_status == 1
    assert {one.key for one in judged(text).findings} == {BLANK_BEFORE}


# --- spoiled by a person


def expected(name: str) -> list[tuple[str, str, str]]:
    at = place(MIDDLE).at
    letter = address_of(1, at.column + 1)[:-1]
    result = place("bores.2.middle.out_of_round").at.cell
    return {
        "sheet renamed": [("sheet-renamed", "Bohrungen 1", "")],
        "row inserted": [("row-inserted", "Bores", f"A{at.row}")],
        "rows inserted in two sheets": [
            ("row-inserted", "Bores", f"A{at.row}"),
            ("row-inserted", "Tunnels", "A9"),
        ],
        "row inserted between headings": [
            ("row-inserted", "Bores", f"A{row('bore.1.unworn_lip') - 3}")
        ],
        "row inserted at the top": [("row-inserted", "Bores", "A1")],
        "row deleted with its readings": [("row-deleted", "Bores", f"A{at.row}")],
        "row of words deleted": [("row-deleted", "Bores", "A5")],
        "row of the conventions deleted": [("row-deleted", "Customer", "A3")],
        "column inserted": [("column-inserted", "Bores", f"{letter}1")],
        "column deleted": [("column-deleted", "Bores", f"{letter}1")],
        "row of results deleted": [("row-deleted", "Budget", "A10")],
        "rows inserted among results": [("row-inserted", "Map", "A30")],
        "column of results deleted": [
            ("column-deleted", "Bores", address_of(1, column(OUT_OF_ROUND)))
        ],
        "last column deleted": [
            ("column-deleted", "Bores", address_of(1, shipped_layout().plans["Bores"].columns))
        ],
        "column inserted among results": [("column-inserted", "Threads", "C1")],
        "row and column inserted": [
            ("row-inserted", "Parts", "A9"),
            ("column-inserted", "Parts", "A1"),
        ],
        "sheet of results renamed": [("sheet-renamed", "Bolts", "")],
        "sheet deleted": [("sheet-deleted", "Parts", "")],
        "record deleted": [("record-lost", "", "")],
        "sheet copied": [],
        "cell cut and pasted": [("cell-moved", "Bores", f"N{at.row}")],
        "result cut and pasted": [("cell-moved", "Bores", f"N{at.row}")],
        "reading copied over a formula": [("formula-replaced", "Bores", result)],
        "formula typed over": [("formula-edited", "Bores", result)],
    }[name]


LOSES_READINGS = {
    "row deleted with its readings",
    "column deleted",
    "column of results deleted",  # of another table of the sheet it is a column of readings
    "sheet deleted",
}
NO_LONGER_THERE = {"results-stale", "results-in-error"}  # where formulas asked for what is gone


@pytest.mark.parametrize("name", mostly_long(spoiled()))
def test_what_was_done_to_the_book_is_the_finding_and_nothing_else(name: str) -> None:
    made = judged(name)
    assert told(damage(name)) == Counter(expected(name))
    assert made.exit_status == (3 if expected(name) else 0)
    others = {one.code for one in made.findings if one.severity != "damage"}
    known = {"protection-lifted"} | (
        {"sheet-copy-alike"} if name == "sheet copied" else set()
    )  # a person lifts it first
    known |= NO_LONGER_THERE if name == "sheet deleted" else set()
    assert others <= known | ({"reading-missing"} if name in LOSES_READINGS else set())


@pytest.mark.parametrize(
    "name",
    mostly_long(
        [
            "row inserted",
            "rows inserted in two sheets",
            "sheet renamed",
            "column inserted",
            "cell cut and pasted",
        ]
    ),
)
def test_all_readings_are_read_where_they_stand_now(name: str) -> None:
    assert judged(name).typed == validated(clean_book()).typed


def test_deleted_readings_are_missing_and_all_the_others_are_read() -> None:
    before = validated(clean_book()).typed
    lost = {
        key for key in before if place(key).at.sheet == "Bores" and place(key).at.row == row(MIDDLE)
    }
    assert judged("row deleted with its readings").typed == {
        key: value for key, value in before.items() if key not in lost
    }
    (one,) = damage("row deleted with its readings")
    assert place(MIDDLE).label in one.message
    missing = {one.key for one in judged("sheet deleted").findings if one.code == "reading-missing"}
    assert missing == {one.key for one in shipped_layout().wanted() if one.at.sheet == "Parts"}
