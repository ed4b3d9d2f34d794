"""Say where a yarn that is longer than one working length is joined."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from publisher.plan.rows.working_order import Passage

KEEP_OFF = 2
"""Knots between a join inside a run and the run's ends."""
LONG_RUN = 5
"""Knots that a run must have for a join inside it to be hidden."""

BETWEEN_RUNS = 0
INSIDE = 1 << 48
NEAR_TURN = INSIDE + 1
IN_SIGHT = INSIDE + (1 << 24)
"""What a join costs by where it falls: fewest inside runs first, then the least seen."""


class JoinedYarn(NamedTuple):
    """A yarn with its joins: where its lengths take over, and what each holds."""

    joins: tuple[int, ...]
    """The knots (counted along the yarn from 0) that a new length makes first."""
    used_mm: tuple[float, ...]
    """Knots and carries of each length, without tails."""


def join_lengths(
    chain: Sequence[Passage], carried_mm: Sequence[float], knot_mm: float, reach_mm: float
) -> JoinedYarn:
    """Part a yarn into the fewest lengths; joins fall between runs, or where least seen.

    `carried_mm`: the carry before each passage but the first. `reach_mm`: the knots and carries
    that one length can do, tails off. A carry is made with the length before it, so that both
    ends of a join hang together. Where a knot and a carry are longer than the reach, a length
    does those all the same. Of equals, the last length is the shortest.
    """
    used = _used_before(chain, carried_mm, knot_mm)
    count = len(used) - 1
    latest = _latest_joins(used, reach_mm)
    if not latest:
        return JoinedYarn((), (used[count],))
    earliest = _earliest_joins(used, reach_mm, len(latest))
    price = _prices(chain)
    joins = _cheapest_joins(used, reach_mm, earliest, latest, price)
    marks = (0, *joins, count)
    parts = tuple(used[b] - used[a] for a, b in pairwise(marks))
    return JoinedYarn(tuple(joins), parts)


def _used_before(
    chain: Sequence[Passage], carried_mm: Sequence[float], knot_mm: float
) -> list[float]:
    """Return what is used up before each knot (and after the last), the carry to it included."""
    used, carried, knots = [0.0], 0.0, 0
    for number, passage in enumerate(chain):
        if number:
            carried += carried_mm[number - 1]
            used[-1] = knots * knot_mm + carried
        more = passage.knots
        used.extend((knots + k) * knot_mm + carried for k in range(1, more + 1))
        knots += more
    return used


def _fits(used: Sequence[float], start: int, stop: int, reach_mm: float) -> bool:
    return stop == start + 1 or used[stop] - used[start] <= reach_mm + 1e-9


def _latest_joins(used: Sequence[float], reach_mm: float) -> list[int]:
    """Each length as full as can be: the fewest joins, each as late as can be."""
    joins, start, count = [], 0, len(used) - 1
    for stop in range(1, count + 1):
        if not _fits(used, start, stop, reach_mm):
            start = stop - 1
            joins.append(start)
    return joins


def _earliest_joins(used: Sequence[float], reach_mm: float, joins: int) -> list[int]:
    """The same number of joins, each as early as can be."""
    found: list[int] = []
    stop, start = len(used) - 1, len(used) - 2
    while len(found) < joins:
        while start > 0 and _fits(used, start - 1, stop, reach_mm):
            start -= 1
        stop = max(start, joins - len(found))
        found.append(stop)
        start = stop - 1
    return found[::-1]


def _prices(chain: Sequence[Passage]) -> list[int]:
    """Return what a join just before each knot of the yarn costs."""
    prices: list[int] = []
    for passage in chain:
        total, done = passage.knots, 0
        for stretch in passage.stretches:
            knots = stretch.knots
            for k in range(knots):
                if done == 0 and k == 0:
                    prices.append(BETWEEN_RUNS)
                elif knots >= LONG_RUN and KEEP_OFF <= k <= knots - KEEP_OFF:
                    prices.append(INSIDE)
                elif total >= LONG_RUN and KEEP_OFF <= done + k <= total - KEEP_OFF:
                    prices.append(NEAR_TURN)
                else:
                    prices.append(IN_SIGHT)
            done += knots
    return prices


def _cheapest_joins(
    used: Sequence[float],
    reach_mm: float,
    earliest: Sequence[int],
    latest: Sequence[int],
    price: Sequence[int],
) -> list[int]:
    """One join in each window, neighbours within reach: the cheapest, then the latest."""
    best: dict[int, int] = {0: 0}
    came: list[dict[int, int]] = []
    for low, high in zip(earliest, latest, strict=True):
        best, source = _step(best, used, reach_mm, low, high, price)
        came.append(source)
    count = len(used) - 1
    ends = [p for p in best if _fits(used, p, count, reach_mm)]
    join = min(ends, key=lambda p: (best[p], -p))
    joins = [join]
    for source in reversed(came[1:]):
        joins.append(source[joins[-1]])
    return joins[::-1]


def _step(
    best: dict[int, int],
    used: Sequence[float],
    reach_mm: float,
    low: int,
    high: int,
    price: Sequence[int],
) -> tuple[dict[int, int], dict[int, int]]:
    """The cheapest way to each place of the next join, by a sliding window's minimum."""
    before = sorted(best)
    window: deque[int] = deque()
    taken = 0
    after: dict[int, int] = {}
    source: dict[int, int] = {}
    for stop in range(low, high + 1):
        while taken < len(before) and before[taken] < stop:
            start = before[taken]
            while window and best[window[-1]] >= best[start]:
                window.pop()
            window.append(start)
            taken += 1
        while window and not _fits(used, window[0], stop, reach_mm):
            window.popleft()
        if window:
            after[stop] = best[window[0]] + price[stop]
            source[stop] = window[0]
    return after, source
