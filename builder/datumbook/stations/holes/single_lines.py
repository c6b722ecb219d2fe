"""Single lines: one hole decided by itself, typed at the bench; and which holes are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from datumbook.cells.columns import (
    Check,
    Column,
    Input,
    Per,
    Reading,
    Result,
    Sizes,
    typed_words,
    words,
)
from datumbook.cells.handles import Key
from datumbook.cells.tables import Row, Table
from datumbook.equations import openings, single_holes
from datumbook.stations.holes.choices import Options, Stand
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.group_tables import picked_words, stated
from datumbook.stations.holes.hole_groups import Groups
from datumbook.stations.holes.openings import Openings
from datumbook.stations.holes.quill_scale import IN_KEYS
from datumbook.stations.holes.reliefs import Reliefs
from datumbook.stations.holes.threads import ThreadHoles

LINES = ("1", "2", "3", "4")
MOST_LETTERS = 250  # that a list of choices may have in a workbook


class SingleLines(Table):
    """What one hole is opened to by itself, in the unit of the groups it may be like."""

    hole: Column
    like: Column
    opened_to: Column
    typed_drill: Column
    relief_diameter: Column
    relief_depth: Column
    decided_by: Column
    group: Column
    option: Column
    drill_row: Column

    def __init__(self, groups: Groups, opened: Openings, unit: str) -> None:
        self.unit, self.alike = unit, [one for one in groups.by_unit if one.unit == unit]
        self.places = self.alike[0].places
        self.options, self.stand = opened.options, opened.stand
        sizes = Sizes(unit, self.places, width=9.5)
        super().__init__(
            key=f"single_{IN_KEYS[unit]}",
            title=f"One hole by itself ({unit})",
            heading="Line",
            turned=True,
            note="A hole that is not done as its group is: its name, or a new name for one nobody "
            "foresaw, and the group it is like; floor, walls, thread depth and relief are that "
            "group's: probe first under a hole that is on no drawing. Its "
            "tool, depth and stop stand on the Holes sheet alone.",
            rows=[Row(line, f"line {line}") for line in LINES],
            columns=(
                typed_words("hole", "hole", "Its name; blank for an unused line."),
                self._typed("like", "like the group", [one.spec.words for one in self.alike]),
                self._typed(
                    "opened_to",
                    "opened to",
                    [option.words for one in self.alike for option in one.options],
                ),
                self._typed(
                    "typed_drill",
                    "drill",
                    [name for one in self.alike for name in opened.drills_of(one.spec.key)],
                ),
                *(
                    sizes.reading(
                        name,
                        heading,
                        how="Blank: as its group's, grown with the thread.",
                        wanted=False,
                        possible=(0.0, 4 * max(one.widest.to(unit) for one in self.alike)),
                    )
                    for name, heading in (
                        ("relief_diameter", "relief diameter"),
                        ("relief_depth", "relief depth"),
                    )
                ),
                typed_words("decided_by", "decided by", "Initials of who decided it."),
                *self._signed(),
                *self._places(),
            ),
        )

    def _signed(self) -> Iterator[Column | Check]:
        """That somebody stands for what is not as drawn."""
        signed = Result(
            name="signed",
            words="signed",
            equation=openings.decided_by_whom,
            inputs={"decided": lambda row: self.hole[row], "by": lambda row: self.decided_by[row]},
        )
        yield from (signed, Check(of=signed, judged=True, source="whoever decided it signs"))

    def _typed(self, name: str, heading: str, choices: Iterable[str]) -> Reading:
        """A choice, offered as a list as far as a workbook can hold one."""
        offered = tuple(dict.fromkeys(choices))
        short = len(",".join(offered)) <= MOST_LETTERS
        return typed_words(
            name, heading, "One of the choices; blank as usual.", choices=offered if short else ()
        )

    def _places(self) -> tuple[Column, ...]:
        """Where what is typed stands among groups, options and drills."""
        count, options, stand = Sizes("", 0), self.options, self.stand
        usual = options.option[self.rows_of(options)[0]]
        return (
            count.result(
                "group",
                "its group, which",
                openings.place_among,
                typed=self.typed("like"),
                usual=self.typed("like"),
                choices=[options.group[self._first(one)] for one in self.alike],
            ),
            count.result(
                "option_matched",
                "choice, which",
                single_holes.line_among,
                typed=self.typed("opened_to"),
                usual=usual,
                pairs=self._pairs(options, "option"),
            ),
            count.result(
                "option",
                "choice found",
                single_holes.line_found,
                matched=lambda row: self.column("option_matched")[row],
            ),
            picked_words(
                "best_drill",
                "its best drill",
                {"place": self.typed("option"), "lines": self.all_of(options, "drill")},
            ),
            count.result(
                "drill_matched",
                "drill, which",
                single_holes.line_among,
                typed=self.typed("typed_drill"),
                usual=self.typed("best_drill"),
                pairs=self._pairs(stand, "drill"),
            ),
            count.result(
                "drill_row",
                "drill found",
                single_holes.line_found,
                matched=lambda row: self.column("drill_matched")[row],
            ),
        )

    def typed(self, name: str) -> Per[Input]:
        """A column of the line itself."""
        return lambda row: self.column(name)[row]

    def _first(self, group: GroupAtWork) -> str:
        return next(row for row, (at, _) in self.options.by_row.items() if at is group)

    def rows_of(self, table: Options | Stand) -> list[str]:
        """The rows of a table that are of this unit; they stand together."""
        return [row for row, (at, *_) in table.by_row.items() if at.unit == self.unit]

    def all_of(self, table: Options | Stand, name: str) -> list[Key]:
        """The cells of a column in these rows."""
        return [table.column(name)[row] for row in self.rows_of(table)]

    def _pairs(self, table: Options | Stand, name: str) -> list[Key]:
        """Group and choice of each of these rows by turns."""
        both = zip(self.all_of(table, "group"), self.all_of(table, name), strict=True)
        return [key for pair in both for key in pair]


class OwnLines(Table):
    """Every hole: the line that decides it by itself, if one does, and its thread by that."""

    line: Column
    thread: Column
    least_depth: Column
    most_depth: Column

    def __init__(
        self, groups: Groups, lines: list[SingleLines], threads: ThreadHoles, reliefs: Reliefs
    ) -> None:
        group_of = {name: one for one in groups.all for name in one.spec.names}
        self.works: list[Table] = []  # handed over once they are declared, with their depths
        self.depths: list[Table] = []
        asked = [one.hole[line] for one in lines for line in LINES]
        relieved = [name for name, one in group_of.items() if one.spec.counterbore]
        sizes = groups.sizes_by(group_of.__getitem__)
        own = single_holes.own_or_shared

        def depth(name: str) -> Result:
            return sizes.result(
                f"{name}_depth",
                f"relief, {name}",
                own,
                relieved,
                line=self.of("line"),
                shared=lambda row: reliefs.column(f"{name}_depth")[group_of[row].spec.key],
                own=lambda _: self._worked(f"{name}_depth"),
            )

        super().__init__(
            key="own_lines",
            title="Every hole: which line decides it, and its thread",
            heading="Hole",
            note="Blank: as its group.",
            rows=[Row(name, f"Hole {name}") for name in group_of],
            columns=(
                words("name", "name", str, width=9.5),
                Sizes("", 0).result(
                    "line",
                    "line, of all",
                    openings.place_among,
                    typed=self.of("name"),
                    usual=self.of("name"),
                    choices=asked,
                ),
                Result(
                    name="thread",
                    words="thread",
                    equation=single_holes.own_or_shared_words,
                    inputs={
                        "line": self.of("line"),
                        "shared": lambda row: threads.thread[group_of[row].spec.key],
                        "own": lambda _: self._worked("thread"),
                    },
                    width=15,
                ),
                *stated(depth("least"), depth("most")),
            ),
        )

    @property
    def names_of_holes(self) -> list[Key]:
        """The cells with the names of all holes of the drawing."""
        return [self.column("name")[row.key] for row in self.rows]

    def of(self, name: str) -> Per[Input]:
        """A column of the hole itself."""
        return lambda row: self.column(name)[row]

    @property
    def drill_points(self) -> list[Key]:
        """The points of the drills of all lines, in their order."""
        return [depths.column("drill_point")[line] for depths in self.depths for line in LINES]

    def _worked(self, name: str) -> list[Key]:
        """The cells of a column of all lines, in their order."""
        return [work.column(name)[line] for work in self.works for line in LINES]
