"""Drills inside the limits, ranked, and the sentence for one that is not."""

from __future__ import annotations

import pytest

from datumbook.standards.drill_choice import drill_refusal, drills_inside, hole_limits
from datumbook.standards.drills import parse_drill
from datumbook.standards.threads import Thread, all_threads, parse_thread

INCH = 25.4
SHOP = ("fraction", "number", "letter")


GUIDED = 0.0  # mm: a drill in a bush, or a reamer, makes its own size


def refusal(
    thread: str, drill: str, engagement_mm: float | None = None, oversize_mm: float | None = None
) -> str:
    found = parse_thread(thread), parse_drill(drill)
    said = drill_refusal(*found, engagement_mm=engagement_mm, oversize_mm=oversize_mm)
    assert said is not None
    return said


@pytest.mark.parametrize(
    ("thread", "target", "systems", "first"),
    [  # the handbook's "about 75 %" drills, guided, and one asked for at 65 % of the charts
        ("5/16-24", 0.75, SHOP, "I"),
        ("1/4-28", 0.80, SHOP, "#3"),
        ("3/8-16", 0.77, ("fraction",), "5/16"),
        ("5/16-24", 0.65, SHOP, "J"),
        ("9/16-18", 0.75, ("metric",), "12.9 mm"),
        ("M8", 0.74, ("metric",), "6.8 mm"),
    ],
)
def test_the_first_is_the_nearest_to_the_percentage_asked_and_inside(
    thread: str, target: float, systems: tuple[str, ...], first: str
) -> None:
    found = drills_inside(parse_thread(thread), systems, target, oversize_mm=GUIDED)
    assert found[0].drill.name == first
    assert all(each.inside for each in found)


def test_a_shop_without_a_drill_inside_has_none() -> None:
    # 9/16-18 in fractions, guided: 33/64 is over 2B, 1/2 under it (conflict 3); 1/2 as it drills
    # makes 0.5000 + 0.0049 in
    thread, drill = parse_thread("9/16-18"), parse_drill("33/64")
    assert drills_inside(thread, ["fraction"], oversize_mm=GUIDED) == []
    assert [one.drill.name for one in drills_inside(thread, ["fraction"])] == ["1/2"]
    assert "none of the shop's drills is inside: ream the hole, or guide the drill" in str(
        drill_refusal(thread, drill, ["fraction"], oversize_mm=GUIDED)
    )


@pytest.mark.parametrize(
    "thread", [row for row in all_threads() if row.limit_class], ids=lambda row: row.designation
)
def test_every_thread_with_limits_has_a_drill_on_the_stand(thread: Thread) -> None:
    assert drills_inside(thread)


@pytest.mark.parametrize(
    ("thread", "drill", "said"),
    [  # conflicts of drill charts with class 2B: each by the printed limits and n/64
        (
            "5/16-24",
            "17/64",
            "0.0014 in (0.035 mm) under the smallest allowed, 0.267 in; the tap must cut more",
        ),
        ("5/16-24", "17/64", "86.6 % by the charts, 103.9 % of 5/8 H"),
        ("5/16-24", "H", "under the smallest allowed"),
        ("5/16-24", "9/32", "0.0042 in (0.108 mm) over the largest allowed, 0.277 in"),
        ("5/16-18", "17/64", "0.0006 in (0.016 mm) over the largest allowed, 0.265 in"),
        ("9/16-18", "33/64", "0.0006 in (0.016 mm) over the largest allowed, 0.515 in"),
        ("3/8-24", "21/64", "under the smallest allowed, 0.330 in"),
        ("7/16-14", "23/64", "under the smallest allowed, 0.360 in"),
        ("1/4-20", "7/32", "over the largest allowed, 0.207 in"),
        ("5/16-18", "J", "over the largest allowed"),
        ("3/8-16", "Q", "over the largest allowed"),
        ("3/8-24", "S", "over the largest allowed"),
        ("7/16-14", "25/64", "over the largest allowed"),
        ("7/16-20", "13/32", "over the largest allowed"),
        ("1/4-28", "#4", "under the smallest allowed, 0.211 in"),
        ("M10x1.25", "8.5 mm", "under the smallest allowed, 8.647 mm"),
        ("G1/8", "8.9 mm", "over the largest allowed, 8.848 mm"),
    ],
)
def test_a_guided_drill_outside_is_refused_in_words(thread: str, drill: str, said: str) -> None:
    assert said in refusal(thread, drill, oversize_mm=GUIDED)


