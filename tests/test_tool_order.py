"""The order of the tools: never an operation before its predecessor, and as few mountings as trying every order finds.

Source: brute force over every order of small cases; the search itself is not used there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from random import Random

import pytest

from builder.tool_order import ToolOrder, tool_order

TOOLS = ["drill 6.8", "drill 17/64", "counterbore", "tap", "countersink"]


def every_order(chains: Sequence[Sequence[str]], at: tuple[int, ...], tool: str, used: int, most: int) -> Iterator[int]:
    """The mountings of every order of single operations there is, as far as it stays under `most`."""
    if used > most:
        return
    if all(place == len(chain) for place, chain in zip(at, chains, strict=True)):
        yield used
        return
    for number, chain in enumerate(chains):
        if at[number] < len(chain):
            further = tuple(place + (one == number) for one, place in enumerate(at))
            wanted = chain[at[number]]
            yield from every_order(chains, further, wanted, used + (wanted != tool), most)


def fewest(chains: Sequence[Sequence[str]]) -> int:
    most = sum(map(len, chains))
    return min(every_order(chains, (0,) * len(chains), "", 0, most))


def small_cases() -> list[list[list[str]]]:
    chance = Random(4)
    return [[chance.choices(TOOLS, k=chance.randint(1, 3)) for _ in range(chance.randint(1, 3))] for _ in range(60)]


def keeps_every_order(chains: Sequence[Sequence[str]], order: ToolOrder) -> bool:
    """Whether each operation is done once, with its own tool, after the one before it in its hole."""
    done = [0] * len(chains)
    for mounted in order.mounted:
        for number, place in mounted.work:
            if place != done[number] or chains[number][place] != mounted.tool:
                return False
            done[number] += 1
    return done == [len(chain) for chain in chains]


@pytest.mark.parametrize("chains", small_cases(), ids=str)
def test_as_few_tools_are_mounted_as_trying_every_order_finds(chains: list[list[str]]) -> None:
    order = tool_order(chains)
    assert keeps_every_order(chains, order)
    assert len(order.mounted) == order.bound == fewest(chains)


@pytest.mark.parametrize("chains", small_cases(), ids=str)
def test_with_too_many_states_the_order_still_holds_and_the_bound_is_no_more_than_the_fewest(chains: list[list[str]]) -> None:
    order = tool_order(chains, most_states=0)
    assert keeps_every_order(chains, order)
    assert order.bound <= fewest(chains) <= len(order.mounted)


def test_the_bound_is_said_where_it_was_not_reached() -> None:
    chains = [["drill", "tap"], ["tap", "drill"]]  # by hand: three mountings, though there are only two tools
    assert len(tool_order(chains).mounted) == 3
    assert tool_order(chains).fewest
    assert not tool_order(chains, most_states=0).fewest


def test_nothing_to_do_needs_no_tool() -> None:
    assert tool_order([]).mounted == ()


def test_a_broken_order_would_be_noticed() -> None:
    chains = [["drill", "tap"]]
    good = tool_order(chains)
    assert not keeps_every_order([["tap", "drill"]], good)
    assert not keeps_every_order(chains, ToolOrder(good.mounted[::-1], 2))
    assert not keeps_every_order(chains, ToolOrder(good.mounted[:1], 2))
