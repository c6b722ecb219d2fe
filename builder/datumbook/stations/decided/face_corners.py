"""Face corners: one face at its corners, what it is set up on, and where the cut leaves it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from datumbook.cells.columns import (
    Column,
    Input,
    Per,
    Reading,
    Result,
    Uncertainty,
    typed_words,
    words,
)
from datumbook.cells.handles import Handle, Key
from datumbook.cells.tables import Form, Row, Table
from datumbook.equations import faces, heights
from datumbook.equations.standings import shown_again
from datumbook.numbers.quantities import NO_LENGTH, Quantity
from datumbook.numbers.units import convert
from datumbook.stations.decided.line_boring import MOST_CUT
from datumbook.stations.decided.work_off import CutOff, WorkOff
from datumbook.stations.received.bank_lines import BankLines
from datumbook.stations.received.deck_heights import CORNERS, turned
from datumbook.stations.received.faces import StraightEdge

HOLLOWS_UNREAD = "hollows not read: look with a straight-edge first; a hollow adds its depth"
SET_UPS = {"axis": faces.ALONG_AXIS, "itself": faces.ALONG_ITSELF, "opposite": faces.ALONG_OPPOSITE}


OFF_AT = {
    "front_left": faces.off_at_front_left,
    "front_right": faces.off_at_front_right,
    "rear_left": faces.off_at_rear_left,
    "rear_right": faces.off_at_rear_right,
}


class CutIntended(Form):
    """The cut intended on one face, and what the machinist sets."""

    parallel_to: Column
    suggested: Column
    cut: Column
    infeed: Column
    touch_on: Column
    counted_off: Column
    cleans: Column


class CutCounted(Form):
    """What the cut intended on one face comes to."""

    least_cut: Column
    cut_taken: Column
    lowest_above_base: Column
    highest_above_base: Column
    most_taken: Column
    most_gone: Column


class SetUpsMeasured(Table):
    """How high the corners stand over what the cut may be parallel to."""

    lowest_above_base: Column
    highest_above_base: Column
    infeed_that_cleans: Column


class SetUpsCompared(Table):
    """What the cut may be parallel to, side by side."""

    least_cut: Column
    may_be_off: Column
    suggested: Column
    tilt_lengthwise: Column
    tilt_crosswise: Column


class CornersCut(Table):
    """One face at its corners, before the cut and after it."""

    before: Column
    plane: Column
    after: Column
    taken: Column
    gone: Column


@dataclass(frozen=True)
class FaceToCut:
    """A face to be cut: its name in keys, its words, and its heights over the crank line before the
    cut, the last of the columns; `rests` is the plane of the face it can be stood on, by corner.
    Beside them its height as drawn, and over the crank line as received.
    """

    name: str
    words: str
    before: Sequence[Column]
    drawn: Quantity
    received: Handle
    read: Mapping[str, tuple[str, Key]]  # every reading under them, by names and words
    rests: Callable[[str], Key] | None = None
    gaps: StraightEdge | None = None
    clocked: Column | None = None  # where the mandrel lies when it is cut, beside the crank line
    on: FaceAtCorners | None = (
        None  # the cut of the face it can be stood on, where that comes first
    )


class FaceAtCorners:
    """One face at its corners, as it is set up and cut."""

    form: CutIntended
    counted: CutCounted

    def __init__(self, lines: BankLines, face: FaceToCut, work: WorkOff) -> None:
        self.lines, self.face, self.sizes = lines, face, lines.sizes
        self.off = CutOff(
            lines.basis,
            lines.named(f"{face.name}_cut_off"),
            lines.bank.title(f"{face.words}: what its cut may be off, taken as nothing"),
            work,
        )
        self.set_ups = [one for one in SET_UPS if one != "opposite" or face.rests]
        self.parallel_to, self.cut = self._decided(
            lines.said(f"{face.words} cut parallel to"),
            lines.said(f"{face.words} cut, lowest corner"),
        )
        self.corners = self._corners()

    @property
    def hollows_read(self) -> bool:
        """Whether a straight-edge is laid on this face; else its corners are all that is known."""
        return self.face.gaps is not None

    @property
    def asked(self) -> bool:
        """Whether this job may cut the face at all."""
        return isinstance(self.parallel_to, Reading)

    def _decided(self, set_up: str, cut: str) -> tuple[Column, Column]:
        """What the face is cut parallel to, and how much: given where the job leaves it alone and
        cuts elsewhere, offered where it cuts nothing.
        """
        basis, sizes = self.lines.basis, self.lines.basis.decisions("heights")
        done = basis.does({"bottom": "bottom_face"}.get(self.face.name, self.face.name))
        if basis.scope.cuts and not done:
            return words("parallel_to", set_up, faces.NOT_CUT), sizes.given("cut", cut, NO_LENGTH)
        parallel_to = typed_words(
            "parallel_to",
            set_up,
            "What it is set up on; not cut where it stays as it is.",
            choices=(faces.NOT_CUT, *(SET_UPS[one] for one in self.set_ups)),
            width=13,
        )
        parallel_to.wanted = done
        return parallel_to, sizes.reading(
            "cut",
            cut,
            how="Metal off the lowest corner as the block is set up; blank where not cut.",
            possible=(0.0, convert(MOST_CUT, "mm", self.lines.unit)),
            wanted=False,
        )

    def after(self, corner: str) -> Key:
        """The height of one corner after the cut."""
        return self.corners.after[corner]

    def stood_on(self) -> Callable[[str], Key]:
        """The plane on which the block rests when it stands on this face after its cut."""
        after = self.corners.after
        plane = self._plane("plane_after", "plane after", after)
        self.corners.extend([plane])
        return lambda corner: plane[corner]

    def _plane(self, name: str, words: str, height: Column) -> Result:
        return self.sizes.result(
            name,
            words,
            faces.on_plane,
            height=height,
            next_along=lambda row: height[turned(row, (True, False))],
            next_across=lambda row: height[turned(row, (False, True))],
            opposite=lambda row: height[turned(row, (True, True))],
        )

    def _corners(self) -> CornersCut:
        sizes, before = self.sizes, self.face.before[-1]
        plane = self._plane("plane", "its plane", before)
        columns: list[Column] = [*self.face.before, plane]
        chosen: dict[str, Per[Input]] = {
            "parallel_to": self.parallel_to,
            "height": before,
            "plane": plane,
        }
        above = {"axis": before}
        if self.face.clocked:
            above["axis"] = sizes.result(
                "above_axis",
                "over the mandrel",
                heights.above_lowest,
                height=before,
                lowest_corner=self.face.clocked,
            )
            columns.append(above["axis"])
        if self.face.rests:
            rests = sizes.result("rests", "stands on", shown_again, value=self.face.rests)
            above["opposite"] = sizes.result(
                "above_opposite", "over that", faces.above_base, height=before, base=rests
            )
            base = sizes.result("base", "parallel to", faces.base, opposite_plane=rests, **chosen)
            columns += (rests, above["opposite"])
        else:
            base = sizes.result("base", "parallel to", faces.base_without_opposite, **chosen)
        if self.face.clocked:
            base.name = "base_of_line"
            columns.append(base)
            base = sizes.result(
                "base",
                "as clocked",
                faces.base_clocked,
                parallel_to=self.parallel_to,
                base=base,
                mandrel_when_cut=self.face.clocked,
            )
        above["itself"] = sizes.result(
            "above_itself",
            "over its plane",
            heights.above_lowest,
            height=before,
            lowest_corner=plane,
        )
        over = sizes.result("above", "over it", faces.above_base, height=before, base=base)
        self.above, self.over = above, over
        off = [
            sizes.result(
                "work_off",
                "work off",
                equation,
                [corner],
                touch_on=lambda _: self.form.touch_on,
                **self.off.influences,
            )
            for corner, equation in OFF_AT.items()
        ]
        after = sizes.result(
            "after",
            "after the cut",
            faces.height_after,
            parallel_to=self.parallel_to,
            highest_above_base=lambda _: self.counted.highest_above_base,
            infeed=lambda _: self.form.infeed,
            base=base,
            work_off=off[0],
        )
        taken = sizes.result(
            "taken", "metal off", heights.metal_removed, standard_height=before, height=after
        )
        words = self.face.words.lower()
        return CornersCut(
            key=self.lines.named(f"{self.face.name}_corners"),
            title=self.lines.bank.title(f"The {words} at its corners, before the cut and after it"),
            heading="Corner",
            rows=[Row(key, self.lines.said(said)) for key, said in CORNERS.items()],
            columns=(*columns, above["itself"], base, over, *off, after, taken, *self._gone(taken)),
        )

    def _gone(self, taken: Column) -> tuple[Column, ...]:
        """How much metal the face has lost since its drawing once it is cut, corner by corner: what
        every depth under the face has lost with it.
        """
        drawn = self.sizes.given("drawn", "as drawn", self.face.drawn)
        may_be_off = Uncertainty(
            name="received_may_be_off",
            words="as received ±",
            unit=self.sizes.unit,
            decimals=self.sizes.decimals,
            of=self.face.received,
        )
        gone = self.sizes.result(
            "gone",
            "gone since drawn",
            faces.gone_since_drawn,
            drawn=drawn,
            height=lambda row: self.face.received[row],
            uncertainty=may_be_off,
            taken=taken,
        )
        return drawn, may_be_off, gone

    def origins(self) -> dict[str, tuple[str, Key]]:
        """What moves a corner after the cut: every height read, and what this cut and that of the
        face it stands on may be off.
        """
        return {**self.face.read, **self.off.origins(self.face.name), **self._below()}

    def _below(self) -> dict[str, tuple[str, Key]]:
        """What the cut of the face it stands on may be off."""
        on = self.face.on
        return on.off.origins(on.face.name) if on else {}
