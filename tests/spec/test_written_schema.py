"""The schema for editors takes what the reader takes: a shipped spec as written, in full form, and
one that stands on another. The judge is the jsonschema library.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from datumbook.spec import shipped_specs, spec_schema
from project import FULL_FORM, SUPPORT

JUDGE = Draft202012Validator(spec_schema())
ENGINES = SUPPORT / "engines"
FILES = [*shipped_specs().values(), *FULL_FORM.glob("*.toml"), *ENGINES.glob("*.toml")]


def said(text: str) -> list[Any]:
    return [one.message for one in JUDGE.iter_errors(tomllib.loads(text))]


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_every_spec_is_valid_by_the_schema(path: Path) -> None:
    assert said(path.read_text("utf-8")) == []


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('wear = "<= 0.150 mm"', "wear = 3"),
        ('wear = "<= 0.150 mm"', 'wear = { value = "<= 0.150 mm", sorce = "x" }'),
        ('wear = "<= 0.150 mm"\n', ""),
        ("[engine]", "[engin]"),
        ("cylinders = 2", 'cylinders = "2"'),
        ("[engine]", "like = 3\n[engine]"),
    ],
)
def test_a_slip_is_told_by_the_schema(old: str, new: str) -> None:
    text = (ENGINES / "bores_alone.toml").read_text("utf-8")
    assert old in text
    assert said(text.replace(old, new))


def test_the_rest_may_stand_in_the_base() -> None:
    assert said('[engine]\nname = "x"\n')
    assert said('based_on = "orrindale_qp4"\n[engine]\nname = "x"\n') == []
