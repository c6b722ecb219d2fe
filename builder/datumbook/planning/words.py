"""A plan of cuts: what each module of this room finds, for the telling modules to tell."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from datumbook.equations.faces import NOT_CUT
from datumbook.equations.verdicts import OUT, UNSURE
from datumbook.formulas.functions import more_than
from datumbook.numbers.printing import Printer
from datumbook.optimise.least_metal import Answer, CutSizes, SizeLimit
from datumbook.optimise.least_set_over import SetOver


@dataclass(frozen=True)
class Unknown:
    """Something that could not be worked out, and the readings it wants."""

    name: str
    readings: tuple[str, ...]


@dataclass(frozen=True)
class IntentionJudged:
    """What is to be said of one intention: a sentence for each limit that it breaks or may break,
    and for what no limit holds; none where it keeps all that can be worked out. `wants` is what is
    still to be typed, `unseen` what no reading tells of it.
    """

    intention: str
    sentences: tuple[str, ...]
    wants: str = ""
    unseen: str = ""


@dataclass(frozen=True)
class Way:
    """One way to set a face up: the word of its cut, the face, what the cut is parallel to, whether
    that is typed, and whether hollows of that face are read or its corners alone are known.
    """

    cut: str
    face: str
    parallel_to: str
    typed: bool = False
    hollows_read: bool = True

    @property
    def cuts(self) -> bool:
        """Whether the face is cut at all."""
        return self.parallel_to != NOT_CUT

    @property
    def words(self) -> str:
        """The face and its set-up, as they are said."""
        return f"{self.face} {self.set_up}"

    @property
    def set_up(self) -> str:
        """The set-up, as it is said."""
        if not self.cuts:
            return NOT_CUT
        the = "" if self.parallel_to.startswith("the ") else "the "
        return f"parallel to {the}{self.parallel_to}"


@dataclass(frozen=True)
class Tried:
    """The least cuts with every face set up one way: what cleans each face (`asked`), what the
    readings under that may be off by, the limits held and what cannot be held yet, and the answer,
    None while readings are missing.

    `sure` where everything on which the cuts have no bearing is clear of its limits; `metal` is the
    mean taken off the corners, all faces together.
    """

    ways: tuple[Way, ...]
    asked: tuple[SizeLimit, ...] = ()
    margins: Mapping[str, float] = field(default_factory=dict)
    held: tuple[SizeLimit, ...] = ()
    unheld: tuple[str, ...] = ()
    answer: Answer | None = None
    sure: bool = False
    metal: float = math.inf

    @property
    def sizes(self) -> CutSizes | None:
        """The cuts off the lowest corners; None where they are forbidden or not worked out."""
        return self.answer.sizes if self.answer else None

    @property
    def binding(self) -> tuple[SizeLimit, ...]:
        """The limits that the cuts reach exactly, of those on which they have a bearing."""
        reached = self.answer.binding if self.answer else ()
        return tuple(one for one in reached if one.coefficients and one in self.held)

    def rounded(self, decimals: int) -> CutSizes | None:
        """The same as they are set on the machine."""
        return self.answer.rounded(decimals) if self.answer else None


@dataclass(frozen=True)
class FaceSet:
    """One set-up of one face: what cleans it, the cut, and what the machine is set to; `tilts` are
    those that it leaves, lengthwise and crosswise.
    """

    way: Way
    proposed: bool
    tried: Tried
    clean: SizeLimit | None
    size: float | None
    infeed: float | None
    touch_on: str
    counted_off: str
    tilts: tuple[float, ...]


@dataclass(frozen=True)
class Crown:
    """The room above one piston after the cuts, the verdict on it, and whose sizes it is from."""

    cylinder: int
    room: float
    verdict: str
    sizes_from: str


@dataclass(frozen=True)
class FacesPlanned:
    """The faces of one bank, the bottom face with them where it lies under the one deck.

    `closure` is what the three heights lack of adding up, None where they do: then nothing else is
    forecast. `refused` are set-ups not to be thought of, each with its reason.
    """

    bank: str
    tried: tuple[Tried, ...] = ()
    chosen: Tried | None = None
    sets: tuple[FaceSet, ...] = ()
    refused: tuple[tuple[str, str], ...] = ()
    crowns: tuple[Crown, ...] = ()
    closure: float | None = None

    @property
    def hollows_unread(self) -> bool:
        """Whether a face proposed to be cut, or left, is known at its corners alone."""
        return any(not way.hollows_read for way in (self.chosen.ways if self.chosen else ()))

    @property
    def sizes(self) -> CutSizes | None:
        """The cuts proposed, none of a face that is not cut; None where there is nothing to
        propose.
        """
        if self.chosen is None or self.chosen.sizes is None:
            return None
        return {way.cut: self.chosen.sizes.get(way.cut, 0.0) for way in self.chosen.ways}

    def set_up(self, cut: str) -> FaceSet | None:
        """The set-up proposed for one face."""
        return next((one for one in self.sets if one.proposed and one.way.cut == cut), None)


@dataclass(frozen=True)
class TunnelCut:
    """What the cutter takes of one tunnel, place by place, and the least of it; the stock is what
    it needs.
    """

    number: str
    metals: Mapping[str, float]
    least: float
    stock: float


@dataclass(frozen=True)
class LineBorePlan:
    """The line bore: whether it is asked for (`asked_by`: the tunnels' checks that are not OK),
    what is typed, what is proposed, and what that does.

    `sizes` holds caps, finish size and the rise at front and rear, None where no line goes or
    nothing can be worked out; then `conflict` names the limits. `lifts` are what it takes from each
    deck, front and rear; `unread` where the tunnels are not all read; `tighter` says of the cam's
    gears what no limit holds.
    """

    typed: str
    asked_by: tuple[str, ...]
    measure: Printer
    sizes: Mapping[str, float] | None = None
    conflict: tuple[SizeLimit, ...] = ()
    tunnels: tuple[TunnelCut, ...] = ()
    lifts: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    unread: bool = False
    tighter: str = ""

    @property
    def forbidden_by_sides(self) -> bool:
        """Whether the tunnels' sides alone, with the size, leave no line."""
        names = {one.name.partition(", ")[2] for one in self.conflict}
        return "sides" in names and names <= {"sides", ""}

    @property
    def untouched(self) -> tuple[TunnelCut, ...]:
        """The tunnels whose sides the cutter does not clean, and that stay as they are there."""
        return tuple(one for one in self.tunnels if more_than(one.stock, one.metals["sides"]))

    @property
    def binding(self) -> TunnelCut | None:
        """The tunnel that has least to spare."""
        return min(self.tunnels, key=lambda one: one.least - one.stock, default=None)


@dataclass(frozen=True)
class Bore:
    """One cylinder: the diameter at which it is clean with the bar set over as planned, `own_axis`
    without that, the finish size decided for it, and what the `block` is bored to there, the hole
    of its liner where it is `lined`; None while readings are missing or nothing is decided. The
    verdict is the sheet's, on whether it is clean as it is bored.

    `offset` and `across` are the set-over that counts, `typed` says that some of it is typed.
    """

    name: str
    clean_up: float | None
    size: float | None
    own_axis: float | None = None
    verdict: str = ""
    offset: float = 0.0
    across: float = 0.0
    typed: bool = False
    block: float | None = None
    lined: bool = False

    @property
    def number(self) -> str:
        """Its number alone."""
        return self.name.removeprefix("Cylinder ")

    @property
    def set_over(self) -> bool:
        """Whether the bar is set over at all."""
        return bool(self.offset or self.across)


@dataclass(frozen=True)
class Land:
    """The flat left to clamp on between two bores as planned, the least it may be, and the
    verdict on it.
    """

    name: str
    left: float | None
    least: float | None
    verdict: str
    source: str


@dataclass(frozen=True)
class BoresTold:
    """The bores, the `stock` on the diameter that the bar leaves for the hone, and the lands as
    planned.
    """

    bores: tuple[Bore, ...]
    stock: float | None
    largest: float | None
    lands: tuple[Land, ...]
    measure: Printer
    land_measure: Printer

    @property
    def forbidden(self) -> tuple[Bore, ...]:
        """The bores without a liner that not even the largest oversize cleans."""
        most = math.inf if self.largest is None else self.largest
        return tuple(
            one
            for one in self.bores
            if one.verdict == OUT and not one.lined
            if one.clean_up is not None and more_than(one.clean_up, most)
        )

    @property
    def unclean(self) -> tuple[Bore, ...]:
        """The bores that what the block is bored to does not clean, or may not clean."""
        return tuple(
            one for one in self.bores if one.block is not None and one.verdict in {OUT, UNSURE}
        )


@dataclass(frozen=True)
class Plan:
    """What may be cut on one block, in the order of the work.

    `forbidden` says what is not to be cut, before all else. `line_bore` is None where this engine
    is never bored in line; `faces` stand by the words of their bank, as `set_overs` do.
    """

    block: str
    engine: str
    damaged: bool
    forbidden: tuple[str, ...]
    judged: tuple[IntentionJudged, ...]
    line_bore: LineBorePlan | None
    faces: Mapping[str, FacesPlanned]
    measure: Printer
    bores: BoresTold
    set_overs: Mapping[str, SetOver]
    unknown: tuple[Unknown, ...]
