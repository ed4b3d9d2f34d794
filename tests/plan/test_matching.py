"""Matchings against trying all, and the libraries for large parts against the small one's."""

from __future__ import annotations

import random
from collections.abc import Sequence

import networkx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.plan import joining, large, matching
from publisher.plan.blossoms import match_by_blossoms
from publisher.plan.graph import Graph
from publisher.plan.joining import tie_places
from publisher.plan.matching import cheapest_assignment, cheapest_matching, pairs_at_places
from publisher.plan.useful import largest_assignment, useful_edges

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


@st.composite
def places(draw: st.DrawFn) -> tuple[list[int], list[Edge]]:
    """How many ends each place has, and what it costs to pair ends of two."""
    counts = draw(st.lists(st.integers(1, 4), min_size=2, max_size=8))
    pairs = [(a, b) for a in range(len(counts)) for b in range(a + 1, len(counts))]
    chosen = draw(st.lists(st.sampled_from(pairs), unique=True, min_size=1, max_size=12))
    return counts, [(a, b, draw(st.integers(1, 9))) for a, b in chosen]


def end_by_end(counts: Sequence[int], edges: Sequence[Edge]) -> Graph:
    """The same with a node for each end; those of one place cost nothing to pair."""
    owner = [place for place, count in enumerate(counts) for _ in range(count)]
    costs = {(a, b): cost for a, b, cost in edges} | {(a, a): 0 for a in range(len(counts))}
    graph = Graph(len(owner))
    for one in range(len(owner)):
        for other in range(one + 1, len(owner)):
            cost = costs.get((owner[one], owner[other]))
            if cost is not None:
                graph.add(one, other, cost)
    return graph


def pairs_found(counts: Sequence[int], edges: Sequence[Edge]) -> tuple[int, int]:
    """How many pairs of ends and what they cost; no end is in two."""
    owner = [place for place, count in enumerate(counts) for _ in range(count)]
    ends = [[end for end, own in enumerate(owner) if own == place] for place in range(len(counts))]
    pairs = pairs_at_places(graph_of(len(counts), edges), ends)
    used = [end for pair in pairs for end in pair]
    assert len(used) == len(set(used))
    costs = {(a, b): cost for a, b, cost in edges} | {(a, a): 0 for a in range(len(counts))}
    return len(pairs), sum(costs[owner[one], owner[other]] for one, other in pairs)


@settings(max_examples=300, deadline=None)
@given(places())
def test_the_way_for_large_pieces_is_exact_with_small_ones(
    drawn: tuple[list[int], list[Edge]],
) -> None:
    """It alone, against blossoms."""
    graph = end_by_end(*drawn)
    best = found(graph, cheapest_matching(graph))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(matching, "LARGE_NODES", 0)
        patch.setattr(matching, "PROVEN_BY_BLOSSOMS", 0)
        assert pairs_found(*drawn) == best


@settings(max_examples=300, deadline=None)
@given(places())
def test_what_is_proven_of_ends_alone_is_true(drawn: tuple[list[int], list[Edge]]) -> None:
    """Where it is said that no fewer can stay alone, none can."""
    counts, edges = drawn
    graph = graph_of(len(counts), edges)
    for part in graph.parts():
        own = graph.nodes_of(part)
        inside = [(own.index(a), own.index(b), cost) for a, b, cost in (edges[at] for at in part)]
        small = end_by_end([counts[place] for place in own], inside)
        alone = small.nodes - 2 * len(cheapest_matching(small))
        ties = tie_places(graph, part, counts)
        assert len(ties.alone) >= alone
        if ties.proven:
            assert len(ties.alone) == alone


def near_places(seed: int, count: int, reach: int) -> tuple[list[int], list[Edge]]:
    """Places on a square, one end at most of them and two at many, joined where near."""
    draw = random.Random(seed)
    side = int((count * 30) ** 0.5)
    spots = {(draw.randrange(side), draw.randrange(side)): None for _ in range(count)}
    points = sorted(spots)
    edges = [
        (one, other, round(((x - u) ** 2 + (y - v) ** 2) ** 0.5 * 1000))
        for one, (x, y) in enumerate(points)
        for other, (u, v) in enumerate(points[one + 1 :], start=one + 1)
        if (x - u) ** 2 + (y - v) ** 2 <= reach**2
    ]
    return [draw.choice((1, 1, 1, 2, 2, 3)) for _ in points], edges


@pytest.mark.parametrize("seed", range(12))
def test_pairing_many_ends_in_large_parts(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Dense and sparse, some hardly hanging together."""
    monkeypatch.setattr(matching, "PROVEN_BY_BLOSSOMS", 0)
    counts, edges = near_places(seed, 500 + seed, (7, 8, 9, 12)[seed % 4])
    graph = end_by_end(counts, edges)
    assert pairs_found(counts, edges) == found(graph, cheapest_matching(graph))


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize(
    "cut", [{"WORK": 0.0}, {"VAST_LINES": 0, "FEW_IF_VAST": 0.01}], ids=["at once", "when few"]
)
def test_pairs_are_sound_where_the_search_is_cut_short(
    seed: int, cut: dict[str, float], monkeypatch: pytest.MonkeyPatch
) -> None:
    """No end in two pairs, hardly a pair fewer, and nothing said to be proven that isn't.

    The same on every run.
    """
    for name, value in cut.items():
        monkeypatch.setattr(joining, name, value)
    monkeypatch.setattr(matching, "PROVEN_BY_BLOSSOMS", 0)
    counts, edges = near_places(seed, 500 + seed, (7, 8, 9, 12)[seed % 4])
    ends = end_by_end(counts, edges)
    most, cost = found(ends, cheapest_matching(ends))
    pairs, length = pairs_found(counts, edges)
    assert 0 <= most - pairs <= most // 20
    assert length >= cost or pairs < most
    graph = graph_of(len(counts), edges)
    proven = [tie_places(graph, part, counts).proven for part in graph.parts()]
    assert (pairs, length) == (most, cost) or not all(proven)
    assert pairs_found(counts, edges) == (pairs, length)


@pytest.mark.parametrize("seed", range(3))
def test_another_library_finds_no_better_pairs(seed: int) -> None:
    """networkx has a matching of its own, after Galil (1986), in Python."""
    counts, edges = near_places(seed, 260, (8, 9, 12)[seed])
    ends = end_by_end(counts, edges)
    graph = networkx.Graph()
    graph.add_weighted_edges_from(
        zip(ends.firsts, ends.seconds, (-cost for cost in ends.costs), strict=True)
    )
    pairs = networkx.max_weight_matching(graph, maxcardinality=True)
    cost = -sum(graph.edges[pair]["weight"] for pair in pairs)
    assert pairs_found(counts, edges) == (len(pairs), cost)


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
    useful = useful_edges(first, second, partner, len(seconds))
    for at, (one, other, _) in enumerate(edges):
        apart = [edge for edge in edges if edge[0] != one and edge[1] != other]
        assert useful[at] == (best_by_trying_all(apart)[0] + 1 == most)


def test_parts_hang_together_and_share_nothing() -> None:
    graph = graph_of(9, [(0, 1, 1), (2, 3, 1), (1, 4, 1), (7, 8, 1), (3, 5, 1), (4, 0, 1)])
    assert graph.parts() == [[0, 2, 5], [1, 4], [3]]
