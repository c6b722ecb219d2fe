"""What a register remembers: what it says of a book judged before is what it would say now, and no
file that stands in its place releases a book or ends a command.
"""

from __future__ import annotations

import hmac
import json
import os
import shutil
import sqlite3
import zlib
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from hashlib import sha256
from pathlib import Path

import pytest

from clean_readings import clean_readings
from command import run
from damaged_books import with_cell
from datumbook.job import Job
from datumbook.register import HowJudged, LineTold, RegisterLine, entered, register, remembering
from datumbook.register.instruments import Instrument
from datumbook.register.judging import BookJudged, judged
from datumbook.register.memory import MEMORY_FILE, SECRET_FILE
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.writer import write
from foreign_saves import small_layout
from long_runs import mostly_long
from project import PROJECT

GAUGE = Instrument("BG-7", "bores", "SQ-1", "mm", all_told=0.1 + 0.2, zero_after=None)


# --- of real books


def shop(engine: str, folder: Path) -> list[Path]:
    """A book released, an empty one, one damaged, what no program reads, and the examples shipped
    of the engine.
    """
    layout = lay_out(load_spec(shipped_specs()[engine]), Job("SQ-1"))
    released = {"job.received_on": "2026-05-02", "decision.decision": "released"}
    folder.mkdir()
    write(layout, folder / "empty.xlsx")
    write(layout, folder / "released.xlsx", clean_readings(layout) | released)
    result = next(one for one in layout.places.values() if one.role == "result" and one.unit)
    spoilt = (result.at.sheet, result.at.cell)
    with_cell(folder / "released.xlsx", folder / "damaged.xlsx", spoilt, holds=0.5)
    (folder / "cut.xlsx").write_bytes((folder / "empty.xlsx").read_bytes()[:5000])
    (folder / "words.ods").write_text("plain words", "utf-8")
    (folder / "folder.xlsx").mkdir()
    shipped = (PROJECT / "output_examples").glob(f"{engine}_*.xlsx")
    return [*sorted(folder.iterdir()), *sorted(shipped), folder / "none.xlsx"]


