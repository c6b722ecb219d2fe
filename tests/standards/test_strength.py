"""Strength grades by size against printed rows, nut factors, and what the tables do not say."""

from __future__ import annotations

from fractions import Fraction

import pytest

from datumbook.standards.strength import clamp_scatter, friction, grades, strength
from datumbook.standards.threads import parse_thread


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
            assert found.proof.number < found.yielding.number < found.tensile.number


@pytest.mark.parametrize(
    ("surface", "factor"),
    [("black", "0.30"), ("zinc", "0.20"), ("Lubricated", "0.18"), ("cadmium", "0.16")],
)
def test_nut_factors_are_those_of_shigley_table_8_15(surface: str, factor: str) -> None:
    assert friction(surface).nut_factor == Fraction(factor)
    assert "table 8-15" in friction(surface).source


def test_an_unknown_surface_names_the_known_ones() -> None:
    with pytest.raises(
        LookupError, match="the table holds black, zinc, lubricated, cadmium, dry, oiled"
    ):
        friction("painted")


def test_the_scatter_is_two_standard_deviations_of_the_bolts_it_cites() -> None:
    share, source = clamp_scatter()
    assert float(share) == pytest.approx(2 * 2.88 / 34.18, abs=0.005)
    assert "table 8-14" in source
