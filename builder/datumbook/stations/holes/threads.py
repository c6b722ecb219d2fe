"""Threads: what hole each thread wants, what its drill leaves of it, which drills do better, what
it is mistaken for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from datumbook.cells.columns import Check, Column, Input, Per, Reading, Result, Sizes
from datumbook.cells.handles import Key
from datumbook.cells.tables import Prose, Sheet
from datumbook.equations import drilled_holes, hole_safety, openings, thread_forms, threads
from datumbook.numbers.quantities import read_quantity
from datumbook.standards.drill_choice import SAME, drill_refusal
from datumbook.standards.look_alikes import look_alikes
from datumbook.stations.holes.allowances import MetalAllowances
from datumbook.stations.holes.choices import LARGEST, SMALLEST_MINOR
from datumbook.stations.holes.group import quantity
from datumbook.stations.holes.group_tables import GroupTable, held, picked_words, probed, stated
from datumbook.stations.holes.hole_groups import PERCENT, Groups
from datumbook.stations.holes.openings import Openings
from datumbook.workbook.placed import WHOLE

ALIKE = 3


THREADS_NOTE = (
    "Percent of thread has two rules: drill charts count 1.299 pitches as full, the basic profile "
    "1.0825; 75 by the first is 90 by the second. Other forms count their own depth. A hole "
    "outside its class needs a recorded reason: concede it on the Release sheet. No limits are "
    "printed where none are known. A drill cuts over its own size: probe its first hole before it "
    "is tapped, and that is judged instead of the probable one."
)


class ThreadHoles(GroupTable):
    """The hole each thread wants, and what its drill leaves of it."""

    major: Column
    pitch: Column
    smallest_minor: Column
    largest_minor: Column

    thread: Column
    hole: Column
    drill: Column

    def __init__(self, groups: Groups, opened: Openings, allowed: MetalAllowances) -> None:
        self.groups, self.sizes, self.opened = groups, groups.sizes, opened
        reasons = [
            f"{one.spec.words}: {one.spec.drill_reason}"
            for one in groups.all
            if one.spec.drill_reason
        ]
        stand, drilled = opened.stand, groups.keys(lambda one: one.drill)
        hole = self._probable(drilled)
        first = self._first(drilled)
        super().__init__(
            groups,
            key="threads",
            title="The hole for the thread",
            note=f"{THREADS_NOTE} {' '.join(reasons)}",
            columns=(
                picked_words("thread", "thread", opened.said(opened.options, "thread")),
                self._value("major", "major diameter", None, opened.picked("major")),
                self._value("pitch", "pitch", None, opened.picked("pitch")),
                *self._limits(),
                *stated(
                    picked_words("drill", "drill", opened.of_drill("lines", stand.drill), drilled),
                    *self._drill(drilled),
                    hole,
                ),
                *self._of_class(hole),
                *stated(first),
                *self._of_class(first, spot=True),
                *stated(
                    self._counted(drilled),
                    *self._recommended(hole, first),
                    *self._shares(),
                    *self._opened(allowed),
                ),
            ),
        )
        if drilled:
            self.takes_over("probed", hole)

    def _drill(self, rows: list[str]) -> Iterator[Column]:
        """The drill that charts name, the size of the one taken, and what it cuts over that."""
        opened = self.opened
        yield picked_words("charts", "charts name", opened.said(opened.options, "charts"), rows)
        for name, heading, column in (
            ("drill_size", "its size", opened.stand.diameter),
            ("oversize", "it cuts over that", opened.stand.oversize),
        ):
            yield self._value(name, heading, rows, opened.of_drill("values", column))

    def _probable(self, rows: list[str]) -> Result:
        """The hole that the drill probably makes."""
        return self.sizes.result(
            "hole",
            "hole it makes, probably",
            drilled_holes.probable_hole,
            rows,
            drill=self._cell("drill_size"),
        )

    def _first(self, rows: list[str]) -> Reading:
        """The first hole of each drill, as it was probed."""
        of = self.groups.of
        near = of(lambda one: quantity(one.drill.diameter, one.drill.unit))
        widest = of(lambda one: one.major.to(one.unit))
        return probed(replace(self.sizes, group="holes"), widest, near, rows)

    def _counted(self, rows: list[str]) -> Result:
        """The hole that thread and groove are counted on."""
        return self.sizes.result(
            "counted",
            "hole counted on",
            drilled_holes.hole_counted_on,
            rows,
            probable=self._cell("hole"),
        )

    def _cell(self, name: str) -> Callable[[str], Key]:
        """A column of the group itself."""
        return lambda row: self.column(name)[row]

    def _value(
        self, name: str, heading: str, rows: list[str] | None, picked: dict[str, Per[Input]]
    ) -> Result:
        """A figure of what each group is opened to."""
        return self.sizes.result(name, heading, openings.value_at, rows, **picked)

    def _of_class(self, hole: Column, spot: bool = False) -> Iterator[Check]:
        """A hole against the limits of its class, where it is not held to others."""
        if hole.rows:
            yield Check(
                of=hole,
                low=lambda row: self.smallest_minor[row],
                high=lambda row: self.largest_minor[row],
                rows=self.groups.keys(
                    lambda one: (
                        one.drill and one.thread.limit_class in LARGEST and not one.engagement_mm
                    )
                ),
                source=self.groups.of(
                    lambda one: f"minor diameter of class {one.thread.limit_class}"
                ),
                spot=spot,
            )

    def _limits(self) -> Iterator[Column | Check]:
        """The limits of the hole, by the class of each family; nothing for a family of which none
        are known.
        """
        groups, sizes = self.groups, self.sizes
        of_class = {
            name: [one.spec.key for one in groups.all if one.thread.limit_class == name]
            for name in LARGEST
        }
        picked = self.opened.picked
        formed = groups.keys(lambda one: not one.thread.form.charted)
        tolerated = [key for name in ("2B", "6H", "ISO 228-1") for key in of_class[name]]
        if tolerated:
            tolerance = picked("minor_tolerance")
            yield self._value("minor_tolerance", "minor tolerance", tolerated, tolerance)
        if formed:
            minor = picked("minor")
            yield self._value("minor", "basic minor", formed, minor)
        for name, smallest in SMALLEST_MINOR.items():
            yield sizes.result("smallest_minor", "least hole", smallest, of_class[name])
        for name in ("ISO 228-1", "BS 93"):
            if of_class[name]:
                yield self._value("smallest_minor", "least hole", of_class[name], minor)
        for name, largest in LARGEST.items():
            yield sizes.result("largest_minor", "largest hole", largest, of_class[name])

    def _recommended(self, hole: Column, first: Column) -> tuple[Column | Check, ...]:
        """The limits that ASME B1.1 recommends for a length of engagement, where a group asks for
        them.
        """
        sizes, share = self.sizes, Sizes("", 2, width=9.5)
        rows = self.groups.keys(lambda one: one.drill and one.engagement_mm)
        over = self.groups.of(lambda one: one.spec.engagement_length)
        length = sizes.given("engaged_over", "engaged over", over, rows=rows)
        least, most = thread_forms.recommended_smallest_hole, thread_forms.recommended_largest_hole
        low = sizes.result("recommended_least", "recommended, least", least, rows)
        high = sizes.result("recommended_most", "recommended, largest", most, rows)
        return (
            length,
            share.result(
                "recommended_share",
                "of it, from",
                thread_forms.recommended_share,
                rows,
                engagement=length,
            ),
            low,
            high,
            *(
                Check(
                    of=one,
                    low=low,
                    high=high,
                    rows=rows,
                    source="recommended by ASME B1.1 for its length of engagement",
                    spot=one is first,
                )
                for one in (hole, first)
            ),
        )

    def _shares(self) -> tuple[Column, ...]:
        """How much of the thread a drilled hole leaves, by each rule."""
        hole = self._cell("counted")
        charted = self.groups.keys(lambda one: one.drill and one.thread.form.charted)
        other = self.groups.keys(lambda one: one.drill and not one.thread.form.charted)
        return (
            PERCENT.result(
                "drill_chart_thread",
                "thread by drill charts",
                threads.drill_chart_thread,
                charted,
                hole=hole,
            ),
            PERCENT.result(
                "basic_profile_thread",
                "thread by 5/8 H",
                threads.basic_profile_thread,
                charted,
                hole=hole,
            ),
            PERCENT.result(
                "thread_share",
                "thread of its own depth",
                thread_forms.thread_share,
                other,
                hole=hole,
            ),
        )

    def _opened(self, allowed: MetalAllowances) -> tuple[Column | Check, ...]:
        """What a drilled hole leaves of the old groove."""
        left = self.sizes.result(
            "groove_left",
            "old groove left",
            hole_safety.groove_left,
            self.groups.keys(lambda one: one.drill),
            new_hole=self._cell("counted"),
            old_major=self._cell("old_major"),
        )
        source = "the drill takes the old thread away; else gauge the profile"
        none = read_quantity("0 mm")
        return (
            self.sizes.result(
                "old_major",
                "old major",
                openings.major_before,
                left.rows,
                option=self.opened.option,
                before=self.groups.of(lambda one: one.major_before if one.before else none),
                drawn=self.groups.of(lambda one: one.major),
            ),
            *held(left, source, high=allowed.nought),
        )


class Threads:
    """The threads of all groups: their holes, their drills, what they are mistaken for."""

    def __init__(self, groups: Groups, opened: Openings, allowed: MetalAllowances) -> None:
        self.groups, self.holes = groups, ThreadHoles(groups, opened, allowed)

    def sheet(self) -> Sheet:
        """The sheet of the threads."""
        return Sheet(
            name="Threads",
            read=True,
            title="Threads and drills",
            parts=(self.holes, *_refused(self.groups), _alike(self.groups)),
            below=tuple(_charts_differ(self.groups)),
            stage="planned",
        )


def _refused(groups: Groups) -> Iterator[Prose]:
    """Why a drill of the spec lies outside its limits, and which are inside."""
    found = [
        (
            one,
            drill_refusal(
                one.thread, one.drill, one.shop.drills, one.engagement_mm, one.oversize_mm
            ),
        )
        for one in groups.all
        if one.drill
    ]
    lines = [(f"{one.spec.words}, as drawn: {said}",) for one, said in found if said]
    if lines:
        yield Prose(title="Drills outside their limits", lines=lines, widths=(WHOLE,))


def _charts_differ(groups: Groups) -> Iterator[Prose]:
    """Where the drill that charts name, the usual one, is not the one taken here, and why."""
    found = [(one, option) for one in groups.all if one.drill for option in one.options]
    lines = [
        (f"{one.spec.words}, {option.words}: {option.charted.remark} ({option.charted.source}).",)
        for one, option in found
        if option.charted and option.charted.remark != SAME
    ]
    if lines:
        yield Prose(title="Where charts name another drill", lines=lines, widths=(WHOLE,))


def _alike(groups: Groups) -> Prose:
    """What each thread is mistaken for, the hardest to tell first."""
    seen = {one.thread.designation: one.thread for one in groups.all}
    seen |= {one.before.designation: one.before for one in groups.all if one.before}
    lines = [
        (f"{name} looks like {other.thread.designation}: {other.words}",)
        for name, thread in seen.items()
        for other in look_alikes(thread)[:ALIKE]
    ]
    return Prose(
        title="Look-alikes: try a gauge before a tap",
        lines=lines or [("none known",)],
        widths=(WHOLE,),
    )
