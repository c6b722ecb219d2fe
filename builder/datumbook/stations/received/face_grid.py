"""A face probed over a grid: the least squares plane through the readings, each step of it a cell
to look at.
"""

from __future__ import annotations

from typing import Any

from datumbook.cells.columns import Check, Result, Sizes
from datumbook.cells.tables import Form, Line, Row, Table
from datumbook.equations import flatness, uncertainties, verdicts
from datumbook.numbers.printing import NOT_MORE
from datumbook.spec.features import Grid
from datumbook.stations.received.features import Feature

SUMS = {  # name of the line, its words, the column of the grid that is summed
    "squares": ("Squares along", "along_deviation"),
    "other_squares": ("Squares across", "across_deviation"),
    "cross_products": ("Products, along with across", "cross_product"),
    "products": ("Products, along with reading", "along_product"),
    "other_products": ("Products, across with reading", "across_product"),
}


def grid(feature: Feature, name: str, words: str, spec: Grid) -> list[Table | Form]:
    """The readings of a grid, the plane through them, and how far the face leaves it."""
    return [
        _points(feature, name, words, spec),
        _plane(feature, name, spec),
        _peak_to_valley(feature, name, words, spec),
    ]


def _rows(spec: Grid) -> list[tuple[str, int, int]]:
    return [
        (f"{line}_{point}", line - 1, point - 1)
        for line in range(1, len(spec.across) + 1)
        for point in range(1, len(spec.along) + 1)
    ]


def _points(feature: Feature, name: str, words: str, spec: Grid) -> Table:
    sizes, rows, plane = feature.layout.sizes("flatness"), _rows(spec), feature.key(f"{name}_plane")
    along = {key: spec.along[point] for key, _, point in rows}
    across = {key: spec.across[line] for key, line, _ in rows}
    places = Sizes(sizes.unit, sizes.decimals)
    above = {
        "plane_level": f"{plane}.level",
        "slope": f"{plane}.slope_along",
        "other_slope": f"{plane}.slope_across",
    }
    return Table(
        key=feature.key(f"{name}_grid"),
        title=feature.title(f"{words}: probed over a grid"),
        heading="Point",
        note="Indicator on a bridge or the machine's own spindle; any zero will do.",
        spoilers=feature.spoilers(),
        rows=[Row(key, f"Line {line + 1}, point {point + 1}") for key, line, point in rows],
        columns=(
            places.given("along", "along the face", along.__getitem__),
            places.given("across", "across the face", across.__getitem__),
            sizes.reading(
                "reading",
                "reading",
                how="Indicator here, with its sign.",
                possible=feature.signed("flatness"),
            ),
            sizes.result(
                "above_plane",
                "above the plane",
                flatness.above_plane,
                **above,
                place=_own(feature, name, "along"),
                other_place=_own(feature, name, "across"),
            ),
            *_chain(feature, name, sizes),
        ),
    )


def _own(feature: Feature, name: str, column: str) -> str:
    return f"{feature.key(f'{name}_grid')}.{{row}}.{column}"


def _chain(feature: Feature, name: str, sizes: Sizes) -> tuple[Result, ...]:
    """What the plane is reckoned from, point by point."""
    plane, area = feature.key(f"{name}_plane"), f"{sizes.unit}**2"

    def deviation(way: str) -> Result:
        return sizes.result(
            f"{way}_deviation",
            f"{way}, less mean",
            flatness.deviation,
            reading=_own(feature, name, way),
            mean_reading=f"{plane}.mean_{way}",
        )

    def product(column: str, words: str, one: str, two: str) -> Result:
        inputs = {
            "deviation": _own(feature, name, one),
            "other_deviation": _own(feature, name, two),
        }
        return Result(
            name=column,
            words=words,
            unit=area,
            decimals=4,
            equation=flatness.deviation_product,
            inputs=inputs,
        )

    return (
        deviation("along"),
        deviation("across"),
        product("cross_product", "along × across", "along_deviation", "across_deviation"),
        product("along_product", "along × reading", "along_deviation", "reading"),
        product("across_product", "across × reading", "across_deviation", "reading"),
    )


