"""A group of holes with its thread and drill found in the tables, and what every hole sheet needs
of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from functools import cached_property
from typing import Any

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Sizes
from datumbook.cells.handles import Key
from datumbook.cells.tables import Prose, Row
from datumbook.equations import cutting
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.numbers.units import convert
from datumbook.optimise.tool_order import BY_HAND, Chain, ToolOrder, tool_order
from datumbook.optimise.walking_order import walking_order
from datumbook.spec import Bank, Spec
from datumbook.spec.holes import Danger, HoleGroup
from datumbook.standards import hole_allowances, table
from datumbook.standards.drill_choice import drills_inside
from datumbook.standards.drills import Choice, Drill, drills_for, parse_drill
from datumbook.standards.threads import Thread, parse_thread
from datumbook.stations.decided.cuts import Cuts
from datumbook.workbook.layout import WHOLE

PERCENT = Sizes("%", 1, width=9.5)
RATIO = Sizes("", 2, width=9.5)
HAND_WORK = {"insert tap", "insert", "finish tap", "chase", "plug", "deburr", "probe depth"}
CUT_HERE = {
    "drill",
    "start tap",
    "insert tap",
}  # a thread is as deep as the drawing says only where it is cut on this job


class Group:
    """One group of holes. The thread's own system is the unit the whole group is worked in."""

    def __init__(self, engine: Spec, spec: HoleGroup, cuts: Cuts) -> None:
        self.spec, self.cuts = spec, cuts
        self.shop = engine.shop
        self.thread: Thread = parse_thread(spec.thread)
        self.before: Thread | None = parse_thread(spec.opened_from) if spec.opened_from else None
        self.material = engine.engine.material
        self.unit = self.thread.unit
        self.places = 4 if self.unit == "in" else 3
        self.row = _row(engine, spec)
        self.outline = next((one for one in engine.outlines if one.on == spec.on), None)

    @property
    def target(self) -> float:
        """Share of thread asked for, by the drill charts."""
        return self.spec.thread_share.to("") if self.spec.thread_share else 0.75

    @property
    def systems(self) -> tuple[str, ...]:
        """The drill series of the thread's own system that the shop owns; all it owns where it has
        none of these.
        """
        own = ("metric",) if self.unit == "mm" else ("fraction", "number", "letter")
        return tuple(one for one in own if one in self.shop.drills) or self.shop.drills

    @cached_property
    def drill(self) -> Drill | None:
        """The spec's drill, else the best inside the limits of the shop's own; None where none is
        drilled.
        """
        if "drill" not in self.spec.operations:
            return None
        if self.spec.drill:
            return parse_drill(self.spec.drill)
        fit = self.inside(self.systems) or self.inside(self.shop.drills)
        return (fit or drills_for(self.thread, target=self.target))[0].drill

    @property
    def engagement_mm(self) -> float | None:
        """The engagement its hole is chosen for, None where the limits of its class hold."""
        return self.spec.engagement_length.to("mm") if self.spec.engagement_length else None

    def inside(self, systems: tuple[str, ...]) -> list[Choice]:
        """The drills of these series inside the limits of the hole, the nearest to the share asked
        for first.
        """
        return drills_inside(self.thread, systems, self.target, self.engagement_mm)

    @property
    def major(self) -> Quantity:
        """The thread's major diameter."""
        return quantity(self.thread.major, self.unit)

    @property
    def widest(self) -> Quantity:
        """The widest the hole gets: its relief, or its thread."""
        return self.spec.counterbore.diameter if self.spec.counterbore else self.major

    @property
    def planned_cut(self) -> Key | None:
        """The cut intended on the group's own face; None where the face is left alone."""
        if self.row is not None:
            return self.cuts.banks[self.row.key].plan.deck_cut.key
        block = self.cuts.block if self.spec.face == "bottom" else None
        return block.bottom_cut.key if block else None

    @property
    def face_words(self) -> str:
        """The face the holes stand in, with its bank where there are several decks."""
        bank = self.row.words if self.row else ""
        return f"deck, {bank[:1].lower()}{bank[1:]}" if bank else f"{self.spec.face} face"

    def alarm(self, hole: str) -> str:
        """What stands before the name of a hole that must not break through, "" before another."""
        return "▲ DANGER " if self.spec.danger_of(hole) else ""

    @property
    def holes_in_words(self) -> str:
        """The holes of the group, a long run by its ends."""
        names = self.spec.names
        return f"{names[0]} to {names[-1]} ({len(names)})" if len(names) > 3 else ", ".join(names)

    @property
    def chain(self) -> Chain:
        """What is done to each hole, for the order of the tools."""
        return Chain(
            self.face_words,
            tuple(
                BY_HAND if name in HAND_WORK else self.tool(name) for name in self.spec.operations
            ),
        )

    @property
    def walk(self) -> list[str]:
        """The holes in walking order, those that must not break through last."""
        known = zip(self.spec.names, self.spec.places, strict=False)
        places = {name: (along.to("mm"), across.to("mm")) for name, (along, across) in known}
        return walking_order(self.spec.names, places, [one.hole for one in self.spec.danger])

    @property
    def cut_here(self) -> bool:
        """Whether the thread is cut on this job, to its depth from the finished face."""
        return bool(CUT_HERE & set(self.spec.operations))

    def size(self, operation: str) -> Quantity | None:
        """The diameter an operation cuts; None for one that is done by hand."""
        if operation == "drill" and self.drill is not None:
            return quantity(self.drill.diameter, self.drill.unit)
        if operation == "insert drill" and self.spec.insert is not None:
            drill = parse_drill(self.spec.insert.drill)
            return quantity(drill.diameter, drill.unit)
        if operation == "counterbore" and self.spec.counterbore is not None:
            return self.spec.counterbore.diameter
        cut = self.spec.cut(operation)
        return cut.diameter if cut else None

    def depth(self, operation: str) -> Quantity | None:
        """The depth an operation cuts to where the spec states it; None where it is reckoned, or
        done by hand.
        """
        if operation == "counterbore" and self.spec.counterbore is not None:
            return self.spec.counterbore.depth
        cut = self.spec.cut(operation)
        return cut.depth if cut else None

    def tool(self, operation: str) -> str:
        """The tool of an operation, in words that are the same for the same tool."""
        size, thread = self.size(operation), self.thread.designation
        insert = self.spec.insert
        return {
            "drill": f"drill {self.drill.name}" if self.drill else "",
            "insert drill": f"drill {insert.drill}" if insert else "",
            "insert tap": f"{insert.tap}, by hand" if insert else "",
            "insert": f"{thread} insert tool, by hand",
            "counterbore": f"counterbore {size.text}" if size else "",
            "ream": f"reamer {size.text}" if size else "",
            "spot-face": f"spot-facer {size.text}" if size else "",
            "countersink": f"countersink {size.text}" if size else "",
            "start tap": f"{thread} {self.taps[0]} tap, spindle unpowered",
            "finish tap": f"{thread} {', then '.join(self.taps[1:] or self.taps)} tap, by hand",
            "chase": f"{thread} chaser, by hand",
            "plug": f"{thread} plug, by hand",
            "deburr": "deburring countersink, by hand",
            "probe depth": "depth gauge",
        }[operation]

    @cached_property
    def tip_depth(self) -> Quantity | None:
        """Depth at the tip of the drill as planned by the shop's allowances; None where none is
        drilled.
        """
        if self.drill is None:
            return None
        known = {name: read_quantity(value) for name, (value, _) in hole_allowances().items()}
        lead, room = known["tap_lead"].to(""), known["chip_room"].to("mm")
        full = cutting.drilled_depth(
            self.spec.thread_depth.to("mm"), lead, self.thread.pitch_mm, room
        )
        point = cutting.drill_point(self.drill.diameter_mm, known["point_angle"].to("rad"))
        return read_quantity(
            f"{convert(cutting.tip_depth(full, point), 'mm', self.unit):.{self.places}f} "
            f"{self.unit}"
        )

    @property
    def taps(self) -> tuple[str, ...]:
        """The taps the shop owns, the longest lead first."""
        return tuple(one for one in ("taper", "second", "bottoming") if one in self.shop.taps)


