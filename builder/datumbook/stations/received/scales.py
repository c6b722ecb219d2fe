"""Scales: how the pictures of bores, bore centres and corners run, by what the spec allows."""

from __future__ import annotations

from datumbook.cells.basis import Basis
from datumbook.cells.scales import ChartScale, LimitLine
from datumbook.numbers.quantities import Quantity
from datumbook.spec import Limit


def bore_scale(basis: Basis, key: str) -> ChartScale:
    """From a little below the bore as drawn to one worn twice as far as allowed."""
    spec, unit = basis.spec.bores, basis.unit_of("bores")
    low, high = spec.standard.low.to(unit), spec.standard.high.to(unit)
    worn = max(spec.wear.high.to(unit) if spec.wear.high else 0.0, high - low)
    return ChartScale(
        key=key,
        unit=unit,
        decimals=basis.decimals_of("bores"),
        low=low - worn / 2,
        high=high + 2 * worn,
        rows=len(spec.depths),
        limits=(
            LimitLine("least", "as drawn", spec.standard.low),
            LimitLine("most", "as drawn", spec.standard.high),
        ),
    )


def offset_scale(basis: Basis, key: str, rows: int) -> ChartScale:
    """As far to the front as to the rear, and twice as far as a bore may have wandered."""
    unit, allowed = basis.unit_of("lands"), basis.lands.offset
    limits = [
        LimitLine(name, "limit", size)
        for name, size in (("front", allowed.low), ("rear", allowed.high))
        if size is not None
    ]
    reach = 2 * max(abs(line.size.to(unit)) for line in limits)
    return ChartScale(
        key=key,
        unit=unit,
        decimals=basis.decimals_of("lands"),
        low=-reach,
        high=reach,
        rows=rows,
        limits=limits,
    )


def corner_scale(basis: Basis, key: str, tilt: Limit, rows: int) -> ChartScale:
    """From the lowest corner up to twice the tilt allowed; where every corner stays below that, no
    tilt is OUT.
    """
    unit = basis.unit_of("heights")
    ends = [end for end in (tilt.low, tilt.high) if end is not None]
    either_way: list[Quantity] = [size for end in ends for size in (end, -end)]
    allowed = max(either_way, key=lambda size: size.exactly(unit))
    return ChartScale(
        key=key,
        unit=unit,
        decimals=basis.decimals_of("heights"),
        low=0.0,
        high=2 * allowed.to(unit),
        rows=rows,
        limits=[LimitLine("most", "tilt allowed", allowed)],
    )
