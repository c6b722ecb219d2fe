"""A wheel built from the tree holds all that the tool reads, and works where there is no tree."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from project import PROJECT

pytest.importorskip(
    "hatchling",
    reason="hatchling, which builds the wheel, is not installed: pip install -e '.[test]' does",
)

BUILD = "import sys; from hatchling.build import build_wheel; print(build_wheel(sys.argv[1]))"


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    built = subprocess.run(
        [sys.executable, "-c", BUILD, folder],
        cwd=PROJECT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert built.returncode == 0, built.stderr
    (made,) = folder.glob("*.whl")
    return made


def test_every_file_of_the_package_and_every_spec_is_in_the_wheel(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        packed = {name for name in archive.namelist() if ".dist-info/" not in name}
    kept = {
        path.relative_to(PROJECT / "builder").as_posix()
        for path in (PROJECT / "builder").rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    } | {f"datumbook/specs/{path.name}" for path in (PROJECT / "specs").iterdir()}
    assert packed == kept
    assert {
        "datumbook/py.typed",
        "datumbook/report/report.html",
        "datumbook/messages/findings.toml",
        "datumbook/manual/guide.md",
        "datumbook/specs/orrindale_qp4.toml",
    } <= packed


def test_the_licence_travels_and_is_named(wheel: Path) -> None:
    """Source of the fields: the core metadata specification 2.4 (PEP 639)."""
    with zipfile.ZipFile(wheel) as archive:
        (metadata,) = [name for name in archive.namelist() if name.endswith(".dist-info/METADATA")]
        said = archive.read(metadata).decode().splitlines()
        text = archive.read("datumbook/LICENSE").decode()
    assert {"License-Expression: MIT", "License-File: builder/datumbook/LICENSE"} <= {*said}
    assert text.startswith("MIT License\n")
    assert "WITHOUT WARRANTY OF ANY KIND" in text


def test_the_demonstration_runs_from_the_wheel_alone(wheel: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(tmp_path / "installed")
    command = [sys.executable, "-m", "datumbook", "demo", "--out", tmp_path / "made"]
    ran = subprocess.run(
        command,
        cwd=tmp_path,
        env=os.environ | {"PYTHONPATH": str(tmp_path / "installed")},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    assert sorted(path.suffix for path in (tmp_path / "made").iterdir()) == [
        ".html",
        ".toml",
        ".xlsx",
        ".xlsx",
    ]
