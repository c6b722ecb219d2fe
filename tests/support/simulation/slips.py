"""Slips of the hand, each done to one honest workbook: what was changed, and which findings would
name it.

Every slip returns the readings as they then stand and the keys at which it may be told, or None
where this workbook has no room for it (two readings that would be the same after the exchange).
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping

from datumbook.numbers.units import convert
from datumbook.validator.readings.plausibility import swaps
from datumbook.workbook.layout import Layout

Sizes = Mapping[str, float]
Spoiled = tuple[dict[str, float], set[str]]
Slip = Callable[[Layout, Sizes, random.Random], Spoiled | None]
BORES = ("bores.", "finished_bores.")


def _one(readings: Sizes, chance: random.Random, stems: tuple[str, ...]) -> str:
    return chance.choice(sorted(key for key in readings if key.startswith(stems)))


def _sizes(layout: Layout, readings: Sizes) -> tuple[str, ...]:
    return tuple(
        key
        for key in readings
        if layout.places[key].unit in ("mm", "in")
        and readings[key] > 0
        and not key.startswith("instruments.")
    )


def times(ratio: float) -> Slip:
    """One reading times a ratio."""

    def slip(layout: Layout, readings: Sizes, chance: random.Random) -> Spoiled | None:
        key = _one(readings, chance, _sizes(layout, readings))
        return {**readings, key: float(f"{readings[key] * ratio:.10g}")}, {key}

    return slip


def unit(layout: Layout, readings: Sizes, chance: random.Random) -> Spoiled | None:
    """One reading taken in the other system."""
    key = _one(readings, chance, _sizes(layout, readings))
    ratio = 1 / 25.4 if layout.places[key].unit == "mm" else 25.4
    return {**readings, key: round(readings[key] * ratio, 4)}, {key}


def digits(layout: Layout, readings: Sizes, chance: random.Random) -> Spoiled | None:
    """Two digits side by side exchanged, whichever two."""
    key = _one(readings, chance, _sizes(layout, readings))
    others = list(swaps(readings[key], layout.places[key].decimals))
    return ({**readings, key: chance.choice(others)}, {key}) if others else None


def radius(_: Layout, readings: Sizes, chance: random.Random) -> Spoiled | None:
    """A radius for a diameter."""
    key = _one(readings, chance, (*BORES, "bored_to.", "bore_plan."))
    return {**readings, key: round(readings[key] / 2, 4)}, {key}


def deviation(layout: Layout, readings: Sizes, chance: random.Random) -> Spoiled | None:
    """How far off the standard size instead of the size."""
    key = _one(readings, chance, (*BORES, "corners.", "finished_corners."))
    standard = layout.places[key].column.near.to(layout.places[key].unit)  # type: ignore[union-attr]
    off = round(readings[key] - standard, 6)
    return ({**readings, key: off}, {key}) if off else None


def nought(layout: Layout, readings: Sizes, chance: random.Random) -> Spoiled | None:
    """0 for a reading not taken."""
    key = _one(readings, chance, _sizes(layout, readings))
    return {**readings, key: 0.0}, {key}


def turn(layout: Layout, readings: Sizes, chance: random.Random) -> Spoiled | None:
    """A micrometer read one turn of its thimble wrong, a dial one turn."""
    key = _one(readings, chance, (*BORES, "bore.", "corners.", "finished_corners."))
    turns = (0.5, 1.0) if layout.places[key].unit == "mm" else (0.025, 0.1)
    return {
        **readings,
        key: round(readings[key] + chance.choice((-1, 1)) * chance.choice(turns), 6),
    }, {key}


def copied(layout: Layout, readings: Sizes, chance: random.Random) -> Spoiled | None:
    """All readings of one cylinder pasted again under another."""
    table = chance.choice(BORES)
    first, second = chance.sample(list(layout.cylinders()), 2)
    stem = f"{table}{first}."
    pasted = {
        f"{table}{second}.{key.removeprefix(stem)}": value
        for key, value in readings.items()
        if key.startswith(stem)
    }
    both = {key for key in readings if key.startswith((stem, f"{table}{second}."))}
    return {**readings, **pasted}, both


def _columns(layout: Layout, readings: Sizes) -> list[list[str]]:
    found: dict[tuple[str, str], list[str]] = {}
    for place in layout.readings():
        if place.key in readings:
            found.setdefault(
                (place.key.partition(".")[0], place.key.rpartition(".")[2]), []
            ).append(place.key)
    return [keys for keys in found.values() if len(keys) >= 6]


def dragged_down(layout: Layout, readings: Sizes, chance: random.Random) -> Spoiled | None:
    """One value dragged over six or more cells below it: equal readings, which honest work has as
    well.
    """
    keys = chance.choice(_columns(layout, readings))
    keys = keys[: chance.randint(6, len(keys))]
    return {**readings, **dict.fromkeys(keys, readings[keys[0]])}, set(keys)


def filled(layout: Layout, readings: Sizes, chance: random.Random) -> Spoiled | None:
    """A series dragged over six or more cells: each the last step more."""
    keys = chance.choice(_columns(layout, readings))
    keys = keys[: chance.randint(6, len(keys))]
    step = 10.0 ** -layout.places[keys[0]].decimals
    series = {key: round(readings[keys[0]] + number * step, 6) for number, key in enumerate(keys)}
    return {**readings, **series}, set(keys)


def axes(layout: Layout, readings: Sizes, chance: random.Random) -> Spoiled | None:
    """The two axes of one cylinder typed in each other's column."""
    stem = f"bores.{chance.choice(list(layout.cylinders()))}."
    other = {"thrust": "axial", "axial": "thrust"}
    mine = {
        key: readings[f"{key.rpartition('.')[0]}.{other[key.rpartition('.')[2]]}"]
        for key in readings
        if key.startswith(stem)
    }
    return {**readings, **mine}, set(mine)


