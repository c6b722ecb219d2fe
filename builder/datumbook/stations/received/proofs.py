"""Proofs: the crack test and the pressure test, before money is spent and again when boring may
have broken through.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from datumbook.cells.columns import Check, Given, Reading
from datumbook.cells.tables import Row, Sheet, Table
from datumbook.equations.verdicts import DONE
from datumbook.numbers.printing import NOT_LESS, NOT_MORE
from datumbook.numbers.quantities import Quantity, number_text
from datumbook.spec.features import Proofs
from datumbook.stations.received.features import Feature, tick
from datumbook.stations.received.states import FINISHED, State
from datumbook.workbook.layout import Layout


def sheet(layout: Layout) -> Sheet:
    """The sheet of the first tests."""
    feature, spec = Feature(layout, "proofs"), layout.spec.proofs
    assert spec is not None  # the station is left out without it
    return Sheet(
        name="Proofs",
        title="Crack test and pressure test",
        parts=(_cracks(feature, spec), *pressure_test(layout, feature.state)),
    )


def _cracks(feature: Feature, spec: Proofs) -> Table:
    return Table(
        key="cracks",
        title="Crack test",
        heading="Place",
        note="Magnetic particle, or dye where the magnet cannot reach; the block is clean and "
        "dry. A crack decides: repair "
        "before any cut, or reject.",
        rows=[Row(str(number), words) for number, words in enumerate(spec.cracks, 1)],
        columns=(
            tick("sound", "sound", "Type done when looked over and found without a crack."),
            feature.done("cracks", "sound"),
        ),
    )


def pressure_test(layout: Layout, state: State) -> tuple[Table, Table]:
    """The pressure test of the jacket in one state: what it was done with, and whether it held."""
    spec = layout.spec.proofs
    assert spec is not None  # the station is left out without it
    return _conditions(layout, state, spec), _tightness(layout, state)


def _twin(layout: Layout, state: State, table: str, of: str) -> str:
    return state.twin(layout.spec, table, of)


def _conditions(layout: Layout, state: State, spec: Proofs) -> Table:
    warm, minutes = _bare(spec.water_least.exactly("degC")), _bare(Fraction(spec.minutes))
    least = {"pressure": spec.pressure_least, "water": warm, "minutes": minutes}
    unit = {"pressure": spec.pressure_least.unit, "water": "", "minutes": ""}
    span = {
        "pressure": (0.0, 2 * spec.pressure_most.to(unit["pressure"])),
        "water": (0.0, 120.0),
        "minutes": (0.0, 1440.0),
    }
    how = {
        "pressure": "Gauge on the jacket.",
        "water": "Thermometer in the bath.",
        "minutes": "By the clock.",
    }
    shared: dict[str, Any] = {"unit": unit.__getitem__, "decimals": 1}
    return Table(
        key=state.key("pressure_test"),
        title="First pressure test"
        if state is not FINISHED
        else "Second pressure test, when all cutting is done",
        heading="What",
        note=f"Limits: {spec.source}. Air stores energy: bleed before unbolting.",
        rows=[
            Row("pressure", f"Pressure on the jacket ({unit['pressure']})"),
            Row("water", "Water temperature (°C)"),
            Row("minutes", "Minutes held"),
        ],
        columns=(
            Reading(
                name="found",
                words="found",
                near=least.__getitem__,
                possible=span.__getitem__,
                how=how.__getitem__,
                **shared,
            ),
            Given(name="least", words=NOT_LESS, value=least.__getitem__, **shared),
            Given(
                name="most", words=NOT_MORE, value=spec.pressure_most, rows=["pressure"], **shared
            ),
            Check(
                of="found",
                low="least",
                high="most",
                rows=["pressure"],
                source=spec.source,
                superseded_by=_twin(layout, state, "pressure_test", "found"),
            ),
            Check(
                of="found",
                low="least",
                rows=["water", "minutes"],
                source=spec.source,
                superseded_by=_twin(layout, state, "pressure_test", "found"),
            ),
        ),
    )


def _bare(number: Fraction) -> Quantity:
    """A bare number: what is held to a limit has its uncertainty added, which no temperature scale
    allows.
    """
    return Quantity(number, "", 1, number_text(number))


def _tightness(layout: Layout, state: State) -> Table:
    return Table(
        key=state.key("tightness"),
        title="Tightness",
        heading="What",
        note="No bubbles, no fall of the gauge. A leak decides: repair, liner, or reject.",
        rows=[Row("jacket", "Jacket")],
        columns=(
            tick(
                "tight",
                "tight",
                "Type done when it held without bubbles and the gauge did not fall.",
            ),
            Check(of="tight", says=DONE, superseded_by=_twin(layout, state, "tightness", "tight")),
        ),
    )
