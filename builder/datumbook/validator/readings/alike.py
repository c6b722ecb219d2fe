"""Series too much alike: copied from another cylinder, another station or from before the work, or
one size typed throughout. Told only where counting says that chance would not bring it about.

How likely that is. Two readings of one thing, whose difference strays s steps of the gauge
(standard deviation), fall on one step with a chance of

    P(s) = E max(0, 1 - |d|) = erf(1/(s√2)) - s √(2/π) (1 - exp(-1/(2 s²))),   d normal, (0, s),

as where in a step the first lies is left to chance; n places that do not know of one another agree
throughout with P^n, among k pairs that might with k P^n. All n readings of one size on one step, in
the middle of which it lies at best, have (2Φ(step/(2 stray)) - 1)^n. Source: counting, and the
normal distribution integrated over a step.

What strays how far is taken low, so that the chance is taken high: a gauge repeats no closer than
0.3 of its step and half a micrometre; bores of one block, as honed, stray 1.5 µm at least, bores
that have run 6 µm; where neither is stated nor seen how fine a gauge is, it is as coarse as bore
gauges are, 0.01 mm. All common practice, no source. Below CHANCE the job is held, until one cell of
the Release sheet says that the series was read again; below SELDOM it is a note.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations
from math import erf, exp, gcd, pi, prod, sqrt
from statistics import pstdev

from datumbook.cells.columns import Reading
from datumbook.cells.handles import Part
from datumbook.grouping import grouped
from datumbook.numbers.printing import figures
from datumbook.numbers.units import convert
from datumbook.validator.readings.series import ReadingSeries, Suspicion, blocks
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import Place

CHANCE = 2e-5
"""How likely a pattern of copied or filled cells may be in honest work before it is told."""
SELDOM = 1e-3
"""How likely it may be before a note is made of it."""
REPEATS_STEPS, REPEATS_SIZE = 0.3, 0.0005  # steps, mm: no gauge repeats closer
HONED, ONCE_RUN = (
    0.0015,
    0.006,
)  # mm: how far bores of one block stray at least, as honed and once run
COARSEST = 0.01  # mm: the step of a bore gauge of which nothing is known
ROUNDED_STEPS = 5  # steps apart, from which on readings look rounded
BORE_DONE = "bore"  # the operation after which nothing of a cylinder is as received
FEWEST_ALIKE = 4  # readings of a series
TO_THE_DIGIT = 1e-9

DOUBTED = {"series-copied", "series-not-new", "series-all-one", "suspect-alike"}
"""Doubts about whole series, which one cell of the Release sheet settles."""
KEPT_AS_DRAWN = "the size as drawn, which bores that have run keep nowhere"
TOO_FINE = "bores and gauges stray by more than its step of {} {}"

ReadAt = tuple[ReadingSeries, int]
TableRead = Mapping[tuple[str, str], ReadAt]
"""The readings of one table: row and column -> where that reading is."""


def agreeing(stray: float) -> float:
    """How likely two readings fall on one step, whose difference strays so many steps.

    >>> round(agreeing(1e-6), 3), round(agreeing(1.0), 3), round(agreeing(100.0), 5)
    (1.0, 0.369, 0.00399)
    """
    if stray < 1e-6:
        return 1.0
    return erf(1 / (stray * sqrt(2))) - stray * sqrt(2 / pi) * (1 - exp(-1 / (2 * stray**2)))


def on_one_step(step: float, stray: float) -> float:
    """How likely a reading that strays so far lies on the step in whose middle its size is.

    >>> round(on_one_step(0.001, 0.0015), 3)
    0.261
    """
    return erf(step / (2 * sqrt(2) * stray))


def too_much_alike(
    layout: Layout, typed: Mapping[str, float | str], columns: list[ReadingSeries]
) -> Iterator[Suspicion]:
    """Every doubt about a whole series."""
    tables = _tables(columns)
    yield from _copied_cylinders(layout, columns)
    yield from _not_new(layout, typed, columns, tables)
    yield from _copied_stations(tables)
    yield from _all_one(layout, columns, tables)


def _tables(columns: list[ReadingSeries]) -> dict[Part, TableRead]:
    gathered = grouped(
        (one.table, ((place.row, one.column.name), (one, number)))
        for one in columns
        for number, place in enumerate(one.places)
    )
    return {table: dict(each) for table, each in gathered.items()}


def _doubt(code: str, chance: float, at: ReadAt, other: str, count: int) -> Iterator[Suspicion]:
    """The doubt, a note of it or nothing, by how likely the pattern is."""
    series, number = at
    if chance < SELDOM:
        told = code if chance < CHANCE else "suspect-alike"
        yield series.tell(told, number, other=other, count=str(count))


def _value(at: ReadAt) -> float:
    return at[0].values[at[1]]


# --- one cylinder's readings under another


def _copied_cylinders(layout: Layout, columns: list[ReadingSeries]) -> Iterator[Suspicion]:
    """All readings of one cylinder again under others, at least three of them different among
    themselves.
    """
    bores = layout.stations.bores
    for table in blocks(columns):
        typed = {
            cylinder: tuple(_value(each[place]) for place in sorted(each))
            for cylinder, each in table.items()
        }
        for alike in grouped((values, cylinder) for cylinder, values in typed.items()).values():
            first, *more = alike
            series, _ = next(iter(table[first].values()))
            if more and len(set(typed[first])) >= 3:
                run = bores is not None and series.table is bores.readings
                agree = min(
                    _agreed(typed), _alike_at_all(series, columns, ONCE_RUN if run else HONED)
                )
                pairs, places = len(typed) * (len(typed) - 1) / 2, len(typed[first]) * len(more)
                for second in more:
                    at = next(iter(table[second].values()))
                    count = len(typed[second])
                    words = f"cylinder {first}"
                    yield from _doubt(
                        "series-copied", pairs * agree**places, at, other=words, count=count
                    )


def _agreed(typed: Mapping[str, tuple[float, ...]]) -> float:
    """How often two cylinders that are not alike throughout agree in one place, worked out from
    these.
    """
    pairs = [(one, two) for one, two in combinations(typed.values(), 2) if one != two]
    alike = sum(a == b for one, two in pairs for a, b in zip(one, two, strict=True))
    return (alike + 1) / (sum(len(one) for one, _ in pairs) + 2)  # the rule of succession


def _alike_at_all(series: ReadingSeries, columns: list[ReadingSeries], stray: float) -> float:
    """How often two cylinders agree in one place at the most, by what strays at the least."""
    steps = convert(stray, "mm", series.unit) / _step(series, columns)
    return agreeing(sqrt(2) * max(REPEATS_STEPS, steps))


# --- one table's readings in another


def _not_new(
    layout: Layout,
    typed: Mapping[str, float | str],
    columns: list[ReadingSeries],
    tables: Mapping[Part, TableRead],
) -> Iterator[Suspicion]:
    """A table as finished that is the one as received, reading by reading."""
    finished, route = layout.stations.finished_bores, layout.stations.route.operations
    bored = finished.readings if finished else None
    done = type(route.done.held_in(typed, BORE_DONE)) is float
    for after, now in tables.items():
        was = tables.get(after.earlier) if after.earlier is not None else None
        both = [place for place in now if was and place in was]
        if (
            was
            and len(both) >= FEWEST_ALIKE
            and all(_value(now[at]) == _value(was[at]) for at in both)
        ):
            cut = after is bored and done
            yield from _doubt(
                "series-not-new",
                prod(_read_again(was[at][0], columns, cut) for at in both),
                now[both[0]],
                count=len(both),
                other="the same places as received",
            )


def _read_again(before: ReadingSeries, columns: list[ReadingSeries], cut: bool) -> float:
    """How likely a reading is read again as it was, to the last step; of a cylinder that was bored
    since, what was received strays as far as it does, and what is finished lies even.
    """
    step = _step(before, columns)
    repeats = max(REPEATS_STEPS, convert(REPEATS_SIZE, "mm", before.unit) / step)
    again = agreeing(sqrt(2) * repeats)
    return min(again, agreeing(_stray(before) / step)) if cut else again


def _copied_stations(tables: Mapping[Part, TableRead]) -> Iterator[Suspicion]:
    """A table that is another of the same columns, line by line, neither of them the other as
    received.
    """
    shaped = grouped(
        ((len(each), tuple(column for _, column in each)), table) for table, each in tables.items()
    )
    for alike in shaped.values():
        pairs = [
            (first, second)
            for first, second in combinations(alike, 2)
            if first not in (second.earlier, second) and second is not first.earlier
        ]
        for first, second in pairs:
            ours, theirs = tables[first], tables[second]
            rests = {at[0].values[at[1]] - at[0].nominal[at[1]] for at in ours.values()}
            same = [*map(_value, ours.values())] == [*map(_value, theirs.values())]
            if same and len(ours) >= FEWEST_ALIKE and len(rests) >= 3:
                chance = prod(
                    agreeing(sqrt(2) * _stray(one) / one.step) for one, _ in ours.values()
                )
                at, place = next(iter(theirs.values())), next(iter(ours.values()))
                yield from _doubt(
                    "series-copied",
                    len(pairs) * chance,
                    at,
                    other=_named(place[0].places[place[1]]),
                    count=len(ours),
                )


def _named(place: Place) -> str:
    return f"{place.at.sheet} {place.at.cell} ({place.label}) on"


def _stray(series: ReadingSeries) -> float:
    """How far the readings of a column stray about what is drawn (standard deviation)."""
    return pstdev(value - near for value, near in zip(series.values, series.nominal, strict=True))


# --- one size throughout


def _all_one(
    layout: Layout, columns: list[ReadingSeries], tables: Mapping[Part, TableRead]
) -> Iterator[Suspicion]:
    """All bores of one size: finer alike than bores and gauges are; or of the size as drawn, as
    bores that have run are not.
    """
    bores, finished = layout.stations.bores, layout.stations.finished_bores
    for station, run in ((bores, True), (finished, False)):
        each = tables.get(station.readings) if station else None
        if each and len({_value(at) for at in each.values()}) == 1 and len(each) >= FEWEST_ALIKE:
            at = next(iter(each.values()))
            series = at[0]
            as_drawn = abs(_value(at) - series.nominal[at[1]]) < TO_THE_DIGIT
            step = _step(series, columns)
            stray = convert(ONCE_RUN if run and as_drawn else HONED, "mm", series.unit)
            if on_one_step(step, stray) ** len(each) < CHANCE:
                why = (
                    KEPT_AS_DRAWN
                    if run and as_drawn
                    else TOO_FINE.format(figures(step), series.unit)
                )
                yield series.tell("series-all-one", at[1], count=str(len(each)), why=why)


def _step(series: ReadingSeries, columns: list[ReadingSeries]) -> float:
    """The step of the gauge a column was read with: as stated, else the finest that is seen of its
    group, else the coarsest there is.
    """
    seen = [
        one.step
        for one in columns
        if one.column.group == series.column.group
        and one.unit == series.unit
        and len(set(one.values)) >= 3
    ]
    coarsest = convert(COARSEST, "mm", series.unit)
    return series.resolution or min([*seen, coarsest])


# --- rounded readings


def coarser(columns: list[ReadingSeries]) -> Iterator[Suspicion]:
    """TableRead that lie whole multiples of the stated step apart, five steps or more: rounded, or
    of a coarser gauge. n different ones do so by chance with k^(1-n), k steps.
    """
    stated = [one for one in columns if one.resolution and isinstance(one.column, Reading)]
    groups = grouped(((one.column.group, one.unit), one) for one in stated)
    for each in groups.values():
        step = each[0].resolution
        steps = sorted({round(value / step) for one in each for value in one.values})
        apart = gcd(*(one - steps[0] for one in steps))
        if apart >= ROUNDED_STEPS and apart ** (1 - len(steps)) < CHANCE:
            yield each[0].tell(
                "suspect-coarser", 0, coarse=figures(apart * step), resolution=figures(step)
            )
