"""The seal of a book: eight signs for all that a release rests on, so that a later change is told.

It is written by hand into the Release sheet and works through every spreadsheet program and on
paper. It tells a change, it does not prove who made it: the shop keeps the seal of what left it.
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections.abc import Mapping

from datumbook.workbook.layout import Layout

PLAIN_NUMBER = re.compile(r"-?(0|[1-9]\d{0,14})(\.\d+)?")
SIGNS = 8  # of 32 each: one change in 10^12 goes unseen
DIGITS = 12  # of a number: what programs leave of it, and less than any gauge shows


def seal_of(layout: Layout, typed: Mapping[str, float | str]) -> str:
    """Return the seal of what is typed into a book, of its job and of its spec, as ABCD-EFGH."""
    own = layout.stations.release.decision.seal.key
    entered = {str(key): _as_entered(value) for key, value in typed.items() if key != own}
    held = {key: entered[key] for key in sorted(entered) if entered[key]}
    content = json.dumps([layout.identity, layout.spec.text, held], ensure_ascii=True)
    signs = base64.b32encode(hashlib.sha256(content.encode("ascii")).digest()).decode("ascii")
    return f"{signs[: SIGNS // 2]}-{signs[SIGNS // 2 : SIGNS]}"


def seal_written(layout: Layout, values: Mapping[str, object]) -> str:
    """Return the seal written into a book, in capitals without spaces; "" where there is none."""
    written = str(values[layout.stations.release.decision.seal.key] or "")
    return "".join(written.split()).upper().replace("0", "O").replace("1", "I")


def _as_entered(value: float | str) -> str:
    """What is typed, alike whether a program keeps a number as a number or as its words."""
    if isinstance(value, str):
        words = " ".join(value.split())
        return _as_entered(float(words)) if PLAIN_NUMBER.fullmatch(words) else words
    return f"{value:.{DIGITS}g}"
