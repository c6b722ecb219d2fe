"""Tightening: rounds of torque, and the order of the holes in each round."""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.tables import Prose, Table
from datumbook.equations import fasteners, hole_safety
from datumbook.numbers.quantities import counted
from datumbook.stations.holes.fastener_groups import tightening_of, torque_units, torques
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.group_tables import GroupTable, with_rows
from datumbook.stations.holes.hole_groups import Groups
from datumbook.workbook.placed import WHOLE


def tightening(groups: Groups) -> Iterator[Table | Prose]:
    """The rounds and the order, where a torque is given."""
    rounds = groups.shop.tightening_rounds
    yield from with_rows(
        GroupTable(
            groups,
            key="tightening",
            title="Tightening, in rounds",
            note="Every fastener once in each round, in the order below; the last round once more.",
            only=groups.keys(lambda one: one.spec.torque),
            turned=False,
            columns=(
                torques(groups).given("torque", "torque", groups.of(lambda one: one.spec.torque)),
                *(
                    torques(groups).result(
                        f"round_{step}",
                        f"round {step} of {rounds}",
                        fasteners.torque_of_step,
                        step=counted(step),
                        steps=counted(rounds),
                    )
                    for step in range(1, rounds + 1)
                ),
                torque_units(groups, width=8),
            ),
        )
    )
    lines = [
        (f"{one.spec.words}: {', '.join(tightening_order(one)) or 'in turn'}{_then(one)}",)
        for one in groups.all
        if one.spec.torque and (one.spec.places or _then(one))
    ]
    if lines:
        yield Prose(
            title="Order of tightening, from the pattern's middle outwards",
            lines=lines,
            widths=(WHOLE,),
        )


def _then(group: GroupAtWork) -> str:
    """What follows the torque, in words; nothing where it is all."""
    told = tightening_of(group)
    if told.angle:
        return (
            f"; then {told.angle.text} each in the same order. Reckoned below yield: measure a "
            f"fastener turned further, neck and length, before it is used again"
        )
    return f"; then to a stretch of {told.stretch.text} each" if told.stretch else ""


def tightening_order(group: GroupAtWork) -> list[str]:
    """The holes of a group from the middle of the pattern outwards, one side after the other.
    Common practice, no source.
    """
    places = group.centres_mm
    if not places:
        return []
    middle = [(min(ends) + max(ends)) / 2 for ends in zip(*places.values(), strict=True)]

    def apart(name: str) -> tuple[float, float, float]:
        along, across = (place - centre for place, centre in zip(places[name], middle, strict=True))
        return (
            round(hole_safety.centre_distance(0.0, 0.0, along, across), 6),
            round(-along * across, 6),
            -across,
        )

    return sorted(places, key=apart)
