"""Liners: how far they stand out of the deck, liner by liner and under each head, as received and
once the deck is cut.
"""

from __future__ import annotations

from collections.abc import Mapping

from datumbook.cells.columns import Check, Column, limited
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Sheet, Table, cylinder_rows, held
from datumbook.equations import clearances, liners
from datumbook.numbers.units import convert
from datumbook.spec.liners import Liners
from datumbook.stations.received.measured import Measured
from datumbook.stations.received.states import RECEIVED, answer

LINER_PLACES = {"front": "front", "right": "right", "rear": "rear", "left": "left"}
MOST_SHIMS = 2.0  # millimetres


class StandOuts(Table):
    """How far each liner stands out."""

    stand_out: Column


class LinerStandOuts:
    """What is measured of wet or flanged liners in one state; as finished only where the work has
    moved the deck.
    """

    def __init__(
        self, measured: Measured, spec: Liners, before: LinerStandOuts | None = None
    ) -> None:
        self.measured, self.spec, self.basis = measured, spec, measured.basis
        self.sizes = measured.basis.sizes("liners")
        self.counterbores = self._counterbores() if spec.kind == "flanged" else None
        self.each = self._each()
        heads = [
            [number for number in head if number in self.basis.lined()]
            for head in spec.heads or (bank.cylinders for bank in self.basis.spec.rows)
        ]
        self.heads = Form(
            key=measured.key("heads"),
            title=measured.title("Proudest less least proud liner under one head"),
            lines=[
                held(
                    self.sizes.result(
                        f"spread_{place}",
                        f"Head over cylinders {', '.join(map(str, cylinders))}",
                        liners.stand_out_spread,
                        stand_outs=[self.each.stand_out[number] for number in cylinders],
                    ),
                    spec.spread,
                )
                for place, cylinders in enumerate(heads, 1)
                if cylinders
            ],
            fresh_in=(self.counterbores or self.each).stale_with,
        )
        answer(self.parts(), before.parts() if before else ())

    def sheet(self) -> Sheet:
        """The sheet of the liners as received."""
        return Sheet(name="Liners", title="Cylinder liners", parts=self.parts())

    def parts(self) -> list[Table | Form]:
        """The parts of the sheet that are about the liners in this state."""
        return [part for part in (self.counterbores, self.each, self.heads) if part]

    def _counterbores(self) -> Table:
        sizes, spec, measured = self.sizes, self.spec, self.measured
        depths = [
            sizes.reading(
                place,
                words,
                spec.counterbore_depth,
                "Depth micrometer from the deck, half way across the ledge; ledge clean and bare.",
            )
            for place, words in LINER_PLACES.items()
        ]
        return Table(
            key=measured.key("counterbores"),
            title=measured.title("Counterbores for the flanges"),
            heading="Cylinder",
            note="Depth at four places round the ledge. Out of level decides: the ledge is cut "
            "true, and shims make up for it.",
            spoilers=measured.spoilers(),
            rows=cylinder_rows(self.basis.lined()),
            columns=(
                *depths,
                *limited(
                    sizes.result(
                        "ledge_spread",
                        "deepest less shallowest",
                        liners.ledge_spread,
                        ledge_depths=depths,
                    ),
                    spec.counterbore_spread,
                ),
            ),
        )

    def _each(self) -> StandOuts:
        measured, ledges = self.measured, self.counterbores
        columns = self._of_flange(ledges) if ledges else self._of_gauge()
        of_cut = " The deck cut of the plan counts as if no ledge were cut after it."
        return StandOuts(
            key=measured.key("liner"),
            title=measured.title("Stand-out of the liners"),
            heading="Cylinder",
            note="Liners bare of seals, held down evenly. Out decides: shims, another liner, or "
            f"the ledge cut deeper.{of_cut if measured.state is RECEIVED else ''}",
            spoilers=None if ledges else measured.spoilers(),
            fresh_in=ledges.stale_with if ledges else None,
            rows=cylinder_rows(self.basis.lined()),
            columns=(*columns, Check(of=columns[-1], limits=self.spec.stand_out)),
        )

    def _of_flange(self, ledges: Table) -> list[Column]:
        """Stand-out from the flange's thickness, its shims and the depth it sits in."""
        sizes, most = self.sizes, convert(MOST_SHIMS, "mm", self.basis.unit_of("liners"))
        how, depths = "Micrometer, the mean of four places.", [*map(ledges.column, LINER_PLACES)]
        return [
            sizes.reading("flange_height", "flange", self.spec.flange_thickness, how),
            sizes.reading("shims", "shims under it", how="0 if none.", possible=(0.0, most)),
            sizes.result(
                "counterbore_depth", "depth, mean", liners.ledge_depth, ledge_depths=depths
            ),
            sizes.result("stand_out", "stands out", clearances.stand_out),
        ]

    def _of_gauge(self) -> list[Column]:
        """Stand-out of a liner without a flange, read with an indicator on a bridge."""
        sizes, span = self.sizes, self.measured.signed("liners")
        read = [
            sizes.reading(
                place, words, how="Indicator on a bridge, set to zero on the deck.", possible=span
            )
            for place, words in LINER_PLACES.items()
        ]
        return [
            *read,
            sizes.result("stand_out", "stands out, mean", liners.ledge_depth, ledge_depths=read),
        ]

    def cut_as(self, deck_cuts: Mapping[int, Key]) -> None:
        """What the deck cut of the plan leaves of the stand-out, cylinder by cylinder."""
        self.each.extend(
            [
                self.sizes.result(
                    "stand_out_after",
                    "after the deck cut",
                    liners.stand_out_after,
                    deck_cut=lambda row: deck_cuts[int(row)],
                )
            ]
        )
