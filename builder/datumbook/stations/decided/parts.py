"""Parts: what goes into the block, measured before it is made to them; the gauge's own sheet, with
no fit on it yet.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Check, Given, Reading, Result
from datumbook.cells.tables import Form, Line, Row, Sheet, Table, cylinder_rows
from datumbook.equations import bearings, clearances, fits, pistons
from datumbook.numbers.printing import NOT_MORE
from datumbook.numbers.quantities import Quantity
from datumbook.numbers.units import convert
from datumbook.spec import Limit
from datumbook.spec.model import Combustion
from datumbook.spec.parts import (
    CamJournals,
    FittedParts,
    GudgeonPins,
    Pistons,
    Rods,
    Tappets,
    Washers,
)
from datumbook.stations.decided.journals import (
    DIRECTIONS,
    big_ends_apart,
    journal_tables,
    mains_apart,
    shells,
)
from datumbook.stations.received.features import drawn, middle
from datumbook.workbook.layout import Layout

MICROMETER = "Outside micrometer, part and block at one temperature."


def sheet(layout: Layout) -> Sheet:
    """The sheet of the parts."""
    return Sheet(
        name="Parts",
        title="Parts that go into the block",
        parts=list(_parts(layout)),
        stage="planned",
    )


def measured(layout: Layout) -> bool:
    """Whether any part is measured by itself."""
    return next(_parts(layout), None) is not None


def _parts(layout: Layout) -> Iterator[Table | Form]:
    spec = layout.spec.parts
    assert spec is not None  # the station is left out without it
    if spec.pistons:
        yield _pistons(layout, spec.pistons)
        yield from _set_of("pistons", "Pistons", spec.pistons, layout)
    if spec.gudgeon_pins:
        yield _gudgeon_pins(layout, spec.gudgeon_pins)
    if spec.rods:
        yield _rods(layout, spec.rods)
        yield from _set_of("rods", "Rods", spec.rods, layout)
    cam, tappet_bores, combustion = (
        layout.spec.cam,
        layout.spec.tappet_bores,
        layout.spec.combustion,
    )
    if spec.gasket and combustion:
        yield _gasket(layout, combustion)
    yield from _crank(layout, spec)
    if spec.cam_journals and cam:
        yield _cam_journals(layout, spec.cam_journals, cam.bores)
    if spec.tappets and tappet_bores:
        yield _tappets(layout, spec.tappets, tappet_bores.bores)


def _crank(layout: Layout, spec: FittedParts) -> Iterator[Table | Form]:
    housings = [str(number) for number in range(1, layout.spec.engine.bearing_caps + 1)]
    if spec.main_journals:
        yield from journal_tables(
            layout, "main_journal", "Main journal", spec.main_journals, housings
        )
        rows = [Row(number, f"Tunnel {number}") for number in housings]
        yield shells(
            layout,
            "main_shells",
            "Main shells",
            spec.main_journals,
            rows,
            apart=mains_apart(layout),
        )
    if spec.crankpins:
        pins = sorted({crankpin_of(layout, number) for number in layout.cylinders()})
        yield from journal_tables(
            layout, "crankpin", "Crankpin", spec.crankpins, [str(pin) for pin in pins]
        )
        yield shells(
            layout,
            "big_end_shells",
            "Big end shells",
            spec.crankpins,
            cylinder_rows(layout.cylinders()),
            apart=big_ends_apart(layout),
        )
    if spec.thrust and spec.thrust.washers:
        yield _washers(layout, spec.thrust.washers, spec.thrust.end_float)


def crankpin_of(layout: Layout, cylinder: int) -> int:
    """The number of the crankpin that a cylinder's rod runs on."""
    parts = layout.spec.parts
    shared = parts.crankpins.of_cylinders if parts and parts.crankpins else ()
    return shared[cylinder - 1] if shared else cylinder


def _weight(weight: Quantity) -> Reading:
    return Reading(
        name="weight",
        words="weight",
        unit=weight.unit,
        decimals=1,
        near=weight,
        how="Scales, part clean and dry.",
    )


def _pistons(layout: Layout, spec: Pistons) -> Table:
    sizes, heights = layout.sizes("parts"), layout.sizes("heights")
    near = layout.spec.heights.compression_height
    return Table(
        key="pistons",
        title="Pistons",
        heading="Piston for",
        note=f"Diameter read {spec.gauged_at}, square to the pin. Have them at hand before a bore "
        f"is cut.",
        rows=cylinder_rows(layout.cylinders()),
        columns=(
            sizes.reading(
                "piston",
                "diameter",
                spec.diameter,
                f"{MICROMETER} {spec.gauged_at[:1].upper()}{spec.gauged_at[1:]}.",
            ),
            heights.reading(
                "compression_height",
                "pin to crown",
                near,
                "Crown to the near side of the pin, plus half the pin.",
            ),
            *((_weight(spec.weight),) if spec.weight else ()),
        ),
    )


