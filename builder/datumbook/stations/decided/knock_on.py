"""Knock-on: what the plan does to compression, squish and the cam drive, before and after in one
line each.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from datumbook.cells.columns import Check, Given, Result, Sizes
from datumbook.cells.tables import Form, Line, Row, Table
from datumbook.equations import drives, heights, volumes
from datumbook.equations.bores import mean_size, swept_volume
from datumbook.equations.budget import least_of
from datumbook.equations.standings import shown_again
from datumbook.numbers.quantities import Quantity
from datumbook.spec import Limit
from datumbook.spec.model import Bank, CamDrive, Combustion
from datumbook.workbook.layout import Layout


def parts(layout: Layout) -> list[Table | Form]:
    """The parts of the plan sheet that this engine's spec has figures for."""
    spec, found = layout.spec, list[Table | Form]()
    if spec.combustion is not None:
        found.append(_above_the_piston(layout, spec.combustion))
        found += [_combustion(layout, spec.combustion, bank) for bank in spec.rows]
    if spec.cam_drive is not None:
        found.append(
            _chain(layout, spec.cam_drive)
            if spec.cam_drive.kind == "chain"
            else _gears(layout, spec.cam_drive)
        )
    return found


def _above_the_piston(layout: Layout, spec: Combustion) -> Form:
    length, volume = layout.sizes("heights"), Sizes("cm**3", 2)
    return Form(
        key="head",
        title="Above the piston, from the spec",
        lines=(
            Line(
                column=length.given("gasket_thickness", "Gasket, as pressed", spec.gasket_thickness)
            ),
            Line(column=length.given("gasket_hole", "Gasket hole", spec.gasket_hole)),
            Line(column=volume.given("chamber_volume", "Chamber in the head", spec.chamber_volume)),
            Line(
                column=volume.given("dish_volume", "Dish in the crown", spec.dish_volume),
                note="below zero for a dome",
            ),
        ),
    )


def _combustion(layout: Layout, spec: Combustion, bank: Bank) -> Table:
    """One line as it is, one for each cut by itself, one as it will be: a proud piston has a deck
    volume below zero.
    """
    length, of_bank = layout.sizes("heights"), f"{bank.key}_" if bank.key else ""
    volume, lines = Sizes("cm**3", 2), _lines(layout)
    every = list(lines)
    head = {
        name: f"head.{name}"
        for name in ("gasket_thickness", "gasket_hole", "chamber_volume", "dish_volume")
    }

    def of(
        result: Sizes, name: str, words: str, equation: Any, *names: str, **inputs: Any
    ) -> Result:
        return result.result(
            name, words, equation, every, **{one: head[one] for one in names}, **inputs
        )

    return Table(
        key=f"combustion{bank.suffix}",
        title=bank.title("Compression and squish"),
        heading="",
        note="Say so to the owner before the cut. After: the mean of the finish bores, the deck "
        "all over at one height.",
        rows=[Row(key, words) for key, words in lines.items()],
        columns=(
            *_bore_and_clearance(layout, bank, every),
            of(volume, "swept_volume", "swept", swept_volume, stroke=f"{of_bank}stack.stroke"),
            of(
                volume,
                "gasket_volume",
                "in the gasket",
                volumes.gasket_volume,
                "gasket_hole",
                "gasket_thickness",
            ),
            of(volume, "deck_volume", "above the crown", volumes.deck_volume),
            of(
                volume,
                "clearance_volume",
                "all that is left",
                volumes.clearance_volume,
                "chamber_volume",
                "dish_volume",
            ),
            of(Sizes("", 2), "compression_ratio", "ratio", volumes.compression_ratio),
            of(length, "squish", "squish", volumes.squish, "gasket_thickness"),
            Check(of="squish", limits=spec.squish, rows=["after"]),
        ),
    )


def _lines(layout: Layout) -> dict[str, str]:
    """The lines of the table: every cut by itself stands between what is and what will be."""
    boring = {"bored": "The boring by itself"} if layout.spec.bored else {}
    alone = {"deck": "The deck cut by itself", "line_bore": "The line bore by itself"}
    return {"now": "As received, mean of the bores"} | alone | boring | {"after": "After the plan"}


