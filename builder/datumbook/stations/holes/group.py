"""A group of holes with its thread and drill found in the tables, and what every hole sheet needs
of it.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cached_property, lru_cache
from itertools import islice

from datumbook.cells.handles import Key
from datumbook.equations import cutting, openings
from datumbook.equations.openings import DRAWN
from datumbook.formulas.functions import at_most, more_than
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.numbers.units import convert
from datumbook.optimise.tool_order import BY_HAND, Chain
from datumbook.optimise.walking_order import walking_order
from datumbook.spec import Bank, Spec
from datumbook.spec.holes import HoleGroup
from datumbook.standards.drill_choice import chart_remarks, drills_inside, hole_limits, placed
from datumbook.standards.drills import Choice, Drill, choice, drills_for, parse_drill
from datumbook.standards.inserts import insert_drill
from datumbook.standards.openings import larger_threads
from datumbook.standards.strength import Strength, strength
from datumbook.standards.threads import Thread, parse_thread
from datumbook.stations.decided.cuts import Cuts
from datumbook.stations.decided.face_cuts import FaceCut
from datumbook.stations.holes.allowances import allowed, finishing_lead
from datumbook.stations.holes.options import TAPPED, Option, clearance_of

HAND_WORK = {"insert tap", "insert", "finish tap", "chase", "plug", "deburr", "probe depth"}
MOST_LARGER = 2  # sizes that a hole is opened to: the next, and one more where that was gone too
# a thread is as deep as the drawing says only where it is cut on this job
CUT_HERE = {"drill", "start tap", "insert tap"}


class GroupAtWork:
    """One group of holes. The thread's own system is the unit the whole group is worked in."""

    def __init__(self, engine: Spec, spec: HoleGroup, cuts: Cuts | None) -> None:
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
    def target(self) -> float | None:
        """Share of thread asked for, by the drill charts; None where the usual one is."""
        return self.spec.thread_share.to("") if self.spec.thread_share else None

    @property
    def oversize_mm(self) -> float | None:
        """What its drill cuts over its own size where spec or shop state it."""
        return self.spec.oversize_mm(self.shop)

    def made_by(self, drill: Drill, thread: Thread) -> Choice:
        """The hole that a drill probably makes here, held against a thread's own limits here."""
        limits = hole_limits(thread, self.engagement_mm)
        return placed(choice(thread, drill, self.oversize_mm), limits)

    def _option(self, words: str, thread: Thread, drill: Drill | None) -> Option:
        """A thread its holes can be opened to, with the drill taken and the usual one of charts."""
        ours = self.made_by(drill, thread) if drill else None
        ranked = self.systems, self.target, self.engagement_mm, self.oversize_mm
        charted = next(chart_remarks(thread, ours, *ranked), None)
        return Option(words, thread, drill, self.taps, charted)

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
        fit = self.inside_first(self.thread) or drills_for(
            self.thread, target=self.target, oversize_mm=self.oversize_mm
        )
        return fit[0].drill

    @property
    def insert_drill(self) -> str:
        """The drill of the group's insert: as named, else the table's; "" where none is fitted."""
        insert = self.spec.insert
        return (insert.drill or insert_drill(self.thread).drill) if insert else ""

    @cached_property
    def options(self) -> list[Option]:
        """What its holes can be opened to: as drawn, then the next larger threads of its family."""
        best = self._best(self.thread)
        drawn = self._option(DRAWN, self.thread, self.drill or best)
        larger = (
            self._option(one.designation, one, self._best(one))
            for one in larger_threads(self.thread)
            if self._has_room_for(one)
        )
        return [drawn, *islice((one for one in larger if one.drill), MOST_LARGER)]

    @property
    def offered(self) -> list[Option]:
        """What the whole group can be opened to: as drawn alone where it is not drilled here."""
        return self.options if self.drill else self.options[:1]

    def _best(self, thread: Thread) -> Drill | None:
        """The best of the shop's drills inside the limits of a thread, None where it has none."""
        return next((one.drill for one in self.inside_first(thread)), None)

    def inside_first(self, thread: Thread) -> list[Choice]:
        """The shop's drills inside the limits of a thread, those of its own system first."""
        return [*self.inside(self.systems, thread), *self.inside(self.shop.drills, thread)]

    def _has_room_for(self, thread: Thread) -> bool:
        """Whether boss and stated walls leave metal round a thread, and what is known of the drawn
        one, its fastener's grade and clearance hole, is known and the same of it.
        """
        boss, grown = self.spec.boss, thread.major_mm - self.major_before.to("mm")
        least = allowed("least_wall").to("mm")
        return (
            (boss is None or at_most(thread.major_mm + 2 * least, boss.to("mm")))
            and all(more_than(wall.metal.to("mm"), grown / 2) for wall in self.spec.walls)
            and self._promised(thread) == self._promised(self.thread)
            and (clearance_of(thread) is None) == (clearance_of(self.thread) is None)
        )

    def _promised(self, thread: Thread) -> Strength | None:
        """What the grade of its fastener promises of a thread."""
        grade = self.spec.fastener.grade if self.spec.fastener else None
        try:
            return strength(grade, thread) if grade else None
        except LookupError:
            return None

    @property
    def engagement_mm(self) -> float | None:
        """The engagement its hole is chosen for, None where the limits of its class hold."""
        return self.spec.engagement_length.to("mm") if self.spec.engagement_length else None

    def inside(self, systems: tuple[str, ...], thread: Thread) -> list[Choice]:
        """The drills of these series whose hole is inside a thread's limits, the nearest to the
        share asked for first.
        """
        return _inside(thread, systems, self.target, self.engagement_mm, self.oversize_mm)

    @property
    def major(self) -> Quantity:
        """The thread's major diameter."""
        return quantity(self.thread.major, self.unit)

    @property
    def major_before(self) -> Quantity:
        """The major diameter of the thread that is there now: the old one where it is opened."""
        there = self.before or self.thread
        return quantity(there.major, there.unit)

    @property
    def widest(self) -> Quantity:
        """The widest the hole gets: its relief, or its thread."""
        return self.spec.counterbore.diameter if self.spec.counterbore else self.major

    @property
    def face_cut(self) -> FaceCut | None:
        """The cut of the group's own face; None where the heights of that are not read."""
        if self.cuts is None:
            return None
        bottom = self.cuts.bottom if self.spec.face == "bottom" else None
        return self.cuts.banks[self.row.key].deck if self.row else bottom

    @property
    def gone(self) -> Key | None:
        """What its face has lost since its drawing once it is cut, and with it every floor, and
        every thread that stands already. None where no height is read: there the drawing counts.
        """
        return self.face_cut.counted.most_gone.key if self.face_cut else None

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

    @cached_property
    def centres(self) -> dict[str, tuple[Quantity, Quantity]]:
        """Where the holes stand on their face, along and across; none where the spec is silent."""
        return dict(zip(self.spec.names, self.spec.places, strict=False))

    @cached_property
    def centres_mm(self) -> dict[str, tuple[float, float]]:
        """The same in millimetres."""
        return {name: in_mm(centre) for name, centre in self.centres.items()}

    @property
    def bores(self) -> dict[int, tuple[Quantity, Quantity]]:
        """Where the bores of the deck the holes stand in have their centres, by cylinder; none
        where the face's outline does not say.
        """
        across = self.outline.bores_across if self.outline else None
        if self.row is None or across is None or not self.row.centres:
            return {}
        return {
            number: (along, across)
            for number, along in zip(self.row.cylinders, self.row.centres, strict=True)
        }

    @property
    def walk(self) -> list[str]:
        """The holes in walking order, those that must not break through last."""
        last = [one.hole for one in self.spec.danger]
        return walking_order(self.spec.names, self.centres_mm, last)

    @property
    def cut_here(self) -> bool:
        """Whether the thread is cut on this job, to its depth from the finished face."""
        return bool(CUT_HERE & set(self.spec.operations))

    def size(self, operation: str) -> Quantity | None:
        """The diameter an operation cuts; None for one that is done by hand."""
        if operation == "drill" and self.drill is not None:
            return quantity(self.drill.diameter, self.drill.unit)
        if operation == "insert drill" and self.spec.insert is not None:
            drill = parse_drill(self.insert_drill)
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

    def tool(self, operation: str, opened: Option | None = None) -> str:
        """The tool of an operation, as drawn or for what the holes are opened to, in words that are
        the same for the same tool.
        """
        size, insert, option = self.size(operation), self.spec.insert, opened or self.options[0]
        if operation in TAPPED or operation == "drill":
            return option.tool(operation)
        if operation == "counterbore" and option.thread != self.thread:
            return f"counterbore {self.relief_over(option.thread)}"
        return {
            "insert drill": f"drill {self.insert_drill}" if insert else "",
            "insert tap": f"{insert.tap}, by hand" if insert else "",
            "counterbore": f"counterbore {size.text}" if size else "",
            "ream": f"reamer {size.text}" if size else "",
            "spot-face": f"spot-facer {size.text}" if size else "",
            "countersink": f"countersink {size.text}" if size else "",
            "deburr": "deburring countersink, by hand",
            "probe depth": "depth gauge",
        }[operation]

    def relief_over(self, thread: Thread) -> str:
        """Diameter of the relief over an opened thread, in words."""
        assert self.spec.counterbore is not None
        drawn = self.spec.counterbore.diameter.to("mm")
        grown = openings.relief_opened(drawn, self.thread.major_mm, thread.major_mm)
        return f"{convert(grown, 'mm', self.unit):.{self.places}f} {self.unit}"

    @cached_property
    def tip_depth(self) -> Quantity | None:
        """Depth at the tip of the drill as planned by the shop's allowances; None where none is
        drilled.
        """
        if self.drill is None:
            return None
        full = cutting.drilled_depth(
            self.spec.thread_depth.to("mm"),
            finishing_lead().to(""),
            self.thread.pitch_mm,
            allowed("chip_room").to("mm"),
        )
        point = cutting.drill_point(self.drill.diameter_mm, allowed("point_angle").to("rad"))
        return read_quantity(
            f"{convert(cutting.tip_depth(full, point), 'mm', self.unit):.{self.places}f} "
            f"{self.unit}"
        )

    @property
    def taps(self) -> tuple[str, ...]:
        """The taps the shop owns, the longest lead first."""
        return tuple(one for one in ("taper", "second", "bottoming") if one in self.shop.taps)


@lru_cache(maxsize=1024)
def _inside(
    thread: Thread,
    systems: tuple[str, ...],
    target: float | None,
    engagement_mm: float | None,
    oversize_mm: float | None,
) -> list[Choice]:
    return drills_inside(thread, systems, target, engagement_mm, oversize_mm)


def _row(spec: Spec, group: HoleGroup) -> Bank | None:
    """The row of cylinders under the deck a group stands in, None for a group in another face."""
    rows = spec.rows if group.face == "deck" else ()
    return next((row for row in rows if row.key == group.bank or len(rows) == 1), None)


def in_mm(centre: tuple[Quantity, Quantity]) -> tuple[float, float]:
    """A place of a face in millimetres, along and across."""
    along, across = centre
    return along.to("mm"), across.to("mm")


def quantity(number: Fraction | None, unit: str) -> Quantity:
    """A size of the tables as a quantity."""
    assert number is not None
    return Quantity(number, unit, 0, f"{number} {unit}")
