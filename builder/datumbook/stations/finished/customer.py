"""Customer: one page in plain words for whoever brought the block: what it measured, what was done,
how to treat it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from datumbook.cells.columns import Column, Result, words
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Line, Prose, Row, Sheet, Table
from datumbook.equations import standings
from datumbook.equations.bores import largest_size
from datumbook.numbers.units import shown
from datumbook.standards import table
from datumbook.stations.decided.resources import Bored
from datumbook.stations.finished.finished import FinishedBlock
from datumbook.stations.finished.release import Release
from datumbook.stations.finished.touched import again
from datumbook.stations.received.bores import Bores, FinishedBores
from datumbook.stations.received.faces import EDGES_OF, Faces
from datumbook.stations.received.heights import BlockHeights
from datumbook.stations.received.route import OperationsDone, operations_of
from datumbook.stations.received.shown import shown_words
from datumbook.stations.received.tunnels import MainTunnels
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import WHOLE, Place

PHOTOGRAPH_LINES = 8


@dataclass(frozen=True)
class BeforeAndAfter:
    """One number that matters: its key, its words, and its cell in both states, or the cells whose
    largest it is; None where it is not measured again.
    """

    key: str
    words: str
    before: Key | list[Key]
    after: Key | list[Key] | None = None


class CustomerPage:
    """What the placed book has for the customer, and where the job stands."""

    def __init__(self, layout: Layout, release: Release) -> None:
        self.layout, self.decision, self.touched = layout, release.decision, release.touched

    def sheet(self) -> Sheet:
        """The sheet for the customer."""
        return Sheet(
            name="Customer",
            read=True,
            title="For the customer",
            how="What the block measured when it came and when it was done, in the units of the "
            "sheets before this one.",
            parts=(
                self._numbers(),
                self._work(),
                again(self.touched),
                Prose(
                    title="Photographs: before on the left, after on the right",
                    lines=[("",)] * PHOTOGRAPH_LINES,
                ),
                self._names(),
                Prose(
                    title="Before it runs",
                    lines=[(line,) for line in table("cautions")["use"]],
                    widths=(WHOLE,),
                ),
            ),
            row_pixels=16.0,  # close, so that its one page prints large
            widths={1: 44, 2: 14, 3: 14, 4: 22},
            stage="finished",
            one_page=True,
            penned_whole=True,
        )

    def _found(self) -> tuple[BeforeAndAfter, ...]:
        """The numbers that this engine's book holds, in the order of the walk round the block."""
        found = self.layout.stations
        return (
            *(_of_bores(found.bored, found.finished_bores) if found.bored else ()),
            *(_of_heights(found.heights, found.finished) if found.heights else ()),
            *_of_faces(found.faces, found.finished_faces),
            *_of_tunnels(found.tunnels, found.finished_tunnels),
        )

    def _numbers(self) -> Table:
        """The numbers before and after; one that is not measured again has no after."""
        found = self._found()
        like = {
            one.key: self.layout.place(
                one.before[0] if isinstance(one.before, list) else one.before
            )
            for one in found
        }
        columns = [
            _gathered(state, one.key, cells, like[one.key])
            for state in ("before", "after")
            for one in found
            if (cells := getattr(one, state)) is not None
        ]
        return Table(
            key="customer",
            title="The few numbers that matter",
            heading="What",
            note="Blank: not measured, or not touched by the work.",
            rows=[Row(one.key, one.words) for one in found],
            columns=(*columns, words("unit", "unit", lambda row: shown(like[row].unit or ""))),
        )

    def _work(self) -> Table:
        """The operations that take metal or prove the block, with their done number and date."""
        wanted = {
            key: one
            for key, one in operations_of(self.layout.spec).items()
            if one.cut or key in ("crack_test", "pressure_test")
        }
        route: OperationsDone = self.layout.stations.route.operations
        return Table(
            key="work_done",
            title="What was done",
            heading="Operation",
            note="In the order of the numbers; no number: not done, because it was not needed.",
            rows=[Row(key, one.words) for key, one in wanted.items()],
            columns=(
                _count("done", "number", route.done),
                shown_words("date", "date", route.date, day=True),
            ),
        )

    def _names(self) -> Form:
        """Where the job stands, and the two who stand for it."""
        decided = self.decision
        return Form(
            key="handed_over",
            title="Who stands for it",
            lines=(
                Line(column=shown_words("state", "State", decided.release_state)),
                Line(
                    column=_count(
                        "under_concession", "Left as it is by agreement", decided.under_concession
                    ),
                    note="checks; each is on the Release sheet",
                ),
                Line(column=shown_words("measured_by", "Measured by", decided.measured_by)),
                Line(column=shown_words("released_by", "Released by", decided.released_by)),
                Line(column=shown_words("released_on", "Date", decided.released_on, day=True)),
            ),
        )


def _of_bores(bored: Bored, finished: FinishedBores | None) -> Iterator[BeforeAndAfter]:
    received, decided = bored.bores, bored.boring.decided
    size = decided[1] if decided else None
    if finished and finished.bored_to:
        size = finished.bored_to.size.key
    yield BeforeAndAfter("size", "Size of the bores, nominal", received.rebore.standard.key, size)
    yield BeforeAndAfter(
        "bore",
        "Widest place of all bores",
        *[_diameters(one) for one in (received, finished) if one],
    )


def _diameters(bores: Bores) -> list[Key]:
    return [key for one in bores.basis.cylinders() for key in bores.diameters(one)]


def _of_heights(received: BlockHeights, finished: FinishedBlock | None) -> Iterator[BeforeAndAfter]:
    again = {one.bank.key: one for one in finished.heights} if finished else {}
    for name, words_of in (
        ("deck", "Deck over the crank"),
        ("overall", "Deck over the bottom face"),
    ):
        for key, one in received.banks.items():
            if name in one.over:
                lowest = [
                    bank.over[name].lowest_corner.key for bank in (one, again.get(key)) if bank
                ]
                yield BeforeAndAfter(
                    one.named(name), one.bank.title(f"{words_of}, lowest corner"), *lowest
                )


def _of_faces(received: Faces | None, finished: Faces | None) -> Iterator[BeforeAndAfter]:
    for face in ("deck", "bottom"):
        before, after = (
            [faces.flat[f"{face}_flatness"].gaps.gap(line) for line in EDGES_OF]
            if faces and f"{face}_flatness" in faces.flat
            else None
            for faces in (received, finished)
        )
        if before:
            yield BeforeAndAfter(
                f"{face}_flatness", f"Largest gap under a straight-edge, {face} face", before, after
            )


def _of_tunnels(
    received: MainTunnels | None, finished: MainTunnels | None
) -> Iterator[BeforeAndAfter]:
    if received:
        yield BeforeAndAfter(
            "tunnels",
            "Main tunnels, largest less smallest",
            *[one.row.size_spread.key for one in (received, finished) if one],
        )


def _gathered(state: str, row: str, cells: Key | list[Key], like: Place) -> Result:
    """One number in one state; its unit is said for its row, not over the whole column."""
    several = isinstance(cells, list)
    return Result(
        name=state,
        words=state,
        unit=lambda _: like.unit,
        decimals=like.decimals,
        rows=[row],
        equation=largest_size if several else standings.shown_again,
        inputs={"diameters" if several else "value": cells},
    )


def _count(name: str, heading: str, of: Column) -> Result:
    """A whole number from elsewhere in the book."""
    return Result(
        name=name,
        words=heading,
        unit="",
        whole=True,
        equation=standings.shown_again,
        inputs={"value": of},
    )
