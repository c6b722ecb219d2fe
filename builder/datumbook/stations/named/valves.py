"""Valves: their room over the pistons and what the plan leaves of it, the rings in their grooves,
the height of the studs.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Input, Sizes, limited
from datumbook.cells.tables import Form, Prose, Row, Sheet, Table, cylinder_rows
from datumbook.equations import standings, valves
from datumbook.numbers.printing import NOT_LESS
from datumbook.numbers.quantities import NO_LENGTH
from datumbook.numbers.units import convert
from datumbook.spec import Limit, limit
from datumbook.spec.named import RingRoom, Studs, ValveClearances
from datumbook.standards import table
from datumbook.standards.clearances import usual_clearance
from datumbook.stations.decided.cuts import BankCuts, Cuts
from datumbook.stations.named.crown_rises import CrownRises
from datumbook.stations.received.features import drawn, middle

ROOMIEST, STRONGEST_CUT = 15.0, 3.0  # what a valve's room and a cut can be at all, in mm
VALVES = {"inlet": "inlet valve", "exhaust": "exhaust valve"}


class NearerBy(Form):
    """What of head and gasket comes off besides the cuts planned for the block."""

    head_cut: Column
    gasket_thinner: Column


class ValveRoom:
    """The room of valves, rings and studs."""

    def __init__(
        self, basis: Basis, spec: ValveClearances, cuts: Cuts, bore_of: Callable[[str], Input]
    ) -> None:
        self.basis, self.spec, self.cuts, self.bore_of = basis, spec, cuts, bore_of
        self.sizes = basis.sizes("parts")
        self.nearer = self._nearer()
        planned = any(basis.does(one) for one in ("deck", "line_bore", "bottom_face"))
        self.rises = {key: CrownRises(bank, bore_of) for key, bank in cuts.banks.items() if planned}

    def sheet(self) -> Sheet:
        """The sheet of the clearances."""
        lines = [(line,) for line in table("clearances")["cautions"]["lines"]]
        rings, studs = self.spec.rings, self.spec.studs
        return Sheet(
            name="Valves",
            title="Valves, rings and studs: their room",
            parts=(
                Prose(title="What to mind", lines=lines),
                self.nearer,
                *(part for one in self.rises.values() for part in (one.each, one.most)),
                self._valves(),
                *([self._rings(rings)] if rings else []),
                *([self._studs(studs)] if studs else []),
                *(part for one in self.rises.values() for part in one.workings()),
            ),
            stage="planned",
            widths={1: 26},
        )

    def _span(self, most: float, least: float = 0.0) -> tuple[float, float]:
        unit = self.basis.unit_of("parts")
        return convert(least, "mm", unit), convert(most, "mm", unit)

    def _nearer(self) -> NearerBy:
        decided, span = self.basis.decisions("parts"), self._span(STRONGEST_CUT, -STRONGEST_CUT)
        lines = [
            decided.reading(name, words, how=how, possible=span, wanted=False)
            for name, words, how in (
                ("head_cut", "Comes off the head", "As it is or was faced."),
                ("gasket_thinner", "Gasket thinner by", "Old less new, both as pressed."),
            )
        ]
        return NearerBy(
            key="nearer_by",
            title="Besides deck cut and line bore",
            note="Since the valves were read. Blank: nothing.",
            lines=lines,
        )

    def _risen(self, bank: BankCuts) -> Input:
        """That, or nothing where this job plans no cut that moves deck or crank."""
        rise = self.rises.get(bank.bank.key)
        return rise.most.crown_rise.key if rise else NO_LENGTH

    def _valves(self) -> Table:
        """Both valves of each bank, as read and as the plan leaves them."""
        spec, sizes = self.spec, self.sizes
        kinds = {"inlet": spec.inlet, "exhaust": spec.exhaust}
        rows = {
            f"{bank.bank.key}_{kind}".lstrip("_"): (bank, kind)
            for bank in self.cuts.banks.values()
            for kind in kinds
        }
        least = {kind: _least(one.gap, f"{kind}_gap") for kind, one in kinds.items()}
        gap = sizes.reading(
            "valve_gap",
            "room along the stem",
            lambda row: middle(least[rows[row][1]]) * Fraction(2),
            "Clay or light springs, the valve with the least room of this bank.",
            possible=self._span(ROOMIEST),
        )
        radial = _least(spec.radial, "radial_gap")
        wanted = sizes.given("least_gap", NOT_LESS, lambda row: least[rows[row][1]].low)
        after = sizes.result("valve_gap_after", "along the stem, after", valves.valve_gap_after)
        return Table(
            key="valve_room",
            title="Valves over the pistons",
            heading="Valve",
            note="After: with all that the plan takes off where a crown rises most, along the "
            "stem its share by the valve's lean. Too little decides: deeper pockets, a thicker "
            "gasket, less off.",
            rows=[
                Row(row, bank.bank.title(VALVES[kind].capitalize()))
                for row, (bank, kind) in rows.items()
            ],
            columns=(
                gap,
                sizes.reading(
                    "radial_gap",
                    "room to the pocket",
                    middle(radial) * Fraction(2),
                    "Valve edge to the wall of its pocket.",
                    possible=self._span(ROOMIEST),
                ),
                Sizes("deg", 1).given("lean", "valve leans", lambda row: kinds[rows[row][1]].lean),
                sizes.result(
                    "head_drop",
                    "nearer in all",
                    valves.head_drop,
                    crown_rise=lambda row: self._risen(rows[row][0]),
                    head_cut=lambda _: self.nearer.head_cut,
                    gasket_thinner=lambda _: self.nearer.gasket_thinner,
                ),
                after,
                wanted,
                Check(of=after, low=wanted, source=lambda row: least[rows[row][1]].source),
                sizes.result("pocket_deeper", "pocket deeper by", valves.pocket_deeper),
                *limited(
                    sizes.result(
                        "radial_gap_after", "to the pocket, after", valves.radial_gap_after
                    ),
                    radial,
                ),
            ),
        )

    def _rings(self, spec: RingRoom) -> Table:
        """The rings in the grooves of the piston they go on."""
        sizes, feeler = self.sizes, "Feeler beside the ring, all round, in its groove."
        side, back = _between(spec.side, "ring_side"), _between(spec.back, "ring_back")
        grooves = [
            limited(
                sizes.reading(
                    f"{ring}_side",
                    f"{ring} ring, side",
                    middle(side),
                    feeler,
                    possible=self._span(1.0),
                ),
                side,
            )
            for ring in ("top", "second")
        ]
        bore = sizes.result(
            "bore", "bore", standings.shown_again, value=lambda row: self.bore_of(row)
        )
        return Table(
            key="ring_room",
            title="Rings in their grooves",
            heading="Piston",
            note="Behind the top ring: bore less groove, halved, less the ring's wall. A ring must "
            "lie below its land.",
            rows=cylinder_rows(self.basis.cylinders()),
            columns=(
                *(item for groove in grooves for item in groove),
                bore,
                sizes.reading(
                    "groove_root", "bottom of top groove", spec.groove_root, "Blade micrometer."
                ),
                sizes.reading("ring_wall", "wall of top ring", spec.ring_wall, "Micrometer."),
                *limited(
                    sizes.result("ring_back", "behind the ring", valves.ring_back_clearance), back
                ),
            ),
        )

    def _studs(self, spec: Studs) -> Table:
        return Table(
            key="stud_heights",
            title="Studs",
            heading="Stud",
            note="Head, washer and nut, and one to three threads.",
            rows=[Row(name, f"Stud {name}") for name in spec.names],
            columns=limited(
                self.sizes.reading(
                    "stud_height", "stands out", drawn(spec.height), "Depth gauge from the deck."
                ),
                spec.height,
            ),
        )


def _least(stated: Limit | None, what: str) -> Limit:
    low, _, source = usual_clearance(what)
    return stated or limit(source, low=low)


def _between(stated: Limit | None, what: str) -> Limit:
    low, high, source = usual_clearance(what)
    return stated or limit(source, low=low, high=high)
