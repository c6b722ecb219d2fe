"""The order of work: done numbers judge each operation's turn, and make exactly the dependent
readings stale.

The rules are common practice, no source; the story is invented.
"""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from as_asked import values_of
from datumbook.cells.columns import Reading
from datumbook.equations.verdicts import OK, OPEN, OUT, STALE
from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.standards.order import operations, rules
from datumbook.stations import lay_out
from datumbook.stations.received.route import operations_of, rules_of, step_words
from datumbook.validator import validate
from datumbook.workbook.layout import Layout
from datumbook.writer import write
from long_runs import mostly_long
from readings_made import in_turn, measured_after, plausible
from whole_engine import whole

SPEC = shipped_specs()["orrindale_qp4"]
FINISHED_HEIGHTS = (
    "finished_overall.",
    "finished_deck.",
    "finished_axis.",
    "finished_stack.",
    "finished_whole_block.",
    "finished_deck_flatness.",
)


@pytest.fixture(scope="module")
def layout() -> Layout:
    return lay_out(load_spec(SPEC), Job("story"))


def verdicts(layout: Layout, typed: dict[str, object]) -> dict[str, object]:
    values = values_of(layout, typed)
    return {check.key: values[check.verdict] for check in layout.checks}


def test_every_rule_speaks_of_known_operations_and_the_usual_order_keeps_them_all() -> None:
    usual = list(operations())
    for rule in rules():
        assert usual.index(rule.before) < usual.index(rule.after), rule


def test_done_in_the_usual_order_every_turn_is_ok(layout: Layout) -> None:
    found = verdicts(layout, in_turn(layout))
    assert {verdict for key, verdict in found.items() if key.startswith("route.")} == {OK}


def test_of_what_is_not_done_no_turn_is_judged(layout: Layout) -> None:
    found = verdicts(layout, {})
    assert {verdict for key, verdict in found.items() if key.startswith("route.")} == {""}


@pytest.mark.parametrize(
    "rule", rules_of(load_spec(SPEC)), ids=lambda rule: f"{rule.before}-{rule.after}"
)
def test_each_rule_turned_round_puts_its_operation_out(layout: Layout, rule: object) -> None:
    done = in_turn(layout)
    before, after = f"route.{rule.before}.done", f"route.{rule.after}.done"  # type: ignore[attr-defined]
    done[before], done[after] = done[after], done[before]
    assert verdicts(layout, done)[f"route.{rule.after}.turn"] == OUT  # type: ignore[attr-defined]


def test_a_needed_operation_left_out_puts_the_later_one_out(layout: Layout) -> None:
    done = in_turn(layout)
    del done["route.consent.done"]
    found = verdicts(layout, done)
    assert found["route.deck.turn"] == found["route.bore.turn"] == OUT, (
        "no cut before the owner has signed"
    )
    assert found["route.wash.turn"] == OK


def test_a_rule_the_shop_sets_aside_is_not_judged_and_its_reason_is_printed(layout: Layout) -> None:
    done = in_turn(layout)
    done["route.hole_work.done"], done["route.deck.done"] = (
        done["route.deck.done"],
        done["route.hole_work.done"],
    )
    assert verdicts(layout, done)["route.hole_work.turn"] == OK
    assert "sump rail is drilled before the deck" in str(
        layout.places["route.hole_work.after"].value
    )


def test_a_deck_cut_after_the_finished_readings_makes_exactly_those_that_hang_on_the_deck_stale(
    layout: Layout,
) -> None:
    typed = plausible(layout)
    before = verdicts(layout, typed)
    assert STALE not in before.values()
    assert OPEN not in before.values()
    number = len(operations_of(layout.spec)) + 1.0
    later = verdicts(layout, typed | {"route.deck.done": number})
    stale = {key for key, verdict in later.items() if verdict == STALE}
    moved = (*FINISHED_HEIGHTS, "crowns.", "holes_head_studs.")
    hangs = {key for key in before if key.startswith(moved) and before[key]}
    assert stale == hangs
    changed = {key for key in before if later[key] != before[key]} - stale
    assert all(key.startswith("route.") for key in changed), (
        "nothing else but the turns of the operations themselves"
    )


def test_a_grid_read_before_the_deck_was_cut_is_told_with_what_moved_it(tmp_path: Path) -> None:
    typed = plausible(whole()) | {"route.deck.done": 99.0} | measured_after(whole(), "hone")
    book = tmp_path / "grid.xlsx"
    write(whole(), book, typed)
    (told,) = [one for one in validate(book).findings if "Highest less lowest" in one.message]
    assert told.code == "check-stale"
    assert "the operation with done number 99 moved the feature" in told.message


