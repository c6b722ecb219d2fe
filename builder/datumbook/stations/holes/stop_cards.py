"""Cards: one card for each walk of the schedule, in large print, to hang beside the spindle and to
write on.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from datumbook.cells.columns import Column, Equation, Input, Result, words
from datumbook.cells.face_maps import FaceMap
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Row, Sheet, Table
from datumbook.equations import cutting, forbidden_cuts, hole_safety, single_holes, standings
from datumbook.numbers.printing import figures
from datumbook.numbers.quantities import NO_LENGTH
from datumbook.standards.hole_rules import taps
from datumbook.stations.holes.allowances import lead_of
from datumbook.stations.holes.hole_groups import Steps, at_the_machine, row_word
from datumbook.stations.holes.hole_map import HoleMap
from datumbook.stations.holes.quill_scale import OTHER_UNIT, READ_TO, QuillScale
from datumbook.stations.holes.reach import ThreadReach
from datumbook.stations.holes.single_lines import OwnLines
from datumbook.stations.holes.sketches import sketch
from datumbook.stations.holes.stops import Stops
from datumbook.stations.holes.threads import ThreadHoles
from datumbook.stations.holes.tools import Tools
from datumbook.stations.holes.walks import Walk, walks

ROW_HEIGHT = 17.5  # pixels, before large print: close, so that two cards stand on a page
LARGE, LARGE_TYPE, SMALL_TYPE = 1.3, 1.4, 0.8
BARE_HAND = ("deburr", "probe depth")  # whose tool is told by the operation
PEN_BOX = "□\N{NO-BREAK SPACE}"
CARD_COLUMNS, FORM_COLUMNS = 3, 7  # printed: of a card; of a form, with its notes
VERDICTS_ON_A_CUT = ("depth", "floor", "wall", "hole")
SCALE, OTHERWISE = "scale", "other"  # the columns: in the unit of the scale, in the other unit
HOW_TO_SET = (
    "Touch anew with every tool. Touch, feeler and depth together, set back to the scale's last "
    "line, are the stop. Try it first."
)


@dataclass(frozen=True)
class Card:
    """A walk and its card."""

    walk: Walk
    table: Table
    warnings = ("warning", "before")  # the lines that are blank where nothing stands against it


class Cards:
    """A card a walk, under a sketch of each face that is up; the cards of other work behind."""

    def __init__(
        self,
        steps: Steps,
        own: OwnLines,
        tools: Tools,
        stops: Stops,
        threads: ThreadHoles,
        reach: ThreadReach,
        places: HoleMap,
        others: Sequence[Form],
    ) -> None:
        self.steps, self.own, self.tools, self.stops = steps, own, tools, stops
        self.threads, self.reach, self.others = threads, reach, others
        self.scale, self.forbidden = steps.groups.scale, stops.forbidden
        self.each = [Card(walk, self._card(walk)) for walk in walks(steps)]
        beside = FORM_COLUMNS if others else CARD_COLUMNS
        self.sketches: dict[int, FaceMap] = {}  # by set-up: its face, where the spec has places
        for set_up, cards in groupby(self.each, lambda one: one.walk.set_up):
            groups = list(dict.fromkeys(one.walk.group for one in cards))
            if drawn := sketch(places, groups, set_up, beside + 1, ROW_HEIGHT * LARGE):
                self.sketches[set_up] = drawn

    def sheet(self) -> Sheet:
        """The sheet of the cards."""
        wide = max((2 * len(one.outlines) for one in self.sketches.values()), default=0)
        return Sheet(
            name="Cards",
            read=True,
            title="Cards",
            parts=[at_the_machine(), *self._parts(), *self.others],
            behind=tuple(f"point {number}" for number in range(wide)),
            how=HOW_TO_SET,
            scale=LARGE,
            row_pixels=ROW_HEIGHT,
            widths={1: 30, 2: 58, 3: 11},
            stage="planned",
            penned_whole=True,
            uncut=True,
        )

    def _parts(self) -> Iterator[Table | FaceMap]:
        """The cards, before the first of each set-up the sketch of its face."""
        for set_up, cards in groupby(self.each, lambda one: one.walk.set_up):
            if set_up in self.sketches:
                yield self.sketches[set_up]
            yield from (one.table for one in cards)

    def _card(self, walk: Walk) -> Table:
        group = walk.group
        unit = self.scale.unit(group.unit)
        return Table(
            key=f"card_{walk.key}",
            title=f"{walk.title}, {group.spec.words}",
            heading=f"Set-up {walk.set_up}",
            note=walk.minded,
            rows=[Row(SCALE, f"{group.face_words} up"), Row(OTHERWISE, OTHER_UNIT[unit])],
            columns=list(self._lines(walk)),
            turned=True,
        )

    def _lines(self, walk: Walk) -> Iterator[Column]:
        """What stands against it; what is in the spindle, at which holes, and how it is set."""
        cuts = [name for name in walk.operations if walk.row(name) in self.steps.cuts]
        yield from self._warnings(walk)
        for name in walk.operations:
            yield from self._work(walk, name)
            if name in cuts:
                yield from self._setting(walk, name)
        if tapped := walk.first(*self.steps.threaded):
            yield from self._thread(walk, tapped)

    def _forbidding(self, walk: Walk) -> str | None:
        """The cut that may be forbidden: the first of the walk, or the drilling before its tap."""
        row = walk.first(*self.steps.cuts)
        tapped = walk.first(*self.steps.threaded)
        row = row or (self.steps.drilled_before(tapped) if tapped else None)
        return self.forbidden.row_of(row, walk.holes[-1]) if row else None

    def _warnings(self, walk: Walk) -> Iterator[Result]:
        """What stands against the walk, and what to do first, before anything else."""
        lines: Input = [self.own.line[hole] for hole in walk.holes]
        cut = self._forbidding(walk)
        if cut is None:
            left_out = single_holes.left_out_in_words
            yield self._said("warning", "WARNING", left_out, lines=lines)
            return
        yield Result(
            name="warning",
            words="WARNING",
            equation=single_holes.forbidden_or_left_out
            if walk.first(*self.steps.cuts)
            else forbidden_cuts.tapping_forbidden_or_left_out,
            inputs={"lines": lines, **self._against(walk, cut)},
            rows=[SCALE],
        )
        again, before = standings.said_again, self.forbidden.before[cut]
        yield self._said("before", "to do first", again, size=SMALL_TYPE, words=before)

    def _against(self, walk: Walk, cut: str) -> dict[str, Input]:
        """What forbids a cut, in its words; of a tap the verdicts on the drilling before it."""
        if walk.first(*self.steps.cuts):
            return {"forbidden": self.forbidden.said[cut]}
        return {name: self.forbidden.column(name)[cut] for name in VERDICTS_ON_A_CUT}

    def _work(self, walk: Walk, name: str) -> Iterator[Column]:
        """What an operation is done with, and a box for the pen at each of its holes."""
        row, word, again = walk.row(name), row_word(name), standings.said_again
        if name not in BARE_HAND:
            yield self._said(f"{word}_tool", f"{name}: tool", again, words=self.tools.tool[row])
        if row in self.tools.turning:
            yield Result(
                name=f"{word}_spindle",
                words="spindle",
                unit="1/min",
                equation=standings.shown_again,
                inputs={"value": self.tools.speed_set[row]},
                rows=[SCALE],
            )
        if (feeds := self.tools.feed) and (feed := feeds.find(row)):
            yield self._said(f"{word}_feed", "feed a turn", again, words=feed)
        boxes = "  ".join(f"{PEN_BOX}{hole}" for hole in walk.holes)
        yield words(f"{word}_holes", f"{name}: done", boxes, rows=[SCALE])

    def _setting(self, walk: Walk, name: str) -> Iterator[Column]:
        """The touch, the depth and the stop of a cut."""
        row, word, hole = walk.row(name), row_word(name), walk.holes[0]
        settings, drilled = self.stops.settings, row in self.steps.drills
        yield from self._touched(
            walk, name, word, settings.touch_reading[row], settings.feeler[row]
        )
        goes_to, stop = self.stops.goes_to(row, hole), self.stops.stop_of(row, hole)
        yield from self._sent(walk, word, "tip goes to" if drilled else "depth", goes_to, stop)
        if drilled and walk.danger is not None:
            yield self._said_danger(walk)
            deepest = self.stops.danger.no_tip_below[self.stops.danger.row_of(row, hole)]
            yield self._depth("deepest", "▲ NO TIP BELOW", walk, deepest)

    def _touched(
        self, walk: Walk, operation: str, word: str, touch: Key, feeler: Key
    ) -> Iterator[Column]:
        """The touch and its feeler: as typed in the book, else boxes to write in."""
        unit = self.scale.unit(walk.group.unit)
        step, quill = QuillScale.printed_step(unit), self.stops.allowances.quill
        yield Result(
            name=f"{word}_touch",
            words=walk.touch(operation),
            unit=unit,
            decimals=READ_TO[unit],
            equation=cutting.reading_on_safe_side,
            inputs={"reading": touch, "step": step, "quill": quill},
            rows=[SCALE],
            by_pen=True,
        )
        yield Result(
            name=f"{word}_feeler",
            words="feeler",
            unit=unit,
            decimals=READ_TO[unit],
            equation=cutting.depth_on_scale,
            inputs={"depth": feeler, "stop_scale": step},
            rows=[SCALE],
            by_pen=True,
        )

    def _sent(
        self, walk: Walk, word: str, heading: str, goes_to: Key, stop: Key
    ) -> Iterator[Column]:
        """How deep a tool is sent on the scale, and where the stop is set for it."""
        unit = self.scale.unit(walk.group.unit)
        yield from self._both(f"{word}_depth", heading, unit, goes_to)
        yield from self._both(
            f"{word}_stop", "SET STOP AT", unit, stop, LARGE_TYPE, self.stops.allowances.quill
        )

    def _thread(self, walk: Walk, row: str) -> Iterator[Column]:
        """How deep a thread is cut, the turns of the tap to there from where the thread begins, at
        the face or under the deepest relief that is cut before, and its lead: one whose lead is
        longer than the hole has room touches before. In a dangerous hole how deep its end may go,
        and its stop.
        """
        group, started = walk.group, walk.row("start tap")
        depth, pitch = self.reach.thread_depth[group.spec.key], self.threads.pitch[group.spec.key]
        yield self._depth("thread_depth", "full thread to", walk, depth)
        yield Result(
            name="turns",
            words="turns, or till it touches",
            unit="",
            decimals=2,
            equation=hole_safety.quarter_turns,
            inputs={"depth": depth, "begins": self._begins(row), "pitch": pitch},
            rows=[SCALE],
        )
        if walk.first(*self.steps.those("start tap"), *self.steps.those("finish tap")):
            yield self._leads(walk)
        if walk.danger is None:
            return
        alone = self.stops.taps
        at = alone.row_of(row, walk.danger.hole)
        if walk.first(started):
            touch, feeler = alone.touch_reading[at], alone.feeler[at]
            yield from self._touched(walk, "start tap", "tap", touch, feeler)
            stop = alone.stop_reading[at]
            yield from self._sent(walk, "tap", "its end goes to", alone.set_depth[at], stop)
        yield self._said_danger(walk)
        yield self._depth("deepest", "▲ NO TAP BELOW", walk, alone.no_tap_below[at])

    def _begins(self, tapped: str) -> Input:
        """How deep the thread begins: at the face where no relief is cut before its tap."""
        group, operation = self.steps.by_row[tapped]
        before = group.spec.operations[: group.spec.operations.index(operation)]
        deepest = self.reach.reliefs.most_depth.find(group.spec.key)
        return deepest if deepest and "counterbore" in before else NO_LENGTH

    @staticmethod
    def _leads(walk: Walk) -> Column:
        """The turns that the chamfer of each tap takes beyond its full thread."""
        leads = {tap.name: lead_of(tap) for tap in taps()}
        said = ", ".join(f"{tap} {figures(leads[tap].to(''))}" for tap in walk.group.taps)
        return words("leads", "and its lead, turns", said, rows=[SCALE])

    def _said_danger(self, walk: Walk) -> Column:
        assert walk.danger is not None
        return words("danger", "▲ DANGER", f"over {walk.danger.over}", rows=[SCALE])

    def _said(
        self, name: str, heading: str, equation: Equation, size: float = 1.0, **inputs: Input
    ) -> Result:
        """A line of words."""
        return Result(
            name=name,
            words=heading,
            equation=equation,
            inputs=inputs,
            rows=[SCALE],
            type_size=size,
            runs_on=size < 1,
        )

    def _both(
        self,
        name: str,
        heading: str,
        unit: str,
        value: Key,
        size: float = 1.0,
        quill: Column | None = None,
    ) -> Iterator[Column]:
        """A line of the scale, and smaller beside it the same in the other unit, on the safe side
        of it: of a reading by the way the scale grows, of a depth less deep.
        """
        other = OTHER_UNIT[unit]
        step = QuillScale.printed_step(other)
        said = f"{heading}, {unit} ({other})"
        yield Result(
            name=name,
            words=said,
            unit=lambda _: unit,
            decimals=self.scale.places(unit),
            equation=standings.shown_again,
            inputs={"value": value},
            type_size=size,
            rows=[SCALE],
            by_pen=quill is not None,
        )
        yield Result(
            name=name,
            words=said,
            unit=lambda _: other,
            decimals=READ_TO[other],
            equation=cutting.reading_on_safe_side if quill else cutting.depth_on_scale,
            inputs={"reading": value, "step": step, "quill": quill}
            if quill
            else {"depth": value, "stop_scale": step},
            type_size=SMALL_TYPE,
            rows=[OTHERWISE],
        )

    def _depth(self, name: str, heading: str, walk: Walk, value: Key) -> Result:
        """A depth that stands on no line of the scale: in each unit cut off after its
        last digit."""
        unit = self.scale.unit(walk.group.unit)
        units = {SCALE: unit, OTHERWISE: OTHER_UNIT[unit]}
        return Result(
            name=name,
            words=f"{heading}, {unit} ({units[OTHERWISE]})",
            unit=units.__getitem__,
            decimals=lambda at: READ_TO[units[at]],
            equation=cutting.depth_on_scale,
            inputs={"depth": value, "stop_scale": lambda at: QuillScale.printed_step(units[at])},
            type_size=lambda at: 1.0 if at == SCALE else SMALL_TYPE,
        )
