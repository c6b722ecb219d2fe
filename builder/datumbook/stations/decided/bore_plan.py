"""Bore plan: the finish size of each cylinder and how far the bar is set over, typed or as the
readings suggest.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from datumbook.cells.columns import Column, typed_words
from datumbook.cells.tables import Form, Line, Table, cylinder_rows
from datumbook.equations import budget, liners, walls
from datumbook.equations.standings import shown_again
from datumbook.numbers.units import convert
from datumbook.spec.liners import Liners
from datumbook.spec.model import Bank
from datumbook.workbook.layout import Layout

FARTHEST = 5.0  # what a bar can be set over at all, in millimetres
FINISH, OFFSET = "bore_plan.{row}.finish_bore", "bore_plan.{row}.offset"


def bored(layout: Layout) -> bool:
    """Whether there are oversizes to bore to or dry liners, so that the plan has a finish size for
    each cylinder.
    """
    return bool(layout.spec.bores.oversizes) or dry(layout) is not None


def dry(layout: Layout) -> Liners | None:
    """The dry liners of an engine that may get them."""
    spec = layout.spec.liners
    return spec if spec is not None and spec.kind == "dry" else None


def bore_in_block(layout: Layout) -> str:
    """The key pattern of what the block itself is bored to: with dry liners it may be the hole of
    one.
    """
    return FINISH if dry(layout) is None else "bore_plan.{row}.bore_in_block"


def parts(layout: Layout) -> list[Table | Form]:
    """The parts of the plan sheet that say how the cylinders are bored."""
    return [_each(layout), *(_row_shift(layout, bank) for bank in layout.spec.rows)]


def _each(layout: Layout) -> Table:
    """One line for each cylinder: what is suggested, what is typed, what holds."""
    return Table(
        key="bore_plan",
        title="Boring the cylinders",
        heading="",
        note="A blank line follows the suggestion above it; a cylinder that is not bored has its "
        "size typed as it is. Walls, "
        "lands, compression and the finished checks follow. Set over: above nought towards the "
        "rear. The suggestion puts each "
        "centre back into its row, and the row as a whole where the largest set-over is least.",
        rows=cylinder_rows(layout.cylinders()),
        columns=(*(_sizes(layout) if bored(layout) else ()), *_offsets(layout)),
        turned=True,
    )


def _sizes(layout: Layout) -> Iterator[Column]:
    sizes = replace(layout.sizes("bores"), group=None)  # a decision, read off no gauge
    how = "The honed size decided; blank as suggested. Not bored: the size as it is."
    lined = dry(layout) is not None
    if lined:
        yield typed_words(
            "liner",
            "Dry liner, yes or no",
            "yes where the cylinder gets a liner.",
            choices=(liners.YES, "no"),
        )
    yield from _suggested(layout, lined)
    yield sizes.reading(
        "typed_bore", "Finish bore typed", layout.spec.bores.standard.low, how, wanted=False
    )
    yield sizes.result(
        "finish_bore",
        "Finish bore",
        budget.as_planned,
        typed="bore_plan.{row}.typed_bore",
        suggested="bore_plan.{row}.suggested_bore",
    )
    if lined:
        yield sizes.result(
            "bore_in_block", "Block bored to", liners.bore_in_block, hole="liner.{row}.hole"
        )


def _suggested(layout: Layout, lined: bool) -> Iterator[Column]:
    sizes, oversizes = layout.sizes("bores"), bool(layout.spec.bores.oversizes)
    words, next_size = "Finish bore suggested", "rebore.next_oversize"
    if lined and oversizes:
        yield sizes.result(
            "suggested_bore",
            words,
            liners.suggested_bore,
            standard="rebore.standard",
            next_oversize=next_size,
        )
    else:
        yield sizes.result(
            "suggested_bore",
            words,
            shown_again,
            value=next_size if oversizes else "rebore.standard",
        )


def _offsets(layout: Layout) -> Iterator[Column]:
    sizes = replace(layout.sizes("lands"), group=None)
    centres, shift = (
        _in_bank(layout, "centres", "{row}.offset"),
        _in_bank(layout, "row_shift", "row_shift"),
    )
    yield sizes.result(
        "off_place",
        "Centre off its place",
        shown_again,
        value=lambda row: centres[row].format(row=row),
    )
    yield sizes.result(
        "suggested_offset",
        "Set-over suggested",
        walls.boring_offset,
        offset="bore_plan.{row}.off_place",
        row_shift=shift.__getitem__,
    )
    if not bored(layout):
        return
    most = convert(FARTHEST, "mm", layout.unit_of("lands"))
    yield sizes.reading(
        "typed_offset",
        "Set-over typed",
        how="How far the bar is set over; 0 for none, blank as suggested.",
        possible=(-most, most),
        wanted=False,
    )
    yield sizes.result(
        "offset",
        "Set-over",
        budget.as_planned,
        typed="bore_plan.{row}.typed_offset",
        suggested="bore_plan.{row}.suggested_offset",
    )


def _in_bank(layout: Layout, table: str, cell: str) -> dict[str, str]:
    """For each cylinder the key of a cell in the table of its bank."""
    return {
        str(number): f"{table}{bank.suffix}.{cell}"
        for bank in layout.spec.rows
        for number in bank.cylinders
    }


def _row_shift(layout: Layout, bank: Bank) -> Form:
    """The shift of the whole row that makes the largest set-over least."""
    offsets = [f"centres{bank.suffix}.{number}.offset" for number in bank.cylinders]
    shift = layout.sizes("lands").result(
        "row_shift", "Row as a whole", walls.row_shift, offsets=offsets
    )
    return Form(
        key=f"row_shift{bank.suffix}",
        title=bank.title("Shift of the whole row"),
        lines=(Line(column=shift),),
    )
