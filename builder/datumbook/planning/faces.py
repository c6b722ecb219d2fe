"""The faces, in the order of the work: bottom face, then decks; for every way a face can be set up
the least metal that cleans it under every limit, and the way that takes the least of all.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import product

from datumbook.cells.handles import Key
from datumbook.equations.clean_cuts import cut_with_margin
from datumbook.equations.faces import ALONG_OPPOSITE, NOT_CUT
from datumbook.equations.verdicts import OK, OUT
from datumbook.formulas.functions import mean
from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.optimise.least_metal import Cut, SizeLimit, least_metal
from datumbook.planning.limits import at_corners, named, not_cut, planned_checks, size_limits
from datumbook.planning.numbers import Numbers
from datumbook.planning.words import Crown, FaceSet, FacesPlanned, Tried, Way
from datumbook.spec.block import Bank
from datumbook.stations.decided.cuts import BankCuts
from datumbook.stations.decided.face_corners import SET_UPS
from datumbook.stations.decided.face_cuts import FaceCut
from datumbook.stations.received.deck_heights import CORNERS

TILT_CHECKS = ("tilt_lengthwise", "tilt_crosswise", "twist")
ROW_OF = {words: row for row, words in SET_UPS.items()}  # of a set-up among those compared


@dataclass(frozen=True)
class _Face:
    """A face of one bank that may be cut, the word and words of its cut, and the checks of how it
    lies as received.
    """

    cut: FaceCut
    word: Cut
    read: tuple[Key, ...]


@dataclass(frozen=True)
class _Faces:
    """The faces of one bank, in the order in which they are cut."""

    work: Numbers
    cuts: BankCuts
    faces: tuple[_Face, ...]

    def typed(self, ways: Sequence[Way], sizes: Mapping[str, float]) -> Mapping[Key, object]:
        """What is typed into the book for these set-ups and cuts; no size where there is none."""
        found: dict[Key, object] = {}
        for face, way in zip(self.faces, ways, strict=True):
            if not face.cut.asked:
                continue
            found[face.cut.parallel_to.key] = way.parallel_to
            found[face.cut.cut.key] = sizes.get(way.cut, 0.0) if way.cuts else None
        return found

    @cached_property
    def uncut(self) -> Numbers:
        """The book with none of these faces cut."""
        return self.work.typed(not_cut(face.cut for face in self.faces))

    def as_set(self, tried: Tried) -> Numbers:
        """The book with these cuts typed as they are set on the machine."""
        sizes = tried.rounded(self.work.layout.decimals_of("heights")) or {}
        return self.work.typed(self.typed(tried.ways, sizes))


def face_plans(work: Numbers) -> list[FacesPlanned]:
    """What may come off the faces of every bank; where its heights do not add up, that alone."""
    cuts = work.stations.cuts
    banks = zip(work.layout.spec.rows, cuts.banks.values(), strict=True) if cuts else ()
    return [_plan(work, bank, cuts) for bank, cuts in banks]


def _plan(work: Numbers, bank: Bank, cuts: BankCuts) -> FacesPlanned:
    axis = cuts.received.axis
    if axis and work.verdict(axis.height_closure.key) == OUT:
        return FacesPlanned(bank.words, closure=work.number(axis.height_closure.key))
    of = _Faces(work, cuts, tuple(_faces(work, bank, cuts)))
    refused: list[tuple[str, str]] = []
    ways = [list(_ways(of, face, refused)) for face in of.faces]
    tried = [_tried(of, each) for each in product(*ways)]
    able = [one for one in tried if one.sizes is not None]
    chosen = min(able, key=lambda one: (not one.sure, one.metal), default=None)
    return FacesPlanned(
        bank.words,
        tuple(tried),
        chosen,
        tuple(_sets(of, tried, chosen)),
        tuple(refused),
        tuple(_crowns(of.as_set(chosen), cuts)) if chosen else (),
    )


def _faces(work: Numbers, bank: Bank, cuts: BankCuts) -> Iterator[_Face]:
    if cuts.bottom:
        yield _Face(cuts.bottom, Cut("bottom", "Off the bottom face"), _gaps(work, cuts.bottom))
    lies = tuple(cuts.received.deck.column(one).key for one in TILT_CHECKS)
    deck = Cut(f"deck{bank.suffix}", bank.title("Off the deck"))
    yield _Face(cuts.deck, deck, (*lies, *_gaps(work, cuts.deck)))


def _gaps(work: Numbers, cut: FaceCut) -> tuple[Key, ...]:
    """The gaps under the straight-edge that are held against limits."""
    gaps = cut.face.gaps
    found = [gaps.gap(row.key) for row in gaps.rows] if gaps else []
    return tuple(key for key in found if key in work.checks)


def _ways(of: _Faces, face: _Face, refused: list[tuple[str, str]]) -> Iterator[Way]:
    """The ways to set a face up: the one typed; else all, not cut only where the face lies true,
    and not standing on a deck that rocks.
    """
    typed = of.work.words(face.cut.parallel_to.key)
    deck = of.cuts.received.deck
    for words in (NOT_CUT, *(SET_UPS[one] for one in face.cut.set_ups)):
        if typed and words != typed:
            continue
        read = face.cut.hollows_read
        way = Way(face.word.key, face.cut.face.words, words, bool(typed), read)
        if typed or words not in {NOT_CUT, ALONG_OPPOSITE}:
            yield way
            continue
        bottom = face.cut is of.cuts.bottom
        rocks = [deck.twist.key] if words == ALONG_OPPOSITE and bottom else []
        asked = face.read if words == NOT_CUT else rocks
        untrue = [named(of.work, key) for key in asked if of.work.verdict(key) != OK]
        if untrue:
            refused.append((way.words, f"{', '.join(untrue)} not OK"))
        else:
            yield way


def _tried(of: _Faces, ways: Sequence[Way]) -> Tried:
    """The least cuts with the faces set up so, that clean, what the readings may be off by
    added, and keep every limit.
    """
    work, unit = of.work, of.work.layout.unit_of("heights")
    start = work.typed(of.typed(ways, {}))
    asked, margins = [], {}
    for face, way in zip(of.faces, ways, strict=True):
        compared, row = face.cut.compared, ROW_OF.get(way.parallel_to)
        corners = [face.cut.corners.after[corner] for corner in CORNERS]
        if not start.known(way.words, *corners):
            return Tried(tuple(ways))
        if row is None:
            continue
        for least in start.known(way.words, compared.least_cut[row]):
            margins[way.cut] = start.number(compared.may_be_off[row]) or 0.0
            by = start.words(compared.column("asked_by")[row]) if face.cut.edges else ""
            asked.append(_clean(way, least, by or "lowest corner"))
    moving = {
        face.cut.cut.key: way.cut for face, way in zip(of.faces, ways, strict=True) if way.cuts
    }
    if len(asked) < len(moving):
        return Tried(tuple(ways))
    with_margin = [_with(one, margins) for one in asked]
    at = {cut: one.bound for one in with_margin for cut in one.coefficients}
    checks = planned_checks(work, [Key(key) for key in of.typed(ways, {})])
    held = size_limits(work, unit, checks, of.typed(ways, at), moving, of.uncut)
    cuts = [face.word for face, way in zip(of.faces, ways, strict=True) if way.cuts]
    answer = least_metal(cuts, [*with_margin, *held])
    names = {one.name for one in held}
    unheld = tuple(name for check in checks if (name := named(work, check)) not in names)
    tried = Tried(tuple(ways), tuple(asked), margins, tuple(held), unheld, answer)
    if (sizes := answer.sizes) is None:
        return tried
    after = work.typed(of.typed(ways, sizes))
    taken = [at_corners(after, face.cut.corners.taken, CORNERS) for face in of.faces]
    return replace(
        tried,
        sure=all(one.margin(sizes) >= one.uncertainty for one in held if not one.coefficients),
        metal=half_up(sum(mean(*each) for each in taken if each), GUARD_DIGITS),
    )


def _clean(way: Way, least: float, by: str) -> SizeLimit:
    """The metal that a face asks for to be clean; the reading that asks for it is the source."""
    name, bound = f"{way.face} clean", half_up(least, GUARD_DIGITS)
    return SizeLimit(name, {way.cut: 1.0}, 0.0, "low", bound, by)


def _with(asked: SizeLimit, margins: Mapping[str, float]) -> SizeLimit:
    """The same with what the readings may be off by."""
    (cut,) = asked.coefficients
    bound = half_up(cut_with_margin(asked.bound, margins[cut]), GUARD_DIGITS)
    margin = ", and what the readings may be off by" if margins[cut] else ""
    return replace(asked, bound=bound, source=f"{asked.source}{margin}")


def _sets(of: _Faces, tried: Sequence[Tried], chosen: Tried | None) -> Iterator[FaceSet]:
    """Every set-up of each face, side by side; a deck's over the bottom face as it is proposed."""
    for at, face in enumerate(of.faces):
        for way in dict.fromkeys(one.ways[at] for one in tried):
            with_it = [one for one in tried if one.ways[at] == way and one.answer]
            if chosen is not None and at:
                with_it = [one for one in with_it if one.ways[:at] == chosen.ways[:at]]
            if with_it:
                best = min(with_it, key=lambda one: (one.sizes is None, not one.sure, one.metal))
                proposed = chosen is not None and way in chosen.ways
                yield _set(of, face, chosen if proposed and chosen else best, way, proposed)


