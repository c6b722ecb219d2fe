"""What every sheet of fasteners needs of a group: its rule of engagement, its grade, how it is
tightened, its units of force and stress.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from datumbook.cells.columns import Column, Input, Per, Result, Sizes, words
from datumbook.equations import threads
from datumbook.numbers.quantities import Quantity
from datumbook.numbers.units import shown
from datumbook.spec.tightening import Tightening
from datumbook.standards.hole_rules import EngagementRule, engagement_rule
from datumbook.standards.strength import Strength, strength
from datumbook.standards.threads import Thread, parse_thread
from datumbook.standards.tightening import Scatter, clamp_scatter, friction
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.hole_groups import Groups

DEFAULT_RULE = "1.25 d"


def rule_of(group: GroupAtWork) -> EngagementRule:
    """The rule of least engagement a group is held to."""
    return engagement_rule(group.spec.engagement or DEFAULT_RULE)


def stripping_rows(groups: Groups) -> list[str]:
    """The groups whose stripping the formulas tell: unified threads, whose limits are known on both
    sides.
    """
    return groups.keys(lambda one: one.thread.limit_class == "2B" and grade_of(one))


def grade_of(group: GroupAtWork) -> str | None:
    """The strength grade of a group's fastener, None where none is named."""
    return group.spec.fastener.grade if group.spec.fastener else None


def strength_of(group: GroupAtWork) -> Strength:
    """What the grade of a group's fastener promises."""
    return strength(grade_of(group) or "", group.thread)


def fitted(groups: Groups) -> list[str]:
    """The groups whose fastener's length in the hole is known."""
    return groups.keys(
        lambda one: one.spec.fastener and one.spec.fastener.length and one.spec.fastener.grip
    )


def tightening_of(group: GroupAtWork) -> Tightening:
    """What the spec says of how a group is tightened; nothing where it is as the shop has it."""
    return group.spec.tightening or Tightening()


def surface_of(group: GroupAtWork) -> str | None:
    """The surface of thread and head, None where neither group nor shop names it."""
    return tightening_of(group).surface or group.shop.surface


def way_of(group: GroupAtWork) -> Scatter:
    """How a group is tightened, with how far its clamp strays."""
    return clamp_scatter(tightening_of(group).way, surface_of(group))


def nut_factor_of(group: GroupAtWork) -> Quantity | None:
    """The nut factor as a figure: the group's own or by its surface, else the shop's; None where
    friction is stated instead, or nothing.
    """
    told, shop = tightening_of(group), group.shop
    if told.by_friction:
        return None
    for figure, surface in ((told.nut_factor, told.surface), (shop.nut_factor, shop.surface)):
        if figure is not None:
            return figure
        if surface is not None:
            return bare(friction(surface).nut_factor)
    return None


def torqued(groups: Groups) -> list[str]:
    """The groups whose torque says what it clamps."""
    return groups.keys(
        lambda one: one.spec.torque and (nut_factor_of(one) or tightening_of(one).by_friction)
    )


def clamped(groups: Groups, *by: str) -> list[str]:
    """The groups whose clamp can be reckoned, by any way or from these: torque, angle, stretch, or
    the preload aimed at.
    """
    tabled = groups.keys(lambda one: one.thread.kin.stress_area)
    known = {
        "torque": torqued(groups),
        "angle": [key for key in torqued(groups) if key in tabled],
        "stretch": tabled,
        "aim": groups.keys(has_proof),
    }
    return groups.keys(
        lambda one: way_of(one).by in (by or known) and one.spec.key in known[way_of(one).by]
    )


def has_proof(group: GroupAtWork) -> bool:
    """Whether the grade of a group's fastener promises a proof strength."""
    return bool(grade_of(group)) and strength_of(group).proof is not None


def nut_end_of(group: GroupAtWork) -> Thread | None:
    """The thread of a stud's nut end, None where it is the block's."""
    nut_end = group.spec.fastener.nut_end if group.spec.fastener else None
    return parse_thread(nut_end) if nut_end else None


def bare(number: Fraction) -> Quantity:
    """A number without a unit."""
    return Quantity(number, "", 2, str(number))


def loads(groups: Groups) -> Sizes:
    """What makes columns of force, in the unit that goes with each group's own."""
    return Sizes(groups.of(lambda one: "lbf" if one.unit == "in" else "kN"), 1, width=9.5)


def stresses(groups: Groups) -> Sizes:
    """What makes columns of stress, in the unit that goes with each group's own."""
    return Sizes(groups.of(lambda one: "psi" if one.unit == "in" else "MPa"), 0, width=9.5)


def torques(groups: Groups, width: float = 9.5) -> Sizes:
    """What makes columns of torque, in the unit the spec has it in."""
    return Sizes(groups.of(lambda one: one.spec.torque.unit), 1, width=width)


def torque_units(groups: Groups, **more: object) -> Column:
    """The column that says the unit of each torque."""
    return words("torque_unit", "in", groups.of(lambda one: shown(one.spec.torque.unit)), **more)


def areas(
    groups: Groups,
    name: str,
    heading: str,
    of: Callable[[GroupAtWork], Thread | None],
    **thread: Per[Input],
) -> list[Result]:
    """The stress area, by the formula of the thread's own standard; `thread` is the major diameter
    and the pitch of what `of` finds, where these are not in the same table.
    """
    found = {one.spec.key: own for one in groups.all if (own := of(one)) is not None}
    sizes = Sizes(
        lambda row: f"{found[row].unit}**2",
        lambda row: 4 if found[row].unit == "in" else 2,
        width=9.5,
    )
    return [
        sizes.result(
            name,
            heading,
            equation,
            [key for key, own in found.items() if own.kin.stress_area is equation],
            **thread,
        )
        for equation in (threads.unified_stress_area, threads.metric_stress_area)
    ]
