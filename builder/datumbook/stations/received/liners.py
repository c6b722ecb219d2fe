"""Liners: how far they stand out of the deck, liner by liner and under each head, as received and
once the deck is cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from datumbook.cells.columns import Check, Column
from datumbook.cells.tables import Form, Line, Sheet, Table, cylinder_rows
from datumbook.equations import clearances, liners
from datumbook.numbers.units import convert
from datumbook.spec.liners import Liners
from datumbook.stations.decided.bore_plan import dry
from datumbook.stations.received import dry_liners
from datumbook.stations.received.features import Feature
from datumbook.stations.received.states import FINISHED
from datumbook.workbook.layout import Layout

PLACES = {"front": "front", "right": "right", "rear": "rear", "left": "left"}
MOST_SHIMS = 2.0  # millimetres


def sheet(layout: Layout) -> Sheet:
    """The sheet of the liners as received."""
    return Sheet(name="Liners", title="Cylinder liners", parts=_parts(layout))


def _parts(layout: Layout) -> Sequence[Table | Form]:
    spec = dry(layout)
    return dry_liners.parts(layout, spec) if spec is not None else measured(layout, finished=False)


def measured(layout: Layout, finished: bool) -> list[Table | Form]:
    """What is measured of wet or flanged liners in one state; as finished only where the work has
    moved the deck.
    """
    spec, feature = layout.spec.liners, Feature(layout, "stand_out")
    if spec is None or spec.kind == "dry" or (finished and not feature.again):
        return []
    feature = feature.finished() if finished else feature
    ledges = [_counterbores(feature, spec)] if spec.kind == "flanged" else []
    return [*ledges, _each(feature, spec), _heads(feature, spec)]


def _counterbores(feature: Feature, spec: Liners) -> Table:
    sizes, key = feature.layout.sizes("liners"), feature.key("counterbores")
    assert spec.counterbore_spread is not None  # the spec's model holds it to be there
    how = "Depth micrometer from the deck, half way across the ledge; ledge clean and bare."
    return Table(
        key=key,
        title=feature.title("Counterbores for the flanges"),
        heading="Cylinder",
        note="Depth at four places round the ledge. Out of level decides: the ledge is cut true, "
        "and shims make up for it.",
        spoilers=feature.spoilers(),
        rows=cylinder_rows(feature.layout.cylinders()),
        columns=(
            *(
                sizes.reading(place, words, spec.counterbore_depth, how)
                for place, words in PLACES.items()
            ),
            sizes.result(
                "ledge_spread",
                "deepest less shallowest",
                liners.ledge_spread,
                ledge_depths=[f"{key}.{{row}}.{place}" for place in PLACES],
            ),
            feature.check("counterbores", "ledge_spread", spec.counterbore_spread),
        ),
    )


def _each(feature: Feature, spec: Liners) -> Table:
    flanged = spec.kind == "flanged"
    assert spec.stand_out is not None  # the spec's model holds it to be there
    return Table(
        key=feature.key("liner"),
        title=feature.title("Stand-out of the liners"),
        heading="Cylinder",
        note="Liners bare of seals, held down evenly. Out decides: shims, another liner, or the "
        "ledge cut deeper."
        + (
            " The deck cut of the plan counts as if no ledge were cut after it."
            if feature.state is not FINISHED
            else ""
        ),
        spoilers=() if flanged else feature.spoilers(),
        fresh_in=feature.key("counterbores") if flanged and feature.spoilers() else "",
        rows=cylinder_rows(feature.layout.cylinders()),
        columns=(
            *(_of_flange(feature, spec) if flanged else _of_gauge(feature)),
            feature.check("liner", "stand_out", spec.stand_out),
            *(() if feature.state is FINISHED else _after_deck_cut(feature.layout)),
        ),
    )


def _of_flange(feature: Feature, spec: Liners) -> Iterator[Column | Check]:
    """Stand-out from the flange's thickness, its shims and the depth it sits in."""
    sizes = feature.layout.sizes("liners")
    depths = [f"{feature.key('counterbores')}.{{row}}.{place}" for place in PLACES]
    most = convert(MOST_SHIMS, "mm", sizes.unit)  # type: ignore[arg-type]
    yield sizes.reading(
        "flange_height", "flange", spec.flange_thickness, "Micrometer, the mean of four places."
    )
    yield sizes.reading("shims", "shims under it", how="0 if none.", possible=(0.0, most))
    yield sizes.result("counterbore_depth", "depth, mean", liners.ledge_depth, ledge_depths=depths)
    yield sizes.result("stand_out", "stands out", clearances.stand_out)


def _of_gauge(feature: Feature) -> Iterator[Column | Check]:
    """Stand-out of a liner without a flange, read with an indicator on a bridge."""
    sizes, key = feature.layout.sizes("liners"), feature.key("liner")
    how, span = "Indicator on a bridge, set to nought on the deck.", feature.signed("liners")
    for place, words in PLACES.items():
        yield sizes.reading(place, words, how=how, possible=span)
    yield sizes.result(
        "stand_out",
        "stands out, mean",
        liners.ledge_depth,
        ledge_depths=[f"{key}.{{row}}.{place}" for place in PLACES],
    )


def _after_deck_cut(layout: Layout) -> Iterator[Column | Check]:
    decks = {
        str(number): f"{bank.key}_plan.deck_cut" if bank.key else "plan.deck_cut"
        for bank in layout.spec.rows
        for number in bank.cylinders
    }
    yield layout.sizes("liners").result(
        "stand_out_after", "after the deck cut", liners.stand_out_after, deck_cut=decks.__getitem__
    )


def _heads(feature: Feature, spec: Liners) -> Form:
    sizes, key = feature.layout.sizes("liners"), feature.key("heads")
    heads = spec.heads or tuple(bank.cylinders for bank in feature.layout.spec.rows)
    assert spec.spread is not None  # the spec's model holds it to be there

    def line(place: int, cylinders: tuple[int, ...]) -> Line:
        of: Any = [f"{feature.key('liner')}.{number}.stand_out" for number in cylinders]
        words = f"Head over cylinders {', '.join(map(str, cylinders))}"
        spread = Line(
            column=sizes.result(f"spread_{place}", words, liners.stand_out_spread, stand_outs=of)
        )
        assert spec.spread is not None
        return feature.judged("heads", spread, spec.spread)

    return Form(
        key=key,
        title=feature.title("Proudest less least proud liner under one head"),
        lines=[line(place, cylinders) for place, cylinders in enumerate(heads, 1)],
        fresh_in=feature.key("counterbores" if spec.kind == "flanged" else "liner")
        if feature.spoilers()
        else "",
    )
