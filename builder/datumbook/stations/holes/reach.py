"""The thread a fastener finds in its hole: how deep it goes, how much of it is engaged, how much
its rule wants.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Check, Column, words
from datumbook.cells.tables import Table
from datumbook.equations import cutting, hole_safety, standings
from datumbook.numbers.quantities import read_quantity
from datumbook.stations.holes.allowances import MetalAllowances
from datumbook.stations.holes.fastener_groups import fitted, rule_of, stripping_rows
from datumbook.stations.holes.hole_groups import Groups
from datumbook.stations.holes.stripping import StrippedThreads
from datumbook.stations.holes.threads import ThreadHoles

NOTE = (
    "A thread that stands already loses what its face loses; one cut on this job is as deep as "
    "the drawing says from the "
    "finished face. Engagement counts from the relief to the end of fastener or thread, whichever "
    "is shorter."
)


class ThreadReach(Table):
    """The thread of each group for its fastener."""

    thread_depth: Column
    engaged_length: Column
    needed: Column


def reach(
    groups: Groups,
    allowed: MetalAllowances,
    threads: ThreadHoles,
    stripping: StrippedThreads | None,
) -> ThreadReach:
    """The table of the thread left for the fastener."""
    depths, engaged = list(_depths(groups)), list(_engaged(groups))
    return ThreadReach(
        key="reach",
        title="Thread for the fastener",
        heading="Group",
        note=NOTE,
        rows=groups.rows(),
        columns=(
            *depths,
            *_in_the_hole(groups, allowed, depths[-1]),
            *engaged,
            *_needed(groups, engaged[-1], threads, stripping),
        ),
        turned=True,
    )


def _depths(groups: Groups) -> Iterator[Column]:
    """The thread from the finished face, less the cut planned where it stands already; the last
    column is its depth.
    """
    sizes = groups.sizes
    skimmed = groups.keys(lambda one: not one.cut_here and one.planned_cut)
    plain = groups.keys(lambda one: one.cut_here or not one.planned_cut)
    stated = groups.of(lambda one: one.spec.thread_depth)
    if skimmed:
        drawn = sizes.given("drawn", "thread before the face is cut", stated, rows=skimmed)
        yield drawn
        yield sizes.result(
            "skim",
            "cut planned on the face",
            standings.shown_again,
            skimmed,
            value=groups.of(lambda one: one.planned_cut),
        )
        yield sizes.result(
            "thread_depth",
            "thread from finished face",
            hole_safety.depth_after_skim,
            skimmed,
            depth=drawn,
        )
    yield sizes.given("thread_depth", "thread from finished face", stated, rows=plain)


def _in_the_hole(
    groups: Groups, allowed: MetalAllowances, thread_depth: Column
) -> Iterator[Column | Check]:
    """The fastener in its hole, where its length is known."""
    sizes, known = groups.sizes, fitted(groups)
    if not known:
        return
    length = groups.of(lambda one: one.spec.fastener.length)
    grip = groups.of(lambda one: one.spec.fastener.grip)
    room = sizes.result(
        "room_below_fastener",
        "room below it",
        hole_safety.room_below_fastener,
        known,
        usable_depth=thread_depth,
    )
    yield sizes.given("fastener_length", "fastener", length, rows=known)
    yield sizes.given("grip", "above the face", grip, rows=known)
    yield sizes.result("length_in_hole", "in the hole", hole_safety.length_in_hole, known)
    yield room
    source = "a fastener that bottoms does not clamp"
    yield Check(of=room, low=allowed.nought, rows=known, source=source)


def _engaged(groups: Groups) -> Iterator[Column]:
    """The thread that will hold: from the relief to the end of fastener or thread."""
    sizes, known, none = groups.sizes, fitted(groups), read_quantity("0 mm")
    unfitted = groups.keys(lambda one: one.spec.key not in known)
    relief = groups.of(lambda one: one.spec.counterbore.depth if one.spec.counterbore else none)
    name, heading = "engaged_length", "thread engaged"
    if known:
        yield sizes.result(name, heading, hole_safety.engaged_length, known, relief=relief)
    yield sizes.result(name, heading, cutting.engagement, unfitted, counterbore_depth=relief)


def _needed(
    groups: Groups, engaged: Column, threads: ThreadHoles, stripping: StrippedThreads | None
) -> Iterator[Column | Check]:
    """The thread that the rule of each group wants, under which its own may not be."""
    sizes, counted = groups.sizes, groups.keys(lambda one: rule_of(one).diameters)
    yield words("rule", "rule of engagement", groups.of(lambda one: rule_of(one).name), width=9.5)
    needed = sizes.result(
        "needed",
        "needed by it",
        hole_safety.engagement_by_diameters,
        counted,
        major=threads.major,
        diameters=groups.of(lambda one: read_quantity(str(rule_of(one).diameters))),
    )
    yield needed
    for rule, wanted in _reckoned(stripping):
        rows = [key for key in stripping_rows(groups) if rule_of(groups.by_key[key]).name == rule]
        if wanted is not None and rows:
            counted = [*counted, *rows]
            yield sizes.result("needed", "needed by it", standings.shown_again, rows, value=wanted)
    yield Check(
        of=engaged,
        low=needed,
        rows=counted,
        source=groups.of(lambda one: f"rule {rule_of(one).name}"),
    )


def _reckoned(stripping: StrippedThreads | None) -> Iterator[tuple[str, Column | None]]:
    """The rules that are worked out from strengths, and where each stands in this book."""
    if stripping is not None:
        yield "strength", stripping.strength
        yield "FED-STD 14", stripping.fed_std_14
        yield "FED-STD 16", stripping.fed_std_16
