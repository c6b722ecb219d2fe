"""A new spec from a few answers: read, commented, every figure that is no answer a guess, and no
block released by one.
"""

from __future__ import annotations

import re
import time
import tomllib
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from as_drawn import as_drawn, held
from command import run
from datumbook.job import Job
from datumbook.spec import read_spec, shipped_specs, spec_schema
from datumbook.spec.guesses import guesses
from datumbook.spec.new import (
    ARRANGEMENTS,
    Answers,
    Arrangement,
    arrangement_answered,
    begun_from,
    checked_size,
    cylinders_answered,
    stroke_answered,
    write_new_spec,
)
from datumbook.spec.written import PATTERNS
from datumbook.standards.order import operations
from datumbook.stations import lay_out
from datumbook.validator import validate
from datumbook.workbook.evaluation import reckon
from datumbook.writer import write
from long_runs import examples

PUMP = Answers("Pump", 4, "82 mm", "90 mm")
NAMES = st.text(max_size=30).filter(
    lambda name: any(letter.isprintable() and not letter.isspace() for letter in name)
)


@st.composite
def answers(draw: st.DrawFn) -> Answers:
    arrangement = draw(st.sampled_from(ARRANGEMENTS))
    rows = 2 if arrangement in ("vee", "flat") else 1
    cylinders = 1 if arrangement == "single" else rows * draw(st.integers(1, 16 // rows))
    bore = draw(st.integers(40, 160))
    stroke = draw(st.integers(bore // 2, 2 * bore))
    unit = draw(st.sampled_from(["mm", "in", "thou"]))
    return Answers(draw(NAMES), cylinders, f"{bore} mm", f"{stroke} mm", unit, arrangement)


# the file


@settings(max_examples=examples(40), deadline=None)
@given(answers())
def test_a_new_spec_is_read_whatever_the_answers(given: Answers) -> None:
    spec = read_spec(write_new_spec(given), "new.toml")
    assert spec.engine.cylinders == given.cylinders
    assert spec.bores.stroke.text == given.stroke
    assert spec.units["lands"] == given.unit
    assert sum(len(row.cylinders) for row in spec.rows) == given.cylinders
    assert len(spec.rows) == (2 if given.arrangement in ("vee", "flat") else 1)


def test_a_new_spec_comments_on_every_key_of_the_model() -> None:
    text = write_new_spec(Answers("Pump", 4, "3 1/4 in", "90 mm", "in"))
    text += write_new_spec(Answers("Pump", 4, "3 1/4 in", "90 mm", "in", "vee"))
    for name, part in spec_schema()["$defs"].items():
        for key in part.get("properties", {}):
            assert (
                f"{key} =" in text or f"{key}," in text or f"[{key}" in text or f".{key}]" in text
            ), (name, key)
    assert all(key in text for key in operations())


def test_every_pattern_that_a_new_spec_shows_can_be_laid_out() -> None:
    shown = re.findall(r"(?m)^#   (\{.*?\})(?:  |$)", write_new_spec(PUMP))
    every = [tomllib.loads(f"pattern = {one}")["pattern"] for one in shown]
    read = [one for one in every if one.keys() & PATTERNS.keys()]
    models = [PATTERNS[next(key for key in PATTERNS if key in one)] for one in read]
    assert {*models} == {*PATTERNS.values()}
    for model, one in zip(models, read, strict=True):
        model.model_validate(one)


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
def test_nothing_is_commented_twice(arrangement: Arrangement) -> None:
    text = write_new_spec(
        Answers("P", 1 if arrangement == "single" else 2, "82 mm", "90 mm", "mm", arrangement)
    )
    own = [line for line in text.splitlines() if not line.startswith("#")]
    remarks = [line.partition("#")[2].strip() for line in own if "#" in line]
    assert len(remarks) == len(set(remarks)), "each remark says one thing"
    assert not [line for line in own if "guess" in line.partition("#")[2]], "the mark says it"
    assert text.startswith("#:schema datumbook.schema.json\n")


@pytest.mark.parametrize("size", ['3 3/16"', "3 3/16″", "3 3/16 ”", "3 3/16 in", " 3  3/16 in "])
def test_a_size_with_inch_marks_is_written_as_in(size: str) -> None:
    assert checked_size(size) == "3 3/16 in"
    text = write_new_spec(Answers("Pump", 4, size, size, "in"))
    assert read_spec(text, "new.toml").bores.stroke.number == Fraction(51, 16)
    assert tomllib.loads(text)["bores"]["standard"]["nominal"] == "3 3/16 in"


@pytest.mark.parametrize(
    ("size", "said"),
    [
        ("82", '"82" has no unit: write "82 in" or "82 mm".'),
        ("3 3/16", '"3 3/16" has no unit: write "3 3/16 in" or "3 3/16 mm".'),
        ("-82 mm", '"-82 mm" is not more than zero: write a size of more than zero.'),
        ("82 N", "is a force"),
        ('82 mm"', "is not one number and its unit"),
        ("", "is not one number and its unit"),
    ],
)
def test_a_size_that_is_none_is_refused_at_once(size: str, said: str) -> None:
    with pytest.raises(ValueError, match=re.escape(said)):
        checked_size(size)


@pytest.mark.parametrize(
    "words",
    ['Pump "Duck"', "back\\slash", "two\nlines", "tab\tbed", "'''", '"""', "[x] # = {", "é·½"],
)
def test_names_and_words_are_written_so_that_toml_reads_them_back(words: str) -> None:
    text = write_new_spec(Answers(words, 4, "82 mm", "90 mm", material=words))
    engine = read_spec(text, "new.toml").engine
    assert engine.name == engine.material == " ".join(words.split())


def test_finished_and_order_may_be_left_out_of_a_new_spec() -> None:
    text = write_new_spec(PUMP)
    short = text[: text.index("[finished]")] + text[text.index("[shop]") :]
    spec = read_spec(short, "new.toml")
    assert (spec.finished, spec.order.left_out, spec.order.overruled) == (None, (), ())


# answers


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (Answers("Pump", 17, "82 mm", "90 mm"), "is not a whole number from 1 to 16"),
        (Answers("Pump", 0, "82 mm", "90 mm"), "is not a whole number from 1 to 16"),
        (Answers("Pump", 5, "82 mm", "90 mm", "mm", "vee"), "two banks want an even number"),
        (Answers("Pump", 2, "82 mm", "90 mm", "mm", "single"), "is not how 2 cylinders stand"),
        (Answers("Pump", 4, "80 km", "90 mm"), "is not a bore from 15 mm to 1000 mm"),
        (Answers("Pump", 4, "3 mm", "90 mm"), "is not a bore from 15 mm to 1000 mm"),
        (Answers("Pump", 4, "82 mm", "3.5 mm"), "is not a stroke from 12 mm to 3500 mm"),
        (Answers("Pump", 4, "82 mm", "3.5 m"), "is not a stroke beside a bore of 82 mm"),
        (Answers("Pump", 4, "82 mm", "90 mm", "furlong"), "is not one of mm, in, thou"),
        (Answers(" ", 4, "82 mm", "90 mm"), "is not a name"),
        (Answers("Pump", 4, "82", "90 mm"), "has no unit"),
    ],
)
def test_answers_that_cannot_be_are_refused(given: Answers, said: str) -> None:
    with pytest.raises(ValueError, match=re.escape(said)):
        write_new_spec(given)


def test_words_are_taken_as_people_say_them() -> None:
    assert arrangement_answered("In-Line", 3) == arrangement_answered("in", 4) == "in line"
    assert arrangement_answered(" VEE ", 8) == "vee"
    assert cylinders_answered(" 8 ") == 8
    assert stroke_answered('3 1/2"', "82 mm") == "3 1/2 in"
    with pytest.raises(ValueError, match='did you mean "single"'):
        arrangement_answered("singel", 1)


def test_a_bad_answer_is_asked_for_again(tmp_path: Path) -> None:
    asked = "Pump\n70\n8\n80 km\n82 mm\n90\n90 mm\nfurlong\nmm\nstar\nvee\n"
    told = run("spec", "new", "--out", str(tmp_path / "v.toml"), typed=asked)
    assert told.exit_code == 0, told.stderr
    assert told.stderr.count('"') >= 10, "each bad answer is told"
    spec = read_spec((tmp_path / "v.toml").read_text("utf-8"), "v.toml")
    assert (spec.engine.cylinders, len(spec.banks)) == (8, 2)
    assert (tmp_path / "datumbook.schema.json").is_file()


def test_a_script_that_says_no_unit_takes_the_usual_one(tmp_path: Path) -> None:
    said = ["--name", "P", "--cylinders", "4", "--bore", "3 1/4 in", "--stroke", "90 mm"]
    told = run("spec", "new", "--out", str(tmp_path / "p.toml"), *said, typed="")
    assert told.exit_code == 0, told.stderr
    spec = read_spec((tmp_path / "p.toml").read_text("utf-8"), "p.toml")
    assert (spec.units["bores"], spec.banks) == ("in", ())
    again = run("spec", "new", "--out", str(tmp_path / "p.toml"), *said, typed="")
    assert (again.exit_code, "is there already" in again.stderr) == (2, True)
    wrong = run("spec", "new", "--out", str(tmp_path / "q.toml"), "--bore", "80 km", typed="Q\n4\n")
    assert (wrong.exit_code, "--bore 80 km" in wrong.stderr) == (2, True)


# guesses


def test_every_figure_of_a_new_spec_is_a_guess_until_the_mark_is_taken_away() -> None:
    text = write_new_spec(PUMP)
    spec = read_spec(text, "new.toml")
    marked = text.count("guessed = true }") - sum(
        "guessed = true }" in line for line in text.splitlines() if line.startswith("#")
    )
    assert len(list(guesses(spec))) == marked > 30
    taper = (
        '\ntaper = { from = "-0.010 mm", to = "0.010 mm", '
        'source = "in proportion to bore and stroke"'
    )
    assert text.count(taper) == 1
    for source, left in (('"drawing 3"', set[str]()), ('"not yet filled in"', {"finished.taper"})):
        own = text.replace(f"{taper}, guessed = true", taper.rpartition('"in')[0] + source)
        assert (
            set(guesses(spec)) - set(guesses(read_spec(own, "new.toml")))
            == {"finished.taper"} - left
        )
    renamed = text.replace("in proportion to bore and stroke", "the maker's own drawing")
    assert list(guesses(read_spec(renamed, "x.toml"))) == list(guesses(spec)), (
        "no source clears a guess"
    )
    shipped = shipped_specs()["orrindale_qp4"].read_text("utf-8")
    assert list(guesses(read_spec(shipped, "x.toml"))) == []
    own = begun_from(shipped, "My QP4")
    assert list(guesses(read_spec(own, "x.toml"))) == ["every_figure"]


@settings(max_examples=examples(6), deadline=None)
@given(answers(), st.sampled_from(["full", "recondition", "measure"]))
def test_no_book_whose_limits_are_guessed_is_ever_releasable(given: Answers, work: str) -> None:
    spec = read_spec(write_new_spec(given), "new.toml")
    layout = lay_out(spec, Job.model_validate({"block": "G", "work": work}))
    assert held(layout)
    values = reckon(layout, as_drawn(layout))
    assert not [one for one in layout.checks if one.guessed and values[one.verdict] == "OK"]


MARK = re.compile(r", guessed = true(?= \})")


def without_marks(text: str, kept: int | None) -> str:
    """A new spec filled in: every mark of a guess taken away but one, or all; sizes given a source
    where the mark stood for it.
    """
    live = "\n".join(line for line in text.splitlines() if not line.startswith("#")) + "\n"
    count = iter(range(10_000))

    def filled(found: re.Match[str]) -> str:
        if next(count) == kept:
            return found[0]
        begun = live[: found.start()]
        lone = begun[begun.rindex("{") :].count("=") == 1
        return ', source = "drawing"' if lone else ""

    return MARK.sub(filled, live)


@pytest.mark.parametrize("arrangement", ["in line", "vee"])
def test_one_guess_alone_holds_the_release_and_none_lets_it_go(arrangement: Arrangement) -> None:
    text = write_new_spec(Answers("P", 2, "82 mm", "90 mm", "mm", arrangement))
    live = "\n".join(line for line in text.splitlines() if not line.startswith("#"))
    marks = len(MARK.findall(live))
    assert held(lay_out(read_spec(without_marks(text, None), "x"), Job("none"))) == []
    for kept in range(0, marks, 4):
        layout = lay_out(read_spec(without_marks(text, kept), "x"), Job("one"))
        assert held(layout), kept


@pytest.mark.parametrize("begun", [False, True])
def test_book_report_register_and_json_say_what_to_do(begun: bool, tmp_path: Path) -> None:
    text = write_new_spec(PUMP)
    if begun:
        text = begun_from(shipped_specs()["brackwater_s1"].read_text("utf-8"), "My S1")
    layout = lay_out(read_spec(text, "new.toml"), Job("G"))
    book = tmp_path / "book.xlsx"
    write(layout, book, as_drawn(layout))
    made = validate(book)
    assert made.verdict == "hold"
    told = [one for one in made.findings if one.code == "limit-guessed"]
    said = "limit guessed: put the maker's figure in the engine file"
    assert told
    assert all(said in one.message for one in told)
    page = run("validate", str(book))
    assert page.exit_code == 1
    assert "ON HOLD" in page.stdout
    assert said in page.stdout
    assert said in run("validate", "--json", str(book)).stdout
    assert said in run("validate", "--csv", str(book)).stdout
    sheets = {
        place.at.sheet for place in layout.places.values() if place.key.startswith("engine_file")
    }
    words = [one.words for plan in layout.plans.values() for one in plan.texts]
    assert sheets == {"Job"}
    assert any(said.casefold() in one.casefold() for one in words)


def test_a_station_left_as_it_is_and_what_nothing_is_asked_of_hold_nothing() -> None:
    from datumbook.equations.standings import standing_on_a_guess

    assert standing_on_a_guess("UNSURE", "left as it is") == "left"
    assert standing_on_a_guess("", "") == "passes"
    assert {standing_on_a_guess(word, "") for word in ("OK", "OUT", "OPEN", "UNSURE")} == {"holds"}


def test_five_answers_make_a_workbook_in_less_than_a_minute(tmp_path: Path) -> None:
    begun = time.perf_counter()
    spec, book = tmp_path / "six.toml", tmp_path / "six.xlsx"
    asked = run("spec", "new", "--out", str(spec), typed="Six\n6\n3 7/8 in\n4 1/8 in\nin\n")
    assert asked.exit_code == 0, asked.stderr
    made = run("generate", str(spec), "--block", "A1", "--out", str(book))
    assert made.exit_code == 0, made.stderr
    assert time.perf_counter() - begun < 60
    assert validate(book).verdict == "hold"
