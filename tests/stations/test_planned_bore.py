"""The planned bore is decided in one place: a size typed into the plan is the planned bore
everywhere, and nobody else follows the suggestion it overrules.

The sizes are worked by hand from geometry.
"""

from __future__ import annotations

from functools import cache

import pytest

from as_asked import values_of
from clean_readings import clean_readings, shipped_layout
from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out

TYPED = 83.0  # beyond every oversize, so that no suggestion can be it
CYLINDERS = (1, 2, 3, 4)


@cache
def values() -> dict[str, float | str | None]:
    """Every value of a block whose bores are typed into the plan and not finished yet."""
    layout = shipped_layout()
    typed = dict(clean_readings(layout)) | {
        f"bore_plan.{one}.typed_bore": TYPED for one in CYLINDERS
    }
    unread = {one.key for one in layout.readings() if one.key.startswith("finished_bores.")}
    return dict(values_of(layout, {key: size for key, size in typed.items() if key not in unread}))


def number(key: str) -> float:
    value = values()[key]
    assert isinstance(value, float), (key, value)
    return value


def test_the_suggestion_differs_from_what_is_typed() -> None:
    suggested = values()["rebore.next_oversize"]
    assert suggested not in (None, TYPED)
    assert [values()[f"bore_plan.{one}.suggested_bore"] for one in CYLINDERS] == [suggested] * 4


@pytest.mark.parametrize(
    "key",
    [
        *(f"bore_plan.{one}.finish_bore" for one in CYLINDERS),
        *(f"bore_fits.{one}.{name}" for one in CYLINDERS for name in ("planned", "bore")),
        *(f"compression.{one}.bore" for one in CYLINDERS),
        *(f"finished_bore.{one}.least" for one in CYLINDERS),
        *("combustion.after.bore", "extremes.bore_after"),
        *("budget.bore.after", "customer.size.after"),
    ],
)
def test_a_typed_bore_is_the_planned_bore(key: str) -> None:
    assert number(key) == pytest.approx(TYPED)


def test_each_piston_is_paired_with_the_bore_decided_for_its_cylinder() -> None:
    for one in CYLINDERS:
        room = TYPED - number(f"pistons.{one}.piston")
        assert number(f"bore_fits.{one}.piston_clearance") == pytest.approx(room)


def test_rings_and_finished_bores_are_held_to_the_bore_decided() -> None:
    assert number("ring_gaps.1.top_gap_least") == pytest.approx(0.0035 * TYPED)
    assert number("finished_bore.1.most") == pytest.approx(TYPED + 0.015)


def test_lands_and_walls_lose_what_the_bore_decided_takes() -> None:
    ends = number("bores.1.top.axial") + number("bores.2.top.axial")
    land = number("lands.1_2.width") - (TYPED - ends / 2)
    assert number("lands.1_2.land_after_boring") == pytest.approx(land)
    walls = [number(f"walls.1.{height}.at_front") for height in ("upper", "lower")]
    taken = (TYPED - number("bore.1.mean_size")) / 2
    left = min(walls) - taken + number("bore_plan.1.offset")
    assert number("wall_left.1.at_front") == pytest.approx(left)


@pytest.mark.parametrize("name", sorted(shipped_specs()))
def test_only_the_suggestion_of_each_cylinder_follows_the_next_oversize(name: str) -> None:
    layout = lay_out(load_spec(shipped_specs()[name]), Job("owner"))
    suggested = {f"bore_plan.{one}.suggested_bore" for one in layout.cylinders()}
    followers = {
        key for key, one in layout.places.items() if "rebore.next_oversize" in one.inputs.values()
    }
    beside = {f"beside_liners.{one}.bare" for one in layout.cylinders()}
    suggested |= beside & {*layout.places}
    assert followers == (
        suggested | {"rebore.bore_before_honing"} if layout.spec.bores.oversizes else set()
    )
