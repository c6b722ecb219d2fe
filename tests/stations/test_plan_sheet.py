"""The plan sheet's knock-on and the budget: each line against the plain arithmetic of the trade.

Sources: geometry and the textbook stack of a compression ratio; the demonstration's figures are
invented.
"""

from __future__ import annotations

import math
import re
from functools import cache
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from as_asked import values_of
from datumbook.carrying import from_csv
from datumbook.job import Job
from datumbook.spec import load_spec, read_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.workbook.layout import Layout
from long_runs import examples
from project import full_form

SPEC = shipped_specs()["orrindale_qp4"]
INCH = 25.4
BOTH = ("bottom", "overall")
CORNERS = ("front_left", "front_right", "rear_left", "rear_right")


@pytest.fixture(scope="module")
def layout() -> Layout:
    return lay_out(load_spec(SPEC), Job("plan"))


@pytest.fixture(scope="module")
def story(layout: Layout) -> dict[str, float | str]:
    return dict(from_csv(layout, SPEC.with_suffix(".readings.csv")).typed)


def number(value: object) -> float:
    assert isinstance(value, float)
    return value


def rising(inches: float, caps: float = 0.0) -> dict[str, float | str]:
    """Tunnels bored in line, the crank line rising alike at both ends; read in mm."""
    ends = {f"line_bore.rise_{end}": inches * INCH for end in ("front", "rear")}
    return {"line_bore.line_bored": "yes", "line_bore.cap_cut": caps * INCH} | ends


def level(deck: float, overall: float) -> dict[str, float | str]:
    """Both faces level, without a hollow, over one crank line."""
    heights = {
        f"corners.{corner}.{kind}": size
        for corner in CORNERS
        for kind, size in (("deck", deck), ("overall", overall))
    }
    return heights | {f"axis.{end}": overall - deck for end in ("front", "rear")}


def test_compression_after_the_plan_is_the_stack_of_volumes(
    layout: Layout, story: dict[str, float | str]
) -> None:
    values = values_of(layout, story)
    # the deck goes 0.001 in under its lowest corner; of the hollow there may be left what the cut
    # suggested has more
    hollow = number(values["deck_cut.suggested"]) - 0.001
    assert hollow > 0
    stack = max(number(values[f"piston_stack.{at}.piston_stack"]) for at in range(1, 5))
    bore, clearance = 82.5, (10.6927 - 0.001 - hollow - stack) * INCH
    swept = math.pi / 4 * bore**2 * 3.740 * INCH
    thickness, hole = (number(story[f"gasket.gasket_{one}"]) for one in ("thickness", "hole"))
    gasket = math.pi / 4 * (hole * INCH) ** 2 * thickness * INCH  # the one in hand
    left = 88_000 + 4_000 + gasket + math.pi / 4 * bore**2 * clearance
    assert number(values["combustion.after.compression_ratio"]) == pytest.approx(
        (swept + left) / left, abs=1e-9
    )
    assert number(values["combustion.after.squish"]) == pytest.approx(
        clearance / INCH + thickness, abs=1e-9
    )
    assert number(values["combustion.now.compression_ratio"]) < number(
        values["combustion.after.compression_ratio"]
    )


def test_a_line_bore_slackens_the_chain_and_retards_the_cam(
    layout: Layout, story: dict[str, float | str]
) -> None:
    values = values_of(layout, story | rising(0.004))
    shift, centre, angle = 0.004, 5.375, math.radians(20)
    change = math.sqrt(centre**2 + shift**2 - 2 * centre * shift * math.cos(angle)) - centre
    assert number(values["line_bore_counted.most_rise"]) == pytest.approx(shift * INCH, abs=1e-12)
    assert number(values["cam_drive.centre_change"]) == pytest.approx(change, abs=1e-9)
    assert number(values["cam_drive.chain_sag"]) == pytest.approx(
        math.sqrt(3 * 5.250 * -2 * change / 8), abs=1e-9
    )
    assert number(values["cam_drive.crank_retard"]) == pytest.approx(
        2 * math.degrees(-change / 1.640), abs=1e-9
    )


def test_an_engine_without_those_figures_has_no_trace_of_them() -> None:
    text = full_form("orrindale_qp4")
    bare = text[: text.index("[combustion]")] + text[text.index("[finished]") :]
    bare = re.sub(
        r"^(gasket|ratio_spread) = .*\n", "", bare, flags=re.MULTILINE
    )  # parts of the same section
    assert not [
        key
        for key in lay_out(read_spec(bare, "bare.toml")).places
        if key.startswith(("combustion", "cam_drive", "head."))
    ]


cuts = st.tuples(st.floats(0, 0.1), st.floats(0, 0.1), st.floats(0, 0.05), st.floats(0, 0.02))
bored = st.tuples(st.sampled_from([82.25, 82.5, 82.75]), st.floats(-0.2, 0.2))


