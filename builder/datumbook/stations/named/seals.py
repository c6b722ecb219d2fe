"""Seals: how true rear seal and flywheel housing run to the crank, as received and as finished, and
what the line bore as planned makes of it.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Check, Column, limited
from datumbook.cells.tables import Prose, Row, Sheet, Table
from datumbook.equations import seals
from datumbook.numbers.printing import NOT_MORE
from datumbook.spec import Limit, limit
from datumbook.spec.named import Seals
from datumbook.standards import table
from datumbook.standards.housings import housing_run_out
from datumbook.stations.decided.line_boring import LineBoring
from datumbook.stations.received.measured import Measured
from datumbook.stations.received.states import answer

CLOCK = {"top": "top", "right": "right", "bottom": "bottom", "left": "left"}
REAR_SEAL, HOUSING = "rear_seal", "housing"


class BoresSwept(Table):
    """The bores that an indicator on the crank is swept in."""

    run_out: Column
    offset_across: Column
    offset_up: Column


class TrueToCrank:
    """What an indicator carried by the crank shows at the rear, in one state."""

    def __init__(self, measured: Measured, spec: Seals, before: TrueToCrank | None = None) -> None:
        self.measured, self.spec, self.before = measured, spec, before
        self.sizes = measured.basis.sizes("flatness")
        self.limits: dict[str, Limit] = {REAR_SEAL: spec.rear_seal}
        if spec.housing:
            self.limits[HOUSING] = _or_usual(spec.housing.bore, spec.housing.sae)
        self.bores = self._bores()
        self.face = self._face()
        answer(self._tables(), before._tables() if before else ())

    def sheet(self) -> Sheet:
        """The sheet of this state; what to mind stands with the first."""
        lines = [(line,) for line in table("housings")["cautions"]["lines"]]
        mind = [] if self.before else [Prose(title="What to mind", lines=lines)]
        return Sheet(
            name="FinishedSeals" if self.before else "Seals",
            title="Rear seal and flywheel housing",
            parts=(*mind, *self._tables()),
            stage="finished" if self.before else "received",
            widths={1: 30},
        )

    def _tables(self) -> list[Table]:
        return [one for one in (self.bores, self.face) if one]

    def rows(self) -> list[Row]:
        """The bores, in words."""
        known = {REAR_SEAL: "Bore of the rear seal", HOUSING: "Bore of the flywheel housing"}
        return [Row(key, words) for key, words in known.items() if key in self.limits]

    def held(self, total: Column) -> tuple[Column, Column, Check]:
        """A total of each bore, held against its own limit."""
        most = self.sizes.given("most", NOT_MORE, lambda row: self.limits[row].high)
        sources = {row: one.source for row, one in self.limits.items()}
        return total, most, Check(of=total, high=most, source=sources.__getitem__)

    def _read(self, swept: str) -> list[Column]:
        return [
            self.sizes.reading(
                name,
                words,
                how=f"Indicator carried by the crank, swept on the {swept}, with its sign; more "
                "where the wall is nearer.",
                possible=self.measured.signed("flatness"),
            )
            for name, words in CLOCK.items()
        ]

    def _bores(self) -> BoresSwept:
        read, sizes = self._read("bore"), self.sizes
        total = sizes.result("run_out", "runs out by", seals.run_out_all_round)
        top, right, bottom, left = read
        sources = [one.source for one in self.limits.values()]
        return BoresSwept(
            key=self.measured.key("seal_bores"),
            title=self.measured.title("Bores swept from the crank"),
            heading="Bore",
            note="Held: most less least of the four, or by them a whole turn's if more; both ways "
            f"together as some books mean it. Limits: {'; '.join(dict.fromkeys(sources))}.",
            spoilers=self.measured.spoilers(),
            rows=self.rows(),
            columns=(
                *read,
                *self.held(total),
                sizes.result("two_ways", "both ways together", seals.indicator_two_ways),
                sizes.result(
                    "offset_across",
                    "crank off to the right",
                    seals.crank_offset,
                    near=right,
                    opposite=left,
                ),
                sizes.result(
                    "offset_up", "crank off upward", seals.crank_offset, near=top, opposite=bottom
                ),
            ),
        )

    def _face(self) -> Table | None:
        if self.spec.housing is None:
            return None
        read = self._read("face")
        total = self.sizes.result("face_run_out", "runs out by", seals.run_out_all_round)
        return Table(
            key=self.measured.key("housing_face"),
            title=self.measured.title("Face of the flywheel housing"),
            heading="Face",
            note="The crank is pushed one way and held there.",
            fresh_in=self.bores.stale_with,
            rows=[Row("face", "Face of the flywheel housing")],
            columns=(
                *read,
                *limited(total, _or_usual(self.spec.housing.face, self.spec.housing.sae)),
            ),
        )


class SealsAfter(Table):
    """What the bores are to run once the crank line has risen."""

    run_out_after: Column


class SealsForecast:
    """What the line bore as planned makes of the bores at the rear."""

    def __init__(self, received: TrueToCrank, lift: Column) -> None:
        sizes, bores = received.sizes, received.bores
        after = sizes.result(
            "run_out_after",
            "to be expected",
            seals.run_out_after_lift,
            offset_across=lambda row: bores.offset_across[row],
            offset_up=lambda row: bores.offset_up[row],
        )
        self.each = SealsAfter(
            key="seals_after",
            title="Bores at the rear after the line bore",
            heading="Bore",
            note="A forecast: as received, with the crank line risen as planned at that place; "
            "twice the offset. Too much decides: less rise, offset dowels, or a bush for the seal.",
            rows=received.rows(),
            columns=(lift, *received.held(after)),
        )

    def sheet(self) -> Sheet:
        """The sheet of the forecast."""
        return Sheet(
            name="SealsAfter",
            title="Rear seal and flywheel housing",
            parts=(self.each,),
            stage="planned",
        )


class RearSeals:
    """The rear seal and the housing: as received, as planned, as finished."""

    def __init__(
        self, received: TrueToCrank, finished: TrueToCrank | None, boring: LineBoring | None
    ) -> None:
        place = received.spec.place
        lift = boring.lift(received.sizes, lambda _: place) if boring else None
        self.forecast = SealsForecast(received, lift) if lift else None
        self.states = [one for one in (received, self.forecast, finished) if one]
        if finished and self.forecast:
            finished.bores.takes_over("run_out", self.forecast.each.run_out_after)

    def walked(self) -> Iterator[TrueToCrank | SealsForecast]:
        """Its states, in the order of the work."""
        yield from self.states


def _or_usual(stated: Limit | None, sae: str) -> Limit:
    most, source = housing_run_out(sae)
    return stated or limit(source, high=most)
