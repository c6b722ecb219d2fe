"""The thread a fastener finds in its hole: how deep it goes, how much of it is engaged, how much
its rule wants.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Check, Column, Input, words
from datumbook.equations import cutting, hole_safety, standings, tightening
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.spec.holes import HoleGroup
from datumbook.standards.tightening import incomplete_end
from datumbook.stations.holes.allowances import MetalAllowances
from datumbook.stations.holes.fastener_groups import bare, fitted, rule_of, stripping_rows
from datumbook.stations.holes.group_tables import GroupTable, held, off_the_face, stated
from datumbook.stations.holes.hole_groups import RATIO, Groups
from datumbook.stations.holes.reliefs import Reliefs
from datumbook.stations.holes.stripping import StrippedThreads
from datumbook.stations.holes.threads import ThreadHoles

BOLT_END, NONE = incomplete_end(), read_quantity("0 mm")


class ThreadReach(GroupTable):
    """The thread of each group for its fastener."""

    thread_depth: Column
    incomplete_mouth: Column
    engaged_length: Column
    needed: Column

    def __init__(
        self,
        groups: Groups,
        allowed: MetalAllowances,
        threads: ThreadHoles,
        reliefs: Reliefs,
        stripping: StrippedThreads,
    ) -> None:
        self.groups, self.sizes, self.reliefs, self.threads = groups, groups.sizes, reliefs, threads
        engaged, needed = self._engaged(), list(self._needed(threads, stripping))
        super().__init__(
            groups,
            key="reach",
            title="Thread for the fastener",
            note="A thread that stands already loses what its face loses; one cut on this job is "
            "as deep as the drawing says from the finished face. Only full thread counts as "
            "engaged: from the deepest of relief, countersink and a stud's run-out to the end of "
            f"the thread or of the fastener less the incomplete turns at it ({BOLT_END[1]}). A "
            "fastener whose length is not stated is taken to reach the end of the thread.",
            columns=(
                *self._depths(),
                *stated(*self._in_the_hole(allowed), *self._mouths()),
                *engaged,
                words(
                    "rule",
                    "rule of engagement",
                    groups.of(lambda one: rule_of(one).name),
                    width=9.5,
                ),
                *needed,
                Check(
                    of=engaged[0],
                    low=lambda row: self.needed[row],
                    rows=[
                        key for key in groups.by_key if any(one.stands_in(key) for one in needed)
                    ],
                    source=groups.of(lambda one: f"rule {rule_of(one).name}"),
                ),
            ),
        )

    def _depths(self) -> tuple[Column | Check, ...]:
        """The thread from the finished face, less what that has lost where it stands already."""
        skimmed = self.groups.keys(lambda one: not one.cut_here and one.gone)
        plain = self.groups.keys(lambda one: one.cut_here or not one.gone)
        drawing, heading = (
            self.groups.of(lambda one: one.spec.thread_depth),
            "thread from finished face",
        )
        drawn = self.sizes.given("drawn", "thread by the drawing", drawing, rows=skimmed)
        skim = hole_safety.depth_after_skim
        return (
            *stated(
                drawn,
                off_the_face(self.groups, "gone from the face", lambda one: one.gone, skimmed),
                self.sizes.result("thread_depth", heading, skim, skimmed, depth=drawn),
            ),
            self.sizes.given("thread_depth", heading, drawing, rows=plain),
        )

    def _in_the_hole(self, allowed: MetalAllowances) -> tuple[Column | Check, ...]:
        """The fastener in its hole, where its length is known."""
        of, sizes, known = self.groups.of, self.sizes, fitted(self.groups)
        room = sizes.result(
            "room_below_fastener",
            "room below it",
            hole_safety.room_below_fastener,
            known,
            usable_depth=lambda row: self.thread_depth[row],
        )
        return (
            sizes.given(
                "fastener_length", "fastener", of(lambda one: one.spec.fastener.length), rows=known
            ),
            sizes.given(
                "grip", "above the face", of(lambda one: one.spec.fastener.grip), rows=known
            ),
            sizes.result("length_in_hole", "in the hole", hole_safety.length_in_hole, known),
            RATIO.given(
                "incomplete_end", "incomplete at its end, pitches", bare(BOLT_END[0]), rows=known
            ),
            sizes.result(
                "thread_on_fastener",
                "full thread on it to",
                tightening.thread_on_fastener,
                known,
                pitch=self.threads.pitch,
            ),
            *held(room, "a fastener that bottoms does not clamp", low=allowed.nought),
        )

    def _engaged(self) -> tuple[Column, ...]:
        """The thread that will hold: from the mouth of the hole to the end of fastener or
        thread.
        """
        known = fitted(self.groups)
        other = self.groups.keys(lambda one: one.spec.key not in known)
        name, heading, end = "engaged_length", "thread engaged", hole_safety.engaged_length
        to_the_end = self.sizes.result(
            name,
            heading,
            end,
            known,
            length_in_hole=lambda row: self.column("thread_on_fastener")[row],
            relief=self._mouth,
        )
        below = self.sizes.result(
            name, heading, cutting.engagement, other, counterbore_depth=self._mouth
        )
        return (to_the_end, below) if known else (below,)

    def _mouth(self, row: str) -> Input:
        """How deep no full thread holds at the mouth of a hole: nothing where nothing is cut
        there.
        """
        if row in self._spoiled:
            return self.incomplete_mouth[row]
        return self.reliefs.depth.find(row) or NONE

    @property
    def _spoiled(self) -> list[str]:
        """The groups whose mouth loses thread to more than a relief."""
        return self.groups.keys(lambda one: mouth_cuts(one.spec))

    def _mouths(self) -> tuple[Column, ...]:
        """The mouth of the hole, where a countersink or a stud's run-out takes thread too."""
        rows = self._spoiled
        countersink = self.groups.keys(lambda one: one.spec.cut("countersink"))
        run_out = [key for key in rows if run_out_of(self.groups.by_key[key].spec)]
        sunk = self.sizes.given(
            "countersunk",
            "countersunk to",
            self.groups.of(lambda one: one.spec.cut("countersink").depth),
            rows=countersink,
        )
        run = self.sizes.given(
            "run_out",
            "stud's run-out to",
            self.groups.of(lambda one: run_out_of(one.spec)),
            rows=run_out,
        )

        def depths(row: str) -> list[Input]:
            relief = self.reliefs.depth.find(row)
            return [
                *([relief] if relief else []),
                *(one[row] for one in (sunk, run) if one.stands_in(row)),
            ]

        mouth = self.sizes.result(
            "incomplete_mouth",
            "no full thread to",
            tightening.incomplete_mouth,
            rows,
            depths=depths,
        )
        return sunk, run, mouth

    def _needed(self, threads: ThreadHoles, stripping: StrippedThreads) -> Iterator[Column]:
        """The thread that the rule of each group wants: so many diameters, or what is worked out
        from strengths, where that stands in this book.
        """
        name, heading = "needed", "needed by it"
        yield self.sizes.result(
            name,
            heading,
            hole_safety.engagement_by_diameters,
            self.groups.keys(lambda one: rule_of(one).diameters),
            major=threads.major,
            diameters=self.groups.of(lambda one: read_quantity(str(rule_of(one).diameters))),
        )
        for rule, wanted in (
            ("strength", stripping.strength),
            ("FED-STD 14", stripping.fed_std_14),
            ("FED-STD 16", stripping.fed_std_16),
        ):
            held_to = [
                key
                for key in stripping_rows(self.groups)
                if rule_of(self.groups.by_key[key]).name == rule
            ]
            if wanted is not None and held_to:
                yield self.sizes.result(name, heading, standings.shown_again, held_to, value=wanted)


def run_out_of(group: HoleGroup) -> Quantity | None:
    """The incomplete thread next a stud's shank that goes below the face, None where none does."""
    return group.fastener.run_out if group.fastener else None


def mouth_cuts(group: HoleGroup) -> list[Quantity]:
    """What takes thread at the mouth of a hole besides its relief, as depths from the face."""
    sunk = group.cut("countersink")
    return [one for one in (sunk.depth if sunk else None, run_out_of(group)) if one is not None]
