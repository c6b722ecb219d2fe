"""Random blocks: faces, tunnels, cylinders and the parts that are to go in.

Sizes come as a plain dict (`sizes.toml` holds two). What is drawn, how often and why stands in
TRAITS alone and is never turned to please a result.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, NamedTuple, Self

import numpy as np
from numpy.typing import NDArray

from virtual_shop.faces import Face, Floats, Line, Lot

Sizes = Mapping[str, Any]


class Trait(NamedTuple):
    """A share of the blocks has it, by so much (mm), drawn evenly; the rest has none."""

    share: float
    least: float
    most: float
    why: str


# Figures from memory of what is found in rebuilt blocks; common practice, no source.
TRAITS = {
    "metal to spare": Trait(1.0, 0.00, 0.50, "some decks were cut before, some castings ran high"),
    "bottom cut before": Trait(0.5, 0.05, 0.30, "a bottom is faced when its rail was bruised"),
    "tilt along": Trait(0.6, -0.08, 0.08, "clamped on a dirty table once, end to end"),
    "tilt across": Trait(0.6, -0.04, 0.04, "the same, side to side"),
    "twist": Trait(0.3, -0.05, 0.05, "iron moves as it ages; half of what the diagonals differ by"),
    "crown": Trait(0.25, 0.01, 0.05, "a deck rubbed down by hand is high in the middle"),
    "hollow": Trait(0.5, 0.01, 0.10, "sunk between bolts, burnt by a leaking gasket; one to three"),
    "hollow width": Trait(1.0, 15.0, 60.0, "from one bolt to half a deck: where it is 0.6 as deep"),
    "waviness": Trait(1.0, 0.0002, 0.0015, "marks of the last cutter and of chatter"),
    "wave length": Trait(1.0, 25.0, 90.0, "feed of a hand-fed table"),
    "tunnel wander": Trait(1.0, -0.010, 0.010, "centres off line, upright and sideways"),
    "tunnel bent": Trait(0.25, -0.03, 0.03, "a block that was run hot sags or rises in the middle"),
    "worn seat": Trait(0.35, 0.01, 0.05, "an end tunnel hammered out above the shell"),
    "worn cap": Trait(0.35, 0.01, 0.05, "a cap that was beaten by a loose bearing"),
    "pinched across": Trait(0.3, 0.003, 0.015, "a cap closes in at its joint when overheated"),
    "bore place": Trait(1.0, -0.10, 0.10, "boring bars were centred on worn bores"),
    "bore lean": Trait(1.0, -0.03, 0.03, "from the deck to the crank line"),
    "part": Trait(1.0, -0.03, 0.03, "crank ground, rods closed and bored again, other pistons"),
    "part, each": Trait(1.0, -0.01, 0.01, "how far parts of one set differ"),
    "balance": Trait(1.0, -8.0, 8.0, "the middle of weight is not the middle of the length"),
}
ALONG, ACROSS = 41, 21


@dataclass(frozen=True)
class Tunnels(Lot):
    """Main tunnels, caps torqued: size upright and across, and where their centres stand."""

    shared = frozenset({"along"})
    along: Floats
    upright: Floats
    across: Floats
    sideways: Floats
    height: Floats


@dataclass(frozen=True)
class Bank(Lot):
    """The cylinders under one deck: places on it, bore, lean across (radians), and their parts."""

    shared = frozenset({"bore"})
    bore: float
    along: Floats
    across: Floats
    lean: Floats
    throw: Floats
    rod: Floats
    piston: Floats


@dataclass(frozen=True)
class Blocks(Lot):
    """A lot of blocks; `crank_line` joins the centres of the end tunnels, or is the line bored.

    `faces` has a deck for each of the `banks`, under its name, and "bottom" if it is worked from.
    """

    shared = frozenset({"sizes"})
    sizes: Sizes
    faces: Mapping[str, Face]
    tunnels: Tunnels
    banks: Mapping[str, Bank]
    crank_line: Line
    weight_at: Floats

    def __len__(self) -> int:
        return len(self.weight_at)

    def with_face(self, name: str, face: Face) -> Self:
        """The blocks with another face of that name."""
        return replace(self, faces={**self.faces, name: face})

    def mandrel_axis(self) -> Line:
        """The axis of the straight mandrel as it rests in the saddles of the end tunnels.

        The mandrel is waisted: it touches nothing between its ends. In a saddle narrower than it
        is high it stands on both flanks, short of the top.
        """
        ends, radius = [0, -1], self.sizes["mandrel"] / 2
        half_up, half_over = self.tunnels.upright[:, ends] / 2, self.tunnels.across[:, ends] / 2
        if np.any(radius > half_over):
            raise ValueError("the mandrel does not enter an end tunnel: give sizes a smaller one")
        flanks = np.sqrt(np.maximum(half_up**2 - half_over**2, 0) * (half_over**2 - radius**2))
        on_top = radius * half_up <= half_over**2
        seat = np.where(on_top, half_up - radius, flanks / half_over)
        return Line(
            self.tunnels.along[ends],
            self.tunnels.sideways[:, ends],
            self.tunnels.height[:, ends] + seat,
        )


def random_blocks(sizes: Sizes, seed: int, count: int) -> Blocks:
    """As many blocks as asked, always the same for one seed and count."""
    draw = _Draw(np.random.default_rng(seed), count)
    tunnels = _tunnels(sizes, draw)
    half_angle = np.radians(sizes["bank_angle"]) / 2
    leans = dict(zip(sizes["banks"], (half_angle, -half_angle), strict=False))
    faces = {name: _deck(sizes, name, lean, draw) for name, lean in leans.items()}
    if sizes["bottom_width"]:
        faces["bottom"] = _bottom(sizes, draw)
    throws = sizes["stroke"] / 2 + draw("part")[:, None]
    throws = throws + draw("part, each", 1 + max(max(b["pins"]) for b in sizes["banks"].values()))
    middle = np.array([sizes["length"] / 2, 0.0])
    return Blocks(
        sizes=sizes,
        faces=faces,
        tunnels=tunnels,
        banks={name: _bank(sizes, bank, throws, draw) for name, bank in sizes["banks"].items()},
        crank_line=centre_line(tunnels),
        weight_at=middle + draw("balance", 2),
    )


def centre_line(tunnels: Tunnels) -> Line:
    """The line that joins the centres of the end tunnels."""
    ends = [0, -1]
    return Line(tunnels.along[ends], tunnels.sideways[:, ends], tunnels.height[:, ends])


def flat_face(
    sizes: Sizes, width: float, height: Floats, outward: float = 0.0, rail: float = 0.0
) -> Face:
    """A flat face, height outward for each block; `outward` is its lean to the left, pi down."""
    along = np.linspace(0, sizes["length"], ALONG)
    across = np.linspace(-width / 2, width / 2, ACROSS)
    down = abs(outward) > np.pi / 2
    return Face(
        along=along,
        across=across,
        height=np.broadcast_to(height[:, None, None], (len(height), ALONG, ACROSS)).copy(),
        outward=np.array([np.sin(outward), np.cos(outward)]),
        left=np.array([1.0, 0.0]) if down else np.array([np.cos(outward), -np.sin(outward)]),
        holes=np.empty((0, 3)),
        rail=rail,
        corners=np.asarray(sizes["corners"], float),
    )


class _Draw:
    """Draws traits: each block has one or not, and where it has it, by an even chance."""

    def __init__(self, chance: np.random.Generator, count: int) -> None:
        self.chance, self.count = chance, count

    def __call__(self, name: str, *more: int) -> Floats:
        """The trait's figure by block; further axes are drawn each for itself."""
        share, least, most, _ = TRAITS[name]
        has = self.chance.random(self.count) < share
        figures = self.chance.uniform(least, most, (self.count, *more))
        return np.where(has.reshape(-1, *[1] * len(more)), figures, 0.0)

    def one_of(self, *more: int, choices: int) -> NDArray[np.int64]:
        """One of so many, each as likely."""
        return self.chance.integers(0, choices, (self.count, *more))


