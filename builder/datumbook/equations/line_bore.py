"""Boring the main tunnels in line: what the cutter finds in each, how far the new line may rise,
and what follows for decks and bores.

Tunnel by tunnel everything is counted from the line through the centres of the end tunnels as
received: the tunnel's own centre, upwards and to the left, and the new line, straight from front to
rear. Metal is counted on the radius; below zero the cutter misses.
"""

from __future__ import annotations

from datumbook.formulas.functions import (
    all_of,
    at_least,
    at_most,
    cosine,
    equal,
    largest,
    more_than,
    numbers_in,
    only_where,
    sine,
    smallest,
    square_root,
    takes_blanks,
    total_of_squares,
    where,
)
from datumbook.formulas.kinds import Angle, Length, Words

BORED, AS_THEY_ARE = "yes", "no"  # whether the tunnels are bored in line


def aside(sideways: Length, line_sideways: Length) -> Length:
    """How far a tunnel's centre lies beside the new line.

    Source: geometry.

    >>> aside(sideways=-0.01, line_sideways=0.01)
    0.02
    """
    return abs(sideways - line_sideways)


def saddle_metal(
    lift: Length, centre_height: Length, tunnel_size: Length, finish_size: Length
) -> Length:
    """Metal that the cutter takes from the top of one tunnel, in the block.

    lift: of the new line here; tunnel_size: upright, caps torqued.

    Source: geometry.

    >>> saddle_metal(lift=0.0425, centre_height=0.020, tunnel_size=61.095, finish_size=61.070)
    0.010
    """
    return lift - centre_height + (finish_size - tunnel_size) / 2


def cap_metal(
    cap_cut: Length, lift: Length, centre_height: Length, tunnel_size: Length, finish_size: Length
) -> Length:
    """Metal that the cutter takes from the bottom of one tunnel, in the cap.

    cap_cut: off the cap's joint, which brings the cap up by as much; tunnel_size: upright, before
    the caps are cut.

    Source: geometry.

    >>> cap_metal(0.150, lift=0.130, centre_height=0.0, tunnel_size=61.090, finish_size=61.070)
    0.010
    """
    return cap_cut + centre_height - lift + (finish_size - tunnel_size) / 2


def side_metal(finish_size: Length, width_across: Length, aside: Length) -> Length:
    """Metal that the cutter takes at the joint of one tunnel, on the side where it finds less.

    Source: geometry.

    >>> side_metal(finish_size=61.070, width_across=61.040, aside=0.005)
    0.010
    """
    return (finish_size - width_across) / 2 - aside


def side_counted(
    side_metal: Length,
    stock: Length,
    finish_size: Length,
    width_across: Length,
    aside: Length,
    most_size: Length,
    most_out_of_round: Length,
) -> Length:
    """Metal at the joint as it is judged. A side that the cutter misses, or only grazes, stays as
    it is where the size across is within the tunnel's limits and stands back from the new wall by
    no more than the tunnel may be out of round; it then counts as the stock and half of what it
    has to spare of the nearer of these limits. Across is from one wall left to the other, over the
    new line.

    stock: that cleans, on the radius; most_size, most_out_of_round: of a tunnel.

    Source: common practice, no source.

    >>> side_counted(-0.001, 0.010, 61.062, 61.064, 0.0, most_size=61.075, most_out_of_round=0.020)
    0.0155
    >>> side_counted(-0.008, 0.010, 61.062, 61.078, 0.0, most_size=61.075, most_out_of_round=0.020)
    -0.008
    """
    across = largest(width_across, (width_across + finish_size) / 2) + aside
    spare = smallest(most_size - across, most_out_of_round - (across - finish_size))
    left = largest(side_metal, stock + spare / 2)
    return where(at_most(across, most_size), left, side_metal)


