"""Books as another version laid them out."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

import datumbook.writer
from bored_block import bored_layout
from clean_readings import clean_readings
from datumbook.writer import write
from records import content_of, repacked_lines

READING, OWNER = "bores.2.middle.thrust", "job.owner"


def older_book(out: Path, change: Any = None, readings: dict[str, Any] | None = None) -> Path:
    """A sound book whose map is not this version's: one reading of it is unknown here, and what
    `change` makes of it.
    """

    def record(layout: Any, *_: object, **__: object) -> list[str]:
        content = content_of(layout)
        for line in content["map"]:
            if line[0] == OWNER:
                line[0] = "job.proprietor"
            if change is not None:
                change(line)
        return repacked_lines(
            content | {"version": "0.0.1", "identity": layout.identity_by("0.0.1")}
        )

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(datumbook.writer, "chunks", record)
        write(
            bored_layout(),
            out,
            clean_readings(bored_layout()) | {OWNER: "Harbour Trust"} | (readings or {}),
        )
    return out
