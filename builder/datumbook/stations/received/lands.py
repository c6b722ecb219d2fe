"""Lands: the metal between the bores, where the centres have wandered, and what boring leaves to
clamp on.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Given, Result
from datumbook.cells.handles import Key
from datumbook.cells.tables import (
    Form,
    Line,
    Picture,
    Row,
    Series,
    Sheet,
    SheetPart,
    Table,
    cylinder_rows,
)
from datumbook.equations import lands, suspicions
from datumbook.equations.standings import shown_again
from datumbook.numbers.quantities import Quantity
from datumbook.spec.block import Bank
from datumbook.stations.received.bores import ReceivedBores
from datumbook.stations.received.scales import offset_scale


class LandReadings(Table):
    """The walls and lands of one row; what boring leaves of a land only where bores are bored."""

    width: Column
    clamping_land: Column


class BoreCentres(Table):
    """Where each bore of one row stands."""

    bore: Column
    offset: Column


class MouthChamfer(Form):
    """What the chamfer at the mouth of a bore takes from a land."""

    chamfer_width: Column


class BoreRow:
    """The bores of one bank in their row."""

    def __init__(self, basis: Basis, bank: Bank, bores: ReceivedBores) -> None:
        self.basis, self.bank, self.bores = basis, bank, bores
        self.spec, self.sizes = basis.lands, basis.sizes("lands")
        self.cylinders = [str(number) for number in bank.cylinders]
        self.between = [f"{front}_{rear}" for front, rear in pairwise(self.cylinders)]
        self.widths = self._widths()
        self.centres = self._centres()
        self.sum = self._sum()

    def nominal(self) -> dict[str, Quantity]:
        """What each wall and land measures on the drawing."""
        bore, centres = self.basis.spec.bores.standard.low, self.bank.centres
        half = Quantity(bore.number / 2, bore.unit, bore.decimals, "half the bore")
        return {
            "front_end": centres[0] - half,
            "rear_end": self.bank.deck_length - centres[-1] - half,
        } | {
            name: rear - front - bore
            for name, (front, rear) in zip(self.between, pairwise(centres), strict=True)
        }

    def parts(self) -> list[SheetPart]:
        """The parts of the sheet that are about this row."""
        picture = (
            Picture(
                title=self.bank.title(
                    "How far each bore centre has wandered: above zero to the rear"
                ),
                kind="columns",
                series=[Series("offset", [self.centres.offset[one] for one in self.cylinders])],
                scale=offset_scale(
                    self.basis, f"offset_scale{self.bank.suffix}", len(self.cylinders)
                ),
                value_words=self.basis.unit_of("lands"),
                lines=max(10, len(self.cylinders) + 4),
            )
            if self.between
            else None
        )
        return [
            part
            for part in (self.widths, self.centres, picture, self.sum, self._suspects())
            if part
        ]

    def bored_as(self, finish_bore: Column, offset: Column, chamfer: MouthChamfer) -> None:
        """What boring leaves of each land, and what the mouth chamfers leave of that."""
        set_over = self.sizes.result(
            "land_set_over",
            "and setting over",
            lands.land_set_over,
            self.between,
            front_offset=_beside(0, offset.__getitem__),
            rear_offset=_beside(1, offset.__getitem__),
        )
        left = self.sizes.result(
            "clamping_land",
            "left to clamp",
            lands.clamping_land,
            self.between,
            land=set_over,
            chamfer_width=chamfer.chamfer_width,
        )
        self.widths.extend(
            (
                self.sizes.result(
                    "land_after_boring",
                    "after boring",
                    lands.land_after_boring,
                    self.between,
                    land=self.widths.width,
                    front_bore=_beside(0, self.bores.along_row),
                    rear_bore=_beside(1, self.bores.along_row),
                    front_finished_bore=_beside(0, finish_bore.__getitem__),
                    rear_finished_bore=_beside(1, finish_bore.__getitem__),
                ),
                set_over,
                left,
                Check(of=left, limits=self.spec.clamping_land, rows=self.between),
            )
        )

    def _widths(self) -> LandReadings:
        nominal, unit = self.nominal(), self.basis.unit_of("lands")
        return LandReadings(
            key=f"lands{self.bank.suffix}",
            title=self.bank.title("Land readings"),
            own_page=self.bank.key != self.basis.spec.rows[0].key,
            heading="Land",
            note=f"Read along the row at the depth “{self.basis.spec.bores.depths[0].words}”. "
            "After boring: every bore at its finish size and set over as the plan has it.",
            rows=self._rows(),
            columns=(
                self.sizes.reading(
                    "width",
                    "width",
                    nominal.__getitem__,
                    "Between the bore walls along the row of bores; end walls to the end face.",
                    possible=lambda row: (0.0, 2 * nominal[row].to(unit)),
                ),
            ),
        )

    def _rows(self) -> list[Row]:
        """The lands and both end walls, from the front."""
        return [
            Row("front_end", f"End wall before cylinder {self.cylinders[0]}"),
            *(Row(name, f"Land {name.replace('_', ' to ')}") for name in self.between),
            Row("rear_end", f"End wall behind cylinder {self.cylinders[-1]}"),
        ]

    def _centres(self) -> BoreCentres:
        """Where each bore stands, worked out wall by land by bore from the front."""
        sizes, width, (first, *others) = self.sizes, self.widths.width, self.cylinders
        before = dict(zip(others, self.cylinders, strict=False))
        bore = sizes.result("bore", "bore along the row", shown_again, value=self.bores.along_row)
        centre = sizes.result(
            "centre", "centre", lands.first_centre, [first], end_wall=width["front_end"]
        )
        offset = sizes.result("offset", "offset", lands.offset)
        return BoreCentres(
            key=f"centres{self.bank.suffix}",
            title=self.bank.title("Bore centres from the front end face"),
            heading="Cylinder",
            note="Each centre follows from the end wall, the lands and the bores before it. "
            "Offset above zero: the bore has wandered to the rear.",
            rows=cylinder_rows(self.cylinders),
            columns=(
                bore,
                centre,
                sizes.result(
                    "centre",
                    "centre",
                    lands.next_centre,
                    others,
                    front_centre=lambda row: centre[before[row]],
                    front_bore=lambda row: bore[before[row]],
                    land=lambda row: width[f"{before[row]}_{row}"],
                ),
                sizes.given(
                    "standard_centre",
                    "should be",
                    dict(zip(self.cylinders, self.bank.centres, strict=True)).__getitem__,
                ),
                offset,
                Check(of=offset, limits=self.spec.offset),
                sizes.result(
                    "bore_pitch",
                    "pitch from the one before",
                    lands.bore_pitch,
                    others,
                    front_centre=lambda row: centre[before[row]],
                ),
            ),
        )

    def _sum(self) -> Form:
        """Whether walls, lands and bores add up to the deck's length."""
        return Form(
            key=f"row{self.bank.suffix}",
            title=self.bank.title("The row adds up"),
            own_page=bool(self.between) and not self.bank.key,
            note="End walls, lands and bores together must give the deck's length. One wrong land "
            "shows as exactly its error.",
            lines=(
                self.sizes.result(
                    "row_length",
                    "Sum of walls, lands and bores",
                    lands.row_length,
                    widths=[
                        *(self.widths.width[row.key] for row in self.widths.rows),
                        *(self.centres.bore[one] for one in self.cylinders),
                    ],
                ),
                self.sizes.reading(
                    "deck_length",
                    "Deck length, end face to end face",
                    self.bank.deck_length,
                    "Over both end faces at deck height.",
                ),
                Line(
                    column=self.sizes.result(
                        "row_closure", "Row of bores: sum less length", lands.row_closure
                    ),
                    limits=self.spec.closure,
                    note=self.spec.closure.source,
                ),
            ),
        )

    def _suspects(self) -> Table:
        """Which width to look at first when the row does not add up, in words beside it."""
        sizes, closure, rows = self.sizes, self.sum.column("row_closure"), self._rows()
        off = sizes.result(
            "off_drawing", "off the drawing", suspicions.off_drawing, width=self.widths.width
        )
        return Table(
            key=f"land_suspects{self.bank.suffix}",
            title=self.bank.title("Where to look first when it does not add up"),
            heading="Land",
            note="One wrong width is off its drawing by about what the sum lacks. A hint and no "
            "verdict: a bore or the length "
            "may be wrong as well.",
            rows=rows,
            columns=(
                sizes.given("drawn", "as drawn", self.nominal().__getitem__),
                off,
                Result(
                    name="suspected",
                    words="sum OUT?",
                    width=9,
                    equation=suspicions.land_suspected,
                    inputs={
                        "all_off_drawing": lambda _: [off[one.key] for one in rows],
                        "row_closure": closure.key,
                        "verdict": closure.verdict.key,
                    },
                ),
            ),
        )


