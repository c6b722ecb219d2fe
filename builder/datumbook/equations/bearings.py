"""Crank journals and their shells: how round and straight the journals are, how the shells are
held, the thrust.
"""

from __future__ import annotations

from datumbook.formulas.functions import total
from datumbook.formulas.kinds import Length, Ratio


def journal_out_of_round(vertical: Length, horizontal: Length) -> Length:
    """Difference of two diameters of a journal at one place, a quarter turn apart; never below
    zero.

    vertical, horizontal: diameters (mm).

    Source: common practice, no source.

    >>> journal_out_of_round(vertical=57.142, horizontal=57.148)
    0.006
    """
    return abs(vertical - horizontal)


def journal_taper(front: Length, rear: Length) -> Length:
    """Diameter of a journal at its front end less the diameter at its rear end, in one direction;
    the sign is kept.

    front, rear: diameters (mm).

    Source: common practice, no source.

    >>> journal_taper(front=57.148, rear=57.143)
    0.005
    """
    return front - rear


def oil_clearance_by_rule(journal: Length, clearance_per_journal: Ratio) -> Length:
    """Oil clearance by the rule of so much to the inch of journal, on the diameter.

    journal: diameter (mm); clearance_per_journal: 0.00075 to 0.001.

    Source: common practice, no source.

    >>> oil_clearance_by_rule(journal=57.15, clearance_per_journal=0.001)
    0.05715
    """
    return journal * clearance_per_journal


def crush(*proud_ends: Length) -> Length:
    """Length by which a pair of shells is longer round than its tunnel, and is pressed when the cap
    is drawn down.

    proud_ends: how far each half shell stands proud of the joint, its other end held flush (mm).

    Source: common practice, no source.

    >>> crush(0.025, 0.030)
    0.055
    """
    return total(*proud_ends)


def thrust_width(saddle_width: Length, front_washer: Length, rear_washer: Length) -> Length:
    """Width over the thrust faces: the saddle and a washer on either side of it.

    saddle_width, front_washer, rear_washer: along the crank (mm); 0 for a washer that is not
    fitted.

    Source: geometry.

    >>> thrust_width(saddle_width=33.38, front_washer=2.31, rear_washer=2.31)
    38.00
    """
    return saddle_width + front_washer + rear_washer
