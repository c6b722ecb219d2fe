"""Fasteners: what a torque clamps and how far it strays, beside what grade and block can bear."""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.tables import Prose, Sheet, SheetPart
from datumbook.standards.strength import iron_shear_ratio
from datumbook.standards.tightening import friction
from datumbook.stations.holes.clamps import Clamps
from datumbook.stations.holes.fastener_groups import (
    clamped,
    grade_of,
    strength_of,
    surface_of,
    tightening_of,
    torqued,
    way_of,
)
from datumbook.stations.holes.group_tables import with_rows
from datumbook.stations.holes.hole_groups import Groups
from datumbook.stations.holes.opening import Opening
from datumbook.stations.holes.openings import Openings
from datumbook.stations.holes.proof import FastenerFigures, Proof
from datumbook.stations.holes.stripping import StrippedThreads
from datumbook.stations.holes.threads import ThreadHoles
from datumbook.stations.holes.tightening import tightening
from datumbook.workbook.placed import WHOLE

USUAL = ("dry", "oiled")  # surfaces told of where none is named
CONFLICTS = (
    "Stress areas are by formula; printed tables differ from it by up to 0.0002 in².",
    "Thread engaged in grey iron: rules of thumb say 1.0 to 1.5 diameters, FED-STD 16 with soft "
    "iron about 2.6, the iron's own "
    "shear strength about 1: each group is held to the rule named below.",
)


class Fasteners:
    """The fasteners of all groups: clamp, proof, the strength of the threads, the opened ones."""

    def __init__(self, groups: Groups, opened: Openings, threads: ThreadHoles) -> None:
        self.groups, self.figures = groups, FastenerFigures(groups.shop)
        self.clamps = Clamps(groups, threads)
        self.clamps.extend(Proof(self.clamps, self.figures).columns())
        self.stripping = StrippedThreads(groups, opened, threads, self.clamps, self.figures)
        self.opening = Opening(groups, opened, threads, self.clamps)

    def sheet(self) -> Sheet:
        """The sheet of the fasteners."""
        below: tuple[SheetPart, ...] = (
            self.figures,
            self.clamps,
            *with_rows(self.stripping, self.opening),
            self._conflicts(),
        )
        return Sheet(
            name="Fasteners",
            read=True,
            title="Fasteners and torque",
            parts=tuple(tightening(self.groups)),
            below=below,
        )

    def _conflicts(self) -> Prose:
        """Where sources disagree, and which of them is followed here."""
        named = [strength_of(one) for one in self.groups.all if grade_of(one)]
        grades = [f"Grade {one.grade}: {one.conflict}." for one in named if one.conflict]
        lines = (*grades, *self._friction(), *self._scatter(), *self._iron(), *CONFLICTS)
        return Prose(
            title="Where sources disagree",
            lines=[(line,) for line in dict.fromkeys(lines)],
            widths=(WHOLE,),
        )

    def _friction(self) -> Iterator[str]:
        """What is said of the nut factor of each surface; of the usual ones where none is named."""
        for key in torqued(self.groups):
            group = self.groups.by_key[key]
            if not tightening_of(group).by_friction:
                named = surface_of(group)
                for surface in [named] if named else USUAL:
                    told = friction(surface)
                    if told.conflict:
                        yield f"Nut factor, {told.name}: {told.conflict}."

    def _scatter(self) -> Iterator[str]:
        """Where it comes from how far each clamp strays."""
        for key in clamped(self.groups):
            group = self.groups.by_key[key]
            way = way_of(group)
            if tightening_of(group).scatter is None:
                yield f"Clamp strays, {way.said}: {way.conflict or way.source}."

    def _iron(self) -> Iterator[str]:
        """What is said of the shear strength of grey iron."""
        if self.figures.iron_shear is not None:
            yield f"Shear strength of grey iron: {iron_shear_ratio()[2]}."
