"""What a whole spec must be before a book is made of it: an order of work that can be worked, units
a gauge has, holes that lie in their face and clear of bores and of one another.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import hypot
from typing import TYPE_CHECKING, NamedTuple

from datumbook.messages.refusals import Fault, fault_at
from datumbook.spec.faults import nearest
from datumbook.spec.positions import Path

if TYPE_CHECKING:
    from datumbook.spec.holes import FacePlan, HoleGroup
    from datumbook.spec.model import Spec

GAUGES = ("mm", "in", "thou", "um", "uin", "cm")
DONE_FIRST = (  # of one hole: what is done before what. Common practice of the trade, no source
    ("drill", "ream"),
    ("drill", "start tap"),
    ("drill", "finish tap"),
    ("drill", "probe depth"),
    ("start tap", "finish tap"),
    ("insert drill", "insert tap"),
    ("insert tap", "insert"),
    ("ream", "start tap"),
    ("ream", "finish tap"),
)
NEARLY = 1e-6  # mm


def faults_of_whole(spec: Spec) -> Iterator[Fault]:
    """Yield every fault of a spec whose parts are sound by themselves."""
    yield from _units(spec)
    yield from _heights(spec)
    yield from _order(spec)
    for at, group in enumerate(spec.holes):
        yield from _in_turn(("holes", at), group)
    yield from _places(spec)


def _units(spec: Spec) -> Iterator[Fault]:
    for group, unit in spec.units:
        if unit is not None and unit not in GAUGES:
            advice, known = nearest(unit, GAUGES), ", ".join(GAUGES)
            yield fault_at(("units", group), "no-gauge-reads", unit, known, advice=advice)


def _heights(spec: Spec) -> Iterator[Fault]:
    if spec.heights is None:
        return
    deck, overall = spec.heights.deck, spec.heights.overall
    if overall is not None and deck.low.exactly("mm") >= overall.high.exactly("mm"):
        yield fault_at(("heights", "deck"), "deck-over-block", deck.in_words, overall.in_words)


def _order(spec: Spec) -> Iterator[Fault]:
    """Yield names of operations that nobody knows, and rules set aside that there are none of."""
    from datumbook.standards.order import operations, rules  # a table, read when a spec is whole

    known = operations()
    named: list[tuple[Path, str]] = [
        (("order", "left_out", at), name) for at, name in enumerate(spec.order.left_out)
    ]
    for at, one in enumerate(spec.order.overruled):
        named += [
            (("order", "overruled", at, "before"), one.before),
            (("order", "overruled", at, "after"), one.after),
        ]
        pair = (one.before, one.after)
        if {*pair} <= set(known) and pair not in {(each.before, each.after) for each in rules()}:
            yield fault_at(("order", "overruled", at), "no-such-rule", *pair)
    for path, name in named:
        if name not in known:
            yield fault_at(path, "operation-unknown", name, advice=nearest(name, known))


def _in_turn(path: Path, group: HoleGroup) -> Iterator[Fault]:
    done = group.operations
    for first, then in DONE_FIRST:
        if first in done and then in done and done.index(then) < done.index(first):
            at = (*path, "operations", done.index(then))
            yield fault_at(at, "out-of-turn", then, first)


class Placed(NamedTuple):
    """One hole where it lies, along and across its face, with the radius of its thread, all in
    mm.
    """

    path: Path
    name: str
    along: float
    across: float
    radius: float

    @property
    def words(self) -> str:
        """Its name and its place."""
        return f"{self.name} at {self.along:g} mm along, {self.across:g} mm across"


def placed_holes(spec: Spec) -> dict[str, list[Placed]]:
    """Return the holes that have coordinates, face by face."""
    from datumbook.standards.threads import parse_thread

    found: dict[str, list[Placed]] = {}
    for at, group in enumerate(spec.holes):
        radius = parse_thread(group.thread).major_mm / 2
        for n, (name, (along, across)) in enumerate(zip(group.names, group.places, strict=False)):
            one = Placed(("holes", at, "places", n), name, along.to("mm"), across.to("mm"), radius)
            found.setdefault(group.on, []).append(one)
    return found


def _places(spec: Spec) -> Iterator[Fault]:
    holes, plans = placed_holes(spec), {plan.on: plan for plan in spec.outlines}
    for face, there in holes.items():
        plan = plans.get(face)
        off = list(_off_face(there, plan)) if plan else []
        yield from off
        if plan and plan.of == "deck":
            yield from _in_bores(spec, plan, there)
        yield from _in_each_other(there)


def _off_face(holes: Sequence[Placed], plan: FacePlan) -> Iterator[Fault]:
    length, width = plan.length.to("mm"), plan.width.to("mm")
    for one in holes:
        along = min(one.along, length - one.along)
        if min(along, one.across, width - one.across) < one.radius - NEARLY:
            size = f"{plan.length.text} by {plan.width.text}"
            yield fault_at(one.path, "hole-off-face", one.words, size, face=plan.of)


def _in_bores(spec: Spec, plan: FacePlan, holes: Sequence[Placed]) -> Iterator[Fault]:
    across = plan.bores_across.to("mm") if plan.bores_across else None
    rows = [row for row in spec.rows if not plan.bank or row.key == plan.bank]
    bore = spec.bores.standard.low.to("mm") / 2
    for row in rows if across is not None else ():
        for number, centre in zip(row.cylinders, row.centres, strict=False):
            for one in holes:
                apart = hypot(one.along - centre.to("mm"), one.across - (across or 0.0))
                if apart < bore + one.radius - NEARLY:
                    yield fault_at(one.path, "hole-in-bore", one.words, f"bore {number}")


def _in_each_other(holes: Sequence[Placed]) -> Iterator[Fault]:
    for one, other in combinations(holes, 2):
        apart = hypot(one.along - other.along, one.across - other.across)
        if apart < one.radius + other.radius - NEARLY:
            yield fault_at(other.path, "holes-overlap", other.words, one.name)
