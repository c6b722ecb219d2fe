"""What every further feature of a block shares: its state, whether it is measured again, its ticks
and its nominal size.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from datumbook.cells.columns import Check, Reading
from datumbook.cells.tables import Line
from datumbook.equations.verdicts import DONE
from datumbook.numbers.quantities import Quantity
from datumbook.numbers.units import convert
from datumbook.spec import Limit
from datumbook.stations.received.route import spoilers_of
from datumbook.stations.received.states import FINISHED, RECEIVED, State
from datumbook.workbook.layout import Layout


@dataclass(frozen=True)
class Feature:
    """One feature of the order of work, in one state."""

    layout: Layout
    name: str
    state: State = RECEIVED

    @property
    def again(self) -> bool:
        """Whether an operation of this job moves the feature, so that it is measured once more."""
        return self.layout.spec.finished is not None and bool(
            spoilers_of(self.layout.spec, self.name)
        )

    def finished(self) -> Feature:
        """The same feature when the work is done."""
        return replace(self, state=FINISHED)

    def key(self, table: str) -> str:
        """A table's key in this state."""
        return self.state.key(table)

    def title(self, words: str) -> str:
        """A table's title; the state stands in it only where there are two."""
        return self.state.title(words) if self.again else words

    def spoilers(self) -> list[str]:
        """The operations that make this state's readings stale."""
        return self.state.spoilers(self.layout.spec, self.name)

    def check(self, table: str, of: str, limits: Limit, rows: Sequence[str] | None = None) -> Check:
        """A check of a column, superseded by that of the finished state."""
        twin = self.state.twin(self.layout.spec, table, of) if self.again else ""
        return Check(of=of, limits=limits, rows=rows, superseded_by=twin)

    def done(self, table: str, of: str) -> Check:
        """A check of a tick, superseded by that of the finished state."""
        twin = self.state.twin(self.layout.spec, table, of) if self.again else ""
        return Check(of=of, says=DONE, superseded_by=twin)

    def judged(self, form: str, line: Line, limits: Limit) -> Line:
        """A line of a form with its limits, superseded by that of the finished state."""
        twin = self.state.form_twin(self.layout.spec, form, line.column.name) if self.again else ""
        return replace(line, limits=limits, note=line.note or limits.source, superseded_by=twin)

    def signed(self, group: str) -> tuple[float, float]:
        """What an indicator can show either way: a millimetre, in the unit of a group."""
        most = convert(1.0, "mm", self.layout.unit_of(group))
        return -most, most

    def gap(self, group: str) -> tuple[float, float]:
        """What a feeler or a swept indicator can show: up to a millimetre, in the unit of a
        group.
        """
        return 0.0, self.signed(group)[1]


def tick(name: str, words: str, how: str) -> Reading:
    """A cell in which work is ticked off."""
    return Reading(name=name, words=words, unit=None, choices=(DONE,), how=how)


def drawn(band: Limit) -> Quantity | None:
    """The drawing's size, or the lower end where the drawing gives only two ends."""
    return band.nominal or band.low


def middle(limit: Limit) -> Quantity:
    """A size well within a limit: halfway between its ends, its lower end, or half its upper
    one.
    """
    low, high, half = limit.low, limit.high, Fraction(1, 2)
    if low is not None and high is not None:
        return (low + high) * half
    found = low if low is not None else high * half if high is not None else None
    assert found is not None  # a limit has an end
    return found
