"""The hidden record: what a book was made from, as ASCII chunks that survive every program, each
with its CRC.
"""

from __future__ import annotations

import base64
import json
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from datumbook import VERSION
from datumbook.job import Job, job_of
from datumbook.spec import SpecFaults
from datumbook.workbook.layout import Layout

SHEET = "Record"
PROPERTY = "datumbook_identity"
UNPACKED = 16_000_000
"""Bytes that are unpacked: some four times those of the largest shipped book."""
CHUNK = 7600
FORMAT = 1


class RecordError(ValueError):
    """A record that cannot be trusted: what is wrong, which line of the hidden sheet, and the code
    of the finding.
    """

    def __init__(self, message: str, line: int = 1, code: str = "record-damaged") -> None:
        super().__init__(message)
        self.line = line
        self.code = code


class Mapped(NamedTuple):
    """One line of the map: where a key stood when the book was made, and what it held."""

    key: str
    sheet: str
    cell: str
    unit: str | None
    role: str
    label: str
    formula: str


@dataclass(frozen=True)
class Record:
    """What a book says of its making; `protected` unless its sheets were written open."""

    identity: str
    version: str
    spec_name: str
    spec_text: str
    spec_full: str
    job: Job
    map: tuple[Mapped, ...]
    narrow: tuple[str, ...] | None  # of forms: the sheets that go without some limits
    protected: bool = True

    @property
    def spec(self) -> tuple[str, str, str]:
        """The spec as it was given, the name it had, and its full form where that is another."""
        return self.spec_text, self.spec_name, self.spec_full


def chunks(
    layout: Layout, narrow: Sequence[str] | None = None, *, protected: bool = True
) -> list[str]:
    """Return the record of a layout as texts of at most 8,000 characters: of a book for the pen
    with which of its forms are narrow, of one that is not locked with that.
    """
    lines = [
        [
            place.key,
            place.at.sheet,
            place.at.cell,
            place.unit,
            place.role,
            place.label,
            layout.formula(place.key) if layout.has_formula(place.key) else "",
        ]
        for place in layout.places.values()
    ]
    content = {
        "format": FORMAT,
        "identity": layout.identity,
        "version": VERSION,
        "spec_name": layout.spec.path.name,
        "spec_text": layout.spec.text,
        **({"spec_full": layout.spec.full_text} if layout.spec.full_text else {}),
        **({} if narrow is None else {"pen": {"narrow": narrow}}),
        "job": layout.job.model_dump(mode="json", by_alias=True),
        **({} if protected else {"protected": False}),
        "map": lines,
    }
    packed = zlib.compress(
        json.dumps(content, ensure_ascii=True, separators=(",", ":")).encode("ascii"), 9
    )
    text = base64.b64encode(packed).decode("ascii")
    pieces = [text[start : start + CHUNK] for start in range(0, len(text), CHUNK)]
    return [
        f"#{number}/{len(pieces)}:{zlib.crc32(piece.encode()):08X}:{piece}"
        for number, piece in enumerate(pieces, 1)
    ]


def read_record(texts: Sequence[str]) -> Record:
    """Return the record held in the chunks; RecordError naming the chunk that is missing, changed
    or out of order.
    """
    text = ""
    for number, chunk in enumerate(texts, 1):
        head, _, rest = chunk.partition(":")
        checksum, _, piece = rest.partition(":")
        if head != f"#{number}/{len(texts)}" or checksum != f"{zlib.crc32(piece.encode()):08X}":
            raise RecordError(f"line {number} of it was changed, lost or moved", number)
        text += piece
    if not texts:
        raise RecordError("it is empty")
    try:
        unpacker = zlib.decompressobj()
        content = json.loads(unpacker.decompress(base64.b64decode(text, validate=True), UNPACKED))
        mapped = tuple(Mapped(*line) for line in content["map"])
        said = [content[name] for name in ("identity", "version", "spec_name", "spec_text")]
        said.append(content.get("spec_full", ""))
        if not all(isinstance(one, str) for one in said):
            raise TypeError("words are wanted")
        narrow = tuple(map(str, content["pen"]["narrow"])) if "pen" in content else None
        job, protected = job_of(content["job"]), content.get("protected") is not False
        identity, version, name, text, full = said
        return Record(identity, version, name, text, full, job, mapped, narrow, protected)
    except (
        SpecFaults,
        ValueError,
        KeyError,
        TypeError,
        AttributeError,
        RecursionError,
        zlib.error,
    ) as broken:
        raise RecordError("it cannot be read", code="spec-altered") from broken
