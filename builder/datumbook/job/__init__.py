"""The job: what one block is here for, from a file of its own or from the options of a command."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from datumbook.job.model import Job, in_job
from datumbook.job.scope import Scope, scope_of, words_of
from datumbook.spec.documents import read_document, schema_of, text_of
from datumbook.spec.faults import SpecFaults, faults_of
from datumbook.standards.order import operations
from datumbook.standards.works import works

__all__ = [
    "Job",
    "Scope",
    "job_of",
    "job_schema",
    "load_job",
    "read_job",
    "scope_of",
    "work_in_words",
]


def load_job(path: Path | str) -> Job:
    """Return the job in a file; SpecFaults with every fault of it, the file named as it was
    given.
    """
    return read_job(text_of(path), str(path))


def read_job(text: str, name: str) -> Job:
    """Return the job a text holds; SpecFaults with every fault of it. The name stands for the file
    in messages.
    """
    return _modelled(read_document(text, name), text, name).given_as(text, name)


def job_of(given: Mapping[str, Any]) -> Job:
    """Return the job that options of a command say; SpecFaults naming the options."""
    return _modelled(given, "", "")


def _modelled(given: Mapping[str, Any], text: str, name: str) -> Job:
    try:
        return Job.model_validate(given)
    except ValidationError as error:
        found = faults_of(error, job_schema())
        raise SpecFaults([in_job(fault, text, name) for fault in found]) from None


def work_in_words(job: Job) -> str:
    """What a job is, in one line."""
    kinds, steps = works(), operations()
    said = "; ".join(
        kinds[one].words if one in kinds else steps[one].words.split(",")[0] for one in job.work
    )
    beside = f"; with {', '.join(map(words_of, job.also))}" if job.also else ""
    without = f"; without {', '.join(map(words_of, job.without))}" if job.without else ""
    return f"{said}{beside}{without}"


@cache
def job_schema() -> dict[str, Any]:
    """Return the JSON Schema of a job file, for editors and for the reference."""
    return schema_of(Job, "Job on one block")
