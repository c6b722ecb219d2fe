"""Fits: every part held against the place it goes into, finished if that is measured, else as it is
planned.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from typing import Any

from datumbook.cells.columns import Check, Column, Sizes
from datumbook.cells.tables import Form, Line, Row, Sheet, Table, cylinder_rows
from datumbook.equations import bearings, bores, clearances, fits, pistons
from datumbook.equations.lands import gasket_margin
from datumbook.equations.standings import shown_again
from datumbook.formulas.tracing import parameters
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.numbers.units import convert
from datumbook.spec import Limit, limit
from datumbook.spec.parts import FittedParts, Journals, Rings
from datumbook.standards.fit_rules import fit_rule
from datumbook.stations.decided.journals import big_ends_apart, mains_apart
from datumbook.stations.decided.parts import crankpin_of
from datumbook.stations.finished.crowns import crowns
from datumbook.stations.received.bores import AXES
from datumbook.stations.received.features import middle
from datumbook.stations.received.measured import Measured
from datumbook.stations.received.route import spoilers_of
from datumbook.workbook.layout import Layout

ELSEWHERE = ("gudgeon_pins", "liners", "ratio_spread")
FEELER = "Feelers, the ring pushed square with a piston, in the bore it will run in."


def sheet(layout: Layout) -> Sheet:
    """The sheet of the fits."""
    return Sheet(
        name="Fits",
        title="How the parts fit the block",
        parts=list(_parts(layout)),
        stage="finished",
    )


def fitted(spec: FittedParts) -> bool:
    """Whether any part is held against its place here: gudgeon pins and liners are on sheets of
    their own.
    """
    return any(getattr(spec, name) for name in type(spec).model_fields if name not in ELSEWHERE)


def _parts(layout: Layout) -> Iterator[Table | Form]:
    spec = layout.spec.parts
    assert spec is not None  # the station is left out without it
    if spec.pistons or spec.rings or spec.gasket:
        yield _bores(layout, spec)
    if spec.rings:
        yield _rings(layout, spec.rings)
    yield from _bearings(layout, spec)
    if spec.thrust:
        yield _end_float(layout, spec.thrust.end_float)
    yield from _cam_and_tappets(layout, spec)
    yield from crowns(layout, spec)


def held(
    sizes: Sizes, of: str, limits: Limit | None, rule: str, by: Callable[..., Any], size: str
) -> Iterator[Column | Check]:
    """A check by the spec's own limits, or by a rule of so much to the inch, both ends of which
    stand beside it.
    """
    if limits is not None:
        yield Check(of=of, limits=limits)
        return
    known, (diameter, share) = fit_rule(rule), parameters(by)[0]
    for name, words, figure in (
        ("least", "by rule not less", known.least),
        ("most", "by rule not more", known.most),
    ):
        inputs: dict[str, Any] = {diameter: size, share: figure}
        yield sizes.result(f"{of}_{name}", words, by, **inputs)
    yield Check(of=of, low=f"{of}_least", high=f"{of}_most", source=known.source)


def _ruled(limits: Limit | None, rule: str) -> str:
    """The note under a table whose limits are a rule of thumb."""
    return (
        "" if limits is not None else f"No limit of the maker's is known: {fit_rule(rule).source}."
    )


def _bores(layout: Layout, spec: FittedParts) -> Table:
    """The bore of each cylinder at its tightest, and the room its piston has."""
    sizes, piston = layout.sizes("parts"), spec.pistons
    rule = f"piston, {piston.material}" if piston else ""
    limits = piston.clearance if piston else None

    def columns() -> Iterator[Column | Check]:
        yield from _bore(layout, sizes)
        if piston:
            yield sizes.result("piston", "piston", shown_again, value="pistons.{row}.piston")
            yield sizes.result("piston_clearance", "clearance", pistons.piston_clearance)
            yield from held(
                sizes,
                "piston_clearance",
                limits,
                rule,
                pistons.piston_clearance_by_rule,
                "bore_fits.{row}.bore",
            )
        if spec.gasket:
            yield from _gasket_margin(layout)

    note = (
        "The bore at its tightest. Until it is measured as finished the planned size stands "
        "in, and nothing is judged."
    )
    return Table(
        key="bore_fits",
        title="Pistons in their bores" if piston else "Bores as the parts find them",
        heading="Cylinder",
        note=" ".join([note, *([_ruled(limits, rule)] if piston else [])]).strip(),
        fresh_in=_fresh_in(layout, "finished_bores"),
        rows=cylinder_rows(layout.cylinders()),
        columns=tuple(columns()),
    )


def _bore(layout: Layout, sizes: Sizes) -> Iterator[Column]:
    """The size of a bore that a part goes into, as finished or else as planned."""

    def everywhere(state: str) -> list[str]:
        return [
            f"{state}bores.{{row}}.{depth.key}.{axis}"
            for depth in layout.spec.bores.depths
            for axis in AXES
        ]

    boring = "rebore.next_oversize" in layout.places
    planned = "finish size" if boring else "as received"
    if boring:
        yield sizes.result("planned", planned, shown_again, value="rebore.next_oversize")
    else:
        yield sizes.result("planned", planned, bores.smallest_size, diameters=everywhere(""))
    if layout.spec.finished:
        yield sizes.result(
            "finished", "finished", bores.smallest_size, diameters=everywhere("finished_")
        )
        yield sizes.result("bore", "bore", clearances.size_to_fit)
    else:
        yield sizes.result("bore", "bore", shown_again, value="bore_fits.{row}.planned")


def _gasket_margin(layout: Layout) -> Iterator[Column | Check]:
    heights, chamfer = layout.sizes("heights"), layout.spec.lands.mouth_chamfer
    yield heights.result(
        "gasket_margin",
        "gasket clear of the chamfer",
        gasket_margin,
        gasket_hole="gasket.gasket_hole",
        height=chamfer.height,
        angle=chamfer.angle,
    )
    nought = limit(
        "the edge of the gasket stays clear of the chamfer", low=read_quantity(f"0 {heights.unit}")
    )
    yield Check(of="gasket_margin", limits=nought)


def _fresh_in(layout: Layout, table: str) -> str:
    """The finished table with whose readings these values go stale, "" where nothing spoils it."""
    return table if f"{table}.taken_after" in layout.places else ""


def _up_to(layout: Layout, millimetres: float) -> tuple[float, float]:
    return 0.0, convert(millimetres, "mm", layout.unit_of("gaps"))


def _gap(layout: Layout, limits: Limit | None, rule: str) -> Quantity:
    """About what a ring gap is: well within the spec's limit, or between both ends of the rule."""
    standard = layout.spec.bores.standard.low
    assert standard is not None  # a Band has both ends
    return middle(limits) if limits is not None else standard * fit_rule(rule).middle


