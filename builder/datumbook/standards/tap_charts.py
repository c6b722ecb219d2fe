"""Tap charts: the drills that printed charts name for a thread."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from datumbook.standards import table
from datumbook.standards.drills import Drill, parse_drill
from datumbook.standards.threads import Thread


@dataclass(frozen=True, slots=True)
class ChartDrill:
    """A drill that a chart names, and which chart that is."""

    drill: Drill
    source: str


def chart_drills(thread: Thread) -> list[ChartDrill]:
    """Return the drills that charts name for a thread, the usual one first, each once.

    >>> from datumbook.standards.threads import parse_thread
    >>> [one.drill.name for one in chart_drills(parse_thread("5/16-24"))]
    ['I', '17/64']
    """
    named: dict[str, ChartDrill] = {}
    for name, source in _named(thread):
        drill = parse_drill(name)
        named.setdefault(drill.name, ChartDrill(drill, source))
    return list(named.values())


def _named(thread: Thread) -> Iterator[tuple[str, str]]:
    yield from ((name, thread.drill_source) for name in thread.drills)
    size = thread.designation.split("-")[0]
    for chart in table("tap_charts")["chart"]:
        if name := chart.get(thread.family, {}).get(size):
            yield name, chart["source"]
