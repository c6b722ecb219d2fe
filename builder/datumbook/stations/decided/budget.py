"""Budget: one line for each resource of metal, before the spindle starts."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from datumbook.cells.columns import Check, Result, Sizes, words
from datumbook.cells.tables import Form, Picture, Row, Series, Sheet, Table
from datumbook.equations import budget
from datumbook.equations.standings import shown_again
from datumbook.numbers.printing import NOT_LESS
from datumbook.stations.decided.resources import Resource, resources
from datumbook.workbook.layout import Layout

BARS = {"taken": "gone so far", "planned": "the plan takes", "to_spare": "still to spare"}


def sheet(layout: Layout) -> Sheet:
    """The sheet of the metal budget."""
    lines = resources(layout)
    gathered = [line for one in lines for line in one.gathered]
    title = "Sizes gathered for it: as drawn, as received, after the plan"
    extremes: list[Table | Form | Picture] = (
        [Form(key="extremes", title=title, lines=gathered)] if gathered else []
    )
    parts = (_budget(layout, lines), _bars(lines), *extremes)
    return Sheet(
        name="Budget",
        title="Metal budget",
        parts=parts,
        stage="planned",
        behind=tuple(f"share_{name}" for name in BARS),
    )


def _budget(layout: Layout, lines: list[Resource]) -> Table:
    by_key = {one.key: one for one in lines}
    shrinks = [one.key for one in lines if not one.grows]
    grows = [one.key for one in lines if one.grows]
    every = [*shrinks, *grows]
    sizes = Sizes(
        lambda row: layout.unit_of(by_key[row].group),
        lambda row: layout.decimals_of(by_key[row].group),
    )

    def of(name: str) -> Callable[[str], Any]:
        return lambda row: getattr(by_key[row], name)

    def both(
        name: str, heading: str, shrinking: Any, growing: Any, rows: list[str]
    ) -> list[Result]:
        return [
            sizes.result(name, heading, shrinking, [row for row in rows if row in shrinks]),
            sizes.result(name, heading, growing, [row for row in rows if row in grows]),
        ]

    return Table(
        key="budget",
        title="What may still be cut, and what the plan does to it",
        heading="Resource",
        note="Read from left to right: what was there, what has gone, what the plan takes, and "
        "what is then still to spare. "
        "Below zero is OUT before the spindle starts.",
        rows=[Row(one.key, one.words) for one in lines],
        columns=(
            words("unit", "in", lambda row: layout.unit_of(by_key[row].group), width=5),
            sizes.result("as_new", "as new", shown_again, value=of("as_new")),
            sizes.result("as_received", "as received", shown_again, value=of("as_received")),
            *both("taken", "gone so far", budget.taken_so_far, budget.grown_so_far, every),
            sizes.result("after", "after the plan", shown_again, value=of("after")),
            *both("planned", "the plan takes", budget.taken_by_plan, budget.grown_by_plan, every),
            sizes.result("limit", "limit", shown_again, value=of("limit")),
            *both("to_spare", "still to spare", budget.still_to_spare, budget.still_to_grow, every),
            sizes.given("least", NOT_LESS, 0.0),
            Check(of="to_spare", low="least", source=of("source")),
            *(_share(name, words) for name, words in BARS.items()),
        ),
    )


def _share(name: str, words: str) -> Result:
    """What share of its whole allowance one part of a resource is, for the bars."""
    parts = [f"budget.{{row}}.{one}" for one in BARS]
    return Sizes("%", 0).result(
        f"share_{name}", f"{words}", budget.share, part=f"budget.{{row}}.{name}", parts=parts
    )


def _bars(lines: list[Resource]) -> Picture:
    """Each resource as one bar: gone, planned, still to spare."""
    series = [
        Series(words, [f"budget.{one.key}.share_{name}" for one in lines])
        for name, words in BARS.items()
    ]
    return Picture(
        title="Each allowance: what has gone, what the plan takes, what is left",
        kind="bars",
        series=series,
        lines=max(12, len(lines) + 6),
    )
