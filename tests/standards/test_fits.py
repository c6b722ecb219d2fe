"""Fits by code against two independent tables, a text-book, and the rule of bands."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import isofits
import pressfit
import pytest

from datumbook.standards import table
from datumbook.standards.fits import limits, parse_fit, tighter_than

SIZES = (
    1,
    3,
    6,
    10,
    18,
    19,
    24,
    30,
    40,
    45,
    50,
    65,
    75,
    80,
    81,
    85,
    90,
    100,
    120,
    140,
    180,
    200,
    250,
    315,
    355,
    400,
    450,
    500,
)
LETTERS = ("c", "d", "e", "f", "g", "h", "js", "k", "m", "n", "p", "s", "u")
GRADES = range(5, 12)
ISOFITS_SHAFTS = {
    "d": (6,),
    "e": (6,),
    "f": (5, 6, 7),
    "g": (5, 6, 7),
    "h": (5, 6, 7, 8, 9, 10, 11),
    "j": (5, 6, 7),
    "js": (5, 6, 7),
    "k": (5, 6, 7),
    "m": (5, 6, 7),
    "n": (5, 6, 7),
    "p": (5, 6),
    "r": (6,),
}
ISOFITS_HOLES = {
    "E": (6, 7, 11),
    "F": (6, 7, 8),
    "G": (6, 7, 8),
    "H": (6, 7, 8, 9, 10, 11),
    "JS": (6, 7, 8),
    "J": (6, 7, 8),
    "K": (6, 7, 8),
    "M": (6, 7, 8),
    "N": (6, 7, 8),
    "P": (6, 7, 8),
    "R": (6, 7),
}
# Three slips of isofits 1.0, told by its own neighbours: f6 there is 5 wide where its h6 is 25, E7
# 60 where H7 is 57, and K6 8 where H6 is 9.
MISPRINTS = {("f6", 140), ("f6", 180), ("E7", 355), ("E7", 400), ("K6", 10)}


def micrometres(code: str, size: float) -> tuple[Fraction, Fraction]:
    found = limits(code, size)
    return found.lower * 1000, found.upper * 1000


@pytest.mark.parametrize("size", SIZES)
def test_every_letter_and_grade_is_what_pressfit_carries(size: int) -> None:
    for letter, grade in product(LETTERS, GRADES):
        found, wanted = (
            parse_fit(f"{size} H7/{letter}{grade}"),
            pressfit.fit(f"{size} H7/{letter}{grade}"),
        )
        assert (found.shaft.lower * 1000, found.shaft.upper * 1000) == (
            wanted.shaft_ei_um,
            wanted.shaft_es_um,
        )
        assert (found.hole.smallest_mm, found.hole.largest_mm) == wanted.hole_limits_mm
        clearances = found.least_clearance_mm * 1000, found.greatest_clearance_mm * 1000
        assert clearances == pytest.approx(wanted.clearance_um, abs=1e-6)
        assert found.kind == wanted.kind


@pytest.mark.parametrize("grade", GRADES)
def test_every_grade_of_hole_is_what_pressfit_carries(grade: int) -> None:
    wanted = [pressfit.fit(f"{size} H{grade}/h6").hole_es_um for size in SIZES]
    assert [micrometres(f"H{grade}", size) for size in SIZES] == [(0, width) for width in wanted]


def isofits_slips(
    body: str, letters: dict[str, tuple[int, ...]]
) -> tuple[int, set[tuple[str, int]]]:
    codes = [f"{letter}{grade}" for letter, grades in letters.items() for grade in grades]
    pairs = [(code, size) for code in codes for size in SIZES if 3 < size <= 400]
    wrong = {
        (code, size)
        for code, size in pairs
        if tuple(reversed(micrometres(code, size))) != isofits.isotol(body, size, code, "both")
    }
    return len(pairs), wrong


@pytest.mark.parametrize(
    ("body", "letters", "pairs"), [("shaft", ISOFITS_SHAFTS, 792), ("hole", ISOFITS_HOLES, 840)]
)
def test_every_code_is_what_isofits_carries_but_for_its_misprints(
    body: str, letters: dict[str, tuple[int, ...]], pairs: int
) -> None:
    count, wrong = isofits_slips(body, letters)
    assert count == pairs
    assert wrong == {
        (code, size) for code, size in MISPRINTS if code[0].isupper() == (body == "hole")
    }


@pytest.mark.parametrize("misprint", sorted(MISPRINTS))
def test_what_is_called_a_misprint_disagrees_with_isofits_own_tolerance_of_that_grade(
    misprint: tuple[str, int],
) -> None:
    code, size = misprint
    body, same_grade = ("hole", f"H{code[1:]}") if code[0].isupper() else ("shaft", f"h{code[1:]}")
    upper, lower = isofits.isotol(body, size, code, "both")
    widest, nought = isofits.isotol(body, size, same_grade, "both")
    assert upper - lower != widest - nought


@pytest.mark.parametrize("size", [size for size in SIZES if 3 < size <= 400])
def test_shaft_r_lies_midway_between_p_and_s(size: int) -> None:
    # ISO 286-1, from memory: r is the geometric mean of p and s before either is rounded; one
    # package alone carries it
    p, r, s = (float(micrometres(f"{letter}6", size)[0]) for letter in "prs")
    assert r == pytest.approx((p * s) ** 0.5, abs=1.2)


# A run of pressfit 0.1.0, kept as numbers: fit, hole mm, shaft mm, clearance micrometres
FITS = [
    ("25 H7/g6", 25.000, 25.021, 24.980, 24.993, 7, 41),
    ("25 H7/p6", 25.000, 25.021, 25.022, 25.035, -35, -1),
    ("50 H7/k6", 50.000, 50.025, 50.002, 50.018, -18, 23),
    ("50 H7/p6", 50.000, 50.025, 50.026, 50.042, -42, -1),
    ("50 H7/s6", 50.000, 50.025, 50.043, 50.059, -59, -18),
    ("50 H8/f7", 50.000, 50.039, 49.950, 49.975, 25, 89),  # also Wikipedia, Engineering fit
    ("75 H7/p6", 75.000, 75.030, 75.032, 75.051, -51, -2),
    ("75 H7/s6", 75.000, 75.030, 75.059, 75.078, -78, -29),
    ("80 H7/p6", 80.000, 80.030, 80.032, 80.051, -51, -2),
    ("85 H7/p6", 85.000, 85.035, 85.037, 85.059, -59, -2),
    ("85 H7/s6", 85.000, 85.035, 85.071, 85.093, -93, -36),
    ("90 H7/u6", 90.000, 90.035, 90.124, 90.146, -146, -89),
    ("100 H7/g6", 100.000, 100.035, 99.966, 99.988, 12, 69),
    ("100 H7/s6", 100.000, 100.035, 100.071, 100.093, -93, -36),
    (
        "34 H11/c11",
        34.000,
        34.160,
        33.720,
        33.880,
        120,
        440,
    ),  # Shigley, 9th ed., example 7-7 (p. 423)
]


@pytest.mark.parametrize(
    ("text", "hole", "hole_to", "shaft", "shaft_to", "least", "greatest"), FITS
)
def test_limits_and_clearances_by_code(
    text: str, hole: float, hole_to: float, shaft: float, shaft_to: float, least: int, greatest: int
) -> None:
    fit = parse_fit(text)
    assert (fit.hole.smallest_mm, fit.hole.largest_mm) == (hole, hole_to)
    assert (fit.shaft.smallest_mm, fit.shaft.largest_mm) == (shaft, shaft_to)
    assert (fit.least_clearance_mm, fit.greatest_clearance_mm) == (least / 1000, greatest / 1000)
    assert fit.designation == text


@pytest.mark.parametrize(
    ("size", "tolerance"),
    [(50, 25), (50.001, 30), (80, 30), (80.001, 35), (3, 10), (0.1, 10), (500, 63)],
)
def test_a_band_ends_with_its_own_end(size: float, tolerance: int) -> None:
    assert micrometres("H7", size) == (0, tolerance)


@pytest.mark.parametrize(
    ("text", "nominal"),
    [
        ("85H7/s6", 85),
        ("85 mm H7 / s6", 85),
        ("⌀85 H7/s6", 85),
        ("Ø 85.5 H7/js6", 85.5),
        ("3 1/8 in H7/s6", 79.375),
    ],
)
def test_ways_of_writing_a_fit(text: str, nominal: float) -> None:
    assert float(parse_fit(text).nominal) == nominal


@pytest.mark.parametrize(
    ("fit", "tighter"),
    [
        ("85 H7/s6", False),
        ("85 H8/s6", False),
        ("85 H7/r6", False),
        ("85 H7/s5", False),
        ("85 H7/g6", False),
        ("85 H7/s7", True),
        ("85 H7/u6", True),
        ("85 JS7/s6", True),
        ("85 G7/s6", False),
    ],
)
def test_what_is_tighter_than_s6_is_too_tight_for_cast_iron(fit: str, tighter: bool) -> None:
    # Shigley, 9th ed., table 7-9, note on H7/s6: the tightest fit usable with cast iron
    assert tighter_than(parse_fit(fit), "s6") is tighter


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("H7/s6", "is not a fit known here; write a fit like 85 H7/s6"),
        ("85,5 H7/s6", "has a comma in its number"),
        ("85 H7", "write a fit like 85 H7/s6"),
        ("85 s6/H7", "does not name a hole and then a shaft"),
        ("85 h6/s6", "does not name a hole and then a shaft"),
        (
            "85 H7/v6",
            '"v6" is not in the table: of the letters of a shaft it holds c, d, e, f, g, h, j, js',
        ),
        (
            "85 U7/h6",
            '"U7" is not in the table: of the letters of a hole it holds E, F, G, H, J, JS, K, M',
        ),
        ("85 K9/h6", '"K9" asks for grade 9; of this letter the table holds grades 6 to 8'),
        ("85 P5/h6", '"P5" asks for grade 5; of this letter the table holds grades 6 to 11'),
        ("85 J9/h6", '"J9" asks for grade 9; of this letter the table holds grades 6 to 8'),
        ("85 H7/j8", '"j8" asks for grade 8; of this letter the table holds grades 5 to 7'),
        ("3 K7/h6", "K7 at 3 mm is not in the table: it holds sizes over 3 up to 500 mm"),
        ("24 H7/t6", "t6 at 24 mm is not in the table: it holds sizes over 24 up to 250 mm"),
        ("85 H4/s6", '"H4" asks for grade 4; the table holds grades 5 to 11'),
        ("501 H7/h6", "H7 at 501 mm is not in the table: it holds sizes over 0 up to 500 mm"),
        ("0 H7/h6", "H7 at 0 mm is not in the table"),
        ("2 H7/r6", "r6 at 2 mm is not in the table: it holds sizes over 3 up to 400 mm"),
        ("85 Hs7/s6", '"Hs7" is not a code of tolerance'),
    ],
)
def test_what_is_not_in_the_table_is_refused_with_what_is(text: str, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        parse_fit(text)


# Upper deviations of grade 7 in micrometres at a size of each band: K to R as printed tables of
# holes have them, P, S and T worked by hand from printed deviations of shafts.
SIXES = {
    "J7": [6, 8, 10, 12, 14, 18, 22, 26, 30],
    "K7": [3, 5, 6, 6, 7, 9, 10, 12, 13],
    "M7": [0, 0, 0, 0, 0, 0, 0, 0, 0],
    "N7": [-4, -4, -5, -7, -8, -9, -10, -12, -14],
    "P7": [-8, -9, -11, -14, -17, -21, -24, -28, -33],
}
SPLIT = {
    "R7": (
        [65, 80, 100, 120, 140, 160, 180, 200, 225, 250],
        [-30, -32, -38, -41, -48, -50, -53, -60, -63, -67],
    ),
    "S7": (
        [65, 80, 100, 120, 140, 160, 180, 200, 225, 250],
        [-42, -48, -58, -66, -77, -85, -93, -105, -113, -123],
    ),
    "T7": (
        [30, 40, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250],
        [-33, -39, -45, -55, -64, -78, -91, -107, -119, -131, -149, -163, -179],
    ),
}
UNDER_50 = {"R7": [-11, -13, -16, -20, -25], "S7": [-15, -17, -21, -27, -34]}
BANDS = [6, 10, 18, 30, 50, 80, 120, 180, 250]


@pytest.mark.parametrize(
    ("code", "sizes", "upper"),
    [
        *((code, BANDS, upper) for code, upper in SIXES.items()),
        *((code, sizes, upper) for code, (sizes, upper) in SPLIT.items()),
        *((code, BANDS[:5], upper) for code, upper in UNDER_50.items()),
    ],
)
def test_holes_of_grade_7_are_those_printed(code: str, sizes: list[int], upper: list[int]) -> None:
    assert [micrometres(code, size)[1] for size in sizes] == upper
    widths = [micrometres("H7", size)[1] for size in sizes]
    assert [micrometres(code, size)[0] for size in sizes] == [
        top - width for top, width in zip(upper, widths, strict=True)
    ]


def test_a_printed_example_of_a_hole_of_k_and_of_r() -> None:
    # over 80 to 100 mm: K7 +10 -25, R7 -38 -73
    assert (micrometres("K7", 90), micrometres("R7", 90)) == ((-25, 10), (-73, -38))


@pytest.mark.parametrize("size", [size for size in SIZES if 3 < size <= 250])
@pytest.mark.parametrize("letter", ["k", "n", "p", "r", "s"])
def test_a_fit_of_shaft_basis_is_as_tight_as_its_like_of_hole_basis(letter: str, size: int) -> None:
    # ISO 286-1: what the holes' deviations are moved for, H7/p6 is as tight as P7/h6
    hole, shaft = parse_fit(f"{size} H7/{letter}6"), parse_fit(f"{size} {letter.upper()}7/h6")
    assert hole.least_clearance_mm == shaft.least_clearance_mm
    assert hole.greatest_clearance_mm == shaft.greatest_clearance_mm


def test_every_row_has_a_value_for_each_of_its_bands_in_order() -> None:
    data = table("iso286")
    bands = data["tolerance"]["up_to"]
    grades = [(bands, values) for grade, values in data["tolerance"].items() if grade != "up_to"]
    letters = [
        (row.get("up_to", bands), values)
        for row in (*data["shaft"].values(), data["hole"]["J"])
        for deviations in (row.get("upper") or row["lower"],)
        for values in (deviations.values() if isinstance(deviations, dict) else [deviations])
    ]
    for up_to, signed in grades + letters:
        values = [abs(value) for value in signed]
        assert len(up_to) == len(values)
        assert up_to == sorted(set(up_to))
        assert values == sorted(values)
