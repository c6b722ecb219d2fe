"""Identity: what tells this block from another, recorded and photographed before anything is cut
away.
"""

from __future__ import annotations

from datumbook.cells.tables import Row, Sheet, Table
from datumbook.spec.features import Identity
from datumbook.stations.received.features import Feature, tick
from datumbook.workbook.layout import Layout

FACES = {
    "deck": "Deck",
    "bottom": "Bottom face",
    "front": "Front face",
    "rear": "Rear face",
    "left": "Left side",
    "right": "Right side",
}


def sheet(layout: Layout) -> Sheet:
    """The sheet of identity and photographs."""
    spec = layout.spec.identity
    assert spec is not None  # the station is left out without it
    feature = Feature(layout, "identity")
    return Sheet(
        name="Identity",
        title="Identity of the block",
        parts=(_marks(feature, spec), _photographs(feature)),
    )


def _marks(feature: Feature, spec: Identity) -> Table:
    return Table(
        key="marks",
        title="Numbers and marks",
        heading="Mark",
        note="Copied or rubbed before the first cut: numbers on a deck's edge are machined away. "
        "Without them nobody can "
        "say whose block this was.",
        rows=[Row(str(number), words) for number, words in enumerate(spec.marks, 1)],
        columns=(
            tick("recorded", "recorded", "Type done when copied into the papers or rubbed."),
            feature.done("marks", "recorded"),
        ),
    )


def _photographs(feature: Feature) -> Table:
    return Table(
        key="photographs",
        title="Photographs",
        heading="Face",
        note="The only evidence of what the shop was given.",
        rows=[Row(key, words) for key, words in FACES.items()],
        columns=(
            tick(
                "taken",
                "photographed",
                "Type done when the face is photographed with the job number in the picture.",
            ),
            feature.done("photographs", "taken"),
        ),
    )
