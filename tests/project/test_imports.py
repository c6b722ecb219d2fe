"""Every module of the package imports by itself, from wherever the package lies, as it would from
an installed wheel.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import datumbook

PACKAGE = Path(datumbook.__file__).parent


def modules() -> list[str]:
    """Every module of the package by its file: a folder of equations is one without an
    __init__.py.
    """
    files = (
        path.relative_to(PACKAGE.parent).with_suffix("").parts for path in PACKAGE.rglob("*.py")
    )
    return sorted(".".join(parts).removesuffix(".__init__") for parts in files)


def test_every_module_imports_away_from_the_checkout(tmp_path: Path) -> None:
    asked = (
        f"import importlib, sys\nfor name in {modules()}: "
        f"importlib.import_module(name)\nprint(len(sys.modules))"
    )
    found = subprocess.run(
        [sys.executable, "-W", "error", "-c", asked],
        capture_output=True,
        text=True,
        check=False,
        cwd=tmp_path,
        env=os.environ | {"PYTHONPATH": str(PACKAGE.parent)},
    )
    assert found.stderr == ""
    assert int(found.stdout) > len(modules()) > 80
