"""Choose from a sparse graph's edges a matching: as many as can be, then of the least cost."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

Edge = tuple[int, int]


def cheapest_matching(costs: Mapping[Edge, int]) -> list[Edge]:
    """Edges with no node in common: the most that can be and, among those, the least cost in all.

    `costs` maps an edge (two node numbers) to a whole cost, zero or more. Exact; the parts of the
    graph that do not hang together are solved one by one.
    """
    chosen: list[Edge] = []
    for part in _parts(costs):
        chosen.extend(_solve(part, costs))
    return sorted(chosen)


def _parts(costs: Mapping[Edge, int]) -> list[list[Edge]]:
    """The edges, parted into connected graphs."""
    leader: dict[int, int] = {}

    def find(node: int) -> int:
        root = node
        while leader[root] != root:
            root = leader[root]
        while leader[node] != root:
            leader[node], node = root, leader[node]
        return root

    for one, other in costs:
        leader.setdefault(one, one)
        leader.setdefault(other, other)
        leader[find(one)] = find(other)
    parts: dict[int, list[Edge]] = {}
    for edge in costs:
        parts.setdefault(find(edge[0]), []).append(edge)
    return list(parts.values())


def _solve(edges: Sequence[Edge], costs: Mapping[Edge, int]) -> list[Edge]:
    shared = set(edges[0]).intersection(*edges)
    if shared:
        return [min(edges, key=lambda edge: (costs[edge], edge))]
    return _solve_by_blossoms(edges, costs)


def _solve_by_blossoms(edges: Sequence[Edge], costs: Mapping[Edge, int]) -> list[Edge]:
    import rustworkx

    nodes = sorted({node for edge in edges for node in edge})
    number = {node: index for index, node in enumerate(nodes)}
    graph = rustworkx.PyGraph(multigraph=False)
    graph.add_nodes_from(nodes)
    graph.add_edges_from([(number[a], number[b], -costs[a, b]) for a, b in sorted(edges)])
    pairs = rustworkx.max_weight_matching(graph, max_cardinality=True, weight_fn=int)
    found = [(nodes[one], nodes[other]) for one, other in pairs]
    return [edge if edge in costs else (edge[1], edge[0]) for edge in found]
