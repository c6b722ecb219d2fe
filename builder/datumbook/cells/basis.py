"""Basis: what a book is declared from, the engine's spec as the job sees it, and the job."""

from __future__ import annotations

import hashlib
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TypeVar

from datumbook import VERSION
from datumbook.cells.columns import Sizes
from datumbook.job import Job, Scope
from datumbook.numbers.quantities import Quantity
from datumbook.numbers.units import convert
from datumbook.spec import Spec
from datumbook.spec.block import Heights, Lands

StatedPart = TypeVar("StatedPart")


@dataclass
class Basis:
    """The spec of an engine and one job on it: all that a station is declared from."""

    scope: Scope

    @property
    def spec(self) -> Spec:
        """The engine's spec as this job sees it."""
        return self.scope.spec

    @property
    def job(self) -> Job:
        """What is done to which block."""
        return self.scope.job

    @property
    def lands(self) -> Lands:
        """The lands of the spec, for stations that stand only in a book that has them."""
        return _stated(self.spec.lands)

    @property
    def heights(self) -> Heights:
        """The heights of the spec, for stations that stand only in a book that has them."""
        return _stated(self.spec.heights)

    @property
    def stroke(self) -> Quantity:
        """The stroke, which every spec with heights states."""
        return _stated(self.spec.bores.stroke)

    def has(self, station: str) -> bool:
        """Whether a station stands in this book."""
        return station in self.scope.stations

    def does(self, operation: str) -> bool:
        """Whether an operation is part of the job."""
        return operation in self.scope.operations

    @property
    def heading(self) -> str:
        """What stands at the head of every sheet: which job this is, of which engine, in which
        book.
        """
        return f"Job {self.job.block} · {self.spec.engine.name} · book {self.identity}"

    @cached_property
    def identity(self) -> str:
        """The book's identity: the same spec, job and version give the same."""
        return self.identity_by(VERSION)

    def identity_by(self, version: str) -> str:
        """The identity that another version of the tool gives the same spec and job."""
        full = [self.spec.full_text] if self.spec.full_text else []
        parts = (self.spec.text, *full, self.job.model_dump_json(), version)
        digest = hashlib.sha256("\n".join(parts).encode()).hexdigest().upper()
        return f"{digest[:4]}-{digest[4:8]}-{digest[8:12]}"

    def unit_of(self, group: str) -> str:
        """The unit a group of readings is read in: the job's, else the spec's."""
        chosen = {str(key): unit for key, unit in self.job.units.items()}
        return chosen.get(group) or self.spec.units[group]

    def decimals_of(self, group: str) -> int:
        """How many places a group is shown with; a group read in another unit keeps its last step
        about as fine.
        """
        places, step = (
            self.spec.decimals[group],
            convert(1.0, self.unit_of(group), self.spec.units[group]),
        )
        return max(0, places + round(math.log10(step)))

    def sizes(self, group: str) -> Sizes:
        """What makes the columns of a group's sizes."""
        return Sizes(self.unit_of(group), self.decimals_of(group), group)

    def decisions(self, group: str) -> Sizes:
        """What makes the columns of sizes that are decided, read off no gauge, as a group's are."""
        return replace(self.sizes(group), group=None)

    def cylinders(self) -> range:
        """The numbers of the cylinders."""
        return range(1, self.spec.engine.cylinders + 1)

    def lined(self) -> Sequence[int]:
        """The numbers of the cylinders that have a liner or may get one."""
        stated = self.spec.liners.cylinders if self.spec.liners else ()
        return stated or self.cylinders()

    def bearings(self) -> range:
        """The numbers of the main bearings."""
        return range(1, self.spec.engine.bearing_caps + 1)


def _stated(part: StatedPart | None) -> StatedPart:
    assert part is not None, "a station was declared that the spec has no figures for"
    return part
