"""Choose edges of a sparse graph that share no node: the most that can be, at the least cost.

The parts of a graph that do not hang together are solved one by one: the simplest outright, the
others by a library's blossom algorithm, exactly. Assignments in large parts go to a library that is
faster there but slow to load, also exact; of matchings only the largest parts, which nobody knots,
are solved in bands.
"""

from __future__ import annotations

from collections.abc import Sequence

from publisher.plan.routing.bands import EXACT_WORK, match_in_bands
from publisher.plan.routing.blossoms import match_by_blossoms
from publisher.plan.routing.graph import Graph

LARGE_NODES = 150
"""Parts of an assignment with more nodes than this may go to the library for large ones."""
WORTH_LOADING = 10_000_000
"""Blossoms take some 30 ns for each squared node; from here on, loading the other pays."""


def cheapest_assignment(graph: Graph) -> list[int]:
    """The most edges that share no node and, among those, the least cost in all: their numbers.

    No node may be first in one edge and second in another.
    """
    chosen, tangled = _simple_parts(graph)
    sizes = [len(graph.nodes_of(part)) for part in tangled]
    effort = sum(size * size for size in sizes)
    for size, part in zip(sizes, tangled, strict=True):
        if size > LARGE_NODES and effort > WORTH_LOADING:
            from publisher.plan.routing.large import assign

            chosen += assign(graph, part)
        else:
            chosen += match_by_blossoms(graph, part)
    return sorted(chosen)


def cheapest_matching(graph: Graph) -> list[int]:
    """The same, whichever node is first, but for the largest parts (`bands`)."""
    chosen, tangled = _simple_parts(graph)
    for part in tangled:
        if len(part) * len(graph.nodes_of(part)) > EXACT_WORK:
            chosen += match_in_bands(graph, part)
        else:
            chosen += match_by_blossoms(graph, part)
    return sorted(chosen)


def _simple_parts(graph: Graph) -> tuple[list[int], list[list[int]]]:
    """The best edges of the parts where one node is in all, and the other parts."""
    chosen: list[int] = []
    tangled: list[list[int]] = []
    for part in graph.parts():
        if _is_star(graph, part):
            chosen.append(min(part, key=lambda edge: (graph.costs[edge], edge)))
        else:
            tangled.append(part)
    return chosen, tangled


def _is_star(graph: Graph, part: Sequence[int]) -> bool:
    """Return whether one node is in all the edges."""
    firsts, seconds = graph.firsts, graph.seconds
    return any(
        all(node in (firsts[edge], seconds[edge]) for edge in part)
        for node in (firsts[part[0]], seconds[part[0]])
    )
