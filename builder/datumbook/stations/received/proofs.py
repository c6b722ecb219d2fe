"""Proofs: the crack test and the pressure test, before money is spent and again when boring may
have broken through.
"""

from __future__ import annotations

from fractions import Fraction

from datumbook.cells.columns import Check, Sizes
from datumbook.cells.tables import Row, Sheet, Table
from datumbook.numbers.printing import NOT_LESS, NOT_MORE
from datumbook.numbers.quantities import Quantity, number_text
from datumbook.spec.features import Proofs
from datumbook.stations.received.features import ticked
from datumbook.stations.received.states import FINISHED, RECEIVED


class PressureTest:
    """The pressure test of the jacket in one state: what it was done with, and whether it held."""

    def __init__(self, spec: Proofs, before: PressureTest | None = None) -> None:
        self.state = FINISHED if before else RECEIVED
        self.conditions: Table = self._conditions(spec, before.conditions if before else None)
        self.tightness: Table = self._tightness(before.tightness if before else None)

    def parts(self) -> tuple[Table, Table]:
        """The conditions of the test, and what came of it."""
        return self.conditions, self.tightness

    def _conditions(self, spec: Proofs, before: Table | None) -> Table:
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
        sizes, pressure = Sizes(unit.__getitem__, 1), ["pressure"]
        found = sizes.reading(
            "found", "found", least.__getitem__, how.__getitem__, possible=span.__getitem__
        )
        low = sizes.given("least", NOT_LESS, least.__getitem__)
        high = sizes.given("most", NOT_MORE, spec.pressure_most, rows=pressure)
        answers, source = before.column(found.name) if before else None, spec.source
        return Table(
            key=self.state.key("pressure_test"),
            title="Second pressure test, when all cutting is done"
            if before
            else "First pressure test",
            heading="What",
            note=f"Limits: {source}. Air stores energy: bleed before unbolting.",
            rows=[
                Row("pressure", f"Pressure on the jacket ({unit['pressure']})"),
                Row("water", "Water temperature (°C)"),
                Row("minutes", "Minutes held"),
            ],
            columns=(
                found,
                low,
                high,
                Check(of=found, low=low, high=high, rows=pressure, source=source, answers=answers),
                Check(of=found, low=low, rows=["water", "minutes"], source=source, answers=answers),
            ),
        )

    def _tightness(self, before: Table | None) -> Table:
        how = "Type done when it held without bubbles and the gauge did not fall."
        return Table(
            key=self.state.key("tightness"),
            title="Tightness",
            heading="What",
            note="No bubbles, no fall of the gauge. A leak decides: repair, liner, or reject.",
            rows=[Row("jacket", "Jacket")],
            columns=ticked("tight", "tight", how, before),
        )


class FirstTests:
    """The crack test and the pressure test before any cut."""

    def __init__(self, spec: Proofs) -> None:
        self.spec, self.cracks, self.pressure = spec, _cracks(spec), PressureTest(spec)

    def sheet(self) -> Sheet:
        """The sheet of the first tests."""
        parts = (self.cracks, *self.pressure.parts())
        return Sheet(name="Proofs", title="Crack test and pressure test", parts=parts)


def _cracks(spec: Proofs) -> Table:
    how = "Type done when looked over and found without a crack."
    return Table(
        key="cracks",
        title="Crack test",
        heading="Place",
        note="Magnetic particle, or dye where the magnet cannot reach; the block is clean and "
        "dry. A crack decides: repair "
        "before any cut, or reject.",
        rows=[Row(str(number), words) for number, words in enumerate(spec.cracks, 1)],
        columns=ticked("sound", "sound", how),
    )


def _bare(number: Fraction) -> Quantity:
    """A bare number: what is held to a limit has its uncertainty added, which no temperature scale
    allows.
    """
    return Quantity(number, "", 1, number_text(number))
