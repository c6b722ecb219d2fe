"""The bores in plain text: what they clean up at, finish sizes, lands, and the set-over of the
bar.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from datumbook.equations.bores import bore_before_honing
from datumbook.equations.verdicts import OUT
from datumbook.numbers.printing import Printer
from datumbook.optimise.least_metal import SizeLimit
from datumbook.optimise.least_set_over import SetOver, across_of
from datumbook.planning.words import Bore, BoresTold, Land


def bore_lines(row: BoresTold) -> Iterator[str]:
    """What each bore cleans up at, the finish sizes, and what they leave of the lands."""
    said, most = row.measure.beside, row.largest
    yield "Bores"
    yield from (
        f"  {one.name} cleans up at {said(one.clean_up, most)}{_about(one, row)}"
        for one in row.bores
        if one.clean_up is not None
    )
    yield from (f"  {line}" for line in _forbidden_lines(row))
    yield from (f"  {line}" for line in _finish_lines(row))
    yield from (
        f"  {_land_line(land, row.land_measure)}" for land in row.lands if land.left is not None
    )


def decided_bore_lines(row: BoresTold) -> Iterator[str]:
    """The bores as decided, in few lines: what they clean up at, the finish sizes, and of the lands
    those that are OUT and the narrowest.
    """
    said, most = row.measure.beside, row.largest
    yield "Bores"
    clean = [
        f"{one.number} {said(one.clean_up, most)}{_about(one, row)}"
        for one in row.bores
        if one.clean_up is not None
    ]
    if clean:
        yield f"  Clean up at: {', '.join(clean)}"
    yield from (f"  {line}" for line in _forbidden_lines(row))
    yield from (f"  {line}" for line in _finish_lines(row))
    left = [(land.left, land) for land in row.lands if land.left is not None]
    narrowest = min(left, key=lambda each: each[0])[1] if left else None
    yield from (
        f"  {_land_line(land, row.land_measure)}"
        for _, land in left
        if land is narrowest or land.verdict == OUT
    )


def _about(one: Bore, row: BoresTold) -> str:
    """The set-over that counts in a clean-up size, and what it is without."""
    if not one.set_over or one.own_axis is None:
        return ""
    way = _sideways(one.offset, one.across, row.land_measure)
    own, typed = row.measure.exactly(one.own_axis), " as typed" if one.typed else ""
    return f" with the bar set over {way}{typed} ({own} about its own axis)"


def _forbidden_lines(row: BoresTold) -> Iterator[str]:
    """That nothing is planned, and the bores that no oversize cleans."""
    most = row.largest
    if most is not None and all(one.clean_up is None for one in row.bores):
        yield "Nothing can be worked out yet."
    if most is None and all(one.size is None for one in row.bores):
        yield "The spec has no oversizes: the bores are not planned."
    for one in row.forbidden:
        yield (
            f"Forbidden: {one.name} is not clean at the largest oversize, "
            f"{row.measure.given(most or 0.0).quantity(most or 0.0)}"
        )


def _finish_lines(row: BoresTold) -> Iterator[str]:
    """The finish size of all bores, or of each where they differ, and what is bored so that the
    hone has its stock; what is bored for liners; which bores it leaves unclean.
    """
    said, hole, alike = (
        row.measure.exactly,
        row.measure.quantity,
        len({one.size for one in row.bores}) == 1,
    )
    for one in row.bores[:1] if alike else [one for one in row.bores if one not in row.unclean]:
        if one.size is not None and row.stock is not None:
            bar = said(bore_before_honing(one.size, row.stock))
            yield (
                f"{'Finish' if alike else f'{one.name}, finish'} size, honed: {said(one.size)}; "
                f"bore to {bar}, leaving {said(row.stock)} for the hone; "
                "have the pistons at hand and measured first"
            )
    if lined := [one for one in row.bores if one.lined]:
        holes = (
            f"{one.name.lower()} {'not known yet' if one.block is None else hole(one.block)}"
            for one in lined
        )
        yield f"Bore the block for the measured liners: {', '.join(holes)}"
    for one in row.unclean:
        size, wanted = one.block or 0.0, one.clean_up
        bored = (
            f"bored for its liner to {row.measure.beside(size, wanted)}"
            if one.lined
            else f"planned at {said(size)}"
        )
        clean = "not clean at that size" if one.verdict == OUT else "UNSURE whether clean"
        yield f"{one.name} {bored}: {clean}"


def _land_line(land: Land, measure: Printer) -> str:
    assert land.left is not None
    least = "" if land.least is None else f", {measure.limits(land.least, None)}"
    left = measure.beside(land.left, land.least)
    words = f"{land.name} left to clamp as planned: {left}{least}, {land.verdict} ({land.source})"
    return f"Forbidden: {words}" if land.verdict == OUT else words


def set_over_lines(rows: Mapping[str, SetOver], told: BoresTold) -> Iterator[str]:
    """How far the bar is set over at each bore of each bank, or what forbids it; where the sheet
    counts otherwise, that first.
    """
    measure = told.land_measure
    for bank, row in rows.items():
        sizes = row.rounded(measure.decimals)
        before = f"{bank}: setting" if bank else "Setting"
        if sizes is None:
            yield (
                f"  Forbidden: {before.lower()} the bar over keeps these limits together "
                f"nowhere, along the row or across it, at the planned bores."
            )
            yield from dict.fromkeys(
                f"    {_room(one, measure)} ({one.source})" for one in row.conflict
            )
            continue
        said = {
            cylinder: _sideways(size, sizes[across_of(cylinder)], measure)
            for cylinder, size in sizes.items()
            if across_of(cylinder) in sizes
        }
        counted = {
            one.number: _sideways(one.offset, one.across, measure) + one.typed * " as typed"
            for one in told.bores
            if one.number in said
        }
        least = ""
        if any(way.removesuffix(" as typed") != said[one] for one, way in counted.items()):
            yield f"  {before} the bar over, as the plan counts it: {_each(counted)}"
            least = "; the least that keeps every limit, counted once it is typed"
        yield f"  {before} the bar over, cylinder by cylinder: {_each(said)}{least}"
        yield from (
            f"    {line}; binds"
            for line in dict.fromkeys(_room(one, measure) for one in row.binding)
        )


def _each(ways: Mapping[str, str]) -> str:
    return ", ".join(f"{cylinder} {way}" for cylinder, way in ways.items())


def _sideways(offset: float, across: float, measure: Printer) -> str:
    ways = [
        f"{measure.exactly(abs(size))} to the {plus if size > 0 else minus}"
        for size, plus, minus in ((offset, "rear", "front"), (across, "left", "right"))
        if size
    ]
    return " and ".join(ways) or "not"


def _room(one: SizeLimit, measure: Printer) -> str:
    about, limits = measure.beside(one.before, one.bound), measure.limits(one.low, one.high)
    return f"{one.name}: {about} about its own centre, {limits}"
