"""Lands: the metal between the bores, where the centres have wandered, and what boring leaves to clamp on."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from builder.equations import lands
from builder.equations.verdicts import shown_again
from builder.quantities import Quantity
from builder.table import Check, Form, Given, Line, Reading, Result, Row, Sheet, Table

if TYPE_CHECKING:
    from builder.layout import Layout


def sheet(layout: Layout) -> Sheet:
    """The sheet of the lands and bore centres."""
    parts = (
        _widths(layout),
        _centres(layout),
        _row(layout),
        *((_chamfer(layout),) if len(layout.cylinders()) > 1 else ()),
    )
    return Sheet(name="Lands", title="Lands and bore centres", parts=parts)


def land_names(layout: Layout) -> list[str]:
    """The lands between neighbours, by the cylinders on both sides."""
    return [f"{front}_{front + 1}" for front in layout.cylinders()[:-1]]


def _depth(layout: Layout) -> str:
    return layout.spec.bores.depths[0].key


def _nominal_widths(layout: Layout) -> dict[str, Quantity]:
    spec, bore = layout.spec.lands, layout.spec.bores.standard.low
    assert bore is not None
    half = Quantity(bore.number / 2, bore.unit, bore.decimals, "half the bore")
    widths = {"front_end": spec.centres[0] - half, "rear_end": spec.deck_length - spec.centres[-1] - half}
    for name, front, rear in zip(land_names(layout), spec.centres, spec.centres[1:], strict=False):
        widths[name] = rear - front - bore
    return widths


def _widths(layout: Layout) -> Table:
    unit, decimals, between = layout.unit_of("lands"), layout.decimals_of("lands"), land_names(layout)
    nominal, depth = _nominal_widths(layout), _depth(layout)
    rows = [
        Row("front_end", "End wall before cylinder 1"),
        *(Row(name, f"Land {name.replace('_', ' to ')}") for name in between),
        Row("rear_end", f"End wall behind cylinder {layout.cylinders()[-1]}"),
    ]

    def sides(row: str) -> tuple[str, str]:
        front, rear = row.split("_")
        return f"bores.{front}.{depth}.axial", f"bores.{rear}.{depth}.axial"

    return Table(
        key="lands",
        title="Land readings",
        heading="Land",
        note=f"Read at the deck along the row, at the depth {layout.spec.bores.depths[0].words}. "
        "After boring: every bore taken to the size that the bore sheet proposes, about its own centre.",
        rows=rows,
        columns=(
            Reading(
                name="width",
                words="width",
                unit=unit,
                decimals=decimals,
                group="lands",
                near=nominal.__getitem__,
                how="Between the bore walls along the row of bores; end walls to the end face.",
            ),  # fmt: skip
            Result(
                name="land_after_boring",
                words="after boring",
                unit=unit,
                decimals=decimals,
                rows=between,
                equation=lands.land_after_boring,
                inputs={
                    "land": "lands.{row}.width",
                    "front_bore": lambda row: sides(row)[0],
                    "rear_bore": lambda row: sides(row)[1],
                    "front_finished_bore": "rebore.next_oversize",
                    "rear_finished_bore": "rebore.next_oversize",
                },
            ),
            Result(
                name="clamping_land",
                words="left to clamp",
                unit=unit,
                decimals=decimals,
                rows=between,
                equation=lands.clamping_land,
                inputs={"land": "lands.{row}.land_after_boring", "chamfer_width": "chamfer.chamfer_width"},
            ),
            *([Check(of="clamping_land", limits=layout.spec.lands.clamping_land, rows=between)] if between else []),
        ),
    )


def _centres(layout: Layout) -> Table:
    spec, unit, decimals = layout.spec.lands, layout.unit_of("lands"), layout.decimals_of("lands")
    cylinders, depth = [str(number) for number in layout.cylinders()], _depth(layout)

    def result(name: str, words: str, equation: object, rows: list[str], **inputs: object) -> Result:
        return Result(name=name, words=words, unit=unit, decimals=decimals, rows=rows, equation=equation, inputs=inputs)  # type: ignore[arg-type]

    def before(pattern: str) -> object:
        return lambda row: pattern.format(int(row) - 1)

    return Table(
        key="centres",
        title="Bore centres from the front end face",
        heading="Cylinder",
        note="Each centre follows from the end wall, the lands and the bores before it. "
        "Offset above zero: the bore has wandered to the rear.",
        rows=[Row(number, f"Cylinder {number}") for number in cylinders],
        columns=(
            result("bore", "bore along the row", shown_again, cylinders, value=f"bores.{{row}}.{depth}.axial"),
            result("centre", "centre", lands.first_centre, ["1"], end_wall="lands.front_end.width"),
            result(
                "centre",
                "centre",
                lands.next_centre,
                cylinders[1:],
                front_centre=before("centres.{}.centre"),
                front_bore=before("centres.{}.bore"),
                land=lambda row: f"lands.{int(row) - 1}_{row}.width",
            ),
            Given(
                name="standard_centre",
                words="should be",
                unit=unit,
                decimals=decimals,
                value=lambda row: spec.centres[int(row) - 1],
            ),  # fmt: skip
            result("offset", "offset", lands.offset, cylinders),
            Check(of="offset", limits=spec.offset),
            result(
                "bore_pitch",
                "pitch from the one before",
                lands.bore_pitch,
                cylinders[1:],
                front_centre=before("centres.{}.centre"),
            ),  # fmt: skip
        ),
    )


def _row(layout: Layout) -> Form:
    spec, unit, decimals = layout.spec.lands, layout.unit_of("lands"), layout.decimals_of("lands")
    widths = [
        "lands.front_end.width",
        *(f"lands.{name}.width" for name in land_names(layout)),
        "lands.rear_end.width",
        *(f"centres.{number}.bore" for number in layout.cylinders()),
    ]
    return Form(
        key="row",
        title="The row adds up",
        note="End walls, lands and bores together must give the deck's length. One wrong land shows as exactly its error.",
        lines=(
            Line(
                column=Result(
                    name="row_length",
                    words="Sum of walls, lands and bores",
                    unit=unit,
                    decimals=decimals,
                    equation=lands.row_length,
                    inputs={"widths": widths},
                )
            ),  # fmt: skip
            Line(
                column=Reading(
                    name="deck_length",
                    words="Deck length, end face to end face",
                    unit=unit,
                    decimals=decimals,
                    group="lands",
                    near=spec.deck_length,
                    how="Over both end faces at deck height.",
                )
            ),  # fmt: skip
            Line(
                column=Result(
                    name="row_closure",
                    words="Sum less length",
                    unit=unit,
                    decimals=decimals,
                    equation=lands.row_closure,
                ),
                limits=spec.closure,
                note=spec.closure.source,
            ),  # fmt: skip
        ),
    )


def _chamfer(layout: Layout) -> Form:
    spec, unit, decimals = layout.spec.lands.mouth_chamfer, layout.unit_of("lands"), layout.decimals_of("lands")

    def lines() -> Iterator[Line]:
        yield Line(column=Given(name="height", words="Height", unit=unit, decimals=decimals, value=spec.height))
        yield Line(
            column=Given(name="angle", words="Angle from the bore axis", unit="deg", decimals=0, value=spec.angle)
        )
        yield Line(column=Result(name="chamfer_width", words="Width it takes from a land, each side", unit=unit,
                                 decimals=decimals, equation=lands.chamfer_width))  # fmt: skip

    return Form(key="chamfer", title="Mouth chamfer", lines=tuple(lines()))
