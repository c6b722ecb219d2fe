from __future__ import annotations

import json
import subprocess
import sys
import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import mistakes_made as mistakes
import refusals_of_jobs
from datumbook.messages.refusals import refusal, refusals
from datumbook.spec import SpecFaults, full_schema, load_spec, read_spec, shipped_specs
from datumbook.spec.faults import schema_at
from datumbook.spec.new import Answers, write_new_spec
from datumbook.spec.positions import key_lines
from long_runs import examples
from project import SUPPORT, full_form

SHIPPED = shipped_specs()["orrindale_qp4"]
TEXT = full_form("orrindale_qp4")
CASES = {
    path.stem: tomllib.loads(path.read_text("utf-8"))
    for path in (SUPPORT / "refusals").glob("*.toml")
}


def faults(text: str, name: str = "specs/x.toml") -> SpecFaults:
    with pytest.raises(SpecFaults) as raised:
        read_spec(text, name)
    return raised.value


def replaced(old: str, new: str) -> str:
    assert TEXT.count(old) == 1, old
    return TEXT.replace(old, new)


# the shipped spec


@pytest.mark.parametrize("path", shipped_specs().values(), ids=str)
def test_every_shipped_spec_is_read(path: Path) -> None:
    spec = load_spec(path)
    assert (spec.path, spec.text) == (path, path.read_text("utf-8"))


def test_values_are_kept_as_printed() -> None:
    spec = read_spec(TEXT, "x.toml")
    assert spec.bores.stroke.number == Fraction("3.740")
    assert (spec.heights.expansion.number, spec.heights.expansion.source[:9]) == (
        Fraction(108, 10**7),
        "grey iron",
    )
    assert [centre.to("mm") for centre in spec.lands.centres] == [56.0, 148.0, 246.0, 338.0]
    assert (spec.units["bores"], spec.decimals["heights"], spec.lands.mouth_chamfer.angle.unit) == (
        "mm",
        4,
        "deg",
    )
    assert [group.key for group in spec.holes] == [
        "head_studs",
        "front_cover",
        "sump_rail",
        "rear_housing",
    ]
    with pytest.raises(KeyError):
        spec.units["model_fields"]


def test_limits_have_exact_ends() -> None:
    spec = read_spec(TEXT, "x.toml")
    overall, wear, land = spec.heights.overall, spec.bores.wear, spec.lands.clamping_land
    assert overall.low is not None
    assert overall.high is not None
    assert (overall.low.text, overall.high.text) == ("14.248 in", "14.252 in")
    assert (wear.low, wear.high and wear.high.text) == (None, "0.150 mm")
    assert (land.low and land.low.text, land.high) == ("5.0 mm", None)


def test_plus_and_minus_may_be_in_another_unit() -> None:
    spec = read_spec(
        replaced('plus = "0.001 in", minus = "0.001 in"', 'plus = "0.0254 mm", minus = "1 thou"'),
        "x.toml",
    )
    assert spec.heights.deck.low is not None
    assert spec.heights.deck.high is not None
    assert (spec.heights.deck.low.text, spec.heights.deck.high.text) == ("10.694 in", "10.696 in")


def test_a_spec_cannot_be_changed() -> None:
    spec = read_spec(TEXT, "x.toml")
    with pytest.raises(ValueError, match="frozen"):
        spec.engine.cylinders = 6  # type: ignore[misc]


def test_shop_and_holes_may_be_left_out() -> None:
    spec = read_spec(TEXT[: TEXT.index("[shop]")], "x.toml")
    assert (spec.shop.nut_factor, spec.holes) == (None, ())


# refusals


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_each_refusal_says_its_sentence_at_its_line(case: dict[str, Any], tmp_path: Path) -> None:
    if "file" in case:
        with pytest.raises(SpecFaults) as raised:
            load_spec(tmp_path / case["file"])
        lines, found = [""], raised.value.faults
    else:
        text = replaced(case["replace"], case["by"])
        lines = text.splitlines()
        found = faults(text, str(SUPPORT / "short_forms" / "x.toml")).faults
    fault = next(fault for fault in found if fault.code == case["code"])
    assert (fault.key, fault.said) == (case["key"], case["said"])
    assert case.get("line_holds", "") in lines[(fault.line or 1) - 1]
    assert [other.code for other in found if other is not fault] == case.get("also", [])


def test_every_refusal_has_its_case() -> None:
    of_jobs = {case["code"] for case in refusals_of_jobs.CASES.values()}
    of_jobs |= refusals_of_jobs.AT_THE_BENCH | refusals_of_jobs.WITHOUT_FIGURES
    of_answers = {"answer", "implausible"}  # tests/spec/test_new_spec.py
    told = {case["code"] for case in CASES.values()} | of_jobs | of_answers | mistakes.CODES
    assert told == set(refusals())


