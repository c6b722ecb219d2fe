"""What a trial found, as a table: how often a forecast is kept, and what its verdict was worth."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from datumbook.equations.verdicts import OK, OUT, UNSURE
from shop_trial import Lot, TrialEngine
from virtual_shop.faces import Floats

ROUNDING = 1e-9
CLEAN = 0.002  # mm left uncut that still counts as clean
SEEN_HOLLOW = 0.010  # mm: more than the thinnest leaf, which is typed where none passes
LITTLE_TILT = 0.02  # mm between the highest and the lowest corner as the block is set up


@dataclass(frozen=True)
class Kept:
    """Forecasts of one kind beside the truth, mm; a bound says how little there is at least, or how
    much at most.
    """

    bound: int
    forecast: Floats
    uncertainty: Floats
    verdict: NDArray[np.str_]
    true: Floats
    low: Floats
    high: Floats

    def where(self, which: NDArray[np.bool_]) -> Kept:
        """Those of them that are meant."""
        rest = (self.forecast, self.uncertainty, self.verdict, self.true, self.low, self.high)
        return Kept(self.bound, *(one[which] for one in rest))

    @property
    def off(self) -> Floats:
        """How far the truth is beyond the forecast."""
        return self.true - self.forecast

    @property
    def beyond(self) -> Floats:
        """How far the truth is beyond the nearer limit; below zero it is within."""
        return np.maximum(self.low - self.true, self.true - self.high)

    @property
    def covered(self) -> float:
        """Share of the truths within the stated uncertainty, of a bound not below it."""
        off = -self.bound * self.off if self.bound else np.abs(self.off)
        return float(np.mean(off <= self.uncertainty + ROUNDING))

    @property
    def stated_to_found(self) -> float:
        """The stated uncertainty over twice the standard deviation found."""
        return float(np.sqrt(np.mean(self.uncertainty**2)) / (2 * self.off.std()))

    def share(self, verdict: str) -> float:
        """Share of the forecasts with this verdict."""
        return float(np.mean(self.verdict == verdict))

    def false(self, verdict: str, by_more_than_uncertainty: bool) -> int:
        """OKs that are beyond a limit, OUTs that are within."""
        wrong = self.beyond if verdict == OK else -self.beyond
        least = self.uncertainty if by_more_than_uncertainty else 0.0
        return int(np.sum((self.verdict == verdict) & (wrong > least + ROUNDING)))


def kept(engine: TrialEngine, lots: Sequence[Lot]) -> dict[tuple[str, str], Kept]:
    """The forecasts of all lots by kind and set-up."""
    kinds = dict.fromkeys((one.kind, one.bound) for one in engine.figures)
    found = {}
    for kind, bound in kinds:
        at = [i for i, one in enumerate(engine.figures) if one.kind == kind]
        for set_up in set_ups(lots):
            parts = [_picked(lot, at, lot.parallel_to == set_up) for lot in lots]
            found[kind, set_up] = Kept(
                bound, *(np.concatenate(one) for one in zip(*parts, strict=True))
            )
    return found


def set_ups(lots: Sequence[Lot]) -> list[str]:
    """How the decks were set up."""
    return sorted({str(one) for lot in lots for one in lot.parallel_to})


def _picked(lot: Lot, at: list[int], rows: NDArray[np.bool_]) -> list[NDArray[Any]]:
    """Of one lot, in the order of Kept."""
    by_block = (lot.forecast, lot.uncertainty, lot.verdict, lot.true)
    limits = [np.tile(lot.limits[at, end], int(rows.sum())) for end in (0, 1)]
    return [one[rows][:, at].ravel() for one in by_block] + limits


def row(*cells: object) -> str:
    """One line of a table."""
    return f"| {' | '.join(map(str, cells))} |"


def head(words: Sequence[str], texts: int) -> Iterator[str]:
    """The head of a table whose first columns are texts."""
    yield row(*words)
    yield row(*("---" if i < texts else "---:" for i in range(len(words))))


FORECASTS = (
    "forecast",
    "cut parallel to",
    "forecasts",
    "kept within ±",
    "± over 2 s",
    "OK",
    "UNSURE",
    "OUT",
    "OK, beyond",
    "share of OKs",
    "by more than ±",
    "OUT, within by more than ±",
)
CUTS = (
    "deck",
    "cut parallel to",
    "decks",
    "cleaned, done exactly",
    "as a shop does it",
    "short by, median",
    "short by, most",
    "infeed over need, median, in ±",
)


def table(engine: TrialEngine, lots: Sequence[Lot]) -> Iterator[str]:
    """The lines of the table of forecasts."""
    yield from head(FORECASTS, 2)
    for (kind, set_up), one in kept(engine, lots).items():
        steady = not one.uncertainty.any()
        ratio = "bound" if one.bound else "—" if steady else f"{one.stated_to_found:.2f}"
        beyond, oks = one.false(OK, False), max(1, int(np.sum(one.verdict == OK)))
        yield row(
            kind,
            set_up,
            len(one.true),
            f"{one.covered:.1%}",
            ratio,
            *(f"{one.share(verdict):.1%}" for verdict in (OK, UNSURE, OUT)),
            beyond,
            f"{beyond / oks:.2%}",
            one.false(OK, True),
            one.false(OUT, True),
        )


@dataclass(frozen=True)
class Cleaned:
    """Decks cut as suggested, mm: what work without error left uncut, what the shop left, and how
    far the infeed went beyond the need, in what it may be off by.
    """

    exactly: Floats
    as_done: Floats
    beyond_need: Floats

    def share(self, left: Floats) -> float:
        """Share of the decks that came clean."""
        return float(np.mean(left <= CLEAN))


def cleaned(engine: TrialEngine, lots: Sequence[Lot], set_up: str, hollow: bool) -> Cleaned:
    """The decks of one set-up, of hollow faces with little tilt or of all others."""
    parts = []
    for lot in lots:
        for bank in engine.sizes["banks"]:
            sheet = lot.sheets[bank]
            spread = sheet.infeed - sheet.cut
            is_hollow = (sheet.least > SEEN_HOLLOW) & (spread < LITTLE_TILT)
            rows = (lot.parallel_to == set_up) & (is_hollow == hollow)
            beyond = (spread + sheet.suggested - lot.needed[bank]) / sheet.least_off
            parts.append([one[rows] for one in (lot.exactly[bank], lot.uncut[bank], beyond)])
    return Cleaned(*(np.concatenate(one) for one in zip(*parts, strict=True)))


def cleaning(engine: TrialEngine, lots: Sequence[Lot]) -> Iterator[str]:
    """The lines of the table of least cuts."""
    yield from head(CUTS, 2)
    for hollow, words in ((True, "hollow, of little tilt"), (False, "others")):
        for set_up in set_ups(lots):
            one = cleaned(engine, lots, set_up, hollow)
            short = one.exactly[one.exactly > CLEAN]
            yield row(
                words,
                set_up,
                len(one.exactly),
                f"{one.share(one.exactly):.1%}",
                f"{one.share(one.as_done):.1%}",
                *(f"{of(short):.3f}" if short.size else "—" for of in (np.median, np.max)),
                f"{np.median(one.beyond_need):.1f}" if one.exactly.size else "—",
            )
