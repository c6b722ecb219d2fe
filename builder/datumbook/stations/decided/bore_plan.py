"""Bore plan: the finish size of each cylinder and how far the bar is set over, typed or as the
readings suggest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column, Input, Per, typed_words, words
from datumbook.cells.handles import Handle, Key
from datumbook.cells.tables import Form, Table, cylinder_rows
from datumbook.equations import budget, liners, walls
from datumbook.equations.bores import bore_before_honing
from datumbook.equations.standings import shown_again
from datumbook.numbers.quantities import NO_LENGTH
from datumbook.numbers.units import convert
from datumbook.stations.decided.beside_liners import beside_liners
from datumbook.stations.decided.clean_up_room import CleanUpRoom
from datumbook.stations.received.bores import ReceivedBores
from datumbook.stations.received.dry_liners import DryLiners
from datumbook.stations.received.lands import BoreRows

LINER_ASKED, BLOCK_TO = "Dry liner, yes or no", "Block bored to"
SET_OVER = (
    "\nSet over: above zero to the rear, across to the left; suggested as far as the bore stays "
    "clean."
)
FARTHEST = 5.0  # what a bar can be set over at all, in millimetres


class PlannedBores(Table):
    """How each cylinder is bored; sizes only where it is bored, liner and block only with dry
    liners.
    """

    liner: Column
    typed_bore: Column | None
    finish_bore: Column
    bore_in_block: Column
    off_place: Column
    offset: Column
    across: Column
    clean_up: Column


class BorePlan:
    """The planned bores: what the readings suggest, what is typed, and what holds."""

    def __init__(
        self,
        basis: Basis,
        bores: ReceivedBores,
        rows: BoreRows | None,
        dry_liners: DryLiners | None,
    ) -> None:
        self.basis, self.bores, self.rows, self.dry_liners = basis, bores, rows, dry_liners
        self.shifts = {
            row.bank.key: Form(
                key=f"row_shift{row.bank.suffix}",
                title=row.bank.title("Shift of the whole row"),
                lines=(
                    self.basis.sizes("lands").result(
                        "row_shift",
                        "Row as a whole",
                        walls.row_shift,
                        offsets=[row.centres.offset[one] for one in row.cylinders],
                    ),
                ),
            )
            for row in (rows.rows if rows else ())
        }
        self.room = CleanUpRoom(basis, bores, rows, dry_liners, self) if basis.spec.bored else None
        rebore = bores.rebore
        self.next_size = rebore.next_oversize if bores.spec.oversizes else rebore.standard
        self.beside = (
            beside_liners(basis, bores, self.room.each, self.next_size, self._planned)
            if self.room and dry_liners
            else None
        )
        self.each = self._each()
        if self.room:
            bores.surely_clean = self.among_others("surely_clean", self.room.each.surely_clean)

    def workings(self) -> list[Table | Form]:
        """What the plan of the bores is worked out from."""
        beside, room = self.beside, self.room
        return [
            *((beside,) if beside else ()),
            *self.shifts.values(),
            *(room.parts() if room else ()),
        ]

    def among_others(self, name: str, own: Handle) -> Handle:
        """A size of each bore as it counts where some are lined."""
        return self.beside.column(name) if self.beside else own

    def _planned(self, name: str) -> Callable[[str], Key]:
        """A column of the plan, row by row, asked for before there is a plan."""
        return lambda row: self.each.column(name)[row]

    @property
    def anything(self) -> bool:
        """Whether there is anything to plan: a size to bore to, or a centre to set over."""
        return self.basis.spec.bored or self.rows is not None

    @property
    def decided(self) -> Column | None:
        """The finish size of each cylinder; None where none is bored."""
        return self.each.finish_bore if self.basis.spec.bored else None

    @property
    def bore_in_block(self) -> Column:
        """What the block itself is bored to: with dry liners it may be the hole of one."""
        return self.each.bore_in_block if self.dry_liners else self.each.finish_bore

    def _each(self) -> PlannedBores:
        """One line for each cylinder: what is suggested, what is typed, what holds."""
        sizes = self._sizes() if self.basis.spec.bored else ()
        offsets = self._offsets(self.rows) if self.rows else ()
        set_over = SET_OVER if self.rows else ""
        return PlannedBores(
            key="bore_plan",
            title="Boring the cylinders",
            note="A blank line follows the suggestion above it; a cylinder not bored has its size "
            f"typed as it is.{set_over}",
            rows=cylinder_rows(self.basis.cylinders()),
            columns=(*sizes, *offsets, *(self.room.judged() if self.room else ())),
            turned=True,
        )

    def _sizes(self) -> Iterator[Column]:
        sizes = self.basis.decisions("bores")
        if self.dry_liners:
            lined, bare = self.lined()
            yield typed_words(
                "liner",
                LINER_ASKED,
                "yes where the cylinder gets a liner.",
                choices=(liners.YES, "no"),
                rows=lined,
            )
            if bare:
                yield words("liner", LINER_ASKED, "no", rows=bare)
        suggested = self._suggested()
        typed = sizes.reading(
            "typed_bore",
            "Finish bore typed",
            self.bores.spec.standard.low,
            "The honed size decided; blank as suggested. Not bored: the size as it is.",
            wanted=False,
        )
        yield from (suggested, typed)
        yield sizes.result(
            "finish_bore", "Finish bore, honed", budget.as_planned, typed=typed, suggested=suggested
        )
        yield sizes.result(
            "bore_to",
            "Bore to, before the hone",
            bore_before_honing,
            finished_bore=self._planned("finish_bore"),
            clean_up_stock=self.bores.spec.clean_up_stock,
        )
        if self.dry_liners:
            yield sizes.result(
                "bore_in_block",
                BLOCK_TO,
                liners.bore_in_block,
                lined,
                hole=self.dry_liners.fit.hole,
            )
            if bare:
                yield sizes.result(
                    "bore_in_block", BLOCK_TO, shown_again, bare, value=self._planned("finish_bore")
                )

    def lined(self) -> tuple[list[str], list[str]]:
        """The cylinders that may get a dry liner, and those that get none."""
        every, lined = self.basis.cylinders(), self.basis.lined() if self.dry_liners else ()
        return [str(one) for one in every if one in lined], [
            str(one) for one in every if one not in lined
        ]

    def _suggested(self) -> Column:
        """The next size of all bores; in a liner what is decided for those without."""
        sizes, size, beside = self.bores.sizes, self.next_size, self.beside
        name, said = "suggested_bore", "Finish bore suggested"
        if beside is None:
            return sizes.result(name, said, shown_again, value=size)
        return sizes.result(
            name,
            said,
            liners.suggested_bore,
            sizes_among_others=lambda _: [beside.finish[one] for one in self.basis.cylinders()],
            next_oversize=size,
        )

    def set_over_wanted(self, rows: BoreRows) -> dict[str, Per[Input]]:
        """What puts each centre back into its row."""
        return {
            "offset": lambda row: rows.row_of(row).centres.offset[row],
            "row_shift": lambda row: self.shifts[rows.row_of(row).bank.key].column("row_shift"),
        }

    def _offsets(self, rows: BoreRows) -> Iterator[Column]:
        sizes = self.basis.decisions("lands")
        off_place = sizes.result(
            "off_place",
            "Centre off its place",
            shown_again,
            value=lambda row: rows.row_of(row).centres.offset,
        )
        name, words, wanted = "suggested_offset", "Set-over suggested", self.set_over_wanted(rows)
        suggested = (
            self.room.suggested(name, words)
            if self.room
            else sizes.result(name, words, walls.boring_offset, **wanted)
        )
        yield from (off_place, suggested)
        if not self.basis.spec.bored:
            return
        most = convert(FARTHEST, "mm", self.basis.unit_of("lands"))

        def typed(name: str, head: str, blank: str) -> Column:
            how = f"How far the bar is set over; 0 for none, {blank}."
            return sizes.reading(name, head, how=how, possible=(-most, most), wanted=False)

        along = typed("typed_offset", "Set-over typed", "blank as suggested")
        yield along
        yield sizes.result(
            "offset", "Set-over", budget.as_planned, typed=along, suggested=suggested
        )
        across = typed("typed_across", "Set-over across typed", "blank for none")
        yield across
        yield sizes.result(
            "across", "Set-over across", budget.as_planned, typed=across, suggested=NO_LENGTH
        )
