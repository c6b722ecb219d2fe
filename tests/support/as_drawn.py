"""A block on which everything is as drawn, signed and conceded: what still holds its release?"""

from __future__ import annotations

from as_asked import values_of
from clean_readings import clean_readings
from datumbook.cells.columns import Reading
from datumbook.workbook.layout import Layout
from readings_made import in_turn


def as_drawn(layout: Layout) -> dict[str, object]:
    """Every reading at its nominal, every operation done, everything signed, every check conceded
    for the value it has.
    """
    typed = {**clean_readings(layout)}
    typed = {key: value for key, value in typed.items() if key in layout.places} | in_turn(layout)
    values = values_of(layout, typed)
    every = layout.stations.release.checks
    for check in layout.checks:
        typed[every.reason[check.key]] = "the owner accepts"
        typed[every.conceded_by[check.key]] = "A. N."
        typed[every.conceded_on[check.key]] = "2026-05-11"
        if check.measured and isinstance(value := values[check.key], float):
            typed[every.conceded_value[check.key]] = value
    return {**typed}


def held(layout: Layout) -> list[str]:
    """What holds the release of a block on which everything is as drawn and conceded."""
    typed = as_drawn(layout)
    assert all(isinstance(layout.places[key].column, Reading) for key in typed)
    values, every = values_of(layout, typed), layout.stations.release.checks
    assert values[layout.stations.release.decision.release_state.key] == (
        "ON HOLD"
        if any(values[every.standing[one.key]] == "holds" for one in layout.checks)
        else "RELEASABLE"
    )
    return [one.key for one in layout.checks if values[every.standing[one.key]] == "holds"]
