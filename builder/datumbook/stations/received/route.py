"""Route: the operations in the trade's order, each with a done number, and whether each came in its
turn.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Reading, Result, Sizes, typed_words, words
from datumbook.cells.handles import Key
from datumbook.cells.tables import Line, MeasuredAfter, Row, Sheet, Spoilers, Table
from datumbook.equations import order, standings
from datumbook.numbers.quantities import counted
from datumbook.spec import Spec
from datumbook.standards.cautions import on_route
from datumbook.standards.order import (
    MeasuredTogether,
    Operation,
    Rule,
    measured_with,
    operations,
    rules,
    spoilers,
)
from datumbook.stations.received.assembly import Assembly
from datumbook.stations.received.cautioned import beside_the_work


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
    step: Column


class Route:
    """The operations of this job in the trade's order, and what each of them makes stale."""

    def __init__(self, basis: Basis, assembly: Assembly) -> None:
        self.spec, self.scope, self.assembly = basis.spec, basis.scope, assembly
        self._series: dict[str, MeasuredAfter] = {}
        self.operations = self._operations()

    def sheet(self) -> Sheet:
        """The sheet of the route."""
        mind = beside_the_work(on_route(self.scope.stations, self.scope.operations))
        return Sheet(
            name="Route",
            read=True,
            title="Route of the work",
            parts=(*mind, self.operations),
            penned=(*mind, self.operations),
        )

    def spoilers(self, feature: str) -> Spoilers | None:
        """What makes a feature's finished readings stale, None where nothing on this job does."""
        moved_by = spoilers_of(self.spec, feature)
        if not moved_by:
            return None
        heats = [one for one in self.assembly.heats if one in operations_of(self.spec)]
        series = measured_with(feature)
        after = self._series.setdefault(series.key, self._measured_after(series))
        return Spoilers(after, self._done([*moved_by, *heats]))

    def recorded(self, sizes: Sequence[Key]) -> Table:
        """Whether the route tells of any cut, once finished sizes are read."""
        cuts, number = (
            [key for key, one in operations_of(self.spec).items() if one.cut],
            Sizes("", 0),
        )
        taken = standings.readings_taken
        verdict = Result(name="verdict", words="verdict", equation=order.verdict_of_record)
        return Table(
            key="recorded",
            title="Cuts on the route",
            heading="What",
            note="What is measured as finished was cut: number its operations on the route.",
            rows=[Row("cuts", "Operations that cut")],
            columns=(
                number.result("read", "finished sizes", taken, None, readings=sizes),
                number.result("numbered", "numbered", taken, None, readings=self._done(cuts)),
                verdict,
                Check(of=verdict, judged=True, source="the route"),
            ),
        )

    def _measured_after(self, series: MeasuredTogether) -> MeasuredAfter:
        """After which step a series was measured, its line of the route and its done number."""
        known, number = operations_of(self.spec), Sizes("", 0)
        columns = (
            Reading(
                name="step",
                words="measured after the step",
                unit=None,
                choices=tuple(map(step_words, known)),
                how="The last step of the Route that was done when these were read.",
            ),
            number.result(
                "line",
                "line of that step",
                order.line_of_step,
                steps=[self.operations.step[key] for key in known],
            ),
            number.result(
                "number",
                "done number of that step",
                order.done_number_on_line,
                done=self._done(known),
            ),
            Result(name="verdict", words="verdict", equation=order.verdict_of_series),
        )
        return MeasuredAfter(
            key=f"measured_{series.key}",
            title=series.words,
            lines=[Line(column=column) for column in columns],
        )

    def _done(self, operations: Iterable[str]) -> list[Key]:
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
            equation=order.verdict_of_order,
            inputs={"needed": lambda row: counted(len(needed[row]))},
        )
        fault = Result(name="fault", words="what is wrong", equation=order.fault_of_turn, width=28)
        return OperationsDone(
            key="route",
            title="Operations",
            heading="Operation",
            note="Number the operations 1, 2, 3 … as they are done; one that is not needed stays "
            "blank. Finished readings say after which step they were taken: what moved the feature "
            f"since makes them STALE. {_of_every_cut(known, kept)}",
            rows=[Row(key, one.words) for key, one in known.items()],
            columns=(
                number.reading(
                    "done",
                    "done number",
                    how="1, 2, 3 … as it is done.",
                    wanted=False,
                    possible=(1.0, 99.0),
                    whole=True,
                ),
                words("step", "step", step_words, width=15),
                typed_words("date", "date, as 2026-05-31", "Year-month-day.", width=13, day=True),
                typed_words("initials", "initials", "Who did it."),
                turn,
                Result(
                    name="turn",
                    words="turn",
                    rows=[key for key in judged if not needed[key]],
                    equation=order.verdict_of_turn,
                ),
                Result(
                    name="turn",
                    words="turn",
                    rows=[key for key in known if not before[key]],
                    equation=order.verdict_of_number,
                ),
                Check(of=turn, judged=True, source="the order of work", story=(fault,)),
                fault,
                number.result(
                    "latest_before",
                    "latest of those",
                    order.latest_done,
                    judged,
                    done=lambda row: self._done(before[row]),
                ),
                number.result(
                    "used", "so numbered", order.times_used, numbers=lambda _: self._done(known)
                ),
                number.result(
                    "needed_done",
                    "needed and done",
                    standings.readings_taken,
                    wanting,
                    readings=lambda row: self._done(needed[row]),
                ),
                words(
                    "after",
                    "comes after, because",
                    lambda row: _reasons(spec, known, kept, row),
                    width=42,
                ),
            ),
        )


def step_words(operation: str) -> str:
    """An operation in the words by which finished readings name it.

    >>> step_words("line_bore")
    'line bore'
    """
    return operation.replace("_", " ")


def _of_every_cut(known: dict[str, Operation], kept: list[Rule]) -> str:
    """What comes before any cut, and why."""
    return "".join(
        f"Before any cut, {known[rule.before].words.split(',')[0].lower()}: {rule.reason}. "
        for rule in dict.fromkeys(replace(one, after="") for one in kept if one.every_cut)
    )


def _reasons(spec: Spec, known: dict[str, Operation], kept: list[Rule], key: str) -> str:
    return "; ".join(
        [
            f"{known[rule.before].words.split(',')[0].lower()}: {rule.reason}"
            for rule in kept
            if rule.after == key and not rule.every_cut
        ]
        + [
            f"{one.before} set aside by the shop: {one.reason}"
            for one in spec.order.overruled
            if one.after == key
        ]
    )
