"""Dry liners: the hole each needs, how tight it sits there, what is left of its wall and of the
block's.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Reading, words
from datumbook.cells.handles import Handle, Key, row_key
from datumbook.cells.tables import Form, Line, Row, Sheet, Table, cylinder_rows
from datumbook.equations import bores, budget, clearances, liners, walls
from datumbook.numbers.printing import NOT_LESS, NOT_MORE
from datumbook.numbers.quantities import NO_LENGTH, Quantity
from datumbook.spec.liners import Liners
from datumbook.standards.fits import CAST_IRON, Fit, parse_fit, tighter_than
from datumbook.stations.received.features import two_point
from datumbook.stations.received.liner_heat import LinersIn
from datumbook.stations.received.liner_pressing import Fitted, pressing

HOLE_AXES = {"across": "across the crank", "along": "along it"}


class LinersAndHoles(Table):
    """Each liner and the hole bored for it, depth by depth; the hole is read two ways."""

    outside_diameter: Column
    smallest_size: Column
    largest_size: Column
    tight_least: Column
    tight_most: Column


class LinerFits(Table):
    """What follows for each liner; how it is held follows from what the plan decides."""

    outside_diameter: Column
    outside_least: Column
    hole: Column
    smallest_size: Column
    liner_bore: Column
    liner_length: Column


class DryLiners:
    """What is measured and worked out for each cylinder that gets a liner."""

    def __init__(self, basis: Basis, spec: Liners) -> None:
        self.basis, self.spec, self.sizes = basis, spec, basis.sizes("liners")
        self.limits = self._limits()
        self.read = self._read()
        self.fit, (self.tight_least, self.tight_most) = self._fit(), self._tight()
        self.pressed: list[Table | Form] = []
        self.heat = (
            LinersIn(basis, spec, spec.room, self._fitted(), self.fit) if spec.room else None
        )

    def sheet(self) -> Sheet:
        """The sheet of the dry liners."""
        heat = self.heat.parts() if self.heat else ()
        parts = [self.read, self.fit, self.limits, *self.pressed, *heat]
        return Sheet(name="Liners", title="Cylinder liners", parts=parts)

    def bored_as(self, liner: Column, finish_bore: Column, walls_left: Sequence[Handle]) -> None:
        """What follows from the plan: which cylinder gets a liner, to what size that is bored, and
        the walls it leaves of the block.
        """
        spec, fit, limit = self.spec, self.fit, self.limits.column
        tight = spec.tightness.source
        assert spec.liner_wall is not None  # the spec's model holds it to be there
        wall = self.sizes.result(
            "liner_wall",
            "liner wall",
            walls.liner_wall,
            outside_diameter=fit.outside_least,
            finished_bore=finish_bore,
        )
        least, most = self.tight_least, self.tight_most
        fit.extend(
            (
                least,
                Check(of=least, low=limit("liner_interference_least"), source=tight, asked=liner),
                most,
                Check(of=most, high=limit("liner_interference_most"), source=tight, asked=liner),
                wall,
                Check(
                    of=wall,
                    low=limit("liner_wall_least"),
                    source=spec.liner_wall.source,
                    asked=liner,
                ),
            )
        )
        if walls_left:
            self.pressed = self._pressed(
                self.sizes.result(
                    "parent_wall", "block round it", budget.least_of, sizes=walls_left
                )
            )
        elif spec.parent_wall is not None:
            self.pressed = self._pressed(
                self.sizes.given("parent_wall", "block round it, least", spec.parent_wall.low)
            )

    def _read(self) -> LinersAndHoles:
        """What is read of each liner and of its hole, at the depths of the bores."""
        sizes, near, depths = self.sizes, self.spec.outside_diameter, self.basis.spec.bores.depths
        bored = [
            self._reading(f"hole_{way}", f"hole as bored, {said}", near, "Bore gauge.")
            for way, said in HOLE_AXES.items()
        ]
        smallest, largest = two_point(sizes, bored)
        tight = clearances.liner_interference
        places = "; ".join(f"{one.words} {one.at.text}" for one in depths)
        return LinersAndHoles(
            key="liner_hole",
            title="Liners and their holes",
            heading="Where",
            note=f"Only for a cylinder that the plan gives a liner, before it goes in: {places}, "
            "below the deck and down the liner. Liner and hole are read at one temperature. Two "
            "gauges share the line of the liners on the sheet of instruments: write the worse.",
            rows=[
                Row(row_key(cylinder, depth.key), f"Cylinder {cylinder}, {depth.words}")
                for cylinder in self.basis.lined()
                for depth in depths
            ],
            columns=(
                self._reading(
                    "outside_diameter",
                    "liner outside",
                    near,
                    "Micrometer, mean of two directions.",
                    setting="micrometer",
                ),
                *bored,
                smallest,
                largest,
                sizes.result("tight_least", "tight by, least", tight, hole=largest),
                sizes.result("tight_most", "tight by, most", tight, hole=smallest),
            ),
        )

    def _down(self, column: Column) -> Callable[[str], list[Key]]:
        """The cells of a column at all depths of a cylinder."""
        depths = self.basis.spec.bores.depths
        return lambda cylinder: [column[cylinder, depth.key] for depth in depths]

    def _fit(self) -> LinerFits:
        sizes, read, limit = self.sizes, self.read, self.limits.column
        smallest, largest = bores.smallest_size, bores.largest_size
        outside = self._down(read.outside_diameter)
        outside_most = sizes.result(
            "outside_diameter", "liner outside, largest", largest, diameters=outside
        )
        outside_least = sizes.result(
            "outside_least", "liner outside, smallest", smallest, diameters=outside
        )
        return LinerFits(
            key="liner",
            title="Fit of the liners",
            heading="Cylinder",
            note="The hole is bored to the measured liner: to the middle of what it may be, as far "
            "as can be from too loose and too tight. Nearer to an end than the gauges may be off "
            "is UNSURE; blank, the liner is too uneven for any hole. Too tight distorts, too loose "
            "walks.",
            rows=cylinder_rows(self.basis.lined()),
            columns=(
                self._reading(
                    "liner_bore",
                    "bore of the liner",
                    self.basis.spec.bores.standard.low,
                    "Bore gauge, before it is pressed in.",
                ),
                self._reading("liner_length", "its length", None, "Steel rule."),
                outside_least,
                outside_most,
                sizes.result(
                    "hole_least",
                    f"hole {NOT_LESS}",
                    liners.hole_for_liner,
                    interference_wanted=limit("liner_interference_most"),
                ),
                sizes.result(
                    "hole_most",
                    f"hole {NOT_MORE}",
                    liners.hole_for_liner,
                    outside_diameter=outside_least,
                    interference_wanted=limit("liner_interference_least"),
                ),
                sizes.result("hole", "bore block to", liners.middle_of_hole),
                sizes.result(
                    "smallest_size",
                    "hole, smallest",
                    smallest,
                    diameters=self._down(read.smallest_size),
                ),
            ),
        )

    def _fitted(self) -> Fitted:
        fit = self.fit
        return Fitted(
            fit.outside_diameter,
            fit.smallest_size,
            self.tight_most,
            fit.liner_bore,
            fit.liner_length,
        )

    def _tight(self) -> tuple[Column, Column]:
        """How tight each liner is, least and most; they stand beside their verdicts, once the plan
        says who gets a liner.
        """
        read, sizes = self.read, self.sizes
        return (
            sizes.result(
                "least_interference",
                "tight by, least",
                bores.smallest_size,
                diameters=self._down(read.tight_least),
            ),
            sizes.result(
                "greatest_interference",
                "tight by, most",
                bores.largest_size,
                diameters=self._down(read.tight_most),
            ),
        )

    def _limits(self) -> Form:
        """What fit and wall are held to, and by which code."""
        sizes, spec = self.sizes, self.spec
        fit, tight = parse_fit(spec.fit) if spec.fit else None, spec.tightness
        code = words("code", "Fit by its code", fit.designation if fit else None)
        assert spec.liner_wall is not None  # the spec's model holds it to be there
        return Form(
            key="liner_limits",
            title="What the liners are held to",
            note=_warning(fit),
            lines=(
                *([Line(column=code, note="ISO 286-1")] if fit else []),
                sizes.given("liner_interference_least", "Least interference", tight.low),
                sizes.given("liner_interference_most", "Most interference", tight.high),
                sizes.given(
                    "liner_wall_least", "Least liner wall", spec.liner_wall.low or NO_LENGTH
                ),
            ),
        )

    def _pressed(self, parent_wall: Column) -> list[Table | Form]:
        rows = cylinder_rows(self.basis.lined())
        return pressing(self.sizes, self.spec, rows, self._fitted(), parent_wall)

    def _reading(
        self, name: str, words: str, near: Quantity | None, how: str, setting: str | None = None
    ) -> Reading:
        """A size of a liner; cylinders without one leave it blank."""
        return self.sizes.reading(name, words, near, how, wanted=False, setting=setting)


def _warning(fit: Fit | None) -> str:
    if fit is None or not tighter_than(fit, CAST_IRON):
        return (
            "Read hole and liner at one temperature, and never press a liner into a hole that "
            "was only worked out."
        )
    return (
        f"MIND: {fit.designation} is tighter than {CAST_IRON}, the tightest fit usable with "
        f"cast iron (Shigley table 7-9)."
    )
