"""Tunnels: the main bearing bores with their caps torqued: size, shape, and whether they stand in
one line.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from datumbook.cells.columns import Check, Column, Reading, limited
from datumbook.cells.handles import Key, row_key
from datumbook.cells.tables import Form, Row, Sheet, Table, held
from datumbook.equations import bores, tunnels
from datumbook.spec.features import Alignment, Caps, Tunnels
from datumbook.stations.received.features import TwoPointSizes, drawn, ticked, two_point_held
from datumbook.stations.received.measured import Measured
from datumbook.stations.received.states import answer

DIRECTIONS = {
    "vertical": "square to the joint",
    "left": "off the joint to the left",
    "right": "off the joint to the right",
}
ENDS = ("front", "rear")


class TunnelReadings(Table):
    """The diameters of every tunnel, in three directions at either end."""

    vertical: Column


class EachTunnel(TwoPointSizes):
    """The sizes of each tunnel; its mean grades the shells."""

    mean_size: Column


class TunnelCentres(Table):
    """How far each tunnel's centre is off the line through the end tunnels."""

    misalignment: Column
    misalignment_sideways: Column | None

    @property
    def read(self) -> list[Column]:
        """The columns of what was read, upright and, where it was, sideways."""
        return [one for one in self.columns if isinstance(one, Reading)]


class CapHeights(Table):
    """The caps before they are cut; what the cut leaves of them stands in the budget."""

    height: Column


class TunnelRow(Form):
    """How far the sizes of the tunnels lie apart."""

    size_spread: Column


