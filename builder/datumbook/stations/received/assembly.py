"""Assembly: in which state of assembly each series of readings was taken, beside the state that its
limits mean.

A size read in one state is never turned into that of another: both states are shown, and it is read
again. Warmth alone is different: what a size is at the reference temperature is told beside it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Reading, Result, Sizes, words
from datumbook.cells.tables import Row, StateRead, Table
from datumbook.equations import assembly, temperature
from datumbook.numbers.quantities import Quantity
from datumbook.numbers.units import convert, shown
from datumbook.spec.assembly import StateMeant
from datumbook.standards.assembly import conditions, heats, torque_within
from datumbook.standards.order import MeasuredTogether, measured_with
from datumbook.stations.received.features import TwoPointSizes
from datumbook.stations.received.instruments import Warmth

PLATE_NUMBER, PLATE_TORQUE, WARM, WHOLE_STATE = "plate_number", "torque", "warmth", "whole"
AS_STATED = "as stated"  # what is meant where the engine file says it in words of its own
TORQUED = (
    "Torqued caps and a plate reshape what they are bolted to. No sum turns one state into the "
    "other: both are shown, and nothing is subtracted."
)
RESTS = (
    "After a hot wash, an oven, welding or a chilled liner let the block rest until it is as warm "
    "all through, then read."
)
BLIND = (
    "Under a plate a bore may have a lobe for each fastener. Two directions at right angles see "
    "nothing of four lobes, which lie alike on both: slanting = true under [assembly] of the "
    "engine file asks for 45° and 135° as well. Three lobes no gauge with two points sees."
)
SEEING = (
    "Read at 0, 45, 90 and 135°: under a plate a bore may have a lobe for each fastener. Four "
    "lobes show in full where the fasteners stand at these angles, less between them. Three lobes "
    "no gauge with two points sees."
)


class _Asked(NamedTuple):
    """One condition as a row: where it is read, what is meant, whether it was another, and what to
    do then.
    """

    row: Row
    read: Reading
    meant: Column
    unlike: Result
    remedy: str


class Assembly:
    """The states of assembly that this book asks for; none where the job does not name them."""

    def __init__(self, basis: Basis, warm: Warmth) -> None:
        self.spec, self.warm = basis.spec.assembly, warm
        self._made: dict[str, StateRead] = {}

    @property
    def heats(self) -> Sequence[str]:
        """The operations whose heat and force move every feature whose state is asked."""
        return heats() if self.spec else ()

    def state(self, feature: str, prefix: str, stage: str) -> StateRead | None:
        """The state in which the series of a feature was read, as received or as finished."""
        series = measured_with(feature)
        meant = self.spec.of(series.key, prefix) if self.spec else None
        if meant is None:
            return None
        key = f"{prefix}state_{series.key}"
        if key not in self._made:
            self._made[key] = self._state(key, series, meant, stage)
        return self._made[key]

    def slanting(self, prefix: str) -> bool:
        """Whether bores are read at 45 and 135° too: under a plate, where the spec asks for it."""
        return self.spec is not None and self.spec.slanting and self._under_plate(prefix)

    def lobes(self, prefix: str) -> str:
        """What the directions in which bores are read can see of their lobes; "" without a
        plate.
        """
        if not self._under_plate(prefix):
            return ""
        return f" {SEEING if self.slanting(prefix) else BLIND}"

    def _under_plate(self, prefix: str) -> bool:
        meant = self.spec.of("bores", prefix) if self.spec else None
        return meant is not None and meant.plate == "on"

    def at_reference(self, readings: Table, each: TwoPointSizes) -> Iterator[Table]:
        """What the sizes held to limits would be at the reference temperature, where the state the
        readings were taken in asks for the block's own.
        """
        state = readings.spoilers.state if readings.spoilers else None
        if state is None or not state.has(state.read.name, WARM):
            return
        known = {*each.names()}
        yield Table(
            key=f"{each.key}_at_reference",
            title=f"{each.title}: at the reference temperature",
            heading=each.heading,
            note="From the block's temperature, with gauges as warm as the reference. Told beside "
            "what was read and held to nothing: a limit wants the block as warm as it says.",
            rows=each.rows,
            columns=[
                self._corrected(each.column(name), state)
                for name in ("smallest_size", "largest_size")
                if name in known
            ],
        )

    def _corrected(self, of: Any, state: StateRead) -> Column:
        figures = self.warm
        return Result(
            name=f"{of.name}_at_reference",
            words=of.words,
            unit=of.unit,
            decimals=of.decimals,
            equation=temperature.at_reference,
            inputs={
                "length": lambda row: of[row],
                "expansion": figures.expansion,
                "temperature": state.read[WARM],
                "reference": figures.reference,
            },
        )

    def _state(
        self, key: str, series: MeasuredTogether, meant: StateMeant, stage: str
    ) -> StateRead:
        asked = [*_conditions(meant), *_under_plate(meant), *self._warmth()]
        remedies = {one.row.key: one.remedy for one in asked}
        remedy = words("remedy", "if it is not so", remedies.get, rows=[*remedies], runs_on=True)
        mark = asked[0].unlike  # of several columns with one name the first is its handle
        marks: dict[str, Any] = {"unlike": lambda _: [mark[row] for row in remedies]}
        whole: dict[str, Any] = {"rows": [WHOLE_STATE]}
        unfit = Result(
            name="unlike", words="so", equation=assembly.unfit_by_state, inputs=marks, **whole
        )
        verdict = Result(
            name="verdict",
            words="verdict",
            equation=assembly.verdict_of_state,
            inputs=marks | {"unfit": unfit},
            **whole,
        )
        what_to_do = Result(
            name="remedy",
            words="if it is not so",
            equation=assembly.first_that_differs,
            inputs={
                "unlike_and_remedy": lambda _: [
                    one[row] for row in remedies for one in (mark, remedy)
                ]
            },
            runs_on=True,
            **whole,
        )
        what = series.words.removeprefix("Finished ").lower()
        notes = (TORQUED if meant.plate else "", RESTS if self._is_warm else "", _plate_says(meant))
        return StateRead(
            key=key,
            title=f"State of the {what} when they were read, {stage}",
            heading="Condition",
            note=" ".join(filter(None, notes)),
            rows=[*(one.row for one in asked), Row(WHOLE_STATE, f"State of the {what} when read")],
            columns=(
                *(one.read for one in asked),
                *(one.meant for one in asked),
                *(one.unlike for one in asked),
                unfit,
                verdict,
                Check(
                    of=verdict,
                    judged=True,
                    source=f"the state its limits mean, {meant.source}",
                    story=(what_to_do,),
                    **whole,
                ),
                remedy,
                what_to_do,
            ),
        )

    @property
    def _is_warm(self) -> bool:
        return self.spec is not None and self.spec.warmest is not None

    def _warmth(self) -> Iterator[_Asked]:
        """The block's temperature when the series was read, where the spec gives its bounds."""
        if self.spec is None or self.spec.coolest is None or self.spec.warmest is None:
            return
        low, high, unit = self.spec.coolest, self.spec.warmest, self.spec.coolest.unit
        band = f"{low.to(unit):g} to {high.to(unit):g}"
        rows = [WARM]
        yield _Asked(
            Row(WARM, f"Block's temperature ({shown(unit)})"),
            Sizes(lambda _: unit, 1).reading(
                "read",
                "as read",
                how="Contact thermometer on thick metal at both ends of the block: the warmer.",
                possible=(convert(-20.0, "degC", unit), convert(120.0, "degC", unit)),
                rows=rows,
            ),
            words("meant", "its limits mean", band, rows=rows),
            _unlike(assembly.out_of_warmth, WARM, coolest=low, warmest=high),
            f"let it rest, read again at {band} {shown(unit)}",
        )