def _bore_and_clearance(layout: Layout, bank: Bank, every: list[str]) -> Iterator[Result]:
    """What each line starts from: its bore, and how far the crown stops below the deck."""
    length, sizes, of = (
        layout.sizes("heights"),
        layout.sizes("bores"),
        f"{bank.key}_" if bank.key else "",
    )
    bored = [row for row in ("bored", "after") if layout.spec.bored]
    boring = layout.stations.bore_plan.each
    finishes = [boring.finish_bore[number] for number in bank.cylinders if bored]
    means = [f"bore.{number}.mean_size" for number in bank.cylinders]
    yield sizes.result(
        "bore", "bore", mean_size, [row for row in every if row not in bored], diameters=means
    )
    yield sizes.result("bore", "bore", mean_size, bored, diameters=finishes)
    now, after = f"{of}stack.deck_clearance", f"{of}plan.deck_clearance_after"
    cut = {
        "deck": f"{of}plan.deck_cut",
        "line_bore": f"{of}plan.shift_towards_deck" if of else "plan.axis_shift",
    }
    yield length.result(
        "deck_clearance",
        "deck clearance",
        shown_again,
        [row for row in every if row not in cut],
        value=lambda row: after if row == "after" else now,
    )
    yield length.result(
        "deck_clearance",
        "deck clearance",
        heights.clearance_less,
        list(cut),
        deck_clearance=now,
        cut=cut.__getitem__,
    )


def _centres(layout: Layout, spec: CamDrive) -> tuple[Line, ...]:
    sizes = layout.sizes("heights")
    angle = Given(
        name="angle",
        words="Crank to cam, off the line to the deck",
        unit="deg",
        decimals=1,
        value=spec.angle,
    )
    change = sizes.result(
        "centre_change",
        "Crank and cam move apart by",
        drives.centre_change,
        axis_shift="plan.axis_shift",
    )
    return (
        Line(column=sizes.given("centre_distance", "Crank axis to cam axis", spec.centre_distance)),
        Line(column=angle),
        Line(column=change, note="below zero: they come nearer"),
        *(_centre_left(layout, spec.least_centre) if spec.least_centre is not None else ()),
    )


def _centre_left(layout: Layout, least: Limit) -> tuple[Line, Line]:
    """The distance as received, at the nearer end where both are read, and what the line bore
    leaves of it.
    """
    sizes = layout.sizes("heights")
    read = (
        [f"cam_centre.{end}.distance" for end in ("front", "rear")]
        if layout.spec.cam
        else ["cam_drive.centre_distance"]
    )
    after = sizes.result("centre_after", "Crank axis to cam axis after", drives.centre_after)
    return (
        Line(
            column=sizes.result(
                "centre_received", "Crank axis to cam axis as received", least_of, sizes=read
            ),
            note="" if layout.spec.cam else "as drawn, for it is not measured",
        ),
        Line(column=after, limits=least, note=least.source),
    )


def _chain(layout: Layout, spec: CamDrive) -> Form:
    sizes, degrees = layout.sizes("heights"), Sizes("deg", 2)

    def given(name: str, words: str, value: Quantity | None) -> list[Line]:
        return [] if value is None else [Line(column=sizes.given(name, words, value))]

    lines = [
        *_centres(layout, spec),
        Line(column=sizes.result("chain_excess", "Chain left over", drives.chain_excess)),
    ]
    if spec.span is not None:
        lines += [
            *given("span", "Free span of the slack strand", spec.span),
            Line(column=sizes.result("chain_sag", "Sag of the slack strand", drives.chain_sag)),
        ]
    if spec.sprocket_radius is not None:
        lines += [
            *given("sprocket_radius", "Pitch radius of the cam sprocket", spec.sprocket_radius),
            Line(column=degrees.result("cam_retard", "Cam runs late by", drives.cam_retard)),
            Line(
                column=degrees.result("crank_retard", "The same on the crank", drives.crank_retard)
            ),
        ]
    return Form(
        key="cam_drive",
        title="Cam chain, after the line bore",
        lines=lines,
        note="Only a line bore that moves the crank axis touches it.",
    )


def _gears(layout: Layout, spec: CamDrive) -> Form:
    sizes, lines = layout.sizes("heights"), [*_centres(layout, spec)]
    if spec.pressure_angle is not None:
        angle = Given(
            name="pressure_angle",
            words="Pressure angle",
            unit="deg",
            decimals=1,
            value=spec.pressure_angle,
        )
        backlash = sizes.result("backlash_change", "Backlash grows by", drives.backlash_change)
        lines += [
            Line(column=angle),
            Line(column=backlash, note="below zero: the gears run tighter"),
        ]
    return Form(
        key="cam_drive",
        title="Cam gears, after the line bore",
        lines=lines,
        note="Only a line bore that moves the crank axis touches it.",
    )
