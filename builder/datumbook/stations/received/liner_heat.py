"""Getting dry liners in: how cold the liner or how hot the block, by what that is reached, and what
to mind; on the liners' sheet, and on a card.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column, Result, Sizes, words
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Line, Prose, Table, cylinder_rows
from datumbook.equations import forbidden_fits, heat_and_cold, room_air
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.spec.liners import Liners
from datumbook.standards.cautions import at_station
from datumbook.standards.heat_and_cold import (
    WayIn,
    farthest,
    gas_figure,
    instead,
    lost_on_the_way,
    means,
)
from datumbook.stations.received.cautioned import beside_the_work
from datumbook.stations.received.liner_air import LITRES, RoomAir
from datumbook.stations.received.liner_card import liner_on_card
from datumbook.stations.received.liner_pressing import Fitted, of_material
from datumbook.stations.received.shown import shown_words

USUAL_WARMTH = read_quantity("20 degC")
SHOP_SPAN = (-20.0, 50.0)  # degC, that a shop can have
WARMTHS, MEANS_WIDTH = Sizes("degC", 0), 13.0
ALL_MEANS = (*means("cold"), *means("hot"))
REACHED = {one.key: one.reaches for one in ALL_MEANS}
ON_CARD = (
    ("cold", "▲ Cold", "gloves, face shield, moving air; no closed room, no hammer"),
    ("hot", "▲ Heat", "gloves, no water near oil; measure again when it is cold through"),
    ("first", "First", "local codes and licensed practice"),
)


class LinersIn:
    """How each liner gets in: chilled, or the block warmed, or the block warmed a little with the
    liner in dry ice.
    """

    chilling_temperature: Column
    chilled_by: Column

    def __init__(
        self, basis: Basis, spec: Liners, room: Quantity, fit: Fitted, fits: Table
    ) -> None:
        self.basis, self.spec, self.room, self.fit, self.fits = basis, spec, room, fit, fits
        self.volume = basis.spec.shop.chilling_room
        self.figures = self._figures()
        lost = lost_on_the_way().value.text
        self.each = Table(
            key="liner_heat",
            title="Getting the liners in",
            heading="Cylinder",
            note="One of three ways, where the hole is smallest, with the room wanted besides. "
            f"{lost} of the way back to the shop's warmth is allowed between box or oven and bore: "
            f"chill or warm to what stands here, and be quick. Reached for certain: {_reached()}.\n"
            f"{heat_and_cold.NO_COLD}: {instead('cold')}. {heat_and_cold.NO_HEAT}: "
            f"{instead('hot')}.",
            rows=cylinder_rows(basis.lined()),
            columns=(self._forbidden(), *self._chilled(), *self._warmed(), *self._both()),
        )
        self.air = RoomAir(self.volume, self.each, basis.lined()) if self.volume else None

    def parts(self) -> Iterator[Table | Form | Prose]:
        """What stands of it on the liners' sheet."""
        yield from (self.figures, self.each)
        if self.air:
            yield self.air
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
        for number in self.basis.lined():
            yield from liner_on_card(
                str(number), self.each, self.fits, self.basis.sizes("liners"), WARMTHS
            )
        if self.air:
            for name, of_gas, said in self.air.said:
                yield shown_words(name, f"{of_gas} for all of them", said)

    def _figures(self) -> Form:
        """The figures of the two materials in heat and cold, and of the shop."""
        spec, given = self.spec, self.basis.sizes("liners").given
        lost = lost_on_the_way()
        read = WARMTHS.reading(
            "shop_read",
            "Shop, where it is not at 20 °C",
            how="Thermometer beside block and liner.",
            wanted=False,
            possible=SHOP_SPAN,
        )
        shop = WARMTHS.result(
            "temperature",
            "Shop, block and liner",
            heat_and_cold.temperature_of_the_shop,
            read=read,
            usual=USUAL_WARMTH,
        )
        on_the_way = Sizes("%", 0).given("lost", "Lost between box or oven and bore", lost.value)
        lines: list[Line | Column] = [
            of_material("expansion", "Expansion of the liner", "1/degC", 7, spec.material),
            of_material("cold_expansion", "its mean down to -196 °C", "1/degC", 7, spec.material),
            of_material("parent_expansion", "Expansion of the block", "1/degC", 7, spec.block),
            of_material("hot_expansion", "its mean up to 200 °C", "1/degC", 7, spec.block),
            given("assembly_clearance", "Room wanted while it goes in", self.room),
            read,
            shop,
            Line(column=on_the_way, note=lost.source),
            WARMTHS.result(
                "in_dry_ice",
                "Liner out of dry ice, in the bore",
                heat_and_cold.temperature_in_place,
                reached=REACHED["dry_ice"],
                temperature=shop,
                lost=on_the_way,
            ),
        ]
        return Form(key="liner_heat_figures", title="Figures of heat and cold", lines=lines)

    def _forbidden(self) -> Result:
        """What stands against the liner's going in at all."""
        return Result(
            name="fit_forbidden",
            words="may it go in",
            width=30,
            equation=forbidden_fits.fit_forbidden,
            inputs={
                "too_loose": self._verdict("least_interference"),
                "too_tight": self._verdict("greatest_interference"),
                "too_thin": self._verdict("liner_wall"),
            },
        )

    def _verdict(self, name: str) -> Callable[[str], Key]:
        return lambda row: self.fits.column(name).verdict[row]

    def _chilled(self) -> Iterator[Column]:
        at, fit = self.figures.column, self.fit
        yield WARMTHS.result(
            "chilling_temperature",
            "goes in at",
            heat_and_cold.chilling_temperature,
            liner_interference=fit.greatest_interference,
            outside_diameter=fit.outside_diameter,
            assembly_clearance=at("assembly_clearance"),
            expansion=at("expansion"),
            cold_expansion=at("cold_expansion"),
            temperature=at("temperature"),
            coldest=farthest("cold"),
        )
        yield self._leaving("chill_to", "chill the liner to", "chilling_temperature", "cold")
        yield Result(
            name="chilled_by",
            words="by",
            width=MEANS_WIDTH,
            equation=heat_and_cold.chilled_by,
            inputs={
                "liner_interference": fit.greatest_interference,
                "outside_diameter": fit.outside_diameter,
                "chilling_temperature": lambda row: self.each.column("chill_to")[row],
                "temperature": at("temperature"),
                "freezer": REACHED["freezer"],
                "dry_ice": REACHED["dry_ice"],
            },
        )
        if self.volume:
            yield LITRES.result(
                "nitrogen_for_one",
                "nitrogen boils off",
                room_air.nitrogen_for_one,
                outside_diameter=fit.outside_diameter,
                liner_bore=fit.liner_bore,
                liner_length=fit.liner_length,
                nitrogen_to_iron=gas_figure("nitrogen_to_iron").value,
            )
            yield Sizes("", 2).result(
                "dry_ice_for_one",
                "or dry ice, kg",
                room_air.dry_ice_for_one,
                outside_diameter=fit.outside_diameter,
                liner_bore=fit.liner_bore,
                liner_length=fit.liner_length,
                temperature=at("temperature"),
                reached=REACHED["dry_ice"],
                iron_of_a_kilogram=gas_figure("iron_of_a_kilogram").value,
                dry_ice_for_a_degree=gas_figure("dry_ice_for_a_degree").value,
            )

    def _leaving(self, name: str, head: str, wanted: str, way: WayIn) -> Result:
        """The temperature that box or oven has to give, for what is lost on the way."""
        return WARMTHS.result(
            name,
            head,
            heat_and_cold.temperature_on_leaving,
            wanted=lambda row: self.each.column(wanted)[row],
            temperature=self.figures.column("temperature"),
            lost=self.figures.column("lost"),
            farthest=farthest(way),
        )

    def _warmed(
        self, tight: Column | None = None, name: str = "", head: str = "or warm the block to"
    ) -> Iterator[Column]:
        """The temperature to warm the block to, and by what, for a liner so tight."""
        at, fit = self.figures.column, self.fit
        heating = WARMTHS.result(
            f"heating_temperature{name}",
            "lets it in at",
            heat_and_cold.heating_temperature,
            liner_interference=tight or fit.greatest_interference,
            hole=fit.smallest_size,
            assembly_clearance=at("assembly_clearance"),
            expansion=at("parent_expansion"),
            hot_expansion=at("hot_expansion"),
            temperature=at("temperature"),
            hottest=farthest("hot"),
        )
        to = self._leaving(f"warm_to{name}", head, heating.name, "hot")
        yield from (heating, to)
        yield Result(
            name=f"heated_by{name}",
            words="by",
            width=MEANS_WIDTH,
            equation=heat_and_cold.heated_by,
            inputs={
                "liner_interference": tight or fit.greatest_interference,
                "hole": fit.smallest_size,
                "heating_temperature": to,
                "temperature": at("temperature"),
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
            temperature=at("temperature"),
            far=farthest("cold"),
            reached=at("in_dry_ice"),
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
