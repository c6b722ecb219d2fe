"""The work that is meant for each block, and half of the blocks brought near a limit by it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from virtual_shop.blocks import Blocks, Sizes, Trait, random_blocks
from virtual_shop.cutting import LOWEST_CORNER, PERFECT, CuttingSheet, face_cut
from virtual_shop.faces import Floats, Lot
from virtual_shop.line_boring import BoringSheet, line_bored
from virtual_shop.standing import CRANK_LINE, ITSELF, OPPOSITE_FACE
from virtual_shop.truth import true_figures

# Of what is meant to be done; from memory of such work, common practice, no source.
WORK = {
    "cut": Trait(1.0, 0.02, 0.20, "off the lowest corner: from a skim to a burnt deck"),
    "even lift": Trait(0.2, 0.03, 0.15, "a line bore that spares the worn saddles"),
    "tilted lift": Trait(0.2, 0.03, 0.15, "the same, each end by its own need"),
    "caps over": Trait(1.0, -0.02, 0.08, "what comes off the caps beyond lift and wear"),
    "bored over": Trait(1.0, 0.00, 0.05, "the size bored, over the largest as drawn"),
}
NEAR = 0.5  # share of the blocks that come to within twice the uncertainty of a limit
NOWHERE, OVERALL, CLEARANCE = "", "overall", "clearance"


@dataclass(frozen=True)
class Intents(Lot):
    """By block: what the decks are cut parallel to and by how much off the lowest corner; the line
    bore (nan: none); the limit it comes near to and how far beyond it the work would end."""

    parallel_to: NDArray[np.str_]
    cut: Floats
    front: Floats
    rear: Floats
    size: Floats
    caps_off: Floats
    near: NDArray[np.str_]
    beyond: Floats

    @property
    def boring(self) -> BoringSheet:
        """The sheet for the line bore."""
        return BoringSheet(self.front, self.rear, self.size, self.caps_off)


def intended_work(blocks: Blocks, seed: int, uncertainty: float) -> tuple[Blocks, Intents]:
    """The same blocks with their work; half of them moved so that it ends near a limit.

    A block is moved as the file would: its bottom for the overall least, its decks for the
    clearance, by what the work, done without error, ends away from where it is to end.
    """
    chance, count = np.random.default_rng([seed, 1]), len(blocks)
    intents = _drawn(blocks, chance, uncertainty)
    done = without_error(blocks, intents)
    found, sizes = true_figures(done), blocks.sizes
    ends = np.full(count, np.nan)
    if "bottom" in blocks.faces:
        ends = found["overall"].min(axis=1) - sizes["overall_least"]
    by_bottom = np.where(intents.near == OVERALL, intents.beyond - ends, 0.0)
    faces = dict(blocks.faces)
    if "bottom" in faces:
        faces["bottom"] = faces["bottom"].raised(by_bottom)
    clearance = np.stack([found[f"{bank}.clearance"].min(axis=1) for bank in blocks.banks])
    ends = clearance.min(axis=0) - sizes["clearance_least"]
    by_deck = np.where(intents.near == CLEARANCE, intents.beyond - ends, 0.0)
    faces |= {bank: faces[bank].raised(by_deck) for bank in blocks.banks}
    return replace(blocks, faces=faces), intents


def without_error(blocks: Blocks, intents: Intents) -> Blocks:
    """The blocks after their work, done perfectly."""
    chance = np.random.default_rng(0)
    done = line_bored(blocks, intents.boring, PERFECT, chance).blocks
    for bank in blocks.banks:
        sheet = CuttingSheet(bank, intents.parallel_to, LOWEST_CORNER, intents.cut)
        done = face_cut(done, sheet, PERFECT, chance)
    return done


def blocks_with_work(
    sizes: Sizes, seed: int, count: int, uncertainty: float
) -> tuple[Blocks, Intents]:
    """Random blocks and their work."""
    return intended_work(random_blocks(sizes, seed, count), seed, uncertainty)


def _drawn(blocks: Blocks, chance: np.random.Generator, uncertainty: float) -> Intents:
    count, one_deck = len(blocks), "bottom" in blocks.faces
    even, tilted = (WORK[name] for name in ("even lift", "tilted lift"))
    kind = chance.random(count)
    lifts = chance.uniform(even.least, even.most, (count, 2))
    lifts[kind < even.share, 1] = lifts[kind < even.share, 0]
    lifts[kind >= even.share + tilted.share] = np.nan
    tunnels, line = blocks.tunnels, blocks.crank_line
    _, up = line.at(tunnels.along)
    share = (tunnels.along - tunnels.along[0]) / (tunnels.along[-1] - tunnels.along[0])
    rises = lifts[:, :1] * (1 - share) + lifts[:, 1:] * share
    size = blocks.sizes["tunnel"][1] + chance.uniform(*WORK["bored over"][1:3], count)
    foot = tunnels.height - up - tunnels.upright / 2
    least_off = (rises - size[:, None] / 2 - foot).max(axis=1)
    ways = [CRANK_LINE, ITSELF, OPPOSITE_FACE] if one_deck else [CRANK_LINE, ITSELF]
    limits = [OVERALL, CLEARANCE] if one_deck else [CLEARANCE]
    near = np.where(chance.random(count) < NEAR, chance.choice(limits, count), NOWHERE)
    return Intents(
        parallel_to=chance.choice(ways, count),
        cut=chance.uniform(*WORK["cut"][1:3], count),
        front=lifts[:, 0],
        rear=lifts[:, 1],
        size=np.where(np.isnan(lifts[:, 0]), np.nan, size),
        caps_off=np.maximum(least_off + chance.uniform(*WORK["caps over"][1:3], count), 0.0),
        near=near,
        beyond=np.where(near == NOWHERE, np.nan, chance.uniform(-2, 2, count) * uncertainty),
    )
