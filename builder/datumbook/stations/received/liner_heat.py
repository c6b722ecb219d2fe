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
from datumbook.standards.heat_and_cold import gas_figure, instead, means
from datumbook.standards.materials import FIGURES, figure
from datumbook.stations.received.cautioned import beside_the_work
from datumbook.stations.received.shown import shown_words

SHOP = read_quantity("20 degC")
DEGREES, SAID = Sizes("degC", 0), 11.0
MEANS = (*means("cold"), *means("hot"))
ON_CARD = (
    ("instead", heat_and_cold.NO_COLD, instead("cold")),
    ("cold", "▲ Cold", "gloves, face shield, moving air; no closed room, no hammer"),
    ("hot", "▲ Heat", "gloves, no water near oil; measure again when it is cold through"),
    ("first", "First", "local codes and licensed practice"),
)
A_ROOM = (
    "An unventilated room of 30 m³ (1060 ft³) is at its limit with the gas of 0.27 kg of dry ice "
    "(carbon dioxide 5000 ppm) or of 2.9 L of nitrogen (oxygen 19.5 %)."
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
        self.figures, self.air = self._figures(), self._air()
        self.each = Table(
            key="liner_heat",
            title="Getting the liners in",
            heading="Cylinder",
            note="One of three ways, reckoned where the hole is smallest, with the room wanted "
            f"besides, from 20 °C. {heat_and_cold.NO_COLD}: {instead('cold')}. "
            f"{heat_and_cold.NO_HEAT}: {instead('hot')}.",
            rows=cylinder_rows(basis.cylinders()),
            columns=(*self._chilled(), *self._warmed(), *self._both()),
        )

    def parts(self) -> Iterator[Table | Form | Prose]:
        """What stands of it on the liners' sheet."""
        yield self.each
        mind = [f"{one.words.capitalize()}: {one.mind}" for one in MEANS]
        more = mind if self.air else [*mind, A_ROOM]
        yield from beside_the_work(at_station("liners"), more)
        yield from [self.air] if self.air else ()
        yield self.figures

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
        for number in map(str, self.basis.cylinders()):
            head = f"Cylinder {number}, chill the liner to"
            yield DEGREES.result(f"chill_{number}", head, standings.shown_again, value=cold[number])
            yield shown_words(f"chill_{number}_by", "by", said[number])

    def _figures(self) -> Form:
        """The figures of the two materials in heat and cold, and how far each means reaches."""
        spec, given = self.spec, self.basis.sizes("liners").given
        reached = [
            Line(
                column=DEGREES.given(one.key, f"{one.words.capitalize()} reaches", one.reaches),
                note=one.source,
            )
            for one in MEANS
        ]
        lines: list[Line | Column] = [
            of_material("expansion", "Expansion of the liner", "1/degC", 7, spec.material),
            of_material("cold_expansion", "its mean to -196 °C", "1/degC", 7, spec.material),
            of_material("parent_expansion", "Expansion of the block", "1/degC", 7, spec.block),
            of_material("hot_expansion", "its mean to 200 °C", "1/degC", 7, spec.block),
            given("assembly_clearance", "Room wanted while it goes in", self.room),
            *reached,
        ]
        return Form(key="liner_reach", title="Figures of heat and cold", lines=lines)

    def _air(self) -> Form | None:
        """What the gas of a chill does to the air of the shop's room, where its volume is known."""
        volume = self.basis.spec.shop.chilling_room
        if volume is None:
            return None
        share, room = Sizes("%", 1), Sizes("m**3", 2).given("room", "The room", volume)
        oxygen = share.given("oxygen", "Oxygen in air", gas_figure("oxygen").value)
        gas = Sizes("m**3", 2).result(
            "gas", "Gas that brings it there", heat_and_cold.gas_that_thins_oxygen
        )
        liquid = Sizes("L", 1).result(
            "liquid", "NITROGEN THAT GIVES IT", heat_and_cold.liquid_of_gas
        )
        dry_ice = Sizes("", 2).result(
            "dry_ice", "KILOGRAMS OF DRY ICE to the limit", heat_and_cold.dry_ice_kilograms
        )
        return Form(
            key="liner_air",
            title="The air of the room a liner is chilled in, with nothing moving it",
            lines=(
                room,
                oxygen,
                _limit(share, "least_oxygen", "not less than"),
                gas,
                _limit(Sizes("", 0), "liquid_to_gas", "Gas to liquid nitrogen"),
                liquid,
                _limit(share, "most_carbon_dioxide", "Carbon dioxide, not more than"),
                _limit(Sizes("m**3", 3), "gas_of_a_kilogram", "Gas of a kilogram of dry ice"),
                dry_ice,
            ),
        )

    def _chilled(self) -> Iterator[Column]:
        at, fit = self.figures.column, self.fit
        yield DEGREES.result(
            "chilling_temperature",
            "chill the liner to",
            heat_and_cold.chilling_temperature,
            liner_interference=fit.greatest_interference,
            outside_diameter=fit.outside_diameter,
            assembly_clearance=at("assembly_clearance"),
            expansion=at("expansion"),
            cold_expansion=at("cold_expansion"),
            temperature=SHOP,
            coldest=at("nitrogen"),
        )
        yield Result(
            name="chilled_by",
            words="by",
            width=SAID,
            equation=heat_and_cold.chilled_by,
            inputs={
                "liner_interference": fit.greatest_interference,
                "outside_diameter": fit.outside_diameter,
                "temperature": SHOP,
                "freezer": at("freezer"),
                "dry_ice": at("dry_ice"),
            },
        )

    def _warmed(
        self, tight: Column | None = None, name: str = "", head: str = "or warm the block to"
    ) -> Iterator[Column]:
        """The temperature to warm the block to, and by what, for a liner so tight."""
        at, fit = self.figures.column, self.fit
        to = DEGREES.result(
            f"heating_temperature{name}",
            head,
            heat_and_cold.heating_temperature,
            liner_interference=tight or fit.greatest_interference,
            hole=fit.smallest_size,
            assembly_clearance=at("assembly_clearance"),
            expansion=at("parent_expansion"),
            hot_expansion=at("hot_expansion"),
            temperature=SHOP,
            hottest=at("oven"),
        )
        yield to
        yield Result(
            name=f"heated_by{name}",
            words="by",
            width=SAID,
            equation=heat_and_cold.heated_by,
            inputs={
                "liner_interference": tight or fit.greatest_interference,
                "hole": fit.smallest_size,
                "heating_temperature": to,
                "temperature": SHOP,
                "hot_water": at("hot_water"),
                "oil_bath": at("oil_bath"),
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
            temperature=SHOP,
            far=at("nitrogen"),
            reached=at("dry_ice"),
        )
        left = sizes.result(
            "interference_left",
            "and is tight by",
            heat_and_cold.interference_left,
            liner_interference=fit.greatest_interference,
        )
        yield from (grown, left, *self._warmed(left, "_in_dry_ice", "so warm the block to"))


def of_material(name: str, said: str, unit: str, decimals: int, material: str) -> Line:
    """One figure of a material by what its name says, with its source."""
    what = next(one for one in reversed(FIGURES) if name.endswith(one.replace(" ", "_")))
    found = figure(material, what)
    return Line(
        column=Given(name=name, words=said, unit=unit, decimals=decimals, value=found.value),
        note=f"{material}: {found.source}",
    )


def _limit(sizes: Sizes, name: str, said: str) -> Line:
    """A figure of the air, with its source."""
    found = gas_figure(name)
    return Line(column=sizes.given(name, said, found.value), note=found.source)
