"""What the boring planned cures: how far a bore as received is worn, out of round and tapered is
why it is bored, and holds no plan up that leaves it whole.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from datumbook.cells.handles import Key
from datumbook.equations.verdicts import OK, OUT, UNSURE
from datumbook.formulas.functions import more_than
from datumbook.stations.decided.bore_plan import BorePlan
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import CheckPlan
from datumbook.workbook.printed import printed

NOT_KEPT = (OUT, UNSURE)


def cured(layout: Layout, values: Mapping[str, object]) -> dict[Key, str]:
    """The checks of bores as received that are OUT or UNSURE and that the boring planned cures,
    each with the size planned: the bore is clean at it, nothing about its plan is OUT, and as
    finished it is held to the same limit once more.
    """
    bored = layout.stations.bored
    if bored is None or bored.boring.decided is None:
        return {}
    every = {check.key: check for check in layout.checks}
    found: dict[Key, str] = {}
    for cylinder in map(str, layout.cylinders()):
        size = _clean_at(layout, bored.boring, cylinder, values)
        for key in _as_received(bored.boring, cylinder) if size else ():
            check = every.get(key)
            wear = key == bored.boring.bores.each.wear[cylinder]
            if check and check.superseded_by and _too_much(check, values, wear):
                found[key] = size
    return found


def _as_received(plan: BorePlan, cylinder: str) -> Iterator[Key]:
    """The form and the wear of one bore as it came in."""
    bores = plan.bores
    yield from (bores.readings.out_of_round[cylinder, depth] for depth in bores.depths)
    for name in bores.each.names():
        if name == "wear" or name.startswith("taper_"):
            yield bores.each.column(name)[cylinder]


def _too_much(check: CheckPlan, values: Mapping[str, object], wear: bool) -> bool:
    """Whether a check is beyond a limit as a worn bore is: not below nothing, as wear against a lip
    that was misread.
    """
    value, low, high = (
        values[check.key],
        *(values.get(end or "") for end in (check.low, check.high)),
    )
    if values[check.verdict] not in NOT_KEPT or not isinstance(value, float):
        return False
    if not wear or not isinstance(low, float):
        return True
    return isinstance(high, float) and more_than(value, (low + high) / 2)


def _clean_at(layout: Layout, plan: BorePlan, cylinder: str, values: Mapping[str, object]) -> str:
    """What the block is bored to there, printed; "" where that is not known, leaves a part of the
    bore as it was, or breaks a limit of its plan.
    """
    key = plan.bore_in_block[cylinder]
    size, clean = values[key], values[plan.each.clean_up.verdict[cylinder]] == OK
    row = {
        values[check.verdict]
        for check in layout.checks
        if (place := layout.place(check.key)).stands_in(plan.each) and place.row == cylinder
    }
    if not clean or not isinstance(size, float) or not row.isdisjoint(NOT_KEPT):
        return ""
    return printed(size, layout.place(key))