class BoreRows:
    """The rows of bores, bank by bank: their lands, and where their centres stand."""

    def __init__(self, basis: Basis, bores: ReceivedBores) -> None:
        self.basis = basis
        self.rows = [BoreRow(basis, bank, bores) for bank in basis.spec.rows]
        self.between = [row for row in self.rows if row.between]
        spec, sizes = basis.lands.mouth_chamfer, basis.sizes("lands")
        self.chamfer = MouthChamfer(
            key="chamfer",
            title="Mouth chamfer",
            lines=(
                sizes.given("height", "Height", spec.height),
                Given(name="angle", words="Angle from the bore axis", unit="deg", value=spec.angle),
                sizes.result(
                    "chamfer_width", "Width it takes from a land, each side", lands.chamfer_width
                ),
            ),
        )

    def sheet(self) -> Sheet:
        """The sheet of the lands and bore centres, bank by bank."""
        parts = [part for row in self.rows for part in row.parts()]
        if self.basis.spec.bored and self.between:
            parts.append(self.chamfer)
        return Sheet(name="Lands", title="Lands and bore centres", parts=parts)

    def row_of(self, cylinder: str) -> BoreRow:
        """The row in which a cylinder stands."""
        return next(row for row in self.rows if cylinder in row.cylinders)

    def narrowest(self) -> Quantity:
        """The narrowest land between two bores of the drawing."""
        return min(
            [row.nominal()[name] for row in self.between for name in row.between],
            key=lambda size: size.exactly("mm"),
        )

    def bored_as(self, finish_bore: Column, offset: Column) -> None:
        """What is left of the lands with each bore at this finish size and set over so far."""
        for row in self.between:
            row.bored_as(finish_bore, offset, self.chamfer)


def _beside(side: int, of: Callable[[str], Key]) -> Callable[[str], Key]:
    """The cell of the cylinder in front of a land (0) or behind it (1)."""
    return lambda row: of(row.split("_")[side])
