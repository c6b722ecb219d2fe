"""The mandrel that heights are read over: it does not lie in the middle of its tunnels, and the
block is clocked along it, not along the crank line.
"""

from __future__ import annotations

from datumbook.formulas.functions import (
    decided,
    equal,
    largest,
    more_than,
    only_where,
    square_root,
    where,
)
from datumbook.formulas.kinds import Length, Words

IN_SADDLES, IN_CAPS = "saddles", "caps"  # where a mandrel lies


def mandrel_seat(
    mandrel_lies: Words, tunnel_size: Length, width_across: Length, mandrel: Length
) -> Length:
    """How far the axis of a mandrel stands above the centre of the tunnel it lies in: above in the
    saddles, below zero in the caps. A tunnel much higher than it is wide, taken as an oval, holds
    it on both flanks, short of the top.

    tunnel_size: upright; width_across: off the joint; mandrel: its diameter (mm). Blank until it is
    said where it lies.

    Source: geometry; a circle that touches an ellipse from inside, on its axis or beside it.

    >>> mandrel_seat("saddles", tunnel_size=61.09, width_across=61.08, mandrel=61.03)
    0.03
    """
    on_top = (tunnel_size - mandrel) / 2
    higher = (tunnel_size - width_across) * (tunnel_size + width_across)
    wider = (width_across - mandrel) * (width_across + mandrel)
    on_flanks = square_root(largest(0, higher * wider)) / (2 * width_across)
    seat = where(more_than(mandrel * tunnel_size, width_across * width_across), on_flanks, on_top)
    return where(
        equal(mandrel_lies, IN_SADDLES), seat, only_where(equal(mandrel_lies, IN_CAPS), 0 - seat)
    )


@decided
def seat_as_found(mandrel_seat: Length) -> Length:
    """The seat once more, as a figure that stands: what it may be off by is counted beside it, as
    one influence, where every reading of the tunnel would be many.

    Source: [JCGM 100] 4.3.3, an uncertainty taken over from elsewhere.

    >>> seat_as_found(mandrel_seat=0.03)
    0.03
    """
    return 1 * mandrel_seat


def seat_counted(seat_as_found: Length, seat_off: Length) -> Length:
    """The seat with what it may be off, taken as nothing.

    Source: none needed.

    >>> seat_counted(seat_as_found=0.03, seat_off=0.0)
    0.03
    """
    return seat_as_found + seat_off


def deck_over_centre(deck_height: Length, mandrel_seat: Length) -> Length:
    """Tunnel's centre to deck, from a height read over a mandrel.

    mandrel_seat: at the place of the reading, straight from the front tunnel's to the rear's.

    Source: geometry.

    >>> deck_over_centre(deck_height=219.97, mandrel_seat=0.03)
    220.00
    """
    return deck_height + mandrel_seat


def bottom_over_centre(bottom_height: Length, mandrel_seat: Length) -> Length:
    """Tunnel's centre to bottom face, from a height read over a mandrel.

    mandrel_seat: as deck_over_centre.

    Source: geometry.

    >>> bottom_over_centre(bottom_height=80.03, mandrel_seat=0.03)
    80.00
    """
    return bottom_height - mandrel_seat


def under_mandrel(mandrel_seat: Length) -> Length:
    """The same as it is for the bottom face, whose heights are counted downwards.

    Source: geometry.

    >>> under_mandrel(mandrel_seat=0.03)
    -0.03
    """
    return 0 - mandrel_seat
