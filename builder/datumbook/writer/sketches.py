"""The sketches of where to measure: on the forms for the pen, under the words of their table or
beside its boxes.

Each is drawn once (`tests/scripts/make_sketches.py`) and says nothing of one engine.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

SKETCH_HIGH = 150  # pixels, as printed: of one that stands under words

DRAWINGS = Path(__file__).parent / "drawings"
SAYS = {
    "bores": "A bore cut open: the unworn lip above the ring travel, and the depths below the "
    "deck; from above the two directions, across the crank and along it.",
    "tunnels": "A tunnel from its end: square to the joint, and off the joint to either side; "
    "never across the joint.",
    "corners": "The deck from above, with its four corners: to one who looks forward the front is "
    "ahead, left and right are one's own.",
}


def sketch(name: str) -> Path:
    """The file of a sketch.

    >>> sketch("bores").name
    'bores.png'
    """
    return DRAWINGS / f"{name}.png"


def in_its_row(name: str, below: int) -> dict[str, Any]:
    """How a sketch is inserted, so many pixels below the top of its row: drawn twice as large as it
    is printed, with its words.
    """
    half = {"x_scale": 0.5, "y_scale": 0.5}
    return half | {"y_offset": below, "description": SAYS[name], "object_position": 1}


def beside(name: str) -> dict[str, Any]:
    """How a sketch is inserted beside a table, clear of its boxes and of the rule over it."""
    return in_its_row(name, 6) | {"x_offset": 12}
