"""Identity: what tells this block from another, recorded and photographed before anything is cut
away.
"""

from __future__ import annotations

from datumbook.cells.tables import Row, Sheet, Table
from datumbook.spec.features import Identity
from datumbook.stations.received.features import ticked

FACES = {
    "deck": "Deck",
    "bottom": "Bottom face",
    "front": "Front face",
    "rear": "Rear face",
    "left": "Left side",
    "right": "Right side",
}


def block_identity(spec: Identity) -> Sheet:
    """The sheet of the marks of the block and its photographs."""
    marks = Table(
        key="marks",
        title="Numbers and marks",
        heading="Mark",
        note="Copied or rubbed before the first cut: numbers on a deck's edge are machined away. "
        "Without them nobody can "
        "say whose block this was.",
        rows=[Row(str(number), words) for number, words in enumerate(spec.marks, 1)],
        columns=ticked("recorded", "recorded", "Type done when copied into the papers or rubbed."),
    )
    photographs = Table(
        key="photographs",
        title="Photographs",
        heading="Face",
        note="The only evidence of what the shop was given.",
        rows=[Row(key, words) for key, words in FACES.items()],
        columns=ticked(
            "taken",
            "photographed",
            "Type done when the face is photographed with the job number in the picture.",
        ),
    )
    return Sheet(
        read=True, name="Identity", title="Identity of the block", parts=(marks, photographs)
    )
