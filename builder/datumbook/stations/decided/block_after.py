"""Block after: the whole block once deck and bottom face are cut, held at every corner."""

from __future__ import annotations

from datumbook.cells.columns import Column, limited
from datumbook.cells.tables import Form, Table
from datumbook.equations import faces, heights
from datumbook.equations.standings import shown_again
from datumbook.stations.decided.face_cuts import FaceCut
from datumbook.stations.received.bank_lines import BankLines
from datumbook.stations.received.deck_heights import CORNERS


class BlockAtCorners(Table):
    """The whole block at its corners once deck and bottom face are cut."""

    overall: Column
    bottom: Column


class BlockAfter(Form):
    """The least of the whole block once deck and bottom face are cut."""

    overall_after: Column
    bottom_after: Column


class BottomAfter(Form):
    """How the bottom face lies once it is cut."""

    bottom_twist: Column


def block_after(
    lines: BankLines, bottom: FaceCut, deck: FaceCut
) -> tuple[BlockAtCorners, BlockAfter, BottomAfter]:
    """The whole block after the cuts: at its corners, the least, how its bottom lies."""
    overall = lines.sizes.result(
        "overall",
        "overall height",
        faces.overall_at_corner,
        deck_after=lambda row: deck.corners.after[row],
        bottom_after=lambda row: bottom.corners.after[row],
    )
    under = lines.sizes.result(
        "bottom", "crank to bottom", shown_again, value=lambda row: bottom.corners.after[row]
    )
    corners = BlockAtCorners(
        key="block_corners",
        title="The whole block after the cuts",
        heading="Corner",
        rows=deck.corners.rows,
        columns=[
            item
            for column, limits in (
                (overall, lines.spec.overall_limit),
                (under, lines.spec.bottom_limit),
            )
            for item in (limited(column, limits) if limits else (column,))
        ]
        + [
            _shown_at(lines, f"off_{name}", f"off {name}", cut.corners.taken)
            for name, cut in (("deck", deck), ("bottom", bottom))
        ],
    )
    least = BlockAfter(
        key="block_after",
        title="Least of the whole block",
        lines=(
            lines.line(
                "overall_after",
                "Overall height after, lowest corner",
                heights.lowest_corner,
                corners=[overall[corner] for corner in CORNERS],
            ),
            lines.line(
                "bottom_after",
                "Crank line to bottom face after, lowest corner",
                heights.lowest_corner,
                corners=[under[corner] for corner in CORNERS],
            ),
        ),
    )
    lies = BottomAfter(
        key="bottom_after",
        title="The bottom face after its cut",
        note="A block that rocks is not stood on it: cut it or shim it first.",
        lines=(
            lines.line(
                "bottom_twist",
                "Twist of the bottom face after",
                heights.twist,
                lines.spec.twist,
                **{corner: bottom.corners.after[corner] for corner in CORNERS},
            ),
        ),
    )
    return corners, least, lies


def _shown_at(lines: BankLines, name: str, words: str, of: Column) -> Column:
    """What another table has for each corner."""
    return lines.sizes.result(name, words, shown_again, value=lambda row: of[row])
