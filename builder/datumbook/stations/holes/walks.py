"""Walks: one tool at one group of holes in one set-up, numbered in the order of the work; schedule
and cards count them alike.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count

from datumbook.cells.handles import row_key
from datumbook.optimise.tool_order import Stretch
from datumbook.spec.holes import Danger
from datumbook.standards import table
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.hole_groups import Groups, Steps, row_word

SEATS = {"spot-face", "counterbore", "countersink"}  # they lie under the face they are cut into


@dataclass(frozen=True, slots=True)
class Walk:
    """What is done to holes of one group before tool or set-up change: those worked to one depth,
    or after them each that must not break through by itself. `held` is the operation of the tool
    in the spindle, None where all is done by hand.
    """

    number: int
    set_up: int
    group: GroupAtWork
    operations: tuple[str, ...]
    held: str | None
    holes: tuple[str, ...]
    danger: Danger | None

    @property
    def tool_key(self) -> str:
        """What names group and tool in keys."""
        return f"{self.group.spec.key}_{row_word(self.operations[0])}"

    @property
    def key(self) -> str:
        """What names it in keys: a dangerous hole by itself too."""
        return "_".join((self.tool_key, *((self.danger.hole,) if self.danger else ())))

    @property
    def title(self) -> str:
        """Its number, and what it is."""
        alone = f" ▲ DANGER: {self.danger.hole} alone, last" if self.danger else ""
        return f"Walk {self.number}: {self.held or 'by hand'}{alone}"

    @property
    def minded(self) -> str:
        """What to mind at it, in the cautions of its operations."""
        by_hand = table("cautions")["by_operation"] | {"drill": self.group.shop.stop}
        said = [by_hand[name] for name in self.operations if name in by_hand]
        return f"Mind: {'; '.join(said)}." if said else ""

    def touch(self, operation: str) -> str:
        """Where the tool of an operation is touched: where a seat was cut first, on the face beside
        it, for every depth counts from the face.
        """
        done = self.group.spec.operations
        cut_first = SEATS & {*done[: done.index(operation)]}
        return "touch beside its seat" if cut_first else "touch"

    def row(self, operation: str) -> str:
        """The row of one of its operations."""
        return row_key(self.group.spec.key, row_word(operation))

    def first(self, *rows: str) -> str | None:
        """The first of its operations that is among some rows, as a row."""
        return next((row for row in map(self.row, self.operations) if row in rows), None)


def walks(steps: Steps) -> Iterator[Walk]:
    """Every walk, in the order of the tools."""
    face, set_up, number = "", 0, count(1)
    for stretch in steps.order.stretches:
        if stretch.face != face:
            face, set_up = stretch.face, set_up + 1
        for group, operations in done(steps.groups, stretch):
            held = next((name for name in operations if group.tool(name) == stretch.tool), None)
            for holes, danger in _parted(steps, group, operations):
                yield Walk(next(number), set_up, group, tuple(operations), held, holes, danger)


def _parted(
    steps: Steps, group: GroupAtWork, operations: list[str]
) -> Iterator[tuple[tuple[str, ...], Danger | None]]:
    """The holes worked together, then each that is drilled or tapped by itself."""
    rows = [row_key(group.spec.key, row_word(name)) for name in operations]
    alone = list(group.spec.danger) if steps.goes_deep(*rows) else []
    apart = {one.hole for one in alone}
    if together := tuple(hole for hole in group.walk if hole not in apart):
        yield together, None
    yield from (((one.hole,), one) for one in alone)


def done(groups: Groups, stretch: Stretch) -> Iterator[tuple[GroupAtWork, list[str]]]:
    """The groups of a stretch, each with the operations that are done to it."""
    for at in dict.fromkeys(of for of, _ in stretch.work):
        group = groups.all[at]
        yield group, [group.spec.operations[place] for of, place in stretch.work if of == at]
