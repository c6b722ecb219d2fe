"""Instruments: with what each group of readings is measured, how it was set, and how warm it and
the block were.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from datumbook.cells.columns import (
    Check,
    Column,
    Given,
    Per,
    Reading,
    Result,
    Sizes,
    typed_words,
    words,
)
from datumbook.cells.tables import Form, Line, Row, Sheet, Table
from datumbook.equations import temperature, uncertainties
from datumbook.numbers.quantities import Quantity, read_quantity
from datumbook.numbers.units import convert, shown
from datumbook.spec import Spec
from datumbook.spec.limits import Limit
from datumbook.spec.model import groups_of
from datumbook.standards.materials import figure
from datumbook.workbook.layout import Layout

GAUGE = "gauge steel"
Sized = tuple[str, Quantity, Quantity]  # what a size is called, the size, its tolerance


def sheet(layout: Layout) -> Sheet:
    """The sheet of the instruments: nothing on it is wanted, and what is stated is held to."""
    parts = (_gauges(layout), _settings(layout), _temperatures(layout), _warmth(layout))
    how = "What stays blank holds nothing up; what is stated is judged."
    return Sheet(
        name="Instruments",
        title="Instruments, their setting and the warmth",
        parts=parts,
        how=how,
        widths={1: 22, 2: 22, 3: 10, 5: 10},
    )


def _rows(layout: Layout, groups: list[Any] | None = None) -> list[Row]:
    units = {name: shown(layout.unit_of(name)) for name in groups or groups_of(layout.spec)}
    return [Row(name, f"the {name.replace('_', ' ')} ({unit})") for name, unit in units.items()]


def _finer(layout: Layout) -> Sizes:
    """Columns in the unit of their group that show one place more than its readings."""
    return Sizes(layout.unit_of, lambda row: layout.decimals_of(row) + 1)


def _stated(
    layout: Layout, name: str, heading: str, how: str, millimetres: tuple[float, float]
) -> Reading:
    """A size about an instrument that may stay blank, and what it can be at all."""

    def possible(row: str) -> tuple[float, float]:
        low, high = (convert(end, "mm", layout.unit_of(row)) for end in millimetres)
        return low, high

    return _finer(layout).reading(name, heading, how=how, possible=possible, wanted=False)


def _gauges(layout: Layout) -> Table:
    """What each group is read with."""
    return Table(
        key="instruments",
        title="Instruments",
        heading="For the readings of",
        note="± is how far one reading may be out (expanded uncertainty, k = 2). If unknown, "
        "twice the smallest division "
        "of the gauge. Blank counts as nought: then nothing is ever UNSURE.",
        rows=_rows(layout),
        columns=(
            typed_words("instrument", "instrument", "What it is."),
            typed_words("number", "its number", "As marked on it."),
            _stated(layout, "resolution", "resolves", "Smallest step the gauge shows.", (0.0, 2.0)),
            *_repeatability(layout),
            _stated(
                layout,
                "uncertainty",
                "uncertainty ± (U)",
                "Expanded uncertainty of one reading.",
                (0.0, 2.0),
            ),
            typed_words(
                "calibration_due", "calibration due", "Year-month-day.", day=True, width=10.5
            ),
            typed_words(
                "measured_on",
                "measured on",
                "The day of the readings, year-month-day.",
                day=True,
                width=10.5,
            ),
        ),
    )


def _repeatability(layout: Layout) -> Iterator[Column]:
    """How well a gauge repeats, from the readings taken twice."""
    repeated: list[str] = list(dict.fromkeys(layout.spec.repeat.groups))
    if repeated:
        pairs = {group: list(_pairs(layout, group)) for group in repeated}
        finer = _finer(layout)
        yield finer.result(
            "repeatability",
            "repeats within (s)",
            uncertainties.repeatability_of_pairs,
            repeated,
            pair_ranges=pairs.__getitem__,
        )
        yield finer.result(
            "widest_pair", "widest pair allowed", uncertainties.widest_pair, repeated
        )


def _pairs(layout: Layout, group: str) -> Iterator[str]:
    """The keys of the differences between first and second readings of a group, column by column,
    to be read as ranges.
    """
    for place in sorted(
        layout.readings(), key=lambda place: (place.at.sheet, place.at.column, place.at.row)
    ):
        if isinstance(place.column, Reading) and place.column.again and place.column.group == group:
            yield f"{place.key.removesuffix('_again')}_apart"


def _settings(layout: Layout) -> Table:
    """What each gauge was set on, and whether it still stood there at the end."""
    zero = "What the gauge shows off nought on its master,"
    return Table(
        key="instruments",
        title="Setting",
        heading="For the readings of",
        note="Zero is what the gauge shows off nought on its master. Where it has moved by more "
        "than one step, the setting "
        "drifted: set it again and repeat the readings.",
        rows=_rows(layout),
        columns=(
            typed_words("master", "set on", "Ring, rod or block, and its number."),
            _stated(layout, "master_size", "its size", "As calibrated.", (0.0, 2000.0)),
            _stated(layout, "zero_before", "zero before", f"{zero} before measuring.", (-2.0, 2.0)),
            _stated(
                layout, "zero_after", "zero after", f"{zero} when all is measured.", (-2.0, 2.0)
            ),
            _finer(layout).result("drift", "drift", uncertainties.drift),
            Check(
                of="drift",
                high="resolution",
                if_stated=True,
                source="one step of the gauge: the setting drifted; set it again and repeat the "
                "readings",
            ),
        ),
    )


def _temperatures(layout: Layout) -> Form:
    """The figures that turn a temperature into a length."""
    block, steel = layout.spec.heights.expansion, figure(GAUGE, "expansion")
    share: dict[str, Any] = {"unit": "1/degC", "decimals": 7}
    return Form(
        key="temperature",
        title="Warmth",
        note="Limits hold at the reference temperature. Soak block and gauge in one room, and "
        "little is left to correct: "
        "no reading is altered here. State both temperatures, and the sheet says how far off the "
        "readings are.",
        lines=(
            Line(
                column=Given(
                    name="reference",
                    words="Reference temperature",
                    unit="degC",
                    decimals=1,
                    value=read_quantity("20 degC"),
                ),
                note="ISO 1",
            ),
            Line(
                column=Given(
                    name="expansion", words="Expansion of the block", value=block, **share
                ),
                note=block.source,
            ),
            Line(
                column=Given(
                    name="gauge_expansion",
                    words="Expansion of the gauges",
                    value=steel.value,
                    **share,
                ),
                note=f"{GAUGE}, {steel.source}",
            ),
        ),
    )


def _warmth(layout: Layout) -> Table:
    """How far off the size that feels it most is read."""
    known = warm_sizes(layout.spec)
    finer = _finer(layout)
    degrees: dict[str, Any] = {
        "unit": "degC",
        "decimals": 1,
        "wanted": False,
        "possible": (-10.0, 60.0),
    }
    both: dict[str, Per[Any]] = {
        name: f"temperature.{name}" for name in ("expansion", "gauge_expansion", "reference")
    }
    return Table(
        key="instruments",
        title="Block and gauge of unlike warmth",
        heading="For the readings of",
        note="Judged is the size with the least tolerance for its length. Where a tenth of its "
        "tolerance is passed, let "
        "block and gauge soak and measure again.",
        rows=_rows(layout, list(known)),
        columns=(
            words("warm_size", "size that feels it most", lambda row: known[row][0]),
            finer.given("length", "its length", lambda row: known[row][1]),
            finer.given("tolerance", "its tolerance", lambda row: known[row][2]),
            Reading(name="part", words="block", how="Contact thermometer on the block.", **degrees),
            Reading(
                name="gauge",
                words="gauge",
                how="Contact thermometer on the gauge or its master.",
                **degrees,
            ),
            Result(
                name="misread_share",
                words="reads too long, share",
                unit="",
                decimals=7,
                equation=temperature.misread_share,
                inputs=both,
                width=10.5,
            ),
            finer.result("misread_by", "misread by", temperature.misread_by),
            finer.result("finest_share", "tenth of tolerance", uncertainties.finest_share),
            Check(
                of="misread_by",
                high="finest_share",
                if_stated=True,
                source="a tenth of the tolerance; measure again when block and gauge have soaked",
            ),
        ),
    )


def warm_sizes(spec: Spec) -> dict[str, Sized]:
    """The size of each group that warmth puts furthest out, measured by its tolerance."""
    found: dict[str, list[Sized]] = {
        "bores": [_bore(spec)],
        "heights": [],
        "tunnels": [],
        "cam": [],
    }
    named: dict[str, list[tuple[str, Limit | None]]] = {
        "heights": [
            (f"{name} height", getattr(spec.heights, name))
            for name in ("overall", "deck", "bottom")
        ],
        "tunnels": [("main tunnel", spec.tunnels.size)] if spec.tunnels else [],
        "cam": [("cam bore", spec.cam.size), ("crank to cam", spec.cam.centre_distance)]
        if spec.cam
        else [],
    }
    for group, bands in named.items():
        found[group] = [
            (name, band.high, band.high - band.low)
            for name, band in bands
            if band and band.high and band.low
        ]
    return {group: max(sizes, key=_felt) for group, sizes in found.items() if sizes}


def _bore(spec: Spec) -> Sized:
    """The largest finished bore and its tolerance; the standard bore where nothing is said of the
    finished one.
    """
    standard = spec.bores.standard
    assert standard.low is not None  # a Band has both ends
    assert standard.high is not None
    if (
        spec.finished is None
        or _felt(("", standard.high, spec.finished.bore_plus + spec.finished.bore_minus)) == 0
    ):
        return "standard bore", standard.high, standard.high - standard.low
    largest = standard.high + spec.bores.oversizes[-1] if spec.bores.oversizes else standard.high
    return "largest finished bore", largest, spec.finished.bore_plus + spec.finished.bore_minus


def _felt(sized: Sized) -> float:
    """A length by its tolerance; nought where it has none."""
    _, length, tolerance = sized
    return float(length.exactly("mm") / tolerance.exactly("mm")) if tolerance.number else 0.0
