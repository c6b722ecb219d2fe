"""Crowns: how far below the deck each piston stops, what is left to squeeze, and how alike the
cylinders compress.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from datumbook.cells.columns import Check, Column, Given, Result, Sizes
from datumbook.cells.tables import Form, Line, Row, Table, cylinder_rows
from datumbook.equations import clearances, heights, pistons, volumes
from datumbook.equations.bores import swept_volume
from datumbook.equations.standings import shown_again
from datumbook.equations.verdicts import verdict_of_spread
from datumbook.numbers.printing import NOT_MORE
from datumbook.numbers.quantities import Quantity
from datumbook.spec.model import Bank, Combustion
from datumbook.spec.parts import FittedParts
from datumbook.stations.received.deck_heights import CORNERS
from datumbook.workbook.layout import Layout


def crowns(layout: Layout, spec: FittedParts) -> Iterator[Table | Form]:
    """What follows from pistons, rods and deck, bank by bank; nothing where neither pistons nor
    rods are measured.
    """
    if not (spec.pistons or spec.rods):
        return
    for bank in layout.spec.rows:
        yield _stack(layout, spec, bank)
        if layout.spec.combustion:
            yield _compression(layout, spec, layout.spec.combustion, bank)
        if spec.gasket:
            yield _gasket(layout, bank)
    if layout.spec.combustion and (spec.pistons or spec.gasket):
        yield _spread(layout, spec.ratio_spread)


def _rows(bank: Bank) -> list[Row]:
    return cylinder_rows(bank.cylinders)


def _of(layout: Layout, bank: Bank) -> tuple[str, str]:
    """What a bank puts before its keys, and the finished table its heights go stale with, "" where
    none does.
    """
    of = f"{bank.key}_" if bank.key else ""
    corners = f"finished_{of}corners"
    return of, corners if f"{corners}.taken_after" in layout.places else ""


def _stack(layout: Layout, spec: FittedParts, bank: Bank) -> Table:
    sizes, (of, fresh) = layout.sizes("heights"), _of(layout, bank)
    own: dict[str, Any] = {
        "rod_length": "rods.{row}.rod_length" if spec.rods else layout.spec.heights.rod_length,
        "compression_height": "pistons.{row}.compression_height"
        if spec.pistons
        else layout.spec.heights.compression_height,
    }

    def columns() -> Iterator[Column | Check]:
        yield from _deck(layout, bank, of, sizes)
        yield sizes.result(
            "piston_stack",
            "axis to crown",
            heights.piston_stack,
            stroke=layout.spec.bores.stroke,
            **own,
        )
        yield sizes.result("deck_clearance", "deck clearance", heights.deck_clearance)
        yield Check(of="deck_clearance", limits=layout.spec.heights.deck_clearance)
        if layout.spec.combustion:
            yield sizes.result(
                "squish",
                "squish",
                volumes.squish,
                gasket_thickness=_gasket_of(layout, spec)["gasket_thickness"],
            )
            yield Check(of="squish", limits=layout.spec.combustion.squish)

    return Table(
        key=f"crowns{bank.suffix}",
        title=bank.title("Pistons at the top, each with its own rod"),
        heading="Cylinder",
        note="Below zero the crown stands proud. The finished deck lies over each bore on the "
        "line between its ends; "
        "until it is measured the planned height stands in, and nothing is judged.",
        fresh_in=fresh,
        rows=_rows(bank),
        columns=tuple(columns()),
    )


def _deck(layout: Layout, bank: Bank, of: str, sizes: Sizes) -> Iterator[Column]:
    """The deck over each bore: from its finished corners, or the height the plan leaves all
    over.
    """
    planned = f"{of}plan.deck_after"
    if not layout.spec.finished:
        yield sizes.result("deck_height", "deck, planned", shown_again, value=planned)
        return
    corners = {corner: f"finished_{of}corners.{corner}.deck" for corner in CORNERS}
    place = dict(zip(map(str, bank.cylinders), bank.centres, strict=True))
    yield sizes.result("planned", "deck, planned", shown_again, value=planned)
    yield sizes.result(
        "finished",
        "deck, finished",
        heights.deck_height_at,
        **corners,
        centre=place.__getitem__,
        deck_length=bank.deck_length,
    )
    yield sizes.result("deck_height", "deck", clearances.size_to_fit)


def _gasket_of(layout: Layout, spec: FittedParts) -> dict[str, Any]:
    """Thickness and hole of the gasket: as measured, else as the spec has them."""
    combustion = layout.spec.combustion
    assert combustion is not None  # held by the spec
    if spec.gasket:
        return {name: f"gasket.{name}" for name in ("gasket_thickness", "gasket_hole")}
    return {"gasket_thickness": combustion.gasket_thickness, "gasket_hole": combustion.gasket_hole}


def _compression(layout: Layout, spec: FittedParts, combustion: Combustion, bank: Bank) -> Table:
    volume, sizes = Sizes("cm**3", 2), layout.sizes("bores")
    above = {name: getattr(combustion, name) for name in ("chamber_volume", "dish_volume")}
    bore = (
        "bore_fits.{row}.bore"
        if spec.pistons or spec.rings or spec.gasket
        else "bore.{row}.mean_size"
    )
    return Table(
        key=f"compression{bank.suffix}",
        title=bank.title("Compression of each cylinder"),
        heading="Cylinder",
        note="Chamber and dish as the spec has them. Above a piston that stands proud the volume "
        "is below zero.",
        rows=_rows(bank),
        columns=(
            sizes.result("bore", "bore", shown_again, value=bore),
            layout.sizes("heights").result(
                "deck_clearance",
                "deck clearance",
                shown_again,
                value=f"crowns{bank.suffix}.{{row}}.deck_clearance",
            ),
            volume.result("swept_volume", "swept", swept_volume, stroke=layout.spec.bores.stroke),
            volume.result(
                "gasket_volume", "in the gasket", volumes.gasket_volume, **_gasket_of(layout, spec)
            ),
            volume.result("deck_volume", "above the crown", volumes.deck_volume),
            volume.result(
                "clearance_volume", "all that is left", volumes.clearance_volume, **above
            ),
            Result(
                name="compression_ratio",
                words="compression ratio",
                unit="",
                decimals=2,
                width=12,
                equation=volumes.compression_ratio,
            ),
        ),
    )


def _spread(layout: Layout, most: Quantity | None) -> Table:
    ratios = [
        f"compression{bank.suffix}.{number}.compression_ratio"
        for bank in layout.spec.rows
        for number in bank.cylinders
    ]
    spread = Result(
        name="compression_spread",
        words="highest less lowest",
        unit="",
        decimals=2,
        equation=volumes.compression_spread,
        inputs={"compression_ratios": ratios},
    )
    limited: tuple[Column | Check, ...] = ()
    if most is not None:
        source = most.source or "the spec"
        given = Given(name="most", words=NOT_MORE, unit="", decimals=2, value=most)
        alike = Result(
            name="alike",
            words="verdict",
            unit=None,
            equation=verdict_of_spread,
            inputs={"spread": "compression_alike.{row}.compression_spread"},
        )
        limited = (given, alike, Check(of="alike", judged=True, source=source))
    return Table(
        key="compression_alike",
        title="How alike the cylinders compress",
        heading="Ratio",
        note="Reckoned from many readings; the uncertainty of each is not carried into this "
        "verdict.",
        rows=[Row("all", "Of all cylinders")],
        columns=(spread, *limited),
    )


def _gasket(layout: Layout, bank: Bank) -> Form:
    """The proudest piston, and the thinnest gasket that keeps it off the head."""
    sizes, combustion = layout.sizes("heights"), layout.spec.combustion
    assert combustion is not None  # held by the spec
    stem, key = f"crowns{bank.suffix}", f"proud{bank.suffix}"
    least = [f"{stem}.{number}.deck_clearance" for number in bank.cylinders]
    lines = [
        Line(
            column=sizes.result(
                "largest_protrusion",
                "Proudest crown over the deck",
                pistons.largest_protrusion,
                deck_clearances=least,
            ),
            note="below zero: every crown stops short of it",
        )
    ]
    if combustion.squish.low is not None:
        thinnest = sizes.result(
            "gasket_for_protrusion",
            "Thinnest gasket that leaves room",
            pistons.gasket_for_protrusion,
            largest_protrusion=f"{key}.largest_protrusion",
            least_squish=combustion.squish.low,
        )
        lines.append(Line(column=thinnest, note=combustion.squish.source))
        lines.append(
            Line(
                column=sizes.result(
                    "gasket", "Gasket as measured", shown_again, value="gasket.gasket_thickness"
                )
            )
        )
    return Form(key=key, title=bank.title("Protrusion against the gasket"), lines=lines)
