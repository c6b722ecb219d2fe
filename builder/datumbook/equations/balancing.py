"""Balance of a crank: the weight it is spun with, and what may be left of its unbalance."""

from __future__ import annotations

from datumbook.formulas.functions import PI
from datumbook.formulas.kinds import CuttingSpeed, Mass, Ratio, SpindleSpeed, Unbalance


def bob_weight(big_end: Mass, reciprocating: Mass, balanced: Ratio, oil: Mass) -> Mass:
    """Mass clamped on a crank pin of a vee engine while it is spun, for the two rods that run on
    it: 2 big ends, 2 times the share of what goes up and down, and the oil.

    big_end: the big end of one rod with its shells; reciprocating: piston, pin, locks, rings and
    small end of one rod; balanced: the share of it that the crank carries, 0.5 for eight cylinders
    at 90 degrees. In-line fours and sixes need none: their sets are matched by mass.

    Source: common practice, no source.

    >>> bob_weight(big_end=475e-6, reciprocating=878e-6, balanced=0.5, oil=4e-6) * 1e6
    1832.0
    """
    return 2 * big_end + 2 * balanced * reciprocating + oil


def residual_unbalance(grade: CuttingSpeed, rotor: Mass, speed: SpindleSpeed) -> Unbalance:
    """Unbalance that a rotor may keep, mass times how far off the axis, G m / (2 pi n).

    grade: the speed at which its centre of mass may run round, 6.3 mm/s of grade G 6.3;
    rotor: its mass; speed: its turns in a unit of time at the fastest it runs.

    Source: [ISO 21940-11]

    >>> residual_unbalance(grade=6.3, rotor=0.020, speed=100) * 1e6
    200.535
    """
    return grade * rotor / (2 * PI * speed)
