"""Parts in the block: what runs free, what is held tight, what stands proud."""

from __future__ import annotations

from datumbook.formulas.functions import (
    PI,
    at_least,
    missing,
    numbers_in,
    only_where,
    takes_blanks,
    where,
)
from datumbook.formulas.kinds import Length


@takes_blanks
def size_to_fit(finished: Length, planned: Length) -> Length:
    """The size a part is fitted to: as finished once that is measured, until then as it is planned.

    Source: common practice, no source.

    >>> size_to_fit(finished=82.508, planned=82.500)
    82.508
    >>> size_to_fit(finished=float("nan"), planned=82.500)
    82.500
    """
    return where(missing(finished), only_where(at_least(numbers_in(planned), 1), planned), finished)


def cam_clearance(cam_bore: Length, journal: Length) -> Length:
    """Room a cam journal has in its bore or bush.

    Source: geometry.

    >>> cam_clearance(cam_bore=47.665, journal=47.625)
    0.040
    """
    return cam_bore - journal


def tappet_clearance(tappet_bore: Length, tappet: Length) -> Length:
    """Room a tappet has in its bore.

    Source: geometry.

    >>> tappet_clearance(tappet_bore=20.640, tappet=20.610)
    0.030
    """
    return tappet_bore - tappet


def oil_clearance(tunnel_size: Length, shell_thickness: Length, journal: Length) -> Length:
    """Room for oil round a journal: the tunnel less a shell on either side less the journal.

    Source: geometry.

    >>> oil_clearance(tunnel_size=2.4040, shell_thickness=0.0760, journal=2.2500)
    0.0020
    """
    return tunnel_size - 2 * shell_thickness - journal


def end_float(journal_width: Length, thrust_width: Length) -> Length:
    """How far the crank can move endways: between its own cheeks, less the width over the thrust
    faces between them.

    Source: geometry.

    >>> end_float(journal_width=38.15, thrust_width=38.00)
    0.15
    """
    return journal_width - thrust_width


def core_plug_interference(core_plug: Length, hole: Length) -> Length:
    """How much larger a core plug is than its hole; below zero it would fall in.

    Source: geometry.

    >>> core_plug_interference(core_plug=40.15, hole=40.00)
    0.15
    """
    return core_plug - hole


def liner_interference(outside_diameter: Length, hole: Length) -> Length:
    """How much larger a dry liner is than the hole bored for it.

    Source: geometry.

    >>> liner_interference(outside_diameter=86.05, hole=86.00)
    0.05
    """
    return outside_diameter - hole


def dowel_projection(dowel_length: Length, hole_depth: Length) -> Length:
    """How far a dowel on the floor of its hole stands out of the face; a cut on the face takes from
    the hole.

    Source: geometry.

    >>> dowel_projection(dowel_length=22.0, hole_depth=14.0)
    8.0
    """
    return dowel_length - hole_depth


def stand_out(flange_height: Length, counterbore_depth: Length, shims: Length) -> Length:
    """How far a liner's flange stands out of the deck, over its counterbore and the shims under it.

    Source: geometry.

    >>> stand_out(flange_height=8.02, counterbore_depth=8.00, shims=0.10)
    0.12
    """
    return flange_height + shims - counterbore_depth


def ring_gap_change(bore_change: Length) -> Length:
    """How much a ring's gap opens in a bore that is larger by so much: the girth grows pi times as
    fast.

    Source: geometry.

    >>> ring_gap_change(bore_change=0.0015)
    0.0047
    """
    return PI * bore_change


def ring_gap_closure(
    gap_at_top: Length, gap_at_bottom: Length, bore_at_top: Length, bore_at_bottom: Length
) -> Length:
    """What feeler and bore gauge disagree by about the taper of a bore: one ring's gap at either
    end tells it as well.

    gap_at_top, gap_at_bottom: of one and the same ring (mm); bore_at_top, bore_at_bottom: mean
    diameters there (mm).

    Source: geometry, as ring_gap_change.

    >>> ring_gap_closure(
    ...     gap_at_top=0.347, gap_at_bottom=0.330, bore_at_top=82.510, bore_at_bottom=82.505,
    ... )
    0.0013
    """
    return (gap_at_top - gap_at_bottom) - ring_gap_change(bore_at_top - bore_at_bottom)
