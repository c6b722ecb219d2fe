"""The order of hole work: tools mounted and set-ups turned to as seldom as can be, no operation
before the one it follows.

Each group of holes is a chain of operations in one face of the block. With a tool in the spindle
and a face up, whatever can be done is done, by hand as well; what comes next is searched: exactly
while the states are few, else by the least change and the most work first, with the bound stated.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from operator import itemgetter
from typing import Literal

MOST_STATES = 20_000
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
    states = _searched(chains, spared, most_states)
    found = tuple(_stretches(chains, states or _least_change_first(chains, spared)))
    reached = ToolOrder(found, (0, 0))
    return ToolOrder(
        found, (reached.mounted, reached.set_ups) if states else _least(chains, _start(chains))
    )


def _start(chains: Sequence[Chain]) -> SpindleState:
    return SpindleState((0,) * len(chains))


def _finished(chains: Sequence[Chain], state: SpindleState) -> bool:
    return state.at == tuple(len(chain.tools) for chain in chains)


def _worked(chains: Sequence[Chain], state: SpindleState) -> SpindleState:
    """The state once all is done that this tool and this face allow."""
    further = list(state.at)
    for number, chain in enumerate(chains):
        while chain.face == state.face and chain.tools[further[number] :][:1] in (
            (state.tool,),
            (BY_HAND,),
        ):
            further[number] += 1
    return SpindleState(tuple(further), state.tool, state.face)


def _next(chains: Sequence[Chain], state: SpindleState) -> list[SpindleState]:
    """Every state that some chain wants next, its work done."""
    wanted = [
        (chain.tools[place] or state.tool, chain.face)
        for chain, place in zip(chains, state.at, strict=True)
        if place < len(chain.tools)
    ]
    return [
        _worked(chains, SpindleState(state.at, tool, face)) for tool, face in dict.fromkeys(wanted)
    ]


def _changes(one: SpindleState, other: SpindleState, spared: Spared) -> Cost:
    return _ranked(int(one.tool != other.tool), int(one.face != other.face), spared)


def _ranked(mounted: int, set_ups: int, spared: Spared) -> Cost:
    return (mounted, set_ups) if spared == "tool changes" else (set_ups, mounted)


def _sum(one: Cost, other: Cost) -> Cost:
    return one[0] + other[0], one[1] + other[1]


def _least(chains: Sequence[Chain], state: SpindleState) -> tuple[int, int]:
    """No fewer mountings and set-ups than these are left: different tools still wanted, or one
    chain's own; faces left.
    """
    left = [
        (chain.face, chain.tools[place:]) for chain, place in zip(chains, state.at, strict=True)
    ]
    different = {tool for _, tools in left for tool in tools} - {state.tool, BY_HAND}
    own = max((_changed([state.tool, *filter(None, tools)]) for _, tools in left), default=0)
    return max(len(different), own), len({face for face, tools in left if tools} - {state.face})


def _changed(words: Sequence[str]) -> int:
    return sum(one != other for one, other in pairwise(words))


def _searched(chains: Sequence[Chain], spared: Spared, most_states: int) -> list[SpindleState]:
    """The states on the way of least cost, by a search that never overrates what is left; none if
    it takes too many.
    """
    start = _start(chains)
    waiting: list[tuple[Cost, int, Cost, SpindleState]] = [((0, 0), 0, (0, 0), start)]
    cheapest, before, count = {start: (0, 0)}, dict[SpindleState, SpindleState](), 0
    for _ in range(most_states):
        _, _, cost, state = heapq.heappop(waiting)
        if _finished(chains, state):
            way = [state]
            while way[-1] in before:
                way.append(before[way[-1]])
            return way[::-1]
        for further in _next(chains, state):
            whole = _sum(cost, _changes(state, further, spared))
            if further not in cheapest or whole < cheapest[further]:
                cheapest[further], before[further], count = whole, state, count + 1
                left = _ranked(*_least(chains, further), spared)
                heapq.heappush(waiting, (_sum(whole, left), count, whole, further))
    return []


def _least_change_first(chains: Sequence[Chain], spared: Spared) -> list[SpindleState]:
    """By turns the state that costs least, leaves fewest chains wanting its tool again, and does
    most.
    """
    way = [_start(chains)]
    while not _finished(chains, way[-1]):
        ranked = [
            (_changes(way[-1], one, spared), _again(chains, one), -sum(one.at), one)
            for one in _next(chains, way[-1])
        ]
        way.append(min(ranked, key=itemgetter(0, 1, 2))[3])
    return way


def _again(chains: Sequence[Chain], state: SpindleState) -> int:
    """How many chains would want the tool of a state again later."""
    return sum(
        state.tool in chain.tools[place:] for chain, place in zip(chains, state.at, strict=True)
    )


def _stretches(chains: Sequence[Chain], way: Sequence[SpindleState]) -> Iterator[Stretch]:
    for one, other in pairwise(way):
        work = tuple(
            (number, place)
            for number in range(len(chains))
            for place in range(one.at[number], other.at[number])
        )
        yield Stretch(other.tool, other.face, work)
