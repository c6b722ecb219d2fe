from __future__ import annotations

import re
from dataclasses import replace
from math import hypot
from pathlib import Path

import pytest

from as_asked import values_of
from datumbook.cells.columns import DateTyped
from datumbook.comparison import Comparison, Feature, NoBook, compare, comparison_lines
from datumbook.job import Job
from datumbook.messages.findings import Finding
from datumbook.spec import read_spec
from datumbook.stations import lay_out
from datumbook.validator import Validation, validate
from datumbook.workbook.evaluation import FAULT
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from planned_blocks import layout, readings
from project import full_form
from readings_made import plausible

BORE = "bores.1.top.thrust"


def book(block: dict[str, object], made: Layout | None = None) -> Validation:
    made = made or layout()
    typed = {key: value for key, value in block.items() if isinstance(value, float | str)}
    return Validation(Path("block.xlsx"), layout=made, values=values_of(made, block), typed=typed)


def stated(uncertainty: float | None, **changed: object) -> Validation:
    return book(
        readings(
            **{"instruments__bores__uncertainty": uncertainty, BORE.replace(".", "__"): 82.0}
            | changed
        )
    )


def feature(comparison: Comparison, key: str = BORE) -> Feature:
    return next(one for one in comparison.features if one.key == key)


def test_a_book_compared_with_itself_has_no_change(tmp_path: Path) -> None:
    write(layout(), tmp_path / "block.xlsx", readings())
    one = validate(tmp_path / "block.xlsx")
    found = compare(one, one)
    assert found.changes == ()
    assert found.warnings == ()
    wanted = {place.key for place in layout().wanted() if one.values[place.key] is not None}
    assert wanted < {each.key for each in found.features}
    assert comparison_lines(found)[2:] == [f"Changed: 0. Unchanged: {len(found.features)}."]


def test_readings_and_checked_results_are_compared_and_nothing_else() -> None:
    checked = {check.key for check in layout().checks}
    for one in compare(book(readings()), book(readings())).features:
        assert one.key in checked or layout().places[one.key].role == "reading"


@pytest.mark.parametrize(
    ("first", "second", "difference", "word"),
    [
        (0.003, 0.004, 0.005, "no change"),  # root of the sum of squares: 3, 4, 5
        (0.003, 0.004, 0.0051, "changed"),
        (0.003, 0.004, -0.005, "no change"),
        (0.003, 0.004, -0.0051, "changed"),
        (0.003, None, 0.0031, "changed"),
        (None, None, 1e-10, "no change"),
        (None, None, 1e-6, "changed"),
        (None, None, -1e-6, "changed"),
    ],
)
def test_a_difference_within_both_uncertainties_is_no_change(
    first: float | None, second: float | None, difference: float, word: str
) -> None:
    two = stated(second, **{BORE.replace(".", "__"): 82.0 + difference})
    found = feature(compare(stated(first), two))
    assert found.verdict == word
    assert found.difference == pytest.approx(difference, abs=1e-12)
    assert found.uncertainty == pytest.approx(hypot(first or 0.0, second or 0.0))


def test_a_reading_by_a_gauge_of_two_figures_has_both() -> None:
    one, two = (
        stated(own, instruments__bores__setting=setting)
        for own, setting in ((0.003, 0.004), (0.005, 0.012))
    )
    # settings of their own: 0.005 and 0.013
    assert feature(compare(one, two)).uncertainty == pytest.approx(hypot(0.005, 0.013))


def test_a_result_has_the_uncertainty_of_its_check() -> None:
    one, two = stated(0.003), stated(0.004, bores__1__top__axial=82.1)
    found = feature(compare(one, two), "bores.1.top.out_of_round")
    # a difference of two readings carries each one's uncertainty: the root of two, in either book
    assert found.uncertainty == pytest.approx(hypot(0.003 * 2**0.5, 0.004 * 2**0.5))
    assert found.verdict == "changed"
    assert found.judged[1] == "OUT"


def test_what_one_book_alone_holds_is_said_to_be_there_alone() -> None:
    one, two = book(readings(job__owner=None)), book(readings(job__owner="A. N.") | {BORE: None})
    found = compare(one, two)
    assert feature(found).verdict == "only in the first"
    assert feature(found, "job.owner").verdict == "only in the second"
    assert feature(found, "bores.1.top.out_of_round").judged == ("OK", "OPEN")
    assert "job.casting" not in {each.key for each in found.features}  # blank in both


def test_words_are_compared_as_words() -> None:
    found = feature(
        compare(book(readings(job__owner="A. N.")), book(readings(job__owner="B. M."))), "job.owner"
    )
    assert (found.verdict, found.difference, found.one, found.two) == (
        "changed",
        None,
        "A. N.",
        "B. M.",
    )


@pytest.mark.parametrize(
    ("typed", "said"), [(DateTyped(46023.0), "a date"), ("82,01", 'the text "82,01"')]
)
@pytest.mark.parametrize("turn", [1, -1])
def test_a_date_or_a_text_for_a_number_cannot_be_compared_nor_what_rests_on_it(
    typed: object, said: str, turn: int
) -> None:
    sound, spoiled = stated(0.003), stated(0.003, **{BORE.replace(".", "__"): typed})
    found = compare(*(sound, spoiled)[::turn])
    reading, result = feature(found), feature(found, "bores.1.top.out_of_round")
    assert (reading.verdict, reading.difference, result.verdict, result.difference) == (
        *["cannot be compared", None] * 2,
    )
    assert (reading.one, reading.two)[::turn] == (82.0, said)
    assert feature(found, "bores.2.top.out_of_round").verdict == "no change"
    assert {BORE, "bores.1.top.out_of_round"} <= {one.key for one in found.incomparable}
    assert not {one.key for one in found.incomparable} & {one.key for one in found.changes}


