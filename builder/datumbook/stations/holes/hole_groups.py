"""The groups of holes of a spec, and every operation of them, as the rows of the hole sheets."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property
from typing import Any

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Given, Sizes, words
from datumbook.cells.handles import row_key
from datumbook.cells.tables import Prose, Row
from datumbook.numbers.quantities import Quantity
from datumbook.optimise.tool_order import ToolOrder, tool_order
from datumbook.spec.holes import Danger
from datumbook.standards import table
from datumbook.stations.decided.cuts import Cuts
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.quill_scale import QuillScale
from datumbook.workbook.placed import WHOLE

THREADED = ("start tap", "insert tap", "finish tap", "chase")
PERCENT = Sizes("%", 1, width=9.5)
RATIO = Sizes("", 2, width=9.5)


class Groups:
    """All groups of a spec, by key."""

    def __init__(self, basis: Basis, cuts: Cuts | None) -> None:
        self.basis, self.shop = basis, basis.spec.shop
        self.all = [GroupAtWork(basis.spec, spec, cuts) for spec in basis.spec.holes]
        self.by_key = {group.spec.key: group for group in self.all}
        self.scale = QuillScale(self.shop)
        self.sizes = self.sizes_by(lambda row: self.by_key[row])

    @property
    def by_unit(self) -> list[GroupAtWork]:
        """The groups, those of one unit together."""
        return sorted(self.all, key=lambda one: one.unit)

    @property
    def units(self) -> list[str]:
        """The units that groups are worked in."""
        return list(dict.fromkeys(one.unit for one in self.by_unit))

    def keys(self, those: Callable[[GroupAtWork], Any]) -> list[str]:
        """The keys of the groups of which something holds."""
        return [group.spec.key for group in self.all if those(group)]

    def rows(self, only: Iterable[str] | None = None) -> list[Row]:
        """One row a group, of all or of those in `only`, with the unit its sizes are in."""
        return [
            Row(one.spec.key, f"{one.spec.words}, {one.face_words} ({one.unit})")
            for one in self.all
            if only is None or one.spec.key in only
        ]

    def given(
        self,
        name: str,
        heading: str,
        ask: Callable[[GroupAtWork], Quantity | None],
        among: Iterable[str] | None = None,
    ) -> Given:
        """A column of sizes that the spec states, in the rows of the groups that have one, of all
        or of those in `among`.
        """
        rows = [key for key in self.keys(ask) if among is None or key in among]
        return self.sizes.given(name, heading, self.of(ask), rows=rows)

    def of(self, ask: Callable[[Any], Any]) -> Callable[[str], Any]:
        """What a group says, asked by its row."""
        return lambda row: ask(self.by_key[row])

    def sizes_by(self, group_of: Callable[[str], GroupAtWork]) -> Sizes:
        """What makes columns whose unit changes from row to row with the group."""
        return Sizes(lambda row: group_of(row).unit, lambda row: group_of(row).places, width=9.5)


class Steps:
    """Every operation of every group, as rows."""

    def __init__(self, groups: Groups) -> None:
        self.groups = groups
        self.by_row = {
            row_key(one.spec.key, row_word(name)): (one, name)
            for one in groups.all
            for name in one.spec.operations
        }
        self.drills = [*self.those("drill"), *self.those("insert drill")]
        self.threaded = [row for name in THREADED for row in self.those(name)]
        self.stated = [
            row for row, (one, name) in self.by_row.items() if one.depth(name) is not None
        ]
        self.cuts = [row for row in self.by_row if row in {*self.drills, *self.stated}]
        self.sizes = groups.sizes_by(lambda row: self.by_row[row][0])
        self.read = groups.scale.read(lambda row: self.by_row[row][0].unit)
        self.set = groups.scale.set(lambda row: self.by_row[row][0].unit)

    @cached_property
    def order(self) -> ToolOrder:
        """The order of the tools over all groups."""
        return tool_order([one.chain for one in self.groups.all], self.groups.shop.spared)

    @cached_property
    def in_turn(self) -> list[str]:
        """The rows in the order of the tools."""
        every = [
            (self.groups.all[number], place)
            for stretch in self.order.stretches
            for number, place in stretch.work
        ]
        return [row_key(one.spec.key, row_word(one.spec.operations[place])) for one, place in every]

    def apart(self, row: str) -> list[Danger]:
        """The holes of a drilling that must not break through: each is drilled last, to a stop of
        its own.
        """
        return list(self.by_row[row][0].spec.danger) if row in self.drills else []

    def goes_deep(self, *rows: str) -> bool:
        """Whether one of these operations reaches the floor of a hole: drills and taps do."""
        return any(row in (*self.drills, *self.threaded) for row in rows)

    def drilled_before(self, row: str) -> str | None:
        """The drilling before an operation at its holes; None where these are there already."""
        group, operation = self.by_row[row]
        before = group.spec.operations[: group.spec.operations.index(operation)]
        rows = (row_key(group.spec.key, row_word(name)) for name in reversed(before))
        return next((found for found in rows if found in self.drills), None)

    def together(self, row: str) -> list[str]:
        """The holes of an operation that are worked to one stop, in walking order."""
        own = {one.hole for one in self.apart(row)}
        return [hole for hole in self.by_row[row][0].walk if hole not in own]

    def those(self, operation: str) -> list[str]:
        """The rows of one operation."""
        return [row for row, (_, name) in self.by_row.items() if name == operation]

    def rows(self, those: Iterable[str]) -> list[Row]:
        """Rows with their words: the group, the place in its own order, the unit."""
        return [
            Row(
                row, f"{one.spec.words}: {one.spec.operations.index(name) + 1}. {name} ({one.unit})"
            )
            for row in those
            for one, name in [self.by_row[row]]
        ]

    def stop_rows(self) -> list[Row]:
        """The cuts, each with the holes named that its stop is not for."""
        but = {row: ", ".join(one.hole for one in self.apart(row)) for row in self.cuts}
        return [
            Row(one.key, f"{one.words}, all but {but[one.key]}" if but[one.key] else one.words)
            for one in self.rows(self.cuts)
        ]

    def scale_column(self, row_of: Callable[[str], str] = str) -> Given:
        """The unit of the scale, beside what is read off it and set on it."""

        def unit(row: str) -> str:
            return self.groups.scale.unit(self.by_row[row_of(row)][0].unit)

        return words("scale_unit", "scale in", unit, width=6)

    def of(self, ask: Callable[[Any, str], Any]) -> Callable[[str], Any]:
        """What a group says of an operation, asked by the row."""
        return lambda row: ask(*self.by_row[row])


def at_the_machine() -> Prose:
    """The cautions that belong beside the drill."""
    return Prose(
        title="At the machine",
        lines=[(line,) for line in table("cautions")["drilling"]],
        widths=(WHOLE,),
    )


def row_word(operation: str) -> str:
    """An operation as a part of cell names: spot_face, start_tap."""
    return operation.replace(" ", "_").replace("-", "_")