def test_one_line_tells_file_line_key_and_remedy() -> None:
    found = faults(replaced('at_most = "0.040 mm"', 'at_most = "0.005"'))
    line = TEXT[: TEXT.index("out_of_round")].count("\n") + 1
    assert str(found) == (
        f'specs/x.toml line {line} · bores.out_of_round.at_most: "0.005" has no unit. Write '
        f'"0.005 in" or "0.005 mm".'
    )


def test_all_faults_are_told_at_once_in_the_order_of_the_lines() -> None:
    text = TEXT.replace("cylinders = 4", "cylinders = 5").replace('"0.040 mm"', '"0,040 mm"')
    text = (
        text.replace('stroke = "3.740 in"', 'stroke = "3.740"')
        .replace('"deck"\n', '"dek"\n')
        .replace('"S1"', '"F1"')
    )
    found = faults(text).faults
    assert [fault.code for fault in found] == [
        "decimal-comma",
        "no-unit",
        "centres-count",
        "not-one-of",
        "duplicate",
    ]
    assert [fault.line for fault in found] == sorted(fault.line or 0 for fault in found)
    assert all(fault.line for fault in found)


def test_an_unknown_code_names_the_nearest() -> None:
    with pytest.raises(LookupError, match="no-unit"):
        refusal("no-units")


def test_a_file_that_is_not_text_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "engine.toml"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(SpecFaults, match="it is not UTF-8"):
        load_spec(path)
    with pytest.raises(SpecFaults, match="cannot be read"):
        load_spec(tmp_path)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "a = " + "[" * 3000,
        "holes = 3",
        "holes = [1, []]",
        "bores = 1979-05-27",
        "[holes.x]",
        f"[engine]\ncylinders = {'9' * 400}",
    ],
)
def test_a_spec_far_from_right_is_refused_all_the_same(text: str) -> None:
    assert faults(text).faults


SLIPS = st.sampled_from(
    ['"', "[", "]", "{", "}", "=", ".", ",", "\n", " in", "0", "-", "#", "a", "²", "{}", "''''"]
)


@settings(max_examples=examples(60), deadline=None)
@given(st.integers(0, len(TEXT)), st.integers(0, 12), SLIPS)
def test_any_slip_of_the_pen_is_read_or_refused(at: int, gone: int, slip: str) -> None:
    remedies, spec = [], None
    try:
        spec = read_spec(TEXT[:at] + slip + TEXT[at + gone :], "x.toml")
    except SpecFaults as refused:
        remedies = [fault.remedy for fault in refused.faults]
    assert spec is not None or (remedies and all(remedies))


def test_a_fault_between_groups_is_told_beside_a_group_that_cannot_be_read() -> None:
    text = replaced('face = "front"', 'face = "frnt"').replace('"S1"', '"D1"')
    assert [fault.code for fault in faults(text).faults] == ["not-one-of", "duplicate"]


@pytest.mark.parametrize(
    ("given_as", "code"),
    [
        ('{ value = "0.20", sorce = "x" }', "unknown-key"),
        ('{ value = "0.20" }', "missing-key"),
        ('{ value = "0.20", source = 3 }', "wrong-type"),
        ('{ value = 0.20, source = "x" }', "number-not-text"),
    ],
)
def test_a_figure_with_a_source_has_just_those_two_keys(given_as: str, code: str) -> None:
    text = replaced('{ value = "0.20", source = "dry thread, textbook value" }', given_as)
    fault = faults(text).faults[0]
    assert (fault.code, fault.key[:15]) == (code, "shop.nut_factor")


def test_a_metric_counterbore_is_told_the_next_half_millimetres() -> None:
    fault = faults(replaced('diameter = "8.5 mm"', 'diameter = "8 mm"')).faults[0]
    assert (fault.code, fault.remedy) == (
        "counterbore-too-small",
        'Write one of the next usual sizes, "8.5 mm" or "9.0 mm".',
    )


@pytest.mark.parametrize("cylinders", [1, 16])
def test_one_to_sixteen_cylinders_are_read(cylinders: int) -> None:
    assert (
        len(
            read_spec(
                write_new_spec(Answers("Pump", cylinders, "82 mm", "90 mm")), "x"
            ).lands.centres
        )
        == cylinders
    )


# where keys stand


