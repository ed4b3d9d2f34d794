"""Solve the large parts of a matching, with libraries that are fast there and slow to load."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from publisher.plan.blossoms import match_by_blossoms
from publisher.plan.graph import Graph

if TYPE_CHECKING:
    from numpy import int64
    from numpy.typing import NDArray

WHOLE_WEIGHTS = 2**24
"""PyMatching keeps whole weights below this as they are."""
MODEST_PRICE = 10
"""Times the dearest edge."""
SEARCHED_NODES = 10_000
"""In an even part of more nodes, the last pair of all is not looked for: it can take minutes."""


def assign(graph: Graph, part: Sequence[int]) -> list[int]:
    """Solve a two-sided part by scipy's sparse Jonker-Volgenant algorithm.

    Each first node may also stay alone, at a price above any sum of costs. All prices are whole
    and far below 2**53, so that floating point is exact.
    """
    import numpy
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import min_weight_full_bipartite_matching

    firsts, seconds, costs = _arrays(graph, part)
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
    """Solve a part by PyMatching's sparse blossom algorithm.

    That finds edges which give every node an odd degree; with a price on each edge above what
    any detour saves, the degree is one. Nodes that stay alone are joined to spare ones, at
    nearly the same price. A modest price is quick; where it leaves more alone than must be, the
    highest is tried, and a solution with coarse costs and a price above any sum of them proves
    that no fewer can be. Where even that fails, the slow way decides.

    In an even part of more than `SEARCHED_NODES`, two nodes stay alone at least, though a pair
    more might be found; the cost is the least for so many pairs all the same.
    """
    firsts, seconds, costs = _arrays(graph, part)
    nodes = len({*firsts.tolist(), *seconds.tolist()})
    must_be_alone = nodes % 2 if nodes <= SEARCHED_NODES else 2 - nodes % 2
    dearest = int(costs.max())
    found: list[int] = []
    for price in (MODEST_PRICE * (dearest + 1), WHOLE_WEIGHTS - 2 - dearest):
        found = _join(firsts, seconds, costs + price)
        if nodes - 2 * len(found) <= must_be_alone:
            return [part[at] for at in found]
    unit = dearest * nodes // WHOLE_WEIGHTS + 1
    certain = (dearest // unit + 1) * (nodes // 2 + 1)
    if len(_join(firsts, seconds, costs // unit + certain)) > len(found):
        return match_by_blossoms(graph, part)
    return [part[at] for at in found]


def _arrays(
    graph: Graph, part: Sequence[int]
) -> tuple[NDArray[int64], NDArray[int64], NDArray[int64]]:
    """First nodes, second nodes and costs of a part's edges."""
    import numpy

    at = numpy.array(part)
    columns = (graph.firsts, graph.seconds, graph.costs)
    firsts, seconds, costs = (numpy.frombuffer(column, numpy.int64)[at] for column in columns)
    return firsts, seconds, costs


def _join(firsts: NDArray[int64], seconds: NDArray[int64], weights: NDArray[int64]) -> list[int]:
    """The matching of least weight, by places in the arrays; none if a node needs three edges.

    An even number of nodes is tried without spare ones first.
    """
    import numpy

    names, inverse = numpy.unique(numpy.concatenate([firsts, seconds]), return_inverse=True)
    ends, nodes = inverse.reshape(2, -1), len(names)
    if nodes % 2:
        return _odd_degrees(ends, weights, nodes, 1)
    found = _odd_degrees(ends, weights, nodes, 0) if nodes <= SEARCHED_NODES else []
    return found or _odd_degrees(ends, weights, nodes, 2)


def _odd_degrees(
    ends: NDArray[int64], weights: NDArray[int64], nodes: int, spares: int
) -> list[int]:
    import numpy
    from pymatching import Matching
    from scipy.sparse import csc_array

    own = numpy.tile(numpy.arange(nodes), spares)
    spare = numpy.repeat(numpy.arange(nodes, nodes + spares), nodes)
    pairs = numpy.concatenate([ends, numpy.stack([own, spare])], axis=1)
    spare_weight = int(weights.min()) - 1
    prices = numpy.concatenate([weights, numpy.full(len(own), spare_weight)])
    edges = pairs.shape[1]
    table = csc_array(
        (numpy.ones(2 * edges, numpy.uint8), pairs.T.ravel(), numpy.arange(0, 2 * edges + 1, 2)),
        shape=(nodes + spares, edges),
    )
    none = csc_array((1, edges), dtype=numpy.uint8)
    solver = Matching(table, weights=prices.astype(float), faults_matrix=none)
    matched = solver.decode_to_matched_dets_array(numpy.ones(nodes + spares, numpy.uint8))
    taken = numpy.isin(_names(ends, nodes + spares), _names(matched.T, nodes + spares))
    found = numpy.flatnonzero(taken).tolist()
    return found if spares or 2 * len(found) == nodes else []


def _names(pairs: NDArray[int64], nodes: int) -> NDArray[int64]:
    """One number for each pair of nodes, whichever comes first."""
    name: NDArray[int64] = pairs.min(axis=0) * nodes + pairs.max(axis=0)
    return name