class MainTunnels:
    """The main tunnels in one state."""

    def __init__(
        self, measured: Measured, spec: Tunnels, before: MainTunnels | None = None
    ) -> None:
        self.measured, self.spec, self.sizes = measured, spec, measured.basis.sizes("tunnels")
        self.numbers = [str(one) for one in measured.basis.bearings()]
        self.readings = self._readings()
        self.centres = self._centres(spec.alignment) if spec.alignment else None
        self.caps = self._caps(spec.caps) if spec.caps and not before else None
        self.each = self._each()
        self.row = TunnelRow(
            key=self.measured.key("tunnel_row"),
            title=self.measured.title("The row of tunnels"),
            lines=[
                held(
                    self.sizes.result(
                        "size_spread",
                        "Largest less smallest",
                        tunnels.size_spread,
                        tunnel_sizes=[self.each.mean_size[number] for number in self.numbers],
                    ),
                    self.spec.spread,
                )
            ],
            fresh_in=self.readings.stale_with,
        )
        self.rest = [
            self._tapers(),
            *measured.route.assembly.at_reference(self.readings, self.each),
            self.row,
            self.centres,
            *self._line(self.centres, spec.alignment),
        ]
        answer(self.parts(), before.parts() if before else ())

    def sheet(self) -> Sheet:
        """The sheet of the main tunnels as received."""
        return Sheet(name="Tunnels", title="Main bearing tunnels", parts=self.parts())

    def parts(self) -> list[Table | Form]:
        """What is measured of the tunnels in this state."""
        return [part for part in (self.readings, self.caps, self.each, *self.rest) if part]

    def diameters(self, *directions: str) -> Callable[[str], list[Key]]:
        """What is read of a tunnel in these directions, at both ends."""
        read = [self.readings.column(one) for one in directions]
        return lambda row: [one[row, end] for end in ENDS for one in read]

    def origins(self, number: str, *directions: str) -> dict[str, tuple[str, Key]]:
        """What is read of a tunnel in these directions, at both ends, by names and words."""
        return {
            f"tunnel_{number}_{end}_{one}": (
                f"tunnel {number} {end}, {DIRECTIONS[one]}",
                self.readings.column(one)[number, end],
            )
            for end in ENDS
            for one in directions
        }

    def _rows(self, words: str) -> list[Row]:
        return [Row(number, f"{words} {number}") for number in self.numbers]

    def _readings(self) -> TunnelReadings:
        near = drawn(self.spec.size)
        read = [
            self.sizes.reading(
                name, words, near, "Bore gauge, cap torqued: 30 to 45° off the joint, never on it."
            )
            for name, words in DIRECTIONS.items()
        ]
        return TunnelReadings(
            key=self.measured.key("tunnels"),
            title=self.measured.title("Tunnel readings"),
            heading="Where",
            note="Three directions at the front and at the rear of each tunnel; tunnel 1 is "
            "nearest to cylinder 1.",
            sketch="tunnels",
            spoilers=self.measured.spoilers(),
            rows=[
                Row(row_key(number, end), f"Tunnel {number}, {end}")
                for number in self.numbers
                for end in ENDS
            ],
            columns=(
                *read,
                *limited(
                    self.sizes.result(
                        "out_of_round", "out of round", tunnels.tunnel_out_of_round, diameters=read
                    ),
                    self.spec.out_of_round,
                ),
            ),
        )

    def _each(self) -> EachTunnel:
        sizes, read = self.sizes, self.diameters(*DIRECTIONS)
        return EachTunnel(
            key=self.measured.key("tunnel"),
            title=self.measured.title("Each tunnel"),
            heading="Tunnel",
            note="Out of size decides: as it is, hone, caps cut and line bored, another cap, or "
            "reject.",
            fresh_in=self.readings.stale_with,
            rows=self._rows("Tunnel"),
            columns=(
                *ticked(
                    "torqued",
                    "cap torqued",
                    "Type done when the cap is on its own seat, the right way round, torqued.",
                ),
                *two_point_held(sizes, read, self.spec.size),
                sizes.result("mean_size", "mean size", bores.mean_size, diameters=read),
            ),
        )

    def _caps(self, spec: Caps) -> CapHeights:
        how = "Micrometer, joint face to the seat of the nuts, at the lower side."
        return CapHeights(
            key="caps",
            title="Height of the caps",
            heading="Cap",
            note="A cap cut before is lower; one below its least height is replaced, and bored "
            "with the others.",
            rows=self._rows("Cap"),
            columns=limited(self.sizes.reading("height", "height", spec.standard, how), spec.least),
        )

    def _tapers(self) -> Table:
        read = {words: self.readings.column(name) for name, words in DIRECTIONS.items()}
        tapers = (
            self.sizes.result(
                f"taper_{one.name}",
                words,
                tunnels.tunnel_taper,
                front=one.at("front"),
                rear=one.at("rear"),
            )
            for words, one in read.items()
        )
        return Table(
            key=self.measured.key("tunnel_taper"),
            title=self.measured.title("Taper of the tunnels"),
            heading="Tunnel",
            note="Front less rear, in each direction.",
            fresh_in=self.readings.stale_with,
            rows=self._rows("Tunnel"),
            columns=[item for taper in tapers for item in limited(taper, self.spec.taper)],
        )

    def _line(self, centres: TunnelCentres | None, spec: Alignment | None) -> Iterator[Form]:
        """How far the centres leave one line, where the spec holds that."""
        if centres is None or spec is None:
            return
        ways = {"": ("Highest less lowest off the line", centres.misalignment)}
        if centres.misalignment_sideways:
            ways["_sideways"] = ("Farthest left less farthest right", centres.misalignment_sideways)
        yield Form(
            key=self.measured.key("tunnel_line"),
            title=self.measured.title("The line of tunnels"),
            lines=[
                held(
                    self.sizes.result(
                        f"overall_misalignment{way}",
                        words,
                        tunnels.overall_misalignment,
                        misalignments=[off[number] for number in self.numbers],
                    ),
                    spec.overall,
                )
                for way, (words, off) in ways.items()
            ],
            fresh_in=centres.stale_with,
        )

    def _centres(self, spec: Alignment) -> TunnelCentres:
        place = self.sizes.given(
            "place", "from the front end face", lambda row: spec.places[int(row) - 1]
        )
        upright = self._off_the_line("", "centre", place, spec)
        sideways = self._off_the_line("_sideways", "to the left", place, spec)
        return TunnelCentres(
            key=self.measured.key("alignment"),
            title=self.measured.title("Line of the centres"),
            heading="Tunnel",
            note="How far each centre stands above (+) or below (-) a straight bar"
            f"{', and to the left (+) or right (-) of it' if spec.sideways else ''}; judged from "
            "the line through the end tunnels. Out of line decides: line bore.",
            spoilers=self.measured.spoilers(),
            rows=self._rows("Tunnel"),
            columns=(place, *upright, *(sideways if spec.sideways else ())),
        )

    def _off_the_line(
        self, way: str, words: str, place: Column, spec: Alignment
    ) -> Iterator[Column | Check]:
        """Where the centres were read in one direction, and how far each is off the line."""
        sizes, first, last = self.sizes, self.numbers[0], self.numbers[-1]
        centre = sizes.reading(
            f"centre{way}",
            f"{words} read",
            how="Indicator on a true bar.",
            possible=self.measured.signed("tunnels"),
        )
        misalignment = sizes.result(
            f"misalignment{way}",
            f"{words} off the line" if way else "off the line",
            tunnels.misalignment,
            centre=centre,
            front_centre=lambda _: centre[first],
            front_place=lambda _: place[first],
            rear_centre=lambda _: centre[last],
            rear_place=lambda _: place[last],
        )
        adjacent = sizes.result(
            f"adjacent{way}",
            "from the one before",
            tunnels.adjacent_misalignment,
            self.numbers[1:],
            misalignment=lambda row: misalignment[int(row) - 1],
            next_misalignment=misalignment,
        )
        yield from (centre, misalignment, *limited(adjacent, spec.adjacent))
