"""What every sheet of fasteners needs of a group: its rule of engagement, its grade, its units of
force and stress.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from datumbook.cells.columns import Column, Input, Per, Result, Sizes
from datumbook.cells.tables import Form, Table
from datumbook.equations import threads
from datumbook.numbers.quantities import Quantity
from datumbook.standards.hole_rules import EngagementRule, engagement_rule
from datumbook.standards.strength import Strength, strength
from datumbook.standards.threads import Thread
from datumbook.stations.holes.hole_groups import Group, Groups

DEFAULT_RULE = "1.25 d"


class FastenerFigures(Form):
    """What the shop reckons fasteners with."""

    scatter: Column
    most_proof: Column
    least_stripping: Column
    iron_shear: Column


class Clamps(Table):
    """What each group's fastener gives."""

    stress_area: Column
    torque: Column
    nut_factor: Column
    greatest_clamp: Column


def rule_of(group: Group) -> EngagementRule:
    """The rule of least engagement a group is held to."""
    return engagement_rule(group.spec.engagement or DEFAULT_RULE)


def stripping_rows(groups: Groups) -> list[str]:
    """The groups whose stripping the formulas tell: unified threads, whose limits are known on both
    sides.
    """
    return groups.keys(lambda one: one.thread.limit_class == "2B" and grade_of(one))


def grade_of(group: Group) -> str | None:
    """The strength grade of a group's fastener, None where none is named."""
    return group.spec.fastener.grade if group.spec.fastener else None


def strength_of(group: Group) -> Strength:
    """What the grade of a group's fastener promises."""
    return strength(grade_of(group) or "", group.thread)


def fitted(groups: Groups) -> list[str]:
    """The groups whose fastener's length in the hole is known."""
    return groups.keys(
        lambda one: one.spec.fastener and one.spec.fastener.length and one.spec.fastener.grip
    )


def torqued(groups: Groups) -> list[str]:
    """The groups whose torque says what it clamps."""
    return groups.keys(lambda one: one.spec.torque) if groups.shop.nut_factor else []


def bare(number: Fraction) -> Quantity:
    """A number without a unit."""
    return Quantity(number, "", 2, str(number))


def load_unit(group: Group) -> str:
    """The unit of force that goes with a group's own unit."""
    return "lbf" if group.unit == "in" else "kN"


def loads(groups: Groups) -> Sizes:
    """What makes columns of force, in the unit of each group."""
    return Sizes(groups.of(load_unit), 1, width=9.5)


def stress_unit(group: Group) -> str:
    """The unit of stress that goes with a group's own unit."""
    return "psi" if group.unit == "in" else "MPa"


def area(
    groups: Groups,
    name: str,
    heading: str,
    of: Callable[[Group], Thread | None],
    **thread: Per[Input],
) -> Iterator[Result]:
    """The stress area, by the formula of the thread's own standard; `thread` is the major diameter
    and the pitch of what `of` finds.
    """
    found = {one.spec.key: own for one in groups.all if (own := of(one)) is not None}
    sizes = Sizes(
        lambda row: f"{found[row].unit}**2",
        lambda row: 4 if found[row].unit == "in" else 2,
        width=9.5,
    )
    for equation in (threads.unified_stress_area, threads.metric_stress_area):
        rows = [key for key, own in found.items() if own.kin.stress_area is equation]
        if rows:
            yield sizes.result(name, heading, equation, rows, **thread)
