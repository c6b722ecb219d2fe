"""Work off: what touch, infeed and clocking may be off, which a forecast cannot know."""

from __future__ import annotations

from collections.abc import Mapping

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column, Influence
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Line
from datumbook.numbers.quantities import NO_LENGTH

WORK = {
    "infeed": "Touch and infeed",
    "along": "Clocked level along the block, end to end",
    "across": "Clocked level across it, side to side",
}
BAR = "Either end of the boring bar"


class WorkOff(Form):
    """What the work on a face may be off in this shop."""

    def __init__(self, basis: Basis) -> None:
        shop, sizes = basis.spec.shop, basis.sizes("heights")
        stated = {
            "infeed": shop.infeed_off,
            "along": shop.clocking_off,
            "across": shop.clocking_off,
        }
        super().__init__(
            key="work_off",
            title="What the work itself may be off, plus or minus",
            lines=[
                Line(column=sizes.given(name, WORK[name], most), note=most.source)
                for name, most in stated.items()
            ]
            + [Line(column=sizes.given("bar", BAR, shop.bar_off), note=shop.bar_off.source)],
        )


class BarOff(Form):
    """What either end of the boring bar may be off, taken as nothing; to either side where tunnels
    are measured, for nothing else asks for that.
    """

    def __init__(self, basis: Basis, group: str, work: WorkOff, measured: bool) -> None:
        sizes = basis.sizes(group)

        def off(name: str, end: str, way: str) -> Column:
            return Influence(
                name=name,
                words=f"{BAR.replace('Either', f'The {end}')}, {way}",
                value=NO_LENGTH,
                unit=sizes.unit,
                decimals=sizes.decimals,
                may_be_off=work.column("bar"),
            )

        ends = ("front", "rear")
        self.ends: Mapping[str, Column] = {end: off(end, end, "up or down") for end in ends}
        self.aside: Mapping[str, Column] = {
            end: off(f"{end}_aside", end, "to either side") for end in ends if measured
        }
        super().__init__(
            key="bar_off",
            title="Line bore: what the bar may be off, taken as nothing",
            lines=[*self.ends.values(), *self.aside.values()],
        )

    def origins(self) -> dict[str, tuple[str, Key]]:
        """What may be off up or down, by names and in words."""
        return {f"bar_{end}": (f"bar {end}", one.key) for end, one in self.ends.items()}

    def origins_aside(self) -> dict[str, tuple[str, Key]]:
        """What may be off to either side, by names and in words."""
        return {
            f"bar_{end}_aside": (f"bar {end} aside", one.key) for end, one in self.aside.items()
        }


class CutOff(Form):
    """What the cut of one face may be off, taken as nothing."""

    def __init__(self, basis: Basis, key: str, title: str, work: WorkOff) -> None:
        sizes = basis.sizes("heights")
        self.influences: Mapping[str, Column] = {
            f"{name}_off": Influence(
                name=f"{name}_off",
                words=words,
                value=NO_LENGTH,
                unit=sizes.unit,
                decimals=sizes.decimals,
                may_be_off=work.column(name),
            )
            for name, words in WORK.items()
        }
        super().__init__(key=key, title=title, lines=list(self.influences.values()))

    def origins(self, face: str) -> dict[str, tuple[str, Key]]:
        """What may be off, by names with the face before them, in words."""
        return {
            f"{face}_{name}": (f"{face} {name.removesuffix('_off')}", one.key)
            for name, one in self.influences.items()
        }
