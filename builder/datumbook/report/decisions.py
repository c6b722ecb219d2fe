"""The page of decisions: what is to be cut and to which size, as `datumbook plan` tells it, and
what that leaves of the metal, as the Plan sheet shows it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from datumbook.numbers.printing import signed
from datumbook.planning import decision_lines, plan
from datumbook.validator import Validation
from datumbook.workbook.layout import Layout
from datumbook.workbook.printed import printed


@dataclass(frozen=True)
class SpareLine:
    """What is to spare of one resource as planned, in print, and the verdict on it."""

    words: str
    left: str
    verdict: str


@dataclass(frozen=True)
class Decisions:
    """What is not to be cut, a sentence each; each piece of work with what is decided of it; what
    is to spare, and of what that is not known yet.
    """

    forbidden: tuple[str, ...]
    pieces: tuple[tuple[str, list[str]], ...]
    spare: tuple[SpareLine, ...]
    unknown: tuple[str, ...]


def decisions(validation: Validation) -> Decisions | None:
    """What is decided on a block; None where its job plans nothing, and at a stage before the
    plan.
    """
    layout = validation.layout
    if layout is None or layout.stations.plan is None or "planned" not in validation.reached:
        return None
    spare, made = list(_spare(layout, validation)), plan(validation)
    return Decisions(
        made.forbidden,
        tuple(decision_lines(made)),
        tuple(one for one in spare if one.left),
        tuple(one.words for one in spare if not one.left),
    )


def _spare(layout: Layout, validation: Validation) -> Iterator[SpareLine]:
    budget, values = layout.stations.budget, validation.values
    for key, one in budget.lines.items():
        cell = budget.spare[key]
        left = values[cell]
        yield SpareLine(
            one.words,
            signed(printed(left, layout.place(cell))) if isinstance(left, float) else "",
            str(values[budget.spare.verdict[key]] or ""),
        )
