"""A whole job as an honest shop does it: a worn block is measured, the book's own suggestions are
decided on, the block is cut as the plan says, and what is then there is measured again.

The truth of the block stands apart from what its gauges read: bores and their wear as in
measuring.py, faces as planes of a little tilt; a face cut parallel to the crank line is one plane
over it. The shapes are common practice, no source.
"""

from __future__ import annotations

import random
from fractions import Fraction

from clean_readings import SIGNED, expected
from datumbook.numbers.units import convert
from datumbook.workbook.evaluation import reckon
from datumbook.workbook.layout import Layout
from readings_made import in_turn
from simulation.measuring import Person

Typed = dict[str, float | str]
CORNERS = {
    "front_left": (-1, 1),
    "front_right": (-1, -1),
    "rear_left": (1, 1),
    "rear_right": (1, -1),
}
DRILL = {"opened.front_cover.typed_drill": "F", "opened.front_cover.decided_by": "A. N."}


class GoodJob(Person):
    """One careful person, one block that can be saved, one job from receipt to release."""

    def __init__(self, layout: Layout, seed: int) -> None:
        super().__init__(layout, random.Random(seed))
        self.typed: Typed = {place.key: expected(place) for place in layout.wanted()}

    def has(self, key: str) -> bool:
        return key in self.layout.places

    def put(self, found: dict[str, float | str]) -> None:
        """Type what the book has a cell for."""
        self.typed |= {key: value for key, value in found.items() if self.has(key)}

    def done(self) -> Typed:
        """Every reading of the job."""
        if self.has("bore.1.unworn_lip"):
            self.worn_bores()
        decks = self.faces_as_received()
        self.put({"line_bore.line_bored": "no"})
        self.decide()
        if self.layout.scope.cuts:
            self.cut(decks)
            self.put({**DRILL, **SIGNED, "decision.decision": "released"})
        self.typed |= in_turn(self.layout)
        return self.typed

    def worn_bores(self) -> None:
        """Every cylinder worn: beyond the limits here and there where the job bores, within them
        where it only measures.
        """
        worst = 0.09 if self.layout.scope.cuts else 0.025
        gauge = self.gauge("bores", (0.001,), (0.0001,))
        standard = float(self.layout.spec.bores.standard.low.to(self.layout.unit_of("bores")))
        for number in self.layout.cylinders():
            bored = standard + self.length("bores", self.chance.uniform(0.0, 0.01))
            wear = self.length("bores", self.chance.uniform(0.02, worst))
            self.put({**self.cylinder(number, bored, wear, gauge)})
            self.put({f"bore.{number}.unworn_lip": gauge.reads(bored)})
        self.lands_between()

    def lands_between(self) -> None:
        """Walls and lands as the worn bores leave them: narrower by what the bores have grown."""
        standard, top = self.near("bores.1.top.axial"), self.layout.spec.bores.depths[0].key
        lands, bores = self.layout.unit_of("lands"), self.layout.unit_of("bores")
        grown = {
            str(number): convert(
                float(self.typed[f"bores.{number}.{top}.axial"]) - standard, bores, lands
            )
            for number in self.layout.cylinders()
        }
        for place in self.layout.readings():
            if place.key.startswith("lands.") and place.key.endswith(".width"):
                beside = [grown[one] for one in place.row.split("_") if one in grown]
                ends = {"front_end": "1", "rear_end": str(self.layout.spec.engine.cylinders)}
                beside += [grown[ends[place.row]]] if place.row in ends else []
                self.put({place.key: round(self.near(place.key) - sum(beside) / 2, 2)})

    def faces_as_received(self) -> dict[str, float]:
        """Deck and bottom face as they came: the deck over the crank line at each corner, the
        bottom below it at both ends, hollow by a hair.
        """
        gauge = self.gauge("heights", (0.002,), (0.0001,))
        near = {name: self.near(key) for name, key in self._heights().items()}
        if not near:
            return {}
        tilt = [self.length("heights", self.chance.uniform(-0.01, 0.01)) for _ in range(2)]
        deck = {
            corner: near["deck"] + tilt[0] * along + tilt[1] * over
            for corner, (along, over) in CORNERS.items()
        }
        for corner, height in deck.items():
            self.put({f"corners.{corner}.deck": gauge.reads(height)})
            if "axis" in near:
                self.put({f"corners.{corner}.overall": gauge.reads(height + near["axis"])})
        self.put(
            {
                f"axis.{end}": gauge.reads(near["axis"])
                for end in ("front", "rear")
                if "axis" in near
            }
        )
        self.gaps("", 0.02)
        return deck

    def _heights(self) -> dict[str, str]:
        known = {"deck": "corners.front_left.deck", "axis": "axis.front"}
        return {name: key for name, key in known.items() if self.has(key)}

    def gaps(self, state: str, most: float) -> None:
        """What a feeler finds under a straight-edge, in millimetres at most."""
        for place in self.layout.readings():
            table, _, column = place.key.partition(".")
            if table in (f"{state}deck_flatness", f"{state}bottom_flatness") and "gap" in column:
                self.put(
                    {place.key: round(self.length("flatness", self.chance.uniform(0, most)), 4)}
                )

    def decide(self) -> None:
        """The faces cut parallel to the crank line, by what the plan says cleans them."""
        faces = ("deck_cut", "bottom_cut")
        asked = [face for face in faces if self.has(f"{face}.parallel_to")]
        asked = [one for one in asked if self.layout.places[f"{one}.parallel_to"].role == "reading"]
        if not self.layout.scope.cuts:
            return
        self.put({f"{face}.parallel_to": "crank line" for face in asked})
        for face in reversed(asked):  # the bottom face is cut first
            values = reckon(self.layout, self.typed)
            surely = values[f"{face}.suggested"]
            assert isinstance(surely, float)
            step = Fraction(1, 10 ** self.layout.places[f"{face}.cut"].decimals)
            self.put({f"{face}.cut": float((Fraction(surely) // step + 1) * step)})

    def cut(self, deck: dict[str, float]) -> None:
        """The work done as planned, and what is measured then."""
        values, gauge = reckon(self.layout, self.typed), self.gauge("bores", (0.001,), (0.0001,))
        for number in self.layout.cylinders():
            size = values.get(f"bore_plan.{number}.finish_bore")
            if self.has(f"pistons.{number}.piston") and isinstance(size, float):
                over = size - self.near("bores.1.top.axial")
                key = f"pistons.{number}.piston"
                self.put({key: round(self.near(key) + over, 3)})
            for depth in self.layout.spec.bores.depths if isinstance(size, float) else ():
                for axis in ("thrust", "axial"):
                    true = size + self.length("bores", self.chance.uniform(0.004, 0.009))
                    self.put({f"finished_bores.{number}.{depth.key}.{axis}": gauge.reads(true)})
        if deck and self.has("finished_corners.front_left.deck"):
            self._faced(deck)
        self.gaps("finished_", 0.01)

    def _faced(self, deck: dict[str, float]) -> None:
        gauge = self.gauge("heights", (0.002,), (0.0001,))
        off = {face: float(self.typed.get(f"{face}_cut.cut") or 0.0) for face in ("deck", "bottom")}
        axis = self.near("axis.front") - off["bottom"] if self.has("axis.front") else None
        lowest = min(deck.values()) - off["deck"]
        for corner in CORNERS:
            self.put({f"finished_corners.{corner}.deck": gauge.reads(lowest)})
            if axis is not None:
                self.put({f"finished_corners.{corner}.overall": gauge.reads(lowest + axis)})
        if axis is not None:
            self.put({f"finished_axis.{end}": gauge.reads(axis) for end in ("front", "rear")})
