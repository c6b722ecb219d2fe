"""Holes: the good ones of each group counted, every hole with its depths and its gauge."""

from __future__ import annotations

from typing import Any

from datumbook.cells.columns import Check, Column, Equation, Result, Sizes, typed_words
from datumbook.cells.handles import row_key
from datumbook.cells.tables import Row, Sheet, Table
from datumbook.equations import cutting, hole_safety, single_holes, standings, verdicts
from datumbook.equations.verdicts import FITS
from datumbook.numbers.quantities import read_quantity
from datumbook.numbers.units import convert
from datumbook.spec import limit
from datumbook.stations.holes.allowances import source_of
from datumbook.stations.holes.fastener_groups import rule_of
from datumbook.stations.holes.group import GroupAtWork, quantity
from datumbook.stations.holes.group_tables import stated
from datumbook.stations.holes.hole_groups import Groups, row_word
from datumbook.stations.holes.reach import ThreadReach
from datumbook.stations.holes.single_lines import OwnLines
from datumbook.stations.holes.stops import Stops
from datumbook.stations.received.route import Route
from datumbook.stations.received.shown import shown_words

SPEC = "engine spec"


class Gauged(Table):
    """How many of all holes are good: gauged, clean, deburred."""

    verdict: Column

    def __init__(self, groups: Groups) -> None:
        many = sum(len(one.spec.names) for one in groups.all)
        good_ones = read_quantity(str(many))
        each = ", ".join(f"{one.spec.words} {len(one.spec.names)}" for one in groups.all)
        good, count = "go enters, no-go does not; clean, deburred", Sizes("", 0)
        verdict = Result(name="verdict", words="verdict", equation=verdicts.verdict_of_count)
        super().__init__(
            key="gauged",
            title="Gauged: every hole",
            heading="What",
            note=f"Each hole gauged: {good}. Count the good ones ({each}); one that is not is said "
            "at the hole.",
            rows=[Row("all", "All holes")],
            columns=(
                count.given("wanted", "holes", good_ones, whole=True),
                count.reading(
                    "counted",
                    "good",
                    good_ones,
                    f"How many of them are good: {good}.",
                    possible=(0.0, float(many)),
                    whole=True,
                ),
                verdict,
                Check(of=verdict, judged=True, source="count"),
            ),
        )


