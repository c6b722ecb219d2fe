"""Faces: how flat deck and bottom face are under a straight-edge and over a grid, how square the
deck stands to the bores.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Result, limited, typed_words
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Line, Row, Sheet, Table, cylinder_rows, held
from datumbook.equations import flatness
from datumbook.equations.clean_cuts import RESTS_ON_ENDS, ROCKS
from datumbook.spec import Limit
from datumbook.spec.features import FaceLimits, Squareness
from datumbook.stations.received.face_grid import Doubt, FaceGrid
from datumbook.stations.received.measured import Measured
from datumbook.stations.received.route import Route
from datumbook.stations.received.states import FINISHED, RECEIVED, answer

ALONG = {
    "left_edge": "Along the left edge",
    "right_edge": "Along the right edge",
    "left_diagonal": "From front left to rear right",
    "right_diagonal": "From front right to rear left",
}
ENDWISE = {"front_end": "Across the front end", "rear_end": "Across the rear end"}
EDGES_OF = {  # the corners between which each line is laid
    "left_edge": ("front_left", "rear_left"),
    "right_edge": ("front_right", "rear_right"),
    "left_diagonal": ("front_left", "rear_right"),
    "right_diagonal": ("front_right", "rear_left"),
    "front_end": ("front_left", "front_right"),
    "rear_end": ("rear_left", "rear_right"),
}


class StraightEdge(Table):
    """The gaps under the straight-edge, line by line."""

    gap_along: Column
    gap_across: Column
    edge_lies: Column

    def gap(self, line: str) -> Key:
        """The gap under the straight-edge along one line."""
        return self.gap_along[line] if line in ALONG else self.gap_across[line]


class SquarenessRead(Form):
    """How squareness is read."""

    swept_diameter: Column
    length: Column


class FaceFlatness:
    """How flat one face is in one state."""

    def __init__(
        self, name: str, feature: Measured, words: str, face: FaceLimits, doubt: Doubt
    ) -> None:
        self.feature, self.name, self.words = feature, name, words
        self.sizes, self.received = feature.basis.sizes("flatness"), feature.state is RECEIVED
        finished = None if self.received else face.finished
        self.gaps = StraightEdge(
            key=feature.key(self.name),
            title=feature.title(f"{self.words}: six lines under the straight-edge"),
            heading="Line",
            note="Dowels out, edges free of burrs; around each stud hole as well.",
            spoilers=feature.spoilers(),
            rows=[Row(key, line) for key, line in (ALONG | ENDWISE).items()],
            columns=(
                *limited(self._gap("along", list(ALONG)), finished or face.along),
                *limited(self._gap("across", list(ENDWISE)), finished or face.across),
                typed_words(
                    "edge_lies",
                    "the edge lies: on its ends, or rocks",
                    "How the straight-edge lies along this line; blank counts as a hollow.",
                    choices=(RESTS_ON_ENDS, ROCKS),
                    width=18,
                ),
            ),
        )
        self.grid = FaceGrid(feature, name, words, face.grid, doubt) if face.grid else None

    def parts(self) -> list[Table | Form]:
        """What is measured of the face; what it asks for only as received."""
        return [
            self.gaps,
            *([self._worst()] if self.received else []),
            *(self.grid.parts() if self.grid else ()),
        ]

    def _gap(self, way: str, lines: list[str]) -> Column:
        return self.sizes.reading(
            f"gap_{way}",
            f"gap {way}",
            how="The thinnest feeler that does not pass under the straight-edge; where none passes "
            "the thinnest there is.",
            possible=self.feature.gap("flatness"),
            rows=lines,
        )

    def _worst(self) -> Form:
        return Form(
            key=self.feature.key(f"{self.name}_worst"),
            title=self.feature.title(f"{self.words}: leave, stone or cut"),
            lines=(
                Line(
                    column=self.sizes.result(
                        "worst_gap",
                        "Worst gap",
                        flatness.worst_gap,
                        gaps=[self.gaps.gap(line) for line in EDGES_OF],
                    ),
                    note="about the least cut that cleans the face",
                ),
            ),
        )


class DeckSquareness:
    """How square the deck stands to the bores in one state: as finished where there is one before
    it.
    """

    def __init__(
        self, feature: Measured, spec: Squareness, before: DeckSquareness | None = None
    ) -> None:
        self.feature, self.before, self.sizes = feature, before, feature.basis.sizes("flatness")
        self.read: SquarenessRead = before.read if before else self._read(spec)
        self.lean = Table(
            key=feature.key("squareness"),
            title=feature.title("Deck square to the bores"),
            heading="Cylinder",
            note="Out of square decides: which face the boring bar is set from.",
            spoilers=feature.spoilers(),
            rows=cylinder_rows(feature.basis.cylinders()),
            columns=[*self._way("lengthwise", spec.lean), *self._way("crosswise", spec.lean)],
        )
        self.rear_face = self._rear_face(spec.rear_face) if spec.rear_face else None

    def parts(self) -> list[Table | Form]:
        """What is measured; how it is read is said only as received."""
        return [
            part
            for part in ((None if self.before else self.read), self.lean, self.rear_face)
            if part
        ]

    def _read(self, spec: Squareness) -> SquarenessRead:
        swept, length, given = spec.swept_diameter, spec.length, self.sizes.given
        return SquarenessRead(
            key="swept",
            title="How squareness is read",
            lines=(
                Line(column=given("swept_diameter", "Swept diameter", swept), note=swept.source),
                Line(
                    column=given("length", "Length the lean is judged over", length),
                    note=length.source,
                ),
            ),
        )

    def _way(self, way: str, limits: Limit) -> Iterator[Column | Check]:
        read = self.sizes.reading(
            way,
            f"reading {way}",
            how="Total reading of an indicator on a bar in the bore, swept on the deck.",
            possible=self.feature.gap("flatness"),
        )
        angle = Result(
            name=f"out_of_square_{way}",
            words=f"angle {way}",
            unit="deg",
            decimals=4,
            equation=flatness.out_of_square,
            inputs={"total_reading": read, "swept_diameter": self.read.swept_diameter},
        )
        yield from (
            read,
            angle,
            *limited(
                self.sizes.result(
                    f"lean_{way}",
                    f"lean {way}",
                    flatness.out_of_square_over,
                    length=self.read.length,
                    out_of_square=angle,
                ),
                limits,
            ),
        )

    def _rear_face(self, limits: Limit) -> Form:
        return Form(
            key=self.feature.key("rear_face"),
            title=self.feature.title("Rear face to the crank's axis"),
            fresh_in=self.lean.stale_with,
            lines=(
                held(
                    self.sizes.reading(
                        "run_out",
                        "Run-out of the rear face",
                        how="Total reading of an indicator swept by the crank or a bar in the "
                        "tunnels.",
                        possible=self.feature.gap("flatness"),
                    ),
                    limits,
                ),
            ),
            note="Too much decides: offset dowels, or skim.",
        )


class Faces:
    """The faces in one state; as finished, what the work has moved of those before."""

    def __init__(
        self, basis: Basis, route: Route, doubt: Doubt, before: Faces | None = None
    ) -> None:
        self.spec, state = basis.spec, FINISHED if before else RECEIVED
        self.cut_over = basis.has("heights")  # how the edge lies says what a cut must take off
        deck, bottom, square = (
            Measured(basis, route, name, state)
            for name in ("deck_flatness", "bottom_flatness", "squareness")
        )
        flat, squareness = self.spec.flatness, self.spec.squareness
        faces = [
            *((f"deck_flatness{one.suffix}", deck, one.title("Deck")) for one in self.spec.rows),
            ("bottom_flatness", bottom, "Bottom face"),
        ]
        self.flat = {
            name: FaceFlatness(name, feature, words, limits, doubt)
            for name, feature, words in faces
            if flat and (limits := flat.deck if feature is deck else flat.bottom)
            if feature.again or not before
        }
        self.square: DeckSquareness | None = (
            DeckSquareness(square, squareness, before.square if before else None)
            if squareness and (square.again or not before)
            else None
        )
        answer(self.parts(), before.parts() if before else ())

    def parts(self) -> list[Table | Form]:
        """What is measured of the faces."""
        square = self.square.parts() if self.square else []
        return [part for one in self.flat.values() for part in one.parts()] + square

    def sheet(self) -> Sheet:
        """The sheet of the faces as received."""
        found = {"flatness": self.spec.flatness, "squareness": self.spec.squareness}
        said = " and ".join(words for words, section in found.items() if section)
        return Sheet(
            name="Faces",
            title=f"{said.capitalize()} of the faces",
            parts=self.parts(),
            penned=[one.gaps for one in self.flat.values()] if self.cut_over else (),
        )
