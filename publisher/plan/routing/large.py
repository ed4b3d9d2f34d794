"""Solve the large parts of an assignment, with a library that is fast there and slow to load."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from publisher.plan.routing.graph import Graph
from publisher.plan.routing.pruning import largest_assignment, possible_edges

if TYPE_CHECKING:
    from numpy import bool_, int64
    from numpy.typing import NDArray

EDGES_AT_ONCE = 4_000
"""Worth a call of the library, which takes some time for each call, and for each node of a call
some with each other."""


def assign(graph: Graph, part: Sequence[int]) -> list[int]:
    """Solve a two-sided part: of its largest assignments the cheapest, block by block.

    In a block every node of one side has a partner in every largest assignment, so that there
    need be no price for staying alone.
    """
    import numpy

    firsts, seconds, costs = graph.columns(part)
    lefts, left = numpy.unique(firsts, return_inverse=True)
    rights, right = numpy.unique(seconds, return_inverse=True)
    partner = largest_assignment(left, right, (len(lefts), len(rights)))
    useful = numpy.flatnonzero(possible_edges(left, right, partner, len(rights)))
    known = partner[left] == right
    chosen = []
    for edges in _blocks(useful, left, len(lefts) + right):
        ends = left[edges], right[edges]
        chosen.append(edges[_cheapest(*ends, costs[edges], known[edges])])
    return [part[at] for at in numpy.concatenate(chosen).tolist()]


def _blocks(
    edges: NDArray[int64], left: NDArray[int64], right: NDArray[int64]
) -> Iterator[NDArray[int64]]:
    """The edges that hang together; of blocks that are small, several of one shape at once.

    `left`, `right`: the nodes of all edges, together from 0. The shapes: as many nodes on both
    sides, fewer on the left, fewer on the right.
    """
    import numpy
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    nodes = int(right.max()) + 1
    one, other = left[edges], right[edges]
    table = coo_array((numpy.ones(len(edges), numpy.int8), (one, other)), (nodes, nodes))
    _, label = connected_components(table, directed=False)
    surplus = numpy.zeros(nodes, numpy.int64)
    numpy.add.at(surplus, label[numpy.unique(one)], 1)
    numpy.add.at(surplus, label[numpy.unique(other)], -1)
    block = label[one]
    order = numpy.lexsort((block, numpy.sign(surplus[block])))
    edges, block = edges[order], block[order]
    shape = numpy.sign(surplus[block])
    starts = numpy.flatnonzero(numpy.diff(block, prepend=-1))
    last = 0
    for start, stop in zip(starts, [*starts[1:], len(edges)], strict=True):
        follows = stop < len(edges) and shape[start] == shape[stop]
        if not follows or stop - last >= EDGES_AT_ONCE:
            yield edges[last:stop]
            last = stop


def _cheapest(
    left: NDArray[int64], right: NDArray[int64], costs: NDArray[int64], known: NDArray[bool_]
) -> NDArray[int64]:
    """Numbers of the edges of a cheapest assignment that no node of the smaller side is out of.

    By scipy's sparse Jonker-Volgenant algorithm, which takes the rows one by one and looks for
    the cheapest way to a column that is still free. Nodes are numbered in working order, so there
    are such columns near by where firsts are taken from the first on, seconds from the last on.

    `known`: the edges of one full assignment. They come first in their rows, so that the library
    sees at once that there is one; its own search could take for ever. One is added to every cost:
    a sparse zero would be no edge. Sums are whole and far below 2**53: floating point is exact.
    """
    import numpy
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import min_weight_full_bipartite_matching

    _, row = numpy.unique(left, return_inverse=True)
    _, column = numpy.unique(right, return_inverse=True)
    rows, columns = int(row.max()) + 1, int(column.max()) + 1
    if rows > columns:
        row, column, rows, columns = columns - 1 - column, row, columns, rows
    order = numpy.lexsort((column, ~known, row))
    row, column = row[order], column[order]
    starts = numpy.searchsorted(row, numpy.arange(rows + 1))
    # One column too many: a square table would be begun in a way that has no good bound on time.
    table = csr_array((costs[order] + 1.0, column, starts), shape=(rows, columns + 1))
    _, taken = min_weight_full_bipartite_matching(table)
    found: NDArray[int64] = order[taken[row] == column]
    return found
