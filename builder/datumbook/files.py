"""Files by their names, and written whole or not at all: a crash or a full disk leaves the old file
as it was.
"""

from __future__ import annotations

import itertools
import os
import shutil
import tempfile
from pathlib import Path

PACKAGE = Path(__file__).resolve().parent
BOOKS = (".xlsx", ".xlsm", ".ods")


def checkout() -> Path | None:
    """The project's folder, two above the package, where the package stands in a checkout; None
    where it is installed.
    """
    folder = PACKAGE.parents[1]
    return folder if (folder / "pyproject.toml").is_file() and (folder / "specs").is_dir() else None


def books_in(given: Path) -> list[Path]:
    """Return a file as it is, and of a folder every workbook in it and below, sorted."""
    if not os.path.isdir(given):
        return [given]
    return sorted(
        path
        for path in given.rglob("*")
        if path.suffix.lower() in BOOKS and not path.name.startswith(("~$", "."))
    )


def size_of(path: Path) -> int:
    """Return how many bytes a file has on disk, 0 for what is none."""
    try:
        return path.stat().st_size
    except (OSError, ValueError):
        return 0


def as_file_name(words: str) -> str:
    """Return words as part of a file's name that every system takes.

    >>> as_file_name("SQ 22/09")
    'SQ_22_09'
    """
    return "".join(letter if letter.isalnum() or letter in "-_" else "_" for letter in words)


def write_whole(path: Path, content: bytes) -> None:
    """Write a file beside its place, then move it there in one step. Raises OSError; the old file
    is kept then.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, beside = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:40]}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        Path(beside).chmod(0o666 & ~_umask())
        Path(beside).replace(path)
    except BaseException:
        Path(beside).unlink(missing_ok=True)
        raise


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def lock_of(path: Path) -> Path | None:
    """The lock beside a file that a spreadsheet program has open, None where there is none."""
    if not path.name:  # a folder without a name: where somebody stands
        return None
    locks = (path.with_name(f".~lock.{path.name}#"), path.with_name(f"~${path.name}"))
    return next((lock for lock in locks if os.path.exists(lock)), None)


def set_aside(path: Path) -> Path | None:
    """Copy a file that is about to be written over beside itself, under a name that no folder of
    workbooks counts, and return it; None where there is no file. Raises OSError.
    """
    if not path.exists():
        return None
    aside = (path.with_name(f"{path.name}.{count}.bak") for count in itertools.count(1))
    kept = next(one for one in aside if not one.exists())
    shutil.copy2(path, kept)
    return kept
