"""Line boring: whether the main tunnels are bored in line, how far the crank line rises, and what
the cutter finds in each tunnel.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from inspect import signature

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Input, Per, Reading, Result, Sizes, typed_words
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Line, Row, Table
from datumbook.equations import faces, line_bore
from datumbook.equations.bores import largest_size
from datumbook.numbers.quantities import NO_LENGTH, Quantity
from datumbook.numbers.units import convert
from datumbook.spec import limit
from datumbook.spec.features import Tunnels
from datumbook.stations.decided.leaning import leaning
from datumbook.stations.decided.line_bore_forms import (
    Corridor,
    LineBore,
    LineBoreCounted,
    LineBoreJudged,
    TunnelMetal,
    cap_left,
    corridor,
    judged,
    unseen,
)
from datumbook.stations.decided.work_off import BarOff, WorkOff
from datumbook.stations.received.route import operations_of
from datumbook.stations.received.tunnels import ENDS, MainTunnels

MOST_CUT, TUNNEL = 3.0, (20.0, 250.0)  # what a cut and a main tunnel can be at all, in mm

METAL_NOTE = (
    "Metal on the radius, caps as cut. Below the stock the cutter does not clean; below zero it "
    "misses. Where none is bored the stock stands here. Sides that it does not reach stay as they "
    "are where they are within the tunnel's limits of size and out of round: common practice, no "
    "source."
)


class LineBoring:
    """The line bore of a block; its parts are None where this engine is never bored in line."""

    def __init__(self, basis: Basis, tunnels: MainTunnels | None, work: WorkOff) -> None:
        self.basis, self.tunnels = basis, tunnels
        self.spec = basis.spec.tunnels if tunnels else None
        group = "tunnels" if tunnels else "heights"
        self.sizes, self.decided = basis.sizes(group), basis.decisions(group)
        self.bar = BarOff(basis, group, work, measured=tunnels is not None)
        self.form = self._form() if "line_bore" in operations_of(basis.spec) else None
        self.counted = self._counted(self.form) if self.form else None
        self.each: TunnelMetal | None = None
        self.leanings: list[Table] = []
        self.corridor: Corridor | None = None
        self.judged: LineBoreJudged | None = None
        if self.form and self.spec and tunnels:
            self.each = self._each(self.form, self.spec, tunnels)
            self.leanings = [self._leaning(self.each, tunnels, one) for one in tunnels.numbers]
            self.corridor = corridor(self.sizes, self.each)
            self.judged = judged(self.sizes, self.form, self.spec, self.each)

    def decisions(self) -> list[Form]:
        """What is decided, with how far the crank line may rise."""
        return [self.form] if self.form else []

    def left(self) -> list[Form]:
        """What the decision leaves."""
        return [self.judged] if self.judged else []

    def workings(self) -> list[Table | Form]:
        """What the bar may be off, and what the cutter finds in each tunnel."""
        parts = (self.form and self.bar, self.counted, self.corridor, self.each, *self.leanings)
        return [part for part in parts if part]

    def origins(self) -> dict[str, tuple[str, Key]]:
        """What moves the crank line besides what is planned."""
        return self.bar.origins() if self.form else {}

    def lift(self, sizes: Sizes, place: Callable[[str], Quantity]) -> Result | None:
        """How far the crank line rises at places along the block; None where it never does."""
        if self.counted is None:
            return None
        front, rear = self.counted.front, self.counted.rear
        return self._between(sizes, "lift", "crank line rises", (front, rear), place)

    def _between(
        self,
        sizes: Sizes,
        name: str,
        words: str,
        line: tuple[Column, Column],
        place: Callable[[str], Quantity],
    ) -> Result:
        """How far a line that is known at the front and at the rear tunnel is off at places."""
        (front, rear), (front_place, rear_place) = line, self.ends
        return sizes.result(
            name,
            words,
            faces.on_line,
            front=front,
            rear=rear,
            place=place,
            front_place=front_place,
            rear_place=rear_place,
        )

    def rise(self) -> Input:
        """The most that the crank line rises at either end; none where it never does."""
        return NO_LENGTH if self.counted is None else self.counted.most_rise

    @property
    def ends(self) -> tuple[Quantity, Quantity]:
        """Where the first and the last tunnel stand from the front end face; where the spec does
        not say, the ends of the deck.
        """
        line = self.spec.alignment if self.spec else None
        if line is not None:
            return line.places[0], line.places[-1]
        return NO_LENGTH, self.basis.spec.rows[0].deck_length

    def _form(self) -> LineBore:
        bored = typed_words(
            "line_bored",
            "Tunnels bored in line, yes or no",
            "no where the tunnels stay as they are.",
            choices=(line_bore.AS_THEY_ARE, line_bore.BORED),
        )
        bored.wanted = True
        rises = {
            end: self._typed(f"rise_{end}", f"Crank line rises, {end}", (-MOST_CUT, MOST_CUT))
            for end in ENDS
        }
        return LineBore(
            key="line_bore",
            title="Line bore",
            note=unseen(self.spec),
            lines=(
                Line(column=bored, note="say this first: all that follows waits for it"),
                *self._tunnel_sizes(),
                *self._rise_suggested(),
                *rises.values(),
            ),
        )

    def _counted(self, form: LineBore) -> LineBoreCounted:
        counted = [
            self.sizes.result(
                end,
                f"Rise counted, {end}",
                line_bore.rise_taken,
                line_bored=form.line_bored,
                rise=form.column(f"rise_{end}"),
                bar_off=self.bar.ends[end],
            )
            for end in ENDS
        ]
        most = self.sizes.result(
            "most_rise", "Most of either", line_bore.most_rise, rises=list(counted)
        )
        return LineBoreCounted(
            key="line_bore_counted",
            title="What the line bore comes to",
            note="The crank line rises straight from the front tunnel to the rear one. Heights are "
            "carried over by the rise at their place.",
            lines=(*counted, *self._cap_cut_taken(form), most),
        )

    def _tunnel_sizes(self) -> Iterator[Column]:
        if self.spec is None:
            return
        if self.spec.caps is not None:
            yield self._typed("cap_cut", "Off the joint of the caps", (0.0, MOST_CUT))
        yield self._typed("finish_size", "Line bore to", TUNNEL)

    def _rise_suggested(self) -> Iterator[Line]:
        """The least rise that cleans, and the room there is for it."""
        if self.spec is None:
            return
        ends = {
            name: (lambda _, name=name: self.corridor.column(name))  # type: ignore[union-attr]
            for name in ("lowest_parallel_lift", "highest_parallel_lift")
        }
        least, room = line_bore.least_parallel_lift, line_bore.lift_room
        yield Line(
            column=self.sizes.result(
                "least_parallel_lift", "Least rise that cleans", least, **ends
            ),
            note="the same all along",
        )
        yield Line(
            column=self.sizes.result("lift_room", "Room above that rise", room, **ends),
            note="by saddle and cap alone; below zero: more off the caps",
        )

    def _cap_cut_taken(self, form: LineBore) -> Iterator[Column]:
        if form.cap_cut:
            yield self.sizes.result(
                "cap_cut_taken",
                "Off the caps, counted",
                line_bore.cap_cut_taken,
                line_bored=form.line_bored,
                cap_cut=form.cap_cut,
            )

    def _typed(self, name: str, words: str, span: tuple[float, float]) -> Reading:
        low, high = (convert(end, "mm", str(self.decided.unit)) for end in span)
        how = "Blank where none is bored."
        return self.decided.reading(name, words, how=how, possible=(low, high), wanted=False)

    def _each(self, form: LineBore, spec: Tunnels, tunnels: MainTunnels) -> TunnelMetal:
        sizes, line = self.sizes, tunnels.centres
        lift = self.lift(sizes, self._place)
        assert lift is not None  # the form is there
        upright = sizes.result(
            "tunnel_size",
            "upright, the larger",
            largest_size,
            diameters=tunnels.diameters("vertical"),
        )
        across = sizes.result(
            "width_across",
            "off the joint, the largest",
            largest_size,
            diameters=tunnels.diameters("left", "right"),
        )
        bar = (self.bar.aside["front"], self.bar.aside["rear"])
        bar_aside = self._between(sizes, "line_sideways", "bar aside", bar, self._place)
        aside = sizes.result(
            "aside",
            "aside",
            line_bore.aside,
            sideways=self._off(line.misalignment_sideways if line else None),
        )
        known: dict[str, Per[Input]] = {
            "finish_size": form.finish_size or NO_LENGTH,
            "cap_cut": form.cap_cut or NO_LENGTH,
            "stock": spec.stock,
            "most_size": spec.size.high,
            "most_out_of_round": spec.out_of_round.high or NO_LENGTH,
            "centre_height": self._off(line.misalignment if line else None),
        }
        saddle = self._metal("saddle_metal", "off the saddle", line_bore.saddle_metal, known)
        cap = self._metal("cap_metal", "off the cap", line_bore.cap_metal, known)
        side = self._metal("side_metal", "at the sides", line_bore.side_metal, known)
        slants = [
            self._metal(f"{name}_slant", words, line_bore.slanting_metal, known, metal=metal)
            for name, words, metal in (
                ("saddle", "slanting, saddle", saddle),
                ("cap", "slanting, cap", cap),
            )
        ]
        left = self._metal(
            "side_counted", "sides, judged", line_bore.side_counted, known, side_metal=side
        )
        metals = [saddle, cap, left, *slants]
        around = self._metal(
            "least_all_round", "least", line_bore.least_all_round, known, metals=metals
        )
        least = self._metal(
            "least_metal",
            "least metal found",
            line_bore.least_metal,
            known,
            line_bored=form.line_bored,
        )
        asked = limit("the stock that cleans", low=spec.stock)
        return TunnelMetal(
            key="line_bored",
            title="What the line bore takes from each tunnel",
            heading="Tunnel",
            note=" ".join(filter(None, (METAL_NOTE, unseen(spec)))),
            rows=[Row(number, f"Tunnel {number}") for number in tunnels.numbers],
            columns=(
                lift,
                upright,
                across,
                bar_aside,
                aside,
                saddle,
                cap,
                side,
                left,
                *slants,
                around,
                least,
                Check(of=least, limits=asked),
                self._metal("clean_size", "cleans at", line_bore.clean_size, known, metals=metals),
                self._metal("lowest_lift", "rise, least", line_bore.lowest_lift, known),
                self._metal("highest_lift", "rise, most", line_bore.highest_lift, known),
                *cap_left(sizes, spec, tunnels, self.counted),
            ),
        )

    def _leaning(self, each: TunnelMetal, tunnels: MainTunnels, number: str) -> Table:
        """What moves the least metal in one tunnel."""
        read = tunnels.origins(number, "vertical", "left", "right")
        if tunnels.centres:
            ends = (tunnels.numbers[0], tunnels.numbers[-1])
            read |= {
                f"{column.name}_{one}": (f"tunnel {one}, {column.words}", column[one])
                for column in tunnels.centres.read
                for one in dict.fromkeys((ends[0], number, ends[1]))
            }
        return leaning(
            f"line_bored_{number}_leaning",
            f"What moves the least metal in tunnel {number}",
            [Row("least", "Least metal")],
            each.least_metal[number],
            read | self.origins() | self.bar.origins_aside(),
        )

    def _metal(
        self,
        name: str,
        words: str,
        equation: Callable[..., float],
        known: dict[str, Per[Input]],
        **more: Per[Input],
    ) -> Result:
        """A column of the tunnels' table; it is handed what its equation asks for of what is
        known.
        """
        asked = set(signature(equation).parameters)
        inputs = {key: value for key, value in known.items() if key in asked}
        return self.sizes.result(name, words, equation, **inputs, **more)

    def _off(self, column: Column | None) -> Per[Input]:
        """How far each tunnel's centre is off the line, nothing where it is not read."""
        return NO_LENGTH if column is None else lambda row: column[row]

    def _place(self, row: str) -> Quantity:
        """Where a tunnel stands; where the spec does not say, as far apart as the others."""
        line, (front, rear) = self.spec.alignment if self.spec else None, self.ends
        if line is not None:
            return line.places[int(row) - 1]
        last = len(self.basis.bearings()) - 1
        return front + (rear - front) * Fraction(int(row) - 1, max(last, 1))