def _rings(layout: Layout, spec: Rings) -> Table:
    """The gaps, read in each bore, and what they say of its taper."""
    sizes, stated = layout.sizes("gaps"), {"top": spec.top, "second": spec.second}
    first, last = (layout.spec.bores.depths[place].key for place in (0, -1))
    state = "finished_" if layout.spec.finished else ""

    def columns() -> Iterator[Column | Check]:
        for name, limits in stated.items():
            near = _gap(layout, limits, f"ring, {name}")
            yield sizes.reading(
                f"{name}_gap", f"{name} ring", near, FEELER, possible=_up_to(layout, 3)
            )
            yield from held(
                sizes,
                f"{name}_gap",
                limits,
                f"ring, {name}",
                pistons.ring_gap_by_rule,
                "bore_fits.{row}.bore",
            )
        if spec.closure is not None:
            how = f"{FEELER} The same top ring, at the bottom of its travel."
            near = _gap(layout, spec.top, "ring, top")
            yield sizes.reading(
                "gap_at_bottom", "top ring, at the bottom", near, how, possible=_up_to(layout, 3)
            )
            ends = {"bore_at_top": first, "bore_at_bottom": last}
            for end, depth in ends.items():
                read = [f"{state}bores.{{row}}.{depth}.{axis}" for axis in AXES]
                yield sizes.result(end, end.replace("_", " "), bores.mean_size, diameters=read)
            yield sizes.result(
                "ring_gap_closure",
                "feeler less gauge",
                clearances.ring_gap_closure,
                gap_at_top="ring_gaps.{row}.top_gap",
            )
            yield Check(of="ring_gap_closure", limits=spec.closure)

    notes = [_ruled(limits, f"ring, {name}") for name, limits in stated.items()]
    told = (
        "A gap is read at the top of ring travel. It grows by pi times what the bore does: a "
        "second opinion on the gauge."
    )
    return Table(
        key="ring_gaps",
        title="Ring gaps",
        heading="Cylinder",
        note=" ".join([told, *dict.fromkeys(note for note in notes if note)]),
        spoilers=spoilers_of(layout.spec, "bores") if layout.spec.finished else (),
        rows=cylinder_rows(layout.cylinders()),
        columns=tuple(columns()),
    )


