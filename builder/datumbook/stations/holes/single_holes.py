"""OneHole: the holes decided by themselves, from thread and drill to stop and gauge, each in a line
of its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from datumbook.cells.columns import Check, Column, Reading, Result, Sizes, Uncertainty
from datumbook.cells.tables import Form, Sheet, Table
from datumbook.equations import hole_safety, single_holes
from datumbook.equations.verdicts import DONE
from datumbook.stations.holes.alike import Alike, SingleDangers
from datumbook.stations.holes.group_tables import with_rows
from datumbook.stations.holes.hole_groups import at_the_machine
from datumbook.stations.holes.hole_metal import HoleMetal
from datumbook.stations.holes.single_lines import LINES, OwnLines, SingleLines
from datumbook.stations.holes.single_metal import SingleMetal
from datumbook.stations.holes.single_stops import SingleStops
from datumbook.stations.holes.single_table import SingleTable
from datumbook.stations.holes.stops import Stops
from datumbook.stations.holes.threads import ThreadHoles

HOW_TO_WORK = (
    "A walk of its own, after the others: drill, relief, tap, gauge. Touch the face with each tool "
    "through the feeler and type what the scale reads; try the stop elsewhere first. Blank lines "
    "ask for nothing."
)


class SingleGauge(SingleTable):
    """What is found of each line, and the verdict on all of it."""

    def __init__(
        self,
        lines: SingleLines,
        alike: Alike,
        metal: SingleMetal,
        stops: SingleStops,
        own: OwnLines,
        every: Sequence[SingleLines],
    ) -> None:
        self._of_lines(lines, alike)
        self.metal, self.stops, self.own, self.every = metal, stops, own, every
        super().__init__(lines, "gauge", "Gauged, and the verdict", self._gauged())
        verdict = Result(
            name="all_told",
            words="verdict on the line",
            equation=single_holes.worst_of,
            inputs={
                "verdicts": lambda row: [
                    one for table in (metal, stops, self) for one in table.verdicts(row)
                ]
            },
        )
        self.extend((verdict, Check(of=verdict, judged=True, source="each size as its group's")))

    def _gauged(self) -> Iterator[Column]:
        """What is found of a hole that is on no other sheet, and that no two lines are of one."""
        once = [one.hole[line] for one in self.every for line in LINES]
        yield self._judged("hole", single_holes.named_once, holes=once)
        gauged = Sizes(self.unit, self.lines.places, "holes", width=9.5)
        yield Sizes("", 0).result(
            "new",
            "gauged here: 1, on Holes: 0",
            single_holes.new_hole,
            hole=self.lines.hole,
            names=self.own.names_of_holes,
        )
        for name, heading, how, shape, ends in (
            (
                "drilled",
                "drilled, at the tip",
                "Depth gauge to the tip, from the finished face.",
                single_holes.gauged_at_most,
                {"high": self.stops.deepest_tip},
            ),
            (
                "thread_found",
                "thread depth found",
                "Plug gauge to where it stops, from the finished face.",
                single_holes.gauged_between,
                {"low": self.metal.thread_depth, "high": self._cell("deepest_thread")},
            ),
        ):
            most = 1.5 * max(one.spec.floor.to(self.unit) for one in self.lines.alike)
            reading = gauged.reading(name, heading, how=how, wanted=False, possible=(0.0, most))
            yield reading
            doubt = Uncertainty(
                name=f"{name}_uncertainty",
                words="±",
                unit=self.unit,
                decimals=self.lines.places + 1,
                of=reading,
            )
            yield doubt
            yield self._judged(
                name, shape, known=self._cell("new"), value=reading, uncertainty=doubt, **ends
            )
        yield gauged.result(
            "deepest_thread",
            "no thread below",
            hole_safety.deepest_thread,
            deepest=self.stops.deepest_tip,
            drilled=self._cell("drilled"),
            drill_point=self.stops.drill_point,
        )
        done = Reading(
            name="done",
            words="gauged, clean, deburred",
            unit=None,
            choices=(DONE,),
            wanted=False,
            how="Type done when gauged, clean and deburred.",
        )
        yield done
        yield self._judged("done", single_holes.single_done, known=self._cell("new"), tick=done)


class SingleHoles:
    """The lines of single holes, unit by unit."""

    def __init__(
        self,
        lines: list[SingleLines],
        own: OwnLines,
        threads: ThreadHoles,
        metal: HoleMetal,
        stops: Stops,
    ) -> None:
        self.own = own
        self.parts: list[Table] = []
        self.below: list[Table] = []
        for one in lines:
            alike = Alike(one, threads, metal.reliefs, metal)
            dangers = SingleDangers(one)
            work = SingleMetal(one, alike, metal.allowed)
            depths = SingleStops(one, alike, dangers, work, stops.allowances)
            gauge = SingleGauge(one, alike, work, depths, own, lines)
            self.parts += [depths, gauge]
            self.below += [work, *with_rows(dangers), alike]
            own.works.append(work)
            own.depths.append(depths)

    def sheet(self, allowances: Sequence[Form]) -> Sheet:
        """The sheet of the holes decided by themselves."""
        return Sheet(
            name="OneHole",
            read=True,
            title="Holes decided by themselves",
            parts=(at_the_machine(), *self.parts),
            below=(*allowances, *self.below, self.own),
            how=HOW_TO_WORK,
            widths={1: 30},
            stage="finished",
        )
