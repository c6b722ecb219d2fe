"""The book against the virtual shop: the book plans a block from what the gauges read, the machine
cuts it as the sheet says, and what was forecast is held against the block measured exactly.

The machinist does what is printed: he types what he reads and where the straight-edge rocks, sets
up as it was decided, touches the corner named and goes down by the infeed shown. Some blocks he
stands bare on their bottom face, against the sheet; these are told apart.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cache, cached_property
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from datumbook.equations import clean_cuts, faces, line_bore, mandrels
from datumbook.job import Job
from datumbook.spec import read_spec
from datumbook.stations import lay_out
from datumbook.stations.received.deck_heights import CORNERS
from datumbook.workbook.evaluation import _Reckoning
from datumbook.workbook.layout import Layout
from project import full_form
from virtual_shop.blocks import random_blocks
from virtual_shop.cutting import PERFECT, CuttingSheet, Shop, face_cut
from virtual_shop.faces import Floats
from virtual_shop.gauges import Feelers, Gauge, Gauges, Readings, measured
from virtual_shop.intents import Intents, intended_work
from virtual_shop.line_boring import line_bored
from virtual_shop.standing import OPPOSITE_FACE, OPPOSITE_SHIMMED
from virtual_shop.truth import true_figures

SUPPORT = Path(__file__).parent
LOT = 500
LINES = ("left_edge", "right_edge", "front_end", "rear_end", "left_diagonal", "right_diagonal")
CORNER_WORDS = [corner.replace("_", " ") for corner in CORNERS]
SET_UPS = {"axis": faces.ALONG_AXIS, "itself": faces.ALONG_ITSELF, "opposite": faces.ALONG_OPPOSITE}
PER_MM = {"mm": 1.0, "in": 1 / 25.4}
Words = NDArray[np.str_]

# What the shop reads with and states, mm, k = 2. One pair of figures for all heights, the parts in
# hand among them, because the book has one line for them.
HEIGHTS, TUNNELS = Gauge(setting=0.004, reading=0.004), Gauge(setting=0.002, reading=0.002)
GAUGES = Gauges(HEIGHTS, HEIGHTS, TUNNELS, TUNNELS, HEIGHTS, Feelers())
STATED = {"heights": HEIGHTS, "tunnels": TUNNELS, "flatness": Gauge(0.0, GAUGES.feelers.reading)}
# The book has one figure for touch and infeed together.
SHOP, INFEED_OFF = Shop(infeed=0.008, touch=0.006), 0.010
BOTTOM_CUT, BOTTOM = 0.25, (0.02, 0.10)  # share of the blocks whose bottom face is cut first
BARE = 0.3  # of the blocks stood on their bottom face: not on shims, as the sheet says
UNCERTAINTY = 0.015  # about that of the forecasts: how near to a limit is near


@dataclass(frozen=True)
class TrialEngine:
    """An engine of which the virtual shop has blocks, and the book of one."""

    name: str
    sizes: Mapping[str, Any]
    layout: Layout = field(repr=False)

    @property
    def whole(self) -> bool:
        """Whether the block is worked from its bottom face."""
        return bool(self.sizes["bottom_width"])

    def of_deck(self, bank: str) -> str:
        """What keys of a bank begin with."""
        return "" if self.whole else f"{bank}_"

    def cylinders(self, bank: str) -> list[int]:
        """The numbers of the cylinders of a bank."""
        first = 1
        for name, one in self.sizes["banks"].items():
            if name == bank:
                return [first + i for i in range(len(one["along"]))]
            first += len(one["along"])
        raise KeyError(bank)

    @cached_property
    def figures(self) -> list[Figure]:
        """Every forecast that is held against the truth."""
        found = []
        for bank in self.sizes["banks"]:
            crown, deck = ("crown" if self.whole else f"crown_{bank}"), self.of_deck(bank)
            for at, number in enumerate(self.cylinders(bank)):
                key = f"{crown}.{number}.deck_clearance"
                found.append(Figure("room above a piston", key, f"{bank}.clearance", at, LEAST))
                key = f"{crown}.{number}.over_middle"
                found.append(Figure("room at the middle", key, f"{bank}.middle", at, MOST))
            for kind, name in (
                ("tilt lengthwise", "tilt"),
                ("tilt crosswise", "across"),
                ("twist", "twist"),
            ):
                key = f"{deck}deck_after.{kind.replace(' ', '_')}"
                found.append(Figure(f"deck, {kind}", key, f"{bank}.{name}", None))
        for at, corner in enumerate(CORNERS if self.whole else ()):
            key = f"block_corners.{corner}"
            found.append(Figure("overall at a corner", f"{key}.overall", "overall", at))
            found.append(Figure("axis to bottom", f"{key}.bottom", "bottom.height", at))
        return found


LEAST, MOST = 1, -1  # the side of the truth that a bound guards


class Figure(NamedTuple):
    """A forecast: its kind, its key, and where the truth stands; a bound is a least or a most."""

    kind: str
    key: str
    true: str
    at: int | None
    bound: int = 0


@cache
def trial_engine(name: str) -> TrialEngine:
    """A shipped engine with what the shop reads besides: where the corners are, the line of the
    tunnels, the faces under a straight-edge, the throws of the crank.
    """
    more = tomllib.loads((SUPPORT / "shop_trial.toml").read_text("utf-8"))[name]
    sizes = tomllib.loads((SUPPORT / "virtual_shop" / "sizes.toml").read_text("utf-8"))
    text = full_form(name)
    for old, new in more["changes"]:
        assert old in text, old
        text = text.replace(old, new, 1)
    layout = lay_out(read_spec(text + more["sections"], f"{name}.toml"), Job("trial"))
    return TrialEngine(name, sizes[more["sizes"]], layout)


@dataclass(frozen=True)
class Work:
    """What is meant for a lot: the decks and the line bore, and the bottom face before the deck."""

    deck: Intents
    bottom_parallel_to: Words
    bottom_cut: Floats


class Book:
    """The book of one block: what is typed, and what it works out, asked key by key, all in mm."""

    def __init__(self, engine: TrialEngine, typed: Mapping[str, float | str]) -> None:
        self.layout = engine.layout
        self.reckoning = _Reckoning(
            engine.layout, {key: self._in_its_unit(key, one) for key, one in typed.items()}, {}
        )

    def _in_its_unit(self, key: str, one: float | str) -> float | str:
        unit = self.layout.place(key).unit
        return one if isinstance(one, str) else one * PER_MM[str(unit)]

    def mm(self, key: str) -> float:
        """A length; nan where it is blank."""
        value, unit = self.reckoning.value(key), self.layout.place(key).unit
        return value / PER_MM[str(unit)] if isinstance(value, float) else np.nan

    def said(self, key: str) -> str:
        """Words; none where it is blank."""
        value = self.reckoning.value(key)
        return value if isinstance(value, str) else ""


def typed(engine: TrialEngine, read: Readings, work: Work, at: int) -> dict[str, float | str]:
    """What the machinist types about one block of a lot."""
    found: dict[str, float | str] = dict(_stated(engine))
    found |= _heights(engine, read, at)
    found |= _tunnels(read, at)
    found |= _parts(engine, read, at)
    found["mandrel.lies"] = mandrels.IN_SADDLES
    bored = not np.isnan(work.deck.size[at])
    found["line_bore.line_bored"] = line_bore.BORED if bored else line_bore.AS_THEY_ARE
    if bored:
        found["line_bore.finish_size"] = work.deck.size[at]
        found["line_bore.rise_front"] = work.deck.front[at]
        found["line_bore.rise_rear"] = work.deck.rear[at]
    for bank in engine.sizes["banks"]:
        found[f"{engine.of_deck(bank)}deck_cut.parallel_to"] = work.deck.parallel_to[at]
        found[f"{engine.of_deck(bank)}deck_cut.cut"] = work.deck.cut[at]
    if engine.whole:
        found["bottom_cut.parallel_to"] = work.bottom_parallel_to[at]
        if work.bottom_parallel_to[at] != faces.NOT_CUT:
            found["bottom_cut.cut"] = work.bottom_cut[at]
    return found


def _stated(engine: TrialEngine) -> Iterator[tuple[str, float]]:
    """What the gauges may be off, and the bores decided, which are as drawn."""
    for group, gauge in STATED.items():
        yield f"instruments.{group}.uncertainty", gauge.reading
        yield f"instruments.{group}.setting", gauge.setting
    for bank in engine.sizes["banks"]:
        for number in engine.cylinders(bank):
            yield f"bore_plan.{number}.typed_bore", engine.sizes["bore"]


def _heights(engine: TrialEngine, read: Readings, at: int) -> Iterator[tuple[str, float | str]]:
    for name in (*engine.sizes["banks"], *(["bottom"] if engine.whole else [])):
        if name != "bottom":
            for i, corner in enumerate(CORNERS):
                yield f"{engine.of_deck(name)}corners.{corner}.deck", read[f"{name}.height"][at, i]
        edges = f"{name}_flatness" if engine.whole else f"deck_flatness_{name}"
        for i, line in enumerate(LINES):
            goes = read[f"{name}.goes"][at, i] > 0
            way = "gap_across" if line.endswith("_end") else "gap_along"
            yield f"{edges}.{line}.{way}", read[f"{name}.stops"][at, i]
            if goes:
                rocks = read[f"{name}.rocks"][at, i]
                yield (
                    f"{edges}.{line}.edge_lies",
                    clean_cuts.ROCKS if rocks else clean_cuts.RESTS_ON_ENDS,
                )
    if engine.whole:
        for i, corner in enumerate(CORNERS):
            yield f"corners.{corner}.overall", read["overall"][at, i]
        ends = read["bottom.height"][at].reshape(2, 2).mean(axis=1)
        yield from zip(("axis.front", "axis.rear"), ends, strict=True)


def _tunnels(read: Readings, at: int) -> Iterator[tuple[str, float]]:
    for i in range(read["tunnels.upright"].shape[1]):
        for end in ("front", "rear"):
            yield f"tunnels.{i + 1}.{end}.vertical", read["tunnels.upright"][at, i]
            for way in ("left", "right"):
                yield f"tunnels.{i + 1}.{end}.{way}", read["tunnels.across"][at, i]
        yield f"alignment.{i + 1}.centre", read["tunnels.up"][at, i]
        yield f"alignment.{i + 1}.centre_sideways", read["tunnels.left"][at, i]


def _parts(engine: TrialEngine, read: Readings, at: int) -> Iterator[tuple[str, float]]:
    keys = {"throw": "throws.{}.throw", "rod": "rods.{}.rod_length"}
    keys["piston"] = "pistons.{}.compression_height"
    for bank in engine.sizes["banks"]:
        for i, number in enumerate(engine.cylinders(bank)):
            for name, key in keys.items():
                yield key.format(number), read[f"{bank}.{name}"][at, i]


@dataclass
class Sheet:
    """What a face's sheet says, block by block of a lot."""

    touch: NDArray[np.int64]
    infeed: Floats
    cut: Floats
    suggested: Floats
    least: Floats
    least_off: Floats


