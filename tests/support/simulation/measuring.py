"""Honest measuring of worn blocks, simulated: what a careful person types who makes no slip.

A block is drawn first as it is (history, wear, how it was skimmed), then measured with gauges that
resolve only so much and repeat only so well. The shapes are common practice, no source: wear is
deepest at the top of ring travel and on the thrust side, fades downwards, differs from cylinder to
cylinder; one cylinder may be much worse, sleeved or pulled out of round by its bolts; lips stay as
bored; decks are skimmed a little askew; drilled holes come out alike.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

from datumbook.numbers.units import convert
from datumbook.workbook.layout import Layout

Sizes = dict[str, float]


@dataclass
class Gauge:
    """What a gauge shows of a size: its step, and how far a repeat may fall from the truth, both in
    the cell's unit.
    """

    step: float
    spread: float
    chance: random.Random

    def reads(self, true: float) -> float:
        """One honest reading: rounded to the step, as a person writes it."""
        return round(round(self.chance.gauss(true, self.spread) / self.step) * self.step, 6)


def honest(layout: Layout, chance: random.Random) -> Sizes:
    """Every size of one honest workbook by key, in the unit of its cell."""
    person = Person(layout, chance)
    return {**person.bores(), **person.lands(), **person.heights(), **person.holes()}


class Person:
    """One careful person, one block."""

    def __init__(self, layout: Layout, chance: random.Random) -> None:
        self.layout, self.chance = layout, chance

    def gauge(self, group: str, millimetres: tuple[float, ...], inches: tuple[float, ...]) -> Gauge:
        """A gauge for a group: repeatability from a third of a step to one and a half steps."""
        step = self.chance.choice(millimetres if self.layout.unit_of(group) == "mm" else inches)
        return Gauge(step, step * self.chance.uniform(0.3, 1.5), self.chance)

    def near(self, key: str) -> float:
        """What the spec expects at a key."""
        place = self.layout.places[key]
        return float(
            place.column.near(place.row).to(place.unit)
            if callable(place.column.near)
            else place.column.near.to(place.unit)
        )  # type: ignore[union-attr, arg-type]

    def length(self, group: str, millimetres: float) -> float:
        """A length in the unit of a group."""
        return convert(millimetres, "mm", self.layout.unit_of(group))

    # --- bores ---

    def bores(self) -> Sizes:
        """Bores as received and as finished, the lips, the size decided."""
        chance, gauge = (
            self.chance,
            self.gauge("bores", (0.01, 0.005, 0.002, 0.001), (0.001, 0.0005, 0.0001)),
        )
        spec = self.layout.spec.bores
        standard, oversizes = (
            self.near("bore.1.unworn_lip"),
            [self.length("bores", float(one.exactly("mm"))) for one in spec.oversizes],
        )
        history = standard + (
            chance.choice(oversizes) if oversizes and chance.random() < 0.25 else 0.0
        )
        block_wear = self.length("bores", min(0.45, chance.lognormvariate(-2.8, 0.8)))
        worst = chance.choice(list(self.layout.cylinders())) if chance.random() < 0.15 else 0
        found: Sizes = {}
        for cylinder in self.layout.cylinders():
            bored = history + self.length("bores", chance.uniform(0.0, 0.018))
            if chance.random() < 0.01:
                bored = standard + (
                    chance.choice(oversizes) if oversizes else 0.0
                )  # this one alone was sleeved or bored
            worse = chance.uniform(1.5, 3.0) if cylinder == worst else 1.0
            wear = min(block_wear * chance.uniform(0.5, 1.5) * worse, self.length("bores", 0.8))
            found |= self.cylinder(cylinder, bored, wear, gauge)
            found[f"bore.{cylinder}.unworn_lip"] = gauge.reads(bored)
        decided = round(history + (chance.choice(oversizes) if oversizes else 0.0), 6)
        found |= {"instruments.bores.resolution": gauge.step}
        return found | self.decided(decided) | self.finished(decided, gauge)

    def decided(self, size: float) -> Sizes:
        """The size decided, where this engine's plan or finished sheet asks for it."""
        keys = [
            "bored_to.size",
            *(f"bore_plan.{cylinder}.typed_bore" for cylinder in self.layout.cylinders()),
        ]
        return {key: size for key in keys if key in self.layout.places}

    def cylinder(self, cylinder: int, bored: float, wear: float, gauge: Gauge) -> Sizes:
        """One worn cylinder: wear fades downwards, more across the crank, ellipse of the bolts
        anywhere.
        """
        chance, depths = self.chance, [depth.key for depth in self.layout.spec.bores.depths]
        fade, across = chance.uniform(0.15, 0.6), chance.uniform(0.4, 1.1)
        ellipse = self.length("bores", abs(chance.gauss(0, 0.006)) * chance.choice((-1, 1, 1)))
        bell = (
            wear * chance.uniform(0, 0.5) if chance.random() < 0.1 else 0.0
        )  # worn wide at the bottom by the skirt
        found: Sizes = {}
        for number, depth in enumerate(depths):
            worn = wear * fade**number + (bell if number == len(depths) - 1 else 0.0)
            scuff = (
                self.length("bores", chance.uniform(0.02, 0.12)) if chance.random() < 0.005 else 0.0
            )
            form = [self.length("bores", chance.gauss(0, 0.003)) for _ in range(2)]
            found[f"bores.{cylinder}.{depth}.thrust"] = gauge.reads(
                bored + worn + ellipse / 2 + scuff + form[0]
            )
            found[f"bores.{cylinder}.{depth}.axial"] = gauge.reads(
                bored + worn * across * 0.6 - ellipse / 2 + form[1]
            )
        return found

    def finished(self, decided: float, gauge: Gauge) -> Sizes:
        """Bores freshly bored and honed: true to some microns, and read with the same gauge."""
        chance, found = self.chance, {}
        if self.layout.spec.finished is None:
            return {}
        for cylinder in self.layout.cylinders():
            size, taper = (
                decided + self.length("bores", chance.uniform(0, 0.015)),
                self.length("bores", chance.gauss(0, 0.002)),
            )
            for number, depth in enumerate(self.layout.spec.bores.depths):
                for axis in ("thrust", "axial"):
                    form = self.length("bores", chance.gauss(0, 0.0015))
                    found[f"finished_bores.{cylinder}.{depth.key}.{axis}"] = gauge.reads(
                        size + taper * (1 - number) + form
                    )
        return found

    # --- lands and heights ---

    def lands(self) -> Sizes:
        """Lands between bores whose centres have wandered, and the length of the deck."""
        gauge = self.gauge("lands", (0.01, 0.02, 0.05), (0.001, 0.0005))
        keys = [
            key for key in self.layout.places if key.startswith("lands.") and key.endswith(".width")
        ]
        found = {}
        for key in keys:
            found[key] = gauge.reads(
                self.near(key) + self.length("lands", self.chance.gauss(-0.15, 0.12))
            )
        length = self.near("row.deck_length") + self.length("lands", self.chance.gauss(0, 0.05))
        return found | {
            "row.deck_length": gauge.reads(length),
            "instruments.lands.resolution": gauge.step,
        }

    def heights(self) -> Sizes:
        """The four corners, the axis and what the cuts leave of them."""
        chance, gauge = (
            self.chance,
            self.gauge("heights", (0.01, 0.005, 0.002), (0.0005, 0.001, 0.0001)),
        )
        skim = abs(chance.gauss(0, self.length("heights", 0.25))) * (chance.random() < 0.5)
        bottom = self.near("axis.front") + chance.gauss(0, self.length("heights", 0.02))
        deck = (
            self.near("corners.front_left.deck")
            - skim
            + chance.gauss(0, self.length("heights", 0.02))
        )
        tilt = [chance.gauss(0, self.length("heights", 0.02)) for _ in range(3)]
        cut = self.length("heights", chance.choice((0.0, 0.1, 0.2, 0.3)))
        found, lowest = {}, deck - sum(map(abs, tilt))
        for prefix, faced in (("", False), ("finished_", True)):
            for corner, (along, over) in {
                "front_left": (-1, 1),
                "front_right": (-1, -1),
                "rear_left": (1, 1),
                "rear_right": (1, -1),
            }.items():
                high = (
                    lowest - cut + chance.gauss(0, 0.1 * abs(tilt[0]))
                    if faced and cut
                    else deck + tilt[0] * along + tilt[1] * over + tilt[2] * along * over
                )
                found[f"{prefix}corners.{corner}.deck"] = gauge.reads(high)
                found[f"{prefix}corners.{corner}.overall"] = gauge.reads(high + bottom)
            found |= {
                f"{prefix}axis.{end}": gauge.reads(
                    bottom + chance.gauss(0, self.length("heights", 0.01))
                )
                for end in ("front", "rear")
            }
        found["instruments.heights.resolution"] = gauge.step
        return {key: value for key, value in found.items() if key in self.layout.places}

    def holes(self) -> Sizes:
        """Depths of holes cut with a stop: alike to a few hundredths, read with a depth gauge or a
        plug.
        """
        chance, found = self.chance, {}
        for table in sorted(
            {key.partition(".")[0] for key in self.layout.places if key.startswith("holes_")}
        ):
            for column in ("thread", "counterbore"):
                keys = [
                    key
                    for key in self.layout.places
                    if key.startswith(f"{table}.")
                    and key.endswith(f".{column}")
                    and self.layout.places[key].role == "reading"
                ]
                if keys:
                    inch = self.layout.places[keys[0]].unit == "in"
                    scale, step = (
                        (1 / 25.4, chance.choice((0.001, 0.005, 1 / 64)))
                        if inch
                        else (1.0, chance.choice((0.01, 0.02, 0.1)))
                    )
                    gauge, stop = (
                        Gauge(step, step * chance.uniform(0.2, 1.0), chance),
                        chance.uniform(0.0, 0.8 if column == "thread" else 0.2),
                    )
                    run_out = chance.choice((0.02, 0.1, 0.3)) * (1 if column == "thread" else 0.3)
                    found |= {
                        key: gauge.reads(self.near(key) + scale * (stop + chance.gauss(0, run_out)))
                        for key in keys
                    }
        return found
