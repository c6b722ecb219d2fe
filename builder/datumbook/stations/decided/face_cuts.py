"""Face cuts: what a face may be cut parallel to, the least cut that cleans it each way, and what
the cut intended leaves at every corner.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from datumbook.cells.columns import Column, Input, Per, Result, Sizes, Uncertainty
from datumbook.cells.handles import Handle, Key
from datumbook.cells.tables import Form, Line, Row, Table
from datumbook.equations import clean_cuts, faces, heights
from datumbook.numbers.quantities import NO_LENGTH
from datumbook.stations.decided.face_corners import (
    HOLLOWS_UNREAD,
    SET_UPS,
    CutCounted,
    CutIntended,
    FaceAtCorners,
    FaceToCut,
    SetUpsCompared,
    SetUpsMeasured,
)
from datumbook.stations.decided.leaning import Origins, leaning
from datumbook.stations.decided.work_off import WorkOff
from datumbook.stations.received.bank_lines import BankLines
from datumbook.stations.received.deck_heights import CORNERS, turned
from datumbook.stations.received.faces import EDGES_OF, StraightEdge

STOOD = (
    "\nOpposite face: a shim under each corner, trued to the heights read; bare, it rests on three "
    "and no forecast holds."
)
TILTED = {"lengthwise": "along", "crosswise": "across"}  # as it stands over a column
ASKING = list(EDGES_OF)[:-1]  # the last line asks where no other does


class EdgesLaid(Table):
    """How low the face may be along each line of the straight-edge, for each set-up."""


class FaceCut(FaceAtCorners):
    """The cut of one face: what it may be parallel to, what is intended, and what that rests on."""

    def __init__(self, lines: BankLines, face: FaceToCut, work: WorkOff) -> None:
        super().__init__(lines, face, work)
        self.edges = self._edges(face.gaps) if face.gaps else None
        # one place more, lest what surely cleans be printed as less than it is
        self.fine = Sizes(lines.unit, lines.basis.decimals_of("heights") + 1)
        self.measured = self._measured()
        self.compared = self._compared()
        self.leanings = list(self._leanings())
        self.form, self.counted = self._form(), self._counted()

    def decisions(self) -> list[Table | Form]:
        """What is weighed and decided about this cut."""
        return [self.compared, self.form]

    def workings(self) -> list[Table | Form]:
        """What that is worked out from, corner by corner and line by line."""
        parts = (self.corners, self.edges, self.measured, self.counted, self.off, *self.leanings)
        return [part for part in parts if part]

    def _leanings(self) -> Iterator[Table]:
        """What moves the face after its cut, and the least cut that cleans it."""
        words, rows = self.face.words.lower(), self.corners.rows
        title, named = self.lines.bank.title, self.lines.named
        name, above = self.face.name, self.above.get("opposite")
        read: Origins = {**self.face.read, **(self._below() if above else {})}
        yield leaning(
            named(f"{name}_leaning"),
            title(f"What moves the {words} after its cut"),
            rows,
            self.corners.after,
            self.origins(),
        )
        if above is not None:
            yield leaning(
                named(f"{name}_above_leaning"),
                title(f"What moves the {words} over the face it stands on"),
                rows,
                above,
                read,
            )
        gaps = self.face.gaps
        lines = (
            {f"gap_{line}": (f"gap {line}", gaps.gap(line)) for line in EDGES_OF} if gaps else {}
        )
        yield leaning(
            named(f"{name}_least_leaning"),
            title(f"What moves the least infeed of the {words}"),
            self.compared.rows,
            self.measured.infeed_that_cleans,
            {**read, **lines},
        )

    def _edges(self, gaps: StraightEdge) -> EdgesLaid:
        return EdgesLaid(
            key=self.lines.named(f"{self.face.name}_edges"),
            title=self.lines.bank.title(f"How low the {self.face.words.lower()} may lie"),
            heading="Line",
            note="The lower end of the line less the hollow under the straight-edge, over what the "
            "cut is parallel to. Between the lines and beyond the corners nothing was laid and "
            "nothing is seen: of ten hollow faces one or two want a little more than is suggested.",
            rows=gaps.rows,
            columns=[self._under(set_up, gaps) for set_up in self.set_ups],
        )

    def _under(self, set_up: str, gaps: StraightEdge) -> Result:
        above = self.above[set_up]
        return self.sizes.result(
            f"under_{set_up}",
            f"over the {SET_UPS[set_up].removeprefix('the ')}",
            clean_cuts.under_edge,
            above_base=lambda row: above[EDGES_OF[row][0]],
            other_above_base=lambda row: above[EDGES_OF[row][1]],
            gap=gaps.gap,
            edge_lies=gaps.edge_lies,
        )

    def _measured(self) -> SetUpsMeasured:
        sizes = self.sizes
        return SetUpsMeasured(
            key=self.lines.named(f"{self.face.name}_over"),
            title=self.lines.bank.title(f"{self.face.words}: its corners over what it is cut to"),
            heading="Parallel to",
            rows=[Row(one, SET_UPS[one]) for one in self.set_ups],
            columns=(
                sizes.result(
                    "lowest_above_base",
                    "lowest corner",
                    heights.lowest_corner,
                    corners=self._all_above,
                ),
                sizes.result(
                    "highest_above_base", "highest", faces.highest_corner, corners=self._all_above
                ),
                sizes.result(
                    "infeed_that_cleans",
                    "infeed that cleans" if self.hollows_read else "infeed, corners",
                    clean_cuts.infeed_that_cleans,
                    least_cut=lambda row: self.compared.least_cut[row],
                ),
            ),
        )

    def _compared(self) -> SetUpsCompared:
        sizes, rows, measured = self.sizes, self.set_ups, self.measured
        least = sizes.result(
            "least_cut",
            "cleans at" if self.hollows_read else "corners at",
            clean_cuts.least_cut,
            lowest_above_base=lambda row: measured.lowest_above_base[row],
            under_edges=self._all_under,
        )
        off = Uncertainty(
            name="may_be_off",
            words="± of that",
            unit=self.fine.unit,
            decimals=self.fine.decimals,
            of=measured.infeed_that_cleans,
        )
        asked = Result(
            name="asked_by",
            words="asked by",
            unit=None,
            width=26,
            equation=clean_cuts.asked_by,
            inputs={
                "lowest_above_base": lambda row: measured.lowest_above_base[row],
                **{line: self._under_at(line) for line in ASKING},
            },
        )
        return SetUpsCompared(
            key=self.lines.named(f"{self.face.name}_set_ups"),
            title=self.lines.bank.title(f"{self.face.words}: what it may be cut parallel to"),
            heading="Parallel to",
            note=self._compared_note() + (STOOD if "opposite" in rows else ""),
            rows=[Row(one, SET_UPS[one]) for one in rows],
            columns=(
                least,
                off,
                self.fine.result(
                    "suggested",
                    "surely at" if self.hollows_read else "and its ±",
                    clean_cuts.cut_with_margin,
                    uncertainty=off,
                ),
                *self._tilt("lengthwise"),
                *self._tilt("crosswise"),
                *([asked] if self.face.gaps else ()),
            ),
        )

    def _compared_note(self) -> str:
        if self.hollows_read:
            return "Metal off the lowest corner. Surely: what cleans and its ±. Tilt: what is left."
        return f"Off the lowest corner; {HOLLOWS_UNREAD}."

    def _all_above(self, row: str) -> list[Key]:
        return [self.above[row][corner] for corner in CORNERS]

    def _under_of(self, row: str) -> Handle:
        assert self.edges is not None  # a face without them asks for nothing
        return self.edges.column(f"under_{row}")

    def _under_at(self, line: str) -> Callable[[str], Key]:
        return lambda row: self._under_of(row)[line]

    def _all_under(self, row: str) -> list[Key]:
        return [self._under_of(row)[line] for line in EDGES_OF] if self.edges else []

    def _tilt(self, way: str) -> tuple[Column, ...]:
        """What each set-up leaves as tilt to the crank line: none parallel to it, the face's own,
        or that of the face it stands on turned round.
        """
        name, words, plane = f"tilt_{way}", f"tilt {TILTED[way]}", self.corners.plane
        clocked, level = self.face.clocked, [] if self.face.clocked else ["axis"]

        def left(row: str) -> Callable[[str], Input]:
            if row == "axis" and clocked:
                return lambda corner: clocked[corner]
            if row == "itself":
                return lambda corner: plane[corner]
            # deck and bottom face look away from each other: what stands high turns the other low
            return lambda corner: self.corners.column("rests")[_mirrored(corner, way)]

        equation = heights.tilt_lengthwise if way == "lengthwise" else heights.tilt_crosswise
        worked = self.sizes.result(
            name,
            words,
            equation,
            [row for row in self.set_ups if row not in level],
            **{corner: (lambda row, at=corner: left(row)(at)) for corner in CORNERS},
        )
        if not level:
            return (worked,)
        return self.sizes.given(name, words, NO_LENGTH, rows=level), worked

    def _form(self) -> CutIntended:
        said, words = self.lines.said, self.face.words
        choices = "; ".join((faces.NOT_CUT, *(SET_UPS[one] for one in self.set_ups)))

        def counted(name: str) -> Per[Input]:
            return lambda _: self.counted.column(name)

        lowest, highest = counted("lowest_above_base"), counted("highest_above_base")
        surely, clean = "Surely cleans at", clean_cuts.whether_clean
        if not self.hollows_read:
            surely, clean = "Least by the corners", clean_cuts.whether_corners_clean
        return CutIntended(
            key=self.lines.named(f"{self.face.name}_cut"),
            title=self.lines.bank.title(f"{words}: the cut intended"),
            note=f"Cut parallel to: {choices}." if self.asked else "",
            lines=(
                self.parallel_to,
                self._as_set_up("suggested", said(surely)),
                self.cut,
                Line(
                    column=self.sizes.result(
                        "infeed",
                        said("Infeed from the touch"),
                        faces.infeed,
                        cut_taken=counted("cut_taken"),
                        highest_above_base=highest,
                        lowest_above_base=lowest,
                    ),
                    note="touch on the highest corner, named below",
                ),
                self._corner("touch_on", "Touch on", highest),
                self._corner("counted_off", "Lowest corner", lowest),
                Result(
                    name="cleans",
                    words=said(f"Whole {words.lower()}"),
                    equation=clean,
                    inputs={"cut_taken": counted("cut_taken"), "least_cut": counted("least_cut")},
                ),
            ),
        )

    def _corner(self, name: str, words: str, height: Per[Input]) -> Result:
        """Which corner stands at this height over what the cut is parallel to."""
        over = {corner: self.over[corner] for corner in list(CORNERS)[:-1]}
        inputs = {"height": height, **over}
        words = self.lines.said(words)
        return Result(name=name, words=words, equation=clean_cuts.corner_at, inputs=inputs)

    def _counted(self) -> CutCounted:
        said, words = self.lines.said, self.face.words.lower()
        over = [self.over[corner] for corner in CORNERS]
        return CutCounted(
            key=self.lines.named(f"{self.face.name}_counted"),
            title=self.lines.bank.title(f"What the cut of the {words} comes to"),
            lines=(
                self._as_set_up(
                    "least_cut", said("Cleans at" if self.hollows_read else "Corners clean at")
                ),
                self.sizes.result(
                    "cut_taken",
                    said("Cut counted"),
                    faces.cut_taken,
                    parallel_to=self.parallel_to,
                    cut=self.cut,
                ),
                self.sizes.result(
                    "lowest_above_base",
                    said("Lowest corner over it"),
                    heights.lowest_corner,
                    corners=over,
                ),
                self.sizes.result(
                    "highest_above_base",
                    said("Highest corner over it"),
                    faces.highest_corner,
                    corners=over,
                ),
                self.sizes.result(
                    "most_taken",
                    said("Most metal off a corner"),
                    faces.most_taken,
                    taken=[self.corners.taken[corner] for corner in CORNERS],
                ),
                self.sizes.result(
                    "most_gone",
                    said("Most metal gone at a corner since its drawing"),
                    faces.most_taken,
                    taken=[self.corners.gone[corner] for corner in CORNERS],
                ),
            ),
        )

    def _as_set_up(self, name: str, words: str) -> Result:
        """The figure of the set-up chosen."""
        each = self.compared.column(name)
        found = {f"along_{one}": each[one] for one in self.set_ups}
        equation = clean_cuts.as_set_up if self.face.rests else clean_cuts.as_set_up_by_itself
        return self.fine.result(name, words, equation, parallel_to=self.parallel_to, **found)


def _mirrored(corner: str, way: str) -> str:
    """The corner at the other end of a tilt, which the opposite face has the other way round."""
    return turned(corner, (way == "lengthwise", way == "crosswise"))
