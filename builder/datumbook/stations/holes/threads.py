"""Threads: what hole each thread wants, what its drill leaves of it, which drills do better, what
it is mistaken for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from datumbook.cells.columns import Check, Column, Sizes, words
from datumbook.cells.tables import Prose, Sheet, SheetPart, Table
from datumbook.equations import hole_safety, thread_forms, threads
from datumbook.numbers.quantities import read_quantity
from datumbook.standards.drill_choice import INCH, drill_refusal
from datumbook.standards.drills import Choice
from datumbook.standards.look_alikes import look_alikes
from datumbook.stations.holes.allowances import MetalAllowances
from datumbook.stations.holes.hole_groups import PERCENT, Group, Groups, quantity
from datumbook.workbook.layout import WHOLE

RANKED, ALIKE = 3, 3
SMALLEST = {"2B": threads.smallest_minor_2b, "6H": threads.smallest_minor_6h}
LARGEST: dict[str, Callable[..., float]] = {
    "2B": threads.largest_minor_2b,
    "6H": threads.largest_minor_6h,
    "ISO 228-1": thread_forms.largest_pipe_minor,
    "BS 93": thread_forms.largest_association_minor,
}


NOTE = (
    "Percent of thread has two rules: drill charts count 1.299 pitches as full, the basic profile "
    "1.0825; 75 by the first is 90 by the second. Other forms count their own depth. A hole "
    "outside its class needs a recorded reason: concede it on the Release sheet. No limits are "
    "printed where none are known."
)


class ThreadHoles(Table):
    """The hole each thread wants, and what its drill leaves of it."""

    major: Column
    pitch: Column
    smallest_minor: Column
    largest_minor: Column


class Threads:
    """The threads of all groups: their holes, their drills, what they are mistaken for."""

    def __init__(self, groups: Groups, allowed: MetalAllowances) -> None:
        self.groups, self.sizes, self.allowed = groups, groups.sizes, allowed
        self.drilled = [one for one in groups.all if one.drill]
        self.holes = self._holes()

    def sheet(self) -> Sheet:
        """The sheet of the threads."""
        parts: list[SheetPart] = [self.holes]
        if self.drilled:
            parts += [self._drills(), *_refused(self.drilled)]
        parts.append(_alike(self.groups))
        return Sheet(name="Threads", title="Threads and drills", parts=parts)

    def _holes(self) -> ThreadHoles:
        reasons = [
            f"{one.spec.words}: {one.spec.drill_reason}"
            for one in self.groups.all
            if one.spec.drill_reason
        ]
        return ThreadHoles(
            key="threads",
            title="The hole for the thread",
            heading="Group",
            note=f"{NOTE} {' '.join(reasons)}",
            turned=True,
            rows=self.groups.rows(),
            columns=tuple(self._columns()),
        )

    def _columns(self) -> Iterator[Column | Check]:
        sizes, of = self.sizes, self.groups.of
        yield words("thread", "thread", of(lambda one: one.thread.designation), width=15)
        yield sizes.given("major", "major diameter", of(lambda one: one.major))
        yield sizes.given("pitch", "pitch", of(lambda one: quantity(one.thread.pitch, one.unit)))
        yield from self._limits()
        if self.drilled:
            yield from self._drilled_holes()

    def _limits(self) -> Iterator[Column]:
        """The limits of the hole, by the class of each family; nothing for a family of which none
        are known.
        """
        sizes, groups = self.sizes, self.groups
        by_class: dict[str, list[str]] = {name: [] for name in LARGEST}
        for one in groups.all:
            by_class.setdefault(one.thread.limit_class or "", []).append(one.spec.key)
        tabled = [*by_class["6H"], *by_class["ISO 228-1"]]
        formed = groups.keys(lambda one: not one.thread.form.charted)
        minor = groups.of(lambda one: read_quantity(f"{one.thread.minor_mm:.9f} mm"))
        if tabled:
            tolerance = groups.of(lambda one: quantity(one.thread.minor_tolerance, one.unit))
            yield sizes.given("minor_tolerance", "minor tolerance, tabled", tolerance, rows=tabled)
        if formed:
            yield sizes.given("minor", "basic minor", minor, rows=formed)
        for name, smallest in SMALLEST.items():
            yield sizes.result("smallest_minor", "least hole", smallest, by_class[name])
        for name in ("ISO 228-1", "BS 93"):
            yield sizes.given("smallest_minor", "least hole", minor, rows=by_class[name])
        for name, largest in LARGEST.items():
            yield sizes.result("largest_minor", "largest hole", largest, by_class[name])

    def _drilled_holes(self) -> Iterator[Column | Check]:
        """The drill of each group, and its hole within the limits."""
        groups, drilled = self.groups, [one.spec.key for one in self.drilled]
        engaged = [key for key in drilled if groups.by_key[key].engagement_mm]
        limited = [
            key
            for key in drilled
            if groups.by_key[key].thread.limit_class in LARGEST and key not in engaged
        ]
        hole = self.sizes.given(
            "hole", "drilled hole", groups.of(lambda one: one.size("drill")), rows=drilled
        )
        yield words(
            "drill", "drill", groups.of(lambda one: one.drill.name), rows=drilled, width=9.5
        )
        yield hole
        yield Check(
            of=hole,
            low=lambda row: self.holes.smallest_minor[row],
            high=lambda row: self.holes.largest_minor[row],
            rows=limited,
            source=groups.of(lambda one: f"minor diameter of class {one.thread.limit_class}"),
        )
        if engaged:
            yield from self._recommended(hole, engaged)
        yield from self._shares(hole, drilled)

    def _recommended(self, hole: Column, engaged: list[str]) -> Iterator[Column | Check]:
        """The limits that ASME B1.1 recommends for a length of engagement, where a group asks for
        them.
        """
        sizes, over = self.sizes, self.groups.of(lambda one: one.spec.engagement_length)
        length = sizes.given("engaged_over", "engaged over", over, rows=engaged)
        least, most = thread_forms.recommended_smallest_hole, thread_forms.recommended_largest_hole
        low = sizes.result("recommended_least", "recommended, least", least, engaged)
        high = sizes.result("recommended_most", "recommended, largest", most, engaged)
        yield length
        yield sizes.result(
            "minor_tolerance", "minor tolerance", threads.minor_tolerance_2b, engaged
        )
        yield Sizes("", 2, width=9.5).result(
            "recommended_share",
            "of it, from",
            thread_forms.recommended_share,
            engaged,
            engagement=length,
        )
        yield from (low, high)
        source = "recommended by ASME B1.1 for its length of engagement"
        yield Check(of=hole, low=low, high=high, rows=engaged, source=source)

    def _shares(self, hole: Column, drilled: list[str]) -> Iterator[Column | Check]:
        by_key = self.groups.by_key
        charted = [key for key in drilled if by_key[key].thread.form.charted]
        other = [key for key in drilled if key not in charted]
        opened = [key for key in drilled if by_key[key].before]
        if charted:
            yield PERCENT.result(
                "drill_chart_thread", "thread by drill charts", threads.drill_chart_thread, charted
            )
            yield PERCENT.result(
                "basic_profile_thread", "thread by 5/8 H", threads.basic_profile_thread, charted
            )
        if other:
            yield PERCENT.result(
                "thread_share", "thread of its own depth", thread_forms.thread_share, other
            )
        if opened:
            old = self.groups.of(lambda one: quantity(one.before.major, one.before.unit))
            left = self.sizes.result(
                "groove_left", "old groove left", hole_safety.groove_left, opened, new_hole=hole
            )
            yield self.sizes.given("old_major", "old major", old, rows=opened)
            yield left
            yield Check(
                of=left,
                high=self.allowed.nought,
                rows=opened,
                source="the drill takes the old thread away; else gauge the profile",
            )

    def _drills(self) -> Table:
        groups, ranked = self.groups, {one.spec.key: _ranked(one) for one in self.drilled}

        def nth(row: str, place: int) -> str:
            return _in_words(ranked[row][place]) if place < len(ranked[row]) else "none"

        return Table(
            key="drills",
            title="Drills of the shop, the nearest to the share of thread asked for first",
            heading="Group",
            note=f"Series owned: {', '.join(groups.shop.drills)}. Percent by drill charts / by "
            f"the basic profile.",
            rows=[row for row in groups.rows() if row.key in ranked],
            columns=(
                words(
                    "wanted",
                    "share asked for",
                    groups.of(lambda one: f"{one.target:.0%}"),
                    width=9.5,
                ),
                *(
                    words(
                        f"drill_{place + 1}",
                        f"choice {place + 1}",
                        partial(nth, place=place),
                        width=15,
                    )
                    for place in range(RANKED)
                ),
            ),
        )


def _ranked(group: Group) -> list[Choice]:
    """The drills inside the limits: of the thread's own system first, then of the others the shop
    owns.
    """
    own = group.inside(group.systems)
    names = {one.drill.name for one in own}
    others = [one for one in group.inside(group.shop.drills) if one.drill.name not in names]
    return [*own, *others][:RANKED]


def _in_words(one: Choice) -> str:
    sizes = (
        f"{one.drill.name}: {one.drill.diameter_mm / INCH:.4f} in, {one.drill.diameter_mm:.3f} mm"
    )
    return f"{sizes}, {one.drill_chart_thread:.0%} / {one.basic_profile_thread:.0%}".replace(
        "%", " %"
    )


def _refused(drilled: list[Group]) -> Iterator[Prose]:
    """Why a drill of the spec lies outside its limits, and which are inside."""
    found = [
        (one, drill_refusal(one.thread, one.drill, one.shop.drills, one.engagement_mm))
        for one in drilled
        if one.drill
    ]
    lines = [(f"{one.spec.words}: {said}",) for one, said in found if said]
    if lines:
        yield Prose(title="Drills outside their limits", lines=lines, widths=(WHOLE,))


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