def _set(of: _Faces, face: _Face, tried: Tried, way: Way, proposed: bool) -> FaceSet:
    """One set-up of one face with the numbers that its machine is set to."""
    after, form, row = of.as_set(tried), face.cut.form, ROW_OF.get(way.parallel_to)
    clean = next((one for one in tried.asked if way.cut in one.coefficients), None)
    tilts = [face.cut.compared.column(one)[row] for one in TILT_CHECKS[:2]] if row else []
    sizes = tried.rounded(of.work.layout.decimals_of("heights"))
    return FaceSet(
        way=way,
        proposed=proposed,
        tried=tried,
        clean=clean,
        size=None if sizes is None else sizes.get(way.cut, 0.0),
        infeed=after.number(form.infeed.key),
        touch_on=after.words(form.column("touch_on").key),
        counted_off=after.words(form.column("counted_off").key),
        tilts=tuple(tilt for key in tilts if (tilt := after.number(key)) is not None),
    )


def _crowns(after: Numbers, cuts: BankCuts) -> Iterator[Crown]:
    """The room above each piston once the faces are cut as proposed, and whose sizes it is from."""
    crowns = cuts.room.crowns
    for cylinder in cuts.bank.cylinders:
        key = crowns.deck_clearance[cylinder]
        for room in after.known(f"Crown of cylinder {cylinder}", key):
            sizes_from = after.words(crowns.column("sizes_from")[cylinder])
            yield Crown(cylinder, room, after.verdict(key), sizes_from)
