"""What programs are told of a plan and of two dates: documents that their published schemas hold,
and that say what the terminal says.
"""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from clean_readings import clean_readings, demo_book, empty_book
from command import run
from datumbook.api.comparison_document import COMPARISON_FORMAT, comparison_schema
from datumbook.api.plan_document import plan_document, plan_schema
from datumbook.api.plan_shapes import PLAN_FORMAT
from datumbook.spec import find_spec, load_spec
from datumbook.standards.order import operations
from datumbook.stations import lay_out
from datumbook.validator import Validation
from datumbook.workbook.evaluation import reckon
from datumbook.workbook.layout import Layout
from planned_blocks import AXIS, NOT_CUT, cut, heights, layout, readings

PLAN = Draft202012Validator(plan_schema())
COMPARISON = Draft202012Validator(comparison_schema())


def read(block: dict[str, object], made: Layout) -> Validation:
    """A block as it is validated, without a file between."""
    typed = {key: value for key, value in block.items() if isinstance(value, float | str)}
    return Validation(Path("block.xlsx"), layout=made, values=reckon(made, block), typed=typed)


def told(block: dict[str, object], made: Layout) -> dict[str, Any]:
    document = json.loads(json.dumps(plan_document(read(block, made))))
    PLAN.validate(document)
    (book,) = document["books"]
    assert isinstance(book, dict)
    return book


def cuts(book: dict[str, Any], operation: str) -> list[dict[str, Any]]:
    (found,) = [one["cuts"] for one in book["operations"] if one["key"] == operation]
    assert isinstance(found, list)
    return found


def figure(cut: dict[str, Any], name: str) -> tuple[float, str]:
    (found,) = [(one["value"], one["unit"]) for one in cut["figures"] if one["name"] == name]
    return found


def test_a_plan_is_one_document_that_its_schema_holds() -> None:
    for book in (demo_book(), empty_book()):
        answer = run("plan", book, "--json")
        assert answer.exit_code == 0, answer.output
        made = json.loads(answer.stdout)
        PLAN.validate(made)
        assert (made["format"], len(made["books"])) == (PLAN_FORMAT, 1)
    assert not PLAN.is_valid(made | {"format": PLAN_FORMAT + 1})
    made["books"][0]["operations"][0]["done"] = "once"
    assert not PLAN.is_valid(made)


def test_the_plan_says_what_the_terminal_says() -> None:
    (book,) = json.loads(run("plan", demo_book(), "--json").stdout)["books"]
    said = run("plan", demo_book()).stdout
    assert book["forbidden"]
    assert all(sentence in said for sentence in book["forbidden"])
    for one in book["typed"]:
        assert all(f"{one['intention']}: {sentence}." in said for sentence in one["sentences"])
    for bore in cuts(book, "bore"):
        assert f"{bore['place']} cleans up at {figure(bore, 'cleans up at')[0]:.3f} mm" in said
    (deck,) = cuts(book, "deck")
    assert deck["forbidden"]
    assert all(f"{one['name']}: " in said for one in deck["conflict"])
    for one in book["pairings"]:
        assert one["words"] in said
        assert sorted(pair["part"] for pair in one["pairs"]) == [
            pair["place"] for pair in one["pairs"]
        ]


def test_operations_stand_in_the_order_of_the_work() -> None:
    order = list(operations())
    keys = [one["key"] for one in told(readings(), layout())["operations"]]
    assert all(order.index(one) < order.index(after) for one, after in pairwise(keys))


def test_of_the_ways_to_set_a_face_up_the_one_proposed_says_what_it_leaves() -> None:
    # the rear stands 0.002 in lower: true to the crank line the front gives at least as much more
    deck, overall = [10.695, 10.695, 10.693, 10.693], [14.250, 14.250, 14.248, 14.248]
    ways = cuts(told(readings() | heights(deck, overall), layout()), "deck")
    assert len(ways) > 1
    (chosen,) = [one for one in ways if one["proposed"]]
    assert (chosen["set_up"], chosen["forbidden"]) == (f"parallel to the {AXIS}", False)
    off, unit = figure(chosen, "off the lowest corner")
    assert (unit, figure(chosen, "tilt left lengthwise")[0]) == ("in", pytest.approx(0.0, abs=1e-9))
    heights_left = ("Crown of", "Overall height at")
    left = [one for one in chosen["limits"] if one["name"].startswith(heights_left) and one["low"]]
    assert len(left) >= len(deck)
    for one in left:
        assert one["after"] >= one["low"] - 1e-9
        assert one["before"] - one["after"] == pytest.approx(off)


def test_a_face_that_stays_is_never_forbidden() -> None:
    book = told(readings() | cut("bottom", NOT_CUT), layout())
    (bottom,) = cuts(book, "bottom_face")
    assert (bottom["typed"], bottom["forbidden"], bottom["figures"]) == (True, False, [])


@pytest.mark.parametrize("engine", ["orrindale_qp4", "hollowmere_v8"])
def test_the_lines_of_the_budget_add_up(engine: str) -> None:
    made = lay_out(load_spec(find_spec(Path(engine))))
    book = told(dict(clean_readings(made)), made)
    assert len(book["budgets"]) >= 4
    for line in book["budgets"]:  # whole allowance = gone + planned + to spare, whichever way
        whole = abs(line["limit"] - line["as_new"])
        assert line["taken"] + line["planned"] + line["to_spare"] == pytest.approx(whole, abs=1e-9)
        assert line["unit"] in {"mm", "in"}
    decks = {one["place"] for one in cuts(book, "deck")}
    assert len(decks) == (2 if engine == "hollowmere_v8" else 1)


def test_two_dates_are_one_document_that_its_schema_holds() -> None:
    answer = run("compare", empty_book(), demo_book(), "--json")
    assert answer.exit_code == 0, answer.output
    made = json.loads(answer.stdout)
    COMPARISON.validate(made)
    assert (made["format"], len(made["pairs"])) == (COMPARISON_FORMAT, 1)
    (pair,) = made["pairs"]
    assert sum(pair["counts"].values()) == len(pair["features"])
    said = run("compare", empty_book(), demo_book()).stdout
    assert f"Changed: {pair['counts']['changed']}." in said
    changed = [one for one in pair["features"] if one["verdict"] != "no change"]
    assert len(changed) == len(said.splitlines()) - len(["First", "Second", "Changed"])
    assert all(f"\n{one['label']}: " in said for one in changed)
    for one in pair["features"]:
        if one["difference"] is not None:
            assert one["difference"] == pytest.approx(one["second"] - one["first"])
    pair["features"][0]["verdict"] = "perhaps"
    assert not COMPARISON.is_valid(made)


@pytest.mark.parametrize("command", ["plan", "compare"])
def test_where_nothing_can_be_told_no_document_is_begun(command: str, tmp_path: Path) -> None:
    (tmp_path / "notes.xlsx").write_text("no workbook")
    books = [tmp_path / "notes.xlsx"] * (1 if command == "plan" else 2)
    answer = run(command, *books, "--json")
    assert answer.exit_code == 2
    assert answer.stdout == ""
    assert "notes.xlsx" in answer.stderr
