"""Walks: one tool at one group of holes in one set-up, numbered in the order of the work; schedule
and cards count them alike.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count

from datumbook.cells.handles import row_key
from datumbook.optimise.tool_order import Stretch
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.hole_groups import Groups, Steps, row_word


@dataclass(frozen=True, slots=True)
class Walk:
    """What is done to the holes of one group before tool or set-up change: `held` is the operation
    of the tool in the spindle, None where all is done by hand.
    """

    number: int
    set_up: int
    group: GroupAtWork
    operations: tuple[str, ...]
    held: str | None

    @property
    def key(self) -> str:
        """What names it in keys."""
        return f"{self.group.spec.key}_{row_word(self.operations[0])}"

    @property
    def title(self) -> str:
        """Its number, and what it is."""
        return f"Walk {self.number}: {self.held or 'by hand'}"

    def row(self, operation: str) -> str:
        """The row of one of its operations."""
        return row_key(self.group.spec.key, row_word(operation))


def walks(steps: Steps) -> Iterator[Walk]:
    """Every walk, in the order of the tools."""
    face, set_up, number = "", 0, count(1)
    for stretch in steps.order.stretches:
        if stretch.face != face:
            face, set_up = stretch.face, set_up + 1
        for group, operations in done(steps.groups, stretch):
            held = next((name for name in operations if group.tool(name) == stretch.tool), None)
            yield Walk(next(number), set_up, group, tuple(operations), held)


def done(groups: Groups, stretch: Stretch) -> Iterator[tuple[GroupAtWork, list[str]]]:
    """The groups of a stretch, each with the operations that are done to it."""
    for at in dict.fromkeys(of for of, _ in stretch.work):
        group = groups.all[at]
        yield group, [group.spec.operations[place] for of, place in stretch.work if of == at]
