"""The sheet of the liners: dry ones in the plan and the walls, wet and flanged ones in the deck.

The dry engine is the shipped one with every section of a new spec; its liners and limits are
invented. Sources: geometry.
"""

from __future__ import annotations

import math
from functools import cache

import pytest

from as_asked import values_of
from clean_readings import clean_readings
from datumbook.cells.basis import Basis
from datumbook.cells.handles import DeclarationError
from datumbook.equations.verdicts import OK, OPEN, OUT, UNSURE
from datumbook.job import Job, scope_of
from datumbook.spec import SpecFaults, load_spec, read_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.stations.composition import Stations
from datumbook.workbook.layout import Layout
from whole_engine import whole, whole_text

FLANGED = shipped_specs()["keldmire_d3"]
DEPTHS = ("top", "middle", "bottom")


def lined(outside: float = 85.05, hole: float = 85.0) -> dict[str, object]:
    """Cylinder 2 gets a liner, alike at all depths."""
    sizes = {"outside_diameter": outside, "hole_across": hole, "hole_along": hole}
    return {
        "bore_plan.2.liner": "yes",
        "bore_plan.2.typed_bore": 82.0,
        "liner.2.liner_bore": 80.0,
        "bore_plan.2.typed_offset": 0.0,
    } | {f"liner_hole.2.{depth}.{name}": size for depth in DEPTHS for name, size in sizes.items()}


LINED = lined()
INTERFERENCE = (0.030, 0.070)  # mm: the two ends of the spec's own, and a liner wall of 1.2


@cache
def flanged() -> Layout:
    return lay_out(load_spec(FLANGED), Job("flanged"))


def deck(**changed: float) -> dict[str, object]:
    """A sound set of flanged liners, 0.08 proud, the deck not cut; the mandrel lies alike in both
    end tunnels.
    """
    found: dict[str, object] = {
        "line_bore.line_bored": "no",
        "bottom_cut.parallel_to": "not cut",
        "deck_cut.parallel_to": "crank line",
        "deck_cut.cut": 0.0,
    } | {
        f"corners.{end}_{side}.{name}": height
        for end in ("front", "rear")
        for side in ("left", "right")
        for name, height in (("deck", 220.0), ("overall", 300.0))
    }
    found |= {"axis.front": 80.0, "axis.rear": 80.0, "instruments.heights.uncertainty": 0.003}
    found |= {"mandrel.lies": "saddles"} | {
        f"tunnels.{number}.{end}.{direction}": 79.01
        for number in (1, 4)
        for end in ("front", "rear")
        for direction in ("vertical", "left", "right")
    }
    for number in range(1, 4):
        found |= {
            f"counterbores.{number}.{place}": 7.94 for place in ("front", "right", "rear", "left")
        }
        found |= {f"liner.{number}.flange_height": 8.02, f"liner.{number}.shims": 0.0}
    return found | {key.replace("__", "."): value for key, value in changed.items()}


def test_an_engine_that_is_not_bored_has_no_finish_bore_to_ask_for() -> None:
    plan = Stations(Basis(scope_of(load_spec(FLANGED), Job()))).bore_plan
    with pytest.raises(DeclarationError, match="bore_plan has no finish_bore in this book"):
        plan.each.column("finish_bore")


def test_stand_out_is_flange_and_shims_over_the_mean_of_four_depths() -> None:
    values = values_of(
        flanged(), deck(counterbores__2__front=7.92, liner__2__shims=0.03, deck_cut__cut=0.15)
    )
    assert values["liner.2.stand_out"] == pytest.approx(
        8.02 + 0.03 - (7.92 + 3 * 7.94) / 4, abs=1e-9
    )
    assert values["counterbores.2.ledge_spread"] == pytest.approx(0.02, abs=1e-9)
    assert values["heads.spread_1"] == pytest.approx(0.035, abs=1e-9)
    assert values["liner.1.stand_out_after"] == pytest.approx(0.08 + 0.15, abs=1e-9)


@pytest.mark.parametrize(
    ("reading", "value", "out"),
    [
        ("counterbores.1.left", 7.97, {"counterbores.1.ledge_spread"}),
        ("liner.3.shims", 0.05, {"liner.3.stand_out", "heads.spread_1"}),
        ("liner.3.shims", 0.04, set()),
    ],
)
def test_one_bad_reading_of_a_flange_puts_exactly_its_checks_out(
    reading: str, value: float, out: set[str]
) -> None:
    values = values_of(flanged(), deck() | {reading: value})
    ours = [
        check
        for check in flanged().checks
        if check.key.split(".")[0] in {"counterbores", "liner", "heads"}
    ]
    assert {check.key for check in ours if values[check.verdict] == OUT} == out


