"""The order of the tools: never an operation before its predecessor, and as few changes as trying
every order finds.

Source: brute force over every order of single operations of small cases; the search itself is not
used there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from datumbook.optimise.tool_order import BY_HAND, Chain, Spared, Stretch, ToolOrder, tool_order
from long_runs import examples

TOOLS = ["drill 6.8", "drill 17/64", "counterbore", "tap", BY_HAND]
FACES = ["deck", "bottom", "front"]
SPARED: list[Spared] = ["tool changes", "set-ups"]

a_chain = st.builds(
    Chain,
    st.sampled_from(FACES),
    st.lists(st.sampled_from(TOOLS), min_size=1, max_size=3).map(tuple),
)
small_cases = st.lists(a_chain, min_size=1, max_size=3)


def every_order(
    chains: Sequence[Chain], at: tuple[int, ...], tool: str, face: str
) -> Iterator[tuple[int, int]]:
    """The mountings and the set-ups of every order of single operations there is."""
    if all(place == len(chain.tools) for place, chain in zip(at, chains, strict=True)):
        yield 0, 0
        return
    for number, chain in enumerate(chains):
        if at[number] < len(chain.tools):
            further = tuple(place + (one == number) for one, place in enumerate(at))
            wanted = chain.tools[at[number]] or tool
            for mounted, turned in every_order(chains, further, wanted, chain.face):
                yield mounted + (wanted != tool), turned + (chain.face != face)


def fewest(chains: Sequence[Chain], spared: Spared) -> tuple[int, int]:
    """The mountings and set-ups of the best order, by what is spared first."""
    orders = every_order(chains, (0,) * len(chains), BY_HAND, "")
    return min(orders, key=lambda counted: counted if spared == "tool changes" else counted[::-1])


def keeps_every_order(chains: Sequence[Chain], order: ToolOrder) -> bool:
    """Whether each operation is done once, with its own tool and its own face up, after the one
    before it in its hole.
    """
    done = [0] * len(chains)
    for stretch in order.stretches:
        for number, place in stretch.work:
            chain = chains[number]
            if (
                place != done[number]
                or chain.face != stretch.face
                or chain.tools[place] not in (stretch.tool, BY_HAND)
            ):
                return False
            done[number] += 1
    return done == [len(chain.tools) for chain in chains]


@settings(max_examples=examples(150), deadline=None)
@given(small_cases, st.sampled_from(SPARED))
def test_as_few_changes_are_made_as_trying_every_order_finds(
    chains: list[Chain], spared: Spared
) -> None:
    order = tool_order(chains, spared)
    assert keeps_every_order(chains, order)
    assert (order.mounted, order.set_ups) == order.bound == fewest(chains, spared)


@settings(max_examples=examples(150), deadline=None)
@given(small_cases, st.sampled_from(SPARED))
def test_where_the_search_is_given_up_the_order_still_holds_and_no_order_goes_below_the_bound(
    chains: list[Chain], spared: Spared
) -> None:
    order = tool_order(chains, spared, most_states=0)
    assert keeps_every_order(chains, order)
    for mounted, turned in every_order(chains, (0,) * len(chains), BY_HAND, ""):
        assert order.bound[0] <= mounted
        assert order.bound[1] <= turned


def test_what_is_spared_first_decides_where_both_cannot_be() -> None:
    # by hand: one drill for both faces turns the block back for its tap; face by face the drill is
    # mounted twice
    chains = [Chain("bottom", ("drill", "tap")), Chain("front", ("drill", "tap"))]
    tools, turns = (tool_order(chains, spared) for spared in SPARED)
    assert (tools.mounted, tools.set_ups) == (2, 3)
    assert (turns.mounted, turns.set_ups) == (4, 2)


def test_work_by_hand_mounts_nothing_and_is_done_while_its_face_is_up() -> None:
    order = tool_order(
        [Chain("deck", ("relief", BY_HAND, BY_HAND)), Chain("bottom", (BY_HAND, "drill"))]
    )
    assert (order.mounted, order.set_ups) == (2, 2)
    assert sum(len(stretch.work) for stretch in order.stretches) == 5


def test_the_bound_is_said_where_it_was_not_reached() -> None:
    chains = [
        Chain("deck", ("drill", "tap")),
        Chain("deck", ("tap", "drill")),
    ]  # by hand: three mountings of two tools
    assert tool_order(chains).mounted == 3
    assert tool_order(chains).fewest
    assert not tool_order(chains, most_states=0).fewest


def test_nothing_to_do_needs_no_tool() -> None:
    assert tool_order([]).stretches == ()
    assert tool_order([]).fewest


def test_a_broken_order_would_be_noticed() -> None:
    chains = [Chain("deck", ("drill", "tap"))]
    good = tool_order(chains)
    assert not keeps_every_order([Chain("deck", ("tap", "drill"))], good)
    assert not keeps_every_order([Chain("rear", ("drill", "tap"))], good)
    assert not keeps_every_order(chains, ToolOrder(good.stretches[::-1], good.bound))
    assert not keeps_every_order(chains, ToolOrder(good.stretches[:1], good.bound))
    assert not keeps_every_order(
        chains, ToolOrder((*good.stretches, Stretch("tap", "deck", ((0, 1),))), good.bound)
    )


@pytest.mark.parametrize("spared", SPARED)
def test_a_whole_block_of_ten_groups_is_ordered_with_its_bound(spared: Spared) -> None:
    # ten groups on five faces, each with a drill and a tap of its own and one counterbore for all
    faces = ["deck", "bottom", "front", "rear", "left"] * 2
    chains = [
        Chain(face, (f"drill {at}", "counterbore", f"tap {at}", BY_HAND))
        for at, face in enumerate(faces)
    ]
    order = tool_order(chains, spared)
    assert keeps_every_order(chains, order)
    assert order.bound[0] <= order.mounted
    assert order.bound[1] <= order.set_ups
