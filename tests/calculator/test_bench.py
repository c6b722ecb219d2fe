"""What `datumbook thread`, `explain` and `work` print, held to numbers that others print."""

from __future__ import annotations

import re
import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from datumbook.calculator import BenchError, asked, explain, thread_card, work
from datumbook.calculator.equations import (
    BENCH_KINDS,
    NO_CELL,
    equations,
    kind_names,
    shipped_books,
    two_columns,
)
from datumbook.formulas import kinds
from datumbook.formulas.spelling import column_letters
from datumbook.formulas.tracing import parameters
from datumbook.numbers.printing import NOT_LESS, NOT_MORE
from datumbook.numbers.quantities import read_quantity
from datumbook.standards.threads import Thread, all_threads
from equations_in_use import shown
from long_runs import examples, mostly_long
from project import PROJECT, SUPPORT

ALL = {name: one for module in equations().values() for name, one in module.items()}
OVER_ONE_RANGE = {
    "done_number_on_line",
    "place_of_rank",
    "value_at",
    "words_at",
}  # they look along one row of cells: no line with numbers
BOUNDED = {"chilling_temperature", "heating_temperature"}  # of no answer beyond what a shop reaches

# an interference as large as its diameter would want a liner colder than absolute zero
TIGHT = {"liner_interference": "0.001in", "assembly_clearance": "0.0005in"}


def result(text: str) -> str:
    """Return what the line `gives` says."""
    found = re.search(r"^  gives  (.+)$", text, re.MULTILINE)
    assert found, text
    return found[1]


def section(card: str, title: str) -> str:
    """Return the part of a card that begins with a title."""
    return next(part for part in card.split("\n\n") if part.startswith(title))


def drill_row(card: str, name: str) -> list[str]:
    """Return the row of a drill in a card, cut at its columns."""
    rows = (
        re.split(r"\s{2,}", line.strip()) for line in section(card, "Drills, nearest").splitlines()
    )
    return next(row for row in rows if row[0] == name)


def spread(kind: str, place: int, several: bool) -> str:
    """A kind's example as typed for the argument at this place, no two alike, so that no difference
    of two is nothing.
    """
    number, unit = re.fullmatch(r"([0-9.]*(?:e-?[0-9]+)?)(.*)", BENCH_KINDS[kind][1]).groups()  # type: ignore[union-attr]
    places = (place, place + 1, place + 3) if several else (place,)
    return ",".join(
        f"{float(number) * (1 + each / 4):g}{unit}" if number else unit for each in places
    )


