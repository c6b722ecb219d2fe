"""The catalogue of damage is whole: each kind is inflicted, found by its code in its place, and
nothing else is said.
"""

from __future__ import annotations

import string
from collections import Counter
from pathlib import Path

import pytest

from clean_readings import shipped_layout, told
from damages import DAMAGES
from datumbook.messages.findings import FINDING_GROUPS, SEVERITIES, catalogue, catalogue_page
from datumbook.validator import validate
from long_runs import mostly_long

ELSEWHERE = "suspect-"  # kinds of statistics: their tests and rates stand in test_plausibility.py


@pytest.mark.parametrize("code", mostly_long(DAMAGES, 8))
def test_each_kind_is_found_in_its_place_and_nothing_else_is_said(
    code: str, tmp_path: Path
) -> None:
    damage = DAMAGES[code]
    made = validate(damage.inflict(tmp_path / "book.xlsx"), damage.stage, damage.shop())
    old = (
        {"results-stale"} if catalogue()[code]["group"] == "readings" else set[str]()
    )  # nothing recalculated
    found = [one for one in made.findings if one.code not in damage.brings | old]
    there = Counter({(code, damage.sheet, damage.cell): 1})
    assert told(found[:1] if damage.often else found) == there
    assert {one.code for one in found} == {code}
    severity = catalogue()[code]["severity"]
    assert found[0].severity == severity
    least = {"damage": 2, "reading": 1, "check": 1, "note": 0}[severity]
    assert made.exit_status >= least, "damage is never released"
    assert (made.exit_status == 0) == (severity == "note")


def test_every_kind_of_the_catalogue_is_inflicted() -> None:
    kinds = {code for code in catalogue() if not code.startswith(ELSEWHERE)}
    assert kinds == set(DAMAGES)
    assert (
        sum(kind["group"] != "checks" for code, kind in catalogue().items() if code in kinds) >= 80
    )


def test_every_kind_says_what_happened_how_it_is_seen_and_what_to_do() -> None:
    for code, kind in catalogue().items():
        assert set(kind) == {"group", "severity", "happens", "seen", "says", "remedy"}, code
        assert kind["group"] in FINDING_GROUPS, code
        assert kind["severity"] in SEVERITIES, code
        for name in ("happens", "seen", "says", "remedy"):
            assert kind[name].endswith((".", "}")), (code, name)
        for name in ("happens", "seen"):
            assert not [
                field for _, field, _, _ in string.Formatter().parse(kind[name]) if field
            ], (code, name)


def test_the_page_names_every_kind_once() -> None:
    lines = catalogue_page().splitlines()
    assert [sum(line.startswith(f"| `{code}` |") for line in lines) for code in catalogue()] == [
        1
    ] * len(catalogue())
    assert shipped_layout() is not None
