"""What the measured tunnels ask of the caps, and what caps and cam drive have to spare for it."""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.optimise.least_metal import Answer, Cut, SizeLimit, least_metal
from datumbook.plan.numbers import Numbers
from datumbook.stations.received.tunnels import ENDS, MainTunnels

CAPS = Cut("caps", "Off the joint of the caps")


def tunnels(work: Numbers) -> Answer | None:
    """The least cut off the caps, in the unit of the tunnels; None where the engine's tunnels are
    not measured.
    """
    measured = work.stations.tunnels
    if measured is None:
        return None
    return least_metal((CAPS,), [*_tunnels(work, measured), *_caps(work, measured), *_centre(work)])


def _tunnels(work: Numbers, measured: MainTunnels) -> Iterator[SizeLimit]:
    """A tunnel that is upright larger than its size is brought below it by its cap, and bored true
    again.
    """
    for number in work.layout.bearings():
        size, name = measured.each.tunnel_size[number], f"Tunnel {number}, upright"
        read = work.known(name, *(measured.readings.vertical[number, end] for end in ENDS))
        most = work.end(size, "high")
        if read and most is not None:
            change, source = {CAPS.key: -1.0}, work.checks[size].source
            yield SizeLimit(name, change, max(read), "high", most, source)


def _caps(work: Numbers, measured: MainTunnels) -> Iterator[SizeLimit]:
    """What every cap has above its least height."""
    if measured.caps is None:
        return
    for number in work.layout.bearings():
        key, name = measured.caps.height[number], f"Height of cap {number}"
        for height in work.known(name, key):
            yield from work.held(name, {CAPS.key: -1.0}, height, key)


def _centre(work: Numbers) -> Iterator[SizeLimit]:
    """What the line bore of the plan sheet leaves between crank and cam, in the unit of the
    tunnels.
    """
    drive = work.stations.knock_on.cam_drive
    if drive is None or drive.centre_after is None:
        return
    key = drive.centre_after.key
    after, least = work.number(key), work.end(key, "low")
    if after is not None and least is not None:
        yield SizeLimit(
            "Crank to cam after the line bore of the plan sheet",
            {},
            work.turned(after, key, "tunnels"),
            "low",
            work.turned(least, key, "tunnels"),
            work.checks[key].source,
        )