def test_the_deck_moves_the_stand_out_so_it_is_measured_again() -> None:
    superseded = {
        check.key
        for check in flanged().checks
        if any(one.startswith("finished_") for one in check.superseded_by)
    }
    assert {"liner.1.stand_out", "counterbores.1.ledge_spread", "heads.spread_1"} <= superseded


def test_wet_liners_without_a_flange_are_read_from_the_deck() -> None:
    text = (
        FLANGED.read_text("utf-8")
        .replace('kind = "flanged"', 'kind = "wet"')
        .replace("heads = [[1, 2, 3]]\n", "")
    )
    layout = lay_out(read_spec(text, "wet.toml"), Job("wet"))
    read = {
        f"liner.1.{place}": size
        for place, size in {"front": 0.08, "right": 0.1, "rear": 0.09, "left": 0.09}.items()
    }
    assert values_of(layout, read)["liner.1.stand_out"] == pytest.approx(0.09, abs=1e-9)
    assert not [key for key in layout.places if key.startswith("counterbores")]


def test_a_liner_is_finished_as_the_others_are_and_the_block_bored_to_its_hole() -> None:
    values = values_of(whole(), clean_readings(whole()) | LINED | {"bore_plan.2.typed_bore": None})
    assert values["bore_plan.2.finish_bore"] == 82.0
    assert (
        values["bore_plan.2.bore_in_block"]
        == values["liner.2.hole"]
        == pytest.approx(85.05 - 0.05, abs=1e-9)
    )
    assert values["bore_plan.1.bore_in_block"] == values["bore_plan.1.finish_bore"] == 82.0


def test_a_lined_cylinder_keeps_a_wall_of_its_own_limit() -> None:
    clean = clean_readings(whole())
    wall = whole().spec.walls.standard.to("mm")  # type: ignore[union-attr]
    values = values_of(whole(), clean | LINED)
    assert values["wall.2.left_thrust"] == pytest.approx(wall - (85.0 - 82.0) / 2, abs=1e-9)
    assert (values["wall.2.needed_thrust"], values["wall.1.needed_thrust"]) == (2.5, 3.2)
    assert values["budget.wall_thrust.to_spare"] == pytest.approx(wall - 1.5 - 2.5, abs=1e-9)
    places = [
        f"{height}.at_{place}"
        for height in ("upper", "lower")
        for place in ("left", "right", "front", "rear")
    ]
    thin = {f"walls.2.{place}": 3.9 for place in places}
    assert values_of(whole(), clean | LINED | thin)["wall.2.left_thrust.verdict"] == OUT, (
        "3.9 less 1.5 is below 2.5"
    )
    assert values_of(whole(), clean | thin)["wall.2.left_thrust.verdict"] == OK, (
        "unlined it keeps its 3.9"
    )


def test_the_fit_of_a_liner_is_judged_only_where_one_goes_in() -> None:
    clean = clean_readings(whole())
    values = values_of(whole(), clean | LINED)
    assert values["liner.2.least_interference"] == pytest.approx(0.05, abs=1e-9)
    assert values["liner.2.liner_wall"] == pytest.approx((85.05 - 82.0) / 2, abs=1e-9)
    tight = ("least_interference.verdict", "greatest_interference.verdict")
    fits = [f"liner.{number}.{end}" for number in range(1, 5) for end in tight]
    judged = {key: values[key] for key in fits if values[key]}
    assert judged == {f"liner.2.{end}": OK for end in tight}
    # 85.05 in a hole that is right across the crank and wrong along it
    for along, verdicts in ((85.03, [OUT, OK]), (84.95, [OK, OUT])):
        oval = values_of(whole(), clean | LINED | {"liner_hole.2.middle.hole_along": along})
        assert [oval[f"liner.2.{end}"] for end in tight] == verdicts
    assert (
        values_of(whole(), clean | LINED | {"bore_plan.2.typed_bore": 82.7})[
            "liner.2.liner_wall.verdict"
        ]
        == OUT
    )


def test_the_pressure_is_that_of_two_rings_of_one_iron() -> None:
    values = values_of(whole(), clean_readings(whole()) | LINED)
    block, outside, bore = 85.0 + 2 * (5.0 - 1.5), 85.05, 80.0
    rings = (
        (block**2 - outside**2) * (outside**2 - bore**2) / (block**2 - bore**2)
    )  # Shigley eq. 3-57
    assert values["liner_pressure.2.contact_pressure"] == pytest.approx(
        100e3 * 0.05 * rings / (2 * outside**3), rel=1e-9
    )
    assert values["liner_pressure.1.contact_pressure"] is None
    moved = [values[f"liner_pressure.2.{name}"] for name in ("liner_shrinkage", "parent_growth")]
    assert sum(map(float, moved)) == pytest.approx(0.05, rel=1e-9), "the whole interference"


