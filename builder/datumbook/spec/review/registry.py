"""The rules of the review: small functions, each of which looks a spec over for one kind of
mistake.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from datumbook.messages.refusals import Fault
from datumbook.spec import Spec

SpecRule = Callable[[Spec], Iterator[Fault]]
SPEC_RULES: list[SpecRule] = []


def rule(look: SpecRule) -> SpecRule:
    """Make a function a rule of the review."""
    SPEC_RULES.append(look)
    return look