def _conditions(meant: StateMeant) -> Iterator[_Asked]:
    """The conditions that are one word or another."""
    for one in conditions():
        said = getattr(meant, one.key)
        if not said or (one.needs_plate and meant.plate != "on"):
            continue
        wanted = said if said in one.meant else AS_STATED
        yield _Asked(
            Row(one.key, one.words),
            Reading(
                name="read",
                words="as read",
                choices=tuple(one.meant),
                how=one.how,
                rows=[one.key],
                width=12,
            ),
            words("meant", "its limits mean", wanted, rows=[one.key], width=14),
            _unlike(assembly.unlike_state, one.key),
            one.meant[wanted],
        )


def _under_plate(meant: StateMeant) -> Iterator[_Asked]:
    """Which plate it was, and how its fasteners were torqued."""
    if meant.plate != "on":
        return
    yield _Asked(
        Row(PLATE_NUMBER, "Number of the plate"),
        Reading(name="read", words="as read", how="As marked on the plate.", rows=[PLATE_NUMBER]),
        words("meant", "its limits mean", "say which", rows=[PLATE_NUMBER]),
        _unlike(assembly.said_or_not, PLATE_NUMBER),
        "say which plate it was",
    )
    if (torque := meant.torque) is None:
        return
    sizes = Sizes(lambda _: torque.unit, torque.decimals)  # told in the row, not over it
    most = 10 * torque.to(torque.unit)
    how = "What the wrench was set to. By angle or stretch: the snug torque it starts from."
    yield _Asked(
        Row(PLATE_TORQUE, f"Torque of the plate ({shown(torque.unit)})"),
        sizes.reading("read", "as read", how=how, possible=(0.0, most), rows=[PLATE_TORQUE]),
        sizes.given("meant", "its limits mean", torque, rows=[PLATE_TORQUE]),
        _unlike(assembly.unlike_torque, PLATE_TORQUE, within=torque_within()),
        f"tighten the plate to {torque.text}, read again",
    )


def _unlike(equation: Any, row: str, **inputs: Quantity) -> Result:
    """Whether a condition was another than meant."""
    return Result(name="unlike", words="so", rows=[row], equation=equation, inputs=inputs, width=15)


def _plate_says(meant: StateMeant) -> str:
    """What the engine file says of the plate's fasteners in words of its own."""
    return f"Fasteners of the plate: {meant.fasteners}." if meant.fasteners else ""
