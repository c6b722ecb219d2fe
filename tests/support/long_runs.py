"""Families of tests alike, of which an ordinary run takes a few and `pytest -m ''` takes all."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import pytest
from hypothesis import settings

ORDINARY = 10
"""Examples for a property in an ordinary run, where a long one tries 100."""


def mostly_long(values: Iterable[Any], few: int = 1) -> list[Any]:
    """Return the values as parameters, all but a few spread evenly over them marked `long`."""
    listed = list(values)
    step = max(len(listed) // few, 1)
    return [
        value if number % step == 0 and number // step < few else long(value)
        for number, value in enumerate(listed)
    ]


def long(value: Any) -> Any:
    """The value, or the parameter that already bears an id and marks, as one of the long run."""
    if isinstance(value, type(pytest.param())):
        return pytest.param(*value.values, id=value.id, marks=[*value.marks, pytest.mark.long])
    values = value if isinstance(value, tuple) else (value,)
    return pytest.param(*values, marks=pytest.mark.long)


def examples(number: int) -> int:
    """On how many examples this run tries a property that a long one tries on so many."""
    return max(number * settings.default.max_examples // 100, 1)
