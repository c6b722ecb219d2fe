"""The register as a person reads it, and as CSV for programs."""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterator, Sequence

from datumbook.carrying import harmless
from datumbook.grouping import grouped
from datumbook.messages.findings import printable
from datumbook.register import RegisterLine
from datumbook.register.instruments import remarks

REGISTER_COLUMNS = {
    "file": "file",
    "job": "job",
    "engine": "engine",
    "state": "state",
    "readings_missing": "missing",
    "days_open": "days open",
    "worst": "worst",
}
WRITTEN = (
    "file",
    "job",
    "engine",
    "identity",
    "state",
    "exit_status",
    "worst",
    "readings_missing",
    "received_on",
    "days_open",
    "counted_to",
    "until",
)
STYLES = {"released": "good", "releasable": "good", "on hold": "warn", "rejected": "bad"}
COUNTED_TO = {
    "release": "to the day of release or rejection",
    "today": "to the day given",
    "file": "to the date of the file",
}


def told(
    blocks: Sequence[RegisterLine], today: str = "", width: int | None = None
) -> Iterator[tuple[str, str]]:
    """Lines with their style: the table, no wider than a terminal's `width` where there is one,
    what the days count to, the sums, and what the instruments show.
    """
    rows = [[_shown(getattr(block, name)) for name in REGISTER_COLUMNS] for block in blocks]
    widths = [
        max(map(len, column)) for column in zip(*rows, [*REGISTER_COLUMNS.values()], strict=True)
    ]
    yield "title", _line([*REGISTER_COLUMNS.values()], widths)
    for block, row in zip(blocks, rows, strict=True):
        line = _line(row, widths)
        yield (
            STYLES.get(block.state, "plain" if block.exit_status == 0 else "bad"),
            line if width is None or len(line) <= width else f"{line[: width - 1]}…",
        )
    yield "plain", ""
    sums = Counter(block.state for block in blocks).most_common()
    yield (
        "title",
        f"{len(blocks)} books: {', '.join(f'{count} {state}' for state, count in sums)}.",
    )
    named = {block.counted_to for block in blocks}
    if counted := [words for name, words in COUNTED_TO.items() if name in named]:
        yield "soft", f"Days open count from the day received {', or '.join(counted)}."
    yield from (("warn", line) for line in noticed(blocks, today))


def _shown(value: object) -> str:
    return "" if value is None else printable(str(value))


def _line(cells: Sequence[str], widths: Sequence[int]) -> str:
    return "  ".join(cell.ljust(width) for cell, width in zip(cells, widths, strict=True)).rstrip()


def noticed(blocks: Sequence[RegisterLine], today: str = "") -> Iterator[str]:
    """What only the books together show: one book in two files, and the remarks on instruments."""
    files = grouped(
        (f"{block.identity} (job {block.job})", block.file) for block in blocks if block.identity
    )
    for book, names in files.items():
        if len(names) > 1:
            yield printable(
                f"Book {book} is there {len(names)} times: {', '.join(names)}. Find out which one "
                f"counts."
            )
    for line in remarks([one for block in blocks for one in block.instruments], today):
        yield printable(line)


def as_csv(blocks: Sequence[RegisterLine]) -> str:
    """The register as CSV; no cell of it is taken for a formula."""
    out = io.StringIO()
    lines = ([harmless(_shown(getattr(block, name))) for name in WRITTEN] for block in blocks)
    csv.writer(out, lineterminator="\n").writerows([WRITTEN, *lines])
    return out.getvalue()
