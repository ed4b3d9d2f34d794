"""Solve one connected part of a matching by a library's blossom algorithm."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.plan.routing.graph import Graph


def match_by_blossoms(graph: Graph, part: Sequence[int]) -> list[int]:
    """The most of a part's edges that share no node and, among those, the least cost: exact.

    rustworkx, after Galil (1986), in whole numbers: quick for some hundreds of nodes, time grows
    with their square.
    """
    import rustworkx

    number = {node: index for index, node in enumerate(graph.nodes_of(part))}
    solver = rustworkx.PyGraph(multigraph=False)
    solver.add_nodes_from(range(len(number)))
    ends = {edge: (number[graph.firsts[edge]], number[graph.seconds[edge]]) for edge in part}
    solver.add_edges_from([(*pair, -graph.costs[edge]) for edge, pair in ends.items()])
    pairs = rustworkx.max_weight_matching(solver, max_cardinality=True, weight_fn=int)
    chosen = {frozenset(pair) for pair in pairs}
    return [edge for edge, pair in ends.items() if frozenset(pair) in chosen]