@pytest.mark.parametrize(
    ("thread", "drill", "said"),
    [  # worked by hand: the size of the drill and the chart's mean, against the printed limits
        ("5/16-24", "J", "makes about 0.2811 in and leaves 58.0 % by the charts"),
        ("5/16-24", "J", "0.0041 in (0.104 mm) over the largest allowed, 0.277 in"),
        ("7/16-20", "25/64", "makes about 0.3952 in"),
        ("7/16-20", "25/64", "over the largest allowed, 0.395 in"),
        ("1/2-20", "29/64", "makes about 0.4578 in"),
        ("M8", "6.9 mm", "makes about 7.00 mm"),
        ("M10x1.25", "8.8 mm", "over the largest allowed, 8.912 mm"),
    ],
)
def test_a_drill_whose_hole_is_probably_outside_is_refused(
    thread: str, drill: str, said: str
) -> None:
    assert said in refusal(thread, drill)
    assert drill_refusal(parse_thread(thread), parse_drill(drill), oversize_mm=GUIDED) is None


@pytest.mark.parametrize(
    ("thread", "drill"),
    [("5/16-24", "17/64"), ("5/16-24", "H"), ("3/8-24", "21/64"), ("7/16-14", "23/64")],
)
def test_a_drill_under_its_limits_may_make_a_hole_inside(thread: str, drill: str) -> None:
    found = parse_thread(thread), parse_drill(drill)
    assert "under the smallest allowed" in refusal(thread, drill, oversize_mm=GUIDED)
    assert drill_refusal(*found) is None


def test_a_refusal_names_the_nearest_sizes_inside() -> None:
    assert refusal("5/16-24", "17/64", oversize_mm=GUIDED).endswith(
        "the nearest inside are 6.8 mm (0.2677 in) and 6.9 mm (0.2717 in)."
    )
    assert refusal("9/16-18", "33/64", oversize_mm=GUIDED).endswith(
        "the nearest inside are 13.0 mm (0.5118 in) and 12.9 mm (0.5079 in)."
    )


@pytest.mark.parametrize(
    ("thread", "drill"),
    # conflicts 1, 2, 3, 7 and 10: what is inside although a chart says otherwise; BSW has no limit
    # to be outside of
    [
        ("5/16-24", "I"),
        ("5/16-24", "6.9 mm"),
        ("5/16-24", "J"),
        ("5/16-18", "F"),
        ("5/16-18", "6.6 mm"),
        ("9/16-18", "12.9 mm"),
        ("1/4-28", "#3"),
        ("1/4-28", "7/32"),
        ("M12", "10.2 mm"),
        ("M12", "10.3 mm"),
        ("M12", "10.25 mm"),
        ("M14", "12.0 mm"),
        ("M14", "12.1 mm"),
        ("M10x1.25", "8.75 mm"),
        ("M10x1.25", "8.8 mm"),
        ("1/4 BSW", "7/32"),
    ],
)
def test_a_guided_drill_inside_is_not_refused(thread: str, drill: str) -> None:
    assert drill_refusal(parse_thread(thread), parse_drill(drill), oversize_mm=GUIDED) is None


class TestByLengthOfEngagement:
    """Recommended limits of ASME B1.1, as a drill maker reproduces them."""

    def test_one_diameter_of_5_16_24_takes_letter_i_and_not_17_64(self) -> None:
        thread = parse_thread("5/16-24")
        limits = hole_limits(thread, engagement_mm=thread.major_mm)
        assert limits is not None
        assert (limits.smallest_mm / INCH, limits.largest_mm / INCH) == pytest.approx(
            (0.2719, 0.277), abs=5e-5
        )
        assert "1.00 diameters" in limits.rule
        length = thread.major_mm
        found = drills_inside(thread, SHOP, engagement_mm=length, oversize_mm=GUIDED)
        assert sorted(each.drill.name for each in found) == ["I", "J"]
        # with what a drill cuts over its size letter J is out
        found = drills_inside(thread, SHOP, engagement_mm=length)
        assert [each.drill.name for each in found] == ["I"]
        # 6.8 mm is inside the class, and under what is recommended for a diameter of thread
        assert "under the smallest allowed, 0.2719 in" in refusal(
            "5/16-24", "6.8 mm", thread.major_mm, GUIDED
        )

    def test_a_short_hole_takes_the_small_end_and_a_long_one_goes_past_the_class(self) -> None:
        thread = parse_thread("1/2-13")
        short, long = (
            hole_limits(thread, thread.major_mm / 3),
            hole_limits(thread, 2 * thread.major_mm),
        )
        assert short is not None
        assert long is not None
        assert short.smallest_mm == thread.smallest_minor_mm
        assert thread.largest_minor_mm is not None
        assert short.largest_mm < long.smallest_mm < thread.largest_minor_mm < long.largest_mm

    @pytest.mark.parametrize(
        ("thread", "length", "said"),
        [
            ("M8", 8, "for unified threads alone"),
            ("1/4-20", 25.4, "4.00 diameters is outside"),
            ("1/4-20", 0, "outside"),
        ],
    )
    def test_where_there_is_no_recommendation_it_says_so(
        self, thread: str, length: float, said: str
    ) -> None:
        with pytest.raises(ValueError, match=said):
            hole_limits(parse_thread(thread), length)
