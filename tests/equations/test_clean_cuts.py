"""The cut that cleans a face: worked figures, and faces of many points under a plane brought down.

Sources: geometry; the heights are invented. What is read of a face, its corners and the gaps under
a straight-edge, is taken off its points; whether a cut cleans it the points say.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from datumbook.equations import clean_cuts, faces, heights
from engines import Results
from faces_cut import CUTS, NAMES, POINTS, Corners, above, after, bottoms, decks, fitted, metal
from two_roads import Work, differences
from witnesses import witness

LINES = list(combinations(range(4), 2))  # the six lines of the straight-edge, between NAMES
EDGES = ["front", "left", "left_diagonal", "right_diagonal", "right", "rear"]  # as LINES
ASKING = ["left", "right", "left_diagonal", "right_diagonal", "front"]
SAID = {
    "front": "hollow across the front end",
    "left": "hollow along the left edge",
    "left_diagonal": "hollow, front left to rear right",
    "right_diagonal": "hollow, front right to rear left",
    "right": "hollow along the right edge",
    "rear": "hollow across the rear end",
}

gaps = st.lists(st.floats(0.0, 0.08), min_size=6, max_size=6)
lies = st.lists(
    st.sampled_from(["", clean_cuts.RESTS_ON_ENDS, clean_cuts.ROCKS]), min_size=6, max_size=6
)


def edges(
    corners: Corners, parallel_to: str, opposite: Corners, gaps: Corners, lies: Sequence[str]
) -> list[float]:
    stand = above(corners, parallel_to, opposite)
    return [
        clean_cuts.under_edge(stand[one], stand[other], gap, edge)
        for (one, other), gap, edge in zip(LINES, gaps, lies, strict=True)
    ]


def test_under_edge_counts_a_hollow_and_no_crown_and_the_unknown_as_a_hollow() -> None:
    assert clean_cuts.under_edge(220.00, 219.99, 0.03, clean_cuts.RESTS_ON_ENDS) == pytest.approx(
        219.96
    )
    assert clean_cuts.under_edge(220.00, 219.99, 0.03, "") == pytest.approx(219.96)
    assert clean_cuts.under_edge(220.00, 219.99, 0.03, clean_cuts.ROCKS) == pytest.approx(219.99)


@witness(clean_cuts.least_cut, clean_cuts.under_edge, by="coordinates")
@given(decks, bottoms, gaps, lies, st.sampled_from([*CUTS, faces.NOT_CUT]))
def test_least_cut_brings_the_plane_below_every_corner_and_every_hollow_and_no_less_does(
    deck: list[float], bottom: list[float], gaps: list[float], lies: list[str], parallel_to: str
) -> None:
    stand = above(deck, parallel_to, bottom)
    under = edges(deck, parallel_to, bottom, gaps, lies)
    least = clean_cuts.least_cut(heights.lowest_corner(*stand), *under)
    assert least >= 0
    found = after(deck, parallel_to, least, bottom)
    if parallel_to == faces.NOT_CUT:
        hollows = [gap for gap, edge in zip(gaps, lies, strict=True) if edge != clean_cuts.ROCKS]
        assert least == max(hollows, default=0), "as it is, it may be hollow by so much"
        return
    # every point of every line, at every depth that its gap allows
    room = []
    for (one, other), gap, edge in zip(LINES, gaps, lies, strict=True):
        for share in np.linspace(0, 1, 21):
            face = deck[one] + share * (deck[other] - deck[one])
            plane = found[one] + share * (found[other] - found[one])
            room.append(face - (0 if edge == clean_cuts.ROCKS else gap) - plane)
    assert min(room) >= -1e-9
    assert min(room) == pytest.approx(0, abs=1e-9), "any less leaves a place it may not clean"


@pytest.mark.parametrize("parallel_to", CUTS)
def test_a_face_without_hollows_asks_for_nothing_off_its_lowest_corner_twisted_or_not(
    parallel_to: str,
) -> None:
    deck, bottom = [220.00, 219.97, 219.97, 220.00], [80.0] * 4
    under = edges(deck, parallel_to, bottom, [0.0] * 6, [""] * 6)
    lowest = heights.lowest_corner(*above(deck, parallel_to, bottom))
    assert clean_cuts.least_cut(lowest, *under) == pytest.approx(0, abs=1e-9)


# a face of many points, at shares of its length and its width


@dataclass(frozen=True)
class Bowl:
    """A flat deck, tilted along and across, with a round hollow: how deep, where, and how wide."""

    deep: float
    tilt: tuple[float, float] = (0.0, 0.0)
    middle: tuple[float, float] = (0.5, 0.5)
    radius: float = 0.5

    def height(self, along: np.ndarray, across: np.ndarray) -> np.ndarray:
        out = np.hypot(along - self.middle[0], across - self.middle[1]) / self.radius
        hollow = self.deep * np.maximum(0, 1 - out**2)
        return np.asarray(220.0 + self.tilt[0] * along + self.tilt[1] * across - hollow)

    def under_the_cut(self) -> float:
        """How far its lowest point stands over the plane of the least cut along the crank line."""
        corners = [(0.0, 0.0), (0.0, 1.0), (1.0, 0.0), (1.0, 1.0)]  # as NAMES
        deck = [float(self.height(*map(np.array, one))) for one in corners]
        gaps = []
        for one, other in LINES:
            line = self.height(*np.linspace(corners[one], corners[other], 201).T)
            gaps.append(float((np.linspace(line[0], line[-1], 201) - line).max()))
        lowest, highest = min(deck), max(deck)
        under = edges(deck, faces.ALONG_AXIS, deck, gaps, [clean_cuts.RESTS_ON_ENDS] * 6)
        least = clean_cuts.least_cut(lowest, *under)
        plane = highest - clean_cuts.infeed_that_cleans(least, highest, lowest)
        return float(self.height(*np.meshgrid(*[np.linspace(0, 1, 101)] * 2)).min() - plane)


@witness(clean_cuts.infeed_that_cleans, by="coordinates")
@given(st.floats(0, 0.05), st.tuples(*[st.floats(-0.1, 0.1)] * 2))
def test_infeed_that_cleans_goes_below_every_point_of_a_bowl(
    deep: float, tilt: tuple[float, float]
) -> None:
    assert Bowl(deep, tilt).under_the_cut() >= -1e-9
    assert Bowl(deep).under_the_cut() == pytest.approx(0, abs=1e-9), "and no farther"


def test_a_hollow_that_no_line_crosses_is_not_seen() -> None:
    beside = Bowl(0.05, middle=(0.5, 0.2), radius=0.15)
    assert beside.under_the_cut() == pytest.approx(-0.05, abs=1e-6)


def test_least_cut_without_any_line_is_none() -> None:
    assert clean_cuts.least_cut(219.99) == 0


@given(decks, st.lists(st.floats(-0.0076, 0.0076), min_size=4, max_size=4))
def test_cut_with_margin_cleans_whatever_the_gauge_was_off_by(
    deck: list[float], errors: list[float]
) -> None:
    # a flat deck, a cut along the crank line, a gauge of +-0.0003 in (0.0076 mm)
    read = [one + error for one, error in zip(fitted(deck), errors, strict=True)]
    under = edges(read, faces.ALONG_AXIS, [80.0] * 4, [0.0] * 6, [""] * 6)
    cut = clean_cuts.cut_with_margin(
        clean_cuts.least_cut(heights.lowest_corner(*read), *under), 0.0076
    )
    assert after(read, faces.ALONG_AXIS, cut)[0] <= min(fitted(deck)) + 1e-9


def test_without_the_margin_a_flat_deck_often_does_not_clean() -> None:
    random = np.random.default_rng(4000)
    cleaned = 0
    for _ in range(4000):
        slopes = random.normal(0, 1e-4, 2)
        deck = 220 + POINTS @ slopes
        read = [float(one) for one in deck + random.uniform(-0.0076, 0.0076, 4)]
        cleaned += after(read, faces.ALONG_AXIS, 0.0)[0] <= deck.min()
    assert 0.5 < cleaned / 4000 < 0.75  # half where one corner lies low by itself


@given(metal, metal)
def test_hollow_left_and_the_cut_make_up_the_least_cut(least: float, cut: float) -> None:
    assert clean_cuts.hollow_left(least, cut) + min(cut, least) == pytest.approx(least)


def test_as_set_up_and_as_set_up_by_itself_take_the_figure_of_what_is_chosen() -> None:
    figures = {"along_axis": 0.06, "along_itself": 0.02}
    for words, found in (
        (faces.ALONG_AXIS, 0.06),
        (faces.ALONG_ITSELF, 0.02),
        (faces.NOT_CUT, 0.02),
        ("", None),
    ):
        assert clean_cuts.as_set_up_by_itself(words, **figures) == found
        assert clean_cuts.as_set_up(words, **figures, along_opposite=0.03) == found
    assert clean_cuts.as_set_up(faces.ALONG_OPPOSITE, **figures, along_opposite=0.03) == 0.03
    assert clean_cuts.as_set_up_by_itself(faces.ALONG_OPPOSITE, **figures) is None


@given(decks)
def test_corner_at_names_the_first_corner_of_a_height(deck: list[float]) -> None:
    for height in (min(deck), max(deck)):
        named = NAMES.index(clean_cuts.corner_at(height, *deck[:3]))
        assert deck[named] == pytest.approx(height, abs=1e-8)
        assert all(abs(one - height) > 1e-11 for one in deck[:named])


@pytest.mark.parametrize("line", range(6))
def test_asked_by_names_the_line_whose_hollow_is_deepest(line: int) -> None:
    deck, gaps = [220.0] * 4, [0.01] * 6
    gaps[line] = 0.03
    lowest = heights.lowest_corner(*deck)
    under = dict(zip(EDGES, edges(deck, faces.ALONG_AXIS, [80.0] * 4, gaps, [""] * 6), strict=True))
    found = clean_cuts.asked_by(
        lowest, clean_cuts.least_cut(lowest, *under.values()), *(under[one] for one in ASKING)
    )
    assert found == SAID[EDGES[line]]
    assert clean_cuts.asked_by(lowest, 0.0, *[lowest] * 5) == "lowest corner"


# --- both roads


WORKS: list[Work] = [
    *(
        (
            clean_cuts.under_edge,
            {"above_base": 220.0, "other_above_base": low, "gap": 0.03, "edge_lies": words},
        )
        for low in (219.99, 220.01)
        for words in (clean_cuts.RESTS_ON_ENDS, clean_cuts.ROCKS, None)
    ),
    (clean_cuts.least_cut, {"lowest_above_base": 219.99, "under_edges": [219.96, 219.98]}),
    (clean_cuts.least_cut, {"lowest_above_base": 219.99, "under_edges": [220.0, None]}),
    (clean_cuts.cut_with_margin, {"least_cut": 0.03, "uncertainty": 0.006}),
    (
        clean_cuts.infeed_that_cleans,
        {"least_cut": 0.03, "highest_above_base": 220.03, "lowest_above_base": 219.99},
    ),
    (clean_cuts.hollow_left, {"cut_with_margin": 0.03, "cut_taken": 0.02}),
    (clean_cuts.hollow_left, {"cut_with_margin": 0.03, "cut_taken": 0.05}),
    *(
        (equation, {"parallel_to": words, "cut_taken": cut, "least_cut": 0.030, "suggested": 0.036})
        for equation in (clean_cuts.whether_clean, clean_cuts.whether_corners_clean)
        for words in (faces.ALONG_AXIS, faces.NOT_CUT)
        for cut in (0.036, 0.030, 0.020)
    ),
    *(
        (clean_cuts.crown_under_edge, {"gap": 0.03, "edge_lies": words})
        for words in (clean_cuts.RESTS_ON_ENDS, clean_cuts.ROCKS, None)
    ),
    *(
        (equation, {"parallel_to": words} | crowns)
        for equation, crowns in (
            (clean_cuts.crown_left, {"crown": 0.03}),
            (clean_cuts.crown_stood_on, {"crowns": [0.0, 0.03]}),
        )
        for words in (*CUTS, faces.NOT_CUT, None)
    ),
]


def test_both_roads_of_every_equation_agree_in_every_engine(
    engine: Callable[[Path], Results], tmp_path: Path
) -> None:
    assert not differences(engine, tmp_path / "clean_cuts.xlsx", WORKS)


def test_crown_under_edge_counts_where_the_edge_is_not_said_to_rest_on_its_ends() -> None:
    assert clean_cuts.crown_under_edge(0.03, clean_cuts.ROCKS) == 0.03
    assert clean_cuts.crown_under_edge(0.03, clean_cuts.RESTS_ON_ENDS) == 0
    assert clean_cuts.crown_under_edge(0.03, "") == 0.03


@pytest.mark.parametrize("along", CUTS)
def test_crown_left_and_crown_stood_on_ask_how_either_face_is_cut(along: str) -> None:
    """Any cut lies below the lowest corner, and a crown stands above them all."""
    assert clean_cuts.crown_left(0.03, along) == 0
    assert clean_cuts.crown_left(0.03, faces.NOT_CUT) == 0.03
    rocks = 0.03 if along == faces.ALONG_OPPOSITE else 0
    assert clean_cuts.crown_stood_on(along, 0.01, 0.03) == rocks
    assert clean_cuts.crown_stood_on(faces.NOT_CUT, 0.01, 0.03) == 0
    assert clean_cuts.crown_left(0.03, "") is clean_cuts.crown_stood_on("", 0.03) is None


@pytest.mark.parametrize(
    ("cut", "words"),
    [
        (0.036, "cleans"),
        (0.0359, "may not clean"),
        (0.024, "may not clean"),
        (0.0239, "does not clean"),
    ],
)
def test_whether_clean_is_sure_from_the_cut_suggested_on(cut: float, words: str) -> None:
    """JCGM 106:2012, figures 8 and 9: a guard band at either side of the limit, as wide as U."""
    assert clean_cuts.whether_clean(faces.ALONG_AXIS, cut, 0.030, 0.036) == words
    assert clean_cuts.whether_clean(faces.NOT_CUT, 0.0, 0.030, 0.036) == "not cut"


@pytest.mark.parametrize("cut", [0.05, 0.036, 0.0359, 0.024, 0.0239, 0.0])
@pytest.mark.parametrize("parallel_to", [faces.ALONG_AXIS, faces.NOT_CUT])
def test_whether_corners_clean_calls_no_face_clean(parallel_to: str, cut: float) -> None:
    """A hollow as deep as you like lies between corners that say nothing of it; what falls short of
    the corners falls short of the hollow as well.
    """
    found = clean_cuts.whether_corners_clean(parallel_to, cut, 0.030, 0.036)
    by_edge = clean_cuts.whether_clean(parallel_to, cut, 0.030, 0.036)
    assert found == ("corners only" if by_edge == "cleans" else by_edge)
    assert found in {"corners only", "may not clean", "does not clean", "not cut"}
