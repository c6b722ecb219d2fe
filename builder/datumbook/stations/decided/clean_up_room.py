"""Whether each bore is clean once it is bored: at which size it is so with the bar set over, and
how far the bar may be set over for that.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Input, Per, Result, Uncertainty
from datumbook.cells.tables import Form, Table, cylinder_rows
from datumbook.equations import bores, liners, walls
from datumbook.equations.standings import shown_again
from datumbook.numbers.quantities import NO_LENGTH, Quantity, number_text
from datumbook.stations.received.bores import ReceivedBores
from datumbook.stations.received.dry_liners import DryLiners
from datumbook.stations.received.lands import BoreRows
from datumbook.stations.received.states import FINISHED

if TYPE_CHECKING:
    from datumbook.stations.decided.bore_plan import BorePlan


class CleanUpSizes(Table):
    """At which size each bore is surely clean; the room only where the bar is set over."""

    own_axis: Column
    surely_own: Column
    surely_clean: Column
    bored: Column
    must_clean_at: Column
    set_over_wanted: Column
    set_over_room: Column


class FirstOversize(Form):
    """The size within which the bar is set over, where none is typed."""

    size: Column


class CleanUpRoom:
    """The size at which each planned bore is clean about its new axis, and the room for that."""

    def __init__(
        self,
        basis: Basis,
        received: ReceivedBores,
        rows: BoreRows | None,
        dry_liners: DryLiners | None,
        plan: BorePlan,
    ) -> None:
        self.basis, self.received, self.rows, self.plan = basis, received, rows, plan
        self.dry_liners = dry_liners
        self.sizes, self.lands = basis.decisions("bores"), basis.decisions("lands")
        spec = received.spec
        self.steps = spec.oversizes
        self.largest = (
            spec.standard.low + spec.oversizes[-1] if spec.oversizes else spec.standard.low
        )
        self.first = self._first()
        self.each = self._each()

    def parts(self) -> list[Table | Form]:
        """What the plan of the bores is worked out from."""
        return [*([self.first] if self.rows else ()), self.each]

    def suggested(self, name: str, words: str) -> Column:
        """The set-over that puts a centre back, as far as the bore stays clean."""
        return self.lands.result(
            name,
            words,
            bores.set_over_suggested,
            wanted=lambda row: self.each.set_over_wanted[row],
            room=lambda row: self.each.set_over_room[row],
            step=self._step(),
        )

    def judged(self) -> Iterator[Column | Check]:
        """The size at which each bore is clean as it is set over, held to what it is bored to."""
        clean = self._set_over(
            "clean_up", "Cleans up at, as set over", self.received.each.clean_up_size
        )
        yield clean
        yield Check(
            of=clean,
            high=lambda row: self.each.must_clean_at[row],
            asked=self.each.bored,
            source="the size the cylinder is bored to",
        )

    def _first(self) -> FirstOversize:
        """The oversize that the wear asks for: no bar is set over so far that it takes another."""
        sizes, rebore = self.sizes, self.received.rebore
        steps = [rebore.column(f"oversize_{at}") for at, _ in enumerate(self.steps, 1)]
        worst = sizes.result(
            "worst_own",
            "Worst bore surely, about its own axis",
            bores.worst_clean_up,
            clean_up_sizes=lambda _: self._among_others(),
        )
        first = sizes.result(
            "first_oversize",
            "Size that cleans it",
            bores.next_oversize,
            worst_clean_up=worst,
            standard=rebore.standard,
            oversizes=steps,
        )
        size = sizes.result(
            "size",
            "Size the bar is set over within",
            bores.size_to_clean_at,
            bored_to=first,
            until_decided=self.largest,
        )
        return FirstOversize(
            key="first_oversize",
            title="The oversize that wear alone asks for",
            lines=(worst, first, size)
            if steps
            else (worst, sizes.given("size", size.words, self.largest)),
        )

    def _among_others(self) -> list[Input]:
        counted = self.plan.among_others("surely_own", self.each.surely_own)
        return [counted[one] for one in self.basis.cylinders()]

    def _each(self) -> CleanUpSizes:
        sizes = self.sizes
        own = self.received.each.clean_up_size
        off = Uncertainty(
            name="clean_up_off", words="± of that", unit=sizes.unit, decimals=sizes.decimals, of=own
        )
        surely = sizes.result(
            "surely_own", "surely", bores.surely_clean_size, clean_up=own, uncertainty=off
        )
        return CleanUpSizes(
            key="clean_up",
            title="At which size each bore is clean",
            heading="Cylinder",
            note="About its own axis first. Surely: what it cleans up at and its ±. The wall that "
            "the bar leaves wants twice the set-over more.",
            rows=cylinder_rows(self.basis.cylinders()),
            columns=(
                sizes.result("own_axis", "about its own axis", shown_again, value=own),
                off,
                surely,
                *self._room(self.rows),
                self._set_over("surely_clean", "surely, as set over", surely),
                self._bored(),
                *self._clean_at("must_clean_at", "must be clean at"),
            ),
        )

    def _room(self, rows: BoreRows | None) -> Iterator[Column]:
        """How far the bar may go over, and how far it is wanted to."""
        if rows is None:
            return
        size = self.sizes.result(
            "size_thought_of",
            "size typed, or the oversize",
            bores.size_to_clean_at,
            bored_to=lambda row: self.plan.each.column("typed_bore")[row],
            until_decided=self.first.size,
        )
        yield size
        yield from self._block(size)
        yield self.lands.result(
            "set_over_room",
            "room for the bar",
            bores.room_to_set_over,
            size=lambda row: self.each.column("block" if self.dry_liners else size.name)[row],
            surely_clean=lambda row: self.each.surely_own[row],
            across=lambda row: self.plan.each.across[row],
        )
        yield self.lands.result(
            "set_over_wanted",
            "set-over wanted",
            walls.boring_offset,
            **self.plan.set_over_wanted(rows),
        )

    def _block(self, size: Column) -> Iterator[Column]:
        """What the block is bored to so: where a liner goes in, its hole."""
        if self.dry_liners is None:
            return
        lined, bare = self.plan.lined()
        if lined:
            yield self.sizes.result(
                "block",
                "so the block",
                liners.bore_in_block,
                lined,
                liner=lambda row: self.plan.each.liner[row],
                hole=self.dry_liners.fit.hole,
                finish_bore=size,
            )
        if bare:
            yield self.sizes.result("block", "so the block", shown_again, bare, value=size)

    def _set_over(self, name: str, words: str, own: Per[Input]) -> Column:
        """A size about the bore's own axis, about the one the bar is set over to."""
        if self.rows is None:
            return self.sizes.result(name, words, shown_again, value=own)
        return self.sizes.result(
            name,
            words,
            bores.clean_up_set_over,
            clean_up_size=own,
            offset=lambda row: self.plan.each.offset[row],
            across=lambda row: self.plan.each.across[row],
        )

    def _bored(self) -> Column:
        return Result(
            name="bored",
            words="bored",
            unit=None,
            equation=bores.whether_bored,
            inputs={
                "bored_to": self._bored_to,
                "may_vary": self._may_vary(),
                "diameters": self.received.diameters,
            },
        )

    def _bored_to(self, row: str) -> Input:
        """What the block is bored to; a cylinder that gets no liner to its finish bore."""
        return self.plan.bore_in_block[row]

    def _clean_at(self, name: str, words: str) -> list[Column]:
        """The size at which each cylinder must be clean."""
        lined, bare = self.plan.lined()
        held: dict[str, Per[Input]] = {"bored_to": self._bored_to, "until_decided": self.largest}
        found: list[Column] = []
        if lined:
            with_liner: Per[Input] = lambda row: self.plan.each.liner[row]  # noqa: E731
            equation = liners.size_to_clean_at_lined
            found.append(self.sizes.result(name, words, equation, lined, liner=with_liner, **held))
        if bare:
            found.append(self.sizes.result(name, words, bores.size_to_clean_at, bare, **held))
        return found

    def _may_vary(self) -> Quantity:
        """How far one finished bore may vary."""
        limits = FINISHED.limits(self.basis.spec, "bores")
        return limits.bore_plus + limits.bore_minus if limits else NO_LENGTH

    def _step(self) -> Quantity:
        """What the set-over is printed and set by."""
        decimals = self.basis.decimals_of("lands")
        step = Fraction(1, 10**decimals)
        return Quantity(step, self.basis.unit_of("lands"), decimals, number_text(step))
