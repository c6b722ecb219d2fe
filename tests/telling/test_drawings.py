"""The drawings of the report page: where they put what, read back from the SVG itself."""

from __future__ import annotations

from xml.etree.ElementTree import Element, fromstring

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.book.layout import Job, Layout
from builder.book.reckoning import reckon
from builder.sheets import lay_out
from builder.spec import load_spec, shipped_specs
from builder.telling.drawings import Canvas, Drawing, against_limits, drawings
from clean_readings import clean_readings, shipped_layout


def drawn(layout: Layout, readings: dict[str, object]) -> list[Drawing]:
    return list(drawings(layout, reckon(layout, readings)))


def of_title(layout: Layout, readings: dict[str, object], title: str) -> Element:
    (one,) = [drawing for drawing in drawn(layout, readings) if title in drawing.title]
    return fromstring(str(one.svg))


def number(shape: Element, name: str) -> float:
    return float(shape.attrib[name])


def points(line: Element) -> list[tuple[float, float]]:
    pairs = (pair.split(",") for pair in line.attrib["points"].split())
    return [(float(x), float(y)) for x, y in pairs]


def looks(picture: Element, style: str) -> list[Element]:
    return [shape for shape in picture.iter() if shape.attrib.get("class") == style]


@given(value=st.floats(-50, 50), uncertainty=st.floats(0.001, 5), low=st.floats(-20, 0), width=st.floats(0.01, 20))
def test_a_value_stands_against_its_limits_as_the_numbers_do(
    value: float, uncertainty: float, low: float, width: float
) -> None:
    """Two points of a straight scale give every third: the limits fix it, the mark and the span must follow."""
    high = low + width
    picture = fromstring(str(against_limits(value, uncertainty, (low, high), "")))
    (first, *_), (second, *_) = (points(line) for line in looks(picture, "limit"))
    (mark,) = looks(picture, "mark")
    per_unit = (second[0] - first[0]) / width
    slack = 0.2 + 0.2 * (abs(value - low) + uncertainty) / width  # pixels are written to a tenth
    assert number(mark, "cx") == pytest.approx(first[0] + (value - low) * per_unit, abs=slack)
    span = points(looks(picture, "span")[0])
    assert span[1][0] - span[0][0] == pytest.approx(2 * uncertainty * per_unit, abs=slack)


def test_one_limit_leaves_the_other_side_open() -> None:
    picture = fromstring(str(against_limits(3.0, 0.5, (None, 2.0), "")))
    (zone,), (limit,) = looks(picture, "zone"), looks(picture, "limit")
    assert number(zone, "x") + number(zone, "width") == pytest.approx(points(limit)[0][0], abs=0.11)
    assert number(zone, "x") == 12.0


def test_every_shipped_engine_has_the_pictures_of_its_workbook() -> None:
    for path in shipped_specs().values():
        layout = lay_out(load_spec(path), Job("drawn"))
        titles = [one.title for one in drawn(layout, clean_readings(layout))]
        wanted = [picture.title for plan in layout.plans.values() for _, picture in plan.pictures]
        wanted += [face.title for plan in layout.plans.values() for _, face in plan.charts]
        assert sorted(titles) == sorted(wanted)


def test_an_empty_book_has_no_picture_of_readings() -> None:
    assert not any("from the top down" in one.title for one in drawn(shipped_layout(), {}))


def test_a_missing_reading_leaves_a_gap() -> None:
    layout = shipped_layout()
    readings = dict(clean_readings(layout))
    whole = of_title(layout, readings, "Cylinder 2, from the top down")
    readings["bores.2.middle.thrust"] = None
    gapped = of_title(layout, readings, "Cylinder 2, from the top down")
    assert [len(points(looks(picture, "line s0")[0])) for picture in (whole, gapped)] == [3, 2]
    assert "not known" in gapped.attrib["aria-label"]


def test_a_wider_bore_stands_higher() -> None:
    layout = shipped_layout()
    readings = clean_readings(layout) | {
        "bores.1.top.thrust": 82.030,
        "bores.1.middle.thrust": 82.020,
        "bores.1.bottom.thrust": 82.010,
    }
    heights = [y for _, y in points(looks(of_title(layout, readings, "Cylinder 1, from the top down"), "line s0")[0])]
    assert heights == sorted(heights)
    assert heights[1] - heights[0] == pytest.approx(heights[2] - heights[1], abs=0.2)


def test_the_bars_of_a_resource_fill_its_whole_width() -> None:
    layout = shipped_layout()
    picture = of_title(layout, clean_readings(layout), "Each allowance")
    ends: dict[float, float] = {}
    for box in (
        shape for shape in picture.iter("rect") if shape.attrib["class"].startswith("bar") and number(shape, "height") > 8
    ):
        ends[number(box, "y")] = ends.get(number(box, "y"), 0.0) + number(box, "width")
    assert len(ends) > 3
    assert max(ends.values()) - min(width for width in ends.values() if width) < 0.3


def test_every_placed_hole_is_named_on_its_face_once() -> None:
    layout = shipped_layout()
    faces = {face.title: face for plan in layout.plans.values() for _, face in plan.charts}
    assert faces
    for title, face in faces.items():
        picture = of_title(layout, clean_readings(layout), title)
        assert sorted(text.text or "" for text in looks(picture, "name")) == sorted(face.marks[0].rows)


def test_words_cannot_become_markup() -> None:
    canvas = Canvas(9, 9, 'a"<b>')
    canvas.words("<script>\x1b", 1, 1)
    assert "<script>" not in canvas.svg()
    assert fromstring(str(canvas.svg())).attrib["aria-label"] == 'a"<b>'
    assert "\x1b" not in canvas.svg()
