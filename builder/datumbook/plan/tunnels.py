"""What the measured tunnels ask of the caps, and what caps and cam drive have to spare for it."""

from __future__ import annotations

from collections.abc import Iterator

from datumbook.optimise.least_metal import Answer, Cut, Limit, least_metal
from datumbook.plan.numbers import Numbers

CAPS = Cut("caps", "Off the joint of the caps")


def tunnels(work: Numbers) -> Answer | None:
    """The least cut off the caps, in the unit of the tunnels; None where the engine's tunnels are
    not measured.
    """
    if work.layout.spec.tunnels is None:
        return None
    return least_metal((CAPS,), [*_tunnels(work), *_caps(work), *_centre(work)])


def _numbers(work: Numbers) -> range:
    return range(1, work.layout.spec.engine.bearing_caps + 1)


def _tunnels(work: Numbers) -> Iterator[Limit]:
    """A tunnel that is upright larger than its size is brought below it by its cap, and bored true
    again.
    """
    source = work.check("tunnel.1.tunnel_size").source
    most = work.end("tunnel.1.tunnel_size", "high")
    for number in _numbers(work):
        keys = [f"tunnels.{number}.{end}.vertical" for end in ("front", "rear")]
        read = work.known(f"Tunnel {number}, upright", *keys)
        if read and most is not None:
            yield Limit(
                f"Tunnel {number}, upright", {CAPS.key: -1.0}, max(read), "high", most, source
            )


def _caps(work: Numbers) -> Iterator[Limit]:
    """What every cap has above its least height."""
    for number in _numbers(work) if f"caps.{1}.height" in work.layout.places else ():
        key = f"caps.{number}.height"
        for height in work.known(f"Height of cap {number}", key):
            doubt = work.number(f"release.{key}.uncertainty")
            yield from work.held(f"Height of cap {number}", {CAPS.key: -1.0}, height, key, doubt)


def _centre(work: Numbers) -> Iterator[Limit]:
    """What the line bore of the plan sheet leaves between crank and cam, in the unit of the
    tunnels.
    """
    key = "cam_drive.centre_after"
    after, least = work.number(key), work.end(key, "low") if key in work.layout.places else None
    if after is not None and least is not None:
        yield Limit(
            "Crank to cam after the line bore of the plan sheet",
            {},
            work.turned(after, key, "tunnels"),
            "low",
            work.turned(least, key, "tunnels"),
            work.check(key).source,
        )
