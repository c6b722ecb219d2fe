"""Piston stacks: how high each crown stands over the crank line at the top of its stroke, from the
parts in hand as soon as they are measured, from the drawing until then.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column, Input, Per, Result
from datumbook.cells.handles import Key
from datumbook.cells.tables import Table, cylinder_rows
from datumbook.equations import crowns, heights
from datumbook.stations.decided.parts import PartsMeasured


class StacksInHand(Table):
    """Each piston at the top of its stroke, and where its sizes are from."""

    stroke: Column
    piston_stack: Column
    fitted_stack: Column
    sizes_from: Column
    measured: Sequence[Column]

    def origins(self, cylinders: Iterable[int]) -> dict[str, tuple[str, Key]]:
        """What is read of the parts of these cylinders, by names and words."""
        return {
            f"{column.name}_{one}": (f"{column.words} {one}", column[one])
            for column in self.measured
            for one in cylinders
        }


def piston_stacks(basis: Basis, parts: PartsMeasured | None) -> StacksInHand:
    """Every cylinder's piston at the top, one value for plan, budget and fits."""
    sizes, drawn = basis.sizes("heights"), basis.heights
    columns: list[Column] = []
    read: list[Column] = []
    fitted: dict[str, Per[Input]] = {}
    for name, words, size, measured in (
        ("stroke", "stroke", basis.stroke, parts.strokes() if parts else None),
        (
            "rod_length",
            "rod",
            drawn.rod_length,
            parts.rods.rod_length if parts and parts.rods else None,
        ),
        (
            "compression_height",
            "pin to crown",
            drawn.compression_height,
            parts.pistons.compression_height if parts and parts.pistons else None,
        ),
    ):
        fitted[name] = measured.__getitem__ if measured else size
        if measured is None:
            columns.append(sizes.given(name, words, size))
            continue
        throws = parts.throws if parts and name == "stroke" else None
        read.append(throws.throw if throws else measured)
        columns.append(
            sizes.result(name, words, crowns.in_hand, measured=measured.__getitem__, drawn=size)
        )
    found = StacksInHand(
        key="piston_stack",
        title="Pistons at the top",
        heading="Cylinder",
        note="Half the stroke, the rod, and pin to crown: the parts in hand as soon as they are "
        "measured, the drawing's until then. What is fitted is judged with all that is to be "
        "measured.",
        rows=cylinder_rows(basis.cylinders()),
        columns=(
            *columns,
            sizes.result("piston_stack", "crank line to crown", heights.piston_stack),
            sizes.result("fitted_stack", "all measured", heights.piston_stack, **fitted),
            Result(
                name="sizes_from",
                words="sizes from",
                unit=None,
                width=16,
                equation=crowns.sizes_from,
                inputs={"measured": lambda row: [of[row] for of in read]},
            ),
        ),
    )
    found.measured = read
    return found
