"""What an ordinary run leaves to the long one is listed, and a few of each family always run."""

from __future__ import annotations

import ast

import pytest

from long_runs import mostly_long
from project import PROJECT

TESTS = PROJECT / "tests"
LIST = TESTS / "long_runs.txt"


def families() -> list[str]:
    """Every test with parameters that are mostly long, as pytest names it."""
    return sorted(
        f"{path.relative_to(PROJECT).as_posix()}::{node.name}"
        for path in (*TESTS.rglob("test_*.py"), TESTS / "conftest.py")
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.FunctionDef)
        and any("mostly_long(" in ast.unparse(one) for one in node.decorator_list)
    )


def test_the_list_names_every_family_behind_the_marker() -> None:
    listed = [line for line in LIST.read_text("utf-8").splitlines() if line.startswith("tests/")]
    assert listed == families()


def test_nothing_is_long_but_by_the_one_door_that_keeps_a_few() -> None:
    users = [path.name for path in TESTS.rglob("*.py") if "mark.long" in path.read_text("utf-8")]
    assert sorted(users) == ["long_runs.py", "test_long_runs.py"]


@pytest.mark.parametrize(("many", "few"), [(1, 1), (2, 1), (3, 5), (10, 3), (114, 12)])
def test_a_few_stay_and_none_is_lost(many: int, few: int) -> None:
    made = mostly_long(range(many), few)
    long = [one.values[0] for one in made if not isinstance(one, int)]
    kept = [one for one in made if isinstance(one, int)]
    assert len(kept) == min(few, many)
    assert kept[0] == 0
    assert sorted(kept + long) == list(range(many))


def test_a_parameter_keeps_its_name_and_its_marks() -> None:
    (_, one) = mostly_long([1, pytest.param(2, 3, id="both", marks=pytest.mark.program("units"))])
    assert (one.values, one.id) == ((2, 3), "both")
    assert [mark.name for mark in one.marks] == ["program", "long"]
