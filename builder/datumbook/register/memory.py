"""What a register remembers between two runs: texts by key, in one file of the user's cache folder.

A memory is never needed: one that is damaged, locked, another's or cannot be written is none, and
what it would have held is worked out anew. Each text is sealed with a random key that lies beside
it and that only the user may read (HMAC: RFC 2104, with SHA-256), and the seal covers what the text
stands for: a text that was altered, put in another's place or brought from elsewhere is none. That
guards against a damaged file and against a memory somebody else made. It does not guard against
who may read the user's own files and write them: they may as well alter this program.
"""

from __future__ import annotations

import hmac
import os
import secrets
import sqlite3
import stat
import tempfile
import zlib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

MEMORY_FILE, SECRET_FILE = "register.sqlite3", "register.key"
SECRET_BYTES = 32
MOST_KEPT = 64 << 20  # bytes of texts and seals; of more the older half is dropped
LARGEST_KEPT = 16 << 20  # bytes of one text as it is kept
TOGETHER = 50  # texts that are written in one go
PATIENCE = 1.0  # seconds to wait for another run that writes
NO_MEMORY = (OSError, ValueError, sqlite3.Error)  # what makes a memory none

WRITTEN_BY_OTHERS = stat.S_IWGRP | stat.S_IWOTH
READ_BY_OTHERS = stat.S_IRWXG | stat.S_IRWXO

BEGUN = (
    "PRAGMA synchronous = OFF",  # what a failing current tears is no memory, and is begun anew
    "PRAGMA trusted_schema = OFF",
    "CREATE TABLE IF NOT EXISTS kept (name BLOB PRIMARY KEY, seal BLOB, text BLOB)",
)
ASKED = "SELECT seal, text FROM kept WHERE name = ? AND length(text) <= ?"
SIZE_KEPT = (
    "SELECT (page_count - freelist_count) * page_size "
    "FROM pragma_page_count, pragma_freelist_count, pragma_page_size"
)
OLDER_HALF = (
    "DELETE FROM kept WHERE rowid IN "
    "(SELECT rowid FROM kept ORDER BY rowid LIMIT (SELECT (count(*) + 1) / 2 FROM kept))"
)


class Memory:
    """Texts by key. Nothing it is asked raises: what cannot be read is not there, and what cannot
    be written is forgotten.
    """

    def __init__(self, base: sqlite3.Connection, secret: bytes) -> None:
        self._base, self._secret = base, secret
        self._waiting: dict[bytes, tuple[bytes, bytes]] = {}
        self._readable = self._writable = True
        self.spoilt = False
        self.recollections = 0

    def known(self, keys: Iterable[str]) -> set[str]:
        """Those of the keys under which something is kept; whether it is sound, `recall` finds
        out.
        """
        return {key for key in keys if key and self._row(key)}

    def recall(self, key: str) -> str | None:
        """The text kept under a key, None where there is none or it is not as it was kept."""
        seal, text = self._row(key) or (None, None)
        if not isinstance(seal, bytes) or not isinstance(text, bytes):
            return None
        if not hmac.compare_digest(seal, self._seal(key, text)):
            return None
        self.recollections += 1
        return zlib.decompress(text).decode("utf-8")

    def keep(self, key: str, text: str) -> None:
        """Keep a text under a key."""
        packed = zlib.compress(text.encode("utf-8"))
        if len(packed) <= LARGEST_KEPT:
            self._waiting[self._name(key)] = (self._seal(key, packed), packed)
        if len(self._waiting) >= TOGETHER:
            self.write()

    def write(self) -> None:
        """Write what waits to be kept, and drop what is too much."""
        rows = [(name, *sealed) for name, sealed in self._waiting.items()]
        self._waiting = {}
        if not rows or not self._writable:
            return
        try:
            with self._base:
                self._base.executemany("INSERT OR REPLACE INTO kept VALUES (?, ?, ?)", rows)
                if self._base.execute(SIZE_KEPT).fetchone()[0] > MOST_KEPT:
                    self._base.execute(OLDER_HALF)
        except NO_MEMORY as failure:
            self._writable, self.spoilt = False, self.spoilt or _spoilt(failure)

    def _row(self, key: str) -> tuple[object, object] | None:
        if not self._readable:
            return None
        try:
            found: tuple[object, object] | None = self._base.execute(
                ASKED, (self._name(key), LARGEST_KEPT)
            ).fetchone()
        except NO_MEMORY as failure:
            self._readable, self.spoilt = False, self.spoilt or _spoilt(failure)
            return None
        return found

    def _name(self, key: str) -> bytes:
        """What stands for a key in the file, which nobody knows who does not know the secret."""
        return hmac.digest(self._secret, f"name {key}".encode(), "sha256")

    def _seal(self, key: str, packed: bytes) -> bytes:
        return hmac.digest(self._secret, f"text {key} ".encode() + packed, "sha256")


