"""The sheets of the book, in the order of the work: each module declares one station and nothing
else.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

from datumbook.cells.basis import Job
from datumbook.cells.tables import Sheet
from datumbook.formulas.spelling import Address
from datumbook.spec import Spec
from datumbook.stations.composition import Stations
from datumbook.stations.finished import finished_features
from datumbook.stations.finished.customer import CustomerPage
from datumbook.stations.finished.method import MethodPage
from datumbook.stations.finished.release import Release
from datumbook.stations.received import cam, small_bores
from datumbook.stations.received.job import JobRecord
from datumbook.workbook.layout import Layout
from datumbook.workbook.placing import Placing
from datumbook.workbook.repeats import apart

__all__ = ["lay_out"]


def lay_out(spec: Spec, block: Job | None = None) -> Layout:
    """Give every key of a spec its cell: first the stations in walking order, then the sheets that
    gather from them.
    """
    layout = Layout(spec, block or Job())
    layout.stations = Stations(layout)
    for make in _stations(layout):
        Placing(layout, make(layout)).place_all()
    Placing(layout, layout.stations.instruments.sheet(apart(layout))).place_all()
    layout.checks = [
        replace(one, superseded_by=layout.answered.get(one.key, one.superseded_by))
        for one in layout.checks
    ]
    release = Release(layout, layout.stations.rule)
    layout.stations.release = release
    Placing(layout, release.sheet()).place_all()
    Placing(layout, CustomerPage(layout, release.decision).sheet()).place_all()
    layout.stations.job = JobRecord(layout, layout.stations.rule, release.decision.release_state)
    Placing(layout, layout.stations.job.sheet()).place_all()
    Placing(layout, MethodPage(layout).sheet()).place_all()
    first, last = ("Job", "Instruments"), ("Release", "Customer", "Method")
    order = [*first, *(name for name in layout.plans if name not in {*first, *last}), *last]
    layout.plans = {name: layout.plans[name] for name in order}
    layout.places = dict(sorted(layout.places.items(), key=lambda item: _walk(order, item[1].at)))
    layout.checks.sort(key=lambda check: _walk(order, layout.places[check.key].at))
    return layout


def _stations(layout: Layout) -> list[Callable[[Layout], Sheet]]:
    """The stations this engine has, in walking order."""
    spec = layout.spec
    holes = layout.stations.holes
    small, fitting = layout.stations.small_bores(), layout.stations.fitting
    fits = layout.stations.fits
    known: list[tuple[Callable[[Layout], Sheet], Any]] = [
        (lambda layout: layout.stations.identity.sheet(), spec.identity),
        (lambda layout: layout.stations.plugs.sheet(), spec.gallery_plugs),
        (lambda layout: layout.stations.proofs.sheet(), spec.proofs),
        (lambda layout: layout.stations.bores.sheet(), True),
        (lambda layout: layout.stations.lands.sheet(), True),
        (lambda layout: layout.stations.walls.sheet(), spec.walls),
        (lambda layout: layout.stations.dry_liners.sheet(), spec.dry_liners),
        (lambda layout: layout.stations.liners.sheet(), layout.stations.liners),
        (lambda layout: layout.stations.heights.sheet(), True),
        (lambda layout: layout.stations.faces.sheet(), spec.flatness or spec.squareness),
        (lambda layout: layout.stations.tunnels.sheet(), spec.tunnels),
        (lambda layout: cam.sheet(layout.stations.cam_bores, layout.stations.cam_centre), spec.cam),
        (lambda _: small_bores.sheet(small), small),
        (lambda layout: layout.stations.plan.sheet(), True),
        (lambda layout: layout.stations.budget.sheet(), True),
        (
            lambda layout: layout.stations.parts.sheet(),
            spec.parts and layout.stations.parts.parts(),
        ),
        (lambda layout: layout.stations.route.sheet(), True),
        *((lambda _, one=one: one, True) for one in (holes.sheets() if holes else ())),
        (lambda layout: layout.stations.finished.sheet(), spec.finished),
        (finished_features.sheet, finished_features.parts(layout)),
        (lambda _: fits.sheet(), fits and fits.parts()),
        (lambda _: fitting.sheet(), fitting and fitting.parts()),
    ]
    return [make for make, wanted in known if wanted]


def _walk(order: Sequence[str], at: Address) -> tuple[int, int, int]:
    return (order.index(at.sheet), at.row, at.column)
