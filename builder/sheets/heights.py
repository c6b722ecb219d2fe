"""Heights: the block over its corners, the crank axis between deck and bottom face, and what may still come off."""

from __future__ import annotations

from typing import Any

from builder.equations import heights
from builder.equations.temperature import at_reference
from builder.layout import Layout
from builder.quantities import Quantity, read_quantity
from builder.spec import Limit, limit
from builder.table import Form, Given, Line, Reading, Row, Sheet, Table
from builder.units import convert

CORNERS = {
    "front_left": "Front left corner",
    "front_right": "Front right corner",
    "rear_left": "Rear left corner",
    "rear_right": "Rear right corner",
}


def sheet(layout: Layout) -> Sheet:
    """The sheet of the heights."""
    station = _Station(layout)
    parts = (
        station.corners(), station.face("overall", "Overall height"), station.face("deck", "Deck height"), station.axis(),
        station.stack(), station.ledger(), station.plan(), station.warmth(),
    )  # fmt: skip
    return Sheet(name="Heights", title="Heights and the metal left", parts=parts, widths={7: 46})


class _Station:
    def __init__(self, layout: Layout) -> None:
        self.spec = layout.spec.heights
        self.stroke = layout.spec.bores.stroke
        self.sizes = layout.sizes("heights")
        self.unit = layout.unit_of("heights")

    def corners(self) -> Table:
        plate = "Height gauge on the surface plate, block on its bottom face."
        mandrel = "Mandrel in the tunnels, caps torqued: to the mandrel, plus half its diameter."
        return Table(
            key="corners",
            title="Readings at the four corners",
            heading="Corner",
            rows=[Row(key, words) for key, words in CORNERS.items()],
            columns=(
                self.sizes.reading("overall", "overall height", _standard(self.spec.overall), plate),
                self.sizes.reading("deck", "crank axis to deck", _standard(self.spec.deck), mandrel),
            ),
        )

    def face(self, name: str, words: str) -> Form:
        each = {corner: f"corners.{corner}.{name}" for corner in CORNERS}
        tilt, twist = self.spec.tilt, self.spec.twist
        return Form(
            key=name,
            title=f"{words} over the corners",
            lines=(
                self.line("mean_height", f"{words}, mean", heights.mean_height, corners=list(each.values())),
                self.line("lowest_corner", f"{words}, lowest corner", heights.lowest_corner, corners=list(each.values())),
                self.line("tilt_lengthwise", f"{words}, tilt lengthwise", heights.tilt_lengthwise, tilt,
                          "above zero: the rear is higher", **each),
                self.line("tilt_crosswise", f"{words}, tilt crosswise", heights.tilt_crosswise, tilt,
                          "above zero: the left is higher", **each),
                self.line("twist", f"{words}, twist", heights.twist, twist,
                          "a true plane has none; a large one is a misread corner", **each),
            ),
        )  # fmt: skip

    def axis(self) -> Form:
        near, how = _standard(self.spec.bottom), "Bottom face to the mandrel, plus half its diameter."
        ends = ["axis.front", "axis.rear"]
        return Form(
            key="axis",
            title="Crank axis to bottom face",
            note="Overall height must be deck height and bottom height together: a second opinion on all three.",
            lines=(
                Line(column=self.sizes.reading("front", "Axis to bottom face, front", near, how)),
                Line(column=self.sizes.reading("rear", "Axis to bottom face, rear", near, how)),
                self.line("bottom_height", "Axis to bottom face, mean", heights.mean_height, corners=ends),
                self.line("height_closure", "Overall less deck and bottom", heights.height_closure, self.spec.closure,
                          overall_height="overall.mean_height", deck_height="deck.mean_height"),
            ),
        )  # fmt: skip

    def stack(self) -> Form:
        return Form(
            key="stack",
            title="Piston at the top",
            lines=(
                self.given("stroke", "Stroke", self.stroke),
                self.given("rod_length", "Rod, centre to centre", self.spec.rod_length),
                self.given("compression_height", "Piston pin to crown", self.spec.compression_height),
                self.line("piston_stack", "Crank axis to crown", heights.piston_stack),
                self.line("deck_clearance", "Deck clearance", heights.deck_clearance, self.spec.deck_clearance,
                          "above zero: the crown stays below the deck", deck_height="deck.mean_height"),
            ),
        )  # fmt: skip

    def ledger(self) -> Form:
        """Overall and deck height keep separate ledgers: a cut bottom face is no lost deck."""
        lines = [
            self.given("overall_standard", "Standard overall height", _standard(self.spec.overall)),
            self.line("overall_removed", "Taken from overall height so far", heights.metal_removed,
                      standard_height="ledger.overall_standard", height="overall.mean_height"),
            *self._still("overall", "overall height", self.spec.overall_limit),
            self.given("deck_standard", "Standard deck height", _standard(self.spec.deck)),
            self.line("deck_removed", "Taken from deck height so far", heights.metal_removed,
                      standard_height="ledger.deck_standard", height="deck.mean_height"),
            *self._still("deck", "deck height", self.spec.deck_clearance),
        ]  # fmt: skip
        note = "What may still come off is reckoned from the lowest corner."
        return Form(key="ledger", title="Height ledger", lines=lines, note=note)

    def _still(self, name: str, words: str, least: Limit) -> list[Line]:
        """What is left of a height down to its least value; nothing where the spec states none."""
        if least.low is None:
            return []
        nought = limit("nothing may be left to take", low=read_quantity(f"0 {self.unit}"))
        if name == "overall":
            lines = [self.given("overall_least", "Least overall height", least.low, least.source)]
        else:
            lines = [
                self.given("least_clearance", "Least deck clearance", least.low, least.source),
                self.line("deck_least", "Deck height that leaves it", heights.least_deck_height,
                          piston_stack="stack.piston_stack"),
            ]  # fmt: skip
        removable = self.line(f"{name}_removable", f"May still come off {words}", heights.metal_removable, nought,
                              height=f"{name}.lowest_corner", least_height=f"ledger.{name}_least")  # fmt: skip
        return [*lines, removable]

    def plan(self) -> Form:
        spec = self.spec
        return Form(
            key="plan",
            title="Cuts intended, and what they leave",
            note="Type 0 where nothing is to be cut. Without a line bore: crown metal 0, and the tunnel size twice.",
            own_page=True,
            lines=(
                self.intended("deck_cut", "Deck cut intended", 0, 3),
                self.intended("bottom_cut", "Bottom-face cut intended", 0, 3),
                self.intended("crown_metal", "Line bore: metal off the crown in the block", 0, 3),
                self.intended("tunnel_before", "Line bore: tunnel diameter before", 20, 250),
                self.intended("tunnel_after", "Line bore: tunnel diameter after", 20, 250),
                self.line("axis_shift", "Crank axis moves towards the deck", heights.axis_shift),
                self.line("overall_after", "Overall height after, lowest corner", heights.overall_height_after,
                          spec.overall_limit, overall_height="overall.lowest_corner"),
                self.line("mean_after", "Overall height after, mean", heights.overall_height_after,
                          overall_height="overall.mean_height"),
                self.line("deck_after", "Deck height after", heights.deck_height_after, deck_height="deck.mean_height"),
                self.line("bottom_after", "Axis to bottom face after", heights.bottom_height_after,
                          bottom_height="axis.bottom_height"),
                self.line("closure_after", "Overall less deck and bottom, after", heights.height_closure, spec.closure,
                          overall_height="plan.mean_after", deck_height="plan.deck_after",
                          bottom_height="plan.bottom_after"),
                self.line("deck_clearance_after", "Deck clearance after", heights.deck_clearance, spec.deck_clearance,
                          deck_height="plan.deck_after", piston_stack="stack.piston_stack"),
            ),
        )  # fmt: skip

    def warmth(self) -> Form:
        degrees: dict[str, Any] = {"unit": "degC", "decimals": 1}
        block = Reading(name="block", words="Block temperature", wanted=False, possible=(-10.0, 60.0),
                        how="Contact thermometer on the deck.", **degrees)  # fmt: skip
        expansion = Given(name="expansion", words="Expansion of the block", unit="1/degC", decimals=7,
                          value=self.spec.expansion)  # fmt: skip
        reference = Given(name="reference", words="Reference temperature", value=read_quantity("20 degC"), **degrees)
        return Form(
            key="warmth",
            title="Overall height at 20 °C",
            note="Only where block and gauge were not at one temperature; leave the block's temperature blank otherwise.",
            lines=(
                Line(column=block),
                Line(column=expansion, note=self.spec.expansion.source),
                Line(column=reference, note="ISO 1"),
                self.line("overall", "Overall height at 20 °C, mean", at_reference, length="overall.mean_height",
                          temperature="warmth.block"),
            ),
        )  # fmt: skip

    def intended(self, name: str, words: str, low: float, high: float) -> Line:
        """A size that belongs to a cut not made yet, possible from low to high millimetres."""
        span = convert(low, "mm", self.unit), convert(high, "mm", self.unit)
        return Line(column=self.sizes.reading(name, words, how="As intended; 0 if none.", possible=span))

    def given(self, name: str, words: str, value: Quantity | None, note: str = "") -> Line:
        return Line(column=self.sizes.given(name, words, value), note=note)

    def line(self, name: str, words: str, equation: Any, limits: Limit | None = None, note: str = "", **inputs: Any) -> Line:
        column = self.sizes.result(name, words, equation, **inputs)
        return Line(column=column, limits=limits, note=note or (limits.source if limits else ""))


def _standard(band: Limit) -> Quantity | None:
    """The drawing's size, or the lower end where the drawing gives only two ends."""
    return band.nominal or band.low
