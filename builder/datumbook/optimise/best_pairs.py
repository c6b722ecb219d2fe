"""Which part goes to which place, so that what is off an aim, squared and summed, is least: the
assignment problem.
"""

from __future__ import annotations

from collections.abc import Sequence


def best_pairs(clearances: Sequence[Sequence[float]], aim: float) -> list[int]:
    """For each place the number of the part that goes into it, the sum of squares off the aim made
    least.

    The order given stays where no other is better.

    Source: the assignment problem, as scipy solves it.

    >>> best_pairs([[0.02, 0.04], [0.04, 0.06]], aim=0.04)
    [1, 0]
    """
    from scipy.optimize import linear_sum_assignment  # a heavy import, wanted by one command

    costs = [[(each - aim) ** 2 for each in row] for row in clearances]
    order = [int(part) for part in linear_sum_assignment(costs)[1]]
    least, given = (
        sum(costs[place][part] for place, part in enumerate(one))
        for one in (order, range(len(costs)))
    )
    return order if least < given - 1e-12 else list(range(len(costs)))
