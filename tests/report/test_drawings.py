"""The drawings of the report page: where they put what, read back from the SVG itself."""

from __future__ import annotations

from xml.etree.ElementTree import Element, fromstring

import pytest
from hypothesis import given
from hypothesis import strategies as st

from as_asked import values_of
from clean_readings import clean_readings, shipped_layout
from datumbook.job import Job
from datumbook.report.canvas import Canvas
from datumbook.report.drawings import Drawing, against_limits, drawings
from datumbook.spec import load_spec, read_spec, shipped_specs
from datumbook.stations import lay_out
from datumbook.workbook.layout import Layout


def drawn(layout: Layout, readings: dict[str, object]) -> list[Drawing]:
    return list(drawings(layout, values_of(layout, readings)))


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


@given(
    value=st.floats(-50, 50),
    uncertainty=st.floats(0.01, 5),
    low=st.floats(-20, 0),
    width=st.floats(0.01, 20),
)
def test_a_value_stands_to_its_nearest_limit_as_to_its_uncertainty(
    value: float, uncertainty: float, low: float, width: float
) -> None:
    """A straight scale keeps ratios: of the distance to the limit and the half of the span."""
    nearest = min((low, low + width), key=lambda end: abs(value - end))
    picture = fromstring(str(against_limits(value, uncertainty, (low, low + width), "")))
    (mark,), (left, right) = looks(picture, "mark"), points(looks(picture, "span")[0])
    limits = [points(line)[0][0] for line in looks(picture, "limit")]
    reach = 2 * max(abs(value - nearest), uncertainty)
    assert len(limits) == sum(abs(end - nearest) <= reach for end in (low, low + width))
    at = min(limits, key=lambda x: abs(x - 150))  # the nearest limit stands in the middle
    assert at == pytest.approx(150, abs=0.1)
    pixels = 138 / reach
    assert number(mark, "cx") - at == pytest.approx((value - nearest) * pixels, abs=0.11)
    assert right[0] - left[0] == pytest.approx(2 * uncertainty * pixels, abs=0.11)


def test_without_a_limit_nothing_is_drawn() -> None:
    assert against_limits(3.0, 0.5, (None, "not known"), "") is None


def test_one_limit_leaves_the_other_side_open() -> None:
    picture = fromstring(str(against_limits(3.0, 0.5, (None, 2.0), "")))
    (zone,), (limit,) = looks(picture, "zone"), looks(picture, "limit")
    assert number(zone, "x") + number(zone, "width") == pytest.approx(points(limit)[0][0], abs=0.11)
    assert number(zone, "x") == 12.0
    assert number(looks(picture, "mark")[0], "cx") > points(limit)[0][0]


def test_every_shipped_engine_has_the_pictures_of_its_workbook() -> None:
    for path in shipped_specs().values():
        layout = lay_out(load_spec(path), Job("drawn"))
        titles = [one.title for one in drawn(layout, clean_readings(layout))]
        pictures = [picture for plan in layout.plans.values() for _, picture in plan.pictures]
        wanted = [
            f"{one.title}, {one.value_words}" if one.value_words else one.title for one in pictures
        ]
        faces = [face for plan in layout.plans.values() for _, face in plan.charts]
        wanted += [face.title for face in faces if not face.sketch]
        assert sorted(titles) == sorted(wanted)


def test_an_empty_book_has_no_picture_of_readings() -> None:
    assert not any("from the top down" in one.title for one in drawn(shipped_layout(), {}))


def test_a_missing_reading_leaves_a_gap() -> None:
    layout = shipped_layout()
    readings = dict(clean_readings(layout))
    whole = of_title(layout, readings, "Cylinder 2, from the top down")
    readings["bores.2.middle.thrust"] = None
    gapped = of_title(layout, readings, "Cylinder 2, from the top down")
    drawn_from = [
        [len(points(line)) for line in looks(picture, "line s0")] for picture in (whole, gapped)
    ]
    assert drawn_from == [[3], [1, 1]], "no line runs over a depth that was not read"
    assert "not known" in gapped.attrib["aria-label"]


def test_a_wider_bore_stands_higher() -> None:
    layout = shipped_layout()
    readings = clean_readings(layout) | {
        "bores.1.top.thrust": 82.030,
        "bores.1.middle.thrust": 82.020,
        "bores.1.bottom.thrust": 82.010,
    }
    heights = [
        y
        for _, y in points(
            looks(of_title(layout, readings, "Cylinder 1, from the top down"), "line s0")[0]
        )
    ]
    assert heights == sorted(heights)
    assert heights[1] - heights[0] == pytest.approx(heights[2] - heights[1], abs=0.2)


