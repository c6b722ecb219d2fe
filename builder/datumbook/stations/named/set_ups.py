"""Set-ups: what a fly-cutter can leave at best, and the angle a hone gives, as they are set."""

from __future__ import annotations

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Column, Input, Sizes, typed_words
from datumbook.cells.tables import Form, Line
from datumbook.equations import standings, surfaces
from datumbook.numbers.units import convert
from datumbook.spec import Limit, limit
from datumbook.spec.named import BoreFinish
from datumbook.stations.received.features import middle

ANGLES = Sizes("deg", 1)


class HoneSetting(Form):
    """How the hone is set, and the angle that comes of it."""

    hone_speed: Column


def feed_marks(basis: Basis) -> Form:
    """What a round-nosed cutter can leave at best, from how it is set."""
    cut = basis.decisions("heights")
    most = tuple(convert(one, "mm", basis.unit_of("heights")) for one in (0.0, 10.0))
    read = basis.decisions("surfaces")
    return Form(
        key="feed_marks",
        title="What the cutter can leave at best",
        note="A forecast for the set-up, before the cut; it holds nothing up.",
        lines=(
            cut.reading(
                "feed",
                "Feed a turn",
                how="Of the fly-cutter, as the machine is set.",
                possible=most,
                wanted=False,
            ),
            cut.reading(
                "nose_radius",
                "Nose radius",
                how="Of the cutter's tip.",
                possible=most,
                wanted=False,
            ),
            read.result("feed_mark_height", "Rz of the marks", surfaces.feed_mark_height),
            read.result("feed_mark_roughness", "Ra of them", surfaces.feed_mark_roughness),
        ),
    )


def hone_setting(basis: Basis, spec: BoreFinish, bore: Input) -> HoneSetting:
    """The hone's setting, both angles that come of it, and the strokes that give the middle of
    the limits.
    """
    bores = basis.decisions("bores")
    travels = tuple(convert(one, "mm", basis.unit_of("bores")) for one in (0.0, 1000.0))
    speed, fast = Sizes("m/min", 1), (0.0, 2000.0)
    wanted = ANGLES.given("hatch", "Angle wanted between the marks", middle(hatch_limit(spec)))
    return HoneSetting(
        key="hone_setting",
        title="How the hone is set",
        note="A forecast before honing; it holds nothing up. Crank-driven heads run half as "
        "fast again in mid-stroke.",
        lines=(
            bores.result("bore", "Bore to be honed", standings.shown_again, value=bore),
            Sizes("1/min", 0).reading(
                "spindle_speed", "Hone turns", how="As set.", possible=fast, wanted=False
            ),
            bores.reading(
                "travel",
                "Travel of the hone",
                how="From end to end, not the engine's stroke.",
                possible=travels,
                wanted=False,
            ),
            Sizes("count", 0).reading(
                "strokes", "Strokes in a minute", how="Counted.", possible=fast, wanted=False
            ),
            typed_words(
                "counted_as",
                "Counted as full cycles or single strokes",
                "Down and up is one full cycle, or two single strokes.",
                choices=(surfaces.FULL_CYCLES, surfaces.SINGLE_STROKES),
            ),
            speed.result("hone_speed", "Speed round the bore", surfaces.hone_speed),
            speed.result("stroking_speed", "Speed along it", surfaces.stroking_speed),
            ANGLES.result(
                "angle_to_horizontal", "Marks to the horizontal", surfaces.angle_to_horizontal
            ),
            ANGLES.result(
                "included_angle", "Angle between crossing marks", surfaces.included_angle
            ),
            Line(column=wanted, note=spec.hatch_source),
            Sizes("count", 1).result(
                "strokes_for_hatch", "Full cycles in a minute for it", surfaces.strokes_for_hatch
            ),
        ),
    )


def hatch_limit(spec: BoreFinish) -> Limit:
    """The angle between the crossing marks, as the spec limits it."""
    return limit(spec.hatch_source, low=spec.hatch_from, high=spec.hatch_to)