def _set_of(key: str, words: str, spec: Pistons | Rods, layout: Layout) -> Iterator[Table]:
    """How evenly a set weighs, where its parts are weighed."""
    if spec.weight is None or spec.weight_spread is None:
        return
    weights = [f"{key}.{number}.weight" for number in layout.cylinders()]
    most = spec.weight_spread
    source = most.source or "the spec"
    yield Table(
        key=f"{key}_weighed",
        title=f"{words}, how evenly they weigh",
        heading="Set",
        note=f"Limit: {source}. Too uneven decides: metal off the heaviest where its maker allows "
        f"it.",
        rows=[Row("set", f"All {len(weights)}")],
        columns=(
            Result(
                name="weight_spread",
                words="heaviest less lightest",
                unit=spec.weight.unit,
                decimals=1,
                equation=pistons.weight_spread,
                inputs={"weights": weights},
                width=14,
            ),
            Given(name="most", words=NOT_MORE, unit=spec.weight.unit, decimals=1, value=most),
            Check(of="weight_spread", high="most", source=source),
        ),
    )


def _gudgeon_pins(layout: Layout, spec: GudgeonPins) -> Table:
    sizes = layout.sizes("parts")
    bush = {"hole": "gudgeon_pins.{row}.small_end", "shaft": "gudgeon_pins.{row}.pin"}
    return Table(
        key="gudgeon_pins",
        title="Gudgeon pins in their rods",
        heading="Pin for",
        rows=cylinder_rows(layout.cylinders()),
        columns=(
            sizes.reading("pin", "pin", spec.size, MICROMETER),
            sizes.reading(
                "small_end",
                "bush of the rod",
                spec.size + middle(spec.clearance),
                "Small-hole gauge and micrometer.",
            ),
            sizes.result("pin_clearance", "clearance", fits.fit_clearance, **bush),
            Check(of="pin_clearance", limits=spec.clearance),
        ),
    )


def _rods(layout: Layout, spec: Rods) -> Table:
    heights, sizes = layout.sizes("heights"), layout.sizes("parts")
    return Table(
        key="rods",
        title="Connecting rods",
        heading="Rod for",
        note="Caps on and torqued, square to the joint and to either side of it: the smallest of "
        "the three.",
        rows=cylinder_rows(layout.cylinders()),
        columns=(
            heights.reading(
                "rod_length",
                "centre to centre",
                drawn(spec.length),
                "Rod fixture, or over pins less half of both.",
            ),
            Check(of="rod_length", limits=spec.length),
            sizes.reading(
                "big_end", "big end", drawn(spec.big_end), "Bore gauge, cap torqued, shells out."
            ),
            Check(of="big_end", limits=spec.big_end),
            *((_weight(spec.weight),) if spec.weight else ()),
        ),
    )


def _washers(layout: Layout, spec: Washers, limits: Limit) -> Form:
    sizes = layout.sizes("parts")
    return Form(
        key="thrust",
        title="Thrust washers",
        lines=(
            Line(
                column=sizes.reading(
                    "journal_width",
                    "Between the cheeks of the crank",
                    spec.journal,
                    "Inside micrometer.",
                )
            ),
            Line(
                column=sizes.reading(
                    "saddle_width", "Block and cap between the washers", spec.saddle, MICROMETER
                )
            ),
            Line(column=sizes.reading("front_washer", "Front washer", spec.thickness, MICROMETER)),
            Line(column=sizes.reading("rear_washer", "Rear washer", spec.thickness, MICROMETER)),
            Line(column=sizes.result("thrust_width", "Over the washers", bearings.thrust_width)),
            Line(
                column=sizes.result(
                    "end_float", "End float these sizes leave", clearances.end_float
                ),
                limits=limits,
                note=limits.source,
            ),
        ),
    )


def _cam_journals(layout: Layout, spec: CamJournals, count: int) -> Table:
    sizes = layout.sizes("parts")
    return Table(
        key="cam_journals",
        title="Cam journals",
        heading="Journal",
        rows=[Row(str(number), f"Cam journal {number}") for number in range(1, count + 1)],
        columns=(
            *(
                sizes.reading(name, words, drawn(spec.size), MICROMETER)
                for name, words in DIRECTIONS.items()
            ),
            sizes.result(
                "largest_journal",
                "largest",
                bearings.largest_journal,
                diameters=[f"cam_journals.{{row}}.{name}" for name in DIRECTIONS],
            ),
            Check(of="largest_journal", limits=spec.size),
            sizes.result("journal_out_of_round", "out of round", bearings.journal_out_of_round),
            Check(of="journal_out_of_round", limits=spec.out_of_round),
        ),
    )


def _tappets(layout: Layout, spec: Tappets, count: int) -> Table:
    return Table(
        key="tappets",
        title="Tappets",
        heading="Tappet",
        note="The foot slightly domed and free of pits, or the cam will not live.",
        rows=[Row(str(number), f"Tappet {number}") for number in range(1, count + 1)],
        columns=(
            layout.sizes("parts").reading("tappet", "diameter", drawn(spec.size), MICROMETER),
            Check(of="tappet", limits=spec.size),
        ),
    )


def _gasket(layout: Layout, combustion: Combustion) -> Form:
    sizes, how = (
        layout.sizes("heights"),
        "Between the rings of a used one, or as its maker states it pressed.",
    )
    thick = (0.0, convert(3.0, "mm", layout.unit_of("heights")))
    return Form(
        key="gasket",
        title="Head gasket",
        lines=(
            Line(
                column=sizes.reading(
                    "gasket_thickness",
                    "Thickness as pressed",
                    combustion.gasket_thickness,
                    how,
                    possible=thick,
                )
            ),
            Line(
                column=sizes.reading(
                    "gasket_hole", "Bore hole, the smallest", combustion.gasket_hole, "Calliper."
                )
            ),
        ),
    )
