"""Banks off the line: how far the bores of two banks miss the crank line once it is bored anew."""

from __future__ import annotations

from datumbook.cells.basis import Basis
from datumbook.cells.tables import Form, held
from datumbook.equations.line_bore import bores_off_line
from datumbook.numbers.quantities import NO_LENGTH
from datumbook.stations.decided.line_boring import LineBoring


def banks_off_line(basis: Basis, boring: LineBoring) -> list[Form]:
    """What the line bore leaves between crank line and bores; nothing where the engine has one bank
    or its spec states no limit. The line rises straight, so that no bore is worse than its ends.
    """
    angle, most = basis.spec.engine.bank_angle, basis.heights.bores_off_line
    line = boring.counted
    if line is None or angle is None or most is None or len(basis.spec.rows) == 1:
        return []
    return [
        Form(
            key="banks_off_line",
            title="The bores of both banks and the crank line",
            note="A crank line that rises between the banks leaves the plane of their bores, of "
            "either bank by as much.",
            lines=[
                held(
                    basis.sizes("heights").result(
                        end,
                        f"Bores miss the crank line, {end}",
                        bores_off_line,
                        lift=rise,
                        towards_bank=NO_LENGTH,
                        bank_angle=angle,
                    ),
                    most,
                )
                for end, rise in (("front", line.front), ("rear", line.rear))
            ],
        )
    ]
