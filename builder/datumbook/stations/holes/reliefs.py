"""Reliefs: the counterbore over each thread against thread, gasket hole and boss, and how deep it
is.
"""

from __future__ import annotations

from collections.abc import Iterator
from operator import attrgetter

from datumbook.cells.columns import Check, Column
from datumbook.cells.tables import Table
from datumbook.equations import hole_safety, standings
from datumbook.stations.holes.allowances import MetalAllowances, source_of
from datumbook.stations.holes.hole_groups import RATIO, Groups
from datumbook.stations.holes.threads import ThreadHoles

NOTE = (
    "A relief is larger than the thread, smaller than gasket hole and boss, and one to two "
    "pitches deep, all from the finished "
    "face. One that is cut before the face loses what the face loses: cut it after."
)
BOUNDS = {"gasket_hole": "gasket hole", "boss": "boss"}  # what a relief must stay inside of


def reliefs(groups: Groups, allowed: MetalAllowances, threads: ThreadHoles) -> Iterator[Table]:
    """The table of the reliefs, where there are any."""
    relieved = groups.keys(lambda one: one.spec.counterbore)
    if relieved:
        columns = (
            *_widths(groups, relieved, threads),
            *_depths(groups, relieved, allowed, threads),
        )
        yield Table(
            key="relief",
            title="Reliefs",
            heading="Group",
            note=NOTE,
            rows=[row for row in groups.rows() if row.key in relieved],
            columns=columns,
            turned=True,
        )


def _widths(groups: Groups, relieved: list[str], threads: ThreadHoles) -> Iterator[Column | Check]:
    sizes, by_key = groups.sizes, groups.by_key
    width = groups.of(lambda one: one.spec.counterbore.diameter)
    diameter = sizes.given("diameter", "relief diameter", width, rows=relieved)
    yield diameter
    bounds: list[Column] = []
    for name, heading in BOUNDS.items():
        rows = [key for key in relieved if getattr(by_key[key].spec, name)]
        if rows:
            own = groups.of(attrgetter(f"spec.{name}"))
            bounds.append(sizes.given(name, heading, own, rows=rows))
    yield from bounds
    bounded = [key for key in relieved if any(one.stands_in(key) for one in bounds)]
    free = [key for key in relieved if key not in bounded]
    if bounded:
        widest = sizes.result(
            "widest_relief",
            "widest there",
            hole_safety.widest_relief,
            bounded,
            over=lambda row: [one[row] for one in bounds if one.stands_in(row)],
        )
        yield widest
        source = "over the thread, under gasket hole and boss"
        yield Check(of=diameter, low=threads.major, high=widest, rows=bounded, source=source)
    if free:
        yield Check(of=diameter, low=threads.major, rows=free, source="over the thread")


def _depths(
    groups: Groups, relieved: list[str], allowed: MetalAllowances, threads: ThreadHoles
) -> Iterator[Column | Check]:
    sizes, deep = groups.sizes, groups.of(lambda one: one.spec.counterbore.depth)
    yield sizes.given("depth", "relief depth", deep, rows=relieved)
    pitches = RATIO.result(
        "depth_in_pitches",
        "in pitches",
        hole_safety.depth_in_pitches,
        relieved,
        pitch=threads.pitch,
    )
    yield pitches
    yield Check(
        of=pitches,
        low=allowed.least_relief,
        high=allowed.most_relief,
        rows=relieved,
        source=source_of("least_relief"),
    )
    skimmed = [key for key in relieved if groups.by_key[key].planned_cut]
    if skimmed:
        yield sizes.result(
            "skim",
            "cut planned on the face",
            standings.shown_again,
            skimmed,
            value=groups.of(lambda one: one.planned_cut),
        )
        yield sizes.result(
            "left_if_before",
            "left of it if cut before the face",
            hole_safety.depth_after_skim,
            skimmed,
        )
