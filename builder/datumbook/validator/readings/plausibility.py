"""Readings that can be, and yet look like a slip of the hand: suspicions, told as notes, that a
repeat reading settles.

Each rule asks for two things that honest work does not bring together: a reading that stands far
outside its family (the same quantity at the other places of the block), and a slip by name that
brings it home. Whole series that are too much alike stand in alike.py. How many honest workbooks
each rule disturbs is measured by tests/support/simulation/run.py.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial
from itertools import groupby, pairwise
from statistics import median

from datumbook.cells.columns import Reading
from datumbook.formulas.functions import at_most
from datumbook.numbers.printing import figures
from datumbook.validator.readings.alike import CHANCE, coarser, too_much_alike
from datumbook.validator.readings.before_and_after import grown, shrunk
from datumbook.validator.readings.series import (
    LEAST,
    SCREW_TURNS,
    SHARE,
    ReadingSeries,
    Suspicion,
    WhereRead,
    blocks,
    decimals_of,
    resolution,
    series_of,
)
from datumbook.workbook.layout import Layout

RATIOS = {25.4: "read in inches", 1 / 25.4: "read in millimetres"} | dict.fromkeys(
    (10.0, 0.1, 100.0, 0.01, 1000.0, 0.001), "a slip of the point"
)
MIRROR_STEPS, MIRROR_SHARE = (
    4,
    1.3e-4,
)  # how large a difference must be before its sign says anything: steps, share of the size
SuspicionRule = Callable[[list[ReadingSeries]], Iterator[Suspicion]]


def suspicions(layout: Layout, typed: Mapping[str, float | str]) -> list[Suspicion]:
    """Every suspicion about the readings of a book, at most one for each reading; what was read
    twice alike stands.
    """
    found: dict[str, Suspicion] = {}
    columns, confirmed = series_of(layout, typed), set(_confirmed(layout, typed))
    series: SuspicionRule = partial(too_much_alike, layout, typed)
    against: tuple[SuspicionRule, ...] = (partial(grown, layout), partial(shrunk, layout))
    for rule in (series, *RULES, *against, finer, coarser):
        for one in rule(columns):
            if one.key not in confirmed or one.code not in SETTLED:
                found.setdefault(one.key, one)
    return list(found.values())


def _confirmed(layout: Layout, typed: Mapping[str, float | str]) -> Iterator[str]:
    """The readings that a second reading bears out, to two steps of what the gauge resolves or of
    the last digit typed.
    """
    for again in layout.readings():
        column = again.column
        if isinstance(column, Reading) and column.repeats:
            key = column.repeats[again.row]
            first, second = typed.get(key), typed.get(again.key)
            if type(first) is float and type(second) is float:
                digit = 10.0 ** -max(decimals_of(first), decimals_of(second))
                if at_most(
                    abs(first - second), 2 * max(resolution(layout, column.group, typed), digit)
                ):
                    yield key


# --- one reading


def wrong_scale(columns: list[ReadingSeries]) -> Iterator[Suspicion]:
    """A size in another unit or with its point slipped, where the size typed could be as well."""
    for column in columns:
        for number, (value, near) in enumerate(zip(column.values, column.expected, strict=True)):
            others = column.values[:number] + column.values[number + 1 :] if column.family else []
            if value > 0 and near > 0 and all(near / 2 < other < near * 2 for other in others):
                slip = next((one for one in RATIOS if abs(value * one / near - 1) < 0.1), None)
                if slip is not None:
                    yield column.tell("suspect-scale", number, value * slip, other=RATIOS[slip])


def swapped_digits(columns: list[ReadingSeries]) -> Iterator[Suspicion]:
    """Far outside its family, and one exchange of two digits side by side brings it home."""
    for column in columns:
        for number, value in enumerate(column.values):
            if column.stands_out(number):
                home = {
                    other
                    for other in swaps(value, column.decimals)
                    if column.at_home(number, other, column.step)
                }
                if len(home) == 1:
                    yield column.tell("suspect-digits", number, home.pop())


def swaps(value: float, decimals: int) -> Iterator[float]:
    """Every number that one exchange of two digits side by side makes of a number, the point
    staying where it is.

    >>> list(swaps(82.15, 2))
    [28.15, 81.25, 82.51]
    """
    text = f"{value:.{decimals}f}"
    digits = [place for place, letter in enumerate(text) if letter.isdigit()]
    for first, second in pairwise(digits):
        if text[first] != text[second]:
            letters = list(text)
            letters[first], letters[second] = letters[second], letters[first]
            yield float("".join(letters))


def one_turn(columns: list[ReadingSeries]) -> Iterator[Suspicion]:
    """One turn of the thimble or the dial away from all the others, which stand close together."""
    for column in columns:
        for number, value in enumerate(column.values if column.family else ()):
            low, high = column.others(number)
            for turn in SCREW_TURNS[column.unit]:
                close = max(high - low, 4 * column.step) <= turn / 5 and column.by_itself(number)
                meant = value - (turn if column.rests[number] > high else -turn)
                if close and column.at_home(number, meant, 2 * column.step):
                    yield column.tell("suspect-turn", number, meant, turn=figures(turn))


# --- several readings


def filled(columns: list[ReadingSeries]) -> Iterator[Suspicion]:
    """Five or more readings down a column, each the same step from the one before."""
    for column in columns:
        levels = max(column.ticks) - min(column.ticks) + 1
        for start, length in _runs(column.ticks):
            if length >= 5 and len(column.ticks) * (1 / levels) ** (length - 2) < CHANCE:
                last = column.places[start + length - 1].label
                step = column.number(column.values[start + 1] - column.values[start])
                yield column.tell("suspect-filled", start, last=last, step=step)


def _runs(ticks: list[int]) -> Iterator[tuple[int, int]]:
    """Start and length of each run of equal steps, none of them zero."""
    start = 0
    for step, run in groupby(after - before for before, after in pairwise(ticks)):
        length = len(list(run))
        if step:
            yield start, length + 1
        start += length


def exchanged(columns: list[ReadingSeries]) -> Iterator[Suspicion]:
    """One cylinder whose axes, or whose top and bottom, are the other way round than all the
    others', by as much.
    """
    for table in blocks(columns):
        profiles = {cylinder: _profile(each) for cylinder, each in table.items()}
        for cylinder, own in profiles.items():
            column, number = next(iter(table[cylinder].values()))
            least = max(MIRROR_STEPS * column.step, MIRROR_SHARE * column.values[number])
            for kind in ("axes", "ends"):
                others = [each[kind] for other, each in profiles.items() if other != cylinder]
                if len(others) >= 2 and own[kind] and _mirrored(own[kind], others, least):
                    yield column.tell(f"suspect-{kind}", number, cylinder=cylinder)


def _profile(each: WhereRead) -> dict[str, list[float]]:
    """A cylinder's differences: at every depth one axis less the other, and on every axis its top
    less its bottom.
    """
    size = {at: one.values[number] for at, (one, number) in each.items()}
    depths, names = ([*dict.fromkeys(one)] for one in zip(*size, strict=True))
    if len(size) != len(depths) * len(names) or len(names) != 2:
        return {"axes": [], "ends": []}
    axes = [size[depth, names[0]] - size[depth, names[1]] for depth in depths]
    ends = [size[depths[0], name] - size[depths[-1], name] for name in names]
    return {"axes": axes, "ends": ends if len(depths) > 1 else []}


def _mirrored(own: list[float], others: list[list[float]], least: float) -> bool:
    """Say whether a profile turned round is like the others, which agree among themselves on their
    sign.
    """
    if any(len(other) != len(own) for other in others):
        return False
    usual = [median(each) for each in zip(*others, strict=True)]
    size = sum(map(abs, usual))
    agree = all(sum(other) * sum(usual) > 0 and abs(sum(other)) > size / 2 for other in others)
    away = sum(abs(mine + theirs) for mine, theirs in zip(own, usual, strict=True))
    return agree and size >= least * len(own) and away <= size / 2.5


# --- a whole sheet or gauge


def set_wrong(columns: list[ReadingSeries]) -> Iterator[Suspicion]:
    """Every unworn lip well below the size the bores had when new: the gauge was set wrong, for all
    readings alike.

    Set too large it cannot be told from an oversize.
    """
    for column in columns:
        if column.expected != column.nominal and len(column.values) >= 3:
            off = [
                (near - value, near)
                for value, near in zip(column.values, column.nominal, strict=True)
            ]
            if all(one > max(LEAST / 2 * column.step, SHARE / 4 * near) for one, near in off):
                yield column.tell(
                    "suspect-offset", 0, off=column.number(median(one for one, _ in off))
                )


def finer(columns: list[ReadingSeries]) -> Iterator[Suspicion]:
    """Readings with more decimals than the gauge resolves, once for each instrument that states
    what it resolves.
    """
    over: dict[str | None, list[tuple[ReadingSeries, int]]] = {}
    for column in columns:
        # a size alone may be one decided, not read
        places = decimals_of(column.resolution)
        fine = enumerate(column.values if column.resolution and len(column.values) > 1 else ())
        for number, value in fine:
            if decimals_of(value) > places:
                over.setdefault(column.column.group, []).append((column, number))
    for each in over.values():
        column, number = each[0]
        step, count = figures(column.resolution), str(len(each))
        yield column.tell("suspect-finer", number, resolution=step, count=count)


SETTLED = {"suspect-scale", "suspect-digits", "suspect-turn", "suspect-growth"}
"""Suspicions about one reading, which a second reading settles."""

RULES: tuple[SuspicionRule, ...] = (
    wrong_scale,
    swapped_digits,
    one_turn,
    filled,
    exchanged,
    set_wrong,
)
"""The rules that look at the readings alone, in the order in which they are asked."""
