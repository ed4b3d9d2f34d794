"""Solve one connected part of a matching as a cheapest join, with PyMatching's sparse blossoms.

PyMatching finds edges which give every node an odd degree at the least cost. With a price on
every edge above what a detour saves, each node has one edge: a matching. Nodes that stay alone
are joined to a spare one, at nearly the same price.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from publisher.plan.graph import Graph

if TYPE_CHECKING:
    from numpy import int64
    from numpy.typing import NDArray

WHOLE_WEIGHTS = 2**24
"""PyMatching keeps whole weights below this as they are."""
MODEST_PRICE = 10
"""Times the dearest edge: quick, and nearly always enough."""


def match_by_joining(graph: Graph, part: Sequence[int], *, prove: bool) -> list[int] | None:
    """The most of a part's edges that share no node and, among those, the least cost: exact.

    Where a modest price leaves more alone than one odd node, the highest is tried, and then
    coarse costs with a price above any sum of them, to prove that no fewer can stay alone. None
    if that is not proven. Unless told to `prove`, the modest price will do: then one pair more
    may be left out where it would make the others dearer by more than that.
    """
    import numpy

    firsts, seconds, costs = graph.columns(part)
    names, inverse = numpy.unique(numpy.concatenate([firsts, seconds]), return_inverse=True)
    ends, nodes = inverse.reshape(2, -1), len(names)
    dearest = int(costs.max())
    found = _join(ends, costs + MODEST_PRICE * (dearest + 1), nodes)
    if nodes - 2 * len(found) > nodes % 2 and prove:
        found = _join(ends, costs + (WHOLE_WEIGHTS - 2 - dearest), nodes)
        unit = dearest * nodes // WHOLE_WEIGHTS + 1
        certain = (dearest // unit + 1) * (nodes // 2 + 1)
        if len(_join(ends, costs // unit + certain, nodes)) > len(found):
            return None
    return [part[at] for at in found] if found else None


def _join(ends: NDArray[int64], weights: NDArray[int64], nodes: int) -> list[int]:
    """The matching of least weight, by places in the arrays.

    An even number of nodes is tried without spare ones first.
    """
    if nodes % 2:
        return _odd_degrees(ends, weights, nodes, 1)
    return _odd_degrees(ends, weights, nodes, 0) or _odd_degrees(ends, weights, nodes, 2)


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
