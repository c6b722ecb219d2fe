"""Forecasts: of each cut of the job, whether the plan can tell what it leaves."""

from __future__ import annotations

from collections.abc import Callable

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column, Result
from datumbook.cells.handles import Key
from datumbook.cells.tables import Row, Table
from datumbook.equations import station_lines
from datumbook.standards.order import operations
from datumbook.standards.works import stations

WORKED_OUT = ("line_bore", "bottom_face", "deck", "bore")  # the cuts that the plan forecasts


class Forecasts(Table):
    """The cuts of the job that rest on stations which may be left as they are."""

    forecast: Column


def forecasts(basis: Basis, left_of: Callable[[str], Key | None]) -> list[Table]:
    """A line a cut; none where the job makes no cut that is worked out. `left_of` gives the cell
    that says whether a station is left as it is, once the first sheet stands.
    """
    known, cuts = operations(), [one for one in WORKED_OUT if basis.does(one)]

    def rests_on(cut: str) -> list[Key]:
        needed = (station for station in known[cut].needs if station in stations())
        return [cell for station in needed if (cell := left_of(station)) is not None]

    if not cuts:
        return []
    return [
        Forecasts(
            key="forecasts",
            title="What the forecasts rest on",
            heading="Cut",
            rows=[Row(key, known[key].words.split(",")[0]) for key in cuts],
            columns=(
                Result(
                    name="forecast",
                    words="forecast",
                    equation=station_lines.without_forecast,
                    inputs={"left": rests_on},
                    runs_on=True,
                ),
            ),
        )
    ]
