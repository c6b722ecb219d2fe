"""Resources of metal: what the engine has figures for, by the cells in which its sizes stand, and
the sizes gathered.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from datumbook.cells.tables import Line
from datumbook.equations import budget
from datumbook.equations.bores import largest_size
from datumbook.equations.lands import clamping_land
from datumbook.equations.liners import wall_counted
from datumbook.equations.tunnels import cap_height_after
from datumbook.spec.features import Walls
from datumbook.stations.received.walls import SIDES
from datumbook.workbook.layout import Layout


@dataclass(frozen=True)
class Resource:
    """One resource: where its sizes stand, whether work makes it grow, and the lines that gather
    sizes for it alone.
    """

    key: str
    words: str
    group: str
    as_new: str
    as_received: str
    after: str
    limit: str
    source: str
    grows: bool = False
    gathered: tuple[Line, ...] = ()


def resources(layout: Layout) -> list[Resource]:
    """The resources this engine has; one without a limit has no line."""
    makers: tuple[Callable[[Layout], Iterator[Resource]], ...]
    makers = (_overall, _decks, _axis, _caps, _centre, _lands, _walls, _bores)
    found = [one for make in makers for one in make(layout)]
    gathered = {f"extremes.{line.column.name}" for one in found for line in one.gathered}
    return [one for one in found if one.limit in layout.places or one.limit in gathered]


def _overall(layout: Layout) -> Iterator[Resource]:
    least = layout.spec.heights.overall_limit
    if least is not None and "overall.lowest_corner" in layout.places:
        yield Resource(
            "overall_height",
            "Overall height, lowest corner",
            "heights",
            "ledger.overall_standard",
            "overall.lowest_corner",
            "plan.overall_after",
            "ledger.overall_least",
            least.source,
        )


def _decks(layout: Layout) -> Iterator[Resource]:
    for bank in layout.spec.rows:
        of = f"{bank.key}_" if bank.key else ""
        yield Resource(
            f"{of}deck_height",
            bank.title("Deck height, lowest corner"),
            "heights",
            f"{of}ledger.deck_standard",
            f"{of}deck.lowest_corner",
            f"{of}plan.deck_after",
            f"{of}ledger.deck_least",
            layout.spec.heights.deck_clearance.source,
        )


def _axis(layout: Layout) -> Iterator[Resource]:
    least, drawn, sizes = (
        layout.spec.heights.bottom_limit,
        layout.spec.heights.bottom,
        layout.sizes("heights"),
    )
    if least is not None and drawn is not None:
        new = Line(
            column=sizes.given(
                "bottom_as_new", "Crank axis to bottom face, as drawn", drawn.nominal or drawn.low
            )
        )
        yield Resource(
            "axis_height",
            "Crank axis to bottom face",
            "heights",
            "extremes.bottom_as_new",
            "axis.bottom_height",
            "plan.bottom_after",
            "plan.bottom_after.from",
            least.source,
            gathered=(new,),
        )


def _caps(layout: Layout) -> Iterator[Resource]:
    spec, sizes = layout.spec.tunnels, layout.sizes("tunnels")
    if spec is None or spec.caps is None:
        return
    heights = [f"caps.{number}.height" for number in range(1, layout.spec.engine.bearing_caps + 1)]
    lines = (
        Line(column=sizes.given("cap_as_new", "Cap, as drawn", spec.caps.standard)),
        Line(column=sizes.result("cap_height", "Lowest cap", budget.least_of, sizes=heights)),
        Line(
            column=sizes.result(
                "cap_after",
                "Lowest cap, after its cut",
                cap_height_after,
                cap_cut="plan.cap_cut",
                cap_height="extremes.cap_height",
            )
        ),
    )
    yield Resource(
        "cap_height",
        "Lowest main bearing cap",
        "tunnels",
        "extremes.cap_as_new",
        "extremes.cap_height",
        "extremes.cap_after",
        "caps.height.from",
        spec.caps.least.source,
        gathered=lines,
    )


def _centre(layout: Layout) -> Iterator[Resource]:
    spec = layout.spec.cam_drive
    if spec is not None and spec.least_centre is not None:
        yield Resource(
            "cam_centre",
            "Crank axis to cam axis",
            "heights",
            "cam_drive.centre_distance",
            "cam_drive.centre_received",
            "cam_drive.centre_after",
            "cam_drive.centre_after.from",
            spec.least_centre.source,
        )


def _lands(layout: Layout) -> Iterator[Resource]:
    sizes, spec = layout.sizes("lands"), layout.spec
    after = [
        f"{row.widths.key}.{name}.clamping_land"
        for row in layout.stations.lands.rows
        for name in row.between
    ]
    if not after or not layout.spec.bored:
        return
    widths = [key.replace("clamping_land", "width") for key in after]
    chamfers = {"chamfer_width": "chamfer.chamfer_width"}
    lines = (
        Line(
            column=sizes.given(
                "land_as_new",
                "Narrowest land between bores, as drawn",
                layout.stations.lands.narrowest(),
            )
        ),
        Line(
            column=sizes.result(
                "land", "Narrowest land between bores", budget.least_of, sizes=widths
            )
        ),
        Line(
            column=sizes.result(
                "clamping_as_new",
                "Left of it between chamfers, as drawn",
                clamping_land,
                land="extremes.land_as_new",
                **chamfers,
            )
        ),
        Line(
            column=sizes.result(
                "clamping_received", "Left of it between chamfers", clamping_land, **chamfers
            )
        ),
        Line(
            column=sizes.result(
                "clamping_after",
                "Narrowest land to clamp, after the plan",
                budget.least_of,
                sizes=after,
            )
        ),
    )
    limit = f"lands{spec.rows[0].suffix}.clamping_land.from"
    yield Resource(
        "clamping_land",
        "Narrowest land to clamp",
        "lands",
        "extremes.clamping_as_new",
        "extremes.clamping_received",
        "extremes.clamping_after",
        limit,
        spec.lands.clamping_land.source,
        gathered=lines,
    )


def _walls(layout: Layout) -> Iterator[Resource]:
    spec = layout.spec.walls
    for side, words in SIDES.items() if spec is not None else ():
        assert spec is not None
        if f"wall.{layout.cylinders()[0]}.left_{side}" in layout.places:
            yield _wall(layout, spec, side, words)


def _wall(layout: Layout, spec: Walls, side: str, words: str) -> Resource:
    """The thinnest wall of one side; where dry liners have a limit of their own, each wall counts
    against its own.
    """
    sizes, own, source = (
        layout.sizes("walls"),
        layout.stations.walls.lined,
        getattr(spec, side).source,
    )
    limit = f"extremes.wall_limit_{side}" if own else f"wall.left_{side}.from"
    as_new = sizes.given(f"wall_as_new_{side}", f"Wall, {words}, as drawn", spec.standard)
    least = sizes.result(
        f"wall_{side}",
        f"Thinnest wall, {words}",
        budget.least_of,
        sizes=_of_each(layout, f"least_{side}"),
    )
    after = sizes.result(
        f"wall_after_{side}",
        f"Thinnest, {words}, after",
        budget.least_of,
        sizes=_of_each(layout, f"left_{side}"),
    )
    counted = sizes.result(
        f"wall_after_{side}",
        f"Worst, {words}, after, each to its own limit",
        wall_counted,
        limit=limit,
        spares=_of_each(layout, f"spare_{side}"),
    )
    given = sizes.given(f"wall_limit_{side}", f"Least wall, {words}", getattr(spec, side).low)
    columns = (as_new, least, given, counted) if own else (as_new, least, after)
    return Resource(
        f"wall_{side}",
        f"Thinnest wall, {words}",
        "walls",
        f"extremes.wall_as_new_{side}",
        f"extremes.wall_{side}",
        f"extremes.wall_after_{side}",
        limit,
        source,
        gathered=tuple(Line(column=column) for column in columns),
    )


def _of_each(layout: Layout, name: str) -> list[str]:
    return [f"wall.{number}.{name}" for number in layout.cylinders()]


def _bores(layout: Layout) -> Iterator[Resource]:
    if not layout.spec.bored:
        return
    sizes = layout.sizes("bores")
    widest = [f"bore.{number}.largest_size" for number in layout.cylinders()]
    finishes = [layout.stations.bore_plan.each.finish_bore[number] for number in layout.cylinders()]
    lines = (
        Line(column=sizes.result("bore", "Widest bore", largest_size, diameters=widest)),
        Line(
            column=sizes.result(
                "bore_after", "Widest finish bore", largest_size, diameters=finishes
            )
        ),
    )
    yield Resource(
        "bore",
        "Widest bore, to its finish size",
        "bores",
        "rebore.standard",
        "extremes.bore",
        "extremes.bore_after",
        "rebore.worst_clean_up.to",
        "the largest oversize",
        grows=True,
        gathered=lines,
    )
