"""Forbidden fits: what stands against putting a liner in by the verdicts on its fit and its wall,
and whether any way in is left.
"""

from __future__ import annotations

from datumbook.equations.heat_and_cold import NO_COLD, NO_HEAT
from datumbook.equations.verdicts import OPEN, OUT, STALE, UNSURE
from datumbook.formulas.functions import (
    all_of,
    at_least,
    blank,
    cells_saying,
    decided,
    equal,
    more_than,
    numbers_in,
    only_where,
    takes_blanks,
    where,
)
from datumbook.formulas.kinds import Length, Temperature, Words

DO_NOT_FIT, FIT_NOT_YET = "DO NOT FIT", "DO NOT FIT YET"
TOO_TIGHT = f"{DO_NOT_FIT}: too tight, bore the hole first"
TOO_LOOSE = f"{DO_NOT_FIT}: too loose, take a larger liner"
TOO_THIN = f"{DO_NOT_FIT}: liner wall too thin, take another"
BEFORE_THE_FIT = {  # the worst has the last word
    OPEN: "measure liner and hole",
    UNSURE: "measure liner and hole nearer",
    STALE: "read again what moved",
}
NO_WAY_IN = "take less interference, or press it in"


@takes_blanks
def fit_forbidden(too_loose: Words, too_tight: Words, too_thin: Words) -> Words:
    """What a card says of a liner by the verdicts on its least interference, its greatest and its
    wall: DO NOT FIT where one is OUT, DO NOT FIT YET where one is STALE, UNSURE or OPEN; blank
    where none is.

    Source: common practice, no source.

    >>> fit_forbidden(too_loose="OK", too_tight="OUT", too_thin="OPEN")
    'DO NOT FIT: too tight, bore the hole first'
    """
    verdicts = (too_loose, too_tight, too_thin)
    said: Words = ""
    for verdict, remedy in BEFORE_THE_FIT.items():
        doubtful = more_than(cells_saying(verdict, *verdicts), 0)
        said = where(doubtful, f"{FIT_NOT_YET}: {verdict}, {remedy}", said)
    for found, stopped in ((too_tight, TOO_TIGHT), (too_thin, TOO_THIN), (too_loose, TOO_LOOSE)):
        said = where(equal(found, OUT), stopped, said)
    return said


@decided
@takes_blanks
def bored_first(fit_forbidden: Words, hole: Length) -> Length:
    """Size the hole of a liner that is too tight is bored to before it goes in; blank for others.

    hole: that the measured liner wants (mm).

    Source: none needed.

    >>> bored_first(fit_forbidden="DO NOT FIT: too tight, bore the hole first", hole=114.305)
    114.305
    """
    return only_where(all_of(equal(fit_forbidden, TOO_TIGHT), at_least(numbers_in(hole), 1)), hole)


@decided
@takes_blanks
def temperature_unless_forbidden(fit_forbidden: Words, wanted: Temperature) -> Temperature:
    """A temperature that a liner or its block is brought to; blank where the card forbids the fit.

    wanted: (degC).

    Source: none needed.

    >>> temperature_unless_forbidden(fit_forbidden="", wanted=-169.0)
    -169.0
    """
    return only_where(all_of(blank(fit_forbidden), at_least(numbers_in(wanted), 1)), wanted)


@takes_blanks
def means_unless_forbidden(fit_forbidden: Words, means: Words) -> Words:
    """By what a liner or its block is brought there; blank where the card forbids the fit.

    Source: none needed.

    >>> means_unless_forbidden(fit_forbidden="", means="nitrogen")
    'nitrogen'
    """
    return where(blank(fit_forbidden), means, "")


@takes_blanks
def no_way_in(cold: Words, heat: Words, both: Words) -> Words:
    """What to do with a liner that gets in by none of three ways: by cold, by heat, and by dry ice
    and a warm block; blank where one reaches, or the fit is forbidden.

    cold, heat, both: by what, as the card says it.

    Source: common practice, no source.

    >>> no_way_in(cold="NOT BY COLD", heat="NOT BY HEAT", both="NOT BY HEAT")
    'take less interference, or press it in'
    """
    none = all_of(equal(cold, NO_COLD), equal(heat, NO_HEAT), equal(both, NO_HEAT))
    return where(none, NO_WAY_IN, "")
