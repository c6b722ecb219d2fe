"""Every value of a filled book prints the same digits in cell, terminal, report, plan and
comparison.

Source: the cell by its number format, read here for itself: so many zeros always, so many further
digits where the number has them, halves away from zero on 15 digits. Half a step is added to every
reading, so that results fall on ties and every way of rounding shows.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

import pytest

from datumbook.comparison import compare, comparison_lines
from datumbook.numbers.units import shown
from datumbook.planning import plan, plan_lines
from datumbook.planning.numbers import Numbers
from datumbook.report.page import report_html
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.validator import Validation, limits_of, validate
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place
from datumbook.workbook.styles import number_format
from datumbook.writer import write
from long_runs import mostly_long
from readings_made import plausible

SPECS = sorted(shipped_specs())


def on_ties(layout: Layout) -> Iterator[tuple[str, object]]:
    """Readings half a step beside those made by rule, wherever a size is measured."""
    for key, value in plausible(layout).items():
        place = layout.places[key]
        ties = isinstance(value, float) and place.unit in {"mm", "in"}
        yield key, round(value + 0.5 * 10**-place.decimals, 9) if ties else value


@cache
def filled(name: str) -> Validation:
    layout = lay_out(load_spec(shipped_specs()[name]))
    path = Path(mkdtemp()) / f"{name}.xlsx"
    write(layout, path, dict(on_ties(layout)))
    return validate(path)


def as_the_cell_shows(value: float, place: Place) -> str:
    """The text of a number under the number format of its cell."""
    found = re.fullmatch(r"0(?:\.(0*)(#*))?", number_format(place))
    assert found, number_format(place)
    least, further = (len(part or "") for part in found.groups())
    exact = Decimal(f"{value:.15g}").quantize(Decimal(1).scaleb(-least - further), ROUND_HALF_UP)
    whole, _, part = f"{exact + 0:f}".partition(".")
    part = part[:least] + part[least:].rstrip("0")
    text = f"{whole}.{part}" if part else whole
    return text if exact else text.removeprefix("-")


def agrees(printed: str, value: float, place: Place, ends: tuple[object, ...] = ()) -> bool:
    """Whether a number is printed as its cell shows it; further digits only where the cell's would
    carry it to or over one of its limits.
    """
    cell, text = as_the_cell_shows(value, place), printed.replace("−", "-")
    if text == cell:
        return True
    step = Decimal(1).scaleb(-len(cell.partition(".")[2]))
    crossed = any(
        (Decimal(cell) > (at := Decimal(f"{end:.12g}")), Decimal(cell) < at)
        != (Decimal(f"{value:.12g}") > at, Decimal(f"{value:.12g}") < at)
        for end in ends
        if isinstance(end, float)
    )
    return crossed and abs(Decimal(text) - Decimal(cell)) <= step / 2


def unit_of(place: Place) -> str:
    printed = shown(place.unit or "")
    return printed if printed in {"", "°"} else f" {printed}"


def measured(validation: Validation) -> dict[str, float]:
    return {key: one for key, one in validation.values.items() if type(one) is float}


@pytest.mark.parametrize("name", mostly_long(SPECS))
def test_the_comparison_prints_the_digits_of_the_cells(name: str) -> None:
    validation = filled(name)
    assert validation.layout is not None
    places = validation.layout.places
    lines = comparison_lines(compare(validation, validation), everything=True)
    checked = {one.key for one in validation.layout.checks}
    found = 0
    for key, value in measured(validation).items():
        place = places[key]
        if place.role == "reading" or key in checked:
            text = f"{as_the_cell_shows(value, place)}{unit_of(place)}"
            start = f"{place.label}: {text} → {text}, difference "
            assert any(line.startswith(start) for line in lines), (key, start)
            found += 1
    assert found > 100


@pytest.mark.parametrize("name", mostly_long(SPECS))
def test_terminal_and_report_print_the_digits_of_the_cells(name: str) -> None:
    validation = filled(name)
    layout, values = validation.layout, measured(validation)
    assert layout is not None
    page, limited = report_html(validation), 0
    by_key = {one.key: one for one in validation.findings if one.severity == "check"}
    for check in layout.checks:
        place = layout.places[check.key]
        if not check.measured or check.key not in values:
            continue
        value, ends = values[check.key], limits_of(layout, check, validation.values)
        told = by_key.get(check.key)
        if told is not None and told.code in {"check-out", "check-unsure"}:
            number = re.search(r": (-?[\d.]+)", told.message.replace(place.label, ""))
            assert number is not None, told.message
            assert agrees(number[1], value, place, ends), told.message
            limited += 1
        row = page.partition(f'<tr id="{place.at.sheet}-{place.at.cell}">')[2].partition("</tr>")[0]
        shown_there = re.search(r'data-head="value">([−\d.]+)([^<]*)<', row)
        assert shown_there is not None, check.key
        assert shown_there[2] == unit_of(place)
        assert agrees(shown_there[1], value, place, ends), (check.key, row)
    assert limited, "half a step beside their size some checks are OUT or UNSURE"


@pytest.mark.parametrize("name", mostly_long(SPECS))
def test_the_plan_prints_the_digits_of_the_cells(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    validation = filled(name)
    read: dict[str, float] = {}
    number = Numbers.number

    def noted(work: Numbers, key: str | None) -> float | None:
        found = number(work, key)
        if found is not None and key is not None:
            read[key] = found
        return found

    monkeypatch.setattr(Numbers, "number", noted)
    text = "\n".join(plan_lines(plan(validation)))
    printed = set(re.findall(r"(-?\d[\d.]*\d)( (?:mm|in))?\b", text))
    assert validation.layout is not None
    met = 0
    for key, value in read.items():
        place = validation.layout.places[key]
        cell, step = as_the_cell_shows(value, place), 10.0**-place.decimals
        same = [one for one, unit in printed if unit == unit_of(place) and one == cell]
        other = [
            one
            for one, unit in printed
            if unit == unit_of(place) and one != cell and abs(float(one) - value) < 0.01 * step
        ]
        other = other if value else []  # a zero printed may be that of anything
        met += bool(same)
        assert same or not other, (key, other)
    assert met > 3
