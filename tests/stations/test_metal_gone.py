"""Depths under a face that has been cut before: what the face has lost since its drawing is gone
from every floor under it, and from the thread that stood there.

Source: geometry. The expected metal is what lies between the point of the drill and the gallery
when both stand in space, the gallery where the casting has it, the face where it was left; the
sizes of the worn block worked by hand are its drawing less its readings.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from math import floor

import numpy as np
import pytest

from as_asked import values_of
from clean_readings import clean_readings, shipped_layout
from datumbook.equations.faces import ALONG_AXIS, NOT_CUT
from datumbook.workbook.layout import Layout

INCH = 25.4
DRAWN_BOTTOM, DRAWN_DECK = 3.555, 10.695  # in, crank line to either face as drawn
GALLERY, SUMP_FLOOR, LEAST_FLOOR = 25.4, 27.0, 25.4 / 8  # mm
CORNERS = ("front_left", "front_right", "rear_left", "rear_right")
OFF, BOTH = 0.0003, 0.0003 * 2**0.5  # in, one height and the difference of two, k = 2
NO_TIP, TIP = "danger.S7.no_tip_below", "danger.S7.set_depth"
chance = np.random.default_rng(7)

Values = Mapping[str, object]


@cache
def clean() -> tuple[Layout, dict[str, float | str]]:
    return shipped_layout(), clean_readings(shipped_layout())


def book(deck: float, bottom: list[float], **typed: float | str | None) -> Values:
    """The values of a good book whose bottom face lies so far from the crank line, at its corners
    in inches, its deck level.
    """
    layout, readings = clean()
    more: dict[str, float | str | None] = {"instruments.heights.uncertainty": OFF}
    for corner, down in zip(CORNERS, bottom, strict=True):
        more[f"corners.{corner}.deck"], more[f"corners.{corner}.overall"] = deck, deck + down
    more["axis.front"], more["axis.rear"] = sum(bottom[:2]) / 2, sum(bottom[2:]) / 2
    more |= {key.replace("__", "."): value for key, value in typed.items()}
    return values_of(layout, {**readings, **more})


def number(values: Values, key: str) -> float:
    found = values[key]
    assert isinstance(found, float), f"{key} is {found}"
    return found


def test_a_gallery_is_nearer_by_what_an_earlier_cut_has_taken() -> None:
    """0.030 in, 0.762 mm, is gone from 25.4: 24.638 stand over the gallery, 21.463 may be drilled,
    less what the heights may be off; a tip at 21.5 would leave 3.138.
    """
    values = book(DRAWN_DECK, [3.525] * 4)
    left = GALLERY - 0.030 * INCH
    assert left == pytest.approx(24.638)
    assert left - 21.5 == pytest.approx(3.138)
    most = left - LEAST_FLOOR - BOTH * INCH
    assert number(values, NO_TIP) == floor(most * 1000) / 1000
    assert number(values, TIP) == pytest.approx(21.4), "no tip at 21.5, a tenth of a millimetre up"
    assert number(values, "holes_sump_rail.S7.deepest") == pytest.approx(most)
    floor_left = number(values, "stops.sump_rail.drill.floor_left")
    tip = number(values, "stops.sump_rail.drill.tip_depth")
    assert floor_left == pytest.approx(SUMP_FLOOR - (0.030 + BOTH) * INCH - tip)


def test_metal_that_stands_proud_of_the_drawing_is_not_drilled_into() -> None:
    values = book(DRAWN_DECK, [3.560] * 4)
    assert number(values, NO_TIP) == pytest.approx(GALLERY - LEAST_FLOOR)


def test_an_old_thread_is_shorter_by_what_its_deck_has_lost_and_will_lose() -> None:
    cut = {"deck_cut__parallel_to": ALONG_AXIS, "deck_cut__cut": 0.002}
    values = book(DRAWN_DECK - 0.012, [DRAWN_BOTTOM] * 4, **cut)
    assert values["reach.head_studs.drawn"] == 1.0
    thread = number(values, "reach.head_studs.thread_depth")
    assert thread == pytest.approx(1.0 - 0.012 - 0.002 - OFF)
    as_drawn = number(book(DRAWN_DECK, [DRAWN_BOTTOM] * 4), "reach.head_studs.thread_depth")
    assert as_drawn == pytest.approx(1.0 - OFF)


@pytest.mark.parametrize("cut", [None, 0.004])
def test_no_tip_comes_nearer_to_the_gallery_than_its_least_wherever_the_hole_stands(
    cut: float | None,
) -> None:
    """The face is laid through its corners, the hole stands anywhere on it, each height is read
    as far off as it may be, to either side.
    """
    for _ in range(3):
        true = DRAWN_BOTTOM - chance.uniform(0.0, 0.003, 4) - chance.uniform(0.0, 0.028)
        bottom = (true + chance.choice([-BOTH, BOTH])).tolist()
        typed: dict[str, float | str | None] = {"bottom_cut__parallel_to": NOT_CUT}
        if cut is not None:
            typed = {"bottom_cut__parallel_to": ALONG_AXIS, "bottom_cut__cut": cut}
        values = book(DRAWN_DECK, bottom, **typed, instruments__heights__setting=0.0)
        face = true if cut is None else np.full(4, true.min() - cut)
        along, across = chance.uniform(0, 1, (2, 50))
        square = face.reshape(2, 2)
        under = np.einsum("ik,ij,jk->k", [1 - along, along], square, [1 - across, across])
        gallery = DRAWN_BOTTOM * INCH - GALLERY  # from the crank line down, where it was cast
        left = under * INCH - number(values, TIP) - gallery
        assert left.min() >= LEAST_FLOOR - 1e-9


@pytest.mark.parametrize("missing", ["corners__rear_left__overall", "axis__front"])
def test_where_the_face_cannot_be_told_the_hole_waits(missing: str) -> None:
    values = book(DRAWN_DECK, [3.525] * 4, **{missing: None})
    for key in ("danger.S7.full_depth_reached", "stops.sump_rail.drill.floor_left"):
        assert values[f"{key}.verdict"] == "OPEN"
    assert values[NO_TIP] in (None, "")
    assert values["stops.front_cover.drill.floor"] == 1.062, "of a face that nobody reads as drawn"
