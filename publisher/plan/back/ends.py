"""List the yarn ends that hang at the back, and pair those that can be tied to each other."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from typing import NamedTuple

from publisher.model.pattern import Side
from publisher.model.plan import CellSize, End, EndKind, Spot, YarnRoute
from publisher.plan.routing.graph import Graph
from publisher.plan.routing.matching import cheapest_matching

PAIR_LIMIT_MM = 40.0
"""Ends farther apart than this are not tied to each other."""
MICROMETRES = 1000
"""Distances are weighed in whole micrometres, so that sums are exact."""


class Pairs(NamedTuple):
    """Ends by id: those tied to each other, and those woven in."""

    pairs: tuple[tuple[str, str], ...]
    singles: tuple[str, ...]


def list_ends(yarns: Sequence[YarnRoute], starts: Sequence[Side]) -> tuple[End, ...]:
    """Every start, finish and join end, numbered e1, e2, … in working order.

    `starts`: the side that each row starts from.
    """
    found: list[tuple[tuple[int, int, int, int], str, EndKind, Spot]] = []
    for number, yarn in enumerate(yarns):
        first, last = yarn.stretches[0], yarn.stretches[-1]
        listed: list[tuple[EndKind, Spot]] = [("start", Spot(first.row, first.first_cord))]
        for spot, before in zip(yarn.joins, _knots_before(yarn), strict=True):
            listed += [("join-finish", before), ("join-start", spot)]
        listed.append(("finish", Spot(last.row, last.last_cord)))
        for turn, (kind, spot) in enumerate(listed):
            cord = spot.cord if starts[spot.row - 1] == "left" else -spot.cord
            found.append(((spot.row, cord, number, turn), yarn.id, kind, spot))
    found.sort(key=lambda end: end[0])
    return tuple(
        End(f"e{count}", yarn_id, kind, spot.row, spot.cord)
        for count, (_, yarn_id, kind, spot) in enumerate(found, start=1)
    )


def _knots_before(yarn: YarnRoute) -> list[Spot]:
    """Return where the old length hangs at each join: at its last knot, or carried along to the
    new."""
    carried_to = {carry.target for carry in yarn.carries}
    where = []
    for spot in yarn.joins:
        index = _stretch_at(yarn, spot)
        stretch = yarn.stretches[index]
        if spot in carried_to:
            where.append(spot)
        elif spot.cord == stretch.first_cord:
            before = yarn.stretches[index - 1]
            where.append(Spot(before.row, before.last_cord))
        else:
            step = 1 if stretch.last_cord >= stretch.first_cord else -1
            where.append(Spot(spot.row, spot.cord - step))
    return where


def _stretch_at(yarn: YarnRoute, spot: Spot) -> int:
    """Return which stretch of the yarn works a cell."""
    index = bisect_right(yarn.stretches, spot.row, key=lambda stretch: stretch.row) - 1
    while True:
        stretch = yarn.stretches[index]
        low, high = sorted((stretch.first_cord, stretch.last_cord))
        if low <= spot.cord <= high:
            return index
        index -= 1


def pair_ends(ends: Sequence[End], cell: CellSize, limit_mm: float = PAIR_LIMIT_MM) -> Pairs:
    """Pair ends no farther apart than the limit: the most pairs, of the least length in all."""
    graph = _near_spots([Spot(end.row, end.cord) for end in ends], cell, limit_mm)
    chosen = cheapest_matching(graph)
    matched = sorted((graph.firsts[at], graph.seconds[at]) for at in chosen)
    taken = {number for pair in matched for number in pair}
    return Pairs(
        tuple((ends[one].id, ends[other].id) for one, other in matched),
        tuple(end.id for number, end in enumerate(ends) if number not in taken),
    )


def _near_spots(spots: Sequence[Spot], cell: CellSize, limit_mm: float) -> Graph:
    """Whole micrometres between the spots whose ends may be tied, by their places in the list."""
    rows: dict[int, list[tuple[int, int]]] = {}
    for number, spot in enumerate(spots):
        rows.setdefault(spot.row, []).append((spot.cord, number))
    for row in rows.values():
        row.sort()
    reach = _reach(spots, cell, limit_mm)
    graph = Graph(len(spots))
    for row_number, row in rows.items():
        for down, apart in enumerate(reach):
            below = rows.get(row_number + down, [])
            for place, (cord, number) in enumerate(row):
                start = bisect_left(below, (cord - len(apart) + 1, -1)) if down else place + 1
                stop = bisect_left(below, (cord + len(apart), -1), start)
                for other_cord, other in below[start:stop]:
                    length = apart[abs(other_cord - cord)]
                    graph.add(min(number, other), max(number, other), length)
    return graph


def _reach(spots: Sequence[Spot], cell: CellSize, limit_mm: float) -> list[list[int]]:
    """Whole micrometres from a cell to those within the limit, by rows down and cords across; no
    farther than the spots are from each other, as a swatch may say that knots are tiny."""
    cords, rows = [spot.cord for spot in spots], [spot.row for spot in spots]
    widest, tallest = (max(of, default=0) - min(of, default=0) for of in (cords, rows))
    across = range(min(int(limit_mm / cell.width_mm) + 1, widest) + 1)
    reach = []
    for down in range(min(int(limit_mm / cell.height_mm) + 1, tallest) + 1):
        apart = [math.hypot(along * cell.width_mm, down * cell.height_mm) for along in across]
        near = [round(length * MICROMETRES) for length in apart if length <= limit_mm]
        if near:
            reach.append(near)
    return reach
