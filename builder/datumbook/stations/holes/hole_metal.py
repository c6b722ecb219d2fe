"""HoleMetal: what is left round each group of holes: walls, edges, reliefs, thread for the fastener
to hold by.
"""

from __future__ import annotations

from collections.abc import Iterable

from datumbook.cells.tables import Sheet, SheetPart, Table
from datumbook.stations.holes.allowances import MetalAllowances
from datumbook.stations.holes.group_tables import with_rows
from datumbook.stations.holes.hole_groups import Groups
from datumbook.stations.holes.hole_map import HoleMap
from datumbook.stations.holes.hole_walls import HoleWalls
from datumbook.stations.holes.reach import ThreadReach
from datumbook.stations.holes.reliefs import Reliefs
from datumbook.stations.holes.stripping import StrippedThreads
from datumbook.stations.holes.threads import ThreadHoles


class HoleMetal:
    """The metal round every group of holes."""

    def __init__(
        self,
        groups: Groups,
        allowed: MetalAllowances,
        threads: ThreadHoles,
        reliefs: Reliefs,
        stripping: StrippedThreads,
        places: HoleMap,
    ) -> None:
        self.allowed, self.reliefs = allowed, reliefs
        self.walls = HoleWalls(groups, allowed, threads, reliefs, places)
        self.reach = ThreadReach(groups, allowed, threads, reliefs, stripping)

    def sheet(self, places: Iterable[Table]) -> Sheet:
        """The sheet of the metal round the holes; with where these stand, if no map shows it."""
        below: tuple[SheetPart, ...] = (
            self.allowed,
            *with_rows(self.walls, self.reliefs),
            self.reach,
            *places,
        )
        return Sheet(
            name="HoleMetal", title="Metal round each hole", parts=(), below=below, stage="planned"
        )
