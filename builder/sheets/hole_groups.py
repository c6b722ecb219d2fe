"""A group of holes with its thread and drill found in the tables, and what every hole sheet needs of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from typing import Any

from builder.layout import WHOLE, Layout
from builder.quantities import Quantity
from builder.spec_model import HoleGroup
from builder.standards import table
from builder.standards.drill_choice import drills_inside
from builder.standards.drills import Drill, drills_for, parse_drill
from builder.standards.threads import Thread, parse_thread
from builder.table import Prose, Row, Sizes


class Group:
    """One group of holes. The thread's own system is the unit the whole group is worked in."""

    def __init__(self, layout: Layout, spec: HoleGroup) -> None:
        self.spec = spec
        self.thread: Thread = parse_thread(spec.thread)
        self.before: Thread | None = parse_thread(spec.opened_from) if spec.opened_from else None
        self.material = layout.spec.engine.material
        self.unit = self.thread.unit
        self.places = 4 if self.unit == "in" else 3

    @property
    def drill(self) -> Drill | None:
        """The spec's drill, else the best inside the limits in the thread's own system; None where none is drilled."""
        if "drill" not in self.spec.operations:
            return None
        if self.spec.drill:
            return parse_drill(self.spec.drill)
        systems = ("metric",) if self.unit == "mm" else ("fraction", "number", "letter")
        fit = drills_inside(self.thread, systems) or drills_inside(self.thread) or drills_for(self.thread)
        return fit[0].drill

    def size(self, operation: str) -> Quantity | None:
        """The diameter an operation cuts; None for one that is done by hand."""
        if operation == "drill" and self.drill is not None:
            return quantity(self.drill.diameter, self.drill.unit)
        if operation == "counterbore" and self.spec.counterbore is not None:
            return self.spec.counterbore.diameter
        return None


class Groups:
    """All groups of a spec, by key."""

    def __init__(self, layout: Layout) -> None:
        self.all = [Group(layout, spec) for spec in layout.spec.holes]
        self.by_key = {group.spec.key: group for group in self.all}
        self.sizes = self.sizes_by(lambda row: self.by_key[row])

    def keys(self, those: Callable[[Group], Any]) -> list[str]:
        """The keys of the groups of which something holds."""
        return [group.spec.key for group in self.all if those(group)]

    def rows(self) -> list[Row]:
        """One row a group, with the unit its sizes are in."""
        return [Row(one.spec.key, f"{one.spec.words}, {one.spec.face} face ({one.unit})") for one in self.all]

    def of(self, ask: Callable[[Any], Any]) -> Callable[[str], Any]:
        """What a group says, asked by its row."""
        return lambda row: ask(self.by_key[row])

    def sizes_by(self, group_of: Callable[[str], Group]) -> Sizes:
        """What makes columns whose unit changes from row to row with the group."""
        return Sizes(lambda row: group_of(row).unit, lambda row: group_of(row).places, width=9.5)


class Steps:
    """Every operation of every group, as rows."""

    def __init__(self, groups: Groups) -> None:
        self.by_row = {
            f"{one.spec.key}.{name.replace(' ', '_')}": (one, name) for one in groups.all for name in one.spec.operations
        }
        self.drills = self.those("drill")
        self.counterbores = self.those("counterbore")
        self.cuts = [row for row in self.by_row if row in {*self.drills, *self.counterbores}]
        self.sizes = groups.sizes_by(lambda row: self.by_row[row][0])

    def those(self, operation: str) -> list[str]:
        """The rows of one operation."""
        return [row for row, (_, name) in self.by_row.items() if name == operation]

    def rows(self, those: Iterable[str]) -> list[Row]:
        """Rows with their words: the group, the place in its order, the unit."""
        return [
            Row(row, f"{one.spec.words}: {one.spec.operations.index(name) + 1}. {name} ({one.unit})")
            for row in those
            for one, name in [self.by_row[row]]
        ]

    def of(self, ask: Callable[[Any, str], Any]) -> Callable[[str], Any]:
        """What a group says of an operation, asked by the row."""
        return lambda row: ask(*self.by_row[row])


def quantity(number: Fraction | None, unit: str) -> Quantity:
    """A size of the tables as a quantity."""
    assert number is not None
    return Quantity(number, unit, 0, f"{number} {unit}")


def at_the_machine() -> Prose:
    """The cautions that belong beside the drill."""
    return Prose(title="At the machine", lines=[(line,) for line in table("cautions")["drilling"]], widths=(WHOLE,))
