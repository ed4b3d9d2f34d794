"""Choose the few of many colours that suit a picture best: a k-median over a table of costs.

Solved by greedy choice and exchange (Teitz and Bart 1968): no exchange of one colour for another
makes the result better. Where there are few ways to choose, all are tried.
"""

from __future__ import annotations

from itertools import combinations
from math import comb

import numpy as np

from publisher.charting.values import Floats

_TRIED = 2_000
"""As many choices are tried one by one."""


def best_subset(costs: Floats, most: int) -> list[int]:
    """The columns to keep, at most so many, so that the rows' least costs in them sum up least.

    `costs`: a row for each thing to be served, a column for each that may serve it. Of equal
    choices the first; a column that serves nothing is left out.
    """
    count = costs.shape[1]
    if most >= count:
        chosen = list(range(count))
    elif comb(count, most) <= _TRIED:
        ways = combinations(range(count), most)
        chosen = list(min(ways, key=lambda way: float(costs[:, list(way)].min(1).sum())))
    else:
        chosen = _exchange(costs, _greedy(costs, most))
    used = np.unique(np.argmin(costs[:, chosen], axis=1))
    return [chosen[at] for at in used]


def _greedy(costs: Floats, most: int) -> list[int]:
    chosen: list[int] = []
    least = np.full(len(costs), np.inf)
    for _ in range(most):
        totals = np.minimum(costs, least[:, None]).sum(0)
        totals[chosen] = np.inf
        chosen.append(int(np.argmin(totals)))
        least = np.minimum(least, costs[:, chosen[-1]])
    return chosen


def _exchange(costs: Floats, chosen: list[int]) -> list[int]:
    """Exchange one for another while that is better by more than a rounding."""
    chosen, best = list(chosen), float(costs[:, chosen].min(1).sum())
    better = True
    while better:
        better = False
        for place in range(len(chosen)):
            others = chosen[:place] + chosen[place + 1 :]
            least = costs[:, others].min(1) if others else np.full(len(costs), np.inf)
            totals = np.minimum(costs, least[:, None]).sum(0)
            totals[others] = np.inf
            at = int(np.argmin(totals))
            if totals[at] < best * (1 - 1e-9):
                chosen[place], best, better = at, float(totals[at]), True
    return sorted(chosen)
