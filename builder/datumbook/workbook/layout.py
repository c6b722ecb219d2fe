"""Spec and sheets together: every key gets its cell. The one contract between writer and validator.

A Layout knows, for every key, where it stands, what it shows, in which unit, and (traced on demand)
with which formula; no file format lives here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Influence, Reading, Sensitivity, Uncertainty, per
from datumbook.cells.handles import DeclarationError, Handle, Key
from datumbook.cells.tables import Sheet
from datumbook.effort import spend
from datumbook.formulas.spelling import Address, ShapeSpelled
from datumbook.formulas.tracing import trace
from datumbook.formulas.tree import Cell, Formula, Number, OfUnit
from datumbook.job import Job
from datumbook.numbers.quantities import Quantity
from datumbook.workbook.placed import CheckPlan, Place, Resolved, SheetPlan
from datumbook.workbook.slopes import Setting, Slope
from datumbook.workbook.uncertainty import expanded_uncertainty, sensitivity

if TYPE_CHECKING:
    from datumbook.stations.composition import Stations


LAID_OUT = "cells that its engine file asks for"


@dataclass
class Layout(Basis):
    """Every key and its cell, for one spec and one job."""

    stations: Stations
    plans: dict[str, SheetPlan] = field(default_factory=dict)
    places: dict[str, Place] = field(default_factory=dict)
    checks: list[CheckPlan] = field(default_factory=list)
    # of a check as received or planned: the finished verdicts that answer it, all of them together
    answered: dict[Key, tuple[Key, ...]] = field(default_factory=dict)
    # of a value, and of a reading under it: the cell with how much the one moves with the other
    sensitivities: dict[str, dict[str, Key]] = field(default_factory=dict)
    _formulas: dict[str, str] = field(default_factory=dict)
    _shapes: dict[Any, tuple[ShapeSpelled, list[str]]] = field(default_factory=dict)
    _trees: dict[str, Formula] = field(default_factory=dict)
    functions: dict[str, Callable[..., Any]] = field(default_factory=dict)  # trees, to be called

    def for_job(self, job: Job, identity: str = "") -> Layout:
        """This layout for another block with the same work; what is worked out for the spec is
        shared.

        `identity`: what the book bears that another version made, where that is expected.
        """
        made = replace(self, scope=replace(self.scope, job=job))
        made.identity = identity or made.identity
        block = self.stations.job.block
        named = {block.number.key: job.block, block.identity.key: made.identity}
        made.places = self.places | {
            key: replace(self.places[key], value=words) for key, words in named.items()
        }
        made.plans = {name: plan.headed(made.heading) for name, plan in self.plans.items()}
        made.homes, made.names, made.feeds = self.homes, self.names, self.feeds
        made.by_sheet = self.by_sheet.copy()
        for sheet in {self.places[key].at.sheet for key in named}:
            made.by_sheet[sheet] = [made.places[place.key] for place in self.by_sheet[sheet]]
        return made

    def address(self, key: str) -> Address:
        """Where a key stands; DeclarationError naming the nearest keys if it does not."""
        return self.place(key).at

    def place(self, key: str) -> Place:
        """The place of a key; DeclarationError naming the nearest keys if there is none."""
        try:
            return self.places[key]
        except KeyError:
            self.missing(key)
            raise

    def missing(self, key: str, asker: str = "") -> None:
        """Say that a key has no cell. DeclarationError naming the nearest keys, and who asked."""
        from difflib import get_close_matches  # only when a station is wrong

        near = ", ".join(get_close_matches(key, self.places, n=3)) or "nothing like it"
        who = f"{asker} asks in vain: " if asker else ""
        raise DeclarationError(f"{who}no cell is called {key}; there is {near}")

    def cell(self, key: str) -> Cell:
        """A key as a leaf of a formula."""
        return Cell(key, self.place(key).traced_unit)

    def has_formula(self, key: str) -> bool:
        """Say whether a key is computed."""
        return self.places[key].role in {"result", "verdict"}

    def tree(self, key: str) -> Formula:
        """The settled and guarded tree of a computed key."""
        if key not in self._trees:
            self._trees[key] = self._traced(key)
        return self._trees[key]

    def _traced(self, key: str) -> Formula:
        place = self.place(key)
        if isinstance(place.column, Uncertainty):
            of = per(place.column.of, place.row)
            key = of[place.row] if isinstance(of, Handle) else of
            return expanded_uncertainty(self.slopes[False], key)
        if isinstance(place.column, Sensitivity):
            return sensitivity(self.slopes[True], *map(str, place.inputs.values()))
        if place.equation is None:
            raise DeclarationError(f"{key} is not computed")
        try:
            return trace(place.equation, self.arguments(key), place.traced_unit)
        except TypeError as refusal:
            raise DeclarationError(f"{key}: {refusal}") from refusal

    @cached_property
    def slopes(self) -> dict[bool, Slope]:
        """How every value moves with its readings, each by its name or not."""
        return {by_reading: Slope(self, by_reading) for by_reading in (False, True)}

    def figure_of(self, name: str, group: str) -> Key:
        """The cell with a figure of the gauge of a group: uncertainty, setting, all_told or
        in_common; of what may be off by itself, named by its own key, the one figure it has.
        """
        own = self.places.get(group)
        if own is not None and isinstance(own.column, Influence):
            return own.column.may_be_off.key
        return self.stations.instruments.gauges.column(name)[group]

    def setting_of(self, key: str) -> Setting | None:
        """The setting of a reading, at its stage; what may be off by itself has its own."""
        place = self.place(key)
        match place.column:
            case Influence():
                return Setting(key, "", "")
            case Reading(group=str(group), setting=setting):
                return Setting(group, setting or "", place.stage)
        return None

    def leaning(self, key: str) -> Mapping[str, Key] | None:
        """Of a value whose sensitivities stand in cells of their own, these cells by reading."""
        return self.sensitivities.get(key)

    def arguments(self, key: str) -> dict[str, Formula | list[Formula]]:
        """What the equation of a key is called with, as leaves."""
        return {name: self._leaf(given) for name, given in self.place(key).inputs.items()}

    def _leaf(self, given: Resolved) -> Any:
        if isinstance(given, list):
            return [self._leaf(one) for one in given]
        if isinstance(given, Quantity):
            return OfUnit(Number(given.to(given.unit)), given.unit)
        return self.cell(given)

    def formula(self, key: str) -> str:
        """The formula text of a computed key, without the leading =."""
        if key not in self._formulas:
            spelled, standing_for = self._spelled(key)
            places = self.places
            found = spelled.at(lambda cell: places[standing_for[cell]].at, places[key].at.sheet)
            self._formulas[key] = found
            spend(len(found) // 2, LAID_OUT)
        return self._formulas[key]

    def _spelled(self, key: str) -> tuple[ShapeSpelled, Mapping[str, str]]:
        """A formula of the shape of a key's own, and which of its cells stands for which: equal
        rows are traced and spelled once.
        """
        place = self.place(key)
        if place.equation is None:
            return ShapeSpelled(self.tree(key)), Same()
        cells: dict[str, int] = {}

        def shape_of(given: Resolved) -> Any:
            if isinstance(given, str):
                return cells.setdefault(given, len(cells)), self.place(given).traced_unit
            return given if isinstance(given, Quantity) else (*map(shape_of, given),)

        inputs = [(name, shape_of(given)) for name, given in place.inputs.items()]
        shape = (place.equation, place.traced_unit, *inputs)
        if shape not in self._shapes:
            self._shapes[shape] = (ShapeSpelled(self.tree(key)), [*cells])
        spelled, first = self._shapes[shape]
        return spelled, dict(zip(first, cells, strict=True))

    @cached_property
    def homes(self) -> dict[str, tuple[str, int, int]]:
        """Sheet, row and column of every key."""
        return {
            key: (place.at.sheet, place.at.row, place.at.column)
            for key, place in self.places.items()
        }

    @cached_property
    def feeds(self) -> Mapping[str, list[str]]:
        """Of each cell that others are worked out from, these others."""
        found: dict[str, list[str]] = {}
        for key, place in self.places.items():
            for one in place.asks:
                found.setdefault(one, []).append(key)
        return found

    @cached_property
    def names(self) -> dict[str, str]:
        """The defined name of every reading, and the cell it is given, spelled as in a file."""
        found = {}
        for place in self.readings():
            column = place.at.cell.rstrip("0123456789")
            found[place.name] = f"{place.at.sheet}!${column}${place.at.row}"
        return found

    @cached_property
    def by_sheet(self) -> dict[str, list[Place]]:
        """The places of each sheet, once all sheets are placed."""
        found: dict[str, list[Place]] = {sheet: [] for sheet in self.plans}
        for place in self.places.values():
            found[place.at.sheet].append(place)
        return found

    def readings(self) -> list[Place]:
        """Every cell that a person fills, in the order one walks round the block."""
        return [place for place in self.places.values() if place.role == "reading"]

    @property
    def sections(self) -> list[Sheet]:
        """The stations as placed, in walking order."""
        return [one for plan in self.plans.values() for one in plan.sheet.every_section]

    @property
    def limits(self) -> frozenset[Key]:
        """The cells that others are held to."""
        ends = ((one.low, one.high) for one in self.checks)
        return frozenset(end for both in ends for end in both if end is not None)

    @property
    def limits_of_readings(self) -> frozenset[Key]:
        """The cells that readings themselves are held to."""
        read = [one for one in self.checks if self.places[one.key].role == "reading"]
        ends = ((one.low, one.high) for one in read)
        return frozenset(end for both in ends for end in both if end is not None)

    def wanted(self) -> list[Place]:
        """The readings without which the job cannot be released."""
        return [at for at in self.readings() if per(getattr(at.column, "wanted", False), at.row)]


class Same(dict[str, str]):
    """Every key stands for itself."""

    def __missing__(self, key: str) -> str:
        return key
