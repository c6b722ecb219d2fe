"""Customer: one page in plain words for whoever brought the block: what it measured, what was done,
how to treat it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

from datumbook.cells.columns import Result, words
from datumbook.cells.tables import Form, Line, Prose, Row, Sheet, Table
from datumbook.equations import standings
from datumbook.equations.bores import largest_size
from datumbook.numbers.units import shown
from datumbook.standards import table
from datumbook.stations.received.bores import AXES
from datumbook.stations.received.route import operations_of
from datumbook.workbook.layout import WHOLE, Layout

PHOTOGRAPH_LINES = 9


@dataclass(frozen=True)
class Number:
    """One number that matters: its key and words, the equation that gathers it, and the cells of
    both states.
    """

    key: str
    words: str
    equation: Any
    before: dict[str, Any]
    after: dict[str, Any]
    like: str  # a cell with the same unit and places


def sheet(layout: Layout) -> Sheet:
    """The sheet for the customer."""
    photographs = Prose(
        title="Photographs: before on the left, after on the right",
        lines=[("",)] * PHOTOGRAPH_LINES,
    )
    cautions = Prose(
        title="Before it runs",
        lines=[(line,) for line in table("cautions")["use"]],
        widths=(WHOLE,),
    )
    parts = (_numbers(layout), _work(layout), photographs, _names(), cautions)
    how = (
        "What the block measured when it came and when it was done, in the units of the sheets "
        "before this one."
    )
    widths = {1: 44, 2: 14, 3: 14, 4: 14}
    return Sheet(
        name="Customer",
        title="For the customer",
        how=how,
        parts=parts,
        widths=widths,
        stage="finished",
        one_page=True,
    )


def _shown(key: str) -> dict[str, Any]:
    return {"value": key}


def _found(layout: Layout) -> Iterator[Number]:
    """The numbers that this engine's book holds, in the order of the walk round the block."""
    spec, again = layout.spec, standings.shown_again
    everywhere = [
        f"bores.{number}.{depth.key}.{axis}"
        for number in layout.cylinders()
        for depth in spec.bores.depths
        for axis in AXES
    ]
    decided = "bored_to.size" if "bored_to.size" in layout.places else "bore_plan.1.finish_bore"
    yield Number(
        "size",
        "Size of the bores, nominal",
        again,
        _shown("rebore.standard"),
        _shown(decided),
        "rebore.standard",
    )
    yield Number(
        "bore",
        "Widest place of all bores",
        largest_size,
        {"diameters": everywhere},
        {"diameters": [f"finished_{key}" for key in everywhere]},
        everywhere[0],
    )
    for bank in spec.rows:
        lowest = f"{bank.key}_deck.lowest_corner" if bank.key else "deck.lowest_corner"
        yield _twins(
            f"{bank.key}_deck" if bank.key else "deck",
            bank.title("Deck over the crank, lowest corner"),
            lowest,
        )
    yield _twins("overall", "Deck over the bottom face, lowest corner", "overall.lowest_corner")
    for face in ("deck", "bottom"):
        gaps = [
            key
            for key in layout.places
            if key.startswith(f"{face}_flatness.")
            and ".gap_" in key
            and layout.places[key].role == "reading"
        ]
        if gaps:
            yield Number(
                f"{face}_flatness",
                f"Largest gap under a straight-edge, {face} face",
                largest_size,
                {"diameters": gaps},
                {"diameters": [f"finished_{key}" for key in gaps]},
                gaps[0],
            )
    yield _twins("tunnels", "Main tunnels, largest less smallest", "tunnel_row.size_spread")


def _twins(key: str, said: str, cell: str) -> Number:
    """A number that stands in one cell of each state."""
    return Number(key, said, standings.shown_again, _shown(cell), _shown(f"finished_{cell}"), cell)


def _numbers(layout: Layout) -> Table:
    """The numbers before and after; one that is not measured again has no after."""
    found = [one for one in _found(layout) if one.like in layout.places]
    columns: list[Result] = []
    for one in found:
        unit, places = layout.place(one.like).unit, layout.place(one.like).decimals
        for name, inputs in (("before", one.before), ("after", one.after)):
            cells = [
                cell
                for given in inputs.values()
                for cell in (given if isinstance(given, list) else [given])
            ]
            if all(cell in layout.places for cell in cells):
                columns.append(
                    Result(
                        name=name,
                        words=name,
                        unit=partial(_same, unit),
                        decimals=places,
                        rows=[one.key],
                        equation=one.equation,
                        inputs=inputs,
                    )
                )
    units = {one.key: shown(layout.place(one.like).unit or "") for one in found}
    return Table(
        key="customer",
        title="The few numbers that matter",
        heading="What",
        note="Blank: not measured, or not touched by the work.",
        rows=[Row(one.key, one.words) for one in found],
        columns=(
            *(_of_state(columns, "before")),
            *(_of_state(columns, "after")),
            words("unit", "unit", units.__getitem__),
        ),
    )


def _same(unit: str | None, _row: str) -> str | None:
    """One and the same unit, said for its row, so that it does not stand over the whole column."""
    return unit


def _of_state(columns: list[Result], name: str) -> list[Result]:
    return [column for column in columns if column.name == name]


def _work(layout: Layout) -> Table:
    """The operations that take metal or prove the block, with their done number and date."""
    wanted = {
        key: one
        for key, one in operations_of(layout.spec).items()
        if one.cut or key in ("crack_test", "pressure_test")
    }
    return Table(
        key="work_done",
        title="What was done",
        heading="Operation",
        note="In the order of the numbers; no number: not done, because it was not needed.",
        rows=[Row(key, one.words) for key, one in wanted.items()],
        columns=(
            Result(
                name="done",
                words="number",
                unit="",
                whole=True,
                equation=standings.shown_again,
                inputs={"value": "route.{row}.done"},
            ),
            Result(
                name="date",
                words="date",
                unit=None,
                equation=standings.said_again,
                inputs={"words": "route.{row}.date"},
            ),
        ),
    )


def _names() -> Form:
    """Where the job stands, and the two who stand for it."""

    def said(name: str, heading: str, of: str) -> Line:
        return Line(
            column=Result(
                name=name,
                words=heading,
                unit=None,
                equation=standings.said_again,
                inputs={"words": of},
            )
        )

    conceded = Result(
        name="under_concession",
        words="Left as it is by agreement",
        unit="",
        whole=True,
        equation=standings.shown_again,
        inputs={"value": "decision.under_concession"},
    )
    return Form(
        key="handed_over",
        title="Who stands for it",
        lines=(
            said("state", "State", "decision.release_state"),
            Line(
                column=conceded,
                note="checks outside their limits; each is listed on the Release sheet",
            ),
            said("measured_by", "Measured by", "decision.measured_by"),
            said("released_by", "Released by", "decision.released_by"),
            said("released_on", "Date", "decision.released_on"),
        ),
    )
