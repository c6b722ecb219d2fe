"""A size tolerance holds for every diameter read (ISO 14405-1, two-point size): the smallest and
the largest are judged, and no mean releases a bore, a tunnel or a journal.

The sizes are invented; what is expected is worked by hand or by min and max.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from as_asked import values_of
from clean_readings import clean_readings, shipped_layout
from datumbook.equations.verdicts import OK, OUT
from datumbook.formulas.tree import cells
from datumbook.workbook.layout import Layout
from whole_engine import whole

SIZED = [  # one row of every table whose sizes are read more than once
    "tunnel.2",
    "finished_tunnel.2",
    "cam_tunnel.1",
    "finished_cam_tunnel.1",
    "tappet_bores.7",
    "finished_tappet_bores.7",
    "core_holes.L1",
    "main_journal.1",
    "crankpin.1",
    "cam_journals.2",
    "finished_bore.3",
]


def behind(layout: Layout, key: str) -> Iterator[str]:
    """A cell and all that it is worked out from."""
    yield key
    for cell in cells(layout.tree(key)) if layout.has_formula(key) else ():
        yield from behind(layout, cell.key)


def found(layout: Layout, typed: Mapping[str, object], keys: list[str]) -> dict[str, object]:
    """The values of these cells alone; the rest of the book is left out."""
    values = values_of(layout, typed)
    return {key: values[key] for key in keys}


def verdicts(layout: Layout, typed: Mapping[str, object], row: str) -> dict[str, object]:
    """The verdicts that stand in one row of a table."""
    return found(
        layout, typed, [one.verdict for one in layout.checks if one.key[: len(row)] == row]
    )


def read(layout: Layout, row: str, size: float) -> dict[str, object]:
    """Every diameter of a bore or a tunnel read alike."""
    return {one.key: size for one in layout.readings() if one.key.startswith(row)}


@pytest.mark.parametrize(
    ("odd", "held"), [(82.518, "largest_size"), (82.497, "smallest_size"), (82.515, None)]
)
def test_one_diameter_beyond_its_limits_puts_a_finished_bore_out(
    odd: float, held: str | None
) -> None:
    # 82.500 to 82.515, and the mean of the others with it lies well within
    layout = shipped_layout()
    typed = clean_readings(layout) | {"bore_plan.1.typed_bore": 82.500}
    typed |= read(layout, "finished_bores.1.", 82.507)
    assert set(verdicts(layout, typed, "finished_bore.1.").values()) == {OK}
    middle = {"finished_bores.1.middle.thrust": odd}
    assert middle.keys() < typed.keys()
    out = {
        one
        for one, is_ in verdicts(layout, typed | middle, "finished_bore.1.").items()
        if is_ == OUT
    }
    assert out == ({f"finished_bore.1.{held}.verdict"} if held else set())


@pytest.mark.parametrize(
    ("odd", "held"), [(61.078, "largest_size"), (61.047, "smallest_size"), (61.075, None)]
)
@pytest.mark.parametrize("state", ["", "finished_"])
def test_one_diameter_beyond_its_limits_puts_a_tunnel_out(
    state: str, odd: float, held: str | None
) -> None:
    # 61.050 to 61.075
    layout, row = shipped_layout(), f"{state}tunnel.2."
    typed = clean_readings(layout) | read(layout, f"{state}tunnels.2.", 61.062)
    assert set(verdicts(layout, typed, row).values()) == {OK}
    one = {f"{state}tunnels.2.front.left": odd}
    assert one.keys() < typed.keys()
    out = {one for one, is_ in verdicts(layout, typed | one, row).items() if is_ == OUT}
    assert out == ({f"{row}{held}.verdict"} if held else set())


@cache
def held(row: str) -> tuple[list[str], float, float]:
    """What is read of one feature, and from where to where it may lie."""
    layout = whole()
    ends = {one.key: one for one in layout.checks}
    small, large = ends[f"{row}.smallest_size"], ends[f"{row}.largest_size"]
    assert (bool(small.low), bool(large.high)) == (True, True)
    assert (small.high, large.low) == (None, None)
    limits = found(layout, clean_readings(layout), [small.low, large.high])
    low, high = limits[small.low], limits[large.high]
    assert isinstance(low, float)
    assert isinstance(high, float)
    readings = {one for one in behind(layout, large.key) if layout.place(one).role == "reading"}
    return sorted(readings), low, high


@pytest.mark.parametrize("row", SIZED)
@settings(max_examples=20, deadline=None)
@given(data=st.data())
def test_a_feature_is_ok_just_where_every_diameter_read_is_within_its_limits(
    row: str, data: st.DataObject
) -> None:
    readings, low, high = held(row)
    assert len(readings) > 1
    width = high - low
    size = st.one_of(
        st.floats(low - width / 4, high + width / 4),
        st.floats(low, high),
        st.sampled_from([low, high]),
    )
    diameters = [data.draw(size) for _ in readings]
    typed = clean_readings(whole()) | dict(zip(readings, diameters, strict=True))
    keys = [f"{row}.{name}.verdict" for name in ("smallest_size", "largest_size")]
    within = all(low - 1e-9 <= one <= high + 1e-9 for one in diameters)
    assert (set(found(whole(), typed, keys).values()) == {OK}) == within


@pytest.mark.parametrize("row", SIZED)
def test_no_mean_is_judged(row: str) -> None:
    assert not [one.key for one in whole().checks if one.key == f"{row}.mean_size"]


def test_what_is_tight_in_a_place_is_worked_out_where_the_place_is_smallest() -> None:
    layout, clean = whole(), clean_readings(whole())
    places = {
        "finished_tunnels.2.rear.right": "main_clearances.2.tunnel_size",
        "finished_cam_tunnel.1.rear_level": "cam_fits.1.cam_bore",
        "finished_tappet_bores.7.bottom_across": "tappet_fits.7.tappet_bore",
    }
    for reading, key in places.items():
        before = clean[reading]
        assert isinstance(before, float)
        less = {reading: before - 0.002}
        assert found(layout, clean | less, [key]) == {key: before - 0.002}


def test_a_core_plug_is_held_to_its_hole_both_where_it_is_wide_and_where_it_is_narrow() -> None:
    # plug 40.15 as drawn in a hole read 40.00 and 40.04: 0.11 to 0.15
    layout, row = whole(), "core_plugs.L1"
    typed = clean_readings(layout) | {"core_holes.L1.upright": 40.04, f"{row}.core_plug": 40.15}
    keys = [f"{row}.least_interference", f"{row}.greatest_interference"]
    assert list(found(layout, typed, keys).values()) == pytest.approx([0.11, 0.15])