def _deck(sizes: Sizes, name: str, lean: float, draw: _Draw) -> Face:
    face = flat_face(sizes, sizes["deck_width"], sizes["deck"] + draw("metal to spare"), lean)
    holes = [(x, 0.0, sizes["bore"] / 2) for x in sizes["banks"][name]["along"]]
    return _shaped(replace(face, holes=np.array(holes)), draw)


def _bottom(sizes: Sizes, draw: _Draw) -> Face:
    height = sizes["overall"] - sizes["deck"] - draw("bottom cut before")
    return _shaped(flat_face(sizes, sizes["bottom_width"], height, np.pi, sizes["rail"]), draw)


def _shaped(face: Face, draw: _Draw) -> Face:
    """The face tilted, twisted, crowned, sunk and waved."""
    x, y = face.grid
    front, rear, half = face.corners
    u, v = (2 * x - front - rear) / (rear - front), y / half  # ±1 at the corners
    shapes = {"tilt along": u / 2, "tilt across": v / 2, "twist": -u * v / 2}
    shapes["crown"] = (1 - u**2) * (1 - v**2 / 2)
    height = face.height + sum(
        draw(name)[:, None, None] * shape[None] for name, shape in shapes.items()
    )
    deep = draw("hollow", 3) * (np.arange(3) <= draw.one_of(choices=3)[:, None])
    wide = draw("hollow width", 3)
    at_x = draw.chance.uniform(face.along[0], face.along[-1], (draw.count, 3))
    at_y = draw.chance.uniform(face.across[0], face.across[-1], (draw.count, 3))
    for i in range(3):
        off = (x - at_x[:, i, None, None]) ** 2 + (y - at_y[:, i, None, None]) ** 2
        sunk = np.exp(-off / (2 * wide[:, i, None, None] ** 2))
        height = height - deep[:, i, None, None] * sunk
    for _ in range(2):
        way = draw.chance.uniform(0, np.pi, draw.count)[:, None, None]
        start = draw.chance.uniform(0, 2 * np.pi, draw.count)[:, None, None]
        length = draw("wave length")[:, None, None]
        along_wave = (x * np.cos(way) + y * np.sin(way)) / length
        height = height + draw("waviness")[:, None, None] * np.sin(2 * np.pi * along_wave + start)
    return replace(face, height=height)