@cache
def cut_block() -> tuple[Layout, dict[str, float | str]]:
    layout = lay_out(load_spec(SPEC), Job("plan"))
    return layout, dict(from_csv(layout, SPEC.with_suffix(".readings.csv")).typed)


def bored_to(size: float, offsets: list[float]) -> dict[str, float | str]:
    sizes = {f"bore_plan.{at}.typed_bore": size for at in range(1, 5)}
    return sizes | {f"bore_plan.{at}.typed_offset": offset for at, offset in enumerate(offsets, 1)}


@settings(max_examples=examples(25), deadline=None)
@given(cuts, bored)
def test_after_is_before_less_the_cuts_at_every_corner_and_on_every_ledger(
    cut: tuple[float, float, float, float], bore: tuple[float, float]
) -> None:
    (layout, story), (deck, bottom, rise, caps), (size, offset) = cut_block(), cut, bore
    typed = rising(rise, caps) | {
        "bottom_cut.parallel_to": "crank line",
        "bottom_cut.cut": bottom,
        "deck_cut.parallel_to": "crank line",
        "deck_cut.cut": deck,
    }
    values = values_of(layout, story | typed | bored_to(size, [offset] * 4))
    decks = {one: number(story[f"corners.{one}.deck"]) for one in CORNERS}
    overall = {one: number(story[f"corners.{one}.overall"]) for one in CORNERS}
    bottoms = {one: overall[one] - decks[one] for one in CORNERS}
    # level with the crank line, the lowest corner less the cut; the line has risen meanwhile
    deck_after = min(decks.values()) - rise - deck
    bottom_after = min(bottoms.values()) + rise - bottom
    for one in CORNERS:
        off = (decks[one] - rise - deck_after) + (bottoms[one] + rise - bottom_after)
        found = {name: number(values[f"block_corners.{one}.{name}"]) for name in BOTH}
        assert number(values[f"deck_corners.{one}.after"]) == pytest.approx(deck_after, abs=1e-9)
        assert found["bottom"] == pytest.approx(bottom_after, abs=1e-9)
        assert found["overall"] == pytest.approx(overall[one] - off, abs=1e-9)
    nearer = 5.375 - math.sqrt(5.375**2 + rise**2 - 2 * 5.375 * rise * math.cos(math.radians(20)))
    left = min(
        number(values[f"wall.{at}.least_thrust"])
        - (size - number(values[f"bore.{at}.mean_size"])) / 2
        for at in range(1, 5)
    )
    hollow = max(0.0, number(values["deck_cut.suggested"]) - deck)
    stack = max(number(values[f"piston_stack.{at}.piston_stack"]) for at in range(1, 5))
    planned = {
        "overall_height": min(overall.values()) - (deck_after + bottom_after),
        "deck_room": number(values["least_room.room_now"]) - (deck_after - hollow - stack),
        "axis_height": min(bottoms.values()) - bottom_after,
        "cap_height": caps * INCH,
        "cam_centre": nearer,
        "bore": size - number(values["extremes.bore"]),
        "wall_thrust": number(values["extremes.wall_thrust"]) - left,
    }
    for resource, taken in planned.items():
        assert number(values[f"budget.{resource}.planned"]) == pytest.approx(taken, abs=1e-9), (
            resource
        )
    for resource in {
        key.split(".")[1]
        for key in layout.places
        if key.endswith(".to_spare") and key.startswith("budget.")
    }:
        row = {
            name: number(values[f"budget.{resource}.{name}"])
            for name in ("as_new", "taken", "planned", "to_spare", "limit")
        }
        allowance = abs(row["as_new"] - row["limit"])
        assert row["taken"] + row["planned"] + row["to_spare"] == pytest.approx(
            allowance, abs=1e-9
        ), resource


@settings(max_examples=examples(25), deadline=None)
@given(st.lists(st.floats(-0.3, 0.3), min_size=4, max_size=4), st.floats(82.2, 82.9))
def test_land_and_wall_close_on_the_two_side_cuts_of_every_bore(
    offsets: list[float], size: float
) -> None:
    layout, story = cut_block()
    values = values_of(layout, story | bored_to(size, offsets))
    for at, offset in enumerate(offsets, 1):
        mean = number(values[f"bore.{at}.mean_size"])
        taken = [
            min(number(values[f"walls.{at}.{height}.at_{place}"]) for height in ("upper", "lower"))
            - number(values[f"wall_left.{at}.at_{place}"])
            for place in ("front", "rear")
        ]
        # both side cuts make up the growth of the diameter, half their difference the set-over
        assert sum(taken) == pytest.approx(size - mean, abs=1e-9)
        assert (taken[1] - taken[0]) / 2 == pytest.approx(offset, abs=1e-9)
    for front, rear in pairwise(range(1, 5)):
        halves = sum(number(values[f"bores.{at}.top.axial"]) for at in (front, rear)) / 2
        pitch = (
            number(values[f"lands.{front}_{rear}.width"])
            + halves
            + offsets[rear - 1]
            - offsets[front - 1]
        )
        assert number(values[f"lands.{front}_{rear}.land_set_over"]) == pytest.approx(
            pitch - size, abs=1e-9
        )