def _row(spec: Spec, group: HoleGroup) -> Bank | None:
    """The row of cylinders under the deck a group stands in, None for a group in another face."""
    rows = spec.rows if group.face == "deck" else ()
    return next((row for row in rows if row.key == group.bank or len(rows) == 1), None)


class Groups:
    """All groups of a spec, by key."""

    def __init__(self, basis: Basis, cuts: Cuts) -> None:
        self.basis, self.shop = basis, basis.spec.shop
        self.all = [Group(basis.spec, spec, cuts) for spec in basis.spec.holes]
        self.by_key = {group.spec.key: group for group in self.all}
        self.sizes = self.sizes_by(lambda row: self.by_key[row])

    def keys(self, those: Callable[[Group], Any]) -> list[str]:
        """The keys of the groups of which something holds."""
        return [group.spec.key for group in self.all if those(group)]

    def rows(self) -> list[Row]:
        """One row a group, with the unit its sizes are in."""
        return [
            Row(one.spec.key, f"{one.spec.words}, {one.face_words} ({one.unit})")
            for one in self.all
        ]

    def of(self, ask: Callable[[Any], Any]) -> Callable[[str], Any]:
        """What a group says, asked by its row."""
        return lambda row: ask(self.by_key[row])

    def sizes_by(self, group_of: Callable[[str], Group]) -> Sizes:
        """What makes columns whose unit changes from row to row with the group."""
        return Sizes(lambda row: group_of(row).unit, lambda row: group_of(row).places, width=9.5)


