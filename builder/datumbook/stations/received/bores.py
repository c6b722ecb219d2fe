"""Bores: every cylinder at its depths and axes, as received and as finished, and the size that
cleans the worst.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cached_property

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, limited
from datumbook.cells.handles import Handle, Key, row_key
from datumbook.cells.tables import (
    Form,
    Guest,
    Line,
    Row,
    Sheet,
    SheetPart,
    Table,
    cylinder_rows,
    held,
)
from datumbook.equations import bores
from datumbook.numbers.printing import NOT_LESS, NOT_MORE
from datumbook.numbers.quantities import Quantity
from datumbook.spec import Limit, limit
from datumbook.stations.received.bore_profiles import AXES, bore_profiles
from datumbook.stations.received.features import TwoPointSizes, out_of_round, two_point
from datumbook.stations.received.route import Route
from datumbook.stations.received.states import FINISHED, RECEIVED, State, answer

TORQUED_CAPS = "Bore gauge, caps fitted and torqued, block at room temperature."
SLANTING = {"slanting_45": "slanting, 45°", "slanting_135": "slanting, 135°"}


class BoreReadings(Table):
    """The diameters of every bore, by depth and axis."""

    thrust: Column
    axial: Column
    out_of_round: Column


class EachBore(TwoPointSizes):
    """What follows for each bore; lip, wear and the size that cleans it only as received, the
    smallest only as finished. The mean grades pistons.
    """

    unworn_lip: Column
    mean_size: Column
    wear: Column
    clean_up_size: Column


class Rebore(Form):
    """The next size for all bores; without oversizes only the standard one and the hone's stock."""

    standard: Column
    clean_up_stock: Column
    worst_clean_up: Column
    next_oversize: Column


class BoredTo(Form):
    """The one size decided where there are no oversizes, and what a finished bore may be."""

    size: Column
    least: Column
    most: Column


class Bores:
    """The cylinder bores in one state: their diameters, and what follows from them."""

    state: State
    each: EachBore

    def __init__(self, basis: Basis, route: Route) -> None:
        self.basis, self.spec, self.sizes = basis, basis.spec.bores, basis.sizes("bores")
        self.limits, self.route = self.state.limits(basis.spec, "bores"), route
        self.depths = [depth.key for depth in self.spec.depths]
        depths = "; ".join(f"{depth.words} {depth.at.text}" for depth in self.spec.depths)
        prefix = self.state.prefix
        self.axes = AXES | (SLANTING if self.route.assembly.slanting(prefix) else {})
        stale = self.state.stale_after(route, "bores")
        read = [
            self.sizes.reading(
                axis,
                words,
                self.spec.standard.low,
                "Bore gauge, in the state said above." if stale and stale.state else TORQUED_CAPS,
            )
            for axis, words in self.axes.items()
        ]
        self.readings = BoreReadings(
            key=self.state.key("bores"),
            title=self.state.title("Bore readings"),
            heading="Where",
            note=f"Depths below the deck: {depths}.{self.route.assembly.lobes(prefix)}",
            spoilers=stale,
            rows=[
                Row(row_key(cylinder, depth.key), f"Cylinder {cylinder}, {depth.words}")
                for cylinder in self.basis.cylinders()
                for depth in self.spec.depths
            ],
            columns=(*read, *limited(out_of_round(self.sizes, read), self.limits.out_of_round)),
        )
        self.smallest, self.largest = two_point(self.sizes, self.diameters)
        self.mean = self.sizes.result(
            "mean_size", "mean size", bores.mean_size, diameters=self.diameters
        )

    def diameters(self, cylinder: int | str) -> list[Key]:
        """Every diameter of one bore, depth by depth."""
        read = [self.readings.column(axis) for axis in self.axes]
        return [axis[cylinder, depth] for depth in self.depths for axis in read]

    @cached_property
    def warm(self) -> list[Table]:
        """The sizes at the reference temperature, where the block's own is asked."""
        return [*self.route.assembly.at_reference(self.readings, self.each)]

    def along_row(self, cylinder: int | str) -> Key:
        """The diameter along the crank at the uppermost depth."""
        return self.readings.axial[cylinder, self.depths[0]]

    def _each(self, columns: Iterable[Column | Check], more: str = "") -> EachBore:
        return EachBore(
            key=self.state.key("bore"),
            title=self.state.title("Each bore"),
            heading="Cylinder",
            note=f"Taper is top less bottom: above zero, the bore is wider at the top.{more}",
            fresh_in=self.readings.stale_with,
            rows=cylinder_rows(self.basis.cylinders()),
            columns=columns,
            hosted=("unworn_lip",),
        )

    def _tapers(self) -> Iterator[Column | Check]:
        ends = {"top": self.depths[0], "bottom": self.depths[-1]}
        for axis, words in self.axes.items() if len(self.depths) > 1 else ():
            read = self.readings.column(axis)
            taper = self.sizes.result(
                f"taper_{axis}",
                f"taper {words}",
                bores.taper,
                **{end: lambda row, at=at, of=read: of[row, at] for end, at in ends.items()},
            )
            yield from limited(taper, self.limits.taper)


