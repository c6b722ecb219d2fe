"""The limits of the plan's sheet on what is cut and bored, each as a size that the cuts change.

What a cut does to a size is found by typing the cut and working the book out again: the geometry is
the sheet's own and stands nowhere else.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from datumbook.cells.handles import Handle, Key
from datumbook.equations.faces import NOT_CUT
from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.numbers.units import convert
from datumbook.optimise.least_metal import CutSizes, End, SizeLimit
from datumbook.planning.numbers import Numbers
from datumbook.stations.decided.face_cuts import FaceCut
from datumbook.workbook.flow import downstream

LIMIT_ENDS: tuple[End, ...] = ("low", "high")


def planned_checks(work: Numbers, decided: Collection[Key]) -> list[Key]:
    """What the plan's sheet holds against limits and these intentions have a bearing on."""
    layout = work.layout
    sheets = {one.name for one in (work.stations.plan, work.stations.workings) if one}
    moved = downstream(layout, {*decided})
    return [
        check.key
        for check in layout.checks
        if check.measured and check.key in moved and check.section and check.section.name in sheets
    ]


class Changes:
    """What the cuts named in `moving` do to the sizes of the book, about the intentions typed; all
    in one unit.
    """

    def __init__(
        self,
        work: Numbers,
        unit: str,
        typed: Mapping[Key, object],
        moving: Mapping[Key, str],
        step: float = 1.0,
    ) -> None:
        self.unit, self.moving, self.step = unit, moving, step
        self.tried = work.typed(typed)
        self.sizes = {cut: _size(typed[cut]) for cut in moving}
        self.further = {
            cut: work.typed({**typed, cut: size + step}) for cut, size in self.sizes.items()
        }

    def of(self, key: Key) -> tuple[CutSizes, float]:
        """What each cut does to a size that is there, in the size's parts, and the size before
        any.
        """
        size = self.said(self.tried.number(key), key)
        change, before = {}, size
        for cut, word in self.moving.items():
            moved = self.said(self.further[cut].number(key), key) - size
            each = half_up(moved / self.said(self.step, cut), 7)
            if each:
                change[word] = each
                before -= each * self.said(self.sizes[cut], cut)
        return change, half_up(before, GUARD_DIGITS)

    def limits(self, key: Key, name: str, check: Key | None = None) -> Iterator[SizeLimit]:
        """A size that is there as the cuts change it, held to the limits of its check."""
        check = check or key
        change, before = self.of(key)
        doubt = self.said(self.tried.uncertainty(check), check) if check == key else 0.0
        for end in LIMIT_ENDS:
            if (found := self.tried.end(check, end)) is not None:
                bound = half_up(self.said(found, check), GUARD_DIGITS)
                source = self.tried.checks[check].source
                yield SizeLimit(
                    name, change, before, end, bound, source, half_up(doubt, GUARD_DIGITS)
                )

    def said(self, size: float | None, key: Key) -> float:
        """A size in the unit of its cell, in the one unit."""
        return convert(size or 0.0, self.tried.layout.place(key).unit or "", self.unit)


def size_limits(
    work: Numbers,
    unit: str,
    checks: Sequence[Key],
    typed: Mapping[Key, object],
    moving: Mapping[Key, str],
    uncut: Numbers,
) -> list[SizeLimit]:
    """Every limit on these checks that can be worked out; the arguments as of Changes, and the
    book with nothing cut.
    """
    changes = Changes(work, unit, typed, moving)

    def as_read(check: Key) -> float | None:
        size = uncut.number(check)
        return None if size is None else half_up(changes.said(size, check), GUARD_DIGITS)

    return [
        replace(limit, as_read=as_read(check))
        for check in checks
        for _ in changes.tried.known(named(work, check), check)
        for limit in changes.limits(check, named(work, check))
    ]


def not_cut(faces: Iterable[FaceCut]) -> dict[Key, object]:
    """What is typed where these faces stay as they are, those that the job leaves alone aside."""
    found: dict[Key, object] = {}
    for face in faces:
        if face.asked:
            found |= {face.parallel_to.key: NOT_CUT, face.cut.key: None}
    return found


def _size(typed: object) -> float:
    return typed if isinstance(typed, float) else 0.0


def named(work: Numbers, check: Key) -> str:
    """What a check is called at the machine: a crown by its cylinder, a height of the block by its
    corner, anything else by its line.
    """
    place, cuts, plan = work.layout.place(check), work.stations.cuts, work.stations.bore_plan
    line, _, column = place.label.partition(" · ")
    crowns = [bank.room.crowns for bank in cuts.banks.values()] if cuts else []
    if place.stands_in(*crowns):
        middle = any(check == of.over_middle[place.row] for of in crowns if place.stands_in(of))
        return f"{'Room at the middle' if middle else 'Crown'} of cylinder {place.row}"
    if plan and plan.room and check == plan.each.clean_up.find(place.row):
        return f"Clean-up size of cylinder {place.row}"
    if cuts and cuts.at_corners and place.stands_in(cuts.at_corners):
        return f"{column[:1].upper()}{column[1:]} at the {line[:1].lower()}{line[1:]}"
    return place.label.replace(" · ", ", ")


def at_corners(work: Numbers, column: Handle, corners: Collection[str]) -> list[float]:
    """What a column of the corners holds, those that are there."""
    return [size for one in corners if (size := work.number(column[one])) is not None]