def _plane(feature: Feature, name: str, spec: Grid) -> Form:
    sizes, points, plane = (
        feature.layout.sizes("flatness"),
        feature.key(f"{name}_grid"),
        feature.key(f"{name}_plane"),
    )

    def of(column: str) -> list[str]:
        return [f"{points}.{key}.{column}" for key, _, _ in _rows(spec)]

    def summed(line: str) -> Line:
        words, column = SUMS[line]
        equation = (
            flatness.sum_of_squares if column.endswith("deviation") else flatness.sum_of_products
        )
        summands = (
            {"deviations": of(column)}
            if column.endswith("deviation")
            else {"deviation_products": of(column)}
        )
        return Line(
            column=Result(
                name=line,
                words=words,
                unit=f"{sizes.unit}**2",
                decimals=4,
                equation=equation,
                inputs=summands,
            )
        )

    means = {"along": "Mean place along", "across": "Mean place across", "reading": "Mean reading"}
    return Form(
        key=plane,
        title=feature.title("The least squares plane"),
        note="Only for those who want to follow the reckoning.",
        lines=(
            *(
                Line(
                    column=sizes.result(
                        f"mean_{column}", words, flatness.mean_reading, readings=of(column)
                    )
                )
                for column, words in means.items()
            ),
            *(summed(line) for line in SUMS),
            _slope(plane, "slope_along", "Slope along", turned=False),
            _slope(plane, "slope_across", "Slope across", turned=True),
            Line(
                column=sizes.result(
                    "level",
                    "Level where both places are nought",
                    flatness.plane_level,
                    slope=f"{plane}.slope_along",
                    mean_place=f"{plane}.mean_along",
                    other_slope=f"{plane}.slope_across",
                    other_mean_place=f"{plane}.mean_across",
                )
            ),
        ),
    )


def _slope(plane: str, name: str, words: str, *, turned: bool) -> Line:
    """One of the two slopes; the other has the same sums with their places changed round."""
    one, two = ("other_", "") if turned else ("", "other_")
    inputs = {
        "squares": f"{plane}.{one}squares",
        "other_squares": f"{plane}.{two}squares",
        "products": f"{plane}.{one}products",
        "other_products": f"{plane}.{two}products",
        "cross_products": f"{plane}.cross_products",
    }
    return Line(
        column=Result(
            name=name,
            words=words,
            unit="",
            decimals=7,
            equation=flatness.plane_slope,
            inputs=inputs,
        )
    )


def _peak_to_valley(feature: Feature, name: str, words: str, spec: Grid) -> Table:
    """Highest less lowest about the plane, judged with a guard that no choice of the two points can
    outgrow.
    """
    sizes, key = feature.layout.sizes("flatness"), feature.key(f"{name}_peak")
    above = [f"{feature.key(f'{name}_grid')}.{point}.above_plane" for point, _, _ in _rows(spec)]
    held: dict[str, Any] = {
        "value": f"{key}.{{row}}.flatness",
        "high": f"{key}.{{row}}.most",
        "uncertainty": f"{key}.{{row}}.guard",
    }
    if feature.spoilers():
        held |= {
            part: f"{feature.key(f'{name}_grid')}.{part}" for part in ("taken_after", "spoiled_by")
        }
    judge = verdicts.fresh_at_most if feature.spoilers() else verdicts.verdict_at_most
    twin = (
        feature.finished().key(f"{name}_peak") + ".{row}.verdict"
        if feature.again and not feature.spoilers()
        else ""
    )
    return Table(
        key=key,
        title=feature.title(f"{words}: flatness over the grid"),
        heading="What",
        note=f"Limit: {spec.source}. No narrower zone than this is promised: a straight-edge "
        f"reads something else again.",
        rows=[Row("all", "Highest less lowest point")],
        columns=(
            sizes.result("flatness", "flatness", flatness.flatness, above_plane=above),
            sizes.given("most", NOT_MORE, spec.at_most),
            sizes.result(
                "flatness_uncertainty",
                "± at most",
                flatness.flatness_uncertainty,
                uncertainty="instruments.flatness.uncertainty",
            ),
            sizes.result(
                "guard",
                "guard",
                uncertainties.guard_band,
                guard_factor="rule.guard_factor",
                expanded_uncertainty=f"{key}.{{row}}.flatness_uncertainty",
            ),
            Result(name="verdict", words="verdict", unit=None, equation=judge, inputs=held),
            Check(of="verdict", judged=True, source=spec.source, superseded_by=twin),
        ),
    )
