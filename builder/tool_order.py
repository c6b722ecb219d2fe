"""The order of hole work in which as few tools as possible are changed, no operation before the one it follows.

Each group of holes is a chain of tools. While a tool is in the spindle it does whatever it can do next anywhere; which
tool comes next is searched: exactly while the states are few, else by the most work first, with the bound stated.
"""

from __future__ import annotations

import heapq
from collections.abc import Sequence
from dataclasses import dataclass
from math import prod

MOST_STATES = 50_000
Chain = Sequence[str]
State = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Mounted:
    """One mounting of a tool, and what it does: (chain, place in it) in turn."""

    tool: str
    work: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class ToolOrder:
    """The mountings in order, and the number below which no order can go."""

    mounted: tuple[Mounted, ...]
    bound: int

    @property
    def fewest(self) -> bool:
        """Whether no order needs fewer tools mounted."""
        return len(self.mounted) == self.bound


def tool_order(chains: Sequence[Chain], most_states: int = MOST_STATES) -> ToolOrder:
    """Return an order of the tools for these chains; as few mountings as there can be while the states are few.

    >>> [one.tool for one in tool_order([["drill", "tap"], ["relief", "drill", "tap"]]).mounted]
    ['relief', 'drill', 'tap']
    """
    few = prod(len(chain) + 1 for chain in chains) <= most_states
    tools = _searched(chains) if few else _most_work_first(chains)
    bound = len(tools) if few else _least(chains, (0,) * len(chains))
    return ToolOrder(tuple(_mounted(chains, tools)), bound)


def _advanced(chains: Sequence[Chain], at: State, tool: str) -> State:
    """The state once a tool has done all it can."""
    further = list(at)
    for number, chain in enumerate(chains):
        while further[number] < len(chain) and chain[further[number]] == tool:
            further[number] += 1
    return tuple(further)


def _next_tools(chains: Sequence[Chain], at: State) -> list[str]:
    return list(dict.fromkeys(chain[place] for chain, place in zip(chains, at, strict=True) if place < len(chain)))


def _least(chains: Sequence[Chain], at: State) -> int:
    """No fewer mountings than this are left: the different tools still wanted, or one chain's own changes."""
    different = len({tool for chain, place in zip(chains, at, strict=True) for tool in chain[place:]})
    own = max((_changes(chain[place:]) for chain, place in zip(chains, at, strict=True)), default=0)
    return max(different, own)


def _changes(chain: Chain) -> int:
    return sum(1 for place, tool in enumerate(chain) if not place or chain[place - 1] != tool)


def _searched(chains: Sequence[Chain]) -> list[str]:
    """The fewest tools, by a search that never overrates what is left."""
    start, end = (0,) * len(chains), tuple(len(chain) for chain in chains)
    waiting: list[tuple[int, int, State, tuple[str, ...]]] = [(_least(chains, start), 0, start, ())]
    best: dict[State, int] = {start: 0}
    count = 0
    while True:
        _, _, at, tools = heapq.heappop(waiting)
        if at == end:
            return list(tools)
        if len(tools) > best[at]:
            continue
        for tool in _next_tools(chains, at):
            further = _advanced(chains, at, tool)
            if len(tools) + 1 < best.get(further, len(tools) + 2):
                best[further], count = len(tools) + 1, count + 1
                heapq.heappush(waiting, (len(tools) + 1 + _least(chains, further), count, further, (*tools, tool)))


def _most_work_first(chains: Sequence[Chain]) -> list[str]:
    """Tools by turns the one that is wanted by most chains now and by fewest later."""
    at: State = (0,) * len(chains)
    tools: list[str] = []
    while following := _next_tools(chains, at):
        tool = min(following, key=lambda one: (_again_later(chains, at, one), -sum(_advanced(chains, at, one))))
        at = _advanced(chains, at, tool)
        tools.append(tool)
    return tools


def _again_later(chains: Sequence[Chain], at: State, tool: str) -> int:
    """How many chains would want a tool again after it has done all it can now."""
    further = _advanced(chains, at, tool)
    return sum(tool in chain[place:] for chain, place in zip(chains, further, strict=True))


def _mounted(chains: Sequence[Chain], tools: Sequence[str]) -> list[Mounted]:
    at: State = (0,) * len(chains)
    found: list[Mounted] = []
    for tool in tools:
        further = _advanced(chains, at, tool)
        work = tuple((number, place) for number in range(len(chains)) for place in range(at[number], further[number]))
        found.append(Mounted(tool, work))
        at = further
    return found
