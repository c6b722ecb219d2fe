"""Running fits: crank, camshaft and tappets, each against the place it runs in as measured last."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from datumbook.cells.columns import Check, Column, Input, Per, limited
from datumbook.cells.tables import Form, Line, Row, Table, cylinder_rows
from datumbook.equations import bearings, clearances, fits
from datumbook.equations.standings import shown_again
from datumbook.spec import Limit
from datumbook.stations.decided.journals import JournalRow
from datumbook.stations.decided.parts import PartsMeasured, crankpin_of
from datumbook.stations.finished.room import held, in_place, ruled, up_to
from datumbook.stations.received.features import TwoPointSizes, middle
from datumbook.stations.received.tunnels import MainTunnels

HALVES = {"proud_upper": "upper half proud", "proud_lower": "lower half proud"}


class OilRoom(Table):
    """The room for oil in a row of bearings; housing and shell where they are measured apart."""

    tunnel_size: Column | None
    shell_thickness: Column | None
    journal: Column
    clearance: Column


class RunningFits:
    """The room of crank, camshaft and tappets; each place as received and as finished."""

    def __init__(
        self,
        parts: PartsMeasured,
        tunnels: tuple[MainTunnels | None, MainTunnels | None],
        cam_bores: tuple[TwoPointSizes | None, TwoPointSizes | None],
        tappet_bores: tuple[TwoPointSizes | None, TwoPointSizes | None],
    ) -> None:
        self.measured, self.basis = parts, parts.basis
        self.sizes, self.gaps = parts.sizes, parts.basis.sizes("gaps")
        mains, pins, thrust = parts.main_journals, parts.crankpins, parts.spec.thrust
        self.oil: dict[str, OilRoom] = {}
        self.parts: list[Table | Form] = [
            *(self._mains(mains, *tunnels) if mains else ()),
            *(self._big_ends(pins) if pins else ()),
            *([self._end_float(thrust.end_float)] if thrust else ()),
            *self._cam(*cam_bores),
            *self._tappets(*tappet_bores),
        ]

    def _mains(
        self, journals: JournalRow, tunnels: MainTunnels | None, again: MainTunnels | None
    ) -> Iterator[Table]:
        yield from self._bearing(
            ("main", "Main bearings"),
            journals,
            [Row(str(number), f"Main {number}") for number in self.basis.bearings()],
            [
                *in_place(
                    self.sizes, "tunnel_size", "tunnel", tunnels.each, again.each if again else None
                )
            ]
            if tunnels
            else [],
            journals.each.largest_size,
            again.readings.stale_with if again else None,
        )

    def _big_ends(self, journals: JournalRow) -> Iterator[Table]:
        rods, pins = self.measured.rods, journals.each.largest_size
        yield from self._bearing(
            ("big_end", "Big ends"),
            journals,
            cylinder_rows(self.basis.cylinders()),
            [self.sizes.result("tunnel_size", "big end", shown_again, value=rods.big_end)]
            if rods
            else [],
            lambda row: pins[crankpin_of(self.basis, int(row))],
        )

    def _bearing(
        self,
        named: tuple[str, str],
        journals: JournalRow,
        rows: Sequence[Row],
        housing: Sequence[Column],
        largest: Per[Input],
        fresh: Table | None = None,
    ) -> Iterator[Table]:
        """The room for oil in a row of bearings, and the crush of their shells."""
        (key, words), spec = named, journals.spec
        self.oil[key] = OilRoom(
            key=f"{key}_clearances",
            title=f"{words}, room for oil",
            heading="Bearing",
            note=ruled(spec.clearance, "journal"),
            fresh_in=fresh if journals.shells.shell_thickness else None,
            rows=rows,
            columns=tuple(self._oil(journals, housing, largest)),
        )
        yield self.oil[key]
        if spec.crush:
            yield self._crush(key, spec.crush, rows)

    def _oil(
        self, journals: JournalRow, housing: Sequence[Column], largest: Per[Input]
    ) -> Iterator[Column | Check]:
        """The room for oil in each housing: from its three sizes, or straight from the hole in its
        shells.
        """
        sizes, limits, by = self.sizes, journals.spec.clearance, bearings.oil_clearance_by_rule
        thickness, hole = journals.shells.shell_thickness, journals.shells.in_shells
        journal = sizes.result("journal", "journal, largest", shown_again, value=largest)
        room = sizes.result("clearance", "clearance", clearances.oil_clearance)
        if thickness:
            yield from housing
            yield sizes.result("shell_thickness", "shell", shown_again, value=thickness)
        elif hole:
            yield sizes.result("hole", "hole in the shells", shown_again, value=hole)
            room = sizes.result("clearance", "clearance", fits.fit_clearance, shaft=journal)
        yield from (journal, *held(sizes, room, limits, "journal", by, journal))

    def _crush(self, name: str, limits: Limit, rows: Sequence[Row]) -> Table:
        near, most = middle(limits) * Fraction(1, 2), up_to(self.basis, 1)
        how = "Feelers or an indicator at the joint, the shell seated, its other end held flush."
        proud = [
            self.gaps.reading(half, words, near, how, possible=most)
            for half, words in HALVES.items()
        ]
        return Table(
            key=f"{name}_crush",
            title=f"Crush of the {name.replace('_', ' ')} shells",
            heading="Bearing",
            note="Both halves together. Too little lets the shells turn, too much bends them: "
            "other shells, or housing to size.",
            rows=rows,
            columns=(
                *proud,
                *limited(
                    self.gaps.result("crush", "crush", bearings.crush, proud_ends=proud), limits
                ),
            ),
        )

    def _end_float(self, limits: Limit) -> Form:
        moved = self.gaps.reading(
            "end_float",
            "Crank moves endways",
            middle(limits),
            "Indicator on the nose of the crank, levered fully to either end, caps torqued.",
            possible=up_to(self.basis, 3),
        )
        return Form(
            key="crank",
            title="End float of the crank",
            note="Too little is dirt, a burr or a cap out of place before it is the washers.",
            lines=(Line(column=moved, limits=limits, note=limits.source),),
        )

    def _cam(self, bores: TwoPointSizes | None, again: TwoPointSizes | None) -> Iterator[Table]:
        spec, journals, sizes = self.basis.spec.cam, self.measured.cam_journals, self.sizes
        if spec and bores and journals:
            yield _running(
                ("cam_fits", "Cam journals in their bores"),
                bores,
                again,
                *in_place(sizes, "cam_bore", "bore", bores, again),
                sizes.result(
                    "journal", "journal, largest", shown_again, value=journals.largest_size
                ),
                *limited(
                    sizes.result("cam_clearance", "clearance", clearances.cam_clearance),
                    spec.clearance,
                ),
            )

    def _tappets(self, bores: TwoPointSizes | None, again: TwoPointSizes | None) -> Iterator[Table]:
        spec, tappets, sizes = self.basis.spec.tappet_bores, self.measured.tappets, self.sizes
        if spec and bores and tappets:
            yield _running(
                ("tappet_fits", "Tappets in their bores"),
                bores,
                again,
                *in_place(sizes, "tappet_bore", "bore", bores, again),
                sizes.result("tappet", "tappet", shown_again, value=tappets.tappet),
                *limited(
                    sizes.result("tappet_clearance", "clearance", clearances.tappet_clearance),
                    spec.clearance,
                ),
            )


def _running(
    named: tuple[str, str], bores: Table, again: Table | None, *columns: Column | Check
) -> Table:
    """What runs in a row of bores, bore by bore."""
    return Table(
        key=named[0],
        title=named[1],
        heading="Bore",
        fresh_in=again.stale_with if again else None,
        rows=bores.rows,
        columns=columns,
    )