def ends(layout: Layout, readings: Sizes, chance: random.Random) -> Spoiled | None:
    """The top and the bottom of one cylinder typed in each other's row."""
    stem = f"bores.{chance.choice(list(layout.cylinders()))}."
    depths = [depth.key for depth in layout.spec.bores.depths]
    turned = dict(zip(depths, [depths[-1], *depths[1:-1], depths[0]], strict=True))
    mine = {}
    for key in (key for key in readings if key.startswith(stem)):
        _, _, depth, axis = key.split(".")
        mine[key] = readings[f"{stem}{turned[depth]}.{axis}"]
    return {**readings, **mine}, set(mine)


def gauge_set_wrong(layout: Layout, readings: Sizes, chance: random.Random) -> Spoiled | None:
    """All bore readings as received off by as much: the gauge was set wrong."""
    off = chance.choice((-1, 1)) * convert(chance.uniform(0.03, 0.2), "mm", layout.unit_of("bores"))
    keys = {key for key in readings if key.startswith(("bores.", "bore."))}
    return {**readings, **{key: round(readings[key] + off, 6) for key in keys}}, keys


def after_larger(_: Layout, readings: Sizes, chance: random.Random) -> Spoiled | None:
    """A height as received and as finished typed in each other's place, where the cut made them
    differ.
    """
    key = _one(readings, chance, ("corners.",))
    if f"finished_{key}" not in readings or readings[key] <= readings[f"finished_{key}"]:
        return None
    mine = {key: readings[f"finished_{key}"], f"finished_{key}": readings[key]}
    return {**readings, **mine}, set(mine)


def bores_exchanged(_: Layout, readings: Sizes, chance: random.Random) -> Spoiled | None:
    """The sizes of one cylinder as received and as finished typed in each other's place, where it
    was bored.
    """
    stem = f"bores.{chance.choice('1234')}."
    own = [key for key in readings if key.startswith(stem) and f"finished_{key}" in readings]
    if not own or any(readings[key] >= readings[f"finished_{key}"] for key in own):
        return None
    mine = {key: readings[f"finished_{key}"] for key in own} | {
        f"finished_{key}": readings[key] for key in own
    }
    return {**readings, **mine}, set(mine)


def finer(_: Layout, readings: Sizes, chance: random.Random) -> Spoiled | None:
    """One reading estimated between two steps of a gauge whose step is stated, and typed with a
    digit more.
    """
    groups = [
        group
        for group in ("bores", "lands", "heights")
        if f"instruments.{group}.resolution" in readings
    ]
    group = chance.choice(groups)
    key = _one(
        readings,
        chance,
        {"bores": ("bores.",), "lands": ("lands.",), "heights": ("corners.",)}[group],
    )
    tenth = round(
        readings[key]
        + readings[f"instruments.{group}.resolution"] * chance.choice((0.1, 0.3, 0.7)),
        7,
    )
    return {**readings, key: tenth}, {key}


SLIPS: dict[str, Slip] = {
    "read in the other system": unit,
    "ten times": times(10),
    "a hundred times": times(100),
    "a thousand times": times(1000),
    "a tenth": times(0.1),
    "a hundredth": times(0.01),
    "a thousandth": times(0.001),
    "two digits exchanged": digits,
    "radius for diameter": radius,
    "deviation for size": deviation,
    "0 for a reading not taken": nought,
    "one turn of the gauge": turn,
    "a cylinder pasted over another": copied,
    "one value dragged down": dragged_down,
    "a series dragged down": filled,
    "axes exchanged": axes,
    "top and bottom exchanged": ends,
    "the bore gauge set wrong": gauge_set_wrong,
    "before and after exchanged": after_larger,
    "bores before and after exchanged": bores_exchanged,
    "more digits than the gauge has": finer,
}
