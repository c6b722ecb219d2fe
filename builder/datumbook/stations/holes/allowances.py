"""Allowances: the least and the most that metal round a hole and the depth of a drill are held to,
each with its source.
"""

from __future__ import annotations

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column, Given, Sizes, typed_words
from datumbook.cells.tables import Form, Line
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.standards import hole_allowances
from datumbook.standards.hole_rules import taps

HEADINGS = {
    "least_wall": "Wall beside a hole, least",
    "least_edge": "Hole to edge, least, in diameters",
    "least_relief": "Relief, least, in pitches",
    "most_relief": "Relief, most, in pitches",
}


class MetalAllowances(Form):
    """What must stay round a hole."""

    least_wall: Column
    least_edge: Column
    least_relief: Column
    most_relief: Column
    nought: Column


class DepthAllowances(Form):
    """What a depth is reckoned with, and which way the quill's scale grows."""

    point_angle: Column
    tap_lead: Column
    taper_lead: Column
    second_lead: Column
    bottoming_lead: Column
    chip_room: Column
    least_floor: Column
    touch_apart: Column
    quill: Column


def allowed(name: str) -> Quantity:
    """An allowance of the shop by its name."""
    return read_quantity(hole_allowances()[name][0])


def source_of(name: str) -> str:
    """Where an allowance comes from."""
    return hole_allowances()[name][1]


def metal_allowances(basis: Basis) -> MetalAllowances:
    """The form of what must stay round a hole."""
    length, bare = basis.sizes("holes"), Sizes("", 2)
    lines = [
        Line(
            column=(length if name == "least_wall" else bare).given(name, heading, allowed(name)),
            note=source_of(name),
        )
        for name, heading in HEADINGS.items()
    ]
    words = "Old groove left, most; room under a fastener, least"
    nought = length.given("nought", words, read_quantity("0 mm"))
    lines.append(Line(column=nought, note="geometry"))
    return MetalAllowances(key="metal_allowances", title="Least and most", lines=lines)


def depth_allowances(basis: Basis) -> DepthAllowances:
    """The form of what a depth is reckoned with."""
    length = basis.sizes("holes")

    def line(name: str, heading: str, sizes: Sizes) -> Line:
        return Line(column=sizes.given(name, heading, allowed(name)), note=source_of(name))

    leads = [
        Line(
            column=Given(
                name=f"{tap.name}_lead",
                words=f"Lead of a {tap.name} tap, in pitches",
                unit="",
                decimals=1,
                value=read_quantity(str(tap.least_lead)),
            ),
            note=f"its least: {tap.source}",
        )
        for tap in taps()
    ]
    quill = typed_words(
        "quill",
        "Quill scale grows as the quill goes",
        "down or up, as on this machine.",
        choices=("down", "up"),
    )
    return DepthAllowances(
        key="allowances",
        title="Allowances",
        lines=(
            line("point_angle", "Drill point", Sizes("deg", 0)),
            line("tap_lead", "Lead of the finishing tap, in pitches", Sizes("", 1)),
            *leads,
            line("chip_room", "Room for chips under the tap", length),
            line("least_floor", "Least floor under a drill point", length),
            line("touch_apart", "Two touches of a face, at most apart", length),
            Line(column=quill, note="down or up; the stop readings stay blank without it"),
        ),
    )
