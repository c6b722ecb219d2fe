"""Tightening: rounds of torque, and the order of the holes in each round."""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Given, Result, words
from datumbook.cells.tables import Prose, Table
from datumbook.equations import fasteners, hole_safety
from datumbook.numbers.quantities import counted
from datumbook.numbers.units import shown
from datumbook.stations.holes.hole_groups import Group, Groups
from datumbook.workbook.layout import WHOLE


def tightening(groups: Groups) -> Iterator[Table | Prose]:
    """The rounds and the order, where a torque is given."""
    rows = groups.keys(lambda one: one.spec.torque)
    if not rows:
        return
    rounds = groups.shop.tightening_rounds
    unit = groups.of(lambda one: one.spec.torque.unit)
    whole = counted(rounds)
    torque = Given(
        name="torque",
        words="torque",
        unit=unit,
        decimals=1,
        width=9.5,
        value=groups.of(lambda one: one.spec.torque),
    )
    steps = tuple(
        Result(
            name=f"round_{step}",
            words=f"round {step} of {rounds}",
            unit=unit,
            decimals=1,
            width=9.5,
            equation=fasteners.torque_of_step,
            inputs={"step": counted(step), "steps": whole},
        )
        for step in range(1, rounds + 1)
    )
    yield Table(
        key="tightening",
        title="Tightening, in rounds",
        heading="Group",
        note="Every fastener once in each round, in the order below; the last round once more.",
        rows=[row for row in groups.rows() if row.key in rows],
        columns=(torque, *steps, words("torque_unit", "in", lambda row: shown(unit(row)), width=8)),
    )
    lines = [
        (f"{one.spec.words}: {', '.join(tightening_order(one))}",)
        for one in groups.all
        if one.spec.key in rows and one.spec.places
    ]
    if lines:
        yield Prose(
            title="Order of tightening, from the pattern's middle outwards",
            lines=lines,
            widths=(WHOLE,),
        )


def tightening_order(group: Group) -> list[str]:
    """The holes of a group from the middle of the pattern outwards, one side after the other.
    Common practice, no source.
    """
    places = {
        name: tuple(size.to("mm") for size in place)
        for name, place in zip(group.spec.names, group.spec.places, strict=True)
    }
    middle = [(min(ends) + max(ends)) / 2 for ends in zip(*places.values(), strict=True)]

    def apart(name: str) -> tuple[float, float, float]:
        along, across = (place - centre for place, centre in zip(places[name], middle, strict=True))
        return (
            round(hole_safety.centre_distance(0.0, 0.0, along, across), 6),
            round(-along * across, 6),
            -across,
        )

    return sorted(places, key=apart)
