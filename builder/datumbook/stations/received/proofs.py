"""Proofs: the crack test and the pressure test, before money is spent and again when boring may
have broken through.
"""

from __future__ import annotations

from fractions import Fraction

from datumbook.cells.columns import Check, Sizes
from datumbook.cells.tables import Row, Sheet, Table
from datumbook.equations.verdicts import CRACKED, LEAKS
from datumbook.numbers.printing import NOT_LESS, NOT_MORE
from datumbook.numbers.quantities import Quantity, number_text
from datumbook.spec.features import Proofs
from datumbook.standards.cautions import at_station
from datumbook.stations.received.cautioned import beside_the_work
from datumbook.stations.received.features import outcome
from datumbook.stations.received.states import FINISHED, RECEIVED, State

HOW_PROVED = {
    "pressure": "Gauge on the jacket.",
    "water": "Thermometer in the bath.",
    "minutes": "By the clock.",
}


def pressure_test(spec: Proofs, state: State = RECEIVED) -> tuple[Table, Table]:
    """The pressure test of the jacket in one state: what it was done with, and whether it held."""
    return _conditions(spec, state), Table(
        key=state.key("tightness"),
        title="Tightness",
        heading="What",
        note="No bubbles, no fall of the gauge. A leak decides: repair, liner, or reject.",
        rows=[Row("jacket", "Jacket")],
        columns=outcome(LEAKS, "Sound when it held without bubbles and the gauge did not fall."),
    )


def _conditions(spec: Proofs, state: State) -> Table:
    warm, minutes = _bare(spec.water_least.exactly("degC")), _bare(Fraction(spec.minutes))
    least = {"pressure": spec.pressure_least, "water": warm, "minutes": minutes}
    unit = {"pressure": spec.pressure_least.unit, "water": "", "minutes": ""}
    span = {
        "pressure": (0.0, 2 * spec.pressure_most.to(unit["pressure"])),
        "water": (0.0, 120.0),
        "minutes": (0.0, 1440.0),
    }
    sizes, pressure, source = Sizes(unit.__getitem__, 1), ["pressure"], spec.source
    found = sizes.reading(
        "found", "found", least.__getitem__, HOW_PROVED.__getitem__, possible=span.__getitem__
    )
    low = sizes.given("least", NOT_LESS, least.__getitem__)
    high = sizes.given("most", NOT_MORE, spec.pressure_most, rows=pressure)
    return Table(
        key=state.key("pressure_test"),
        title=("First pressure test", "Second pressure test, when all cutting is done")[
            state is FINISHED
        ],
        heading="What",
        note=f"Limits: {source}.",
        rows=[
            Row("pressure", f"Pressure on the jacket ({unit['pressure']})"),
            Row("water", "Water temperature (°C)"),
            Row("minutes", "Minutes held"),
        ],
        columns=(
            found,
            low,
            high,
            Check(of=found, low=low, high=high, rows=pressure, source=source),
            Check(of=found, low=low, rows=["water", "minutes"], source=source),
        ),
    )


class FirstTests:
    """The crack test and the pressure test before any cut."""

    def __init__(self, spec: Proofs) -> None:
        self.pressure = pressure_test(spec)
        self.cracks = Table(
            key="cracks",
            title="Crack test",
            heading="Test",
            note="Magnetic particle, or dye where the magnet cannot reach; the block is clean and "
            f"dry. Looked over: {', '.join(spec.cracks)}. A crack decides: repair before any cut, "
            "or reject.",
            rows=[Row("all", f"All {len(spec.cracks)} places")],
            columns=outcome(CRACKED, "Sound when every place is looked over, and no crack found."),
        )

    def sheet(self) -> Sheet:
        """The sheet of the first tests."""
        mind = beside_the_work(at_station("proofs"))
        return Sheet(
            name="Proofs",
            title="Crack test and pressure test",
            parts=(self.cracks, *self.pressure, *mind),
        )


def _bare(number: Fraction) -> Quantity:
    """A bare number: what is held to a limit has its uncertainty added, which no temperature scale
    allows.
    """
    return Quantity(number, "", 1, number_text(number))