class TestThreadCard:
    def test_gives_the_sizes_of_the_published_tables(self) -> None:
        card = thread_card(
            "1/2-13"
        )  # class 2B and 2A as ASME B1.1-2019 prints them, read in a public package
        assert "0.4170 to 0.4340 in" in card
        assert "0.4500 to 0.4565 in" in card
        assert "0.4435 to 0.4485 in" in card
        assert "threads per inch                      13" in card
        assert "0.1419 in²" in card  # Shigley, 9th ed., table 8-2

    def test_gives_a_metric_thread_its_own_class(self) -> None:
        card = thread_card(
            "M8"
        )  # ISO 724 and ISO 965-1 as public tables carry them; stress area ASME B1.13M
        assert (
            "hole, class 6H                        6.647 to 6.912 mm   0.2617 to 0.2721 in" in card
        )
        assert "7.188 mm (0.2830 in)" in card
        assert "36.61 mm²" in card
        assert "2A" not in card

    @pytest.mark.parametrize(
        ("thread", "drill", "chart", "basic", "place"),
        # worked by hand: size, oversize of the chart (0.0038 in at #7, 0.0040 at 17/64, 0.0041 at I
        # and J), 2B limits
        [
            ("1/4-20", "#7", "69.6", "83.5", "inside"),
            ("5/16-24", "17/64", "79.2", "95.1", "inside"),
            ("5/16-24", "I", "67.2", "80.7", "inside on average"),
            ("5/16-24", "J", "58.0", "69.6", "above"),
            ("5/16-18", "F", "71.6", "86.0", "inside"),
            ("1/4-28", "#3", "71.6", "85.9", "inside"),
            ("3/8-16", "5/16", "71.6", "85.9", "inside"),
            ("1/2-13", "27/64", "73.5", "88.2", "inside"),
            ("M8", "6.8 mm", "67.6", "81.2", "inside on average"),
            ("M8", "6.9 mm", "61.3", "73.6", "above"),
        ],
    )
    def test_ranks_the_drills_by_both_percentages(
        self, thread: str, drill: str, chart: str, basic: str, place: str
    ) -> None:
        said = " ".join(drill_row(thread_card(thread), drill))
        assert said.endswith(f"{chart} {basic} {place}")

    @pytest.mark.parametrize(
        ("thread", "drill", "said"),
        [  # each follows from the printed 2B limits, n/64 and what such a drill cuts over that
            ("5/16-24", "9/32", "0.0084 in (0.215 mm) over the largest allowed, 0.277 in"),
            ("5/16-18", "17/64", "0.0046 in (0.117 mm) over the largest allowed, 0.265 in"),
            ("1/4-20", "7/32", "over the largest allowed, 0.207 in"),
            ("5/16-18", "J", "over the largest allowed"),
            ("3/8-16", "Q", "over the largest allowed"),
            ("3/8-24", "S", "over the largest allowed"),
            ("7/16-14", "25/64", "over the largest allowed"),
            ("7/16-20", "13/32", "over the largest allowed"),
        ],
    )
    def test_warns_of_the_drill_that_charts_name_outside_the_class(
        self, thread: str, drill: str, said: str
    ) -> None:
        warned = section(thread_card(thread), "Drills that charts may name")
        line = next(line for line in warned.splitlines() if line.startswith(f"  {drill} makes"))
        assert said in line
        assert "needs its reason recorded" in warned

    def test_does_not_warn_of_a_drill_inside(self) -> None:
        assert "17/64" not in section(thread_card("5/16-24"), "Drills that charts may name")

    def test_says_which_percentage_is_which(self) -> None:
        assert "75 % in a chart is 90 % of the basic thread" in thread_card("1/4-20")  # exactly 6/5

    def test_names_the_other_pitch_and_the_thread_of_the_other_system(self) -> None:
        alike = section(thread_card("5/16-24"), "Look-alikes")
        assert "5/16-18 UNC: same size, other pitch, 0.0556 in" in alike
        assert (
            "M8x1: 0.0025 in (0.062 mm) apart in size, 5.5 % in pitch" in alike
        )  # 8 - 7.9375; 25.4/24 against 1
        assert "5/16-24 UNF: 0.062 mm (0.0025 in)" in section(thread_card("M8x1"), "Look-alikes")

    def test_says_none_where_the_tables_show_none(self) -> None:
        assert section(thread_card("M7"), "Look-alikes").endswith("  None.")

    @pytest.mark.parametrize("thread", all_threads(), ids=lambda thread: thread.designation)
    def test_ranks_drills_for_every_thread_inside_where_a_class_is_known(
        self, thread: Thread
    ) -> None:
        lines = section(thread_card(thread.designation), "Drills").splitlines()[2:]
        said = [line.rpartition("   ")[2] for line in lines if line.startswith("  ")]
        places = [re.sub(" on average|; beyond the chart", "", one) for one in said]
        if thread.taper is None:
            assert (
                3 <= len(places) <= 12
            )  # the stand ends at 32 mm and 1 1/2 in, and begins at 1 mm
            assert ("inside" in places) == bool(thread.limit_class)
        else:
            assert lines[0] == "  None is listed here." or set(places) == {"no limit"}

    @pytest.mark.parametrize(
        ("thread", "said"),
        # sizes as the standards' tables print them (tests/standards/test_thread_rows.py); angles of
        # the forms
        [
            ("1/4 BSW", "BSW, British Standard Whitworth, form angle 55°"),
            ("1/4 BSW", "basic minor diameter                  0.1860 in (4.724 mm)"),
            ("1/4 BSW", "None are known here"),
            ("1/4 BSW", "nearest to 70 % is wanted (BS 1157, reproduced)."),
            ("2 BA", "major diameter                        4.700 mm (0.1850 in)"),
            (
                "G1/8",
                "hole, class ISO 228-1                 8.566 to 8.848 mm   0.3372 to 0.3483 in",
            ),
            (
                "G1/8",
                "pitch diameter in the hole            9.147 to 9.254 mm   0.3601 to 0.3643 in",
            ),
            ("1/8 NPT", "taper on the diameter                 1 in 16"),
            ("1/8 NPT", "none: a taper plug is not tightened in tension"),
            ("R1/2", "from memory for 1/2 and 3/4"),
            ("5/16-24", "close 21/64 in, normal 11/32 in, loose 23/64 in (ASME B18.2.8"),
            ("M24", "close 25 mm, medium 26 mm, coarse 28 mm (ISO 273"),
            ("M10", "major diameter of the bolt, class 6g"),
            ("M10", "9.732 to 9.968 mm"),
            ("10-32", "major diameter of the bolt, class 2A  0.1831 to 0.1891 in"),
            ("1 NPT", "threads per inch                      11.5"),
        ],
    )
    def test_tells_what_is_known_of_the_other_families_and_what_is_not(
        self, thread: str, said: str
    ) -> None:
        assert said in thread_card(thread)

    def test_gives_one_percentage_where_the_form_has_one(self) -> None:
        assert drill_row(thread_card("1/4 BSW"), "5.1 mm")[-2:] == [
            "70.9",
            "no limit",
        ]  # 0.2008 and 0.0038 in: 0.0454 of 0.0640 in
        assert "Chart %" not in thread_card("1/4 BSW")

    def test_warns_of_the_thread_of_another_angle(self) -> None:
        # conflict 9: the same pitch, another angle
        assert "1/4-20 BSW: same size, same pitch, 55° against 60°" in section(
            thread_card("1/4-20"), "Look-alikes"
        )
        assert "0 BA: same size, same pitch, 47.5° against 60°" in section(
            thread_card("M6"), "Look-alikes"
        )
        assert "1/8-27 NPT: " in section(thread_card("G1/8"), "Look-alikes")

    def test_refuses_a_text_without_end_in_one_line(self) -> None:
        with pytest.raises(
            ValueError, match=r'^"9{57}\.\.\." is too long for a thread designation; write it like'
        ):
            thread_card("9" * 5000)

    @given(
        st.one_of(
            st.text(max_size=12), st.from_regex(r"[M0-9/ .x-]{1,12}( UN[CF])?", fullmatch=True)
        )
    )
    def test_any_text_gives_a_card_or_a_sentence(self, text: str) -> None:
        try:
            assert "form angle" in thread_card(text)
        except ValueError as refusal:
            if not str(refusal).endswith("."):
                raise


