"""Bore fits: each cylinder at its tightest, the room its piston has, and the gaps of its rings."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from datumbook.cells.columns import Check, Column, Input, Reading, limited
from datumbook.cells.tables import Form, Table, cylinder_rows
from datumbook.equations import bores, clearances, pistons
from datumbook.equations.lands import gasket_margin
from datumbook.equations.standings import shown_again
from datumbook.numbers.quantities import read_quantity
from datumbook.spec import Limit, limit
from datumbook.spec.parts import Rings
from datumbook.standards.fit_rules import fit_rule
from datumbook.stations.decided.parts import PartsMeasured
from datumbook.stations.finished.room import held, ruled, up_to
from datumbook.stations.received.bores import FinishedBores, ReceivedBores
from datumbook.stations.received.features import middle

FEELER = "Feelers, the ring pushed square with a piston, in the bore it will run in."


class BoreFits(Table):
    """The size of each bore that a part goes into."""

    bore: Column
    piston_clearance: Column | None


class CylinderFits:
    """What runs in the bores, each against its own cylinder; None where no part is measured."""

    def __init__(
        self,
        parts: PartsMeasured,
        received: ReceivedBores,
        planned: Column | None,
        finished: FinishedBores | None,
    ) -> None:
        self.measured, self.basis, self.sizes = parts, parts.basis, parts.sizes
        self.received, self.planned, self.finished = received, planned, finished
        spec = parts.spec
        self.each = self._each() if spec.pistons or spec.rings or spec.gasket else None
        self.rings = self._rings(spec.rings, self.each) if spec.rings and self.each else None

    @property
    def size(self) -> Column:
        """The size of each bore with which the rest is worked out."""
        return self.each.bore if self.each else self.planned or self.received.each.mean_size

    def parts(self) -> list[Table | Form]:
        """The bores as the parts find them, and the ring gaps."""
        return [part for part in (self.each, self.rings) if part]

    def _each(self) -> BoreFits:
        spec, size = self.measured.spec.pistons, list(self._size())
        rule = ruled(spec.clearance, f"piston, {spec.material}") if spec else ""
        return BoreFits(
            key="bore_fits",
            title="Pistons in their bores" if spec else "Bores as the parts find them",
            heading="Cylinder",
            note="The bore at its tightest. Until it is measured as finished the planned size "
            f"stands in, and nothing is judged. {rule}".strip(),
            fresh_in=self.finished.readings.stale_with if self.finished else None,
            rows=cylinder_rows(self.basis.cylinders()),
            columns=(*size, *self._piston_room(size[-1]), *self._gasket_margin()),
        )

    def _size(self) -> Iterator[Column]:
        """The size of a bore that a part goes into, as finished or else as planned."""
        sizes, least, read = self.sizes, bores.smallest_size, self.received.diameters
        planned = (
            sizes.result("planned", "finish size", shown_again, value=self.planned)
            if self.planned
            else sizes.result("planned", "as received", least, diameters=read)
        )
        yield planned
        if self.finished:
            yield sizes.result("finished", "finished", least, diameters=self.finished.diameters)
            yield sizes.result("bore", "bore", clearances.size_to_fit)
        else:
            yield sizes.result("bore", "bore", shown_again, value=planned)

    def _piston_room(self, bore: Column) -> Iterator[Column | Check]:
        spec, part, sizes = self.measured.spec.pistons, self.measured.pistons, self.sizes
        if spec and part:
            room = sizes.result("piston_clearance", "clearance", pistons.piston_clearance)
            yield sizes.result("piston", "piston", shown_again, value=part.piston)
            yield from held(
                sizes,
                room,
                spec.clearance,
                f"piston, {spec.material}",
                pistons.piston_clearance_by_rule,
                bore,
            )

    def _gasket_margin(self) -> Iterator[Column | Check]:
        sizes, chamfer = self.measured.heights, self.basis.lands.mouth_chamfer
        clear, zero = "the edge of the gasket stays clear of the chamfer", f"0 {sizes.unit}"
        if gasket := self.measured.gasket:
            margin = sizes.result(
                "gasket_margin",
                "gasket clear of the chamfer",
                gasket_margin,
                gasket_hole=gasket.gasket_hole,
                height=chamfer.height,
                angle=chamfer.angle,
            )
            yield from limited(margin, limit(clear, low=read_quantity(zero)))

    def _rings(self, spec: Rings, fits: BoreFits) -> Table:
        """The gaps, read in each bore, and what they say of its taper."""
        sizes, by = self.basis.sizes("gaps"), pistons.ring_gap_by_rule
        top = self._gap("top_gap", "top ring", spec.top, "ring, top")
        second = self._gap("second_gap", "second ring", spec.second, "ring, second")
        notes = (
            "A gap is read at the top of ring travel. It grows by pi times what the bore does: a "
            "second opinion on the gauge.",
            ruled(spec.top, "ring, top"),
            ruled(spec.second, "ring, second"),
        )
        return Table(
            key="ring_gaps",
            title="Ring gaps",
            heading="Cylinder",
            note=" ".join(dict.fromkeys(note for note in notes if note)),
            spoilers=self.finished.route.spoilers("ring_gaps") if self.finished else None,
            rows=cylinder_rows(self.basis.cylinders()),
            columns=(
                *held(sizes, top, spec.top, "ring, top", by, fits.bore),
                *held(sizes, second, spec.second, "ring, second", by, fits.bore),
                *(self._closure(top, spec.top, spec.closure) if spec.closure else ()),
            ),
        )

    def _gap(
        self, name: str, words: str, limits: Limit | None, rule: str, more: str = ""
    ) -> Reading:
        """A ring gap, about well within the spec's limit or between both ends of the rule."""
        standard = self.basis.spec.bores.standard.low
        near = middle(limits) if limits else standard * fit_rule(rule).middle
        sizes, possible = self.basis.sizes("gaps"), up_to(self.basis, 3)
        return sizes.reading(name, words, near, f"{FEELER}{more}", possible=possible)

    def _closure(self, gap: Column, top: Limit | None, limits: Limit) -> Iterator[Column | Check]:
        """What the top ring's gap at either end of its travel says of the taper of the bore."""
        sizes, now = self.basis.sizes("gaps"), self.finished or self.received
        yield self._gap(
            "gap_at_bottom",
            "top ring, at the bottom",
            top,
            "ring, top",
            " The same top ring, at the bottom of its travel.",
        )
        axes = (now.readings.thrust, now.readings.axial)

        def at(depth: str) -> Callable[[str], list[Input]]:
            return lambda row: [axis[row, depth] for axis in axes]

        for end, depth in (("top", now.depths[0]), ("bottom", now.depths[-1])):
            yield sizes.result(
                f"bore_at_{end}", f"bore at {end}", bores.mean_size, diameters=at(depth)
            )
        yield from limited(
            sizes.result(
                "ring_gap_closure", "feeler less gauge", clearances.ring_gap_closure, gap_at_top=gap
            ),
            limits,
        )