@contextmanager
def remembering(folder: Path | None = None) -> Iterator[Memory | None]:
    """Open the memory in a folder, the user's own where none is named, and write what is new when
    it is done with; None where it cannot be opened. A spoilt one is removed.
    """
    try:
        where = _cache_folder() if folder is None else folder
        where.mkdir(mode=0o700, parents=True, exist_ok=True)
        _hold_own(where, WRITTEN_BY_OTHERS)
        secret, base = _secret(where / SECRET_FILE), _opened(where / MEMORY_FILE)
    except NO_MEMORY:
        yield None
        return
    memory = Memory(base, secret)
    try:
        yield memory
    finally:
        memory.write()
        base.close()
        if memory.spoilt:
            _remove(where / MEMORY_FILE)


def _cache_folder() -> Path:
    from platformdirs import user_cache_path

    return user_cache_path("datumbook", appauthor=False)


def _opened(path: Path) -> sqlite3.Connection:
    if path.exists():
        _hold_own(path, WRITTEN_BY_OTHERS)
    base = sqlite3.connect(path, timeout=PATIENCE)
    try:
        for line in BEGUN:
            base.execute(line)
    except sqlite3.Error as failure:
        base.close()
        if _spoilt(failure):
            _remove(path)
        raise
    return base


def _spoilt(failure: Exception) -> bool:
    """Say whether a file is no base of ours, rather than locked, full or not to be written."""
    code = getattr(failure, "sqlite_errorcode", 0) & 0xFF  # its lower byte is what went wrong
    return code in (sqlite3.SQLITE_ERROR, sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)


def _remove(path: Path) -> None:
    with suppress(OSError):
        path.unlink()


def _secret(path: Path) -> bytes:
    """The random key of a memory, a new one where there is none that only its owner may read."""
    with suppress(OSError, ValueError):
        _hold_own(path, READ_BY_OTHERS)
        secret = path.read_bytes()
        if len(secret) == SECRET_BYTES:
            return secret
    secret = secrets.token_bytes(SECRET_BYTES)
    handle, beside = tempfile.mkstemp(
        dir=path.parent, prefix=f"{SECRET_FILE}."
    )  # its owner's alone
    with os.fdopen(handle, "wb") as file:
        file.write(secret)
    Path(beside).replace(path)
    return secret


def _hold_own(path: Path, forbidden: int) -> None:
    """Raise ValueError for what is a link, another's, or open to others in a way that is
    forbidden; a system without such rights has none to look at.
    """
    found = path.lstat()
    strange = stat.S_ISLNK(found.st_mode) or not (
        stat.S_ISREG(found.st_mode) or stat.S_ISDIR(found.st_mode)
    )
    if strange or (
        hasattr(os, "geteuid") and (found.st_uid != os.geteuid() or found.st_mode & forbidden)
    ):
        raise ValueError(f"{path} is not for its owner alone")
