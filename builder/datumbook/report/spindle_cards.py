"""The cards on the report page, from the same cells: one for each walk that is still to be done at
the spindle, to hang beside it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import Markup

from datumbook.cells.columns import Column
from datumbook.equations.verdicts import DONE
from datumbook.numbers.units import shown
from datumbook.report.face_drawings import drawn_sketch
from datumbook.stations.holes.hole_work import HoleWork
from datumbook.stations.holes.stop_cards import OTHERWISE, SCALE, Card
from datumbook.validator import Validation
from datumbook.workbook.layout import Layout
from datumbook.workbook.printed import printer

GONE = {"untrusted", "unreadable"}  # verdicts on a book by which nobody drills
ENDED = {"RELEASED", "REJECTED"}


@dataclass(frozen=True)
class CardLine:
    """One line of a card: its words, what stands in the unit of the scale and what beside it, and
    whether it is a box to write in.
    """

    name: str
    words: str
    said: str
    beside: str
    by_pen: bool


@dataclass(frozen=True)
class CardTold:
    """One card as it is shown: set-up, face and the other unit stand over its lines."""

    title: str
    over: tuple[str, ...]
    minded: str
    lines: tuple[CardLine, ...]
    sketch: Markup | None


def cards_to_drill(validation: Validation) -> list[CardTold]:
    """The cards of which a hole is not yet done, in the order of the work; none of a book that is
    not to be trusted, of a job that has ended, of an earlier stage, or of holes left as they are.
    """
    layout, values = validation.layout, validation.values
    holes = layout.stations.holes if layout else None
    if layout is None or holes is None or not holes.steps.cuts:
        return []
    left = layout.stations.job.way.left_cells(values)
    ended = validation.verdict in GONE or validation.state in ENDED
    counted = holes.holes.gauged.column("counted")["all"]
    if ended or counted in left or "planned" not in validation.reached:
        return []
    numbers = {key: value for key, value in values.items() if isinstance(value, float)}
    told = []
    for card in holes.cards.each:
        if all(values.get(key) == DONE for key in _ticks(card, holes)):
            continue
        face, table = holes.cards.sketches.get(card.walk.set_up), card.table
        told.append(
            CardTold(
                table.title,
                (table.heading, *(row.words for row in table.rows)),
                table.note,
                tuple(_lines(layout, card, validation)),
                drawn_sketch(face, card.walk.holes, numbers) if face else None,
            )
        )
    return told


def _ticks(card: Card, holes: HoleWork) -> Iterator[str]:
    """The cells that say whether each hole of a card is done."""
    done = holes.holes.of(card.walk.group).done
    return (done[hole] for hole in card.walk.holes)


def _lines(layout: Layout, card: Card, validation: Validation) -> Iterator[CardLine]:
    """Every line with what its cells show; a warning only where something stands in it."""
    columns: dict[str, Column] = {}
    for one in card.table.columns:
        if isinstance(one, Column):
            columns.setdefault(one.name, one)
    for name, column in columns.items():
        said, beside = (_shown(layout, card, name, at, validation) for at in (SCALE, OTHERWISE))
        if said or name not in card.warnings:
            unit = f", {shown(column.unit)}" if column.unit and isinstance(column.unit, str) else ""
            yield CardLine(name, f"{column.words}{unit}", said, beside, column.by_pen)


def _shown(layout: Layout, card: Card, name: str, at: str, validation: Validation) -> str:
    """What a cell of a card shows; nothing where it is blank or not there."""
    key = card.table.column(name).find(at)
    place = layout.places.get(key) if key else None
    if key is None or place is None:
        return ""
    value = place.value if place.role == "given" else validation.values.get(key)
    return printer(place).number(value) if isinstance(value, float) else str(value or "")
