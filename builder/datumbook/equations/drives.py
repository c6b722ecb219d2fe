"""What a lifted crank axis does to the cam's drive: centres nearer, chain slack, gears tight, the
cam late.
"""

from __future__ import annotations

from datumbook.formulas.functions import cosine, more_than, square_root, taken_as, tangent, where
from datumbook.formulas.kinds import Angle, Length


def centre_change(centre_distance: Length, axis_shift: Length, angle: Angle) -> Length:
    """Growth of the distance from crank to cam when the crank axis moves towards the deck; below
    zero when they near.

    angle: between the line from crank to cam and the line from crank to deck; 0 for a cam straight
    above the crank.

    Source: geometry, the third side of a triangle.

    >>> centre_change(centre_distance=133.35, axis_shift=0.1016, angle=0.0)
    -0.1016
    """
    sides = centre_distance * centre_distance + axis_shift * axis_shift
    return square_root(sides - 2 * centre_distance * axis_shift * cosine(angle)) - centre_distance


def centre_after(centre_received: Length, centre_change: Length) -> Length:
    """Distance from crank to cam after the line bore.

    Source: geometry.

    >>> centre_after(centre_received=133.34, centre_change=-0.10)
    133.24
    """
    return centre_received + centre_change


def backlash_change(centre_change: Length, pressure_angle: Angle) -> Length:
    """Growth of the backlash between two gears whose centres move; below zero where they come to
    run tighter.

    Source: geometry: both flanks of a tooth slope by the pressure angle.

    >>> backlash_change(centre_change=-0.004, pressure_angle=0.3490659)
    -0.00291
    """
    return 2 * centre_change * tangent(pressure_angle)


def chain_excess(centre_change: Length) -> Length:
    """Length of chain left over in its two strands; below zero where the chain has become too
    short.

    Over unlike sprockets the strands slant, and a little less is left over: one part in eighty
    where the pitch radii are 41 and 20.5 mm, 133 mm apart.

    Source: geometry, both strands along the line of centres.

    >>> chain_excess(centre_change=-0.004)
    0.008
    """
    return -2 * centre_change


def chain_sag(span: Length, chain_excess: Length) -> Length:
    """Sag of the slack strand in the middle of its span, with all the excess in it; none where
    there is no excess.

    Source: geometry of a flat arc: length less span = 8 x sag² / (3 x span).

    >>> chain_sag(span=5.250, chain_excess=0.008)
    0.1255
    """
    return square_root(3 * span * where(more_than(chain_excess, 0), chain_excess, 0) / 8)


def cam_retard(centre_change: Length, sprocket_radius: Length) -> Angle:
    """Angle by which a chain-driven cam runs late when the centres near; below zero early.

    sprocket_radius: of the cam's own sprocket. The driving strand gives by as much as the centres
    do; where it slants, by as little less as chain_excess says.

    Source: geometry.

    >>> cam_retard(centre_change=-0.004, sprocket_radius=1.600)
    0.0025
    """
    return taken_as(-centre_change / sprocket_radius, Angle)


def crank_retard(cam_retard: Angle) -> Angle:
    """The same lateness as read on the crank, which turns twice as fast as the cam.

    Source: count.

    >>> crank_retard(cam_retard=0.0025)
    0.005
    """
    return 2 * cam_retard
