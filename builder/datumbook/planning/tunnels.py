"""The line bore: what the tunnels as read ask for, the least that does it, and what it takes.

Everything between the tunnels' readings and the metal that the cutter finds is the sheet's own
arithmetic: a line bore is typed, and the book says what it does.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from datumbook.cells.handles import Key
from datumbook.equations.line_bore import AS_THEY_ARE, BORED
from datumbook.equations.verdicts import OPEN, OUT, UNSURE
from datumbook.formulas.functions import more_than
from datumbook.numbers.rounding import GUARD_DIGITS, half_up
from datumbook.optimise.in_turn import AtMost, Sum, kept, least_in_turn, no_larger
from datumbook.optimise.least_metal import SizeLimit, irreducible, rounded_up
from datumbook.planning.gears import gears_tighter
from datumbook.planning.limits import LIMIT_ENDS, Changes, named
from datumbook.planning.numbers import Numbers
from datumbook.planning.words import LineBorePlan, TunnelCut
from datumbook.stations.decided.line_bore_forms import LineBore, TunnelMetal

CAPS, SIZE, FRONT_END, REAR_END = "caps", "finish size", "front", "rear"
LARGER_END = "larger end"
METALS = {
    "saddle_metal": "saddle",
    "cap_metal": "cap",
    "side_metal": "sides",
    "saddle_slant": "slanting, saddle",
    "cap_slant": "slanting, cap",
}
SLANTS = {"saddle_slant": "saddle_metal", "cap_slant": "cap_metal"}
UNTOUCHED = "the sides stay as they are, no farther back than a tunnel may be out of round"
TANGENTS = 60  # a round wall is closed in on by so many at most; a few are enough
LineTyped = dict[Key, object]


def line_bore(work: Numbers) -> tuple[LineBorePlan | None, LineTyped]:
    """What the line bore asks for, and what is to be typed for it that the rest be worked out after
    it; None where this engine is never bored in line.
    """
    boring = work.stations.cuts.line_boring if work.stations.cuts else None
    if boring is None or boring.form is None:
        return None, {}
    typed = work.words(boring.form.line_bored.key)
    checks = list(_checks(work))
    asked_by = tuple(named(work, key) for key in checks if work.verdict(key) in {OUT, UNSURE})
    unread = any(work.verdict(key) == OPEN for key in checks)
    measure = work.measure("tunnels" if boring.each else "heights")
    plan = LineBorePlan(typed, asked_by, measure, unread=unread)
    if typed == AS_THEY_ARE:
        return plan, {}
    if boring.each is None or not (typed or asked_by):
        return plan, {} if typed else {boring.form.line_bored.key: AS_THEY_ARE}
    return _Line(work, boring.form, boring.each, plan).found()


def _checks(work: Numbers) -> Iterator[Key]:
    """What of the tunnels as received is held against limits; a cap's height asks for no line
    bore.
    """
    tunnels = work.stations.tunnels
    parts = [one for one in tunnels.parts() if one is not tunnels.caps] if tunnels else []
    for check in work.layout.checks:
        if check.measured and work.layout.place(check.key).stands_in(*parts):
            yield check.key


class _Line:
    """The search for the least line bore: the finish size first, then the caps, then the rise."""

    def __init__(
        self, work: Numbers, form: LineBore, each: TunnelMetal, plan: LineBorePlan
    ) -> None:
        self.work, self.form, self.each, self.plan = work, form, each, plan
        self.unit, self.decimals = plan.measure.unit, plan.measure.decimals
        self.numbers = [row.key for row in each.rows]
        columns = {SIZE: form.finish_size, CAPS: form.cap_cut, FRONT_END: form.rise_front}
        columns[REAR_END] = form.rise_rear
        self.cells = {word: column.key for word, column in columns.items() if column}
        self.read = {word: work.number(key) for word, key in self.cells.items()}
        self.sides_may_stay = False
        self.set: dict[str, float] = {
            word: size for word in (SIZE, CAPS) if (size := self.read.get(word)) is not None
        }

    def found(self) -> tuple[LineBorePlan, LineTyped]:
        """The least line bore, or the limits that leave none."""
        stay: LineTyped = {self.form.line_bored.key: self.plan.typed or AS_THEY_ARE}
        columns = ("tunnel_size", "width_across", "aside")
        read = [self.each.column(one)[number] for number in self.numbers for one in columns]
        if not self.work.known("Line bore", *read):
            return self.plan, stay
        typed, (made, typed_for) = dict(self.set), self._found(stay)
        if made.conflict:  # no line that cuts the sides as well
            self.set, self.sides_may_stay = typed, True
            made, typed_for = self._found(stay)
        return made, typed_for

    def _found(self, stay: LineTyped) -> tuple[LineBorePlan, LineTyped]:
        for word in (SIZE, CAPS):
            if word in self.cells and word not in self.set:
                limits, least = self._solved()
                if least is None:
                    return self._nowhere(limits), stay
                self.set[word] = self._rounded_up(word, least[word])
        limits, least = self._solved()
        if least is None:
            return self._nowhere(limits), stay
        sizes = self._as_set({**self.set, FRONT_END: least[FRONT_END], REAR_END: least[REAR_END]})
        counted = {word: self.read[word] for word in sizes if self.read[word] is not None}
        typed = self._typed({**sizes, **{word: size or 0.0 for word, size in counted.items()}})
        tried = self.work.typed(self._typed(sizes))
        tunnels = tuple(self._tunnel(tried, number) for number in self.numbers)
        plan = replace(
            self.plan,
            sizes=sizes,
            tunnels=tunnels,
            lifts=_lifts(tried),
            tighter=gears_tighter(tried),
        )
        return plan, typed

    def _typed(self, sizes: Mapping[str, float]) -> LineTyped:
        return {
            self.form.line_bored.key: BORED,
            **{key: sizes.get(word, 0.0) for word, key in self.cells.items()},
        }

    def _moving(self) -> dict[Key, str]:
        return {key: word for word, key in self.cells.items() if word not in self.set}

    def _solved(self) -> tuple[list[SizeLimit], dict[str, float] | None]:
        """The limits, and what is least under them of what is not yet set: closed in on from
        outside where the metal on the slant is round.
        """
        changes = Changes(self.work, self.unit, self._typed(self.set), self._moving())
        limits = [*self._upright(changes), *self._held(changes)]
        least = _least(limits)
        for _ in range(TANGENTS):
            if least is None:
                return limits, None
            beyond = list(self._beyond({**least, **self.set}))
            if not beyond:
                return limits, least
            limits += beyond
            least = _least(limits)
        return limits, least

    def _upright(self, changes: Changes) -> Iterator[SizeLimit]:
        for number in self.numbers:
            check = self.each.least_metal[number]
            for column in ("saddle_metal", "cap_metal"):
                name = f"Tunnel {number}, {METALS[column]}"
                yield from changes.limits(self.each.column(column)[number], name, check)
            yield from self._sides(changes, number)

    def _sides(self, changes: Changes, number: str) -> Iterator[SizeLimit]:
        """The sides of one tunnel: cut clean; where the size across is within the tunnel's limits
        they may stay as they are, as far back as the tunnel may be out of round.
        """
        side = self.each.side_metal[number]
        limits = changes.limits(side, f"Tunnel {number}, sides", self.each.least_metal[number])
        spec = self.work.layout.spec.tunnels
        assert spec is not None  # their metal is worked out
        across, aside = (
            self.work.number(self.each.column(one)[number]) or 0.0
            for one in ("width_across", "aside")
        )
        within = not more_than(across + 2 * aside, spec.size.high.to(self.unit))
        if not (self.sides_may_stay and within):
            yield from limits
            return
        step = spec.out_of_round.high.to(self.unit) if spec.out_of_round.high else 0.0
        for one in limits:
            yield replace(one, bound=half_up(-step / 2, GUARD_DIGITS), source=UNTOUCHED)

    def _held(self, changes: Changes) -> Iterator[SizeLimit]:
        """What holds the finish size, the caps and the crank line besides."""
        tunnels, knock_on = self.work.stations.tunnels, self.work.stations.knock_on
        assert tunnels is not None  # their metal is worked out
        drive = knock_on.cam_drive if knock_on else None
        if SIZE in self.cells:
            for size in (tunnels.each.smallest_size, tunnels.each.largest_size):
                check = size[self.numbers[0]]
                yield from self._own("Line bore to", check, {SIZE: 1.0}, 0.0)
        for number in self.numbers if tunnels.caps and CAPS in self.cells else ():
            cap = tunnels.caps.height[number] if tunnels.caps else Key("")
            for height in self.work.known(f"Height of cap {number}", cap):
                yield from self._own(f"Height of cap {number}", cap, {CAPS: -1.0}, height)
        if drive is not None and drive.centre_after is not None:
            key = drive.centre_after.key
            for limit in changes.limits(key, "Crank to cam after the line bore"):
                for end in (FRONT_END, REAR_END):  # the more of either counts
                    rise = {end: limit.coefficients.get(end, 0.0)}
                    yield replace(limit, coefficients=rise, uncertainty=0.0)

    def _own(self, name: str, check: Key, change: Sum, before: float) -> Iterator[SizeLimit]:
        """One limit for each end of a check on a size, with what is set already counted."""
        moved = {word: way for word, way in change.items() if word not in self.set}
        size = before + sum(way * self.set.get(word, 0.0) for word, way in change.items())
        for end in LIMIT_ENDS:
            if (bound := self.work.end(check, end)) is not None:
                source, at = self.work.checks[check].source, half_up(size, GUARD_DIGITS)
                yield SizeLimit(name, moved, at, end, bound, source)

    def _beyond(self, sizes: Mapping[str, float]) -> Iterator[SizeLimit]:
        """Of the slants on which these sizes leave too little, the limits that keep them out."""
        near = Changes(self.work, self.unit, self._typed(sizes), self._moving(), step=1e-5)
        for number in self.numbers:
            check = self.each.least_metal[number]
            stock = near.said(self.work.end(check, "low"), check)
            for slant, upright in SLANTS.items():
                key = self.each.column(slant)[number]
                if near.said(near.tried.number(key), key) >= stock - 1e-8:
                    continue
                read = {
                    one: self.work.number(self.each.column(one)[number]) or 0.0
                    for one in ("tunnel_size", "aside")
                }
                even = (sizes[SIZE] - read["tunnel_size"]) / 2
                name = f"Tunnel {number}, {METALS[slant]}"
                if even - stock < read["aside"]:  # no room aside: it must not go away upright
                    above = self.each.column(upright)[number]
                    for limit in near.limits(above, name, check):
                        yield replace(limit, bound=half_up(even, GUARD_DIGITS))
                else:
                    yield from near.limits(key, name, check)

    def _rounded_up(self, word: str, least: float) -> float:
        """A size as it is set; as it is where that leaves no line."""
        for decimals in (self.decimals, self.decimals + 2):
            size = rounded_up(least, decimals)
            before, self.set[word] = dict(self.set), size
            held = self._solved()[1] is not None
            self.set = before
            if held:
                return size
        return least

    def _as_set(self, sizes: dict[str, float]) -> dict[str, float]:
        """The rises as they are set; as they are where a tunnel does not clean with that."""
        for decimals in (self.decimals, self.decimals + 2):
            rounded = {
                word: rounded_up(size, decimals) if word in {FRONT_END, REAR_END} else size
                for word, size in sizes.items()
            }
            tried = self.work.typed(self._typed(rounded))
            each = [self._tunnel(tried, number) for number in self.numbers]
            if all(half_up(one.least - one.stock, GUARD_DIGITS) >= 0 for one in each):
                return rounded
        return sizes

    def _tunnel(self, tried: Numbers, number: str) -> TunnelCut:
        metals = {
            words: tried.number(self.each.column(one)[number]) or 0.0
            for one, words in METALS.items()
        }
        stock = tried.end(self.each.least_metal[number], "low") or 0.0
        least = tried.number(self.each.least_all_round[number]) or 0.0
        return TunnelCut(number, metals, least, stock)

    def _nowhere(self, limits: Sequence[SizeLimit]) -> LineBorePlan:
        conflict = irreducible(limits, _any)
        return replace(self.plan, conflict=conflict)


def _least(limits: Sequence[SizeLimit]) -> dict[str, float] | None:
    """The least finish size, then the least off the caps, then the least rise at the larger end, of
    those that are open.
    """
    moved = {word for one in limits for word in one.coefficients}
    wishes: list[Sum] = [{word: 1.0} for word in (SIZE, CAPS) if word in moved]
    return least_in_turn(_bounds(limits), [*wishes, {LARGER_END: 1.0}])


def _any(limits: Sequence[SizeLimit]) -> dict[str, float] | None:
    """Any line that keeps these limits."""
    return least_in_turn(_bounds(limits), [{LARGER_END: 1.0}])


def _bounds(limits: Sequence[SizeLimit]) -> list[AtMost]:
    ends = [bound for end in (FRONT_END, REAR_END) for bound in no_larger(end, LARGER_END)]
    return [*map(kept, limits), *ends, AtMost({CAPS: -1.0}, 0.0)]


def _lifts(tried: Numbers) -> dict[str, tuple[float, float]]:
    """What the rise takes from each deck, front and rear, by the words of its bank."""
    found = {}
    for bank in tried.stations.cuts.banks.values() if tried.stations.cuts else ():
        corners = bank.deck.corners
        column = corners.column("share" if corners.has("share", "front_left") else "lift")
        ends = [tried.number(column[f"{end}_left"]) or 0.0 for end in (FRONT_END, REAR_END)]
        found[bank.bank.words] = (ends[0], ends[1])
    return found
