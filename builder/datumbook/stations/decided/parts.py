"""Parts: what goes into the block, measured before it is made to them; the gauge's own sheet, with
no fit on it yet.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Reading, Sizes, limited
from datumbook.cells.tables import Form, Row, Sheet, Table, cylinder_rows, held
from datumbook.equations import bearings, clearances, crowns, fits, pistons
from datumbook.numbers.printing import NOT_MORE
from datumbook.numbers.quantities import Quantity
from datumbook.numbers.units import convert
from datumbook.spec import Limit
from datumbook.spec.block import Combustion
from datumbook.spec.parts import (
    CamJournals,
    Crankpins,
    FittedParts,
    GudgeonPins,
    Journals,
    Pistons,
    Rods,
    Tappets,
    Washers,
)
from datumbook.stations.decided.journals import (
    JOURNAL_DIRECTIONS,
    JournalRow,
    big_ends_apart,
    mains_apart,
    shells,
)
from datumbook.stations.received.features import TwoPointSizes, drawn, middle, two_point_held

MICROMETER = "Outside micrometer, part and block at one temperature."


class PistonSizes(Table):
    """The pistons, each for its cylinder."""

    piston: Column
    compression_height: Column


class RodSizes(Table):
    """The connecting rods, each for its cylinder."""

    rod_length: Column
    big_end: Column


class ThrowSizes(Table):
    """The throws of the crank as ground, each for its cylinder."""

    throw: Column
    stroke_ground: Column


class GasketSizes(Form):
    """The head gasket as measured."""

    gasket_thickness: Column
    gasket_hole: Column


class TappetSizes(Table):
    """The tappets."""

    tappet: Column


class PartsMeasured:
    """What goes into the block, each by itself; None where the spec leaves it out."""

    def __init__(self, basis: Basis, spec: FittedParts) -> None:
        self.basis, self.spec, self.sizes = basis, spec, basis.sizes("parts")
        self.heights = basis.sizes("heights")
        engine, cam, bores = basis.spec, basis.spec.cam, basis.spec.tappet_bores
        self.pistons = self._pistons(spec.pistons) if spec.pistons else None
        self.gudgeon_pins = self._gudgeon_pins(spec.gudgeon_pins) if spec.gudgeon_pins else None
        self.rods = self._rods(spec.rods) if spec.rods else None
        self.gasket = self._gasket(engine.combustion) if spec.gasket and engine.combustion else None
        self.main_journals = self._main_journals(spec.main_journals) if spec.main_journals else None
        self.crankpins = self._crankpins(spec.crankpins) if spec.crankpins else None
        self.throws = self._throws() if spec.crankpins and spec.crankpins.throws else None
        thrust = spec.thrust
        self.thrust = (
            self._washers(thrust.washers, thrust.end_float) if thrust and thrust.washers else None
        )
        self.cam_journals = (
            self._cam_journals(spec.cam_journals, cam.bores) if spec.cam_journals and cam else None
        )
        self.tappets = self._tappets(spec.tappets, bores.bores) if spec.tappets and bores else None

    def sheet(self) -> Sheet:
        """The sheet of the parts."""
        return Sheet(
            name="Parts", title="Parts that go into the block", parts=self.parts(), stage="planned"
        )

    def parts(self) -> list[Table | Form]:
        """What is measured by itself, if anything."""
        rows_of_journals = [row for row in (self.main_journals, self.crankpins) if row]
        parts = (
            self.pistons,
            *_weighed("Pistons", self.pistons, self.spec.pistons),
            self.gudgeon_pins,
            self.rods,
            *_weighed("Rods", self.rods, self.spec.rods),
            self.gasket,
            *(part for row in rows_of_journals for part in row.parts()),
            self.throws,
            self.thrust,
            self.cam_journals,
            self.tappets,
        )
        return [part for part in parts if part]

    def _main_journals(self, spec: Journals) -> JournalRow:
        apart, numbers = mains_apart(self.basis), self.basis.bearings()
        housings = [Row(str(number), f"Tunnel {number}") for number in numbers]
        held = shells(self.basis, "main_shells", "Main shells", spec, housings, apart=apart)
        return JournalRow(self.basis, "main_journal", "Main journal", spec, numbers, held)

    def _crankpins(self, spec: Crankpins) -> JournalRow:
        pins = sorted({crankpin_of(self.basis, one) for one in self.basis.cylinders()})
        held = shells(
            self.basis,
            "big_end_shells",
            "Big end shells",
            spec,
            cylinder_rows(self.basis.cylinders()),
            apart=big_ends_apart(self.basis),
        )
        return JournalRow(self.basis, "crankpin", "Crankpin", spec, pins, held)

    def strokes(self) -> Column | None:
        """Each cylinder's stroke as ground; None where it is not measured."""
        return self.throws.stroke_ground if self.throws else None

    def _throws(self) -> ThrowSizes:
        half = self.basis.stroke * Fraction(1, 2)
        return ThrowSizes(
            key="throws",
            title="Throws of the crank",
            heading="Pin of",
            note="Crank between centres or on its mains: height of the pin at the top less at the "
            "bottom, halved.",
            rows=cylinder_rows(self.basis.cylinders()),
            columns=(
                self.heights.reading("throw", "throw", half, "Height gauge, pin up and pin down."),
                self.heights.result("stroke_ground", "stroke", crowns.stroke_ground),
            ),
        )

    def _pistons(self, spec: Pistons) -> PistonSizes:
        return PistonSizes(
            key="pistons",
            title="Pistons",
            heading="Piston for",
            note=f"Diameter read {spec.gauged_at}, square to the pin. Have them at hand before a "
            f"bore is cut.",
            rows=cylinder_rows(self.basis.cylinders()),
            columns=(
                self.sizes.reading(
                    "piston",
                    "diameter",
                    spec.diameter,
                    f"{MICROMETER} {spec.gauged_at[:1].upper()}{spec.gauged_at[1:]}.",
                ),
                self.heights.reading(
                    "compression_height",
                    "pin to crown",
                    self.basis.heights.compression_height,
                    "Crown to the near side of the pin, plus half the pin.",
                ),
                *_weight(spec.weight),
            ),
        )

    def _gudgeon_pins(self, spec: GudgeonPins) -> Table:
        sizes, near = self.sizes, spec.size + middle(spec.clearance)
        pin = sizes.reading("pin", "pin", spec.size, MICROMETER)
        bush = sizes.reading(
            "small_end", "bush of the rod", near, "Small-hole gauge and micrometer."
        )
        return Table(
            key="gudgeon_pins",
            title="Gudgeon pins in their rods",
            heading="Pin for",
            rows=cylinder_rows(self.basis.cylinders()),
            columns=(
                pin,
                bush,
                *limited(
                    sizes.result(
                        "pin_clearance", "clearance", fits.fit_clearance, hole=bush, shaft=pin
                    ),
                    spec.clearance,
                ),
            ),
        )

    def _rods(self, spec: Rods) -> RodSizes:
        return RodSizes(
            key="rods",
            title="Connecting rods",
            heading="Rod for",
            note="Caps on and torqued, square to the joint and to either side of it: the smallest "
            "of the three.",
            rows=cylinder_rows(self.basis.cylinders()),
            columns=(
                *limited(
                    self.heights.reading(
                        "rod_length",
                        "centre to centre",
                        drawn(spec.length),
                        "Rod fixture, or over pins less half of both.",
                    ),
                    spec.length,
                ),
                *limited(
                    self.sizes.reading(
                        "big_end",
                        "big end",
                        drawn(spec.big_end),
                        "Bore gauge, cap torqued, shells out.",
                    ),
                    spec.big_end,
                ),
                *_weight(spec.weight),
            ),
        )

    def _washers(self, spec: Washers, limits: Limit) -> Form:
        sizes, near, cheeks = self.sizes, spec.thickness, "Between the cheeks of the crank"
        return Form(
            key="thrust",
            title="Thrust washers",
            lines=(
                sizes.reading("journal_width", cheeks, spec.journal, "Inside micrometer."),
                sizes.reading(
                    "saddle_width", "Block and cap between the washers", spec.saddle, MICROMETER
                ),
                sizes.reading("front_washer", "Front washer", near, MICROMETER),
                sizes.reading("rear_washer", "Rear washer", near, MICROMETER),
                sizes.result("thrust_width", "Over the washers", bearings.thrust_width),
                held(
                    sizes.result("end_float", "End float these sizes leave", clearances.end_float),
                    limits,
                ),
            ),
        )

    def _cam_journals(self, spec: CamJournals, count: int) -> TwoPointSizes:
        sizes, near = self.sizes, drawn(spec.size)
        read = [
            sizes.reading(name, said, near, MICROMETER) for name, said in JOURNAL_DIRECTIONS.items()
        ]
        return TwoPointSizes(
            key="cam_journals",
            title="Cam journals",
            heading="Journal",
            rows=[Row(str(number), f"Cam journal {number}") for number in range(1, count + 1)],
            columns=(
                *read,
                *two_point_held(sizes, read, spec.size),
                *limited(
                    sizes.result(
                        "journal_out_of_round", "out of round", bearings.journal_out_of_round
                    ),
                    spec.out_of_round,
                ),
            ),
        )

    def _tappets(self, spec: Tappets, count: int) -> TappetSizes:
        return TappetSizes(
            key="tappets",
            title="Tappets",
            heading="Tappet",
            note="The foot slightly domed and free of pits, or the cam will not live.",
            rows=[Row(str(number), f"Tappet {number}") for number in range(1, count + 1)],
            columns=limited(
                self.sizes.reading("tappet", "diameter", drawn(spec.size), MICROMETER), spec.size
            ),
        )

    def _gasket(self, spec: Combustion) -> GasketSizes:
        return GasketSizes(
            key="gasket",
            title="Head gasket",
            lines=(
                self.heights.reading(
                    "gasket_thickness",
                    "Thickness as pressed",
                    spec.gasket_thickness,
                    "Between the rings of a used one, or as its maker states it pressed.",
                    possible=(0.0, convert(3.0, "mm", self.basis.unit_of("heights"))),
                ),
                self.heights.reading(
                    "gasket_hole", "Bore hole, the smallest", spec.gasket_hole, "Calliper."
                ),
            ),
        )


