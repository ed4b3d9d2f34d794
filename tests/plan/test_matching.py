"""Matchings against trying all, and the libraries for large parts against the small one's."""

from __future__ import annotations

import random
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.plan import large
from publisher.plan.blossoms import match_by_blossoms
from publisher.plan.graph import Graph
from publisher.plan.matching import cheapest_assignment, cheapest_matching

Edge = tuple[int, int, int]


def graph_of(nodes: int, edges: Sequence[Edge]) -> Graph:
    graph = Graph(nodes)
    for edge in edges:
        graph.add(*edge)
    return graph


def found(graph: Graph, edges: Sequence[int]) -> tuple[int, int]:
    """How many edges and what they cost; they share no node."""
    nodes = [node for edge in edges for node in (graph.firsts[edge], graph.seconds[edge])]
    assert len(nodes) == len(set(nodes))
    return len(edges), sum(graph.costs[edge] for edge in edges)


def best_by_trying_all(edges: Sequence[Edge]) -> tuple[int, int]:
    """The most edges and then the least cost, over every set that shares no node."""

    def go(rest: Sequence[Edge], taken: frozenset[int]) -> tuple[int, int]:
        if not rest:
            return 0, 0
        (one, other, cost), *rest = rest
        best = go(rest, taken)
        if one not in taken and other not in taken:
            more, price = go(rest, taken | {one, other})
            best = min(best, (more - 1, price + cost))
        return best

    most, cost = go(edges, frozenset())
    return -most, cost


@st.composite
def graphs(draw: st.DrawFn) -> tuple[int, list[Edge]]:
    nodes = draw(st.integers(2, 10))
    pairs = [(a, b) for a in range(nodes) for b in range(a + 1, nodes)]
    chosen = draw(st.lists(st.sampled_from(pairs), unique=True, min_size=1, max_size=14))
    return nodes, [(a, b, draw(st.integers(0, 9))) for a, b in chosen]


@st.composite
def two_sided(draw: st.DrawFn) -> tuple[int, list[Edge]]:
    pairs = [(a, b) for a in range(6) for b in range(6, 12)]
    chosen = draw(st.lists(st.sampled_from(pairs), unique=True, min_size=1, max_size=14))
    return 12, [(a, b, draw(st.integers(0, 9))) for a, b in chosen]


@settings(max_examples=150, deadline=None)
@given(graphs())
def test_matchings_are_the_best_there_are(drawn: tuple[int, list[Edge]]) -> None:
    graph = graph_of(*drawn)
    assert found(graph, cheapest_matching(graph)) == best_by_trying_all(drawn[1])


@settings(max_examples=150, deadline=None)
@given(two_sided())
def test_assignments_are_the_best_there_are(drawn: tuple[int, list[Edge]]) -> None:
    graph = graph_of(*drawn)
    best = best_by_trying_all(drawn[1])
    assert found(graph, cheapest_assignment(graph)) == best
    for part in graph.parts():
        assert found(graph, large.assign(graph, part)) == found(
            graph, match_by_blossoms(graph, part)
        )


@settings(max_examples=60, deadline=None)
@given(graphs())
def test_the_library_for_large_parts_agrees_on_small_ones(drawn: tuple[int, list[Edge]]) -> None:
    graph = graph_of(*drawn)
    for part in graph.parts():
        assert found(graph, large.match(graph, part)) == found(
            graph, match_by_blossoms(graph, part)
        )


def near_points(seed: int, count: int, reach: int, clumps: bool) -> Graph:
    """Points on a square, many in the same place, joined where near; numbered from the top."""
    draw = random.Random(seed)
    side = int((count * 30) ** 0.5)
    points = [(draw.randrange(side), draw.randrange(side)) for _ in range(count)]
    if clumps:
        points = [point for point in points[: count // 2] for _ in (0, 1)]
    points.sort(key=lambda point: point[1])
    graph = Graph(len(points))
    for one, (x, y) in enumerate(points):
        for other in range(one + 1, len(points)):
            apart = ((points[other][0] - x) ** 2 + (points[other][1] - y) ** 2) ** 0.5
            if apart <= reach:
                graph.add(one, other, round(apart * 1000))
    return graph


@pytest.mark.parametrize("seed", range(6))
def test_matching_many_ends_in_large_parts(seed: int) -> None:
    graph = near_points(seed, 500 + seed, (7, 9, 12)[seed % 3], clumps=seed % 2 == 0)
    for part in graph.parts():
        assert found(graph, large.match(graph, part)) == found(
            graph, match_by_blossoms(graph, part)
        )


@pytest.mark.parametrize("seed", range(4))
def test_assigning_many_runs_in_large_parts(seed: int) -> None:
    draw = random.Random(seed)
    graph = Graph(800)
    for one in range(400):
        for other in sorted(draw.sample(range(max(0, one - 6), min(400, one + 7)), 3)):
            graph.add(one, 400 + other, draw.randrange(200))
    for part in graph.parts():
        assert found(graph, large.assign(graph, part)) == found(
            graph, match_by_blossoms(graph, part)
        )


def test_a_part_is_matched_window_by_window_where_it_is_larger_still(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Nearly as many pairs as there can be, and nearly as short; one window of all is exact."""
    graph = near_points(3, 600, 12, clumps=False)
    part = max(graph.parts(), key=len)
    pairs, length = found(graph, match_by_blossoms(graph, part))
    monkeypatch.setattr(large, "WHOLE_NODES", 100)
    monkeypatch.setattr(large, "WINDOW_NODES", 200)
    made, long = found(graph, large.match(graph, part))
    assert pairs - 2 <= made <= pairs
    assert long / made == pytest.approx(length / pairs, rel=0.05)
    monkeypatch.setattr(large, "WINDOW_NODES", 600)
    assert found(graph, large.match(graph, part)) == (pairs, length)


def test_parts_hang_together_and_share_nothing() -> None:
    graph = graph_of(9, [(0, 1, 1), (2, 3, 1), (1, 4, 1), (7, 8, 1), (3, 5, 1), (4, 0, 1)])
    assert graph.parts() == [[0, 2, 5], [1, 4], [3]]
