"""Stood on: whether a block that is cut parallel to its opposite face rocks on that face's crown.

Its twist is held beside it, on the bottom face after its cut and on the deck as received.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Line, Table
from datumbook.equations import clean_cuts
from datumbook.spec.features import FaceLimits
from datumbook.stations.decided.cuts import Cuts
from datumbook.stations.decided.face_cuts import FaceCut
from datumbook.stations.received.faces import ALONG, ENDWISE, Faces, StraightEdge

EDGE_WAYS = {"along": ALONG, "across": ENDWISE}


class StoodOn:
    """One face that the other is cut parallel to: its crown, and whether the block rocks on it."""

    def __init__(
        self,
        basis: Basis,
        gaps: StraightEdge,
        limits: FaceLimits,
        stood: FaceCut,
        cut: FaceCut,
        *,
        cut_before: bool,
    ) -> None:
        self.sizes, self.gaps, self.limits, self.cut = basis.sizes("flatness"), gaps, limits, cut
        self.words = stood.face.words.lower()
        crown = self.sizes.result(
            "crown",
            "crowned by",
            clean_cuts.crown_under_edge,
            gap=gaps.gap,
            edge_lies=gaps.edge_lies,
        )
        self.columns: list[Column] = [crown]
        if cut_before:
            left = self.sizes.result(
                "crown_left",
                "when it is stood on",
                clean_cuts.crown_left,
                crown=crown,
                parallel_to=stood.parallel_to.key,
            )
            self.columns.append(left)
        self.crowns = Table(
            key=f"{stood.face.name}_crowns",
            title=f"How far the {self.words} is crowned",
            heading="Line",
            note="The gap where the straight-edge rocks on the middle, or is not said to rest on "
            "its ends.",
            rows=gaps.rows,
            columns=self.columns,
        )
        self.form = Form(
            key=f"{stood.face.name}_stood_on",
            title=f"{stood.face.words} stood upon; where it rocks, cut it or shim it first",
            lines=list(self._lines()),
        )

    def answered_by_heights(self) -> list[Key]:
        """What no longer matters once the face that was cut is read again."""
        return [self.form.column(f"crown_{way}").key for way in EDGE_WAYS]

    def _lines(self) -> Iterator[Line]:
        for way, lines in EDGE_WAYS.items():
            yield Line(
                column=self.sizes.result(
                    f"crown_{way}",
                    f"Crown it stands on, {way}",
                    clean_cuts.crown_stood_on,
                    parallel_to=self.cut.parallel_to.key,
                    crowns=[self.columns[-1][line] for line in lines],
                ),
                limits=getattr(self.limits, way),
            )


def faces_stood_on(basis: Basis, cuts: Cuts, flat: Faces | None) -> list[StoodOn]:
    """The faces of a block with one deck that the straight-edge was laid on."""
    bottom, limits = cuts.bottom, basis.spec.flatness
    if bottom is None or flat is None or limits is None:
        return []
    deck = next(iter(cuts.banks.values())).deck
    faces = (("deck", limits.deck, deck, bottom), ("bottom", limits.bottom, bottom, deck))
    return [
        StoodOn(basis, found.gaps, most, stood, cut, cut_before=name == "bottom")
        for name, most, stood, cut in faces
        if most and (found := flat.flat.get(f"{name}_flatness"))
    ]