def crankpin_of(basis: Basis, cylinder: int) -> int:
    """The number of the crankpin that a cylinder's rod runs on."""
    parts = basis.spec.parts
    shared = parts.crankpins.of_cylinders if parts and parts.crankpins else ()
    return shared[cylinder - 1] if shared else cylinder


def _weight(weight: Quantity | None) -> Iterator[Reading]:
    """The column of weights, where a part is weighed."""
    if weight is not None:
        yield Sizes(weight.unit, 1).reading(
            "weight", "weight", weight, "Scales, part clean and dry."
        )


def _weighed(words: str, part: Table | None, spec: Pistons | Rods | None) -> Iterator[Table]:
    """How evenly a set weighs, where its parts are weighed."""
    if part is None or spec is None or spec.weight is None or spec.weight_spread is None:
        return
    weights, sizes = (
        [part.column("weight")[row.key] for row in part.rows],
        Sizes(spec.weight.unit, 1),
    )
    source = spec.weight_spread.source or "the spec"
    spread = replace(sizes, width=14.0).result(
        "weight_spread", "heaviest less lightest", pistons.weight_spread, weights=weights
    )
    most = sizes.given("most", NOT_MORE, spec.weight_spread)
    yield Table(
        key=f"{part.key}_weighed",
        title=f"{words}, how evenly they weigh",
        heading="Set",
        note=f"Limit: {source}. Too uneven decides: metal off the heaviest where its maker allows "
        f"it.",
        rows=[Row("set", f"All {len(weights)}")],
        columns=(spread, most, Check(of=spread, high=most, source=source)),
    )
