"""Guesses in a book: which checks rest on a figure that the engine file only guesses, and what
becomes of their verdicts.
"""

from __future__ import annotations

from functools import cache, wraps
from typing import Any

from datumbook.cells.columns import Equation
from datumbook.equations.guesses import unless_guessed
from datumbook.spec.guesses import guesses
from datumbook.workbook.flow import said_under
from datumbook.workbook.layout import Layout
from datumbook.workbook.placed import CheckPlan, Place


def resting_on_guesses(layout: Layout) -> set[str]:
    """Return the verdicts of the placed checks whose limit or value rests on a guess."""
    if next(guesses(layout.spec), None) is None:
        return set()

    def own(place: Place) -> str:
        return "guess" if place.guessed else ""

    asked = {
        one.verdict: [key for key in (one.key, one.low, one.high) if key] for one in layout.checks
    }
    under = said_under(layout, {key for keys in asked.values() for key in keys}, own)
    every = layout.spec.guessed
    return {
        one.verdict
        for one in layout.checks
        if (every and one.measured) or any(under[key] for key in asked[one.verdict])
    }


def held_to_guess(layout: Layout, check: CheckPlan) -> None:
    """Give the verdict of a check that rests on a guess its equation: it is never OK."""
    place = layout.places[check.verdict]
    if check.guessed and place.equation is not None:
        place.equation = on_a_guess(place.equation)


@cache
def on_a_guess(equation: Equation) -> Equation:
    """Return the equation of a verdict as it is for what rests on a guess."""

    @wraps(equation)
    def judged(*arguments: Any, **named: Any) -> Any:
        return unless_guessed(equation(*arguments, **named))

    judged.takes_blanks = True  # type: ignore[attr-defined]
    return judged
