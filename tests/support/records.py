"""The content of a book's hidden record, taken out and packed again with every checksum right."""

from __future__ import annotations

import base64
import json
import zlib
from typing import Any

from datumbook.workbook.layout import Layout
from datumbook.workbook.record import CHUNK, chunks


def content_of(layout: Layout) -> dict[str, Any]:
    """What the record of a layout says."""
    packed = "".join(chunk.split(":", 2)[2] for chunk in chunks(layout))
    found: dict[str, Any] = json.loads(zlib.decompress(base64.b64decode(packed)))
    return found


def repacked_lines(content: object) -> list[str]:
    """A record of this content."""
    packed = base64.b64encode(zlib.compress(json.dumps(content).encode(), 9)).decode()
    pieces = [packed[start : start + CHUNK] for start in range(0, len(packed), CHUNK)]
    return [
        f"#{number}/{len(pieces)}:{zlib.crc32(piece.encode()):08X}:{piece}"
        for number, piece in enumerate(pieces, 1)
    ]
