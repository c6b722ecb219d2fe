"""What programs call, and the commands with them: spec to book, book to verdict, plan and readings.

`import datumbook` has these functions by name and loads them when they are first asked for; the
manual's page programs.md tells of each. What a person can put right is raised as ExpectedError,
what the system refuses as OSError; of a workbook everything is told and nothing raised.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from datumbook import carrying, planning, validator
from datumbook.api.targets import hold_free, write_book
from datumbook.carrying import Carried, ReadingTold
from datumbook.cells.tables import STAGES, Stage
from datumbook.files import as_file_name
from datumbook.job import Job, job_of, load_job
from datumbook.messages import ExpectedError
from datumbook.planning import Plan, layout_of
from datumbook.spec import Spec, find_spec, load_spec
from datumbook.stations import lay_out
from datumbook.validator import Validation
from datumbook.workbook.layout import Layout

__all__ = [
    "BookWritten",
    "ExpectedError",
    "Plan",
    "ReadingTold",
    "Spec",
    "Validation",
    "fill",
    "generate",
    "laid_out",
    "plan",
    "read_spec",
    "readings",
    "stage_named",
    "usual_target",
    "validate",
    "write_out",
]

FilePath = Path | str
JobGiven = Job | FilePath | Mapping[str, Any]


@dataclass(frozen=True)
class BookWritten:
    """A workbook that was written: where, its layout, what was carried into it from elsewhere, and
    where the workbook is kept that stood there before, None where none did.
    """

    path: Path
    layout: Layout
    carried: Carried
    kept: Path | None


def read_spec(spec: FilePath) -> Spec:
    """Return the spec in a file, or a shipped one by its name. SpecFaults, which is an
    ExpectedError, with every fault; ExpectedError where nothing is called so.
    """
    return load_spec(find_spec(Path(spec)))


def laid_out(spec: Spec, job: JobGiven) -> Layout:
    """Return the book of a job before it is a file; SpecFaults where the job is at fault or asks
    for what the spec does not have.
    """
    if isinstance(job, Mapping):
        job = job_of(job)
    layout = lay_out(spec, job if isinstance(job, Job) else load_job(job))
    layout.stations.said()  # told now what the job names and the engine has not
    return layout


def usual_target(layout: Layout) -> Path:
    """Return what a book is called where nobody says: by its spec's file and its job."""
    return Path(f"{layout.spec.path.stem}_{as_file_name(layout.job.block)}.xlsx")


def generate(
    spec: Spec | FilePath,
    out: FilePath | None = None,
    *,
    job: JobGiven | None = None,
    readings: FilePath | None = None,
    pen: bool = False,
    protected: bool = True,
    replace: bool = False,
) -> BookWritten:
    """Write the workbook of a spec for one block, and say where.

    out: the file to write; SPEC_BLOCK.xlsx in the working folder if left out. job: what the block
    is here for, a job file or its keys; the whole work on a block without a name if left out.
    readings: a CSV or an older book whose readings are carried over. pen: as forms to write on.
    protected: whether its sheets are locked but for what is typed. replace: whether a file may be
    written over. Raises ExpectedError, OSError.
    """
    engine = spec if isinstance(spec, Spec) else read_spec(spec)
    layout = laid_out(engine, {} if job is None else job)
    return write_out(layout, out, readings=readings, pen=pen, protected=protected, replace=replace)


def write_out(
    layout: Layout,
    out: FilePath | None = None,
    *,
    readings: FilePath | None = None,
    pen: bool = False,
    protected: bool = True,
    replace: bool = False,
) -> BookWritten:
    """Write a book that is laid out, with what its job says in it; as generate."""
    target = usual_target(layout) if out is None else Path(out)
    hold_free(target, replace, book=True)
    carried = Carried() if readings is None else carrying.carry(layout, Path(readings))
    said: dict[str, float | str] = {str(key): one for key, one in layout.stations.said().items()}
    kept = write_book(layout, target, said | carried.typed, pen=pen, protected=protected)
    return BookWritten(target, layout, carried, kept)


def validate(book: FilePath, *, stage: Stage = "finished", shop: Sequence[Spec] = ()) -> Validation:
    """Judge a filled workbook; whatever the file holds, or where there is none, the answer is a
    Validation.

    stage: received and planned ask for less. shop: the shop's own specs, beside whose limits those
    of the book are held. ExpectedError where there is no such stage.
    """
    return validator.validate(Path(book), stage_named(stage), shop)


def stage_named(word: str) -> Stage:
    """Return the stage of the work that is called so; ExpectedError where none is."""
    for stage in STAGES:
        if word == stage:
            return stage
    raise ExpectedError(f"write one of {', '.join(STAGES)}.")


def plan(book: FilePath | Validation) -> Plan:
    """Say what may be cut, from what a book holds today. ExpectedError where it cannot be read, is
    none of ours, or measures nothing that is cut.
    """
    return planning.plan(_judged(book))


def readings(book: FilePath | Validation) -> list[ReadingTold]:
    """Return every cell for a reading and what stands in it, in the order of the sheets.
    ExpectedError where the book cannot be read or is none of ours; whether to rely on it, its
    Validation says.
    """
    made = _judged(book)
    layout_of(made)
    return list(carrying.readings_told(made))


def fill(book: FilePath, csv: FilePath, out: FilePath, *, replace: bool = False) -> BookWritten:
    """Write a workbook anew with the readings of a CSV in it: what it holds is kept, the CSV wins.
    A changed reading takes back a release; the sheets stay locked or open as they were. Raises
    ExpectedError, of a damaged book too, and OSError.
    """
    target = Path(out)
    hold_free(target, replace, book=True)
    made = carrying.sound(validator.validate(Path(book)))
    assert made.layout is not None
    assert made.record is not None
    carried = carrying.from_csv(made.layout, Path(csv), made)
    typed = carrying.merged(made.layout, made.typed, carried.typed)
    kept = write_book(made.layout, target, typed, protected=made.record.protected)
    return BookWritten(target, made.layout, carried, kept)


def _judged(book: FilePath | Validation) -> Validation:
    return book if isinstance(book, Validation) else validator.validate(Path(book))
