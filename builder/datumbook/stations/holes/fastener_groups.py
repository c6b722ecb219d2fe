"""What every sheet of fasteners needs of a group: its rule of engagement, its grade, its units of
force and stress.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from datumbook.cells.columns import Result, Sizes
from datumbook.equations import threads
from datumbook.numbers.quantities import Quantity
from datumbook.standards.hole_rules import EngagementRule, engagement_rule
from datumbook.standards.strength import Strength, strength
from datumbook.standards.threads import Thread
from datumbook.stations.holes.hole_groups import Group, Groups
from datumbook.workbook.layout import Layout

PERCENT = Sizes("%", 1, width=9.5)
RATIO = Sizes("", 2, width=9.5)
DEFAULT_RULE = "1.25 d"


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


def torqued(layout: Layout, groups: Groups) -> list[str]:
    """The groups whose torque says what it clamps."""
    return groups.keys(lambda one: one.spec.torque) if layout.spec.shop.nut_factor else []


def bare(number: Fraction) -> Quantity:
    """A number without a unit."""
    return Quantity(number, "", 2, str(number))


def load_unit(group: Group) -> str:
    """The unit of force that goes with a group's own unit."""
    return "lbf" if group.unit == "in" else "kN"


def stress_unit(group: Group) -> str:
    """The unit of stress that goes with a group's own unit."""
    return "psi" if group.unit == "in" else "MPa"


def area(
    groups: Groups, name: str, heading: str, of: str, major: str, pitch: str
) -> Iterator[Result]:
    """The stress area, by the formula of the thread's own standard."""
    found = {
        one.spec.key: thread.kin.stress_area
        for one in groups.all
        if (thread := getattr(one, of)) is not None and thread.kin.stress_area
    }
    area = Sizes(
        lambda row: f"{_thread(groups, row, of).unit}**2",
        lambda row: _places(_thread(groups, row, of)),
        width=9.5,
    )
    for equation in (threads.unified_stress_area, threads.metric_stress_area):
        rows = [key for key, own in found.items() if own is equation]
        if rows:
            yield area.result(name, heading, equation, rows, major=major, pitch=pitch)


def _thread(groups: Groups, row: str, of: str) -> Thread:
    thread = getattr(groups.by_key[row], of)
    assert isinstance(thread, Thread)  # only rows that have one are asked
    return thread


def _places(thread: Thread) -> int:
    return 4 if thread.unit == "in" else 2
