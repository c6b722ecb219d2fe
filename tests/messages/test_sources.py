"""The bibliography: whole entries, keys found where they are named, and a `Source:` line on every
equation.
"""

from __future__ import annotations

import pytest

from datumbook.messages.sources import (
    SourceError,
    bibliography,
    cited,
    read_bibliography,
    source_of,
)
from published_cases import equations

WHOLE = (
    '["Some book"]\nauthor = "A"\ntitle = "T"\nedition = "2nd"\npages = "page"\nknown = "opened"\n'
)
PLAIN = ("geometry", "common practice, no source", "count", "none needed")


def test_a_whole_entry_is_read() -> None:
    assert str(read_bibliography(WHOLE)["Some book"]) == "A, T (2nd)"


def test_what_is_from_memory_says_so() -> None:
    assert str(read_bibliography(WHOLE.replace("opened", "from memory"))["Some book"]).endswith(
        "from memory"
    )


@pytest.mark.parametrize(
    ("good", "bad", "message"),
    [
        ('title = "T"\n', "", "give each of"),
        ('title = "T"', 'title = ""', "give each of"),
        ('title = "T"', 'title = "T"\nprice = "1"', "nothing else"),
        ("opened", "hearsay", "hearsay"),
    ],
)
def test_an_entry_that_is_not_whole_is_refused_by_its_key(
    good: str, bad: str, message: str
) -> None:
    with pytest.raises(SourceError, match=message) as refusal:
        read_bibliography(WHOLE.replace(good, bad))
    assert "Some book" in str(refusal.value)


def test_a_short_key_is_not_found_inside_a_longer_one() -> None:
    assert [source.key for source in cited("ISO 14253-1, and by ISO 1.")] == [
        "ISO 14253-1",
        "ISO 1",
    ]
    assert cited("geometry") == ()
    assert [source.key for source in cited("ASME B1.13M table 1")] == ["ASME B1.13M"]


@pytest.mark.parametrize("name", sorted(equations()))
def test_every_equation_says_where_it_comes_from(name: str) -> None:
    line = source_of(equations()[name])
    assert (
        cited(line) or line.startswith(PLAIN) or line.removeprefix("as ").rstrip(".") in equations()
    ), line


def test_an_equation_without_a_source_is_refused() -> None:
    def bare() -> None:
        """Do nothing at all."""

    with pytest.raises(SourceError, match="bare: its docstring has no"):
        source_of(bare)


def test_every_key_is_found_by_its_own_name() -> None:
    assert [cited(key)[0].key for key in bibliography()] == list(bibliography())