def test_the_same_date_twice_cannot_be_compared_and_is_told() -> None:
    spoiled = stated(0.003, **{BORE.replace(".", "__"): DateTyped(46023.0)})
    lines = comparison_lines(compare(spoiled, spoiled))
    label = "Cylinder 1, top of ring travel · across the crank"
    assert f"{label}: a date → a date: cannot be compared" in lines
    assert lines[-1].startswith("Changed: 0. Unchanged: ")
    assert re.search(r" Cannot be compared: [1-9]\d*\.$", lines[-1])


def test_two_units_meet_in_the_first_books_unit() -> None:
    inches = lay_out(layout().spec, Job("SQ-17", {"bores": "in"}))
    block = plausible(inches) | {BORE: 82.1 / 25.4, "instruments.bores.uncertainty": 0.004 / 25.4}
    one, two = stated(0.003), book(block, inches)
    there, back = feature(compare(one, two)), feature(compare(two, one))
    assert (there.printer.unit, there.one) == ("mm", 82.0)
    assert there.two == pytest.approx(82.1)
    assert back.printer.unit == "in"
    assert back.difference == pytest.approx(-0.1 / 25.4)
    assert there.uncertainty == pytest.approx(0.005)
    assert back.uncertainty == pytest.approx(0.005 / 25.4)


def test_the_same_sizes_in_another_unit_are_no_change() -> None:
    inches = lay_out(layout().spec, Job("SQ-17", {"bores": "in"}))
    sizes = readings(instruments__bores__uncertainty=0.003)
    turned = {
        key: value / 25.4
        if isinstance(value, float) and layout().places[key].unit != inches.places[key].unit
        else value
        for key, value in sizes.items()
    }
    assert compare(book(sizes), book(turned, inches)).changes == ()


def test_a_result_in_error_is_told_as_one() -> None:
    one, two = stated(None), stated(None)
    two.values = {**two.values, "bores.1.top.out_of_round": FAULT}
    found = feature(compare(one, two), "bores.1.top.out_of_round")
    assert (found.two, found.verdict) == ("an error", "changed")


def test_other_jobs_engines_and_specs_are_warned_of() -> None:
    other_job = lay_out(layout().spec, Job("SQ-18"))
    text = full_form("orrindale_qp4")
    other_engine = lay_out(
        read_spec(text.replace('name = "Orrindale QP4"', 'name = "Orrindale QP5"'), "x.toml"),
        Job("SQ-17"),
    )
    other_spec = lay_out(
        read_spec(text.replace('"0.150 mm"', '"0.160 mm"'), "x.toml"), Job("SQ-17")
    )
    for made, words in (
        (other_job, "two jobs, SQ-17 and SQ-18"),
        (other_engine, "QP4 and Orrindale QP5"),
        (other_spec, "different specs"),
    ):
        (warning,) = compare(book(readings()), book(readings(), made)).warnings
        assert words in warning
        assert f"Warning: {warning}" in comparison_lines(
            compare(book(readings()), book(readings(), made))
        )


@pytest.mark.parametrize("place", ["first", "second"])
def test_a_damaged_book_is_warned_of(place: str) -> None:
    sound, damaged = book(readings()), book(readings())
    damaged.findings.append(Finding("formula-replaced", "damage", "x"))
    (warning,) = (compare(damaged, sound) if place == "first" else compare(sound, damaged)).warnings
    assert f"The {place} book, block.xlsx, is damaged" in warning


@pytest.mark.parametrize("turn", [1, -1])
def test_a_file_that_is_no_book_is_refused_in_a_sentence(tmp_path: Path, turn: int) -> None:
    (tmp_path / "notes.xlsx").write_text("no workbook")
    one, two = (book(readings()), validate(tmp_path / "notes.xlsx"))[::turn]
    with pytest.raises(NoBook, match=r"notes\.xlsx cannot be used here\. .+"):
        compare(one, two)


def test_only_changes_are_told_unless_everything_is_asked_for() -> None:
    one, two = stated(0.003), stated(0.003, **{BORE.replace(".", "__"): 82.0315})
    found = compare(one, two)
    line = (
        "Cylinder 1, top of ring travel · across the crank: 82.000 mm → 82.0315 mm, "
        "difference +0.0315 mm (± 0.0042 mm)"
    )
    lines = comparison_lines(found)
    assert f"{line}: changed" in lines
    assert len(lines) == 3 + len(found.changes)
    assert len(comparison_lines(found, everything=True)) == 3 + len(found.features)


def test_a_line_says_what_became_of_the_verdict_and_what_is_gone() -> None:
    lines = comparison_lines(compare(stated(None), book(readings() | {BORE: None})))
    assert any(line.endswith("mm → nothing: only in the first, OK → OPEN") for line in lines)


def test_a_small_difference_never_prints_as_none() -> None:
    same = feature(compare(stated(None), stated(None)))
    changed = replace(same, two=82.00004, difference=0.00004, verdict="changed")
    line = comparison_lines(Comparison(("a", "b"), (), (changed,)))[2]
    assert "82.000 mm → 82.00004 mm, difference +0.00004 mm" in line
