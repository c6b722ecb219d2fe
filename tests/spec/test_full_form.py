"""What is written shorter in a shipped spec means, key by key, its full form, which stands in
tests/support/full_form as it was written out by hand: the same cells, limits and checks follow.
"""

from __future__ import annotations

import json
import tomllib

import pytest

from datumbook.spec import load_spec, read_spec, recorded_spec, shipped_specs
from project import FULL_FORM, full_form


def test_every_shipped_spec_has_its_full_form() -> None:
    assert {path.stem for path in FULL_FORM.glob("*.toml")} == set(shipped_specs())


@pytest.mark.parametrize("name", shipped_specs())
def test_a_shipped_spec_means_its_full_form(name: str) -> None:
    spec, full = load_spec(shipped_specs()[name]), read_spec(full_form(name), f"{name}.toml")
    assert json.loads(spec.full_text) == tomllib.loads(full_form(name))
    assert spec == full.given_as(spec.text, spec.path, spec.full_text)
    assert full.full_text == "", "what is in full form is not kept twice"
    assert len(spec.text) < len(full.text)


@pytest.mark.parametrize("name", shipped_specs())
def test_the_full_form_alone_is_the_same_spec(name: str) -> None:
    spec = load_spec(shipped_specs()[name])
    assert recorded_spec(spec.text, "elsewhere.toml", spec.full_text).stated == spec.stated
    assert recorded_spec(spec.text, spec.path.name, spec.full_text).rows == spec.rows
