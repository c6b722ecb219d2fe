"""A spec that stands on another: what it states goes over the base, a fault stays where it was
written, and the record of its book needs neither base nor file.

The engines are invented.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from datumbook.job import Job
from datumbook.spec import Spec, SpecFaults, load_spec, read_spec, recorded_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.validator import validate
from datumbook.writer import write
from project import SUPPORT

ENGINES = SUPPORT / "engines"
OVER = 'based_on = "orrindale_qp4"\n'


def over(text: str) -> Spec:
    return read_spec(OVER + text, "changed.toml")


def base() -> Spec:
    return load_spec(shipped_specs()["orrindale_qp4"])


def test_a_spec_that_changes_nothing_is_its_base() -> None:
    assert json.loads(over("").full_text) == json.loads(base().full_text)


def test_what_is_stated_goes_over_the_base_and_the_rest_stays() -> None:
    spec = over(
        'engine = { name = "Orrindale QP4 B" }\n'
        'bores = { oversizes = ["0.50 mm"], wear = { value = "<= 0.2 mm", source = "sheet 9" } }\n'
        'holes = [{ key = "front_cover", torque = "17 lbf*ft" }]\n'
    )
    was = base()
    assert (spec.engine.name, spec.engine.cylinders) == ("Orrindale QP4 B", 4)
    assert [one.text for one in spec.bores.oversizes] == ["0.50 mm"], "a list is replaced whole"
    assert (spec.bores.wear.in_words, spec.bores.wear.source) == ("not more than 0.2 mm", "sheet 9")
    assert spec.bores.taper == was.bores.taper
    assert [one.key for one in spec.holes] == [one.key for one in was.holes]
    changed, old = spec.holes[1], was.holes[1]
    assert changed.model_copy(update={"torque": old.torque}) == old != changed


def test_a_changed_limit_is_not_of_the_base_s_source() -> None:
    with pytest.raises(SpecFaults, match=r"changed.toml line 2 · bores.wear.source"):
        over('bores = { wear = "<= 0.2 mm" }\n')


def test_a_spec_may_go_without_part_of_its_base() -> None:
    spec = over('without = ["holes.front_cover", "cam_drive", "outlines.front"]\n')
    assert "front_cover" not in [one.key for one in spec.holes]
    assert spec.cam_drive is None
    assert [one.of for one in spec.outlines] == ["deck", "bottom", "rear"]


def test_holes_by_cylinder_follow_other_centres() -> None:
    six = load_spec(ENGINES / "garrowby_six.toml")
    lands = '{ centres = { from = "80 mm", step = "114 mm" }, deck_length = "730 mm" }'
    text = f'based_on = "garrowby_six.toml"\nlands = {lands}\n'
    moved = read_spec(text, str(ENGINES / "x.toml"))
    stands = [[one.places[0][0].to("mm") for one in spec.holes[1:2]] for spec in (six, moved)]
    assert stands == [[78.0], [80.0]]


def test_a_fault_is_told_where_it_was_written(tmp_path: Path) -> None:
    broken = (ENGINES / "bores_alone.toml").read_text("utf-8").replace("0.040 mm", "0.040")
    (tmp_path / "base.toml").write_text(broken, "utf-8")
    own = 'based_on = "base.toml"\nengine = { cylinders = 40 }\n'
    with pytest.raises(SpecFaults) as told:
        read_spec(own, str(tmp_path / "own.toml"))
    found = {(Path(one.file).name, one.line, one.code) for one in told.value.faults}
    at = broken[: broken.index("0.040")].count("\n") + 1
    assert found == {("base.toml", at, "no-unit"), ("own.toml", 2, "out-of-range")}


def test_any_machine_judges_the_book_without_the_base(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    here = tmp_path / "shop"
    here.mkdir()
    for name in ("garrowby_six.toml", "garrowby_six.csv", "garrowby_vee.toml"):
        (here / name).write_bytes((ENGINES / name).read_bytes())
    spec = load_spec(here / "garrowby_vee.toml")
    write(lay_out(spec, Job("V-1", work=("bore",))), tmp_path / "book.xlsx")
    for path in here.iterdir():
        path.unlink()
    monkeypatch.chdir(tmp_path)
    found = validate(tmp_path / "book.xlsx")
    assert found.layout is not None
    assert found.layout.spec.stated == spec.stated
    assert not [one for one in found.findings if one.severity == "damage"]


def test_a_record_never_looks_for_a_file() -> None:
    with pytest.raises(SpecFaults, match="no spec"):
        recorded_spec(f"{OVER}", "x.toml", "")


def test_another_base_is_another_book(tmp_path: Path) -> None:
    text = (ENGINES / "bores_alone.toml").read_text("utf-8")
    made = set()
    for wear in ("0.150", "0.160"):
        (tmp_path / "base.toml").write_text(text.replace("0.150", wear), "utf-8")
        spec = read_spec('based_on = "base.toml"\n', str(tmp_path / "own.toml"))
        made.add(lay_out(spec, Job("same")).identity)
    assert len(made) == 2
