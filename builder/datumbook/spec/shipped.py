"""The specs that come with the tool, and the file that is meant by a name."""

from __future__ import annotations

from difflib import get_close_matches
from os.path import exists
from pathlib import Path

from datumbook.files import PACKAGE, checkout
from datumbook.messages import ExpectedError


def shipped_specs() -> dict[str, Path]:
    """Return the shipped specs by name: of the installed package, or of the checkout's own folder.

    Raises FileNotFoundError where there is none, as nothing could be generated.
    """
    folder = PACKAGE / "specs"
    if not folder.is_dir() and (project := checkout()) is not None:
        folder = project / "specs"
    found = {path.stem: path for path in sorted(folder.glob("*.toml"))}
    if not found:
        raise FileNotFoundError(
            f"no engine specs are installed in {folder}; install datumbook anew"
        )
    return found


def find_spec(given: Path) -> Path:
    """Return the file that is meant by a path or the name of a shipped spec; ExpectedError with the
    nearest names where a name means none.
    """
    shipped = shipped_specs()
    path = given if exists(given) else shipped.get(str(given), given)
    if not exists(path) and not given.suffix:
        near = ", ".join(get_close_matches(str(given), shipped, n=1) or shipped)
        raise ExpectedError(
            f"{given}: no such file, and no engine of that name is shipped; did you mean {near}?"
        )
    return path
