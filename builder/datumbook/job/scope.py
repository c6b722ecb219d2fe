"""Scope: what a job touches of an engine, and what of the spec stands in its book.

An operation brings the stations it cannot do without, and the operations without which the order of
work forbids it; every cut brings the last inspection. The spec is never edited for a smaller book:
it is looked at through the scope, and its text travels in the book as it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from datumbook.job.model import Job
from datumbook.messages.refusals import Fault, fault_at
from datumbook.spec import Spec
from datumbook.spec.faults import SpecFaults
from datumbook.spec.groups import ReadingGroup
from datumbook.spec.model import groups_of
from datumbook.spec.wanted import SECTION_FORMS
from datumbook.standards.order import Operation, operations, rules
from datumbook.standards.works import StationKind, stations, works

SEEN_EVERYWHERE = ("heights",)  # sections whose figures as drawn other stations look at as well
INSPECTED = "final_inspection"  # what every cut brings: nothing cut goes out unmeasured


@dataclass(frozen=True)
class Brought:
    """A station or an operation that was not asked for, and what cannot do without it."""

    name: str
    by: str


@dataclass(frozen=True)
class Scope:
    """The operations and stations of a job on one engine, in their order."""

    given: Spec
    job: Job
    operations: tuple[str, ...]
    stations: tuple[str, ...]
    brought: tuple[Brought, ...]

    @cached_property
    def spec(self) -> Spec:
        """The spec as this job sees it: without the sections it does not touch."""
        spec, gone = self.given, [one for key, one in stations().items() if key not in self]
        bare = {
            section: () if isinstance(getattr(spec, section), tuple) else None
            for one in gone
            for section in one.sections
            if section not in SEEN_EVERYWHERE
        }
        if not self.cuts:
            bare["finished"] = None
        left_out = (
            *spec.order.left_out,
            *(set(operations()) - {*self.operations, *spec.order.left_out}),
        )
        seen = spec.model_copy(
            update={**bare, "order": spec.order.model_copy(update={"left_out": left_out})}
        )
        return seen.model_copy(update={"parts": _parts(seen), "repeat": self._repeat(seen)})

    @property
    def cuts(self) -> bool:
        """Whether any operation of the job takes metal."""
        return any(operations()[name].cut for name in self.operations)

    def _repeat(self, seen: Spec) -> object:
        twice = {*seen.repeat.groups, *self.job.twice}
        groups = tuple(group for group in self._read(seen) if group in twice)
        return seen.repeat.model_copy(update={"groups": groups})

    def _read(self, seen: Spec) -> list[ReadingGroup]:
        home = {"lands": "bores", "bores": "bores", "heights": "heights"}
        return [one for one in groups_of(seen) if home.get(one) in (None, *self.stations)]

    @cached_property
    def groups(self) -> list[ReadingGroup]:
        """The groups of readings that are read on this job."""
        return self._read(self.spec)

    def __contains__(self, name: str) -> bool:
        return name in self.stations


def words_of(name: str) -> str:
    """A station or an operation, in words."""
    found = stations().get(name)
    return found.words if found else operations()[name].words.split(",")[0].lower()


def scope_of(spec: Spec, job: Job) -> Scope:
    """What a job touches of an engine; SpecFaults where it names what the spec has no figures for,
    leaves out what it needs, or is for another engine.
    """
    faults = list(_faults(spec, job))
    asked, stations_asked = _asked(spec, job)
    done, brought = _with_what_they_need(asked, {*_known(spec)} - {*job.without})
    at, also = _stations_of(spec, done, stations_asked)
    faults += _missed(job, done, at)
    faults += (
        fault_at(("left", place, "station"), "not-in-job", one.station)
        for place, one in enumerate(job.left)
        if one.station not in at
    )
    faults += _without_a_line(job, at)
    if not at and not faults:
        known = ", ".join(described(spec)[:3])
        faults.append(fault_at(("work",), "job-empty", ", ".join(job.work), known))
    if faults:
        raise SpecFaults([job.placed(one) for one in faults])
    return Scope(
        spec,
        job,
        tuple(name for name in operations() if name in done),
        tuple(name for name in stations() if name in at),
        (*brought, *also),
    )


def _known(spec: Spec) -> dict[str, Operation]:
    """The operations this engine has, and has figures for."""
    return {
        key: one
        for key, one in operations().items()
        if key not in spec.order.left_out and not _wanting(spec, one)
    }


def _wanting(spec: Spec, operation: Operation) -> list[str]:
    """The sections without which an operation cannot be planned, and which the spec lacks."""
    return [section for section in operation.wants if not getattr(spec, section)]


def described(spec: Spec) -> list[str]:
    """The stations an engine has figures for."""
    return [key for key, one in stations().items() if _described(spec, one)]


def _described(spec: Spec, station: StationKind) -> bool:
    """Whether the spec has figures for a station, and for those it cannot do without."""
    own = [getattr(spec, section) for section in station.sections]
    return (any(own) or not own) and all(_described(spec, stations()[one]) for one in station.needs)


def _lacking(spec: Spec, station: StationKind) -> list[str]:
    """The sections a station, or one it cannot do without, is not described by."""
    own = [] if any(getattr(spec, one) for one in station.sections) else [*station.sections]
    further = (_lacking(spec, stations()[one]) for one in station.needs)
    return [*own, *(section for found in further for section in found)]


def _asked(spec: Spec, job: Job) -> tuple[list[str], list[str]]:
    """The operations and the stations a job names, by themselves or by the word for a work."""
    known = [*_known(spec)]
    figured = described(spec)
    done: list[str] = []
    at: list[str] = []
    for word in (*job.work, *job.also):
        if (work := works().get(word)) is None:
            done += [word] if word in operations() else []
            at += [word] if word in stations() else []
        elif work.everything:
            done += known
            at += [key for key in figured if not stations()[key].by_name]
        else:
            done += work.operations
            at += work.stations
    return (
        [name for name in done if name in known and name not in job.without],
        [name for name in at if name in figured and name not in job.without],
    )


def _with_what_they_need(asked: Iterable[str], may: set[str]) -> tuple[set[str], list[Brought]]:
    """Operations with those that must be done before them; every cut with the last inspection."""
    done, brought, todo = set(asked), list[Brought](), list(asked)
    while todo:
        name = todo.pop(0)
        needed = [one.before for one in rules() if one.after == name and one.needed]
        for other in needed + ([INSPECTED] if operations()[name].cut else []):
            if other in may and other not in done:
                done.add(other)
                todo.append(other)
                brought.append(Brought(other, name))
    return done, brought


def _needs(done: Iterable[str], asked: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Each station that an operation or another station cannot do without, and which."""
    for name in operations():
        if name in done:
            yield from ((station, name) for station in operations()[name].needs)
    for name in asked:
        yield from ((station, name) for station in stations()[name].needs)


