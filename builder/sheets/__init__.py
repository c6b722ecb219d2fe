"""The sheets of the book, in the order of the work: each module declares one station and nothing else."""

from __future__ import annotations

from collections.abc import Sequence

from builder.layout import Job, Layout
from builder.placing import Placing
from builder.sheets import bores, finished, heights, holes, job, lands, method, plan, release, route, schedule, stops, threads
from builder.spec import Spec
from builder.spelling import Address

__all__ = ["lay_out"]


def lay_out(spec: Spec, block: Job | None = None) -> Layout:
    """Give every key of a spec its cell: first the stations in walking order, then the sheets that gather from them."""
    layout = Layout(spec, block or Job())
    work = (threads, schedule, stops, holes) if spec.holes else ()
    last = (finished,) if spec.finished is not None else ()
    stations = [station.sheet for station in (bores, lands, heights, plan, route, *work, *last)]
    for make in (*stations, release.sheet, job.sheet, method.sheet):
        Placing(layout, make(layout)).place_all()
    order = ["Job", *(name for name in layout.plans if name not in {"Job", "Release", "Method"}), "Release", "Method"]
    layout.plans = {name: layout.plans[name] for name in order}
    layout.places = dict(sorted(layout.places.items(), key=lambda item: _walk(order, item[1].at)))
    layout.checks.sort(key=lambda check: _walk(order, layout.places[check.key].at))
    return layout


def _walk(order: Sequence[str], at: Address) -> tuple[int, int, int]:
    return (order.index(at.sheet), at.row, at.column)