class TestAsked:
    """The shop's own drills, its own percentage, and the limits ASME B1.1 recommends for a length
    of engagement.
    """

    def test_only_the_series_asked_for_are_ranked_nearest_to_the_share_asked_for(self) -> None:
        card = thread_card("1/4-20", asked(drills="fraction, number", share="70", oversize="0 in"))
        rows = [
            re.split(r"\s{2,}", line.strip())
            for line in section(card, "Drills, nearest to 70 %").splitlines()[2:]
        ]
        rows = [row for row in rows if len(row) == 8]
        assert (
            rows[0][0] == "#6"
        )  # 0.2040 leaves (0.25 - 0.2040) 20 / 1.299 = 70.8 %; #5 leaves 68.5 %, 13/64 72.2 %
        assert all(re.fullmatch(r"#\d+|\d+/\d+", row[0]) for row in rows)
        inside = [row[-1] == "inside" for row in rows]
        assert inside == sorted(inside, reverse=True), "what is outside stands last"
        far = [(row[-1] != "inside", abs(float(row[5]) - 70)) for row in rows]
        assert far == sorted(far)

    def test_an_engagement_of_one_diameter_takes_i_and_j_for_5_16_24(self) -> None:
        # as a drill maker reproduces ASME B1.1: 0.2719 to 0.277 for an engagement of one diameter,
        # with drills that are taken to make their own size
        card = thread_card("5/16-24", asked(engagement="5/16 in", oversize="0 in"))
        assert "recommended by ASME B1.1 for an engagement of 1.00 diameters" in card
        assert "0.2719 to 0.2770 in" in card
        assert "hole, class 2B                        0.2670 to 0.2770 in" in card, (
            "the class is told as well"
        )
        assert [drill_row(card, name)[-1] for name in ("I", "J", "6.8 mm")] == [
            "inside",
            "inside",
            "below",
        ]
        assert drill_row(thread_card("5/16-24"), "6.8 mm")[-1] == "inside"
        assert drill_row(thread_card("5/16-24", asked(engagement="5/16 in")), "J")[-1] == "above"

    def test_a_short_hole_refuses_what_the_class_allows(self) -> None:
        # 1/2-13 over a third of its diameter: 0.417 to 0.417 + half of 0.25/13 - 0.4/13² = 0.4254
        # in
        card = thread_card("1/2-13", asked(engagement="1/6 in"))
        outside = "Drills that charts may name, and outside what is recommended"
        assert "  27/64 makes about 0.4266 in" in section(card, outside)
        guided = thread_card("1/2-13", asked(engagement="1/6 in", oversize="0 in"))
        assert "27/64" not in section(guided, outside)
        assert "7/16 makes" in section(guided, outside)
        assert "0.4170 to 0.4254 in" in card

    @pytest.mark.parametrize(
        ("words", "said"),
        [
            (
                {"share": "7/10"},
                '"7/10" is no share of thread; write a per cent of the drill charts from 30 to 100',
            ),
            ({"share": "700"}, "from 30 to 100, as 70"),
            (
                {"drills": "fraction,gauge"},
                '"gauge" is not a system of drills; choose from fraction, number, letter, metric',
            ),
            ({"oversize": "-0.004 in"}, "or 0in for a reamer or a drill in a bush"),
            ({"engagement": "half"}, "half"),
            ({"engagement": "0.5"}, "0.5"),
            ({"engagement": "2 lbf"}, "2 lbf"),
        ],
    )
    def test_what_cannot_be_asked_is_refused_in_a_sentence(
        self, words: dict[str, str], said: str
    ) -> None:
        with pytest.raises(ValueError) as refusal:  # noqa: PT011  # the sentence is compared below
            asked(**words)
        assert said in str(refusal.value)

    @pytest.mark.parametrize(("thread", "length"), [("M8", "8 mm"), ("1/4-20", "1 in")])
    def test_where_none_is_recommended_it_says_to_leave_the_length_out(
        self, thread: str, length: str
    ) -> None:
        with pytest.raises(ValueError, match="leave the length out"):
            thread_card(thread, asked(engagement=length))

    @pytest.mark.parametrize(
        ("thread", "said"),
        [  # ISO 2306 against other tables and against major less pitch; limits of 6H
            ("M12", "major less pitch, 10.25 mm: 10.2 mm inside, 10.3 mm inside 6H"),
            ("M14", "major less pitch, 12.00 mm: 11.9 mm inside, 12.0 mm inside, 12.1 mm above 6H"),
            ("M10x1.25", "major less pitch, 8.75 mm: 8.7 mm inside, 8.8 mm above 6H"),
        ],
    )
    def test_metric_charts_that_differ_are_named(self, thread: str, said: str) -> None:
        assert said in thread_card(thread)


