"""Decided: what a job says of its holes beforehand, put into the cells of the bench."""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.handles import Key
from datumbook.job import Job
from datumbook.job.model import Opened
from datumbook.messages.refusals import Fault, fault_at
from datumbook.spec import SpecFaults
from datumbook.stations.holes.group import GroupAtWork
from datumbook.stations.holes.hole_work import HoleWork
from datumbook.stations.holes.single_lines import LINES


def holes_decided(job: Job, work: HoleWork | None) -> dict[Key, str]:
    """What is typed for the holes that a job opens; SpecFaults where it names holes, threads or
    drills that are not there, or more single holes than there are lines.
    """
    typed: dict[Key, str] = {}
    faults: list[Fault] = []
    lines = {one.unit: iter(LINES) for one in work.single_lines} if work else {}
    for at, opened in enumerate(job.opened):
        faults += _faults(at, opened, work)
        if faults or work is None:
            continue
        group = _group(work, opened)
        if opened.holes == group.spec.key:
            typed |= _of_group(work, group, opened)
        elif (line := next(lines[group.unit], None)) is not None:
            typed |= _of_hole(work, group, opened, line)
        else:
            faults.append(
                fault_at(("opened", at, "holes"), "too-many-single", opened.holes, str(len(LINES)))
            )
    if faults:
        raise SpecFaults([job.placed(one) for one in faults])
    return typed


def _group(work: HoleWork, opened: Opened) -> GroupAtWork:
    return next(one for one in work.groups.all if opened.holes in (one.spec.key, *one.spec.names))


def _faults(at: int, opened: Opened, work: HoleWork | None) -> Iterator[Fault]:
    groups = work.groups.all if work else []
    known = [name for one in groups for name in (one.spec.key, *one.spec.names)]
    if work is None or opened.holes not in known:
        groups_known = ", ".join(one.spec.key for one in groups) or "none on this job"
        advice = "Name a group, or one hole of it."
        yield fault_at(
            ("opened", at, "holes"), "not-one-of", opened.holes, groups_known, advice=advice
        )
        return
    group = _group(work, opened)
    offered = [one.words for one in group.offered]
    drills = work.opened.drills_of(group.spec.key)
    for key, said, words in (("to", opened.to, offered), ("drill", opened.drill, drills)):
        if said and said not in words:
            advice = "Write one of these."
            yield fault_at(("opened", at, key), "not-one-of", said, ", ".join(words), advice=advice)


def _of_group(work: HoleWork, group: GroupAtWork, opened: Opened) -> dict[Key, str]:
    row, cells = group.spec.key, work.opened
    drill = {cells.column("typed_drill")[row]: opened.drill} if opened.drill else {}
    return {cells.opened_to[row]: opened.to, **drill, cells.decided_by[row]: opened.by}


def _of_hole(work: HoleWork, group: GroupAtWork, opened: Opened, line: str) -> dict[Key, str]:
    cells = next(one for one in work.single_lines if one.unit == group.unit)
    drill = {cells.typed_drill[line]: opened.drill} if opened.drill else {}
    return {
        cells.hole[line]: opened.holes,
        cells.like[line]: group.spec.words,
        cells.opened_to[line]: opened.to,
        **drill,
        cells.decided_by[line]: opened.by,
    }
