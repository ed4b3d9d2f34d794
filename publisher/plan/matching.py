"""Choose edges of a sparse graph that share no node: the most that can be, at the least cost.

The parts of a graph that do not hang together are solved one by one: the simplest outright, the
others by a library's blossom algorithm, and large ones by libraries that are faster but slow to
load. All are exact.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from publisher.plan import large
from publisher.plan.blossoms import Costs, Edge, match_by_blossoms

Solver = Callable[[Sequence[Edge], Costs], list[Edge]]

LARGE_NODES = 150
"""Parts of more nodes than this may go to the libraries for large ones."""
WORTH_LOADING = 10_000_000
"""Blossoms take some 30 ns for each squared node; from here on, loading the others pays."""


def cheapest_matching(costs: Costs) -> list[Edge]:
    """The most edges that share no node and, among those, the least cost in all; sorted.

    `costs` maps an edge (two node numbers) to a whole cost, zero or more.
    """
    return _solve(costs, large.match)


def cheapest_assignment(costs: Costs) -> list[Edge]:
    """The same, for a graph of two sides: no node is first in one edge and second in another."""
    return _solve(costs, large.assign)


def _solve(costs: Costs, solve_large: Solver) -> list[Edge]:
    chosen: list[Edge] = []
    tangled: list[tuple[int, list[Edge]]] = []
    for part in connected_parts(costs):
        shared = set(part[0]).intersection(*part)
        if shared:
            chosen.append(min(part, key=lambda edge: (costs[edge], edge)))
        else:
            tangled.append((len({node for edge in part for node in edge}), part))
    effort = sum(nodes * nodes for nodes, _ in tangled)
    for nodes, part in tangled:
        is_large = nodes > LARGE_NODES and effort > WORTH_LOADING
        chosen += solve_large(part, costs) if is_large else match_by_blossoms(part, costs)
    return sorted(chosen)


def connected_parts(edges: Iterable[Edge]) -> list[list[Edge]]:
    """The edges of each connected graph, parts and edges in the order they come."""
    leader: dict[int, int] = {}

    def find(node: int) -> int:
        root = leader.setdefault(node, node)
        while leader[root] != root:
            root = leader[root]
        while node != root:
            leader[node], node = root, leader[node]
        return root

    listed = list(edges)
    for one, other in listed:
        leader[find(one)] = find(other)
    parts: dict[int, list[Edge]] = {}
    for edge in listed:
        parts.setdefault(find(edge[0]), []).append(edge)
    return list(parts.values())