class TestExplain:
    def test_lists_every_equation_with_its_meaning(self) -> None:
        listed = explain(None)
        for module, found in equations().items():
            assert f"\n{module}\n" in f"\n{listed}\n"
            for name in found:
                assert re.search(rf"^  {name}(  +|\n {{28,}})\S", listed, re.MULTILINE), name

    @pytest.mark.parametrize(
        ("name", "said"), [("a" * 26, f"  {'a' * 26}  b"), ("a" * 27, f"  {'a' * 27}\n{' ' * 30}b")]
    )
    def test_a_name_too_long_for_its_column_stands_above_its_words(
        self, name: str, said: str
    ) -> None:
        assert two_columns(name, "b") == said

    @pytest.mark.parametrize("name", mostly_long(ALL, 60))
    def test_tells_all_of_every_equation(self, name: str) -> None:
        told = explain(name)
        assert told.startswith(f"{name}: ")
        assert f">>> {name}(" in told
        assert re.search(r"^  formula +\w.* = .+", told, re.MULTILINE)
        assert [
            line.split()[1].rstrip(":") for line in told.splitlines() if line.startswith("  wants")
        ] == [parameter for parameter in kind_names(ALL[name]) if parameter != "return"]
        assert (f"\n  shown     {NO_CELL}\n" in told) == (name not in shown())

    def test_finds_where_out_of_round_is_shown_limited_and_tested(self) -> None:
        told = explain("out of round")
        book = next(shipped_books())
        places = [place for place in book.places.values() if place.equation is ALL["out_of_round"]]
        places = [place for place in places if place.at.sheet == "Bores"]
        first = places[0].at
        assert (
            f"sheet Bores, first in {column_letters(first.column)}{first.row}, {len(places)} cells"
            in told
        )
        assert f"bores.out_of_round: {NOT_MORE} 0.0040 in (Brackwater sheet 1, invented)" in told
        assert "tests/equations/test_bores.py" in told

    def test_counts_the_published_cases(self) -> None:
        file = SUPPORT / "published" / "threads.toml"
        cases = file.read_text("utf-8").count("[[drill_chart_thread]]")
        assert f"tests/support/published/threads.toml, {cases} published cases" in explain(
            "drill_chart_thread"
        )

    def test_tells_a_limit_with_two_ends_and_one_that_no_key_gives(self) -> None:
        assert "heights.tilt: from -0.004 in to 0.004 in" in explain("tilt_lengthwise")
        assert f"not a key of the spec: {NOT_LESS} 5/8 in" in explain("engagement")  # 1.25 x 1/2 in

    def test_names_the_nearest_of_an_unknown_name(self) -> None:
        with pytest.raises(
            BenchError, match=r'no equation called "out_of_rond": the nearest are out_of_round'
        ):
            explain("out_of_rond")

    def test_says_where_the_list_is_when_nothing_is_near(self) -> None:
        with pytest.raises(BenchError, match="datumbook explain lists them all"):
            explain("qqqqqqqq")


