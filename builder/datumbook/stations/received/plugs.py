"""Plugs: every gallery plug out before the bath, and on the last sheet as many in as came out, core
plugs tight.
"""

from __future__ import annotations

from datumbook.cells.columns import Check, Column, Given, Result
from datumbook.cells.tables import Row, Sheet, Table
from datumbook.equations import clearances, standings, verdicts
from datumbook.spec.features import CorePlugs
from datumbook.stations.received import proofs
from datumbook.stations.received.features import Feature, drawn, tick
from datumbook.stations.received.states import FINISHED
from datumbook.workbook.layout import Layout


def sheet(layout: Layout) -> Sheet:
    """The sheet of the plugs that come out."""
    return Sheet(name="Plugs", title="Gallery plugs, out", parts=(_out(layout), _count_out(layout)))


def has_fitting(layout: Layout) -> bool:
    """Whether anything is tested or fitted when all cutting is done."""
    spec = layout.spec
    return spec.finished is not None and bool(spec.proofs or spec.gallery_plugs or spec.core_plugs)


def fitting(layout: Layout) -> Sheet:
    """The sheet of the last test and of what is fitted after the last wash."""
    spec, parts = layout.spec, list[Table]()
    if spec.proofs:
        parts += proofs.pressure_test(layout, FINISHED)
    if spec.core_plugs:
        parts.append(_core_plugs(layout, spec.core_plugs))
    if spec.gallery_plugs:
        parts += (_in(layout), _count_in(layout))
    return Sheet(name="Fitting", title="Last test and plugs in", parts=parts, stage="finished")


def _rows(layout: Layout) -> list[Row]:
    return [Row(plug.key, plug.words) for plug in layout.spec.gallery_plugs]


def _out(layout: Layout) -> Table:
    return Table(
        key="plugs_out",
        title="Every plug out",
        heading="Plug",
        note="A closed gallery cannot be cleaned, and what is left in goes into the bearings. "
        "Temporary plugs count as well.",
        rows=_rows(layout),
        columns=(
            tick("out", "out", "Type done when the plug is out and its gallery is open."),
            Feature(layout, "plugs").done("plugs_out", "out"),
        ),
    )


def _in(layout: Layout) -> Table:
    return Table(
        key="plugs_in",
        title="Every plug in",
        heading="Plug",
        note="After the last wash: gallery brushed and blown through, no cross hole masked, plug "
        "sealed, flush.",
        rows=_rows(layout),
        columns=(
            tick(
                "fitted", "in", "Type done when the gallery is clean and the plug is in and sealed."
            ),
            Check(of="fitted", says=verdicts.DONE),
        ),
    )


def _count_out(layout: Layout) -> Table:
    ticks = [f"plugs_out.{plug.key}.out" for plug in layout.spec.gallery_plugs]
    listed = Given(name="listed", words="listed", unit="", whole=True, value=float(len(ticks)))
    return _count("plugs_counted_out", "Counted out: every plug listed", ticks, listed)


def _count_in(layout: Layout) -> Table:
    ticks = [f"plugs_in.{plug.key}.fitted" for plug in layout.spec.gallery_plugs]
    came_out = Result(
        name="came_out",
        words="came out",
        unit="",
        whole=True,
        equation=standings.shown_again,
        inputs={"value": "plugs_counted_out.all.counted"},
    )
    return _count("plugs_counted_in", "Counted in: as many in as out", ticks, came_out)


def _count(key: str, title: str, ticks: list[str], wanted: Column) -> Table:
    counted = Result(
        name="counted",
        words="counted",
        unit="",
        equation=standings.ticks_made,
        inputs={"ticks": ticks},
    )
    verdict = Result(
        name="verdict",
        words="verdict",
        unit=None,
        equation=verdicts.verdict_of_count,
        inputs={"wanted": f"{key}.{{row}}.{wanted.name}"},
    )
    return Table(
        key=key,
        title=title,
        heading="What",
        rows=[Row("all", "Gallery plugs")],
        columns=(wanted, counted, verdict, Check(of="verdict", judged=True, source="count")),
    )


def _core_plugs(layout: Layout, spec: CorePlugs) -> Table:
    sizes, hole, least = layout.sizes("small_bores"), drawn(spec.hole), spec.interference.low
    assert hole is not None  # a Band has both ends
    assert least is not None
    return Table(
        key="core_plugs",
        title="Core plugs",
        heading="Plug",
        note="Too tight cracks the casting, too loose falls in. Decides: this plug, or another.",
        rows=[Row(name, f"Core plug {name}") for name in spec.names],
        columns=(
            sizes.reading("core_plug", "plug", hole + least, "Micrometer over the plug's rim."),
            sizes.result("hole", "its hole", standings.shown_again, value="core_holes.{row}.hole"),
            sizes.result(
                "core_plug_interference", "interference", clearances.core_plug_interference
            ),
            Check(of="core_plug_interference", limits=spec.interference),
            tick("fitted", "in", "Type done when the plug is in, sealed, and sits square."),
            Check(of="fitted", says=verdicts.DONE),
        ),
    )
