"""Instruments: with what each group of readings is measured, how it was set, and how warm it and
the block were.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Reading, Sizes, typed_words, words
from datumbook.cells.handles import Key
from datumbook.cells.tables import Form, Line, Row, Sheet, Table
from datumbook.equations import temperature, uncertainties
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.numbers.units import convert, shown
from datumbook.spec import Spec
from datumbook.spec.limits import Limit
from datumbook.standards.materials import figure

GAUGE = "gauge steel"
Sized = tuple[str, Quantity, Quantity]  # what a size is called, the size, its tolerance

INSTRUMENTS = "Instruments"  # the one sheet every book has a line for


class Gauges(Table):
    """What each group of readings is read with."""

    number: Column
    resolution: Column
    uncertainty: Column
    setting: Column
    all_told: Column
    in_common: Column
    widest_pair: Column
    calibration_due: Column
    measured_on: Column


class GaugeSettings(Table):
    """What each gauge was set on, and where it stood before and after."""

    zero_before: Column
    zero_after: Column


class Warmth(Form):
    """The figures that turn a temperature into a length."""

    reference: Column
    expansion: Column
    gauge_expansion: Column


class Instruments:
    """The instruments: nothing here is wanted, and what is stated is held to."""

    def __init__(self, basis: Basis) -> None:
        self.basis, self.spec = basis, basis.spec
        self.finer = Sizes(basis.unit_of, lambda row: basis.decimals_of(row) + 1)
        self.pairs: Mapping[str, Sequence[Key]] = {}
        self.gauges = self._gauges()
        self.settings, self.warmth = self._settings(), self._figures()
        self.tables = (self.gauges, self.settings, self._unlike_warmth())

    def sheet(self, pairs: Mapping[str, Sequence[Key]]) -> Sheet:
        """The sheet of the instruments, given how far second readings lie apart, by group."""
        self.pairs = pairs
        return Sheet(
            read=True,
            name=INSTRUMENTS,
            title="Instruments, their setting and the warmth",
            parts=(self.gauges, self.settings, self.warmth, self.tables[-1]),
            how="What stays blank holds nothing up; what is stated is judged.",
            widths={1: 22, 2: 22, 3: 10, 5: 10},
            penned=self.tables,
        )

    def _rows(self, groups: Iterable[str]) -> list[Row]:
        units = {name: shown(self.basis.unit_of(name)) for name in groups}
        return [Row(name, f"the {name.replace('_', ' ')} ({unit})") for name, unit in units.items()]

    def _stated(self, name: str, heading: str, how: str, least: float, most: float) -> Reading:
        """A size about an instrument that may stay blank, and what it can be, in millimetres."""
        return self.finer.reading(
            name,
            heading,
            how=how,
            possible=lambda row: (
                convert(least, "mm", self.basis.unit_of(row)),
                convert(most, "mm", self.basis.unit_of(row)),
            ),
            wanted=False,
        )

    def _gauges(self) -> Gauges:
        of_day = "Year-month-day."
        alone = "Of one reading; of everything, where its setting is not known apart."
        setting = "Of master, mandrel, zero: common to all readings of one setting."
        measured = "The day of the readings, year-month-day."
        return Gauges(
            key="instruments",
            title="Instruments",
            heading="For the readings of",
            note="± is how far the gauge may be off, 95 times in 100: one reading by "
            "itself, and its setting, which all readings of one setting share. Only one figure "
            "known: write it under one reading, leave the setting blank, and it counts the worse "
            "way. None known: twice the smallest division. Blank counts as zero: then nothing "
            "is ever UNSURE.",
            rows=self._rows(self.basis.scope.groups),
            columns=(
                typed_words("instrument", "instrument", "What it is."),
                typed_words("number", "its number", "As marked on it."),
                self._stated("resolution", "resolves", "Smallest step the gauge shows.", 0.0, 2.0),
                *self._repeatability(),
                self._stated("uncertainty", "one reading ± (U)", alone, 0.0, 2.0),
                self._stated("setting", "its setting ± (U)", setting, 0.0, 2.0),
                self.finer.result("all_told", "both together ±", uncertainties.all_told),
                self.finer.result("in_common", "of that, in common ±", uncertainties.in_common),
                typed_words(
                    "calibration_due", "calibration due", of_day, day=True, ahead=True, width=10.5
                ),
                typed_words("measured_on", "measured on", measured, day=True, width=10.5),
            ),
        )

    def _repeatability(self) -> tuple[Column, ...]:
        """How well a gauge repeats, from the readings taken twice."""
        repeated = list(dict.fromkeys(self.spec.repeat.groups))
        pairs = (
            self.finer.result(
                "repeatability",
                "repeats within (s)",
                uncertainties.repeatability_of_pairs,
                repeated,
                pair_ranges=lambda row: self.pairs[row],
            ),
            self.finer.result(
                "widest_pair", "widest pair allowed", uncertainties.widest_pair, repeated
            ),
        )
        return pairs if repeated else ()

    def _settings(self) -> GaugeSettings:
        """What each gauge was set on, and whether it still stood there at the end."""
        zero = "What the gauge shows off zero on its master,"
        drift = self.finer.result("drift", "drift", uncertainties.drift)
        return GaugeSettings(
            key="instruments",
            title="Setting",
            heading="For the readings of",
            note="Zero is what the gauge shows off zero on its master. Where it has moved by "
            "more than one step, the setting "
            "drifted: set it again and repeat the readings.",
            rows=self._rows(self.basis.scope.groups),
            columns=(
                typed_words("master", "set on", "Ring, rod or block, and its number."),
                self._stated("master_size", "its size", "As calibrated.", 0.0, 2000.0),
                self._stated("zero_before", "zero before", f"{zero} before measuring.", -2.0, 2.0),
                self._stated(
                    "zero_after", "zero after", f"{zero} when all is measured.", -2.0, 2.0
                ),
                drift,
                Check(
                    of=drift,
                    high=self.gauges.resolution,
                    if_stated=True,
                    source="one step of the gauge: the setting drifted; set it again and repeat "
                    "the readings",
                ),
            ),
        )

    def _figures(self) -> Warmth:
        block, steel = expansion_of(self.spec), figure(GAUGE, "expansion")
        share = Sizes("1/degC", 7)
        return Warmth(
            key="temperature",
            title="Warmth",
            note="Limits hold at the reference temperature. Soak block and gauge in one room, and "
            "little is left to correct: "
            "no reading is altered here. State both temperatures, and the sheet says how far off "
            "the readings are.",
            lines=(
                Line(
                    column=Sizes("degC", 1).given(
                        "reference", "Reference temperature", read_quantity("20 degC")
                    ),
                    note="ISO 1",
                ),
                Line(
                    column=share.given("expansion", "Expansion of the block", block),
                    note=block.source,
                ),
                Line(
                    column=share.given("gauge_expansion", "Expansion of the gauges", steel.value),
                    note=f"{GAUGE}, {steel.source}",
                ),
            ),
        )

    def _unlike_warmth(self) -> Table:
        """How far off the size that feels it most is read."""
        finer, figures, read = self.finer, self.warmth, self.basis.scope.groups
        known = {one: of for one, of in warm_sizes(self.spec).items() if one in {*map(str, read)}}
        degrees = Sizes("degC", 1)
        span: tuple[float, float] = (-10.0, 60.0)
        of_block, of_gauge = (
            f"Contact thermometer on the {what}." for what in ("block", "gauge or its master")
        )
        misread = finer.result("misread_by", "misread by", temperature.misread_by)
        finest = finer.result("finest_share", "tenth of tolerance", uncertainties.finest_share)
        return Table(
            key="instruments",
            title="Block and gauge of unlike warmth",
            heading="For the readings of",
            note="Judged is the size with the least tolerance for its length. Where a tenth of its "
            "tolerance is passed, let "
            "block and gauge soak and measure again.",
            rows=self._rows(known),
            columns=(
                words("warm_size", "size that feels it most", lambda row: known[row][0]),
                finer.given("length", "its length", lambda row: known[row][1]),
                finer.given("tolerance", "its tolerance", lambda row: known[row][2]),
                degrees.reading("part", "block", how=of_block, wanted=False, possible=span),
                degrees.reading("gauge", "gauge", how=of_gauge, wanted=False, possible=span),
                Sizes("", 7, width=10.5).result(
                    "misread_share",
                    "reads too long, share",
                    temperature.misread_share,
                    expansion=figures.expansion,
                    gauge_expansion=figures.gauge_expansion,
                    reference=figures.reference,
                ),
                misread,
                finest,
                Check(
                    of=misread,
                    high=finest,
                    if_stated=True,
                    source="a tenth of the tolerance; measure again when block and gauge have "
                    "soaked",
                ),
            ),
        )


def expansion_of(spec: Spec) -> Quantity:
    """The expansion of the block: as its heights or its engine state it, else that of its material
    in the table; LookupError where that holds none.
    """
    stated = spec.heights.expansion if spec.heights else spec.engine.expansion
    if stated is not None:
        return stated
    known = figure(spec.engine.material, "expansion")
    return replace(known.value, source=known.source)


def warm_sizes(spec: Spec) -> dict[str, Sized]:
    """The size of each group that warmth puts furthest out, measured by its tolerance."""
    banded: dict[str, list[tuple[str, Limit | None]]] = {
        "heights": [
            (f"{name} height", getattr(spec.heights, name))
            for name in ("overall", "deck", "bottom")
            if spec.heights
        ],
        "tunnels": [("main tunnel", spec.tunnels.size)] if spec.tunnels else [],
        "cam": [("cam bore", spec.cam.size), ("crank to cam", spec.cam.centre_distance)]
        if spec.cam
        else [],
    }
    sizes = {
        group: [
            (name, band.high, band.high - band.low)
            for name, band in bands
            if band and band.high and band.low
        ]
        for group, bands in banded.items()
    }
    return {"bores": _bore(spec)} | {
        group: max(known, key=_felt) for group, known in sizes.items() if known
    }


def _bore(spec: Spec) -> Sized:
    """The largest finished bore and its tolerance; the standard bore where nothing is said of the
    finished one.
    """
    standard = spec.bores.standard
    if (
        spec.finished is None
        or _felt(("", standard.high, spec.finished.bore_plus + spec.finished.bore_minus)) == 0
    ):
        return "standard bore", standard.high, standard.high - standard.low
    return (
        "largest finished bore",
        spec.bores.largest,
        spec.finished.bore_plus + spec.finished.bore_minus,
    )


def _felt(sized: Sized) -> float:
    """A length by its tolerance; zero where it has none."""
    _, length, tolerance = sized
    return float(length.exactly("mm") / tolerance.exactly("mm")) if tolerance.number else 0.0
