"""Cards: one card for each cutting operation, in large print, to hang beside the spindle."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from datumbook.cells.columns import Column, Result, words
from datumbook.cells.tables import Form, Line, Sheet
from datumbook.equations import standings
from datumbook.standards import table
from datumbook.stations.holes.hole_groups import Group, Groups, Steps
from datumbook.stations.holes.schedule import order_of, rows_of
from datumbook.workbook.layout import Layout

LARGE = 1.8
HOW = "Touch the face anew after every change of tool. Try the stop on the first hole."


def sheet(layout: Layout) -> Sheet:
    """The sheet of the stop cards, in the order of the schedule."""
    groups = Groups(layout)
    steps = Steps(groups)
    rows = [row for row in rows_of(groups, order_of(groups)) if row in steps.cuts]
    parts = [_card(layout, steps, row, number) for number, row in enumerate(rows, start=1)]
    return Sheet(
        name="Cards",
        title="Stop cards",
        parts=parts,
        how=HOW,
        scale=LARGE,
        widths={1: 52, 2: 74, 3: 14},
        stage="planned",
    )


def _card(layout: Layout, steps: Steps, row: str, number: int) -> Form:
    group, operation = steps.by_row[row]
    return Form(
        key=f"card_{row.replace('.', '_')}",
        title=f"{number}. {group.spec.words}: {operation}",
        lines=[Line(column=column) for column in _columns(layout, steps, row, group, operation)],
        own_page=number > 1,
    )


def _columns(
    layout: Layout, steps: Steps, row: str, group: Group, operation: str
) -> Iterator[Column]:
    size: dict[str, Any] = {"unit": group.unit, "decimals": group.places}
    deepest = "tip_depth" if row in steps.drills else "depth"

    def again(name: str, heading: str, key: str, **shape: Any) -> Result:
        return Result(
            name=name,
            words=heading,
            equation=standings.shown_again,
            inputs={"value": key},
            **(shape or size),
        )

    yield words("tool", "Tool", group.tool(operation))
    yield words("holes", "Holes", f"{group.face_words}: {' '.join(group.walk)}")
    if f"schedule.{row}.spindle_speed" in layout.places:
        yield again("spindle", "Spindle", f"schedule.{row}.spindle_speed", unit="1/min", decimals=0)
    yield again("stop", "SET STOP AT", f"stops.{row}.stop_reading")
    yield again("depth", "Depth from the face", f"stops.{row}.{deepest}")
    yield again("face", "Scale at the face", f"stops.{row}.face_reading")
    if operation == "drill":
        for danger in group.spec.danger:
            yield words(
                f"danger_{danger.hole}", f"▲ DANGER {danger.hole}, last", f"over {danger.over}"
            )
            yield again(
                f"deepest_{danger.hole}",
                f"▲ {danger.hole}: no tip below",
                f"danger.{danger.hole}.deepest_tip",
            )
            yield again(
                f"never_{danger.hole}",
                f"▲ {danger.hole}: stop never beyond",
                f"danger.{danger.hole}.stop_reading",
            )
    said = [layout.spec.shop.stop] if operation == "drill" else []
    said += [by_hand] if (by_hand := table("cautions")["by_operation"].get(operation)) else []
    if said:
        yield words("caution", "Mind", "; ".join(said))
