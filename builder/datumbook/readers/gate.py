"""The gate: what may come in. A file is sniffed, measured and unzipped here before any parser sees
it.

Limits and traps: zip bombs, entities, old and encrypted files, files cut off on the way.
"""

from __future__ import annotations

import re
import struct
import zipfile
import zlib
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from io import BytesIO
from itertools import islice
from pathlib import Path
from typing import IO

from datumbook.readers.book import Kind, part_refusal, refusal

ZIP_DAMAGE = (
    zipfile.BadZipFile,
    zlib.error,
    struct.error,
    EOFError,
    OSError,
    ValueError,
    OverflowError,
    NotImplementedError,
    RuntimeError,
    IndexError,
)
"""What the standard library raises on a broken archive."""

_ODS = b"application/vnd.oasis.opendocument.spreadsheet"
_CELL_TAG = re.compile(rb"<(?:[\w.-]+:)?(?:c|(?:covered-)?table-cell)[\s/>]")
_CODES = ("utf-8", "utf-16-le", "utf-16-be")
_DECLARATIONS = tuple(word.encode(code) for word in ("<!DOCTYPE", "<!ENTITY") for code in _CODES)
_CHUNK = 1 << 16
_PICTURES = (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff", b"GIF87a", b"GIF89a", b"II*\0", b"MM\0*")
"""How pictures begin. Source: PNG, JPEG, GIF89a and TIFF 6.0 (from memory)."""


@dataclass(frozen=True)
class FileLimits:
    """How much a workbook may hold: bytes on disk, bytes unzipped without its pictures, ratio of
    an entry, entries, cells, XML tags.
    """

    whole: int = 256 << 20
    total: int = 64 << 20
    ratio: int = 200
    ratio_from: int = 1 << 20
    entries: int = 2_000
    cells: int = 400_000
    tags: int = 3_000_000


FILE_LIMITS = FileLimits()


@dataclass
class Contents:
    """The parts of a workbook that passed the gate, by name; upper and lower case do not matter.
    `digest` is the SHA-256 of the file's bytes as they were read.
    """

    path: Path
    kind: Kind
    parts: dict[str, bytes]
    digest: str

    @property
    def file(self) -> str:
        """The file's name, for messages."""
        return self.path.name

    def part(self, name: str) -> bytes:
        """Return a part that must be there; Refused (part-missing) if it is missing."""
        data = self.parts.get(name.casefold())
        if data is None:
            raise part_refusal("part-missing", self.file, name, "is missing")
        return data

    def holds(self, name: str) -> bool:
        """Say whether the file has a part of this name with something in it."""
        return bool(self.parts.get(name.casefold()))


def inspect(path: str | Path, limits: FileLimits = FILE_LIMITS) -> Contents:
    """Return the parts of a workbook; Refused for anything that is not a sound one."""
    path = Path(path)
    data = _bytes_of(path, limits)
    _sniff(path.name, data)
    parts = _unzip(path.name, data, limits)
    _measure(path.name, parts, limits)
    return Contents(path, _kind(path.name, parts), parts, sha256(data).hexdigest())


def _bytes_of(path: Path, limits: FileLimits) -> bytes:
    try:
        if path.is_dir():
            raise refusal("no-file", path.name, "this is a folder")
        if not path.is_file():
            found = "this is no file" if path.exists() else "there is no such file"
            raise refusal("no-file", str(path), found)
        if path.stat().st_size > limits.whole:
            raise refusal("refused-size", path.name, f"it is larger than {limits.whole >> 20} MB")
        return path.read_bytes()
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the path cannot be read"
        raise refusal("no-file", str(path), reason.lower()) from None


def _sniff(file: str, data: bytes) -> None:
    if not data:
        raise refusal("file-truncated", file, "nothing is in it")
    if data.startswith(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"):
        if "EncryptedPackage".encode("utf-16-le") in data:
            raise refusal("file-locked", file, "locked with a password")
        raise refusal("old-format", file, "in the old binary format (.xls)")
    if not data.startswith(b"PK\x03\x04"):
        raise refusal("not-a-workbook", file, _what_it_is(data))


def _what_it_is(data: bytes) -> str:
    start = data[:1024].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    for sign, words in _BEGINNINGS:
        if start.startswith(sign):
            return words
    try:
        data[:65536].decode("utf-8", "strict" if len(data) <= 65536 else "ignore")
    except UnicodeDecodeError:
        return "of no kind this program knows"
    return "of no kind this program knows" if b"\0" in data else "plain text or CSV"


_BEGINNINGS = (
    (b"%pdf", "a PDF"),
    (b"<!doctype html", "a web page"),
    (b"<html", "a web page"),
    (b"<?xml", "a bare XML file"),
    (b"pk\x05\x06", "an empty archive"),
)


def _unzip(file: str, data: bytes, limits: FileLimits) -> dict[str, bytes]:
    try:
        with zipfile.ZipFile(BytesIO(data)) as archive:
            entries = archive.infolist()
            _look_at_list(file, entries, limits)
            return dict(_parts(file, archive, entries, limits))
    except ZIP_DAMAGE as error:
        raise refusal("file-truncated", file, f"the archive is broken: {error}") from None


def _look_at_list(file: str, entries: list[zipfile.ZipInfo], limits: FileLimits) -> None:
    if len(entries) > limits.entries:
        raise refusal(
            "too-many-parts", file, f"it holds {len(entries)} parts, the limit is {limits.entries}"
        )
    times = Counter(map(_name, entries))
    for entry in entries:
        if times[_name(entry)] > 1:
            raise refusal(
                "duplicate-part", file, f"it holds the part {entry.filename} twice", entry.filename
            )
        if entry.flag_bits & 1:
            raise refusal("file-locked", file, "locked with a password", entry.filename)


def _name(entry: zipfile.ZipInfo) -> str:
    return entry.filename.replace("\\", "/").lstrip("/").casefold()


def _parts(
    file: str, archive: zipfile.ZipFile, entries: list[zipfile.ZipInfo], limits: FileLimits
) -> Iterator[tuple[str, bytes]]:
    room = limits.total
    for entry in entries:
        if entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            raise part_refusal("part-damaged", file, entry.filename, "is packed in an unknown way")
        try:
            with archive.open(entry) as stream:
                part = _inflate(file, entry, stream, room, limits)
        except ZIP_DAMAGE as error:
            raise part_refusal(
                "part-damaged", file, entry.filename, f"is broken: {error}"
            ) from None
        room -= len(part)
        yield _name(entry), part


def _inflate(
    file: str, entry: zipfile.ZipInfo, stream: IO[bytes], room: int, limits: FileLimits
) -> bytes:
    part = bytearray()
    while chunk := stream.read(_CHUNK):
        part += chunk
        if _is_picture(part):
            return bytes(part)
        if len(part) > room:
            raise refusal(
                "unpacks-too-far",
                file,
                f"it unpacks to more than {limits.total >> 20} MB",
                entry.filename,
            )
        if len(part) > limits.ratio_from and len(part) > limits.ratio * entry.compress_size:
            raise part_refusal(
                "unpacks-too-far",
                file,
                entry.filename,
                f"unpacks to more than {limits.ratio} times its size",
            )
    return bytes(part)


def _is_picture(part: bytes | bytearray) -> bool:
    """Say whether a part is a picture by its first bytes: it is never read further, whatever its
    makers wrote into it.
    """
    return part.startswith(_PICTURES) or (part[:4] == b"RIFF" and part[8:12] == b"WEBP")


def _measure(file: str, parts: dict[str, bytes], limits: FileLimits) -> None:
    cells, tags = limits.cells, limits.tags
    many = (
        sum(data.count(b"<") for data in parts.values()) > cells
    )  # every cell has a tag: fewer need not be told apart
    for name, data in parts.items():
        if not _is_picture(data) and any(word in data for word in _DECLARATIONS):
            raise part_refusal("refused-xml", file, name, "declares a document type or an entity")
        if name.endswith((".xml", ".rels")) or b"<?xml" in data[:100]:
            tags -= data.count(b"<")
            cells -= sum(1 for _ in islice(_CELL_TAG.finditer(data), cells + 1)) if many else 0
        if cells < 0:
            raise refusal("too-many-cells", file, f"it stores more than {limits.cells} cells", name)
        if tags < 0:
            raise refusal(
                "too-many-tags", file, f"its XML holds more than {limits.tags} tags", name
            )


def _kind(file: str, parts: dict[str, bytes]) -> Kind:
    if parts.get("mimetype", b"").startswith(_ODS):
        if b"encryption-data" in parts.get("meta-inf/manifest.xml", b""):
            raise refusal("file-locked", file, "locked with a password", "content.xml")
        return "ods"
    names = " ".join(parts)
    binary = "workbook.bin" in names
    if "[content_types].xml" in parts and "workbook" in names and not binary:
        return "xlsx"
    found = "a binary workbook (.xlsb)" if binary else "an archive that holds no sheets"
    raise refusal("not-a-workbook", file, found)