def test_every_key_of_the_shipped_spec_stands_on_a_line_that_says_it() -> None:
    lines, text = key_lines(TEXT), TEXT.splitlines()
    paths = set(_paths(tomllib.loads(TEXT)))
    assert set(lines) == paths
    for path, line in lines.items():
        if isinstance(path[-1], str):
            assert path[-1] in text[line - 1], path


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("a.b = 1\na.c = 2\n", {("a",): 1, ("a", "b"): 1, ("a", "c"): 2}),
        ("[\"x.y\".'z']\nq = 1", {("x.y",): 1, ("x.y", "z"): 1, ("x.y", "z", "q"): 2}),
        ('a = """\nb = 1\n"""\nc = 2', {("a",): 1, ("c",): 4}),
        ('a = """x""""" # "\nc = \'\'\'\n[d]\'\'\'\ne = 3', {("a",): 1, ("c",): 2, ("e",): 4}),
        (
            "a = [ # ]\n 1,\n [2,\n 3]]",
            {("a",): 1, ("a", 0): 2, ("a", 1): 3, ("a", 1, 0): 3, ("a", 1, 1): 4},
        ),
        ("[[t]]\n[t.u]\nv = 1\n[[t]]\n[t.u]\nv = {w = 2}", None),
        ("d = 1979-05-27 07:32:00 # x\ne = 1\r\nf = 2", {("d",): 1, ("e",): 2, ("f",): 3}),
    ],
)
def test_keys_are_found_in_every_form_of_toml(
    text: str, lines: dict[tuple[str | int, ...], int] | None
) -> None:
    expected = lines or {
        ("t",): 1,
        ("t", 0): 1,
        ("t", 0, "u"): 2,
        ("t", 0, "u", "v"): 3,
        ("t", 1): 4,
        ("t", 1, "u"): 5,
        ("t", 1, "u", "v"): 6,
        ("t", 1, "u", "v", "w"): 6,
    }
    assert key_lines(text) == expected


KEYS = st.text("ab \"'.#=[]{}\\\n-é", min_size=1, max_size=4)
VALUES = st.recursive(
    st.one_of(st.integers(), st.booleans(), st.text("a\"'#]}\n\\,=", max_size=6)),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(KEYS, inner, max_size=3)),
    max_leaves=8,
)


@settings(deadline=None)
@given(st.dictionaries(KEYS, VALUES, max_size=4))
def test_the_walk_finds_the_keys_that_the_parser_finds(document: dict[str, Any]) -> None:
    text = "".join(
        f"# [x]\n{json.dumps(key)} = {_spelled(value)}\n" for key, value in document.items()
    )
    assert tomllib.loads(text) == document
    lines = key_lines(text)
    assert set(lines) == set(_paths(document))
    firsts = [lines[(key,)] for key in document]
    assert firsts == sorted(firsts)


def _spelled(value: Any) -> str:
    if isinstance(value, dict):
        return (
            "{"
            + ", ".join(f"{json.dumps(key)} = {_spelled(inner)}" for key, inner in value.items())
            + "}"
        )
    if isinstance(value, list):
        return "[\n" + "".join(f" {_spelled(inner)}, # ]\n" for inner in value) + "]"
    return json.dumps(value)


def _paths(value: Any, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    entries = (
        value.items()
        if isinstance(value, dict)
        else enumerate(value)
        if isinstance(value, list)
        else ()
    )
    return [
        found for key, inner in entries for found in [(*path, key), *_paths(inner, (*path, key))]
    ]


# the schema


def test_every_key_has_one_sentence_in_the_schema() -> None:
    schema = full_schema()
    for path in _paths(tomllib.loads(TEXT)):
        if isinstance(path[-1], str) and path[-2:-1] not in (
            ("expansion",),
            ("nut_factor",),
            ("iron_shear",),
            ("iron_tensile",),
            ("weight_spread",),
            ("ratio_spread",),
        ):
            assert str(schema_at(schema, path)["description"]).endswith("."), path


def test_the_schema_has_no_null_and_one_form_for_each_limit() -> None:
    schema = full_schema()
    assert "null" not in json.dumps(schema)
    assert len(schema["$defs"]["Limit"]["oneOf"]) == 4
    assert schema_at(schema, ("bores", "standard"))["required"] == ["source"]


# speed


def test_the_spec_module_pulls_in_neither_pint_nor_the_spreadsheet_libraries() -> None:
    program = (
        "import sys, datumbook.spec; print([name for name in ('pint', 'openpyxl', "
        "'xlsxwriter') if name in sys.modules])"
    )
    assert (
        subprocess.run(
            [sys.executable, "-c", program], capture_output=True, text=True, check=True
        ).stdout
        == "[]\n"
    )