def test_a_reading_taken_again_after_the_cut_is_fresh(layout: Layout) -> None:
    typed = plausible(layout)
    assert STALE not in verdicts(layout, typed).values()


def test_once_the_finished_reading_is_taken_the_received_one_no_longer_holds(
    layout: Layout,
) -> None:
    typed = plausible(layout)
    worn = {"bores.1.top.thrust": 82.3}
    values = values_of(layout, typed | worn)
    assert values["bores.1.top.out_of_round.verdict"] == OUT
    assert values["release.bores.1.top.out_of_round.standing"] == "passes"
    values = values_of(layout, {**typed, **worn, "finished_bores.1.top.thrust": None})
    assert values["release.bores.1.top.out_of_round.standing"] == "holds"


# --- done numbers


@pytest.mark.parametrize("spec", mostly_long(shipped_specs().values(), 2), ids=shipped_specs())
def test_a_number_used_twice_is_out_for_both_and_says_so(spec: Path) -> None:
    layout = lay_out(load_spec(spec), Job(block="story"))
    typed = in_turn(layout)
    for first, second in pairwise(operations_of(layout.spec)):
        twice = typed | {f"route.{second}.done": typed[f"route.{first}.done"]}
        values = values_of(layout, twice)
        for one in (first, second):
            assert values[f"route.{one}.turn"] == OUT
            assert values[f"route.{one}.fault"] == "its done number is used twice"
    assert {values[f"route.{one}.turn"] for one in operations_of(layout.spec)} == {OK, OUT}


@pytest.mark.parametrize("spec", mostly_long(shipped_specs().values(), 2), ids=shipped_specs())
def test_finished_sizes_on_a_route_without_a_cut_hold_and_are_told_once(spec: Path) -> None:
    layout = lay_out(load_spec(spec), Job(block="story"))
    cuts = {f"route.{key}.done": None for key, one in operations().items() if one.cut}
    if "recorded.cuts.verdict" not in layout.places:
        assert layout.stations.finished_bores is None
        return
    cut, uncut = verdicts(layout, plausible(layout)), verdicts(layout, plausible(layout) | cuts)
    assert (cut["recorded.cuts.verdict"], uncut["recorded.cuts.verdict"]) == (OK, OUT)
    assert verdicts(layout, {})["recorded.cuts.verdict"] == OPEN


# --- after which step a series was measured


@pytest.mark.parametrize("spec", mostly_long(shipped_specs().values(), 2), ids=shipped_specs())
def test_a_step_not_said_holds_each_series_by_one_line_and_makes_nothing_stale(spec: Path) -> None:
    layout = lay_out(load_spec(spec), Job(block="story"))
    typed = plausible(layout) | {"route.deck.done": 40.0, "route.hone.done": 41.0}
    said = verdicts(layout, typed | measured_after(layout, "hone"))
    steps = measured_after(layout, "hone")
    series = {f"{key.removesuffix('step')}verdict" for key in steps}
    assert series <= set(said)
    assert len(series) <= 6
    assert len({layout.places[key].row for key in steps}) == 1, "one cell a series"
    unsaid = verdicts(layout, typed | dict.fromkeys(steps))
    assert STALE not in unsaid.values()
    assert {key for key, verdict in unsaid.items() if verdict == OPEN} == series
    assert {layout.places[key].key for key in steps} <= {one.key for one in layout.wanted()}
    for key in set(said) - series:
        assert said[key] in (STALE, unsaid[key]), key


def test_a_step_without_a_number_is_out_and_moves_nothing(layout: Layout) -> None:
    typed = plausible(layout) | {"route.wash.done": None}
    found = verdicts(layout, typed | measured_after(layout, "wash"))
    series = {key for key in found if key.startswith("measured_")}
    assert {found[key] for key in series} == {OUT}
    assert STALE not in found.values()


def test_every_step_of_the_route_can_be_said_and_nothing_else(layout: Layout) -> None:
    known = list(operations_of(layout.spec))
    for key in measured_after(layout, "hone"):
        column = layout.places[key].column
        assert isinstance(column, Reading)
        assert list(column.choices) == [step_words(one) for one in known]
    for number, operation in enumerate(known, 1):
        values = values_of(layout, in_turn(layout) | measured_after(layout, operation))
        assert values["measured_bores.line"] == values["measured_bores.number"] == number
    for said in ("99", "12", "fitted"):
        assert (
            values_of(layout, in_turn(layout) | {"measured_bores.step": said})[
                "measured_bores.verdict"
            ]
            == OUT
        )
