"""Faces: how flat deck and bottom face are under a straight-edge and over a grid, how square the
deck stands to the bores.
"""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.cells.columns import Result
from datumbook.cells.tables import Form, Line, Row, Sheet, Table, cylinder_rows
from datumbook.equations import flatness
from datumbook.spec import Limit
from datumbook.spec.features import Face, Squareness
from datumbook.stations.received.face_grid import grid
from datumbook.stations.received.features import Feature
from datumbook.stations.received.states import FINISHED
from datumbook.workbook.layout import Layout

ALONG = {
    "left_edge": "Along the left edge",
    "right_edge": "Along the right edge",
    "left_diagonal": "From front left to rear right",
    "right_diagonal": "From front right to rear left",
}
ACROSS = {"front_end": "Across the front end", "rear_end": "Across the rear end"}


def sheet(layout: Layout) -> Sheet:
    """The sheet of the faces as received."""
    parts = measured(layout, finished=False)
    found = {"flatness": layout.spec.flatness, "squareness": layout.spec.squareness}
    said = " and ".join(words for words, section in found.items() if section)
    return Sheet(name="Faces", title=f"{said.capitalize()} of the faces", parts=parts)


def measured(layout: Layout, finished: bool) -> list[Table | Form]:
    """What is measured of the faces in one state; as finished only what the work has moved."""
    return [
        part for one, parts in _all(layout, finished) if one.again or not finished for part in parts
    ]


def _all(layout: Layout, finished: bool) -> Iterator[tuple[Feature, list[Table | Form]]]:
    def feature(name: str) -> Feature:
        return Feature(layout, name).finished() if finished else Feature(layout, name)

    spec = layout.spec
    if spec.flatness:
        for bank in spec.rows:
            deck = feature("deck_flatness")
            yield (
                deck,
                _flatness(
                    deck, f"deck_flatness{bank.suffix}", bank.title("Deck"), spec.flatness.deck
                ),
            )
        if spec.flatness.bottom:
            bottom = feature("bottom_flatness")
            yield bottom, _flatness(bottom, "bottom_flatness", "Bottom face", spec.flatness.bottom)
    if spec.squareness:
        square = feature("squareness")
        yield square, _squareness(square, spec.squareness)


def _flatness(feature: Feature, name: str, words: str, face: Face) -> list[Table | Form]:
    parts: list[Table | Form] = [_lines(feature, name, words, face)]
    parts += [] if feature.state is FINISHED else [_worst(feature, name, words)]
    return [*parts, *(grid(feature, name, words, face.grid) if face.grid else [])]


def _limits(feature: Feature, face: Face) -> tuple[Limit, Limit]:
    if feature.state is FINISHED and face.finished:
        return face.finished, face.finished
    return face.along, face.across


def _lines(feature: Feature, name: str, words: str, face: Face) -> Table:
    sizes, how = (
        feature.layout.sizes("flatness"),
        "The thickest feeler that passes under the straight-edge; 0 if none.",
    )
    span = feature.gap("flatness")
    along, across = _limits(feature, face)
    return Table(
        key=feature.key(name),
        title=feature.title(f"{words}: six lines under the straight-edge"),
        heading="Line",
        note="Dowels out, edges free of burrs; around each stud hole as well.",
        spoilers=feature.spoilers(),
        rows=[Row(key, line) for key, line in (ALONG | ACROSS).items()],
        columns=(
            sizes.reading("gap_along", "gap along", how=how, possible=span, rows=list(ALONG)),
            feature.check(name, "gap_along", along, list(ALONG)),
            sizes.reading("gap_across", "gap across", how=how, possible=span, rows=list(ACROSS)),
            feature.check(name, "gap_across", across, list(ACROSS)),
        ),
    )


def _worst(feature: Feature, name: str, words: str) -> Form:
    gaps = [
        f"{feature.key(name)}.{line}.{gap}"
        for gap, lines in (("gap_along", ALONG), ("gap_across", ACROSS))
        for line in lines
    ]
    worst = feature.layout.sizes("flatness").result(
        "worst_gap", "Worst gap", flatness.worst_gap, gaps=gaps
    )
    note = "about the least cut that cleans the face"
    return Form(
        key=feature.key(f"{name}_worst"),
        title=feature.title(f"{words}: leave, stone or cut"),
        lines=(Line(column=worst, note=note),),
    )


def _squareness(feature: Feature, spec: Squareness) -> list[Table | Form]:
    parts: list[Table | Form] = [_swept(feature, spec)] if feature.state is not FINISHED else []
    return [
        *parts,
        _lean(feature, spec),
        *([_rear_face(feature, spec.rear_face)] if spec.rear_face else []),
    ]


def _swept(feature: Feature, spec: Squareness) -> Form:
    sizes = feature.layout.sizes("flatness")
    return Form(
        key="swept",
        title="How squareness is read",
        lines=(
            Line(
                column=sizes.given("swept_diameter", "Swept diameter", spec.swept_diameter),
                note=spec.swept_diameter.source,
            ),
            Line(
                column=sizes.given("length", "Length the lean is judged over", spec.length),
                note=spec.length.source,
            ),
        ),
    )


def _lean(feature: Feature, spec: Squareness) -> Table:
    sizes, key = feature.layout.sizes("flatness"), feature.key("squareness")
    how, span = (
        "Total reading of an indicator on a bar in the bore, swept on the deck.",
        feature.gap("flatness"),
    )

    def columns(way: str, words: str) -> tuple[object, ...]:
        lean = Result(
            name=f"out_of_square_{way}",
            words=f"angle {words}",
            unit="deg",
            decimals=4,
            equation=flatness.out_of_square,
            inputs={
                "total_reading": f"{key}.{{row}}.{way}",
                "swept_diameter": "swept.swept_diameter",
            },
        )
        over = sizes.result(
            f"lean_{way}",
            f"lean {words}",
            flatness.out_of_square_over,
            length="swept.length",
            out_of_square=f"{key}.{{row}}.out_of_square_{way}",
        )
        return (
            sizes.reading(way, f"reading {words}", how=how, possible=span),
            lean,
            over,
            feature.check("squareness", f"lean_{way}", spec.lean),
        )

    return Table(
        key=key,
        title=feature.title("Deck square to the bores"),
        heading="Cylinder",
        note="Out of square decides: which face the boring bar is set from.",
        spoilers=feature.spoilers(),
        rows=cylinder_rows(feature.layout.cylinders()),
        columns=(*columns("lengthwise", "lengthwise"), *columns("crosswise", "crosswise")),  # type: ignore[arg-type]
    )


def _rear_face(feature: Feature, limits: Limit) -> Form:
    sizes, how = (
        feature.layout.sizes("flatness"),
        "Total reading of an indicator swept by the crank or a bar in the tunnels.",
    )
    run_out = Line(
        column=sizes.reading(
            "run_out", "Run-out of the rear face", how=how, possible=feature.gap("flatness")
        )
    )
    fresh = feature.key("squareness") if feature.spoilers() else ""
    return Form(
        key=feature.key("rear_face"),
        title=feature.title("Rear face to the crank's axis"),
        fresh_in=fresh,
        lines=(feature.judged("rear_face", run_out, limits),),
        note="Too much decides: offset dowels, or skim.",
    )
