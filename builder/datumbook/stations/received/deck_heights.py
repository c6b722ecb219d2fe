"""Deck heights: one bank over its corners, and the crank axis between deck and bottom face."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TypeVar

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column, Input, Per, Result
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Line, Picture, Row, Series, Spoilers, Table
from datumbook.equations import faces, heights, suspicions
from datumbook.spec.block import Bank
from datumbook.stations.received.bank_lines import BankLines
from datumbook.stations.received.features import drawn
from datumbook.stations.received.height_forms import AxisHeights, OverCorners, PistonStack
from datumbook.stations.received.mandrel import over_centre
from datumbook.stations.received.route import Route
from datumbook.stations.received.scales import corner_scale
from datumbook.stations.received.states import FINISHED, RECEIVED, answer

CORNERS = {
    "front_left": "Front left corner",
    "front_right": "Front right corner",
    "rear_left": "Rear left corner",
    "rear_right": "Rear right corner",
}
READ_AT_CORNERS = {
    "overall": (
        "overall height",
        "Height gauge on the surface plate, block on its bottom face.",
        "height gauge",
    ),
    "deck": (
        "crank line to deck",
        "Mandrel in the tunnels, caps torqued: to the mandrel, plus half its diameter.",
        "mandrel",
    ),
}
OVER_CENTRE = "deck_over_centre"  # the deck's heights without the mandrel's seat
OTHER = {"front": "rear", "rear": "front", "left": "right", "right": "left"}
BLOCK_TURNS = {"opposite": (True, True), "lengthwise": (False, True), "crosswise": (True, False)}
"""What lies beside the corner across from another: at the other end, on the other side."""
HEIGHT_WORDS = {"overall": "Overall height", "deck": "Deck height", "bottom": "Axis to bottom face"}


F = TypeVar("F", bound=Form)


class DeckHeights(BankLines):
    """The heights of one bank in one state: as finished where there are heights before it."""

    def __init__(
        self,
        basis: Basis,
        route: Route,
        bank: Bank,
        before: DeckHeights | None = None,
        seat: Sequence[Column] = (),
    ) -> None:
        super().__init__(basis, bank)
        self.seat = seat  # of the mandrel over the crank line at each corner, towards the deck last
        self.state = FINISHED if before else RECEIVED
        self.limits = self.state.limits(basis.spec, "heights")
        self.names = ("overall", "deck") if self.whole else ("deck",)
        self.corners = self._corners(self.state.stale_after(route, "heights"))
        self.over = {name: self._over_corners(name) for name in self.names}
        self.deck, self.overall = self.over["deck"], self.over.get("overall")
        self.axis = self._axis() if self.whole else None
        self.suspects = Table(
            key=self.state.key(self.named("corner_suspects")),
            title=self.title("Where to look first when a face is twisted"),
            heading="Corner",
            note="The corner without which the other three tilt least is the likeliest to be "
            "misread. A hint and no verdict.",
            rows=self._rows(),
            columns=tuple(column for name in self.names for column in self._suspect(name)),
        )
        self.stack = self._form(
            PistonStack,
            "stack",
            "Piston at the top",
            self.given("stroke", "Stroke", self.basis.stroke),
            self.given("rod_length", "Rod, centre to centre", self.spec.rod_length),
            self.given("compression_height", "Piston pin to crown", self.spec.compression_height),
            self.line("piston_stack", "Crank line to crown", heights.piston_stack),
            self.line(
                "deck_clearance",
                "Deck clearance",
                heights.deck_clearance,
                self.spec.deck_clearance,
                "at the lowest corner, with the spec's parts; below zero the crown stands proud",
                deck_height=self.deck.lowest_corner,
            ),
        )
        answer(self.measured(), before.measured() if before else ())

    def measured(self) -> list[Table | Form]:
        """What is measured in every state."""
        parts = (self.corners, self.deck, self.overall, self.axis, self.suspects, self.stack)
        return [part for part in parts if part]

    def at_corners(self, name: str) -> dict[str, Key]:
        """One height, corner by corner; of the deck over the crank line, where that is known."""
        if self.seat and name == "deck":
            name = OVER_CENTRE
        return {corner: self.corners.column(name)[corner] for corner in CORNERS}

    def picture(self) -> Picture:
        """How the faces lie, corner by corner."""
        key = self.state.key(self.named("corner_scale"))
        return Picture(
            title=self.title("How far each corner stands above the lowest"),
            kind="columns",
            series=[
                Series(HEIGHT_WORDS[name].lower(), list(self.at_corners(f"{name}_above").values()))
                for name in self.names
            ],
            scale=corner_scale(self.basis, key, self.limits.tilt, len(CORNERS)),
            value_words=self.unit,
            lines=10,
        )

    def title(self, words: str) -> str:
        """A part's title with its bank and its state."""
        return self.bank.title(self.state.title(words))

    def _corners(self, spoilers: Spoilers | None) -> Table:
        read = [
            self.sizes.reading(name, words, drawn(getattr(self.spec, name)), how, setting=setting)
            for name, (words, how, setting) in READ_AT_CORNERS.items()
            if name in self.names
        ]
        known: dict[str, Column] = {one.name: one for one in read}
        if self.seat:
            known["deck"] = over_centre(
                self.sizes, OVER_CENTRE, "deck over the line", "deck", known["deck"], self.seat[-1]
            )
        return Table(
            key=self.state.key(self.named("corners")),
            title=self.title("Readings at the four corners"),
            heading="Corner",
            sketch_beside="corners" if self._seen_from_the_rear else "",
            spoilers=spoilers,
            rows=self._rows(),
            columns=(
                *read,
                *([*self.seat, known["deck"]] if self.seat else ()),
                *self._bottom(known),
                *(self._above(name, height) for name, height in known.items()),
            ),
        )

    @property
    def _seen_from_the_rear(self) -> bool:
        """Whether left and right are named from where the sketch of the corners has one stand."""
        return (self.basis.spec.engine.seen_from or "").casefold().endswith("looking forward")

    def _bottom(self, known: Mapping[str, Column]) -> Iterator[Result]:
        """The crank line over the bottom face at each corner, where both heights are read there."""
        if self.whole:
            words, inputs = HEIGHT_WORDS["bottom"], {f"{of}_height": known[of] for of in known}
            yield self.sizes.result("bottom", words.lower(), faces.bottom_at_corner, **inputs)

    def _rows(self) -> list[Row]:
        return [Row(key, self.said(words)) for key, words in CORNERS.items()]

    def _above(self, name: str, height: Column) -> Result:
        """How far a corner stands above the lowest."""
        return self.sizes.result(
            f"{name}_above",
            f"{name}, above the lowest",
            heights.above_lowest,
            height=height,
            lowest_corner=lambda _: self.over[name].lowest_corner,
        )

    def _suspect(self, name: str) -> tuple[Result, Result]:
        """The tilt of the three other corners, and whether it is the least while the twist is
        OUT.
        """
        each = self.at_corners(name)
        without = self.sizes.result(
            f"{name}_without",
            f"{name}: tilt without it",
            suspicions.tilt_without,
            **{
                one: lambda row, turn=turn: each[turned(row, turn)]
                for one, turn in BLOCK_TURNS.items()
            },
        )
        return without, Result(
            name=f"{name}_suspected",
            words=f"{name}: twist OUT?",
            unit=None,
            width=9,
            equation=suspicions.corner_suspected,
            inputs={
                "tilt_without": without,
                "tilts_without": lambda _: [without[corner] for corner in CORNERS],
                "verdict": self.over[name].twist.verdict,
            },
        )

    def _over_corners(self, name: str) -> OverCorners:
        """What follows from one height over the four corners."""
        words, each, tilt = HEIGHT_WORDS[name], self.at_corners(name), self.limits.tilt
        corners = list(each.values())
        return self._form(
            OverCorners,
            name,
            f"{words} over the corners",
            self.line("mean_height", f"{words}, mean", heights.mean_height, corners=corners),
            self.line(
                "lowest_corner", f"{words}, lowest corner", heights.lowest_corner, corners=corners
            ),
            self.line(
                "tilt_lengthwise",
                f"{words}, tilt lengthwise",
                heights.tilt_lengthwise,
                tilt,
                "above zero: the rear is higher",
                **each,
            ),
            self.line(
                "tilt_crosswise",
                f"{words}, tilt crosswise",
                heights.tilt_crosswise,
                tilt,
                "above zero: the left is higher",
                **each,
            ),
            self.line(
                "twist",
                f"{words}, twist",
                heights.twist,
                self.limits.twist,
                "a true plane has none; a large one is a misread corner",
                **each,
            ),
        )

    def _axis(self) -> AxisHeights:
        """The crank axis over the bottom face, and whether the three heights agree."""
        words, band = HEIGHT_WORDS["bottom"], self.spec.bottom
        near = drawn(band) if band else None
        ends = [
            self.sizes.reading(
                end,
                f"{words}, {end}",
                near,
                "Bottom face to the mandrel, plus half its diameter.",
                setting="mandrel",
            )
            for end in ("front", "rear")
        ]
        over = [self._end_over_centre(end) for end in ends] if self.seat else []
        bottom = self.line(
            "bottom_height", f"{words}, mean", heights.mean_height, corners=over or ends
        )
        means: dict[str, Column] = {name: one.mean_height for name, one in self.over.items()}
        corner = self.corners.column("bottom")
        closures = [
            self.line(
                f"closure_{end.name}",
                f"Overall less deck and bottom, {end.name}",
                heights.end_closure,
                note="mean of the two corners there",
                bottom_left=corner[f"{end.name}_left"],
                bottom_right=corner[f"{end.name}_right"],
                bottom_height=counted,
            )
            for end, counted in zip(ends, over or ends, strict=True)
        ]
        front, rear = (line.column for line in closures)
        closure = self.line(
            "height_closure",
            "Overall less deck and bottom, worse end",
            heights.height_closure,
            self.spec.closure,
            front_closure=front,
            rear_closure=rear,
        )
        return self._form(
            AxisHeights,
            "axis",
            "Crank line to bottom face",
            *ends,
            *over,
            bottom,
            *closures,
            closure,
            *self._height_suspected(means | {"bottom": bottom.column}, closure.column),
            note="Overall height must be deck height and bottom height together at either end: a "
            "second opinion on all three.",
        )

    def _end_over_centre(self, end: Column) -> Result:
        """The crank line over the bottom face at one end, from what is read there."""
        name, words = f"{end.name}_over_centre", f"{end.words}, over the line"
        seat = self.seat[-1][f"{end.name}_left"]
        return over_centre(self.sizes, name, words, "bottom", end, seat)

    def _height_suspected(self, means: dict[str, Column], closure: Column) -> Iterator[Line]:
        """Which of the three heights to look at first when they do not close."""
        beyond: dict[str, Per[Input]] = {}
        for name, height in means.items():
            band = getattr(self.spec, name)
            line = self.line(
                f"{name}_beyond",
                f"{HEIGHT_WORDS[name]}, beyond its drawing",
                suspicions.beyond_drawing,
                note="below zero: within",
                height=height,
                low=band.low,
                high=band.high,
            )
            beyond[name] = line.column
            yield line
        yield Line(
            column=Result(
                name="suspected",
                words="Out of closure: look first at",
                unit=None,
                equation=suspicions.height_suspected,
                inputs=beyond | {"verdict": lambda _: closure.verdict},
            )
        )

    def _form(
        self, kind: type[F], name: str, title: str, *lines: Line | Column, note: str = ""
    ) -> F:
        """A form of values that follow from the corners."""
        return kind(
            key=self.state.key(self.named(name)),
            title=self.title(title),
            lines=lines,
            note=note,
            fresh_in=self.corners.stale_with,
        )


def turned(corner: str, turn: tuple[bool, bool]) -> str:
    """The corner at the other end, on the other side, or both."""
    return "_".join(
        OTHER[word] if turned else word
        for word, turned in zip(corner.split("_"), turn, strict=True)
    )
