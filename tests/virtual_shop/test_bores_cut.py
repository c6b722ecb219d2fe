"""Worn cylinders as points of their walls, bored about an axis that is set over: never called clean
where the cutter leaves one of the points untouched.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import numpy.typing as npt
from hypothesis import example, given, settings
from hypothesis import strategies as st

from datumbook.equations.verdicts import OK, OUT, UNSURE
from datumbook.workbook.evaluation import AsTyped
from long_runs import examples
from planned_blocks import layout, readings

TURNS = np.linspace(0, 2 * np.pi, 721)
LIP, OFF = 82.004, 0.002  # the gauge's own doubt
HONE = 0.06
DEPTHS = ("top", "middle", "bottom")


@cache
def block() -> dict[str, object]:
    """A sound block, the gauge of the bores no better than it is."""
    return readings() | {"instruments.bores.uncertainty": OFF, "bore.2.unworn_lip": LIP}


def wall(wear: float, side: float, sharp: float) -> npt.NDArray[np.complex128]:
    """The points of a wall worn deepest on one side: along the row from the front, across it to the
    left.
    """
    hollow = wear * np.clip(np.cos(TURNS - side), 0, 1) ** sharp
    return (LIP / 2 + hollow) * np.exp(1j * TURNS)


def read(points: npt.NDArray[np.complex128]) -> dict[str, object]:
    """Two points opposite each other, by the widest place and square to it, as a gauge is rocked
    and turned for them.
    """
    across = np.abs(points[:-1] - np.roll(points[:-1], 360))
    widest = int(across[:360].argmax())
    found = {"thrust": across[widest], "axial": across[(widest + 180) % 360]}
    return {f"bores.2.{depth}.{way}": size for depth in DEPTHS for way, size in found.items()}


def judged(typed: dict[str, object]) -> AsTyped:
    return AsTyped(layout(), block() | typed, {})


def left_standing(points: npt.NDArray[np.complex128], over: complex, bore: float) -> float:
    """How far the wall still stands back behind a circle about the new axis; none below zero."""
    return float((np.abs(points - over) - bore / 2).max())


@settings(max_examples=examples(200), deadline=None)
@given(
    wear=st.floats(0.0, 0.2),
    side=st.floats(0, 6.28),
    sharp=st.floats(0.5, 8),
    along=st.integers(-30, 30),
    across=st.integers(-30, 30),
    size=st.sampled_from([82.25, 82.5, 82.75, 83.0, None]),
)
@example(wear=0.166, side=np.pi, sharp=1, along=6, across=0, size=82.5)  # 82.524 wanted
@example(wear=0.15, side=np.pi, sharp=1, along=7, across=0, size=82.5)  # 82.504 wanted
@example(wear=0.15, side=-np.pi / 2, sharp=1, along=0, across=7, size=82.5)
@example(wear=0.0, side=0, sharp=1, along=30, across=-30, size=82.5)
@example(wear=0.0, side=0, sharp=1, along=0, across=0, size=82.25)
def test_a_bore_called_clean_has_no_point_of_its_wall_untouched(
    wear: float, side: float, sharp: float, along: int, across: int, size: float | None
) -> None:
    points = wall(wear, side, sharp)
    over = complex(along, across) / 100
    typed = {"typed_bore": size, "typed_offset": over.real, "typed_across": over.imag}
    book = judged(read(points) | {f"bore_plan.2.{name}": one for name, one in typed.items()})
    verdict, bore = book["bore_plan.2.clean_up.verdict"], book["bore_plan.2.finish_bore"]
    if verdict == OK:
        assert isinstance(bore, float)
        assert left_standing(points, over, bore - HONE) <= 1e-9
    else:
        # about the same wear on every side some wall is left, or all but the gauge's doubt
        assert verdict in {OUT, UNSURE}
        held = book["clean_up.2.must_clean_at"]
        assert isinstance(held, float)
        worst = max(left_standing(wall(wear, turn, 1), over, held - HONE) for turn in TURNS[::8])
        assert worst > -2 * OFF - 1e-3


@settings(max_examples=examples(200), deadline=None)
@given(
    wear=st.floats(0.0, 0.3),
    side=st.floats(0, 6.28),
    wandered=st.floats(-0.4, 0.4),
    across=st.integers(-20, 20),
    size=st.sampled_from([82.25, 82.5, 82.75, None]),
)
def test_a_set_over_suggested_leaves_no_point_of_the_wall_that_none_would_clean(
    wear: float, side: float, wandered: float, across: int, size: float | None
) -> None:
    points = wall(wear, side, 1)
    typed: dict[str, object] = {
        "bore_plan.2.typed_bore": size,
        "bore_plan.2.typed_across": across / 100,
        "lands.1_2.width": 8.5 + wandered,
        "lands.2_3.width": 14.5 - wandered,
    }
    book = judged(read(points) | typed)
    over, bore = book["bore_plan.2.offset"], book["bore_plan.2.finish_bore"]
    assert isinstance(over, float)
    if book["bore_plan.2.clean_up.verdict"] == OK:
        assert isinstance(bore, float)
        # as it is printed, which is as the bar is set
        assert left_standing(points, complex(round(over, 2), across / 100), bore - HONE) <= 1e-9
    else:
        none = judged(read(points) | typed | {"bore_plan.2.typed_offset": 0.0})
        assert none["bore_plan.2.clean_up.verdict"] != OK or not over
