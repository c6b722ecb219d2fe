"""The plan in plain text: faces, tunnels, bores, the set-over of the bar, and what is missing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from datumbook.numbers.printing import Printer
from datumbook.optimise.least_metal import Answer, SizeLimit
from datumbook.optimise.least_set_over import SetOver
from datumbook.plan.words import Plan, bore_lines, face_lines, today, unknown_lines


def plan_lines(plan: Plan) -> list[str]:
    """The plan in plain text, line by line; sizes in the unit and decimals of their sheet."""
    head = [f"What may be cut: {plan.block}, {plan.engine}"]
    if plan.damaged:
        head.append("The book is damaged: validate it first. This rests on its readings alone.")
    head += ["As far as the readings go: see the end for what is missing."] if plan.unknown else []
    tunnels = ["", *_tunnel_lines(plan.tunnels, plan.tunnel_measure)] if plan.tunnels else []
    bores = [*bore_lines(plan.bores), *_set_over_lines(plan.set_overs, plan.bores.land_measure)]
    return [*head, "", *face_lines(plan), *tunnels, "", *bores, *unknown_lines(plan.unknown)]


def _tunnel_lines(tunnels: Answer, measure: Printer) -> Iterator[str]:
    """The least cut off the caps, or what forbids it."""
    sizes = tunnels.rounded(measure.decimals)
    yield "Tunnels"
    if not tunnels.limits:
        yield "  Nothing can be worked out yet."
    elif sizes is None:
        yield "  Forbidden: no cut off the caps keeps these limits together."
        yield from (f"  {_told(one, measure)} ({one.source})" for one in tunnels.conflict)
    else:
        yield from (f"  {cut.words}: {measure.exactly(sizes[cut.key])}" for cut in tunnels.cuts)
        for one in tunnels.limits:
            binds = "; binds" if one in tunnels.binding else ""
            yield f"  {_told(one, measure)} ({one.source}){binds}"


def _told(limit: SizeLimit, measure: Printer) -> str:
    """A limit with its numbers; one on which the cut has no bearing as it stands."""
    if limit.coefficients:
        return today(limit, measure)
    return (
        f"{limit.name}: {measure.beside(limit.before, limit.bound)}, "
        f"{measure.limits(limit.low, limit.high)}"
    )


def _set_over_lines(rows: Mapping[str, SetOver], measure: Printer) -> Iterator[str]:
    """How far the bar is set over at each bore of each bank, or what forbids it."""
    for bank, row in rows.items():
        offsets = row.rounded(measure.decimals)
        before = f"{bank}: setting" if bank else "Setting"
        if offsets is None:
            yield (
                f"  Forbidden: {before.lower()} the bar over keeps these limits together "
                f"nowhere at the planned bores."
            )
            yield from (
                f"    {_room(one.name, one.before, one.bound, measure)} ({one.source})"
                for one in row.conflict
            )
            continue
        said = ", ".join(
            f"{cylinder} {_sideways(offset, measure)}" for cylinder, offset in offsets.items()
        )
        yield f"  {before} the bar over, cylinder by cylinder: {said}"
        yield from (
            f"    {_room(one.name, one.before, one.bound, measure)}; binds" for one in row.binding
        )


def _sideways(offset: float, measure: Printer) -> str:
    if offset == 0:
        return "not"
    return f"{measure.exactly(abs(offset))} to the {'rear' if offset > 0 else 'front'}"


def _room(name: str, before: float, bound: float, measure: Printer) -> str:
    return (
        f"{name}: {measure.beside(before, bound)} about its own centre, "
        f"{measure.limits(bound, None)}"
    )
