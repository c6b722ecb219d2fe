"""Plugs: every gallery plug out before the bath, and on the last sheet as many in as came out, core
plugs tight.
"""

from __future__ import annotations

from collections.abc import Sequence

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Given, Reading, Result, limited
from datumbook.cells.tables import Row, Sheet, Table
from datumbook.equations import clearances, standings, verdicts
from datumbook.spec import limit
from datumbook.spec.features import CorePlugs, GalleryPlug
from datumbook.stations.received.features import TwoPointSizes, drawn, tick, ticked


class PlugsOut:
    """Every gallery plug out, and counted."""

    def __init__(self, plugs: Sequence[GalleryPlug]) -> None:
        out = tick("out", "out", "Type done when the plug is out and its gallery is open.")
        self.each = _each(
            plugs,
            "plugs_out",
            "Every plug out",
            "A closed gallery cannot be cleaned, and what is left in goes into the bearings. "
            "Temporary plugs count as well.",
            out,
        )
        self.count = _count(
            "plugs_counted_out",
            "Counted out: every plug listed",
            self.each,
            out,
            Given(name="listed", words="listed", unit="", whole=True, value=float(len(plugs))),
        )

    def sheet(self) -> Sheet:
        """The sheet of the plugs that come out."""
        return Sheet(name="Plugs", title="Gallery plugs, out", parts=(self.each, self.count))


class Fitting:
    """The last test and what is fitted after the last wash."""

    def __init__(
        self, basis: Basis, test: Sequence[Table], holes: TwoPointSizes | None, out: PlugsOut | None
    ) -> None:
        spec = basis.spec
        self.test = list(test)
        self.core_plugs = (
            [core_plugs(basis, spec.core_plugs, holes)] if spec.core_plugs and holes else []
        )
        self.plugs = [*plugs_in(spec.gallery_plugs, out)] if out else []


def plugs_in(plugs: Sequence[GalleryPlug], out: PlugsOut) -> tuple[Table, Table]:
    """Every gallery plug in again, as many as came out."""
    fitted = tick(
        "fitted", "in", "Type done when the gallery is clean and the plug is in and sealed."
    )
    each = _each(
        plugs,
        "plugs_in",
        "Every plug in",
        "After the last wash: gallery brushed and blown through, no cross hole masked, plug "
        "sealed, flush.",
        fitted,
    )
    return each, _count(
        "plugs_counted_in",
        "Counted in: as many in as out",
        each,
        fitted,
        Result(
            name="came_out",
            words="came out",
            unit="",
            whole=True,
            equation=standings.shown_again,
            inputs={"value": out.count.column("counted")},
        ),
    )


def _each(plugs: Sequence[GalleryPlug], key: str, title: str, note: str, done: Reading) -> Table:
    return Table(
        key=key,
        title=title,
        heading="Plug",
        note=note,
        rows=[Row(plug.key, plug.words) for plug in plugs],
        columns=(done, Check(of=done, says=verdicts.DONE)),
    )


def _count(key: str, title: str, each: Table, done: Reading, wanted: Column) -> Table:
    verdict = Result(
        name="verdict",
        words="verdict",
        unit=None,
        equation=verdicts.verdict_of_count,
        inputs={"wanted": wanted},
    )
    return Table(
        key=key,
        title=title,
        heading="What",
        rows=[Row("all", "Gallery plugs")],
        columns=(
            wanted,
            Result(
                name="counted",
                words="counted",
                unit="",
                equation=standings.ticks_made,
                inputs={"ticks": [done[row.key] for row in each.rows]},
            ),
            verdict,
            Check(of=verdict, judged=True, source="count"),
        ),
    )


def core_plugs(basis: Basis, spec: CorePlugs, holes: TwoPointSizes) -> Table:
    """The core plugs, each measured before it closes its hole, and held to the hole as it is each
    way.
    """
    sizes, hole, held = basis.sizes("small_bores"), drawn(spec.hole), spec.interference
    shown, tight = standings.shown_again, clearances.core_plug_interference
    smallest = sizes.result("smallest_hole", "hole, smallest", shown, value=holes.smallest_size)
    largest = sizes.result("largest_hole", "hole, largest", shown, value=holes.largest_size)
    least = sizes.result("least_interference", "interference, least", tight, hole=largest)
    most = sizes.result("greatest_interference", "interference, most", tight, hole=smallest)
    return Table(
        key="core_plugs",
        title="Core plugs",
        heading="Plug",
        note="Too tight cracks the casting, too loose falls in. Decides: this plug, or another.",
        rows=[Row(name, f"Core plug {name}") for name in spec.names],
        columns=(
            sizes.reading("core_plug", "plug", hole + held.low, "Micrometer over the plug's rim."),
            smallest,
            largest,
            *limited(least, limit(held.source, low=held.low)),
            *limited(most, limit(held.source, high=held.high)),
            *ticked("fitted", "in", "Type done when the plug is in, sealed, and sits square."),
        ),
    )
