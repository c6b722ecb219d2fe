"""Drilled holes: what a drill makes, and the hole that is counted on once the first was probed."""

from __future__ import annotations

from datumbook.formulas.functions import (
    at_least,
    decided,
    missing,
    numbers_in,
    only_where,
    takes_blanks,
    where,
)
from datumbook.formulas.kinds import Length


def probable_hole(drill: Length, oversize: Length) -> Length:
    """Diameter of the hole a drill probably makes: its own, and what such a drill cuts over it in
    the mean.

    drill: diameter of the drill (mm); oversize: what it cuts over that (mm), nothing for a reamer
    or a drill in a bush.

    Source: geometry; printed tap charts give the mean oversize and the probable hole of each drill.

    >>> probable_hole(drill=0.2656, oversize=0.0040)
    0.2696
    """
    return drill + oversize


@decided
@takes_blanks
def hole_counted_on(probed: Length, probable: Length) -> Length:
    """Diameter of the hole that thread and groove are counted on: as the first was probed, the
    probable one until it is.

    Source: none needed.

    >>> hole_counted_on(probed=0.2710, probable=0.2696)
    0.2710
    """
    return where(missing(probed), only_where(at_least(numbers_in(probable), 1), probable), probed)
