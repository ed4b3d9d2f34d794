"""Solve the large parts of a matching, with libraries that are fast there and slow to load."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from publisher.plan.blossoms import Costs, Edge, match_by_blossoms

WHOLE_WEIGHTS = 2**24
"""PyMatching keeps whole weights below this as they are."""


def assign(edges: Sequence[Edge], costs: Costs) -> list[Edge]:
    """Solve a two-sided part by scipy's sparse Jonker-Volgenant algorithm.

    Each first node may also stay alone, at a price above any sum of costs. All prices are whole
    and far below 2**53, so that floating point is exact.
    """
    import numpy
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import min_weight_full_bipartite_matching

    left = {node: index for index, node in enumerate(sorted({edge[0] for edge in edges}))}
    right = {node: index for index, node in enumerate(sorted({edge[1] for edge in edges}))}
    alone = (max(costs[edge] for edge in edges) + 1) * (min(len(left), len(right)) + 1)
    own = range(len(left))
    # One is added to every price: a sparse zero would be no edge at all.
    prices = [costs[edge] + 1.0 for edge in edges] + [alone + 1.0] * len(left)
    firsts = [left[edge[0]] for edge in edges] + list(own)
    seconds = [right[edge[1]] for edge in edges] + [len(right) + index for index in own]
    table = csr_array(
        (numpy.array(prices), (firsts, seconds)), shape=(len(left), len(right) + len(left))
    )
    rows, columns = min_weight_full_bipartite_matching(table)
    begins, ends = list(left), list(right)
    return [
        (begins[row], ends[column])
        for row, column in zip(rows.tolist(), columns.tolist(), strict=True)
        if column < len(right)
    ]


def match(edges: Sequence[Edge], costs: Costs) -> list[Edge]:
    """Solve a part by PyMatching's sparse blossom algorithm.

    Nodes that stay alone are joined to a spare one. `price` is added to every edge, and a little
    less to a spare edge, so that one edge for two nodes is far cheaper than two. Where nodes do
    stay alone, a second solution with coarse costs, and a price above any sum of them, proves
    that it must be so many; where even that price is too small, the slow way decides.
    """
    nodes = sorted({node for edge in edges for node in edge})
    dearest = max(costs[edge] for edge in edges)
    found = _cheapest_join(edges, costs, nodes, 1, WHOLE_WEIGHTS - 2 - dearest)
    alone = len(nodes) - 2 * len(found)
    if alone > len(nodes) % 2:
        unit = max(1, dearest * len(nodes) // WHOLE_WEIGHTS + 1)
        price = (dearest // unit + 1) * (len(nodes) // 2 + 1)
        certain = price + dearest // unit < WHOLE_WEIGHTS - 2
        if not certain or len(_cheapest_join(edges, costs, nodes, unit, price)) > len(found):
            return match_by_blossoms(edges, costs)
    return found


def _cheapest_join(
    edges: Sequence[Edge], costs: Costs, nodes: Sequence[int], unit: int, price: int
) -> list[Edge]:
    """Edges that give every node an odd degree, at the least cost; empty if one has three."""
    import numpy
    from pymatching import Matching

    number = {node: index for index, node in enumerate(nodes)}
    spare = len(nodes)
    graph = Matching()
    for one, other in edges:
        weight = costs[one, other] // unit + price
        graph.add_edge(number[one], number[other], weight=weight)
    for index in range(spare):
        graph.add_edge(index, spare, weight=price - 1)
    odd = numpy.ones(spare + 1, dtype=numpy.uint8)
    odd[spare] = spare % 2
    chosen = graph.decode_to_edges_array(odd).tolist()
    degree = Counter(index for edge in chosen for index in edge if index != spare)
    if len(degree) < spare or max(degree.values()) > 1:
        return []
    pairs = ((nodes[one], nodes[other]) for one, other in chosen if spare not in (one, other))
    return sorted(edge if edge in costs else (edge[1], edge[0]) for edge in pairs)
