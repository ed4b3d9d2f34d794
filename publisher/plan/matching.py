"""Choose edges of a sparse graph that share no node: the most that can be, at the least cost.

The parts of a graph that do not hang together are solved one by one: the simplest outright, the
others by a library's blossom algorithm, and large ones by libraries that are faster but slow to
load. All are exact; `large.match` says what it leaves open in the largest parts.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from publisher.plan import large
from publisher.plan.blossoms import match_by_blossoms
from publisher.plan.graph import Graph

Solver = Callable[[Graph, Sequence[int]], list[int]]

LARGE_NODES = 150
"""Parts of more nodes than this may go to the libraries for large ones."""
WORTH_LOADING = 10_000_000
"""Blossoms take some 30 ns for each squared node; from here on, loading the others pays."""


def cheapest_matching(graph: Graph) -> list[int]:
    """The most edges that share no node and, among those, the least cost in all: their numbers."""
    return _solve(graph, large.match)


def cheapest_assignment(graph: Graph) -> list[int]:
    """The same, where no node is first in one edge and second in another."""
    return _solve(graph, large.assign)


def _solve(graph: Graph, solve_large: Solver) -> list[int]:
    chosen: list[int] = []
    tangled: list[tuple[int, list[int]]] = []
    for part in graph.parts():
        if _is_star(graph, part):
            chosen.append(min(part, key=lambda edge: (graph.costs[edge], edge)))
        else:
            tangled.append((len(graph.nodes_of(part)), part))
    effort = sum(nodes * nodes for nodes, _ in tangled)
    for nodes, part in tangled:
        is_large = nodes > LARGE_NODES and effort > WORTH_LOADING
        chosen += solve_large(graph, part) if is_large else match_by_blossoms(graph, part)
    return sorted(chosen)


def _is_star(graph: Graph, part: Sequence[int]) -> bool:
    """Whether one node is in all the edges."""
    firsts, seconds = graph.firsts, graph.seconds
    return any(
        all(node in (firsts[edge], seconds[edge]) for edge in part)
        for node in (firsts[part[0]], seconds[part[0]])
    )
