"""Surfaces: the finish of faces and bores as a stylus traces it, and the angle of the hone's
marks.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import chain

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Input, Reading, Result, Sizes, limited, words
from datumbook.cells.tables import Form, Prose, Row, Sheet, Table, cylinder_rows
from datumbook.equations import surfaces
from datumbook.numbers.printing import NOT_LESS, NOT_MORE
from datumbook.numbers.quantities import NO_LENGTH, read_quantity
from datumbook.numbers.units import convert
from datumbook.spec import limit
from datumbook.spec.named import (
    BoreFinish,
    FaceFinish,
    Plateau,
    Roughness,
    SurfaceLimits,
    UpperLimit,
)
from datumbook.standards import table
from datumbook.standards.surfaces import FinishWanted, gasket_finish, ring_finish
from datumbook.stations.named.set_ups import ANGLES, feed_marks, hatch_limit, hone_setting
from datumbook.stations.received.face_grid import Doubt
from datumbook.stations.received.features import middle, ticked
from datumbook.stations.received.measured import Measured
from datumbook.stations.received.route import Route
from datumbook.stations.received.states import FINISHED

TRACED_AT = ("front", "middle", "rear")
CUTOFFS, ROUGHEST = (0.08, 8.0), 0.2  # what a cut-off and a finish can be at all, in mm
CUTOFF = Sizes("mm", 2)


class HowTraced(Form):
    """What the readings of one surface are of, said once for all of them."""

    stated_as: Column
    read_as: Column
    cutoff_set: Column


class Surface:
    """The finish of one surface, in the one state in which it counts: as this job leaves it."""

    def __init__(
        self,
        basis: Basis,
        route: Route,
        doubt: Doubt,
        name: str,
        face: str,
        wanted: tuple[UpperLimit | None, Roughness, FinishWanted],
    ) -> None:
        finished = Measured(basis, route, f"{name}_finish", FINISHED)
        self.measured = finished if finished.again else Measured(basis, route, f"{name}_finish")
        self.basis, self.doubt, self.name, self.face = basis, doubt, name, face
        self.sizes = basis.sizes("surfaces")
        stated, self.stated_as, usual = wanted
        ends = (stated or usual).low or NO_LENGTH, (stated or usual).high
        self.limit = limit(stated.source if stated else usual.told, low=ends[0], high=ends[1])
        self.how = self._how()

    def _how(self) -> HowTraced:
        """What is read, and with which cut-off: once for all places of a surface."""
        kinds = dict.fromkeys((self.stated_as, surfaces.RA, surfaces.RZ, surfaces.RQ))
        likely = surfaces.sampling_length(middle(self.limit).to("mm"), self.stated_as)
        return HowTraced(
            key=self.measured.key(f"{self.name}_traced"),
            title=self.measured.title(f"{self.face}: how it is traced"),
            lines=(
                words("stated_as", "The limit is of", self.stated_as),
                Reading(
                    name="read_as",
                    words="What is read is",
                    unit=None,
                    choices=(*kinds, surfaces.SPECIMEN),
                    how="As the instrument shows it; like, of a comparison specimen.",
                ),
                CUTOFF.reading(
                    "cutoff_set",
                    "Cut-off set",
                    read_quantity(f"{likely} mm"),
                    "On the instrument, by the finish, as the table below wants it.",
                    possible=CUTOFFS,
                ),
            ),
        )

    def each(self, rows: Sequence[Row], title: str, *further: Column | Check) -> Table:
        """What is read at each place, whether it can be judged, and what else is looked at."""
        sizes, how, stale = self.sizes, self.how, self.measured.spoilers()
        kinds: dict[str, Callable[[str], Input]] = {
            "read_as": lambda _: how.read_as,
            "stated_as": lambda _: how.stated_as,
        }
        found = Table(
            key=self.measured.key(f"{self.name}_finish"),
            title=self.measured.title(title),
            heading="Where",
            note=f"Limits: {self.limit.source}.",
            spoilers=stale,
            rows=rows,
            columns=(
                sizes.reading(
                    "roughness",
                    "finish",
                    middle(self.limit),
                    "Stylus across the marks, on clean dry metal.",
                    possible=(0.0, _roughest(self.basis)),
                ),
                sizes.given("low", NOT_LESS, self.limit.low),
                sizes.given("high", NOT_MORE, self.limit.high),
                CUTOFF.result(
                    "sampling_length",
                    "cut-off wanted",
                    surfaces.sampling_length,
                    read_as=kinds["read_as"],
                ),
                CUTOFF.reading(
                    "cutoff_here",
                    "another set here",
                    how="Only where this place was traced with another cut-off.",
                    possible=CUTOFFS,
                    wanted=False,
                ),
                CUTOFF.result(
                    "cutoff", "counts", surfaces.cutoff, cutoff_set=lambda _: how.cutoff_set
                ),
                CUTOFF.result("evaluation_length", "judged over", surfaces.evaluation_length),
                CUTOFF.result("traverse_length", "stylus travels", surfaces.traverse_length),
                sizes.result(
                    "finish_guard",
                    "guard",
                    surfaces.finish_guard,
                    guard_factor=self.doubt.rule.guard_factor,
                    resolution=self.doubt.instruments.gauges.resolution["surfaces"],
                    all_told=self.doubt.instruments.gauges.all_told["surfaces"],
                ),
                Result(
                    name="why_not_judged",
                    words="cannot tell",
                    equation=surfaces.why_not_judged,
                    inputs=kinds,
                    width=20,
                ),
            ),
        )
        verdict = Result(
            name="verdict",
            words="verdict",
            equation=surfaces.fresh_finish if stale else surfaces.verdict_of_finish,
            inputs={**kinds, **(found.freshness if stale else {})},
        )
        judged = Check(of=verdict, judged=True, source=self.limit.source)
        found.extend((verdict, judged, *further))
        return found


class Surfaces:
    """The finish of deck, bottom face and bores."""

    def __init__(
        self, basis: Basis, route: Route, doubt: Doubt, spec: SurfaceLimits, bore: Input
    ) -> None:
        self.basis, self.route, self.doubt, self.spec, self.bore = basis, route, doubt, spec, bore
        self.finished = False
        self.parts = [*chain.from_iterable(self._faces()), *self._bores()]

    def sheet(self) -> Sheet:
        """The sheet of the surfaces."""
        return Sheet(
            name="Surfaces",
            title="Finish of faces and bores",
            parts=self.parts,
            stage="finished" if self.finished else "received",
            widths={1: 26},
        )

    def _surface(
        self, name: str, face: str, spec: FaceFinish | BoreFinish, usual: FinishWanted
    ) -> Surface:
        wanted = (spec.roughness, spec.stated_as, usual)
        found = Surface(self.basis, self.route, self.doubt, name, face, wanted)
        self.finished |= found.measured.again
        return found

    def _faces(self) -> Iterator[Sequence[Prose | Form | Table]]:
        """Deck and bottom face, each with how it was traced and what was found."""
        spec, banks = self.spec, self.basis.spec.banks
        decks = {f"{bank.key}_": f"{bank.words}, " for bank in banks} or {"": ""}
        faces = (
            ("deck", "Deck", spec.deck, decks),
            ("bottom", "Bottom face", spec.bottom, {"": ""}),
        )
        if spec.deck or spec.bottom:
            yield [_cautions("faces"), feed_marks(self.basis)]
        for name, called, face, parts in faces:
            if face:
                surface = self._surface(name, called, face, gasket_finish(face.gasket))
                rows = [
                    Row(f"{key}{place}", f"{said}{place}")
                    for key, said in parts.items()
                    for place in TRACED_AT
                ]
                looked = ticked("marks", "marks", "Type done when the cutter's marks are sound.")
                title = f"{called}: finish for {face.gasket}"
                yield [surface.how, surface.each(rows, title, *looked)]

    def _bores(self) -> list[Prose | Form | Table]:
        """The bores, with the angle of the hone's marks; how the hone is to be set for it."""
        spec = self.spec.bores
        if spec is None:
            return []
        surface = self._surface("bore", "Bores", spec, ring_finish(spec.rings))
        hatch = ANGLES.reading(
            "hatch",
            "angle between crossing marks",
            middle(hatch_limit(spec)),
            "Between the two, on a print or through a protractor of film.",
            possible=(0.0, 180.0),
        )
        horizontal = ANGLES.result("half_angle", "each to the horizontal", surfaces.half_angle)
        rows = cylinder_rows(self.basis.cylinders())
        title = f"Bores: finish for {spec.rings}"
        plateau = _plateau(self.basis, spec.plateau) if spec.plateau else ()
        angles = (*limited(hatch, hatch_limit(spec)), horizontal)
        each = surface.each(rows, title, *angles, *plateau)
        return [_cautions("bores"), hone_setting(self.basis, spec, self.bore), surface.how, each]


def _roughest(basis: Basis) -> float:
    return convert(ROUGHEST, "mm", basis.unit_of("surfaces"))


def _plateau(basis: Basis, spec: Plateau) -> Iterator[Column | Check]:
    """The three parts of a plateau, where they are asked for."""
    sizes, most = basis.sizes("surfaces"), _roughest(basis)
    for name, called, held in (
        ("peaks", "Rpk", spec.peaks),
        ("core", "Rk", spec.core),
        ("valleys", "Rvk", spec.valleys),
    ):
        yield from limited(
            sizes.reading(name, called, middle(held), "Off the same trace.", possible=(0.0, most)),
            held,
        )


def _cautions(of: str) -> Prose:
    lines = table("surfaces")["cautions"][of]
    return Prose(title=f"What to mind: {of}", lines=[(line,) for line in lines])
