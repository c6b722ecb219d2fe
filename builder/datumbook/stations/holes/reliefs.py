"""Reliefs: the counterbore over each thread against thread, gasket hole and boss, and how deep it
is.
"""

from __future__ import annotations

from datumbook.cells.columns import Check, Column
from datumbook.cells.handles import Key
from datumbook.equations import budget, hole_safety, openings
from datumbook.stations.holes.allowances import MetalAllowances, source_of
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.group_tables import (
    GroupTable,
    held,
    off_the_face,
    picked_words,
    stated,
)
from datumbook.stations.holes.hole_groups import RATIO, Groups
from datumbook.stations.holes.openings import Openings
from datumbook.stations.holes.threads import ThreadHoles


class Reliefs(GroupTable):
    """The groups with a counterbore: its width and its depth, typed, or grown with the thread."""

    diameter: Column
    depth: Column
    cutter: Column
    least_depth: Column
    most_depth: Column

    def __init__(
        self, groups: Groups, opened: Openings, allowed: MetalAllowances, threads: ThreadHoles
    ) -> None:
        sizes = groups.sizes
        relieved = groups.keys(lambda one: one.spec.counterbore)
        self.groups, self.opened = groups, opened
        suggested, diameter = self._decided("diameter")
        bounds = (
            groups.given("gasket_hole", "gasket hole", lambda one: one.spec.gasket_hole, relieved),
            groups.given("boss", "boss", lambda one: one.spec.boss, relieved),
        )
        widest = sizes.result(
            "widest_relief",
            "widest there",
            hole_safety.widest_relief,
            [key for key in relieved if any(one.stands_in(key) for one in bounds)],
            over=lambda row: [one[row] for one in bounds if one.stands_in(row)],
        )
        pitches = RATIO.result(
            "depth_in_pitches", "in pitches", hole_safety.depth_in_pitches, pitch=threads.pitch
        )
        skimmed = groups.keys(lambda one: one.spec.counterbore and _planned_cut(one))
        super().__init__(
            groups,
            key="relief",
            title="Reliefs",
            note="A relief is larger than the thread, smaller than gasket hole and boss, and one "
            "to two pitches deep, all from the finished face. One that is cut before the face "
            "loses what the face loses: cut it after.",
            only=relieved,
            columns=(
                suggested,
                diameter,
                *stated(
                    *bounds,
                    widest,
                    Check(
                        of=diameter,
                        low=threads.major,
                        high=widest,
                        rows=widest.rows,
                        source="over the thread, under gasket hole and boss",
                    ),
                    Check(
                        of=diameter,
                        low=threads.major,
                        rows=[key for key in relieved if not widest.stands_in(key)],
                        source="over the thread",
                    ),
                ),
                picked_words("cutter", "its cutter", opened.said(opened.tools, "counterbore")),
                *self._decided("depth"),
                sizes.result(
                    "least_depth",
                    "not less deep than",
                    openings.relief_at_least,
                    minus=groups.of(lambda one: one.spec.counterbore.minus),
                ),
                sizes.result(
                    "most_depth",
                    "nor deeper than",
                    openings.relief_at_most,
                    plus=groups.of(lambda one: one.spec.counterbore.plus),
                ),
                *held(
                    pitches,
                    source_of("least_relief"),
                    low=allowed.least_relief,
                    high=allowed.most_relief,
                ),
                *stated(
                    off_the_face(groups, "cut planned on the face", _planned_cut, skimmed),
                    sizes.result(
                        "left_if_before",
                        "left of it if cut before the face",
                        hole_safety.depth_after_skim,
                        skimmed,
                    ),
                ),
            ),
        )

    def _decided(self, name: str) -> tuple[Column, Column]:
        """A size of the relief: what goes with the thread, and what it is decided to be."""
        sizes, opened = self.groups.sizes, self.opened
        suggested = sizes.result(
            f"{name}_of_thread",
            f"relief {name} for the thread",
            openings.value_at,
            **opened.picked(f"relief_{name}"),
        )

        def typed(row: str) -> Key:
            return opened.column(f"relief_{name}")[row]

        planned = budget.as_planned
        return suggested, sizes.result(
            name, f"relief {name}", planned, typed=typed, suggested=suggested
        )


def _planned_cut(group: GroupAtWork) -> Key | None:
    """The most that the cut intended takes off the face of a group; it says nothing of earlier
    ones, for a relief is cut on this job.
    """
    return group.face_cut.counted.most_taken.key if group.face_cut else None
