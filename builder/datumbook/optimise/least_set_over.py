"""The least set-over of a row of bores that puts its centres back and keeps every limit, or the
limits that forbid it.

Set-overs may be to either side, so they are no cuts: a limit's coefficients say what each does to a
wall or a land, along the row by the word of its bore, across it by `across_of` that word.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial

from datumbook.optimise.in_turn import AtMost, Sum, kept, least_in_turn, no_larger
from datumbook.optimise.least_metal import Allowed, CutSizes, SizeLimit

LARGEST_SHIFT, SHIFT = "largest", "shift of the row"


def across_of(bore: str) -> str:
    """The word of a bore's set-over across the row, above zero to the left."""
    return f"{bore} across"


class SetOver(Allowed):
    """What the limits of one row allow: the set-overs of each bore."""


def least_set_over(off_place: Mapping[str, float], limits: Sequence[SizeLimit]) -> SetOver:
    """The set-overs that go across the row least, among those leave the centres least out of their
    row together, and among those are the smallest along it at their largest.

    off_place: how far each bore's centre stands off its place along the row, by its word in the
    limits; the row as a whole may shift. Across the row every centre stands where it belongs, over
    the crank line, and leaves it only as far as a limit asks. Where no limit stands in the way
    every centre comes back into the row, and the largest set-over is half the spread.

    Source: linear programs one after the other; Chebyshev's centre of the row.

    >>> least_set_over({"1": 0.05, "2": -0.01}, []).sizes
    {'1': -0.03, '1 across': 0.0, '2': 0.03, '2 across': 0.0}
    """
    return SetOver.by(partial(_solved, off_place), limits)


def _solved(off_place: Mapping[str, float], limits: Sequence[SizeLimit]) -> CutSizes | None:
    """Unknowns: the two set-overs of each bore and how far each goes across, how far each is left
    out of the row, the row's shift, the largest set-over.
    """
    bounds = [kept(one) for one in limits]
    for bore, off in off_place.items():
        bounds += [*no_larger(bore, LARGEST_SHIFT), *no_larger(across_of(bore), _far(bore))]
        for sign in (1.0, -1.0):  # sign x (off its place + set-over + shift) <= left out
            left = {bore: sign, SHIFT: sign, _left_out(bore): -1.0}
            bounds.append(AtMost(left, -sign * off))
    wishes: list[Sum] = [
        dict.fromkeys(map(_far, off_place), 1.0),
        dict.fromkeys(map(_left_out, off_place), 1.0),
        {LARGEST_SHIFT: 1.0},
    ]
    found = least_in_turn(bounds, wishes)
    if found is None:
        return None
    return {word: found[word] for bore in off_place for word in (bore, across_of(bore))}


def _far(bore: str) -> str:
    return f"{bore} how far across"


def _left_out(bore: str) -> str:
    return f"{bore} left out of the row"
