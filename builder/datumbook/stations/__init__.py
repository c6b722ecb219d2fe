"""The stations of a book: what each declares from spec and job, and how they are laid out.

First every station is declared, each given the stations it reads (composition.py). Then the sheets
are placed one below the other as one walks round the block (walk.py), and after them those that
gather from what was placed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from datumbook.cells.basis import Basis
from datumbook.cells.tables import joined
from datumbook.effort import in_one_go
from datumbook.job import Job, scope_of
from datumbook.spec import Spec
from datumbook.stations.composition import Stations
from datumbook.stations.finished.customer import CustomerPage
from datumbook.stations.finished.method import MethodPage
from datumbook.stations.finished.release import Release
from datumbook.stations.received.job import JobRecord
from datumbook.stations.walk import walk
from datumbook.workbook.guesses import resting_on_guesses
from datumbook.workbook.layout import Layout
from datumbook.workbook.placing import judge, place
from datumbook.workbook.repeats import apart

__all__ = ["lay_out"]

FIRST, LAST = ("Job", "Instruments"), ("Release", "Customer", "Method")
JOB = "The job, and the way through this book"


@in_one_go
def lay_out(spec: Spec, job: Job | None = None) -> Layout:
    """Give every key of a job on a spec its cell. DeclarationError naming who asks for what is not
    there; SpecFaults where the job asks for what the spec does not have.
    """
    basis = Basis(scope_of(spec, job or Job()))
    stations = Stations(basis)
    layout = Layout(basis.scope, stations)
    for sheet in walk(stations):
        place(layout, sheet)
    place(layout, stations.instruments.sheet(apart(layout)))
    stations.job = JobRecord(layout, stations.rule)
    place(layout, joined("Job", JOB, stations.job.sheet(), stations.route.sheet()))
    guessed = resting_on_guesses(layout)
    layout.checks = [
        replace(
            one,
            superseded_by=tuple(sorted(layout.answered.get(one.key, ()))),
            guessed=one.verdict in guessed,
        )
        for one in layout.checks
    ]
    stations.release = release = Release(layout, stations.rule)
    for gatherer in (release, CustomerPage(layout, release)):
        place(layout, gatherer.sheet())
    if basis.has("method"):
        place(layout, MethodPage(layout).sheet())
    judge(layout)
    _in_order(layout)
    return layout


def _in_order(layout: Layout) -> None:
    """Sheets, cells and checks in the order of the book."""
    walked = [name for name in layout.plans if name not in {*FIRST, *LAST}]
    last = [name for name in LAST if name in layout.plans]
    order: Sequence[str] = [*FIRST, *walked, *last]
    rank = {name: number for number, name in enumerate(order)}
    layout.plans = {name: layout.plans[name] for name in order}
    walk_of = {
        key: (rank[one.at.sheet], one.at.row, one.at.column) for key, one in layout.places.items()
    }
    layout.places = {key: layout.places[key] for key in sorted(walk_of, key=walk_of.__getitem__)}
    layout.checks.sort(key=lambda check: walk_of[check.key])