def _bearings(layout: Layout, spec: FittedParts) -> Iterator[Table]:
    if spec.main_journals:
        rows = [
            Row(str(number), f"Main {number}")
            for number in range(1, layout.spec.engine.bearing_caps + 1)
        ]
        yield _oil(layout, "main", "Main bearings, room for oil", spec.main_journals, rows)
        yield from _crush(layout, "main", "Crush of the main shells", spec.main_journals, rows)
    if spec.crankpins:
        rows = cylinder_rows(layout.cylinders())
        yield _oil(layout, "big_end", "Big ends, room for oil", spec.crankpins, rows)
        yield from _crush(layout, "big_end", "Crush of the big end shells", spec.crankpins, rows)


def _oil(layout: Layout, row_of: str, title: str, spec: Journals, rows: Sequence[Row]) -> Table:
    """The room for oil in each housing: from its three sizes, or straight from the hole in its
    shells.
    """
    sizes, key, main = layout.sizes("parts"), f"{row_of}_clearances", row_of == "main"
    apart = mains_apart(layout) if main else big_ends_apart(layout)
    big_end = (sizes.result("tunnel_size", "big end", shown_again, value="rods.{row}.big_end"),)

    def journal(row: str) -> str:
        return (
            f"main_journal.{row}.largest_journal"
            if main
            else f"crankpin.{crankpin_of(layout, int(row))}.largest_journal"
        )

    def columns() -> Iterator[Column | Check]:
        if apart:
            yield from (
                _place(layout, sizes, "tunnels", "tunnel", "tunnel_size", "tunnel")
                if main
                else big_end
            )
            yield sizes.result(
                "shell_thickness",
                "shell",
                shown_again,
                value=f"{row_of}_shells.{{row}}.shell_thickness",
            )
        else:
            yield sizes.result(
                "hole",
                "hole in the shells",
                shown_again,
                value=f"{row_of}_shells.{{row}}.in_shells",
            )
        yield sizes.result("journal", "journal, largest", shown_again, value=journal)
        room = {} if apart else {"shaft": f"{key}.{{row}}.journal"}
        yield sizes.result(
            "clearance",
            "clearance",
            clearances.oil_clearance if apart else fits.fit_clearance,
            **room,
        )
        yield from held(
            sizes,
            "clearance",
            spec.clearance,
            "journal",
            bearings.oil_clearance_by_rule,
            f"{key}.{{row}}.journal",
        )

    return Table(
        key=key,
        title=title,
        heading="Bearing",
        note=_ruled(spec.clearance, "journal"),
        fresh_in=_fresh_in(layout, "finished_tunnels") if main and apart else "",
        rows=rows,
        columns=tuple(columns()),
    )


