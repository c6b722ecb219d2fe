"""Cuts intended and made: none that was decided on goes out unmade, be it of zero.

Source: common practice, no source.
"""

from __future__ import annotations

import pytest

from as_asked import values_of
from datumbook.equations.verdicts import OK, OPEN
from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations import lay_out
from planned_blocks import AXIS, NOT_CUT, cut, heights, layout, line_bored, readings

DONE = {"route.line_bore.done": 1.0, "route.bottom_face.done": 2.0, "route.deck.done": 3.0}


def made(decided: dict[str, object], done: dict[str, float]) -> dict[str, object]:
    """The verdicts on the cuts, with nothing else done on the route."""
    tilted = heights([10.698, 10.698, 10.695, 10.695], [14.253, 14.253, 14.250, 14.250])
    block = readings() | tilted | decided
    block |= {key: None for key in block if key.startswith("route.")} | done
    values = values_of(layout(), block)
    return {one: values[f"cuts.{one}.made"] for one in ("line_bore", "bottom_face", "deck")}


def test_cuts_of_zero_are_made_like_others() -> None:
    """The deck is cut level to its lowest corner, and the crank line rises at the rear alone."""
    decided = cut("deck", AXIS, 0.0) | cut("bottom", AXIS, 0.0)
    for rise in ((0.0, 0.1), (0.0, 0.0), (-0.1, 0.0)):
        block = decided | line_bored(61.20, 0.4, rise)
        assert set(made(block, {}).values()) == {OPEN}, rise
        assert set(made(block, DONE).values()) == {OK}, rise


def test_what_is_not_cut_need_not_be_made() -> None:
    block = cut("deck", NOT_CUT) | cut("bottom", NOT_CUT) | {"line_bore.line_bored": "no"}
    assert set(made(block, {}).values()) == {OK}


@pytest.mark.parametrize("done", [{}, DONE])
def test_what_is_not_decided_is_open(done: dict[str, float]) -> None:
    block: dict[str, object] = cut("deck", AXIS) | cut("bottom", "")
    block |= {"bottom_cut.parallel_to": None, "line_bore.line_bored": None}
    assert set(made(block, done).values()) == {OPEN}


def test_decks_that_share_one_line_of_the_route_say_so() -> None:
    shared = {}
    for name, path in shipped_specs().items():
        stations = lay_out(load_spec(path), Job("x")).stations
        decks = [row.words for row in stations.finished.cuts.rows if row.key.startswith("deck")]
        shared[name] = [one for one in decks if one.endswith("one line of the Route for all decks")]
        assert len(shared[name]) == (len(decks) if len(decks) > 1 else 0)
    assert any(shared.values())
