"""Room: what the fits share, the size of a part's place and the limits of the room in it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from datumbook.cells.basis import Basis
from datumbook.cells.columns import Check, Column, Input, Per, Sizes, limited
from datumbook.equations import clearances
from datumbook.equations.standings import shown_again
from datumbook.formulas.tracing import parameters
from datumbook.numbers.units import convert
from datumbook.spec import Limit
from datumbook.standards.fit_rules import fit_rule
from datumbook.stations.received.features import TwoPointSizes


def held(
    sizes: Sizes, of: Column, limits: Limit | None, rule: str, by: Callable[..., Any], size: Column
) -> Iterator[Column | Check]:
    """A column held by the spec's own limits, or by a rule of so much to the inch of a size, both
    ends of which stand beside it.
    """
    if limits is not None:
        yield from limited(of, limits)
        return
    known, (diameter, share) = fit_rule(rule), parameters(by)[0]
    least: dict[str, Per[Input]] = {diameter: size, share: known.least}
    low = sizes.result(f"{of.name}_least", "by rule not less", by, **least)
    high = sizes.result(f"{of.name}_most", "by rule not more", by, **least | {share: known.most})
    yield from (of, low, high, Check(of=of, low=low, high=high, source=known.source))


def ruled(limits: Limit | None, rule: str) -> str:
    """The note under a table whose limits are a rule of thumb."""
    return "" if limits else f"No limit of the maker's is known: {fit_rule(rule).source}."


def in_place(
    sizes: Sizes, name: str, words: str, received: TwoPointSizes, again: TwoPointSizes | None
) -> tuple[Column, ...]:
    """The smallest size of what a part goes into, as finished where it is measured again, else as
    received.
    """
    said = f"{words}, smallest"
    if again is None:
        return (sizes.result(name, said, shown_again, value=received.smallest_size),)
    return (
        sizes.result("planned", "as received", shown_again, value=received.smallest_size),
        sizes.result("finished", "finished", shown_again, value=again.smallest_size),
        sizes.result(name, said, clearances.size_to_fit),
    )


def up_to(basis: Basis, millimetres: float) -> tuple[float, float]:
    """What a gap can be at all, in the unit of the gaps."""
    return 0.0, convert(millimetres, "mm", basis.unit_of("gaps"))
