"""Tunnels: the main bearing bores with their caps torqued: size, shape, and whether they stand in
one line.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Check, Column, limited
from datumbook.cells.tables import Form, Line, Row, Sheet, Table
from datumbook.equations import tunnels
from datumbook.spec.features import Alignment, Caps, Tunnels
from datumbook.stations.received.features import drawn, ticked
from datumbook.stations.received.measured import Measured

DIRECTIONS = {
    "vertical": "square to the joint",
    "left": "off the joint to the left",
    "right": "off the joint to the right",
}
ENDS = ("front", "rear")


class TunnelReadings(Table):
    """The diameters of every tunnel, in three directions at either end."""

    vertical: Column


class EachTunnel(Table):
    """The mean size of each tunnel."""

    tunnel_size: Column


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
        self.measured, self.spec = measured, spec
        self.sizes, lined = measured.basis.sizes("tunnels"), spec.alignment
        self.numbers = [str(one) for one in measured.basis.bearings()]
        self.readings: TunnelReadings = self._readings(before.readings if before else None)
        self.caps = self._caps(spec.caps) if spec.caps and not before else None
        self.each: EachTunnel = self._each(before.each if before else None)
        self.tapers: Table = self._tapers(before.tapers if before else None)
        self.row: TunnelRow = self._row(before.row if before else None)
        self.centres: Table | None = (
            self._centres(lined, before.centres if before else None) if lined else None
        )
        self.line: Form | None = (
            self._line(self.centres, lined, before.line if before else None)
            if self.centres and lined
            else None
        )

    def sheet(self) -> Sheet:
        """The sheet of the main tunnels as received."""
        return Sheet(name="Tunnels", title="Main bearing tunnels", parts=self.parts())

    def parts(self) -> list[Table | Form]:
        """What is measured of the tunnels in this state."""
        parts: list[Table | Form | None] = [self.readings, self.caps, self.each, self.tapers]
        return [part for part in (*parts, self.row, self.centres, self.line) if part]

    def _rows(self, words: str) -> list[Row]:
        return [Row(number, f"{words} {number}") for number in self.numbers]

    def _readings(self, before: Table | None) -> TunnelReadings:
        spec, sizes = self.spec, self.sizes
        how = "Bore gauge, cap torqued: 30 to 45° off the joint, never on it."
        read = [
            sizes.reading(name, words, drawn(spec.size), how) for name, words in DIRECTIONS.items()
        ]
        out_of_round = sizes.result(
            "out_of_round", "out of round", tunnels.tunnel_out_of_round, diameters=read
        )
        return TunnelReadings(
            key=self.measured.key("tunnels"),
            title=self.measured.title("Tunnel readings"),
            heading="Where",
            note="Three directions at the front and at the rear of each tunnel; tunnel 1 is "
            "nearest to cylinder 1.",
            spoilers=self.measured.spoilers(),
            rows=[
                Row(f"{number}.{end}", f"Tunnel {number}, {end}")
                for number in self.numbers
                for end in ENDS
            ],
            columns=(*read, *self.measured.limited(out_of_round, spec.out_of_round, before)),
        )

    def _each(self, before: Table | None) -> EachTunnel:
        read = [self.readings.column(name) for name in DIRECTIONS]
        seated = "Type done when the cap is on its own seat, the right way round, torqued."
        size = self.sizes.result(
            "tunnel_size",
            "mean size",
            tunnels.tunnel_size,
            diameters=lambda row: [one[row, end] for end in ENDS for one in read],
        )
        return EachTunnel(
            key=self.measured.key("tunnel"),
            title=self.measured.title("Each tunnel"),
            heading="Tunnel",
            note="Out of size decides: as it is, hone, caps cut and line bored, another cap, or "
            "reject.",
            fresh_in=self.readings.stale_with,
            rows=self._rows("Tunnel"),
            columns=(
                *ticked("torqued", "cap torqued", seated, before),
                *self.measured.limited(size, self.spec.size, before),
            ),
        )

    def _caps(self, spec: Caps) -> CapHeights:
        how = "Micrometer, joint face to the seat of the nuts, at the lower side."
        height = self.sizes.reading("height", "height", spec.standard, how)
        return CapHeights(
            key="caps",
            title="Height of the caps",
            heading="Cap",
            note="A cap cut before is lower; one below its least height is replaced, and bored "
            "with the others.",
            rows=self._rows("Cap"),
            columns=limited(height, spec.least),
        )

    def _tapers(self, before: Table | None) -> Table:
        return Table(
            key=self.measured.key("tunnel_taper"),
            title=self.measured.title("Taper of the tunnels"),
            heading="Tunnel",
            note="Front less rear, in each direction.",
            fresh_in=self.readings.stale_with,
            rows=self._rows("Tunnel"),
            columns=tuple(self._taper_columns(before)),
        )

    def _taper_columns(self, before: Table | None) -> Iterator[Column | Check]:
        for name, words in DIRECTIONS.items():
            read = self.readings.column(name)
            taper = self.sizes.result(
                f"taper_{name}",
                words,
                tunnels.tunnel_taper,
                front=read.at("front"),
                rear=read.at("rear"),
            )
            yield from self.measured.limited(taper, self.spec.taper, before)

    def _centres(self, spec: Alignment, before: Table | None) -> Table:
        sizes, numbers = self.sizes, self.numbers
        first, last = numbers[0], numbers[-1]
        place = sizes.given(
            "place", "from the front end face", lambda row: spec.places[int(row) - 1]
        )
        centre = sizes.reading(
            "centre",
            "centre read",
            how="Indicator on a true bar.",
            possible=self.measured.signed("tunnels"),
        )
        misalignment = sizes.result(
            "misalignment",
            "off the line",
            tunnels.misalignment,
            front_centre=lambda _: centre[first],
            front_place=lambda _: place[first],
            rear_centre=lambda _: centre[last],
            rear_place=lambda _: place[last],
        )
        adjacent = sizes.result(
            "adjacent",
            "from the one before",
            tunnels.adjacent_misalignment,
            numbers[1:],
            misalignment=lambda row: misalignment[int(row) - 1],
            next_misalignment=misalignment,
        )
        return Table(
            key=self.measured.key("alignment"),
            title=self.measured.title("Line of the centres"),
            heading="Tunnel",
            note="How far each centre stands above (+) or below (-) a straight bar; judged from "
            "the line through the end tunnels. Out of line decides: line bore.",
            spoilers=self.measured.spoilers(),
            rows=self._rows("Tunnel"),
            columns=(
                place,
                centre,
                misalignment,
                *self.measured.limited(adjacent, spec.adjacent, before, numbers[1:]),
            ),
        )

    def _row(self, before: Form | None) -> TunnelRow:
        spread = self.sizes.result(
            "size_spread",
            "Largest less smallest",
            tunnels.size_spread,
            tunnel_sizes=[self.each.tunnel_size[number] for number in self.numbers],
        )
        return TunnelRow(
            key=self.measured.key("tunnel_row"),
            title=self.measured.title("The row of tunnels"),
            lines=[self.measured.judged(Line(column=spread), self.spec.spread, before)],
            fresh_in=self.readings.stale_with,
        )

    def _line(self, centres: Table, spec: Alignment, before: Form | None) -> Form:
        overall = self.sizes.result(
            "overall_misalignment",
            "Highest less lowest off the line",
            tunnels.overall_misalignment,
            misalignments=[centres.column("misalignment")[number] for number in self.numbers],
        )
        return Form(
            key=self.measured.key("tunnel_line"),
            title=self.measured.title("The line of tunnels"),
            lines=[self.measured.judged(Line(column=overall), spec.overall, before)],
            fresh_in=centres.stale_with,
        )
