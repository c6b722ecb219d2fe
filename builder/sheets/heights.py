"""Heights: the block over its corners, the crank axis between deck and bottom face, and what may still come off."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from builder.equations import heights
from builder.equations.temperature import at_reference
from builder.quantities import read_quantity
from builder.spec import Limit
from builder.table import Form, Given, Line, Reading, Result, Row, Sheet, Table
from builder.units import convert

if TYPE_CHECKING:
    from builder.layout import Layout

CORNERS = {
    "front_left": "Front left corner",
    "front_right": "Front right corner",
    "rear_left": "Rear left corner",
    "rear_right": "Rear right corner",
}


def sheet(layout: Layout) -> Sheet:
    """The sheet of the heights."""
    station = _Heights(layout)
    parts = (station.corners(), station.face("overall", "Overall height, bottom face to deck"),
             station.face("deck", "Deck height, crank axis to deck"), station.axis(), station.stack(), station.ledger(),
             station.plan(), station.warmth())  # fmt: skip
    return Sheet(name="Heights", title="Heights and the metal left", parts=parts)


class _Heights:
    def __init__(self, layout: Layout) -> None:
        self.spec = layout.spec.heights
        self.stroke = layout.spec.bores.stroke
        self.unit, self.decimals = layout.unit_of("heights"), layout.decimals_of("heights")

    def corners(self) -> Table:
        columns = [
            self.reading("overall", "overall height", self.spec.overall.nominal or self.spec.overall.low,
                         "Height gauge on the surface plate, block on its bottom face."),
            self.reading("deck", "crank axis to deck", self.spec.deck.nominal or self.spec.deck.low,
                         "Mandrel in the tunnels, caps torqued: to the mandrel, plus half its diameter."),
        ]  # fmt: skip
        rows = [Row(key, words) for key, words in CORNERS.items()]
        return Table(key="corners", title="Readings at the four corners", heading="Corner", rows=rows, columns=columns)

    def face(self, name: str, title: str) -> Form:
        spread = {corner: f"corners.{corner}.{name}" for corner in CORNERS}
        group = {"corners": list(spread.values())}
        word = {"overall": "Overall height", "deck": "Deck height"}[name]
        return Form(
            key=name,
            title=title,
            lines=(
                Line(column=self.result("mean_height", f"{word}, mean", heights.mean_height, **group)),
                Line(column=self.result("lowest_corner", f"{word}, lowest corner", heights.lowest_corner, **group)),
                self.checked("tilt_lengthwise", f"{word} tilt, lengthwise", heights.tilt_lengthwise, self.spec.tilt,
                             "above zero: the rear is higher", **spread),
                self.checked("tilt_crosswise", f"{word} tilt, crosswise", heights.tilt_crosswise, self.spec.tilt,
                             "above zero: the left is higher", **spread),
                self.checked("twist", f"{word} twist", heights.twist, self.spec.twist,
                             "a true plane has none: a large one is a misread corner", **spread),
            ),
        )  # fmt: skip

    def axis(self) -> Form:
        near = self.spec.bottom.nominal or self.spec.bottom.low
        how = "Bottom face to the mandrel, plus half its diameter."
        return Form(
            key="axis",
            title="Crank axis to bottom face",
            note="Overall height must be deck height and bottom height together: a second opinion on all three.",
            lines=(
                Line(column=self.reading("front", "Axis to bottom face, front", near, how)),
                Line(column=self.reading("rear", "Axis to bottom face, rear", near, how)),
                Line(column=self.result("bottom_height", "Axis to bottom face, mean", heights.mean_height, corners=["axis.front", "axis.rear"])),
                self.checked("height_closure", "Overall less deck and bottom", heights.height_closure, self.spec.closure,
                             self.spec.closure.source, overall_height="overall.mean_height",
                             deck_height="deck.mean_height"),
            ),
        )  # fmt: skip

    def stack(self) -> Form:
        return Form(
            key="stack",
            title="Piston at the top",
            lines=(
                Line(column=self.given("stroke", "Stroke", self.stroke)),
                Line(column=self.given("rod_length", "Rod, centre to centre", self.spec.rod_length)),
                Line(column=self.given("compression_height", "Piston pin to crown", self.spec.compression_height)),
                Line(column=self.result("piston_stack", "Crank axis to crown", heights.piston_stack)),
                self.checked("deck_clearance", "Deck clearance", heights.deck_clearance, self.spec.deck_clearance,
                             "above zero: the crown stays below the deck", deck_height="deck.mean_height"),
            ),
        )  # fmt: skip

    def ledger(self) -> Form:
        """Overall and deck height keep separate ledgers: a cut bottom face is no lost deck."""
        overall, deck, clearance = self.spec.overall, self.spec.deck, self.spec.deck_clearance
        lines = [
            Line(column=self.given("overall_standard", "Standard overall height", overall.nominal or overall.low)),
            Line(column=self.result("overall_removed", "Taken from overall height so far", heights.metal_removed,
                                    standard_height="ledger.overall_standard", height="overall.mean_height")),
            Line(column=self.given("overall_least", "Least overall height", self.spec.overall_limit.low)),
            self.checked("overall_removable", "May still come off overall height", heights.metal_removable, self.nought(),
                         self.spec.overall_limit.source, height="overall.lowest_corner",
                         least_height="ledger.overall_least"),
            Line(column=self.given("deck_standard", "Standard deck height", deck.nominal or deck.low)),
            Line(column=self.result("deck_removed", "Taken from deck height so far", heights.metal_removed,
                                    standard_height="ledger.deck_standard", height="deck.mean_height")),
        ]  # fmt: skip
        if clearance.low is not None:
            lines += [
                Line(column=self.given("least_clearance", "Least deck clearance", clearance.low), note=clearance.source),
                Line(column=self.result("deck_least", "Deck height that leaves it", heights.least_deck_height,
                                        piston_stack="stack.piston_stack")),
                self.checked("deck_removable", "May still come off deck height", heights.metal_removable, self.nought(),
                             clearance.source, height="deck.lowest_corner", least_height="ledger.deck_least"),
            ]  # fmt: skip
        note = "What may still come off is reckoned from the lowest corner."
        return Form(key="ledger", title="Height ledger", lines=tuple(lines), note=note)

    def plan(self) -> Form:
        spec = self.spec
        cut, tunnel = self.between(0, 3), self.between(20, 250)
        return Form(
            key="plan",
            title="Cuts intended, and what they leave",
            note="Type 0 where nothing is to be cut. Without a line bore: crown metal 0, and the tunnel size twice.",
            lines=(
                Line(column=self.reading("deck_cut", "Deck cut intended", None, "0 if none.", cut)),
                Line(column=self.reading("bottom_cut", "Bottom-face cut intended", None, "0 if none.", cut)),
                Line(column=self.reading("crown_metal", "Line bore: metal from the crown in the block", None,
                                         "Radial, in the block's half of the tunnel.", cut)),
                Line(column=self.reading("tunnel_before", "Line bore: tunnel diameter before", None, "Caps on.", tunnel)),
                Line(column=self.reading("tunnel_after", "Line bore: tunnel diameter after", None, "Caps on.", tunnel)),
                Line(column=self.result("axis_shift", "Crank axis moves towards the deck", heights.axis_shift)),
                self.checked("overall_after", "Overall height after", heights.overall_height_after, spec.overall_limit,
                             spec.overall_limit.source, overall_height="overall.lowest_corner"),
                Line(column=self.result("deck_after", "Deck height after", heights.deck_height_after,
                                        deck_height="deck.mean_height")),
                Line(column=self.result("bottom_after", "Bottom height after", heights.bottom_height_after,
                                        bottom_height="axis.bottom_height")),
                self.checked("closure_after", "Overall less deck and bottom, after", heights.height_closure, spec.closure,
                             spec.closure.source, overall_height="plan.mean_after", deck_height="plan.deck_after",
                             bottom_height="plan.bottom_after"),
                Line(column=self.result("mean_after", "Mean overall height after", heights.overall_height_after,
                                        overall_height="overall.mean_height")),
                self.checked("deck_clearance_after", "Deck clearance after", heights.deck_clearance, spec.deck_clearance,
                             spec.deck_clearance.source, deck_height="plan.deck_after",
                             piston_stack="stack.piston_stack"),
            ),
        )  # fmt: skip

    def warmth(self) -> Form:
        expansion, reference = self.spec.expansion, read_quantity("20 degC")
        return Form(
            key="warmth",
            title="Overall height at 20 °C",
            note="Only where block and gauge were not at one temperature; leave the block's temperature blank otherwise.",
            lines=(
                Line(column=Reading(name="block", words="Block temperature", unit="degC", decimals=1, wanted=False,
                                    possible=(-10.0, 60.0), how="Contact thermometer on the deck.")),
                Line(column=Given(name="expansion", words="Expansion of the block", unit="1/degC", decimals=7,
                                  value=expansion), note=expansion.source),
                Line(column=Given(name="reference", words="Reference temperature", unit="degC", decimals=1,
                                  value=reference), note="ISO 1"),
                Line(column=self.result("overall", "Mean overall height at 20 °C", at_reference,
                                        length="overall.mean_height", temperature="warmth.block")),
            ),
        )  # fmt: skip

    def nought(self) -> Limit:
        return Limit(at_least=f"0 {self.unit}", source="nothing may be left to take")

    def between(self, low: float, high: float) -> tuple[float, float]:
        """A range given in millimetres, in the sheet's unit."""
        return convert(low, "mm", self.unit), convert(high, "mm", self.unit)

    def reading(self, name: str, words: str, near: Any, how: str, possible: Any = None) -> Reading:
        return Reading(name=name, words=words, unit=self.unit, decimals=self.decimals, group="heights", near=near,
                       possible=possible, how=how)  # fmt: skip

    def result(self, name: str, words: str, equation: Any, **inputs: Any) -> Result:
        return Result(name=name, words=words, unit=self.unit, decimals=self.decimals, equation=equation, inputs=inputs)

    def given(self, name: str, words: str, value: Any) -> Given:
        return Given(name=name, words=words, unit=self.unit, decimals=self.decimals, value=value)

    def checked(self, name: str, words: str, equation: Any, limits: Limit, note: str, **inputs: Any) -> Line:
        return Line(column=self.result(name, words, equation, **inputs), limits=limits, note=note)
