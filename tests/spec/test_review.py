"""The review of a spec file: every mistake a person makes is told with file, line and remedy, and
of a sound file nothing is said.

The mistakes are those of people who wrote files by hand; the engines are invented.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from command import run
from datumbook.commands.spec import _when_empty
from datumbook.messages.refusals import refusal, refusals
from datumbook.spec import SpecFaults, load_spec, read_spec, shipped_specs
from datumbook.spec.new import ARRANGEMENTS, Answers, Arrangement, write_new_spec
from datumbook.spec.review import review
from datumbook.spec.review.figures import figures
from datumbook.spec.review.sizes import _data
from datumbook.stations import lay_out
from datumbook.workbook.evaluation import reckon
from long_runs import examples
from mistakes_made import ENGINES, MISTAKES, USUAL, Mistake
from project import SUPPORT

ANYWHERE = st.integers(-400, 8000).map(lambda tenth: tenth / 10)


@pytest.mark.parametrize("mistake", MISTAKES.values(), ids=MISTAKES)
def test_each_mistake_is_told_with_file_line_and_remedy(mistake: Mistake) -> None:
    further = _when_empty if mistake.code == "out-when-empty" else lambda _: ()
    found = review(mistake.text, "mine.toml", further)
    lines = mistake.text.splitlines()
    told = [one for one in found.faults if mistake.at in lines[(one.line or 1) - 1]]
    assert mistake.code in {one.code for one in told}
    assert {one.code for one in found.faults} <= {mistake.code, *mistake.also}
    fault = next(one for one in told if one.code == mistake.code)
    assert fault.sentence
    assert fault.remedy
    assert any(
        line.startswith(f"mine.toml:{fault.line or 1}: {mistake.code} ") for line in found.lines
    )
    assert found.verdict == ("warned" if refusal(mistake.code).warns else "refused")


def test_there_are_mistakes_enough_and_each_warning_has_one() -> None:
    assert len(MISTAKES) >= 103
    warned = {code for code, one in refusals().items() if one.warns}
    assert warned == {one.code for one in MISTAKES.values()} & warned


SOUND = [*shipped_specs().values(), *sorted((SUPPORT / "engines").glob("*.toml"))]


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.stem)
def test_nothing_is_said_of_a_shipped_spec_or_a_short_one(path: Path) -> None:
    assert review(path.read_text("utf-8"), str(path), _when_empty).lines == []


@pytest.mark.parametrize("path", shipped_specs().values(), ids=lambda path: path.stem)
def test_an_empty_book_is_out_only_where_its_file_gives_the_reason_for_a_drill(path: Path) -> None:
    spec = load_spec(path)
    layout = lay_out(spec)
    values = reckon(layout, {})
    out = {one.key for one in layout.checks if values[one.verdict] == "OUT"}
    assert out == {f"threads.{one.key}.hole" for one in spec.holes if one.drill_reason}
    printed = " ".join(text.words for plan in layout.plans.values() for text in plan.texts)
    assert all(one.drill_reason in printed for one in spec.holes)


@pytest.mark.parametrize("text", ENGINES.values(), ids=ENGINES)
def test_nothing_is_said_of_the_files_the_mistakes_are_made_in(text: str) -> None:
    assert review(text, "x.toml", _when_empty).lines == []


def test_what_is_likely_a_mistake_of_the_base_is_told_at_its_own_line(tmp_path: Path) -> None:
    slip = MISTAKES["more caps than bearings"]
    (tmp_path / "base.toml").write_text(slip.text, "utf-8")
    own = 'based_on = "base.toml"\n[engine]\nmaterial = "moonstone"\n'
    found = review(own, str(tmp_path / "own.toml"))
    line = next(at for at, one in enumerate(slip.text.splitlines(), 1) if slip.at in one)
    told = [(Path(one.file).name, one.line, one.code) for one in found.faults]
    assert told == [("own.toml", 3, "material-unknown"), ("base.toml", line, slip.code)]
    assert [one.split(": ")[0] for one in found.lines] == [
        f"{one.file}:{one.line}" for one in found.faults
    ]


def test_units_and_places_nobody_wrote_are_no_names_unused() -> None:
    text = (SUPPORT / "engines" / "bores_alone.toml").read_text("utf-8")
    for written, told in (("", set[str]()), ('[units]\nlands = "mm"\n', {"units.lands"})):
        assert {one.key for one in review(text + written, "x.toml").faults} == told


@settings(max_examples=examples(20), deadline=None)
@given(
    st.sampled_from(ARRANGEMENTS), st.integers(40, 160), st.sampled_from(["mm", "in"]), st.data()
)
def test_of_a_new_spec_the_guesses_are_told_and_nothing_else(
    arrangement: Arrangement, bore: int, unit: str, data: st.DataObject
) -> None:
    stroke = data.draw(st.integers(bore * 2 // 3, bore * 3 // 2))
    count = 1 if arrangement == "single" else 2 * data.draw(st.integers(1, 8))
    text = write_new_spec(Answers("P", count, f"{bore} mm", f"{stroke} mm", unit, arrangement))
    found = review(text, "new.toml")
    assert {one.code for one in found.faults} == {"guessed"}
    assert all(
        one.line and "guessed = true" in text.splitlines()[one.line - 1] for one in found.faults
    )


@settings(max_examples=examples(40), deadline=None)
@given(ANYWHERE, ANYWHERE)
def test_no_hole_off_its_face_is_ever_read(along: float, across: float) -> None:
    """Whole within its face is what lies no nearer to an edge than its thread is wide; geometry."""
    text = ENGINES[USUAL].replace('["20 mm", "240 mm"]', f'["{along} mm", "{across} mm"]')
    radius, length, width = 7.9375 / 2, 190, 270
    inside = radius <= along <= length - radius and radius <= across <= width - radius
    codes = set()
    try:
        read_spec(text, "x.toml")
    except SpecFaults as refused:
        codes = {one.code for one in refused.faults}
    assert inside is not bool(codes & {"hole-off-face", "not-positive"})


def test_every_path_of_the_rules_is_one_of_the_model() -> None:
    asked = {row["path"] for row in _data("proportions")["size"]}
    sums = _data("sums")
    asked |= {row[key] for row in sums["pair"] for key in ("less", "more")}
    asked |= {row["limit"] for row in sums["sum"]}
    asked |= {path for rows in (sums["around_zero"], sums["near"]) for path in rows[0]["paths"]}
    from whole_engine import whole_text

    every = [*map(load_spec, shipped_specs().values()), read_spec(whole_text(), "whole.toml")]
    every += [read_spec(write_new_spec(Answers("P", 2, "82 mm", "90 mm", "mm", "vee")), "v.toml")]
    units = ("mm", "deg", "1/degC", "MPa")
    unseen = {
        path
        for path in asked
        if not any(list(figures(spec, path, unit)) for spec in every for unit in units)
    }
    assert unseen == {"holes[].edge", "parts.rings.second"}


def test_the_command_tells_files_by_the_worst_and_as_json(tmp_path: Path) -> None:
    slip = MISTAKES["a stroke in inches written as millimetres"].text
    off = MISTAKES["a hole off the end of its face"].text
    for name, text in (("clean", ENGINES[USUAL]), ("slip", slip), ("off", off)):
        (tmp_path / f"{name}.toml").write_text(text, "utf-8")
    clean, warned, refused = (tmp_path / f"{name}.toml" for name in ("clean", "slip", "off"))
    assert run("spec", "check", clean).exit_code == 0
    assert run("spec", "check", clean, warned).exit_code == 1
    told = run("spec", "check", clean, warned, refused)
    assert told.exit_code == 4
    assert f"{refused}:" in told.stdout
    assert "hole-off-face" in told.stdout
    document = json.loads(run("spec", "check", "--json", clean, warned, refused).stdout)
    assert [one["verdict"] for one in document["files"]] == ["clean", "warned", "refused"]
    remark = document["files"][2]["remarks"][0]
    assert set(remark) == {"code", "severity", "file", "line", "key", "message", "remedy"}
    assert run("spec", "check", tmp_path / "none.toml").exit_code == 4


def test_shipped_specs_are_listed_shown_and_copied(tmp_path: Path) -> None:
    listed = run("specs").stdout
    for name, path in shipped_specs().items():
        assert name in listed
        assert run("specs", name).stdout == path.read_text("utf-8")
    copy = tmp_path / "mine.toml"
    assert run("specs", "orrindale_qp4", "--out", copy).exit_code == 0
    assert copy.read_bytes() == shipped_specs()["orrindale_qp4"].read_bytes()
    assert run("specs", "orrindale_qp4", "--out", copy).exit_code == 2
    assert "orrindale_qp4" in run("specs", "orindale").stderr
