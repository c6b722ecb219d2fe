"""What is above the piston: its volumes, the ratio they make, and the gap that squeezes the
charge.
"""

from __future__ import annotations

from datumbook.formulas.functions import PI, largest, smallest, taken_as
from datumbook.formulas.kinds import Count, Length, Ratio, Volume


def capacity(bore: Length, stroke: Length, cylinders: Count) -> Volume:
    """Volume all pistons sweep together: what an engine is spoken of by.

    Source: geometry and count.

    >>> capacity(bore=70, stroke=75, cylinders=4)
    1154535.
    """
    return PI / 4 * bore**2 * stroke * taken_as(cylinders, Ratio)


def gasket_volume(gasket_hole: Length, gasket_thickness: Length) -> Volume:
    """Volume of the gasket's bore hole, at the thickness it is pressed to.

    Source: geometry.

    >>> gasket_volume(gasket_hole=82, gasket_thickness=1.2)
    6337.2
    """
    return PI / 4 * gasket_hole**2 * gasket_thickness


def deck_volume(bore: Length, deck_clearance: Length) -> Volume:
    """Volume between piston crown and deck at top dead centre; below zero where the crown stands
    proud.

    Source: geometry.

    >>> deck_volume(bore=80, deck_clearance=-0.25)
    -1256.6
    """
    return PI / 4 * bore**2 * deck_clearance


def clearance_volume(
    chamber_volume: Volume, dish_volume: Volume, gasket_volume: Volume, deck_volume: Volume
) -> Volume:
    """Volume left above the piston at top dead centre.

    dish_volume: above zero for a hollow in the crown, below zero for a dome.

    Source: geometry; the crevice above the top ring is left out.

    >>> clearance_volume(
    ...     chamber_volume=28000, dish_volume=3000, gasket_volume=6337.2, deck_volume=1256.6,
    ... )
    38593.8
    """
    return chamber_volume + dish_volume + gasket_volume + deck_volume


def compression_ratio(swept_volume: Volume, clearance_volume: Volume) -> Ratio:
    """Volume above the piston at the bottom of its stroke over that at the top.

    Source: Otto example p. 616.

    >>> compression_ratio(swept_volume=397097.3, clearance_volume=38593.9)
    11.289
    """
    return (swept_volume + clearance_volume) / clearance_volume


def compression_spread(*compression_ratios: Ratio) -> Ratio:
    """How unlike the cylinders compress: the highest ratio less the lowest.

    Source: common practice, no source.

    >>> compression_spread(9.65, 9.62, 9.66, 9.60)
    0.06
    """
    return largest(*compression_ratios) - smallest(*compression_ratios)


def squish(deck_clearance: Length, gasket_thickness: Length) -> Length:
    """Gap between the rim of the crown and a flat head at top dead centre; a hollow in the head
    adds to it.

    Source: geometry.

    >>> squish(deck_clearance=0.008, gasket_thickness=0.034)
    0.042
    """
    return deck_clearance + gasket_thickness
