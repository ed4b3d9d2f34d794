"""Choose edges of a sparse graph that share no node: the most that can be, at the least cost.

The parts of a graph that do not hang together are solved one by one: the simplest outright, the
others by a library's blossom algorithm, or by libraries that are faster with large parts but slow
to load. All are exact; `joining.Ties` says what is not proven of the largest.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, product

from publisher.plan.blossoms import match_by_blossoms
from publisher.plan.graph import Graph

LARGE_NODES = 150
"""Parts of more nodes than this may go to the libraries for large ones."""
WORTH_LOADING = 10_000_000
"""Blossoms take some 30 ns for each squared node; from here on, loading the others pays."""
PROVEN_BY_BLOSSOMS = 6_000
"""Nodes of a part that blossoms solve in some seconds, where a faster way has proven nothing."""


def cheapest_assignment(graph: Graph) -> list[int]:
    """The most edges that share no node and, among those, the least cost in all: their numbers.

    No node may be first in one edge and second in another.
    """
    chosen, tangled = _simple_parts(graph)
    sizes = [len(graph.nodes_of(part)) for part in tangled]
    effort = sum(size * size for size in sizes)
    for size, part in zip(sizes, tangled, strict=True):
        if size > LARGE_NODES and effort > WORTH_LOADING:
            from publisher.plan.large import assign

            chosen += assign(graph, part)
        else:
            chosen += match_by_blossoms(graph, part)
    return sorted(chosen)


def cheapest_matching(graph: Graph) -> list[int]:
    """The same, whichever node is first. Blossoms alone: for some thousands of nodes."""
    chosen, tangled = _simple_parts(graph)
    for part in tangled:
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
    """Whether one node is in all the edges."""
    firsts, seconds = graph.firsts, graph.seconds
    return any(
        all(node in (firsts[edge], seconds[edge]) for edge in part)
        for node in (firsts[part[0]], seconds[part[0]])
    )


def pairs_at_places(graph: Graph, ends: Sequence[Sequence[int]]) -> list[tuple[int, int]]:
    """The most pairs of ends and, among those, the least cost in all: for large pieces.

    `graph`: of places, with what it costs, above zero, to pair two of their ends; `ends`: the
    ends at each place, which cost nothing to pair with each other.
    """
    from publisher.plan.joining import tie_places

    counts = [len(here) for here in ends]
    pairs: list[tuple[int, int]] = []
    rest = [list(here) for here in ends]
    for part in graph.parts():
        places = graph.nodes_of(part)
        total = sum(counts[place] for place in places)
        ties = tie_places(graph, part, counts) if total > LARGE_NODES else None
        if ties is None or (not ties.proven and total <= PROVEN_BY_BLOSSOMS):
            pairs += _pair_by_blossoms(graph, part, ends)
            for place in places:
                rest[place] = []
            continue
        for edge in ties.edges:
            one, other = rest[graph.firsts[edge]], rest[graph.seconds[edge]]
            pairs.append((one.pop(0), other.pop(0)))
        for place in ties.alone:
            rest[place].pop(0)
    pairs += [pair for here in rest for pair in zip(here[::2], here[1::2], strict=False)]
    return [(min(pair), max(pair)) for pair in pairs]


def _pair_by_blossoms(
    graph: Graph, part: Sequence[int], ends: Sequence[Sequence[int]]
) -> list[tuple[int, int]]:
    """The same for the places of one part, end by end."""
    own = [end for place in graph.nodes_of(part) for end in ends[place]]
    number = {end: at for at, end in enumerate(own)}
    small = Graph(len(own))
    for place in graph.nodes_of(part):
        for one, other in combinations(ends[place], 2):
            small.add(number[one], number[other], 0)
    for edge in part:
        for one, other in product(ends[graph.firsts[edge]], ends[graph.seconds[edge]]):
            small.add(number[one], number[other], graph.costs[edge])
    found = match_by_blossoms(small, range(len(small)))
    return [(own[small.firsts[edge]], own[small.seconds[edge]]) for edge in found]
