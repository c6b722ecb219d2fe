"""Registers: how tight each main bearing cap sits in the block, at either end."""

from __future__ import annotations

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, limited
from datumbook.cells.tables import Prose, Row, Sheet, Table
from datumbook.equations import tunnels
from datumbook.spec import limit
from datumbook.spec.named import Registers
from datumbook.standards import table
from datumbook.standards.clearances import usual_clearance
from datumbook.stations.received.features import middle
from datumbook.stations.received.tunnels import ENDS


class CapRegisters:
    """The registers of the caps; no operation of the route moves them."""

    def __init__(self, basis: Basis, spec: Registers) -> None:
        self.basis, self.spec, self.sizes = basis, spec, basis.sizes("tunnels")
        low, high, source = usual_clearance("register")
        self.limit = spec.interference or limit(source, low=low, high=high)

    def sheet(self) -> Sheet:
        """The sheet of the registers."""
        lines = [(line,) for line in table("clearances")["cautions"]["register"]]
        fits = Table(
            key="registers",
            title="Caps in their registers",
            heading="Cap",
            note="Cap less block, at either end. Loose decides: cut the register again, or dowel.",
            rows=[Row(str(one), f"Cap {one}") for one in self.basis.bearings()],
            columns=[column for end in ENDS for column in self._end(end)],
        )
        return Sheet(
            name="Registers",
            title="Registers of the main bearing caps",
            parts=(Prose(title="What to mind", lines=lines), fits),
        )

    def _end(self, end: str) -> tuple[Column | Check, ...]:
        sizes, width = self.sizes, self.spec.width
        tight = middle(self.limit)
        block = sizes.reading(
            f"block_{end}", f"block, {end}", width, "Inside micrometer, caps off, clean and dry."
        )
        cap = sizes.reading(
            f"cap_{end}", f"cap, {end}", width + tight, "Micrometer over the cap's flanks."
        )
        fit = sizes.result(
            f"interference_{end}",
            f"tight by, {end}",
            tunnels.register_interference,
            cap_width=cap,
            block_width=block,
        )
        return (block, cap, *limited(fit, self.limit))
