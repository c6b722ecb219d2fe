"""Holes: every hole with its measured depths and its tick."""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Check, Column, Reading, Sizes, typed_words
from datumbook.cells.tables import Row, Sheet, Table
from datumbook.equations import cutting, hole_safety
from datumbook.equations.verdicts import DONE
from datumbook.numbers.units import convert
from datumbook.spec import limit
from datumbook.stations.holes.allowances import source_of
from datumbook.stations.holes.fastener_groups import rule_of
from datumbook.stations.holes.hole_groups import Group, Groups, quantity
from datumbook.stations.holes.reach import ThreadReach
from datumbook.stations.holes.stops import Stops
from datumbook.stations.received.route import Route

SPEC = "engine spec"


class EachHole(Table):
    """The holes of one group, as they were found when the work was done."""

    done: Column


class Holes:
    """Every hole of every group, gauged."""

    def __init__(self, groups: Groups, route: Route, stops: Stops, reach: ThreadReach) -> None:
        self.route, self.stops, self.reach = route, stops, reach
        self.tables = {one.spec.key: self._each(one, place) for place, one in enumerate(groups.all)}

    def of(self, group: Group) -> EachHole:
        """The holes of one group."""
        return self.tables[group.spec.key]

    def sheet(self) -> Sheet:
        """The sheet of the holes."""
        parts = tuple(self.tables.values())
        return Sheet(name="Holes", title="Every hole", parts=parts, stage="finished")

    def _each(self, group: Group, place: int) -> EachHole:
        spec = group.spec
        return EachHole(
            key=f"holes_{spec.key}",
            title=f"{spec.words}, {group.face_words}",
            heading="Hole",
            note=f"{group.thread.designation}: {', '.join(spec.operations)}.",
            rows=[Row(name, f"{group.alarm(name)}Hole {name}") for name in spec.names],
            columns=tuple(self._columns(group)),
            own_page=place > 0,
            spoilers=self.route.spoilers(f"holes_{spec.face}"),
        )

    def _columns(self, group: Group) -> Iterator[Column | Check]:
        spec, sizes = group.spec, Sizes(group.unit, group.places, "holes")
        if group.drill is not None and "probe depth" in spec.operations:
            yield from self._probed(group, sizes)
        cut, plug = spec.counterbore, "Plug gauge to where it stops, from the finished face."
        most = (0.0, spec.floor.to(group.unit))
        thread = sizes.reading("thread", "thread depth", spec.thread_depth, plug, possible=most)
        source = "at most the metal there is, both from the engine spec"
        deep = Check(of=thread, limits=limit(source, low=spec.thread_depth, high=spec.floor))
        if cut is None:
            yield from (thread, deep)
        else:
            gauge, span = "Depth gauge from the finished face.", (0.0, 4 * cut.depth.to(group.unit))
            band = limit(SPEC, low=cut.depth - cut.minus, high=cut.depth + cut.plus)
            relief = sizes.reading(
                "counterbore", "counterbore depth", cut.depth, gauge, possible=span
            )
            left = sizes.result(
                "engagement",
                "thread left",
                cutting.engagement,
                thread_depth=thread,
                counterbore_depth=relief,
            )
            yield from (relief, Check(of=relief, limits=band), thread, deep)
            yield from (left, self._engagement_check(left, group))
        done = Reading(
            name="done",
            words="gauged, clean, deburred",
            unit=None,
            choices=(DONE,),
            how="Type done when gauged, clean and deburred.",
        )
        yield from (done, Check(of=done, says=DONE))
        yield from _record(group, sizes)

    def _probed(self, group: Group, sizes: Sizes) -> Iterator[Column | Check]:
        """The depth each hole was found drilled to, at the tip, under the depth no tip may pass."""
        spec, allowed, danger = group.spec, self.stops.allowances, self.stops.danger
        dangerous = [name for name in spec.names if spec.danger_of(name)]
        plain = [name for name in spec.names if name not in dangerous]
        how = "Depth gauge to the tip, from the finished face."
        drilled = sizes.reading(
            "drilled",
            "drilled, at the tip",
            group.tip_depth,
            how,
            possible=(0.0, 1.5 * spec.floor.to(group.unit)),
        )
        deepest = sizes.result(
            "deepest",
            "no tip below",
            hole_safety.deepest_tip,
            plain,
            floor=lambda _: self.stops.settings.floor[spec.key, "drill"],
            least_floor=allowed.least_floor,
        )
        yield drilled
        if danger is not None and dangerous:
            yield sizes.result(
                "deepest",
                "no tip below",
                hole_safety.deepest_tip,
                dangerous,
                floor=danger.floor,
                least_floor=allowed.least_floor,
            )
        yield deepest
        yield Check(of=drilled, high=deepest, source=lambda row: _under(group, row))

    def _engagement_check(self, left: Column, group: Group) -> Check:
        """The thread left against the rule its group is held to; a rule reckoned from strengths is
        taken where it stands.
        """
        rule = rule_of(group)
        if rule.diameters is None:
            needed = self.reach.needed[group.spec.key]
            return Check(of=left, low=needed, source=f"rule {rule.name}")
        least = quantity(group.thread.major * rule.diameters, group.unit)
        return Check(of=left, limits=limit(f"rule {rule.name}: {rule.source}", low=least))


def _under(group: Group, name: str) -> str:
    danger = group.spec.danger_of(name)
    if danger is None:
        return source_of("least_floor")
    return f"break-through limit of {name}: {danger.over} below"


def _record(group: Group, sizes: Sizes) -> Iterator[Column]:
    """What the record of a thread keeps beside its sizes; no verdict hangs on it."""
    yield typed_words(
        "gauge",
        "go / no-go",
        "fits or not: go enters, no-go does not.",
        choices=("fits", "not"),
        width=8,
    )
    yield sizes.reading(
        "square",
        "out of square",
        how="Over the gauge plug's length, with a square and feelers.",
        wanted=False,
        possible=(0.0, convert(2.0, "mm", group.unit)),
        width=8,
    )
    yield typed_words(
        "insert", "insert", "yes where an insert went in.", choices=("yes", "no"), width=7
    )
    yield typed_words("initials", "initials", "Who gauged it.", width=8)
