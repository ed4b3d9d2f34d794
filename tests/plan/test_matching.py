"""Matchings against trying all, against another library, and large parts against small ones."""

from __future__ import annotations

import random
from collections.abc import Sequence

import networkx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.plan.routing import bands, large, matching
from publisher.plan.routing.bands import match_in_bands
from publisher.plan.routing.blossoms import match_by_blossoms
from publisher.plan.routing.graph import Graph
from publisher.plan.routing.matching import cheapest_assignment, cheapest_matching
from publisher.plan.routing.pruning import largest_assignment, possible_edges

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


def near_ends(seed: int, count: int, reach: int) -> Graph:
    """Ends on a square in working order, one, two or three at a place, joined where near."""
    draw = random.Random(seed)
    side = int((count * 30) ** 0.5)
    spots = {(draw.randrange(side), draw.randrange(side)): None for _ in range(count)}
    points = sorted(spot for spot in spots for _ in range(draw.choice((1, 1, 1, 2, 2, 3))))
    graph = Graph(len(points))
    for one, (x, y) in enumerate(points):
        for other, (u, v) in enumerate(points[one + 1 :], start=one + 1):
            if u - x > reach:
                break
            apart = (x - u) ** 2 + (y - v) ** 2
            if apart <= reach**2:
                graph.add(one, other, round(apart**0.5 * 1000))
    return graph


@pytest.mark.parametrize("seed", range(3))
def test_another_library_finds_no_better_pairs(seed: int) -> None:
    """networkx has a matching of its own, after Galil (1986), in Python."""
    ends = near_ends(seed, 260, (8, 9, 12)[seed])
    graph = networkx.Graph()
    graph.add_weighted_edges_from(
        zip(ends.firsts, ends.seconds, (-cost for cost in ends.costs), strict=True)
    )
    pairs = networkx.max_weight_matching(graph, maxcardinality=True)
    cost = -sum(graph.edges[pair]["weight"] for pair in pairs)
    assert found(ends, cheapest_matching(ends)) == (len(pairs), cost)


@settings(max_examples=300, deadline=None)
@given(graphs(), st.integers(1, 60))
def test_bands_of_any_size_give_a_sound_matching(drawn: tuple[int, list[Edge]], work: int) -> None:
    """No node is in two edges, and none is left that could be added: never half of the most."""
    graph = graph_of(*drawn)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(bands, "BAND_WORK", work)
        for part in graph.parts():
            chosen = match_in_bands(graph, part)
            count, cost = found(graph, chosen)
            most, least = found(graph, match_by_blossoms(graph, part))
            assert count <= most and (count < most or cost >= least)
            taken = {node for edge in chosen for node in (graph.firsts[edge], graph.seconds[edge])}
            assert all({graph.firsts[edge], graph.seconds[edge]} & taken for edge in part)


@pytest.mark.parametrize("seed", range(12))
def test_bands_lose_hardly_a_pair_and_little_length(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Dense and sparse, some hardly hanging together; a band is a fifth of the piece or more."""
    graph = near_ends(seed, 900 + seed, (7, 8, 9, 12)[seed % 4])
    best, cost = found(graph, cheapest_matching(graph))
    monkeypatch.setattr(matching, "EXACT_WORK", 0)
    monkeypatch.setattr(bands, "BAND_WORK", 3_000_000)
    chosen = cheapest_matching(graph)
    pairs, length = found(graph, chosen)
    assert best - best // 200 <= pairs <= best
    assert length <= 1.04 * cost
    assert chosen == cheapest_matching(graph)


def test_one_band_is_exact(monkeypatch: pytest.MonkeyPatch) -> None:
    graph = near_ends(7, 700, 9)
    best = found(graph, cheapest_matching(graph))
    monkeypatch.setattr(matching, "EXACT_WORK", 0)
    assert found(graph, cheapest_matching(graph)) == best


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


def layered(rows: int, across: int, reach: int, costs: random.Random | None) -> Graph:
    """Ends and starts on a grid; an end may go on in its row and the next, so far to the sides."""
    graph = Graph(2 * rows * across)
    for row in range(rows):
        for column in range(across):
            for down in (0, 1):
                for other in range(max(0, column - reach), min(across, column + reach + 1)):
                    if row + down < rows and (down or other > column):
                        far = abs(other - column) * 3 + down * 2
                        graph.add(
                            row * across + column,
                            (rows + row + down) * across + other,
                            costs.randrange(9) if costs else far,
                        )
    return graph


@pytest.mark.parametrize("costs", [None, 1, 2])
def test_layers_that_leave_no_choice_and_little(costs: int | None) -> None:
    """The fewest yarns of stripes: alike everywhere, and each row hangs on the one above."""
    graph = layered(12, 14, 3, costs and random.Random(costs))
    (part,) = graph.parts()
    assert found(graph, large.assign(graph, part)) == found(graph, match_by_blossoms(graph, part))


@pytest.mark.parametrize("seed", range(40))
def test_blocks_of_every_shape(seed: int) -> None:
    """Ends without starts, starts without ends, and neither, in one part; many costs alike."""
    draw = random.Random(seed)
    graph = Graph(240)
    for one in range(120):
        near = range(max(0, one - 5), min(120, one + 6))
        for other in sorted(draw.sample(near, draw.randrange(0, 4))):
            graph.add(one, 120 + other, draw.randrange(4))
    for part in graph.parts():
        best = found(graph, match_by_blossoms(graph, part))
        assert found(graph, large.assign(graph, part)) == best


@settings(max_examples=200, deadline=None)
@given(two_sided())
def test_useful_edges_are_those_of_the_largest_assignments(
    drawn: tuple[int, list[Edge]],
) -> None:
    """Each is in one of them, the others in none: every way is tried."""
    edges = drawn[1]
    most, _ = best_by_trying_all(edges)
    firsts, first = np.unique([edge[0] for edge in edges], return_inverse=True)
    seconds, second = np.unique([edge[1] for edge in edges], return_inverse=True)
    partner = largest_assignment(first, second, (len(firsts), len(seconds)))
    assert sum(partner >= 0) == most
    useful = possible_edges(first, second, partner, len(seconds))
    for at, (one, other, _) in enumerate(edges):
        apart = [edge for edge in edges if edge[0] != one and edge[1] != other]
        assert useful[at] == (best_by_trying_all(apart)[0] + 1 == most)


def test_parts_hang_together_and_share_nothing() -> None:
    graph = graph_of(9, [(0, 1, 1), (2, 3, 1), (1, 4, 1), (7, 8, 1), (3, 5, 1), (4, 0, 1)])
    assert graph.parts() == [[0, 2, 5], [1, 4], [3]]