def slanting_metal(
    metal: Length, tunnel_size: Length, finish_size: Length, aside: Length
) -> Length:
    """Least metal between the upright and the joint, in the saddle or in the cap of one tunnel.

    metal: upright, of that half. Where the new line has gone away from the half, and aside as well,
    the cutter finds least on the slant between; where it has come nearer, upright counts.

    Source: geometry.

    >>> slanting_metal(0.0025, tunnel_size=61.045, finish_size=61.070, aside=0.010)
    -0.0016
    """
    even = (finish_size - tunnel_size) / 2
    away = even - metal
    return where(more_than(away, 0), even - square_root(total_of_squares(away, aside)), metal)


def clean_size(finish_size: Length, stock: Length, *metals: Length) -> Length:
    """Least size at which one tunnel cleans all round on this line: the finish size, with what the
    least metal lacks of the stock on either side, or without what it has more.

    metals: of saddle, cap, sides and slants, at that finish size.

    Source: geometry.

    >>> clean_size(61.070, 0.010, 0.0125, 0.0075, 0.015)
    61.075
    """
    return finish_size + 2 * (stock - smallest(*metals))


def lowest_lift(
    stock: Length, centre_height: Length, tunnel_size: Length, finish_size: Length
) -> Length:
    """Least lift of the new line at one tunnel: below it the saddle does not clean.

    Source: geometry.

    >>> lowest_lift(0.010, centre_height=0.020, tunnel_size=61.095, finish_size=61.070)
    0.0425
    """
    return stock + centre_height - (finish_size - tunnel_size) / 2


def highest_lift(
    stock: Length, cap_cut: Length, centre_height: Length, tunnel_size: Length, finish_size: Length
) -> Length:
    """Greatest lift of the new line at one tunnel: above it the cap does not clean.

    Source: geometry.

    >>> highest_lift(0.010, 0.150, centre_height=0.0, tunnel_size=61.090, finish_size=61.070)
    0.130
    """
    return cap_cut + centre_height + (finish_size - tunnel_size) / 2 - stock


def lowest_parallel_lift(*lowest_lifts: Length) -> Length:
    """Least lift, the same at every tunnel, with which all saddles clean.

    Source: geometry.

    >>> lowest_parallel_lift(0.0200, 0.0425, 0.0175)
    0.0425
    """
    return largest(*lowest_lifts)


def highest_parallel_lift(*highest_lifts: Length) -> Length:
    """Greatest lift, the same at every tunnel, with which all caps clean.

    Source: geometry.

    >>> highest_parallel_lift(0.1300, 0.1475, 0.1325)
    0.130
    """
    return smallest(*highest_lifts)


def lift_room(lowest_parallel_lift: Length, highest_parallel_lift: Length) -> Length:
    """Room for a lift that is the same at every tunnel; below zero there is none: more off the caps
    or a larger size, by as much, or a line that rises more at one end.

    Source: geometry.

    >>> lift_room(lowest_parallel_lift=0.0425, highest_parallel_lift=0.130)
    0.0875
    """
    return highest_parallel_lift - lowest_parallel_lift


def least_parallel_lift(lowest_parallel_lift: Length, highest_parallel_lift: Length) -> Length:
    """The lift to ask for, the same at every tunnel: nearest to none of those with which all clean;
    blank where there is no such lift.

    Source: geometry.

    >>> least_parallel_lift(lowest_parallel_lift=0.0425, highest_parallel_lift=0.130)
    0.0425
    """
    return only_where(
        at_most(lowest_parallel_lift, highest_parallel_lift),
        largest(lowest_parallel_lift, smallest(0, highest_parallel_lift)),
    )


def lift_towards_deck(lift: Length, towards_bank: Length, bank_angle: Angle) -> Length:
    """How much nearer to one bank's deck a move of the crank line brings it, along its bores.

    lift: up between the banks; towards_bank: sideways, to the side of this bank; bank_angle:
    between the banks, 0 of one bank that stands upright.

    Source: geometry.

    >>> lift_towards_deck(lift=0.100, towards_bank=0.020, bank_angle=1.5707963268)
    0.0849
    """
    return lift * cosine(bank_angle / 2) + towards_bank * sine(bank_angle / 2)


