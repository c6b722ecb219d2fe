"""Deck slopes: how the deck of one bank falls over a bore, as planned or as finished, and how the
room that this leaves is held.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from datumbook.cells.columns import Check, Column, Result
from datumbook.cells.handles import Handle
from datumbook.cells.tables import Form, Line
from datumbook.equations import crowns
from datumbook.numbers.quantities import Quantity
from datumbook.spec import Limit, limit
from datumbook.stations.received.bank_lines import BankLines


class DeckSlopes(Form):
    """How a deck slopes over a bore, and what its cut leaves of a hollow where that is forecast."""

    steepest_slope: Column
    hollow_left: Column | None


def deck_slopes(
    lines: BankLines, key: str, title: str, lies: Form, hollow: Line | None = None
) -> DeckSlopes:
    """Along, across and at its steepest, from the tilts and the twist of a deck."""
    along, across = lines.corners_apart

    def slope(way: str, tilt: str, apart: Quantity) -> Result:
        read: dict[str, Handle] = {"tilt": lies.column(tilt), "twist": lies.column("twist")}
        return Result(
            name=f"slope_{way}",
            words=lines.said(f"Slope {way}"),
            unit="",
            decimals=6,
            equation=crowns.edge_slope,
            inputs={**read, "apart": apart},
        )

    steepest = Result(
        name="steepest_slope",
        words=lines.said("Slope at its steepest"),
        unit="",
        decimals=6,
        equation=crowns.steepest_slope,
    )
    return DeckSlopes(
        key=key,
        title=title,
        lines=(
            slope("along", "tilt_lengthwise", along),
            slope("across", "tilt_crosswise", across or lines.basis.spec.bores.standard.low),
            steepest,
            *([hollow] if hollow else ()),
        ),
    )


def held_at_each_end(
    least: Column, most: Column, limits: Limit, rows: Sequence[str] | None = None
) -> Iterator[Column | Check]:
    """Two columns, the least held against the lower limit, the most against the upper one."""
    for column, low, high in ((least, limits.low, None), (most, None, limits.high)):
        yield column
        if low is not None or high is not None:
            end = limit(limits.source, low=low, high=high)
            yield Check(of=column, limits=end, rows=rows or column.rows)
