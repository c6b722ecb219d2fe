"""Strength grades by size against printed rows and proof loads, and what the tables do not say."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from datumbook.equations import fasteners, threads
from datumbook.standards import table
from datumbook.standards.strength import grades, iron_shear_ratio, strength
from datumbook.standards.threads import Thread, parse_thread


@pytest.mark.parametrize(
    ("grade", "thread", "proof", "yielding", "tensile"),
    # SAE J429 as Shigley and Mischke, 5th ed., p. 341, table it (ksi); ISO 898-1 as Shigley, 9th
    # ed., table 8-11 (MPa)
    [
        ("SAE 2", "3/4-16", 55, 57, 74),
        ("SAE 2", "1-12", 33, 36, 60),
        ("SAE 5", "1/2-13", 85, 92, 120),
        ("SAE 5", "1 1/8-8 UN", 74, 81, 105),
        ("grade 8", "5/16-24", 120, 130, 150),
        ("Gr. 7", "5/16-24", 105, 115, 133),
        ("8.8", "M8", 580, 640, 800),
        ("class 10.9", "M10x1.25", 830, 940, 1040),
        ("12.9", "M14", 970, 1100, 1220),
        ("property class 5.8", "M12", 380, 420, 520),
    ],
)
def test_grades_are_those_printed(
    grade: str, thread: str, proof: int, yielding: int, tensile: int
) -> None:
    found = strength(grade, parse_thread(thread))
    assert found.proof is not None
    assert (found.proof.number, found.yielding.number, found.tensile.number) == (
        proof,
        yielding,
        tensile,
    )
    assert {found.proof.unit, found.tensile.unit} == {"MPa" if thread.startswith("M") else "ksi"}
    assert "Shigley" in found.source or "ISO 898-1" in found.source


def test_the_proof_strength_of_8_8_is_a_named_conflict() -> None:
    # conflict 11: 580 up to M16 by ISO 898-1, 600 in text-books for every size
    found = strength("8.8", parse_thread("M10"))
    assert found.proof is not None
    assert found.proof.number == 580
    assert "text-books give 600 MPa" in found.conflict
    assert strength("10.9", parse_thread("M10")).conflict == ""


@pytest.mark.parametrize(
    ("grade", "thread", "said"),
    [
        (
            "SAE 3",
            "1/4-20",
            '"SAE 3" is no strength grade known here; the table holds SAE 1, SAE 2',
        ),
        ("8.8", "1/4-20", "grades metric threads, and 1/4-20 UNC is none; choose from SAE 1"),
        ("SAE 5", "M8", "grades unified threads, and M8x1.25 is none; choose from 4.6"),
        (
            "SAE 5",
            "1/4 BSW",
            "grades unified threads, and 1/4-20 BSW is none; give its proof strength itself",
        ),
        (
            "SAE 2",
            "13/16-20 UNEF",
            "says nothing of 13/16-20 UNEF: its table holds 1/4 to 3/4 in, 7/8 to 1 1/2 in",
        ),
    ],
)
def test_what_the_tables_do_not_say_is_refused(grade: str, thread: str, said: str) -> None:
    with pytest.raises(LookupError) as refusal:
        strength(grade, parse_thread(thread))
    assert said in str(refusal.value)


def test_tensile_is_over_yield_and_yield_over_proof_in_every_grade() -> None:
    sizes = [parse_thread(name) for name in ("1/4-20", "1-8", "M8", "M14")]
    for grade in grades():
        for thread in sizes:
            try:
                found = strength(grade, thread)
            except LookupError:
                continue
            assert found.yielding.number < found.tensile.number
            if found.proof is not None:
                assert found.proof.number < found.yielding.number


# ISO 898-1, tables of proof loads in kN for classes 8.8, 10.9 and 12.9 (a supplier's reproduction);
# printed to three figures, a little high or low by the last one
PROOF_LOADS_KN = [
    ("M6", 6, 1.0, 11.6, 16.7, 19.5),
    ("M8", 8, 1.25, 21.2, 30.4, 35.5),
    ("M10", 10, 1.5, 33.7, 48.1, 56.3),
    ("M12", 12, 1.75, 48.9, 70, 81.8),
    ("M14", 14, 2.0, 66.7, 95.5, 112),
    ("M16", 16, 2.0, 91, 130, 152),
    ("M18", 18, 2.5, 115, 159, 186),
    ("M20", 20, 2.5, 147, 203, 238),
    ("M22", 22, 2.5, 182, 252, 294),
    ("M24", 24, 3.0, 212, 293, 342),
]
# SAE J429, grades 5 and 8 (a scan of its table), and ASTM A574 (a supplier's reproduction), lbf
PROOF_LOADS_LBF = [
    ("SAE 5", "1/4", 20, 2700),
    ("SAE 8", "1/4", 20, 3800),
    ("SAE 5", "5/16", 18, 4450),
    ("SAE 8", "5/16", 18, 6300),
    ("SAE 5", "3/8", 16, 6600),
    ("SAE 8", "3/8", 16, 9300),
    ("SAE 5", "7/16", 14, 9050),
    ("SAE 8", "7/16", 14, 12800),
    ("SAE 5", "9/16", 12, 15500),
    ("SAE 8", "9/16", 12, 21800),
    ("SAE 5", "5/8", 11, 19200),
    ("SAE 8", "5/8", 11, 27100),
    ("SAE 5", "3/4", 10, 28400),
    ("SAE 8", "3/4", 10, 40100),
    ("SAE 5", "7/8", 9, 39300),
    ("SAE 8", "7/8", 9, 55400),
    ("SAE 5", "9/8", 7, 56500),
    ("SAE 8", "9/8", 7, 91600),
    ("SAE 5", "1/4", 28, 3100),
    ("SAE 8", "1/4", 28, 4350),
    ("SAE 5", "3/8", 24, 7450),
    ("SAE 8", "3/8", 24, 10500),
    ("ASTM A574", "3/8", 16, 10800),
    ("ASTM A574", "7/16", 14, 14900),
    ("ASTM A574", "1/2", 13, 19900),
    ("ASTM A574", "5/8", 11, 30500),
    ("ASTM A574", "3/4", 10, 45100),
]


def of_size(like: str, major: str) -> Thread:
    """A thread of this major diameter, whether or not the tables hold its row."""
    return replace(parse_thread(like), major=Fraction(major), designation=major)


@pytest.mark.parametrize(
    ("name", "major", "pitch", "loads"), [(*row[:3], row[3:]) for row in PROOF_LOADS_KN]
)
def test_proof_loads_are_those_of_iso_898_1(
    name: str, major: float, pitch: float, loads: tuple[float, ...]
) -> None:
    area = threads.metric_stress_area(major, pitch)
    for grade, printed in zip(("8.8", "10.9", "12.9"), loads, strict=True):
        proof = strength(grade, of_size("M14", str(major))).proof
        assert proof is not None
        found = fasteners.proof_load(proof.to("MPa"), area) / 1000
        assert found == pytest.approx(printed, rel=0.007), (name, grade)


def test_class_8_8_is_proved_higher_from_m18_on() -> None:
    below, over = (strength("8.8", of_size("M14", size)).proof for size in ("16", "18"))
    assert below is not None
    assert over is not None
    assert (below.number, over.number) == (580, 600)


@pytest.mark.parametrize(("grade", "major", "per_inch", "printed"), PROOF_LOADS_LBF)
def test_proof_loads_are_those_of_the_inch_tables(
    grade: str, major: str, per_inch: int, printed: float
) -> None:
    proof = strength(grade, of_size("1/2-13", major)).proof
    assert proof is not None
    area = threads.unified_stress_area(float(Fraction(major)) * 25.4, 25.4 / per_inch)
    found = fasteners.proof_load(proof.to("MPa"), area) / 4.4482216152605
    assert found == pytest.approx(printed, rel=0.006)


def test_a_stud_of_b7_has_a_yield_and_a_tensile_strength_and_no_proof_load() -> None:
    found = strength("A193 B7", parse_thread("1/2-13"))
    assert (found.proof, found.yielding.number, found.tensile.number) == (None, 105, 125)
    assert "from memory" in found.source
    assert strength("b7", parse_thread("1/2-13")) == found


def test_a_thread_in_grey_iron_is_taken_weaker_than_rupture_in_torsion() -> None:
    # Shigley, 9th ed., table A-24: 1.18 in class 20 to 1.42 in class 60
    ratio, source, conflict = iron_shear_ratio()
    tabled = {
        row["class"]: float(row["shear"]) / float(row["tensile"])
        for row in table("strength")["torsion_of_iron"][0]["rows"]
    }
    assert {name: round(one, 2) for name, one in tabled.items()} == {
        "20": 1.18,
        "25": 1.23,
        "30": 1.29,
        "35": 1.33,
        "40": 1.34,
        "50": 1.39,
        "60": 1.42,
    }
    assert float(ratio) < min(tabled.values())
    assert "from memory" in source
    assert "1.18" in conflict
    assert "1.42" in conflict
