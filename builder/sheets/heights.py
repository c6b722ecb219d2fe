"""Heights: the block over its corners, the crank axis between deck and bottom face, and what may still come off."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from builder.equations import heights
from builder.equations.temperature import at_reference
from builder.layout import Layout
from builder.quantities import Quantity, read_quantity
from builder.sheets.states import RECEIVED, State
from builder.spec import Limit, limit
from builder.table import Form, Given, Line, Reading, Row, Sheet, Table
from builder.units import convert

CUT, TUNNEL = (0.0, 3.0), (20.0, 250.0)  # what a cut and a main tunnel can be at all, in millimetres
CORNERS = {
    "front_left": "Front left corner",
    "front_right": "Front right corner",
    "rear_left": "Rear left corner",
    "rear_right": "Rear right corner",
}


def sheet(layout: Layout) -> Sheet:
    """The sheet of the heights as received."""
    station = Station(layout, RECEIVED)
    parts = (*station.measured(), station.ledger(), station.warmth())
    return Sheet(name="Heights", title="Heights and the metal left", parts=parts, widths={7: 46})


class Station:
    """The heights of a block in one state."""

    def __init__(self, layout: Layout, state: State) -> None:
        self.layout, self.state = layout, state
        self.spec = layout.spec.heights
        self.limits = state.limits(layout.spec, "heights")
        self.stroke = layout.spec.bores.stroke
        self.sizes = layout.sizes("heights")
        self.unit = layout.unit_of("heights")

    def measured(self) -> tuple[Table | Form, ...]:
        """What is measured in every state."""
        return (self.corners(), self.face("overall", "Overall height"), self.face("deck", "Deck height"), self.axis(),
                self.stack())  # fmt: skip

    def key(self, name: str) -> str:
        """A table's or cell's key in this state."""
        return self.state.key(name)

    def corners(self) -> Table:
        """The readings at the corners."""
        plate = "Height gauge on the surface plate, block on its bottom face."
        mandrel = "Mandrel in the tunnels, caps torqued: to the mandrel, plus half its diameter."
        return Table(
            key=self.key("corners"),
            title=self.state.title("Readings at the four corners"),
            heading="Corner",
            spoilers=self.state.spoilers(self.layout.spec, "heights"),
            rows=[Row(key, words) for key, words in CORNERS.items()],
            columns=(
                self.sizes.reading("overall", "overall height", _standard(self.spec.overall), plate),
                self.sizes.reading("deck", "crank axis to deck", _standard(self.spec.deck), mandrel),
            ),
        )

    def face(self, name: str, words: str) -> Form:
        """What follows from one height over the four corners."""
        each = {corner: f"{self.key('corners')}.{corner}.{name}" for corner in CORNERS}
        tilt, twist = self.limits.tilt, self.limits.twist
        return self.form(
            name,
            f"{words} over the corners",
            self.line("mean_height", f"{words}, mean", heights.mean_height, corners=list(each.values())),
            self.line("lowest_corner", f"{words}, lowest corner", heights.lowest_corner, corners=list(each.values())),
            self.judged(name, "tilt_lengthwise", f"{words}, tilt lengthwise", heights.tilt_lengthwise, tilt,
                        "above zero: the rear is higher", **each),
            self.judged(name, "tilt_crosswise", f"{words}, tilt crosswise", heights.tilt_crosswise, tilt,
                        "above zero: the left is higher", **each),
            self.judged(name, "twist", f"{words}, twist", heights.twist, twist,
                        "a true plane has none; a large one is a misread corner", **each),
        )  # fmt: skip

    def axis(self) -> Form:
        """The crank axis over the bottom face, and whether the three heights agree."""
        near, how = _standard(self.spec.bottom), "Bottom face to the mandrel, plus half its diameter."
        ends = [f"{self.key('axis')}.{end}" for end in ("front", "rear")]
        return self.form(
            "axis",
            "Crank axis to bottom face",
            Line(column=self.sizes.reading("front", "Axis to bottom face, front", near, how)),
            Line(column=self.sizes.reading("rear", "Axis to bottom face, rear", near, how)),
            self.line("bottom_height", "Axis to bottom face, mean", heights.mean_height, corners=ends),
            self.judged("axis", "height_closure", "Overall less deck and bottom", heights.height_closure, self.spec.closure,
                        overall_height=f"{self.key('overall')}.mean_height",
                        deck_height=f"{self.key('deck')}.mean_height"),
            note="Overall height must be deck height and bottom height together: a second opinion on all three.",
        )  # fmt: skip

    def stack(self) -> Form:
        """The piston at the top of its stroke, under the deck."""
        return self.form(
            "stack",
            "Piston at the top",
            self.given("stroke", "Stroke", self.stroke),
            self.given("rod_length", "Rod, centre to centre", self.spec.rod_length),
            self.given("compression_height", "Piston pin to crown", self.spec.compression_height),
            self.line("piston_stack", "Crank axis to crown", heights.piston_stack),
            self.judged("stack", "deck_clearance", "Deck clearance", heights.deck_clearance, self.spec.deck_clearance,
                        "at the lowest corner, with the spec's parts; below zero the crown stands proud",
                        deck_height=f"{self.key('deck')}.lowest_corner"),
        )  # fmt: skip

    def form(self, name: str, title: str, *lines: Line, note: str = "") -> Form:
        """A form of values that follow from the corners."""
        return Form(key=self.key(name), title=self.state.title(title), lines=lines, note=note,
                    fresh_in=self.state.fresh_in("corners"))  # fmt: skip

    def judged(self, form: str, name: str, words: str, equation: Any, limits: Limit, note: str = "", **inputs: Any) -> Line:
        """A line with limits that is measured in both states."""
        line = self.line(name, words, equation, limits, note, **inputs)
        return replace(line, superseded_by=self.state.form_twin(self.layout.spec, form, name))

    def ledger(self) -> Form:
        """Overall and deck height keep separate ledgers: a cut bottom face is no lost deck."""
        lines = [
            self.given("overall_standard", "Standard overall height", _standard(self.spec.overall)),
            self.line("overall_removed", "Taken from overall height so far (mean)", heights.metal_removed,
                      standard_height="ledger.overall_standard", height="overall.mean_height"),
            *self._still("overall", "overall height", self.spec.overall_limit),
            self.given("deck_standard", "Standard deck height", _standard(self.spec.deck)),
            self.line("deck_removed", "Taken from deck height so far (mean)", heights.metal_removed,
                      standard_height="ledger.deck_standard", height="deck.mean_height"),
            *self._still("deck", "deck height", self.spec.deck_clearance),
        ]  # fmt: skip
        note = "What may still come off is reckoned from the lowest corner."
        return Form(key="ledger", title="Height ledger, as received", lines=lines, note=note)

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
        left = f"May still come off {words} (lowest corner)"
        removable = self.line(f"{name}_removable", left, heights.metal_removable, nought,
                              height=f"{name}.lowest_corner", least_height=f"ledger.{name}_least")  # fmt: skip
        return [*lines, removable]

    def plan(self) -> Form:
        """The cuts intended, and what they leave of the heights."""
        spec = self.spec
        return Form(
            key="plan",
            title="Cuts intended, and what they leave",
            note="Type 0 where nothing is to be cut. The deck cut is what comes off the lowest corner, parallel to the "
            "crank axis: afterwards the whole deck stands at one height.",
            lines=(
                self.intended("deck_cut", "Deck cut intended, off the lowest corner", CUT, "0 if none."),
                self.intended("bottom_cut", "Bottom-face cut intended", CUT, "0 if none."),
                self.intended("crown_metal", "Line bore: metal off the crown in the block", CUT, "0 if none."),
                self.intended("tunnel_before", "Line bore: tunnel diameter before", TUNNEL, "As it is now, caps torqued."),
                self.intended("tunnel_after", "Line bore: tunnel diameter after", TUNNEL, "The same again if none is bored."),
                self.line("axis_shift", "Crank axis moves towards the deck", heights.axis_shift),
                self.line("overall_after", "Overall height after, lowest corner", heights.overall_height_after,
                          spec.overall_limit, overall_height="overall.lowest_corner"),
                self.line("deck_after", "Deck height after, all over", heights.deck_height_after,
                          deck_height="deck.lowest_corner"),
                self.line("bottom_after", "Axis to bottom face after", heights.bottom_height_after,
                          bottom_height="axis.bottom_height"),
                self.line("closure_after", "Overall less deck and bottom, after", heights.height_closure, spec.closure,
                          overall_height="plan.overall_after", deck_height="plan.deck_after",
                          bottom_height="plan.bottom_after"),
                self.line("deck_clearance_after", "Deck clearance after", heights.deck_clearance, spec.deck_clearance,
                          deck_height="plan.deck_after", piston_stack="stack.piston_stack"),
            ),
        )  # fmt: skip

    def warmth(self) -> Form:
        """The overall height corrected to the reference temperature."""
        degrees: dict[str, Any] = {"unit": "degC", "decimals": 1}
        block = Reading(name="block", words="Block temperature", wanted=False, possible=(-10.0, 60.0),
                        how="Contact thermometer on the deck.", **degrees)  # fmt: skip
        expansion = Given(name="expansion", words="Expansion of the block", unit="1/degC", decimals=7,
                          value=self.spec.expansion)  # fmt: skip
        reference = Given(name="reference", words="Reference temperature", value=read_quantity("20 degC"), **degrees)
        return Form(
            key="warmth",
            title="Overall height at 20 °C, for the record",
            note="Only where block and gauge were not at one temperature; blank otherwise. No verdict hangs on it.",
            lines=(
                Line(column=block),
                Line(column=expansion, note=self.spec.expansion.source),
                Line(column=reference, note="ISO 1"),
                self.line("overall", "Overall height at 20 °C, mean", at_reference, length="overall.mean_height",
                          temperature="warmth.block"),
            ),
        )  # fmt: skip

    def intended(self, name: str, words: str, millimetres: tuple[float, float], how: str) -> Line:
        """A size that belongs to a cut not made yet, and what it can be at all."""
        low, high = (convert(end, "mm", self.unit) for end in millimetres)
        return Line(column=self.sizes.reading(name, words, how=how, possible=(low, high)))

    def given(self, name: str, words: str, value: Quantity | None, note: str = "") -> Line:
        """A line with a figure from the spec."""
        return Line(column=self.sizes.given(name, words, value), note=note)

    def line(self, name: str, words: str, equation: Any, limits: Limit | None = None, note: str = "", **inputs: Any) -> Line:
        """A value of a form, held against limits if there are any."""
        column = self.sizes.result(name, words, equation, **inputs)
        return Line(column=column, limits=limits, note=note or (limits.source if limits else ""))


def _standard(band: Limit) -> Quantity | None:
    """The drawing's size, or the lower end where the drawing gives only two ends."""
    return band.nominal or band.low