WORKED = [  # equation, arguments, what it gives; the source of each number beside it
    (
        "drill_chart_thread",
        "major=1/4in hole=0.201in pitch=1/20in",
        "75.44 %",
    ),  # a tap maker's formula sheet
    (
        "drill_chart_thread",
        "major=0.0600in hole=1.30mm pitch=1/80in",
        "54.31 %",
    ),  # Machinery's Handbook: 54
    (
        "spindle_speed",
        "cutting_speed=100sfm diameter=1/2in",
        "763.9 rev/min",
    ),  # handbook tables: 764
    ("spindle_speed", "cutting_speed=100fpm diameter=1/2in", "763.9 rev/min"),  # the same
    *(  # identity: a feed times the turns in a minute, 0.004 x 764 / 12 ft/min
        ("feed_speed", f"feed=0.004in spindle_speed=764{word}", "0.255 ft/min")
        for word in ("rpm", "RPM", "rev/min", "r/min", "turns/min")
    ),
    ("feed_speed", "feed=0.1mm spindle_speed=10rps", "0.0600 m/min"),
    ("out_of_square_over", "out_of_square=1deg length=100mm", "1.745 mm"),  # pi / 180 of 100
    ("capacity", "bore=70mm stroke=75mm cylinders=4", "1154.54 cm³"),  # a university tutorial sheet
    ("face_reading", "touch_reading=2.315in feeler=0.004in quill=up", "2.3110 in"),  # arithmetic
    (
        "face_reading",
        "touch_reading=2.315in feeler=0.004in quill=1",
        "nothing: the cell would stay blank",
    ),
    ("bore_before_honing", "finished_bore=82.5mm clean_up_stock=0.06mm", "82.440 mm"),  # arithmetic
    (
        "unified_stress_area",
        "major=1/2in pitch=1/13in",
        "0.1419 in²",
    ),  # Shigley, 9th ed., table 8-2
    (
        "metric_stress_area",
        "major=8mm pitch=1.25mm",
        "36.61 mm²",
    ),  # Shigley, 9th ed., table 8-1: 36.6
    ("clamp_load", "torque=25.474N.m nut_factor=20% diameter=8mm", "15.92 kN"),  # 25474 / (0.2 x 8)
    ("tightened_stress", "clamp=1lbf area=1in2", "0.00100 ksi"),  # 1 psi by definition
    (
        "torque_for_clamp",
        "clamp=100lbf nut_factor=1 diameter=12in",
        "100.0 lbf·ft",
    ),  # 100 lbf on a foot
    ("swept_volume", "bore=250mm stroke=375mm", "18407.77 cm³"),  # pi/4 x 25² x 37.5
    (
        "drill_point",
        "diameter=1/2in point_angle=90deg",
        "0.2500 in",
    ),  # half the diameter, by geometry
    # National Physical Laboratory, FAQ on correcting lengths to 20 degC
    (
        "at_reference",
        "length=500.035mm expansion=11.7e-6/°C temperature=23.7degC reference=68degF",
        "500.013 mm",
    ),
    ("mean_height", "corners=9.1in,9.2in corners=9.15in", "9.1500 in"),
    ("out_of_round", "thrust=82.04mm axial=82.00mm", "0.0400 mm"),
    ("next_oversize", "worst_clean_up=82.301mm standard=82mm oversizes=0.25mm,0.5mm", "82.500 mm"),
    (
        "next_oversize",
        "worst_clean_up=83mm standard=82mm oversizes=0.25mm",
        "nothing: the cell would stay blank",
    ),
    ("verdict_at_most", "value=0.041mm high=0.040mm uncertainty=0.002mm", "UNSURE"),
    ("verdict_at_most", "value=0.0020in high=0.040mm uncertainty=0mm", "OUT"),
    ("verdict_at_most", "value= high=0.040mm uncertainty=0mm", "OPEN"),
    ("verdict_of_tick", "tick=done", "OK"),
    ("verdict_of_tick", "tick=", "OPEN"),
    ("words_at", "place=2 lines=tilt,twist", "twist"),
    ("readings_taken", "readings=82.01mm,,82.02mm", "2"),
]


