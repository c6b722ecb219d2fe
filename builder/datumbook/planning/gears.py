"""Gears: what a line bore takes of the backlash of the cam's, where no limit says how much it may.

A book reads no backlash, so what is left of it cannot be told; that it grows less can.
"""

from __future__ import annotations

from datumbook.numbers.printing import Printer
from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.planning.numbers import Numbers


def gears_tighter(work: Numbers) -> str:
    """What is to be said of the cam's gears; "" where they do not come nearer, or where the spec
    says how near crank and cam may come.
    """
    knock_on = work.stations.knock_on
    drive = knock_on.cam_drive if knock_on else None
    if drive is None or drive.backlash_change is None or drive.centre_after is not None:
        return ""
    key = drive.backlash_change.key
    grows = work.number(key)
    if grows is None or half_up(grows, GUARD_DIGITS) >= 0:
        return ""
    place = work.layout.place(key)
    less = Printer(place.unit or "", place.decimals).beside(-grows, 0.0)
    return (
        f"the cam gears would have {less} less backlash, and no limit says how much they may lose: "
        "measure the backlash first"
    )
