"""Holes: every hole with its measured depths and its tick."""

from __future__ import annotations

from collections.abc import Iterator

from builder.equations import cutting
from builder.equations.verdicts import DONE
from builder.layout import Layout
from builder.quantities import read_quantity
from builder.sheets.hole_groups import Group, Groups, quantity
from builder.sheets.route import spoilers_of
from builder.spec import Limit, limit
from builder.standards import hole_allowances
from builder.table import Check, Column, Reading, Row, Sheet, Sizes, Table

SPEC = "engine spec"


def sheet(layout: Layout) -> Sheet:
    """The sheet of the holes."""
    parts = [_holes(layout, group, place > 0) for place, group in enumerate(Groups(layout).all)]
    return Sheet(name="Holes", title="Every hole", parts=parts, stage="finished")


def _holes(layout: Layout, group: Group, own_page: bool) -> Table:
    spec = group.spec
    return Table(
        key=f"holes_{spec.key}",
        title=f"{spec.words}, {spec.face} face",
        heading="Hole",
        note=f"{group.thread.designation}: {', '.join(spec.operations)}.",
        rows=[Row(name, f"Hole {name}") for name in spec.names],
        columns=tuple(_columns(group)),
        own_page=own_page,
        spoilers=spoilers_of(layout.spec, f"holes_{spec.face}"),
    )


def _columns(group: Group) -> Iterator[Column | Check]:
    spec, sizes = group.spec, Sizes(group.unit, group.places, "holes")
    cut = spec.counterbore
    if cut is not None:
        gauge, span = "Depth gauge from the finished face.", (0.0, 4 * cut.depth.to(group.unit))
        band = limit(SPEC, low=cut.depth - cut.minus, high=cut.depth + cut.plus)
        yield sizes.reading("counterbore", "counterbore depth", cut.depth, gauge, possible=span)
        yield Check(of="counterbore", limits=band)
    plug = "Plug gauge to where it stops, from the finished face."
    yield sizes.reading("thread", "thread depth", spec.thread_depth, plug, possible=(0.0, spec.floor.to(group.unit)))
    yield Check(
        of="thread",
        limits=limit("at most the metal there is, both from the engine spec", low=spec.thread_depth, high=spec.floor),
    )
    if cut is not None:
        left = {
            "thread_depth": f"holes_{spec.key}.{{row}}.thread",
            "counterbore_depth": f"holes_{spec.key}.{{row}}.counterbore",
        }
        yield sizes.result("engagement", "thread left", cutting.engagement, **left)
        yield Check(of="engagement", limits=_least_engagement(group))
    yield Reading(
        name="done",
        words="gauged, clean, deburred",
        unit=None,
        choices=(DONE,),
        how="Type done when gauged, clean and deburred.",
    )
    yield Check(of="done", says=DONE)


def _least_engagement(group: Group) -> Limit:
    diameters, source = hole_allowances()["least_engagement"]
    least = quantity(group.thread.major * read_quantity(diameters).number, group.unit)
    return limit(f"{diameters} {source}", low=least)
