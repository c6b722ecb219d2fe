from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.optimise.least_metal import Answer, Cut, End, SizeLimit, least_metal

DECK, BOTTOM, CAPS = (
    Cut("deck", "Off the deck"),
    Cut("bottom", "Off the bottom face"),
    Cut("caps", "Off the caps"),
)
STEP = 0.0005
MOST = 12  # steps of the grid


def limit(
    coefficients: dict[str, float], before: float, end: End, bound: float, name: str = "a size"
) -> SizeLimit:
    return SizeLimit(name, coefficients, before, end, bound, "invented")


def asks(cut: Cut, size: float) -> SizeLimit:
    return limit({cut.key: 1.0}, 0.0, "low", size, f"asks {cut.key}")


def spares(cuts: tuple[Cut, ...], size: float) -> SizeLimit:
    return limit({cut.key: -1.0 for cut in cuts}, size, "low", 0.0, "spares")


def brute(cuts: tuple[Cut, ...], limits: list[SizeLimit]) -> float | None:
    """The least sum over a grid of cuts, by trying them all."""
    grid = itertools.product(*[[step * STEP for step in range(MOST + 1)]] * len(cuts))
    named = [{cut.key: size for cut, size in zip(cuts, sizes, strict=True)} for sizes in grid]
    sums = [sum(sizes.values()) for sizes in named if all(one.margin(sizes) >= 0 for one in limits)]
    return min(sums, default=None)


steps = st.integers(0, MOST).map(lambda number: number * STEP)


@st.composite
def small_cases(draw: st.DrawFn) -> list[SizeLimit]:
    """Intervals of single cuts and a budget over both: corners of such limits lie on the grid, and
    within it.
    """
    found: list[SizeLimit] = [spares((DECK,), MOST * STEP), spares((BOTTOM,), MOST * STEP)]
    for cut in (DECK, BOTTOM):
        if draw(st.booleans()):
            found.append(asks(cut, draw(steps)))
        if draw(st.booleans()):
            found.append(spares((cut,), draw(steps)))
    if draw(st.booleans()):
        found.append(spares((DECK, BOTTOM), draw(steps)))
    if draw(st.booleans()):
        found.append(limit({"deck": 1.0, "bottom": 1.0}, 0.0, "low", draw(steps), "asks both"))
    return found


@given(small_cases())
def test_least_metal_is_what_trying_every_cut_finds(limits: list[SizeLimit]) -> None:
    answer, tried = least_metal((DECK, BOTTOM), limits), brute((DECK, BOTTOM), limits)
    if tried is None:
        assert answer.sizes is None
    else:
        assert answer.sizes is not None
        assert sum(answer.sizes.values()) == pytest.approx(tried, abs=1e-9)
        assert all(one.margin(answer.sizes) >= 0 for one in limits)


@given(small_cases())
def test_every_limit_of_a_conflict_is_needed_for_it(limits: list[SizeLimit]) -> None:
    answer = least_metal((DECK, BOTTOM), limits)
    if answer.sizes is None:
        assert brute((DECK, BOTTOM), [*limits[:2], *answer.conflict]) is None
        for left_out in answer.conflict:
            rest = [one for one in answer.conflict if one is not left_out]
            assert least_metal((DECK, BOTTOM), rest).sizes is not None
    else:
        assert answer.conflict == ()


@given(st.lists(steps, min_size=1, max_size=4), steps)
def test_closed_form_of_one_cut(asked: list[float], spare: float) -> None:
    limits = [*(asks(DECK, size) for size in asked), spares((DECK,), spare)]
    answer = least_metal((DECK,), limits)
    expected = max(asked)  # geometry: the greatest demand, if there is metal for it
    assert answer.sizes == (
        {"deck": pytest.approx(expected, abs=1e-9)} if expected <= spare + 1e-12 else None
    )


def test_cuts_are_never_below_nought() -> None:
    assert least_metal((DECK, BOTTOM), [spares((DECK, BOTTOM), 0.5)]).sizes == {
        "deck": 0.0,
        "bottom": 0.0,
    }


def test_a_size_already_beyond_its_limit_is_the_whole_conflict() -> None:
    short, other = spares((DECK,), -0.001), asks(BOTTOM, 0.002)
    assert least_metal((DECK, BOTTOM), [other, short]).conflict == (short,)


def test_a_limit_met_exactly_is_met_and_binds() -> None:
    asked, spare = asks(DECK, 0.1 + 0.2), spares((DECK,), 0.3)  # 0.1 + 0.2 is a last bit above 0.3
    answer = least_metal((DECK,), [asked, spare])
    assert answer.sizes == {"deck": 0.3}
    assert answer.binding == (asked, spare)


def test_more_cuts_and_limits_are_only_more_data() -> None:
    shift = limit({"caps": 0.5, "deck": 1.0}, 0.0, "low", 0.004, "axis and deck together")
    answer = least_metal((DECK, BOTTOM, CAPS), [shift, spares((DECK,), 0.001)])
    assert answer.sizes == {"deck": 0.001, "bottom": 0.0, "caps": 0.006}


@pytest.mark.parametrize(
    ("spare", "expected"),
    [(0.0014, 0.0014), (0.00139, 0.001346), (0.0013457, 0.0013456)],
    ids=["room for the step", "room for a finer one", "room for none"],
)
def test_cuts_are_rounded_up_where_the_limits_leave_room(spare: float, expected: float) -> None:
    answer = least_metal((DECK,), [asks(DECK, 0.0013456), spares((DECK,), spare)])
    assert answer.rounded(4) == {"deck": pytest.approx(expected, abs=1e-12)}


def test_a_size_that_needs_no_rounding_is_not_rounded() -> None:
    assert Answer(cuts=(DECK,), limits=(), sizes={"deck": 0.0061}).rounded(4) == {"deck": 0.0061}
