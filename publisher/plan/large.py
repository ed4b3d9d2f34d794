"""Solve the large parts of a matching, with libraries that are fast there and slow to load."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from publisher.plan.blossoms import match_by_blossoms
from publisher.plan.graph import Graph
from publisher.plan.joining import match_by_joining

WHOLE_NODES = 6_000
"""A part of up to so many nodes is matched as a whole."""
WINDOW_NODES = 4_000
"""Of a larger part, so many nodes at a time."""
FEW_NODES = 150
"""Up to so many nodes, blossoms are no slower."""


def assign(graph: Graph, part: Sequence[int]) -> list[int]:
    """Solve a two-sided part by scipy's sparse Jonker-Volgenant algorithm.

    Each first node may also stay alone, at a price above any sum of costs. All prices are whole
    and far below 2**53, so that floating point is exact.
    """
    import numpy
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import min_weight_full_bipartite_matching

    firsts, seconds, costs = graph.columns(part)
    lefts, left = numpy.unique(firsts, return_inverse=True)
    rights, right = numpy.unique(seconds, return_inverse=True)
    own = numpy.arange(len(lefts))
    alone = (int(costs.max()) + 1) * (min(len(lefts), len(rights)) + 1)
    # One is added to every price: a sparse zero would be no edge at all.
    prices = numpy.concatenate([costs, numpy.full(len(lefts), alone)]) + 1.0
    rows = numpy.concatenate([left, own])
    columns = numpy.concatenate([right, len(rights) + own])
    shape = (len(lefts), len(rights) + len(lefts))
    table = csr_array((prices, (rows, columns)), shape=shape)
    _, taken = min_weight_full_bipartite_matching(table)
    chosen = taken[left] == right
    return [part[at] for at in numpy.flatnonzero(chosen).tolist()]


def match(graph: Graph, part: Sequence[int]) -> list[int]:
    """Solve a part exactly; from `WHOLE_NODES` on, window by window.

    A window is a run of nodes by number: ends are numbered in working order, so it is a band of
    the piece. Each is solved by itself, then those half way between two, with the pairs that lie
    whole in them. What stays open is a chain of changes longer than a window, or dearer than ten
    of the dearest edges: to look for one can take minutes.
    """
    nodes = graph.nodes_of(part)
    if len(nodes) <= WHOLE_NODES:
        return _match_part(graph, part, prove=True)
    by_first = sorted(part, key=graph.firsts.__getitem__)
    firsts = [graph.firsts[edge] for edge in by_first]
    chosen: dict[int, int] = {}
    for shift in (0, WINDOW_NODES // 2):
        for at in range(-shift, len(nodes), WINDOW_NODES):
            low, high = nodes[max(0, at)], nodes[min(at + WINDOW_NODES, len(nodes)) - 1]
            window = by_first[bisect_left(firsts, low) : bisect_left(firsts, high)]
            _match_window(graph, window, range(low, high + 1), chosen)
    return sorted(set(chosen.values()))


def _match_window(
    graph: Graph, edges: Sequence[int], window: range, chosen: dict[int, int]
) -> None:
    """Solve anew between the nodes of a window that are not tied out of it.

    `chosen`: the edge that each node has, changed in place.
    """
    for node in window:
        edge = chosen.get(node)
        if edge is not None and graph.firsts[edge] in window and graph.seconds[edge] in window:
            del chosen[graph.firsts[edge]], chosen[graph.seconds[edge]]
    inside = [
        edge
        for edge in edges
        if graph.seconds[edge] in window
        and graph.firsts[edge] not in chosen
        and graph.seconds[edge] not in chosen
    ]
    small = Graph(len(window))
    for edge in inside:
        one, other = graph.firsts[edge] - window.start, graph.seconds[edge] - window.start
        small.add(one, other, graph.costs[edge])
    for part in small.parts():
        for found in _match_part(small, part, prove=False):
            edge = inside[found]
            chosen[graph.firsts[edge]] = chosen[graph.seconds[edge]] = edge


def _match_part(graph: Graph, part: Sequence[int], *, prove: bool) -> list[int]:
    found = None
    if len(graph.nodes_of(part)) > FEW_NODES:
        found = match_by_joining(graph, part, prove=prove)
    return match_by_blossoms(graph, part) if found is None else found
