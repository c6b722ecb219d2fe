"""Choices: the threads that holes can be opened to, the tools that go by them, and the drills that
suit them.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from datumbook.cells.columns import Column, Equation, Given, Result, Sizes, words
from datumbook.cells.handles import row_key
from datumbook.cells.tables import Row, Table
from datumbook.equations import openings, thread_forms, threads
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.standards.cutting import feed
from datumbook.standards.drill_choice import oversize_in_words
from datumbook.standards.drills import Choice, Drill
from datumbook.stations.holes.group import GroupAtWork, quantity
from datumbook.stations.holes.group_tables import stated
from datumbook.stations.holes.hole_groups import PERCENT, Groups, row_word
from datumbook.stations.holes.options import TAPPED, Option, clearance_of, drill_words

SMALLEST_MINOR: dict[str, Equation] = {
    "2B": threads.smallest_minor_2b,
    "6H": threads.smallest_minor_6h,
}
LARGEST: dict[str, Equation] = {
    "2B": threads.largest_minor_2b,
    "6H": threads.largest_minor_6h,
    "ISO 228-1": thread_forms.largest_pipe_minor,
    "BS 93": thread_forms.largest_association_minor,
}
RANKED = 2  # drills inside its limits that are offered for each thread


class Options(Table):
    """The threads each group can be opened to: as drawn, then the next larger of its family that
    leave metal in boss and stated walls.
    """

    group: Column
    option: Column
    thread: Column
    major: Column
    pitch: Column
    drill: Column

    def __init__(self, groups: Groups) -> None:
        self.by_row = {
            row_key(group.spec.key, place): (group, option)
            for group in groups.by_unit
            for place, option in enumerate(group.options, start=1)
        }
        said, sizes = self.of, groups.sizes_by(lambda row: self.by_row[row][0])
        relieved = [row for row, (group, _) in self.by_row.items() if group.spec.counterbore]
        super().__init__(
            key="options",
            title="What the holes can be opened to",
            heading="Group and choice",
            note="The next larger sizes of the family for which the boss leaves the least wall and "
            "a stated wall some metal; walls, edges and thread engaged are judged below.",
            rows=[
                Row(row, f"{group.spec.words}: {option.words} ({group.unit})")
                for row, (group, option) in self.by_row.items()
            ],
            columns=(
                words("group", "group", said(lambda at, _: at.spec.words), width=18),
                words("option", "opened to", said(lambda _, one: one.words), width=15),
                words("thread", "thread", said(lambda _, one: one.thread.designation), width=15),
                sizes.given(
                    "major",
                    "major diameter",
                    said(lambda at, one: quantity(one.thread.major, at.unit)),
                ),
                sizes.given(
                    "pitch", "pitch", said(lambda at, one: quantity(one.thread.pitch, at.unit))
                ),
                *stated(
                    sizes.given(
                        "minor_tolerance",
                        "minor tolerance",
                        said(lambda at, one: quantity(one.thread.minor_tolerance, at.unit)),
                        rows=self.those(lambda one: one.thread.minor_tolerance is not None),
                    ),
                    sizes.result(
                        "minor_tolerance",
                        "minor tolerance",
                        threads.minor_tolerance_2b,
                        self.those(lambda one: one.thread.limit_class == "2B"),
                    ),
                    sizes.given(
                        "minor",
                        "basic minor",
                        said(lambda _, one: read_quantity(f"{one.thread.minor_mm:.9f} mm")),
                        rows=self.those(lambda one: not one.thread.form.charted),
                    ),
                    sizes.given(
                        "engagement",
                        "limits tolerated for",
                        said(lambda _, one: read_quantity(f"{one.thread.engagement_mm:.9f} mm")),
                        rows=self.those(lambda one: one.thread.limit_class == "2B"),
                    ),
                    sizes.given(
                        "clearance_hole",
                        "close clearance hole",
                        said(lambda _, one: clearance_of(one.thread)),
                        rows=self.those(lambda one: clearance_of(one.thread)),
                    ),
                    *self._reliefs(sizes, relieved),
                ),
                *stated(*self._limits(sizes)),
                words(
                    "drill",
                    "drill",
                    said(lambda _, one: one.drill.name if one.drill else ""),
                    width=12,
                ),
                words(
                    "charts",
                    "charts name",
                    said(lambda _, one: one.charted.drill.name if one.charted else "none"),
                    width=12,
                ),
            ),
        )

    def of(self, ask: Callable[[GroupAtWork, Option], Any]) -> Callable[[str], Any]:
        """What is known of an option, asked by its row."""
        return lambda row: ask(*self.by_row[row])

    def those(self, ask: Callable[[Option], Any]) -> list[str]:
        """The rows of the options of which something holds."""
        return [row for row, (_, option) in self.by_row.items() if ask(option)]

    def _limits(self, sizes: Sizes) -> list[Column]:
        """The limits of the hole by the class of each thread, where one is known."""
        found: list[Column] = []
        for known, equations in (("least_hole", SMALLEST_MINOR), ("largest_hole", LARGEST)):
            heading = known.replace("_", " ")
            for name, equation in equations.items():
                rows = [
                    row for row, (_, one) in self.by_row.items() if one.thread.limit_class == name
                ]
                found.append(sizes.result(known, heading, equation, rows))
        tabled = self.those(lambda one: one.thread.limit_class in LARGEST.keys() - SMALLEST_MINOR)
        minor = self.of(lambda _, one: read_quantity(f"{one.thread.minor_mm:.9f} mm"))
        return [*found, sizes.given("least_hole", "least hole", minor, rows=tabled)]

    def _reliefs(self, sizes: Sizes, rows: list[str]) -> tuple[Result, ...]:
        """The relief over each thread, grown with it."""
        drawn = self.of(lambda at, _: at.options[0].thread)
        relief = self.of(lambda at, _: at.spec.counterbore)
        unit = self.of(lambda at, _: at.unit)
        return (
            sizes.result(
                "relief_diameter",
                "relief diameter",
                openings.relief_opened,
                rows,
                relief=lambda row: relief(row).diameter,
                drawn_major=lambda row: quantity(drawn(row).major, unit(row)),
            ),
            sizes.result(
                "relief_depth",
                "relief depth",
                openings.relief_deepened,
                rows,
                depth=lambda row: relief(row).depth,
                drawn_pitch=lambda row: quantity(drawn(row).pitch, unit(row)),
            ),
        )


class OptionTools(Table):
    """The tools of each option that go by the thread, in words."""

    def __init__(self, options: Options) -> None:
        every = {name for group, _ in options.by_row.values() for name in group.spec.operations}
        wanted = {
            name: [row for row, (at, _) in options.by_row.items() if name in at.spec.operations]
            for name in (*TAPPED, "counterbore")
            if name in every
        }
        rows = {row for those in wanted.values() for row in those}
        super().__init__(
            key="option_tools",
            title="Their tools",
            heading="Group and choice",
            rows=[row for row in options.rows if row.key in rows],
            columns=[self._tools(options, name, those) for name, those in wanted.items()],
        )

    def _tools(self, options: Options, name: str, rows: list[str]) -> Given:
        """The tool of one operation for each option."""
        tool = options.of(lambda group, option: group.tool(name, option))
        return words(row_word(name), name, tool, rows=rows, width=30)


class Stand(Table):
    """The drills of the shop that suit an option of each group, with what they leave of it."""

    group: Column
    drill: Column
    tool: Column
    diameter: Column
    oversize: Column
    feed: Column

    def __init__(self, groups: Groups) -> None:
        self.by_row: dict[str, tuple[GroupAtWork, Option, Choice]] = {
            row_key(group.spec.key, place): (group, *one)
            for group in groups.by_unit
            for place, one in enumerate(_offered(group), start=1)
        }
        sizes = groups.sizes_by(lambda row: self.by_row[row][0])
        made = [one for *_, one in self.by_row.values()]
        charted = [row for row, (_, one, _) in self.by_row.items() if one.thread.form.charted]
        super().__init__(
            key="drills",
            title="Drills of the shop, the best for each choice first",
            heading="Group and choice",
            note=f"Series owned: {', '.join(groups.shop.drills)}. The nearest to the share of "
            "thread asked for, by the hole it probably makes, inside the limits where these are "
            "known; of two as near, that whose largest hole is inside too. Cut over its size: "
            f"{oversize_in_words(made)}.",
            rows=[
                Row(row, f"{group.spec.words}: {option.words} ({group.unit})")
                for row, (group, option, _) in self.by_row.items()
            ],
            columns=(
                words("group", "group", lambda row: self.by_row[row][0].spec.words, width=18),
                words("drill", "drill", lambda row: self._drill(row).name, width=12),
                words("tool", "tool", lambda row: drill_words(self._drill(row)), width=15),
                sizes.given("diameter", "its size", self._diameter),
                sizes.given("oversize", "cuts over it", self._oversize),
                *stated(
                    PERCENT.given(
                        "charts",
                        "thread by drill charts",
                        lambda row: 100 * self.by_row[row][2].drill_chart_thread,
                        rows=charted,
                    )
                ),
                PERCENT.given(
                    "basic",
                    "of the basic depth",
                    lambda row: 100 * self.by_row[row][2].basic_profile_thread,
                ),
                words("feed", "feed a turn", self._feed, width=13),
            ),
        )

    def _drill(self, row: str) -> Drill:
        return self.by_row[row][2].drill

    def _diameter(self, row: str) -> Quantity:
        return quantity(self._drill(row).diameter, self._drill(row).unit)

    def _oversize(self, row: str) -> Quantity:
        return read_quantity(f"{self.by_row[row][2].oversize_mm:.9f} mm")

    def _feed(self, row: str) -> str:
        """The range of feed of a drill, in words; nothing where the table holds none."""
        group, _, one = self.by_row[row]
        try:
            return feed("drill", group.material, one.drill.diameter_mm).words_in(one.drill.unit)
        except LookupError:
            return ""


def _offered(group: GroupAtWork) -> list[tuple[Option, Choice]]:
    """The drills for each option: its own first, then the next best; each once in a group."""
    found: dict[str, tuple[Option, Choice]] = {}
    for option in group.options:
        own = [group.made_by(option.drill, option.thread)] if option.drill else []
        fit = group.inside_first(option.thread)
        several = {one.drill.name: one for one in (*own, *fit)}
        for one in list(several.values())[: RANKED + 1]:
            found.setdefault(one.drill.name, (option, one))
    return list(found.values())