class ReceivedBores(Bores):
    """The bores as received, with the wear of each and the size that cleans the worst."""

    state = RECEIVED
    surely_clean: Handle  # with the bar set over as the plan has it, which comes later

    def __init__(self, basis: Basis, route: Route) -> None:
        super().__init__(basis, route)
        sizes, lip = self.sizes, "Above the highest point of ring travel."
        self.each = self._each(
            (
                sizes.reading("unworn_lip", "unworn lip", self.spec.standard.low, lip),
                self.mean,
                self.largest,
                *self._tapers(),
                *limited(sizes.result("wear", "wear", bores.wear), self._wear()),
                sizes.result(
                    "clean_up_size",
                    "cleans up at",
                    bores.clean_up_size,
                    clean_up_stock=lambda _: self.rebore.clean_up_stock,
                ),
            ),
            " The unworn lip above ring travel is the size the bore once had; wear below zero is "
            "a misread lip.",
        )
        tops = {row_key(one, self.depths[0]): str(one) for one in basis.cylinders()}
        self.counted: Handle = self.each.clean_up_size
        self.readings.guests = [Guest(self.each.unworn_lip, tops)]
        self.readings.sketch = "bores" if len(self.depths) == 3 else ""
        self.rebore = Rebore(
            key="rebore",
            title="Next size for all bores",
            note="One-sided wear: the deepest wear counts twice, and the hone gets its stock. "
            "Where the bar is set over, so does the way it goes.",
            lines=self._rebore_lines(),
        )

    def sheet(self) -> Sheet:
        """The sheet of the cylinder bores as received."""
        read: list[SheetPart] = [
            self.readings,
            *bore_profiles(self.basis, self.state, self.readings, self.depths),
            self.each,
        ]
        parts = [*read, *self.warm, self.rebore]
        return Sheet(name="Bores", title="Cylinder bores", parts=parts)

    def _wear(self) -> Limit:
        """A lip smaller than the bore below it by more than a new bore may vary is misread, where
        the spec gives no lower end.
        """
        wear, standard = self.spec.wear, self.spec.standard
        if wear.low is not None:
            return wear
        return limit(
            f"{wear.source}; less is a misread lip",
            low=standard.low - standard.high,
            high=wear.high,
        )

    def _rebore_lines(self) -> list[Line | Column]:
        spec, sizes, standard = self.spec, self.sizes, self.spec.standard.low
        steps = [
            sizes.given(f"oversize_{place}", f"Oversize +{size.text}", size)
            for place, size in enumerate(spec.oversizes, 1)
        ]
        lines: list[Line | Column] = [
            Line(
                column=sizes.given("standard", "Standard bore, least", standard),
                note=spec.standard.source,
            ),
            sizes.given("clean_up_stock", "Stock for the hone, on diameter", spec.clean_up_stock),
            *steps,
        ]
        if not steps:
            return lines
        lined = ", liners aside" if self.basis.spec.dry_liners else ""
        worst = sizes.result(
            "worst_set_over",
            f"Worst bore surely cleans up at, the bar set over{lined}",
            bores.worst_clean_up,
            clean_up_sizes=lambda _: [self.surely_clean[one] for one in self.basis.cylinders()],
        )
        finish = sizes.result(
            "next_oversize",
            "Finish size of all bores, honed",
            bores.next_oversize,
            worst_clean_up=worst,
            oversizes=steps,
        )
        return [
            *lines,
            held(
                sizes.result(
                    "worst_clean_up",
                    f"Worst bore cleans up at{lined}",
                    bores.worst_clean_up,
                    clean_up_sizes=lambda _: [self.counted[one] for one in self.basis.cylinders()],
                ),
                limit("standard bore and the largest oversize", high=standard + spec.oversizes[-1]),
            ),
            Line(
                column=worst, note="each with what that may be off by; set over as the plan has it"
            ),
            Line(
                column=finish, note="the first size that cleans the worst bore; blank if none does"
            ),
            Line(
                column=sizes.result(
                    "bore_before_honing",
                    "Bore to, leaving the stock for the hone",
                    bores.bore_before_honing,
                    finished_bore=finish,
                ),
                note="pistons at hand and measured first: bores are made to them",
            ),
        ]


