"""Solve one connected part of a matching by a library's blossom algorithm."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

Edge = tuple[int, int]
Costs = Mapping[Edge, int]


def match_by_blossoms(edges: Sequence[Edge], costs: Costs) -> list[Edge]:
    """The most edges that share no node and, among those, the least cost: exact, whole numbers.

    rustworkx, after Galil (1986): quick for some hundreds of nodes, time grows with their square.
    """
    import rustworkx

    nodes = sorted({node for edge in edges for node in edge})
    number = {node: index for index, node in enumerate(nodes)}
    graph = rustworkx.PyGraph(multigraph=False)
    graph.add_nodes_from(nodes)
    graph.add_edges_from([(number[a], number[b], -costs[a, b]) for a, b in sorted(edges)])
    pairs = rustworkx.max_weight_matching(graph, max_cardinality=True, weight_fn=int)
    found = [(nodes[one], nodes[other]) for one, other in pairs]
    return [edge if edge in costs else (edge[1], edge[0]) for edge in found]
