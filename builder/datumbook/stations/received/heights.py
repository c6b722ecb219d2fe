"""Heights: the block over its corners, the crank axis between deck and bottom face, and what may
still come off.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

from datumbook.cells.columns import Result
from datumbook.cells.tables import Form, Line, Picture, Row, Series, Sheet, Table
from datumbook.equations import heights, suspicions
from datumbook.equations.flatness import parallelism
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.numbers.units import convert
from datumbook.spec import Limit, limit
from datumbook.spec.model import Bank
from datumbook.stations.received.states import RECEIVED, State
from datumbook.workbook.layout import Layout

CUT, TUNNEL = (
    (0.0, 3.0),
    (20.0, 250.0),
)  # what a cut and a main tunnel can be at all, in millimetres
CORNERS = {
    "front_left": "Front left corner",
    "front_right": "Front right corner",
    "rear_left": "Rear left corner",
    "rear_right": "Rear right corner",
}
OTHER = {"front": "rear", "rear": "front", "left": "right", "right": "left"}
TURNS = {"opposite": (True, True), "lengthwise": (False, True), "crosswise": (True, False)}
"""What lies beside the corner across from another: at the other end, on the other side."""
WORDS = {"overall": "Overall height", "deck": "Deck height", "bottom": "Axis to bottom face"}


def sheet(layout: Layout) -> Sheet:
    """The sheet of the heights as received, bank by bank."""
    parts: list[Table | Form | Picture] = []
    for bank in layout.spec.rows:
        station = Station(layout, RECEIVED, bank)
        corners, *rest = station.measured()
        parts += [corners, station.picture(), *rest, station.ledger()]
    return Sheet(name="Heights", title="Heights and the metal left", parts=parts, widths={7: 46})


class Station:
    """The heights of one bank in one state; `whole` where its deck lies over the bottom face, as in
    line.
    """

    def __init__(self, layout: Layout, state: State, bank: Bank) -> None:
        self.layout, self.state, self.bank = layout, state, bank
        self.whole = not bank.key
        self.spec = layout.spec.heights
        self.limits = state.limits(layout.spec, "heights")
        self.stroke = layout.spec.bores.stroke
        self.sizes = layout.sizes("heights")
        self.unit = layout.unit_of("heights")

    def measured(self) -> list[Table | Form]:
        """What is measured in every state."""
        parts: list[Table | Form] = [self.corners(), self.face("deck", "Deck height")]
        if self.whole:
            parts += [self.face("overall", "Overall height"), self.axis()]
        return [*parts, self.suspects(), self.stack()]

    def named(self, name: str) -> str:
        """A name with its bank, as it is in every state."""
        return f"{self.bank.key}_{name}" if self.bank.key else name

    def key(self, name: str) -> str:
        """A table's or cell's key in this state."""
        return self.state.key(self.named(name))

    def title(self, words: str) -> str:
        """A part's title with its bank and its state."""
        return self.bank.title(self.state.title(words))

    def said(self, words: str) -> str:
        """A line's words with their bank."""
        return f"{self.bank.words}, {words[:1].lower()}{words[1:]}" if self.bank.key else words

    def corners(self) -> Table:
        """The readings at the corners."""
        plate = "Height gauge on the surface plate, block on its bottom face."
        mandrel = "Mandrel in the tunnels, caps torqued: to the mandrel, plus half its diameter."
        return Table(
            key=self.key("corners"),
            title=self.title("Readings at the four corners"),
            heading="Corner",
            spoilers=self.state.spoilers(self.layout.spec, "heights"),
            rows=[Row(key, self.said(words)) for key, words in CORNERS.items()],
            columns=(
                *(
                    [
                        self.sizes.reading(
                            "overall", "overall height", _standard(self.spec.overall), plate
                        )
                    ]
                    if self.whole
                    else []
                ),
                self.sizes.reading(
                    "deck", "crank axis to deck", _standard(self.spec.deck), mandrel
                ),
                *(self.above(name) for name in self.faces()),
            ),
        )

    def faces(self) -> tuple[str, ...]:
        """The heights that are read at the corners."""
        return ("overall", "deck") if self.whole else ("deck",)

    def above(self, name: str) -> Result:
        """How far a corner stands above the lowest."""
        lowest: dict[str, Any] = {"lowest_corner": f"{self.key(name)}.lowest_corner"}
        return self.sizes.result(
            f"{name}_above",
            f"{name}, above the lowest",
            heights.above_lowest,
            height=f"{self.key('corners')}.{{row}}.{name}",
            **lowest,
        )

    def picture(self) -> Picture:
        """How the faces lie, corner by corner."""
        series = [
            Series(
                WORDS[name].lower(),
                [f"{self.key('corners')}.{corner}.{name}_above" for corner in CORNERS],
            )
            for name in self.faces()
        ]
        return Picture(
            title=self.title("How far each corner stands above the lowest"),
            kind="columns",
            series=series,
            value_words=self.unit,
            lines=8,
        )

    def suspects(self) -> Table:
        """Which corner to look at first when a height's twist is OUT, in words beside the
        corner.
        """
        return Table(
            key=self.key("corner_suspects"),
            title=self.title("Where to look first when a face is twisted"),
            heading="Corner",
            note="The corner without which the other three tilt least is the likeliest to be "
            "misread. A hint and no verdict.",
            rows=[Row(key, self.said(words)) for key, words in CORNERS.items()],
            columns=tuple(column for name in self.faces() for column in self.suspect(name)),
        )

    def suspect(self, name: str) -> Iterator[Result]:
        """The tilt of the three other corners, and whether it is the least while the twist is
        OUT.
        """
        table, without = self.key("corner_suspects"), f"{name}_without"
        three: dict[str, Any] = {one: self.beside(name, turn) for one, turn in TURNS.items()}
        yield self.sizes.result(
            without, f"{name}: tilt without it", suspicions.tilt_without, **three
        )
        every = {
            "tilt_without": f"{table}.{{row}}.{without}",
            "tilts_without": [f"{table}.{corner}.{without}" for corner in CORNERS],
            "verdict": f"{self.key(name)}.twist.verdict",
        }
        yield Result(
            name=f"{name}_suspected",
            words=f"{name}: twist OUT?",
            unit=None,
            width=9,
            equation=suspicions.corner_suspected,
            inputs=every,
        )

    def beside(self, name: str, turn: tuple[bool, bool]) -> Callable[[str], str]:
        """The reading of the corner at the other end, on the other side, or both."""
        return lambda row: f"{self.key('corners')}.{_turned(row, turn)}.{name}"

    def face(self, name: str, words: str) -> Form:
        """What follows from one height over the four corners."""
        each = {corner: f"{self.key('corners')}.{corner}.{name}" for corner in CORNERS}
        tilt, twist = self.limits.tilt, self.limits.twist
        return self.form(
            name,
            f"{words} over the corners",
            self.line(
                "mean_height", f"{words}, mean", heights.mean_height, corners=list(each.values())
            ),
            self.line(
                "lowest_corner",
                f"{words}, lowest corner",
                heights.lowest_corner,
                corners=list(each.values()),
            ),
            self.judged(
                name,
                "tilt_lengthwise",
                f"{words}, tilt lengthwise",
                heights.tilt_lengthwise,
                tilt,
                "above zero: the rear is higher",
                **each,
            ),
            self.judged(
                name,
                "tilt_crosswise",
                f"{words}, tilt crosswise",
                heights.tilt_crosswise,
                tilt,
                "above zero: the left is higher",
                **each,
            ),
            self.judged(
                name,
                "twist",
                f"{words}, twist",
                heights.twist,
                twist,
                "a true plane has none; a large one is a misread corner",
                **each,
            ),
        )

    def axis(self) -> Form:
        """The crank axis over the bottom face, and whether the three heights agree."""
        near, how = (
            _standard(self.spec.bottom),
            "Bottom face to the mandrel, plus half its diameter.",
        )
        ends = [f"{self.key('axis')}.{end}" for end in ("front", "rear")]
        return self.form(
            "axis",
            "Crank axis to bottom face",
            Line(column=self.sizes.reading("front", "Axis to bottom face, front", near, how)),
            Line(column=self.sizes.reading("rear", "Axis to bottom face, rear", near, how)),
            self.line(
                "bottom_height", "Axis to bottom face, mean", heights.mean_height, corners=ends
            ),
            self.judged(
                "axis",
                "height_closure",
                "Overall less deck and bottom",
                heights.height_closure,
                self.spec.closure,
                overall_height=f"{self.key('overall')}.mean_height",
                deck_height=f"{self.key('deck')}.mean_height",
            ),
            *self.height_suspected(),
            note="Overall height must be deck height and bottom height together: a second opinion "
            "on all three.",
        )

    def height_suspected(self) -> Iterator[Line]:
        """Which of the three heights to look at first when they do not close."""
        axis, beyond = self.key("axis"), {}
        heights_of = {
            "overall": (f"{self.key('overall')}.mean_height", self.spec.overall),
            "deck": (f"{self.key('deck')}.mean_height", self.spec.deck),
            "bottom": (f"{axis}.bottom_height", self.spec.bottom),
        }
        for name, (height, drawn) in heights_of.items():
            assert drawn is not None  # a block with one deck has all three
            beyond[name] = f"{axis}.{name}_beyond"
            yield self.line(
                f"{name}_beyond",
                f"{WORDS[name]}, beyond its drawing",
                suspicions.beyond_drawing,
                note="below zero: within",
                height=height,
                low=drawn.low,
                high=drawn.high,
            )
        inputs = {**beyond, "verdict": f"{axis}.height_closure.verdict"}
        yield Line(
            column=Result(
                name="suspected",
                words="Out of closure: look first at",
                unit=None,
                equation=suspicions.height_suspected,
                inputs=inputs,
            )
        )

    def stack(self) -> Form:
        """The piston at the top of its stroke, under the deck."""
        return self.form(
            "stack",
            "Piston at the top",
            self.given("stroke", "Stroke", self.stroke),
            self.given("rod_length", "Rod, centre to centre", self.spec.rod_length),
            self.given("compression_height", "Piston pin to crown", self.spec.compression_height),
            self.line("piston_stack", "Crank axis to crown", heights.piston_stack),
            self.judged(
                "stack",
                "deck_clearance",
                "Deck clearance",
                heights.deck_clearance,
                self.spec.deck_clearance,
                "at the lowest corner, with the spec's parts; below zero the crown stands proud",
                deck_height=f"{self.key('deck')}.lowest_corner",
            ),
        )

    def form(self, name: str, title: str, *lines: Line, note: str = "") -> Form:
        """A form of values that follow from the corners."""
        return Form(
            key=self.key(name),
            title=self.title(title),
            lines=lines,
            note=note,
            fresh_in=self.state.fresh_in(self.named("corners")),
        )

    def judged(
        self,
        form: str,
        name: str,
        words: str,
        equation: Any,
        limits: Limit,
        note: str = "",
        **inputs: Any,
    ) -> Line:
        """A line with limits that is measured in both states."""
        line = self.line(name, words, equation, limits, note, **inputs)
        return replace(
            line, superseded_by=self.state.form_twin(self.layout.spec, self.named(form), name)
        )

    def ledger(self) -> Form:
        """Overall and deck height keep separate ledgers: a cut bottom face is no lost deck."""
        lines = (
            [*self._spent("overall", "overall height", self.spec.overall, self.spec.overall_limit)]
            if self.whole
            else []
        )
        lines += self._spent("deck", "deck height", self.spec.deck, self.spec.deck_clearance)
        note = "What may still come off is reckoned from the lowest corner."
        return Form(
            key=self.key("ledger"), title=self.title("Height ledger"), lines=lines, note=note
        )

    def _spent(
        self, name: str, words: str, standard: Limit | None, least: Limit | None
    ) -> Iterator[Line]:
        """What has gone of a height, and what is left of it down to its least value where the spec
        states one.
        """
        ledger = self.key("ledger")
        yield self.given(f"{name}_standard", f"Standard {words}", _standard(standard))
        yield self.line(
            f"{name}_removed",
            f"Taken from {words} so far (mean)",
            heights.metal_removed,
            standard_height=f"{ledger}.{name}_standard",
            height=f"{self.key(name)}.mean_height",
        )
        if least is None or least.low is None:
            return
        if name == "overall":
            yield self.given("overall_least", "Least overall height", least.low, least.source)
        else:
            yield self.given("least_clearance", "Least deck clearance", least.low, least.source)
            yield self.line(
                "deck_least",
                "Deck height that leaves it",
                heights.least_deck_height,
                piston_stack=f"{self.key('stack')}.piston_stack",
            )
        nought = limit("nothing may be left to take", low=read_quantity(f"0 {self.unit}"))
        left = f"May still come off {words} (lowest corner)"
        yield self.line(
            f"{name}_removable",
            left,
            heights.metal_removable,
            nought,
            height=f"{self.key(name)}.lowest_corner",
            least_height=f"{ledger}.{name}_least",
        )

    def plan(self) -> Form:
        """The cuts intended, and what they leave of the heights."""
        lines = (
            (*self._bottom_and_line_bore(), *self._after()) if self.whole else tuple(self._after())
        )
        return Form(
            key=self.key("plan"),
            title=self.bank.title("Cuts intended, and what they leave"),
            note="Type 0 where nothing is to be cut. The deck cut is what comes off the lowest "
            "corner, parallel to the "
            "crank axis: afterwards the whole deck stands at one height.",
            lines=(
                self.intended(
                    "deck_cut", "Deck cut intended, off the lowest corner", CUT, "0 if none."
                ),
                *lines,
            ),
        )

    def suggested(self) -> Form:
        """What the readings themselves ask for, beside the cuts intended."""
        corners = [f"{self.key('corners')}.{corner}.deck" for corner in CORNERS]
        lines = [
            self.line(
                "spread",
                "Off the highest corner, to clean the whole deck",
                parallelism,
                heights=corners,
                note="that is 0 off the lowest corner",
            )
        ]
        if self.whole:
            lines.append(
                self.line(
                    "bottom_cut",
                    "Off the bottom face, to keep it as far from the axis",
                    heights.restoring_bottom_cut,
                    axis_shift="plan.axis_shift",
                    note="after the line bore intended above",
                )
            )
        return Form(
            key=self.key("suggested"),
            title=self.bank.title("What the readings ask for"),
            lines=lines,
        )

    def line_bore(self) -> Form:
        """The line bore intended, which moves the crank axis under every bank."""
        return Form(
            key="plan",
            title="Line bore intended",
            lines=tuple(self._line_bore()),
            note="Type 0 where none is.",
        )

    def _line_bore(self) -> Iterator[Line]:
        yield self.intended(
            "crown_metal", "Line bore: metal off the crown in the block", CUT, "0 if none."
        )
        yield self.intended(
            "tunnel_before",
            "Line bore: tunnel diameter before",
            TUNNEL,
            "As it is now, caps torqued.",
        )
        yield self.intended(
            "tunnel_after",
            "Line bore: tunnel diameter after",
            TUNNEL,
            "The same again if none is bored.",
        )
        if self.layout.spec.tunnels is not None and self.layout.spec.tunnels.caps is not None:
            yield self.intended(
                "cap_cut", "Line bore: cut off the joint of the caps", CUT, "0 if none."
            )
        yield self.line("axis_shift", "Crank axis moves up in the block", heights.axis_shift)

    def _bottom_and_line_bore(self) -> Iterator[Line]:
        yield self.intended("bottom_cut", "Bottom-face cut intended", CUT, "0 if none.")
        yield from self._line_bore()
        yield self.line(
            "overall_after",
            "Overall height after, lowest corner",
            heights.overall_height_after,
            self.spec.overall_limit,
            overall_height="overall.lowest_corner",
        )
        yield self.line(
            "bottom_after",
            "Axis to bottom face after",
            heights.bottom_height_after,
            self.spec.bottom_limit,
            bottom_height="axis.bottom_height",
        )

    def _after(self) -> Iterator[Line]:
        plan, spec = self.key("plan"), self.spec
        shift: dict[str, Any] = {} if self.whole else {"axis_shift": f"{plan}.shift_towards_deck"}
        if not self.whole:
            yield self.line(
                "shift_towards_deck",
                "Crank axis moves towards this deck",
                heights.shift_towards_deck,
                axis_shift="plan.axis_shift",
                bank_angle=self.layout.spec.engine.bank_angle,
            )
        yield self.line(
            "deck_after",
            "Deck height after, all over",
            heights.deck_height_after,
            deck_height=f"{self.key('deck')}.lowest_corner",
            **shift,
        )
        if self.whole:
            yield self.line(
                "closure_after",
                "Overall less deck and bottom, after",
                heights.height_closure,
                spec.closure,
                overall_height="plan.overall_after",
                deck_height="plan.deck_after",
                bottom_height="plan.bottom_after",
            )
        yield self.line(
            "deck_clearance_after",
            "Deck clearance after",
            heights.deck_clearance,
            spec.deck_clearance,
            deck_height=f"{plan}.deck_after",
            piston_stack=f"{self.key('stack')}.piston_stack",
        )

    def intended(self, name: str, words: str, millimetres: tuple[float, float], how: str) -> Line:
        """A size that belongs to a cut not made yet, and what it can be at all."""
        low, high = (convert(end, "mm", self.unit) for end in millimetres)
        return Line(
            column=self.sizes.reading(name, self.said(words), how=how, possible=(low, high))
        )

    def given(self, name: str, words: str, value: Quantity | None, note: str = "") -> Line:
        """A line with a figure from the spec."""
        return Line(column=self.sizes.given(name, self.said(words), value), note=note)

    def line(
        self,
        name: str,
        words: str,
        equation: Any,
        limits: Limit | None = None,
        note: str = "",
        **inputs: Any,
    ) -> Line:
        """A value of a form, held against limits if there are any."""
        column = self.sizes.result(name, self.said(words), equation, **inputs)
        return Line(column=column, limits=limits, note=note or (limits.source if limits else ""))


def _turned(corner: str, turn: tuple[bool, bool]) -> str:
    """The corner at the other end, on the other side, or both."""
    end, side = corner.split("_")
    other_end, other_side = turn
    return f"{OTHER[end] if other_end else end}_{OTHER[side] if other_side else side}"


def _standard(band: Limit | None) -> Quantity | None:
    """The drawing's size, or the lower end where the drawing gives only two ends; None where the
    engine has none.
    """
    return None if band is None else band.nominal or band.low
