"""The Python road: blanks, words and errors on their way down, the same as in every engine.

Source: the engines themselves, on a small book of our own.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest
import xlsxwriter
from xlsxwriter.worksheet import Worksheet

from datumbook.cells.columns import Given, Reading, Result
from datumbook.cells.tables import Form, Line, Sheet
from datumbook.equations.verdicts import verdict_at_most
from datumbook.formulas.functions import (
    mean,
    missing,
    more_than,
    numbers_in,
    only_where,
    square_root,
    takes_blanks,
    where,
)
from datumbook.formulas.kinds import Count, Length, Ratio, Words
from datumbook.job import Job, scope_of
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.workbook import placing
from datumbook.workbook.evaluation import FAULT, Breakdown, fitting, reckon
from datumbook.workbook.layout import Layout
from engines import EngineError, Results, Value

SPEC = shipped_specs()["orrindale_qp4"]


def share(one: Length, two: Length) -> Ratio:
    return one / two


def root(share: Ratio) -> Ratio:
    return square_root(share)


def power(share: Ratio) -> Ratio:
    return share**0.5


def averaged(*shares: Ratio) -> Ratio:
    return mean(*shares)


@takes_blanks
def there(*shares: Ratio) -> Count:
    return numbers_in(*shares)


@takes_blanks
def said(share: Ratio) -> Words:
    return where(missing(share), "OPEN", "there")


@takes_blanks
def either(share: Ratio, one: Length) -> Length:
    return only_where(more_than(numbers_in(share), 0), one)


RESULTS: dict[str, tuple[Callable[..., Any], str | None, dict[str, Any]]] = {
    "share": (share, "", {"one": "of.one", "two": "of.two"}),
    "root": (root, "", {"share": "of.share"}),
    "power": (power, "%", {"share": "of.share"}),
    "averaged": (averaged, "", {"shares": ["of.share", "of.root"]}),
    "there": (there, "", {"shares": ["of.share", "of.root", "of.power", "of.averaged"]}),
    "said": (said, None, {"share": "of.root"}),
    "either": (either, "in", {"share": "of.root", "one": "of.one"}),
    "verdict": (
        verdict_at_most,
        None,
        {"value": "of.root", "high": "of.most", "uncertainty": "of.nought"},
    ),
}


def small() -> Layout:
    layout = Layout(scope_of(load_spec(SPEC), Job()), None)
    columns = [
        Reading(name="one", words="", unit="in"),
        Reading(name="two", words="", unit="mm"),
        Given(name="most", words="", unit="", value=1.0),
        Given(name="nought", words="", unit="", value=0.0),
        *(
            Result(name=name, words="", unit=unit, equation=equation, inputs=inputs)
            for name, (equation, unit, inputs) in RESULTS.items()
        ),
    ]
    form = Form(key="of", title="", lines=[Line(column=column) for column in columns])
    placing.place(layout, Sheet(name="Job", title="", parts=[form]))
    return layout


NOTHING = {
    "root": None,
    "power": None,
    "averaged": None,
    "said": "OPEN",
    "either": None,
    "verdict": "OPEN",
}
CASES: dict[str, tuple[Mapping[str, object], Mapping[str, object]]] = {
    "all there": (
        {"one": 1.0, "two": 25.4},
        {"share": 1.0, "root": 1.0, "power": 100.0, "averaged": 1.0, "there": 4.0}
        | {"said": "there", "either": 1.0, "verdict": "OK"},
    ),
    "blank": ({"two": 25.4}, NOTHING | {"share": None, "there": 0.0}),
    "words": ({"one": "1,0", "two": 25.4}, NOTHING | {"share": None, "there": 0.0}),
    "zero is not blank": (
        {"one": 0.0, "two": 25.4},
        {"share": 0.0, "root": 0.0, "power": 0.0, "there": 4.0, "said": "there", "verdict": "OK"},
    ),
    "divided by zero": ({"one": 1.0, "two": 0.0}, NOTHING | {"share": FAULT, "there": 0.0}),
    "root of a negative": (
        {"one": -1.0, "two": 25.4},
        NOTHING | {"share": -1.0, "root": FAULT, "power": FAULT, "there": 1.0},
    ),
    "beyond the limit": ({"one": 2.0, "two": 25.4}, {"share": 2.0, "there": 4.0, "verdict": "OUT"}),
}


@pytest.mark.parametrize("case", CASES)
def test_blanks_words_and_errors_on_their_way_down(case: str) -> None:
    readings, results = CASES[case]
    found = reckon(small(), {f"of.{name}": value for name, value in readings.items()})
    assert {name: found[f"of.{name}"] for name in results} == pytest.approx(results)


def test_an_engine_finds_the_same(engine: Callable[[Path], Results], tmp_path: Path) -> None:
    layout, path = small(), tmp_path / "small.xlsx"
    with xlsxwriter.Workbook(path) as book:  # a sheet for each case
        for case, (readings, _) in CASES.items():
            fill(book.add_worksheet(sheet_of(case)), layout, readings)
    shown = engine(path)
    apart = {}
    for case, (readings, _) in CASES.items():
        computed = reckon(layout, {f"of.{name}": value for name, value in readings.items()})
        for key in (key for key in layout.places if layout.has_formula(key)):
            found = shown[sheet_of(case), layout.places[key].at.cell]
            if not alike(found, computed[key]):
                apart[case, key] = (found, computed[key])
    assert not apart


def sheet_of(case: str) -> str:
    return case.replace(" ", "_")


def fill(sheet: Worksheet, layout: Layout, readings: Mapping[str, object]) -> None:
    for key, place in layout.places.items():
        typed = readings.get(key.removeprefix("of."), place.value)
        if layout.has_formula(key):
            sheet.write_formula(place.at.cell, f"={layout.formula(key)}", None, "")
        elif typed is not None:
            sheet.write(place.at.cell, typed)


def alike(found: Value, computed: object) -> bool:
    if isinstance(computed, Breakdown):
        return isinstance(found, EngineError)
    return found == (pytest.approx(computed) if isinstance(computed, float) else computed or "")


def test_a_given_figure_is_itself_and_every_key_has_a_value() -> None:
    layout = small()
    found = reckon(layout, {})
    assert found["of.most"] == 1.0
    assert set(found) == set(layout.places)


@pytest.mark.parametrize(
    ("typed", "as_number", "as_words"),
    [
        (82, 82.0, "82"),
        (82.01, 82.01, "82.01"),
        ("82,01", None, "82,01"),
        ("", None, None),
        (None, None, None),
        (True, None, None),
        (" done", None, " done"),
    ],
)
def test_a_cell_takes_what_a_sheet_would_count_in_it(
    typed: object, as_number: float | None, as_words: str | None
) -> None:
    places = {place.unit is None: place for place in shipped().readings()}
    assert fitting(places[False], typed) == as_number
    assert fitting(places[True], typed) == as_words


def shipped() -> Layout:
    return lay_out(load_spec(SPEC), Job("SQ-17"))