@dataclass
class Lot:
    """What the books of a lot say, by block and figure, and what was found."""

    parallel_to: Words
    forecast: Floats
    uncertainty: Floats
    verdict: Words
    limits: Floats
    sheets: dict[str, Sheet]
    true: Floats = field(default_factory=lambda: np.empty(0))
    uncut: dict[str, Floats] = field(default_factory=dict)  # of each deck cut as suggested
    exactly: dict[str, Floats] = field(default_factory=dict)  # and of work without error
    needed: dict[str, Floats] = field(default_factory=dict)  # infeed that just cleans each deck


def lots_of(count: int, seed: int) -> list[tuple[int, int]]:
    """The lots of so many blocks: a seed and a size each."""
    sizes = [min(LOT, count - first) for first in range(0, count, LOT)]
    return [(seed * 1000 + i, size) for i, size in enumerate(sizes)]


def one_lot(engine: TrialEngine, seed: int, count: int) -> Lot:
    """One lot planned by the book, cut by the machine, and measured."""
    chance = np.random.default_rng([seed, 2])
    blocks = random_blocks(engine.sizes, seed, count)
    blocks, intents = intended_work(blocks, seed, UNCERTAINTY)
    work = Work(intents, *_bottoms(engine, chance, count))
    read = measured(blocks, GAUGES, chance)
    books = [Book(engine, typed(engine, read, work, at)) for at in range(count)]
    names = [*(["bottom"] if engine.whole else []), *engine.sizes["banks"]]
    sheets = {name: _sheet(engine, books, name) for name in names}
    stood = _stood(intents.parallel_to, chance.random(count) < BARE)
    keys = [one.key for one in engine.figures]
    lot = Lot(
        stood,
        np.array([[book.mm(key) for key in keys] for book in books]),
        np.array([[book.mm(f"release.{key}.uncertainty") for key in keys] for book in books]),
        np.array([[book.said(f"{key}.verdict") for key in keys] for book in books]),
        np.array([_limits(books[0], key) for key in keys]),
        sheets,
    )
    done = line_bored(blocks, intents.boring, SHOP, chance).blocks
    if engine.whole:
        set_up = _stood(work.bottom_parallel_to)
        done = face_cut(done, _cutting("bottom", set_up, sheets["bottom"]), SHOP, chance)
    before = done
    for bank in engine.sizes["banks"]:
        done = face_cut(done, _cutting(bank, stood, sheets[bank]), SHOP, chance)
        clean = replace(
            sheets[bank], infeed=sheets[bank].infeed + sheets[bank].suggested - intents.cut
        )
        cut = face_cut(before, _cutting(bank, stood, clean), SHOP, chance)
        lot.uncut[bank] = true_figures(cut)[f"{bank}.uncut"]
        cut = face_cut(before, _cutting(bank, stood, clean), PERFECT, chance)
        lot.exactly[bank] = true_figures(cut)[f"{bank}.uncut"]
        touching = replace(clean, infeed=np.zeros(count))
        cut = face_cut(before, _cutting(bank, stood, touching), PERFECT, chance)
        lot.needed[bank] = true_figures(cut)[f"{bank}.uncut"]
    found = true_figures(done)
    for bank in engine.sizes["banks"]:
        fl, fr, rl, rr = found[f"{bank}.height"].T
        found[f"{bank}.across"] = (fl + rl - fr - rr) / 2
    figures = [
        found[one.true] if one.at is None else found[one.true][:, one.at] for one in engine.figures
    ]
    lot.true = np.stack(figures, axis=1)
    return lot


