"""Lines about the heights of one bank: its name in their keys, its words before theirs."""

from __future__ import annotations

from collections.abc import Mapping

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Equation, Input, Per, Result
from datumbook.cells.handles import Key
from datumbook.cells.tables import Line, held
from datumbook.equations import heights
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.spec import Limit
from datumbook.spec.block import Bank


class BankLines:
    """What makes the lines of one bank; `whole` where its deck lies over the bottom face, as in
    line.
    """

    def __init__(self, basis: Basis, bank: Bank) -> None:
        self.basis, self.bank, self.whole = basis, bank, not bank.key
        self.spec, self.sizes = basis.heights, basis.sizes("heights")
        self.unit = basis.unit_of("heights")

    @property
    def corner_places(self) -> tuple[Quantity, Quantity]:
        """Where the front and the rear corners are read, from the front end face."""
        along = self.spec.corners.along if self.spec.corners else ()
        return (along[0], along[1]) if along else (read_quantity("0 mm"), self.bank.deck_length)

    @property
    def corners_apart(self) -> tuple[Quantity, Quantity | None]:
        """How far apart the corners are read, along the block and across it; None where the spec
        does not say how far across.
        """
        front, rear = self.corner_places
        return rear - front, self.spec.corners.across if self.spec.corners else None

    def over_bores(self, name: str, words: str, corners: Mapping[str, Key]) -> Result:
        """A height over each bore of the bank, straight between the places of the corners."""
        place = dict(zip(map(str, self.bank.cylinders), self.bank.centres, strict=True))
        front, _ = self.corner_places
        along, _ = self.corners_apart
        return self.sizes.result(
            name,
            words,
            heights.deck_height_at,
            **corners,
            centre=lambda row: place[row] - front,
            deck_length=along,
        )

    def named(self, name: str) -> str:
        """A name with its bank, as it is in every state."""
        return f"{self.bank.key}_{name}" if self.bank.key else name

    def said(self, words: str) -> str:
        """A line's words with their bank."""
        return f"{self.bank.words}, {words[:1].lower()}{words[1:]}" if self.bank.key else words

    def given(self, name: str, words: str, value: Quantity | None, note: str = "") -> Line:
        """A line with a figure from the spec."""
        return Line(column=self.sizes.given(name, self.said(words), value), note=note)

    def line(
        self,
        name: str,
        words: str,
        equation: Equation,
        limits: Limit | None = None,
        note: str = "",
        **inputs: Per[Input],
    ) -> Line:
        """A value of a form, held against limits if there are any."""
        return held(self.sizes.result(name, self.said(words), equation, **inputs), limits, note)