class EachHole(Table):
    """The holes of one group, as they were found when the work was done."""

    done: Column

    def __init__(
        self,
        group: GroupAtWork,
        place: int,
        route: Route,
        own: OwnLines,
        stops: Stops,
        reach: ThreadReach,
        gauged: Gauged,
        every: bool,
    ) -> None:
        self.group, self.sizes = group, Sizes(group.unit, group.places, "holes")
        self.own = own
        spec = group.spec
        # in walking order the first, for its stop; and each that must not break through
        self.probed = {group.walk[0], *(one.hole for one in spec.danger)}
        if every or not route.spoilers(f"holes_{spec.face}"):
            self.probed = set(spec.names)
        gauge = typed_words(
            "gauge",
            "go / no-go",
            "fits or not: go enters, no-go does not.",
            choices=(FITS, "not"),
            width=8,
        )
        good = Result(name="good", words="this hole", equation=verdicts.verdict_of_gauge, width=9)
        done = Result(
            name="done",
            words="gauged good",
            equation=verdicts.gauged_good,
            inputs={"group": gauged.verdict["all"]},
            width=9,
        )
        probed = self._probed(stops)
        super().__init__(
            key=f"holes_{spec.key}",
            title=f"{spec.words}, {group.face_words}",
            heading="Hole",
            note=f"{', '.join(spec.operations)}.",
            rows=[Row(name, f"{group.alarm(name)}Hole {name}") for name in spec.names],
            columns=(
                shown_words("for", "thread", lambda row: own.thread[row], width=13),
                *probed,
                *self._threaded(reach, stops, bool(probed)),
                gauge,
                good,
                Check(of=good, judged=True, source="go / no-go", story=(gauge,)),
                done,
                # what the record of a thread keeps beside its sizes; no verdict hangs on it
                self.sizes.reading(
                    "square",
                    "out of square",
                    how="Over the gauge plug's length, with a square and feelers.",
                    wanted=False,
                    possible=(0.0, convert(2.0, "mm", group.unit)),
                    width=8,
                ),
                typed_words(
                    "insert",
                    "insert",
                    "yes where an insert went in.",
                    choices=("yes", "no"),
                    width=7,
                ),
                typed_words("initials", "initials", "Who gauged it.", width=8),
            ),
            own_page=place > 0,
            spoilers=route.spoilers(f"holes_{spec.face}"),
        )

    def _wanted(self, hole: str) -> bool:
        """Whether the depths of a hole are wanted, by how closely the job has holes gauged."""
        return hole in self.probed

    def _spared(self, hole: str) -> bool:
        """Whether the depths of a hole are judged only where they are typed."""
        return hole not in self.probed

    def _probed(self, stops: Stops) -> tuple[Column | Check, ...]:
        """The depth each hole was found drilled to, at the tip, under the depth no tip may pass."""
        group, spec = self.group, self.group.spec
        if group.drill is None or "probe depth" not in spec.operations:
            return ()
        drilled = self.sizes.reading(
            "drilled",
            "drilled, at the tip",
            group.tip_depth,
            "Depth gauge to the tip, from the finished face.",
            possible=(0.0, 1.5 * spec.floor.to(group.unit)),
            wanted=self._wanted,
        )
        dangerous = [name for name in spec.names if spec.danger_of(name)]
        plain = [name for name in spec.names if name not in dangerous]
        least, tip = stops.allowances.least_floor, hole_safety.deepest_tip
        deepest = self.sizes.result(
            "deepest",
            "no tip below",
            tip,
            plain,
            floor=lambda _: stops.settings.floor[spec.key, "drill"],
            least_floor=least,
        )
        held_back = self.sizes.result(
            "deepest",
            "no tip below",
            tip,
            dangerous,
            floor=lambda row: stops.danger.floor[row],
            least_floor=least,
        )
        return (
            drilled,
            *stated(held_back),
            deepest,
            Check(
                of=drilled, high=deepest, source=lambda row: _under(group, row), spot=self._spared
            ),
        )

    def _drilling(self) -> str | None:
        """The row of the last drilling of these holes, whose drill is the widest; None where they
        are there already.
        """
        spec = self.group.spec
        drillings = [name for name in spec.operations if name in {"drill", "insert drill"}]
        return row_key(spec.key, row_word(drillings[-1])) if drillings else None

    def _deepest_thread(self, stops: Stops, probed: bool) -> Result:
        """The depth no thread may be found beyond: by the floor under each hole after the planned
        cut, and by the full diameter of a hole whose depth is read.
        """
        group, drilling = self.group, self._drilling()
        by_floor: dict[str, Any] = {
            "least_floor": stops.allowances.least_floor,
            "floor": lambda row: (group.spec.danger_of(row) or group.spec).floor,
        }
        equation: Equation = hole_safety.deepest_tip
        inputs = by_floor
        if drilling is not None and probed:
            equation = hole_safety.deepest_thread
            inputs = {
                "deepest": lambda row: self.column("deepest")[row],
                "drilled": lambda row: self.column("drilled")[row],
                "drill_point": lambda row: self.column("drill_point")[row],
            }
        elif group.gone is not None:
            equation = hole_safety.deepest_below_cut
            inputs = {**by_floor, "skim": lambda _: group.gone}
        return self.sizes.result("deepest_thread", "no thread below", equation, **inputs)

    def _drill_point(self, stops: Stops) -> list[Column]:
        """The point of the drill of each hole: of its own, where a line decides it by itself."""
        drilling = self._drilling()
        if drilling is None:
            return []
        point, name, words = stops.settings.drill_point[drilling], "drill_point", "drill point"
        if drilling not in stops.steps.those("drill"):
            return [self.sizes.result(name, words, standings.shown_again, value=point)]
        return [
            self.sizes.result(
                name,
                words,
                single_holes.own_or_shared,
                line=lambda row: self.own.line[row],
                shared=point,
                own=self.own.drill_points,
            )
        ]

    def _threaded(
        self, reach: ThreadReach, stops: Stops, probed: bool
    ) -> tuple[Column | Check, ...]:
        """The thread's depth; under a counterbore the depth of that too, and the thread left."""
        group, cut, sizes = self.group, self.group.spec.counterbore, self.sizes
        deep, floor = group.spec.thread_depth, group.spec.floor
        thread = sizes.reading(
            "thread",
            "thread depth",
            deep,
            "Plug gauge to where it stops, from the finished face.",
            possible=(0.0, floor.to(group.unit)),
            wanted=self._wanted,
        )
        deepest = self._deepest_thread(stops, probed)
        point = tuple(self._drill_point(stops)) if probed else ()
        band = limit(
            "the engine spec; at most what the floor under each hole leaves, and its own full "
            "diameter where that was read",
            low=deep,
        )
        held: tuple[Column | Check, ...] = (
            thread,
            *point,
            deepest,
            Check(
                of=thread,
                limits=band,
                high=deepest,
                source=lambda row: _ended_by(group, row),
                spot=self._spared,
            ),
        )
        if cut is None:
            return held
        gauge, span = "Depth gauge from the finished face.", (0.0, 4 * cut.depth.to(group.unit))
        relief = sizes.reading(
            "counterbore", "relief depth", cut.depth, gauge, possible=span, wanted=self._wanted
        )
        left = sizes.result(
            "engagement",
            "thread left",
            cutting.engagement,
            thread_depth=thread,
            counterbore_depth=relief,
        )
        mouth = Check(
            of=relief,
            low=lambda row: self.own.least_depth[row],
            high=lambda row: self.own.most_depth[row],
            source=f"{SPEC}, or as decided",
            spot=self._spared,
        )
        return (relief, mouth, *held, left, self._engagement_check(left, reach))

    def _engagement_check(self, left: Column, reach: ThreadReach) -> Check:
        """The thread left against the rule its group is held to; a rule worked out from strengths
        is taken where it stands.
        """
        group, rule = self.group, rule_of(self.group)
        if rule.diameters is None:
            needed = reach.needed[group.spec.key]
            return Check(of=left, low=needed, source=f"rule {rule.name}", spot=self._spared)
        least = quantity(group.thread.major * rule.diameters, group.unit)
        band = limit(f"rule {rule.name}: {rule.source}", low=least)
        return Check(of=left, limits=band, spot=self._spared)


class Holes:
    """Every hole of every group, gauged."""

    def __init__(
        self, groups: Groups, route: Route, own: OwnLines, stops: Stops, reach: ThreadReach
    ) -> None:
        self.gauged, every = Gauged(groups), groups.basis.job.gauging == "every"
        self.tables = {
            one.spec.key: EachHole(one, place, route, own, stops, reach, self.gauged, every)
            for place, one in enumerate(groups.all)
        }

    def of(self, group: GroupAtWork) -> EachHole:
        """The holes of one group."""
        return self.tables[group.spec.key]

    def sheet(self) -> Sheet:
        """The sheet of the holes."""
        return Sheet(
            name="Holes",
            title="Every hole",
            parts=(self.gauged, *self.tables.values()),
            stage="finished",
        )


def _ended_by(group: GroupAtWork, name: str) -> str:
    """What ends the thread of a hole."""
    return f"least from the engine spec; most {_under(group, name)}, or its drilled full diameter"


def _under(group: GroupAtWork, name: str) -> str:
    danger = group.spec.danger_of(name)
    if danger is None:
        return source_of("least_floor")
    return f"break-through limit of {name}: {danger.over} below"
