"""The order of work: done numbers judge each operation's turn, and make exactly the dependent
readings stale.

The rules are common practice, no source; the story is invented.
"""

from __future__ import annotations

import pytest

from datumbook.equations.verdicts import OK, OPEN, OUT, STALE
from datumbook.job import Job
from datumbook.spec import load_spec, shipped_specs
from datumbook.standards.order import operations, rules
from datumbook.stations import lay_out
from datumbook.stations.received.route import operations_of, rules_of
from datumbook.workbook.evaluation import reckon
from datumbook.workbook.layout import Layout
from readings_made import plausible

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
    values = reckon(layout, typed)
    return {check.key: values[check.verdict] for check in layout.checks}


def in_order(layout: Layout) -> dict[str, object]:
    """A done number for every operation of the job, in the usual order."""
    return {
        f"route.{key}.done": float(number)
        for number, key in enumerate(operations_of(layout.spec), 1)
    }


def taken_after(layout: Layout, number: float) -> dict[str, object]:
    return {key: number for key in layout.places if key.endswith(".taken_after")}


def test_every_rule_speaks_of_known_operations_and_the_usual_order_keeps_them_all() -> None:
    usual = list(operations())
    for rule in rules():
        assert usual.index(rule.before) < usual.index(rule.after), rule


def test_done_in_the_usual_order_every_turn_is_ok(layout: Layout) -> None:
    found = verdicts(layout, in_order(layout))
    assert {verdict for key, verdict in found.items() if key.startswith("route.")} == {OK}


def test_nothing_done_is_nothing_done_too_early(layout: Layout) -> None:
    found = verdicts(layout, {})
    assert {verdict for key, verdict in found.items() if key.startswith("route.")} == {OK}


@pytest.mark.parametrize(
    "rule", rules_of(load_spec(SPEC)), ids=lambda rule: f"{rule.before}-{rule.after}"
)
def test_each_rule_turned_round_puts_its_operation_out(layout: Layout, rule: object) -> None:
    done = in_order(layout)
    before, after = f"route.{rule.before}.done", f"route.{rule.after}.done"  # type: ignore[attr-defined]
    done[before], done[after] = done[after], done[before]
    assert verdicts(layout, done)[f"route.{rule.after}.turn"] == OUT  # type: ignore[attr-defined]


def test_a_needed_operation_left_out_puts_the_later_one_out(layout: Layout) -> None:
    done = in_order(layout)
    del done["route.consent.done"]
    found = verdicts(layout, done)
    assert found["route.deck.turn"] == found["route.bore.turn"] == OUT, (
        "no cut before the owner has signed"
    )
    assert found["route.wash.turn"] == OK


def test_a_rule_the_shop_sets_aside_is_not_judged_and_its_reason_is_printed(layout: Layout) -> None:
    done = in_order(layout)
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
    typed = plausible(layout) | in_order(layout) | taken_after(layout, 99.0)
    before = verdicts(layout, typed)
    assert STALE not in before.values()
    assert OPEN not in before.values()
    number = len(operations_of(layout.spec)) + 1.0
    later = verdicts(layout, typed | taken_after(layout, number - 1) | {"route.deck.done": number})
    stale = {key for key, verdict in later.items() if verdict == STALE}
    moved = (*FINISHED_HEIGHTS, "crowns.", "holes_head_studs.")
    hangs = {key for key in before if key.startswith(moved) and not key.endswith(".done")}
    assert stale == hangs
    changed = {key for key in before if later[key] != before[key]} - stale
    assert all(key.startswith("route.") for key in changed), (
        "nothing else but the turns of the operations themselves"
    )


def test_a_reading_taken_again_after_the_cut_is_fresh(layout: Layout) -> None:
    typed = plausible(layout) | in_order(layout) | taken_after(layout, 99.0)
    assert STALE not in verdicts(layout, typed).values()


def test_once_the_finished_reading_is_taken_the_received_one_no_longer_holds(
    layout: Layout,
) -> None:
    typed = plausible(layout) | in_order(layout) | taken_after(layout, 99.0)
    worn = {"bores.1.top.thrust": 82.3}
    values = reckon(layout, typed | worn)
    assert values["bores.1.top.out_of_round.verdict"] == OUT
    assert values["release.bores.1.top.out_of_round.standing"] == "passes"
    values = reckon(layout, {**typed, **worn, "finished_bores.1.top.thrust": None})
    assert values["release.bores.1.top.out_of_round.standing"] == "holds"
