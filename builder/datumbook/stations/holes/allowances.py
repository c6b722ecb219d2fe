"""Allowances: the least and the most that metal round a hole and the depth of a drill are held to,
each with its source.
"""

from __future__ import annotations

from collections.abc import Iterable

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column, Sizes, typed_words
from datumbook.cells.tables import Form, Line
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.standards import hole_allowances
from datumbook.standards.hole_rules import Tap, tap, taps
from datumbook.stations.holes.quill_scale import IN_KEYS, READ_TO, QuillScale

FINISHING = "bottoming"  # the tap that finishes a blind hole


def allowed(name: str) -> Quantity:
    """An allowance of the shop by its name."""
    return read_quantity(hole_allowances()[name][0])


def lead_of(one: Tap) -> Quantity:
    """The lead of a tap, in pitches."""
    return read_quantity(str(float(one.lead)))


def finishing_lead() -> Quantity:
    """The lead of the tap that finishes a thread, in pitches: a hole is drilled deeper by it."""
    return lead_of(tap(FINISHING))


def source_of(name: str) -> str:
    """Where an allowance comes from."""
    return hole_allowances()[name][1]


def allowance(name: str, heading: str, sizes: Sizes) -> Line:
    """The line of an allowance of the shop, with its source."""
    return Line(column=sizes.given(name, heading, allowed(name)), note=source_of(name))


class MetalAllowances(Form):
    """What must stay round a hole."""

    least_wall: Column
    least_edge: Column
    least_relief: Column
    most_relief: Column
    nought: Column

    def __init__(self, basis: Basis) -> None:
        length, bare = basis.sizes("holes"), Sizes("", 2)
        super().__init__(
            key="metal_allowances",
            title="Least and most",
            lines=(
                allowance("least_wall", "Wall beside a hole, least", length),
                allowance("least_edge", "Hole to edge, least, in diameters", bare),
                allowance("least_relief", "Relief, least, in pitches", bare),
                allowance("most_relief", "Relief, most, in pitches", bare),
                Line(
                    column=length.given(
                        "nought",
                        "Old groove left, most; room under a fastener, least",
                        read_quantity("0 mm"),
                    ),
                    note="geometry",
                ),
            ),
        )


class DepthAllowances(Form):
    """What a depth is worked out with, and the quill's scale: its lines, and which way it grows."""

    point_angle: Column
    tap_lead: Column
    chip_room: Column
    least_floor: Column
    touch_apart: Column
    quill: Column

    def __init__(self, basis: Basis, scale: QuillScale, units: Iterable[str]) -> None:
        length, pitches = basis.sizes("holes"), Sizes("", 1)
        self.scale = scale
        self.steps = {
            unit: Sizes(unit, READ_TO[unit]).given(
                f"stop_scale_{IN_KEYS[unit]}", "Quill scale, line to line", scale.step(unit)
            )
            for unit in dict.fromkeys(map(scale.unit, units))
        }
        self.leads = {
            f"{each.name}_lead": pitches.given(
                f"{each.name}_lead", f"Lead of a {each.name} tap, in pitches", lead_of(each)
            )
            for each in taps()
        }
        quill = typed_words(
            "quill",
            "Quill scale grows as the quill goes",
            "down or up, as on this machine.",
            choices=("down", "up"),
        )
        super().__init__(
            key="allowances",
            title="Allowances",
            lines=(
                allowance("point_angle", "Drill point", Sizes("deg", 0)),
                Line(
                    column=pitches.given(
                        "tap_lead", "Lead of the finishing tap, in pitches", finishing_lead()
                    ),
                    note=tap(FINISHING).source,
                ),
                *(
                    Line(column=lead, note=each.source)
                    for each, lead in zip(taps(), self.leads.values(), strict=True)
                ),
                allowance("chip_room", "Room for chips under the tap", length),
                allowance("least_floor", "Least floor under a drill point", length),
                allowance("touch_apart", "Two touches of a face, at most apart", length),
                *(Line(column=step, note=scale.source(unit)) for unit, step in self.steps.items()),
                Line(column=quill, note="down or up; the stop readings stay blank without it"),
            ),
        )

    def step(self, unit: str) -> Column:
        """From line to line on the scale, for what is worked in this unit."""
        return self.steps[self.scale.unit(unit)]