def _tunnels(sizes: Sizes, draw: _Draw) -> Tunnels:
    """Round tunnels off line, then the saddles and caps beaten out and the joints pinched."""
    along = np.asarray(sizes["tunnels_along"], float)
    count = len(along)
    size = draw.chance.uniform(sizes["tunnel"][0], sizes["tunnel"][1], (draw.count, count))
    bow = 1 - ((2 * along - along[0] - along[-1]) / (along[-1] - along[0])) ** 2
    top = draw("worn seat", count) * _some(draw, count)
    foot = draw("worn cap", count) * _some(draw, count)
    return Tunnels(
        along=along,
        upright=size + top + foot,
        across=size - draw("pinched across", count),
        sideways=draw("tunnel wander", count) + draw("tunnel bent")[:, None] * bow,
        height=draw("tunnel wander", count) + draw("tunnel bent")[:, None] * bow + (top - foot) / 2,
    )


def _some(draw: _Draw, count: int) -> NDArray[np.bool_]:
    """Which tunnels are worn: one of the ends, and of the others every second or so."""
    worn: NDArray[np.bool_] = draw.one_of(count, choices=2) == 1
    worn[np.arange(draw.count), np.where(draw.one_of(choices=2) == 1, -1, 0)] = True
    return worn


def _bank(sizes: Sizes, bank: Mapping[str, Any], throws: Floats, draw: _Draw) -> Bank:
    count = len(bank["along"])
    return Bank(
        bore=sizes["bore"],
        along=np.asarray(bank["along"]) + draw("bore place", count),
        across=draw("bore place", count),
        lean=draw("bore lean", count) / sizes["deck"],
        throw=throws[:, bank["pins"]],
        rod=sizes["rod"] + draw("part")[:, None] + draw("part, each", count),
        piston=sizes["piston"] + draw("part")[:, None] + draw("part, each", count),
    )
