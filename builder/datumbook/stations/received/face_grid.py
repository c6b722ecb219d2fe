"""A face probed over a grid: the least squares plane through the readings, each step of it a cell
to look at.
"""

from __future__ import annotations

from dataclasses import dataclass

from datumbook.cells.columns import Check, Column, Input, Per, Result, Sizes
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Row, Table
from datumbook.equations import flatness, uncertainties
from datumbook.numbers.printing import NOT_MORE
from datumbook.spec.features import Grid
from datumbook.stations.received.instruments import Instruments
from datumbook.stations.received.job import DecisionRule
from datumbook.stations.received.measured import Measured
from datumbook.workbook.inputs import verdict_of

SUMS = {  # name of the line, its words, the column of the grid that is summed
    "squares": ("Squares along", "along_deviation"),
    "other_squares": ("Squares across", "across_deviation"),
    "cross_products": ("Products, along with across", "cross_product"),
    "products": ("Products, along with reading", "along_product"),
    "other_products": ("Products, across with reading", "across_product"),
}
TURNED_WAYS = {  # what each sum is called once the two ways have changed places
    "squares": "other_squares",
    "other_squares": "squares",
    "cross_products": "cross_products",
    "products": "other_products",
    "other_products": "products",
}
MEANS = {"along": "Mean place along", "across": "Mean place across", "reading": "Mean reading"}


class GridPlane(Form):
    """The least squares plane: its two slopes, and its level where both places are zero."""

    slope_along: Column
    slope_across: Column
    level: Column


@dataclass(frozen=True)
class Doubt:
    """What the doubt about a face is worked out from: the instruments, and how it counts."""

    instruments: Instruments
    rule: DecisionRule


