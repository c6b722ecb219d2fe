"""Readings for a whole layout, made by rule: near what is expected, a little different from cell to
cell.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from datumbook.cells.columns import Reading, per, possible
from datumbook.numbers.quantities import Quantity
from datumbook.stations.received.route import operations_of, step_words
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place

UNCERTAINTY = {"mm": 0.003, "in": 0.0002, "um": 0.01}
WORDS = {
    "decision.decision": "released",
    "decision.measured_by": "A. N.",
    "decision.released_by": "B. M.",
    "decision.released_on": "2026-05-31",
}


def plausible(layout: Layout) -> dict[str, object]:
    """Every wanted reading near the size it should have, the instruments stated, the release
    signed.
    """
    found: dict[str, object] = {
        place.key: _reading(number, place) for number, place in enumerate(layout.wanted())
    }
    for place in layout.readings():
        if place.key.startswith("instruments.") and place.key.endswith(".uncertainty"):
            found[place.key] = UNCERTAINTY[place.unit or ""]
    return found | in_turn(layout) | WORDS | dict(_about_instruments(layout))


def in_turn(layout: Layout) -> dict[str, float | str]:
    """Every operation done in the usual order, every series measured after the last of them."""
    known = operations_of(layout.spec)
    done = {f"route.{key}.done": float(number) for number, key in enumerate(known, 1)}
    return done | measured_after(layout, list(known)[-1])


def measured_after(layout: Layout, operation: str) -> dict[str, float | str]:
    """Every series measured after one operation."""
    series = (key for key in layout.places if re.fullmatch(r"measured_\w+\.step", key))
    return dict.fromkeys(series, step_words(operation))


def _about_instruments(layout: Layout) -> Iterator[tuple[str, object]]:
    """Every gauge back at its zero, block and gauge nearly of one warmth, every second reading as
    the first.
    """
    stated = {"part": 21.5, "gauge": 21.4, "zero_before": 0.0, "zero_after": 0.0}
    for place in layout.readings():
        column = place.column
        if (
            place.key.startswith("instruments.")
            and isinstance(column, Reading)
            and column.name in stated
        ):
            yield place.key, stated[column.name]
        elif place.key.startswith("instruments.") and place.key.endswith(".resolution"):
            yield place.key, 10.0**-place.decimals


def _reading(number: int, place: Place) -> object:
    assert isinstance(place.column, Reading)
    choices, near = per(place.column.choices, place.row), per(place.column.near, place.row)
    if choices:
        return choices[0]
    step = 10.0**-place.decimals
    low, _ = possible(place.column, place.row) or (0.0, 0.0)
    size = near.to(place.unit or "") if isinstance(near, Quantity) else low + 10 * step
    off = 0 if place.column.whole else number * 7 % 11 - 4  # a count is what it should be
    return round(size + step * off, 9)


def faulty(layout: Layout) -> dict[str, object]:
    """The same with what goes wrong: words for numbers, blanks, capitals, sizes exactly on limits,
    concessions.
    """
    found = plausible(layout)
    for number, place in enumerate(layout.wanted()):
        if number % 17 == 3:
            del found[place.key]
        elif number % 17 == 8:
            found[place.key] = "DONE" if place.unit is None else "82,01"
    for number, check in enumerate(layout.checks):
        stem = f"release.{check.key}"
        if number % 3 == 0:
            found |= {
                f"{stem}.reason": "owner accepts",
                f"{stem}.conceded_by": "A. N.",
                f"{stem}.conceded_on": "2026-05-04",
            }
        if number % 6 == 0 and check.says is None:
            found[f"{stem}.conceded_value"] = 0.041
            found[f"{stem}.conceded_by"] = 17.0
    ticks = [place.key for place in layout.wanted() if place.unit is None]
    return (
        found
        | dict(zip(ticks, ("done ", " done", "not done", "  "), strict=False))
        | _on_limits(layout)
    )


def _on_limits(layout: Layout) -> dict[str, object]:
    """Cylinder 1 exactly as far out of round as is allowed, at every depth but the last; no
    uncertainty stated.
    """
    limit = layout.place("bores.out_of_round.to").value
    assert isinstance(limit, float)
    found: dict[str, object] = {"instruments.bores.uncertainty": None}
    for depth in layout.spec.bores.depths[:-1]:
        found |= {
            f"bores.1.{depth.key}.thrust": round(82.007 + limit, 9),
            f"bores.1.{depth.key}.axial": 82.007,
        }
    return found


def spoiled(layout: Layout) -> dict[str, object]:
    """A worn block of which not much more than half is read: many sizes beyond their limits, some
    typed with a comma, one turned into a day, the cuts decided on, a few concessions written.
    """
    found = plausible(layout)
    for number, place in enumerate(layout.wanted()):
        typed = found[place.key]
        if number % 23 == 2 or (place.stage == "finished" and number % 3):
            del found[place.key]
        elif number % 37 == 8 and place.unit is not None:
            found[place.key] = "82,01"
        elif number % 2 and isinstance(typed, float):
            found[place.key] = round(typed + 9 * 10.0**-place.decimals, 9)
    conceded = [check for check in layout.checks if check.says is None][::40]
    for check in conceded:
        stem = f"release.{check.key}"
        found |= {f"{stem}.reason": "owner accepts", f"{stem}.conceded_by": "A. N."}
    lips = [key for key in found if key.endswith(".unworn_lip")]
    return found | dict.fromkeys(lips[:1], 46150.0)