class TestWork:
    @pytest.mark.parametrize(("name", "typed", "gives"), WORKED)
    def test_gives_what_others_print(self, name: str, typed: str, gives: str) -> None:
        assert gives in result(work(name, typed.split(" "))).split(" = ")

    @pytest.mark.parametrize(
        ("typed", "gives"),
        [  # asked in one system, it answers in that first; asked in both, in the usual order
            ("taper top=82.05mm bottom=82.00mm", "0.0500 mm = 0.00197 in"),
            ("taper top=3.2300in bottom=3.2280in", "0.00200 in = 0.0508 mm"),
            ("taper top=3.2300in bottom=82.00mm", "0.00165 in = 0.0420 mm"),
            ("taper top=3230thou bottom=3228thou", "2 thou = 0.00200 in = 0.0508 mm"),
            ("swept_volume bore=250mm stroke=375mm", "18407.77 cm³ = 1123.311 in³"),
            ("swept_volume bore=3in stroke=3in", "21.206 in³ = 347.50 cm³"),
            ("clamp_load torque=40lbf.ft nut_factor=0.2 diameter=3/8in", "6400 lbf = 28.47 kN"),
            ("clamp_load torque=40N.m nut_factor=0.2 diameter=10mm", "20.00 kN = 4496 lbf"),
            ("spindle_speed cutting_speed=30m/min diameter=1/2in", "751.9 rev/min"),
            # a ratio is a ratio, and a share of a whole is said in per cent
            ("compression_ratio swept_volume=400cc clearance_volume=50cc", "9.0000"),
            ("share_of_proof clamp=15kN proof_load=20kN", "75.00 % = 0.7500"),
        ],
    )
    def test_answers_in_the_units_it_was_asked_in(self, typed: str, gives: str) -> None:
        name, *arguments = typed.split()
        assert result(work(name, arguments)) == gives

    @pytest.mark.parametrize(
        ("typed", "said"),
        [
            (
                "misread_share expansion=1e-5 1/degC|part=-274degC|gauge_expansion=1e-5 1/degC"
                "|gauge=20degC|reference=20degC",
                r"^-274degC is colder than anything can be: absolute zero is -273\.15 °C",
            ),
            (
                "misread_share expansion=1e-5 1/degC|part=20degC|gauge_expansion=1e-5 1/degC"
                "|gauge=-460degF|reference=20degC",
                r"^-460degF is colder",
            ),
        ],
    )
    def test_nothing_is_colder_than_absolute_zero(self, typed: str, said: str) -> None:
        name, _, arguments = typed.partition(" ")
        with pytest.raises(BenchError, match=said):
            work(name, arguments.split("|"))

    def test_spells_the_formula_with_the_numbers_in_the_units_typed(self) -> None:
        told = work("drill_chart_thread", ["major=5/16in", "hole=6.9mm", "pitch=1/24in"])
        line = next(line for line in told.splitlines() if line.startswith("  = "))
        assert line == "  = (0.3125-6.9/25.4)/(1.29903810567666*0.0416667)"
        assert eval(line.removeprefix("  = ")) == pytest.approx(0.7546, abs=5e-5)

    @pytest.mark.parametrize("name", sorted(set(ALL) - OVER_ONE_RANGE - BOUNDED))
    def test_every_equation_is_worked_with_its_own_examples_and_spelled_with_numbers(
        self, name: str
    ) -> None:
        group = parameters(ALL[name])[1]
        wanted = [(word, kind) for word, kind in kind_names(ALL[name]).items() if word != "return"]
        told = work(
            name,
            [
                f"{word}={TIGHT.get(word) or spread(kind, place, word == group)}"
                for place, (word, kind) in enumerate(wanted)
            ],
        )
        assert result(told)
        assert "\n  = " in told

    @pytest.mark.parametrize("kind", sorted(set(BENCH_KINDS) - {"Words", "Measure"}))
    def test_every_example_is_of_its_kind(self, kind: str) -> None:
        wanted = kinds.dimension(getattr(kinds, kind))
        assert read_quantity(BENCH_KINDS[kind][1], wanted).number > 0

    @pytest.mark.parametrize(
        ("name", "typed", "said"),
        [
            (
                "drill_chart_thread",
                "major=5/16in",
                r"lacks hole and pitch\. It wants major \(a length\), hole \(a len",
            ),
            (
                "drill_chart_thread",
                "bore=5/16in",
                r'has no argument "bore"\. It wants major .* Write: datumbook work',
            ),
            ("drill_chart_thread", "major=1in major=2in", r"major is given twice\. It wants"),
            ("drill_chart_thread", "5/16in", r'"5/16in" is not argument=quantity\. It wants'),
            (
                "drill_chart_thread",
                "major=1in hole=5N pitch=1mm",
                r'wants hole as a length\. "5N" is a force.*"5 in"',
            ),
            (
                "drill_chart_thread",
                "major=1in hole=5 pitch=1mm",
                r'wants hole as a length\. "5" has no unit.*"5 mm"',
            ),
            (
                "feed_speed",
                "feed=0.1mm spindle_speed=80rad/s",
                r'spindle_speed as a spindle speed\. "80rad/s" .* hides an angle.*write rev/min',
            ),
            (
                "feed_speed",
                "feed=0.1mm/rev spindle_speed=764rpm",
                r'wants feed as a length\. "0\.1mm/rev" .* write mm behind the number',
            ),
            (
                "capacity",
                "bore=70mm stroke=75mm cylinders=50%",
                r'wants cylinders as a count\. "50%" is a percentage.*write "50"',
            ),
            (
                "drill_point",
                "diameter=0.5in point_angle=118%",
                r'wants point_angle as an angle\. "118%" is a percentage.*"118 deg"',
            ),
            (
                "drill_chart_thread",
                "major=5/16 hole=5mm pitch=1mm",
                r'length\. "5/16" has no unit.*"5/16 in" or "5/16 mm"',
            ),
            (
                "drill_chart_thread",
                "major=1in hole=5,1mm pitch=1mm",
                r'hole as a length\. "5,1mm" has a comma',
            ),
            (
                "drill_chart_thread",
                "major=1in hole=5mm pitch=0mm",
                r"cannot be worked out .* divides by nothing",
            ),
            (
                "drill_point",
                "diameter=1in point_angle=118",
                r'point_angle as an angle\. .* "118 deg" or "118 rad"',
            ),
            (
                "pitch_tolerance_2a",
                "major=-1in engagement=1in pitch=1mm",
                r"cannot be .* root of a negative number",
            ),
            ("place_of_rank", "rank=3 urgencies=1,2", r"not so many values in the group"),
            (
                "verdict_at_most",
                "value=1mm high=1N uncertainty=0mm",
                r'wants high as a length\. "1N" is a force',
            ),
            (
                "verdict_at_most",
                "value=1W high=1W uncertainty=0W",
                r"of no kind that an equation here measures",
            ),
            ("drill_charts_thread", "", r"the nearest are drill_chart_thread"),
        ],
    )
    def test_refuses_in_a_sentence_with_what_is_wanted(
        self, name: str, typed: str, said: str
    ) -> None:
        with pytest.raises(BenchError, match=said):
            work(name, typed.split())

    # Unit words are few here: a word that is no unit is asked of the units library, which is slow.
    @settings(max_examples=examples(150), deadline=None)
    @given(st.sampled_from(sorted(ALL)), st.data())
    def test_any_texts_give_a_result_or_a_sentence(self, name: str, data: st.DataObject) -> None:
        number = st.from_regex(r"-?[0-9]{0,3}[./]?[0-9]{0,3}(e-?[0-9]{1,2})?", fullmatch=True)
        units = st.sampled_from(
            ["", "in", "mm", "%", "deg", "N", "lbf.ft", "MPa", "in2", "cc", "degF", "1/degC"]
        )
        text = st.one_of(
            st.builds("{}{}".format, number, units), st.text("=,. 0é\n±½/-", max_size=6)
        )
        wanted = {word: kind for word, kind in kind_names(ALL[name]).items() if word != "return"}
        value = {
            word: st.one_of(st.just(BENCH_KINDS[kind][1]), text) for word, kind in wanted.items()
        }
        typed = [f"{word}={data.draw(value[word])}" for word in wanted]
        typed += data.draw(st.lists(st.text(max_size=5), max_size=1))
        try:
            assert result(work(name, typed))
        except BenchError as refusal:
            if len(str(refusal)) > 700:
                raise


def test_asking_costs_no_spec_model_and_no_units_library() -> None:
    asked = (
        "import sys, datumbook.calculator as one; one.thread_card('M8'); one.work('taper', "
        "['top=1in', 'bottom=1mm'])"
    )
    heavy = (
        "print([name for name in ('pydantic', 'pint', 'xlsxwriter', 'openpyxl') if name in "
        "sys.modules])"
    )
    command, root = [sys.executable, "-c", f"{asked}; {heavy}"], PROJECT
    found = subprocess.run(command, capture_output=True, text=True, check=True, cwd=root)
    assert found.stdout.strip() == "[]"