def bores_off_line(lift: Length, towards_bank: Length, bank_angle: Angle) -> Length:
    """How far the plane through one bank's bores misses a crank line that has moved, where it went
    through it before.

    lift, towards_bank, bank_angle: as lift_towards_deck.

    Source: geometry.

    >>> bores_off_line(lift=0.100, towards_bank=0.020, bank_angle=1.5707963268)
    0.0566
    """
    return abs(lift * sine(bank_angle / 2) - towards_bank * cosine(bank_angle / 2))


@takes_blanks
def rise_taken(line_bored: Words, rise: Length, bar_off: Length) -> Length:
    """How far the crank line rises at one end: as planned, not at all where the tunnels stay as
    they are; blank until that is said.

    bar_off: what this end of the bar may be off its place, taken as nothing.

    Source: none needed.

    >>> rise_taken("yes", rise=0.05, bar_off=0.0), rise_taken("no", float("nan"), bar_off=0.0)
    (0.05, 0)
    """
    there = at_least(numbers_in(rise), 1)
    bored = all_of(equal(line_bored, BORED), there)
    return where(equal(line_bored, AS_THEY_ARE), 0, only_where(bored, rise + bar_off))


@takes_blanks
def cap_cut_taken(line_bored: Words, cap_cut: Length) -> Length:
    """Cut off the joint of the caps: as planned, none where the tunnels stay as they are; blank
    until that is said.

    Source: none needed.

    >>> cap_cut_taken("yes", cap_cut=0.15), cap_cut_taken("no", cap_cut=float("nan"))
    (0.15, 0)
    """
    bored = all_of(equal(line_bored, BORED), at_least(numbers_in(cap_cut), 1))
    return where(equal(line_bored, AS_THEY_ARE), 0, only_where(bored, cap_cut))


def least_all_round(*metals: Length) -> Length:
    """Least metal that the cutter finds round one tunnel.

    metals: of saddle, cap, sides and slants.

    Source: none needed.

    >>> least_all_round(0.0125, 0.0075, 0.015)
    0.0075
    """
    return smallest(*metals)


@takes_blanks
def least_metal(line_bored: Words, stock: Length, least_all_round: Length) -> Length:
    """Least metal round one tunnel as it is judged: the stock itself where none is bored, for
    nothing is asked then.

    Source: none needed.

    >>> least_metal("yes", 0.010, least_all_round=0.0075)
    0.0075
    """
    there = at_least(numbers_in(least_all_round), 1)
    bored = all_of(equal(line_bored, BORED), there)
    return where(equal(line_bored, AS_THEY_ARE), stock, only_where(bored, least_all_round))


@takes_blanks
def finish_size_judged(line_bored: Words, least_size: Length, finish_size: Length) -> Length:
    """Size that the tunnels are bored to as it is judged: the least that is allowed where none is
    bored, for nothing is asked then.

    Source: none needed.

    >>> finish_size_judged("yes", 61.05, finish_size=61.07)
    61.07
    """
    there = at_least(numbers_in(finish_size), 1)
    bored = all_of(equal(line_bored, BORED), there)
    return where(equal(line_bored, AS_THEY_ARE), least_size, only_where(bored, finish_size))


def most_rise(*rises: Length) -> Length:
    """The more of what the crank line rises at front and rear.

    Source: none needed.

    >>> most_rise(0.05, 0.13)
    0.13
    """
    return largest(*rises)


@takes_blanks
def mandrel_when_cut(line_bored: Words, mandrel_seat: Length) -> Length:
    """How far the mandrel lies above the crank line when a face is cut: as when the heights were
    read; not at all in tunnels bored in line, which it leaves alike at both ends.

    Blank until it is said whether they are bored.

    Source: geometry.

    >>> mandrel_when_cut("no", mandrel_seat=0.03), mandrel_when_cut("yes", mandrel_seat=0.03)
    (0.03, 0)
    """
    read = only_where(at_least(numbers_in(mandrel_seat), 1), mandrel_seat)
    return where(equal(line_bored, BORED), 0, only_where(equal(line_bored, AS_THEY_ARE), read))
