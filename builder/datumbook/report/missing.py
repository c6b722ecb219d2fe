"""The readings still to take, a line a station: how many of how many, what is read, in which
cells; below it each by its row.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from datumbook.grouping import grouped
from datumbook.messages.findings import Finding
from datumbook.readers.addresses import address_of, place_of
from datumbook.validator import Validation

KINDS_NAMED = 6  # kinds of reading that one line names
FEW_MISSING = 3  # readings that are named each by itself


@dataclass(frozen=True)
class StationMissing:
    """What is missing at one station: how many readings of how many, what is read, the cells, and
    row by row what is read there in which cell.
    """

    sheet: str
    count: int
    wanted: int
    what: str
    cells: str
    rows: dict[str, list[tuple[str, str]]]

    @property
    def line(self) -> str:
        """All but its name, as one says it."""
        said = f"{self.what}; cells {self.cells}"
        if self.count <= FEW_MISSING:
            said = "; ".join(
                f"{cell} {row}{f' · {column}' if column else ''}"
                for row, each in self.rows.items()
                for column, cell in each
            )
        return f"{self.count} of {self.wanted}: {said}"


def stations_missing(validation: Validation) -> list[StationMissing]:
    """Every station where a reading is missing, in the order of the work."""
    wanted = Counter(one.at.sheet for one in validation.wanted)
    gone = [one for one in validation.findings if one.code == "reading-missing"]
    return [
        _at(sheet, ones, wanted[_made_as(ones, validation)])
        for sheet, ones in grouped((one.sheet, one) for one in gone).items()
    ]


def _made_as(ones: list[Finding], validation: Validation) -> str:
    """The name with which a station's sheet was made, whatever it is called by now."""
    assert validation.layout is not None
    return validation.layout.place(ones[0].key).at.sheet


def _at(sheet: str, ones: list[Finding], wanted: int) -> StationMissing:
    rows = [(*_row_and_column(one), one.cell) for one in ones]
    what = [*dict.fromkeys(column or row for row, column, _ in rows)]
    more = f" and {len(what) - KINDS_NAMED} more" if len(what) > KINDS_NAMED else ""
    return StationMissing(
        sheet,
        len(ones),
        max(wanted, len(ones)),
        f"{', '.join(what[:KINDS_NAMED])}{more}",
        ", ".join(spans(one.cell for one in ones)),
        grouped((row, (column, cell)) for row, column, cell in rows),
    )


def _row_and_column(one: Finding) -> tuple[str, str]:
    row, _, column = one.label.partition(" · ")
    return row, column


def spans(cells: Iterable[str]) -> list[str]:
    """Cells as blocks: what stands below one another first, then the like beside one another.

    >>> spans(["B8", "C8", "B9", "C9", "B12", "D4"])
    ['D4', 'B8 to C9', 'B12']
    """
    columns = grouped((column, row) for row, column in map(place_of, cells))
    runs: dict[tuple[int, int], list[int]] = {}
    for column, rows in sorted(columns.items()):
        for _, run in groupby(enumerate(sorted(rows)), key=lambda each: each[1] - each[0]):
            down = [row for _, row in run]
            runs.setdefault((down[0], down[-1]), []).append(column)
    found = []
    for (top, bottom), beside in sorted(runs.items()):
        for _, run in groupby(enumerate(beside), key=lambda each: each[1] - each[0]):
            across = [column for _, column in run]
            first, last = address_of(top, across[0]), address_of(bottom, across[-1])
            found.append(first if first == last else f"{first} to {last}")
    return found
