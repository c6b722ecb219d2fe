"""Openings: what each group of holes is opened to, typed at the bench, and the threads and drills
it is chosen from.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from datumbook.cells.columns import Check, Column, Input, Per, Reading, Result, Sizes, typed_words
from datumbook.cells.handles import Handle, Key
from datumbook.cells.tables import Sheet, Table
from datumbook.equations import openings
from datumbook.stations.holes.choices import Options, OptionTools, Stand
from datumbook.stations.holes.group_tables import GroupTable, picked_words, stated
from datumbook.stations.holes.hole_groups import Groups

HOW_TO_OPEN = (
    "Blank: as drawn. A hole whose thread is gone is opened to the next size; what is typed here "
    "is followed through drill, depth, stop, wall, thread engaged and clamp on every sheet. Agree "
    "it with whoever owns the block before a drill touches it: metal does not come back."
)


class Openings(GroupTable):
    """What each group is opened to: typed, blank where the drawing stands."""

    opened_to: Column
    typed_drill: Column
    relief_diameter: Column
    relief_depth: Column
    decided_by: Column
    option: Column
    drill_place: Column

    def __init__(self, groups: Groups) -> None:
        self.single: Sequence[Table] = ()  # the lines of single holes, which read what stands here
        self.groups, self.options, self.stand = groups, Options(groups), Stand(groups)
        self.tools = OptionTools(self.options)
        of, drilled = groups.of, groups.keys(lambda one: one.drill)
        relieved = groups.keys(lambda one: one.spec.counterbore)
        place = openings.place_among
        super().__init__(
            groups,
            key="opened",
            title="What each group is opened to",
            note="A group that is not drilled on this job stays as drawn.",
            columns=(
                typed_words(
                    "opened_to",
                    "opened to",
                    "One of the choices below; blank for as drawn.",
                    choices=of(lambda one: tuple(each.words for each in one.offered)),
                ),
                *stated(
                    typed_words(
                        "typed_drill",
                        "drill",
                        "One of the drills below; blank for the best.",
                        choices=lambda row: tuple(dict.fromkeys(self.drills_of(row))),
                        rows=drilled,
                    ),
                    self._relief("relief_diameter", "relief diameter", relieved),
                    self._relief("relief_depth", "relief depth", relieved),
                ),
                typed_words("decided_by", "decided by", "Initials of who decided it."),
                *self._signed(),
                Sizes("", 0).result(
                    "option",
                    "choice",
                    place,
                    typed=lambda row: self.opened_to[row],
                    usual=lambda row: self.options.option[row, 1],
                    choices=lambda row: self.rows_of(self.options.option, row, offered=True),
                ),
                *stated(
                    picked_words(
                        "best_drill", "its best drill", self.said(self.options, "drill"), drilled
                    ),
                    Sizes("", 0).result(
                        "drill_place",
                        "drill, which below",
                        place,
                        drilled,
                        typed=lambda row: self.typed_drill[row],
                        usual=lambda row: self.column("best_drill")[row],
                        choices=lambda row: self.drill_rows(self.stand.drill, row),
                    ),
                ),
            ),
        )

    def _signed(self) -> Iterator[Column | Check]:
        """That somebody stands for what is not as drawn."""
        signed = Result(
            name="signed",
            words="signed",
            equation=openings.decided_by_whom,
            inputs={
                "decided": lambda row: self.opened_to[row],
                "by": lambda row: self.decided_by[row],
            },
        )
        yield from (signed, Check(of=signed, judged=True, source="whoever decided it signs"))

    def _place(self, row: str) -> Key:
        return self.option[row]

    def _relief(self, name: str, heading: str, rows: list[str]) -> Reading:
        """A size of the relief that is typed, blank where it is as drawn or grows with the
        thread.
        """
        at = self.groups.by_key

        def possible(row: str) -> tuple[float, float]:
            return 0.0, 4 * at[row].widest.to(at[row].unit)

        return self.groups.sizes.reading(
            name,
            heading,
            how="Blank: as drawn, or grown with the thread.",
            wanted=False,
            rows=rows,
            possible=possible,
        )

    def rows_of(self, column: Handle, row: str, offered: bool = False) -> list[Key]:
        """The cells of a column of the options of a group, of all or of those it is offered."""
        group = self.groups.by_key[row]
        several = group.offered if offered else group.options
        return [column[row, place] for place in range(1, len(several) + 1)]

    def drill_rows(self, column: Handle, row: str) -> list[Key]:
        """The cells of a column of the drills of a group."""
        return [column[one] for one, (at, *_) in self.stand.by_row.items() if at.spec.key == row]

    def drills_of(self, row: str) -> list[str]:
        """The drills of a group, in words."""
        return [one.drill.name for at, _, one in self.stand.by_row.values() if at.spec.key == row]

    def picked(self, name: str) -> dict[str, Per[Input]]:
        """What `value_at` asks: a figure, by its name, of what the group of a row is opened to."""
        return {
            "place": self._place,
            "values": lambda row: self.rows_of(self.options.column(name), row, offered=True),
        }

    def said(
        self, table: Table, name: str, group_of: Callable[[str], str] = str
    ) -> dict[str, Per[Input]]:
        """What `words_at` asks: words, by their name, of what the group of a row is opened to."""
        return {
            "place": lambda row: self.option[group_of(row)],
            "lines": lambda row: self.rows_of(table.column(name), group_of(row), offered=True),
        }

    def of_drill(
        self, name: str, column: Handle, group_of: Callable[[str], str] = str
    ) -> dict[str, Per[Input]]:
        """What `value_at` or `words_at` asks: a figure of the drill of a row's group."""
        return {
            "place": lambda row: self.drill_place[group_of(row)],
            name: lambda row: self.drill_rows(column, group_of(row)),
        }

    def sheet(self) -> Sheet:
        """The sheet on which it is decided what holes are opened to."""
        return Sheet(
            name="Opened",
            read=True,
            title="What holes are opened to",
            parts=(self, *self.single),
            below=(self.options, self.tools, self.stand),
            how=HOW_TO_OPEN,
            widths={1: 30},
            stage="planned",
        )
