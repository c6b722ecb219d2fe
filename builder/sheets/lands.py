"""Lands: the metal between the bores, where the centres have wandered, and what boring leaves to clamp on."""

from __future__ import annotations

from collections.abc import Iterator

from builder.equations import lands
from builder.equations.verdicts import shown_again
from builder.layout import Layout
from builder.quantities import Quantity
from builder.table import Check, Column, Form, Given, Line, Row, Sheet, Table


def sheet(layout: Layout) -> Sheet:
    """The sheet of the lands and bore centres."""
    parts: list[Table | Form] = [_widths(layout), _centres(layout), _row(layout)]
    return Sheet(name="Lands", title="Lands and bore centres", parts=parts + ([_chamfer(layout)] if _rebored(layout) else []))


def _between(layout: Layout) -> list[str]:
    """The lands between neighbours, by the cylinders on both sides."""
    return [f"{front}_{front + 1}" for front in layout.cylinders()[:-1]]


def _rebored(layout: Layout) -> bool:
    """Whether there are lands that boring to an oversize makes narrower."""
    return bool(_between(layout) and layout.spec.bores.oversizes)


def _depth(layout: Layout) -> str:
    return layout.spec.bores.depths[0].key


def _nominal_widths(layout: Layout) -> dict[str, Quantity]:
    spec, bore = layout.spec.lands, layout.spec.bores.standard.low
    assert bore is not None  # a Band has both ends
    half = Quantity(bore.number / 2, bore.unit, bore.decimals, "half the bore")
    widths = {"front_end": spec.centres[0] - half, "rear_end": spec.deck_length - spec.centres[-1] - half}
    for name, front, rear in zip(_between(layout), spec.centres, spec.centres[1:], strict=False):
        widths[name] = rear - front - bore
    return widths


def _widths(layout: Layout) -> Table:
    sizes, between, nominal = layout.sizes("lands"), _between(layout), _nominal_widths(layout)
    how = "Between the bore walls along the row of bores; end walls to the end face."
    return Table(
        key="lands",
        title="Land readings",
        heading="Land",
        note=f"Read along the row at the depth “{layout.spec.bores.depths[0].words}”. "
        "After boring: every bore taken to the size that the bore sheet proposes, about its own centre.",
        rows=[
            Row("front_end", "End wall before cylinder 1"),
            *(Row(name, f"Land {name.replace('_', ' to ')}") for name in between),
            Row("rear_end", f"End wall behind cylinder {layout.cylinders()[-1]}"),
        ],
        columns=(
            sizes.reading(
                "width",
                "width",
                nominal.__getitem__,
                how,
                possible=lambda row: (0.0, 2 * nominal[row].to(layout.unit_of("lands"))),
            ),
            *(_after_boring(layout) if _rebored(layout) else ()),
        ),
    )


def _after_boring(layout: Layout) -> Iterator[Column | Check]:
    sizes, between, depth = layout.sizes("lands"), _between(layout), _depth(layout)

    def bore(side: int) -> Column | object:
        return lambda row: f"bores.{row.split('_')[side]}.{depth}.axial"

    yield sizes.result(
        "land_after_boring",
        "after boring",
        lands.land_after_boring,
        between,
        land="lands.{row}.width",
        front_bore=bore(0),  # type: ignore[arg-type]
        rear_bore=bore(1),  # type: ignore[arg-type]
        front_finished_bore="rebore.next_oversize",
        rear_finished_bore="rebore.next_oversize",
    )
    left = {"land": "lands.{row}.land_after_boring", "chamfer_width": "chamfer.chamfer_width"}
    yield sizes.result("clamping_land", "left to clamp", lands.clamping_land, between, **left)
    yield Check(of="clamping_land", limits=layout.spec.lands.clamping_land, rows=between)


def _centres(layout: Layout) -> Table:
    spec, sizes = layout.spec.lands, layout.sizes("lands")
    cylinders, depth = [str(number) for number in layout.cylinders()], _depth(layout)

    def before(name: str) -> object:
        return lambda row: f"centres.{int(row) - 1}.{name}"

    chain = {"front_centre": before("centre"), "front_bore": before("bore"),
             "land": lambda row: f"lands.{int(row) - 1}_{row}.width"}  # fmt: skip
    return Table(
        key="centres",
        title="Bore centres from the front end face",
        heading="Cylinder",
        note="Each centre follows from the end wall, the lands and the bores before it. "
        "Offset above zero: the bore has wandered to the rear.",
        rows=[Row(number, f"Cylinder {number}") for number in cylinders],
        columns=(
            sizes.result("bore", "bore along the row", shown_again, value=f"bores.{{row}}.{depth}.axial"),
            sizes.result("centre", "centre", lands.first_centre, ["1"], end_wall="lands.front_end.width"),
            sizes.result("centre", "centre", lands.next_centre, cylinders[1:], **chain),  # type: ignore[arg-type]
            sizes.given("standard_centre", "should be", lambda row: spec.centres[int(row) - 1]),
            sizes.result("offset", "offset", lands.offset),
            Check(of="offset", limits=spec.offset),
            sizes.result("bore_pitch", "pitch from the one before", lands.bore_pitch, cylinders[1:],
                         front_centre=before("centre")),  # type: ignore[arg-type]
        ),
    )  # fmt: skip


def _row(layout: Layout) -> Form:
    spec, sizes = layout.spec.lands, layout.sizes("lands")
    walls = ["lands.front_end.width", *(f"lands.{name}.width" for name in _between(layout)), "lands.rear_end.width"]
    bores = [f"centres.{number}.bore" for number in layout.cylinders()]
    length = "Over both end faces at deck height."
    return Form(
        key="row",
        title="The row adds up",
        note="End walls, lands and bores together must give the deck's length. One wrong land shows as exactly its error.",
        lines=(
            Line(column=sizes.result("row_length", "Sum of walls, lands and bores", lands.row_length, widths=walls + bores)),
            Line(column=sizes.reading("deck_length", "Deck length, end face to end face", spec.deck_length, length)),
            Line(column=sizes.result("row_closure", "Row of bores: sum less length", lands.row_closure), limits=spec.closure,
                 note=spec.closure.source),
        ),
    )  # fmt: skip


def _chamfer(layout: Layout) -> Form:
    spec, sizes = layout.spec.lands.mouth_chamfer, layout.sizes("lands")
    angle = Given(name="angle", words="Angle from the bore axis", unit="deg", decimals=0, value=spec.angle)
    lines = (
        Line(column=sizes.given("height", "Height", spec.height)),
        Line(column=angle),
        Line(column=sizes.result("chamfer_width", "Width it takes from a land, each side", lands.chamfer_width)),
    )
    return Form(key="chamfer", title="Mouth chamfer", lines=lines)
