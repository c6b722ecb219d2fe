"""Where charts, tables and shops contradict each other about holes: each conflict is raised in
words, by one's own tools.

Source: the limits and sizes as printed, named beside each case; the numbers follow the list of
conflicts the trade knows.
"""

from __future__ import annotations

import pytest

from clean_readings import shipped_layout
from datumbook.calculator import thread_card, work
from datumbook.spec import SpecFaults, read_spec
from project import full_form

TEXT = full_form("orrindale_qp4")


def refused(thread: str, drill: str) -> str:
    """What the card of a thread says of a drill that charts name for it."""
    lines = [
        line for line in thread_card(thread).splitlines() if line.startswith(f"  {drill} makes")
    ]
    return lines[0] if lines else ""


@pytest.mark.parametrize(
    ("thread", "drill", "said"),
    [  # class 2B as printed, n/64 and the letter drills of ASME B94.11M, each with its oversize
        ("5/16-18", "17/64", "0.0046 in (0.117 mm) over the largest allowed"),
        ("9/16-18", "33/64", "over the largest allowed, 0.515 in"),
        ("7/16-20", "25/64", "0.0002 in (0.006 mm) over the largest allowed, 0.395 in"),
        ("1/2-20", "29/64", "0.0008 in (0.021 mm) over the largest allowed, 0.457 in"),
        *(
            (thread, drill, "over the largest allowed")
            for thread, drill in (  # the 50 % columns of charts
                ("1/4-20", "7/32"),
                ("5/16-18", "J"),
                ("5/16-24", "9/32"),
                ("3/8-16", "Q"),
                ("3/8-24", "S"),
                ("7/16-14", "25/64"),
                ("7/16-20", "13/32"),
                ("1/2-20", "15/32"),
            )
        ),
    ],
)
def test_a_drill_of_the_charts_outside_its_class_is_named_with_how_far(
    thread: str, drill: str, said: str
) -> None:
    assert said in refused(thread, drill)


@pytest.mark.parametrize(
    ("thread", "drill"),
    [
        ("5/16-24", "17/64"),  # charts list it for both 5/16 threads
        ("3/8-24", "21/64"),
        ("7/16-14", "23/64"),
        ("1/4-28", "#3"),
        ("5/16-24", "I"),
        ("9/16-18", "12.8 mm"),
    ],
)
def test_a_drill_inside_is_not_cried_down(thread: str, drill: str) -> None:
    assert refused(thread, drill) == ""
    row = next(line for line in thread_card(thread).splitlines() if line.startswith(f"  {drill} "))
    assert row.endswith(("inside", "inside on average"))


def test_the_two_percentages_are_named_and_never_mixed() -> None:
    card = thread_card("1/4-20")
    assert "75 % in a chart is 90 % of the basic thread" in card
    said = "\n".join(text.words for text in shipped_layout().plans["Threads"].texts)
    assert "75 by the first is 90 by the second" in said


@pytest.mark.parametrize(
    ("old", "new", "code", "said"),
    [  # what is no relief, no countersink, no thread, no floor
        ('diameter = "15/32 in"', 'diameter = "7/16 in"', "counterbore-too-small", "7/16-14 UNC"),
        ('diameter = "8.5 mm"', 'diameter = "8 mm"', "counterbore-too-small", "M8x1.25"),
        (
            'drill = "6.8 mm"',
            'drill = "7.2 mm"',
            "drill-leaves-no-thread",
            "pitch diameter of M8x1.25",
        ),
        (
            'thread_depth = "0.625 in"',
            'thread_depth = "1.062 in"',
            "thread-beyond-floor",
            "leaves no floor",
        ),
    ],
)
def test_a_size_that_contradicts_its_thread_is_a_fault_of_the_spec(
    old: str, new: str, code: str, said: str
) -> None:
    assert TEXT.count(old) == 1
    with pytest.raises(SpecFaults) as raised:
        read_spec(TEXT.replace(old, new), "x.toml")
    (fault,) = raised.value.faults
    assert fault.code == code
    assert said in fault.said


@pytest.mark.parametrize(
    ("thread", "other", "said"),
    [  # same pitch, another angle; or nearly the same pitch
        ("5/16-18 UNC", "5/16-18 BSW", "55° against 60°"),
        ("1/4-28", "1/4-26 BSF", "other pitch"),
        ("1/4-28", "1/4-26 BSC", "other pitch"),
        ("M6", "0 BA", "47.5° against 60°"),
        ("1/8 NPT", "G1/8", "55° against 60°, one taper, the other parallel"),
        ("1/2 NPT", "R1/2", "same pitch, 55° against 60°"),
    ],
)
def test_a_thread_that_is_mistaken_for_another_is_told_from_it(
    thread: str, other: str, said: str
) -> None:
    line = next(
        line for line in thread_card(thread).splitlines() if line.startswith(f"  {other}: ")
    )
    assert said in line


@pytest.mark.parametrize(
    ("thread", "standard", "chart"),
    [
        ("M12", "10.2 mm inside", "10.3 mm inside"),
        ("M14", "12.0 mm inside", "12.1 mm above"),
        ("M10x1.25", "8.8 mm above", "8.7 mm inside"),
    ],
)
def test_metric_charts_that_differ_are_named_with_their_place(
    thread: str, standard: str, chart: str
) -> None:
    line = next(
        line for line in thread_card(thread).splitlines() if line.startswith("  Charts differ")
    )
    assert standard in line
    assert chart in line
    named = thread_card(thread).split("Drills that charts name\n")[1].splitlines()[0]
    assert named.startswith(f"  {standard.rpartition(' ')[0]}, ")


@pytest.mark.parametrize(
    "said",
    [
        "Grade 8.8: text-books give 600 MPa of proof for every size; ISO 898-1 has 580 up to M16",
        "Stress areas are by formula; printed tables differ from it by up to 0.0002 in²",
        "rules of thumb say 1.0 to 1.5 diameters, FED-STD 16 with soft iron about 2.6",
    ],
)
def test_strengths_areas_and_engagements_on_which_sources_disagree_are_told(said: str) -> None:
    assert said in "\n".join(text.words for text in shipped_layout().plans["Threads"].texts)


@pytest.mark.parametrize(
    ("name", "arguments", "figures"),
    [  # suppliers' tables, Shigley table 8-15, NSTS 08307, Machinery's Handbook, VDI 2230, EN 1561
        ("clamp_load", "torque=42lbf.ft nut_factor=0.2 diameter=7/16in", ("0.20", "0.30")),
        ("clamp_load", "torque=42lbf.ft nut_factor=0.2 diameter=7/16in", ("0.17 to 0.35",)),
        ("greatest_clamp", "clamp=20kN scatter=0.25", ("35 %", "29 %", "17 %")),
        ("shear_of_iron", "tensile_strength=26ksi shear_ratio=1.1", ("1.15", "1.42")),
    ],
)
def test_a_figure_that_sources_disagree_on_is_told_beside_what_is_worked_with_it(
    name: str, arguments: str, figures: tuple[str, ...]
) -> None:
    told = work(name, arguments.split()).partition("sources disagree")[2]
    assert all(one in told for one in figures)


def test_nothing_is_told_of_a_figure_that_nobody_disputes() -> None:
    assert "disagree" not in work("proof_load", ["proof_strength=580MPa", "area=36.61mm2"])
