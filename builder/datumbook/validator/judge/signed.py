"""Who signed, and why: two people where two are asked for, and names and reasons that are some.

A formula counts a cell that holds anything as filled; what stands in it is looked at here.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from datumbook.cells.handles import Key
from datumbook.cells.tables import Stage
from datumbook.equations.standings import CONCEDED
from datumbook.equations.station_lines import AS_IT_IS
from datumbook.messages.findings import Finding
from datumbook.validator.locate.location import Located
from datumbook.validator.readings.signatures import is_name, is_reason, one_person
from datumbook.workbook.layout import Layout


def signed(
    layout: Layout, located: Located, values: Mapping[str, object], reached: Collection[Stage]
) -> Iterator[Finding]:
    """Yield the names and reasons that are none where one counts, and a release by one person."""
    names, reasons = _counting(layout, values)
    for code, good, keys in (
        ("name-is-none", is_name, names),
        ("reason-is-none", is_reason, reasons),
    ):
        for key in keys:
            said, place = str(values.get(key) or ""), layout.places[key]
            if said.strip() and place.stage in reached and not good(said):
                yield located.about(code, place, found=said)
    yield from _one_person(layout, located, values, reached)


def _counting(layout: Layout, values: Mapping[str, object]) -> tuple[list[Key], list[Key]]:
    """The names and the reasons that something hangs on: the decision, concessions that hold,
    stations left as they are.
    """
    form, every = layout.stations.release.decision, layout.stations.release.checks
    way = layout.stations.job.way
    conceded = [key for key in every.of if every.standing.held_in(values, key) == CONCEDED]
    left = [row for row in way.first.values() if values.get(way.state[row]) == AS_IT_IS]
    names = [form.measured_by.key, form.released_by.key]
    names += [every.conceded_by[key] for key in conceded] + [way.by[row] for row in left]
    reasons = [form.reason.key, form.read_again.key]
    reasons += [every.reason[key] for key in conceded] + [way.reason[row] for row in left]
    return names, reasons


def _one_person(
    layout: Layout, located: Located, values: Mapping[str, object], reached: Collection[Stage]
) -> Iterator[Finding]:
    """A block is released by another than whoever measured it."""
    form = layout.stations.release.decision
    place = layout.places[form.released_by.key]
    first, second = (str(values.get(key.key) or "") for key in (form.measured_by, form.released_by))
    released = str(values.get(form.decision.key) or "").casefold() == "released"
    if released and place.stage in reached and one_person(first, second):
        yield located.about("one-person", place, found=second, expected=first)
