"""Solve the large parts of an assignment, with a library that is fast there and slow to load."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.plan.graph import Graph


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
