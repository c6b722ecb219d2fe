"""Route: the operations in the trade's order, each with a done number, and whether each came in its
turn.
"""

from __future__ import annotations

from collections.abc import Sequence

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Result, Sizes, typed_words, words
from datumbook.cells.handles import Key
from datumbook.cells.tables import Row, Sheet, Table
from datumbook.equations import standings, verdicts
from datumbook.numbers.quantities import counted
from datumbook.spec import Spec
from datumbook.standards.order import Operation, Rule, operations, rules, spoilers


def operations_of(spec: Spec) -> dict[str, Operation]:
    """The operations this engine has, by key."""
    return {key: one for key, one in operations().items() if key not in spec.order.left_out}


def rules_of(spec: Spec) -> list[Rule]:
    """The rules that hold on this job: both operations are on it, and the shop has not set the rule
    aside.
    """
    known, overruled = (
        operations_of(spec),
        {(one.before, one.after) for one in spec.order.overruled},
    )
    return [
        one
        for one in rules()
        if {one.before, one.after} <= set(known) and (one.before, one.after) not in overruled
    ]


def spoilers_of(spec: Spec, feature: str) -> list[str]:
    """The operations of this job that make a feature's readings stale."""
    return [key for key in spoilers(feature) if key in operations_of(spec)]


class OperationsDone(Table):
    """The operations, each with its done number."""

    done: Column
    date: Column


class Route:
    """The operations of this job in the trade's order, and what each of them makes stale."""

    def __init__(self, basis: Basis) -> None:
        self.spec = basis.spec
        self.operations = self._operations()

    def sheet(self) -> Sheet:
        """The sheet of the route."""
        return Sheet(
            name="Route",
            title="Route of the work",
            parts=(self.operations,),
            widths={1: 44, 5: 60},
            behind=("latest_before", "needed_done"),
        )

    def spoilers(self, feature: str) -> list[Key]:
        """The done numbers of the operations that make a feature's readings stale."""
        return self._done(spoilers_of(self.spec, feature))

    def _done(self, operations: Sequence[str]) -> list[Key]:
        return [self.operations.done[one] for one in operations]

    def _operations(self) -> OperationsDone:
        spec, number = self.spec, Sizes("", 0)
        known, kept = operations_of(spec), rules_of(spec)
        before = {key: [rule.before for rule in kept if rule.after == key] for key in known}
        needed = {
            key: [rule.before for rule in kept if rule.after == key and rule.needed]
            for key in known
        }
        judged = [key for key in known if before[key]]
        wanting = [key for key in judged if needed[key]]
        turn = Result(
            name="turn",
            words="turn",
            rows=wanting,
            equation=verdicts.verdict_of_order,
            inputs={"needed": lambda row: counted(len(needed[row]))},
        )
        return OperationsDone(
            key="route",
            title="Operations",
            heading="Operation",
            note="Number the operations 1, 2, 3 … as they are done; one that is not needed stays "
            "blank. A reading says after "
            "which number it was taken: what moved the feature since makes it STALE.",
            rows=[Row(key, one.words) for key, one in known.items()],
            columns=(
                number.reading(
                    "done",
                    "done number",
                    how="1, 2, 3 … as it is done.",
                    wanted=False,
                    possible=(0.0, 99.0),
                    whole=True,
                ),
                typed_words("date", "date, as 2026-05-31", "Year-month-day.", width=13, day=True),
                typed_words("initials", "initials", "Who did it."),
                words(
                    "after",
                    "comes after, because",
                    lambda row: _reasons(spec, known, kept, row),
                    width=60,
                ),
                turn,
                Result(
                    name="turn",
                    words="turn",
                    rows=[key for key in judged if not needed[key]],
                    equation=verdicts.verdict_of_turn,
                ),
                Check(of=turn, judged=True, rows=judged, source="the order of work"),
                number.result(
                    "latest_before",
                    "latest of those",
                    verdicts.latest_done,
                    judged,
                    done=lambda row: self._done(before[row]),
                ),
                number.result(
                    "needed_done",
                    "needed and done",
                    standings.readings_taken,
                    wanting,
                    readings=lambda row: self._done(needed[row]),
                ),
            ),
        )


def _reasons(spec: Spec, known: dict[str, Operation], kept: list[Rule], key: str) -> str:
    return "; ".join(
        [
            f"{known[rule.before].words.split(',')[0].lower()}: {rule.reason}"
            for rule in kept
            if rule.after == key
        ]
        + [
            f"{one.before} set aside by the shop: {one.reason}"
            for one in spec.order.overruled
            if one.after == key
        ]
    )
