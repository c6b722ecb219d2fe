"""What is decided has one owner: the suggested size of the bores is read by the plan of the bores
and by nothing else, so that a size typed there holds everywhere.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import datumbook

PACKAGE = Path(datumbook.__file__).parent
DECLARES, OWNS = "stations/received/bores.py", "stations/decided/bore_plan.py"
BY_WEAR_ALONE = "stations/decided/clean_up_room.py"  # by the same equation, with no bar set over


def words_of(source: str) -> Iterator[str]:
    """Every name, attribute, argument and piece of text of a module; comments are none."""
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.Name(id=word) | ast.Attribute(attr=word) | ast.arg(arg=word):
                yield word
            case ast.keyword(arg=str(word)) | ast.Constant(value=str(word)):
                yield word


def mentions(source: str) -> bool:
    return any("next_oversize" in word for word in words_of(source))


def test_a_module_that_mentions_the_suggestion_is_found() -> None:
    assert mentions("size = work.number(rebore.next_oversize.key)")
    assert mentions('yield shown_again("rebore.next_oversize")')
    assert not mentions("size = work.number(plan.finish_bore[1])  # not next_oversize")


def test_only_the_plan_of_the_bores_reads_the_suggested_size() -> None:
    found = {
        path.relative_to(PACKAGE).as_posix()
        for path in PACKAGE.rglob("*.py")
        if path.parent.name != "equations" and mentions(path.read_text("utf-8"))
    }
    assert found == {DECLARES, OWNS, BY_WEAR_ALONE}
    alone = (PACKAGE / BY_WEAR_ALONE).read_text("utf-8")
    assert alone.count("next_oversize") == alone.count("bores.next_oversize") == 1