def _stations_of(spec: Spec, done: set[str], asked: list[str]) -> tuple[set[str], list[Brought]]:
    at, brought = set(asked), list[Brought]()
    for station, by in [*_needs(done, asked)]:
        if station not in at and _described(spec, stations()[station]):
            at.add(station)
            brought.append(Brought(station, by))
    at.update(station for name in [*at] for station in stations()[name].needs)
    return at, brought


def _without_a_line(job: Job, at: set[str]) -> Iterator[Fault]:
    """What a job leaves as it is although nothing on the first sheet could say so."""
    lines = [key for key, one in stations().items() if key in at and one.own_line]
    for place, one in enumerate(job.left):
        if one.station in at and one.station not in lines:
            advice = "Leave the stations whose sheets it is about, or take it out of the job."
            yield fault_at(
                ("left", place, "station"),
                "not-one-of",
                one.station,
                ", ".join(lines),
                advice=advice,
            )


def _missed(job: Job, done: set[str], at: set[str]) -> Iterator[Fault]:
    """What a job leaves out although something it does cannot do without it."""
    for station, by in _needs(done, at):
        if station in job.without:
            yield fault_at(("without",), "needed-by", station, words_of(by))


def _faults(spec: Spec, job: Job) -> Iterator[Fault]:
    if job.engine and job.engine != spec.engine.name:
        yield fault_at(("engine",), "other-engine", job.engine, spec.engine.name)
    for key, names in (("work", job.work), ("with", job.also)):
        for name in names:
            station, operation = stations().get(name), operations().get(name)
            if operation and (wanting := _wanting(spec, operation)):
                yield fault_at(
                    (key,),
                    "figures-wanting",
                    name,
                    " and ".join(f"[{one}]" for one in wanting),
                    example=SECTION_FORMS[wanting[0]],
                )
            elif station and not _described(spec, station):
                lacking = ", ".join(_lacking(spec, station))
                yield fault_at((key,), "not-on-this-engine", name, lacking)
            elif name in spec.order.left_out:
                yield fault_at((key,), "not-on-this-engine", name, "left_out in [order]")


def _parts(spec: Spec) -> object:
    """The parts that go in, without those whose place the job does not touch."""
    homes = {"cam_journals": spec.cam, "tappets": spec.tappet_bores}
    gone = {part: None for part, home in homes.items() if not home}
    return spec.parts.model_copy(update=gone) if spec.parts else None