def _bottoms(engine: TrialEngine, chance: np.random.Generator, count: int) -> tuple[Words, Floats]:
    """What is done to the bottom faces."""
    ways = [faces.ALONG_AXIS, faces.ALONG_ITSELF, faces.ALONG_OPPOSITE]
    cut = chance.random(count) < (BOTTOM_CUT if engine.whole else 0)
    return (
        np.where(cut, chance.choice(ways, count), faces.NOT_CUT),
        np.where(cut, chance.uniform(*BOTTOM, count), np.nan),
    )


def _sheet(engine: TrialEngine, books: list[Book], name: str) -> Sheet:
    """What the sheets of one face say."""
    cut = "bottom_cut" if name == "bottom" else f"{engine.of_deck(name)}deck_cut"
    asked, counted = (f"{cut.removesuffix('_cut')}_{one}" for one in ("set_ups", "counted"))
    at = {words: key for key, words in SET_UPS.items()} | {faces.NOT_CUT: "itself"}
    way = [at[book.said(f"{cut}.parallel_to")] for book in books]
    return Sheet(
        np.array([CORNER_WORDS.index(book.said(f"{cut}.touch_on")) for book in books]),
        np.array(
            [
                np.nan
                if book.said(f"{cut}.parallel_to") == faces.NOT_CUT
                else book.mm(f"{cut}.infeed")
                for book in books
            ]
        ),
        np.array([book.mm(f"{counted}.cut_taken") for book in books]),
        np.array([book.mm(f"{cut}.suggested") for book in books]),
        np.array([book.mm(f"{counted}.least_cut") for book in books]),
        np.array(
            [book.mm(f"{asked}.{one}.may_be_off") for one, book in zip(way, books, strict=True)]
        ),
    )


def _stood(parallel_to: Words, bare: NDArray[np.bool_] | bool = False) -> Words:
    """Set-ups as they are made: on the opposite face as the sheet says, on shims, or else bare."""
    on_face = np.where(bare, OPPOSITE_FACE, OPPOSITE_SHIMMED)
    stood = np.where(parallel_to == faces.ALONG_OPPOSITE, on_face, parallel_to)
    return np.where(stood == faces.NOT_CUT, faces.ALONG_ITSELF, stood)


def _cutting(name: str, stood: Words, sheet: Sheet) -> CuttingSheet:
    return CuttingSheet(name, stood, sheet.touch, sheet.infeed)


def _limits(book: Book, key: str) -> tuple[float, float]:
    low, high = (
        book.mm(cell) if (cell := f"release.{key}.{end}") in book.layout.places else open_end
        for end, open_end in (("from", -np.inf), ("to", np.inf))
    )
    return low, high
