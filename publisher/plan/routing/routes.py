"""Chain the runs of each colour into yarns: the fewest, and then with the least carrying."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from publisher.model.pattern import CarryLimit, Order
from publisher.model.plan import CellSize, Spot
from publisher.plan.routing.graph import Graph
from publisher.plan.routing.matching import cheapest_assignment
from publisher.plan.rows.working_order import Passage

NANOMETRES = 1_000_000
"""Carries are weighed in whole nanometres, so that sums are exact."""


def first_spot(passage: Passage) -> Spot:
    """The cell where a passage begins."""
    stretch = passage.stretches[0]
    return Spot(stretch.row, stretch.first_cord)


def last_spot(passage: Passage) -> Spot:
    """The cell where a passage ends."""
    stretch = passage.stretches[-1]
    return Spot(stretch.row, stretch.last_cord)


def find_chains(
    passages: Sequence[Passage],
    limits: Mapping[str, CarryLimit],
    cell: CellSize,
    order: Order,
) -> list[list[int]]:
    """Return which passages (by index) each yarn works, in order; the yarns in order of their
    start.

    For each colour the fewest yarns that its limit allows and, among those, the least carried
    length: a minimum path cover, exact.
    """
    by_colour: dict[str, list[int]] = {}
    for index, passage in enumerate(passages):
        by_colour.setdefault(passage.colour, []).append(index)
    count = len(passages)
    graph = Graph(2 * count)
    for colour, indices in by_colour.items():
        limit = limits[colour]
        if order == "one-way":
            limit = replace(limit, rows=0)
        _add_carries(graph, passages, indices, limit, cell)
    chosen = cheapest_assignment(graph)
    return _follow(count, {graph.firsts[edge]: graph.seconds[edge] - count for edge in chosen})


def _add_carries(
    graph: Graph,
    passages: Sequence[Passage],
    indices: Iterable[int],
    limit: CarryLimit,
    cell: CellSize,
) -> None:
    """Each carry that is allowed. A passage's end is its index; its start, the count more."""
    starts: dict[int, list[tuple[int, int]]] = {}
    for index in indices:
        spot = first_spot(passages[index])
        starts.setdefault(spot.row, []).append((spot.cord, index))
    for row in starts.values():
        row.sort()
    width, height = round(cell.width_mm * NANOMETRES), round(cell.height_mm * NANOMETRES)
    count, bottom = len(passages), max(starts)
    for index in indices:
        spot = last_spot(passages[index])
        for down in range(min(limit.rows, bottom - spot.row) + 1):
            columns = None if limit.along_row and not down else limit.columns
            for cord, later in _within(starts.get(spot.row + down, ()), spot.cord, columns):
                if later > index:
                    cost = abs(cord - spot.cord) * width + down * height
                    graph.add(index, count + later, cost)


def _within(
    row: Sequence[tuple[int, int]], cord: int, columns: int | None
) -> Sequence[tuple[int, int]]:
    if columns is None:
        return row
    low = bisect_left(row, (cord - columns, -1))
    return row[low : bisect_right(row, (cord + columns + 1, -1))]


def _follow(count: int, follower: Mapping[int, int]) -> list[list[int]]:
    later = set(follower.values())
    chains = []
    for index in range(count):
        if index not in later:
            chain = [index]
            while chain[-1] in follower:
                chain.append(follower[chain[-1]])
            chains.append(chain)
    return chains
