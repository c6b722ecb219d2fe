"""Threads: what hole each thread wants, what its drill leaves of it, which drills do better, what
it is mistaken for.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from datumbook.cells.columns import Check, Column, Sizes, words
from datumbook.cells.tables import Prose, Sheet, Table
from datumbook.equations import hole_safety, thread_forms, threads
from datumbook.numbers.quantities import read_quantity
from datumbook.standards.drill_choice import INCH, drill_refusal
from datumbook.standards.drills import Choice
from datumbook.standards.look_alikes import look_alikes
from datumbook.stations.holes.hole_groups import Group, Groups, quantity
from datumbook.workbook.layout import WHOLE, Layout

PERCENT = Sizes("%", 1, width=9.5)
RANKED, ALIKE = 3, 3
SMALLEST = {"2B": threads.smallest_minor_2b, "6H": threads.smallest_minor_6h}
LARGEST: dict[str, Any] = {
    "2B": threads.largest_minor_2b,
    "6H": threads.largest_minor_6h,
    "ISO 228-1": thread_forms.largest_pipe_minor,
    "BS 93": thread_forms.largest_association_minor,
}


def sheet(layout: Layout) -> Sheet:
    """The sheet of the threads."""
    groups = Groups(layout)
    drilled = [one for one in groups.all if one.drill]
    chosen: tuple[Table | Prose, ...] = (
        (_drills(groups, drilled), *_refused(drilled)) if drilled else ()
    )
    return Sheet(
        name="Threads", title="Threads and drills", parts=(_holes(groups), *chosen, _alike(groups))
    )


def _holes(groups: Groups) -> Table:
    reasons = [
        f"{one.spec.words}: {one.spec.drill_reason}" for one in groups.all if one.spec.drill_reason
    ]
    return Table(
        key="threads",
        title="The hole for the thread",
        heading="Group",
        note="Percent of thread has two rules: drill charts count 1.299 pitches as full, the "
        "basic profile 1.0825; "
        "75 by the first is 90 by the second. Other forms count their own depth. A hole outside "
        "its class needs a "
        "recorded reason: concede it on the Release sheet. No limits are printed where none are "
        "known. " + " ".join(reasons),
        turned=True,
        rows=groups.rows(),
        columns=tuple(_hole_columns(groups)),
    )


def _hole_columns(groups: Groups) -> Iterator[Column | Check]:
    sizes, drilled = groups.sizes, groups.keys(lambda one: one.drill)
    yield words("thread", "thread", groups.of(lambda one: one.thread.designation), width=15)
    yield sizes.given("major", "major diameter", groups.of(lambda one: one.major))
    yield sizes.given("pitch", "pitch", groups.of(lambda one: quantity(one.thread.pitch, one.unit)))
    yield from _limits(groups)
    if drilled:
        engaged = [key for key in drilled if groups.by_key[key].engagement_mm]
        limited = [
            key
            for key in drilled
            if groups.by_key[key].thread.limit_class in LARGEST and key not in engaged
        ]
        source = groups.of(lambda one: f"minor diameter of class {one.thread.limit_class}")
        yield words(
            "drill", "drill", groups.of(lambda one: one.drill.name), rows=drilled, width=9.5
        )
        yield sizes.given(
            "hole", "drilled hole", groups.of(lambda one: one.size("drill")), rows=drilled
        )
        yield Check(
            of="hole", low="smallest_minor", high="largest_minor", rows=limited, source=source
        )
        yield from _recommended(groups, engaged)
        yield from _shares(groups, drilled)


def _recommended(groups: Groups, engaged: list[str]) -> Iterator[Column | Check]:
    """The limits that ASME B1.1 recommends for a length of engagement, where a group asks for
    them.
    """
    if not engaged:
        return
    sizes = groups.sizes
    yield sizes.given(
        "engaged_over",
        "engaged over",
        groups.of(lambda one: one.spec.engagement_length),
        rows=engaged,
    )
    yield sizes.result("minor_tolerance", "minor tolerance", threads.minor_tolerance_2b, engaged)
    yield Sizes("", 2, width=9.5).result(
        "recommended_share",
        "of it, from",
        thread_forms.recommended_share,
        engaged,
        engagement="threads.{row}.engaged_over",
    )
    yield sizes.result(
        "recommended_least", "recommended, least", thread_forms.recommended_smallest_hole, engaged
    )
    yield sizes.result(
        "recommended_most", "recommended, largest", thread_forms.recommended_largest_hole, engaged
    )
    yield Check(
        of="hole",
        low="recommended_least",
        high="recommended_most",
        rows=engaged,
        source="recommended by ASME B1.1 for its length of engagement",
    )


def _limits(groups: Groups) -> Iterator[Column]:
    """The limits of the hole, by the class of each family; nothing for a family of which none are
    known.
    """
    sizes, by_class = groups.sizes, {}
    for name in LARGEST:
        by_class[name] = groups.keys(lambda one, name=name: one.thread.limit_class == name)  # type: ignore[misc]
    tabled = [*by_class["6H"], *by_class["ISO 228-1"]]
    formed = groups.keys(lambda one: not one.thread.form.charted)
    if tabled:
        tolerance = groups.of(lambda one: quantity(one.thread.minor_tolerance, one.unit))
        yield sizes.given("minor_tolerance", "minor tolerance, tabled", tolerance, rows=tabled)
    if formed:
        minor = groups.of(lambda one: read_quantity(f"{one.thread.minor_mm:.9f} mm"))
        yield sizes.given("minor", "basic minor", minor, rows=formed)
    for name, equation in SMALLEST.items():
        yield sizes.result("smallest_minor", "least hole", equation, by_class[name])
    for name in ("ISO 228-1", "BS 93"):
        minor = groups.of(lambda one: read_quantity(f"{one.thread.minor_mm:.9f} mm"))
        yield sizes.given("smallest_minor", "least hole", minor, rows=by_class[name])
    for name, equation in LARGEST.items():
        yield sizes.result("largest_minor", "largest hole", equation, by_class[name])


def _shares(groups: Groups, drilled: list[str]) -> Iterator[Column | Check]:
    charted = [key for key in drilled if groups.by_key[key].thread.form.charted]
    other = [key for key in drilled if key not in charted]
    opened = [key for key in drilled if groups.by_key[key].before]
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
        old = groups.of(lambda one: quantity(one.before.major, one.before.unit))
        yield groups.sizes.given("old_major", "old major", old, rows=opened)
        yield groups.sizes.result(
            "groove_left",
            "old groove left",
            hole_safety.groove_left,
            opened,
            new_hole="threads.{row}.hole",
        )
        yield Check(
            of="groove_left",
            high="metal_allowances.nought",
            rows=opened,
            source="the drill takes the old thread away; else gauge the profile",
        )


def _drills(groups: Groups, drilled: list[Group]) -> Table:
    ranked = {one.spec.key: _ranked(one) for one in drilled}

    def nth(place: int) -> Any:
        return lambda row: _in_words(ranked[row][place]) if place < len(ranked[row]) else "none"

    return Table(
        key="drills",
        title="Drills of the shop, the nearest to the share of thread asked for first",
        heading="Group",
        note=f"Series owned: {', '.join(groups.all[0].shop.drills)}. Percent by drill charts / by "
        f"the basic profile.",
        rows=[row for row in groups.rows() if row.key in ranked],
        columns=(
            words(
                "wanted", "share asked for", groups.of(lambda one: f"{one.target:.0%}"), width=9.5
            ),
            *(
                words(f"drill_{place + 1}", f"choice {place + 1}", nth(place), width=15)
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
