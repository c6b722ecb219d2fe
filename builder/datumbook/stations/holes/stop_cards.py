"""Cards: one card for each cutting operation, in large print, to hang beside the spindle."""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Column, Result, Sizes, words
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Line, Sheet
from datumbook.equations import standings
from datumbook.standards import table
from datumbook.stations.holes.hole_groups import Group, Steps
from datumbook.stations.holes.stops import Stops
from datumbook.stations.holes.tools import Tools

LARGE = 1.8
HOW = "Touch the face anew after every change of tool. Try the stop on the first hole."


class Cards:
    """The stop cards, in the order of the schedule."""

    def __init__(self, steps: Steps, tools: Tools, stops: Stops) -> None:
        self.steps, self.tools, self.stops = steps, tools, stops

    def sheet(self) -> Sheet:
        """The sheet of the stop cards."""
        rows = [row for row in self.steps.in_turn if row in self.steps.cuts]
        return Sheet(
            name="Cards",
            title="Stop cards",
            parts=[self._card(row, number) for number, row in enumerate(rows, start=1)],
            how=HOW,
            scale=LARGE,
            widths={1: 52, 2: 74, 3: 14},
            stage="planned",
        )

    def _card(self, row: str, number: int) -> Form:
        group, operation = self.steps.by_row[row]
        return Form(
            key=f"card_{row.replace('.', '_')}",
            title=f"{number}. {group.spec.words}: {operation}",
            lines=[Line(column=column) for column in self._columns(row, group, operation)],
            own_page=number > 1,
        )

    def _columns(self, row: str, group: Group, operation: str) -> Iterator[Column]:
        sizes, settings, danger = (
            Sizes(group.unit, group.places),
            self.stops.settings,
            self.stops.danger,
        )
        yield words("tool", "Tool", group.tool(operation))
        yield words("holes", "Holes", f"{group.face_words}: {' '.join(group.walk)}")
        if row in self.tools.turning:
            speed = self.tools.operations.spindle_speed[row]
            yield _again(Sizes("1/min", 0), "spindle", "Spindle", speed)
        yield _again(sizes, "stop", "SET STOP AT", settings.stop_reading[row])
        yield _again(sizes, "depth", "Depth from the face", self.stops.goes_to(row))
        yield _again(sizes, "face", "Scale at the face", settings.face_reading[row])
        for hole, over in ((one.hole, one.over) for one in group.spec.danger):
            if danger is None or operation != "drill":
                continue
            yield words(f"danger_{hole}", f"▲ DANGER {hole}, last", f"over {over}")
            deepest, never = danger.deepest_tip[hole], danger.stop_reading[hole]
            yield _again(sizes, f"deepest_{hole}", f"▲ {hole}: no tip below", deepest)
            yield _again(sizes, f"never_{hole}", f"▲ {hole}: stop never beyond", never)
        said = [group.shop.stop] if operation == "drill" else []
        said += [by_hand] if (by_hand := table("cautions")["by_operation"].get(operation)) else []
        if said:
            yield words("caution", "Mind", "; ".join(said))


def _again(sizes: Sizes, name: str, heading: str, value: Key) -> Result:
    """A cell of another sheet, shown again."""
    return sizes.result(name, heading, standings.shown_again, value=value)
