"""The order of hole work: tools mounted and set-ups turned to as seldom as can be, no operation
before the one it follows.

Each group of holes is a chain of operations in one face of the block. With a tool in the spindle
and a face up, whatever can be done is done, by hand as well; what comes next is searched: exactly
while the states are few, else by the least change and the most work first, with the bound stated.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from operator import itemgetter
from typing import Literal, NamedTuple

from datumbook.effort import spend

MOST_STATES = 20_000
MOST_LOOKS = 500_000  # at one chain in one state; with many chains fewer states are tried
BY_HAND = ""
Spared = Literal["tool changes", "set-ups"]
Cost = tuple[int, int]  # what is spared first, and what is spared next


@dataclass(frozen=True, slots=True)
class Chain:
    """The operations of one group of holes: the face they stand in, and the tool of each, BY_HAND
    for one that needs none.
    """

    face: str
    tools: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Stretch:
    """What is done with one tool in the spindle and one face up: (chain, place in it) in turn."""

    tool: str
    face: str
    work: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class SpindleState:
    """How far every chain has come, and what is in the spindle and up."""

    at: tuple[int, ...]
    tool: str = BY_HAND
    face: str = ""


class ChainLeft(NamedTuple):
    """What is left of a chain from one of its places: its tools and its face as bits, the first of
    the tools, and how often one follows another.
    """

    tools: int
    face: int
    first: str
    changes: int


@dataclass(frozen=True, slots=True)
class ToolOrder:
    """The stretches in order, and the numbers of tools mounted and of set-ups below which no order
    can go.
    """

    stretches: tuple[Stretch, ...]
    bound: tuple[int, int]

    @property
    def mounted(self) -> int:
        """How often a tool is put into the spindle."""
        return _changed([BY_HAND, *(one.tool for one in self.stretches)])

    @property
    def set_ups(self) -> int:
        """How often a face is turned up, the first one included."""
        return _changed(["", *(one.face for one in self.stretches)])

    @property
    def fewest(self) -> bool:
        """Whether no order makes fewer of the changes spared first, and none with as few of these
        fewer of the others.
        """
        return (self.mounted, self.set_ups) == self.bound


def tool_order(
    chains: Sequence[Chain], spared: Spared = "tool changes", most_states: int = MOST_STATES
) -> ToolOrder:
    """Return the order of these chains that spares one kind of change first and then the other.

    >>> tapped = Chain("deck", ("drill", "tap"))
    >>> relieved = Chain("deck", ("relief", "drill", "tap", BY_HAND))
    >>> order = tool_order([tapped, relieved])
    >>> [one.tool for one in order.stretches], order.mounted, order.set_ups
    (['relief', 'drill', 'tap'], 3, 1)
    """
    return _ordered(tuple(chains), spared, most_states)


@lru_cache(maxsize=64)
def _ordered(chains: tuple[Chain, ...], spared: Spared, most_states: int) -> ToolOrder:
    alike = ToolSearch(tuple(dict.fromkeys(chains)), spared)
    states = alike.cheapest(most_states)
    stretches = _stretches(chains, alike.chains, states or alike.least_change_first())
    found = ToolOrder(tuple(stretches), (0, 0))
    bound = (found.mounted, found.set_ups) if states else alike.bound()
    return ToolOrder(found.stretches, bound)


class ToolSearch:
    """Orders of chains no two of which are alike: what is alike is done together.

    What is left of a chain from each of its places is worked out once, tools and faces as bits.
    """

    def __init__(self, chains: tuple[Chain, ...], spared: Spared) -> None:
        self.chains, self.spared = chains, spared
        tools = dict.fromkeys(tool for chain in chains for tool in chain.tools if tool)
        self.bit = {tool: 1 << at for at, tool in enumerate(tools)} | {BY_HAND: 0}
        faces = dict.fromkeys(chain.face for chain in chains)
        self.face_bit = {face: 1 << at for at, face in enumerate(faces)} | {"": 0}
        self.left = [[self._left(chain, place) for place in _places(chain)] for chain in chains]
        self.reached = [_reached(chain) for chain in chains]
        self.ends = tuple(len(chain.tools) for chain in chains)
        self.standing = {face: self._in(face) for face in ("", *faces)}

    def _left(self, chain: Chain, place: int) -> ChainLeft:
        tools = [tool for tool in chain.tools[place:] if tool]
        bits = 0
        for tool in tools:
            bits |= self.bit[tool]
        face = self.face_bit[chain.face] if place < len(chain.tools) else 0
        return ChainLeft(bits, face, tools[0] if tools else BY_HAND, _changed(tools))

    def _in(self, face: str) -> list[int]:
        return [at for at, chain in enumerate(self.chains) if chain.face == face]

    @property
    def start(self) -> SpindleState:
        """Nothing done, nothing mounted, no face up."""
        return SpindleState((0,) * len(self.chains))

    def worked(self, state: SpindleState) -> SpindleState:
        """The state once all is done that this tool and this face allow."""
        further = list(state.at)
        for number in self.standing[state.face]:
            reached = self.reached[number][further[number]]
            further[number] = reached.get(state.tool, reached[BY_HAND])
        return SpindleState(tuple(further), state.tool, state.face)

    def next(self, state: SpindleState) -> list[SpindleState]:
        """Every state that some chain wants next, its work done."""
        wanted = {
            (chain.tools[place] or state.tool, chain.face): None
            for chain, place in zip(self.chains, state.at, strict=True)
            if place < len(chain.tools)
        }
        return [self.worked(SpindleState(state.at, tool, face)) for tool, face in wanted]

    def least(self, state: SpindleState) -> tuple[int, int]:
        """No fewer mountings and set-ups than these are left: different tools still wanted, or one
        chain's own; faces left.
        """
        tools = faces = own = 0
        for of, place in zip(self.left, state.at, strict=True):
            left = of[place]
            tools |= left.tools
            faces |= left.face
            changes = left.changes + (left.first != BY_HAND and left.first != state.tool)
            own = max(own, changes)
        different = (tools & ~self.bit[state.tool]).bit_count()
        return max(different, own), (faces & ~self.face_bit[state.face]).bit_count()

    def bound(self) -> tuple[int, int]:
        """Numbers of mountings and set-ups below which no order can go."""
        return self.least(self.start)

    def changes(self, one: SpindleState, other: SpindleState) -> Cost:
        """What it costs to go from one state to the next."""
        return self.ranked(int(one.tool != other.tool), int(one.face != other.face))

    def ranked(self, mounted: int, set_ups: int) -> Cost:
        """What is spared first, and what next."""
        return (mounted, set_ups) if self.spared == "tool changes" else (set_ups, mounted)

    def cheapest(self, most_states: int) -> list[SpindleState]:
        """The states on the way of least cost, by a search that never overrates what is left; none
        if it takes too many.
        """
        start, looks = self.start, MOST_LOOKS
        waiting: list[tuple[Cost, int, Cost, SpindleState]] = [((0, 0), 0, (0, 0), start)]
        cost_of, before, count = {start: (0, 0)}, dict[SpindleState, SpindleState](), 0
        for _ in range(most_states):
            _, _, cost, state = heapq.heappop(waiting)
            if state.at == self.ends:
                return _way_to(state, before)
            for further in self.next(state):
                whole = _sum(cost, self.changes(state, further))
                looks -= len(self.chains)
                spend(2 + len(self.chains), "groups of holes")
                if further not in cost_of or whole < cost_of[further]:
                    cost_of[further], before[further], count = whole, state, count + 1
                    left = self.ranked(*self.least(further))
                    heapq.heappush(waiting, (_sum(whole, left), count, whole, further))
            if looks < 0:
                break
        return []

    def least_change_first(self) -> list[SpindleState]:
        """By turns the state that costs least, leaves fewest chains wanting its tool again, and
        does most.
        """
        way = [self.start]
        while way[-1].at != self.ends:
            ranked = [
                (self.changes(way[-1], one), self._again(one), -sum(one.at), one)
                for one in self.next(way[-1])
            ]
            way.append(min(ranked, key=itemgetter(0, 1, 2))[3])
        return way

    def _again(self, state: SpindleState) -> int:
        """How many chains would want the tool of a state again later."""
        bit = self.bit[state.tool]
        return sum(bool(of[at].tools & bit) for of, at in zip(self.left, state.at, strict=True))


def _places(chain: Chain) -> range:
    return range(len(chain.tools) + 1)


def _reached(chain: Chain) -> list[dict[str, int]]:
    """Of each place of a chain, how far one comes from it with each of its tools mounted; with any
    other as far as BY_HAND.
    """
    mounted = {BY_HAND, *chain.tools}
    found = [dict.fromkeys(mounted, len(chain.tools))]
    for place in reversed(range(len(chain.tools))):
        wanted, further = chain.tools[place], found[-1]
        found.append(
            {tool: further[tool] if wanted in (tool, BY_HAND) else place for tool in mounted}
        )
    return found[::-1]


def _way_to(state: SpindleState, before: Mapping[SpindleState, SpindleState]) -> list[SpindleState]:
    way = [state]
    while way[-1] in before:
        way.append(before[way[-1]])
    return way[::-1]


def _sum(one: Cost, other: Cost) -> Cost:
    return one[0] + other[0], one[1] + other[1]


def _changed(words: Sequence[str]) -> int:
    return sum(one != other for one, other in pairwise(words))


def _stretches(
    chains: Sequence[Chain], alike: Sequence[Chain], way: Sequence[SpindleState]
) -> Iterator[Stretch]:
    """What is done of all chains between the states of a way, on which those alike stand once."""
    place_of = {chain: at for at, chain in enumerate(alike)}
    for one, other in pairwise(way):
        work = tuple(
            (number, place)
            for number, chain in enumerate(chains)
            for at in [place_of[chain]]
            for place in range(one.at[at], other.at[at])
        )
        yield Stretch(other.tool, other.face, work)
