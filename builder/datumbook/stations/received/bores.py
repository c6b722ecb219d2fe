"""Bores: every cylinder at its depths and axes, as received and as finished, and the size that
cleans the worst.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Check, Column
from datumbook.cells.tables import Form, Line, Picture, Row, Series, Sheet, Table, cylinder_rows
from datumbook.equations import bores
from datumbook.spec import Limit, limit
from datumbook.spec.model import Bores
from datumbook.stations.decided.bore_plan import FINISH, bored
from datumbook.stations.received.states import RECEIVED, State
from datumbook.workbook.layout import Layout

AXES = {"thrust": "across the crank", "axial": "along the crank"}


def sheet(layout: Layout) -> Sheet:
    """The sheet of the cylinder bores as received."""
    parts: tuple[Table | Form | Picture, ...]
    parts = (
        readings(layout, RECEIVED),
        *_profiles(layout),
        each(layout, RECEIVED),
        _rebore(layout),
    )
    return Sheet(name="Bores", title="Cylinder bores", parts=parts)


def readings(layout: Layout, state: State) -> Table:
    """The diameters of every bore, by depth and axis."""
    spec, sizes = layout.spec.bores, layout.sizes("bores")
    depths = "; ".join(f"{depth.words} {depth.at.text}" for depth in spec.depths)
    how = "Bore gauge, caps fitted and torqued, block at room temperature."
    return Table(
        key=state.key("bores"),
        title=state.title("Bore readings"),
        heading="Where",
        note=f"Depths below the deck: {depths}.",
        spoilers=state.spoilers(layout.spec, "bores"),
        rows=[
            Row(f"{cylinder}.{depth.key}", f"Cylinder {cylinder}, {depth.words}")
            for cylinder in layout.cylinders()
            for depth in spec.depths
        ],
        columns=(
            *(sizes.reading(axis, words, spec.standard.low, how) for axis, words in AXES.items()),
            sizes.result("out_of_round", "out of round", bores.out_of_round),
            state.check(
                layout.spec,
                "bores",
                "out_of_round",
                state.limits(layout.spec, "bores").out_of_round,
            ),
        ),
    )


def _profiles(layout: Layout) -> list[Picture]:
    """Each bore from the top of ring travel down, along both axes."""
    depths = [depth.key for depth in layout.spec.bores.depths]
    return [
        Picture(
            title=f"Cylinder {number}, from the top down",
            kind="lines",
            series=[
                Series(words, [f"bores.{number}.{depth}.{axis}" for depth in depths])
                for axis, words in AXES.items()
            ],
            value_words=layout.unit_of("bores"),
            lines=9,
            beside=place % 2,
        )
        for place, number in enumerate(layout.cylinders())
        if len(depths) > 1
    ]


def each(layout: Layout, state: State) -> Table:
    """What follows for each bore: mean, taper, and as received wear and the size that cleans it."""
    spec, sizes = layout.spec.bores, layout.sizes("bores")
    stem = state.key("bores")
    everywhere = [f"{stem}.{{row}}.{depth.key}.{axis}" for depth in spec.depths for axis in AXES]

    def columns() -> Iterator[Column | Check]:
        if state is RECEIVED:
            yield sizes.reading(
                "unworn_lip",
                "unworn lip",
                spec.standard.low,
                "Above the highest point of ring travel.",
            )
        yield sizes.result("mean_size", "mean size", bores.mean_size, diameters=everywhere)
        if state is not RECEIVED:
            yield from _bored_to(layout)
        yield sizes.result("largest_size", "largest", bores.largest_size, diameters=everywhere)
        if len(spec.depths) > 1:
            yield from _tapers(layout, state)
        if state is RECEIVED:
            yield sizes.result("wear", "wear", bores.wear)
            yield Check(
                of="wear",
                limits=_wear(spec),
                superseded_by=state.twin(layout.spec, "bore", "mean_size"),
            )
            yield sizes.result(
                "clean_up_size",
                "cleans up at",
                bores.clean_up_size,
                clean_up_stock="rebore.clean_up_stock",
            )

    return Table(
        key=state.key("bore"),
        title=state.title("Each bore"),
        heading="Cylinder",
        note="Taper is top less bottom: above zero, the bore is wider at the top."
        + (
            " The unworn lip above ring travel is the size the bore once had; wear below zero is "
            "a misread lip."
            if state is RECEIVED
            else ""
        ),
        fresh_in=state.fresh_in("bores") if state.spoilers(layout.spec, "bores") else "",
        rows=cylinder_rows(layout.cylinders()),
        columns=tuple(columns()),
    )


def _bored_to(layout: Layout) -> Iterator[Column | Check]:
    """What a finished bore may be: about its planned size, or about the one size decided where
    there are no oversizes.
    """
    if not bored(layout):
        yield Check(
            of="mean_size", low="bored_to.least", high="bored_to.most", source="the size bored to"
        )
        return
    spec, sizes = layout.spec.finished, layout.sizes("bores")
    assert spec is not None  # asked only of the finished block
    yield sizes.result(
        "least", "not less than", bores.least_finished, size=FINISH, minus=spec.bore_minus
    )
    yield sizes.result(
        "most", "not more than", bores.largest_finished, size=FINISH, plus=spec.bore_plus
    )
    yield Check(of="mean_size", low="least", high="most", source="the plan's finish bore")


def _tapers(layout: Layout, state: State) -> Iterator[Column | Check]:
    spec, sizes, stem = layout.spec.bores, layout.sizes("bores"), state.key("bores")
    first, last = spec.depths[0].key, spec.depths[-1].key
    for axis, words in AXES.items():
        ends = {"top": f"{stem}.{{row}}.{first}.{axis}", "bottom": f"{stem}.{{row}}.{last}.{axis}"}
        yield sizes.result(f"taper_{axis}", f"taper {words}", bores.taper, **ends)
        yield state.check(
            layout.spec, "bore", f"taper_{axis}", state.limits(layout.spec, "bores").taper
        )


def _rebore(layout: Layout) -> Form:
    spec, sizes = layout.spec.bores, layout.sizes("bores")
    standard, oversizes = spec.standard.low, list(enumerate(spec.oversizes, 1))
    assert standard is not None  # a Band has both ends
    bores_of = [f"bore.{number}.clean_up_size" for number in layout.cylinders()]
    worst = sizes.result(
        "worst_clean_up", "Worst bore cleans up at", bores.worst_clean_up, clean_up_sizes=bores_of
    )
    lines = [
        Line(
            column=sizes.given("standard", "Standard bore, least", standard),
            note=spec.standard.source,
        ),
        Line(
            column=sizes.given(
                "clean_up_stock", "Stock for the hone, on diameter", spec.clean_up_stock
            )
        ),
        *(
            Line(column=sizes.given(f"oversize_{place}", f"Oversize +{size.text}", size))
            for place, size in oversizes
        ),
    ]
    if oversizes:
        most = limit("standard bore and the largest oversize", high=standard + spec.oversizes[-1])
        steps = [f"rebore.oversize_{place}" for place, _ in oversizes]
        finish = sizes.result(
            "next_oversize", "Finish size of all bores, honed", bores.next_oversize, oversizes=steps
        )
        bar = sizes.result(
            "bore_before_honing",
            "Bore to, leaving the stock for the hone",
            bores.bore_before_honing,
            finished_bore="rebore.next_oversize",
        )
        lines += [
            Line(column=worst, limits=most, note=most.source),
            Line(
                column=finish,
                note="the first oversize that cleans the worst bore; blank if none does",
            ),
            Line(column=bar, note="pistons at hand and measured first: bores are made to them"),
        ]
    return Form(
        key="rebore",
        title="Next size for all bores",
        note="One-sided wear: the axis stays, so the deepest wear counts twice, and the hone gets "
        "its stock.",
        lines=lines,
    )


def _wear(spec: Bores) -> Limit:
    """A lip smaller than the bore below it by more than a new bore may vary is misread, where the
    spec gives no lower end.
    """
    wear, low, high = spec.wear, spec.standard.low, spec.standard.high
    assert low is not None  # a Band has both ends
    assert high is not None
    return (
        wear
        if wear.low
        else limit(f"{wear.source}; less is a misread lip", low=low - high, high=wear.high)
    )


def bored_to(layout: Layout) -> Form:
    """The size the cylinders were bored to, and what a finished bore may be."""
    spec, sizes = layout.spec.finished, layout.sizes("bores")
    assert spec is not None
    decided = sizes.reading(
        "size", "Bored to", layout.spec.bores.standard.low, "The size decided for all cylinders."
    )
    return Form(
        key="bored_to",
        title="The size decided",
        lines=(
            Line(column=decided),
            Line(column=sizes.given("minus", "May be smaller by", spec.bore_minus)),
            Line(column=sizes.given("plus", "May be larger by", spec.bore_plus)),
            Line(column=sizes.result("least", "Least finished bore", bores.least_finished)),
            Line(column=sizes.result("most", "Largest finished bore", bores.largest_finished)),
        ),
    )