class Steps:
    """Every operation of every group, as rows."""

    def __init__(self, groups: Groups) -> None:
        self.groups = groups
        self.by_row = {
            f"{one.spec.key}.{row_word(name)}": (one, name)
            for one in groups.all
            for name in one.spec.operations
        }
        self.drills = [*self.those("drill"), *self.those("insert drill")]
        self.stated = [
            row for row, (one, name) in self.by_row.items() if one.depth(name) is not None
        ]
        self.cuts = [row for row in self.by_row if row in {*self.drills, *self.stated}]
        self.sizes = groups.sizes_by(lambda row: self.by_row[row][0])

    @cached_property
    def order(self) -> ToolOrder:
        """The order of the tools over all groups."""
        return tool_order([one.chain for one in self.groups.all], self.groups.shop.spared)

    @cached_property
    def in_turn(self) -> list[str]:
        """The rows in the order of the tools."""
        work = [done for stretch in self.order.stretches for done in stretch.work]
        every = [(self.groups.all[number], place) for number, place in work]
        return [f"{one.spec.key}.{row_word(one.spec.operations[place])}" for one, place in every]

    def group_key(self, row: str) -> str:
        """The key of the group that a row is done on."""
        return self.by_row[row][0].spec.key

    def apart(self, row: str) -> list[Danger]:
        """The holes of a drilling that must not break through: each is drilled last, to a stop of
        its own.
        """
        return list(self.by_row[row][0].spec.danger) if row in self.drills else []

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

    def of(self, ask: Callable[[Any, str], Any]) -> Callable[[str], Any]:
        """What a group says of an operation, asked by the row."""
        return lambda row: ask(*self.by_row[row])


def quantity(number: Fraction | None, unit: str) -> Quantity:
    """A size of the tables as a quantity."""
    assert number is not None
    return Quantity(number, unit, 0, f"{number} {unit}")


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