def test_the_row_is_set_over_by_half_the_spread_of_its_offsets_and_by_no_more(
    layout: Layout, story: dict[str, float | str]
) -> None:
    values = values_of(layout, story | {"lands.1_2.width": 9.99, "lands.3_4.width": 9.84})
    offsets = [number(values[f"centres.{cylinder}.offset"]) for cylinder in range(1, 5)]
    set_over = [
        number(values[f"bore_plan.{cylinder}.suggested_offset"]) for cylinder in range(1, 5)
    ]
    # as the bar is set by, to a hundredth
    half = (max(offsets) - min(offsets)) / 2
    assert max(map(abs, set_over)) == pytest.approx(half, abs=0.005 + 1e-9)
    back = [offset + moved for offset, moved in zip(offsets, set_over, strict=True)]
    assert max(back) - min(back) == pytest.approx(0.0, abs=0.01), (
        "the centres stand on the drawing's pitch again"
    )


def test_what_the_readings_ask_for_stands_beside_the_cuts(
    layout: Layout, story: dict[str, float | str]
) -> None:
    values = values_of(layout, story)
    assert values["deck_cut.infeed"] == pytest.approx(0.001 + (10.6937 - 10.6927), abs=1e-9)
    assert (values["deck_cut.touch_on"], values["deck_cut.counted_off"]) == (
        "front right",
        "rear left",
    )
    least, off = (number(values[f"deck_set_ups.axis.{one}"]) for one in ("least_cut", "may_be_off"))
    assert values["deck_counted.least_cut"] == least
    assert values["deck_cut.suggested"] == pytest.approx(least + off, abs=1e-12)


# a reading, what is added to it, the one cell that then says where to look first, and what it says
SLIPS = {
    "corners.rear_left.deck": (0.03, "corner_suspects.rear_left.deck_suspected", "look first"),
    "corners.front_right.overall": (
        -0.02,
        "corner_suspects.front_right.overall_suspected",
        "look first",
    ),
    "lands.2_3.width": (1.0, "land_suspects.2_3.suspected", "look first"),
    "lands.rear_end.width": (-0.9, "land_suspects.rear_end.suspected", "look first"),
    "axis.front": (0.09, "axis.suspected", "axis to bottom"),
}


@pytest.mark.parametrize("slip", SLIPS)
def test_a_closure_that_is_out_points_at_the_reading_that_was_misread(
    layout: Layout, story: dict[str, float | str], slip: str
) -> None:
    by, key, said = SLIPS[slip]
    sound = (
        story
        | {"axis.front": 3.5550, "axis.rear": 3.5550}
        | {
            f"corners.{corner}.{kind}": size
            for corner in ("front_left", "front_right", "rear_left", "rear_right")
            for kind, size in (("deck", 10.6950), ("overall", 14.2500))
        }
    )
    assert speaking(layout, sound) == {}
    found = speaking(layout, sound | {slip: number(sound[slip]) + by})
    assert found.pop(key) == said
    assert set(found) <= {"axis.suspected"}, (
        "a corner misread by much takes the mean of its height with it"
    )


def speaking(layout: Layout, typed: dict[str, float | str]) -> dict[str, object]:
    values = values_of(layout, typed)
    return {key: value for key, value in values.items() if key.endswith("suspected") and value}


def test_each_cut_has_a_line_of_its_own_and_together_they_are_the_plan(
    layout: Layout, story: dict[str, float | str]
) -> None:
    flat = level(10.6950, 14.2500) | {key: 0.0 for key in story if ".gap_" in key}
    values = values_of(layout, story | flat | rising(0.003) | {"deck_cut.cut": 0.004})
    assert number(values["deck_cut.suggested"]) < 0.004, "no hollow is left"
    squish = {
        row: number(values[f"combustion.{row}.squish"])
        for row in ("now", "line_bore", "deck", "after")
    }
    assert squish["now"] - squish["line_bore"] == pytest.approx(0.003, abs=1e-9)
    assert squish["line_bore"] - squish["deck"] == pytest.approx(0.004, abs=1e-9)
    assert squish["after"] == squish["deck"], "the bores change no height"
    ratio = {row: number(values[f"combustion.{row}.compression_ratio"]) for row in squish}
    assert ratio["now"] < ratio["line_bore"] < ratio["deck"] < ratio["after"]