def _crush(
    layout: Layout, row_of: str, title: str, spec: Journals, rows: Sequence[Row]
) -> Iterator[Table]:
    if spec.crush is None:
        return
    sizes, key = layout.sizes("gaps"), f"{row_of}_crush"
    near = middle(spec.crush) * Fraction(1, 2)
    halves = {"proud_upper": "upper half proud", "proud_lower": "lower half proud"}
    how = "Feelers or an indicator at the joint, the shell seated, its other end held flush."
    yield Table(
        key=key,
        title=title,
        heading="Bearing",
        note="Both halves together. Too little lets the shells turn, too much bends them: other "
        "shells, or housing to size.",
        rows=rows,
        columns=(
            *(
                sizes.reading(name, words, near, how, possible=_up_to(layout, 1))
                for name, words in halves.items()
            ),
            sizes.result(
                "crush",
                "crush",
                bearings.crush,
                proud_ends=[f"{key}.{{row}}.{name}" for name in halves],
            ),
            Check(of="crush", limits=spec.crush),
        ),
    )


def _end_float(layout: Layout, limits: Limit) -> Form:
    sizes = layout.sizes("gaps")
    how = "Indicator on the nose of the crank, levered fully to either end, caps torqued."
    moved = sizes.reading(
        "end_float", "Crank moves endways", middle(limits), how, possible=_up_to(layout, 3)
    )
    note = "Too little is dirt, a burr or a cap out of place before it is the washers."
    return Form(
        key="crank",
        title="End float of the crank",
        note=note,
        lines=(Line(column=moved, limits=limits, note=limits.source),),
    )


def _cam_and_tappets(layout: Layout, spec: FittedParts) -> Iterator[Table]:
    cam, tappets, sizes = layout.spec.cam, layout.spec.tappet_bores, layout.sizes("parts")
    if cam and spec.cam_journals:
        yield _running(
            "cam_fits",
            "Cam journals in their bores",
            "Cam bore",
            cam.bores,
            Measured(layout, layout.stations.route, "cam_tunnel"),
            (
                *_place(layout, sizes, "cam_tunnel", "cam_tunnel", "cam_bore"),
                sizes.result(
                    "journal",
                    "journal, largest",
                    shown_again,
                    value="cam_journals.{row}.largest_journal",
                ),
                sizes.result("cam_clearance", "clearance", clearances.cam_clearance),
                Check(of="cam_clearance", limits=cam.clearance),
            ),
        )
    if tappets and spec.tappets:
        yield _running(
            "tappet_fits",
            "Tappets in their bores",
            "Tappet bore",
            tappets.bores,
            Measured(layout, layout.stations.route, "tappet_bores"),
            (
                *_place(layout, sizes, "tappet_bores", "tappet_bores", "tappet_bore"),
                sizes.result("tappet", "tappet", shown_again, value="tappets.{row}.tappet"),
                sizes.result("tappet_clearance", "clearance", clearances.tappet_clearance),
                Check(of="tappet_clearance", limits=tappets.clearance),
            ),
        )


def _running(
    key: str, title: str, words: str, count: int, home: Measured, columns: Sequence[Column | Check]
) -> Table:
    rows = [Row(str(number), f"{words} {number}") for number in range(1, count + 1)]
    fresh = f"finished_{home.name}" if home.again else ""
    return Table(key=key, title=title, heading="Bore", fresh_in=fresh, rows=rows, columns=columns)


def _place(
    layout: Layout, sizes: Sizes, feature: str, table: str, of: str, words: str = "bore"
) -> Iterator[Column]:
    """The size of what a part goes into, as finished where it is measured again, else as
    received.
    """
    if not Measured(layout, layout.stations.route, feature).again:
        yield sizes.result(of, words, shown_again, value=f"{table}.{{row}}.{of}")
        return
    yield sizes.result("planned", "as received", shown_again, value=f"{table}.{{row}}.{of}")
    yield sizes.result("finished", "finished", shown_again, value=f"finished_{table}.{{row}}.{of}")
    yield sizes.result(of, words, clearances.size_to_fit)