class FaceGrid:
    """The readings of a grid, the plane through them, and how far the face leaves it; as finished
    where there is one before it.
    """

    def __init__(self, feature: Measured, name: str, words: str, spec: Grid, doubt: Doubt) -> None:
        self.feature, self.name, self.words, self.spec = feature, name, words, spec
        self.doubt, self.sizes = doubt, feature.basis.sizes("flatness")
        self.places = {
            f"{line}_{point}": (line, point)
            for line in range(1, len(spec.across) + 1)
            for point in range(1, len(spec.along) + 1)
        }
        self.points = self._points()
        self.plane = self._plane()

    def parts(self) -> tuple[Table, Form, Table]:
        """The readings, the plane, and how far the face leaves it."""
        return self.points, self.plane, self._peak()

    def _points(self) -> Table:
        feature, drawn = self.feature, Sizes(self.sizes.unit, self.sizes.decimals)
        along = drawn.given(
            "along", "along the face", lambda row: self.spec.along[self.places[row][1] - 1]
        )
        across = drawn.given(
            "across", "across the face", lambda row: self.spec.across[self.places[row][0] - 1]
        )
        read = self.sizes.reading(
            "reading",
            "reading",
            how="Indicator here, with its sign.",
            possible=feature.signed("flatness"),
        )
        return Table(
            key=feature.key(f"{self.name}_grid"),
            title=feature.title(f"{self.words}: probed over a grid"),
            heading="Point",
            note="Indicator on a bridge or the machine's own spindle; any zero will do.",
            spoilers=feature.spoilers(),
            rows=[
                Row(key, f"Line {line}, point {point}")
                for key, (line, point) in self.places.items()
            ],
            columns=(
                along,
                across,
                read,
                self.sizes.result(
                    "above_plane",
                    "above the plane",
                    flatness.above_plane,
                    plane_level=lambda _: self.plane.level,
                    slope=lambda _: self.plane.slope_along,
                    place=along,
                    other_slope=lambda _: self.plane.slope_across,
                    other_place=across,
                ),
                *self._chain(along, across, read),
            ),
        )

    def _chain(self, along: Column, across: Column, read: Column) -> tuple[Column, ...]:
        """What the plane is worked out from, point by point."""
        far, aside = (
            self.sizes.result(
                f"{way.name}_deviation",
                f"{way.name}, less mean",
                flatness.deviation,
                reading=way,
                mean_reading=self._mean_of(way.name),
            )
            for way in (along, across)
        )
        return (
            far,
            aside,
            self._product("cross_product", "along × across", far, aside),
            self._product("along_product", "along × reading", far, read),
            self._product("across_product", "across × reading", aside, read),
        )

    def _mean_of(self, name: str) -> Per[Input]:
        return lambda _: self.plane.column(f"mean_{name}")

    def _product(self, name: str, words: str, one: Column, other: Column) -> Result:
        return Sizes(f"{self.sizes.unit}**2", 4).result(
            name, words, flatness.deviation_product, deviation=one, other_deviation=other
        )

    def _of_points(self, column: str) -> list[Key]:
        return [self.points.column(column)[key] for key in self.places]

    def _plane(self) -> GridPlane:
        means = {
            name: self.sizes.result(
                f"mean_{name}", words, flatness.mean_reading, readings=self._of_points(name)
            )
            for name, words in MEANS.items()
        }
        sums = {name: self._sum(name, *said) for name, said in SUMS.items()}
        slope, turned = Sizes("", 7), {TURNED_WAYS[name]: one for name, one in sums.items()}
        along = slope.result("slope_along", "Slope along", flatness.plane_slope, **sums)
        across = slope.result("slope_across", "Slope across", flatness.plane_slope, **turned)
        return GridPlane(
            key=self.feature.key(f"{self.name}_plane"),
            title=self.feature.title("The least squares plane"),
            note="Only for those who want to follow the working.",
            lines=[
                *means.values(),
                *sums.values(),
                along,
                across,
                self.sizes.result(
                    "level",
                    "Level where both places are zero",
                    flatness.plane_level,
                    slope=along,
                    mean_place=means["along"],
                    other_slope=across,
                    other_mean_place=means["across"],
                ),
            ],
        )

    def _sum(self, name: str, words: str, column: str) -> Result:
        area, summands = Sizes(f"{self.sizes.unit}**2", 4), self._of_points(column)
        if column.endswith("deviation"):
            return area.result(name, words, flatness.sum_of_squares, deviations=summands)
        return area.result(name, words, flatness.sum_of_products, deviation_products=summands)

    def _peak(self) -> Table:
        """Highest less lowest about the plane, judged with a guard that no choice of the two points
        can outgrow.
        """
        feature, sizes, spec, fresh = self.feature, self.sizes, self.spec, self.points.freshness
        flat = sizes.result(
            "flatness", "flatness", flatness.flatness, above_plane=self._of_points("above_plane")
        )
        most = sizes.given("most", NOT_MORE, spec.at_most)
        doubt = sizes.result(
            "flatness_uncertainty",
            "± at most",
            flatness.flatness_uncertainty,
            uncertainty=self.doubt.instruments.gauges.uncertainty["flatness"],
        )
        guard = sizes.result(
            "guard",
            "guard",
            uncertainties.guard_band,
            guard_factor=self.doubt.rule.guard_factor,
            expanded_uncertainty=doubt,
        )
        held: dict[str, Per[Input]] = {"value": flat, "high": most, "uncertainty": guard}
        verdict = Result(
            name="verdict",
            words="verdict",
            unit=None,
            equation=verdict_of("at_most", fresh),
            inputs={**held, **fresh},
        )
        return Table(
            key=feature.key(f"{self.name}_peak"),
            title=feature.title(f"{self.words}: flatness over the grid"),
            heading="What",
            note=f"Limit: {spec.source}. No narrower zone than this is promised: a straight-edge "
            f"reads something else again.",
            rows=[Row("all", "Highest less lowest point")],
            fresh_in=self.points.stale_with,
            columns=(
                *(flat, most, doubt, guard, verdict),
                Check(of=verdict, judged=True, source=spec.source),
            ),
        )
