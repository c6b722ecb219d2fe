"""A small layout of a few readings, of which a test says the equations, and what its gauges are
stated with.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import SimpleNamespace
from typing import Any, NamedTuple

from datumbook.cells.columns import Reading, Result, Uncertainty
from datumbook.cells.tables import Form, Line, Row, Sheet
from datumbook.equations import uncertainties
from datumbook.job import Job, scope_of
from datumbook.spec import load_spec, shipped_specs
from datumbook.stations.received.instruments import Gauges
from datumbook.workbook import placing
from datumbook.workbook.evaluation import _Reckoning
from datumbook.workbook.layout import Layout


class Size(NamedTuple):
    """A reading, and the setting of the gauge it was read with."""

    value: float
    unit: str
    group: str
    setting: str | None = None


class Stated(NamedTuple):
    """What a gauge is stated with: of one reading, of its setting (None for one figure)."""

    unit: str
    reading: float
    setting: float | None = None


READINGS = {
    "a": Size(82.0, "mm", "bores"),
    "b": Size(80.5, "mm", "bores"),
    "c": Size(40.25, "mm", "lands"),
    "d": Size(1.5, "in", "heights"),
    "e": Size(81.0, "mm", "bores", "ring"),
    "f": Size(81.5, "mm", "bores", "ring"),
    "g": Size(1.75, "in", "heights"),
}
ONE = {"bores": Stated("mm", 0.003), "lands": Stated("mm", 0.02), "heights": Stated("in", 0.0002)}
TWO_EACH = {
    "bores": Stated("mm", 0.0015, 0.002),
    "lands": Stated("mm", 0.005, 0.02),
    "heights": Stated("in", 0.0003, 0.0001),
}
SPECIFIED = load_spec(shipped_specs()["orrindale_qp4"])


def small(
    equations: Mapping[str, tuple[Callable[..., Any], str, Mapping[str, Any]]],
    readings: Mapping[str, Size] = READINGS,
    stated: Mapping[str, Stated] = ONE,
) -> Layout:
    """Readings `of.a` … `of.g`, one result a given equation, and beside each its uncertainty,
    `of.<name>_uncertainty`.
    """
    units = {group: one.unit for group, one in stated.items()}
    gauges = Gauges(
        key="instruments",
        title="",
        rows=[Row(group, group) for group in stated],
        columns=[
            *(
                Reading(name=name, words="", unit=units.__getitem__)
                for name in ("uncertainty", "setting")
            ),
            *(
                Result(name=one.__name__, words="", unit=units.__getitem__, equation=one)
                for one in (uncertainties.all_told, uncertainties.in_common)
            ),
        ],
    )
    stations = SimpleNamespace(instruments=SimpleNamespace(gauges=gauges))
    layout = Layout(scope_of(SPECIFIED, Job()), stations)
    sizes = [
        Reading(name=name, words="", unit=one.unit, group=one.group, setting=one.setting)
        for name, one in readings.items()
    ]
    results = [
        column
        for name, (equation, unit, inputs) in equations.items()
        for column in (
            Result(name=name, words="", unit=unit, equation=equation, inputs=inputs),
            Uncertainty(name=f"{name}_uncertainty", words="", unit=unit, of=f"of.{name}"),
        )
    ]
    form = Form(key="of", title="", lines=[Line(column=column) for column in (*sizes, *results)])
    placing.place(layout, Sheet(name="Job", title="", parts=[gauges, form]))
    return layout


def typed(
    readings: Mapping[str, Size] = READINGS, stated: Mapping[str, Stated] = ONE
) -> dict[str, object]:
    """What a person types: the readings, and what the gauges are stated with."""
    found: dict[str, object] = {f"of.{name}": one.value for name, one in readings.items()}
    for group, one in stated.items():
        found[f"instruments.{group}.uncertainty"] = one.reading
        found[f"instruments.{group}.setting"] = one.setting
    return found


SMALL = typed()


def number(found: object) -> float:
    assert isinstance(found, float)
    return found


def reckon_one(
    layout: Layout, key: str, readings: Mapping[str, object], known: Mapping[str, Any] | None = None
) -> object:
    """The value of one key alone; known: values that stand as they are."""
    return _Reckoning(layout, readings, known or {}).value(key)
