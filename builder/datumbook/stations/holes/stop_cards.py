"""Cards: one card for each walk of the schedule, in large print, to hang beside the spindle and to
write on.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from datumbook.cells.columns import Column, Equation, Input, Result, words
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Row, Sheet, Table
from datumbook.equations import hole_safety, single_holes, standings
from datumbook.spec.holes import Danger
from datumbook.standards import table
from datumbook.stations.holes.forbidden import ForbiddenCuts
from datumbook.stations.holes.hole_groups import Steps, row_word
from datumbook.stations.holes.quill_scale import OTHER_UNIT, READ_TO
from datumbook.stations.holes.reach import ThreadReach
from datumbook.stations.holes.single_lines import OwnLines
from datumbook.stations.holes.stops import Stops
from datumbook.stations.holes.threads import ThreadHoles
from datumbook.stations.holes.tools import Tools
from datumbook.stations.holes.walks import Walk, walks

LARGE, LARGE_TYPE, SMALL_TYPE = 1.3, 1.4, 0.75
THREADED = ("start tap", "finish tap", "chase")
BARE_HAND = ("deburr", "probe depth")  # whose tool is told by the operation
PEN_BOX = "□\N{NO-BREAK SPACE}"
HOW_TO_SET = (
    "Touch anew with every tool. Touch, feeler and depth together, set back to the scale's last "
    "line, are the stop. Try it first."
)


class Cards:
    """A card a walk, each dangerous hole on one of its own behind that of its drilling; the cards
    of other work behind them all.
    """

    def __init__(
        self,
        steps: Steps,
        own: OwnLines,
        tools: Tools,
        stops: Stops,
        forbidden: ForbiddenCuts,
        threads: ThreadHoles,
        reach: ThreadReach,
        others: Sequence[Form],
    ) -> None:
        self.steps, self.own, self.tools, self.stops = steps, own, tools, stops
        self.forbidden, self.threads, self.reach, self.others = forbidden, threads, reach, others
        self.scale = steps.groups.scale

    def sheet(self) -> Sheet:
        """The sheet of the cards."""
        return Sheet(
            name="Cards",
            read=True,
            title="Cards",
            parts=[*(self._card(*one) for one in self._wanted()), *self.others],
            how=HOW_TO_SET,
            scale=LARGE,
            widths={1: 27, 2: 55, 3: 13},
            stage="planned",
            penned_whole=True,
            uncut=True,
        )

    def _wanted(self) -> Iterator[tuple[Walk, Danger | None]]:
        """The walks in turn: the holes worked to one stop, then each dangerous one alone."""
        for walk in walks(self.steps):
            row = self._drilled(walk)
            if row is None or self.steps.together(row):
                yield walk, None
            yield from ((walk, one) for one in (self.steps.apart(row) if row else ()))

    def _drilled(self, walk: Walk) -> str | None:
        """The row of what a walk drills, if it does."""
        rows = map(walk.row, walk.operations)
        return next((row for row in rows if row in self.steps.drills), None)

    def _card(self, walk: Walk, danger: Danger | None) -> Table:
        group, said = walk.group, f" ▲ DANGER: {danger.hole} alone, last" if danger else ""
        return Table(
            key="_".join(("card", walk.key, *((danger.hole,) if danger else ()))),
            title=f"{walk.title}{said}, {group.spec.words}",
            heading=f"Set-up {walk.set_up}",
            note=_minded(walk),
            rows=[
                Row("scale", f"{group.face_words} up"),
                Row("other", OTHER_UNIT[self.scale.unit(group.unit)]),
            ],
            columns=list(self._lines(walk, danger)),
            turned=True,
        )

    def _lines(self, walk: Walk, danger: Danger | None) -> Iterator[Column]:
        """What stands against it; what is in the spindle, at which holes, and how it is set."""
        drilled = self._drilled(walk)
        holes = self.steps.together(drilled) if drilled else walk.group.walk
        holes = [danger.hole] if danger else holes
        cuts = [name for name in walk.operations if walk.row(name) in self.steps.cuts]
        yield self._warning(holes, [self._cut(walk.row(name), danger) for name in cuts])
        for name in walk.operations:
            yield from self._work(walk, name, holes, in_hand=danger is not None)
            if name in cuts:
                yield from self._setting(walk, name, holes[0], danger)
        if any(name in THREADED for name in walk.operations):
            yield from self._thread(walk)

    def _cut(self, row: str, danger: Danger | None) -> Key:
        """What is said of a cut that may be forbidden."""
        apart = danger if row in self.steps.drills else None
        return self.forbidden.said[self.forbidden.row_of(row, apart)]

    def _warning(self, holes: Sequence[str], cuts: Sequence[Key]) -> Result:
        """What stands against the walk, before anything else."""
        lines = [self.own.line[hole] for hole in holes]
        if not cuts:
            return self._said("warning", "WARNING", single_holes.left_out_in_words, lines=lines)
        warning = single_holes.forbidden_or_left_out
        return self._said("warning", "WARNING", warning, forbidden=cuts[0], lines=lines)

    def _work(
        self, walk: Walk, name: str, holes: Sequence[str], *, in_hand: bool
    ) -> Iterator[Column]:
        """What an operation is done with, and a box for the pen at each of its holes; `in_hand`
        where the tool turns already.
        """
        row, word, again = walk.row(name), row_word(name), standings.said_again
        if name not in BARE_HAND:
            yield self._said(f"{word}_tool", f"{name}: tool", again, words=self.tools.tool[row])
        if row in self.tools.turning and not in_hand:
            yield Result(
                name=f"{word}_spindle",
                words="spindle",
                unit="1/min",
                equation=standings.shown_again,
                inputs={"value": self.tools.spindle_speed[row]},
                rows=["scale"],
            )
        if (feed := self.tools.feed.find(row)) and not in_hand:
            yield self._said(f"{word}_feed", "feed a turn", again, words=feed)
        boxes = "  ".join(f"{PEN_BOX}{hole}" for hole in holes)
        yield words(f"{word}_holes", f"{name}: done", boxes, rows=["scale"])

    def _setting(self, walk: Walk, name: str, hole: str, danger: Danger | None) -> Iterator[Column]:
        """The touch, the depth and the stop: as typed in the book, else boxes to write in."""
        row, word, settings = walk.row(name), row_word(name), self.stops.settings
        unit = self.scale.unit(walk.group.unit)
        touch, feeler = settings.touch_reading[row], settings.feeler[row]
        yield Result(
            name=f"{word}_touch",
            words=f"touch │ feeler, {unit}",
            unit=lambda _: unit,
            decimals=READ_TO[unit],
            equation=standings.shown_again,
            inputs={"value": lambda at: touch if at == "scale" else feeler},
        )
        goes_to, stop = self.stops.goes_to(row, hole), self.stops.stop_of(row, hole)
        places, which = self.scale.places(unit), "tip goes to" if self._drilled(walk) else "depth"
        yield self._both(f"{word}_depth", which, unit, places, goes_to)
        yield self._both(f"{word}_stop", "SET STOP AT", unit, places, stop, LARGE_TYPE)
        if danger is not None:
            yield words("danger", "▲ DANGER", f"over {danger.over}", rows=["scale"])
            deepest = self.stops.danger.deepest_tip[self.stops.danger.row_of(row, danger.hole)]
            yield self._both("deepest", "▲ NO TIP BELOW", unit, READ_TO[unit], deepest)

    def _thread(self, walk: Walk) -> Iterator[Column]:
        """How deep a thread is cut, and the turns of the tap to there."""
        group = walk.group
        unit, depth = self.scale.unit(group.unit), self.reach.thread_depth[group.spec.key]
        yield self._both("thread_depth", "full thread to", unit, READ_TO[unit], depth)
        yield Result(
            name="turns",
            words="turns, and the lead",
            unit="",
            decimals=1,
            equation=hole_safety.depth_in_pitches,
            inputs={"depth": depth, "pitch": self.threads.pitch[group.spec.key]},
            rows=["scale"],
        )

    def _said(self, name: str, heading: str, equation: Equation, **inputs: Input) -> Result:
        """A line of words."""
        return Result(name=name, words=heading, equation=equation, inputs=inputs, rows=["scale"])

    def _both(
        self, name: str, heading: str, unit: str, places: int, value: Key, size: float = 1.0
    ) -> Result:
        """A size in the unit of the scale, and smaller beside it in the other."""
        other = OTHER_UNIT[unit]
        return Result(
            name=name,
            words=f"{heading}, {unit}",
            unit=lambda at: unit if at == "scale" else other,
            decimals=lambda at: places if at == "scale" else READ_TO[other] - 1,
            equation=standings.shown_again,
            inputs={"value": value},
            type_size=lambda at: size if at == "scale" else SMALL_TYPE,
        )


def _minded(walk: Walk) -> str:
    """What to mind at a walk."""
    by_hand = table("cautions")["by_operation"] | {"drill": walk.group.shop.stop}
    minded = [by_hand[name] for name in walk.operations if name in by_hand]
    return f"Mind: {'; '.join(minded)}." if minded else ""