class FinishedBores(Bores):
    """The bores as finished, each about its planned size, or about the one size decided."""

    state = FINISHED

    def __init__(
        self, basis: Basis, route: Route, before: ReceivedBores, planned: Column | None
    ) -> None:
        super().__init__(basis, route)
        self.received, self.planned, sizes = before, planned, self.sizes
        low, how = self.spec.standard.low, "The size decided for all cylinders."
        self.bored_to = (
            None
            if planned
            else BoredTo(
                key="bored_to",
                title="The size decided",
                lines=(
                    sizes.reading("size", "Bored to", low, how),
                    sizes.given("minus", "May be smaller by", self.limits.bore_minus),
                    sizes.given("plus", "May be larger by", self.limits.bore_plus),
                    sizes.result("least", "Least finished bore", bores.least_finished),
                    sizes.result("most", "Largest finished bore", bores.largest_finished),
                ),
            )
        )
        self.each = self._each(self._columns())
        self.widest = self._widest(self.spec.oversizes[-1]) if self.spec.oversizes else None
        answer(self.parts(), (before.readings, before.each))
        self.each.takes_over(self.largest.name, before.each.wear)

    def parts(self) -> list[Table | Form]:
        """The parts of the finished block's sheet that are about the bores."""
        parts = (self.bored_to, self.readings, self.each, *self.warm, self.widest)
        return [part for part in parts if part]

    def _widest(self, oversize: Quantity) -> Form:
        """The widest finished bore, held to the largest oversize that there are pistons for."""
        most = self.spec.standard.low + oversize + self.limits.bore_plus
        return Form(
            key=self.state.key("widest_bore"),
            title=self.state.title("The widest bore"),
            lines=[
                held(
                    self.sizes.result(
                        "widest",
                        "Widest finished bore",
                        bores.largest_size,
                        diameters=[self.each.largest_size[one] for one in self.basis.cylinders()],
                    ),
                    limit("the largest oversize, finished", high=most),
                )
            ],
            fresh_in=self.readings.stale_with,
        )

    def _columns(self) -> Iterator[Column | Check]:
        spec, sizes = self.limits, self.sizes
        if self.bored_to is not None:
            low, high = self.bored_to.least, self.bored_to.most
            source = "the size bored to"
        elif (size := self.planned) is not None:
            source = "the plan's finish bore"
            low = sizes.result(
                "least", NOT_LESS, bores.least_finished, size=size, minus=spec.bore_minus
            )
            high = sizes.result(
                "most", NOT_MORE, bores.largest_finished, size=size, plus=spec.bore_plus
            )
            yield from (low, high)
        yield from (self.smallest, Check(of=self.smallest, low=low, source=source))
        yield from (self.largest, Check(of=self.largest, high=high, source=source))
        yield self.mean
        yield from self._tapers()