def bars_beyond_the_whole(readings: dict[str, object]) -> list[float]:
    """How far the bar of each resource runs past the line of the whole, in pixels."""
    picture = of_title(shipped_layout(), readings, "Each allowance")
    whole = points(looks(picture, "whole")[0])[0][0]
    ends: dict[float, float] = {}
    for box in (
        shape for shape in picture.iter("rect") if number(shape, "height") > 8
    ):  # the legend's are smaller
        ends[number(box, "y")] = max(
            ends.get(number(box, "y"), 0.0), number(box, "x") + number(box, "width")
        )
    return [end - whole for end in ends.values()]


def test_gone_planned_and_left_make_the_whole_and_what_is_overdrawn_runs_past_it() -> None:
    clean = dict(clean_readings(shipped_layout()))
    sound = bars_beyond_the_whole(clean)
    assert len(sound) > 3
    assert max(abs(beyond) for beyond in sound) < 0.3
    low = {
        f"corners.{corner}.overall": 14.2200
        for corner in ("front_left", "front_right", "rear_left", "rear_right")
    }
    low |= {f"axis.{end}": 14.2200 - 10.6950 for end in ("front", "rear")}  # that they add up
    assert max(bars_beyond_the_whole(clean | low)) > 3


def test_every_placed_hole_is_named_on_its_face_once() -> None:
    layout = shipped_layout()
    drawn_faces = [face for plan in layout.plans.values() for _, face in plan.charts]
    faces = {face.title: face for face in drawn_faces if not face.sketch}
    assert faces
    for title, face in faces.items():
        picture = of_title(layout, clean_readings(layout), title)
        assert sorted(text.text or "" for text in looks(picture, "name")) == sorted(
            face.marks[0].rows
        )


def test_a_hole_stands_where_the_spec_has_it_in_the_shape_of_its_state() -> None:
    """Along from the left, across from the lower edge: the scale is read off the edge of the face
    itself.
    """
    layout = shipped_layout()
    group = layout.spec.holes[0]
    done = clean_readings(layout) | {f"holes_{group.key}.{group.names[0]}.gauge": "not"}
    picture = of_title(layout, done, "Deck face")
    edge = [
        point
        for line in looks(picture, "outline")
        if "points" in line.attrib
        for point in points(line)
    ]
    (left, top), (right, bottom) = (
        map(min, zip(*edge, strict=True)),
        map(max, zip(*edge, strict=True)),
    )
    face = next(outline for outline in layout.spec.outlines if outline.of == "deck")
    per_mm = (right - left) / face.length.to("mm")
    assert (bottom - top) / face.width.to("mm") == pytest.approx(per_mm, rel=0.01)
    (hole,) = [
        one for one in looks(picture, "open") if number(one, "cy") < bottom
    ]  # the legend's stands below
    along, across = (size.to("mm") for size in group.places[0])
    assert number(hole, "cx") == pytest.approx(left + along * per_mm, abs=0.2)
    assert number(hole, "cy") == pytest.approx(bottom - across * per_mm, abs=0.2)
    assert {one.tag for one in looks(picture, "done")} == {"rect"}


def test_columns_are_as_high_as_their_values() -> None:
    layout = shipped_layout()
    heights = {
        "front_left": 14.2210,
        "front_right": 14.2230,
        "rear_left": 14.2250,
        "rear_right": 14.2250,
    }
    readings = clean_readings(layout) | {
        f"corners.{corner}.overall": height for corner, height in heights.items()
    }
    picture = of_title(layout, readings, "above the lowest")
    boxes = [
        box for box in looks(picture, "bar s0") if number(box, "width") > 8
    ]  # the legend's is smaller
    drawn_as = [number(box, "height") for box in boxes]
    assert drawn_as == pytest.approx([0, drawn_as[3] / 2, drawn_as[3], drawn_as[3]], abs=0.11)
    assert drawn_as[3] > 20


def test_what_no_block_measures_is_left_out() -> None:
    layout = shipped_layout()
    readings = clean_readings(layout) | {"bores.1.top.thrust": 1e308, "bores.2.top.thrust": -1e308}
    assert not any("nan" in one.svg or "inf" in one.svg for one in drawn(layout, readings))
    assert against_limits(1e308, 1.0, (0.0, 1.0), "") is None


def test_many_holes_and_long_words_stay_inside_the_picture() -> None:
    text = (
        shipped_specs()["hollowmere_v8"]
        .read_text("utf-8")
        .replace('words = "Left bank"', f'words = "Left {"very " * 20}long"')
    )
    layout = lay_out(read_spec(text, "long.toml"), Job("long"))
    for one in drawn(layout, clean_readings(layout)):
        assert all(float(box.attrib["width"]) >= 0 for box in fromstring(str(one.svg)).iter("rect"))


def test_words_cannot_become_markup() -> None:
    canvas = Canvas(9, 9, 'a"<b>')
    canvas.words("<script>\x1b", 1, 1)
    assert "<script>" not in canvas.svg()
    assert fromstring(str(canvas.svg())).attrib["aria-label"] == 'a"<b>'
    assert "\x1b" not in canvas.svg()
