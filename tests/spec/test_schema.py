"""The JSON Schema of spec and job: accepted by the validators of other authors, and the shipped
specs valid by it.

The oracles: check-jsonschema, AJV in strict mode, and taplo, which editors use.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from datumbook.job import job_schema
from datumbook.report.handbook import spec_reference
from datumbook.spec import shipped_specs, spec_schema
from datumbook.spec.new import Answers, write_new_spec
from datumbook.standards.order import operations
from foreign_saves import PLACE
from long_runs import mostly_long
from programs import absent
from project import FULL_FORM, SUPPORT

SPECS = {name: path.read_text("utf-8") for name, path in shipped_specs().items()}
NEW = {
    "new": write_new_spec(Answers("Pump", 4, "82 mm", "90 mm")),
    "vee": write_new_spec(Answers("Vee", 8, "4 in", "3 1/2 in", "in", "vee")),
}
SHORT = {path.stem: path.read_text("utf-8") for path in (SUPPORT / "engines").glob("*.toml")}
FULL = {f"{path.stem}_full": path.read_text("utf-8") for path in FULL_FORM.glob("*.toml")}
WRONG = {
    "unit": ('heights = "in"\nholes', 'heights = "furlong"\nholes'),
    "operation": ('"cam_tunnel", "tappet_bores"]', '"cam_tunel", "tappet_bores"]'),
    "key": ("clean_up_stock", "cleanup_stock"),
    "side": ('thrust_side = "left"', 'thrust_side = "lefft"'),
    "size": ('stroke = "3.740 in"', 'stroke = "long"'),
    "pattern": ('mirror = "across", about = "115 mm"', 'mirror = "up", about = "115 mm"'),
    "source": ('closure = { value = "± 0.10 mm", source', 'closure = { value = "± 0.10 mm", sorce'),
}
Validator = Callable[[Path, dict[str, str], Path], dict[str, bool]]


def mistaken() -> dict[str, str]:
    text = SPECS["orrindale_qp4"]
    assert all(text.count(old) == 1 for old, _ in WRONG.values())
    return {name: text.replace(old, new) for name, (old, new) in WRONG.items()}


def by_check_jsonschema(schema: Path, texts: dict[str, str], folder: Path) -> dict[str, bool]:
    pytest.importorskip("check_jsonschema", reason="check-jsonschema is not installed")
    tool = [sys.executable, "-m", "check_jsonschema"]
    told = subprocess.run([*tool, "--check-metaschema", schema], capture_output=True, text=True)
    assert told.returncode == 0, told.stdout
    paths = {name: folder / f"{name}.toml" for name in texts}
    for name, text in texts.items():
        paths[name].write_text(text, "utf-8")
    words = [*tool, "--schemafile", schema, "--output-format", "json", *paths.values()]
    told = subprocess.run(words, capture_output=True, text=True, check=False)
    said = json.loads(told.stdout)
    wrong = {one["filename"] for one in said["errors"]}
    assert not said.get("parse_errors")
    assert (told.returncode == 0) == (not wrong)
    return {name: str(path) not in wrong for name, path in paths.items()}


def by_ajv(schema: Path, texts: dict[str, str], _: Path) -> dict[str, bool]:
    place = os.environ.get(PLACE, "")
    if not place or not (Path(place) / "node_modules" / "ajv").is_dir():
        absent(f"AJV is not on this machine: {PLACE} names no folder that holds it")
    documents = "\n".join(json.dumps(tomllib.loads(text)) for text in texts.values())
    script = SUPPORT / "foreign" / "schema.mjs"
    told = subprocess.run(
        ["node", script, place, schema], input=documents, capture_output=True, text=True
    )
    assert told.returncode == 0, told.stderr
    lines = told.stdout.splitlines()
    return {name: line == "valid" for name, line in zip(texts, lines, strict=True)}


def by_taplo(schema: Path, texts: dict[str, str], folder: Path) -> dict[str, bool]:
    taplo = shutil.which("taplo", path=f"{Path(sys.executable).parent}{os.pathsep}{os.defpath}")
    if taplo is None:
        absent("taplo is not on this machine")
    found = {}
    for name, text in texts.items():
        path = folder / f"{name}.toml"
        path.write_text(text, "utf-8")
        words = [str(taplo), "lint", "--schema", schema.as_uri(), path.name]
        told = subprocess.run(words, cwd=folder, capture_output=True, text=True, check=False)
        found[name] = told.returncode == 0
    return found


@pytest.mark.parametrize("holds", mostly_long([by_check_jsonschema, by_ajv, by_taplo]))
def test_shipped_and_new_specs_are_valid_and_mistakes_are_not(
    holds: Validator, tmp_path: Path
) -> None:
    schema = tmp_path / "schema.json"
    schema.write_text(json.dumps(spec_schema()), "utf-8")
    sound = SPECS | NEW | SHORT | FULL
    assert holds(schema, sound, tmp_path) == dict.fromkeys(sound, True)
    assert holds(schema, mistaken(), tmp_path) == dict.fromkeys(WRONG, False)


@pytest.mark.parametrize("holds", [by_check_jsonschema, by_ajv, by_taplo])
def test_the_schema_of_a_job_is_accepted_too(holds: Validator, tmp_path: Path) -> None:
    schema = tmp_path / "schema.json"
    schema.write_text(json.dumps(job_schema()), "utf-8")
    texts = {"job": 'block = "SQ-1"\nwork = "full"\n', "none": 'blok = "SQ-1"\n'}
    assert holds(schema, texts, tmp_path) == {"job": True, "none": False}


def test_the_schema_has_a_name_words_and_what_is_usual() -> None:
    schema = spec_schema()
    assert (schema["$id"], job_schema()["$id"]) == ("urn:datumbook:spec", "urn:datumbook:job")
    sections = schema["$defs"]
    assert sections["Order"]["properties"]["left_out"]["items"]["enum"] == list(operations())
    assert sections["Units"]["properties"]["bores"]["enum"][:2] == ["mm", "in"]
    material = sections["Engine"]["properties"]["material"]["anyOf"]
    assert "grey iron" in material[0]["enum"]
    assert sections["Shop"]["properties"]["infeed_off"]["default"] == "0.010 mm"
    assert list(_undescribed(schema)) == []


def _undescribed(schema: dict[str, Any]) -> list[str]:
    sections = {**schema["$defs"], "Spec": schema}
    return [
        f"{name}.{key}"
        for name, section in sections.items()
        for key, entry in section.get("properties", {}).items()
        if "description" not in {**entry, **sections.get(entry.get("$ref", "")[8:], {})}
    ]


def test_the_reference_says_words_and_what_holds_where_a_key_is_left_out() -> None:
    page = spec_reference()
    assert "| `cylinders` | yes |" in page
    assert all(f"### {{ {key} = " in page for key in ("along", "row", "mirror", "by_cylinder"))
    assert "| `about` | yes |" in page
    assert "`left`, `right`" in page
    assert "`grey iron`; others are taken as they are" in page.replace("`aluminium`, ", "")
    (line,) = (one for one in page.splitlines() if one.startswith("| `tightening_rounds`"))
    assert line.endswith("| 1 to 6 | `3` |")
