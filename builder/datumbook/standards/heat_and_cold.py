"""What chills and what warms in a shop, how far each reaches, and what to mind with it; what its
gas does to the air of a room.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Literal

from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.standards import table
from datumbook.standards.materials import FIGURES, figure

WayIn = Literal["cold", "hot"]
USUAL_MATERIAL = "grey iron"


@dataclass(frozen=True, slots=True)
class Means:
    """One means of chilling or warming: the temperature it reaches for certain, where that comes
    from, and what to mind with it. `words` are those that equations answer with.
    """

    key: str
    way: WayIn
    words: str
    reaches: Quantity
    source: str
    mind: str


@cache
def means(way: WayIn) -> tuple[Means, ...]:
    """Return the means of one way, the mildest first.

    >>> [one.words for one in means("cold")]
    ['freezer', 'dry ice', 'nitrogen']
    """
    rows = table("heat_and_cold")["means"]
    return tuple(
        Means(**row | {"reaches": read_quantity(row["reaches"])})
        for row in rows
        if row["way"] == way
    )


def means_called(words: str) -> Means | None:
    """Return the means that an equation names by these words; None where it names none."""
    every = (*means("cold"), *means("hot"))
    return next((one for one in every if one.words == words), None)


def farthest(way: WayIn) -> Quantity:
    """Return how far one way reaches at all; the figures of expansion end there too.

    >>> farthest("cold").text
    '-196 degC'
    """
    return means(way)[-1].reaches


def instead(way: WayIn) -> str:
    """Return what to do where a liner does not get in this way, in few words."""
    return str(table("heat_and_cold")["instead"][way])


@dataclass(frozen=True, slots=True)
class StatedFigure:
    """A figure of the table with its source."""

    value: Quantity
    source: str


def gas_figure(name: str) -> StatedFigure:
    """Return one such figure: oxygen, least_oxygen, most_carbon_dioxide, short_carbon_dioxide,
    carbon_dioxide, liquid_to_gas, gas_of_a_kilogram, borne, nitrogen_to_iron, iron_of_a_kilogram,
    dry_ice_for_a_degree.
    """
    return _figure(table("heat_and_cold")["gas"][name])


def lost_on_the_way() -> StatedFigure:
    """Return what a part loses between box or oven and its place, of its difference from the shop.

    >>> lost_on_the_way().value.text
    '10 %'
    """
    return _figure(table("heat_and_cold")["way"]["lost"])


def _figure(row: dict[str, str]) -> StatedFigure:
    return StatedFigure(read_quantity(row["value"]), row["source"])


def usual(equation: str) -> dict[str, str]:
    """Return argument -> the quantity taken at the bench where none is typed: figures of grey iron
    and how far cold or heat reaches; nothing for other equations.

    >>> usual("chilling_temperature")["coldest"]
    '-196 degC'
    """
    reaches = {one.key: one.reaches.text for one in (*means("cold"), *means("hot"))}
    figures = {what: figure(USUAL_MATERIAL, what).value.text for what in FIGURES}
    known = reaches | figures
    taken = table("heat_and_cold")["usual"].get(equation, {})
    return {argument: known.get(text, text) for argument, text in taken.items()}
