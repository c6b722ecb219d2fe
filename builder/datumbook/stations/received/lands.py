"""Lands: the metal between the bores, where the centres have wandered, and what boring leaves to
clamp on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise
from typing import Any

from datumbook.cells.columns import Check, Column, Given, Result
from datumbook.cells.tables import Form, Line, Picture, Row, Series, Sheet, Table, cylinder_rows
from datumbook.equations import lands, suspicions
from datumbook.equations.standings import shown_again
from datumbook.numbers.quantities import Quantity
from datumbook.spec.model import Bank
from datumbook.stations.decided.bore_plan import FINISH, OFFSET, bored
from datumbook.workbook.layout import Layout


def sheet(layout: Layout) -> Sheet:
    """The sheet of the lands and bore centres, bank by bank."""
    parts: list[Table | Form | Picture] = []
    for bank in layout.spec.rows:
        row = BoreRow(layout, bank)
        parts += [
            row.widths(),
            row.centres(),
            *([row.picture()] if row.between else []),
            row.sum(),
            row.suspects(),
        ]
    if rebored(layout):
        parts.append(_chamfer(layout))
    return Sheet(name="Lands", title="Lands and bore centres", parts=parts)


def rebored(layout: Layout) -> bool:
    """Whether there are lands that boring to an oversize makes narrower."""
    return bored(layout) and any(len(bank.cylinders) > 1 for bank in layout.spec.rows)


def narrowest_land(layout: Layout) -> Quantity:
    """The narrowest land between two bores of the drawing."""
    rows = [BoreRow(layout, bank) for bank in layout.spec.rows]
    return min(
        (row.nominal()[name] for row in rows for name in row.between),
        key=lambda size: size.exactly("mm"),
    )


class BoreRow:
    """The bores of one bank in their row."""

    def __init__(self, layout: Layout, bank: Bank) -> None:
        self.layout, self.bank = layout, bank
        self.spec, self.sizes = layout.spec.lands, layout.sizes("lands")
        self.cylinders = [str(number) for number in bank.cylinders]
        self.between = [f"{front}_{rear}" for front, rear in pairwise(self.cylinders)]
        self.before = dict(zip(self.cylinders[1:], self.cylinders, strict=False))
        self.lands, self.middles = f"lands{bank.suffix}", f"centres{bank.suffix}"
        self.depth = layout.spec.bores.depths[0]

    def nominal(self) -> dict[str, Quantity]:
        """What each wall and land measures on the drawing."""
        bore, centres = self.layout.spec.bores.standard.low, self.bank.centres
        assert bore is not None  # a Band has both ends
        half = Quantity(bore.number / 2, bore.unit, bore.decimals, "half the bore")
        widths = {
            "front_end": centres[0] - half,
            "rear_end": self.bank.deck_length - centres[-1] - half,
        }
        return widths | {
            name: rear - front - bore
            for name, (front, rear) in zip(self.between, pairwise(centres), strict=True)
        }

    def widths(self) -> Table:
        """The readings of the walls and lands, and what boring leaves of them."""
        nominal, unit = self.nominal(), self.layout.unit_of("lands")
        how = "Between the bore walls along the row of bores; end walls to the end face."
        return Table(
            key=self.lands,
            title=self.bank.title("Land readings"),
            own_page=self.bank.key != self.layout.spec.rows[0].key,
            heading="Land",
            note=f"Read along the row at the depth “{self.depth.words}”. "
            "After boring: every bore at its finish size and set over as the plan has it.",
            rows=self.rows(),
            columns=(
                self.sizes.reading(
                    "width",
                    "width",
                    nominal.__getitem__,
                    how,
                    possible=lambda row: (0.0, 2 * nominal[row].to(unit)),
                ),
                *(self.after_boring() if self.between and rebored(self.layout) else ()),
            ),
        )

    def rows(self) -> list[Row]:
        """The lands and both end walls, from the front."""
        return [
            Row("front_end", f"End wall before cylinder {self.cylinders[0]}"),
            *(Row(name, f"Land {name.replace('_', ' to ')}") for name in self.between),
            Row("rear_end", f"End wall behind cylinder {self.cylinders[-1]}"),
        ]

    def suspects(self) -> Table:
        """Which width to look at first when the row does not add up, in words beside it."""
        key, row = f"land_suspects{self.bank.suffix}", f"row{self.bank.suffix}.row_closure"
        every = [f"{key}.{one.key}.off_drawing" for one in self.rows()]
        inputs: dict[str, Any] = {
            "off_drawing": f"{key}.{{row}}.off_drawing",
            "all_off_drawing": every,
            "row_closure": row,
            "verdict": f"{row}.verdict",
        }
        return Table(
            key=key,
            title=self.bank.title("Where to look first when it does not add up"),
            heading="Land",
            note="One wrong width is off its drawing by about what the sum lacks. A hint and no "
            "verdict: a bore or the length "
            "may be wrong as well.",
            rows=self.rows(),
            columns=(
                self.sizes.given("drawn", "as drawn", self.nominal().__getitem__),
                self.sizes.result(
                    "off_drawing",
                    "off the drawing",
                    suspicions.off_drawing,
                    width=f"{self.lands}.{{row}}.width",
                ),
                Result(
                    name="suspected",
                    words="sum OUT?",
                    unit=None,
                    width=9,
                    equation=suspicions.land_suspected,
                    inputs=inputs,
                ),
            ),
        )

    def after_boring(self) -> Iterator[Column | Check]:
        """What boring leaves of each land, and what the mouth chamfers leave of that."""

        def bore(side: int) -> Callable[[str], str]:
            return lambda row: f"bores.{row.split('_')[side]}.{self.depth.key}.axial"

        yield self.sizes.result(
            "land_after_boring",
            "after boring",
            lands.land_after_boring,
            self.between,
            land=f"{self.lands}.{{row}}.width",
            front_bore=bore(0),
            rear_bore=bore(1),
            front_finished_bore=_planned(FINISH, 0),
            rear_finished_bore=_planned(FINISH, 1),
        )
        yield self.sizes.result(
            "land_set_over",
            "and setting over",
            lands.land_set_over,
            self.between,
            front_offset=_planned(OFFSET, 0),
            rear_offset=_planned(OFFSET, 1),
        )
        left = {
            "land": f"{self.lands}.{{row}}.land_set_over",
            "chamfer_width": "chamfer.chamfer_width",
        }
        yield self.sizes.result(
            "clamping_land", "left to clamp", lands.clamping_land, self.between, **left
        )
        yield Check(of="clamping_land", limits=self.spec.clamping_land, rows=self.between)

    def centres(self) -> Table:
        """Where each bore stands, worked out wall by land by bore from the front."""
        first, others = self.cylinders[:1], self.cylinders[1:]
        standard = dict(zip(self.cylinders, self.bank.centres, strict=True))

        def front(name: str) -> Callable[[str], str]:
            return lambda row: f"{self.middles}.{self.before[row]}.{name}"

        chain: dict[str, Any] = {
            "front_centre": front("centre"),
            "front_bore": front("bore"),
            "land": lambda row: f"{self.lands}.{self.before[row]}_{row}.width",
        }
        return Table(
            key=self.middles,
            title=self.bank.title("Bore centres from the front end face"),
            heading="Cylinder",
            note="Each centre follows from the end wall, the lands and the bores before it. "
            "Offset above zero: the bore has wandered to the rear.",
            rows=cylinder_rows(self.cylinders),
            columns=(
                self.sizes.result(
                    "bore",
                    "bore along the row",
                    shown_again,
                    value=f"bores.{{row}}.{self.depth.key}.axial",
                ),
                self.sizes.result(
                    "centre",
                    "centre",
                    lands.first_centre,
                    first,
                    end_wall=f"{self.lands}.front_end.width",
                ),
                self.sizes.result("centre", "centre", lands.next_centre, others, **chain),
                self.sizes.given("standard_centre", "should be", standard.__getitem__),
                self.sizes.result("offset", "offset", lands.offset),
                Check(of="offset", limits=self.spec.offset),
                self.sizes.result(
                    "bore_pitch",
                    "pitch from the one before",
                    lands.bore_pitch,
                    others,
                    front_centre=front("centre"),
                ),
            ),
        )

    def picture(self) -> Picture:
        """Where the centres have wandered."""
        offsets = Series("offset", [f"{self.middles}.{number}.offset" for number in self.cylinders])
        title = self.bank.title("How far each bore centre has wandered: above nought to the rear")
        return Picture(
            title=title,
            kind="columns",
            series=[offsets],
            value_words=self.layout.unit_of("lands"),
            lines=8,
        )

    def sum(self) -> Form:
        """Whether walls, lands and bores add up to the deck's length."""
        walls = [f"{self.lands}.{name}.width" for name in ("front_end", *self.between, "rear_end")]
        bores = [f"{self.middles}.{number}.bore" for number in self.cylinders]
        length = "Over both end faces at deck height."
        measured = self.sizes.reading(
            "deck_length", "Deck length, end face to end face", self.bank.deck_length, length
        )
        closure = self.sizes.result(
            "row_closure", "Row of bores: sum less length", lands.row_closure
        )
        return Form(
            key=f"row{self.bank.suffix}",
            title=self.bank.title("The row adds up"),
            own_page=bool(self.between) and not self.bank.key,
            note="End walls, lands and bores together must give the deck's length. One wrong land "
            "shows as exactly its error.",
            lines=(
                Line(
                    column=self.sizes.result(
                        "row_length",
                        "Sum of walls, lands and bores",
                        lands.row_length,
                        widths=walls + bores,
                    )
                ),
                Line(column=measured),
                Line(column=closure, limits=self.spec.closure, note=self.spec.closure.source),
            ),
        )


def _planned(cell: str, side: int) -> Callable[[str], str]:
    """What the plan has for the cylinder on one side of a land."""
    return lambda row: cell.format(row=row.split("_")[side])


def _chamfer(layout: Layout) -> Form:
    spec, sizes = layout.spec.lands.mouth_chamfer, layout.sizes("lands")
    angle = Given(
        name="angle", words="Angle from the bore axis", unit="deg", decimals=0, value=spec.angle
    )
    lines = (
        Line(column=sizes.given("height", "Height", spec.height)),
        Line(column=angle),
        Line(
            column=sizes.result(
                "chamfer_width", "Width it takes from a land, each side", lands.chamfer_width
            )
        ),
    )
    return Form(key="chamfer", title="Mouth chamfer", lines=lines)
