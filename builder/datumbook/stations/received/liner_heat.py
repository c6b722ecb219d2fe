"""Getting dry liners in: how cold the liner or how hot the block, by what that is reached, and what
to mind; on the liners' sheet, and on a card.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column, Given, Result, Sizes, words
from datumbook.cells.tables import Form, Line, Prose, Table, cylinder_rows
from datumbook.equations import heat_and_cold, standings
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.spec.liners import Liners
from datumbook.standards.cautions import at_station
from datumbook.standards.heat_and_cold import farthest, gas_figure, instead, means
from datumbook.standards.materials import FIGURES, figure
from datumbook.stations.received.cautioned import beside_the_work
from datumbook.stations.received.shown import shown_words

SHOP_WARMTH = read_quantity("20 degC")
WARMTHS, MEANS_WIDTH = Sizes("degC", 0), 13.0
ALL_MEANS = (*means("cold"), *means("hot"))
REACHED = {one.key: one.reaches for one in ALL_MEANS}
ON_CARD = (
    ("instead", heat_and_cold.NO_COLD, instead("cold")),
    ("cold", "▲ Cold", "gloves, face shield, moving air; no closed room, no hammer"),
    ("hot", "▲ Heat", "gloves, no water near oil; measure again when it is cold through"),
    ("first", "First", "local codes and licensed practice"),
)


class Fitted(Protocol):
    """The liners in their holes, as the sheet has them."""

    outside_diameter: Column
    smallest_size: Column
    greatest_interference: Column


class LinersIn:
    """How each liner gets in: chilled, or the block warmed, or the block warmed a little with the
    liner in dry ice.
    """

    chilling_temperature: Column
    chilled_by: Column

    def __init__(self, basis: Basis, spec: Liners, room: Quantity, fit: Fitted) -> None:
        self.basis, self.spec, self.room, self.fit = basis, spec, room, fit
        self.figures = self._figures()
        self.each = Table(
            key="liner_heat",
            title="Getting the liners in",
            heading="Cylinder",
            note="One of three ways, where the hole is smallest, with the room wanted besides, "
            f"from 20 °C. Reached for certain: {_reached()}.\n{heat_and_cold.NO_COLD}: "
            f"{instead('cold')}. {heat_and_cold.NO_HEAT}: {instead('hot')}.",
            rows=cylinder_rows(basis.lined()),
            columns=(*self._chilled(), *self._warmed(), *self._both()),
        )

    def parts(self) -> Iterator[Table | Form | Prose]:
        """What stands of it on the liners' sheet."""
        yield self.figures
        yield self.each
        mind = [f"{one.words.capitalize()}: {one.mind}" for one in ALL_MEANS]
        yield from beside_the_work(at_station("liners"), mind)

    def card(self) -> Form:
        """The card to hang where the liners go in."""
        return Form(
            key="card_liners",
            title="Dry liners: getting them in",
            lines=[*self._on_card(), *(words(name, head, said) for name, head, said in ON_CARD)],
            own_page=True,
        )

    def _on_card(self) -> Iterator[Column]:
        cold, said = self.each.column("chilling_temperature"), self.each.column("chilled_by")
        for number in map(str, self.basis.lined()):
            head = f"Cylinder {number}, chill the liner to"
            yield WARMTHS.result(f"chill_{number}", head, standings.shown_again, value=cold[number])
            yield shown_words(f"chill_{number}_by", "by", said[number])

    def _figures(self) -> Form:
        """The figures of the two materials in heat and cold, and of the room's air."""
        spec, given = self.spec, self.basis.sizes("liners").given
        lines: list[Line | Column] = [
            of_material("expansion", "Expansion of the liner", "1/degC", 7, spec.material),
            of_material("cold_expansion", "its mean down to -196 °C", "1/degC", 7, spec.material),
            of_material("parent_expansion", "Expansion of the block", "1/degC", 7, spec.block),
            of_material("hot_expansion", "its mean up to 200 °C", "1/degC", 7, spec.block),
            given("assembly_clearance", "Room wanted while it goes in", self.room),
            *self._air(),
        ]
        return Form(key="liner_heat_figures", title="Figures of heat and cold", lines=lines)

    def _air(self) -> Iterator[Line]:
        """What the gas of a chill does to the air of the shop's room, where its volume is known."""
        volume = self.basis.spec.shop.chilling_room
        if volume is None:
            return
        oxygen, least = gas_figure("oxygen"), gas_figure("least_oxygen")
        dioxide = gas_figure("most_carbon_dioxide")
        liquid, kilogram = gas_figure("liquid_to_gas"), gas_figure("gas_of_a_kilogram")
        room = Sizes("m**3", 1).given("room", "Room it is chilled in", volume)
        yield Line(column=room, note="the shop's")
        yield Line(
            column=Sizes("L", 1).result(
                "nitrogen",
                "Nitrogen it bears in still air",
                heat_and_cold.nitrogen_that_thins_oxygen,
                room=room,
                oxygen=oxygen.value,
                least_oxygen=least.value,
                liquid_to_gas=liquid.value,
            ),
            note=f"oxygen {least.value.text}: {least.source}",
        )
        yield Line(
            column=Sizes("", 2).result(
                "dry_ice",
                "Kilograms of dry ice it bears so",
                heat_and_cold.dry_ice_kilograms,
                room=room,
                most_carbon_dioxide=dioxide.value,
                gas_of_a_kilogram=kilogram.value,
            ),
            note=dioxide.source,
        )

    def _chilled(self) -> Iterator[Column]:
        at, fit = self.figures.column, self.fit
        yield WARMTHS.result(
            "chilling_temperature",
            "chill the liner to",
            heat_and_cold.chilling_temperature,
            liner_interference=fit.greatest_interference,
            outside_diameter=fit.outside_diameter,
            assembly_clearance=at("assembly_clearance"),
            expansion=at("expansion"),
            cold_expansion=at("cold_expansion"),
            temperature=SHOP_WARMTH,
            coldest=farthest("cold"),
        )
        yield Result(
            name="chilled_by",
            words="by",
            width=MEANS_WIDTH,
            equation=heat_and_cold.chilled_by,
            inputs={
                "liner_interference": fit.greatest_interference,
                "outside_diameter": fit.outside_diameter,
                "temperature": SHOP_WARMTH,
                "freezer": REACHED["freezer"],
                "dry_ice": REACHED["dry_ice"],
            },
        )

    def _warmed(
        self, tight: Column | None = None, name: str = "", head: str = "or warm the block to"
    ) -> Iterator[Column]:
        """The temperature to warm the block to, and by what, for a liner so tight."""
        at, fit = self.figures.column, self.fit
        to = WARMTHS.result(
            f"heating_temperature{name}",
            head,
            heat_and_cold.heating_temperature,
            liner_interference=tight or fit.greatest_interference,
            hole=fit.smallest_size,
            assembly_clearance=at("assembly_clearance"),
            expansion=at("parent_expansion"),
            hot_expansion=at("hot_expansion"),
            temperature=SHOP_WARMTH,
            hottest=farthest("hot"),
        )
        yield to
        yield Result(
            name=f"heated_by{name}",
            words="by",
            width=MEANS_WIDTH,
            equation=heat_and_cold.heated_by,
            inputs={
                "liner_interference": tight or fit.greatest_interference,
                "hole": fit.smallest_size,
                "heating_temperature": to,
                "temperature": SHOP_WARMTH,
                "hot_water": REACHED["hot_water"],
                "oil_bath": REACHED["oil_bath"],
            },
        )

    def _both(self) -> Iterator[Column]:
        """The block warmed for a liner that comes out of dry ice."""
        at, fit, sizes = self.figures.column, self.fit, self.basis.sizes("liners")
        grown = sizes.result(
            "thermal_growth",
            "dry ice shrinks it by",
            heat_and_cold.thermal_growth,
            size=fit.outside_diameter,
            expansion=at("expansion"),
            far_expansion=at("cold_expansion"),
            temperature=SHOP_WARMTH,
            far=farthest("cold"),
            reached=REACHED["dry_ice"],
        )
        left = sizes.result(
            "interference_left",
            "and is tight by",
            heat_and_cold.interference_left,
            liner_interference=fit.greatest_interference,
        )
        yield from (grown, left, *self._warmed(left, "_in_dry_ice", "so warm the block to"))


def _reached() -> str:
    """What each means reaches, in words."""
    return ", ".join(f"{one.words} {one.reaches.text.replace('degC', '°C')}" for one in ALL_MEANS)


def of_material(name: str, said: str, unit: str, decimals: int, material: str) -> Line:
    """One figure of a material by what its name says, with its source."""
    what = next(one for one in reversed(FIGURES) if name.endswith(one.replace(" ", "_")))
    found = figure(material, what)
    return Line(
        column=Given(name=name, words=said, unit=unit, decimals=decimals, value=found.value),
        note=f"{material}: {found.source}{', from memory' if found.known == 'from memory' else ''}",
    )
