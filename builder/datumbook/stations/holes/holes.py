"""Holes: every hole with its measured depths and its tick."""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Check, Column, Reading, Sizes, typed_words
from datumbook.cells.tables import Row, Sheet, Table
from datumbook.equations import cutting, hole_safety
from datumbook.equations.verdicts import DONE
from datumbook.numbers.units import convert
from datumbook.spec import limit
from datumbook.standards import hole_allowances
from datumbook.stations.holes.fastener_groups import rule_of
from datumbook.stations.holes.hole_groups import Group, Groups, quantity
from datumbook.stations.received.route import spoilers_of
from datumbook.workbook.layout import Layout

SPEC = "engine spec"


def sheet(layout: Layout) -> Sheet:
    """The sheet of the holes."""
    parts = [_holes(layout, group, place > 0) for place, group in enumerate(Groups(layout).all)]
    return Sheet(name="Holes", title="Every hole", parts=parts, stage="finished")


def _holes(layout: Layout, group: Group, own_page: bool) -> Table:
    spec = group.spec
    return Table(
        key=f"holes_{spec.key}",
        title=f"{spec.words}, {group.face_words}",
        heading="Hole",
        note=f"{group.thread.designation}: {', '.join(spec.operations)}.",
        rows=[
            Row(name, f"{'▲ DANGER ' if spec.danger_of(name) else ''}Hole {name}")
            for name in spec.names
        ],
        columns=tuple(_columns(group)),
        own_page=own_page,
        spoilers=spoilers_of(layout.spec, f"holes_{spec.face}"),
    )


def _columns(group: Group) -> Iterator[Column | Check]:
    spec, sizes = group.spec, Sizes(group.unit, group.places, "holes")
    cut = spec.counterbore
    if group.drill is not None and "probe depth" in spec.operations:
        yield from _probed(group, sizes)
    if cut is not None:
        gauge, span = "Depth gauge from the finished face.", (0.0, 4 * cut.depth.to(group.unit))
        band = limit(SPEC, low=cut.depth - cut.minus, high=cut.depth + cut.plus)
        yield sizes.reading("counterbore", "counterbore depth", cut.depth, gauge, possible=span)
        yield Check(of="counterbore", limits=band)
    plug = "Plug gauge to where it stops, from the finished face."
    yield sizes.reading(
        "thread", "thread depth", spec.thread_depth, plug, possible=(0.0, spec.floor.to(group.unit))
    )
    yield Check(
        of="thread",
        limits=limit(
            "at most the metal there is, both from the engine spec",
            low=spec.thread_depth,
            high=spec.floor,
        ),
    )
    if cut is not None:
        left = {
            "thread_depth": f"holes_{spec.key}.{{row}}.thread",
            "counterbore_depth": f"holes_{spec.key}.{{row}}.counterbore",
        }
        yield sizes.result("engagement", "thread left", cutting.engagement, **left)
        yield _engagement_check(group)
    yield Reading(
        name="done",
        words="gauged, clean, deburred",
        unit=None,
        choices=(DONE,),
        how="Type done when gauged, clean and deburred.",
    )
    yield Check(of="done", says=DONE)
    yield from _record(group, sizes)


def _probed(group: Group, sizes: Sizes) -> Iterator[Column | Check]:
    """The depth each hole was found drilled to, at the tip, under the depth no tip may pass."""
    spec = group.spec
    danger = [name for name in spec.names if spec.danger_of(name)]
    plain = [name for name in spec.names if name not in danger]
    least = {"least_floor": "allowances.least_floor"}
    floor = f"stops.{spec.key}.drill.floor"
    yield sizes.reading(
        "drilled",
        "drilled, at the tip",
        group.tip_depth,
        "Depth gauge to the tip, from the finished face.",
        possible=(0.0, 1.5 * spec.floor.to(group.unit)),
    )
    if danger:
        yield sizes.result(
            "deepest",
            "no tip below",
            hole_safety.deepest_tip,
            danger,
            floor="danger.{row}.floor",
            **least,
        )
    yield sizes.result(
        "deepest", "no tip below", hole_safety.deepest_tip, plain, floor=floor, **least
    )
    yield Check(of="drilled", high="deepest", source=lambda row: _under(group, row))


def _under(group: Group, name: str) -> str:
    danger = group.spec.danger_of(name)
    if danger is None:
        return hole_allowances()["least_floor"][1]
    return f"break-through limit of {name}: {danger.over} below"


def _record(group: Group, sizes: Sizes) -> Iterator[Column]:
    """What the record of a thread keeps beside its sizes; no verdict hangs on it."""
    yield typed_words(
        "gauge",
        "go / no-go",
        "fits or not: go enters, no-go does not.",
        choices=("fits", "not"),
        width=8,
    )
    yield sizes.reading(
        "square",
        "out of square",
        how="Over the gauge plug's length, with a square and feelers.",
        wanted=False,
        possible=(0.0, convert(2.0, "mm", group.unit)),
        width=8,
    )
    yield typed_words(
        "insert", "insert", "yes where an insert went in.", choices=("yes", "no"), width=7
    )
    yield typed_words("initials", "initials", "Who gauged it.", width=8)


def _engagement_check(group: Group) -> Check:
    """The thread left against the rule its group is held to; a rule reckoned from strengths is
    taken where it stands.
    """
    rule = rule_of(group)
    if rule.diameters is None:
        return Check(
            of="engagement", low=f"reach.{group.spec.key}.needed", source=f"rule {rule.name}"
        )
    least = quantity(group.thread.major * rule.diameters, group.unit)
    return Check(of="engagement", limits=limit(f"rule {rule.name}: {rule.source}", low=least))
