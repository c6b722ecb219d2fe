"""The thread a fastener finds in its hole: how deep it goes, how much of it is engaged, how much
its rule wants.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Check, Column, words
from datumbook.equations import cutting, hole_safety, standings
from datumbook.numbers.quantities import read_quantity
from datumbook.stations.holes.fastener_groups import fitted, rule_of, stripping_rows
from datumbook.stations.holes.hole_groups import Groups
from datumbook.workbook.layout import Layout

REACH = (
    "A thread that stands already loses what its face loses; one cut on this job is as deep as "
    "the drawing says from the "
    "finished face. Engagement counts from the relief to the end of fastener or thread, whichever "
    "is shorter."
)


def reach(layout: Layout, groups: Groups) -> Iterator[Column | Check]:
    """The columns of the thread left for the fastener."""
    sizes = groups.sizes
    skimmed = groups.keys(lambda one: not one.cut_here and one.planned_cut)
    plain = groups.keys(lambda one: one.cut_here or not one.planned_cut)
    stated = groups.of(lambda one: one.spec.thread_depth)
    if skimmed:
        yield sizes.given("drawn", "thread before the face is cut", stated, rows=skimmed)
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
            depth="reach.{row}.drawn",
        )
    yield sizes.given("thread_depth", "thread from finished face", stated, rows=plain)
    known = fitted(groups)
    if known:
        yield sizes.given(
            "fastener_length",
            "fastener",
            groups.of(lambda one: one.spec.fastener.length),
            rows=known,
        )
        yield sizes.given(
            "grip", "above the face", groups.of(lambda one: one.spec.fastener.grip), rows=known
        )
        yield sizes.result("length_in_hole", "in the hole", hole_safety.length_in_hole, known)
        yield sizes.result(
            "room_below_fastener",
            "room below it",
            hole_safety.room_below_fastener,
            known,
            usable_depth="reach.{row}.thread_depth",
        )
        yield Check(
            of="room_below_fastener",
            low="metal_allowances.nought",
            rows=known,
            source="a fastener that bottoms does not clamp",
        )
    yield from _engaged(layout, groups, known)


def _engaged(layout: Layout, groups: Groups, known: list[str]) -> Iterator[Column | Check]:
    """The thread that will hold against the thread the named rule wants."""
    sizes, unfitted = (
        groups.sizes,
        [one.spec.key for one in groups.all if one.spec.key not in known],
    )
    nought = read_quantity("0 mm")
    relief = groups.of(lambda one: one.spec.counterbore.depth if one.spec.counterbore else nought)
    if known:
        yield sizes.result(
            "engaged_length", "thread engaged", hole_safety.engaged_length, known, relief=relief
        )
    yield sizes.result(
        "engaged_length", "thread engaged", cutting.engagement, unfitted, counterbore_depth=relief
    )
    yield words("rule", "rule of engagement", groups.of(lambda one: rule_of(one).name), width=9.5)
    counted = groups.keys(lambda one: rule_of(one).diameters)
    yield sizes.result(
        "needed",
        "needed by it",
        hole_safety.engagement_by_diameters,
        counted,
        major="threads.{row}.major",
        diameters=groups.of(lambda one: read_quantity(str(rule_of(one).diameters))),
    )
    reckoned = {"strength": "strength", "FED-STD 14": "fed_std_14", "FED-STD 16": "fed_std_16"}
    for name, column in reckoned.items():
        rows = [
            key
            for key in groups.keys(lambda one, name=name: rule_of(one).name == name)  # type: ignore[misc]
            if f"stripping.{key}.{column}" in _stripping_keys(layout, groups)
        ]
        if rows:
            yield sizes.result(
                "needed",
                "needed by it",
                standings.shown_again,
                rows,
                value=f"stripping.{{row}}.{column}",
            )
            counted = [*counted, *rows]
    yield Check(
        of="engaged_length",
        low="needed",
        rows=counted,
        source=groups.of(lambda one: f"rule {rule_of(one).name}"),
    )


def _stripping_keys(layout: Layout, groups: Groups) -> set[str]:
    """The keys the stripping formulas have on the Fasteners sheet."""
    shop = layout.spec.shop
    given = {
        "fed_std_14": True,
        "fed_std_16": shop.iron_tensile,
        "strength": shop.iron_tensile and shop.iron_shear,
    }
    return {
        f"stripping.{key}.{name}"
        for key in stripping_rows(groups)
        for name, known in given.items()
        if known
    }