@pytest.mark.parametrize("engine", mostly_long(shipped_specs()))
def test_what_is_remembered_is_what_a_fresh_judgement_says(
    engine: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("datumbook.register.FEW_BOOKS", 100)  # one process knows all layouts
    books, asked = shop(engine, tmp_path / "shop"), HowJudged(whole=True)
    fresh = [entered(path, asked) for path in books]
    states = {path.name: line.state for path, (line, _) in zip(books, fresh, strict=True)}
    assert states["released.xlsx"] in ("released", "on hold"), "held where a limit is guessed"
    assert states["empty.xlsx"] == "on hold"
    assert states["damaged.xlsx"] == "damaged"
    assert states["cut.xlsx"] == states["words.ods"] == states["none.xlsx"] == "unreadable"
    for known in (0, sum(state != "unreadable" for state in states.values())):
        with remembering(tmp_path / "cache") as memory:
            assert memory is not None
            assert list(register(books, asked, 1, memory)) == fresh
            assert memory.recollections == known


# --- of books whose judgement is written in them, so that many can be judged


class Shop:
    """Files that each say the state they are judged to be in, and a register that remembers."""

    def __init__(self, folder: Path) -> None:
        self.cache, self.judged = folder / "cache", list[str]()
        self.books = [folder / f"{number}.xlsx" for number in range(4)]
        states = ("on hold", "releasable", "released", "rejected")
        for book, state in zip(self.books, states, strict=True):
            book.write_text(state, "utf-8")

    def judge(self, path: Path, asked: HowJudged) -> BookJudged:
        """Stands for the validator, and counts."""
        self.judged.append(path.name)
        state = path.read_text("utf-8")
        closed = "2026-05-12" if state in ("released", "rejected") else ""
        line = RegisterLine(
            *(str(path), f"SQ é {path.stem}", "engine", "identity", state, 1, asked.stage),
            *(0, "2026-05-02", None, "", closed, (GAUGE,)),
        )
        told = json.dumps({"verdict": state}, indent=2) if asked.whole else ""
        return BookJudged(line, told, sha256(path.read_bytes()).hexdigest(), "2026-05-12")

    def register(self, **asked: object) -> tuple[list[LineTold], list[str]]:
        """The lines, and the books that were judged anew."""
        self.judged = []
        with remembering(self.cache) as memory:
            lines = list(register(self.books, HowJudged(**asked), 1, memory))  # type: ignore[arg-type]
        return lines, self.judged

    def sql(self, *lines: str) -> list[tuple[object, ...]]:
        """Do something to the memory from outside."""
        with sqlite3.connect(self.cache / MEMORY_FILE) as base:
            found = [row for line in lines for row in base.execute(line).fetchall()]
        base.close()
        return found


@pytest.fixture
def books(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    made = Shop(tmp_path)
    monkeypatch.setattr("datumbook.register.FEW_BOOKS", 1000)  # all in this process, to be counted
    monkeypatch.setattr("datumbook.register.judged", made.judge)
    return made


ALL = ["0.xlsx", "1.xlsx", "2.xlsx", "3.xlsx"]


def test_a_book_with_days_still_to_come_is_judged_each_time(
    books: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Judged under a clock set ahead it is remembered, and forgotten under the right one."""
    _, anew = books.register()
    assert anew == ALL
    monkeypatch.setattr("datumbook.register.judging.today", lambda: date(2026, 5, 11))
    _, anew = books.register()
    assert anew == ALL
    monkeypatch.setattr("datumbook.register.judging.today", lambda: date(2026, 5, 12))
    assert books.register()[1] == []


@pytest.mark.parametrize(("day", "kept"), [("2026-05-12", True), ("2099-05-12", False)])
def test_only_what_does_not_hang_on_the_day_is_remembered(
    day: str, kept: bool, tmp_path: Path
) -> None:
    layout = small_layout()
    book = tmp_path / "book.xlsx"
    write(layout, book, {"job.received_on": "2026-05-02", "decision.released_on": day})
    assert bool(judged(book, HowJudged()).digest) is kept


def test_only_what_changed_is_judged_anew(books: Shop) -> None:
    first, anew = books.register()
    assert anew == ALL
    assert books.register() == (first, [])
    books.books[1].write_text("on hold", "utf-8")
    os.utime(books.books[2], (0, 0))
    lines, anew = books.register()
    assert anew == ["1.xlsx"]
    assert [line.state for line, _ in lines] == ["on hold", "on hold", "released", "rejected"]


def test_the_command_says_the_same_again_and_fresh_ignores_what_it_knows(
    books: Shop, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    asked = ("validate", "--json", *books.books)
    first, again, fresh = (run(*asked, *flags) for flags in ([], [], ["--fresh"]))
    assert books.judged == ALL + ALL, "first and fresh, not again"
    assert first.stdout == again.stdout == fresh.stdout
    assert "4 of 4 books are as they were" in again.stderr
    assert "as they were" not in first.stderr + fresh.stderr
    assert (tmp_path / "datumbook" / MEMORY_FILE).is_file()


def test_a_book_under_another_name_is_judged_anew_and_in_another_folder_is_not(
    books: Shop, tmp_path: Path
) -> None:
    books.register()
    (tmp_path / "away").mkdir()
    books.books[0] = books.books[0].rename(tmp_path / "away" / "0.xlsx")
    books.books[1] = books.books[1].rename(tmp_path / "one.xlsx")
    lines, anew = books.register()
    assert anew == ["one.xlsx"]
    assert [line.file for line, _ in lines] == [str(path) for path in books.books]


def test_asked_otherwise_all_are_judged_anew(books: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    spec = load_spec(shipped_specs()["tarnside_f2"])
    other = spec.given_as(f"{spec.text}\n", spec.path, spec.full_text)
    ways: list[dict[str, object]] = [
        {},
        {"stage": "received"},
        {"whole": True},
        {"shop": (spec,)},
        {"shop": (other,)},
        {"shop": (spec, other)},
    ]
    assert [books.register(**asked)[1] for asked in ways] == [ALL] * len(ways)
    assert [books.register(**asked)[1] for asked in ways] == [[]] * len(ways)
    monkeypatch.setattr("datumbook.register.judging._tool", lambda: "another version")
    asked = HowJudged()
    assert books.register(stage=asked.stage)[1] == ALL


def test_a_file_of_the_tool_altered_makes_it_another(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from datumbook.register import judging

    monkeypatch.setattr(judging, "PACKAGE", tmp_path)
    said = []
    for text in ("one", "two", "one"):
        (tmp_path / "equations.py").write_text(text, "utf-8")
        said.append(judging._tool.__wrapped__())
    assert said[0] == said[2] != said[1]
    monkeypatch.setattr(judging, "DECIDING", ("no-such-library",))
    assert judging._tool.__wrapped__() != judging._tool.__wrapped__(), "of no known version"


def test_what_hangs_on_the_day_is_counted_anew(books: Shop) -> None:
    books.register()
    day = 1_780_315_200.0  # noon of 1 June 2026, universal time
    os.utime(books.books[0], (0, day))
    (open_one, *_, closed), anew = books.register()
    assert not anew
    assert (open_one[0].counted_to, closed[0].counted_to) == ("file", "release")
    assert open_one[0].days_open in (30, 31), "wherever the clock stands"
    assert closed[0].days_open == 10
    (asked, *_), anew = books.register(today=date(2026, 5, 4))
    assert not anew
    assert (asked[0].days_open, asked[0].until) == (2, "2026-05-04")


def test_a_file_changed_while_it_is_judged_is_remembered_as_what_was_judged(
    books: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    held = books.books[0]

    def exchanged(path: Path, asked: HowJudged) -> BookJudged:
        if path == held:
            path.write_text("releasable", "utf-8")
        made = books.judge(path, asked)
        if path == held:
            path.write_text("on hold", "utf-8")
        return made

    monkeypatch.setattr("datumbook.register.judged", exchanged)
    assert books.register()[0][0][0].state == "releasable"
    monkeypatch.setattr("datumbook.register.judged", books.judge)
    lines, anew = books.register()
    assert (lines[0][0].state, anew) == ("on hold", ["0.xlsx"])


def test_what_could_not_be_read_is_not_remembered(
    books: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    def unread(path: Path, asked: HowJudged) -> BookJudged:
        return replace(books.judge(path, asked), digest="")

    monkeypatch.setattr("datumbook.register.judged", unread)
    assert [books.register()[1] for _ in "12"] == [ALL, ALL]


def test_no_more_is_kept_than_has_room(books: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("datumbook.register.memory.MOST_KEPT", 40_000)
    monkeypatch.setattr("datumbook.register.memory.TOGETHER", 10)
    for number in range(200):
        books.books.append(books.books[0].with_name(f"further-{number}.xlsx"))
        books.books[-1].write_text("on hold", "utf-8")
    books.register()
    assert 0 < books.sql("SELECT count(*) FROM kept")[0][0] < 100
    assert (books.cache / MEMORY_FILE).stat().st_size < 80_000
    books.books = books.books[-1:]
    assert books.register()[1] == [], "what was kept last stays longest"


# --- attacks: whatever is done to the memory, the lines stay those of the books


def altered(books: Shop) -> None:
    """One byte of what every row says."""
    for name, text in books.sql("SELECT name, text FROM kept"):
        assert isinstance(text, bytes)
        with sqlite3.connect(books.cache / MEMORY_FILE) as base:
            turned = text[:-1] + bytes([text[-1] ^ 1])
            base.execute("UPDATE kept SET text = ? WHERE name = ?", (turned, name))
        base.close()


def forged(books: Shop) -> None:
    """A release written in, sealed by somebody who does not know the secret."""
    line = {"state": "released", "exit_status": 0}
    packed = zlib.compress(json.dumps({"line": line, "told": "", "digest": "0"}).encode())
    seal = hmac.digest(bytes(32), b"text " + packed, "sha256")
    with sqlite3.connect(books.cache / MEMORY_FILE) as base:
        base.execute("UPDATE kept SET seal = ?, text = ?", (seal, packed))
    base.close()


def exchanged(books: Shop) -> None:
    """Each book is given the row of another."""
    rows = books.sql("SELECT name, seal, text FROM kept ORDER BY name")
    with sqlite3.connect(books.cache / MEMORY_FILE) as base:
        for (name, *_), (_, seal, text) in zip(rows, rows[1:] + rows[:1], strict=True):
            base.execute("UPDATE kept SET seal = ?, text = ? WHERE name = ?", (seal, text, name))
    base.close()


def renamed(books: Shop) -> None:
    """As exchanged, by the names."""
    (one, _), (two, _) = books.sql("SELECT name, seal FROM kept ORDER BY name LIMIT 2")
    with sqlite3.connect(books.cache / MEMORY_FILE) as base:
        for old, new in ((one, b"kept aside"), (two, one), (b"kept aside", two)):
            base.execute("UPDATE kept SET name = ? WHERE name = ?", (new, old))
    base.close()


def of_other_kinds(books: Shop) -> None:
    """Numbers and words where bytes belong."""
    books.sql("UPDATE kept SET seal = 7, text = 'released'")


def another_table(books: Shop) -> None:
    """A table of the name with other columns."""
    books.sql("DROP TABLE kept", "CREATE TABLE kept (released TEXT)")


def a_view(books: Shop) -> None:
    """A view in the table's place."""
    books.sql("DROP TABLE kept", "CREATE VIEW kept AS SELECT 1 AS name, 2 AS seal, 3 AS text")


def another_users(books: Shop) -> None:
    """A whole memory brought from elsewhere, its secret left behind."""
    (books.cache / SECRET_FILE).write_bytes(bytes(32))


def as_file(name: str, content: bytes) -> Callable[[Shop], None]:
    def attack(books: Shop) -> None:
        (books.cache / name).write_bytes(content)

    attack.__name__ = f"{name} of {len(content)} bytes"
    return attack


def cut_off(kept: float) -> Callable[[Shop], None]:
    def attack(books: Shop) -> None:
        path = books.cache / MEMORY_FILE
        path.write_bytes(path.read_bytes()[: int(path.stat().st_size * kept)])

    attack.__name__ = f"cut off at {kept}"
    return attack


def no_secret(books: Shop) -> None:
    """The key file is gone."""
    (books.cache / SECRET_FILE).unlink()


def secret_is_a_folder(books: Shop) -> None:
    """A folder stands where the key is."""
    no_secret(books)
    (books.cache / SECRET_FILE).mkdir()


def base_is_a_folder(books: Shop) -> None:
    """A folder stands where the rows are."""
    (books.cache / MEMORY_FILE).unlink()
    (books.cache / MEMORY_FILE).mkdir()


def base_is_a_link(books: Shop) -> None:
    """A link leads to where somebody else writes."""
    (books.cache / MEMORY_FILE).rename(books.cache.parent / "elsewhere")
    (books.cache / MEMORY_FILE).symlink_to(books.cache.parent / "elsewhere")


def cache_is_a_file(books: Shop) -> None:
    """No folder can be made."""
    shutil.rmtree(books.cache)
    books.cache.write_bytes(b"")


def writable_by_all(books: Shop) -> None:
    """Anybody may put files there."""
    books.cache.chmod(0o777)


def readable_by_all(books: Shop) -> None:
    """Anybody may know the secret."""
    (books.cache / SECRET_FILE).chmod(0o644)


ATTACKS = [
    *(altered, forged, exchanged, of_other_kinds, another_table, a_view, another_users),
    *(
        as_file(MEMORY_FILE, b""),
        as_file(MEMORY_FILE, b"no base at all" * 1000),
        as_file(SECRET_FILE, b"short"),
    ),
    *(cut_off(0.1), cut_off(0.5), cut_off(0.99)),
    *(no_secret, secret_is_a_folder, base_is_a_folder, base_is_a_link, cache_is_a_file),
    *(writable_by_all, readable_by_all),
]
USED_ON = {"cut off at 0.99"}  # what is left of it may be sound, row by row


@pytest.mark.parametrize("attack", ATTACKS, ids=lambda attack: attack.__name__)
def test_no_memory_that_was_tampered_with_is_believed(
    books: Shop, attack: Callable[[Shop], None]
) -> None:
    first, _ = books.register()
    attack(books)
    lines, anew = books.register()
    assert lines == first
    assert anew == ALL or attack.__name__ in USED_ON
    assert books.register()[0] == first


def test_two_books_whose_rows_change_names_are_judged_anew(books: Shop) -> None:
    first, _ = books.register()
    renamed(books)
    lines, anew = books.register()
    assert lines == first
    assert len(anew) == 2


@pytest.mark.parametrize(
    "attack", [no_secret, cut_off(0.1), another_table, a_view, readable_by_all, altered]
)
def test_a_spoilt_memory_is_begun_anew(books: Shop, attack: Callable[[Shop], None]) -> None:
    first, _ = books.register()
    attack(books)
    books.register()
    books.register()
    assert books.register() == (first, [])


def test_a_locked_memory_is_done_without(books: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("datumbook.register.memory.PATIENCE", 0.01)
    first, _ = books.register()
    with sqlite3.connect(books.cache / MEMORY_FILE) as other:
        other.execute("BEGIN EXCLUSIVE")
        assert books.register() == (first, ALL)
    other.close()
    assert books.register() == (first, []), "and is there again once it is free"


def test_a_memory_that_cannot_be_written_is_read(
    books: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    first, _ = books.register()
    connected = sqlite3.connect

    def read_only(path: Path, **options: object) -> sqlite3.Connection:
        return connected(f"file:{path}?mode=ro", uri=True, **options)  # type: ignore[arg-type]

    monkeypatch.setattr("datumbook.register.memory.sqlite3.connect", read_only)
    assert books.register() == (first, [])
    books.books[0].write_text("rejected", "utf-8")
    assert [books.register()[1] for _ in "12"] == [["0.xlsx"], ["0.xlsx"]]


def test_the_memory_is_its_owners_alone(books: Shop) -> None:
    books.register()
    assert books.cache.stat().st_mode & 0o077 == 0
    assert (books.cache / SECRET_FILE).stat().st_mode & 0o077 == 0
