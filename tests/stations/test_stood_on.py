"""A block is not stood on a face that rocks: a twisted or crowned one is cut or shimmed first.

Source: geometry; common practice, no source. The readings are invented.
"""

from __future__ import annotations

import pytest

from as_asked import values_of
from clean_readings import clean_readings, shipped_layout
from datumbook.equations.clean_cuts import RESTS_ON_ENDS, ROCKS
from datumbook.equations.faces import ALONG_AXIS, ALONG_ITSELF, ALONG_OPPOSITE, NOT_CUT
from datumbook.equations.standings import HOLDS, PASSES
from datumbook.equations.verdicts import OK, OUT

LAYOUT = shipped_layout()
FACES = {"bottom": "deck", "deck": "bottom"}  # the face stood on: the one that is cut


def crowned(face: str, lies: str = ROCKS, line: str = "left_edge") -> dict[str, object]:
    """A gap of 0.020 in where 0.006 in are allowed."""
    way = "across" if line.endswith("end") else "along"
    return {f"{face}_flatness.{line}.edge_lies": lies, f"{face}_flatness.{line}.gap_{way}": 0.020}


def cut(face: str, along: str) -> dict[str, object]:
    return {f"{face}_cut.parallel_to": along, f"{face}_cut.cut": 0.001}


def verdicts(face: str, *told: dict[str, object]) -> tuple[object, object]:
    """What is said of the block on this face, along it and across it."""
    typed: dict[str, object] = {**clean_readings(LAYOUT)}
    for one in told:
        typed |= one
    values = values_of(LAYOUT, typed)
    along, across = (f"{face}_stood_on.crown_{way}.verdict" for way in ("along", "across"))
    return values[along], values[across]


@pytest.mark.parametrize("face", FACES)
def test_a_crowned_face_is_not_stood_upon(face: str) -> None:
    other = cut(FACES[face], ALONG_OPPOSITE)
    assert verdicts(face, crowned(face), other) == (OUT, OK)
    assert verdicts(face, crowned(face, line="rear_end"), other) == (OK, OUT)
    assert verdicts(face, crowned(face, RESTS_ON_ENDS), other) == (OK, OK), "on a hollow it stands"
    assert verdicts(face, crowned(face, ""), other) == (OUT, OK), "not said how the edge lies"
    at, texts = LAYOUT.place(f"{face}_stood_on.crown_along").at, LAYOUT.plans["Plan"].texts
    above = [one.words for one in texts if one.style == "part" and 0 < at.row - one.at.row < 4]
    assert any("cut it or shim it first" in words for words in above)


@pytest.mark.parametrize("along", [ALONG_AXIS, ALONG_ITSELF, NOT_CUT])
@pytest.mark.parametrize("face", FACES)
def test_a_crown_that_nothing_stands_on_does_no_harm(face: str, along: str) -> None:
    assert verdicts(face, crowned(face), cut(FACES[face], along)) == (OK, OK)


def test_a_bottom_face_cut_first_has_lost_its_crown() -> None:
    on_it = cut("deck", ALONG_OPPOSITE)
    assert verdicts("bottom", crowned("bottom"), cut("bottom", ALONG_AXIS), on_it) == (OK, OK)


def test_a_bottom_face_twisted_after_its_cut_is_out_with_the_same_words() -> None:
    typed: dict[str, object] = {**clean_readings(LAYOUT)} | cut("deck", ALONG_OPPOSITE)
    high = typed["corners.front_left.overall"]
    assert isinstance(high, float)
    bottom = typed["axis.front"]  # the middle of the front end, half as far up
    assert isinstance(bottom, float)
    twisted = {"corners.front_left.overall": high + 0.012, "axis.front": bottom + 0.006}
    values = values_of(LAYOUT, typed | twisted)
    assert values["bottom_after.bottom_twist.verdict"] == OUT


@pytest.mark.parametrize(
    ("face", "read"), [("bottom", "deck"), ("deck", "overall")], ids=["deck cut", "bottom cut"]
)
def test_it_holds_the_job_until_the_face_that_was_cut_is_read_again(face: str, read: str) -> None:
    typed: dict[str, object] = {**clean_readings(LAYOUT)} | crowned(face)
    typed |= cut(FACES[face], ALONG_OPPOSITE)
    standing = f"release.{face}_stood_on.crown_along.standing"
    assert values_of(LAYOUT, typed)[standing] == PASSES
    unread = {f"finished_corners.rear_left.{read}": None}
    assert values_of(LAYOUT, typed | unread)[standing] == HOLDS
