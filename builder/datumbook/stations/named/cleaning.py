"""Cleaning: in what the block is washed, the proof that nothing of it is left, and the film against
rust.
"""

from __future__ import annotations

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Reading, Result, Sizes, limited, words
from datumbook.cells.tables import Form, Prose, Row, Sheet, Table
from datumbook.equations import cleaning
from datumbook.numbers.quantities import read_quantity
from datumbook.spec import limit
from datumbook.spec.named import Cleaning
from datumbook.standards import table
from datumbook.standards.cleaning import baths, films
from datumbook.stations.received.features import ticked
from datumbook.stations.received.measured import Measured
from datumbook.stations.received.route import Route
from datumbook.stations.received.states import FINISHED

ACIDITY = Sizes("", 1)
FIRST_BATH, FURTHER_BATHS = "first", ("second", "third")
CLEAN = "common practice, no source: 6 to 8, or within 0.5 of the tap's"


class TapWater(Form):
    """The water that is rinsed with."""

    tap: Column


class Baths(Table):
    """The ways to clean, and which of them this block does not stand."""

    attacking: Column


class Cleanliness:
    """The wash, its proof, and what keeps the block until it is built."""

    def __init__(self, basis: Basis, route: Route, spec: Cleaning) -> None:
        finished = Measured(basis, route, "residue", FINISHED)
        self.measured = finished if finished.again else Measured(basis, route, "residue")
        self.spec = spec
        self.known = self._baths()
        self.tap = TapWater(
            key="tap_water",
            title="The water it is rinsed with",
            lines=(
                ACIDITY.reading(
                    "tap", "pH of the tap", how="Fresh paper.", possible=(0.0, 14.0), wanted=False
                ),
            ),
        )

    def sheet(self) -> Sheet:
        """The sheet of the wash."""
        lines = table("cleaning")["cautions"]["lines"]
        return Sheet(
            name="Cleaning",
            title="Cleaning, and keeping from rust",
            parts=(
                Prose(title="What to mind", lines=[(line,) for line in lines]),
                *(self.known, self._washed(), self.tap, self._rinse()),
                *(_films(), self._kept()),
            ),
            stage="finished" if self.measured.again else "received",
            widths={1: 30},
        )

    def _baths(self) -> Baths:
        soft = bool(self.spec.soft_parts)
        refused = {one.name: one.attacks(self.spec.metal, soft_parts=soft) for one in baths()}
        inside = f", with {', '.join(self.spec.soft_parts)} left in" if soft else ""
        each = {str(place): one for place, one in enumerate(baths(), 1)}
        return Baths(
            key="baths",
            title=f"Ways to clean, for a block of {self.spec.metal}{inside}",
            heading="Way",
            rows=[Row(place, one.name) for place, one in each.items()],
            columns=(
                words("strength", "strength", lambda row: each[row].strength, width=20),
                words("warmth", "warmth", lambda row: each[row].warmth, width=14),
                words(
                    "attacking",
                    "not for this block",
                    lambda row: each[row].name if refused[each[row].name] else "-",
                    width=20,
                ),
                words("does", "takes off", lambda row: each[row].does, width=32),
                words("source", "source", lambda row: each[row].source, width=30),
            ),
        )

    def _washed(self) -> Table:
        """In what it was washed, one after the other."""
        soft = bool(self.spec.soft_parts)
        suits = [one.name for one in baths() if not one.attacks(self.spec.metal, soft_parts=soft)]
        bath = Reading(
            name="bath",
            words="washed in",
            unit=None,
            choices=(*suits, *(one.name for one in baths() if one.name not in suits)),
            how="One of the ways above.",
            wanted=lambda row: row == FIRST_BATH,
            width=26,
        )
        attacking = [self.known.attacking[row.key] for row in self.known.rows]
        verdicts = [
            Result(
                name="verdict",
                words="verdict",
                equation=equation,
                inputs={"attacking": attacking},
                rows=rows,
            )
            for equation, rows in (
                (cleaning.verdict_of_bath, (FIRST_BATH,)),
                (cleaning.verdict_of_further_bath, FURTHER_BATHS),
            )
        ]
        return Table(
            key="washed",
            title="Washed in",
            heading="Bath",
            note="What attacks a metal of the block, or of what is left in it, is refused.",
            rows=[Row(one, f"{one.capitalize()} bath") for one in (FIRST_BATH, *FURTHER_BATHS)],
            columns=(
                bath,
                *verdicts,
                *(
                    Check(of=one, judged=True, source="the ways to clean above", rows=one.rows)
                    for one in verdicts
                ),
            ),
        )

    def _rinse(self) -> Table:
        """The proof of no residue: in each blind hole and gallery by itself."""
        rinse = ACIDITY.reading(
            "rinse",
            "pH of the last rinse",
            read_quantity("7"),
            "Fresh paper, in this hole or gallery itself.",
            possible=(0.0, 14.0),
        )
        off = ACIDITY.result(
            "residue_off", "too far off", cleaning.residue_off, tap=lambda _: self.tap.tap
        )
        nothing = limit(CLEAN, high=read_quantity("0"))
        return Table(
            key=self.measured.key("rinse"),
            title=self.measured.title("No residue"),
            heading="Where",
            spoilers=self.measured.spoilers(),
            rows=[Row(one.key, one.words) for one in self.spec.places],
            columns=(
                rinse,
                *limited(off, nothing),
                *ticked("cloth", "cloth white", "Type done when a white cloth stays white."),
                *ticked("dry", "dry, no bloom", "Type done when it is dry, without a white bloom."),
            ),
        )

    def _kept(self) -> Table:
        """The film against rust: its kind, when it was put on, when it is looked at."""
        verdict = Result(name="verdict", words="verdict", equation=cleaning.verdict_of_film)
        return Table(
            key="kept",
            title="Kept from rust",
            heading="What",
            note="On at once when dry, in every bore, on every face, in every thread.",
            rows=[Row("block", "Block")],
            columns=(
                Reading(
                    name="film",
                    words="film",
                    unit=None,
                    choices=tuple(one.name for one in films()),
                    how="One of the films above.",
                    width=26,
                ),
                _day("put_on", "put on", "Year-month-day."),
                _day(
                    "inspect_by",
                    "look at it by",
                    "Year-month-day; then write the next one.",
                    ahead=True,
                ),
                verdict,
                Check(of=verdict, judged=True, source="common practice, no source"),
            ),
        )


def _day(name: str, heading: str, how: str, ahead: bool = False) -> Reading:
    return Reading(name=name, words=heading, unit=None, how=how, day=True, ahead=ahead, width=12)


def _films() -> Table:
    each = {str(place): one for place, one in enumerate(films(), 1)}
    return Table(
        key="films",
        title="Films against rust",
        heading="Film",
        rows=[Row(place, one.name) for place, one in each.items()],
        columns=(
            words("keeps", "keeps", lambda row: each[row].keeps, width=26),
            words("source", "source", lambda row: each[row].source, runs_on=True),
        ),
    )
