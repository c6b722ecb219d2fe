"""No text printed on a card, the schedule or the stops lets a point or a tap come nearer to a floor
than its limit, whatever the scale, the spec and the touch: the texts are read back as they are
printed, in both units.

Source: the floor of the spec less the least floor, in exact decimals of what is printed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from as_asked import values_of
from datumbook.job import Job
from datumbook.numbers.quantities import read_quantity
from datumbook.numbers.units import convert
from datumbook.spec import read_spec, shipped_specs
from datumbook.spec.faults import SpecFaults
from datumbook.standards import hole_allowances
from datumbook.stations import lay_out
from datumbook.stations.holes.hole_groups import row_word
from datumbook.workbook.layout import Layout
from datumbook.workbook.printed import printer
from hole_steps import steps_of
from long_runs import examples, mostly_long
from readings_made import plausible

TEXTS = {name: path.read_text("utf-8") for name, path in shipped_specs().items()}
LEAST = read_quantity(hole_allowances()["least_floor"][0]).to("mm")
LINES = st.one_of(
    st.integers(10, 394).map(lambda at: f"{at / 10000} in"),  # 0.001 in to 1 mm
    st.integers(1, 100).map(lambda at: f"{at / 100} mm"),
    st.sampled_from(["1 thou", "5 thou", "2.5 thou"]),
    st.sampled_from(["0.001 in", "1/64 in", "1/32 in", "0.01 in", "0.05 mm", "0.5 mm", "1 mm"]),
)
PLAIN = ["0.001 in", "0.01 in", "0.01 mm", "0.5 mm"]
ON_A_TAP_CARD = ["deepest", "tap_depth", "tap_stop"]
WORKS = ["hole_work", "full"]


def on_lines(text: str, line: str, thinner: float, work: str) -> Layout:
    """The book of a spec on a scale with these lines, all floors so much thinner."""

    def floor(found: re.Match[str]) -> str:
        return f'floor = "{read_quantity(found[1]).to("mm") * thinner:.9f} mm"'

    text = re.sub(r'floor = "([^"]+)"', floor, text)
    text = re.sub(r"stop_scale = .*\n", "", text)
    shop = f'[shop]\nstop_scale = "{line}"\n'
    text = text.replace("[shop]\n", shop) if "[shop]\n" in text else text + "\n" + shop
    try:
        spec = read_spec(text, "x.toml")
    except SpecFaults:  # a thread deeper than its floor
        reject()
    return lay_out(spec, Job("SQ-17", work=(work,)))


class Printed:
    """A book worked out, read as its paper is."""

    def __init__(self, layout: Layout, typed: Mapping[str, object], quill: str) -> None:
        self.layout, self.quill = layout, quill
        self.typed, self.values = typed, values_of(layout, typed)

    def read_in_mm(self, key: str) -> float | None:
        """The size that somebody reads off a cell, in millimetres; None of a blank one."""
        value, place = self.values[key], self.layout.places[key]
        if not isinstance(value, float):
            return None
        return convert(float(printer(place).number(value)), place.unit or "", "mm")

    def face_in_mm(self, at: str) -> float:
        """Where the face stands on the scale, from touch and feeler as they were typed."""
        touch, feeler = (self.typed[f"{at}.{one}"] for one in ("touch_reading", "feeler"))
        assert isinstance(touch, float)
        assert isinstance(feeler, float)
        unit = self.layout.places[f"{at}.touch_reading"].unit or ""
        return convert(touch + feeler if self.quill == "down" else touch - feeler, unit, "mm")

    def depths(self, keys: Mapping[str, str], at: str) -> Iterator[tuple[str, float]]:
        """How deep each printed text sends the tool: stops by the touch, depths as they stand."""
        for key, kind in keys.items():
            size = self.read_in_mm(key)
            if size is not None and kind == "stop":
                down = size - self.face_in_mm(at)
                yield key, down if self.quill == "down" else -down
            elif size is not None:
                yield key, size


def texts_of(layout: Layout, group: str, word: str, hole: str, *, alone: bool) -> dict[str, str]:
    """The cells that tell how deep a drill goes at a hole, and whether as a stop or as a depth."""
    own = f"_{hole}" if alone else ""
    card, walk = f"card_{group}_{word}{own}", f"walk_{group}_{word}.{hole}"
    found = {f"{walk}.{word}_stop": "stop", f"{walk}.{word}_depth": "depth"}
    for at in ("scale", "other"):
        found |= {f"{card}.{at}.{word}_stop": "stop", f"{card}.{at}.{word}_depth": "depth"}
        found |= {f"{card}.{at}.deepest": "depth"} if alone else {}
    if alone:
        row = (
            f"danger.{hole}"
            if f"danger.{hole}.set_depth" in layout.places
            else f"danger.{hole}.{word}"
        )
        found |= {f"{row}.stop_reading": "stop", f"{row}.set_depth": "depth"}
        found |= {f"{row}.no_tip_below": "depth"}
    else:
        found |= {f"stops.{group}.{word}.stop_reading": "stop"}
    return found


@pytest.mark.parametrize(
    "name", mostly_long(["orrindale_qp4", *sorted(set(TEXTS) - {"orrindale_qp4"})])
)
@settings(max_examples=examples(60), deadline=None)
@given(
    data=st.data(),
    line=LINES,
    thinner=st.floats(0.75, 1.1),
    quill=st.sampled_from(["down", "up"]),
    work=st.sampled_from(WORKS),
)
def test_no_printed_text_lets_the_point_nearer_to_a_floor_than_its_limit(
    name: str, data: st.DataObject, line: str, thinner: float, quill: str, work: str
) -> None:
    layout = on_lines(TEXTS[name], line, thinner, work)
    typed = plausible(layout) | {"allowances.quill": quill}
    for key in touches(layout):
        typed[key] = data.draw(st.floats(-300, 300), key)
        typed[key.replace("touch_reading", "feeler")] = data.draw(st.floats(0, 0.03), "feeler")
    # every cut of so thin a block is forbidden
    assert texts_read(Printed(layout, typed, quill)) or thinner < 1.0


@pytest.mark.parametrize("line", mostly_long(["1/64 in", "0.05 mm", "1/32 in", *PLAIN]))
def test_where_the_floor_leaves_nothing_over_no_text_is_rounded_over_its_limit(line: str) -> None:
    """The dangerous hole may go to a line of the scale and no further, the face lies on a line: the
    stop is the limit itself, and what is rounded up is too deep.
    """
    step = read_quantity(line)
    deepest = int(21.5 / step.to("mm")) * step.to("mm")  # just under what is planned
    text = TEXTS["orrindale_qp4"].replace('"25.4 mm"', f'"{deepest + LEAST:.9f} mm"')
    layout = on_lines(text, line, 1.0, "hole_work")
    for quill in ("down", "up"):
        for number in range(8):
            typed = plausible(layout) | {"allowances.quill": quill}
            for at, key in enumerate(touches(layout)):
                unit = layout.places[key].unit or ""
                typed[key] = (50 + 7 * number + at) * step.to(unit)
                typed[key.replace("touch_reading", "feeler")] = 0.0
            book = Printed(layout, typed, quill)
            assert texts_read(book) > 50
            assert book.read_in_mm("danger.S7.set_depth") == pytest.approx(deepest, abs=1e-6)


@pytest.mark.parametrize(
    ("line", "decimals"),
    [("1/128 in", 7), ("1/3 mm", 7), ("1 um", 3), ("0.00005 in", 5), ("13 thou", 3), ("1/4 in", 2)],
)
def test_a_depth_is_printed_with_every_decimal_of_its_line(line: str, decimals: int) -> None:
    """1/128 in is 0.0078125 in exactly; a third of a millimetre never ends."""
    layout = on_lines(TEXTS["orrindale_qp4"], line, 1.0, "hole_work")
    typed = plausible(layout) | {"allowances.quill": "down"}
    book, seen = Printed(layout, typed, "down"), 0
    for key, place in layout.places.items():
        value = book.values[key]
        if key.endswith((".set_depth", ".goes_to")) and isinstance(value, float):
            assert place.decimals == decimals, key
            assert float(printer(place).number(value)) == pytest.approx(value, abs=1e-9), key
            seen += 1
    assert seen
    assert texts_read(book)


@pytest.mark.parametrize(
    ("line", "unit", "step"),
    [
        ("5 thou", "in", 0.005),
        ("0.005 in", "in", 0.005),
        ("0.05 mm", "mm", 0.05),
        ("100 um", "mm", 0.1),
    ],
)
def test_a_scale_is_read_in_the_system_its_lines_are_stated_in(
    line: str, unit: str, step: float
) -> None:
    layout = on_lines(TEXTS["orrindale_qp4"], line, 1.0, "hole_work")
    told = [
        place for key, place in layout.places.items() if key.startswith("allowances.stop_scale_")
    ]
    assert [(one.unit, float(str(one.value))) for one in told] == [(unit, pytest.approx(step))]
    stops = [one for key, one in layout.places.items() if key.endswith(".scale.drill_stop")]
    assert {one.unit for one in stops} == {unit}


@pytest.mark.parametrize("line", ["1e-9 mm", "0.9 um", "5.1 mm", "0.00004 in", "17/64 in"])
def test_a_scale_that_no_quill_has_is_refused(line: str) -> None:
    """Common practice, no source: readouts show 0.001 mm at the finest."""
    text = TEXTS["orrindale_qp4"].replace("[shop]\n", f'[shop]\nstop_scale = "{line}"\n')
    with pytest.raises(SpecFaults, match=f'no quill has a scale of "{line}"'):
        read_spec(text, "x.toml")


@pytest.mark.parametrize(("line", "thinner"), [("1/4 in", 0.8), ("5 mm", 0.3), ("0.01 mm", 0.3)])
def test_no_depth_of_a_tap_is_told_where_its_hole_is_forbidden_or_has_none(
    line: str, thinner: float
) -> None:
    text = re.sub('(thread_depth = )"[^"]+"', r'\1"2 mm"', TEXTS["orrindale_qp4"])
    layout = on_lines(text, line, thinner, "hole_work")
    book = Printed(layout, plausible(layout) | {"allowances.quill": "down"}, "down")
    card, at = "card_sump_rail_start_tap_S7", "danger_taps.S7.start_tap"
    assert book.values["forbidden.sump_rail.drill.S7.said"]
    told = [f"{at}.no_tap_below", f"{at}.set_depth", f"{at}.stop_reading"]
    told += [f"{card}.{side}.{name}" for side in ("scale", "other") for name in ON_A_TAP_CARD]
    assert [key for key in told if isinstance(book.values[key], float)] == []


def touches(layout: Layout) -> list[str]:
    return [key for key in layout.places if key.endswith(".touch_reading")]


def texts_read(book: Printed) -> int:
    """How many texts tell how deep a tool goes; none of them too deep."""
    layout, seen = book.layout, 0
    steps = steps_of(layout)
    for row in steps.drills:
        group, operation = steps.by_row[row]
        skim = book.values[group.gone] if group.gone else 0.0
        unit = layout.places[group.gone].unit if group.gone else "mm"
        taken = convert(skim, unit or "", "mm") if isinstance(skim, float) else 0.0
        for hole in group.spec.names:
            danger = group.spec.danger_of(hole)
            most = (danger.floor if danger else group.spec.floor).to("mm") - taken - LEAST
            word = row_word(operation)
            keys = texts_of(layout, group.spec.key, word, hole, alone=danger is not None)
            for key, deep in book.depths(keys, f"stops.{row}"):
                assert deep <= most + 1e-9, f"{key} sends the point {deep - most} mm too deep"
                seen += 1
    for group in steps.groups.all:
        for danger in group.spec.danger:
            the_tap_ends_above_the_point(book, group.spec.key, danger.hole)
    return seen


def the_tap_ends_above_the_point(book: Printed, group: str, hole: str) -> None:
    at, card = f"danger_taps.{hole}.start_tap", f"card_{group}_start_tap_{hole}"
    true, unit = book.values[f"{at}.full_depth"], book.layout.places[f"{at}.full_depth"].unit
    if not isinstance(true, float):
        return
    most, drilled = convert(true, unit or "", "mm"), book.read_in_mm(f"danger.{hole}.set_depth")
    assert drilled is None or most < drilled, "short of the point of the drill"
    texts = {f"{at}.no_tap_below": "depth", f"{at}.stop_reading": "stop"}
    for side in ("scale", "other"):
        texts |= {f"{card}.{side}.tap_stop": "stop", f"{card}.{side}.tap_depth": "depth"}
        texts |= {f"{card}.{side}.deepest": "depth"}
    for key, deep in book.depths(texts, at):
        assert deep <= most + 1e-9, f"{key} sends the tap {deep - most} mm too deep"
