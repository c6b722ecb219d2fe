"""The air of the room in which liners are chilled: what boils off for all of them, nitrogen or dry
ice, held against what the room bears.
"""

from __future__ import annotations

from collections.abc import Iterable

from datumbook.cells.columns import Column, Equation, Input, Per, Result, Sizes
from datumbook.cells.tables import Form, Line, Table
from datumbook.equations import room_air
from datumbook.numbers.quantities import Quantity
from datumbook.standards.heat_and_cold import gas_figure

LITRES, KILOGRAMS = Sizes("L", 1), Sizes("", 2)


class RoomAir(Form):
    """What the gas of a chill does to the air of the shop's room, where its volume is known."""

    room: Column
    air_of_the_room: Column
    air_with_dry_ice: Column

    def __init__(self, volume: Quantity, chilled: Table, cylinders: Iterable[int]) -> None:
        self.volume, self.chilled, self.cylinders = volume, chilled, list(cylinders)
        share = gas_figure("borne")
        super().__init__(
            key="liner_air",
            title="The air of the room",
            note="In still air, of what boils off in one go: aired between, each liner counts by "
            f"itself. {room_air.BOILS_UNKNOWN}: bore and length of a liner are not read. "
            f"{room_air.NOT_BORNE}: out of doors, or an extractor at the floor, never shut in.",
            lines=(
                Line(column=self._room, note="the shop's"),
                Line(
                    column=Sizes("%", 0).given(
                        "share", "Let in of what reaches a limit", share.value
                    ),
                    note=share.source,
                ),
                *self._nitrogen(),
                *self._dry_ice(),
            ),
        )

    @property
    def said(self) -> tuple[tuple[str, str, Column], ...]:
        """Of each gas the name of its line on the card, itself in words, and whether the room bears
        it.
        """
        return (
            ("air", "Nitrogen", self.air_of_the_room),
            ("air_dry_ice", "Dry ice", self.air_with_dry_ice),
        )

    @property
    def _room(self) -> Column:
        return Sizes("m**3", 1).given("room", "Room it is chilled in", self.volume)

    def _nitrogen(self) -> tuple[Line | Column, ...]:
        """Nitrogen, which takes the oxygen's place."""
        least, iron = gas_figure("least_oxygen"), gas_figure("nitrogen_to_iron")
        return (
            Line(
                column=self._limit(
                    LITRES,
                    "nitrogen_that_thins_oxygen",
                    "Nitrogen that reaches the limit of oxygen",
                    room_air.nitrogen_that_thins_oxygen,
                    "oxygen",
                    "least_oxygen",
                    "liquid_to_gas",
                ),
                note=f"oxygen {least.value.text}: {least.source}",
            ),
            LITRES.result("nitrogen_borne", "so it bears in still air", room_air.nitrogen_borne),
            Line(
                column=LITRES.result(
                    "nitrogen_all_told",
                    "Nitrogen the liners boil off",
                    room_air.nitrogen_all_told,
                    nitrogen_for_one=self._each("nitrogen_for_one"),
                ),
                note=iron.source,
            ),
            Result(name="air_of_the_room", words="in this room", equation=room_air.air_of_the_room),
        )

    def _dry_ice(self) -> tuple[Line | Column, ...]:
        """Dry ice, whose gas is at its own limit long before it thins the oxygen."""
        day, short = gas_figure("most_carbon_dioxide"), gas_figure("short_carbon_dioxide")
        kilograms, held = room_air.dry_ice_kilograms, ("carbon_dioxide", "gas_of_a_kilogram")
        return (
            Line(
                column=self._limit(
                    KILOGRAMS,
                    "dry_ice_kilograms",
                    "Kilograms of dry ice that reach its limit",
                    kilograms,
                    "most_carbon_dioxide",
                    *held,
                ),
                note=day.source,
            ),
            KILOGRAMS.result("dry_ice_borne", "so it bears in still air", room_air.dry_ice_borne),
            Line(
                column=KILOGRAMS.result(
                    "dry_ice_for_minutes",
                    "and that reach what is borne for minutes",
                    kilograms,
                    most_carbon_dioxide=short.value,
                    **self._figures(*held),
                ),
                note=short.source,
            ),
            Line(
                column=KILOGRAMS.result(
                    "dry_ice_all_told",
                    "Kilograms that go for the liners, if by dry ice",
                    room_air.dry_ice_all_told,
                    dry_ice_for_one=self._each("dry_ice_for_one"),
                ),
                note=gas_figure("dry_ice_for_a_degree").source,
            ),
            Result(
                name="air_with_dry_ice", words="in this room", equation=room_air.air_with_dry_ice
            ),
        )

    def _each(self, name: str) -> list[Input]:
        column = self.chilled.column(name)
        return [column[one] for one in self.cylinders]

    def _figures(self, *names: str) -> dict[str, Per[Input]]:
        room: dict[str, Per[Input]] = {"room": lambda _: self.room}
        return room | {one: gas_figure(one).value for one in names}

    def _limit(
        self, sizes: Sizes, name: str, said: str, equation: Equation, *figures: str
    ) -> Result:
        """A limit of the room's air, by the figures of the table."""
        return sizes.result(name, said, equation, **self._figures(*figures))
