"""Height forms: what follows from the heights over the corners of one bank."""

from __future__ import annotations

from datumbook.cells.columns import Column
from datumbook.cells.tables import Form


class OverCorners(Form):
    """What follows from one height over the four corners."""

    mean_height: Column
    lowest_corner: Column
    twist: Column


class AxisHeights(Form):
    """The crank axis over the bottom face, and whether the three heights agree."""

    bottom_height: Column
    height_closure: Column


class PistonStack(Form):
    """The piston at the top of its stroke, under the deck."""

    stroke: Column
    piston_stack: Column
    deck_clearance: Column
