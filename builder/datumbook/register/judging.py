"""What a book comes to by its content alone, and what that rests on: its bytes, what is asked of it
and what it is judged by.

What hangs on the day, on where the file lies or on other books is no part of it.
"""

from __future__ import annotations

import json
import platform
import sys
from dataclasses import asdict, dataclass
from datetime import date
from functools import cache, cached_property
from hashlib import file_digest, sha256
from importlib import metadata
from pathlib import Path
from secrets import token_hex

from datumbook import VERSION
from datumbook.cells.tables import Stage
from datumbook.files import PACKAGE
from datumbook.readers.gate import FILE_LIMITS
from datumbook.register.instruments import Instrument
from datumbook.register.lines import RegisterLine, undated_line
from datumbook.report.document import as_json, content
from datumbook.spec import Spec
from datumbook.validator import validate
from datumbook.validator.judge.calendar import OLDEST, sound_since, today

DECIDING = ("lxml", "pint", "pydantic", "pydantic-core")  # the libraries a verdict rests on


@dataclass(frozen=True)
class HowJudged:
    """How every book of a register is judged: the stage, the day that is today if one was given,
    whether all is told, and the shop's own specs.
    """

    stage: Stage = "finished"
    today: date | None = None
    whole: bool = False
    shop: tuple[Spec, ...] = ()

    def key(self, path: Path, digest: str) -> str:
        """What stands for a book's content in a memory, so judged and by this tool: another answer
        is due where anything of it differs. The file's name is part of it, as findings say it.
        """
        return _digest(self._rests_on, path.name, digest)

    def key_of_file(self, path: Path) -> str:
        """The key of a file as it lies there, "" for what cannot be read or is too large to be."""
        try:
            if not path.is_file() or path.stat().st_size > FILE_LIMITS.whole:
                return ""
            with path.open("rb") as file:
                return self.key(path, file_digest(file, "sha256").hexdigest())
        except (OSError, ValueError):
            return ""

    @cached_property
    def _rests_on(self) -> str:
        specs = [words for one in self.shop for words in (one.path.name, one.text, one.full_text)]
        return _digest(_tool(), self.stage, str(self.whole), *specs)


@dataclass(frozen=True)
class BookJudged:
    """A judged book: its line without days, all that is told of it where that was asked for, the
    SHA-256 of the bytes that were judged, and the day from which on that is said of them whenever
    one asks.

    The digest is "" for what is not to be remembered: a file that could not be read, which may hang
    on the machine, and one with days still to come.
    """

    line: RegisterLine
    told: str
    digest: str
    since: str

    def again(self) -> BookJudged:
        """The same, to whoever asks once more."""
        return self


def judged(path: Path, asked: HowJudged) -> BookJudged:
    """Judge one book."""
    made = validate(path, asked.stage, asked.shop)
    told = as_json(content(made)) if asked.whole else ""
    since = sound_since(made.layout, made.values) if made.layout else OLDEST
    lasting = made.readable and made.book is not None and since <= today()
    digest = made.book.digest if made.book and lasting else ""
    return BookJudged(undated_line(made), told, digest, since.isoformat())


def remembered(one: BookJudged) -> str:
    """A judged book as a memory keeps it."""
    return json.dumps(asdict(one), separators=(",", ":"))


def recalled(kept: str | None) -> BookJudged | None:
    """A judged book from what a memory kept; None for nothing, for what is no such text, and for a
    book with days still to come by today's clock.
    """
    try:
        one = json.loads(kept or "")
        instruments = tuple(Instrument(**stated) for stated in one["line"].pop("instruments"))
        line = RegisterLine(**one["line"], instruments=instruments)
        if date.fromisoformat(one["since"]) > today():
            return None
        return BookJudged(line, one["told"], one["digest"], one["since"])
    except (ValueError, TypeError, LookupError, AttributeError, RecursionError):
        return None


@cache
def _tool() -> str:
    """What judges here: every file of the package as it lies there, Python, the machine and the
    libraries.
    """
    files = sorted(path for path in PACKAGE.rglob("*") if path.suffix != ".pyc" and path.is_file())
    texts = (
        words
        for path in files
        for words in (path.relative_to(PACKAGE).as_posix(), sha256(path.read_bytes()).hexdigest())
    )
    try:
        libraries = [metadata.version(name) for name in DECIDING]
    except metadata.PackageNotFoundError:
        libraries = [token_hex()]  # of which version nobody knows: as no other, in this run alone
    return _digest(VERSION, sys.version, platform.platform(), *libraries, *texts)


def _digest(*words: str) -> str:
    """The SHA-256 of words, each apart from the next."""
    return sha256(json.dumps(words).encode("ascii")).hexdigest()