def test_a_kind_that_lacks_its_figures_is_refused() -> None:
    with pytest.raises(SpecFaults, match="liner_wall"):
        read_spec(whole_text().replace("liner_wall =", "# liner_wall ="), "dry.toml")


def test_a_block_is_bored_to_the_middle_of_what_the_hole_may_be() -> None:
    """Source: holes counted in steps of a micrometre, each held against each depth of the liner."""
    for top, bottom in ((85.05, 85.05), (85.06, 85.04)):
        read = (
            LINED
            | {"liner_hole.2.top.outside_diameter": top}
            | {"liner_hole.2.bottom.outside_diameter": bottom}
        )
        values = values_of(whole(), clean_readings(whole()) | read)
        sizes = (top, 85.05, bottom)
        fits = [
            84.9 + step / 1000
            for step in range(300)
            if all(
                INTERFERENCE[0] - 1e-9 <= size - 84.9 - step / 1000 <= INTERFERENCE[1] + 1e-9
                for size in sizes
            )
        ]
        ends = [values[f"liner.2.{name}"] for name in ("hole_least", "hole_most")]
        assert ends == pytest.approx([fits[0], fits[-1]], abs=1e-9)
        assert values["liner.2.hole"] == pytest.approx((fits[0] + fits[-1]) / 2, abs=1e-9)
        assert values["bore_plan.2.bore_in_block"] == values["liner.2.hole"]


def test_a_hole_bored_to_the_middle_is_ok_with_gauges_that_leave_the_ends_unsure() -> None:
    """Each gauge may be off by 0.008 all told, both together by 0.0113 of the 0.020 either way."""
    doubt = {"instruments.liners.uncertainty": 0.0048, "instruments.liners.setting": 0.0064}
    tight = ("least_interference.verdict", "greatest_interference.verdict")
    for hole, verdicts in ((85.0, [OK, OK]), (85.02, [UNSURE, OK]), (84.98, [OK, UNSURE])):
        values = values_of(whole(), clean_readings(whole()) | lined(hole=hole) | doubt)
        assert [values[f"liner.2.{end}"] for end in tight] == verdicts
        assert values["release.liner.2.least_interference.uncertainty"] == pytest.approx(
            math.sqrt(2 * (0.0048**2 + 0.0064**2))
        ), "two settings, of which no error goes out of the difference"


def test_a_liner_too_uneven_for_any_hole_has_none() -> None:
    read = LINED | {"liner_hole.2.top.outside_diameter": 85.10}
    values = values_of(whole(), clean_readings(whole()) | read)
    assert values["liner.2.hole"] is None
    assert values["bore_plan.2.bore_in_block"] is None


@pytest.mark.parametrize("depth", DEPTHS)
def test_a_hole_is_held_at_every_depth_and_open_while_one_is_not_read(depth: str) -> None:
    clean = clean_readings(whole())
    wide = values_of(whole(), clean | LINED | {f"liner_hole.2.{depth}.hole_across": 85.04})
    assert wide["liner.2.least_interference.verdict"] == OUT
    unread = values_of(whole(), clean | LINED | {f"liner_hole.2.{depth}.hole_across": None})
    assert unread["liner.2.least_interference.verdict"] == OPEN
    without = values_of(whole(), clean | LINED | {"bore_plan.2.liner": "no"})
    assert without["liner.2.least_interference.verdict"] == ""


def test_the_checks_of_a_liner_are_held_and_conceded_like_any_other() -> None:
    checks = {one.key: one for one in whole().checks if one.key.startswith("liner.2.")}
    assert len(checks) == 3
    for key, one in checks.items():
        assert one.measured
        assert one.guarded
        assert f"release.{key}.guard" in whole().places
        assert f"release.{key}.conceded_value" in whole().places
        assert "verdict" not in one.words
    assert {one.words for one in checks.values()} == {
        "Cylinder 2 · tight by, least",
        "Cylinder 2 · tight by, most",
        "Cylinder 2 · liner wall",
    }


def test_readings_of_liners_are_wanted_of_no_cylinder_without_one() -> None:
    wanted = [place.key for place in whole().wanted()]
    assert not [key for key in wanted if key.startswith("liner")]
