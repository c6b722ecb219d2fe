"""Mandrel: how far it lies off the middle of the tunnels while the heights are read over it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from datumbook.cells.columns import (
    Column,
    Influence,
    Input,
    Per,
    Result,
    Sizes,
    Uncertainty,
    typed_words,
)
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form
from datumbook.equations import bores, mandrels
from datumbook.numbers.quantities import NO_LENGTH, Quantity
from datumbook.stations.received.states import FINISHED, RECEIVED
from datumbook.stations.received.tunnels import ENDS, MainTunnels

WAYS = {"upright": ("vertical",), "across": ("left", "right")}


class MandrelSeat(Form):
    """Where the mandrel lies in the first and in the last tunnel."""

    def __init__(self, tunnels: MainTunnels, mandrel: Quantity) -> None:
        self.sizes, self.tunnels, self.measured = tunnels.sizes, tunnels, tunnels.measured
        self.size = self.sizes.given("size", "Mandrel", mandrel)
        self.lies = typed_words(
            "lies",
            "Mandrel lies in",
            "Where its weight or a spring puts it: up in the saddles or down in the caps.",
            choices=(mandrels.IN_SADDLES, mandrels.IN_CAPS),
        )
        self.lies.wanted = True
        self.seats: dict[str, Column] = {}
        self.read: dict[str, dict[str, tuple[str, Key]]] = {}
        self.off: dict[str, Column] = {}
        self.ends: dict[str, Column] = {}
        ends = zip(ENDS, (tunnels.numbers[0], tunnels.numbers[-1]), strict=True)
        lines = [line for end, number in ends for line in self._seat(end, number)]
        counts = {RECEIVED: "Plan counts", FINISHED: "What is judged of the heights counts"}
        super().__init__(
            key=self.measured.key("mandrel"),
            title=self.measured.title("The mandrel that heights are read over"),
            note="It does not fill a tunnel, and rests in a worn one off its middle. "
            f"{counts[self.measured.state]} from the middles of the tunnels.",
            lines=[self.size, self.lies, *lines],
        )

    def _seat(self, end: str, number: str) -> Iterator[Column]:
        """The tunnel at one end, and where the mandrel lies in it."""
        means = [
            self.sizes.result(
                f"{way}_{end}",
                f"Tunnel {way}, {end}",
                bores.mean_size,
                diameters=self.tunnels.diameters(*directions)(number),
            )
            for way, directions in WAYS.items()
        ]
        upright, across = means
        seat = self.sizes.result(
            f"seat_{end}",
            f"Its axis over the tunnel's centre, {end}",
            mandrels.mandrel_seat,
            mandrel_lies=self.lies,
            tunnel_size=upright,
            width_across=across,
            mandrel=self.size,
        )
        self.read[end] = self.tunnels.origins(number, *chain.from_iterable(WAYS.values()))
        self.seats[end] = seat
        unit, decimals = self.sizes.unit, self.sizes.decimals
        off = Uncertainty(
            name=f"seat_{end}_off", words="may be off by", unit=unit, decimals=decimals, of=seat
        )
        self.off[end] = Influence(
            name=f"{end}_off",
            words="taken as nothing",
            value=NO_LENGTH,
            unit=unit,
            decimals=decimals,
            may_be_off=off,
        )
        found = self.sizes.result(
            f"found_{end}", "as found", mandrels.seat_as_found, mandrel_seat=seat
        )
        self.ends[end] = self.sizes.result(
            end, "counted", mandrels.seat_counted, seat_as_found=found, seat_off=self.off[end]
        )
        yield from (*means, seat, off, self.off[end], found, self.ends[end])

    def origins(self) -> dict[str, tuple[str, Key]]:
        """What may be off of where it lies, by names and words."""
        return {f"mandrel_{end}": (f"mandrel {end}", one.key) for end, one in self.off.items()}


def over_centre(
    sizes: Sizes, name: str, words: str, face: str, height: Per[Input], seat: Per[Input]
) -> Result:
    """A height over the crank line, of the deck or of the bottom face, as read over a mandrel that
    lies beside the line.
    """
    over = mandrels.bottom_over_centre if face == "bottom" else mandrels.deck_over_centre
    return sizes.result(name, words, over, mandrel_seat=seat, **{f"{face}_height": height})
