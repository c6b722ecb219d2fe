"""Cards: one card for each cutting operation, in large print, to hang beside the spindle."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from datumbook.cells.columns import Column, Result, Sizes, words
from datumbook.cells.handles import Key, row_parts
from datumbook.cells.tables import Form, Line, Sheet
from datumbook.equations import single_holes, standings
from datumbook.spec.holes import Danger
from datumbook.standards import table
from datumbook.stations.holes.hole_groups import Steps
from datumbook.stations.holes.single_lines import OwnLines
from datumbook.stations.holes.stops import Stops
from datumbook.stations.holes.tools import Tools
from datumbook.stations.received.shown import shown_words

LARGE = 1.8
HOW_TO_SET = "Touch the face anew after every change of tool. Try the stop on the first hole."


class Cards:
    """The stop cards, in the order of the schedule, and the cards of other work behind them."""

    def __init__(
        self, steps: Steps, own: OwnLines, tools: Tools, stops: Stops, others: Sequence[Form]
    ) -> None:
        self.steps, self.own, self.tools, self.stops = steps, own, tools, stops
        self.others = others

    def sheet(self) -> Sheet:
        """The sheet of the stop cards."""
        return Sheet(
            name="Cards",
            read=True,
            title="Stop cards",
            parts=[
                *(self._card(*one, number) for number, one in enumerate(self._wanted(), start=1)),
                *self.others,
            ],
            how=HOW_TO_SET,
            scale=LARGE,
            widths={1: 52, 2: 74, 3: 14},
            stage="planned",
        )

    def _wanted(self) -> Iterator[tuple[str, Danger | None]]:
        """The operations in turn: the holes worked to one stop, then each dangerous one alone."""
        for row in (row for row in self.steps.in_turn if row in self.steps.cuts):
            if self.steps.together(row):
                yield row, None
            yield from ((row, one) for one in self.steps.apart(row))

    def _card(self, row: str, danger: Danger | None, number: int) -> Form:
        group, operation = self.steps.by_row[row]
        key = "_".join(("card", *row_parts(row)))
        title = f"{number}. {group.spec.words}: {operation}"
        if danger is not None:
            key, title = f"{key}_{danger.hole}", f"{title} {danger.hole} alone, last ▲ DANGER"
        return Form(
            key=key,
            title=title,
            lines=[Line(column=column) for column in self._columns(row, danger)],
        )

    def _columns(self, row: str, danger: Danger | None) -> Iterator[Column]:
        (group, operation), stops = self.steps.by_row[row], self.stops
        sizes = Sizes(group.unit, group.places)
        holes = self.steps.together(row) if danger is None else [danger.hole]
        yield shown_words("tool", "Tool", self.tools.tool[row])
        yield words("holes", "Holes", f"{group.face_words}: {' '.join(holes)}")
        yield Result(
            name="but",
            words="But",
            equation=single_holes.left_out_in_words,
            inputs={"lines": [self.own.line[hole] for hole in holes]},
        )
        if row in self.tools.turning:
            speed = self.tools.spindle_speed[row]
            yield _again(Sizes("1/min", 0), "spindle", "Spindle", speed)
        yield _again(sizes, "stop", "SET STOP AT", stops.stop_of(row, holes[0]))
        yield _again(sizes, "depth", "Depth from the face", stops.goes_to(row, holes[0]))
        yield _again(sizes, "face", "Scale at the face", stops.settings.face_reading[row])
        if danger is not None:
            yield words("danger", "▲ DANGER", f"over {danger.over}")
            deepest = stops.danger.deepest_tip[stops.danger.row_of(row, danger.hole)]
            yield _again(sizes, "deepest", "▲ No tip below", deepest)
        said = [group.shop.stop] if row in self.steps.drills else []
        said += [by_hand] if (by_hand := table("cautions")["by_operation"].get(operation)) else []
        if said:
            yield words("caution", "Mind", "; ".join(said))


def _again(sizes: Sizes, name: str, heading: str, value: Key) -> Result:
    """A cell of another sheet, shown again."""
    return sizes.result(name, heading, standings.shown_again, value=value)
