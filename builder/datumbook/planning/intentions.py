"""What is typed is judged first: every limit that an intention breaks, or may break, with the most
or the least that would keep it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from datumbook.cells.columns import Column
from datumbook.cells.handles import Key
from datumbook.equations.faces import NOT_CUT
from datumbook.equations.line_bore import AS_THEY_ARE
from datumbook.equations.verdicts import OUT, UNSURE
from datumbook.numbers.printing import Printer
from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.planning.gears import gears_tighter
from datumbook.planning.limits import named, not_cut
from datumbook.planning.margins import margin, mended_deeper, turning
from datumbook.planning.numbers import Numbers
from datumbook.planning.words import IntentionJudged, Way
from datumbook.stations.decided.face_corners import HOLLOWS_UNREAD, SET_UPS
from datumbook.stations.decided.face_cuts import FaceCut
from datumbook.workbook.flow import downstream, upstream

BORE_DECISIONS = {
    "typed_bore": "finish bore",
    "typed_offset": "set-over",
    "typed_across": "set-over across",
}


OPERATIONS = {"bottom": "bottom_face", "deck": "deck"}  # on the route, by the face


@dataclass(frozen=True)
class _Intention:
    """What is typed for one piece of work: in words, and the numbers by their cells; `wants` says
    what is still to be typed.
    """

    words: str
    decided: tuple[Key, ...]
    numbers: Mapping[Key, str]
    wants: str = ""
    cut: FaceCut | None = None
    operation: str = ""  # its line of the route, and what is not to be done
    do_not: str = ""
    deeper: Key | None = None  # the number that grows as more metal comes off, as set up


def judged(work: Numbers) -> list[IntentionJudged]:
    """Every intention typed, in the order of the work, with what is to be said against it."""
    intentions = list(_intentions(work))
    checks = _checks(work, intentions)
    return [
        IntentionJudged(
            one.words,
            (
                *_short(work, one),
                *_unclean(work, one),
                *_broken(work, one, checks[at]),
                *_unheld(work, one),
            ),
            one.wants,
            HOLLOWS_UNREAD if one.cut and not one.cut.hollows_read else "",
        )
        for at, one in enumerate(intentions)
    ]


def forbidden(work: Numbers) -> list[str]:
    """What is not to be cut: a sentence for each cut typed and not done by the route that would
    break a limit of the plan, the limit broken most first. A limit that more of the same cut mends
    forbids nothing.
    """
    done = work.stations.route.operations.done
    cuts = [
        one
        for one in _intentions(work)
        if one.numbers and one.operation and work.number(done.find(one.operation)) is None
    ]
    found, plan = [], work.stations.bore_plan
    # a bore that is not clean is bored once: what is set over too far no other bar puts back
    each = plan.each if plan and plan.room else None
    clean = {each.clean_up[one] for one in work.layout.cylinders()} if each else set()
    for one, checks in zip(cuts, _checks(work, cuts), strict=True):
        out = [check for check in checks if work.verdict(check) == OUT]
        mended = mended_deeper(work, one.deeper, out) if one.deeper else frozenset()
        broken = [check for check in out if check not in mended or check in clean]
        worst = sorted(
            (_worst(work, every) for every in _kinds(work, broken)),
            key=lambda check: work.turned(margin(work, check)[0], check, "heights"),
        )
        if worst:
            found.append(f"DO NOT {one.do_not}: {'; '.join(_would(work, each) for each in worst)}.")
    return found


def _intentions(work: Numbers) -> Iterator[_Intention]:
    cuts, bored = work.stations.cuts, work.stations.bored
    form = cuts.line_boring.form if cuts else None
    if form and work.words(form.line_bored.key) not in {"", AS_THEY_ARE}:
        cells = {
            column.key: words
            for column, words in (
                (form.finish_size, "line bore to"),
                (form.cap_cut, "off the caps"),
                (form.rise_front, "rise at the front"),
                (form.rise_rear, "rise at the rear"),
            )
            if column
        }
        line = _numbers(work, "line bore", (form.line_bored.key,), cells)
        finish = form.finish_size.key if form.finish_size else None
        deeper = finish if finish in line.numbers else None
        yield replace(line, operation="line_bore", do_not="BORE the line", deeper=deeper)
    for bank in cuts.banks.values() if cuts else ():
        for cut in (bank.bottom, bank.deck):
            if cut and cut.asked and _set_up(work, cut):
                yield _face(work, cut, bank.bank.title(cut.face.words))
    each = bored.boring.each if bored and bored.boring.decided else None
    for cylinder in work.layout.cylinders() if each else ():
        typed: dict[Key, str] = {
            each.column(name)[cylinder]: words
            for name, words in BORE_DECISIONS.items()
            if each and each.has(name, str(cylinder))
        }
        if any(work.number(key) is not None for key in typed):
            found = {key: words for key, words in typed.items() if work.number(key) is not None}
            bored_to = _numbers(work, f"boring of cylinder {cylinder}", (), found)
            size = next(
                (key for key, words in found.items() if words == BORE_DECISIONS["typed_bore"]), None
            )
            yield replace(
                bored_to, operation="bore", do_not=f"BORE cylinder {cylinder}", deeper=size
            )


def _numbers(
    work: Numbers, name: str, decided: tuple[Key, ...], cells: Mapping[Key, str]
) -> _Intention:
    """Numbers typed side by side: "line bore, line bore to 61.070 mm, …"."""
    typed = {key: words for key, words in cells.items() if work.number(key) is not None}
    said = [
        f"{words} {_printer(work, key).exactly(work.number(key) or 0.0)}"
        for key, words in typed.items()
    ]
    wants = ", ".join(words for key, words in cells.items() if key not in typed)
    return _Intention(f"Your {', '.join([name, *said])}", (*decided, *cells), typed, wants)


def _face(work: Numbers, cut: FaceCut, title: str) -> _Intention:
    way = Way("", title, _set_up(work, cut), typed=True)
    size, decided = work.number(cut.cut.key), (cut.parallel_to.key, cut.cut.key)
    face = f"{title[:1].lower()}{title[1:]}"
    if way.parallel_to == NOT_CUT:
        return _Intention(f"Your {face}, not cut", decided, {}, cut=cut)
    if size is None:
        return _Intention(f"Your {face}, {way.set_up}", decided, {}, "the cut", cut)
    said = _printer(work, cut.cut.key).exactly(size)
    off = f"off the {face}"
    return _Intention(
        f"Your {said} {off}, {way.set_up}",
        decided,
        {cut.cut.key: off},
        cut=cut,
        operation=OPERATIONS[cut.face.name],
        do_not=f"CUT the {face}",
        deeper=cut.cut.key,
    )


def _set_up(work: Numbers, cut: FaceCut) -> str:
    """How a face is to be set up, as it is said, however it was typed; "" for words that are no
    set-up.
    """
    typed = work.words(cut.parallel_to.key).casefold()
    return next((one for one in (NOT_CUT, *SET_UPS.values()) if one.casefold() == typed), "")


def _checks(work: Numbers, intentions: Sequence[_Intention]) -> list[list[Key]]:
    """The checks that each intention answers for: one that several have a bearing on falls to the
    last of them. The release holds the same again; what is finished is no forecast.
    """
    found: list[list[Key]] = [[] for _ in intentions]
    for check in work.layout.checks:
        finished = check.stage == "finished"
        if not check.measured or finished:
            continue
        if work.words(check.verdict) in {OUT, UNSURE}:
            above = upstream(work.layout, check.key)
            concerned = [at for at, one in enumerate(intentions) if above & set(one.decided)]
            if concerned:
                found[concerned[-1]].append(check.key)
    return found


def _unclean(work: Numbers, one: _Intention) -> Iterator[str]:
    """That a cut does not clean its face, and what asks for more."""
    if one.cut is None or not one.numbers:
        return
    row = {words: row for row, words in SET_UPS.items()}[_set_up(work, one.cut)]
    compared = one.cut.compared
    size, least = work.number(one.cut.cut.key), work.number(compared.least_cut[row])
    if size is None or least is None:
        return
    printer = _printer(work, one.cut.cut.key)
    by = work.words(compared.column("asked_by")[row]) if one.cut.edges else ""
    margin = work.number(compared.may_be_off[row]) or 0.0
    more = "" if one.cut.hollows_read else f" by the corners, {HOLLOWS_UNREAD}"
    if half_up(least - size, GUARD_DIGITS) > 0:
        yield (
            f"it does not clean the face, short by {printer.beside(least - size, 0.0)} "
            f"({by or 'lowest corner'}); at least {printer.needed(least)}{more}"
        )
    elif half_up(least + margin - size, GUARD_DIGITS) > 0:
        yield (
            f"whether it cleans the face is UNSURE, the readings may be off by "
            f"{printer.uncertainty(margin)}; at least {printer.needed(least + margin)}{more}"
        )


def _unheld(work: Numbers, one: _Intention) -> Iterator[str]:
    """What a line bore does that no limit holds."""
    if one.operation == "line_bore" and (tighter := gears_tighter(work)):
        yield tighter


def _broken(work: Numbers, one: _Intention, checks: Sequence[Key]) -> Iterator[str]:
    """A sentence for each kind of limit that is broken or may be, about its worst place."""
    for every in _kinds(work, checks):
        worst = _worst(work, every)
        yield f"{_what(work, worst)}{_keeps(work, one, worst)}{_also(work, every, worst)}"


def _short(work: Numbers, one: _Intention) -> Iterator[str]:
    """Of a face that is not cut the heights and rooms that are short with nothing cut at all, of
    each kind the worst: no cut puts metal back.
    """
    cuts = work.stations.cuts
    if one.cut is None or _set_up(work, one.cut) != NOT_CUT or cuts is None:
        return
    banks = cuts.banks.values()
    uncut = work.typed(not_cut(cut for of in banks for cut in (of.bottom, of.deck) if cut))
    tables = [of.room.crowns for of in banks] + ([cuts.at_corners] if cuts.at_corners else [])
    moved = downstream(work.layout, {*one.decided})
    short = [
        check.key
        for check in work.layout.checks
        if check.measured
        and check.key in moved
        and work.layout.place(check.key).stands_in(*tables)
        and uncut.verdict(check.key) == OUT
        and uncut.end(check.key, "high") is None
    ]
    for every in _kinds(work, short):
        worst = _worst(uncut, every)
        yield (
            f"{_would(uncut, worst, 'is', 'stands', 'stays')} "
            f"({work.checks[worst].source}), short already, whatever is cut"
            f"{_also(work, every, worst)}"
        )


def _kinds(work: Numbers, checks: Sequence[Key]) -> list[list[Key]]:
    """The checks of each kind of limit together."""
    kinds: dict[tuple[str, str], list[Key]] = {}
    for check in checks:
        place = work.layout.place(check)
        assert isinstance(place.column, Column)
        kinds.setdefault((place.at.sheet, place.column.name), []).append(check)
    return list(kinds.values())


def _worst(work: Numbers, checks: Sequence[Key]) -> Key:
    return min(checks, key=lambda check: margin(work, check)[0])


def _also(work: Numbers, every: Sequence[Key], worst: Key) -> str:
    others = [named(work, check) for check in every if check != worst]
    return f". So with: {'; '.join(others)}" if others else ""


def _what(work: Numbers, check: Key) -> str:
    """What would become of a checked size, its limit and where that is from."""
    doubt = (
        f", UNSURE within ± {_printer(work, check).uncertainty(work.uncertainty(check))}"
        if work.verdict(check) == UNSURE
        else ""
    )
    return f"{_would(work, check)} ({work.checks[check].source}){doubt}"


def _would(
    work: Numbers,
    check: Key,
    be: str = "would be",
    stand: str = "would stand",
    stay: str = "would stay",
) -> str:
    """What would become of a checked size, or what it is, and its limit."""
    size, printer = work.number(check) or 0.0, _printer(work, check)
    _, low, high = margin(work, check)
    name, limits = named(work, check), printer.limits(low, high)
    if name.startswith("Crown"):
        stands = (
            f"{stand} {printer.beside(-size, 0.0)} proud"
            if size < 0
            else f"{stay} {printer.beside(size, low, high)} below the deck"
        )
        return f"crown{name.removeprefix('Crown')} {stands}, the room above it {limits}"
    return f"{name[:1].lower()}{name[1:]} {be} {printer.beside(size, low, high)}, {limits}"


def _keeps(work: Numbers, one: _Intention, check: Key) -> str:
    """The most or the least of each number typed that alone would keep a limit."""
    found = []
    for cell, words in one.numbers.items():
        turn = turning(work, cell, check)
        if turn is not None:
            size, grows = turn
            printer = _printer(work, cell)
            most = f"at least {printer.needed(size)}" if grows else f"at most {printer.spare(size)}"
            found.append(most if len(one.numbers) == 1 else f"{words} {most}")
    if not one.numbers:
        return ""
    return f"; {' or '.join(found)}" if found else "; no size of it keeps this"


def _printer(work: Numbers, key: Key) -> Printer:
    """How the number of a cell is written."""
    place = work.layout.place(key)
    return Printer(place.unit or "", place.decimals)
